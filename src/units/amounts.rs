//! Amounts other than pressures and temperatures, in every unit of their kind.

use super::PressureUnit;
use super::parsing::{parse_elevation, parse_pressure_difference, parse_temperature, split, wrong};
use super::parsing_amounts::{KG_PER_POUND, M3_PER_CUBIC_FOOT, WATT_PER_BTU_PER_HOUR};
use crate::Result;

/// What kind of amount it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum AmountKind {
    /// A capacity or another heat flow.
    HeatFlow,
    /// A flow by volume.
    VolumeFlow,
    /// A flow by mass.
    MassFlow,
    /// A mass.
    Mass,
    /// A volume.
    Volume,
    /// A length.
    Length,
    /// A velocity.
    Velocity,
}

/// A unit of an amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AmountUnit {
    /// What it measures.
    pub kind: AmountKind,
    /// As typed and as written.
    pub name: &'static str,
    /// One of it in SI.
    pub si: f64,
}

/// An amount with the unit in which it was given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// In SI.
    pub si: f64,
    /// As given.
    pub unit: AmountUnit,
}

impl AmountKind {
    /// Every kind.
    pub const ALL: &'static [Self] = &[
        Self::HeatFlow,
        Self::VolumeFlow,
        Self::MassFlow,
        Self::Mass,
        Self::Volume,
        Self::Length,
        Self::Velocity,
    ];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::HeatFlow => "heat flow",
            Self::VolumeFlow => "volume flow",
            Self::MassFlow => "mass flow",
            Self::Mass => "mass",
            Self::Volume => "volume",
            Self::Length => "length",
            Self::Velocity => "velocity",
        }
    }

    /// The key under which programs read it, in SI.
    pub const fn key(self) -> &'static str {
        match self {
            Self::HeatFlow => "heat_flow_W",
            Self::VolumeFlow => "volume_flow_m3_s",
            Self::MassFlow => "mass_flow_kg_s",
            Self::Mass => "mass_kg",
            Self::Volume => "volume_m3",
            Self::Length => "length_m",
            Self::Velocity => "velocity_m_s",
        }
    }

    /// Its units: the name, one of it in SI.
    const fn sizes(self) -> &'static [(&'static str, f64)] {
        const FOOT: f64 = 0.3048;
        match self {
            // A ton of refrigeration is 12 000 Btu/h by definition; MBH is a thousand Btu/h.
            Self::HeatFlow => &[
                ("W", 1.0),
                ("kW", 1e3),
                ("Btu/h", WATT_PER_BTU_PER_HOUR),
                ("MBH", 1e3 * WATT_PER_BTU_PER_HOUR),
                ("ton", 12e3 * WATT_PER_BTU_PER_HOUR),
                ("kcal/h", 4186.8 / 3600.0),
            ],
            Self::VolumeFlow => &[
                ("m3/s", 1.0),
                ("m3/h", 1.0 / 3600.0),
                ("L/s", 1e-3),
                ("L/min", 1e-3 / 60.0),
                ("cfm", M3_PER_CUBIC_FOOT / 60.0),
            ],
            Self::MassFlow => &[
                ("kg/s", 1.0),
                ("kg/h", 1.0 / 3600.0),
                ("g/s", 1e-3),
                ("lb/h", KG_PER_POUND / 3600.0),
                ("lb/min", KG_PER_POUND / 60.0),
            ],
            Self::Mass => &[
                ("kg", 1.0),
                ("g", 1e-3),
                ("lb", KG_PER_POUND),
                ("oz", KG_PER_POUND / 16.0),
            ],
            // A gallon is that of the United States, 231 cubic inches.
            Self::Volume => &[
                ("m3", 1.0),
                ("L", 1e-3),
                ("ft3", M3_PER_CUBIC_FOOT),
                ("in3", M3_PER_CUBIC_FOOT / 1728.0),
                ("gal", 231.0 * M3_PER_CUBIC_FOOT / 1728.0),
            ],
            Self::Length => &[
                ("m", 1.0),
                ("mm", 1e-3),
                ("cm", 1e-2),
                ("ft", FOOT),
                ("in", FOOT / 12.0),
            ],
            Self::Velocity => &[("m/s", 1.0), ("ft/s", FOOT), ("ft/min", FOOT / 60.0)],
        }
    }

    /// Its units.
    pub fn units(self) -> impl Iterator<Item = AmountUnit> {
        let unit = move |&(name, si): &(&'static str, f64)| AmountUnit {
            kind: self,
            name,
            si,
        };
        self.sizes().iter().map(unit)
    }
}

impl AmountUnit {
    /// A unit by its name as typed; some have a second one.
    pub fn named(text: &str) -> Option<Self> {
        let text = text.trim();
        let lower = text.to_ascii_lowercase();
        let name = match lower.as_str() {
            "tons" => "ton",
            "btuh" | "btu/hr" => "Btu/h",
            "fpm" => "ft/min",
            "ft3/min" => "cfm",
            "lbs" => "lb",
            "feet" | "foot" | "'" => "ft",
            "inch" | "inches" => "in",
            _ => text,
        };
        let mut units = AmountKind::ALL.iter().copied().flat_map(AmountKind::units);
        units.find(|unit| unit.name.eq_ignore_ascii_case(name))
    }
}

/// Reads an amount such as `3tons`, `400cfm`, `0.75in` or `12lb`.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number or no unit of an amount.
///
/// # Example
/// ```
/// use zeotrope::units::{AmountKind, amount};
/// let tons = amount("3tons")?;
/// // 36 000 Btu/h by definition; 1 Btu/h is 0.293071 W
/// assert!((tons.si - 36_000.0 * 0.293_071).abs() < 0.1);
/// assert_eq!(tons.unit.kind, AmountKind::HeatFlow);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn amount(text: &str) -> Result<Amount> {
    const QUANTITY: &str = "amount";
    let (number, unit) = split(QUANTITY, text, "3tons, 400cfm or 12lb")?;
    let found = AmountUnit::named(&unit).ok_or_else(|| {
        wrong(
            QUANTITY,
            text,
            format!("'{unit}' is not a unit of an amount"),
            "write for example 3tons, 10kW, 400cfm, 12lb or 0.75in",
        )
    })?;
    Ok(Amount {
        si: number * found.si,
        unit: found,
    })
}

/// Reads a length above zero such as `20ft`, `0.75in` or `1 1/8in`, in m.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where it is none.
///
/// # Example
/// ```
/// use zeotrope::units::parse_length;
/// // 25.4 mm by definition
/// assert!((parse_length("1-1/8in")? - 1.125 * 0.0254).abs() < 1e-15);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_length(text: &str) -> Result<f64> {
    const QUANTITY: &str = "length";
    let decimal = without_fraction(text);
    let found = amount(decimal.as_deref().unwrap_or(text))
        .ok()
        .filter(|found| found.unit.kind == AmountKind::Length);
    match found {
        Some(found) if found.si > 0.0 => Ok(found.si),
        Some(_) => Err(wrong(
            QUANTITY,
            text,
            "is not above zero",
            "a length is a positive number",
        )),
        None => Err(wrong(
            QUANTITY,
            text,
            "is not a length",
            "write for example 20ft, 0.75in, 7/8in, 6m or 22mm",
        )),
    }
}

/// A vulgar fraction, as sizes of pipe have them, as a decimal: `7/8in`, `1 1/8in`, `1-1/8in`.
fn without_fraction(text: &str) -> Option<String> {
    let text = text.trim();
    let (number, unit) =
        text.split_at(text.find(|sign: char| sign.is_alphabetic() || sign == '"')?);
    let (before, denominator) = number.trim().split_once('/')?;
    let (whole, numerator) = match before.rsplit_once([' ', '-']) {
        Some((whole, numerator)) => (whole.trim().parse::<u32>().ok()?, numerator),
        None => (0, before),
    };
    let [numerator, denominator] = [numerator, denominator].map(|part| part.trim().parse::<u32>());
    let (numerator, denominator) = (numerator.ok()?, denominator.ok()?);
    let is_part = numerator < denominator;
    is_part.then(|| {
        let share = f64::from(numerator) / f64::from(denominator);
        format!("{}{unit}", f64::from(whole) + share)
    })
}

/// Whether a word is a unit and nothing else.
///
/// # Example
/// ```
/// use zeotrope::units::is_unit_word;
/// assert!(is_unit_word("psig") && !is_unit_word("5psig"));
/// ```
pub fn is_unit_word(text: &str) -> bool {
    parse_temperature(&format!("300{text}")).is_ok()
        || PressureUnit::named(text).is_ok()
        || parse_pressure_difference(&format!("1{text}")).is_ok()
        || parse_elevation(&format!("1{text}")).is_ok()
        || amount(&format!("1{text}")).is_ok()
        || matches!(text, "%" | "psi" | "bar")
}
