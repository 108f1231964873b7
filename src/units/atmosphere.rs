//! The air around a gauge: what "gauge" means at one place.

use super::{PASCAL_PER_INCH_OF_MERCURY, Pressure};
use crate::{Error, Result};

/// Where the figure for the air's pressure comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AtmosphereSource {
    /// Nothing was said, so the standard atmosphere at sea level is taken.
    SeaLevel,
    /// The standard atmosphere at an elevation, in metres above sea level.
    Elevation(f64),
    /// Read at the site on a barometer.
    Station,
}

/// The pressure of the air at a site, from which gauges count.
///
/// # Units
/// Pascal inside.
///
/// # Example
/// ```
/// use zeotrope::units::{Atmosphere, Pressure};
/// let site = Atmosphere::standard_at_elevation(1609.344)?; // 5280 ft
/// assert!((site.pressure().in_psia() - 12.100).abs() < 0.001);
/// let reading = site.from_gauge_pascal(500_000.0);
/// assert_eq!(site.gauge_pascal(reading), 500_000.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Atmosphere {
    pressure_pa: f64,
    source: AtmosphereSource,
}

impl Atmosphere {
    /// The standard atmosphere at sea level, 101 325 Pa.
    pub const SEA_LEVEL: Atmosphere = Atmosphere {
        pressure_pa: Pressure::ATMOSPHERE.in_pascal(),
        source: AtmosphereSource::SeaLevel,
    };

    /// The standard atmosphere at an elevation in metres.
    ///
    /// p(z) = 101325 (1 - 2.25577e-5 z)^5.2559 in Pa, z in m; ASHRAE Handbook Fundamentals,
    /// chapter 1.
    ///
    /// # Errors
    /// [`Error::Value`] below -500 m, above 11 000 m, or where `metres` is not finite:
    /// lower no one services a machine, higher the formula no longer holds.
    pub fn standard_at_elevation(metres: f64) -> Result<Self> {
        if !(-500.0..=11_000.0).contains(&metres) {
            return Err(Error::Value {
                quantity: "elevation",
                text: format!("{metres}m"),
                problem: "lies outside -500 m to 11000 m".into(),
                hint: "give an elevation from -500m to 11000m (-1640ft to 36089ft)".into(),
            });
        }
        Ok(Self {
            pressure_pa: Pressure::ATMOSPHERE.in_pascal()
                * (1.0 - 2.255_77e-5 * metres).powf(5.255_9),
            source: AtmosphereSource::Elevation(metres),
        })
    }

    /// The pressure read on a barometer at the site itself.
    ///
    /// A weather report's figure is reduced to sea level and is not meant.
    ///
    /// # Errors
    /// [`Error::Value`] outside 20 to 115 kPa, between which lies the air of every
    /// place from -500 m to 11 000 m in any weather.
    pub fn from_station_pressure(pressure: Pressure) -> Result<Self> {
        let pressure_pa = pressure.in_pascal();
        if !(20_000.0..=115_000.0).contains(&pressure_pa) {
            return Err(Error::Value {
                quantity: "station pressure",
                text: format!("{pressure_pa}Pa"),
                problem: "is not the pressure of the air at any place (20 to 115 kPa)".into(),
                hint: "give the absolute pressure read at the site, for example 24.6inHga".into(),
            });
        }
        Ok(Self {
            pressure_pa,
            source: AtmosphereSource::Station,
        })
    }

    /// The pressure of the air, absolute.
    pub const fn pressure(&self) -> Pressure {
        Pressure::pascal(self.pressure_pa)
    }

    /// Where the figure comes from.
    pub const fn source(&self) -> AtmosphereSource {
        self.source
    }

    /// What a gauge counting from this air shows, in pascal; negative in a vacuum.
    pub fn gauge_pascal(&self, pressure: Pressure) -> f64 {
        pressure.in_pascal() - self.pressure_pa
    }

    /// The absolute pressure behind a gauge reading in pascal.
    pub fn from_gauge_pascal(&self, gauge: f64) -> Pressure {
        Pressure::pascal(self.pressure_pa + gauge)
    }

    /// The vacuum below this air in conventional inches of mercury; negative above it.
    pub fn vacuum_inches_of_mercury(&self, pressure: Pressure) -> f64 {
        (self.pressure_pa - pressure.in_pascal()) / PASCAL_PER_INCH_OF_MERCURY
    }
}
