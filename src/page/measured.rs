//! A superheat or subcooling at a clamp, its uncertainty and a verdict.

use super::warning::told;
use super::words::readings::*;
use super::{Document, Figures, Sheet, Style, cautions, parts, readings};
use crate::Warning;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::measurement::uncertainty::Uncertainty;
use crate::service::reading::measured::{LineRead, Measured};
use crate::service::reading::superheat_subcooling::{Measure, ReadingMeaning};

/// The page of one line.
pub fn measured(
    answer: &Measured,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let mut warnings = told(&warnings, style);
    let reading = &answer.reading;
    let measure = style.word(readings::name(reading.measure));
    if let Some(error) = &answer.unbounded {
        warnings.push(readings::unbounded(reading.measure, error, style));
    }
    let mut document = Document::new(answer, warnings, cautions(&[refrigerant], None, style));
    let is_wanted = matches!(answer.asked.line, LineRead::Wanted(_));
    let name = answer.identity.refrigerant.as_str();
    let title = if is_wanted {
        WANTED_TITLE
    } else {
        MEASURED_TITLE
    };
    document.title(style.say(title, &[("refrigerant", name), ("measure", &measure)]));
    let found = answer.uncertainty.as_ref();
    let mut verdict = Vec::new();
    let mut lines = Vec::new();
    if !is_wanted {
        let meaning = readings::meaning(reading, answer.expanded(), style);
        let is_usual = reading.meaning(answer.expanded()) == ReadingMeaning::OnePhase;
        if is_usual { &mut lines } else { &mut verdict }.push(meaning);
    }
    if let Some(decision) = &answer.decision {
        let mut told = readings::decision(decision, reading, found, style);
        let reasons = told.split_off(1.min(told.len()));
        verdict.append(&mut told);
        lines.extend(reasons);
    }
    document.lines(verdict);
    document.pairs(figures(answer, is_wanted, style));
    document.lines(lines);
    match found {
        Some(found) => readings::uncertainty(&mut document, found, "", style),
        None => document.lines(vec![style.word(UNCERTAINTY_UNKNOWN)]),
    }
    let facts = Facts::of_refrigerant(refrigerant);
    let foot = style.of_gauge(answer.asked.read.other_air());
    parts::foot(&mut document, &facts, None, Vec::new(), &foot);
    document.sheet = sheet(answer);
    document
}

fn figures(answer: &Measured, is_wanted: bool, style: &Style) -> Figures {
    let (reading, asked) = (&answer.reading, &answer.asked);
    let measure = reading.measure;
    let found = answer.uncertainty.as_ref();
    let mut figures = Figures::default();
    let mut label = style.word(readings::name(measure));
    if is_wanted {
        label = style.say(MEASURE_WANTED, &[("measure", &label)]);
        figures.temperature(style, LINE, "line_temperature_K", reading.line);
    }
    let text = readings::value(reading.value, found, style);
    let key = format!("{}_K", measure.word());
    figures.add(label, text, key.as_str(), reading.value);
    if !is_wanted {
        figures.temperature(style, LINE, "line_temperature_K", reading.line);
    }
    let (own, wrong) = match measure {
        Measure::Superheat => (DEW_TEMPERATURE, WRONG_FROM_BUBBLE),
        Measure::Subcooling => (BUBBLE_TEMPERATURE, WRONG_FROM_DEW),
    };
    figures.temperature(style, own, "saturation_temperature_K", reading.saturation);
    let instrument = asked.instrument();
    figures.named(
        style,
        PRESSURE,
        readings::sum(&asked.read, instrument, asked.drop, reading.pressure, style),
        "pressure_Pa",
        reading.pressure,
    );
    if let Some(limit) = asked.read.limit {
        let text = format!("±{}", readings::difference(limit, style));
        figures.named(style, GAUGE_LIMITS, text, "gauge_limit_Pa", limit);
    }
    if let Some(value) = answer.wrong_branch() {
        if is_wanted {
            let line = answer.wrong_line().map(|line| style.temperature(line));
            let line = line.unwrap_or_default();
            let text = style.say(WRONG_LINE, &[("temperature", &line)]);
            figures.remark(style.word(wrong), text);
        } else {
            let text = style.degrees(value, if found.is_some() { 1 } else { 2 });
            figures.named(style, wrong, text, format!("other_branch/{key}"), value);
        }
    }
    if let Some(text) = readings::kit(&asked.kit, instrument, style) {
        figures.remark(style.word(KIT), text);
    }
    figures
}

fn sheet(answer: &Measured) -> Sheet {
    let (reading, found) = (&answer.reading, answer.uncertainty.as_ref());
    let mut row = Figures::default();
    row.cell("refrigerant", answer.identity.refrigerant.as_str());
    row.cell("pressure_Pa", reading.pressure);
    row.cell("line_temperature_K", reading.line);
    row.cell("branch", reading.measure.branch_word());
    row.cell("saturation_temperature_K", reading.saturation);
    row.cell(format!("{}_K", reading.measure.word()), reading.value);
    row.cell("standard_uncertainty_K", found.map(|one| one.standard));
    row.cell(
        "expanded_uncertainty_K",
        found.map(Uncertainty::expanded_half),
    );
    row.cell("worst_case_K", found.map(Uncertainty::worst_case));
    Sheet::of_rows([row.as_slice()])
}
