//! What pages share: figures with their units, words below.

use crate::cli::transition::cautions;
use crate::page::Block;
use crate::refrigerant::{Refrigerant, Warning, Zero};
use crate::service::facts::Facts;
use crate::service::measurement::significance::Limit;
use crate::units::{Atmosphere, Pressure, PressureUnit, Temperature, UnitSet, fixed};

/// Digits of a property on a page; JSON has them all.
const DIGITS: usize = 5;

/// A temperature with two decimals and its unit.
pub(crate) fn temperature(value: Temperature, units: &UnitSet) -> String {
    format!(
        "{} {}",
        fixed(units.temperature.read(value), 2),
        units.temperature.symbol()
    )
}

/// A pressure to five digits of its absolute value, with its unit; a vacuum in words.
pub(crate) fn pressure(value: Pressure, unit: PressureUnit, site: &Atmosphere) -> String {
    let figure = unit.read(value, site);
    if unit == PressureUnit::PsiGauge && figure < -0.005 {
        let vacuum = PressureUnit::InchesOfMercuryVacuum.read(value, site);
        return format!("{} inHg vacuum", fixed(vacuum, 2));
    }
    let absolute = value.in_pascal() / unit.pascal();
    let magnitude = absolute.abs().max(1e-12).log10().floor() as i32;
    let decimals = (DIGITS as i32 - 1 - magnitude).clamp(0, 9) as usize;
    format!("{} {}", fixed(figure, decimals), unit.words())
}

/// Every warning once: the standing ones, those of the answer, how the composition was
/// read, and those of the site.
pub(crate) fn all_warnings(
    refrigerant: &Refrigerant,
    answer: &[Warning],
    site: &[Warning],
) -> Vec<Warning> {
    let notes = refrigerant.composition().notes.iter().map(|note| Warning {
        code: "composition_read",
        text: note.clone(),
    });
    let mut known: Vec<Warning> = Vec::new();
    for warning in refrigerant
        .warnings()
        .into_iter()
        .chain(answer.iter().cloned())
        .chain(notes)
        .chain(site.iter().cloned())
    {
        if !known.contains(&warning) {
            known.push(warning);
        }
    }
    known
}

/// What stands below an answer: warnings, what it counts from and rests on, the class, words of
/// care.
pub(crate) fn foot(
    refrigerant: &Refrigerant,
    facts: &Facts,
    zero: Option<Zero>,
    warnings: &[Warning],
    site: &Atmosphere,
) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !warnings.is_empty() {
        let lines = warnings
            .iter()
            .map(|warning| format!("warning: {} ({})", warning.text, warning.code));
        blocks.push(Block::Lines(lines.collect()));
    }
    let mut lines = vec![format!(
        "Gauge pressures and vacuum count from {}.",
        site.in_words()
    )];
    if let Some(zero) = zero {
        lines.push(format!(
            "Zero of enthalpy and entropy: {}.",
            zero_in_words(zero)
        ));
    }
    for equation in &facts.model.equations {
        lines.push(format!(
            "Equation of {}: {}.",
            equation.refrigerant, equation.source
        ));
    }
    for pair in &facts.model.pairs {
        lines.push(format!(
            "Pair {} + {}: {}.",
            pair.first,
            pair.second,
            crate::page::parts::pair_in_words(pair, &crate::page::Style::new(UnitSet::SI, *site))
        ));
    }
    lines.push(format!("Class: {}.", facts.class_text()));
    blocks.push(Block::Lines(lines));
    blocks.push(Block::Lines(cautions(&[(refrigerant, facts)])));
    blocks
}

fn zero_in_words(zero: Zero) -> &'static str {
    match zero {
        Zero::Usual => "the usual one",
        Zero::Published => "published, as the paper of the equation has it",
        Zero::Iir => "iir, 200 kJ/kg and 1 kJ/kg/K for liquid at its bubble point at 0 °C",
        Zero::Ashrae => "ashrae, 0 for liquid at its bubble point at -40 °C",
        Zero::BoilingPoint => "boiling-point, 0 for liquid at its bubble point at 101.325 kPa",
        Zero::IdealGas => "ideal-gas, 0 for the ideal gas at 298.15 K and 101.325 kPa",
    }
}

/// The size of a unit of pressure without what it counts from, and its name.
fn difference_unit(unit: PressureUnit) -> (f64, &'static str) {
    let name = match unit {
        PressureUnit::PsiGauge | PressureUnit::PsiAbsolute => "psi",
        PressureUnit::BarGauge | PressureUnit::BarAbsolute => "bar",
        PressureUnit::KilopascalGauge | PressureUnit::KilopascalAbsolute => "kPa",
        PressureUnit::MegapascalGauge | PressureUnit::MegapascalAbsolute => "MPa",
        PressureUnit::InchesOfMercuryAbsolute | PressureUnit::InchesOfMercuryVacuum => "inHg",
        PressureUnit::Pascal
        | PressureUnit::Micron
        | PressureUnit::Millibar
        | PressureUnit::Torr => unit.typed(),
    };
    (unit.pascal(), name)
}

/// A difference of pressures in Pa, with its sign and unit.
pub(crate) fn pressure_difference(pascal: f64, units: &UnitSet) -> String {
    let (figure, name) = difference(pascal, units);
    let sign = if pascal < 0.0 { "" } else { "+" };
    format!("{sign}{figure} {name}")
}

/// What instruments' limits of error make together, in both ways of adding them.
pub(crate) fn limit(limit: &Limit, units: &UnitSet) -> String {
    let (usual, name) = difference(limit.usual, units);
    let (worst, _) = difference(limit.worst, units);
    format!("± {usual} {name} (root of the sum of squares), ± {worst} {name} worst case")
}

/// A difference of pressures in Pa to the digits of a good gauge, and its unit.
fn difference(pascal: f64, units: &UnitSet) -> (String, &'static str) {
    let (size, name) = difference_unit(units.gauge);
    // 0.01 psi, 0.001 bar, 0.1 kPa
    let decimals = if size > 5e4 {
        3
    } else if size > 2e3 {
        2
    } else {
        1
    };
    let decimals = if size > 5e5 { 4 } else { decimals };
    (fixed(pascal / size, decimals), name)
}
