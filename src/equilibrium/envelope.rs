//! The phase envelope of a blend: bubble line, critical point and dew line as one curve.
//!
//! Along the curve the phase of the blend's composition z ("given") is in equilibrium with
//! another. With D_i = ln(n_i|other / n_i|given), the N + 1 conditions of [`super::bubble_dew`]
//! hold among the N + 2 variables D_i, ln rho of the given phase and ln T. The curve is followed
//! by fixing whichever variable changes fastest, which carries it through its extrema and, where
//! all D_i pass zero together, through the critical point (Michelsen, Fluid Phase Equilib. 4
//! (1980) 1, in densities instead of K-values).

use super::bubble_dew::{self, Branch, PhasePair, between};
use super::critical::critical_of_blend;
use super::tracer::{MOST_VARIABLES, Tracer, Variables};
use crate::error::{Error, Result};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::bracketed_root;

const MOST_POINTS: usize = 400;
/// Longest steps along the curve, in the logarithms followed; tried in turn.
const LONGEST: [f64; 3] = [0.4, 0.2, 0.1];
/// Parts into which a stretch is cut to look for points on it.
const PARTS: usize = 8;
/// Parts of a stretch from one of which a point is tried that its ends do not lead to.
const MORE: [f64; 4] = [0.5, 0.25, 0.75, 0.9];
/// Parabolas that find where the curve turns.
const TURNING: usize = 12;
/// Where a trace begins, in reducing temperatures.
const FIRST: f64 = 0.7;
/// The first step along the curve.
const FIRST_STEP: f64 = 0.1;

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
        // at first upward in temperature
        let mut heading = [0.0; MOST_VARIABLES];
        heading[mixture.count() + 1] = 1.0;
        let mut length = FIRST_STEP;
        let lost = |points: usize| Error::NotConverged {
            question: "phase envelope",
            steps: points,
            residual: f64::NAN,
        };
        while points.len() < MOST_POINTS {
            let step = tracer
                .advance(&here, &heading, length)
                .ok_or_else(|| lost(points.len()))?;
            length = match step.iterations {
                0..=3 => (step.length * 1.5).min(longest),
                4..=5 => step.length,
                _ => step.length * 0.6,
            };
            for (k, heading) in heading.iter_mut().enumerate() {
                *heading = step.to[k] - here[k];
            }
            here = step.to;
            let point = tracer.point(&here).ok_or_else(|| lost(points.len()))?;
            points.push(point);
            curve.push(here);
            let EnvelopePoint { branch, pair } = point;
            let back = pair.temperature < start && pair.pressure < first.pressure;
            if branch == Branch::Dew && back {
                return Self::finish(&tracer, points, curve);
            }
        }
        Err(lost(points.len()))
    }

    fn finish(
        tracer: &Tracer<'_>,
        points: Vec<EnvelopePoint>,
        mut curve: Vec<Variables>,
    ) -> Result<Self> {
        let lost = || Error::NotConverged {
            question: "critical point of the blend",
            steps: points.len(),
            residual: f64::NAN,
        };
        let crossing = points
            .iter()
            .position(|point| point.branch == Branch::Dew)
            .filter(|&k| k >= 2 && k + 1 < points.len())
            .ok_or_else(lost)?;
        let start = Self::between_branches(tracer, &curve[crossing - 2..=crossing + 1]);
        let (temperature, density) =
            critical_of_blend(tracer.mixture, tracer.z, start).ok_or_else(lost)?;
        let isotherm = tracer
            .mixture
            .at_composition(tracer.z)
            .isotherm(temperature);
        let critical = Critical {
            temperature,
            pressure: isotherm.pressure(density),
            density,
        };
        curve.insert(crossing, tracer.critical(&critical));
        let highest = |value: fn((f64, f64)) -> f64| {
            let value = |at: &Variables| value(tracer.temperature_pressure(at));
            tracer.temperature_pressure(&highest(tracer, &curve, value))
        };
        Ok(Self {
            cricondentherm: highest(|(temperature, _)| temperature.ln()),
            cricondenbar: highest(|(_, pressure)| pressure.ln()),
            points,
            critical,
        })
    }

    /// Temperature and density near the critical point: the cubic through two points on either
    /// side, in the D that is largest there, at zero.
    fn between_branches(tracer: &Tracer<'_>, near: &[Variables]) -> (f64, f64) {
        let count = tracer.mixture.count();
        let widest = (0..count).fold(0, |best, k| {
            if near[1][k].abs() > near[1][best].abs() {
                k
            } else {
                best
            }
        });
        let nodes: Vec<f64> = near.iter().map(|at| at[widest]).collect();
        let at_zero = |variable: usize| {
            let values = near.iter().map(|at| at[variable]);
            through(&nodes, values, 0.0).exp()
        };
        (at_zero(count + 1), at_zero(count))
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
        self.along(mixture, z, |(t, _)| (t / temperature).ln())
    }

    /// As [`Envelope::at_temperature`] at a pressure in Pa.
    pub fn at_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        pressure: f64,
    ) -> Vec<EnvelopePoint> {
        self.along(mixture, z, |(_, p)| (p / pressure).ln())
    }

    fn along(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        error: impl Fn((f64, f64)) -> f64,
    ) -> Vec<EnvelopePoint> {
        let tracer = Tracer { mixture, z };
        let mut found = Vec::new();
        for (k, two) in self.points.windows(2).enumerate() {
            let at = |point: Option<&EnvelopePoint>| {
                point.map(|point| error((point.pair.temperature, point.pair.pressure)))
            };
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
                let [from, to] = [0, 1].map(|k| tracer.variables(&two[k]));
                let crossing = two[0].branch != two[1].branch;
                let middle = crossing.then(|| tracer.critical(&self.critical));
                let stretch = Stretch::new(&tracer, from, middle, to);
                stretch.roots(&error, turns, &mut found);
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

/// The value at `x` of the polynomial through `values` at `nodes` (Lagrange).
fn through(nodes: &[f64], values: impl Iterator<Item = f64>, x: f64) -> f64 {
    let mut sum = 0.0;
    for ((i, a), value) in nodes.iter().enumerate().zip(values) {
        let others = nodes.iter().enumerate().filter(|(j, _)| *j != i);
        sum += value * others.map(|(_, b)| (x - b) / (a - b)).product::<f64>();
    }
    sum
}

/// The point of the curve at which `value` is largest: parabolas from the largest of the points
/// traced and its neighbours.
fn highest(
    tracer: &Tracer<'_>,
    curve: &[Variables],
    value: impl Fn(&Variables) -> f64,
) -> Variables {
    let values: Vec<f64> = curve.iter().map(&value).collect();
    let best = (0..curve.len()).fold(0, |best, k| if values[k] > values[best] { k } else { best });
    if best == 0 || best + 1 == curve.len() {
        return curve[best];
    }
    let stretch = Stretch::new(tracer, curve[best - 1], Some(curve[best]), curve[best + 1]);
    let height = |part: f64| Some((part, value(&stretch.at(part)?)));
    let three = [
        (0.0, values[best - 1]),
        (stretch.middle.map_or(0.5, |(part, _)| part), values[best]),
        (1.0, values[best + 1]),
    ];
    let (part, top) = turning(three, height);
    match stretch.at(part) {
        Some(found) if top > values[best] => found,
        _ => curve[best],
    }
}

/// Where a function turns between the outer of three points, of which the middle one is the
/// highest or the lowest; as far as it has values.
fn turning(mut three: [(f64, f64); 3], at: impl Fn(f64) -> Option<(f64, f64)>) -> (f64, f64) {
    let sign = (three[1].1 - three[0].1).signum();
    for _ in 0..TURNING {
        let next = vertex(&three);
        if (next - three[1].0).abs() < 1e-7 * (three[2].0 - three[0].0) {
            break;
        }
        let Some(found) = at(next) else {
            break;
        };
        let beside = if found.0 > three[1].0 { 2 } else { 0 };
        if sign * (found.1 - three[1].1) > 0.0 {
            three[2 - beside] = three[1];
            three[1] = found;
        } else {
            three[beside] = found;
        }
    }
    three[1]
}

/// The curve between two points, by the variable that changes most between them.
struct Stretch<'a> {
    tracer: &'a Tracer<'a>,
    from: Variables,
    /// A point known between them, and which part of the way it lies.
    middle: Option<(f64, Variables)>,
    to: Variables,
    fixed: usize,
}

impl<'a> Stretch<'a> {
    fn new(
        tracer: &'a Tracer<'a>,
        from: Variables,
        middle: Option<Variables>,
        to: Variables,
    ) -> Self {
        let mut change = to;
        for (change, from) in change.iter_mut().zip(&from) {
            *change -= from;
        }
        let fixed = tracer.fastest(&change, 0);
        let part = |middle: &Variables| (middle[fixed] - from[fixed]) / (to[fixed] - from[fixed]);
        Self {
            tracer,
            from,
            middle: middle.map(|middle| (part(&middle), middle)),
            to,
            fixed,
        }
    }

    /// The curve at a part of the way, from the polynomial through the points known; where that
    /// leads nowhere, from one point more.
    fn at(&self, part: f64) -> Option<Variables> {
        let settled = |part: f64, middle: Option<(f64, Variables)>| {
            let mut start = self.from;
            for (k, value) in start.iter_mut().enumerate() {
                let (a, b) = (self.from[k], self.to[k]);
                *value = match middle {
                    None => a + part * (b - a),
                    Some((at, middle)) => {
                        through(&[0.0, at, 1.0], [a, middle[k], b].into_iter(), part)
                    }
                };
            }
            let found = self.tracer.settle(start, self.fixed, start[self.fixed])?;
            Some(found.0)
        };
        let more = |&at: &f64| settled(part, Some((at, settled(at, self.middle)?)));
        settled(part, self.middle).or_else(|| MORE.iter().find_map(more))
    }

    fn point(&self, part: f64) -> Option<EnvelopePoint> {
        self.tracer.point(&self.at(part)?)
    }

    /// Adds the points at which an error in temperature and pressure vanishes; where it may turn,
    /// all of them.
    fn roots(
        &self,
        error: impl Fn((f64, f64)) -> f64,
        turns: bool,
        found: &mut Vec<EnvelopePoint>,
    ) {
        let at = |part: f64| {
            let there = match self.middle {
                Some((middle, critical)) if part == middle => {
                    self.tracer.temperature_pressure(&critical)
                }
                _ => {
                    let pair = self.point(part)?.pair;
                    (pair.temperature, pair.pressure)
                }
            };
            Some((part, error(there)))
        };
        let lost = || Error::NotConverged {
            question: "point of the phase envelope",
            steps: 0,
            residual: f64::NAN,
        };
        let between = |low: f64, high: f64| {
            let error = |part: f64| Ok(at(part).ok_or_else(lost)?.1);
            bracketed_root(error, low, high, 1e-14)
                .ok()
                .and_then(|part| Some((part, self.point(part)?)))
        };
        let middle = self.middle.map(|(part, _)| part);
        let ends: Vec<f64> = [0.0].into_iter().chain(middle).chain([1.0]).collect();
        let own = || ends.windows(2).find_map(|two| between(two[0], two[1]));
        if !turns && let Some((_, point)) = own() {
            found.push(point);
            return;
        }
        // from a part before the stretch to one behind it, that a turn at its end is seen
        let parts = (0..=PARTS + 2).map(|k| (k as f64 - 1.0) / PARTS as f64);
        let mut samples: Vec<(f64, f64)> = parts.chain(middle).filter_map(at).collect();
        samples.sort_by(|a, b| a.0.total_cmp(&b.0));
        // where the curve turns before it reaches the target, its turning point is added
        let turns: Vec<(f64, f64)> = samples
            .windows(3)
            .filter(|three| {
                let [a, b, c] = [three[0].1, three[1].1, three[2].1];
                a * b > 0.0 && b * c > 0.0 && b.abs() < a.abs() && b.abs() < c.abs()
            })
            .map(|three| turning([three[0], three[1], three[2]], at))
            .collect();
        samples.extend(turns);
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
