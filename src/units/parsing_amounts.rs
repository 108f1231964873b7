//! Amounts around a service call as people type them: masses, volumes, flows of air, percentages.

use super::parsing::{split, wrong};
use crate::Result;

/// Kilogram in an avoirdupois pound, by definition.
pub const KG_PER_POUND: f64 = 0.453_592_37;

/// Cubic metre in a cubic foot, from the exact foot.
pub const M3_PER_CUBIC_FOOT: f64 = 0.304_8 * 0.304_8 * 0.304_8;

/// Watt in a Btu (International Table) per hour: 1055.055 852 62 J in 3600 s.
pub const WATT_PER_BTU_PER_HOUR: f64 = 1_055.055_852_62 / 3600.0;

/// A unit by its name in lower case: what one of it is in SI.
type Size = (&'static str, f64);

const MASSES: [Size; 6] = [
    ("kg", 1.0),
    ("g", 1e-3),
    ("t", 1e3),
    ("lb", KG_PER_POUND),
    ("lbs", KG_PER_POUND),
    ("oz", KG_PER_POUND / 16.0),
];

const VOLUMES: [Size; 4] = [
    ("l", 1e-3),
    ("m3", 1.0),
    ("ft3", M3_PER_CUBIC_FOOT),
    ("in3", M3_PER_CUBIC_FOOT / 1728.0),
];

const FLOWS: [Size; 5] = [
    ("cfm", M3_PER_CUBIC_FOOT / 60.0),
    ("ft3/min", M3_PER_CUBIC_FOOT / 60.0),
    ("m3/h", 1.0 / 3600.0),
    ("m3/s", 1.0),
    ("l/s", 1e-3),
];

const HEAT_FLOWS: [Size; 5] = [
    ("kw", 1e3),
    ("w", 1.0),
    ("btu/h", WATT_PER_BTU_PER_HOUR),
    // A ton of refrigeration, by definition 12 000 Btu/h.
    ("ton", 12_000.0 * WATT_PER_BTU_PER_HOUR),
    ("tons", 12_000.0 * WATT_PER_BTU_PER_HOUR),
];

const TIMES: [Size; 6] = [
    ("s", 1.0),
    ("sec", 1.0),
    ("min", 60.0),
    ("h", 3600.0),
    ("hr", 3600.0),
    ("d", 86_400.0),
];

/// A number above zero in one of some units.
fn positive(quantity: &'static str, text: &str, sizes: &[Size], example: &str) -> Result<f64> {
    let (number, unit) = split(quantity, text, example)?;
    let lower = unit.to_ascii_lowercase();
    let Some((_, size)) = sizes.iter().find(|(name, _)| *name == lower) else {
        let problem = if unit.is_empty() {
            "has no unit".to_owned()
        } else {
            format!("'{unit}' is not a unit of {quantity}")
        };
        let names: Vec<&str> = sizes.iter().map(|(name, _)| *name).collect();
        return Err(wrong(
            quantity,
            text,
            problem,
            format!("write for example {example}; units: {}", names.join(" ")),
        ));
    };
    if number <= 0.0 {
        return Err(wrong(
            quantity,
            text,
            "is not above zero",
            format!("a {quantity} is a positive number"),
        ));
    }
    Ok(number * size)
}

/// Reads a mass such as `12kg` or `50lb`, in kg.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number or no unit of mass, or the
/// number is not finite or not above zero.
///
/// # Example
/// ```
/// use zeotrope::units::parse_mass;
/// assert_eq!(parse_mass("50lb")?, 50.0 * 0.453_592_37);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_mass(text: &str) -> Result<f64> {
    positive("mass", text, &MASSES, "12kg or 25lb")
}

/// Reads a volume such as `27.2L` or `0.96ft3`, in m3.
///
/// # Errors
/// As [`parse_mass`], for units of volume.
///
/// # Example
/// ```
/// use zeotrope::units::parse_volume;
/// assert_eq!(parse_volume("27.5L")?, 0.0275);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_volume(text: &str) -> Result<f64> {
    positive("volume", text, &VOLUMES, "27.2L or 0.96ft3")
}

/// Reads a flow of air such as `1200cfm` or `2000m3/h`, in m3/s.
///
/// # Errors
/// As [`parse_mass`], for units of volume flow.
///
/// # Example
/// ```
/// use zeotrope::units::parse_volume_flow;
/// assert_eq!(parse_volume_flow("3600m3/h")?, 1.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_volume_flow(text: &str) -> Result<f64> {
    positive("volume flow", text, &FLOWS, "1200cfm or 2000m3/h")
}

/// Reads a capacity such as `10kW`, `36000Btu/h` or `3ton` (of refrigeration), in W.
///
/// # Errors
/// As [`parse_mass`], for units of heat flow.
///
/// # Example
/// ```
/// use zeotrope::units::parse_heat_flow;
/// assert_eq!(parse_heat_flow("10kW")?, 10_000.0);
/// assert!((parse_heat_flow("1ton")? - 3516.85).abs() < 0.01);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_heat_flow(text: &str) -> Result<f64> {
    positive("capacity", text, &HEAT_FLOWS, "10kW, 36000Btu/h or 3ton")
}

/// Reads a length of time such as `10min` or `0.5h`, in s.
///
/// # Errors
/// As [`parse_mass`], for units of time.
///
/// # Example
/// ```
/// use zeotrope::units::parse_duration;
/// assert_eq!(parse_duration("10min")?, 600.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_duration(text: &str) -> Result<f64> {
    positive("time", text, &TIMES, "30s, 10min or 1h")
}

/// Reads a share in percent such as `50%`, as a fraction.
///
/// A bare number is a percentage where it is above 1; up to 1 it is refused: 0.5 could be a half or
/// half a percent.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number, no percent sign behind a number
/// up to 1, or the share lies outside 0 to 100 %.
///
/// # Example
/// ```
/// use zeotrope::units::parse_percent;
/// assert_eq!(parse_percent("relative humidity", "50%")?, 0.5);
/// assert_eq!(parse_percent("relative humidity", "50")?, 0.5);
/// assert!(parse_percent("relative humidity", "0.5").is_err());
/// assert!(parse_percent("relative humidity", "130%").is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_percent(quantity: &'static str, text: &str) -> Result<f64> {
    let (number, unit) = split(quantity, text, "50%")?;
    let is_percentage = unit == "%" || (unit.is_empty() && number > 1.0);
    if !is_percentage {
        return Err(wrong(
            quantity,
            text,
            "is not a number with a percent sign",
            format!("write {number}%"),
        ));
    }
    if !(0.0..=100.0).contains(&number) {
        return Err(wrong(
            quantity,
            text,
            "lies outside 0 to 100 %",
            "give a share from 0% to 100%",
        ));
    }
    Ok(number / 100.0)
}

/// A concentration in air as typed: by mass, or as a share of the volume, which needs a molar mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum InAir {
    /// Kilogram per cubic metre.
    Mass(f64),
    /// Share of the volume, 0 to 1.
    Volume(f64),
}

/// Reads a concentration in air such as `0.307kg/m3`, `19lb/1000ft3`, `14.4%` or `36000ppm`.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number or no unit of concentration, the
/// number is not finite or not above zero, or a share of the volume exceeds the whole.
///
/// # Example
/// ```
/// use zeotrope::units::{InAir, parse_concentration};
/// assert_eq!(parse_concentration("36000ppm")?, InAir::Volume(0.036));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_concentration(text: &str) -> Result<InAir> {
    const QUANTITY: &str = "concentration";
    // Mcf: a thousand cubic feet, M as the Roman numeral.
    const SIZES: [Size; 8] = [
        ("kg/m3", 1.0),
        ("g/m3", 1e-3),
        ("mg/m3", 1e-6),
        ("lb/1000ft3", KG_PER_POUND / (1000.0 * M3_PER_CUBIC_FOOT)),
        ("lb/mcf", KG_PER_POUND / (1000.0 * M3_PER_CUBIC_FOOT)),
        ("lb/ft3", KG_PER_POUND / M3_PER_CUBIC_FOOT),
        ("%", 1e-2),
        ("ppm", 1e-6),
    ];
    let value = positive(QUANTITY, text, &SIZES, "0.307kg/m3, 14.4% or 36000ppm")?;
    let lower = text.trim().to_ascii_lowercase();
    if !lower.ends_with('%') && !lower.ends_with("ppm") {
        return Ok(InAir::Mass(value));
    }
    if value > 1.0 {
        return Err(wrong(
            QUANTITY,
            text,
            "is more than the whole volume",
            "a share by volume is at most 100% or 1000000ppm",
        ));
    }
    Ok(InAir::Volume(value))
}
