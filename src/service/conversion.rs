//! Pressures, temperatures and other amounts in other units, at a site.

use crate::service::reasons;
use std::collections::BTreeMap;

use serde::{Serialize, Serializer};

use crate::error::{Error, Result};
use crate::units::{
    Amount, AmountUnit, Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureUnit,
    Typed, amount, is_pressure_like, parse_pressure, parse_temperature,
};

/// What is converted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ConvertedQuantity {
    /// A temperature with the unit in which it was given.
    Temperature(Typed<Temperature, TemperatureUnit>),
    /// A pressure with the unit in which it was given.
    Pressure(Typed<Pressure, PressureUnit>),
    /// Another amount with the unit in which it was given.
    Amount(Amount),
}

impl ConvertedQuantity {
    /// Reads a temperature, a pressure or another amount with its unit.
    ///
    /// # Errors
    /// [`Error::Value`] where it has no unit or is none of them.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::conversion::ConvertedQuantity;
    /// use zeotrope::units::Atmosphere;
    /// let found = ConvertedQuantity::parse("70psig", &Atmosphere::SEA_LEVEL)?;
    /// assert!(matches!(found, ConvertedQuantity::Pressure(_)));
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(text: &str, site: &Atmosphere) -> Result<Self> {
        let temperature = match parse_temperature(text) {
            Ok(typed) => return Ok(Self::Temperature(typed)),
            Err(error) => error,
        };
        let pressure = match parse_pressure(text, BareUnit::Refused, site) {
            Ok(typed) => return Ok(Self::Pressure(typed)),
            Err(error) => error,
        };
        if let Ok(found) = amount(text) {
            return Ok(Self::Amount(found));
        }
        let shown = text.trim().replace('\u{2212}', "-");
        if shown.ends_with(|last: char| last.is_ascii_digit()) {
            return Err(Error::Value {
                quantity: "value",
                problem: "has no unit".into(),
                hint: format!(
                    "write the unit after the number, for example {shown}C, {shown}F, {shown}psig or \
                     {shown}bara"
                ),
                text: shown,
            });
        }
        Err(match is_pressure_like(text) {
            true => pressure,
            false => temperature,
        })
    }
}

/// A unit of any kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unit {
    /// Of temperature.
    Temperature(TemperatureUnit),
    /// Of pressure.
    Pressure(PressureUnit),
    /// Of another amount.
    Amount(AmountUnit),
}

impl Unit {
    /// The unit of a name to which a quantity can be converted.
    ///
    /// # Errors
    /// [`Error::Value`] where there is none, or it belongs to another kind of quantity.
    pub fn named(name: &str, quantity: &ConvertedQuantity) -> Result<Self> {
        let wrong = |problem: String, hint: String| Error::Value {
            quantity: "unit",
            text: name.to_owned(),
            problem,
            hint,
        };
        let temperature = TemperatureUnit::named(name);
        let pressure = PressureUnit::named(name);
        let (own, is_other, kind) = match quantity {
            ConvertedQuantity::Amount(amount) => {
                let kind = amount.unit.kind;
                let found = AmountUnit::named(name).filter(|unit| unit.kind == kind);
                return found.map(Unit::Amount).ok_or_else(|| {
                    let names: Vec<&str> = kind.units().map(|unit| unit.name).collect();
                    let hint = format!("use one of {}", names.join(" "));
                    wrong(format!("is not a unit of {}", kind.name()), hint)
                });
            }
            ConvertedQuantity::Temperature(_) => (
                temperature.map(Unit::Temperature),
                pressure.is_ok(),
                "temperature",
            ),
            ConvertedQuantity::Pressure(_) => (
                pressure.map(Unit::Pressure),
                temperature.is_ok(),
                "pressure",
            ),
        };
        own.map_err(|error| match error.hint() {
            Some(hint) if is_other => wrong(format!("is none: a {kind} has no such unit"), hint),
            _ => error,
        })
    }

    /// The unit as it is typed behind a number.
    pub const fn typed(self) -> &'static str {
        match self {
            Self::Temperature(unit) => unit.typed(),
            Self::Pressure(unit) => unit.typed(),
            Self::Amount(unit) => unit.name,
        }
    }

    const fn is_gauge(self) -> bool {
        matches!(self, Self::Pressure(unit) if unit.is_gauge())
    }
}

/// One value in one unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Converted {
    /// The value as it was written.
    pub written: String,
    /// What that is.
    pub quantity: ConvertedQuantity,
    /// The unit that it is converted to.
    pub unit: Unit,
    /// The figure in that unit.
    pub value: f64,
}

/// Values in other units.
#[derive(Debug, Clone, PartialEq)]
pub struct Conversion {
    /// Each value in each unit.
    pub values: Vec<Converted>,
    /// The air that gauges read against.
    pub atmosphere: Atmosphere,
}

impl Conversion {
    /// Whether a gauge pressure or a vacuum is among the units.
    pub fn has_gauge(&self) -> bool {
        self.values.iter().any(|one| {
            let given = match one.quantity {
                ConvertedQuantity::Temperature(typed) => Unit::Temperature(typed.unit),
                ConvertedQuantity::Pressure(typed) => Unit::Pressure(typed.unit),
                ConvertedQuantity::Amount(amount) => Unit::Amount(amount.unit),
            };
            one.unit.is_gauge() || given.is_gauge()
        })
    }
}

/// Converts values, each as written and as read, to a unit, or to every other unit of its kind.
///
/// # Errors
/// [`Error::Value`] for a unit of the other kind; [`Error::NoAnswer`] for a vacuum where the
/// pressure is above that of the air.
///
/// # Example
/// ```
/// use zeotrope::service::conversion::{ConvertedQuantity, Unit, convert};
/// use zeotrope::units::{Atmosphere, TemperatureUnit, parse_temperature};
/// let value = ("-40C".to_owned(), ConvertedQuantity::Temperature(parse_temperature("-40C")?));
/// let unit = Unit::Temperature(TemperatureUnit::Fahrenheit);
/// let found = convert(vec![value], Some(unit), Atmosphere::SEA_LEVEL)?;
/// // both scales meet at -40 by definition
/// assert!((found.values[0].value + 40.0).abs() < 1e-9);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn convert(
    given: Vec<(String, ConvertedQuantity)>,
    to: Option<Unit>,
    atmosphere: Atmosphere,
) -> Result<Conversion> {
    let mut values = Vec::new();
    for (written, quantity) in given {
        let units = match to {
            Some(unit) => vec![unit],
            None => others(&quantity, &atmosphere),
        };
        for unit in units {
            values.push(Converted {
                value: read(&quantity, unit, &atmosphere)?,
                written: written.clone(),
                quantity,
                unit,
            });
        }
    }
    Ok(Conversion { values, atmosphere })
}

/// Every unit of the kind but the one in which the value was given.
fn others(quantity: &ConvertedQuantity, atmosphere: &Atmosphere) -> Vec<Unit> {
    match quantity {
        ConvertedQuantity::Temperature(typed) => [
            TemperatureUnit::Celsius,
            TemperatureUnit::Fahrenheit,
            TemperatureUnit::Kelvin,
        ]
        .into_iter()
        .filter(|unit| *unit != typed.unit)
        .map(Unit::Temperature)
        .collect(),
        // Above local atmospheric pressure there is no vacuum.
        ConvertedQuantity::Pressure(typed) => PressureUnit::ALL
            .iter()
            .copied()
            .filter(|unit| *unit != typed.unit)
            .filter(|unit| {
                *unit != PressureUnit::InchesOfMercuryVacuum || typed.value <= atmosphere.pressure()
            })
            .map(Unit::Pressure)
            .collect(),
        ConvertedQuantity::Amount(amount) => {
            let units = amount.unit.kind.units();
            let others = units.filter(|unit| unit.name != amount.unit.name);
            others.map(Unit::Amount).collect()
        }
    }
}

fn read(quantity: &ConvertedQuantity, unit: Unit, atmosphere: &Atmosphere) -> Result<f64> {
    let other_kind = |quantity| Error::Value {
        quantity: "unit",
        text: unit.typed().into(),
        problem: format!("a {quantity} has no such unit"),
        hint: format!("name a unit of {quantity}"),
    };
    match (quantity, unit) {
        (ConvertedQuantity::Temperature(typed), Unit::Temperature(unit)) => {
            Ok(unit.read(typed.value))
        }
        (ConvertedQuantity::Pressure(typed), Unit::Pressure(unit)) => {
            let value = unit.read(typed.value, atmosphere);
            // Rounding in the sum may leave a trace below zero.
            if unit == PressureUnit::InchesOfMercuryVacuum && value < -1e-9 {
                return Err(Error::NoAnswer {
                    reason: reasons::VACUUM_ABOVE.into(),
                    hint: "convert it to psig, psia, barg or bara".into(),
                });
            }
            Ok(value)
        }
        (ConvertedQuantity::Amount(amount), Unit::Amount(unit))
            if unit.kind == amount.unit.kind =>
        {
            Ok(amount.si / unit.si)
        }
        (ConvertedQuantity::Amount(amount), _) => Err(other_kind(amount.unit.kind.name())),
        (ConvertedQuantity::Temperature(_), _) => Err(other_kind("temperature")),
        (ConvertedQuantity::Pressure(_), _) => Err(other_kind("pressure")),
    }
}

impl Serialize for Converted {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            value: &'a str,
            #[serde(rename = "temperature_K", skip_serializing_if = "Option::is_none")]
            temperature: Option<Temperature>,
            #[serde(rename = "pressure_Pa", skip_serializing_if = "Option::is_none")]
            pressure: Option<Pressure>,
            #[serde(flatten)]
            amount: BTreeMap<&'static str, f64>,
            to: &'static str,
            result: f64,
        }
        let (temperature, pressure, amount) = match self.quantity {
            ConvertedQuantity::Temperature(typed) => (Some(typed.value), None, None),
            ConvertedQuantity::Pressure(typed) => (None, Some(typed.value), None),
            ConvertedQuantity::Amount(amount) => {
                (None, None, Some((amount.unit.kind.key(), amount.si)))
            }
        };
        Keys {
            value: &self.written,
            temperature,
            pressure,
            amount: amount.into_iter().collect(),
            to: self.unit.typed(),
            result: self.value,
        }
        .serialize(serializer)
    }
}

impl Serialize for Conversion {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        // One value stands by itself, several in a list.
        #[derive(Serialize)]
        #[serde(untagged)]
        enum Values<'a> {
            One(&'a Converted),
            Several(&'a [Converted]),
        }
        #[derive(Serialize)]
        struct Keys<'a> {
            conversion: Values<'a>,
            #[serde(rename = "atmosphere_Pa")]
            atmosphere: Pressure,
        }
        Keys {
            conversion: match self.values.as_slice() {
                [one] => Values::One(one),
                several => Values::Several(several),
            },
            atmosphere: self.atmosphere.pressure(),
        }
        .serialize(serializer)
    }
}
