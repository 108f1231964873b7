//! Quantities and units as text and back, by the traits that `format!` and `parse` use.

use std::fmt;
use std::str::FromStr;

use super::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureDifference,
    TemperatureUnit, parse_pressure, parse_temperature, parse_temperature_difference,
};
use crate::{Error, Result};

/// In kelvin, to the shortest text that reads back to the same number: `278.15 K`.
///
/// # Example
/// ```
/// use zeotrope::units::Temperature;
/// let t: Temperature = "41F".parse()?;
/// assert!((t.in_kelvin() - 278.15).abs() < 1e-9);
/// assert_eq!(Temperature::kelvin(278.15).to_string(), "278.15 K");
/// # Ok::<(), zeotrope::Error>(())
/// ```
impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} K", self.in_kelvin())
    }
}

/// As [`parse_temperature`].
impl FromStr for Temperature {
    type Err = Error;
    fn from_str(text: &str) -> Result<Self> {
        Ok(parse_temperature(text)?.value)
    }
}

/// In kelvin: `4.5 K`.
impl fmt::Display for TemperatureDifference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} K", self.in_kelvin())
    }
}

/// As [`parse_temperature_difference`].
impl FromStr for TemperatureDifference {
    type Err = Error;
    fn from_str(text: &str) -> Result<Self> {
        Ok(parse_temperature_difference(text)?.value)
    }
}

/// In pascal, absolute: `681000 Pa`.
///
/// # Example
/// ```
/// use zeotrope::units::Pressure;
/// let p: Pressure = "6.81bara".parse()?;
/// assert_eq!(p.to_string(), "681000 Pa");
/// // a gauge's reading says no pressure without its atmosphere
/// assert!("70psig".parse::<Pressure>().is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
impl fmt::Display for Pressure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} Pa", self.in_pascal())
    }
}

/// Reads an absolute pressure with its unit, as [`parse_pressure`]; `kPa` and `MPa` alone are
/// absolute, and a gauge's reading is refused: it is a [`GaugePressure`].
impl FromStr for Pressure {
    type Err = Error;
    fn from_str(text: &str) -> Result<Self> {
        let typed = parse_pressure(text, BareUnit::Absolute, &Atmosphere::SEA_LEVEL)?;
        if typed.unit.is_gauge() {
            return Err(super::parsing::wrong(
                "pressure",
                text,
                "is relative to an atmosphere that is not known here",
                "read it as a gauge pressure and give its atmosphere, or write psia, bara or kPaa",
            ));
        }
        Ok(typed.value)
    }
}

/// A gauge's reading, which becomes a pressure with its atmosphere.
///
/// # Example
/// ```
/// use zeotrope::units::{Atmosphere, GaugePressure};
/// let reading: GaugePressure = "70psig".parse()?;
/// assert!((reading.absolute(&Atmosphere::SEA_LEVEL)?.in_psia() - 84.696).abs() < 1e-3);
/// assert_eq!(reading.to_string(), "70 psig");
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugePressure {
    number: f64,
    unit: PressureUnit,
}

impl GaugePressure {
    /// The absolute pressure at a site.
    ///
    /// # Errors
    /// [`Error::Value`] where it would lie below a perfect vacuum there.
    pub fn absolute(&self, site: &Atmosphere) -> Result<Pressure> {
        super::parsing::pressure_of(self.number, self.unit, site, &self.to_string())
    }
}

impl fmt::Display for GaugePressure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number, self.unit)
    }
}

/// Reads a gauge's reading or a vacuum below the site's air, such as `70psig` or `12.4inHgvac`.
impl FromStr for GaugePressure {
    type Err = Error;
    fn from_str(text: &str) -> Result<Self> {
        let typed = parse_pressure(text, BareUnit::Refused, &Atmosphere::SEA_LEVEL)?;
        if !typed.unit.is_gauge() {
            return Err(super::parsing::wrong(
                "gauge pressure",
                text,
                "is absolute",
                "write psig, barg, kPag, MPag or inHgvac",
            ));
        }
        let (number, _) = super::parsing::split("pressure", text, "70psig")?;
        Ok(Self {
            number,
            unit: typed.unit,
        })
    }
}

/// The sign people read, for example `°C`.
impl fmt::Display for TemperatureUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// As [`TemperatureUnit::named`].
impl FromStr for TemperatureUnit {
    type Err = Error;
    fn from_str(text: &str) -> Result<Self> {
        Self::named(text)
    }
}

/// As typed, for example `psig`.
impl fmt::Display for PressureUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.typed())
    }
}

/// As [`PressureUnit::named`].
impl FromStr for PressureUnit {
    type Err = Error;
    fn from_str(text: &str) -> Result<Self> {
        Self::named(text)
    }
}
