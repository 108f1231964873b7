//! Values as people type them: a number, then its unit.

use super::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, TemperatureUnit,
};
use crate::{Error, Result};

/// A value with the unit in which it was typed, so that an answer can come in the same unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typed<Value, Unit> {
    /// The value, SI inside.
    pub value: Value,
    /// The unit as typed.
    pub unit: Unit,
}

/// What `kPa` or `MPa` without `a` or `g` means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BareUnit {
    /// Absolute, as in tables of properties; the answer repeats the word.
    Absolute,
    /// Refused like `psi` and `bar`: a gauge is read here.
    Refused,
}

/// Builds the one error of this module.
pub(super) fn wrong(
    quantity: &'static str,
    text: &str,
    problem: impl Into<String>,
    hint: impl Into<String>,
) -> Error {
    // A minus sign reads the same either way; a very long argument would drown the message.
    let text = text.replace('\u{2212}', "-");
    let shown: String = if text.chars().count() > 40 {
        text.chars().take(40).chain("...".chars()).collect()
    } else {
        text
    };
    Error::Value {
        quantity,
        text: shown,
        problem: problem.into(),
        hint: hint.into(),
    }
}

/// Splits a text into its number and its unit.
///
/// Accepts U+2212 as a minus sign and white space around the parts.
pub(super) fn split(quantity: &'static str, text: &str, example: &str) -> Result<(f64, String)> {
    let clean = text.trim().replace('\u{2212}', "-");
    let bytes = clean.as_bytes();
    let digits = |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let start = usize::from(matches!(bytes.first(), Some(b'-' | b'+')));
    let mut end = digits(start);
    let mut count = end - start;
    if bytes.get(end) == Some(&b'.') {
        let fraction_end = digits(end + 1);
        count += fraction_end - end - 1;
        end = fraction_end;
    }
    let usage = || format!("write a number and its unit without a space, for example {example}");
    if count == 0 {
        return Err(wrong(
            quantity,
            text,
            "does not begin with a number",
            usage(),
        ));
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(end + 1), Some(b'-' | b'+')));
        let exponent_end = digits(end + 1 + sign);
        if exponent_end > end + 1 + sign {
            end = exponent_end;
        }
    }
    if bytes.get(end) == Some(&b',') {
        return Err(wrong(
            quantity,
            text,
            "holds a comma",
            "write the decimal sign as a point and no thousands separator",
        ));
    }
    let number: f64 = clean[..end]
        .parse()
        .map_err(|_| wrong(quantity, text, "does not begin with a number", usage()))?;
    if !number.is_finite() {
        return Err(wrong(quantity, text, "is not a finite number", usage()));
    }
    Ok((number, clean[end..].trim().to_owned()))
}

pub(super) fn temperature_unit(unit: &str) -> Option<TemperatureUnit> {
    let bare = unit.trim_start_matches('°').trim_start();
    match bare.to_ascii_lowercase().as_str() {
        "c" | "degc" | "\u{2103}" => Some(TemperatureUnit::Celsius),
        "f" | "degf" | "\u{2109}" => Some(TemperatureUnit::Fahrenheit),
        "k" if bare == unit => Some(TemperatureUnit::Kelvin),
        _ => None,
    }
}

impl TemperatureUnit {
    /// Reads a unit's name as typed, for example `C` or `°F`.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no unit of temperature.
    pub fn named(text: &str) -> Result<Self> {
        temperature_unit(text.trim())
            .ok_or_else(|| wrong("temperature unit", text, "is not known", "use one of C F K"))
    }
}

/// Reads a temperature such as `5C`, `41F`, `278.15K` or `-40°C`.
///
/// # Errors
/// [`Error::Value`] where there is no number or no unit, the number is not finite,
/// or the temperature lies below absolute zero.
///
/// # Example
/// ```
/// use zeotrope::units::{TemperatureUnit, parse_temperature};
/// let typed = parse_temperature("41F")?;
/// assert!((typed.value.in_kelvin() - 278.15).abs() < 1e-9);
/// assert_eq!(typed.unit, TemperatureUnit::Fahrenheit);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_temperature(text: &str) -> Result<Typed<Temperature, TemperatureUnit>> {
    const QUANTITY: &str = "temperature";
    let (number, unit_text) = split(QUANTITY, text, "5C, 41F or 278.15K")?;
    let unit = read_temperature_unit(QUANTITY, text, number, &unit_text)?;
    let value = temperature_of(number, unit, text)?;
    Ok(Typed { value, unit })
}

/// The temperature of a number with its unit, typed as `text`.
pub(super) fn temperature_of(
    number: f64,
    unit: TemperatureUnit,
    text: &str,
) -> Result<Temperature> {
    let value = unit.write(number);
    if value.in_kelvin() < 0.0 {
        return Err(wrong(
            "temperature",
            text,
            "lies below absolute zero",
            "nothing is colder than 0 K (-273.15 °C, -459.67 °F)",
        ));
    }
    Ok(value)
}

/// Reads a difference of temperatures such as `8F` or `4.5K`.
///
/// # Errors
/// [`Error::Value`] where there is no number or no unit, or the number is not finite.
///
/// # Example
/// ```
/// use zeotrope::units::parse_temperature_difference;
/// assert_eq!(parse_temperature_difference("4.5K")?.value.in_kelvin(), 4.5);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_temperature_difference(
    text: &str,
) -> Result<Typed<TemperatureDifference, TemperatureUnit>> {
    const QUANTITY: &str = "temperature difference";
    let (number, unit_text) = split(QUANTITY, text, "5C, 8F or 4.5K")?;
    let unit = read_temperature_unit(QUANTITY, text, number, &unit_text)?;
    let value = match unit {
        TemperatureUnit::Fahrenheit => TemperatureDifference::fahrenheit_degrees(number),
        TemperatureUnit::Celsius | TemperatureUnit::Kelvin => TemperatureDifference::kelvin(number),
    };
    Ok(Typed { value, unit })
}

fn read_temperature_unit(
    quantity: &'static str,
    text: &str,
    number: f64,
    unit: &str,
) -> Result<TemperatureUnit> {
    if unit.is_empty() {
        return Err(wrong(
            quantity,
            text,
            "has no unit",
            format!("write {number}C, {number}F or {number}K"),
        ));
    }
    temperature_unit(unit).ok_or_else(|| {
        wrong(
            quantity,
            text,
            format!("ends in '{unit}', which is not a unit of temperature"),
            format!("write {number}C, {number}F or {number}K"),
        )
    })
}

/// What a unit's name turned out to be.
enum PressureName {
    Known(PressureUnit),
    /// Counts from nothing that was said: the gauge and the absolute spelling.
    Ambiguous(&'static str, &'static str, Option<PressureUnit>),
    Unknown,
}

fn pressure_name(unit: &str) -> PressureName {
    // mPa would be a millipascal; taken for a megapascal it errs by 1e9.
    if unit.starts_with("mP") {
        return PressureName::Unknown;
    }
    let lower = unit.to_ascii_lowercase();
    if let Some(known) = PressureUnit::ALL
        .iter()
        .find(|known| known.typed().eq_ignore_ascii_case(&lower))
    {
        return PressureName::Known(*known);
    }
    match lower.as_str() {
        "microns" => PressureName::Known(PressureUnit::Micron),
        "psi" => PressureName::Ambiguous("psig", "psia", None),
        "bar" => PressureName::Ambiguous("barg", "bara", None),
        "kpa" => PressureName::Ambiguous("kPag", "kPaa", Some(PressureUnit::KilopascalAbsolute)),
        "mpa" => PressureName::Ambiguous("MPag", "MPaa", Some(PressureUnit::MegapascalAbsolute)),
        "inhg" => PressureName::Ambiguous("inHgvac", "inHga", None),
        _ => PressureName::Unknown,
    }
}

fn pressure_unit_list() -> String {
    let names: Vec<_> = PressureUnit::ALL.iter().map(|unit| unit.typed()).collect();
    names.join(" ")
}

pub(super) fn resolve_pressure_unit(
    quantity: &'static str,
    text: &str,
    prefix: &str,
    unit: &str,
    bare: BareUnit,
) -> Result<PressureUnit> {
    match pressure_name(unit) {
        PressureName::Known(known) => Ok(known),
        PressureName::Ambiguous(_, _, Some(known)) if bare == BareUnit::Absolute => Ok(known),
        PressureName::Ambiguous(gauge, absolute, _) => Err(wrong(
            quantity,
            text,
            "does not say whether it is gauge or absolute",
            if gauge == "inHgvac" {
                format!(
                    "write {prefix}{gauge} (below local atmospheric pressure) or {prefix}{absolute} (absolute)"
                )
            } else {
                format!("write {prefix}{gauge} (gauge) or {prefix}{absolute} (absolute)")
            },
        )),
        PressureName::Unknown => {
            let lower = unit.to_ascii_lowercase();
            let inches = [
                "\"", "''", "\u{2033}", "in", "inch", "inches", "in vac", "hg", "inhgv",
            ];
            let hint = if inches.contains(&lower.as_str()) && !prefix.is_empty() {
                format!("did you mean {prefix}inHgvac, inches of mercury below the air around?")
            } else if matches!(lower.as_str(), "#" | "lb" | "lbs" | "pound" | "pounds") {
                format!("did you mean {prefix}psig (gauge) or {prefix}psia (absolute)?")
            } else {
                format!("use one of {}", pressure_unit_list())
            };
            Err(wrong(
                quantity,
                text,
                format!("ends in '{unit}', which is not a unit of pressure"),
                hint,
            ))
        }
    }
}

impl PressureUnit {
    /// Reads a unit's name as typed, for example `psig`.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no unit of pressure, or does not say gauge or absolute.
    pub fn named(text: &str) -> Result<Self> {
        resolve_pressure_unit("pressure unit", text, "", text.trim(), BareUnit::Refused)
    }
}

/// Reads a pressure such as `70psig`, `5.8barg`, `681kPaa` or `12.4inHgvac` at a site.
///
/// # Errors
/// [`Error::Value`] where there is no number or no unit, the number is not finite, the
/// unit does not say gauge or absolute (`psi`, `bar`, `inHg`, and `kPa`, `MPa` where
/// `bare` is [`BareUnit::Refused`]), a vacuum bears a minus sign, or the absolute
/// pressure would be negative.
///
/// # Example
/// ```
/// use zeotrope::units::{Atmosphere, BareUnit, parse_pressure};
/// let typed = parse_pressure("70psig", BareUnit::Refused, &Atmosphere::SEA_LEVEL)?;
/// assert!((typed.value.in_psia() - 84.696).abs() < 0.001);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_pressure(
    text: &str,
    bare: BareUnit,
    site: &Atmosphere,
) -> Result<Typed<Pressure, PressureUnit>> {
    const QUANTITY: &str = "pressure";
    let (number, unit_text) = split(QUANTITY, text, "70psig, 5.8barg or 681kPaa")?;
    if unit_text.is_empty() {
        return Err(wrong(
            QUANTITY,
            text,
            "has no unit",
            format!("write {number}psig, {number}psia, {number}barg, {number}bara or {number}kPaa"),
        ));
    }
    let unit = resolve_pressure_unit(QUANTITY, text, &number.to_string(), &unit_text, bare)?;
    let value = pressure_of(number, unit, site, text)?;
    Ok(Typed { value, unit })
}

/// The pressure of a number with its unit at a site, typed as `text`.
pub(super) fn pressure_of(
    number: f64,
    unit: PressureUnit,
    site: &Atmosphere,
    text: &str,
) -> Result<Pressure> {
    const QUANTITY: &str = "pressure";
    if unit == PressureUnit::InchesOfMercuryVacuum && number < 0.0 {
        return Err(wrong(
            QUANTITY,
            text,
            "has both a minus sign and the word vacuum",
            format!("write {}inHgvac", -number),
        ));
    }
    let value = unit.write(number, site);
    if value.in_pascal() < 0.0 {
        let zero = unit.read(Pressure::pascal(0.0), site).abs();
        let hint = match unit {
            PressureUnit::InchesOfMercuryVacuum => {
                format!("a perfect vacuum is {zero:.2} inHg vacuum at this site")
            }
            gauge if gauge.is_gauge() => {
                format!(
                    "a perfect vacuum is -{zero:.2} {} at this site",
                    gauge.typed()
                )
            }
            _ => "an absolute pressure is never negative".to_owned(),
        };
        return Err(wrong(QUANTITY, text, "lies below a perfect vacuum", hint));
    }
    Ok(value)
}

/// Reads a difference or span of pressure such as `3.5psi`, `25kPa` or `0.2bar`, in pascal.
///
/// A difference has no reference, so here the bare units are right and those with
/// `g` or `a` are refused.
///
/// # Errors
/// [`Error::Value`] where there is no number or no unit of pressure, or the number is
/// not finite.
///
/// # Example
/// ```
/// use zeotrope::units::parse_pressure_difference;
/// assert_eq!(parse_pressure_difference("25kPa")?, 25_000.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_pressure_difference(text: &str) -> Result<f64> {
    const QUANTITY: &str = "pressure difference";
    let (number, unit) = split(QUANTITY, text, "3.5psi, 25kPa or 0.2bar")?;
    let hint = || format!("write {number}psi, {number}kPa or {number}bar");
    if unit.is_empty() {
        return Err(wrong(QUANTITY, text, "has no unit", hint()));
    }
    if unit.starts_with("mP") {
        return Err(wrong(
            QUANTITY,
            text,
            "is in millipascal as written",
            hint(),
        ));
    }
    let size = match unit.to_ascii_lowercase().as_str() {
        "psi" => PressureUnit::PsiAbsolute.pascal(),
        "bar" => 1e5,
        "mbar" => 100.0,
        "kpa" => 1e3,
        "mpa" => 1e6,
        "pa" => 1.0,
        "inhg" => PressureUnit::InchesOfMercuryAbsolute.pascal(),
        "micron" | "microns" => PressureUnit::Micron.pascal(),
        "torr" => PressureUnit::Torr.pascal(),
        _ => {
            return Err(wrong(
                QUANTITY,
                text,
                format!("ends in '{unit}', which is not a unit for a difference of pressures"),
                hint(),
            ));
        }
    };
    Ok(number * size)
}

/// Reads an elevation such as `1600m` or `5280ft`, in metres.
///
/// # Errors
/// [`Error::Value`] where there is no number or no unit, or the number is not finite.
///
/// # Example
/// ```
/// use zeotrope::units::parse_elevation;
/// assert!((parse_elevation("5280ft")? - 1609.344).abs() < 1e-9);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_elevation(text: &str) -> Result<f64> {
    const QUANTITY: &str = "elevation";
    let (number, unit) = split(QUANTITY, text, "1600m or 5280ft")?;
    match unit.to_ascii_lowercase().as_str() {
        "m" => Ok(number),
        "km" => Ok(number * 1000.0),
        "ft" | "'" | "\u{2032}" | "feet" | "foot" => Ok(number * 0.3048),
        _ => Err(wrong(
            QUANTITY,
            text,
            if unit.is_empty() {
                "has no unit".to_owned()
            } else {
                format!("ends in '{unit}', which is not a unit of elevation")
            },
            format!("write {number}m or {number}ft"),
        )),
    }
}

/// Reads a quality, the vapor's share by mass, a bare number from 0 to 1.
///
/// # Errors
/// [`Error::Value`] where it is no number, has a unit, or lies outside 0 to 1.
///
/// # Example
/// ```
/// use zeotrope::units::parse_quality;
/// assert_eq!(parse_quality("0.25")?, 0.25);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_quality(text: &str) -> Result<f64> {
    const QUANTITY: &str = "quality";
    let (number, unit) = split(QUANTITY, text, "0.25")?;
    let hint = "give the vapor's share by mass, a bare number from 0 to 1";
    if !unit.is_empty() {
        return Err(wrong(QUANTITY, text, "has a unit", hint));
    }
    if !(0.0..=1.0).contains(&number) {
        return Err(wrong(QUANTITY, text, "lies outside 0 to 1", hint));
    }
    Ok(number)
}
