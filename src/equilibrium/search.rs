//! Points of a blend's lines sought by stability alone: the last rung, for what neighbours, cold
//! starts and the traced envelope do not lead to.
//!
//! Along an isotherm or an isobar the blend as one phase is stable up to its line. Where it stops
//! being stable its rival is the other phase, nearly: from there Newton's method is tried, and the
//! edge is halved until it settles on phases that are stable.

use std::cell::OnceCell;

use super::bubble_dew::{self, Branch, PhasePair};
use super::flash::{self, Found};
use super::one_phase::{
    frost_pressure, logarithms, no_liquid, no_two_phases, one_phase, rises_between,
};
use super::raoult::{raoult_pressure, raoult_temperature};
use super::split::{Fixed, Sought, Split, split};
use super::stability::{Rival, first_rival, is_unstable, pair_is_unstable, rival, rival_of};
use super::three_phases::ThreePhases;
use crate::error::{Error, Result};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};

/// Halvings of the edge.
const HALVINGS: usize = 16;
/// The same between two stable states of one branch, which nothing need part.
const MOST_UNBROKEN: usize = 3;
/// The same where a flash answers each.
const HALVINGS_OVER_LIQUIDS: usize = 14;
/// Places with more liquids than two after which no bubble point over two is expected below.
const MOST_PARTED: usize = 3;
/// Ratio of pressures that these are not narrowed beyond.
const NARROW: f64 = 1.01;
/// Attempts from the fugacities of liquids, each at a pressure nearer to that of the gas over them.
const COMPRESSED: usize = 3;
/// Of how many halvings the most stable rival is sought at one.
const BETWEEN_RIVALS: usize = 3;
/// Of how many halvings what leads to the edge is sought from a split at one.
const BETWEEN_SPLITS: usize = 6;
/// Difference in ln density within which a phase is on one branch of an isotherm.
const ONE_BRANCH: f64 = 0.5;
/// Part of the reducing density from which on a gas is too thin for an upper line below it.
const A_GAS: f64 = 0.1;
/// Steps of pressure along an isotherm.
const BY_PRESSURE: f64 = 1.35;
/// Steps of temperature along an isobar.
const BY_TEMPERATURE: f64 = 1.025;
/// Relative width of an edge that is rounding.
const SLACK: f64 = 1e-9;
/// Lowest pressure at which a dew point is looked for, Pa.
const LOWEST: f64 = 1e-7;

/// A blend within its limits.
pub(super) struct Search<'a> {
    pub(super) mixture: &'a Mixture,
    pub(super) z: &'a MoleFractions,
    /// Coldest and hottest, K.
    pub(super) temperatures: (f64, f64),
    /// Highest pressure, Pa.
    pub(super) highest_pressure: f64,
}

/// The blend as one phase, of a density in mol/m3.
#[derive(Clone, Copy)]
enum One {
    Thin(f64),
    Dense(f64),
    Unstable(f64),
}

/// What is held while the other is followed.
#[derive(Clone, Copy)]
enum Along {
    Isotherm(f64),
    Isobar(f64),
}

impl Along {
    fn temperature_and_pressure(self, value: f64) -> (f64, f64) {
        match self {
            Along::Isotherm(temperature) => (temperature, value),
            Along::Isobar(pressure) => (value, pressure),
        }
    }
}

/// Whether two densities of a blend, mol/m3, lie on one branch of its isotherm.
fn is_one_branch(a: f64, b: f64) -> bool {
    (a / b).ln().abs() < ONE_BRANCH
}

impl Search<'_> {
    fn one(&self, along: Along, value: f64) -> Option<One> {
        let (temperature, pressure) = along.temperature_and_pressure(value);
        let density = one_phase(self.mixture, self.z, temperature, pressure)?;
        let is_unstable = is_unstable(self.mixture, temperature, self.z, density, pressure);
        let reducing = self.mixture.at_composition(self.z).reducing_density;
        Some(if is_unstable {
            One::Unstable(density)
        } else if density > reducing {
            One::Dense(density)
        } else {
            One::Thin(density)
        })
    }

    /// As [`is_one_branch`]; near the top an isotherm may rise from a gas to what is dense.
    fn is_one_branch(&self, along: Along, a: f64, b: f64) -> bool {
        let rises = |temperature| {
            let fixed = self.mixture.at_composition(self.z);
            rises_between(&fixed.isotherm(temperature), a.min(b), a.max(b))
        };
        is_one_branch(a, b) || matches!(along, Along::Isotherm(t) if rises(t))
    }

    fn rival(
        &self,
        of: impl Fn(&Mixture, f64, &MoleFractions, f64, f64) -> Option<Rival>,
        along: Along,
        value: f64,
        density: f64,
    ) -> Option<Rival> {
        let (temperature, pressure) = along.temperature_and_pressure(value);
        of(self.mixture, temperature, self.z, density, pressure)
    }

    fn is_phase(&self, along: Along, value: f64, rival: &Rival) -> bool {
        let (temperature, pressure) = along.temperature_and_pressure(value);
        rival.is_phase(self.mixture, temperature, pressure)
    }

    fn lost(branch: Branch, along: Along) -> Error {
        let by = match along {
            Along::Isotherm(_) => "temperature",
            Along::Isobar(_) => "pressure",
        };
        bubble_dew::not_found(branch, by)
    }

    /// From a value at which the blend is stable to one at which it is not, or is of another
    /// density: the point between, of one of two branches or, without one, of either.
    fn edge(
        &self,
        branch: Option<Branch>,
        along: Along,
        (mut stable, mut own): (f64, f64),
        (mut beyond, mut there): (f64, Option<One>),
    ) -> Result<(Branch, PhasePair)> {
        let branches = [Branch::Bubble, Branch::Dew].into_iter();
        let branches = branches.filter(|one| branch.is_none_or(|branch| branch == *one));
        let mut unbroken = 0;
        let mut rivals = Vec::new();
        for halving in 0..HALVINGS {
            if let Some(One::Thin(density) | One::Dense(density)) = there
                && self.is_one_branch(along, density, own)
            {
                unbroken += 1;
                if unbroken > MOST_UNBROKEN {
                    break;
                }
            }
            if let Some(One::Unstable(density)) = there {
                // the first rival of an end is found at once, the most stable by all trials
                if rivals.is_empty() {
                    rivals.extend(self.rival(first_rival, along, beyond, density));
                } else if rivals.len() == 1 && halving % BETWEEN_RIVALS == BETWEEN_RIVALS - 1 {
                    rivals.extend(self.rival(rival, along, beyond, density));
                }
                let from = |other: (&MoleFractions, f64)| {
                    let (stable, other) = ((stable, own), (density, other));
                    let settled = |branch| self.settled(branch, along, stable, beyond, other);
                    let mut branches = branches.clone();
                    branches.find_map(|branch| Some((branch, settled(branch)?)))
                };
                let own = rivals.iter();
                let found = own.filter(|rival| self.is_phase(along, beyond, rival));
                let mut found = found.map(|rival| from((&rival.x, rival.density)));
                let found = found.find_map(|found| found).or_else(|| {
                    // where both phases are nearly one the split leads nearer than its rival does
                    let (x, density) = (halving % BETWEEN_SPLITS == BETWEEN_SPLITS - 1)
                        .then(|| self.incipient(along, beyond))
                        .flatten()?;
                    from((&x, density))
                });
                if let Some(found) = found {
                    return Ok(found);
                }
            }
            let middle = (stable * beyond).sqrt();
            match (self.one(along, middle), branch) {
                (Some(One::Thin(density)), Some(Branch::Dew))
                | (Some(One::Dense(density)), Some(Branch::Bubble)) => {
                    (stable, own) = (middle, density);
                }
                (Some(One::Thin(density) | One::Dense(density)), None)
                    if self.is_one_branch(along, density, own) =>
                {
                    (stable, own) = (middle, density);
                }
                (other, _) => {
                    (beyond, there) = (middle, other);
                    rivals.clear();
                }
            }
        }
        Err(Self::lost(branch.unwrap_or(Branch::Bubble), along))
    }

    /// The phase that there is least of at a value: its mole fractions and density, mol/m3.
    fn incipient(&self, along: Along, value: f64) -> Option<(MoleFractions, f64)> {
        let (temperature, pressure) = along.temperature_and_pressure(value);
        let split = match flash::phases(self.mixture, self.z, temperature, pressure)? {
            Found::Three(three) => return Some(three.least()),
            Found::Two(split) | Found::TwoOfThree(split) => split,
            found => found.liquids()?,
        };
        let pair = split.pair;
        Some(if split.vapor_fraction > 0.5 {
            (pair.liquid, pair.liquid_density)
        } else {
            (pair.vapor, pair.vapor_density)
        })
    }

    /// Newton's method from another phase beside the blend of a density; what it settles on must be
    /// stable.
    fn settled(
        &self,
        branch: Branch,
        along: Along,
        (stable, own): (f64, f64),
        beyond: f64,
        (density, other): (f64, (&MoleFractions, f64)),
    ) -> Option<PhasePair> {
        let other = (*other.0, other.1);
        let (temperature, pressure) = along.temperature_and_pressure(stable);
        let mut densities = vec![own];
        if is_one_branch(density, own) {
            densities.push(density);
        }
        densities.into_iter().find_map(|own| {
            let (liquid, vapor) = match branch {
                Branch::Bubble => ((*self.z, own), other),
                Branch::Dew => (other, (*self.z, own)),
            };
            let start = PhasePair {
                temperature,
                pressure,
                liquid: liquid.0,
                vapor: vapor.0,
                liquid_density: liquid.1,
                vapor_density: vapor.1,
                liquids: None,
                steps: 0,
                residual: f64::INFINITY,
            };
            if !start.is_two(self.mixture) {
                return None;
            }
            let (mixture, z) = (self.mixture, self.z);
            let (found, value) = match along {
                Along::Isotherm(t) => {
                    let found = bubble_dew::near_at_temperature(mixture, z, branch, t, &start)?;
                    (found, found.pressure)
                }
                Along::Isobar(p) => {
                    let found = bubble_dew::near_at_pressure(mixture, z, branch, p, &start)?;
                    if found.temperature < self.temperatures.0 {
                        return None;
                    }
                    (found, found.temperature)
                }
            };
            // on the near side of what is unstable: what counted as stable may have had a rival that
            // was not met
            let near = if stable < beyond {
                value < beyond * (1.0 + 1e-6)
            } else {
                value > beyond * (1.0 - 1e-6)
            };
            (near && !pair_is_unstable(self.mixture, &found)).then_some(found)
        })
    }

    /// Whether the blend is one liquid, or more of them and no gas, at a temperature in K and a pressure
    /// in Pa.
    pub(super) fn is_liquid(&self, temperature: f64, pressure: f64) -> bool {
        flash::is_all_liquid(self.mixture, self.z, temperature, pressure)
    }

    /// The density of the blend, mol/m3, where it is one phase at a temperature in K and a pressure in Pa.
    pub(super) fn one_phase(&self, temperature: f64, pressure: f64) -> Option<f64> {
        match self.one(Along::Isotherm(temperature), pressure)? {
            One::Dense(density) | One::Thin(density) => Some(density),
            One::Unstable(_) => None,
        }
    }

    /// Whether the blend at its lowest temperature and a pressure in Pa lies on the hotter side of a
    /// branch.
    pub(super) fn starts_beyond(&self, branch: Branch, pressure: f64) -> bool {
        let coldest = self.temperatures.0;
        match branch {
            Branch::Bubble => !self.is_liquid(coldest, pressure),
            Branch::Dew => {
                let one = self.one(Along::Isobar(pressure), coldest);
                matches!(one, Some(One::Thin(_)))
            }
        }
    }

    /// The line of lower pressure at a temperature in K: dew points, or, where a gas comes out of what
    /// is no liquid any more, bubble points.
    pub(super) fn lower_at_temperature(&self, temperature: f64) -> Result<(Branch, PhasePair)> {
        let along = Along::Isotherm(temperature);
        let lost = || Self::lost(Branch::Dew, along);
        // what freezes out of the gas first leaves no dew point
        if let Some(frost) = frost_pressure(self.mixture, self.z, temperature)
            && let Some(One::Thin(_)) = self.one(along, frost)
        {
            return Err(no_liquid());
        }
        let raoult = raoult_pressure(self.mixture, self.z, Branch::Dew, temperature);
        // Most lines are where Raoult's law says. That the blend is stable costs far more to say than
        // that it is not: down to the gas, then up to the line.
        let mut low = raoult.min(0.5 * self.highest_pressure);
        let mut above = None;
        let mut own = loop {
            if low.is_nan() || low < LOWEST {
                return Err(lost());
            }
            match self.one(along, low) {
                Some(One::Thin(density)) => break density,
                there => {
                    above = Some((low, there));
                    low /= BY_PRESSURE;
                }
            }
        };
        if let Some(above) = above
            && let Ok(found) = self.edge(None, along, (low, own), above)
        {
            return Ok(found);
        }
        while low < self.highest_pressure {
            let high = (low * BY_PRESSURE).min(self.highest_pressure);
            let there = self.one(along, high);
            match there {
                Some(One::Thin(density)) => (low, own) = (high, density),
                // two phases may lie between, near the top
                Some(One::Dense(density)) if self.is_one_branch(along, density, own) => {
                    let found = self.edge(None, along, (low, own), (high, there));
                    if found.is_ok() {
                        return found;
                    }
                    (low, own) = (high, density);
                }
                there => return self.edge(None, along, (low, own), (high, there)),
            }
        }
        Err(no_two_phases())
    }

    /// The bubble point at a temperature in K, or, above the temperatures of bubble points, the
    /// dew point of higher pressure.
    ///
    /// # Errors
    /// [`Error::AboveRange`] where two phases reach up to the highest pressure.
    pub(super) fn upper_at_temperature(&self, temperature: f64) -> Result<(Branch, PhasePair)> {
        let along = Along::Isotherm(temperature);
        let lost = || Self::lost(Branch::Bubble, along);
        let most = self.highest_pressure;
        let raoult = raoult_pressure(self.mixture, self.z, Branch::Bubble, temperature);
        let mut high = (1.5 * raoult).clamp(1e-3 * most, most);
        let dense = |one: Option<One>| match one {
            Some(One::Dense(density)) => Some(density),
            _ => None,
        };
        let mut own = loop {
            if let Some(density) = dense(self.one(along, high)) {
                break density;
            }
            if high >= most {
                let found = flash::phases(self.mixture, self.z, temperature, most);
                if let Some(liquids) = found.and_then(Found::liquids) {
                    return self
                        .bubble_over_liquids(temperature, liquids)
                        .map(|found| (Branch::Bubble, found))
                        .ok_or_else(lost);
                }
                return match found {
                    Some(
                        Found::Two(_)
                        | Found::Three(_)
                        | Found::TwoOfThree(_)
                        | Found::GasOverLiquids
                        | Found::Unstable(..),
                    ) => Err(Error::AboveRange {
                        point: Branch::Bubble.point(),
                        temperature,
                        pressure: most,
                    }),
                    _ => Err(lost()),
                };
            }
            high = (high * BY_PRESSURE.powi(2)).min(most);
        };
        let gas = A_GAS * self.mixture.at_composition(self.z).reducing_density;
        while high > LOWEST {
            let low = high / BY_PRESSURE;
            let there = self.one(along, low);
            let from = (high, own);
            match there {
                Some(One::Dense(density)) => (high, own) = (low, density),
                // no line between, where the blend expands to a gas as one phase
                Some(One::Thin(density)) => match self.edge(None, along, from, (low, there)) {
                    Err(_) if density > gas => (high, own) = (low, density),
                    found => return found,
                },
                there => {
                    let below = flash::phases(self.mixture, self.z, temperature, low);
                    if let Some(liquids) = below.and_then(Found::liquids)
                        && let Some(found) = self.bubble_over_liquids(temperature, liquids)
                    {
                        return Ok((Branch::Bubble, found));
                    }
                    return self.edge(None, along, from, (low, there));
                }
            }
        }
        Err(lost())
    }

    /// The bubble point over liquids that a blend has parted into at a higher pressure: from there
    /// downward until there is a gas beside them.
    fn bubble_over_liquids(&self, temperature: f64, mut liquids: Split) -> Option<PhasePair> {
        let mut high = liquids.pair.pressure;
        if let Some(found) = self.under_ideal_gas(liquids)
            && found.pressure < high * (1.0 + SLACK)
        {
            return Some(found);
        }
        let (mut low, mut near, mut parted) = (None, None::<ThreePhases>, 0);
        for _ in 0..HALVINGS_OVER_LIQUIDS {
            if low.is_some_and(|low| high < low * NARROW) {
                break;
            }
            let middle = low.map_or(high / BY_PRESSURE.powi(2), |low: f64| (low * high).sqrt());
            let mut below = liquids;
            let (mixture, z) = (self.mixture, self.z);
            let beside = near.and_then(|near| near.beside_these(mixture, z, (temperature, middle)));
            let there = match beside {
                Some(three) if three.has_gas(mixture) => Found::Three(three),
                Some(three) => Found::Liquids(None, Some(three.liquids())),
                None => flash::phases(mixture, z, temperature, middle)?,
            };
            let gas = match there {
                Found::Liquids(..) if parted == MOST_PARTED => return None,
                there @ (Found::TwoLiquids(found) | Found::Liquids(_, Some(found))) => {
                    parted += usize::from(matches!(there, Found::Liquids(..)));
                    (high, liquids) = (middle, found);
                    continue;
                }
                // the lighter liquid, expanded to a gas's density
                Found::Two(found) if found.is_a_step_from(&liquids) => {
                    (high, liquids) = (middle, found);
                    continue;
                }
                Found::TwoOfThree(found) if found.is_a_step_from(&liquids) => {
                    let Some(gas) = rival_of(self.mixture, &found.pair) else {
                        (high, liquids) = (middle, found);
                        continue;
                    };
                    (gas.x, gas.density)
                }
                Found::Three(three) => {
                    near = Some(three);
                    below = three.liquids();
                    three.phases[0]
                }
                Found::Two(Split { pair, .. }) | Found::TwoOfThree(Split { pair, .. }) => {
                    (pair.vapor, pair.vapor_density)
                }
                _ => return None,
            };
            low = Some(middle);
            let is_between = |found: &PhasePair| {
                (middle * (1.0 - SLACK)..high * (1.0 + SLACK)).contains(&found.pressure)
            };
            let found = self.over_liquids(&below, gas).filter(is_between);
            if found.is_some() {
                return found;
            }
        }
        None
    }

    /// The bubble point at the temperature of two liquids and a gas that there is below it.
    fn over_liquids(&self, liquids: &Split, gas: (MoleFractions, f64)) -> Option<PhasePair> {
        let fixed = Fixed::Temperature(liquids.pair.temperature);
        ThreePhases::over(liquids, gas).stable_bubble_point(self.mixture, self.z, fixed)
    }

    /// The bubble point over liquids from their own fugacities: those of the gas over them, as if it were
    /// an ideal one. Newton's method needs no more where the pressure is low.
    fn under_ideal_gas(&self, mut liquids: Split) -> Option<PhasePair> {
        let (mixture, count) = (self.mixture, self.mixture.count());
        let temperature = liquids.pair.temperature;
        for _ in 0..COMPRESSED {
            let PhasePair { liquid, .. } = liquids.pair;
            let logs = logarithms(mixture, &liquid, temperature, liquids.pair.liquid_density);
            let amounts: [f64; MAX_COMPONENTS] = std::array::from_fn(|k| match k < count {
                true => logs[k].exp(),
                false => 0.0,
            });
            let density: f64 = amounts[..count].iter().sum();
            let vapor = MoleFractions::new(&amounts[..count]);
            let fixed = mixture.at_composition(&vapor);
            if density > fixed.reducing_density {
                return None;
            }
            let rt = fixed.isotherm(temperature).rt;
            let found = self.over_liquids(&liquids, (vapor, density));
            if found.is_some() {
                return found;
            }
            // a liquid is compressed: nearer to the pressure sought its fugacities are lower
            let sought = Sought::TemperaturePressure(temperature, density * rt);
            liquids = split(mixture, self.z, sought, &liquids)?;
        }
        None
    }

    /// A branch at a pressure in Pa: from temperatures beyond the line to it, the colder end first
    /// for bubble points and the hotter for dew points. With a gas in it a blend may be a liquid on
    /// the hotter side of its bubble point; that side is looked at last.
    pub(super) fn at_pressure(&self, branch: Branch, pressure: f64) -> Result<PhasePair> {
        let along = Along::Isobar(pressure);
        let (coldest, hottest) = self.temperatures;
        let reducing = self.mixture.at_composition(self.z).reducing_temperature;
        let mut grid = vec![coldest];
        while let Some(&last) = grid.last()
            && last < hottest
        {
            grid.push((last * BY_TEMPERATURE).min(hottest));
        }
        if branch == Branch::Dew {
            grid.reverse();
        }
        let own = |one: &Option<One>| match (one, branch) {
            (Some(One::Dense(density)), Branch::Bubble)
            | (Some(One::Thin(density)), Branch::Dew) => Some(*density),
            _ => None,
        };
        // each temperature is tested once, whichever way it is come to
        let tested: Vec<OnceCell<Option<One>>> = vec![OnceCell::new(); grid.len()];
        let one = |place: usize| *tested[place].get_or_init(|| self.one(along, grid[place]));
        let (mixture, z) = (self.mixture, self.z);
        let density = mixture.at_composition(z).reducing_density;
        let may_be_own = |place: usize| {
            let own = one_phase(mixture, z, grid[place], pressure);
            own.is_some_and(|own| (own > density) == (branch == Branch::Bubble))
        };
        // most lines are where Raoult's law says
        let guess = raoult_temperature(self.mixture, self.z, branch, pressure).unwrap_or(reducing);
        let beside = |t: &f64| match branch {
            Branch::Bubble => *t < guess / BY_TEMPERATURE.powi(3),
            Branch::Dew => *t > guess * BY_TEMPERATURE.powi(3),
        };
        let first = grid.partition_point(beside).saturating_sub(1);
        let onward = |places: &mut dyn Iterator<Item = usize>| {
            let mut before: Option<(f64, f64)> = None;
            for place in places {
                if before.is_none() && !may_be_own(place) {
                    continue;
                }
                let (value, one) = (grid[place], one(place));
                match (before, own(&one)) {
                    (_, Some(density)) => before = Some((value, density)),
                    (Some(from), None) => {
                        let found = self.edge(Some(branch), along, from, (value, one));
                        return found.ok().map(|(_, pair)| pair);
                    }
                    (None, None) => {}
                }
            }
            None
        };
        let all = 0..grid.len();
        // back to its side, then on to the line
        let from = (0..=first)
            .rev()
            .find(|&place| may_be_own(place) && own(&one(place)).is_some());
        from.and_then(|from| onward(&mut (from..grid.len())))
            .or_else(|| onward(&mut all.clone()))
            .or_else(|| onward(&mut all.rev()))
            .ok_or_else(|| Self::lost(branch, along))
    }
}
