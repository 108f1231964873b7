//! What pages share: figures with their units, words below.

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
