//! The lines of a blend at a pressure: cold starts, the traced envelope, and the lines at
//! temperatures on both sides of the one sought.

use std::cell::RefCell;

use super::bubble_dew::{self, Branch, PhasePair};
use super::line::{BlendLine, not_frozen, reducing_temperature, search};
use super::one_phase::is_dense;
use super::raoult::least_bubble_pressure;
use super::scan::Scan;
use super::split::Fixed;
use super::stability::pair_is_unstable;
use super::three_phases::ThreePhases;
use super::trial_phase::reduced;
use super::{BlendLimits, FAR_FROM_CRITICAL, at_temperature::SAME, end_of_line};
use crate::error::{Error, RangeUnit, Result, reasons};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::bracketed_root;

/// How far above the highest pressure of a traced envelope there is none for certain, in parts.
const ABOVE: f64 = 1e-3;
/// A step down the line, in parts of the temperature.
const COOLER: f64 = 0.9;
/// How much farther down the line than it seems to need, in parts of the way.
const PASSED: f64 = 1.05;
/// The first step of ln p down a line, and by how much each is longer.
const DOWN: f64 = 0.3;
const LONGER: f64 = 1.5;
/// Places between the lowest temperature and the one found at which a line that rises is lower.
const BELOW: [f64; 9] = [0.98, 0.0, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9];
/// The first step to either side of a point that has a rival, in parts of the temperature.
const ASIDE: f64 = 1e-3;
/// Such steps, each twice as wide as the last.
const STEPS_ASIDE: usize = 8;
/// Relative width at which it shows whether a line crosses a pressure or jumps past it, and by how much it does
/// in ln p.
const NEARLY: f64 = 1e-5;
const JUMP: f64 = 1e-2;
/// What ln p of a line over two liquids is known to.
const ROUNDING: f64 = 1e-12;
/// How far in ln T a point of a line leads to another.
const NEAR: f64 = 0.05;
/// Part of the reducing temperature at which a gas is one where no temperature was found.
const COLD: f64 = 0.8;
/// Part of the reducing temperature up to which a bubble point is looked for.
const BEYOND: f64 = 1.5;
/// Reduced temperature from which a component is a gas that a bubble line may fall beside, and from which it
/// is one in a blend that is itself below so much of its reducing temperature.
const A_GAS: f64 = 1.02;
const A_GAS_FAR_BELOW: (f64, f64) = (0.7, 0.5);
/// How far under a pressure is just under it, in parts.
const UNDER: f64 = 1e-6;

impl BlendLine {
    /// A branch at a pressure in Pa; the lower temperature where two have that pressure.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] above the branch's highest pressure or that of the blend;
    /// [`Error::BelowRange`] where the branch lies below the blend's lowest temperature;
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
        let found = AtPressure::new(self, mixture, z, branch, pressure).found()?;
        not_frozen(mixture, branch, found)
    }

    /// Whether a branch lies nowhere under its pressure at the blend's lowest temperature, as a bubble line may
    /// beside a gas, which liquid dissolves less of the warmer it is.
    ///
    /// One pressure just under that one proves it for all below: a line that does not have it at any
    /// temperature does not come down to them either.
    pub fn begins_lowest(&self, mixture: &Mixture, z: &MoleFractions, branch: Branch) -> bool {
        *self.begins_lowest[branch.place()].get_or_init(|| {
            let coldest = BlendLimits::of(mixture).coldest;
            let Ok(first) = self.at_temperature(mixture, z, branch, coldest) else {
                return false;
            };
            let under = first.pressure * (1.0 - UNDER);
            match self.at_pressure(mixture, z, branch, under) {
                Ok(found) => found.temperature < coldest,
                Err(error) => matches!(error, Error::BelowRange { .. }),
            }
        })
    }

    /// A branch at a pressure in Pa from a cold start or the traced envelope, where these lead to it.
    pub fn at_pressure_at_once(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Option<PhasePair> {
        AtPressure::new(self, mixture, z, branch, pressure).at_once()
    }
}

/// Whether two points at one temperature have one pressure.
fn is_one(own: &PhasePair, point: &PhasePair) -> bool {
    (own.pressure / point.pressure - 1.0).abs() < SAME
}

/// A branch of a blend that is sought at a pressure.
pub(super) struct AtPressure<'a> {
    line: &'a BlendLine,
    pub(super) mixture: &'a Mixture,
    pub(super) z: &'a MoleFractions,
    pub(super) branch: Branch,
    /// Pa.
    pub(super) pressure: f64,
    limits: BlendLimits,
    /// The reducing temperature, K.
    reducing: f64,
    /// Points of the branch at temperatures in K, each solved for once.
    solved: RefCell<Vec<(f64, Result<PhasePair>)>>,
}

impl<'a> AtPressure<'a> {
    fn new(
        line: &'a BlendLine,
        mixture: &'a Mixture,
        z: &'a MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Self {
        Self {
            line,
            mixture,
            z,
            branch,
            pressure,
            limits: BlendLimits::of(mixture),
            reducing: reducing_temperature(mixture, z),
            solved: RefCell::default(),
        }
    }

    /// The branch at a temperature in K.
    pub(super) fn at(&self, temperature: f64) -> Result<PhasePair> {
        let is_it = |one: &&(f64, Result<PhasePair>)| one.0 == temperature;
        if let Some((_, found)) = self.solved.borrow().iter().find(is_it) {
            return found.clone();
        }
        let (mixture, z, branch) = (self.mixture, self.z, self.branch);
        let near = self.near(temperature);
        let found = self
            .line
            .at_temperature_near(mixture, z, branch, temperature, near.as_ref());
        self.solved.borrow_mut().push((temperature, found.clone()));
        found
    }

    /// The nearest point of the branch solved for beside a temperature in K.
    fn near(&self, temperature: f64) -> Option<PhasePair> {
        let apart = |one: &PhasePair| (one.temperature / temperature).ln().abs();
        let solved = self.solved.borrow();
        let points = solved.iter().filter_map(|(_, found)| found.as_ref().ok());
        let near = points.min_by(|a, b| apart(a).total_cmp(&apart(b)));
        near.filter(|near| apart(near) < NEAR).copied()
    }

    /// ln of a point's pressure to the one sought.
    pub(super) fn off(&self, found: &PhasePair) -> f64 {
        (found.pressure / self.pressure).ln()
    }

    fn not_found(&self) -> Error {
        bubble_dew::not_found(self.branch, "pressure")
    }

    fn found(&self) -> Result<PhasePair> {
        // more than a liquid's gases leave it at any temperature
        let coldest = self.limits.coldest;
        if self.branch == Branch::Bubble
            && least_bubble_pressure(self.mixture, self.z, coldest) > self.pressure
        {
            return Err(self.below_range());
        }
        let found = self.where_it_rises();
        // Of two liquids none leads to the bubble point at a pressure but those at temperatures.
        let is_lost = match &found {
            Err(Error::NotConverged { .. }) => true,
            Err(Error::OutOfRange { low, high, .. }) => (*low..=*high).contains(&self.pressure),
            _ => false,
        };
        let has_more = match self.branch {
            Branch::Dew => false,
            Branch::Bubble => is_lost || self.may_fall(&found),
        };
        if !has_more {
            return found.map_err(|error| self.or_below(error));
        }
        // Beside a gas a bubble line falls before it rises: of its temperatures the lowest.
        let end = BEYOND * self.reducing;
        let below = match &found {
            Ok(found) => found.temperature * (1.0 - SAME),
            Err(_) => self.limits.hottest.min(end.max(self.limits.coldest)),
        };
        let scanned = Scan::new(self, found.is_err()).coldest((self.limits.coldest, below));
        match (scanned, found) {
            // beside another point Newton's method may have gone on along what is no line any more
            (Ok(scanned), Ok(found)) if !self.is_found_again(&scanned) => Ok(found),
            (Ok(scanned), _) => Ok(scanned),
            (Err(_), Ok(found)) => Ok(found),
            (Err(error @ Error::BelowRange { .. }), Err(_)) => Err(error),
            (Err(_), Err(error)) => Err(self.or_below(error)),
        }
    }

    /// What is said of a branch that was not found, where it lies below the blend's lowest temperature:
    /// there the blend is no liquid yet, or all vapor still.
    fn or_below(&self, error: Error) -> Error {
        if search(self.mixture, self.z).starts_beyond(self.branch, self.pressure) {
            return self.below_range();
        }
        error
    }

    pub(super) fn below_range(&self) -> Error {
        Error::BelowRange {
            point: self.branch.point(),
            pressure: self.pressure,
            temperature: self.limits.coldest,
        }
    }

    /// Whether a bubble line may have the pressure below the temperature found: a component is a gas
    /// there, and somewhere below the blend is no liquid.
    fn may_fall(&self, found: &Result<PhasePair>) -> bool {
        let Ok(found) = found else {
            return self.has_gas(COLD * self.reducing);
        };
        let search = search(self.mixture, self.z);
        let coldest = self.limits.coldest;
        let temperature = found.temperature;
        let mut looked_at = BELOW
            .into_iter()
            .map(|part| coldest + part * (temperature - coldest));
        // of two liquids the line alone tells whether they are below it or above
        let is_below = |temperature| match search.one_phase(temperature, self.pressure) {
            Some(density) => is_dense(self.mixture, self.z, density),
            None => {
                search.is_liquid(temperature, self.pressure)
                    && self.at(temperature).is_ok_and(|line| self.off(&line) < 0.0)
            }
        };
        self.has_gas(temperature) && !looked_at.all(is_below)
    }

    /// Whether a component is a gas at a temperature in K.
    fn has_gas(&self, temperature: f64) -> bool {
        let reduced = reduced(self.mixture, self.z, temperature);
        let (part, far_below) = A_GAS_FAR_BELOW;
        let from = match temperature < far_below * self.reducing {
            true => part,
            false => A_GAS,
        };
        reduced.iter().flatten().any(|&reduced| reduced > from)
    }

    /// The branch, of two temperatures the lower where the line begins with rising pressure.
    fn where_it_rises(&self) -> Result<PhasePair> {
        let (mixture, z, branch, pressure) = (self.mixture, self.z, self.branch, self.pressure);
        let is_whole = || self.line.is_whole(mixture, z);
        // what was traced refuses at once
        if let Some(envelope) = self.line.traced()
            && pressure > envelope.cricondenbar.pressure * (1.0 + ABOVE)
            && is_whole()
        {
            return Err(end_of_line::too_high(envelope, branch, pressure));
        }
        let first = bubble_dew::cold_at_pressure(mixture, z, branch, pressure);
        if let Some(found) = first.filter(|found| found.temperature < self.safe()) {
            let coldest = self.limits.coldest;
            let is_within = found.temperature >= coldest;
            if self.line.is_stable(mixture, z, branch, &found) {
                // beside a gas the line may fall to a lower pressure at the coldest and rise again
                let comes_back = || {
                    let there = self.at(coldest);
                    there.is_ok_and(|there| there.pressure < pressure)
                };
                if is_within || !comes_back() {
                    return Ok(found);
                }
            } else if is_within && let Ok(found) = self.beside(found.temperature) {
                return Ok(found);
            }
        }
        if let Ok(found) = self.at_low_pressure() {
            return Ok(found);
        }
        if let Some(found) = self.on_envelope() {
            return Ok(found);
        }
        let envelope = self.line.envelope(mixture, z).ok();
        let Some(envelope) = envelope.filter(|_| is_whole()) else {
            let range = (self.limits.coldest, self.limits.hottest);
            let found = self.on_line_by_stability();
            // of a bubble point it is asked afterwards whether there may be one
            return found.or_else(|error| match branch {
                Branch::Bubble => Err(error),
                Branch::Dew => Scan::new(self, true).coldest(range),
            });
        };
        if pressure < end_of_line::highest_pressure(envelope, branch)
            && let Ok(found) = self.on_line_by_stability()
        {
            return Ok(found);
        }
        Err(end_of_line::too_high(envelope, branch, pressure))
    }

    /// The branch from a cold start or the traced envelope, where these lead to it.
    fn at_once(&self) -> Option<PhasePair> {
        let (mixture, z, branch) = (self.mixture, self.z, self.branch);
        bubble_dew::cold_at_pressure(mixture, z, branch, self.pressure)
            .filter(|found| found.temperature < self.safe())
            .filter(|found| self.line.is_stable(mixture, z, branch, found))
            .or_else(|| self.on_envelope())
    }

    /// The temperature in K below which a cold start serves.
    fn safe(&self) -> f64 {
        FAR_FROM_CRITICAL * self.reducing
    }

    /// Of the traced envelope's points of the branch the coldest on its line.
    fn on_envelope(&self) -> Option<PhasePair> {
        let (mixture, z, branch) = (self.mixture, self.z, self.branch);
        let envelope = self.line.envelope(mixture, z).ok()?;
        if branch == Branch::Dew && !self.line.is_whole(mixture, z) {
            return None;
        }
        let points = envelope.at_pressure(mixture, z, self.pressure);
        let coldest = self.limits.coldest * (1.0 - SAME);
        let own = points
            .iter()
            .filter(|point| point.branch == branch && point.pair.temperature >= coldest);
        let on_the_line = |pair: &&PhasePair| {
            if !envelope.folds() {
                return !pair_is_unstable(mixture, pair);
            }
            self.is_on_line(pair) == Some(true)
        };
        own.map(|point| &point.pair)
            .filter(on_the_line)
            .reduce(|a, b| if b.temperature < a.temperature { b } else { a })
            .copied()
    }

    /// Whether a point belongs to the line at its temperature: that of a fold, or one at which a liquid
    /// becomes two, need not. None where no line was found there.
    fn is_on_line(&self, point: &PhasePair) -> Option<bool> {
        let own = self.at(point.temperature).ok()?;
        Some(is_one(&own, point))
    }

    /// Whether a point of the branch is found at its temperature from no other one.
    fn is_found_again(&self, point: &PhasePair) -> bool {
        let (mixture, z, branch) = (self.mixture, self.z, self.branch);
        let own = self
            .line
            .at_temperature(mixture, z, branch, point.temperature);
        own.is_ok_and(|own| is_one(&own, point))
    }

    /// A point of the line that stability alone leads to.
    fn on_line_by_stability(&self) -> Result<PhasePair> {
        let found = search(self.mixture, self.z).at_pressure(self.branch, self.pressure)?;
        // of dew points the upper one of a temperature counts as well
        let is_dew = self.branch == Branch::Dew;
        if is_dew || self.is_on_line(&found) != Some(false) {
            return Ok(found);
        }
        Err(self.not_found())
    }

    /// The branch through temperatures beside one in K.
    fn beside(&self, temperature: f64) -> Result<PhasePair> {
        let is_above = |temperature| Ok(self.at(temperature)?.pressure > self.pressure);
        let above = is_above(temperature)?;
        if let Some(found) = self.over_liquids(temperature) {
            return Ok(found);
        }
        let mut step = ASIDE;
        let mut near = temperature;
        for _ in 0..STEPS_ASIDE {
            let far = if above {
                near * (1.0 - step)
            } else {
                near * (1.0 + step)
            };
            if is_above(far)? != above {
                return self.between((near.min(far), near.max(far)));
            }
            near = far;
            step *= 2.0;
        }
        Err(self.not_found())
    }

    /// The bubble point over two liquids by Newton's method from that solved for at a temperature in K, where
    /// it lies not far.
    fn over_liquids(&self, temperature: f64) -> Option<PhasePair> {
        let near = ThreePhases::at_bubble_point(&self.at(temperature).ok()?)?;
        let fixed = Fixed::Pressure(self.pressure);
        let found = near.stable_bubble_point(self.mixture, self.z, fixed)?;
        let is_near = (found.temperature / temperature).ln().abs() < NEAR;
        let is_within = is_near && found.temperature >= self.limits.coldest;
        (is_within && self.is_on_line(&found) != Some(false)).then_some(found)
    }

    /// The branch through temperatures below [`FAR_FROM_CRITICAL`], where it has the pressure there.
    fn at_low_pressure(&self) -> Result<PhasePair> {
        let coldest = self.limits.coldest;
        let off = |temperature| Ok(self.off(&self.at(temperature)?));
        let mut high = self.safe() * (1.0 - f64::EPSILON);
        if high <= coldest {
            return Err(self.not_found());
        }
        let mut above = off(high)?;
        if above < 0.0 {
            return Err(self.not_found());
        }
        if let Some(found) = self.down_from(high) {
            return Ok(found);
        }
        // a line that rises all along lies higher everywhere; what falls first is left to a scan
        if off(coldest).is_ok_and(|here| here > 0.0) {
            return Err(self.not_found());
        }
        let may_fall = self.has_gas(COLD * self.reducing);
        let mut low = (COOLER * high).max(coldest);
        loop {
            let here = off(low)?;
            if here <= 0.0 {
                break;
            }
            if low == coldest {
                return Err(self.not_found());
            }
            // ln p falls nearly as 1/T rises
            let width = 1.0 / low - 1.0 / high;
            let left = PASSED * here / (above - here);
            let straight = 1.0 / (1.0 / low + left * width);
            let is_farther = straight > 0.0 && straight < COOLER * low;
            let next = if is_farther && !may_fall {
                straight
            } else {
                COOLER * low
            };
            (low, high, above) = (next.max(coldest), low, here);
        }
        self.between((low, high))
    }

    /// The branch by Newton's method in steps of pressure down from its point at a temperature in K, the last
    /// of them alone held against the line.
    fn down_from(&self, temperature: f64) -> Option<PhasePair> {
        let (mixture, z, branch) = (self.mixture, self.z, self.branch);
        let first = self.at(temperature).ok()?;
        let mut points = vec![(first.pressure.ln(), first)];
        let mut step = DOWN;
        loop {
            let &(place, last) = points.last()?;
            let next = (place - step).max(self.pressure.ln());
            let is_end = next <= self.pressure.ln();
            let pressure = if is_end { self.pressure } else { next.exp() };
            let start = bubble_dew::through(&points, next).unwrap_or(last);
            let found = bubble_dew::near_at_pressure(mixture, z, branch, pressure, &start)?;
            if found.temperature >= last.temperature || found.temperature < self.limits.coldest {
                return None;
            }
            if is_end {
                return (self.is_on_line(&found) == Some(true)).then_some(found);
            }
            points.push((next, found));
            if points.len() > bubble_dew::MOST_BEFORE {
                points.remove(0);
            }
            step *= LONGER;
        }
    }

    /// The branch by Newton's method at the pressure from between its points at two temperatures in K.
    fn through_ends(&self, (low, high): (f64, f64)) -> Option<PhasePair> {
        let (mixture, z, branch) = (self.mixture, self.z, self.branch);
        let ends = [self.at(low).ok()?, self.at(high).ok()?];
        let [below, above] = ends.each_ref().map(|end| self.off(end));
        let weight = below / (below - above);
        let start = bubble_dew::weighted(&[&ends[0], &ends[1]], &[1.0 - weight, weight]);
        let found = bubble_dew::near_at_pressure(mixture, z, branch, self.pressure, &start)?;
        (self.is_on_line(&found) == Some(true)).then_some(found)
    }

    /// The branch between two temperatures in K, on both sides of which it lies.
    pub(super) fn between(&self, (low, high): (f64, f64)) -> Result<PhasePair> {
        let is_inside = |found: &PhasePair| (low..=high).contains(&found.temperature);
        let over_liquids = |end| self.over_liquids(end).filter(is_inside);
        if let Some(found) = [low, high].into_iter().find_map(over_liquids) {
            return Ok(found);
        }
        if let Some(found) = self.through_ends((low, high)).filter(is_inside) {
            return Ok(found);
        }
        let error = |temperature: f64| {
            let off = self.off(&self.at(temperature)?);
            Ok(if off.abs() < ROUNDING { 0.0 } else { off })
        };
        let nearly = bracketed_root(error, low, high, NEARLY)?;
        if let Some(found) = self.over_liquids(nearly).filter(is_inside) {
            return Ok(found);
        }
        // a line may jump, from one second liquid to another
        if error(nearly)?.abs() > JUMP {
            return Err(self.not_found());
        }
        let [a, b] = [-2.0, 2.0].map(|part| nearly * (1.0 + part * NEARLY));
        let (a, b) = (a.max(low), b.min(high));
        let is_between = error(a)? * error(b)? <= 0.0;
        let (low, high) = if is_between { (a, b) } else { (low, high) };
        let found = self.at(bracketed_root(error, low, high, 1e-14)?)?;
        if self.off(&found).abs() < SAME {
            return Ok(found);
        }
        Err(self.not_found())
    }
}
