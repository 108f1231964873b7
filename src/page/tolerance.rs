//! The band of bubble and dew within the tolerances of a blend's composition.

use super::number_cell;
use super::warning::Told;
use super::words::Phrase;
use super::words::properties::*;
use super::{Document, Figures, Style, reason};
use crate::Branch;
use crate::refrigerant::Refrigerant;
use crate::service::saturation::{Bands, Tolerance};

/// Keys of the figures of a branch.
const KEYS: [&str; 4] = [
    "lowest_pressure_Pa",
    "highest_pressure_Pa",
    "lowest_temperature_K",
    "highest_temperature_K",
];

const fn branch_name(branch: Branch) -> Phrase {
    match branch {
        Branch::Bubble => BUBBLE,
        Branch::Dew => DEW,
    }
}

/// Why there is no band, where there is none.
pub(super) fn warnings(
    tolerance: &Tolerance,
    refrigerant: &Refrigerant,
    style: &Style,
) -> Vec<Told> {
    let warning = |text| Told {
        code: "no_tolerance",
        text,
    };
    if tolerance.branches.is_none() {
        let phrase = match refrigerant.is_pure() {
            true => TOLERANCE_OF_PURE,
            false => TOLERANCE_UNKNOWN,
        };
        let name = refrigerant.designation();
        return vec![warning(style.say(phrase, &[("refrigerant", name)]))];
    }
    let failed = tolerance.failed().map(|(branch, error)| {
        let reason = reason::reason(error, style);
        let branch = style.word(branch_name(branch));
        let blanks = [("branch", branch.as_str()), ("reason", &reason)];
        warning(style.say(BAND_UNKNOWN, &blanks))
    });
    failed.collect()
}

/// Adds the bands.
pub(super) fn table(
    document: &mut Document,
    tolerance: &Tolerance,
    refrigerant: &Refrigerant,
    style: &Style,
) {
    let Some((_, first)) = tolerance.found().next() else {
        return;
    };
    let corners = first.pressure.corners.to_string();
    let name = refrigerant.designation();
    let blanks = [("refrigerant", name), ("corners", &corners)];
    document.title(style.say(TOLERANCE_TITLE, &blanks));
    let columns = tolerance.found().map(|(branch, bands)| {
        let field = |key: &str| format!("tolerance/{}/{key}", branch.name());
        let mut figures = Figures::default();
        let (p, t) = (bands.pressure, bands.temperature);
        figures.pressure(style, PRESSURE_LOWEST, field(KEYS[0]), p.lowest);
        figures.pressure(style, PRESSURE_HIGHEST, field(KEYS[1]), p.highest);
        figures.temperature(style, TEMPERATURE_LOWEST, field(KEYS[2]), t.lowest);
        figures.temperature(style, TEMPERATURE_HIGHEST, field(KEYS[3]), t.highest);
        (style.word(branch_name(branch)), figures)
    });
    let columns = columns.collect();
    document.columns(Vec::new(), columns);
}

/// The columns of a spreadsheet.
pub(super) fn heads() -> Vec<String> {
    let of = |branch| KEYS.map(|key| format!("{branch}_{key}"));
    [of("bubble"), of("dew")].concat()
}

/// A row under [`heads`].
pub(super) fn cells(tolerance: &Tolerance) -> Vec<String> {
    let of = |wanted| {
        let bands = tolerance.found().find(|one| one.0 == wanted);
        let value = |value: fn(&Bands) -> f64| number_cell(bands.map(|(_, one)| value(&one)));
        [
            value(|one| one.pressure.lowest.in_pascal()),
            value(|one| one.pressure.highest.in_pascal()),
            value(|one| one.temperature.lowest.in_kelvin()),
            value(|one| one.temperature.highest.in_kelvin()),
        ]
    };
    [of(Branch::Bubble), of(Branch::Dew)].concat()
}
