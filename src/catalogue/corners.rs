//! The corners of a blend's tolerances: the outermost compositions that still are the blend.
//!
//! Within the set {each component within its tolerance, none below zero, the sum 100 %, the sum
//! of some components within its own tolerance where the standard has such a rule} a composition
//! is a corner where as many of these limits are met as there are components, beside the sum of
//! all. So all components but one lie at a limit; or, at a limit of the sum rule, all but two, one
//! of them under the rule and one not.

use super::records::{BlendRecord, SumRule};

/// Difference up to which amounts in mass % count as equal: far below any tolerance.
const SAME: f64 = 1e-9;

/// The corners of a blend's tolerances, mass fractions in the order of the record's components;
/// `None` where a component has no published tolerance.
///
/// For the band of pressures or temperatures that a delivered blend may show.
///
/// # Example
/// ```
/// use zeotrope::catalogue::{Catalogue, corners};
/// let r410a = Catalogue::embedded().blend("R-410A")?;
/// // 50/50 mass %; tolerances +0.5/-1.5 of R-32 and +1.5/-0.5 of R-125 (ANSI/ASHRAE 34)
/// let found = corners(&r410a).unwrap();
/// assert_eq!(found, [vec![0.505, 0.495], vec![0.485, 0.515]]);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn corners(record: &BlendRecord) -> Option<Vec<Vec<f64>>> {
    let mut limits = Vec::with_capacity(record.components.len());
    for component in &record.components {
        let [below, above] = component.tolerance_mass_percent?;
        limits.push([
            (component.mass_percent - below).max(0.0),
            component.mass_percent + above,
        ]);
    }
    let rule = record
        .sum_rule
        .as_ref()
        .map(|rule| Rule::from_record(record, rule));
    let mut found: Vec<Vec<f64>> = Vec::new();
    let mut keep = |amounts: Vec<f64>| {
        let within = amounts
            .iter()
            .zip(&limits)
            .all(|(w, [low, high])| *w >= low - SAME && *w <= high + SAME);
        let ruled = rule.as_ref().is_none_or(|rule| rule.allows(&amounts));
        let known = found.iter().any(|other| {
            let mut pairs = other.iter().zip(&amounts);
            pairs.all(|(a, b)| (a - b).abs() <= SAME)
        });
        if within && ruled && !known {
            found.push(amounts);
        }
    };
    let count = limits.len();
    for free in 0..count {
        for mut amounts in at_limits(&limits, &[free]) {
            amounts[free] = 100.0 - sum(&amounts);
            keep(amounts);
        }
    }
    if let Some(rule) = &rule {
        for inside in (0..count).filter(|&k| rule.members[k]) {
            for outside in (0..count).filter(|&k| !rule.members[k]) {
                for start in at_limits(&limits, &[inside, outside]) {
                    for edge in rule.limits {
                        let mut amounts = start.clone();
                        amounts[inside] = edge - rule.sum(&amounts);
                        amounts[outside] = 100.0 - sum(&amounts);
                        keep(amounts);
                    }
                }
            }
        }
    }
    for amounts in &mut found {
        for amount in amounts {
            *amount = (*amount / 100.0).max(0.0);
        }
    }
    Some(found)
}

/// A sum rule by place of component.
struct Rule {
    members: Vec<bool>,
    limits: [f64; 2],
}

impl Rule {
    fn from_record(record: &BlendRecord, rule: &SumRule) -> Self {
        let members: Vec<bool> = record
            .components
            .iter()
            .map(|component| rule.refrigerants.contains(&component.refrigerant))
            .collect();
        let nominal: f64 = record
            .components
            .iter()
            .zip(&members)
            .filter(|(_, member)| **member)
            .map(|(component, _)| component.mass_percent)
            .sum();
        let [below, above] = rule.tolerance_mass_percent;
        Self {
            members,
            limits: [nominal - below, nominal + above],
        }
    }

    fn sum(&self, amounts: &[f64]) -> f64 {
        let members = amounts.iter().zip(&self.members);
        members.filter(|(_, member)| **member).map(|(w, _)| w).sum()
    }

    fn allows(&self, amounts: &[f64]) -> bool {
        let sum = self.sum(amounts);
        sum >= self.limits[0] - SAME && sum <= self.limits[1] + SAME
    }
}

fn sum(amounts: &[f64]) -> f64 {
    amounts.iter().sum()
}

/// Every choice of lower and upper limits, the free places left at zero.
fn at_limits(limits: &[[f64; 2]], free: &[usize]) -> Vec<Vec<f64>> {
    let mut all = vec![Vec::with_capacity(limits.len())];
    for (place, [low, high]) in limits.iter().enumerate() {
        if free.contains(&place) {
            all.iter_mut().for_each(|one| one.push(0.0));
            continue;
        }
        let mut upper = all.clone();
        all.iter_mut().for_each(|one| one.push(*low));
        if high > low {
            upper.iter_mut().for_each(|one| one.push(*high));
            all.append(&mut upper);
        }
    }
    all
}
