//! Tie lines of two components one after another, at a pressure or at a temperature, as far as the
//! critical point in which both phases become one, or a pure component.
//!
//! Unknown are ln n_i of both phases' partial densities and ln T:
//!
//! ```text
//! F_i, F_p of the vapor = those of the liquid            i = 1, 2          (conditions.rs)
//! p of the vapor = p, or ln T = ln T given
//! ```
//!
//! One condition fewer than unknowns: a curve, followed by steps along its tangent on which Newton's
//! method settles square to it (E. Allgower, K. Georg, Numerical Continuation Methods, 1990, ch. 4,
//! from memory). A composition may turn on it, as a dew line's does beside a critical point, where
//! what is asked composition by composition has two answers or none.

use super::BlendLimits;
use super::bubble_dew::PhasePair;
use super::conditions::{Columns, Conditions, PhaseTerms, Rows};
use super::split::Fixed;
use super::stability::pair_is_unstable;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, solve_linear};

/// ln n of the vapor's two components, of the liquid's, and ln T.
type Unknowns = [f64; 5];

const LOG_TEMPERATURE: usize = 4;
/// What ln T counts among the unknowns.
const WEIGHTS: Unknowns = [1.0, 1.0, 1.0, 1.0, 10.0];
/// How far a phase's composition may go in one step.
const FARTHEST: f64 = 0.012;
/// How far an unknown may go.
const LONGEST: f64 = 0.3;
/// What part of their difference a step leaves the phases.
const LEFT: f64 = 0.7;
/// The difference of the phases, in ln n, below which the critical point is reckoned from the last two
/// tie lines: nearer to it the solution in which both phases are the same attracts.
const NARROWEST: f64 = 0.06;
/// From which difference on phases are tested for stability, every so many steps.
const TESTED: (f64, usize) = (0.4, 6);
/// Mole fraction of a component in both phases below which the other counts as pure.
const PURE: f64 = 1e-3;
const MOST_STEPS: usize = 400;
const MOST_HALVED: i32 = 6;
const MOST_ITERATIONS: usize = 6;
/// The last of Newton's steps.
const SHORT: f64 = 1e-9;

/// A critical point of a mixture of two components.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CriticalMixture {
    /// Its mole fractions.
    pub x: MoleFractions,
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa.
    pub pressure: f64,
}

/// Tie lines in their order, and the critical point in which they end, where they end in one.
#[derive(Debug, Clone, PartialEq)]
pub struct TieLines {
    /// Both phases of each, the first not that which was started from.
    pub pairs: Vec<PhasePair>,
    /// Where the phases become one; `None` where a component ends up alone.
    pub critical: Option<CriticalMixture>,
}

/// Tie lines from one that is known on, towards more of the component `toward`; `None`
/// where the curve is lost, leaves the temperatures and pressures of the mixture, or comes to phases
/// that are not stable.
pub fn tie_lines(
    mixture: &Mixture,
    fixed: Fixed,
    from: &PhasePair,
    toward: usize,
) -> Option<TieLines> {
    if mixture.count() != 2 {
        return None;
    }
    let curve = Curve {
        conditions: Conditions::of(mixture),
        fixed,
    };
    let limits = BlendLimits::of(mixture);
    let mut at = curve.unknowns(from);
    let away = 1 - toward;
    // where both compositions together move: next to a critical point they part or meet
    let mut heading = [0.0; 5];
    for (first, phase) in [(0, &from.vapor), (2, &from.liquid)] {
        let moves = phase[0] * phase[1];
        heading[first + toward] = moves;
        heading[first + away] = -moves;
    }
    let mut pairs: Vec<PhasePair> = Vec::new();
    let mut before = (difference(&at), at);
    for count in 1..=MOST_STEPS {
        let tangent = curve.tangent(&at, &heading)?;
        let to = curve.step(&at, &tangent)?;
        let pair = curve.pair(&to)?;
        let is_inside = (limits.coldest..=limits.hottest).contains(&pair.temperature)
            && pair.pressure <= limits.highest_pressure;
        let apart = difference(&to);
        let is_tested = apart > TESTED.0 && count % TESTED.1 == 0;
        if !is_inside || (is_tested && pair_is_unstable(mixture, &pair)) {
            return None;
        }
        pairs.push(pair);
        if apart < NARROWEST {
            let critical = curve.critical(before, (apart, to))?;
            return Some(TieLines {
                pairs,
                critical: Some(critical),
            });
        }
        if pair.liquid[away].max(pair.vapor[away]) < PURE {
            return Some(TieLines {
                pairs,
                critical: None,
            });
        }
        before = (apart, to);
        (at, heading) = (to, tangent);
    }
    None
}

/// The largest difference between the phases, in ln n.
fn difference(at: &Unknowns) -> f64 {
    (at[0] - at[2]).abs().max((at[1] - at[3]).abs())
}

/// Mole fraction of the first component in the vapor and in the liquid.
fn first(at: &Unknowns) -> [f64; 2] {
    [0, 2].map(|k| 1.0 / (1.0 + (at[k + 1] - at[k]).exp()))
}

struct Curve<'a> {
    conditions: Conditions<'a>,
    fixed: Fixed,
}

impl Curve<'_> {
    fn unknowns(&self, pair: &PhasePair) -> Unknowns {
        let vapor = |k: usize| (pair.vapor[k] * pair.vapor_density).ln();
        let liquid = |k: usize| (pair.liquid[k] * pair.liquid_density).ln();
        let temperature = pair.temperature.ln();
        [vapor(0), vapor(1), liquid(0), liquid(1), temperature]
    }

    /// The four conditions and their derivatives; a row is left.
    fn conditions(&self, at: &Unknowns) -> ([[f64; 5]; 5], Unknowns) {
        let phase = |first: usize| {
            let mut amounts = [0.0; MAX_COMPONENTS];
            amounts[0] = at[first].exp();
            amounts[1] = at[first + 1].exp();
            self.conditions.phase(at[LOG_TEMPERATURE].exp(), &amounts)
        };
        let (vapor, liquid) = (phase(0), phase(2));
        let rows = Rows {
            first: 0,
            pressure: 2,
            log_temperature: Some(LOG_TEMPERATURE),
        };
        let (in_vapor, in_liquid) = (Columns::Each(0), Columns::Each(2));
        let scale = self.conditions.pressure_scale(liquid.total);
        let (mut matrix, mut lacks) = ([[0.0; 5]; 5], [0.0; 5]);
        let add = |matrix: &mut _, phase, sign, columns| {
            self.conditions
                .add(matrix, rows, phase, (sign, scale), &[columns]);
        };
        add(&mut matrix, &vapor, 1.0, in_vapor);
        add(&mut matrix, &liquid, -1.0, in_liquid);
        for (i, lack) in lacks[..2].iter_mut().enumerate() {
            *lack = -self.conditions.difference(i, &liquid, &vapor);
        }
        let over = |phase: &PhaseTerms| phase.potential.pressure_over_temperature;
        lacks[2] = (over(&liquid) - over(&vapor)) / scale;
        let row = &mut matrix[3];
        lacks[3] = match self.fixed {
            Fixed::Temperature(temperature) => {
                row[LOG_TEMPERATURE] = 1.0;
                temperature.ln() - at[LOG_TEMPERATURE]
            }
            Fixed::Pressure(pressure) => {
                let given = (at[LOG_TEMPERATURE].exp(), pressure);
                let conditions = &self.conditions;
                conditions.given_pressure(row, &vapor, given, in_vapor, LOG_TEMPERATURE)
            }
        };
        (matrix, lacks)
    }

    /// The curve's direction, on the side of `heading`, of length 1 by weight.
    fn tangent(&self, at: &Unknowns, heading: &Unknowns) -> Option<Unknowns> {
        let (mut matrix, _) = self.conditions(at);
        let mut tangent = [0.0; 5];
        matrix[4] = weighted(heading);
        tangent[4] = 1.0;
        if !solve_linear(&mut matrix, &mut tangent, 5) {
            return None;
        }
        let length = dot(&weighted(&tangent), &tangent).sqrt();
        tangent.iter_mut().for_each(|one| *one /= length);
        Some(tangent)
    }

    /// The next point; a shorter way where Newton's method does not settle.
    fn step(&self, at: &Unknowns, tangent: &Unknowns) -> Option<Unknowns> {
        let ahead = |length: f64| {
            let mut to = *at;
            to.iter_mut()
                .zip(tangent)
                .for_each(|(to, t)| *to += length * t);
            to
        };
        // not over the critical point, behind which liquid and vapor have changed their places
        let apart = |of: &Unknowns, k: usize| of[k] - of[k + 2];
        let widest = usize::from(apart(at, 1).abs() > apart(at, 0).abs());
        let left = |to: &Unknowns| apart(to, widest) / apart(at, widest);
        let is_too_far = |to: &Unknowns| {
            let [new, old] = [first(to), first(at)];
            let mut moved = new.iter().zip(old).map(|(new, old)| (new - old).abs());
            moved.any(|moved| moved > FARTHEST) || left(to) < LEFT
        };
        let mut length = LONGEST / largest(&tangent[..4]).max(1e-3);
        while is_too_far(&ahead(length)) {
            length *= 0.7;
        }
        let row = weighted(tangent);
        (0..MOST_HALVED)
            .filter_map(|halved| self.settle(ahead(length * 0.5_f64.powi(halved)), &row))
            .find(|to| left(to) > LEFT * LEFT)
    }

    /// Newton's method, square to a row.
    fn settle(&self, start: Unknowns, row: &Unknowns) -> Option<Unknowns> {
        let mut at = start;
        for _ in 0..MOST_ITERATIONS {
            let (mut matrix, mut lacks) = self.conditions(&at);
            matrix[4] = *row;
            if !solve_linear(&mut matrix, &mut lacks, 5) {
                return None;
            }
            let size = largest(&lacks);
            if size.is_nan() || size > LONGEST {
                return None;
            }
            at.iter_mut().zip(&lacks).for_each(|(at, step)| *at += step);
            if size < SHORT {
                return Some(at);
            }
        }
        None
    }

    fn pair(&self, at: &Unknowns) -> Option<PhasePair> {
        let [vapor, liquid] = [[at[0].exp(), at[1].exp()], [at[2].exp(), at[3].exp()]];
        let [vapor_density, liquid_density] =
            [vapor, liquid].map(|amounts| amounts[0] + amounts[1]);
        let [vapor, liquid] = [vapor, liquid].map(|amounts| MoleFractions::new(&amounts));
        let temperature = at[LOG_TEMPERATURE].exp();
        let fixed = self.conditions.mixture.at_composition(&vapor);
        let pressure = fixed.isotherm(temperature).pressure(vapor_density);
        (pressure > 0.0).then_some(PhasePair {
            temperature,
            pressure,
            liquid,
            vapor,
            liquid_density,
            vapor_density,
            liquids: None,
            steps: 0,
            residual: SHORT,
        })
    }

    /// Where the phases become one: the means of both are even in their difference d, and so is T.
    ///
    /// ```text
    /// m(d) = m(0) + c d^2
    /// ```
    fn critical(
        &self,
        (d1, a): (f64, Unknowns),
        (d2, b): (f64, Unknowns),
    ) -> Option<CriticalMixture> {
        let even = |a: f64, b: f64| (b * d1 * d1 - a * d2 * d2) / (d1 * d1 - d2 * d2);
        let mean = |at: &Unknowns, k: usize| 0.5 * (at[k] + at[k + 2]);
        let [n1, n2] = [0, 1].map(|k| even(mean(&a, k), mean(&b, k)).exp());
        let temperature = even(a[LOG_TEMPERATURE], b[LOG_TEMPERATURE]).exp();
        let x = MoleFractions::new(&[n1, n2]);
        let fixed = self.conditions.mixture.at_composition(&x);
        let pressure = match self.fixed {
            Fixed::Pressure(pressure) => pressure,
            Fixed::Temperature(_) => fixed.isotherm(temperature).pressure(n1 + n2),
        };
        pressure.is_finite().then_some(CriticalMixture {
            x,
            temperature,
            pressure,
        })
    }
}

fn weighted(of: &Unknowns) -> Unknowns {
    std::array::from_fn(|k| of[k] * WEIGHTS[k] * WEIGHTS[k])
}

fn dot(a: &Unknowns, b: &Unknowns) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
