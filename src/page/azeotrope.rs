//! Azeotropes: those of a refrigerant's components, and what kind of blend it is.

use super::warning::told;
use super::words::shift::*;
use super::{Document, Figures, Style, cautions, parts};
use crate::Warning;
use crate::process::azeotrope::{Azeotrope, AzeotropeAt, Azeotropes, BlendKind, BlendSeries};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;

/// The page of azeotropes at a temperature or pressure.
pub fn azeotropes(
    answer: &Azeotropes,
    refrigerant: &Refrigerant,
    at: AzeotropeAt,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let hazards = cautions(&[refrigerant], None, style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    let names = names(refrigerant);
    let at = match at {
        AzeotropeAt::Temperature(at) => style.temperature(at),
        AzeotropeAt::Pressure(at) => style.pressure(at, style.units.pressure),
    };
    let blanks = [("components", names.as_str()), ("at", &at)];
    document.title(style.say(AZEOTROPE_TITLE, &blanks));
    if answer.azeotropes.is_empty() {
        document.lines(vec![style.word(AZEOTROPE_NONE)]);
    } else {
        let rows = answer.azeotropes.iter().enumerate();
        let rows = rows.map(|(at, one)| row(at, one, style)).collect();
        document.rows(0, rows);
        document.sheet_of_rows();
    }
    let notes = vec![style.word(AZEOTROPE_AMOUNTS)];
    parts::foot(
        &mut document,
        &Facts::of_refrigerant(refrigerant),
        None,
        notes,
        style,
    );
    document
}

fn names(refrigerant: &Refrigerant) -> String {
    let names = refrigerant.components().iter();
    let names: Vec<&str> = names.map(|one| one.designation.as_str()).collect();
    names.join("/")
}

fn row(at: usize, one: &Azeotrope, style: &Style) -> Figures {
    let mut figures = Figures::default();
    let field = |key: &str| format!("azeotropes/{at}/{key}");
    figures.temperature(
        style,
        AZEOTROPE_TEMPERATURE,
        field("temperature_K"),
        one.temperature,
    );
    figures.pressure(
        style,
        AZEOTROPE_PRESSURE,
        field("pressure_Pa"),
        one.pressure,
    );
    figures.remark(
        style.word(AZEOTROPE_BY_MASS),
        shares(&one.mass_fractions, style),
    );
    figures.remark(
        style.word(AZEOTROPE_BY_MOLE),
        shares(&one.mole_fractions, style),
    );
    figures
}

fn shares(all: &[f64], style: &Style) -> String {
    let texts = all.iter().map(|share| style.fixed(share * 100.0, 2));
    texts.collect::<Vec<_>>().join("/")
}

/// What kind of blend it is, for what is known of it.
pub(super) fn kind(
    figures: &mut Figures,
    kind: &BlendKind,
    refrigerant: &Refrigerant,
    style: &Style,
) {
    if let Some(series) = kind.by_number {
        let phrase = match series {
            BlendSeries::Azeotrope => BLEND_AZEOTROPE,
            BlendSeries::Zeotrope => BLEND_ZEOTROPE,
        };
        figures.remark(style.word(BLEND_KIND), style.word(phrase));
    }
    if let Some(glide) = kind.glide {
        let (label, text) = (style.word(BLEND_GLIDE), style.degrees(glide, 2));
        figures.add(label, text, "blend/glide_K", glide);
    }
    let Some(found) = &kind.azeotropes else {
        return;
    };
    let names = names(refrigerant);
    for one in found {
        let (temperature, shares) = (
            style.temperature(one.temperature),
            shares(&one.mass_fractions, style),
        );
        let blanks = [
            ("components", names.as_str()),
            ("shares", &shares),
            ("temperature", &temperature),
        ];
        let text = style.say(BLEND_AZEOTROPE_AT, &blanks);
        figures.remark(style.word(BLEND_AZEOTROPE_LABEL), text);
    }
    if found.is_empty() {
        let text = style.word(AZEOTROPE_NONE);
        figures.remark(style.word(BLEND_AZEOTROPE_LABEL), text);
    }
}
