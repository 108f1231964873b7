//! The bubble and dew lines of one blend: which of them exist at a temperature or a pressure, and
//! where. All else asks here.
//!
//! Every point is held against its rivals ([`super::stability`]) before it is answered. It comes
//! from a cold start, from its rivals where it has some, from the traced envelope above nine tenths
//! of the reducing temperature, and, where none of them leads there, from stability alone
//! (`search`). A line that was not found is an error and never a phase: only the traced
//! envelope says that there is none.
//!
//! Below the critical temperature there are a bubble and a dew point; between it and the
//! highest temperature of two phases no bubble point and two dew points, of which the lower is
//! meant; at a pressure above the critical one the lower bubble temperature.

use std::sync::OnceLock;

use super::BlendLimits;
use super::FAR_FROM_CRITICAL;
pub use super::at_temperature::AtTemperature;
use super::bubble_dew::{self, Branch, PhasePair};
use super::bubble_over_liquids::bubble_beside_one;
use super::end_of_line;
use super::envelope::Envelope;
use super::one_phase::{frost_pressure, no_liquid, would_freeze_out};
use super::rivals::followed;
use super::search::Search;
use super::split::Fixed;
use super::stability::{Rival, pair_is_unstable, rival_of};
use super::three_phases::ThreePhases;
use crate::error::{Error, Result};
use crate::helmholtz::{Mixture, MoleFractions};

/// Part of the reducing temperature up to which a liquid that splits in two is looked for.
const PARTED: f64 = 0.8;
/// Of how many ends of intervals it is looked for at one.
const LOOKED_AT: usize = 3;
/// How closely the edge of the parted range is sought, K.
const EDGE: f64 = 0.1;
/// Added to the edge for its rounding, K.
const MARGIN: f64 = 0.5;
/// Mole fraction of a component in a liquid of its own.
const ALONE: f64 = 0.98;
/// How far beyond the pressures at both ends of an interval its own may lie, times.
const BESIDE: f64 = 1.1;
/// Part of a liquid's reducing temperature up to which no gas is like it.
const FAR_FROM_GAS: f64 = 0.9;
/// Intervals of a line, by the part of the reducing temperature, up to [`FAR_FROM_CRITICAL`].
const INTERVALS: usize = 45;

/// What is found out once about a blend's lines.
#[derive(Debug)]
pub struct BlendLine {
    envelope: OnceLock<Result<Envelope>>,
    is_whole: OnceLock<bool>,
    splits_below: OnceLock<Option<f64>>,
    /// For bubble and dew, the pressures in Pa at ends of intervals that are found from a cold start
    /// and stable.
    stable_ends: [[OnceLock<Option<f64>>; INTERVALS + 1]; 2],
    /// For bubble and dew, [`BlendLine::begins_lowest`].
    pub(super) begins_lowest: [OnceLock<bool>; 2],
}

impl Default for BlendLine {
    fn default() -> Self {
        Self {
            envelope: OnceLock::new(),
            is_whole: OnceLock::new(),
            splits_below: OnceLock::new(),
            stable_ends: std::array::from_fn(|_| std::array::from_fn(|_| OnceLock::new())),
            begins_lowest: Default::default(),
        }
    }
}

/// A search up to the blend's highest pressure, or to the highest critical pressure of its components
/// where the limit of one equation lies lower: lines found from a neighbour do not end there either.
pub(super) fn search<'a>(mixture: &'a Mixture, z: &'a MoleFractions) -> Search<'a> {
    let limits = BlendLimits::of(mixture);
    let components = mixture.components().iter();
    let criticals = components.map(|one| one.record.critical_point.published.pressure_pa);
    Search {
        mixture,
        z,
        temperatures: (limits.coldest, limits.hottest),
        highest_pressure: criticals.fold(limits.highest_pressure, f64::max),
    }
}

impl BlendLine {
    /// The traced envelope, made at the first call.
    ///
    /// # Errors
    /// As [`Envelope::trace`].
    pub fn envelope(&self, mixture: &Mixture, z: &MoleFractions) -> Result<&Envelope> {
        let traced = self.envelope.get_or_init(|| Envelope::trace(mixture, z));
        traced.as_ref().map_err(Clone::clone)
    }

    /// Whether there are no two phases but inside the traced envelope: its coldest dew point, its hottest
    /// point and that of the highest pressure are stable. Of carbon dioxide with a little water they are
    /// not: water drops out of it far below its own dew line, and above its critical temperature too.
    pub(super) fn is_whole(&self, mixture: &Mixture, z: &MoleFractions) -> bool {
        *self.is_whole.get_or_init(|| {
            let Ok(envelope) = self.envelope(mixture, z) else {
                return false;
            };
            let points = || envelope.points.iter().map(|point| &point.pair);
            let dew = points().next_back();
            let hottest = points().max_by(|a, b| a.temperature.total_cmp(&b.temperature));
            let highest = points().max_by(|a, b| a.pressure.total_cmp(&b.pressure));
            let mut ends = [dew, hottest, highest].into_iter().flatten();
            ends.all(|pair| !pair_is_unstable(mixture, pair))
        })
    }

    /// The envelope where it has been traced already.
    pub(super) fn traced(&self) -> Option<&Envelope> {
        self.envelope.get()?.as_ref().ok()
    }

    /// Below which temperature, K, the model splits the liquid in two; looked for from the
    /// blend's own lowest temperature on.
    pub fn splits_below(&self, mixture: &Mixture, z: &MoleFractions) -> Option<f64> {
        *self.splits_below.get_or_init(|| {
            let both = [Branch::Bubble, Branch::Dew];
            let unstable = |temperature: f64, followed: &mut [Option<PhasePair>; 2]| {
                for (branch, known) in both.into_iter().zip(followed) {
                    let start = known.as_ref();
                    let pair = bubble_dew::at_temperature(mixture, z, branch, temperature, start);
                    match pair {
                        Ok(pair) if !pair_is_unstable(mixture, &pair) => *known = Some(pair),
                        _ => return true,
                    }
                }
                false
            };
            let coldest = BlendLimits::of(mixture).coldest;
            let width = interval(mixture, z);
            // from where none is looked for to the coldest, at ends of intervals
            let first = (PARTED * reducing_temperature(mixture, z) / width) as usize;
            let last = (coldest / width).ceil() as usize;
            let ends = (last..=first).rev().step_by(LOOKED_AT);
            let mut high = width * (first + 1) as f64;
            let mut low = None;
            for end in ends {
                let stable = |branch| self.stable_end(mixture, z, branch, end).is_some();
                let all_stable = stable(Branch::Bubble) && stable(Branch::Dew);
                let temperature = width * end as f64;
                if !all_stable && unstable(temperature, &mut [None; 2]) {
                    low = Some(temperature);
                    break;
                }
                high = temperature;
            }
            let mut low = low.or_else(|| unstable(coldest, &mut [None; 2]).then_some(coldest))?;
            // the last stable point of each line leads to the next
            let cold = |branch| bubble_dew::cold_at_temperature(mixture, z, branch, high);
            let mut followed = both.map(cold);
            while high - low > EDGE {
                let middle = 0.5 * (low + high);
                if unstable(middle, &mut followed) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            Some(high + MARGIN)
        })
    }

    /// A branch at a temperature in K.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] above the end of the branch; [`Error::AboveRange`] for a bubble point
    /// above the pressures of the blend; [`Error::NotConverged`].
    pub fn at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
    ) -> Result<PhasePair> {
        self.at_temperature_near(mixture, z, branch, temperature, None)
    }

    /// A bubble point over one liquid at a temperature in K where it takes no search by stability: from a cold
    /// start below nine tenths of the reducing temperature, above by all rules where the envelope was traced.
    pub fn bubble_at_once(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
    ) -> Option<PhasePair> {
        let branch = Branch::Bubble;
        if temperature < FAR_FROM_CRITICAL * reducing_temperature(mixture, z) {
            let found = bubble_dew::cold_at_temperature(mixture, z, branch, temperature)
                .filter(|found| self.is_stable(mixture, z, branch, found))?;
            return self.within(mixture, z, branch, found).ok();
        }
        self.envelope(mixture, z).ok()?;
        let found = self.at_temperature(mixture, z, branch, temperature).ok()?;
        found.liquids.is_none().then_some(found)
    }

    /// As [`BlendLine::at_temperature`], where a point of the branch at a temperature near it is known.
    ///
    /// # Errors
    /// As [`BlendLine::at_temperature`].
    pub fn at_temperature_near(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
        near: Option<&PhasePair>,
    ) -> Result<PhasePair> {
        if temperature < FAR_FROM_CRITICAL * reducing_temperature(mixture, z) {
            return self.cold(mixture, z, branch, temperature, near);
        }
        // over two liquids there is no envelope
        let over_liquids = near.and_then(|near| over_liquids_beside(mixture, z, temperature, near));
        if let Some(found) = over_liquids {
            return Ok(found);
        }
        let near = self.on_envelope(mixture, z, branch, temperature);
        if let Some(found) = near
            && !pair_is_unstable(mixture, &found)
        {
            return Ok(found);
        }
        let all = self.near_the_top(mixture, z, temperature, Some(branch))?;
        let found = match branch {
            Branch::Bubble => all.bubble,
            Branch::Dew => all.dew,
        };
        found.ok_or_else(|| {
            let lost = all
                .lost
                .filter(|_| branch == Branch::Bubble || all.dew.is_none());
            lost.unwrap_or_else(|| self.beyond(mixture, z, branch, temperature))
        })
    }

    /// The bubble point at a temperature in K, or why there is none and the dew point of higher pressure that
    /// two phases end at instead.
    pub fn upper_at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
    ) -> (Result<PhasePair>, Option<PhasePair>) {
        if temperature < FAR_FROM_CRITICAL * reducing_temperature(mixture, z) {
            return match self.cold_upper(mixture, z, Branch::Bubble, temperature, None) {
                Ok((Branch::Bubble, found)) => (Ok(found), None),
                Ok((Branch::Dew, upper)) => {
                    let none = bubble_dew::not_found(Branch::Bubble, "temperature");
                    (Err(none), Some(upper))
                }
                Err(error) => (Err(error), None),
            };
        }
        let found = self.at_temperature(mixture, z, Branch::Bubble, temperature);
        let upper = match found {
            Ok(_) | Err(Error::AboveRange { .. }) => None,
            Err(_) => {
                let all = self.near_the_top(mixture, z, temperature, None);
                all.ok().and_then(|all| all.retrograde)
            }
        };
        (found, upper)
    }

    /// A branch at a temperature in K as the envelope has it, its stability not tested: `None` where
    /// that alone does not tell which of several points is meant.
    pub fn on_envelope(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
    ) -> Option<PhasePair> {
        let envelope = self.envelope(mixture, z).ok()?;
        let is_hot = temperature >= envelope.critical.temperature;
        if is_hot || envelope.folds() || !self.is_whole(mixture, z) {
            return None;
        }
        let points = envelope.branch_at_temperature(mixture, z, branch, temperature);
        let sorted = AtTemperature::of(points.into_iter(), true);
        match branch {
            Branch::Bubble => sorted.bubble,
            Branch::Dew => sorted.dew,
        }
    }

    /// Everything at a temperature in K.
    ///
    /// # Errors
    /// As [`BlendLine::at_temperature`], where there is neither bubble nor dew point.
    pub fn all_at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
    ) -> Result<AtTemperature> {
        if temperature >= FAR_FROM_CRITICAL * reducing_temperature(mixture, z) {
            return self.near_the_top(mixture, z, temperature, None);
        }
        let dew = self.cold(mixture, z, Branch::Dew, temperature, None);
        let upper = self.cold_upper(mixture, z, Branch::Bubble, temperature, None);
        let (dew, upper) = match (dew, upper) {
            (Err(error), Err(_)) => return Err(error),
            both => both,
        };
        let mut found = AtTemperature::default();
        match upper {
            Ok((Branch::Bubble, bubble)) => found.bubble = Some(bubble),
            Ok((Branch::Dew, upper)) => found.retrograde = Some(upper),
            Err(error) => found.lost = Some(error),
        }
        match dew {
            Ok(dew) => found.dew = Some(dew),
            Err(error) => found.lost = Some(error),
        }
        Ok(found)
    }

    fn beyond(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
    ) -> Error {
        match self.envelope(mixture, z) {
            Ok(envelope) => end_of_line::too_hot(envelope, mixture, branch, temperature),
            Err(error) => error,
        }
    }
}

impl BlendLine {
    /// A branch well below the critical temperature, K, from a cold start or from stability.
    fn cold(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
        near: Option<&PhasePair>,
    ) -> Result<PhasePair> {
        match self.cold_upper(mixture, z, branch, temperature, near)? {
            (own, found) if own == branch => Ok(found),
            _ => Err(bubble_dew::not_found(branch, "temperature")),
        }
    }

    /// As [`BlendLine::cold`]; where a bubble point is sought and two phases end at an upper dew point,
    /// that.
    fn cold_upper(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
        near: Option<&PhasePair>,
    ) -> Result<(Branch, PhasePair)> {
        let found = self.cold_at_any_pressure(mixture, z, branch, temperature, near);
        let found = found.map_err(|error| match error {
            Error::NotConverged { .. } if frost_pressure(mixture, z, temperature).is_some() => {
                no_liquid()
            }
            other => other,
        })?;
        let within = |(own, found): (Branch, PhasePair)| {
            let found = not_frozen(mixture, own, found)?;
            Ok((own, self.within(mixture, z, own, found)?))
        };
        let error = match within(found) {
            Err(error @ Error::AboveRange { .. }) => error,
            answer => return answer,
        };
        // a solution above all pressures need not be the line
        match upper_from_stability(mixture, z, temperature) {
            Ok((own, found)) if own == branch => within((own, found)),
            _ => Err(error),
        }
    }

    /// A point of a branch, where it does not lie above the pressures of the blend's lines.
    pub(super) fn within(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        found: PhasePair,
    ) -> Result<PhasePair> {
        match self.exceeded(mixture, z, found.pressure) {
            Some(highest) => Err(Error::AboveRange {
                point: branch.point(),
                temperature: found.temperature,
                pressure: highest,
            }),
            None => Ok(found),
        }
    }

    /// The highest pressure of the blend's lines, Pa, where one in Pa exceeds it: that of a search, or of
    /// the traced envelope.
    pub(super) fn exceeded(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        pressure: f64,
    ) -> Option<f64> {
        let highest = search(mixture, z).highest_pressure;
        if pressure <= highest {
            return None;
        }
        let envelope = self.envelope(mixture, z);
        let highest = envelope.map_or(highest, |traced| highest.max(traced.cricondenbar.pressure));
        (pressure > highest).then_some(highest)
    }

    fn cold_at_any_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
        near: Option<&PhasePair>,
    ) -> Result<(Branch, PhasePair)> {
        let first = bubble_dew::cold_at_temperature(mixture, z, branch, temperature);
        if let Some(found) = first
            && self.is_stable(mixture, z, branch, &found)
        {
            return Ok((branch, found));
        }
        let beside = near.and_then(|near| stable_beside(mixture, z, branch, temperature, near));
        if let Some(found) = beside {
            return Ok((branch, found));
        }
        // what parts as a liquid of its own shows at once
        let known = first.and_then(|first| Some((first, rival_of(mixture, &first)?)));
        let parts = || match (&known, first) {
            (Some((_, rival)), _) => rival.x.iter().any(|&x| x > ALONE),
            (None, first) => first.is_none(),
        };
        if branch == Branch::Bubble
            && parts()
            && let Some(found) = bubble_beside_one(mixture, z, temperature)
        {
            return Ok((branch, found));
        }
        from_stability(mixture, z, branch, temperature, known.as_ref())
    }

    /// Whether a pair found from a cold start has no rival.
    ///
    /// The test costs ten times what the pair does. Where both ends of the interval that it lies in
    /// are stable, and its pressure between theirs, it counts as stable untested: a liquid splits
    /// over a range of temperatures, and an interval is 0.02 of the reducing temperature wide. A
    /// pressure beyond both is that of another line, as of a vapor beside water, which keeps a
    /// thousand times too much of it where no drop of water is. The ends depend on the line alone,
    /// so that the order of questions changes no answer.
    pub(super) fn is_stable(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pair: &PhasePair,
    ) -> bool {
        let place = (pair.temperature / interval(mixture, z)) as usize;
        let end = |place| self.stable_end(mixture, z, branch, place);
        if let (Some(a), Some(b)) = (end(place), end(place + 1))
            && pair.pressure > a.min(b) / BESIDE
            && pair.pressure < a.max(b) * BESIDE
        {
            return true;
        }
        !pair_is_unstable(mixture, pair)
    }

    /// The pressure, Pa, of a branch at an end of an interval, found from a cold start and stable.
    fn stable_end(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        place: usize,
    ) -> Option<f64> {
        *self.stable_ends[branch.place()]
            .get(place)?
            .get_or_init(|| {
                let temperature = interval(mixture, z) * place as f64;
                bubble_dew::cold_at_temperature(mixture, z, branch, temperature)
                    .filter(|pair| !pair_is_unstable(mixture, pair))
                    .map(|pair| pair.pressure)
            })
    }
}

/// Width of an interval, K.
fn interval(mixture: &Mixture, z: &MoleFractions) -> f64 {
    FAR_FROM_CRITICAL * reducing_temperature(mixture, z) / INTERVALS as f64
}

/// A branch where the cold start leads nowhere or to phases that are not stable; of bubble points the
/// upper point that there is.
fn from_stability(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
    known: Option<&(PhasePair, Rival)>,
) -> Result<(Branch, PhasePair)> {
    let whole = bubble_dew::at_temperature(mixture, z, branch, temperature, None);
    if let Ok(found) = followed(mixture, z, branch, temperature, whole, known) {
        return Ok((branch, found));
    }
    match branch {
        Branch::Bubble => upper_from_stability(mixture, z, temperature),
        Branch::Dew => match search(mixture, z).lower_at_temperature(temperature)? {
            (Branch::Dew, found) => Ok((branch, found)),
            (Branch::Bubble, _) => Err(bubble_dew::not_found(branch, "temperature")),
        },
    }
}

/// A point of a branch, unless a component would freeze out of the vapor before the dew point.
pub(super) fn not_frozen(mixture: &Mixture, branch: Branch, found: PhasePair) -> Result<PhasePair> {
    let place = (found.temperature, found.pressure);
    let is_frozen = branch == Branch::Dew
        && would_freeze_out(mixture, &found.vapor, place, found.vapor_density);
    if is_frozen {
        return Err(no_liquid());
    }
    Ok(found)
}

/// A branch from a point of it near a temperature in K, a bubble point over two liquids from one over two.
fn stable_beside(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
    near: &PhasePair,
) -> Option<PhasePair> {
    if near.liquids.is_some() {
        return over_liquids_beside(mixture, z, temperature, near);
    }
    bubble_dew::near_at_temperature(mixture, z, branch, temperature, near)
        .filter(|found| !pair_is_unstable(mixture, found))
}

/// The bubble point over two liquids at a temperature in K from one near it; `None` from one over one.
fn over_liquids_beside(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
    near: &PhasePair,
) -> Option<PhasePair> {
    let three = ThreePhases::at_bubble_point(near)?;
    let found = three.stable_bubble_point(mixture, z, Fixed::Temperature(temperature))?;
    // next to where the vapor becomes one with a liquid another line may lie above this one
    let is_far_from_gas = |(x, density): &(MoleFractions, f64)| {
        temperature < FAR_FROM_GAS * reducing_temperature(mixture, x)
            && found.vapor_density < *density
    };
    let is_sure = found.liquids?.phases.iter().all(is_far_from_gas);
    is_sure.then_some(found)
}

/// The upper point of an isotherm where no start leads to it, a bubble point over two liquids first.
pub(super) fn upper_from_stability(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
) -> Result<(Branch, PhasePair)> {
    bubble_beside_one(mixture, z, temperature).map_or_else(
        || search(mixture, z).upper_at_temperature(temperature),
        |found| Ok((Branch::Bubble, found)),
    )
}

pub(super) fn reducing_temperature(mixture: &Mixture, z: &MoleFractions) -> f64 {
    mixture.at_composition(z).reducing_temperature
}
