//! The phase envelope of a blend: bubble line, critical point and dew line as one curve.
//!
//! Along the curve the phase of the blend's composition z ("given") is in equilibrium with
//! another. With D_i = ln(n_i|other / n_i|given), the N + 1 conditions of [`super::bubble_dew`]
//! hold among the N + 2 variables D_i, ln rho of the given phase and ln T. The curve is followed
//! by fixing whichever variable changes fastest, which carries it through its extrema and, where
//! all D_i pass zero together, through the critical point (Michelsen, Fluid Phase Equilib. 4
//! (1980) 1, in densities instead of K-values).

use super::bubble_dew::{self, Branch, PhasePair, between};
use super::tracer::{Tracer, Variables};
use crate::error::{Error, Result};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::bracketed_root;

const MOST_POINTS: usize = 400;
/// A D_i this small is stepped over: on either side of zero the trivial solution attracts.
const NARROWEST: f64 = 0.02;
/// Longest steps along the curve, in the logarithms followed; tried in turn.
const LONGEST: [f64; 5] = [0.4, 0.2, 0.1, 0.3, 0.05];
/// What ln T counts among the logarithms followed.
const LOG_TEMPERATURE: f64 = 10.0;
/// Parts into which a stretch is cut to look for points on it.
const PARTS: usize = 8;
/// Parabolas that find where the curve turns.
const TURNING: usize = 6;
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
        let mut traced = Self::trace_with(mixture, z, LONGEST[0]);
        for longest in &LONGEST[1..] {
            traced = traced.or_else(|_| Self::trace_with(mixture, z, *longest));
        }
        traced
    }

    fn trace_with(mixture: &Mixture, z: &MoleFractions, longest: f64) -> Result<Self> {
        let start = FIRST * mixture.at_composition(z).reducing_temperature;
        let first = bubble_dew::at_temperature(mixture, z, Branch::Bubble, start, None)?;
        let tracer = Tracer { mixture, z };
        let mut points = vec![EnvelopePoint {
            branch: Branch::Bubble,
            pair: first,
        }];
        let mut here = tracer.variables(&points[0]);
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
                let weight = if k == count + 1 { LOG_TEMPERATURE } else { 1.0 };
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

    /// All points of the curve at a temperature in K, found along the curve itself: slower than
    /// from [`Envelope::starts_at_temperature`], and sure up to the critical point and past the
    /// extrema.
    pub fn at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
    ) -> Vec<EnvelopePoint> {
        self.along(mixture, z, temperature.ln(), |pair| pair.temperature.ln())
    }

    /// As [`Envelope::at_temperature`] at a pressure in Pa.
    pub fn at_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        pressure: f64,
    ) -> Vec<EnvelopePoint> {
        self.along(mixture, z, pressure.ln(), |pair| pair.pressure.ln())
    }

    fn along(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        target: f64,
        value: impl Fn(&PhasePair) -> f64,
    ) -> Vec<EnvelopePoint> {
        let tracer = Tracer { mixture, z };
        let mut found = Vec::new();
        for (k, two) in self.points.windows(2).enumerate() {
            let at = |point: Option<&EnvelopePoint>| point.map(|point| value(&point.pair) - target);
            let (Some(a), Some(b)) = (at(two.first()), at(two.last())) else {
                continue;
            };
            // The curve may turn between the ends where it rises on one side and falls on the
            // other.
            let before = k.checked_sub(1).and_then(|k| at(self.points.get(k)));
            let after = at(self.points.get(k + 2));
            let turns = before.is_some_and(|before| (a - before) * (b - a) < 0.0)
                || after.is_some_and(|after| (b - a) * (after - b) < 0.0);
            if a * b <= 0.0 || turns {
                let stretch = Stretch::new(&tracer, &two[0], &two[1]);
                stretch.roots(|pair| value(pair) - target, turns, &mut found);
            }
        }
        found
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

/// The curve between two neighbouring points, by the variable that changes most between them.
struct Stretch<'a> {
    tracer: &'a Tracer<'a>,
    from: Variables,
    to: Variables,
    fixed: usize,
    branches: (Branch, Branch),
}

impl<'a> Stretch<'a> {
    fn new(tracer: &'a Tracer<'a>, a: &EnvelopePoint, b: &EnvelopePoint) -> Self {
        let (from, to) = (tracer.variables(a), tracer.variables(b));
        let count = tracer.mixture.count();
        let change = |k: usize| {
            let weight = if k == count + 1 { LOG_TEMPERATURE } else { 1.0 };
            (to[k] - from[k]).abs() * weight
        };
        let fixed =
            (0..count + 2).fold(0, |best, k| if change(k) > change(best) { k } else { best });
        Self {
            tracer,
            from,
            to,
            fixed,
            branches: (a.branch, b.branch),
        }
    }

    /// The curve's point at a part of the way.
    fn at(&self, part: f64) -> Option<EnvelopePoint> {
        let mut start = self.from;
        for (value, to) in start.iter_mut().zip(&self.to) {
            *value += part * (to - *value);
        }
        let (variables, _) = self.tracer.settle(start, self.fixed, start[self.fixed])?;
        // past the critical point all D have the other sign
        let count = self.tracer.mixture.count();
        let along: f64 = (0..count).map(|k| variables[k] * self.from[k]).sum();
        let branch = if along > 0.0 {
            self.branches.0
        } else {
            self.branches.1
        };
        let pair = self.tracer.pair(&variables, branch == Branch::Dew)?;
        Some(EnvelopePoint { branch, pair })
    }

    /// Adds the points at which `error` vanishes; where it may turn, all of them.
    fn roots(
        &self,
        error: impl Fn(&PhasePair) -> f64,
        turns: bool,
        found: &mut Vec<EnvelopePoint>,
    ) {
        let at = |part: f64| self.at(part).map(|point| (part, error(&point.pair)));
        let lost = || Error::NotConverged {
            question: "point of the phase envelope",
            steps: 0,
            residual: f64::NAN,
        };
        let between = |low: f64, high: f64| {
            let error = |part: f64| Ok(at(part).ok_or_else(lost)?.1);
            bracketed_root(error, low, high, 1e-14)
                .ok()
                .and_then(|part| Some((part, self.at(part)?)))
        };
        if !turns && let Some((_, point)) = between(0.0, 1.0) {
            found.push(point);
            return;
        }
        // from a part before the stretch to one behind it, that a turn at its end is seen
        let parts = (0..=PARTS + 2).map(|k| (k as f64 - 1.0) / PARTS as f64);
        let mut samples: Vec<(f64, f64)> = parts.filter_map(at).collect();
        // where the curve turns before it reaches the target, its turning point is added
        let turning: Vec<(f64, f64)> = samples
            .windows(3)
            .filter(|three| {
                let [a, b, c] = [three[0].1, three[1].1, three[2].1];
                a * b > 0.0 && b * c > 0.0 && b.abs() < a.abs() && b.abs() < c.abs()
            })
            .filter_map(|three| {
                let mut three = [three[0], three[1], three[2]];
                for _ in 0..TURNING {
                    let vertex = at(vertex(&three))?;
                    let (middle, beside) = if vertex.0 > three[1].0 {
                        (1, 2)
                    } else {
                        (1, 0)
                    };
                    let nearer =
                        vertex.1.abs() < three[middle].1.abs() || vertex.1 * three[middle].1 < 0.0;
                    if nearer {
                        three[2 - beside] = three[middle];
                        three[middle] = vertex;
                    } else {
                        three[beside] = vertex;
                    }
                }
                Some(three[1])
            })
            .collect();
        samples.extend(turning);
        samples.sort_by(|a, b| a.0.total_cmp(&b.0));
        for two in samples.windows(2) {
            // an end that is the target is the next stretch's, or this one's first
            if two[0].1 * two[1].1 > 0.0 || two[1].1 == 0.0 {
                continue;
            }
            let root = between(two[0].0, two[1].0).filter(|(part, _)| (0.0..=1.0).contains(part));
            found.extend(root.map(|(_, point)| point));
        }
    }
}

/// The vertex of the parabola through three points.
fn vertex(points: &[(f64, f64); 3]) -> f64 {
    let [(x0, y0), (x1, y1), (x2, y2)] = *points;
    let d1 = (y1 - y0) / (x1 - x0);
    let d2 = ((y2 - y1) / (x2 - x1) - d1) / (x2 - x0);
    (0.5 * (x0 + x1 - d1 / d2)).clamp(x0 + 0.01 * (x2 - x0), x2 - 0.01 * (x2 - x0))
}
