//! Values of which something more is known: a band, a vacuum, a level of either kind.

use super::parsing::{
    BareUnit, Typed, parse_pressure, parse_temperature, parse_temperature_difference, wrong,
};
use super::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, TemperatureUnit,
};
#[cfg(doc)]
use crate::Error;
use crate::Result;

/// Reads how far from a wanted value is still within, such as `3F`, `+/-2F` or `±2F`.
///
/// # Errors
/// As [`parse_temperature_difference`], and [`Error::Value`] where it is not above zero.
///
/// # Example
/// ```
/// use zeotrope::units::parse_band;
/// assert_eq!(parse_band("+/-2K")?.value.in_kelvin(), 2.0);
/// assert!(parse_band("0F").is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_band(text: &str) -> Result<Typed<TemperatureDifference, TemperatureUnit>> {
    let bare = text.trim();
    let bare = ["+/-", "+-", "±", "+/\u{2212}"]
        .iter()
        .find_map(|sign| bare.strip_prefix(sign));
    let band = parse_temperature_difference(bare.unwrap_or(text))?;
    if band.value.in_kelvin() > 0.0 {
        return Ok(band);
    }
    let hint = "give how far from the target is still within, for example 3F";
    Err(wrong("band", text, "is not above zero", hint))
}

/// Reads a vacuum. A bare number on a vacuum gauge is micron far more often than psi, and the hint of
/// its error says so.
///
/// # Errors
/// As [`parse_pressure`].
///
/// # Example
/// ```
/// use zeotrope::units::{Atmosphere, parse_vacuum};
/// let read = parse_vacuum("500micron", &Atmosphere::SEA_LEVEL)?;
/// // a micron of mercury is 0.133322 Pa
/// assert!((read.value.in_pascal() - 66.661).abs() < 1e-3);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_vacuum(text: &str, site: &Atmosphere) -> Result<Typed<Pressure, PressureUnit>> {
    parse_pressure(text, BareUnit::Absolute, site).map_err(|error| {
        let number = text.trim();
        if number.parse::<f64>().is_err() {
            return error;
        }
        let units = PressureUnit::OF_VACUUM.iter();
        let texts: Vec<String> = units
            .map(|unit| format!("{number}{}", unit.typed()))
            .collect();
        match texts.split_last() {
            Some((last, others)) => {
                error.with_value_hint(&format!("write {} or {last}", others.join(", ")))
            }
            None => error,
        }
    })
}

/// A temperature or a pressure, of which either may be written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TypedLevel {
    /// A temperature.
    Temperature(Typed<Temperature, TemperatureUnit>),
    /// A pressure.
    Pressure(Typed<Pressure, PressureUnit>),
}

/// Reads a pressure or a temperature.
///
/// # Errors
/// As [`parse_pressure`] where the text means a pressure, else as [`parse_temperature`].
///
/// # Example
/// ```
/// use zeotrope::units::{Atmosphere, BareUnit, TypedLevel, parse_level};
/// let found = parse_level("5barg", BareUnit::Refused, &Atmosphere::SEA_LEVEL)?;
/// assert!(matches!(found, TypedLevel::Pressure(_)));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_level(text: &str, bare: BareUnit, site: &Atmosphere) -> Result<TypedLevel> {
    match (parse_temperature(text), is_pressure_like(text)) {
        (Err(_), true) => parse_pressure(text, bare, site).map(TypedLevel::Pressure),
        (typed, _) => typed.map(TypedLevel::Temperature),
    }
}

/// Reads a difference of temperatures that is more than none, such as `0.2F`.
///
/// # Errors
/// As [`parse_temperature_difference`], and [`Error::Value`] where it is not above zero.
///
/// # Example
/// ```
/// use zeotrope::units::parse_resolution;
/// assert!((parse_resolution("0.18F")?.in_kelvin() - 0.1).abs() < 1e-12);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_resolution(text: &str) -> Result<TemperatureDifference> {
    let typed = parse_temperature_difference(text)?.value;
    if typed.in_kelvin() > 0.0 {
        return Ok(typed);
    }
    let hint = "give a difference, for example 0.2F";
    Err(wrong("difference", text, "is not above zero", hint))
}

/// Reads a bare number from zero up; `quantity` and `hint` are those of its error.
///
/// # Errors
/// [`Error::Value`] where it is none.
///
/// # Example
/// ```
/// use zeotrope::units::parse_bare;
/// assert_eq!(parse_bare("share", "0.25", "give a number")?, 0.25);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_bare(quantity: &'static str, text: &str, hint: &str) -> Result<f64> {
    let number = text.trim().parse().ok();
    let number = number.filter(|value: &f64| value.is_finite() && *value >= 0.0);
    number.ok_or_else(|| wrong(quantity, text, "is not a number from zero up", hint))
}

/// Whether a text means a pressure, so that what is wrong with it is told as such.
pub(crate) fn is_pressure_like(text: &str) -> bool {
    let unit: String = text
        .chars()
        .filter(char::is_ascii_alphabetic)
        .collect::<String>()
        .to_lowercase();
    ["psi", "bar", "pa", "hg", "micron", "torr"]
        .iter()
        .any(|part| unit.contains(part))
}

/// Reads a whole number of a range; `quantity` and `hint` are those of its error.
///
/// # Errors
/// [`Error::Value`] where it is none.
///
/// # Example
/// ```
/// use zeotrope::units::parse_count;
/// assert_eq!(parse_count("rows", "12", 1..=20, "give a whole number")?, 12);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_count(
    quantity: &'static str,
    text: &str,
    range: std::ops::RangeInclusive<usize>,
    hint: &str,
) -> Result<usize> {
    let number = text.trim().parse().ok();
    let number = number.filter(|number| range.contains(number));
    number.ok_or_else(|| {
        let (least, most) = (range.start(), range.end());
        let problem = format!("is not a whole number from {least} to {most}");
        wrong(quantity, text, problem, hint)
    })
}
