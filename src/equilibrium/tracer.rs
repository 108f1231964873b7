//! The curve that a blend's envelope is: its conditions, their derivatives and Newton's method on
//! them. See [`super::envelope`].

use super::bubble_dew::{Branch, PhasePair};
use super::conditions::{Columns, Conditions, PhaseTerms, Rows};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, solve_linear};

pub(super) const MOST_VARIABLES: usize = MAX_COMPONENTS + 2;
/// D_i of all components, then ln rho of the given phase and ln T.
pub(super) type Variables = [f64; MOST_VARIABLES];

const MOST_STEPS: usize = 12;
/// A step this short is the last.
const SHORT: f64 = 1e-8;
/// A step from which on it is known what the next would be, and what the last may leave.
const QUADRATIC: f64 = 1e-4;
const LEFT: f64 = 1e-12;
/// Steps of this length that do not shorten any more are the rounding of the equations, which the
/// nearly equal phases next to the critical point enlarge (R-22, whose terms cancel to the third
/// digit, to 1e-7).
const ROUNDING: f64 = 1e-5;

/// What ln T counts among the variables.
const LOG_TEMPERATURE: f64 = 10.0;
/// A D_i this small is stepped over: on either side of zero the trivial solution attracts.
const NARROWEST: f64 = 0.02;
/// Times that a step is halved before the curve is lost.
const MOST_HALVED: usize = 14;
/// How far, in parts of a step, its end may lie from where the tangent leads: farther off it is
/// another part of the curve.
const ASTRAY: f64 = 0.3;

/// A point of the envelope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnvelopePoint {
    /// Which side of the critical point it lies on.
    pub branch: Branch,
    /// The phases.
    pub pair: PhasePair,
}

/// Temperature, K, pressure, Pa, and density, mol/m3, of a blend's critical point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Critical {
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// Density, mol/m3.
    pub density: f64,
}

/// A step along the curve.
pub(super) struct Step {
    pub(super) to: Variables,
    pub(super) length: f64,
    pub(super) iterations: usize,
}

pub(super) struct Tracer<'a> {
    pub(super) mixture: &'a Mixture,
    pub(super) z: &'a MoleFractions,
}

impl Tracer<'_> {
    pub(super) fn variables(&self, point: &EnvelopePoint) -> Variables {
        let count = self.mixture.count();
        let pair = &point.pair;
        let (density, other, other_density) = match point.branch {
            Branch::Bubble => (pair.liquid_density, &pair.vapor, pair.vapor_density),
            Branch::Dew => (pair.vapor_density, &pair.liquid, pair.liquid_density),
        };
        let mut variables = [0.0; MOST_VARIABLES];
        for (k, variable) in variables[..count].iter_mut().enumerate() {
            *variable = (other[k] * other_density / (self.z[k] * density)).ln();
        }
        variables[count] = density.ln();
        variables[count + 1] = pair.temperature.ln();
        variables
    }

    /// The N + 1 conditions and their derivatives in all N + 2 variables.
    fn conditions(&self, at: &Variables) -> ([[f64; MOST_VARIABLES]; MOST_VARIABLES], Variables) {
        let count = self.mixture.count();
        let (density, temperature) = (at[count].exp(), at[count + 1].exp());
        let (mut own, mut other) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
        for k in 0..count {
            own[k] = self.z[k] * density;
            other[k] = own[k] * at[k].exp();
        }
        let conditions = Conditions::of(self.mixture);
        let a = conditions.phase(temperature, &own);
        let b = conditions.phase(temperature, &other);
        let mut matrix = [[0.0; MOST_VARIABLES]; MOST_VARIABLES];
        let mut value = [0.0; MOST_VARIABLES];
        let rows = Rows {
            first: 0,
            pressure: count,
            log_temperature: Some(count + 1),
        };
        let scale = conditions.pressure_scale(density.max(b.total));
        // D_i and the density both move the other phase
        let (in_other, in_both) = (Columns::Each(0), Columns::Together(count));
        conditions.add(&mut matrix, rows, &b, (1.0, scale), &[in_other, in_both]);
        conditions.add(&mut matrix, rows, &a, (-1.0, scale), &[in_both]);
        for (i, value) in value[..count].iter_mut().enumerate() {
            *value = conditions.difference(i, &a, &b);
        }
        let over = |phase: &PhaseTerms| phase.potential.pressure_over_temperature;
        value[count] = (over(&b) - over(&a)) / scale;
        (matrix, value)
    }

    fn weight(&self, variable: usize) -> f64 {
        if variable == self.mixture.count() + 1 {
            LOG_TEMPERATURE
        } else {
            1.0
        }
    }

    /// The variable that changes most; `usual` where others do not change more.
    pub(super) fn fastest(&self, change: &Variables, usual: usize) -> usize {
        let size = |k: usize| change[k].abs() * self.weight(k);
        (0..self.mixture.count() + 2).fold(usual, |best, k| {
            if size(k) > 1.0001 * size(best) {
                k
            } else {
                best
            }
        })
    }

    /// A step of a length along the curve, on the side of `heading`, by the variable that changes
    /// most there; shorter where Newton's method does not settle near the tangent.
    pub(super) fn advance(
        &self,
        here: &Variables,
        heading: &Variables,
        mut length: f64,
    ) -> Option<Step> {
        let variables = self.mixture.count() + 2;
        let before = self.fastest(heading, 0);
        let tangent = self.tangent(here, before)?;
        let fastest = self.fastest(&tangent, before);
        let ahead: f64 = (0..variables)
            .map(|k| tangent[k] * heading[k] * self.weight(k).powi(2))
            .sum();
        let forward = ahead.signum() * tangent[fastest].signum();
        for _ in 0..MOST_HALVED {
            let mut target = here[fastest] + forward * length / self.weight(fastest);
            // over the critical point
            if fastest + 2 < variables && target.abs() < NARROWEST {
                target = forward * NARROWEST;
            }
            let along = (target - here[fastest]) / tangent[fastest];
            let mut start = *here;
            for k in 0..variables {
                start[k] += tangent[k] * along;
            }
            let far = ASTRAY * (target - here[fastest]).abs() * self.weight(fastest);
            let near = |to: &Variables| {
                (0..variables).all(|k| (to[k] - start[k]).abs() * self.weight(k) < far)
            };
            match self.settle(start, fastest, target) {
                Some((to, iterations)) if near(&to) => {
                    return Some(Step {
                        to,
                        length,
                        iterations,
                    });
                }
                _ => length *= 0.5,
            }
        }
        None
    }

    /// d(variables)/d(variable `fixed`) along the curve.
    fn tangent(&self, at: &Variables, fixed: usize) -> Option<Variables> {
        let count = self.mixture.count();
        let (mut matrix, _) = self.conditions(at);
        let mut right = [0.0; MOST_VARIABLES];
        matrix[count + 1] = [0.0; MOST_VARIABLES];
        matrix[count + 1][fixed] = 1.0;
        right[count + 1] = 1.0;
        solve_linear(&mut matrix, &mut right, count + 2).then_some(right)
    }

    /// Newton's method with variable `fixed` held at `target`; with the number of steps.
    pub(super) fn settle(
        &self,
        mut at: Variables,
        fixed: usize,
        target: f64,
    ) -> Option<(Variables, usize)> {
        let count = self.mixture.count();
        let mut previous = f64::INFINITY;
        for steps in 1..=MOST_STEPS {
            let (mut matrix, value) = self.conditions(&at);
            let mut right = [0.0; MOST_VARIABLES];
            for k in 0..=count {
                right[k] = -value[k];
            }
            matrix[count + 1] = [0.0; MOST_VARIABLES];
            matrix[count + 1][fixed] = 1.0;
            right[count + 1] = target - at[fixed];
            if !solve_linear(&mut matrix, &mut right, count + 2) {
                return None;
            }
            let size = largest(&right[..count + 2]);
            // a step without a size is one too wide
            if size.is_nan() || size >= 2.0 {
                return None;
            }
            for k in 0..count + 2 {
                at[k] += right[k];
            }
            // quadratic: what a step leaves is its square, times what it was of the one before
            let left = (size / previous).powi(2) * size;
            let is_short = size < SHORT || (size < QUADRATIC && steps > 1 && left < LEFT);
            let done = is_short || (size < ROUNDING && size > 0.5 * previous);
            previous = size;
            if done {
                // not the trivial solution, in which all D vanish
                let widest = largest(&at[..count]);
                return (widest > 1e-4).then_some((at, steps));
            }
        }
        None
    }

    /// The variables at the critical point, where the phases are one.
    pub(super) fn critical(&self, critical: &Critical) -> Variables {
        let count = self.mixture.count();
        let mut variables = [0.0; MOST_VARIABLES];
        variables[count] = critical.density.ln();
        variables[count + 1] = critical.temperature.ln();
        variables
    }

    /// The temperature, K, and the given phase's pressure, Pa.
    pub(super) fn temperature_pressure(&self, at: &Variables) -> (f64, f64) {
        let count = self.mixture.count();
        let temperature = at[count + 1].exp();
        let isotherm = self.mixture.at_composition(self.z).isotherm(temperature);
        (temperature, isotherm.pressure(at[count].exp()))
    }

    /// By how much, in ln rho, the other phase is the denser: the curve's dew line where that is
    /// positive.
    pub(super) fn denser(&self, at: &Variables) -> f64 {
        let parts = self.z.iter().zip(at);
        parts.map(|(z, d)| z * d.exp()).sum::<f64>().ln()
    }

    /// The phases; the given one is the liquid where the other is thinner.
    pub(super) fn point(&self, at: &Variables) -> Option<EnvelopePoint> {
        let count = self.mixture.count();
        let (density, temperature) = (at[count].exp(), at[count + 1].exp());
        let mut other = [0.0; MAX_COMPONENTS];
        for k in 0..count {
            other[k] = self.z[k] * density * at[k].exp();
        }
        let sum: f64 = other[..count].iter().sum();
        let x = MoleFractions::new(&other[..count]);
        let (branch, liquid, vapor, liquid_density, vapor_density) = if sum > density {
            (Branch::Dew, x, *self.z, sum, density)
        } else {
            (Branch::Bubble, *self.z, x, density, sum)
        };
        let pressure = self
            .mixture
            .at_composition(&vapor)
            .isotherm(temperature)
            .pressure(vapor_density);
        let pair = PhasePair {
            temperature,
            pressure,
            liquid,
            vapor,
            liquid_density,
            vapor_density,
            liquids: None,
            steps: 0,
            residual: 0.0,
        };
        (pressure > 0.0).then_some(EnvelopePoint { branch, pair })
    }
}
