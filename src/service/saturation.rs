//! Bubble and dew at a temperature or a pressure, with the band of tolerances and Raoult's law
//! where they are asked for.

use serde::{Serialize, Serializer};

use crate::Branch;
use crate::error::{Error, Result};
use crate::refrigerant::{
    Band, IdealPoint, ReferenceState, Refrigerant, Saturation, SaturationPoint,
};
use crate::service::facts::{Facts, Identity, Model};
use crate::units::{
    Pressure, PressureUnit, Temperature, TemperatureDifference, TemperatureUnit, Typed,
};

/// What is held fixed, in the unit of the question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SaturationAt {
    /// A temperature.
    Temperature(Typed<Temperature, TemperatureUnit>),
    /// A pressure.
    Pressure(Typed<Pressure, PressureUnit>),
}

/// What is asked of a refrigerant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaturationQuestion {
    /// Where.
    pub at: SaturationAt,
    /// The reference state of enthalpy and entropy.
    pub reference: ReferenceState,
    /// Whether the band of tolerances is asked for.
    pub tolerance: bool,
    /// Whether Raoult's law is asked for.
    pub ideal: bool,
}

/// Bubble and dew, and what was asked for next to them.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SaturationAnswer {
    /// What it is called and made of.
    #[serde(flatten)]
    pub identity: Identity,
    /// Bubble and dew.
    #[serde(flatten)]
    pub saturation: Saturation,
    /// What its numbers rest on.
    pub model: Model,
    /// The band of tolerances, where asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<Tolerance>,
    /// Raoult's law, where asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ideal: Option<IdealSaturation>,
    /// What was held fixed.
    #[serde(skip)]
    pub at: SaturationAt,
}

/// Answers a question about bubble and dew.
///
/// # Errors
/// As [`Refrigerant::saturation_at_temperature`] and [`Refrigerant::saturation_at_pressure`].
///
/// # Example
/// ```
/// use zeotrope::service::{facts::Facts, saturation::{SaturationAt, SaturationQuestion, saturation}};
/// use zeotrope::{Refrigerant, ReferenceState, units::parse_temperature};
/// let r134a = Refrigerant::named("R-134a")?;
/// let question = SaturationQuestion {
///     at: SaturationAt::Temperature(parse_temperature("5C")?),
///     reference: ReferenceState::Usual,
///     tolerance: false,
///     ideal: false,
/// };
/// let found = saturation(&r134a, &Facts::of_refrigerant(&r134a), &question)?;
/// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa
/// assert!((found.saturation.dew.unwrap().pressure.in_bar() - 3.4966).abs() < 1e-4);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn saturation(
    refrigerant: &Refrigerant,
    facts: &Facts,
    question: &SaturationQuestion,
) -> Result<SaturationAnswer> {
    let SaturationQuestion { at, reference, .. } = *question;
    let saturation = match at {
        SaturationAt::Temperature(typed) => {
            refrigerant.saturation_at_temperature(typed.value, reference)
        }
        SaturationAt::Pressure(typed) => refrigerant.saturation_at_pressure(typed.value, reference),
    }?;
    let real = [&saturation.bubble, &saturation.dew]
        .map(|point| point.as_ref().map(|at| (at.temperature, at.pressure)));
    Ok(SaturationAnswer {
        tolerance: question
            .tolerance
            .then(|| Tolerance::bands_of(refrigerant, &saturation)),
        ideal: question
            .ideal
            .then(|| IdealSaturation::saturation_at(refrigerant, at, real)),
        identity: facts.identity.clone(),
        model: facts.model.clone(),
        saturation,
        at,
    })
}

/// The bands of a branch within the tolerances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bands {
    /// Of the pressure at the point's temperature.
    pub pressure: Band<Pressure>,
    /// Of the temperature at the point's pressure.
    pub temperature: Band<Temperature>,
}

/// The bands around a bubble and a dew point within the tolerances of the composition.
#[derive(Debug, Clone, PartialEq)]
pub struct Tolerance {
    /// Bubble and dew, each without bands where it has no point; `None` where no tolerance is
    /// published.
    pub branches: Option<[(Branch, Result<Option<Bands>>); 2]>,
}

impl Tolerance {
    fn bands_of(refrigerant: &Refrigerant, saturation: &Saturation) -> Self {
        let of = |branch, point: &Option<SaturationPoint>| {
            let Some(point) = point else {
                return Ok(None);
            };
            let pressure = refrigerant.pressure_band(branch, point.temperature)?;
            let temperature = refrigerant.temperature_band(branch, point.pressure)?;
            let both = pressure.zip(temperature);
            Ok(both.map(|(pressure, temperature)| Bands {
                pressure,
                temperature,
            }))
        };
        let branches = || {
            [
                (Branch::Bubble, of(Branch::Bubble, &saturation.bubble)),
                (Branch::Dew, of(Branch::Dew, &saturation.dew)),
            ]
        };
        Self {
            branches: refrigerant.has_tolerance().then(branches),
        }
    }

    /// The bands that are known.
    pub fn found(&self) -> impl Iterator<Item = (Branch, Bands)> + '_ {
        let branches = self.branches.iter().flatten();
        branches.filter_map(|(branch, bands)| Some((*branch, (*bands.as_ref().ok()?)?)))
    }

    /// Why bands are not known.
    pub fn failed(&self) -> impl Iterator<Item = (Branch, &Error)> {
        let branches = self.branches.iter().flatten();
        branches.filter_map(|(branch, bands)| Some((*branch, bands.as_ref().err()?)))
    }
}

impl Serialize for Bands {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys {
            lowest_pressure_Pa: Pressure,
            highest_pressure_Pa: Pressure,
            lowest_temperature_K: Temperature,
            highest_temperature_K: Temperature,
        }
        Keys {
            lowest_pressure_Pa: self.pressure.lowest,
            highest_pressure_Pa: self.pressure.highest,
            lowest_temperature_K: self.temperature.lowest,
            highest_temperature_K: self.temperature.highest,
        }
        .serialize(serializer)
    }
}

impl Serialize for Tolerance {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys {
            corners: Option<usize>,
            bubble: Option<Bands>,
            dew: Option<Bands>,
        }
        let of = |wanted| self.found().find(|one| one.0 == wanted).map(|one| one.1);
        let keys = self.branches.is_some().then(|| Keys {
            corners: self.found().next().map(|(_, one)| one.pressure.corners),
            bubble: of(Branch::Bubble),
            dew: of(Branch::Dew),
        });
        keys.serialize(serializer)
    }
}

/// How far an ideal point is from the real one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Deviation {
    /// Ideal minus real temperature, at a pressure.
    Temperature(TemperatureDifference),
    /// Ideal minus real pressure as a share of the real one, at a temperature.
    Pressure(f64),
}

/// Bubble or dew by Raoult's law.
#[derive(Debug, Clone, PartialEq)]
pub struct IdealBranch {
    /// Which.
    pub branch: Branch,
    /// The point, or why there is none.
    pub point: Result<IdealPoint>,
    /// How far it is from the real one, where both exist.
    pub deviation: Option<Deviation>,
}

/// Bubble and dew by Raoult's law, for teaching.
#[derive(Debug, Clone, PartialEq)]
pub struct IdealSaturation {
    /// Bubble and dew.
    pub branches: [IdealBranch; 2],
    /// Dew minus bubble temperature, K, at a pressure.
    pub glide: Option<f64>,
}

impl IdealSaturation {
    /// Next to the real bubble and dew point.
    pub(crate) fn saturation_at(
        refrigerant: &Refrigerant,
        at: SaturationAt,
        real: [Option<(Temperature, Pressure)>; 2],
    ) -> Self {
        let of = |branch, real: Option<(Temperature, Pressure)>| {
            let point = match at {
                SaturationAt::Temperature(at) => refrigerant.ideal_at_temperature(branch, at.value),
                SaturationAt::Pressure(at) => refrigerant.ideal_at_pressure(branch, at.value),
            };
            let both = point.as_ref().ok().zip(real);
            IdealBranch {
                branch,
                deviation: both.map(|(ideal, real)| match at {
                    SaturationAt::Pressure(_) => Deviation::Temperature(ideal.temperature - real.0),
                    SaturationAt::Temperature(_) => {
                        Deviation::Pressure(ideal.pressure.in_pascal() / real.1.in_pascal() - 1.0)
                    }
                }),
                point,
            }
        };
        let branches = [of(Branch::Bubble, real[0]), of(Branch::Dew, real[1])];
        let glide = match (&branches, at) {
            (
                [
                    IdealBranch {
                        point: Ok(bubble), ..
                    },
                    IdealBranch { point: Ok(dew), .. },
                ],
                SaturationAt::Pressure(_),
            ) => Some((dew.temperature - bubble.temperature).in_kelvin()),
            _ => None,
        };
        Self { branches, glide }
    }
}

impl Serialize for IdealSaturation {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            rule: &'static str,
            bubble: Option<&'a IdealPoint>,
            dew: Option<&'a IdealPoint>,
            #[serde(rename = "glide_K")]
            glide: Option<f64>,
        }
        let [bubble, dew] = &self.branches;
        Keys {
            rule: "Raoult's law",
            bubble: bubble.point.as_ref().ok(),
            dew: dew.point.as_ref().ok(),
            glide: self.glide,
        }
        .serialize(serializer)
    }
}
