//! The phases at a temperature and pressure from stability alone: where no lines are known.
//!
//! The blend as one phase is tested; where it is unstable, its rival starts a split
//! (`substitution.rs`).

use std::cell::Cell;

use super::bubble_dew::PhasePair;
use super::one_phase::{is_dense, is_liquid, logarithms, one_phase};
use super::split::{Sought, Split, split};
use super::stability::{Rival, first_rival, first_rival_of, pair_is_unstable, rival_of, rivals};
use super::substitution::{NEXT_TO_NOTHING, settled, swapped};
use super::three_phases::ThreePhases;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};

/// Differences of mole fractions and of ln density within which two rivals count as one.
const SAME: f64 = 1e-2;
/// The same within which two splits are one.
const ONE_SPLIT: f64 = 1e-7;
/// Rivals of the blend between which splits are sought: where none of them settles, as of water below its
/// equation's liquid, trials that prove it unstable may end in as many places.
const MOST_DISTINCT: usize = 6;
/// Times that unstable splits are found again before all between rivals count as found.
const MOST_REPEATS: usize = 5;
/// Rivals of a split that are sought, one after the other.
const MOST_RIVALS: usize = 3;

/// What there is at a temperature and pressure.
#[derive(Debug, Clone, Copy)]
pub enum Found {
    /// One phase of a density, mol/m3.
    One(f64),
    /// Two phases, one of them a vapour.
    Two(Split),
    /// A vapor over two liquids.
    Three(ThreePhases),
    /// Two phases, one of them a vapour, beside which a third belongs that was not found.
    TwoOfThree(Split),
    /// Two liquids and no vapour.
    TwoLiquids(Split),
    /// Liquids and no vapour, of which two that were found are not all, or none was; the density of the blend
    /// as one liquid, mol/m3, where the equation has it.
    Liquids(Option<f64>, Option<Split>),
    /// Two liquids that a gas is more stable than, and neither of them alone beside it.
    GasOverLiquids,
    /// The blend as one phase of a density, mol/m3, is unstable, and no split was found.
    Unstable(f64, Rival),
}

impl Found {
    /// Two liquids without a vapour, all that there are or not.
    pub(super) fn liquids(self) -> Option<Split> {
        match self {
            Found::TwoLiquids(split) => Some(split),
            Found::Liquids(_, split) => split,
            _ => None,
        }
    }

    /// Whether they are liquids alone.
    pub(super) fn are_liquids(self) -> bool {
        matches!(self, Found::TwoLiquids(_) | Found::Liquids(..))
    }
}

/// The stable phases of composition `z` at a temperature in K and a pressure in Pa; `None` where
/// the equation has no density.
///
/// A split is sought between the blend and its rivals. What is more stable than a split is a third phase
/// beside it as a rule: three are sought from there. Where they do not settle, splits are sought between
/// any two of the rivals, then between the phases of the best split found and what is more stable than
/// they; of splits none of which is stable that of the lowest Gibbs energy counts.
pub fn phases(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
    pressure: f64,
) -> Option<Found> {
    let mut sought = Seeker::new(mixture, z, temperature, pressure);
    let is_liquid = |x: &MoleFractions, density: f64| is_liquid(mixture, x, temperature, density);
    let Some(own) = sought.one() else {
        return sought.without_one();
    };
    let density = own.density;
    let (worst, rivals) = match sought.begun(&own) {
        Begun::Found(found) => return Some(found),
        Begun::Rivals(worst, rivals) => (worst, rivals),
    };
    let beside_own = rivals.iter().map(|rival| (own, *rival));
    let others = rivals.iter().enumerate();
    let beside_others = others.flat_map(|(k, a)| rivals[k + 1..].iter().map(move |b| (*a, *b)));
    let mut stable = None;
    for (a, b) in beside_own.chain(beside_others) {
        stable = sought.between(&a, &b);
        if stable.is_some() || sought.repeats > MOST_REPEATS {
            break;
        }
    }
    let mut remaining = None;
    for _ in 0..MOST_RIVALS {
        let Some((best, _)) = sought.best.filter(|_| stable.is_none()) else {
            break;
        };
        remaining = sought.worst(&best);
        let Some(rival) = remaining else {
            break;
        };
        if let Some(found) = sought.three(&best, &rival, Some(density)) {
            return Some(found);
        }
        let PhasePair { liquid, vapor, .. } = best.pair;
        let own = [
            (vapor, best.pair.vapor_density),
            (liquid, best.pair.liquid_density),
        ];
        stable = own.into_iter().find_map(|(x, density)| {
            let excess = 0.0;
            sought.between(&Rival { x, density, excess }, &rival)
        });
        if sought.best.is_some_and(|(now, _)| now == best) {
            break;
        }
    }
    if let Some(stable) = stable {
        return Some(two(mixture, stable));
    }
    let found = sought.best.map(|(best, _)| two(mixture, best));
    let is_gas = |one: &Rival| !is_liquid(&one.x, one.density);
    Some(match found {
        Some(Found::Two(found)) => Found::TwoOfThree(found),
        // no gas beside them
        Some(Found::TwoLiquids(found)) if !remaining.as_ref().is_some_and(is_gas) => {
            Found::Liquids(Some(density), Some(found))
        }
        // no split settled, but liquids alone prove the liquid unstable
        None if !rivals.iter().chain([&worst, &own]).any(is_gas) => {
            Found::Liquids(Some(density), None)
        }
        // a gas beside them: three phases, of which two with the gas
        _ => match sought.best_with_gas {
            Some((found, _)) => Found::TwoOfThree(found),
            None if found.is_some() => Found::GasOverLiquids,
            None => Found::Unstable(density, worst),
        },
    })
}

/// Whether the blend is one liquid, or more of them and no gas, at a temperature in K and a pressure in Pa:
/// [`phases`], without what becomes of a gas.
pub(super) fn is_all_liquid(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
    pressure: f64,
) -> bool {
    let mut sought = Seeker::new(mixture, z, temperature, pressure);
    let is_liquid = |x: &MoleFractions, density: f64| is_liquid(mixture, x, temperature, density);
    let are_liquids = |found: &Split| is_liquid(&found.pair.vapor, found.pair.vapor_density);
    let Some(own) = sought.one() else {
        let found = sought.among_components();
        return found.is_some_and(|(found, _)| are_liquids(&found));
    };
    let mut liquids = match sought.begun(&own) {
        Begun::Found(Found::One(density)) => return is_dense(mixture, z, density),
        Begun::Found(found) => return found.are_liquids(),
        Begun::Rivals(_, rivals) => rivals,
    };
    let is_one = |rival: &Rival| is_liquid(&rival.x, rival.density);
    if is_one(&own) && liquids.iter().all(is_one) {
        return match phases(mixture, z, temperature, pressure) {
            Some(Found::One(density)) => is_dense(mixture, z, density),
            found => found.is_some_and(Found::are_liquids),
        };
    }
    // beside a gas liquids are alone where two of them are stable, or have a third for their rival
    liquids.retain(is_one);
    liquids.insert(0, own);
    let pairs = liquids.iter().enumerate();
    let mut pairs = pairs.flat_map(|(k, a)| liquids[k + 1..].iter().map(move |b| (a, b)));
    if let Some(stable) = pairs.find_map(|(a, b)| sought.between(a, b)) {
        return are_liquids(&stable);
    }
    let best = sought.best.filter(|(best, _)| are_liquids(best));
    best.is_some_and(|(best, _)| rival_of(mixture, &best.pair).as_ref().is_none_or(is_one))
}

/// The phases where they are two from those at another temperature or pressure; where it `is_proof`, held
/// against rivals.
pub fn two_near(
    mixture: &Mixture,
    z: &MoleFractions,
    (temperature, pressure): (f64, f64),
    near: &Split,
    is_proof: bool,
) -> Option<Found> {
    let sought = Sought::TemperaturePressure(temperature, pressure);
    let found = split(mixture, z, sought, near)?;
    let is_stable = !is_proof || !pair_is_unstable(mixture, &found.pair);
    is_stable.then(|| two(mixture, found))
}

/// Two phases, a liquid and a vapor or two liquids.
pub(super) fn two(mixture: &Mixture, found: Split) -> Found {
    let found = gas_as_vapor(mixture, found);
    let pair = &found.pair;
    if is_liquid(mixture, &pair.vapor, pair.temperature, pair.vapor_density) {
        Found::TwoLiquids(found)
    } else {
        Found::Two(found)
    }
}

/// Whether two rivals are one, but for how far each has settled.
fn are_alike(a: &Rival, b: &Rival) -> bool {
    let mut both = a.x.iter().zip(b.x.iter());
    (a.density / b.density).ln().abs() < SAME && both.all(|(a, b)| (a - b).abs() < SAME)
}

/// Whether two splits are one, but for rounding.
fn are_one(a: &Split, b: &Split) -> bool {
    let (a, b) = (&a.pair, &b.pair);
    let all = |pair: &PhasePair| [pair.liquid, pair.vapor];
    let mut both = all(a).into_iter().zip(all(b));
    (a.vapor_density / b.vapor_density).ln().abs() < ONE_SPLIT
        && both.all(|(x, y)| {
            x.iter()
                .zip(y.iter())
                .all(|(x, y)| (x - y).abs() < ONE_SPLIT)
        })
}

/// How far a flash has come with the first rival.
#[allow(clippy::large_enum_variant)] // both on the stack by intent
enum Begun {
    Found(Found),
    /// The most stable rival, and those of them that are phases, the most stable first, each once.
    Rivals(Rival, Vec<Rival>),
}

/// Seeks splits of a blend at a temperature, K, and a pressure, Pa.
struct Seeker<'a> {
    mixture: &'a Mixture,
    z: &'a MoleFractions,
    temperature: f64,
    pressure: f64,
    /// Those found that are not stable.
    beaten: Vec<Split>,
    /// Of these that of the lowest Gibbs energy, with this over T, J/(mol K).
    best: Option<(Split, f64)>,
    /// The same of those with a gas.
    best_with_gas: Option<(Split, f64)>,
    /// A rival of the last of them, and the most stable one of one.
    proof: Option<Rival>,
    last: Cell<Option<(Split, Option<Rival>)>>,
    /// How often an unstable split was found again.
    repeats: usize,
    /// Splits and rivals that three phases were sought from.
    led_nowhere: Vec<(Split, Rival)>,
}

impl<'a> Seeker<'a> {
    fn new(mixture: &'a Mixture, z: &'a MoleFractions, temperature: f64, pressure: f64) -> Self {
        Self {
            mixture,
            z,
            temperature,
            pressure,
            beaten: Vec::new(),
            best: None,
            best_with_gas: None,
            proof: None,
            last: Cell::new(None),
            repeats: 0,
            led_nowhere: Vec::new(),
        }
    }

    /// The blend as one phase, where it has a density.
    fn one(&self) -> Option<Rival> {
        let density = one_phase(self.mixture, self.z, self.temperature, self.pressure)?;
        Some(Rival {
            x: *self.z,
            density,
            excess: 0.0,
        })
    }

    /// What the first rival of the blend as one phase leads to, which mostly is the answer, or its rivals.
    fn begun(&mut self, own: &Rival) -> Begun {
        let (mixture, z, temperature) = (self.mixture, self.z, self.temperature);
        let (density, pressure) = (own.density, self.pressure);
        let Some(first) = first_rival(mixture, temperature, z, density, pressure) else {
            return Begun::Found(Found::One(density));
        };
        if let Some(found) = self.between(own, &first) {
            return Begun::Found(two(mixture, found));
        }
        if let Some((best, _)) = self.best {
            // the rival that proved it, found at once, before the most stable one
            let proof = self.proof;
            let found = proof.and_then(|rival| self.three(&best, &rival, Some(density)));
            let found = found.or_else(|| {
                let worst = self.worst(&best)?;
                self.three(&best, &worst, Some(density))
            });
            if let Some(found) = found {
                return Begun::Found(found);
            }
        }
        let mut rivals = rivals(mixture, temperature, z, density, pressure);
        rivals.sort_by(|a, b| b.excess.total_cmp(&a.excess));
        let worst = *rivals.first().unwrap_or(&first);
        let mut distinct: Vec<Rival> = Vec::new();
        for rival in rivals
            .into_iter()
            .filter(|rival| rival.is_phase(mixture, temperature, pressure))
        {
            if !distinct.iter().any(|known| are_alike(known, &rival)) {
                distinct.push(rival);
            }
        }
        distinct.truncate(MOST_DISTINCT);
        Begun::Rivals(worst, distinct)
    }

    /// The most stable rival of a split.
    fn worst(&self, split: &Split) -> Option<Rival> {
        if let Some((_, rival)) = self.last.get().filter(|(own, _)| own == split) {
            return rival;
        }
        let rival = rival_of(self.mixture, &split.pair);
        self.last.set(Some((*split, rival)));
        rival
    }

    /// The three phases that a split and its rival lead to, where they are stable: a vapor over two
    /// liquids, or more liquids than two.
    fn three(&mut self, split: &Split, rival: &Rival, density: Option<f64>) -> Option<Found> {
        let is_known = |(own, with): &(Split, Rival)| own == split && are_alike(with, rival);
        if self.led_nowhere.iter().any(is_known) {
            return None;
        }
        self.led_nowhere.push((*split, *rival));
        let (mixture, place) = (self.mixture, (self.temperature, self.pressure));
        let of = |start: ThreePhases| ThreePhases::of(mixture, self.z, place, &start, true);
        let start = ThreePhases::beside(mixture, self.z, split, rival);
        let three = start.and_then(of).or_else(|| {
            let parted = self.parted(split, rival)?;
            of(ThreePhases::with_parted(split, &parted))
        })?;
        Some(match three.has_gas(mixture) {
            true => Found::Three(three),
            false => Found::Liquids(density, Some(*split)),
        })
    }

    /// The liquid of a split by itself, between it and a rival.
    fn parted(&self, split: &Split, rival: &Rival) -> Option<Split> {
        let pair = &split.pair;
        let own = Rival {
            x: pair.liquid,
            density: pair.liquid_density,
            excess: 0.0,
        };
        let place = (self.temperature, self.pressure);
        settled(self.mixture, &own.x, place, [&own, rival])
    }

    /// The split between two phases, where it is stable.
    fn between(&mut self, a: &Rival, b: &Rival) -> Option<Split> {
        let (mixture, t) = (self.mixture, self.temperature);
        // a gas in too much of which a liquid was tested raises all its potentials: then the
        // contents of its rival tell more
        let alone = |phase: &Rival| Rival {
            excess: 0.0,
            ..*phase
        };
        let place = (t, self.pressure);
        let found = settled(mixture, self.z, place, [a, b])
            .or_else(|| settled(mixture, self.z, place, [&alone(a), &alone(b)]))?;
        let found = gas_as_vapor(mixture, found);
        if self.beaten.iter().any(|known| are_one(known, &found)) {
            self.repeats += 1;
            return None;
        }
        self.proof = first_rival_of(mixture, &found.pair);
        if self.proof.is_none() {
            return Some(found);
        }
        self.beaten.push(found);
        let (vapor, density) = (&found.pair.vapor, found.pair.vapor_density);
        let logs = logarithms(mixture, vapor, t, density);
        let components = mixture.components().iter().zip(self.z.iter());
        let gibbs = components
            .zip(logs)
            .map(|((component, z), log)| z * component.record.gas_constant_j_mol_k * log)
            .sum();
        let is_better = |best: &Option<(Split, f64)>| best.is_none_or(|(_, best)| gibbs < best);
        if is_better(&self.best) {
            self.best = Some((found, gibbs));
        }
        if is_better(&self.best_with_gas) && !is_liquid(mixture, vapor, t, density) {
            self.best_with_gas = Some((found, gibbs));
        }
        None
    }

    /// The phases of a blend that has no density as one.
    fn without_one(&mut self) -> Option<Found> {
        let (found, is_stable) = self.among_components()?;
        if is_stable {
            return Some(two(self.mixture, found));
        }
        let rival = self.worst(&found)?;
        self.three(&found, &rival, None).or_else(|| {
            Some(match two(self.mixture, found) {
                Found::Two(found) => Found::TwoOfThree(found),
                _ if is_liquid(self.mixture, &rival.x, self.temperature, rival.density) => {
                    Found::Liquids(None, Some(found))
                }
                _ => Found::GasOverLiquids,
            })
        })
    }

    /// The split of a blend that is no phase at all, and whether it is stable: between phases of nearly
    /// one component each, a stable one before others.
    fn among_components(&mut self) -> Option<(Split, bool)> {
        let count = self.mixture.count();
        let there = (0..count).filter(|&k| self.z[k] > 0.0);
        let rich: Vec<Rival> = there
            .filter_map(|rich| {
                let mut content = [0.0; MAX_COMPONENTS];
                for (k, z) in self.z.iter().enumerate() {
                    content[k] = NEXT_TO_NOTHING * z;
                }
                content[rich] += 1.0;
                let x = MoleFractions::new(&content[..count]);
                let density = one_phase(self.mixture, &x, self.temperature, self.pressure)?;
                let excess = 0.0;
                Some(Rival { x, density, excess })
            })
            .collect();
        let pairs = rich.iter().enumerate();
        let mut pairs = pairs.flat_map(|(k, a)| rich[k + 1..].iter().map(move |b| (a, b)));
        let stable = pairs.find_map(|(a, b)| self.between(a, b));
        let best = self.best.map(|(best, _)| (best, false));
        stable.map(|stable| (stable, true)).or(best)
    }
}

/// A split whose vapor is the gas, where the gas has more moles a volume than the liquid: hydrogen
/// under pressure beside a liquid of large molecules.
fn gas_as_vapor(mixture: &Mixture, found: Split) -> Split {
    let pair = &found.pair;
    let is_liquid = |x, density| is_liquid(mixture, x, pair.temperature, density);
    let is_swapped =
        is_liquid(&pair.vapor, pair.vapor_density) && !is_liquid(&pair.liquid, pair.liquid_density);
    if is_swapped { swapped(&found) } else { found }
}
