//! Figures about exposure and warming in other units: arithmetic, and no verdict on a room.

use serde::{Serialize, Serializer};

use super::gwp::{Gwp, by_mass};
use crate::Refrigerant;
use crate::service::facts::Identity;
use crate::units::Pressure;
use crate::units::{InAir, KG_PER_POUND, M3_PER_CUBIC_FOOT};

/// Molar volume of an ideal gas at 25 °C and 101.325 kPa, m3/mol, at which shares by volume count:
/// 8.314462618 J/(mol K) x 298.15 K / 101325 Pa.
pub const MOLAR_VOLUME: f64 = 8.314_462_618 * 298.15 / Pressure::ATMOSPHERE.in_pascal();

/// A concentration of a refrigerant in air.
///
/// A share by volume becomes a mass in a volume by the ideal gas at 25 °C and 101.325 kPa:
/// rho = x M / 0.024465 m3/mol.
///
/// # Example
/// ```
/// use zeotrope::{Refrigerant, service::hazard::exposure::Concentration};
/// // ISO 817, from memory: R-32's lower flammability limit, 0.307 kg/m3, is 14.4 % by volume.
/// let r32 = Refrigerant::named("R-32")?;
/// let limit = Concentration::by_mass(0.307);
/// assert!((limit.by_volume(r32.molar_mass()) * 100.0 - 14.4).abs() < 0.05);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Concentration(f64);

impl Concentration {
    /// From kg/m3.
    pub const fn by_mass(kg_m3: f64) -> Self {
        Self(kg_m3)
    }

    /// From a share of the volume, 0 to 1, of a gas of a molar mass in kg/mol.
    pub const fn of_volume(share: f64, molar_mass: f64) -> Self {
        Self(share * molar_mass / MOLAR_VOLUME)
    }

    /// In kg/m3.
    pub const fn in_kg_m3(self) -> f64 {
        self.0
    }

    /// In pounds in a thousand cubic feet.
    pub const fn in_lb_1000ft3(self) -> f64 {
        self.0 / KG_PER_LB_1000FT3
    }

    /// As a share of the volume, 0 to 1.
    pub const fn by_volume(self, molar_mass: f64) -> f64 {
        self.0 * MOLAR_VOLUME / molar_mass
    }
}

/// kg/m3 in a pound in a thousand cubic feet.
pub const KG_PER_LB_1000FT3: f64 = KG_PER_POUND / (1000.0 * M3_PER_CUBIC_FOOT);

/// A concentration in air that must not be exceeded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum LimitKind {
    /// Lower flammability limit.
    Lfl,
    /// Refrigerant concentration limit.
    Rcl,
}

/// Where a figure comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FigureSource {
    /// On record, with the paper or standard.
    OnRecord(String),
    /// Given with the question.
    Given(String),
}

impl FigureSource {
    /// The paper, standard or data sheet.
    pub fn name(&self) -> &str {
        match self {
            Self::OnRecord(name) | Self::Given(name) => name,
        }
    }
}

/// A limit of concentration with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct ConcentrationLimit {
    /// Which limit.
    pub kind: LimitKind,
    /// The concentration.
    pub value: Concentration,
    /// Where it comes from.
    pub source: FigureSource,
}

/// What is asked beside the refrigerant.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ExposureQuestion {
    /// Limits, as shares of the volume or masses in a volume.
    pub limits: Vec<(LimitKind, InAir)>,
    /// A global warming potential.
    pub gwp: Option<f64>,
    /// Where these figures come from.
    pub source: String,
    /// Mass of refrigerant, kg.
    pub mass: Option<f64>,
}

/// Concentration limits and warming potentials of a refrigerant.
#[derive(Debug, Clone, PartialEq)]
pub struct Exposure {
    /// What it is called and made of.
    pub identity: Identity,
    /// The limits on record and given.
    pub limits: Vec<ConcentrationLimit>,
    /// The warming potentials on record and given.
    pub gwp: Vec<Gwp>,
    /// Mass of refrigerant, kg, where one is given.
    pub mass: Option<f64>,
    /// Safety class, where one is on record.
    pub safety_class: Option<String>,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
}

/// Gathers the limits and potentials on record and those given; `None` where there are none.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::hazard::exposure::{ExposureQuestion, exposure};
/// // ISO 817, from memory: the lower flammability limit of R-32 is 0.307 kg/m3.
/// let found = exposure(&Refrigerant::named("R-32")?, &ExposureQuestion::default()).unwrap();
/// assert!((found.limits[0].value.in_kg_m3() - 0.307).abs() < 1e-3);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn exposure(refrigerant: &Refrigerant, given: &ExposureQuestion) -> Option<Exposure> {
    let molar_mass = refrigerant.molar_mass();
    let held = match refrigerant.records().as_slice() {
        [record] => record.lfl_kg_m3.as_ref().map(|fact| ConcentrationLimit {
            kind: LimitKind::Lfl,
            value: Concentration::by_mass(fact.value),
            source: FigureSource::OnRecord(fact.source.clone()),
        }),
        _ => None,
    };
    let own = given
        .limits
        .iter()
        .map(|&(kind, value)| ConcentrationLimit {
            kind,
            value: match value {
                InAir::Mass(kg_m3) => Concentration::by_mass(kg_m3),
                InAir::Volume(share) => Concentration::of_volume(share, molar_mass),
            },
            source: FigureSource::Given(given.source.clone()),
        });
    let mut gwp = by_mass(refrigerant);
    gwp.extend(given.gwp.map(|value| Gwp::given(value, &given.source)));
    let limits: Vec<_> = held.into_iter().chain(own).collect();
    (!limits.is_empty() || !gwp.is_empty()).then(|| Exposure {
        identity: Identity::of_refrigerant(refrigerant),
        limits,
        gwp,
        mass: given.mass,
        safety_class: refrigerant.safety_class(),
        molar_mass,
    })
}

impl Serialize for Exposure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Limit<'a> {
            figure: LimitKind,
            concentration_kg_m3: f64,
            volume_fraction: f64,
            source: &'a str,
        }
        #[derive(Serialize)]
        struct Warming<'a> {
            #[serde(flatten)]
            gwp: &'a Gwp,
            carbon_dioxide_kg: Option<f64>,
        }
        #[derive(Serialize)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            limits: Vec<Limit<'a>>,
            gwp: Vec<Warming<'a>>,
            mass_kg: Option<f64>,
            safety_class: &'a Option<String>,
        }
        let limits = self.limits.iter().map(|one| Limit {
            figure: one.kind,
            concentration_kg_m3: one.value.in_kg_m3(),
            volume_fraction: one.value.by_volume(self.molar_mass),
            source: one.source.name(),
        });
        let gwp = self.gwp.iter().map(|gwp| Warming {
            gwp,
            carbon_dioxide_kg: self.mass.map(|mass| gwp.carbon_dioxide(mass)),
        });
        Keys {
            identity: &self.identity,
            limits: limits.collect(),
            gwp: gwp.collect(),
            mass_kg: self.mass,
            safety_class: &self.safety_class,
        }
        .serialize(serializer)
    }
}
