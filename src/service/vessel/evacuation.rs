//! Evacuation: where water boils and ice turns to vapor in a vacuum, and the shape of a rise.

use serde::{Serialize, Serializer};

use crate::error::RangeUnit;
use crate::numeric::bracketed_root;
use crate::service::reading::log::Statistics;
use crate::units::{Atmosphere, Pressure, Temperature};
use crate::{Error, Refrigerant, Result};

/// Triple point of water: K and Pa; IAPWS R14-08(2011).
pub const TRIPLE_POINT: (Temperature, Pressure) =
    (Temperature::kelvin(273.16), Pressure::pascal(611.657));

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
    let triple = TRIPLE_POINT.0.in_kelvin();
    if !(COLDEST_ICE..=triple).contains(&t) {
        return Err(Error::OutOfRange {
            quantity: "temperature",
            value: t,
            low: COLDEST_ICE,
            high: triple,
            unit: RangeUnit::Kelvin,
            range: "sublimation line of ice".into(),
        });
    }
    let theta = t / triple;
    let sum: f64 = TERMS.iter().map(|(a, b)| a * theta.powf(*b)).sum();
    Ok(Pressure::pascal(
        TRIPLE_POINT.1.in_pascal() * (sum / theta).exp(),
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
    if pressure >= TRIPLE_POINT.1 {
        return Ok((water.dew_temperature(pressure)?, Water::Liquid));
    }
    // ln p against T bends little: the root in ln p is found in few steps.
    let wanted = pressure.in_pascal().ln();
    let coldest = sublimation_pressure(Temperature::kelvin(COLDEST_ICE))?;
    if pressure <= coldest || wanted.is_nan() {
        return Err(Error::NoAnswer {
            reason: "this vacuum is deeper than the equation for ice goes (50 K)".into(),
            hint: "give a vacuum that a pump reaches, for example 500micron".into(),
        });
    }
    let excess = |t: f64| {
        Ok(sublimation_pressure(Temperature::kelvin(t))?
            .in_pascal()
            .ln()
            - wanted)
    };
    let found = bracketed_root(excess, COLDEST_ICE, TRIPLE_POINT.0.in_kelvin(), 1e-12)?;
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
    if temperature >= TRIPLE_POINT.0 {
        return Ok((water.dew_pressure(temperature)?, Water::Liquid));
    }
    Ok((sublimation_pressure(temperature)?, Water::Ice))
}

/// The shape of a rise after the pump is shut off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// As steep at the end as at the beginning.
    Straight,
    /// Levels off near the saturation of water.
    LevelsAtWater,
    /// Levels off elsewhere, or nothing is known to compare with.
    Levels,
    /// Neither.
    Between,
    /// No rise.
    None,
}

impl Shape {
    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Straight => "straight",
            Self::LevelsAtWater => "levels_at_water",
            Self::Levels => "levels",
            Self::Between => "between",
            Self::None => "none",
        }
    }
}

/// A rise test in figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rise {
    /// Pressure at the first and the last reading.
    pub ends: (Pressure, Pressure),
    /// Time from the first to the last reading, s.
    pub duration: f64,
    /// Rise over the first and over the last third of the time, Pa/s.
    pub slopes: (f64, f64),
    /// Last pressure over the saturation of water, where that is known.
    pub share_of_water: Option<f64>,
    /// The shape.
    pub shape: Shape,
}

/// Fewest readings of a rise test.
const FEWEST: usize = 6;

/// Describes a rise test: readings of time in s and pressure, from when the pump was shut off, and
/// the pressure of water's vapor at the temperature of the coldest part where that is known.
///
/// The slopes are fitted by least squares over the first and the last third of the time. A last
/// slope above 0.7 of the first is called straight, one below 0.3 levelling off; 0.7 to 1.1 of
/// water's saturation is called near it. These bounds are this program's own.
///
/// # Errors
/// [`Error::NoAnswer`] with fewer than 6 readings, fewer than 2 in the first or last third, times
/// that do not rise, or a pressure that is not above zero.
///
/// # Example
/// ```
/// use zeotrope::service::vessel::evacuation::{Shape, rise};
/// use zeotrope::units::Pressure;
/// let steady: Vec<_> = (0..10)
///     .map(|minute| (60.0 * f64::from(minute), Pressure::pascal(50.0 + f64::from(minute))))
///     .collect();
/// let found = rise(&steady, None)?;
/// assert_eq!(found.shape, Shape::Straight);
/// assert!((found.slopes.0 - 1.0 / 60.0).abs() < 1e-12);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn rise(readings: &[(f64, Pressure)], water: Option<Pressure>) -> Result<Rise> {
    let wrong = |reason: &str, hint: &str| Error::NoAnswer {
        reason: reason.into(),
        hint: hint.into(),
    };
    let (&[first, ..], &[.., last]) = (readings, readings) else {
        return Err(wrong(
            "a rise test needs readings",
            "give at least 6 readings",
        ));
    };
    if readings.len() < FEWEST {
        return Err(wrong(
            "a rise test of fewer than 6 readings has no shape",
            "give at least 6 readings",
        ));
    }
    if !readings.windows(2).all(|pair| pair[0].0 < pair[1].0) {
        return Err(wrong(
            "the times of the rise test do not rise",
            "give the readings in order of time, each time once",
        ));
    }
    if readings
        .iter()
        .any(|(_, pressure)| pressure.in_pascal() <= 0.0)
    {
        return Err(wrong(
            "a pressure of the rise test is not above zero",
            "a vacuum gauge shows the absolute pressure, which is positive",
        ));
    }
    let duration = last.0 - first.0;
    let third = |from: f64, to: f64| -> Result<f64> {
        let mut inside = Statistics::default();
        for (time, pressure) in readings {
            let time = time - first.0;
            if time >= from * duration && time <= to * duration {
                inside.add(time, pressure.in_pascal());
            }
        }
        inside.trend().ok_or_else(|| {
            wrong(
                "the first or the last third of the rise test has fewer than 2 readings",
                "read at even intervals",
            )
        })
    };
    let slopes = (third(0.0, 1.0 / 3.0)?, third(2.0 / 3.0, 1.0)?);
    let share_of_water = water.map(|water| last.1.in_pascal() / water.in_pascal());
    let near_water = share_of_water.is_some_and(|share| (0.7..=1.1).contains(&share));
    let shape = if last.1 <= first.1 || slopes.0 <= 0.0 {
        match last.1 > first.1 {
            true => Shape::Between,
            false => Shape::None,
        }
    } else if slopes.1 > 0.7 * slopes.0 {
        Shape::Straight
    } else if slopes.1 >= 0.3 * slopes.0 {
        Shape::Between
    } else if near_water {
        Shape::LevelsAtWater
    } else {
        Shape::Levels
    };
    Ok(Rise {
        ends: (first.1, last.1),
        duration,
        slopes,
        share_of_water,
        shape,
    })
}

/// What there is to hold against water and ice; at least one of the three.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// A vacuum, absolute.
    pub vacuum: Option<Pressure>,
    /// Temperature of the coldest part.
    pub temperature: Option<Temperature>,
    /// Readings of a rise test: time in s, pressure.
    pub rise: Option<Vec<(f64, Pressure)>>,
    /// The local atmosphere.
    pub site: Atmosphere,
}

/// A vacuum, a temperature or a rise test against water and ice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evacuation {
    /// The vacuum, the temperature at which water's vapor has that pressure, over liquid or ice.
    pub vacuum: Option<(Pressure, Temperature, Water)>,
    /// The temperature, the pressure of water's vapor there, over liquid or ice.
    pub water: Option<(Temperature, Pressure, Water)>,
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
    pub fn new(water: &Refrigerant, asked: &Question) -> Result<Self> {
        if asked.vacuum.is_some_and(|one| one >= asked.site.pressure()) {
            return Err(Error::NoAnswer {
                reason: "this pressure is not below local atmospheric pressure: it is not a vacuum"
                    .into(),
                hint: "for a pressure above it ask for a pressure test".into(),
            });
        }
        let vacuum = asked.vacuum.map(|pressure| {
            let (temperature, phase) = saturation_temperature(water, pressure)?;
            Ok((pressure, temperature, phase))
        });
        let there = asked.temperature.map(|temperature| {
            let (pressure, phase) = saturation_pressure(water, temperature)?;
            Ok((temperature, pressure, phase))
        });
        let there = there.transpose()?;
        let saturation = there.map(|(_, pressure, _)| pressure);
        let found = asked.rise.as_deref().map(|one| rise(one, saturation));
        Ok(Self {
            vacuum: vacuum.transpose()?,
            water: there,
            rise: found.transpose()?,
            site: asked.site,
        })
    }

    /// The vacuum over the pressure of water's vapor, where both are known.
    pub fn over_saturation(&self) -> Option<f64> {
        let ((vacuum, ..), (_, water, _)) = self.vacuum.zip(self.water)?;
        Some(vacuum.in_pascal() / water.in_pascal())
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
        struct Rising {
            first_pressure_Pa: Pressure,
            last_pressure_Pa: Pressure,
            duration_s: f64,
            first_slope_Pa_s: f64,
            last_slope_Pa_s: f64,
            last_over_saturation: Option<f64>,
            shape: &'static str,
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
            vacuum: self.vacuum.map(|(pressure, temperature, water)| Vacuum {
                pressure_Pa: pressure,
                water_saturation_temperature_K: temperature,
                water: water.name(),
            }),
            there: self.water.map(|(temperature, pressure, _)| There {
                temperature_K: temperature,
                water_saturation_pressure_Pa: pressure,
                vacuum_over_saturation: self.over_saturation(),
            }),
            rise: self.rise.map(|rise| Rising {
                first_pressure_Pa: rise.ends.0,
                last_pressure_Pa: rise.ends.1,
                duration_s: rise.duration,
                first_slope_Pa_s: rise.slopes.0,
                last_slope_Pa_s: rise.slopes.1,
                last_over_saturation: rise.share_of_water,
                shape: rise.shape.name(),
            }),
            atmosphere_Pa: self.site.pressure(),
            source: SOURCE,
        }
        .serialize(serializer)
    }
}
