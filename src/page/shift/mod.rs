//! What a leak, a draw or a top-up does to a blend.

mod card;
mod exercise;
mod picture;

pub use card::card;
pub use exercise::exercise;
pub use picture::{ShiftPicture, picture};

use super::warning::told;
use super::words::Phrase;
use super::words::shift::*;
use super::{Document, Figures, Sheet, Style, cautions, parts};
use crate::Warning;
use crate::process::shift::{Corners, End, Leaving, LossQuestion, Range, Refill, Row, Shift};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::hazard::hazards::Work;
use crate::units::{KG_PER_POUND, Pressure};

/// The page of a loss; `work` where a cylinder is in hand.
pub fn shift(
    answer: &Shift,
    listed: &Refrigerant,
    question: &LossQuestion,
    work: Work,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let mut involved = vec![listed];
    if let Some(refill) = &question.refill
        && refill.refrigerant.designation() != listed.designation()
    {
        involved.push(&refill.refrigerant);
    }
    let hazards = cautions(&involved, Some(work), style);
    let name = answer.identity.refrigerant.as_str();
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    document.title(title(answer, work, style));

    let components = names(answer).join("/");
    document.title(style.say(SHIFT_SHARES, &[("components", &components)]));
    let rows = answer.rows.iter().enumerate();
    document.rows(
        1,
        rows.map(|(at, row)| composition(at, row, style)).collect(),
    );
    document.title(style.say(SHIFT_LINES, &[("refrigerant", name)]));
    let rows = answer.rows.iter().enumerate();
    let lines = |(at, row)| {
        let mut figures = Figures::default();
        lost(&mut figures, at, row, style);
        readings(&mut figures, &format!("rows/{at}/"), row, answer, style);
        figures
    };
    document.rows(1, rows.map(lines).collect());
    uncertain(&mut document, answer, style);
    flammable(&mut document, answer, style);
    rounds(&mut document, answer, question, style);
    if let Some(corners) = &answer.tolerance {
        over_corners(&mut document, corners, style);
    }
    let notes = notes(answer, question, style);
    parts::foot(
        &mut document,
        &Facts::of_refrigerant(listed),
        None,
        notes,
        style,
    );
    document.sheet = sheet(answer);
    document
}

/// The warnings of what is lost, of what is filled up and of the site, each once.
pub fn warnings(listed: &Refrigerant, refill: Option<&Refill>, site: &[Warning]) -> Vec<Warning> {
    let mut warnings = parts::all_warnings(listed, &[], site);
    if let Some(refill) = refill {
        for warning in parts::all_warnings(&refill.refrigerant, &[], &[]) {
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
        }
    }
    warnings
}

/// What was lost of what, and where.
fn title(answer: &Shift, work: Work, style: &Style) -> String {
    let name = answer.identity.refrigerant.as_str();
    let temperature = style.temperature(answer.temperature);
    let title = match (answer.phase, work) {
        (Leaving::Vapor, Work::Draw) => SHIFT_TITLE_DRAWN_VAPOR,
        (Leaving::Liquid, Work::Draw) => SHIFT_TITLE_DRAWN_LIQUID,
        (Leaving::Circulating, Work::Draw) => SHIFT_TITLE_DRAWN_CIRCULATING,
        (Leaving::Vapor, _) => SHIFT_TITLE_VAPOR,
        (Leaving::Liquid, _) => SHIFT_TITLE_LIQUID,
        (Leaving::Circulating, _) => SHIFT_TITLE_CIRCULATING,
    };
    let blanks = [("refrigerant", name), ("temperature", &temperature)];
    style.say(title, &blanks)
}

fn names(answer: &Shift) -> Vec<&str> {
    let composition = answer.identity.composition.iter();
    composition.map(|one| one.refrigerant.as_str()).collect()
}

fn percent(share: f64, style: &Style) -> String {
    style.fixed(share * 100.0, 2)
}

fn joined(shares: &[f64], style: &Style) -> String {
    let texts = shares.iter().map(|share| percent(*share, style));
    texts.collect::<Vec<_>>().join("/")
}

fn lost(figures: &mut Figures, at: usize, row: &Row, style: &Style) {
    let value = row.lost_mass_fraction;
    let field = format!("rows/{at}/lost_mass_fraction");
    figures.named(style, SHIFT_LOST, percent(value, style), field, value);
}

fn composition(at: usize, row: &Row, style: &Style) -> Figures {
    let mut figures = Figures::default();
    lost(&mut figures, at, row, style);
    if let Some(kg) = row.left_mass_kg {
        let (size, unit) = if style.units.feet {
            (KG_PER_POUND, "lb")
        } else {
            (1.0, "kg")
        };
        figures.add(
            style.say(SHIFT_LEFT_MASS, &[("unit", unit)]),
            style.fixed(kg / size, 3),
            format!("rows/{at}/left_mass_kg"),
            kg,
        );
    }
    figures.pressure(
        style,
        SHIFT_PRESSURE,
        format!("rows/{at}/pressure_Pa"),
        row.pressure,
    );
    let liquid = row.liquid_mass_fractions.as_deref();
    let liquid = liquid.map_or_else(|| "-".to_owned(), |shares| joined(shares, style));
    figures.remark(
        style.word(SHIFT_REMAINING),
        joined(&row.remaining_mass_fractions, style),
    );
    figures.remark(style.word(SHIFT_LIQUID), liquid);
    figures.remark(
        style.word(SHIFT_VAPOR),
        joined(&row.vapor_mass_fractions, style),
    );
    figures.remark(
        style.word(SHIFT_LEAVING),
        joined(&row.leaving_mass_fractions, style),
    );
    figures
}

/// Bubble, dew, glide and what readings miss by; `path` is the row's field.
fn readings(figures: &mut Figures, path: &str, row: &Row, answer: &Shift, style: &Style) {
    let temperature = style.temperature(answer.temperature);
    let unit = style.units.pressure;
    let mut pressure = |label: Phrase, key: &str, value: Option<Pressure>| {
        let text = value.map_or_else(|| "-".to_owned(), |value| style.pressure(value, unit));
        let label = style.say(label, &[("temperature", &temperature)]);
        figures.add(label, text, format!("{path}{key}"), value);
    };
    pressure(SHIFT_BUBBLE, "bubble_pressure_Pa", row.bubble_pressure);
    pressure(SHIFT_DEW, "dew_pressure_Pa", row.dew_pressure);
    for (label, key, value) in [
        (SHIFT_GLIDE, "glide_K", row.glide),
        (SHIFT_SUPERHEAT, "superheat_error_K", row.superheat_error),
        (SHIFT_SUBCOOLING, "subcooling_error_K", row.subcooling_error),
    ] {
        let text = value.map_or_else(|| "-".to_owned(), |kelvin| style.degrees(kelvin, 1));
        figures.named(style, label, text, format!("{path}{key}"), value);
    }
}

/// What the measured deviation of the pairs' vapors leaves uncertain.
fn uncertain(document: &mut Document, answer: &Shift, style: &Style) {
    let rows = answer.rows.iter().enumerate();
    let rows = rows.filter_map(|(at, row)| {
        let found = row.vapor_uncertainty.as_ref()?;
        let mut figures = Figures::default();
        lost(&mut figures, at, row, style);
        for (label, shares) in [
            (SHIFT_REMAINING, &found.remaining_mass_fractions),
            (SHIFT_VAPOR, &found.vapor_mass_fractions),
            (SHIFT_LEAVING, &found.leaving_mass_fractions),
        ] {
            figures.remark(style.word(label), joined(shares, style));
        }
        for (label, key, value) in [
            (
                SHIFT_SUPERHEAT_ERROR,
                "superheat_error_K",
                found.superheat_error,
            ),
            (
                SHIFT_SUBCOOLING_ERROR,
                "subcooling_error_K",
                found.subcooling_error,
            ),
        ] {
            let text = value.map_or_else(|| "-".to_owned(), |kelvin| style.degrees(kelvin, 1));
            let field = format!("rows/{at}/vapor_uncertainty/{key}");
            figures.named(style, label, text, field, value);
        }
        Some(figures)
    });
    let rows: Vec<Figures> = rows.collect();
    if rows.is_empty() {
        return;
    }
    document.title(style.word(SHIFT_UNCERTAIN));
    document.rows(1, rows);
}

/// Which pairs were measured, and how far the uncertainty goes.
fn measured(answer: &Shift, style: &Style) -> Vec<String> {
    let pairs = &answer.vapor_pairs;
    let mut lines = Vec::new();
    if !pairs.measured.is_empty() {
        let names = pairs.measured.join(", ");
        lines.push(style.say(SHIFT_PAIRS_MEASURED, &[("pairs", &names)]));
    }
    if !pairs.not_measured.is_empty() {
        let names = pairs.not_measured.join(", ");
        lines.push(style.say(SHIFT_PAIRS_NOT_MEASURED, &[("pairs", &names)]));
    }
    lines.push(style.word(SHIFT_NO_LEAK_MEASURED));
    lines
}

fn flammable(document: &mut Document, answer: &Shift, style: &Style) {
    if answer.flammable_components.is_empty() {
        document.lines(vec![style.word(SHIFT_NONE_FLAMMABLE)]);
        return;
    }
    let components = answer.flammable_components.join(", ");
    document.title(style.say(SHIFT_FLAMMABLE, &[("components", &components)]));
    let rows = answer.rows.iter().enumerate().map(|(at, row)| {
        let mut figures = Figures::default();
        lost(&mut figures, at, row, style);
        for (label, key, value) in [
            (
                SHIFT_REMAINING,
                "remaining",
                Some(row.remaining_flammable_mass_fraction),
            ),
            (SHIFT_LIQUID, "liquid", row.liquid_flammable_mass_fraction),
            (
                SHIFT_VAPOR,
                "vapor",
                Some(row.vapor_flammable_mass_fraction),
            ),
            (
                SHIFT_LEAVING,
                "leaving",
                Some(row.leaving_flammable_mass_fraction),
            ),
        ] {
            let text = value.map_or_else(|| "-".to_owned(), |share| percent(share, style));
            let field = format!("rows/{at}/{key}_flammable_mass_fraction");
            figures.named(style, label, text, field, value);
        }
        figures
    });
    document.rows(1, rows.collect());
    let peaks = &answer.largest_flammable;
    let text = |share: f64| percent(share, style);
    let blanks = [
        ("vapor", text(peaks.vapor.mass_fraction)),
        ("at_vapor", text(peaks.vapor.lost_mass_fraction)),
        ("leaving", text(peaks.leaving.mass_fraction)),
        ("at_leaving", text(peaks.leaving.lost_mass_fraction)),
        ("left", text(peaks.remaining.mass_fraction)),
        ("at_left", text(peaks.remaining.lost_mass_fraction)),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    let mut lines = vec![
        style.say(SHIFT_PEAK, &blanks),
        style.word(SHIFT_PEAK_LIMITS),
    ];
    if !answer.unclassed_components.is_empty() {
        let components = answer.unclassed_components.join(", ");
        lines.push(style.say(SHIFT_UNCLASSED, &[("components", &components)]));
    }
    document.lines(lines);
}

fn rounds(document: &mut Document, answer: &Shift, question: &LossQuestion, style: &Style) {
    let Some(refill) = &question.refill else {
        return;
    };
    let lost = percent(answer.refill_lost_mass_fraction.unwrap_or_default(), style);
    let blanks = [
        ("refill", refill.refrigerant.designation()),
        ("lost", &lost),
    ];
    document.title(style.say(SHIFT_ROUNDS, &blanks));
    let row_of = |label: String, path: String, row: &Row| {
        let mut figures = Figures::default();
        figures.remark(style.word(SHIFT_ROUND), label);
        let field = format!("{path}pressure_Pa");
        figures.pressure(style, SHIFT_PRESSURE, field, row.pressure);
        let shares = joined(&row.remaining_mass_fractions, style);
        figures.remark(style.word(SHIFT_REMAINING), shares);
        readings(&mut figures, &path, row, answer, style);
        figures
    };
    let rounds = answer.rounds.iter().enumerate();
    let mut rows: Vec<Figures> = rounds
        .map(|(at, one)| row_of(one.round.to_string(), format!("rounds/{at}/"), &one.row))
        .collect();
    if let Some(limit) = &answer.limit {
        rows.push(row_of(style.word(SHIFT_LIMIT), "limit/".to_owned(), limit));
    }
    document.rows(1, rows);
}

fn over_corners(document: &mut Document, corners: &Corners, style: &Style) {
    let count = corners.corners.to_string();
    document.title(style.say(SHIFT_CORNERS, &[("corners", &count)]));
    let to = |range: &Range, text: &dyn Fn(f64) -> String| {
        let blanks = [
            ("lowest", text(range.lowest)),
            ("highest", text(range.highest)),
        ];
        let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
        style.say(SHIFT_TO, &blanks)
    };
    let shares = |value: f64| percent(value, style);
    let degrees = |value: f64| style.degrees(value, 1);
    let rows = corners.rows.iter().map(|row| {
        let mut figures = Figures::default();
        figures.remark(style.word(SHIFT_LOST), shares(row.lost_mass_fraction));
        let left = row.remaining_mass_fractions.iter();
        let left: Vec<String> = left.map(|range| to(range, &shares)).collect();
        figures.remark(style.word(SHIFT_REMAINING), left.join(" / "));
        let (vapor, left) = (
            &row.vapor_flammable_mass_fraction,
            &row.remaining_flammable_mass_fraction,
        );
        figures.remark(style.word(SHIFT_VAPOR_FLAMMABLE), to(vapor, &shares));
        figures.remark(style.word(SHIFT_LEFT_FLAMMABLE), to(left, &shares));
        for (label, range) in [
            (SHIFT_SUPERHEAT, &row.superheat_error),
            (SHIFT_SUBCOOLING, &row.subcooling_error),
        ] {
            let text = range.as_ref().map(|range| to(range, &degrees));
            figures.remark(style.word(label), text.unwrap_or_else(|| "-".to_owned()));
        }
        figures
    });
    document.rows(1, rows.collect());
}

fn notes(answer: &Shift, question: &LossQuestion, style: &Style) -> Vec<String> {
    let share = |phrase: Phrase, blank: &str, value: f64| {
        style.say(phrase, &[(blank, &percent(value, style))])
    };
    let mut notes = Vec::new();
    match answer.filled_volume_fraction {
        Some(filled) => notes.push(share(SHIFT_FILLED, "filled", filled)),
        None => notes.push(style.word(SHIFT_NO_SPACE)),
    }
    if answer.filled_volume_fraction.is_none() && answer.phase == Leaving::Liquid {
        notes.push(style.word(SHIFT_LIQUID_STAYS));
    }
    if let Some(dry) = answer.last_liquid_lost_mass_fraction {
        notes.push(share(SHIFT_DRY, "lost", dry));
    }
    let phrase = match answer.end {
        End::SitePressure => SHIFT_END_SITE,
        End::Share => SHIFT_END_SHARE,
    };
    notes.push(share(phrase, "lost", answer.end_lost_mass_fraction));
    if !answer.beyond.is_empty() {
        let beyond = answer.beyond.iter().map(|lost| percent(*lost, style));
        let beyond = beyond.collect::<Vec<_>>().join(", ");
        notes.push(style.say(SHIFT_BEYOND, &[("lost", &beyond)]));
    }
    match answer.leaving_within_tolerance_mass_fraction {
        Some(0.0) => notes.push(style.word(SHIFT_NOT_USABLE)),
        Some(lost) => notes.push(share(SHIFT_USABLE, "lost", lost)),
        None => {}
    }
    if question.tolerance && answer.tolerance.is_none() {
        notes.push(style.word(SHIFT_NO_TOLERANCE));
    }
    let unit = style.units.pressure;
    let at = |value: Option<Pressure>| {
        value.map_or_else(|| "-".to_owned(), |value| style.pressure(value, unit))
    };
    let blanks = [
        ("refrigerant", answer.identity.refrigerant.clone()),
        ("suction", at(answer.suction)),
        ("liquid", at(answer.liquid)),
    ];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    notes.push(style.say(SHIFT_SIGN, &blanks));
    if answer.phase == Leaving::Circulating {
        notes.push(style.word(SHIFT_CIRCULATING));
    } else {
        notes.push(style.word(SHIFT_SLOW));
    }
    notes.extend(measured(answer, style));
    notes
}

/// A row a share lost; a column a component and phase.
fn sheet(answer: &Shift) -> Sheet {
    let names = names(answer);
    let rows: Vec<Figures> = answer
        .rows
        .iter()
        .map(|row| {
            let mut cells = Figures::default();
            cells.cell("lost_mass_fraction", row.lost_mass_fraction);
            cells.cell("lost_mole_fraction", row.lost_mole_fraction);
            cells.cell("left_mass_kg", row.left_mass_kg);
            cells.cell("pressure_Pa", row.pressure);
            for (kind, shares) in [
                ("remaining", Some(&row.remaining_mass_fractions)),
                ("liquid", row.liquid_mass_fractions.as_ref()),
                ("vapor", Some(&row.vapor_mass_fractions)),
                ("leaving", Some(&row.leaving_mass_fractions)),
            ] {
                for (at, name) in names.iter().enumerate() {
                    let share = shares.and_then(|shares| shares.get(at)).copied();
                    cells.cell(format!("{kind}_mass_fraction_{name}"), share);
                }
            }
            cells.cell("bubble_pressure_Pa", row.bubble_pressure);
            cells.cell("dew_pressure_Pa", row.dew_pressure);
            cells.cell("glide_K", row.glide);
            cells.cell("superheat_error_K", row.superheat_error);
            cells.cell("subcooling_error_K", row.subcooling_error);
            let off = row.vapor_uncertainty.as_ref();
            for (at, name) in names.iter().enumerate() {
                let share = off
                    .and_then(|off| off.remaining_mass_fractions.get(at))
                    .copied();
                cells.cell(format!("remaining_mass_fraction_uncertainty_{name}"), share);
            }
            let kelvin = off.and_then(|off| off.superheat_error);
            cells.cell("superheat_error_uncertainty_K", kelvin);
            let kelvin = off.and_then(|off| off.subcooling_error);
            cells.cell("subcooling_error_uncertainty_K", kelvin);
            let burns = row.remaining_flammable_mass_fraction;
            cells.cell("remaining_flammable_mass_fraction", burns);
            let burns = row.liquid_flammable_mass_fraction;
            cells.cell("liquid_flammable_mass_fraction", burns);
            let burns = row.vapor_flammable_mass_fraction;
            cells.cell("vapor_flammable_mass_fraction", burns);
            let burns = row.leaving_flammable_mass_fraction;
            cells.cell("leaving_flammable_mass_fraction", burns);
            cells
        })
        .collect();
    Sheet::of_rows(rows.iter().map(Figures::as_slice))
}
