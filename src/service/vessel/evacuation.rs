//! Evacuation: where water boils and ice turns to vapor in a vacuum, and the shape of a rise.

use crate::service::reasons;
use serde::{Serialize, Serializer};

use crate::error::RangeUnit;
use crate::numeric::bracketed_root;
use crate::service::vessel::rise::{Hold, Resolution, Rise, Rising, rise};
use crate::units::{Atmosphere, Pressure, Temperature};
use crate::{Error, Refrigerant, Result};

/// Temperature of water's triple point; IAPWS R14-08(2011).
pub const TRIPLE_TEMPERATURE: Temperature = Temperature::kelvin(273.16);
/// Pressure of water's triple point; IAPWS R14-08(2011).
pub const TRIPLE_PRESSURE: Pressure = Pressure::pascal(611.657);

/// Lowest temperature of the equation for ice, K.
const COLDEST_ICE: f64 = 50.0;

/// Pressure at which ice turns to vapor.
///
/// ln(p/pt) = (1/theta) sum a_i theta^b_i, theta = T/Tt; IAPWS R14-08(2011), equation 6,
/// from 50 K to the triple point.
///
/// # Errors
/// [`Error::OutOfRange`] outside 50 to 273.16 K.
///
/// # Example
/// ```
/// use zeotrope::{service::vessel::evacuation::sublimation_pressure, units::Temperature};
/// // IAPWS R14-08(2011), Table 3: 8.947 35 Pa at 230 K.
/// let pressure = sublimation_pressure(Temperature::kelvin(230.0))?;
/// assert!((pressure.in_pascal() - 8.947_35).abs() < 5e-6);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn sublimation_pressure(temperature: Temperature) -> Result<Pressure> {
    const TERMS: [(f64, f64); 3] = [
        (-0.212_144_006e2, 0.333_333_333e-2),
        (0.273_203_819e2, 0.120_666_667e1),
        (-0.610_598_130e1, 0.170_333_333e1),
    ];
    let t = temperature.in_kelvin();
    let triple = TRIPLE_TEMPERATURE.in_kelvin();
    if !(COLDEST_ICE..=triple).contains(&t) {
        return Err(Error::OutOfRange {
            quantity: "temperature",
            value: t,
            low: COLDEST_ICE,
            high: triple,
            unit: RangeUnit::Kelvin,
            range: reasons::RANGE_ICE.into(),
        });
    }
    let theta = t / triple;
    let sum: f64 = TERMS.iter().map(|(a, b)| a * theta.powf(*b)).sum();
    Ok(Pressure::pascal(
        TRIPLE_PRESSURE.in_pascal() * (sum / theta).exp(),
    ))
}

/// What water at rest with its vapor is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Water {
    /// Liquid.
    Liquid,
    /// Ice.
    Ice,
}

impl Water {
    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Liquid => "liquid",
            Self::Ice => "ice",
        }
    }
}

/// The temperature at which water boils or ice turns to vapor at a pressure.
///
/// Water by its equation of state (R-718), ice by [`sublimation_pressure`].
///
/// # Errors
/// [`Error::OutOfRange`] above the critical pressure; [`Error::NoAnswer`] below the equation for
/// ice.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::vessel::evacuation::{Water, saturation_temperature};
/// use zeotrope::units::{Atmosphere, PressureUnit};
/// let water = Refrigerant::named("R-718")?;
/// let at = |micron| {
///     let vacuum = PressureUnit::Micron.write(micron, &Atmosphere::SEA_LEVEL);
///     saturation_temperature(&water, vacuum)
/// };
/// // Computed with a general-purpose open library, a cross-check: 79.0 °F and -12.1 °F.
/// assert!((at(25_400.0)?.0.in_fahrenheit() - 79.0).abs() < 0.05);
/// assert!((at(500.0)?.0.in_fahrenheit() - -12.1).abs() < 0.05);
/// assert_eq!(at(500.0)?.1, Water::Ice);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn saturation_temperature(
    water: &Refrigerant,
    pressure: Pressure,
) -> Result<(Temperature, Water)> {
    if pressure >= TRIPLE_PRESSURE {
        return Ok((water.dew_temperature(pressure)?, Water::Liquid));
    }
    // ln p against T bends little: the root in ln p is found in few steps.
    let wanted = pressure.in_pascal().ln();
    let coldest = sublimation_pressure(Temperature::kelvin(COLDEST_ICE))?;
    if pressure <= coldest || wanted.is_nan() {
        return Err(Error::NoAnswer {
            reason: reasons::VACUUM_BELOW_ICE.into(),
            hint: "give a vacuum that a pump reaches, for example 500micron".into(),
        });
    }
    let excess = |t: f64| {
        Ok(sublimation_pressure(Temperature::kelvin(t))?
            .in_pascal()
            .ln()
            - wanted)
    };
    let found = bracketed_root(excess, COLDEST_ICE, TRIPLE_TEMPERATURE.in_kelvin(), 1e-12)?;
    Ok((Temperature::kelvin(found), Water::Ice))
}

/// The pressure of water's vapor over water or ice at a temperature.
///
/// # Errors
/// [`Error::OutOfRange`] below 50 K or above water's critical temperature.
pub fn saturation_pressure(
    water: &Refrigerant,
    temperature: Temperature,
) -> Result<(Pressure, Water)> {
    if temperature >= TRIPLE_TEMPERATURE {
        return Ok((water.dew_pressure(temperature)?, Water::Liquid));
    }
    Ok((sublimation_pressure(temperature)?, Water::Ice))
}

/// What there is to hold against water and ice; at least one of the three.
#[derive(Debug, Clone, PartialEq)]
pub struct EvacuationQuestion {
    /// A vacuum, absolute.
    pub vacuum: Option<Pressure>,
    /// Temperature of the coldest part.
    pub temperature: Option<Temperature>,
    /// Readings of a rise test: time in s, pressure.
    pub rise: Option<Vec<(f64, Pressure)>>,
    /// What the gauge of the rise test resolves, where it was said.
    pub resolution: Option<Resolution>,
    /// The limit below which the rise test is to stay, and for how long in s.
    pub hold: Option<Hold>,
    /// The local atmosphere.
    pub site: Atmosphere,
}

/// A point at which water, or ice, and its vapor are at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct WaterPoint {
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure of the vapor.
    pub pressure: Pressure,
    /// Over liquid or ice.
    pub water: Water,
}

/// A vacuum, a temperature or a rise test against water and ice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evacuation {
    /// The vacuum, with the temperature at which water's vapor has that pressure.
    pub vacuum: Option<WaterPoint>,
    /// The temperature, with the pressure of water's vapor there.
    pub water: Option<WaterPoint>,
    /// The rise test.
    pub rise: Option<Rise>,
    /// The local atmosphere.
    pub site: Atmosphere,
}

/// Where the figures come from.
pub const SOURCE: &str = "water: equation of R-718 (Wagner & Pruss, J. Phys. Chem. Ref. Data 31 \
                          (2002) 387); ice: IAPWS R14-08(2011)";

impl Evacuation {
    /// Holds what is asked against water and ice.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] for a vacuum that is not below local atmospheric pressure; else those of
    /// [`saturation_temperature`], [`saturation_pressure`] and [`rise`].
    pub fn new(water: &Refrigerant, asked: &EvacuationQuestion) -> Result<Self> {
        if asked.vacuum.is_some_and(|one| one >= asked.site.pressure()) {
            return Err(Error::NoAnswer {
                reason: reasons::VACUUM_NONE.into(),
                hint: "for a pressure above it ask for a pressure test".into(),
            });
        }
        let vacuum = asked.vacuum.map(|pressure| {
            let (temperature, water) = saturation_temperature(water, pressure)?;
            Ok(WaterPoint {
                temperature,
                pressure,
                water,
            })
        });
        let there = asked.temperature.map(|temperature| {
            let (pressure, water) = saturation_pressure(water, temperature)?;
            Ok(WaterPoint {
                temperature,
                pressure,
                water,
            })
        });
        let there = there.transpose()?;
        let saturation = there.map(|point| point.pressure);
        let found = asked
            .rise
            .as_deref()
            .map(|one| rise(one, saturation, asked.resolution, asked.hold));
        Ok(Self {
            vacuum: vacuum.transpose()?,
            water: there,
            rise: found.transpose()?,
            site: asked.site,
        })
    }

    /// The vacuum over the pressure of water's vapor, where both are known.
    pub fn over_saturation(&self) -> Option<f64> {
        let (vacuum, water) = self.vacuum.zip(self.water)?;
        Some(vacuum.pressure.in_pascal() / water.pressure.in_pascal())
    }
}

impl Serialize for Evacuation {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Vacuum {
            pressure_Pa: Pressure,
            water_saturation_temperature_K: Temperature,
            water: &'static str,
        }
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct There {
            temperature_K: Temperature,
            water_saturation_pressure_Pa: Pressure,
            vacuum_over_saturation: Option<f64>,
        }
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys {
            #[serde(flatten)]
            vacuum: Option<Vacuum>,
            #[serde(flatten)]
            there: Option<There>,
            #[serde(flatten)]
            rise: Option<Rising>,
            atmosphere_Pa: Pressure,
            source: &'static str,
        }
        Keys {
            vacuum: self.vacuum.map(|point| Vacuum {
                pressure_Pa: point.pressure,
                water_saturation_temperature_K: point.temperature,
                water: point.water.name(),
            }),
            there: self.water.map(|point| There {
                temperature_K: point.temperature,
                water_saturation_pressure_Pa: point.pressure,
                vacuum_over_saturation: self.over_saturation(),
            }),
            rise: self.rise.as_ref().map(Rising::from),
            atmosphere_Pa: self.site.pressure(),
            source: SOURCE,
        }
        .serialize(serializer)
    }
}
