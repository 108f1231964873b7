//! Which components burn.

use crate::refrigerant::Refrigerant;

/// The flammable components, those without a class among them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Flammable {
    /// By place in the user's order.
    burns: Vec<bool>,
    pub(super) flammable: Vec<String>,
    /// Counted as flammable because no class is on record.
    pub(super) unclassed: Vec<String>,
}

impl Flammable {
    pub(super) fn of(refrigerant: &Refrigerant) -> Self {
        let mut found = Self {
            burns: Vec::new(),
            flammable: Vec::new(),
            unclassed: Vec::new(),
        };
        for record in refrigerant.records() {
            let class = record.safety_class.as_ref();
            let burns = class.is_none_or(|class| class.value.contains(['2', '3']));
            found.burns.push(burns);
            if burns {
                found.flammable.push(record.designation.clone());
            }
            if class.is_none() {
                found.unclassed.push(record.designation.clone());
            }
        }
        found
    }

    /// Their share of a composition by mass, in the user's order.
    pub(super) fn share(&self, mass_fractions: &[f64]) -> f64 {
        let parts = self.burns.iter().zip(mass_fractions);
        parts.filter(|(burns, _)| **burns).map(|(_, w)| w).sum()
    }
}
