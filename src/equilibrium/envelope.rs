//! The phase envelope of a blend: bubble line, critical point and dew line as one curve.
//!
//! Along the curve the phase of the blend's composition z ("given") is in equilibrium with
//! another. With D_i = ln(n_i|other / n_i|given), the N + 1 conditions of [`super::bubble_dew`]
//! hold among the N + 2 variables D_i, ln rho of the given phase and ln T. The curve is followed
//! by fixing whichever variable changes fastest, which carries it through its extrema and, where
//! all D_i pass zero together, through the critical point (Michelsen, Fluid Phase Equilib. 4
//! (1980) 1, in densities instead of K-values).

use super::bubble_dew::{self, Branch, PhasePair, between};
use crate::error::{Error, Result};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, solve_linear};

const MOST_VARIABLES: usize = MAX_COMPONENTS + 2;
type Variables = [f64; MOST_VARIABLES];

const MOST_STEPS: usize = 12;
const MOST_POINTS: usize = 400;
/// A D_i this small is stepped over: on either side of zero the trivial solution attracts.
const NARROWEST: f64 = 0.02;
/// Longest steps along the curve, in the logarithms followed; tried in turn.
const LONGEST: [f64; 3] = [0.4, 0.2, 0.1];
/// Where a trace begins, in reducing temperatures.
const FIRST: f64 = 0.7;

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

/// The envelope from a bubble point through the critical point to a dew point.
#[derive(Debug, Clone, PartialEq)]
pub struct Envelope {
    /// Points in order along the curve.
    pub points: Vec<EnvelopePoint>,
    /// The critical point.
    pub critical: Critical,
    /// Highest temperature of two phases: (K, Pa).
    pub cricondentherm: (f64, f64),
    /// Highest pressure of two phases: (K, Pa).
    pub cricondenbar: (f64, f64),
}

impl Envelope {
    /// Traces the envelope of a mixture of composition `z`.
    ///
    /// # Errors
    /// [`Error::NotConverged`] where no bubble point was found to start from or the curve was lost
    /// before it came back to the starting temperature as a dew line.
    pub fn trace(mixture: &Mixture, z: &MoleFractions) -> Result<Self> {
        // a curve lost with long steps is traced again with shorter ones
        Self::trace_with(mixture, z, LONGEST[0])
            .or_else(|_| Self::trace_with(mixture, z, LONGEST[1]))
            .or_else(|_| Self::trace_with(mixture, z, LONGEST[2]))
    }

    fn trace_with(mixture: &Mixture, z: &MoleFractions, longest: f64) -> Result<Self> {
        let start = FIRST * mixture.at_composition(z).reducing_temperature;
        let first = bubble_dew::at_temperature(mixture, z, Branch::Bubble, start, None)?;
        let tracer = Tracer { mixture, z };
        let mut here = tracer.variables(&first);
        let mut points = vec![EnvelopePoint {
            branch: Branch::Bubble,
            pair: first,
        }];
        let mut curve = vec![here];
        let count = mixture.count();
        // first step: upward in temperature
        let mut fixed = count + 1;
        let mut direction = 1.0;
        let mut step = 0.1_f64;
        let mut crossed = false;
        let lost = |points: usize| Error::NotConverged {
            question: "phase envelope",
            steps: points,
            residual: f64::NAN,
        };
        while points.len() < MOST_POINTS {
            let tangent = tracer
                .tangent(&here, fixed)
                .ok_or_else(|| lost(points.len()))?;
            // Fix the variable that changes most; ln T is worth ten of the others.
            let speed = |k: usize| {
                let weight = if k == count + 1 { 10.0 } else { 1.0 };
                tangent[k].abs() * weight
            };
            let fastest = (0..count + 2).fold(fixed, |best, k| {
                if speed(k) > 1.0001 * speed(best) {
                    k
                } else {
                    best
                }
            });
            let forward = direction * tangent[fastest].signum();
            let rate = tangent[fastest];
            let (mut length, mut found) = (step, None);
            for _ in 0..14 {
                let weight = if fastest == count + 1 { 0.1 } else { 1.0 };
                let along = forward * length * weight;
                let mut next = here;
                for k in 0..count + 2 {
                    next[k] += tangent[k] / rate * along;
                }
                // step over the critical point: keep the fixed D away from zero
                if fastest < count && next[fastest].abs() < NARROWEST {
                    let beyond = forward * NARROWEST;
                    let along = beyond - here[fastest];
                    for k in 0..count + 2 {
                        next[k] = here[k] + tangent[k] / rate * along;
                    }
                }
                let target = next[fastest];
                found = tracer.settle(next, fastest, target);
                if found.is_some() {
                    break;
                }
                length *= 0.5;
            }
            let (next, steps) = found.ok_or_else(|| lost(points.len()))?;
            step = match steps {
                0..=3 => (length * 1.5).min(longest),
                4..=5 => length,
                _ => length * 0.6,
            };
            (fixed, direction) = (fastest, forward);
            let sign_changed = (0..count).all(|k| next[k] * here[k] < 0.0);
            if sign_changed {
                crossed = true;
            }
            here = next;
            let Some(pair) = tracer.pair(&here, crossed) else {
                return Err(lost(points.len()));
            };
            points.push(EnvelopePoint {
                branch: if crossed { Branch::Dew } else { Branch::Bubble },
                pair,
            });
            curve.push(here);
            if crossed && pair.temperature < start && pair.pressure < first.pressure {
                return Self::finish(&tracer, points, &curve);
            }
        }
        Err(lost(points.len()))
    }

    fn finish(
        tracer: &Tracer<'_>,
        points: Vec<EnvelopePoint>,
        curve: &[Variables],
    ) -> Result<Self> {
        let count = tracer.mixture.count();
        let crossing = points
            .iter()
            .position(|point| point.branch == Branch::Dew)
            .filter(|&k| k >= 2 && k + 1 < points.len())
            .ok_or(Error::NotConverged {
                question: "critical point of the blend",
                steps: points.len(),
                residual: f64::NAN,
            })?;
        // The critical point: cubic through two points on either side, in the D that is largest
        // there, at zero.
        let near = &curve[crossing - 2..=crossing + 1];
        let widest = (0..count).fold(0, |best, k| {
            if near[1][k].abs() > near[1][best].abs() {
                k
            } else {
                best
            }
        });
        let at_zero = |variable: usize| {
            let mut sum = 0.0;
            for (i, a) in near.iter().enumerate() {
                let mut weight = 1.0;
                for (j, b) in near.iter().enumerate() {
                    if i != j {
                        weight *= -b[widest] / (a[widest] - b[widest]);
                    }
                }
                sum += weight * a[variable];
            }
            sum
        };
        let (density, temperature) = (at_zero(count).exp(), at_zero(count + 1).exp());
        let isotherm = tracer
            .mixture
            .at_composition(tracer.z)
            .isotherm(temperature);
        let critical = Critical {
            temperature,
            pressure: isotherm.pressure(density),
            density,
        };
        let log_temperature = |pair: &PhasePair| pair.temperature.ln();
        let log_pressure = |pair: &PhasePair| pair.pressure.ln();
        let (hottest, at) = extremum(&points, log_temperature, log_pressure);
        let (highest, at_highest) = extremum(&points, log_pressure, log_temperature);
        let mut cricondentherm = (hottest.exp(), at.exp());
        let mut cricondenbar = (at_highest.exp(), highest.exp());
        if critical.temperature > cricondentherm.0 {
            cricondentherm = (critical.temperature, critical.pressure);
        }
        if critical.pressure > cricondenbar.1 {
            cricondenbar = (critical.temperature, critical.pressure);
        }
        Ok(Self {
            points,
            critical,
            cricondentherm,
            cricondenbar,
        })
    }

    /// Whether the temperature turns more than once along the curve: the model has a second liquid
    /// near the top, and a point traced there need not be the stable one.
    pub fn folds(&self) -> bool {
        let rises = |two: &[EnvelopePoint]| two[1].pair.temperature > two[0].pair.temperature;
        let rises: Vec<bool> = self.points.windows(2).map(rises).collect();
        rises.windows(2).filter(|two| two[0] != two[1]).count() > 1
    }

    /// The points of the envelope between which a temperature in K lies, each
    /// with a point between them to start from, in order along the curve.
    pub fn starts_at_temperature(&self, temperature: f64) -> Vec<EnvelopePoint> {
        self.starts(|pair| pair.temperature.ln(), temperature.ln())
    }

    /// As [`Envelope::starts_at_temperature`] for a pressure in Pa.
    pub fn starts_at_pressure(&self, pressure: f64) -> Vec<EnvelopePoint> {
        self.starts(|pair| pair.pressure.ln(), pressure.ln())
    }

    fn starts(&self, variable: impl Fn(&PhasePair) -> f64, target: f64) -> Vec<EnvelopePoint> {
        let mut starts = Vec::new();
        for two in self.points.windows(2) {
            let (a, b) = (variable(&two[0].pair), variable(&two[1].pair));
            if (a - target) * (b - target) <= 0.0 && a != b {
                let weight = (target - a) / (b - a);
                let nearer = if weight < 0.5 { two[0] } else { two[1] };
                starts.push(if two[0].branch == two[1].branch {
                    EnvelopePoint {
                        branch: nearer.branch,
                        pair: between(&two[0].pair, &two[1].pair, weight),
                    }
                } else {
                    nearer
                });
            }
        }
        starts
    }
}

/// The largest `value` along the curve with the `other` there: the vertex of the parabola through
/// the largest point and its neighbours, over their place along the curve.
fn extremum(
    points: &[EnvelopePoint],
    value: impl Fn(&PhasePair) -> f64,
    other: impl Fn(&PhasePair) -> f64,
) -> (f64, f64) {
    let mut best = 0;
    for (k, point) in points.iter().enumerate() {
        if value(&point.pair) > value(&points[best].pair) {
            best = k;
        }
    }
    let at = |k: usize| (other(&points[k].pair), value(&points[k].pair));
    let middle = at(best);
    if best == 0 || best + 1 == points.len() {
        return (middle.1, middle.0);
    }
    let (a, b) = (at(best - 1), at(best + 1));
    // Newton's divided differences in the other variable
    let (x0, x1, x2) = (a.0, middle.0, b.0);
    let d1 = (middle.1 - a.1) / (x1 - x0);
    let d2 = ((b.1 - middle.1) / (x2 - x1) - d1) / (x2 - x0);
    let (low, high) = if x0 < x2 { (x0, x2) } else { (x2, x0) };
    let x = 0.5 * (x0 + x1 - d1 / d2);
    if !(x > low && x < high) {
        return (middle.1, middle.0);
    }
    (a.1 + d1 * (x - x0) + d2 * (x - x0) * (x - x1), x)
}

struct Tracer<'a> {
    mixture: &'a Mixture,
    z: &'a MoleFractions,
}

impl Tracer<'_> {
    fn variables(&self, pair: &PhasePair) -> Variables {
        let count = self.mixture.count();
        let mut variables = [0.0; MOST_VARIABLES];
        for (k, variable) in variables[..count].iter_mut().enumerate() {
            let other = pair.vapor[k] * pair.vapor_density;
            *variable = (other / (self.z[k] * pair.liquid_density)).ln();
        }
        variables[count] = pair.liquid_density.ln();
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
        let a = self.mixture.potential(temperature, &own[..count]);
        let b = self.mixture.potential(temperature, &other[..count]);
        let mut matrix = [[0.0; MOST_VARIABLES]; MOST_VARIABLES];
        let mut value = [0.0; MOST_VARIABLES];
        let (mut own_slope, mut all_slope) = (0.0, 0.0);
        let other_sum: f64 = other[..count].iter().sum();
        let gas = |k: usize| self.mixture.components()[k].record.gas_constant_j_mol_k;
        let scale = 1.0 / (density.max(other_sum) * gas(0));
        for i in 0..count {
            let inverse_r = 1.0 / gas(i);
            value[i] = at[i] + (b.gradient[i] - a.gradient[i]) * inverse_r;
            let mut along = 0.0;
            for j in 0..count {
                matrix[i][j] = b.hessian[i][j] * other[j] * inverse_r;
                along += matrix[i][j] - a.hessian[i][j] * own[j] * inverse_r;
            }
            matrix[i][i] += 1.0;
            matrix[i][count] = along;
            matrix[i][count + 1] =
                (b.gradient_by_log_temperature[i] - a.gradient_by_log_temperature[i]) * inverse_r;
            let (mut s, mut t) = (gas(i), gas(i));
            for j in 0..count {
                s += own[j] * a.hessian[j][i];
                t += other[j] * b.hessian[j][i];
            }
            own_slope += s * own[i];
            matrix[count][i] = t * other[i] * scale;
            all_slope += t * other[i];
        }
        value[count] = (b.pressure_over_temperature - a.pressure_over_temperature) * scale;
        matrix[count][count] = (all_slope - own_slope) * scale;
        matrix[count][count + 1] =
            (b.pressure_by_log_temperature - a.pressure_by_log_temperature) * scale;
        (matrix, value)
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
    fn settle(&self, mut at: Variables, fixed: usize, target: f64) -> Option<(Variables, usize)> {
        let count = self.mixture.count();
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
            if size < 1e-8 {
                // not the trivial solution, in which all D vanish
                let widest = largest(&at[..count]);
                return (widest > 1e-4).then_some((at, steps));
            }
        }
        None
    }

    fn pair(&self, at: &Variables, crossed: bool) -> Option<PhasePair> {
        let count = self.mixture.count();
        let (density, temperature) = (at[count].exp(), at[count + 1].exp());
        let mut other = [0.0; MAX_COMPONENTS];
        for k in 0..count {
            other[k] = self.z[k] * density * at[k].exp();
        }
        let sum: f64 = other[..count].iter().sum();
        let x = MoleFractions::new(&other[..count]);
        let (liquid, vapor, liquid_density, vapor_density) = if crossed {
            (x, *self.z, sum, density)
        } else {
            (*self.z, x, density, sum)
        };
        let pressure = self
            .mixture
            .at_composition(&vapor)
            .isotherm(temperature)
            .pressure(vapor_density);
        (pressure > 0.0).then_some(PhasePair {
            temperature,
            pressure,
            liquid,
            vapor,
            liquid_density,
            vapor_density,
            steps: 0,
            residual: 0.0,
        })
    }
}
