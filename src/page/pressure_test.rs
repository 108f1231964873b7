//! A pressure test with nitrogen against what a tight vessel would show.

use super::at_rest::significance_phrase;
use super::warning::told;
use super::words::vessels_tests::*;
use super::{Document, Figures, Style, cautions, parts};
use crate::Warning;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::hazard::hazards::Work;
use crate::service::vessel::pressure_test::PressureTest;

/// The page of a pressure test; `nitrogen` tells which equation was used.
pub fn pressure_test(
    answer: &PressureTest,
    nitrogen: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let (asked, expected) = (&answer.asked, &answer.expected);
    let hazards = cautions(&[], Some(Work::PressureTest), style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    document.title(style.word(NITROGEN_TITLE));
    // What the gauge will show at the end, it shows against the air of the end.
    let ended = Style {
        site: asked.end_site,
        ..style.clone()
    };
    let mut list = Figures::default();
    match answer.significance() {
        Some(found) => list.named(
            style,
            NITROGEN_SIGNIFICANCE,
            style.word(significance_phrase(found)),
            "significance",
            found.name(),
        ),
        None => list.cell("significance", None::<&str>),
    }
    let pressure = style.gauge(asked.begun.pressure);
    let blanks = [
        ("pressure", pressure.as_str()),
        ("temperature", &style.temperature(asked.begun.temperature)),
    ];
    let text = style.say(NITROGEN_START_AT, &blanks);
    let value = asked.begun.pressure;
    list.named(style, NITROGEN_START, text, "start_pressure_Pa", value);
    list.cell("start_temperature_K", asked.begun.temperature);
    let (label, field) = (NITROGEN_END_TEMPERATURE, "end_temperature_K");
    list.temperature(style, label, field, asked.end_temperature);
    for (label, field, value) in [
        (
            NITROGEN_EXPECTED,
            "expected_pressure_Pa",
            Some(expected.pressure),
        ),
        (NITROGEN_IDEAL, "ideal_pressure_Pa", Some(expected.ideal)),
        (NITROGEN_END, "end_pressure_Pa", asked.ended),
    ] {
        list.known(style, label, field, value, |value| ended.gauge(value));
    }
    list.cell("density_kg_m3", expected.density);
    let (label, field) = (NITROGEN_EXCESS, "excess_Pa");
    list.known(style, label, field, answer.excess, |value| {
        style.pressure_difference(value)
    });
    let usual = answer.limit.map(|limit| limit.usual);
    let worst = answer.limit.map(|limit| limit.worst);
    let (label, field) = (NITROGEN_INSTRUMENTS, "root_sum_square_Pa");
    list.known(style, label, field, usual, |usual| {
        let (usual, worst) = (style.pressure_size(usual), worst.unwrap_or_default());
        let worst = style.pressure_size(worst);
        style.say(NITROGEN_LIMITS, &[("usual", &usual), ("worst", &worst)])
    });
    list.cell("worst_case_Pa", worst);
    document.pairs(list);
    document.sheet_of_figures();
    parts::warnings(&mut document, style);
    let mut notes = Vec::new();
    if asked.gauge.is_some() != asked.thermometer.is_some() {
        notes.push(style.word(NITROGEN_HALF_LIMITS));
    }
    if answer.limit.is_some() {
        notes.push(style.word(NITROGEN_INDEPENDENT));
    }
    notes.push(parts::gauge_reference(&style.site, style));
    if asked.end_site != style.site {
        let site = parts::air(&asked.end_site, style);
        notes.push(style.say(NITROGEN_END_SITE, &[("site", &site)]));
    }
    notes.push(style.word(NITROGEN_METHOD));
    parts::notes(&mut document, notes, style);
    document.hazards();
    let sources = parts::sources(&Facts::of_refrigerant(nitrogen), style);
    parts::notes(&mut document, sources, style);
    document
}
