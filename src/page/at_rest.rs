//! A vessel at rest: against its lines, what would fit, a gauge check.

use super::warning::told;
use super::words::properties::TEMPERATURE;
use super::words::readings::KIT;
use super::words::refrigerants::{CLASS_NONE, SAFETY_CLASS};
use super::words::{Phrase, vessels_at_rest::*};
use super::{Document, Figures, Sheet, Style, cautions, parts, readings};
use crate::Warning;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::hazard::hazards::Work;
use crate::service::measurement::gauge::Added;
use crate::service::measurement::significance::Significance;
use crate::service::vessel::at_rest::{
    Against, AtRest, AtRestMeaning, Candidate, Excess, Vessel, WouldFit,
};
use crate::service::vessel::gauge_check::GaugeChecked;

/// The page of a vessel against what it is said to hold.
pub fn at_rest(
    answer: &Against,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[refrigerant], Some(Work::Identification), style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(REST_TITLE, &[("refrigerant", name)]));
    let mut list = Figures::default();
    let place = style.word(match answer.place {
        AtRest::Above => REST_ABOVE,
        AtRest::Between => REST_BETWEEN,
        AtRest::AtSaturation => REST_AT_SATURATION,
        AtRest::Below => REST_BELOW,
    });
    list.named(style, REST_PLACE, place, "place", answer.place.name());
    reading(&mut list, &answer.vessel, style);
    if refrigerant.is_pure() {
        let labels = (REST_SATURATION_THERE, REST_MINUS_SATURATION);
        line(&mut list, labels, "bubble", &answer.bubble, style);
    } else {
        let labels = (REST_BUBBLE_THERE, REST_MINUS_BUBBLE);
        line(&mut list, labels, "bubble", &answer.bubble, style);
        let labels = (REST_DEW_THERE, REST_MINUS_DEW);
        line(&mut list, labels, "dew", &answer.dew, style);
    }
    document.pairs(list);
    let meaning = answer.meaning.map(|meaning| match meaning {
        AtRestMeaning::NonCondensableOrOtherFluid => REST_OTHER_GAS,
        AtRestMeaning::ConsistentWithLiquid => REST_WITH_LIQUID,
        AtRestMeaning::NoLiquidOrOtherFluid => REST_NO_LIQUID,
    });
    document.lines(meaning.iter().map(|one| style.word(*one)).collect());
    parts::notes(&mut document, vec![style.word(REST_APPLIES)], style);
    let facts = Facts::of_refrigerant(refrigerant);
    parts::foot(&mut document, &facts, None, Vec::new(), style);
    let mut row = Figures::default();
    row.cell("refrigerant", name);
    row.cell("pressure_Pa", answer.vessel.read.pressure);
    row.cell("temperature_K", answer.vessel.temperature);
    row.cell("bubble/pressure_Pa", answer.bubble.line);
    row.cell("bubble/excess_Pa", answer.bubble.excess);
    row.cell("dew/pressure_Pa", answer.dew.line);
    row.cell("dew/excess_Pa", answer.dew.excess);
    let worst = answer.bubble.limit.map(|limit| limit.worst);
    row.cell("worst_case_Pa", worst);
    row.cell("place", answer.place.name());
    document.sheet = Sheet::of_rows([row.as_slice()]);
    document
}

/// The page of what would fit a vessel.
pub fn would_fit(answer: &WouldFit, warnings: Vec<Warning>, style: &Style) -> Document {
    let candidates = &answer.candidates;
    let refrigerants: Vec<&Refrigerant> = candidates.iter().map(|one| &one.refrigerant).collect();
    let mut hazards = vec![style.word(REST_MOST_HAZARDOUS)];
    hazards.extend(cautions(&refrigerants, Some(Work::Identification), style));
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    document.title(style.word(REST_FIT_TITLE));
    let mut list = Figures::default();
    reading(&mut list, &answer.vessel, style);
    let pressure = style.pressure_size(answer.limits.pressure());
    let degrees = style.degrees(answer.limits.temperature().in_kelvin(), 1);
    list.remark(
        style.word(REST_LIMITS),
        format!("± {pressure}, ± {degrees}"),
    );
    document.pairs(list);
    let rows = candidates.iter().enumerate();
    let rows: Vec<Figures> = rows.map(|(at, one)| row(at, one, style)).collect();
    document.sheet = Sheet::of_rows(rows.iter().map(Figures::as_slice));
    document.rows(2, rows);
    parts::warnings(&mut document, style);
    let count = candidates.len().to_string();
    let count = match candidates.len() {
        1 => style.word(REST_FIT_COUNT_ONE),
        _ => style.say(REST_FIT_COUNT, &[("count", &count)]),
    };
    document.lines(vec![count, parts::gauge_reference(&style.site, style)]);
    document.hazards();
    document
}

/// The page of a gauge checked on a vessel.
pub fn gauge_check(
    answer: &GaugeChecked,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let (asked, check) = (&answer.asked, &answer.check);
    let hazards = cautions(&[refrigerant], Some(Work::Identification), style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(REST_CHECK_TITLE, &[("refrigerant", name)]));
    let date = asked.date.as_str();
    let mut list = Figures::default();
    list.named(style, REST_DATE, date, "date", date);
    reading(&mut list, &asked.vessel, style);
    let within = style.pressure_size(check.expected_limit.worst);
    for (label, text, key, value) in [
        (
            REST_SHOULD_SHOW,
            style.gauge(answer.expected()),
            "expected_gauge_Pa",
            check.expected,
        ),
        (
            REST_WITHIN,
            format!("± {within}"),
            "expected_limit_Pa",
            check.expected_limit.worst,
        ),
        (
            REST_ZERO_OFFSET,
            style.pressure_difference(check.zero_offset),
            "zero_offset_Pa",
            check.zero_offset,
        ),
        (
            REST_SPAN_ERROR,
            style.pressure_difference(check.error),
            "span_error_Pa",
            check.error,
        ),
        (
            REST_SPAN_FACTOR,
            style.fixed(check.span_factor, 4),
            "span_factor",
            check.span_factor,
        ),
    ] {
        list.named(style, label, text, key, value);
    }
    // A kit file has a decimal point in every language.
    let entry = answer.kit_entry();
    list.named(
        style,
        REST_KIT_ENTRY,
        entry.as_str(),
        "kit_entry",
        entry.as_str(),
    );
    document.pairs(list);
    document.sheet_of_figures();
    let temperature = style.temperature(asked.vessel.temperature);
    let blanks = [
        ("temperature", temperature.as_str()),
        ("date", date),
        ("refrigerant", name),
    ];
    let last = if check.span_explained() {
        REST_SPAN_EXPLAINED
    } else {
        REST_GAUGE_CHANGES
    };
    let no_calibration = style.say(REST_NO_CALIBRATION, &blanks);
    document.lines(vec![
        style.word(REST_CORRECTED),
        format!("{no_calibration} {}", style.word(last)),
    ]);
    let facts = Facts::of_refrigerant(refrigerant);
    parts::foot(&mut document, &facts, None, Vec::new(), style);
    document
}

fn reading(list: &mut Figures, vessel: &Vessel, style: &Style) {
    let (read, instrument) = (&vessel.read, &vessel.instrument);
    let text = style.gauge(read.pressure);
    list.named(style, REST_READING, text, "pressure_Pa", read.pressure);
    // Where the figure shown is not the reading, the sum tells how one became the other.
    if instrument.correction.is_some() || matches!(read.added, Added::Other(_)) {
        let sum = readings::sum(read, instrument, None, read.pressure, style);
        list.remark(style.word(REST_SHOWN), sum);
    }
    list.cell("shown_Pa", read.shown);
    list.temperature(style, TEMPERATURE, "temperature_K", vessel.temperature);
    match readings::kit(&vessel.kit, instrument, style) {
        Some(text) => list.named(style, KIT, text, "kit", vessel.kit_name()),
        None => list.cell("kit", vessel.kit_name()),
    }
    list.cell("checked", vessel.checked());
}

fn line(
    list: &mut Figures,
    (there, minus): (Phrase, Phrase),
    path: &str,
    excess: &Excess,
    style: &Style,
) {
    list.named(
        style,
        there,
        style.gauge(excess.line),
        format!("{path}/pressure_Pa"),
        excess.line,
    );
    let value = style.pressure_difference(excess.excess);
    let text = match (excess.limit, excess.significance()) {
        (Some(found), Some(significance)) => {
            let significance = style.word(significance_phrase(significance));
            let blanks = [
                ("excess", value.as_str()),
                ("usual", &style.pressure_size(found.usual)),
                ("worst", &style.pressure_size(found.worst)),
                ("significance", &significance),
            ];
            style.say(REST_EXCESS, &blanks)
        }
        _ => style.say(REST_EXCESS_OPEN, &[("excess", &value)]),
    };
    let field = format!("{path}/excess_Pa");
    list.named(style, minus, text, field, excess.excess);
}

fn row(at: usize, one: &Candidate, style: &Style) -> Figures {
    let field = |key: &str| format!("would_fit/{at}/{key}");
    let name = one.refrigerant.designation();
    let class = one.class.clone();
    let class = class.unwrap_or_else(|| style.word(CLASS_NONE));
    let mut row = Figures::default();
    row.named(style, REST_REFRIGERANT, name, field("refrigerant"), name);
    row.named(
        style,
        SAFETY_CLASS,
        class,
        field("safety_class"),
        one.class.clone(),
    );
    let (dew, bubble) = (one.dew, one.bubble);
    for (label, key, value) in [
        (REST_DEW, "dew_pressure_Pa", dew),
        (REST_BUBBLE, "bubble_pressure_Pa", bubble),
    ] {
        row.named(style, label, style.gauge(value), field(key), value);
    }
    row
}

/// What a comparison with the instruments' limits says.
pub(super) fn significance_phrase(significance: Significance) -> Phrase {
    match significance {
        Significance::Significant => REST_SIGNIFICANT,
        Significance::Barely => REST_BARELY,
        Significance::NotSignificant => REST_NOT_SIGNIFICANT,
    }
}
