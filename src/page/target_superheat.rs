//! Target superheat of a system with a fixed orifice.

use super::warning::told;
use super::words::air::*;
use super::{Document, Figures, Style, cautions, parts};
use crate::Warning;
use crate::service::air::target_superheat::{
    CHARTS_DIFFER, Condition, OUTDOOR_LEAST, RETURN_LEAST, TargetMethod, TargetSuperheat,
};
use crate::service::hazard::hazards::Work;
use crate::units::{Temperature, TemperatureDifference};

/// The page of a target superheat.
pub fn target_superheat(
    answer: &TargetSuperheat,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[], Some(Work::TargetSuperheat), style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    document.title(style.word(TARGET_SUPERHEAT));
    document.pairs(figures(answer, style));
    document.sheet_of_figures();
    parts::warnings(&mut document, style);
    // What the hazards refer to stands on every page.
    let conditions = answer.conditions.iter();
    let conditions: Vec<String> = conditions.map(|one| condition(*one, style)).collect();
    let conditions = conditions.join("; ");
    document.lines(vec![
        style.say(TARGET_CONDITIONS, &[("conditions", &conditions)]),
    ]);
    let mut notes = Vec::new();
    let by_chart = answer.method == TargetMethod::Chart;
    if !by_chart {
        let [least, most] = CHARTS_DIFFER.map(|one| style.degrees(one.in_kelvin(), 1));
        let blanks = [("least", least.as_str()), ("most", &format!("+{most}"))];
        notes.push(style.say(CHARTS_DIFFER_BY, &blanks));
    }
    if answer.indoor.is_calculated && answer.worst_case.is_some() {
        notes.push(style.word(HYGROMETER_ERROR));
    }
    if answer.indoor.dry_bulb.is_some() {
        notes.push(style.say(AIR_PRESSURE, &[("site", &parts::air(&style.site, style))]));
    }
    parts::notes(&mut document, notes, style);
    document.hazards();
    let source = if by_chart {
        TARGET_CHART_SOURCE
    } else {
        TARGET_FORMULA
    };
    parts::notes(&mut document, vec![style.word(source)], style);
    document
}

fn figures(answer: &TargetSuperheat, style: &Style) -> Figures {
    let target = &answer.target;
    let mut list = Figures::default();
    list.cell("method", answer.method.name());
    let wet_bulb = if answer.indoor.is_calculated {
        INDOOR_WET_BULB_CALCULATED
    } else {
        INDOOR_WET_BULB
    };
    list.temperature(style, wet_bulb, "indoor_wet_bulb_K", answer.indoor_wet_bulb);
    let outdoor = answer.outdoor_dry_bulb;
    list.temperature(style, OUTDOOR_DRY_BULB, "outdoor_dry_bulb_K", outdoor);
    let label = match answer.method {
        TargetMethod::Estimate => TARGET_ESTIMATED,
        TargetMethod::Chart => TARGET_FROM_CHART,
    };
    let superheat = style.degrees(target.superheat.in_kelvin(), 1);
    let field = "target_superheat_K";
    list.named(style, label, superheat, field, target.superheat);
    let unit = style.units.temperature.difference_symbol();
    for (label, key, value) in [
        (PER_WET_BULB, "per_wet_bulb_K_K", target.per_wet_bulb),
        (PER_OUTDOOR, "per_outdoor_dry_bulb_K_K", target.per_outdoor),
    ] {
        let text = style.sign(format!("{value:+.2} {unit}"));
        list.named(style, label, text, key, value);
    }
    for (label, key, value) in [
        (
            THERMOMETERS_ROOT_SUM_SQUARE,
            "root_sum_square_K",
            answer.root_sum_square,
        ),
        (THERMOMETERS_WORST_CASE, "worst_case_K", answer.worst_case),
    ] {
        let limit = |value: TemperatureDifference| style.degrees(value.in_kelvin(), 1);
        match value {
            Some(size) => list.named(style, label, format!("± {}", limit(size)), key, value),
            None => list.cell(key, value),
        }
    }
    list
}

fn condition(condition: Condition, style: &Style) -> String {
    let least = |phrase, temperature: Temperature| {
        let unit = style.units.temperature;
        let figure = style.fixed(unit.read(temperature), 1);
        let text = format!("{figure} {}", unit.symbol());
        style.say(phrase, &[("temperature", &text)])
    };
    match condition {
        Condition::Airflow => style.word(CONDITION_AIRFLOW),
        Condition::Steady => style.word(CONDITION_STEADY),
        Condition::Outdoor => least(CONDITION_OUTDOOR, OUTDOOR_LEAST),
        Condition::Return => least(CONDITION_RETURN, RETURN_LEAST),
    }
}
