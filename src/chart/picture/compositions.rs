//! Bubble and dew points of the same components at many compositions, all at one pressure or at one
//! temperature, quick enough for a slider: one mixture model for all, each composition solved from a
//! neighbor.
//!
//! The first point, in equal masses, comes from a cold start, and no phase may be more stable. What
//! follows is believed below nine tenths of the reducing temperature, where lines do not turn, and
//! where every liquid is far from parting or else no phase is more stable at every fourth
//! composition. Where not, tie lines lead on beside the critical point of a mixture of two, and else the
//! [`Refrigerant`] of that composition answers by all its rules, slowly.

use std::collections::BTreeMap;

use crate::catalogue::{Basis, Catalogue};
use crate::chart::reasons;
use crate::equilibrium::FAR_FROM_CRITICAL;
use crate::equilibrium::bubble_dew::{
    Branch, PhasePair, TwoLiquids, at_pressure, at_temperature, near_at_pressure,
    near_at_temperature, weighted,
};
use crate::equilibrium::spinodal::is_far_from_parting;
use crate::equilibrium::split::Fixed;
use crate::equilibrium::stability::pair_is_unstable;
use crate::equilibrium::tie_lines::{TieLines, tie_lines};
use crate::helmholtz::MoleFractions;
use crate::process::azeotrope::AzeotropeAt;
use crate::refrigerant::{PhaseProperties, ReferenceState, Refrigerant, SaturationPoint};
use crate::units::short;
use crate::{Error, Result};

/// Of so many compositions one is tested for stability, where a liquid is not far from parting.
const TESTED: usize = 4;
/// Part of the reducing temperature below which no critical point is near that ends a line.
const COLDEST: f64 = 0.8;
/// A neighbor's temperature is farther away than this only on another line, K.
const JUMP: f64 = 25.0;
/// A neighbor's vapor is denser or thinner by more than this, in ln, only on another line.
const LEAP: f64 = 0.7;

/// A composition by mass, in whole steps that are shares of `steps`.
pub(super) type Steps = Vec<usize>;

/// The components whose mixtures are asked.
pub(super) struct Compositions<'a> {
    catalogue: &'a Catalogue,
    names: Vec<String>,
    /// The components in equal masses, which holds the mixture model.
    equal: Refrigerant,
    /// How those are written.
    written: String,
    /// Place of each component in the model.
    places: Vec<usize>,
    /// What the shares count to.
    steps: usize,
}

/// Bubble and dew point of a composition, as far as they exist.
pub(super) type Ends = [Option<PhasePair>; 2];

impl<'a> Compositions<'a> {
    /// The mixtures of these components in shares of so many steps.
    ///
    /// # Errors
    /// As [`Refrigerant::from_catalogue`].
    pub(super) fn new(catalogue: &'a Catalogue, names: &[String], steps: usize) -> Result<Self> {
        let each = 1.0 / names.len() as f64;
        let written = literal(names, &vec![each; names.len()]);
        let equal = Refrigerant::kept(catalogue, &written, Basis::Mass)?;
        let components = equal.model().0.components().iter();
        let sorted: Vec<&str> = components.map(|one| &*one.record.designation).collect();
        let place = |name: &String| sorted.iter().position(|other| other == name);
        let places: Option<Vec<usize>> = names.iter().map(place).collect();
        Ok(Self {
            catalogue,
            names: names.to_vec(),
            places: places.ok_or_else(|| Error::NoState {
                reason: reasons::DRAWN_SAME_COMPONENTS.into(),
                hint: "name different components".into(),
            })?,
            equal: equal.clone(),
            written,
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

    /// The components in equal masses.
    pub(super) const fn equal(&self) -> &Refrigerant {
        &self.equal
    }

    /// Mole fractions by mass fractions, in the order of the components.
    pub(super) fn moles(&self, masses: &[f64]) -> Vec<f64> {
        let moles = self.mole_fractions(masses);
        self.places.iter().map(|place| moles[*place]).collect()
    }

    /// Mass fractions by mole fractions, in the order of the components.
    pub(super) fn masses_of(&self, moles: &[f64]) -> Vec<f64> {
        let components = self.equal.model().0.components();
        let own = moles.iter().zip(&self.places);
        let own = own.map(|(x, place)| x * components[*place].record.molar_mass_kg_mol);
        let own: Vec<f64> = own.collect();
        let sum: f64 = own.iter().sum();
        own.iter().map(|one| one / sum).collect()
    }

    /// The refrigerant of these mass fractions.
    ///
    /// # Errors
    /// As [`Refrigerant::from_catalogue`].
    pub(super) fn refrigerant(&self, masses: &[f64]) -> Result<Refrigerant> {
        let written = literal(&self.names, masses);
        match written == self.written {
            // with what it knows of its lines already
            true => Ok(self.equal.clone()),
            false => Refrigerant::from_catalogue(self.catalogue, &written, Basis::Mass),
        }
    }

    /// A point between two that are known, at mass fractions of which `part` lies on the way from
    /// the first to the second.
    pub(super) fn between(
        &self,
        masses: &[f64],
        (branch, at): (Branch, AzeotropeAt),
        (a, b, part): (&PhasePair, &PhasePair, f64),
    ) -> Option<PhasePair> {
        let (mixture, _) = self.equal.model();
        let z = self.mole_fractions(masses);
        let start = weighted(&[a, b], &[1.0 - part, part]);
        let is_followed = a.residual.is_finite() && b.residual.is_finite();
        is_followed
            .then(|| self.near(&z, branch, at, &start))
            .flatten()
            .filter(|pair| is_far_from_parting(mixture, pair))
            .or_else(|| self.by_refrigerant(masses, branch, at))
    }

    /// Mole fractions of the model, in the order of the components.
    pub(super) fn in_order(&self, moles: &MoleFractions) -> Vec<f64> {
        self.places.iter().map(|place| moles[*place]).collect()
    }

    /// Bubble and dew point of mixtures of all components, in the order asked.
    pub(super) fn ends(&self, all: &[Steps], at: AzeotropeAt) -> Vec<Ends> {
        let followed = self.followed(all, at);
        let own = all.iter().zip(followed);
        own.map(|(steps, ends)| self.completed(steps, ends, at))
            .collect()
    }

    /// What neighbors did not lead to, asked of the refrigerant of that composition.
    pub(super) fn completed(&self, steps: &Steps, ends: Ends, at: AzeotropeAt) -> Ends {
        let [bubble, dew] = ends;
        if bubble.is_some() && dew.is_some() {
            return [bubble, dew];
        }
        let [own_bubble, own_dew] = self.both_by_refrigerant(&self.masses(steps), at);
        [bubble.or(own_bubble), dew.or(own_dew)]
    }

    /// Bubble and dew point of mixtures of all components, in the order asked, where neighbors lead
    /// to them.
    pub(super) fn followed(&self, all: &[Steps], at: AzeotropeAt) -> Vec<Ends> {
        let both = [Branch::Bubble, Branch::Dew];
        let quick = both.map(|branch| self.line(all, branch, at, Trust::Far));
        let [bubble, dew] = match quick {
            [Some(bubble), Some(dew)] => [bubble, dew],
            _ => both.map(|branch| {
                let followed = self.line(all, branch, at, Trust::Tested);
                followed.unwrap_or_else(|| vec![None; all.len()])
            }),
        };
        bubble.into_iter().zip(dew).map(|(b, d)| [b, d]).collect()
    }

    /// Tie lines from the phases of a point on, where it is not for a liquid that parts that neighbors lead
    /// no farther, towards more of the component at `place` in the
    /// order asked.
    pub(super) fn tie_lines(
        &self,
        from: &PhasePair,
        at: AzeotropeAt,
        place: usize,
    ) -> Option<TieLines> {
        let fixed = match at {
            AzeotropeAt::Pressure(at) => Fixed::Pressure(at.in_pascal()),
            AzeotropeAt::Temperature(at) => Fixed::Temperature(at.in_kelvin()),
        };
        let (mixture, _) = self.equal.model();
        let reducing = mixture.at_composition(&from.vapor).reducing_temperature;
        if from.temperature < COLDEST * reducing || from.liquids.is_some() {
            return None;
        }
        tie_lines(mixture, fixed, from, self.places[place])
    }

    /// One line, as far as neighbors lead to it; `None` where something on it cannot be trusted, so that nothing is believed of a
    /// neighbor.
    fn line(
        &self,
        all: &[Steps],
        branch: Branch,
        given: AzeotropeAt,
        trust: Trust,
    ) -> Option<Vec<Option<PhasePair>>> {
        let mut order: Vec<usize> = (0..all.len()).collect();
        let even = self.steps as f64 / self.names.len() as f64;
        let far = |place: usize| -> f64 {
            let all = all[place].iter();
            all.map(|share| (*share as f64 - even).powi(2)).sum()
        };
        order.sort_by(|a, b| far(*a).total_cmp(&far(*b)));
        let (mixture, z) = self.equal.model();
        let first = match given {
            AzeotropeAt::Pressure(at) => at_pressure(mixture, z, branch, at.in_pascal(), None).ok(),
            AzeotropeAt::Temperature(at) => {
                at_temperature(mixture, z, branch, at.in_kelvin(), None).ok()
            }
        };
        let mut known: BTreeMap<&[usize], PhasePair> = BTreeMap::new();
        let mut found = vec![None; all.len()];
        for (count, place) in order.into_iter().enumerate() {
            let steps = &all[place];
            let z = self.mole_fractions(&self.masses(steps));
            let start = match (nearest(&known, steps), &first) {
                (Some([near, beyond]), _) => Some(expected(near, beyond, &z, branch)),
                (None, Some(first)) => Some(expected(first, first, &z, branch)),
                (None, None) => None,
            };
            let pair = start.and_then(|start| self.near(&z, branch, given, &start));
            let Some(pair) = pair else {
                continue;
            };
            if trust == Trust::Far && !is_far_from_parting(mixture, &pair) {
                return None;
            }
            let is_tested = count == 0 || trust == Trust::Tested && count % TESTED == 0;
            if is_tested && pair_is_unstable(mixture, &pair) {
                return None;
            }
            found[place] = Some(pair);
            known.insert(steps, pair);
        }
        Some(found)
    }

    /// From what is expected; `None` where it does not lead to a point that can be believed.
    fn near(
        &self,
        z: &MoleFractions,
        branch: Branch,
        given: AzeotropeAt,
        start: &PhasePair,
    ) -> Option<PhasePair> {
        let (mixture, _) = self.equal.model();
        let pair = match given {
            AzeotropeAt::Pressure(at) => {
                near_at_pressure(mixture, z, branch, at.in_pascal(), start)?
            }
            AzeotropeAt::Temperature(at) => {
                near_at_temperature(mixture, z, branch, at.in_kelvin(), start)?
            }
        };
        let reducing = mixture.at_composition(z).reducing_temperature;
        let lowest = self.equal.limits().temperature_min.in_kelvin();
        // at a temperature a start's pressure is no expectation: densities say how far it is
        let is_close = match given {
            AzeotropeAt::Pressure(_) => (pair.temperature - start.temperature).abs() < JUMP,
            AzeotropeAt::Temperature(_) => {
                (pair.vapor_density / start.vapor_density).ln().abs() < LEAP
            }
        };
        let is_near = is_close
            && pair.temperature < FAR_FROM_CRITICAL * reducing
            && pair.temperature > lowest;
        is_near.then_some(pair)
    }

    /// By the refrigerant of that composition.
    pub(super) fn by_refrigerant(
        &self,
        masses: &[f64],
        branch: Branch,
        given: AzeotropeAt,
    ) -> Option<PhasePair> {
        let [bubble, dew] = self.both_by_refrigerant(masses, given);
        match branch {
            Branch::Bubble => bubble,
            Branch::Dew => dew,
        }
    }

    /// Both points by the refrigerant of that composition, which answers one question about both.
    fn both_by_refrigerant(&self, masses: &[f64], given: AzeotropeAt) -> Ends {
        let Ok(one) = self.refrigerant(masses) else {
            return [None, None];
        };
        let one = one.exact();
        let zero = ReferenceState::IdealGas;
        let found = match given {
            AzeotropeAt::Pressure(at) => one.saturation_at_pressure(at, zero),
            AzeotropeAt::Temperature(at) => one.saturation_at_temperature(at, zero),
        };
        let Ok(found) = found else {
            return [None, None];
        };
        [found.bubble, found.dew].map(|point| Some(self.told(&one, &point?)))
    }

    /// A refrigerant's point in the model's order of components.
    fn told(&self, one: &Refrigerant, point: &SaturationPoint) -> PhasePair {
        let share = |own: &[f64], name: &str| {
            let mut own = one.components().iter().zip(own);
            let own = own.find(|(component, _)| component.designation == name);
            own.map_or(0.0, |(_, share)| *share)
        };
        let components = self.equal.model().0.components();
        let in_model = |phase: &PhaseProperties| {
            let shares = components
                .iter()
                .map(|own| share(&phase.mole_fractions, &own.record.designation));
            MoleFractions::new(&shares.collect::<Vec<_>>())
        };
        let density = |phase: &PhaseProperties, x: &MoleFractions| {
            let masses = components.iter().map(|own| own.record.molar_mass_kg_mol);
            let mass: f64 = masses.zip(x.iter()).map(|(mass, x)| mass * x).sum();
            phase.density / mass
        };
        let told = |phase: &PhaseProperties| {
            let x = in_model(phase);
            (x, density(phase, &x))
        };
        let (liquid, liquid_density) = told(&point.liquid);
        let (vapor, vapor_density) = told(&point.vapor);
        let liquids = point.liquids.as_deref().map(|[a, b]| {
            let phases = [told(a), told(b)];
            // by volumes, which add
            let [own, a, b] = [liquid_density, phases[0].1, phases[1].1].map(f64::recip);
            let share = (own - a) / (b - a);
            TwoLiquids {
                phases,
                share,
                are_all: true,
            }
        });
        PhasePair {
            temperature: point.temperature.in_kelvin(),
            pressure: point.pressure.in_pascal(),
            liquid_density,
            vapor_density,
            liquids,
            liquid,
            vapor,
            steps: 0,
            // none: its neighbors are not followed
            residual: f64::NAN,
        }
    }

    fn masses(&self, steps: &[usize]) -> Vec<f64> {
        let share = |step: &usize| *step as f64 / self.steps as f64;
        steps.iter().map(share).collect()
    }
}

/// What a line followed from neighbors is believed by.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Trust {
    /// Every liquid is far from parting.
    Far,
    /// No phase that is more stable was found at every fourth composition.
    Tested,
}

/// Where a composition's point is expected: on the straight line through two neighbors, the
/// logarithms of K-values and densities and the temperature in proportion.
fn expected(near: &PhasePair, beyond: &PhasePair, z: &MoleFractions, branch: Branch) -> PhasePair {
    let geometric = |near: f64, beyond: f64| near * near / beyond;
    // Newton's method leaves a component of no content as it starts: with nothing of it.
    let other: Vec<f64> = (0..z.len())
        .map(|k| {
            let ratio = |pair: &PhasePair| match branch {
                Branch::Bubble => pair.vapor[k] / pair.liquid[k],
                Branch::Dew => pair.liquid[k] / pair.vapor[k],
            };
            match z[k] > 0.0 {
                true => z[k] * geometric(ratio(near), ratio(beyond)),
                false => 0.0,
            }
        })
        .collect();
    let other = MoleFractions::new(&other);
    let (liquid, vapor) = match branch {
        Branch::Bubble => (*z, other),
        Branch::Dew => (other, *z),
    };
    PhasePair {
        temperature: 2.0 * near.temperature - beyond.temperature,
        liquid,
        vapor,
        liquid_density: geometric(near.liquid_density, beyond.liquid_density),
        vapor_density: geometric(near.vapor_density, beyond.vapor_density),
        ..*near
    }
}

/// The point known next to a composition, by the shares that differ, and the one behind it, where
/// it is known, or the same.
fn nearest<'a>(
    known: &'a BTreeMap<&[usize], PhasePair>,
    steps: &[usize],
) -> Option<[&'a PhasePair; 2]> {
    let mut found = None;
    for up in 0..steps.len() {
        for down in (0..steps.len()).filter(|down| *down != up) {
            let at = |away: usize| {
                let mut other = steps.to_vec();
                other[up] += away;
                other[down] = other[down].checked_sub(away)?;
                // Of a component that is not there nothing is known that could be followed.
                let mut both = other.iter().zip(steps);
                let has_all = both.all(|(other, own)| *other > 0 || *own == 0);
                known.get(&other[..]).filter(|_| has_all)
            };
            let Some(near) = at(1) else {
                continue;
            };
            match at(2) {
                Some(beyond) => return Some([near, beyond]),
                None => found = found.or(Some([near, near])),
            }
        }
    }
    found
}

/// The components as the standard writes them, those of no content left out.
fn literal(names: &[String], masses: &[f64]) -> String {
    let present = || names.iter().zip(masses).filter(|(_, mass)| **mass > 0.0);
    let designations: Vec<&str> = present().map(|(name, _)| name.as_str()).collect();
    if let [one] = designations.as_slice() {
        return (*one).to_owned();
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
    format!("{} ({})", designations.join("/"), percents.join("/"))
}
