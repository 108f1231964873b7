//! What is known of one refrigerant, each fact with its source.

use serde::{Serialize, Serializer};

use crate::Branch;
use crate::catalogue::records::Sourced;
use crate::refrigerant::{CriticalPoint, Limits, Refrigerant};
use crate::service::facts::{Facts, Identity, Model};
use crate::service::hazard::gwp::{Bound, Gwp, by_mass};
use crate::units::{Pressure, Temperature};

/// What is known of one refrigerant.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Profile {
    /// What it is called and made of.
    #[serde(flatten)]
    pub identity: Identity,
    /// Safety class, where one is on record.
    pub safety_class: Option<Sourced<String>>,
    /// Molar mass, kg/mol.
    #[serde(rename = "molar_mass_kg_mol")]
    pub molar_mass: f64,
    /// The critical point of the model, where it has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub critical_point: Option<CriticalPoint>,
    /// Where it is answered.
    pub range: Limits,
    /// What only a pure refrigerant or only a blend has.
    #[serde(flatten)]
    pub kind: ProfileKind,
    /// Warming potentials, a report each.
    #[serde(serialize_with = "potentials")]
    pub gwp: Vec<Gwp>,
    /// What its numbers rest on.
    pub model: Model,
}

/// What only a pure refrigerant or only a blend has.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum ProfileKind {
    /// A pure refrigerant.
    Pure(Box<Pure>),
    /// A blend.
    Blend(Blend),
}

/// What is known of a pure refrigerant.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pure {
    /// The critical point as published.
    #[serde(rename = "critical_point_published")]
    pub critical_point: CriticalPoint,
    /// Chemical name.
    pub name: String,
    /// Formula.
    pub formula: String,
    /// CAS number.
    pub cas: String,
    /// Other spellings by which it is found.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub spellings: Vec<String>,
    /// Ozone depletion potential, relative to R-11.
    pub odp: Option<Sourced<f64>>,
    /// Lower flammability limit, kg/m3.
    #[serde(rename = "lfl_kg_m3")]
    pub lfl: Option<Sourced<f64>>,
    /// A remark.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
}

/// What is known of a blend.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Blend {
    /// The tolerance of each component, mass % below and above; none where it is not on record.
    #[serde(skip)]
    pub tolerances: Option<Vec<Option<[f64; 2]>>>,
    /// The published bubble temperature at 101.325 kPa, degree C.
    #[serde(rename = "bubble_C_published", skip_serializing_if = "Option::is_none")]
    pub bubble: Option<Sourced<f64>>,
    /// The published dew temperature at 101.325 kPa, degree C.
    #[serde(rename = "dew_C_published", skip_serializing_if = "Option::is_none")]
    pub dew: Option<Sourced<f64>>,
}

/// Gathers what is known of a refrigerant.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::{facts::Facts, profile::profile};
/// let r134a = Refrigerant::named("R-134a")?;
/// let found = profile(&r134a, &Facts::of_refrigerant(&r134a));
/// // CODATA atomic masses, from memory: C2H2F4 has 102.03 g/mol
/// assert!((found.molar_mass - 0.10203).abs() < 1e-5);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn profile(refrigerant: &Refrigerant, facts: &Facts) -> Profile {
    let model = facts.model.clone();
    let records = refrigerant.records();
    let (kind, gwp) = match records.as_slice() {
        [record] => {
            let published = &record.critical_point.published;
            let pure = Pure {
                critical_point: CriticalPoint {
                    temperature: Temperature::kelvin(published.temperature_k),
                    pressure: Pressure::pascal(published.pressure_pa),
                    density: published.density_mol_m3 * record.molar_mass_kg_mol,
                },
                name: record.name.clone(),
                formula: record.formula.clone(),
                cas: record.cas.clone(),
                spellings: record.spellings.clone(),
                odp: record.odp.clone(),
                lfl: record.lfl_kg_m3.clone(),
                remark: record.remark.clone(),
            };
            // One component: every report as it stands.
            let bounded = |below| match below {
                true => vec![record.designation.clone()],
                false => Vec::new(),
            };
            let gwp = record.gwp.iter().map(|one| Gwp {
                report: one.report.clone(),
                horizon_years: Some(one.horizon_years),
                value: one.value,
                bounded: bounded(one.below),
                missing: Vec::new(),
                summed: false,
            });
            (ProfileKind::Pure(Box::new(pure)), gwp.collect())
        }
        _ => {
            let published = |branch| {
                let mut all = model.deviations.iter();
                all.find(|one| one.branch == branch).map(|one| Sourced {
                    value: one.published,
                    source: one.source.clone(),
                })
            };
            let tolerances = refrigerant.blend().map(|record| {
                let components = refrigerant.components().iter();
                let tolerance = |designation: &str| {
                    let mut all = record.components.iter();
                    all.find(|one| one.refrigerant == designation)?
                        .tolerance_mass_percent
                };
                components.map(|one| tolerance(&one.designation)).collect()
            });
            let blend = Blend {
                tolerances,
                bubble: published(Branch::Bubble),
                dew: published(Branch::Dew),
            };
            (ProfileKind::Blend(blend), by_mass(refrigerant))
        }
    };
    Profile {
        identity: facts.identity.clone(),
        safety_class: facts.safety_class.clone(),
        molar_mass: refrigerant.molar_mass(),
        critical_point: refrigerant.critical_point(),
        range: refrigerant.limits(),
        kind,
        gwp,
        model,
    }
}

fn potentials<S: Serializer>(all: &[Gwp], serializer: S) -> Result<S::Ok, S::Error> {
    #[derive(Serialize)]
    struct Keys<'a> {
        report: &'a str,
        horizon_years: Option<u16>,
        value: f64,
        #[serde(skip_serializing_if = "Option::is_none")]
        at_least: Option<bool>,
        below: bool,
        #[serde(skip_serializing_if = "Option::is_none")]
        missing: Option<&'a [String]>,
    }
    serializer.collect_seq(all.iter().map(|one| Keys {
        report: &one.report,
        horizon_years: one.horizon_years,
        value: one.value,
        at_least: one.summed.then(|| one.bound() == Bound::AtLeast),
        below: one.bound() == Bound::AtMost,
        missing: one.summed.then_some(one.missing.as_slice()),
    }))
}
