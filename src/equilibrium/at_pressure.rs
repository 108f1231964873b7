//! The lines of a blend at a pressure: cold starts, the traced envelope, and the lines at
//! temperatures on both sides of the one sought.

use super::bubble_dew::{self, Branch, PhasePair};
use super::line::{BlendLine, reducing_temperature, search};
use super::stability::pair_is_unstable;
use super::trial_phase::reduced;
use super::{BlendLimits, FAR_FROM_CRITICAL, at_temperature::SAME, end_of_line};
use crate::error::{Error, RangeUnit, Result, reasons};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::{bracketed_root, golden_section};

/// How far above the highest pressure of a traced envelope there is none for certain, in parts.
const ABOVE: f64 = 1e-3;
/// A step down the line, in parts of the temperature.
const COOLER: f64 = 0.9;
/// Places between the lowest temperature and the one found at which a line that rises is lower.
const BELOW: [f64; 8] = [0.98, 0.0, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8];
/// The first step to either side of a point that has a rival, in parts of the temperature.
const ASIDE: f64 = 1e-3;
/// Such steps, each twice as wide as the last.
const STEPS_ASIDE: usize = 8;
/// Part of the reducing temperature at which a gas is one where no temperature was found.
const COLD: f64 = 0.8;
/// Part of the reducing temperature up to which a bubble point is looked for.
const BEYOND: f64 = 1.5;
/// Reduced temperature from which a component is a gas that a bubble line may fall beside.
const A_GAS: f64 = 1.02;
/// Parts of a blend's temperatures at whose ends a pressure is looked for last.
const ANYWHERE: u32 = 24;
/// How often such a part is halved where nothing else finds the line.
const HALVINGS: u32 = 4;
/// How far in ln p a line may be at an end of a part to reach the pressure between.
const NEARLY: f64 = 0.3;
/// The same where the line ends between.
const NEXT_TO_AN_END: f64 = 0.8;
/// Part of the reducing density above which what is no liquid may be denser than the gas that comes out
/// of it.
const DENSE: f64 = 0.5;
/// Steps towards where a line turns.
const TURNS: usize = 30;

/// Whether a component is a gas at a temperature in K.
fn has_gas(mixture: &Mixture, z: &MoleFractions, temperature: f64) -> bool {
    let reduced = reduced(mixture, z, temperature);
    reduced.iter().flatten().any(|&reduced| reduced > A_GAS)
}

/// A temperature, K, and ln of a line's pressure there to the one sought; none without an answer.
#[derive(Clone, Copy)]
struct Sample {
    temperature: f64,
    off: Option<f64>,
    /// Whether the line was not solved for: if there is one, it is farther off than [`NEARLY`].
    is_far: bool,
}

impl Sample {
    fn far(temperature: f64, off: f64) -> Self {
        Self {
            temperature,
            off: Some(off),
            is_far: true,
        }
    }
}

/// Temperatures between which a line crosses a pressure, coldest first. Where both ends have one sign,
/// or one of them no answer, the line may cross it twice between them or end behind a crossing: halved
/// so often.
fn crossings(
    a: Sample,
    b: Sample,
    halvings: u32,
    sample: &impl Fn(f64) -> Sample,
    solved: &impl Fn(f64) -> Sample,
) -> Vec<(f64, f64)> {
    let is_between = match (a.off, b.off) {
        (Some(low), Some(high)) if low * high <= 0.0 => {
            if a.is_far || b.is_far {
                let [a, b] = [a, b].map(|one| solved(one.temperature));
                return crossings(a, b, halvings, sample, solved);
            }
            return vec![(a.temperature, b.temperature)];
        }
        (Some(low), Some(high)) => low.abs().min(high.abs()) < NEARLY,
        (Some(off), None) | (None, Some(off)) => off.abs() < NEXT_TO_AN_END,
        (None, None) => false,
    };
    if !is_between || halvings == 0 {
        return Vec::new();
    }
    let middle = sample(0.5 * (a.temperature + b.temperature));
    let mut found = crossings(a, middle, halvings - 1, sample, solved);
    found.extend(crossings(middle, b, halvings - 1, sample, solved));
    found
}

/// Temperatures about where a line turns between three, beyond the pressure sought, coldest first;
/// none where all three are not on one side of it, the middle one nearest.
fn turn([a, b, c]: [Sample; 3], sample: &impl Fn(f64) -> Sample) -> Vec<(f64, f64)> {
    let (Some(first), Some(middle), Some(last)) = (a.off, b.off, c.off) else {
        return Vec::new();
    };
    let sign = middle.signum();
    let (first, middle, last) = (sign * first, sign * middle, sign * last);
    // a parabola's vertex lies below the lowest of three points by a quarter of what they differ by
    let turns = middle < first.min(last) && 2.0 * middle < first.max(last);
    if !turns {
        return Vec::new();
    }
    let off = |temperature| {
        Ok(sample(temperature)
            .off
            .map_or(f64::INFINITY, |off| sign * off))
    };
    let range = (a.temperature, c.temperature);
    match golden_section(off, range, TURNS, |off| off <= 0.0) {
        Ok((turned, off)) if off <= 0.0 => {
            vec![(a.temperature, turned), (turned, c.temperature)]
        }
        _ => Vec::new(),
    }
}

impl BlendLine {
    /// A branch at a pressure in Pa; the lower temperature where two have that pressure.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] above the branch's highest pressure or that of the blend;
    /// [`Error::NotConverged`].
    pub fn at_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Result<PhasePair> {
        if let Some(high) = self.exceeded(mixture, z, pressure) {
            return Err(Error::OutOfRange {
                quantity: "pressure",
                value: pressure,
                low: 0.0,
                high,
                unit: RangeUnit::Pascal,
                range: reasons::RANGE_COMMON.into(),
            });
        }
        let limits = BlendLimits::of(mixture);
        let found = self.where_it_rises(mixture, z, branch, pressure);
        // Of two liquids none leads to the bubble point at a pressure but those at temperatures.
        let is_lost = match &found {
            Err(Error::NotConverged { .. }) => true,
            Err(Error::OutOfRange { low, high, .. }) => (*low..=*high).contains(&pressure),
            _ => false,
        };
        let has_more = match branch {
            Branch::Dew => false,
            Branch::Bubble => is_lost || self.may_fall(mixture, z, pressure, &found),
        };
        if !has_more {
            return found;
        }
        // Beside a gas a bubble line falls before it rises: of its temperatures the lowest.
        let end = BEYOND * reducing_temperature(mixture, z);
        let below = match &found {
            Ok(found) => found.temperature * (1.0 - SAME),
            Err(_) => limits.hottest.min(end.max(limits.coldest)),
        };
        let range = (limits.coldest, below);
        self.anywhere(mixture, z, branch, pressure, range, found.is_err())
            .or(found)
    }

    /// Whether a branch lies below the blend's lowest temperature at a pressure in Pa, where it was not
    /// found: there the blend is no liquid yet, or all vapor still.
    pub fn is_below(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> bool {
        search(mixture, z).starts_beyond(branch, pressure)
    }

    /// Whether a bubble line may have a pressure in Pa below the temperature found: a component is a gas
    /// there, and somewhere below the blend is no liquid.
    fn may_fall(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        pressure: f64,
        found: &Result<PhasePair>,
    ) -> bool {
        let Ok(found) = found else {
            return has_gas(mixture, z, COLD * reducing_temperature(mixture, z));
        };
        let search = search(mixture, z);
        let coldest = BlendLimits::of(mixture).coldest;
        let temperature = found.temperature;
        let mut looked_at = BELOW
            .into_iter()
            .map(|part| coldest + part * (temperature - coldest));
        has_gas(mixture, z, temperature)
            && !looked_at.all(|temperature| search.is_liquid(temperature, pressure))
    }

    /// A branch at a pressure in Pa, of two temperatures the lower where the line begins with
    /// rising pressure.
    fn where_it_rises(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Result<PhasePair> {
        // what was traced refuses at once
        if let Some(envelope) = self.traced()
            && pressure > envelope.cricondenbar.pressure * (1.0 + ABOVE)
            && self.is_whole(mixture, z)
        {
            return Err(end_of_line::too_high(envelope, branch, pressure));
        }
        let safe = FAR_FROM_CRITICAL * reducing_temperature(mixture, z);
        let first = bubble_dew::cold_at_pressure(mixture, z, branch, pressure);
        if let Some(found) = first.filter(|found| found.temperature < safe) {
            if self.is_stable(mixture, z, branch, &found) {
                return Ok(found);
            }
            let beside =
                self.branch_from_temperature(mixture, z, branch, pressure, found.temperature);
            if let Ok(found) = beside {
                return Ok(found);
            }
        }
        if let Ok(found) = self.at_low_pressure(mixture, z, branch, pressure) {
            return Ok(found);
        }
        if let Some(found) = self.on_envelope_at_pressure(mixture, z, branch, pressure) {
            return Ok(found);
        }
        let envelope = self.envelope(mixture, z).ok();
        let Some(envelope) = envelope.filter(|_| self.is_whole(mixture, z)) else {
            let limits = BlendLimits::of(mixture);
            let range = (limits.coldest, limits.hottest);
            let found = self.on_line_by_stability(mixture, z, branch, pressure);
            // of a bubble point it is asked afterwards whether there may be one
            return found.or_else(|error| match branch {
                Branch::Bubble => Err(error),
                Branch::Dew => self.anywhere(mixture, z, branch, pressure, range, true),
            });
        };
        if pressure < end_of_line::highest_pressure(envelope, branch)
            && let Ok(found) = self.on_line_by_stability(mixture, z, branch, pressure)
        {
            return Ok(found);
        }
        Err(end_of_line::too_high(envelope, branch, pressure))
    }

    /// A branch at a pressure in Pa from a cold start or the traced envelope, where these lead to it.
    pub fn at_once(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Option<PhasePair> {
        let safe = FAR_FROM_CRITICAL * reducing_temperature(mixture, z);
        bubble_dew::cold_at_pressure(mixture, z, branch, pressure)
            .filter(|found| found.temperature < safe)
            .filter(|found| self.is_stable(mixture, z, branch, found))
            .or_else(|| self.on_envelope_at_pressure(mixture, z, branch, pressure))
    }

    /// Of the traced envelope's points of a branch at a pressure in Pa the coldest on its line.
    fn on_envelope_at_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Option<PhasePair> {
        let envelope = self.envelope(mixture, z).ok()?;
        if branch == Branch::Dew && !self.is_whole(mixture, z) {
            return None;
        }
        let points = envelope.at_pressure(mixture, z, pressure);
        let own = points.iter().filter(|point| point.branch == branch);
        let on_the_line = |pair: &&PhasePair| {
            if !envelope.folds() {
                return !pair_is_unstable(mixture, pair);
            }
            self.is_on_line(mixture, z, branch, pair) == Some(true)
        };
        own.map(|point| &point.pair)
            .filter(on_the_line)
            .reduce(|a, b| if b.temperature < a.temperature { b } else { a })
            .copied()
    }

    /// Whether a point belongs to the line at its temperature: that of a fold, or one at which a liquid
    /// becomes two, need not. None where no line was found there.
    fn is_on_line(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        point: &PhasePair,
    ) -> Option<bool> {
        let there = self.at_temperature(mixture, z, branch, point.temperature);
        let own = there.ok()?;
        Some((own.pressure / point.pressure - 1.0).abs() < SAME)
    }

    /// A point of the line at a pressure in Pa that stability alone leads to.
    fn on_line_by_stability(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Result<PhasePair> {
        let found = search(mixture, z).at_pressure(branch, pressure)?;
        // of dew points the upper one of a temperature counts as well
        let is_dew = branch == Branch::Dew;
        if is_dew || self.is_on_line(mixture, z, branch, &found) != Some(false) {
            return Ok(found);
        }
        Err(bubble_dew::not_found(branch, "pressure"))
    }

    /// A branch at a pressure in Pa, through temperatures beside one in K.
    fn branch_from_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
        temperature: f64,
    ) -> Result<PhasePair> {
        let at = |temperature| self.at_temperature(mixture, z, branch, temperature);
        let above = at(temperature)?.pressure > pressure;
        let mut step = ASIDE;
        let mut near = temperature;
        for _ in 0..STEPS_ASIDE {
            let far = if above {
                near * (1.0 - step)
            } else {
                near * (1.0 + step)
            };
            if (at(far)?.pressure > pressure) != above {
                let range = (near.min(far), near.max(far));
                return self.at_pressure_through_temperatures(mixture, z, branch, pressure, range);
            }
            near = far;
            step *= 2.0;
        }
        Err(bubble_dew::not_found(branch, "pressure"))
    }

    /// A branch at a pressure in Pa, the coldest found through temperatures from one to another;
    /// `is_lost` says that nothing else has found it.
    fn anywhere(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
        (coldest, hottest): (f64, f64),
        is_lost: bool,
    ) -> Result<PhasePair> {
        let at = |k| coldest + (hottest - coldest) * f64::from(k) / f64::from(ANYWHERE);
        let solved = |temperature: f64| Sample {
            temperature,
            off: self
                .at_temperature(mixture, z, branch, temperature)
                .ok()
                .map(|found| (found.pressure / pressure).ln()),
            is_far: false,
        };
        // A bubble point lies higher still where the blend is no liquid at a higher pressure, and lower
        // where it is one phase at a lower one. Above the reducing temperature a gas may come out of
        // what is dense and no liquid, with rising pressure.
        let search = search(mixture, z);
        let reducing = mixture.at_composition(z);
        let sample = |temperature: f64| {
            if branch == Branch::Dew {
                return solved(temperature);
            }
            let is_higher = !search.is_liquid(temperature, pressure * NEARLY.exp());
            if is_higher && temperature < reducing.reducing_temperature {
                return Sample::far(temperature, 1.0);
            }
            match search.one_phase(temperature, pressure * (-NEARLY).exp()) {
                Some(density) if is_higher && density > DENSE * reducing.reducing_density => {
                    solved(temperature)
                }
                Some(_) if !is_higher => Sample::far(temperature, -1.0),
                _ if is_higher => Sample::far(temperature, 1.0),
                _ => solved(temperature),
            }
        };
        let halvings = if is_lost { HALVINGS } else { 0 };
        let (mut first, mut before) = (None::<Sample>, None::<Sample>);
        for k in 0..=ANYWHERE {
            let here = sample(at(k));
            let turned = first
                .zip(before)
                .map(|(first, before)| turn([first, before, here], &solved));
            let crossed = before.map(|before| crossings(before, here, halvings, &sample, &solved));
            for range in turned.into_iter().chain(crossed).flatten() {
                let found =
                    self.at_pressure_through_temperatures(mixture, z, branch, pressure, range);
                if found.is_ok() {
                    return found;
                }
            }
            (first, before) = (before, Some(here));
        }
        Err(bubble_dew::not_found(branch, "pressure"))
    }

    /// A branch at a pressure in Pa that it has below [`FAR_FROM_CRITICAL`], through temperatures.
    fn at_low_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Result<PhasePair> {
        let at = |temperature| self.at_temperature(mixture, z, branch, temperature);
        let coldest = BlendLimits::of(mixture).coldest;
        let mut high = FAR_FROM_CRITICAL * reducing_temperature(mixture, z) * (1.0 - f64::EPSILON);
        if high <= coldest || at(high)?.pressure < pressure {
            return Err(bubble_dew::not_found(branch, "pressure"));
        }
        let mut low = (COOLER * high).max(coldest);
        while at(low)?.pressure > pressure {
            if low == coldest {
                return Err(bubble_dew::not_found(branch, "pressure"));
            }
            (low, high) = ((COOLER * low).max(coldest), low);
        }
        self.at_pressure_through_temperatures(mixture, z, branch, pressure, (low, high))
    }

    /// The line at a pressure, sought through the line at temperature.
    fn at_pressure_through_temperatures(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
        (low, high): (f64, f64),
    ) -> Result<PhasePair> {
        let at = |temperature: f64| self.at_temperature(mixture, z, branch, temperature);
        let off = |found: &PhasePair| (found.pressure / pressure).ln();
        let error = |temperature: f64| Ok(off(&at(temperature)?));
        let found = at(bracketed_root(error, low, high, 1e-14)?)?;
        // a line may jump, from one second liquid to another
        if off(&found).abs() < SAME {
            return Ok(found);
        }
        Err(bubble_dew::not_found(branch, "pressure"))
    }
}
