//! The amounts along a loss, integrated with error control.
//!
//! With s the share of the mass lost, M_i the molar masses and w the composition that leaves:
//!
//! ```text
//! dN_i/ds = -w_i / sum_k w_k M_k        w = y (vapor leaves) or x (liquid leaves)
//! dln N_i/dt = -(w_i / N_i) m / sum_k w_k M_k        t = -ln(1 - s), m = sum_k N_k M_k = 1 - s
//! ```
//!
//! per kg at the start. The second form is integrated: with a constant relative volatility it is
//! nearly a straight line to the last drop, and takes a sixth of the steps. What a step leaves of
//! m - (1 - s), within its tolerance, is taken out by one factor on all amounts, so that the mass
//! balance closes at every step and between them. Pair of orders 5 and 4 with dense output: Dormand & Prince, J. Comput. Appl. Math. 6 (1980) 19; Hairer,
//! Norsett & Wanner, Solving Ordinary Differential Equations I (1993), II.6.

use super::vessel::{Amounts, Vessel, lost};
use super::{End, Leaving};
use crate::equilibrium::at_volume::InVolume;
use crate::equilibrium::bubble_dew::{self, PhasePair};
use crate::error::Result;
use crate::helmholtz::{MAX_COMPONENTS, MoleFractions};
use crate::numeric::{bracketed_root, lagrange_weights};

/// Error of a step, of ln N.
const TOLERANCE: f64 = 1e-8;
/// Longest step of t: two fifths of what is left.
const LONGEST: f64 = 0.5;
const SHORTEST: f64 = 1e-9;
const MOST_STEPS: usize = 2000;
/// Steps from whose contents those between are guessed.
const AROUND: usize = 8;
/// Steps before the one attempted from whose contents its own are guessed.
const BEFORE: usize = 3;
/// Where a loss ends that no pressure ends.
pub(super) const LAST: f64 = 0.999;

/// Where the slopes behind the first are taken, in parts of a step.
const PLACES: [f64; 6] = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
const A: [&[f64]; 6] = [
    &[0.2],
    &[3.0 / 40.0, 9.0 / 40.0],
    &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
    &[
        19372.0 / 6561.0,
        -25360.0 / 2187.0,
        64448.0 / 6561.0,
        -212.0 / 729.0,
    ],
    &[
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18656.0,
    ],
    &[
        35.0 / 384.0,
        0.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ],
];
const ERROR: [f64; 7] = [
    71.0 / 57600.0,
    0.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];
const DENSE: [f64; 7] = [
    -12_715_105_075.0 / 11_282_082_432.0,
    0.0,
    87_487_479_700.0 / 32_700_410_799.0,
    -10_690_763_975.0 / 1_880_347_072.0,
    701_980_252_875.0 / 199_316_789_632.0,
    -1_453_857_185.0 / 822_651_844.0,
    69_997_945.0 / 29_380_423.0,
];

/// One accepted step, in t.
#[derive(Debug, Clone)]
struct Step {
    at: f64,
    length: f64,
    /// Logarithms of the amounts.
    from: Amounts,
    to: Amounts,
    slopes: [Amounts; 7],
    /// The contents at its beginning.
    contents: InVolume,
}

/// A loss from its beginning to its end.
#[derive(Debug, Clone)]
pub(super) struct Trace<'a> {
    pub(super) vessel: Vessel<'a>,
    steps: Vec<Step>,
    /// Where the last liquid goes, and the amounts there.
    pub(super) dry: Option<(f64, Amounts)>,
    /// The share lost at the end, and what ends it.
    pub(super) end: (f64, End),
    pub(super) leaving: Leaving,
}

/// The vessel at one moment.
#[derive(Debug, Clone)]
pub(super) struct Moment {
    pub(super) lost: f64,
    pub(super) amounts: Amounts,
    /// Pa.
    pub(super) pressure: f64,
    /// None where no liquid is left.
    pub(super) liquid: Option<MoleFractions>,
    pub(super) vapor: MoleFractions,
    pub(super) leaving: MoleFractions,
}

impl<'a> Trace<'a> {
    /// Integrates; `floor` is the pressure in Pa at which nothing flows out any more.
    pub(super) fn of(
        (vessel, first): (Vessel<'a>, InVolume),
        start: &Amounts,
        leaving: Leaving,
        floor: Option<f64>,
    ) -> Result<Self> {
        let mut trace = Self {
            vessel,
            steps: Vec::new(),
            dry: None,
            end: (LAST, End::Share),
            leaving,
        };
        let last = -(1.0 - LAST).ln();
        let (mut at, mut logs, mut contents) = (0.0, start.map(f64::ln), first);
        let mut slope = trace.slope(&contents, start);
        let mut length: f64 = 0.05;
        for _ in 0..MOST_STEPS {
            length = length.min(LONGEST).min(last - at);
            if length < SHORTEST {
                return if last - at < SHORTEST {
                    Ok(trace)
                } else {
                    Err(lost())
                };
            }
            let attempt = trace.attempt((at, length), &logs, &slope, &contents);
            let Some((step, next, error)) = attempt else {
                length *= 0.5;
                continue;
            };
            let growth = (0.9 * (1.0 / error.max(1e-12)).powf(0.2)).clamp(0.2, 4.0);
            if error > 1.0 {
                length *= growth;
                continue;
            }
            (logs, slope) = (step.to, step.slopes[6]);
            trace.steps.push(step);
            let ends = (share_at(at), share_at(at + length));
            if trace.has_ended(&next, ends, floor)? {
                return Ok(trace);
            }
            contents = next;
            at += length;
            length *= growth;
        }
        Err(lost())
    }

    /// Looks for the end within the step just made: the pressure of the site, or the last liquid
    /// and with it the end of the vapor.
    fn has_ended(
        &mut self,
        next: &InVolume,
        (from, to): (f64, f64),
        floor: Option<f64>,
    ) -> Result<bool> {
        let is_dry = next.liquid_volume <= 0.0;
        let mut last = to;
        let mut pressure = next.pair.pressure;
        let mut dry = None;
        if is_dry {
            let left = |s: f64| Ok(self.within(s)?.1.liquid_volume);
            last = bracketed_root(left, from, to, 1e-13)?;
            let (amounts, there) = self.within(last)?;
            pressure = there.pair.pressure;
            dry = Some((last, amounts));
        }
        if let Some(floor) = floor
            && pressure < floor
        {
            let below = |s: f64| Ok(self.within(s)?.1.pair.pressure / floor - 1.0);
            let end = bracketed_root(below, from, last, 1e-12)?;
            self.end = (end, End::SitePressure);
            return Ok(true);
        }
        if let Some((last, _)) = dry {
            self.dry = dry;
            self.end = self.end_of_vapor(last, floor)?;
        }
        Ok(is_dry)
    }

    /// Where vapor alone, whose composition stays, comes to its end.
    fn end_of_vapor(&self, dry: f64, floor: Option<f64>) -> Result<(f64, End)> {
        let Some(floor) = floor else {
            return Ok((LAST.max(dry), End::Share));
        };
        let above = |s: f64| Ok(self.vessel.vapor_pressure(&self.amounts(s)) / floor - 1.0);
        let end = bracketed_root(above, dry, 1.0 - 1e-9, 1e-13)?;
        Ok((end, End::SitePressure))
    }

    fn leaving_of(
        &self,
        liquid: &MoleFractions,
        vapor: &MoleFractions,
        amounts: &Amounts,
    ) -> MoleFractions {
        match self.leaving {
            Leaving::Vapor => *vapor,
            Leaving::Liquid => *liquid,
            Leaving::Circulating => self.vessel.fractions(amounts),
        }
    }

    /// dln N/dt; zero of what is not there.
    pub(super) fn slope(&self, contents: &InVolume, amounts: &Amounts) -> Amounts {
        self.slope_of(&contents.pair.liquid, &contents.pair.vapor, amounts)
    }

    /// As [`Trace::slope`], of a liquid and a vapor.
    pub(super) fn slope_of(
        &self,
        liquid: &MoleFractions,
        vapor: &MoleFractions,
        amounts: &Amounts,
    ) -> Amounts {
        let leaving = self.leaving_of(liquid, vapor, amounts);
        let share = self.vessel.mass(amounts) / self.vessel.mass(&leaving);
        let mut slope = [0.0; MAX_COMPONENTS];
        for ((slope, w), n) in slope.iter_mut().zip(leaving.iter()).zip(amounts) {
            if *n > 0.0 {
                *slope = -w / n * share;
            }
        }
        slope
    }

    /// Amounts of logarithms, their mass what is left at t.
    fn closed(&self, logs: &Amounts, t: f64) -> Amounts {
        let amounts = logs.map(f64::exp);
        let factor = (-t).exp() / self.vessel.mass(&amounts);
        amounts.map(|n| n * factor)
    }

    /// A step, the contents behind it and its error in units of the tolerance.
    fn attempt(
        &self,
        (at, length): (f64, f64),
        from: &Amounts,
        slope: &Amounts,
        contents: &InVolume,
    ) -> Option<(Step, InVolume, f64)> {
        let mut slopes = [[0.0; MAX_COMPONENTS]; 7];
        slopes[0] = *slope;
        let mut end = *contents;
        let mut to = *from;
        for (stage, row) in A.iter().enumerate() {
            to = *from;
            for (weight, slope) in row.iter().zip(&slopes) {
                for (n, slope) in to.iter_mut().zip(slope) {
                    *n += length * weight * slope;
                }
            }
            let amounts = to.map(f64::exp);
            let ahead = self.ahead((at, from, contents), at + length * PLACES[stage], &to);
            end = self.vessel.contents(&amounts, Some(&ahead)).ok()?;
            slopes[stage + 1] = self.slope(&end, &amounts);
        }
        let mut error: f64 = 0.0;
        for k in 0..self.vessel.count() {
            let parts = ERROR.iter().zip(&slopes);
            let own: f64 = parts.map(|(weight, slope)| weight * slope[k]).sum();
            error = error.max((length * own / TOLERANCE).abs());
        }
        let step = Step {
            at,
            length,
            from: *from,
            to: self.closed(&to, at + length).map(f64::ln),
            slopes,
            contents: *contents,
        };
        Some((step, end, error))
    }

    /// Contents near to those of amounts by their logarithms at t behind the last step: through
    /// those where steps begin, and what each component's amount lacks of the same through the
    /// amounts there laid on both its partial densities, since K = y/x changes little.
    fn ahead(
        &self,
        (at, from, contents): (f64, &Amounts, &InVolume),
        t: f64,
        logs: &Amounts,
    ) -> InVolume {
        let before = &self.steps[self.steps.len().saturating_sub(BEFORE)..];
        let known = before
            .iter()
            .map(|step| (step.at, &step.from, &step.contents));
        let known: Vec<_> = known.chain([(at, from, contents)]).collect();
        let places: Vec<f64> = known.iter().map(|(at, ..)| *at).collect();
        let mut weights = [0.0; BEFORE + 1];
        lagrange_weights(&places, t, &mut weights);
        let mut ahead = between(known.iter().map(|(.., contents)| *contents), &weights);
        let mut more = [0.0; MAX_COMPONENTS];
        for (k, more) in more[..self.vessel.count()].iter_mut().enumerate() {
            if from[k].is_finite() {
                let terms = known.iter().zip(weights);
                let through: f64 = terms.map(|((_, from, _), weight)| weight * from[k]).sum();
                *more = (logs[k] - through).exp();
            }
        }
        let pair = &mut ahead.pair;
        let scaled = |x: &MoleFractions| {
            let mut parts = [0.0; MAX_COMPONENTS];
            for ((part, x), more) in parts.iter_mut().zip(x.iter()).zip(more) {
                *part = x * more;
            }
            let sum: f64 = parts.iter().sum();
            (MoleFractions::new(&parts[..x.len()]), sum)
        };
        let (liquid, whole) = scaled(&pair.liquid);
        let (vapor, part) = scaled(&pair.vapor);
        (pair.liquid, pair.vapor) = (liquid, vapor);
        pair.vapor_density *= part / whole;
        ahead
    }

    fn step_at(&self, lost: f64) -> Option<&Step> {
        let t = time_at(lost);
        let place = self.steps.partition_point(|step| step.at <= t);
        self.steps.get(place.saturating_sub(1))
    }

    /// The amounts at a share lost.
    pub(super) fn amounts(&self, lost: f64) -> Amounts {
        if let Some((dry, last)) = &self.dry
            && lost >= *dry
        {
            return last.map(|n| n * (1.0 - lost) / (1.0 - dry));
        }
        let t = time_at(lost);
        self.step_at(lost)
            .map_or([0.0; MAX_COMPONENTS], |step| self.closed(&step.logs(t), t))
    }

    /// Amounts and contents while there is liquid.
    fn within(&self, lost: f64) -> Result<(Amounts, InVolume)> {
        let step = self.step_at(lost).ok_or_else(super::vessel::lost)?;
        let t = time_at(lost);
        let amounts = self.closed(&step.logs(t), t);
        let contents = self.vessel.contents(&amounts, Some(&self.near(step, t)))?;
        Ok((amounts, contents))
    }

    /// Contents near to those at t within a step: through those of the steps around it.
    fn near(&self, step: &Step, t: f64) -> InVolume {
        let place = self.steps.partition_point(|one| one.at <= step.at);
        let last = self.steps.len().min(place + AROUND / 2);
        let around = &self.steps[last.saturating_sub(AROUND)..last];
        let mut weights = [0.0; AROUND];
        let places: Vec<f64> = around.iter().map(|step| step.at).collect();
        lagrange_weights(&places, t, &mut weights);
        between(around.iter().map(|step| &step.contents), &weights)
    }

    /// The amounts at a share lost, and what stands in the vessel; none where no liquid is left.
    pub(super) fn state(&self, lost: f64) -> Result<(Amounts, Option<InVolume>)> {
        if self.dry.is_some_and(|(dry, _)| lost >= dry) {
            return Ok((self.amounts(lost), None));
        }
        let (amounts, contents) = self.within(lost)?;
        Ok((amounts, Some(contents)))
    }

    /// The vessel at a share lost.
    pub(super) fn moment(&self, lost: f64) -> Result<Moment> {
        let (amounts, contents) = self.state(lost)?;
        Ok(self.holding(lost, amounts, contents.as_ref()))
    }

    /// The vessel when a share is lost and it holds amounts; of no contents they are vapor alone.
    pub(super) fn holding(
        &self,
        lost: f64,
        amounts: Amounts,
        contents: Option<&InVolume>,
    ) -> Moment {
        let Some(InVolume { pair, .. }) = contents else {
            let vapor = self.vessel.fractions(&amounts);
            return Moment {
                lost,
                amounts,
                pressure: self.vessel.vapor_pressure(&amounts),
                liquid: None,
                vapor,
                leaving: vapor,
            };
        };
        Moment {
            lost,
            amounts,
            pressure: pair.pressure,
            liquid: Some(pair.liquid),
            vapor: pair.vapor,
            leaving: self.leaving_of(&pair.liquid, &pair.vapor, &amounts),
        }
    }

    /// The same loss from other amounts with their contents.
    pub(super) fn again(
        &self,
        contents: InVolume,
        amounts: &Amounts,
        floor: Option<f64>,
    ) -> Result<Self> {
        let begun = (self.vessel.clone(), contents);
        Self::of(begun, amounts, self.leaving, floor)
    }

    /// While there is liquid: t, amounts and contents where each step begins, and at the end.
    pub(super) fn known(&self) -> Result<Vec<(f64, Amounts, InVolume)>> {
        let begins = |step: &Step| (step.at, step.from.map(f64::exp), step.contents);
        let mut known: Vec<_> = self.steps.iter().map(begins).collect();
        let last = self.dry.map_or(self.end.0, |(dry, _)| dry);
        let (amounts, contents) = self.within(last)?;
        known.push((time_at(last), amounts, contents));
        Ok(known)
    }

    /// The shares lost at which the steps begin.
    pub(super) fn places(&self) -> impl Iterator<Item = f64> + '_ {
        self.steps.iter().map(|step| share_at(step.at))
    }
}

/// The sum of contents by weights that sum to 1; not in equilibrium.
fn between<'c>(around: impl Iterator<Item = &'c InVolume>, weights: &[f64]) -> InVolume {
    let around: Vec<&InVolume> = around.collect();
    let pairs: Vec<&PhasePair> = around.iter().map(|contents| &contents.pair).collect();
    let sum = |of: fn(&InVolume) -> f64| -> f64 {
        let terms = around.iter().zip(weights);
        terms.map(|(contents, weight)| weight * of(contents)).sum()
    };
    InVolume {
        pair: bubble_dew::weighted(&pairs, weights),
        liquid_volume: sum(|contents| contents.liquid_volume),
        density: sum(|contents| contents.density),
    }
}

/// The share lost at t.
fn share_at(t: f64) -> f64 {
    -(-t).exp_m1()
}

/// t at a share lost.
pub(super) fn time_at(lost: f64) -> f64 {
    -(-lost).ln_1p()
}

impl Step {
    /// The logarithms of the amounts at t within the step, to the fourth order.
    fn logs(&self, t: f64) -> Amounts {
        let (theta, h) = ((t - self.at) / self.length, self.length);
        let rest = 1.0 - theta;
        let mut logs = self.from;
        for (k, log) in logs.iter_mut().enumerate() {
            if !self.from[k].is_finite() {
                continue; // ln 0: what is not there
            }
            let change = self.to[k] - self.from[k];
            let bend = h * self.slopes[0][k] - change;
            let twist = change - h * self.slopes[6][k] - bend;
            let parts = DENSE.iter().zip(&self.slopes);
            let more: f64 = parts.map(|(weight, slope)| h * weight * slope[k]).sum();
            *log = self.from[k] + theta * (change + rest * (bend + theta * (twist + rest * more)));
        }
        logs
    }
}
