//! The global warming potential of a composition.

use crate::catalogue::records::WarmingPotential;
use crate::refrigerant::Refrigerant;

/// A report that knows less of a blend's mass than this is not quoted for it.
const KNOWN_MASS: f64 = 0.5;

/// The potential of a composition by one report.
#[derive(Debug, Clone, PartialEq)]
pub struct Warming {
    /// The report.
    pub report: String,
    /// Horizon, years.
    pub horizon_years: u16,
    /// The potential, relative to carbon dioxide by mass.
    pub value: f64,
    /// Components of which the report says "less than": their bound is counted, so that `value`
    /// is an upper bound. Where components are missing it counts nothing for them.
    pub bounded: Vec<String>,
    /// Components without a value in this report: `value` is then a lower bound.
    pub missing: Vec<String>,
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
pub fn by_mass(refrigerant: &Refrigerant) -> Vec<Warming> {
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
            (known >= KNOWN_MASS).then(|| Warming {
                report: report.to_owned(),
                horizon_years,
                value: if missing.is_empty() {
                    value + bounds
                } else {
                    value
                },
                bounded,
                missing,
            })
        })
        .collect()
}

impl Warming {
    /// `at least`, `at most` or nothing, to stand before the value.
    pub fn bound(&self) -> &'static str {
        match (self.missing.is_empty(), self.bounded.is_empty()) {
            (false, _) => "at least",
            (true, false) => "at most",
            (true, true) => "",
        }
    }
}
