//! Flammability, concentration and warming figures in other units.

use super::warning::told;
use super::words::hazards::*;
use super::{Document, Figures, Sheet, Style, cautions, parts};
use crate::Warning;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::hazard::exposure::{ConcentrationLimit, Exposure, FigureSource, LimitKind};
use crate::service::hazard::gwp::{Bound, Gwp};
use crate::units::{short, significant};

/// The page of concentration limits and warming potentials.
pub fn exposure(
    answer: &Exposure,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let mut hazards = vec![style.word(EXPOSURE_NO_VERDICT)];
    hazards.extend(cautions(&[refrigerant], None, style));
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(EXPOSURE_TITLE, &[("refrigerant", name)]));
    let limits = answer.limits.iter().enumerate();
    let limits: Vec<Figures> = limits
        .map(|(at, one)| limit(at, one, answer, style))
        .collect();
    if !limits.is_empty() {
        document.rows(1, limits);
    }
    let potentials = answer.gwp.iter().enumerate();
    let potentials: Vec<Figures> = potentials
        .map(|(at, one)| potential(at, one, answer.mass, style))
        .collect();
    if !potentials.is_empty() {
        document.rows(3, potentials);
    }
    let mut notes: Vec<String> = answer.limits.iter().map(|one| source(one, style)).collect();
    notes.push(style.word(EXPOSURE_BASIS));
    if answer.gwp.iter().any(|one| one.summed) {
        notes.push(style.word(GWP_SUMMED));
    }
    parts::warnings(&mut document, style);
    let class = parts::class(&Facts::of_refrigerant(refrigerant), style);
    notes.push(style.say(super::words::refrigerants::CLASS, &[("class", &class)]));
    parts::notes(&mut document, notes, style);
    document.hazards();
    document.sheet = sheet(answer);
    document
}

fn limit(at: usize, one: &ConcentrationLimit, answer: &Exposure, style: &Style) -> Figures {
    let share = one.value.by_volume(answer.molar_mass);
    let mass = one.value.in_kg_m3();
    let pounds = one.value.in_lb_1000ft3();
    let text = |value: f64| style.sign(three_digits(value));
    let mut figures = Figures::default();
    let field = |key: &str| format!("limits/{at}/{key}");
    figures.add(
        " ",
        style.word(name(one.kind)),
        field("figure"),
        key(one.kind),
    );
    figures.add("kg/m3", text(mass), field("concentration_kg_m3"), mass);
    figures.remark("g/m3", text(mass * 1e3));
    figures.remark("lb/1000 ft3", text(pounds));
    figures.remark("ft3/lb", text(1e3 / pounds));
    figures.named(
        style,
        PERCENT_BY_VOLUME,
        text(share * 1e2),
        field("volume_fraction"),
        share,
    );
    figures.remark(style.word(PPM_BY_VOLUME), text(share * 1e6));
    figures
}

fn potential(at: usize, one: &Gwp, mass: Option<f64>, style: &Style) -> Figures {
    let bounded = |value: f64| {
        let figure = style.sign(short(value, 4));
        match one.bound() {
            Bound::Exact => figure,
            Bound::AtMost => style.say(AT_MOST, &[("figure", &figure)]),
            Bound::AtLeast => style.say(AT_LEAST, &[("figure", &figure)]),
        }
    };
    let horizon = match one.horizon_years {
        Some(years) => style.say(YEARS, &[("years", &years.to_string())]),
        None => style.word(NOT_GIVEN),
    };
    let mut figures = Figures::default();
    let field = |key: &str| format!("gwp/{at}/{key}");
    let years = one.horizon_years.map(usize::from);
    figures.named(style, GWP, bounded(one.value), field("value"), one.value);
    figures.named(style, GWP_HORIZON, horizon, field("horizon_years"), years);
    figures.named(
        style,
        SOURCE,
        one.report.clone(),
        field("source"),
        one.report.as_str(),
    );
    if let Some(mass) = mass {
        let kg = one.carbon_dioxide(mass);
        figures.named(style, CO2_KG, bounded(kg), field("carbon_dioxide_kg"), kg);
        figures.remark(style.word(CO2_T), bounded(kg / 1e3));
    }
    figures
}

fn source(one: &ConcentrationLimit, style: &Style) -> String {
    let phrase = match one.source {
        FigureSource::OnRecord(_) => LIMIT_ON_RECORD,
        FigureSource::Given(_) => LIMIT_GIVEN,
    };
    let limit = style.word(name(one.kind));
    style.say(phrase, &[("limit", &limit), ("source", one.source.name())])
}

const fn name(kind: LimitKind) -> super::words::Phrase {
    match kind {
        LimitKind::Lfl => LFL,
        LimitKind::Rcl => RCL,
    }
}

const fn key(kind: LimitKind) -> &'static str {
    match kind {
        LimitKind::Lfl => "lfl",
        LimitKind::Rcl => "rcl",
    }
}

/// Three significant digits, zeros after them.
fn three_digits(figure: f64) -> String {
    let rounded = format!("{figure:.2e}").parse().unwrap_or(figure);
    significant(rounded, 3)
}

/// One row a limit and a row a potential, what does not belong left empty.
fn sheet(answer: &Exposure) -> Sheet {
    let mut rows: Vec<Figures> = Vec::new();
    for one in &answer.limits {
        let mut row = Figures::default();
        row.cell("figure", key(one.kind));
        row.cell("concentration_kg_m3", one.value.in_kg_m3());
        row.cell("volume_fraction", one.value.by_volume(answer.molar_mass));
        row.cell("gwp", None::<f64>);
        row.cell("carbon_dioxide_kg", None::<f64>);
        row.cell("source", one.source.name());
        rows.push(row);
    }
    for one in &answer.gwp {
        let mut row = Figures::default();
        row.cell("figure", "gwp");
        row.cell("concentration_kg_m3", None::<f64>);
        row.cell("volume_fraction", None::<f64>);
        row.cell("gwp", one.value);
        row.cell(
            "carbon_dioxide_kg",
            answer.mass.map(|mass| one.carbon_dioxide(mass)),
        );
        row.cell("source", one.report.as_str());
        rows.push(row);
    }
    Sheet::of_rows(rows.iter().map(Figures::as_slice))
}
