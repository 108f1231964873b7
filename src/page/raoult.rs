//! Raoult's law next to the real lines, for teaching.

use super::warning::Told;
use super::words::properties::*;
use super::{Document, Figures, Style, parts, reason};
use crate::Branch;
use crate::refrigerant::{IdealPoint, Refrigerant};
use crate::service::saturation::{Deviation, IdealBranch, IdealSaturation};

/// Why there is no ideal value, a warning each reason.
pub(super) fn warnings(ideal: &IdealSaturation, style: &Style) -> Vec<Told> {
    let mut found: Vec<Told> = Vec::new();
    for error in ideal
        .branches
        .iter()
        .filter_map(|one| one.point.as_ref().err())
    {
        let reason = reason::reason(error, style);
        let warning = Told {
            code: "no_ideal_value",
            text: style.say(NO_IDEAL_VALUE, &[("reason", &reason)]),
        };
        if !found.contains(&warning) {
            found.push(warning);
        }
    }
    found
}

/// Adds the ideal points.
pub(super) fn table(
    document: &mut Document,
    ideal: &IdealSaturation,
    refrigerant: &Refrigerant,
    style: &Style,
) {
    let name = refrigerant.designation();
    document.title(style.say(IDEAL_TITLE, &[("refrigerant", name)]));
    if refrigerant.is_pure() {
        document.lines(vec![style.word(IDEAL_OF_PURE)]);
        return;
    }
    let branches = ideal.branches.iter();
    let columns: Vec<(String, Figures)> = branches
        .filter_map(|one| {
            let point = one.point.as_ref().ok()?;
            let head = match one.branch {
                Branch::Bubble => BUBBLE,
                Branch::Dew => DEW,
            };
            Some((style.word(head), column(refrigerant, one, point, style)))
        })
        .collect();
    if columns.is_empty() {
        document.lines(vec![style.word(NO_IDEAL)]);
        return;
    }
    document.columns(Vec::new(), columns);
}

fn column(
    refrigerant: &Refrigerant,
    one: &IdealBranch,
    point: &IdealPoint,
    style: &Style,
) -> Figures {
    let path = format!("ideal/{}/", one.branch.name());
    let mut figures = Figures::default();
    parts::temperature_and_pressure(
        &mut figures,
        (point.temperature, point.pressure),
        &path,
        style,
    );
    let signed = |text: String| match text.starts_with('-') {
        true => text,
        false => format!("+{text}"),
    };
    let deviation = match one.deviation {
        Some(Deviation::Temperature(difference)) => {
            signed(style.degrees(difference.in_kelvin(), 2))
        }
        Some(Deviation::Pressure(share)) => {
            let percent = signed(style.fixed(100.0 * share, 1));
            style.say(PERCENT_OF_PRESSURE, &[("percent", &percent)])
        }
        None => "-".to_owned(),
    };
    figures.remark(style.word(IDEAL_MINUS_REAL), deviation);
    let components = || refrigerant.components().iter().enumerate();
    for ((at, component), pressure) in components().zip(&point.component_pressures) {
        let blanks = [("component", component.designation.as_str())];
        figures.add(
            style.say(ALONE_SATURATES_AT, &blanks),
            style.pressure(*pressure, style.units.absolute),
            format!("{path}component_pressures_Pa/{at}"),
            *pressure,
        );
    }
    for ((at, component), share) in components().zip(&point.other_mass_fractions) {
        let blanks = [("component", component.designation.as_str())];
        figures.add(
            style.say(SHARE_OF_OTHER_PHASE, &blanks),
            style.fixed(100.0 * share, 3),
            format!("{path}other_phase_mass_fractions/{at}"),
            *share,
        );
    }
    figures
}

/// The sums.
pub(super) fn working(
    ideal: &IdealSaturation,
    refrigerant: &Refrigerant,
    style: &Style,
) -> Vec<String> {
    if refrigerant.is_pure() {
        return Vec::new();
    }
    let unit = style.units.absolute;
    let mut lines = Vec::new();
    for one in &ideal.branches {
        let Ok(point) = &one.point else {
            continue;
        };
        let (phrase, sign) = match one.branch {
            Branch::Bubble => (RAOULT_BUBBLE, "x"),
            Branch::Dew => (RAOULT_DEW, "/"),
        };
        let figure = |pressure| style.fixed(unit.read(pressure, &style.site), 4);
        let components = refrigerant.components().iter();
        let terms: Vec<String> = components
            .zip(&point.component_pressures)
            .map(|(component, pressure)| {
                let fraction = style.fixed(component.mole_fraction, 5);
                format!("{fraction} {sign} {}", figure(*pressure))
            })
            .collect();
        let blanks = [
            ("temperature", style.temperature(point.temperature)),
            ("sum", terms.join(" + ")),
            (
                "pressure",
                format!("{} {}", figure(point.pressure), unit.typed()),
            ),
        ];
        let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
        lines.push(style.say(phrase, &blanks));
    }
    lines
}
