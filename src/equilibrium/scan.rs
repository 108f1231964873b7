//! The temperature at which a line of a blend has a pressure, looked for over all of them.
//!
//! At ends of parts of a blend's temperatures a few tests of stability tell whether the line lies far above
//! the pressure or far below; it is solved for where they do not, and on both sides of a crossing.

use std::cell::RefCell;

use super::at_pressure::AtPressure;
use super::at_temperature::SAME;
use super::bubble_dew::{self, Branch, PhasePair};
use super::line::search;
use super::one_phase::{lacks_a_liquid, one_phase};
use super::raoult::least_bubble_pressure;
use super::search::Search;
use crate::error::{Error, Result};
use crate::helmholtz::FixedComposition;
use crate::numeric::golden_section;

/// Parts of the temperatures.
const PARTS: u32 = 24;
/// How often a part is halved where nothing else finds the line.
const HALVINGS: u32 = 4;
/// The same next to where a line ends.
const HALVINGS_TO_AN_END: u32 = 12;
/// How far in ln p a line may be at an end of a part to reach the pressure between.
const NEARLY: f64 = 0.3;
/// The same where the line ends between.
const NEXT_TO_AN_END: f64 = 0.8;
/// The same from which one that was solved for is as far above as one that was not.
const FAR_ABOVE: f64 = 8.0 * NEARLY;
/// Parts of [`NEARLY`], below and above a pressure, at which two phases are looked for.
const BETWEEN: [f64; 3] = [0.0, -0.5, 0.5];
/// Part of the reducing density above which what is no liquid may be denser than the gas that comes out
/// of it.
const DENSE: f64 = 0.5;
/// Most parts passed over at once.
const FARTHEST: u32 = 8;
/// How many times as far from a pressure as it is bent between three points a line does not reach it: a parabola
/// through them goes no farther than an eighth more.
const STRAIGHT: f64 = 4.0;
/// From so many times as far before its last sample a line shows how it comes to its end: one that ends as
/// steeply as the root of what is left goes less than [`STRAIGHT`] times as far as the straight line does.
const FAR_BEFORE: f64 = 5.0;
/// Steps towards where a line turns.
const TURNS: usize = 30;

/// A temperature, K, and ln of a line's pressure there to the one sought; none without an answer.
#[derive(Clone, Copy)]
struct Sample {
    temperature: f64,
    off: Option<f64>,
    /// Whether the line was not solved for, or lies above all pressures: if there is one, it is farther off
    /// than [`NEARLY`].
    is_far: bool,
}

impl Sample {
    fn above(temperature: f64) -> Self {
        Self {
            temperature,
            off: Some(1.0),
            is_far: true,
        }
    }

    fn below(temperature: f64) -> Self {
        Self {
            off: Some(-1.0),
            ..Self::above(temperature)
        }
    }

    fn none(temperature: f64) -> Self {
        Self {
            temperature,
            off: None,
            is_far: false,
        }
    }

    fn solved_off(&self) -> Option<f64> {
        self.off.filter(|_| !self.is_far)
    }

    /// Solved for or not: tests, which cost less, tell as much beside it.
    fn is_far_above(&self) -> bool {
        let far = if self.is_far { 0.0 } else { FAR_ABOVE };
        self.off.is_some_and(|off| off > far)
    }
}

/// Whether a line solved for at three temperatures is on one side of the pressure and so straight that it does
/// not cross it between.
fn is_smooth(samples: [Sample; 3]) -> bool {
    let [Some(first), Some(middle), Some(last)] = samples.map(|one| one.solved_off()) else {
        return false;
    };
    let [a, b, c] = samples.map(|one| one.temperature);
    let bent = (middle - first - (last - first) * (b - a) / (c - a)).abs();
    let nearest = first.abs().min(middle.abs()).min(last.abs());
    first * middle > 0.0 && middle * last > 0.0 && nearest > STRAIGHT * bent
}

/// Whether a line solved for at two temperatures may go on for twice as far and not come to the pressure.
fn is_far_off(first: Sample, last: Sample) -> bool {
    let both = first.solved_off().zip(last.solved_off());
    both.is_some_and(|(a, b)| a * b > 0.0 && b.abs() > STRAIGHT * (b - a).abs())
}

/// A line that is looked for at a pressure.
pub(super) struct Scan<'a> {
    sought: &'a AtPressure<'a>,
    /// Whether nothing else has found a point of it.
    is_lost: bool,
    search: Search<'a>,
    blend: FixedComposition<'a>,
    /// Of each temperature what is known last, solved for or not.
    known: RefCell<Vec<Sample>>,
}

impl<'a> Scan<'a> {
    pub(super) fn new(sought: &'a AtPressure<'a>, is_lost: bool) -> Self {
        Self {
            sought,
            is_lost,
            search: search(sought.mixture, sought.z),
            blend: sought.mixture.at_composition(sought.z),
            known: RefCell::default(),
        }
    }

    /// The coldest point found between two temperatures in K.
    ///
    /// # Errors
    /// [`crate::Error::BelowRange`] where none was found and the line lies above the pressure at the lower
    /// temperature; else [`crate::Error::NotConverged`].
    pub(super) fn coldest(&self, (low, high): (f64, f64)) -> Result<PhasePair> {
        let at = |k| low + (high - low) * f64::from(k) / f64::from(PARTS);
        let done = if self.is_lost { 0 } else { HALVINGS };
        let (mut first, mut before) = (None::<Sample>, None::<Sample>);
        let mut k = 0;
        // so many ends are passed over where the line is that much higher
        let mut reach = 1;
        while k <= PARTS {
            if reach > 1 && k + reach <= PARTS && self.passes(at(k), at(k + reach), reach) {
                let there = self.sample(at(k + reach - 1));
                if there.is_far_above() {
                    (first, before) = (Some(there), Some(there));
                    k += reach;
                    reach *= 2;
                    continue;
                }
            }
            if let (Some(one), Some(last)) = (first, before)
                && k + 1 < PARTS
                && is_far_off(one, last)
            {
                // looked at twice as far away
                let width = (last.temperature - one.temperature) / (at(1) - at(0));
                let end = (k - 1 + 2 * width.round() as u32).min(PARTS);
                let there = self.beside(before, at(end));
                if is_smooth([one, last, there]) {
                    (first, before) = (before, Some(there));
                    k = end + 1;
                    continue;
                }
            }
            let here = self.beside(before, at(k));
            // a point that was found lies at the end
            let is_new = k < PARTS || self.is_lost;
            if is_new && here.solved_off().is_some_and(|off| off.abs() < SAME) {
                return self.sought.at(here.temperature);
            }
            let turned = first
                .zip(before)
                .map(|(first, before)| self.turn([first, before, here]));
            let crossed = before.map(|before| self.crossings(before, here, (done, 1.0)));
            for range in turned.into_iter().chain(crossed).flatten() {
                let found = self.sought.between(range);
                if found.is_ok() {
                    return found;
                }
            }
            // solved for meanwhile
            let here = self.sample(here.temperature);
            (first, before) = (before, Some(here));
            reach = if here.is_far_above() {
                reach.clamp(4, 2 * FARTHEST) / 2
            } else {
                1
            };
            k += 1;
        }
        Err(if self.sample(low).is_far_above() {
            self.sought.below_range()
        } else {
            bubble_dew::not_found(self.sought.branch, "pressure")
        })
    }

    /// Whether the line at a temperature in K lies so far above the pressure that it does not come down to it
    /// up to another, so many parts away.
    fn passes(&self, temperature: f64, end: f64, parts: u32) -> bool {
        let pressure = self.sought.pressure * (NEARLY * f64::from(parts)).exp();
        pressure < self.search.highest_pressure
            && !self.is_too_cold(temperature)
            && match self.sought.branch {
                Branch::Bubble => {
                    end < self.blend.reducing_temperature
                        && !self.search.is_liquid(temperature, pressure)
                }
                Branch::Dew => self.is_gas(temperature, pressure),
            }
    }

    /// Whether a component has no liquid at a temperature in K: no test tells of it.
    fn is_too_cold(&self, temperature: f64) -> bool {
        let sought = self.sought;
        lacks_a_liquid(sought.mixture, sought.z, temperature, sought.pressure)
    }

    /// Whether gases in the blend alone keep a bubble point at a temperature in K above the pressure.
    fn is_under_gases(&self, temperature: f64) -> bool {
        let (mixture, z) = (self.sought.mixture, self.sought.z);
        least_bubble_pressure(mixture, z, temperature) > self.sought.pressure * NEARLY.exp()
    }

    /// Whether the blend is one thin phase at a temperature in K and a pressure in Pa.
    fn is_gas(&self, temperature: f64, pressure: f64) -> bool {
        self.is_thin(temperature, pressure)
            && self.search.one_phase(temperature, pressure).is_some()
    }

    fn is_thin(&self, temperature: f64, pressure: f64) -> bool {
        let own = one_phase(self.sought.mixture, self.sought.z, temperature, pressure);
        own.is_some_and(|own| !self.is_dense(own))
    }

    fn is_dense(&self, density: f64) -> bool {
        density > DENSE * self.blend.reducing_density
    }

    /// What is known at a temperature in K, found out once.
    fn sample(&self, temperature: f64) -> Sample {
        self.already(temperature).unwrap_or_else(|| {
            let here = match self.sought.branch {
                Branch::Bubble if self.is_under_gases(temperature) => Sample::above(temperature),
                _ if self.is_too_cold(temperature) => self.solved(temperature),
                Branch::Bubble => self.bubble(temperature),
                Branch::Dew => self.dew(temperature),
            };
            match here.is_far {
                true => self.keep(here),
                false => here,
            }
        })
    }

    /// As [`Scan::sample`], solved for where the line was beside it.
    fn beside(&self, near: Option<Sample>, temperature: f64) -> Sample {
        let is_on_it = near.is_some_and(|near| near.solved_off().is_some() && !near.is_far_above());
        if is_on_it
            && self.already(temperature).is_none()
            && let Ok(found) = self.sought.at(temperature)
        {
            return self.solved_as(temperature, Some(self.sought.off(&found)));
        }
        self.sample(temperature)
    }

    fn already(&self, temperature: f64) -> Option<Sample> {
        let is_it = |one: &&Sample| one.temperature == temperature;
        self.known.borrow().iter().rev().find(is_it).copied()
    }

    /// The line at a temperature in K, solved for. What tests tell of it counts on where it has no answer.
    fn solved(&self, temperature: f64) -> Sample {
        let found = self.sought.at(temperature);
        let is_known = || self.already(temperature).is_some_and(|known| known.is_far);
        match found {
            Ok(found) => self.solved_as(temperature, Some(self.sought.off(&found))),
            Err(Error::AboveRange { .. }) => self.keep(Sample::above(temperature)),
            Err(_) if is_known() => Sample::none(temperature),
            Err(_) => self.solved_as(temperature, None),
        }
    }

    fn solved_as(&self, temperature: f64, off: Option<f64>) -> Sample {
        self.keep(Sample {
            temperature,
            off,
            is_far: false,
        })
    }

    fn keep(&self, here: Sample) -> Sample {
        self.known.borrow_mut().push(here);
        here
    }

    /// A bubble point lies higher still where the blend is no liquid at a higher pressure, and lower
    /// where it is one phase at a lower one. Above the reducing temperature a gas may come out of
    /// what is dense and no liquid, with rising pressure.
    fn bubble(&self, temperature: f64) -> Sample {
        let times = |part: f64| self.sought.pressure * (part * NEARLY).exp();
        let is_hot = temperature > self.blend.reducing_temperature;
        let (low, high) = (times(-1.0), times(1.0));
        // a thin gas is no liquid yet
        if is_hot && self.is_thin(temperature, high) {
            return Sample::above(temperature);
        }
        let one_phase = |pressure| self.search.one_phase(temperature, pressure);
        if self.search.is_liquid(temperature, high) {
            let Some(own) = one_phase(low) else {
                return self.solved(temperature);
            };
            // two phases lie between a gas and the liquid above it, at the top they may
            let is_stable = |part: &f64| one_phase(times(*part)).is_some();
            let is_one = self.is_dense(own) || (is_hot && BETWEEN.iter().all(is_stable));
            return if is_one {
                Sample::below(temperature)
            } else {
                self.solved(temperature)
            };
        }
        if is_hot
            && !self.is_thin(temperature, low)
            && one_phase(low).is_some_and(|own| self.is_dense(own))
        {
            return self.solved(temperature);
        }
        Sample::above(temperature)
    }

    /// A dew point lies higher where the blend is a gas at a higher pressure, and lower where it is none at
    /// a lower one: in two phases there, or dense above them.
    fn dew(&self, temperature: f64) -> Sample {
        let times = |part: f64| self.sought.pressure * (part * NEARLY).exp();
        if self.is_gas(temperature, times(1.0)) {
            return Sample::above(temperature);
        }
        if self.is_gas(temperature, times(-1.0)) {
            return self.solved(temperature);
        }
        Sample::below(temperature)
    }

    /// Temperatures between which the line crosses the pressure, coldest first. Where both ends have one
    /// sign and one of them is near, or one has no answer, the line may cross it twice between them or end
    /// behind a crossing: halved as often as is left, as long as `part` of a part may hold that much of a
    /// line.
    fn crossings(&self, a: Sample, b: Sample, (done, part): (u32, f64)) -> Vec<(f64, f64)> {
        let is_crossed = a.off.zip(b.off).is_none_or(|(a, b)| a * b <= 0.0);
        let [a, b] = [a, b].map(|one| match is_crossed && one.is_far {
            true => self.solved(one.temperature),
            false => one,
        });
        let is_between = match (a.off, b.off) {
            (Some(low), Some(high)) if low * high <= 0.0 => {
                if !a.is_far && !b.is_far {
                    return vec![(a.temperature, b.temperature)];
                }
                true
            }
            (Some(low), Some(high)) => low.abs().min(high.abs()) < NEARLY * part,
            // a line may end steeply
            (Some(_), None) => self.may_end_beyond(a, b.temperature, part),
            (None, Some(_)) => self.may_end_beyond(b, a.temperature, part),
            (None, None) => false,
        };
        // next to a point that was found the line is near for no other reason
        let is_half_known = self.is_lost && a.is_far != b.is_far;
        let is_end = a.off.is_none() || b.off.is_none() || is_half_known;
        let most = if is_end { HALVINGS_TO_AN_END } else { HALVINGS };
        if !is_between || done >= most {
            return Vec::new();
        }
        let middle = self.beside(Some(a), 0.5 * (a.temperature + b.temperature));
        if is_smooth([a, middle, b]) {
            return Vec::new();
        }
        let smaller = (done + 1, 0.5 * part);
        let mut found = self.crossings(a, middle, smaller);
        // solved for meanwhile
        let [middle, b] = [middle, b].map(|one| self.sample(one.temperature));
        found.extend(self.crossings(middle, b, smaller));
        found
    }

    /// Whether the line may cross the pressure between its last sample and a temperature in K at which it has
    /// no answer, a part of a part away: not where it comes as straight as it does, and is that far off.
    fn may_end_beyond(&self, last: Sample, end: f64, part: f64) -> bool {
        let Some(off) = last
            .off
            .filter(|off| off.abs() < NEXT_TO_AN_END * part.sqrt())
        else {
            return false;
        };
        let left = end - last.temperature;
        let known = self.known.borrow();
        let before = known.iter().filter_map(|one| {
            let away = (last.temperature - one.temperature) / left;
            Some((away, one.solved_off()?)).filter(|_| away > 0.0 && away < FAR_BEFORE)
        });
        let nearest = before.min_by(|a, b| a.0.total_cmp(&b.0));
        let is_straight = |(away, before): (f64, f64)| {
            !last.is_far
                && before * off > 0.0
                && off.abs() > STRAIGHT * ((off - before) / away).abs()
        };
        !nearest.is_some_and(is_straight)
    }

    /// Temperatures about where the line turns between three, beyond the pressure sought, coldest first;
    /// none where all three are not on one side of it, the middle one nearest.
    fn turn(&self, samples: [Sample; 3]) -> Vec<(f64, f64)> {
        // a parabola's vertex lies below the lowest of three points by a quarter of what they differ by
        let turns = |samples: [Sample; 3]| {
            let [Some(first), Some(middle), Some(last)] = samples.map(|one| one.off) else {
                return false;
            };
            let sign = middle.signum();
            let (first, middle, last) = (sign * first, sign * middle, sign * last);
            middle < first.min(last) && 2.0 * middle < first.max(last)
        };
        if !turns(samples) {
            return Vec::new();
        }
        // what was not solved for yet may be where the line ends
        let samples = samples.map(|one| match one.is_far {
            true => self.solved(one.temperature),
            false => one,
        });
        let [a, middle, c] = samples;
        let Some(sign) = middle.off.map(f64::signum).filter(|_| turns(samples)) else {
            return Vec::new();
        };
        let off = |temperature| {
            let here = self.solved(temperature);
            Ok(here.off.map_or(f64::INFINITY, |off| sign * off))
        };
        let range = (a.temperature, c.temperature);
        match golden_section(off, range, TURNS, |off| off <= 0.0) {
            Ok((turned, off)) if off <= 0.0 => {
                vec![(a.temperature, turned), (turned, c.temperature)]
            }
            _ => Vec::new(),
        }
    }
}
