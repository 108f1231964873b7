//! The global warming potential of a composition.

use serde::{Serialize, Serializer};

use crate::catalogue::records::WarmingPotential;
use crate::refrigerant::Refrigerant;

/// A report that knows less of a blend's mass than this is not quoted for it.
const KNOWN_MASS: f64 = 0.5;

/// The potential of a composition by one report.
#[derive(Debug, Clone, PartialEq)]
pub struct Gwp {
    /// The report, or what the user named as source.
    pub report: String,
    /// Horizon, years, where it is known.
    pub horizon_years: Option<u16>,
    /// The potential, relative to carbon dioxide by mass.
    pub value: f64,
    /// Components of which the report says "less than": their bound is counted, so that `value`
    /// is an upper bound. Where components are missing it counts nothing for them.
    pub bounded: Vec<String>,
    /// Components without a value in this report: `value` is then a lower bound.
    pub missing: Vec<String>,
    /// Whether it was summed from the components by mass.
    pub summed: bool,
}

/// The potential by each report that knows at least half of the mass.
///
/// GWP = sum of w_i GWP_i with the mass fractions w_i (Regulation (EU) No 517/2014, Annex IV, from
/// memory). Reports are not mixed.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::hazard::gwp::by_mass;
/// // R-410A: IPCC AR4 has 675 for R-32 and 3500 for R-125.
/// let found = by_mass(&Refrigerant::named("R-410A")?);
/// assert_eq!((found[0].report.as_str(), found[0].value), ("IPCC AR4", 2087.5));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn by_mass(refrigerant: &Refrigerant) -> Vec<Gwp> {
    let records = refrigerant.records();
    let mut reports: Vec<(&str, u16)> = Vec::new();
    for one in records.iter().flat_map(|record| &record.gwp) {
        let report = (one.report.as_str(), one.horizon_years);
        if !reports.contains(&report) {
            reports.push(report);
        }
    }
    reports.sort();
    reports
        .into_iter()
        .filter_map(|(report, horizon_years)| {
            let (mut known, mut value, mut bounds) = (0.0, 0.0, 0.0);
            let (mut bounded, mut missing) = (Vec::new(), Vec::new());
            for (record, component) in records.iter().zip(refrigerant.components()) {
                let same = |one: &&WarmingPotential| {
                    one.report == report && one.horizon_years == horizon_years
                };
                match record.gwp.iter().find(same) {
                    None => missing.push(component.designation.clone()),
                    Some(one) => {
                        known += component.mass_fraction;
                        let share = component.mass_fraction * one.value;
                        if one.below {
                            bounded.push(component.designation.clone());
                            bounds += share;
                        } else {
                            value += share;
                        }
                    }
                }
            }
            (known >= KNOWN_MASS).then(|| Gwp {
                report: report.to_owned(),
                horizon_years: Some(horizon_years),
                value: if missing.is_empty() {
                    value + bounds
                } else {
                    value
                },
                bounded,
                missing,
                summed: !refrigerant.is_pure(),
            })
        })
        .collect()
}

/// On which side of a potential the truth lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// Components are missing from the report.
    AtLeast,
    /// The report gives an upper bound of some component.
    AtMost,
    /// Neither.
    Exact,
}

impl Gwp {
    /// A potential that the user gives with its source.
    pub fn given(value: f64, source: &str) -> Self {
        Self {
            report: source.to_owned(),
            horizon_years: None,
            value,
            bounded: Vec::new(),
            missing: Vec::new(),
            summed: false,
        }
    }

    /// On which side of `value` the truth lies.
    pub fn bound(&self) -> Bound {
        match (self.missing.is_empty(), self.bounded.is_empty()) {
            (false, _) => Bound::AtLeast,
            (true, false) => Bound::AtMost,
            (true, true) => Bound::Exact,
        }
    }

    /// Mass of carbon dioxide that warms as much as a mass of the refrigerant, in the same unit.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::hazard::gwp::by_mass;
    /// use zeotrope::Refrigerant;
    /// // Regulation (EU) No 517/2014, Annex IV, by the IPCC's fourth report: R-410A 2088.
    /// let found = by_mass(&Refrigerant::named("R-410A")?);
    /// assert!((found[0].carbon_dioxide(10.0) - 20_880.0).abs() < 6.0);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn carbon_dioxide(&self, mass: f64) -> f64 {
        self.value * mass
    }
}

impl Serialize for Gwp {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            value: f64,
            horizon_years: Option<u16>,
            below: bool,
            at_least: bool,
            summed: bool,
            source: &'a str,
        }
        Keys {
            value: self.value,
            horizon_years: self.horizon_years,
            below: self.bound() == Bound::AtMost,
            at_least: self.bound() == Bound::AtLeast,
            summed: self.summed,
            source: &self.report,
        }
        .serialize(serializer)
    }
}
