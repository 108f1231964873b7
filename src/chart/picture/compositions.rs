//! Bubble and dew points of the same components at many compositions and one pressure, quick enough
//! for a slider: one mixture model for all, each composition solved from a neighbor.
//!
//! The first point, in equal masses, comes from a cold start. What follows is believed below nine
//! tenths of the reducing temperature, where lines do not turn, and where at every fourth
//! composition neither phase is unstable; else the [`Refrigerant`] of that composition answers by
//! all its rules, slowly.

use std::collections::BTreeMap;

use crate::catalogue::{Basis, Catalogue};
use crate::equilibrium::bubble_dew::{Branch, PhasePair, at_pressure, near_at_pressure};
use crate::equilibrium::stability::pair_is_unstable;
use crate::helmholtz::MoleFractions;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature, short};
use crate::{Error, Result};

/// Part of the reducing temperature up to which a neighbor's solution is followed.
const SAFE: f64 = 0.9;
/// Of so many compositions one is tested for stability.
const TESTED: usize = 4;
/// A neighbor's temperature is farther away than this only on another line, K.
const JUMP: f64 = 25.0;

/// A composition by mass, in whole steps that are shares of `steps`.
pub(super) type Steps = Vec<usize>;

/// The components whose mixtures are asked.
pub(super) struct Compositions<'a> {
    catalogue: &'a Catalogue,
    names: Vec<String>,
    /// The components in equal masses, which holds the mixture model.
    equal: Refrigerant,
    /// Place of each component in the model.
    places: Vec<usize>,
    /// What the shares count to.
    steps: usize,
}

/// Bubble and dew temperature of a composition, as far as they exist.
pub(super) type Ends = [Option<Temperature>; 2];

impl<'a> Compositions<'a> {
    /// The mixtures of these components in shares of so many steps.
    ///
    /// # Errors
    /// As [`Refrigerant::from_catalogue`].
    pub(super) fn new(catalogue: &'a Catalogue, names: &[String], steps: usize) -> Result<Self> {
        let each = 1.0 / names.len() as f64;
        let equal = refrigerant(catalogue, names, &vec![each; names.len()])?;
        let components = equal.model().0.components().iter();
        let sorted: Vec<&str> = components.map(|one| &*one.record.designation).collect();
        let place = |name: &String| sorted.iter().position(|other| other == name);
        let places: Option<Vec<usize>> = names.iter().map(place).collect();
        Ok(Self {
            catalogue,
            names: names.to_vec(),
            places: places.ok_or_else(|| Error::NoState {
                reason: "two components are the same".into(),
                hint: "name different components".into(),
            })?,
            equal: equal.clone(),
            steps,
        })
    }

    /// Mole fractions in the model's order.
    pub(super) fn mole_fractions(&self, masses: &[f64]) -> MoleFractions {
        let mut moles = vec![0.0; masses.len()];
        let components = self.equal.model().0.components();
        for (mass, place) in masses.iter().zip(&self.places) {
            moles[*place] = mass / components[*place].record.molar_mass_kg_mol;
        }
        MoleFractions::new(&moles)
    }

    /// Bubble and dew temperature of mixtures of all components at a pressure, in the order asked.
    pub(super) fn ends(&self, all: &[Steps], pressure: Pressure) -> Vec<Ends> {
        let [bubble, dew] =
            [Branch::Bubble, Branch::Dew].map(|branch| self.line(all, branch, pressure));
        bubble.into_iter().zip(dew).map(|(b, d)| [b, d]).collect()
    }

    fn line(&self, all: &[Steps], branch: Branch, pressure: Pressure) -> Vec<Option<Temperature>> {
        let mut order: Vec<usize> = (0..all.len()).collect();
        let even = self.steps as f64 / self.names.len() as f64;
        let far = |place: usize| -> f64 {
            let all = all[place].iter();
            all.map(|share| (*share as f64 - even).powi(2)).sum()
        };
        order.sort_by(|a, b| far(*a).total_cmp(&far(*b)));
        let (mixture, z) = self.equal.model();
        let first = at_pressure(mixture, z, branch, pressure.in_pascal(), None).ok();
        let mut known: BTreeMap<&[usize], PhasePair> = BTreeMap::new();
        let mut found = vec![None; all.len()];
        let mut is_stable = true;
        for (count, place) in order.into_iter().enumerate() {
            let steps = &all[place];
            let start = nearest(&known, steps).or(first.as_ref());
            let pair = start.filter(|_| is_stable).and_then(|start| {
                let tested = count % TESTED == 0;
                self.near(steps, branch, pressure, start, tested)
            });
            found[place] = match pair {
                Some(Followed::Pair(pair)) => {
                    known.insert(steps, pair);
                    Some(Temperature::kelvin(pair.temperature))
                }
                Some(Followed::Unstable) => {
                    is_stable = false;
                    None
                }
                None => self.alone(steps, branch, pressure),
            };
        }
        if !is_stable {
            // A liquid parts somewhere here: nothing of a neighbor is believed.
            let each = all.iter();
            return each.map(|one| self.alone(one, branch, pressure)).collect();
        }
        found
    }

    /// From a neighbor; `None` where it does not lead to a point that can be believed.
    fn near(
        &self,
        steps: &[usize],
        branch: Branch,
        pressure: Pressure,
        start: &PhasePair,
        tested: bool,
    ) -> Option<Followed> {
        let (mixture, _) = self.equal.model();
        let z = self.mole_fractions(&self.masses(steps));
        // Newton's method leaves a component of no content as it starts: with nothing of it.
        let start = PhasePair {
            liquid: present(&start.liquid, &z),
            vapor: present(&start.vapor, &z),
            ..*start
        };
        let pascal = pressure.in_pascal();
        let pair = near_at_pressure(mixture, &z, branch, pascal, &start)?;
        let reducing = mixture.at_composition(&z).reducing_temperature;
        let lowest = self.equal.limits().temperature_min.in_kelvin();
        let is_near = (pair.temperature - start.temperature).abs() < JUMP
            && pair.temperature < SAFE * reducing
            && pair.temperature > lowest;
        if is_near && tested && pair_is_unstable(mixture, &pair) {
            return Some(Followed::Unstable);
        }
        is_near.then_some(Followed::Pair(pair))
    }

    /// By the refrigerant of that composition.
    fn alone(&self, steps: &[usize], branch: Branch, pressure: Pressure) -> Option<Temperature> {
        let one = refrigerant(self.catalogue, &self.names, &self.masses(steps)).ok()?;
        match branch {
            Branch::Bubble => one.exact().bubble_temperature(pressure).ok(),
            Branch::Dew => one.exact().dew_temperature(pressure).ok(),
        }
    }

    fn masses(&self, steps: &[usize]) -> Vec<f64> {
        let share = |step: &usize| *step as f64 / self.steps as f64;
        steps.iter().map(share).collect()
    }
}

/// The fractions of a phase, nothing of what the whole has nothing of.
fn present(phase: &MoleFractions, z: &MoleFractions) -> MoleFractions {
    let shares = phase.iter().zip(z.iter());
    let kept: Vec<f64> = shares
        .map(|(x, z)| if *z > 0.0 { *x } else { 0.0 })
        .collect();
    MoleFractions::new(&kept)
}

/// What a neighbor led to.
enum Followed {
    Pair(PhasePair),
    Unstable,
}

/// The point known next to a composition, by the shares that differ.
fn nearest<'a>(known: &'a BTreeMap<&[usize], PhasePair>, steps: &[usize]) -> Option<&'a PhasePair> {
    let mut near = steps.to_vec();
    for up in 0..steps.len() {
        for down in (0..steps.len()).filter(|down| *down != up) {
            if steps[down] == 0 {
                continue;
            }
            near.copy_from_slice(steps);
            near[up] += 1;
            near[down] -= 1;
            // Of a component that is not there nothing is known that could be followed.
            let has_all = near
                .iter()
                .zip(steps)
                .all(|(other, own)| *other > 0 || *own == 0);
            if let Some(pair) = known.get(&near[..]).filter(|_| has_all) {
                return Some(pair);
            }
        }
    }
    None
}

/// The refrigerant of some components, those of no content left out.
fn refrigerant(catalogue: &Catalogue, names: &[String], masses: &[f64]) -> Result<Refrigerant> {
    let present = || names.iter().zip(masses).filter(|(_, mass)| **mass > 0.0);
    let designations: Vec<&str> = present().map(|(name, _)| name.as_str()).collect();
    if let [one] = designations.as_slice() {
        return Refrigerant::from_catalogue(catalogue, one, Basis::Mass);
    }
    let mut left = 100.0;
    let mut percents: Vec<String> = Vec::new();
    for (place, (_, mass)) in present().enumerate() {
        let percent: f64 = match place + 1 == designations.len() {
            true => left,
            false => (1e8 * mass).round() / 1e6,
        };
        left -= percent;
        percents.push(short(percent, 9));
    }
    let literal = format!("{} ({})", designations.join("/"), percents.join("/"));
    Refrigerant::from_catalogue(catalogue, &literal, Basis::Mass)
}
