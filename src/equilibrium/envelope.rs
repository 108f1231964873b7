//! The phase envelope of a blend: bubble line, critical point and dew line as one curve.
//!
//! Along the curve the phase of the blend's composition z ("given") is in equilibrium with
//! another. With D_i = ln(n_i|other / n_i|given), the N + 1 conditions of [`super::bubble_dew`]
//! hold among the N + 2 variables D_i, ln rho of the given phase and ln T. The curve is followed
//! by fixing whichever variable changes fastest, which carries it through its extrema and, where
//! all D_i pass zero together, through the critical point (Michelsen, Fluid Phase Equilib. 4
//! (1980) 1, in densities instead of K-values).

use super::bubble_dew::{self, Branch, PhasePair};
use super::critical::critical_of_blend;
pub use super::tracer::{Critical, EnvelopePoint};
use super::tracer::{MOST_VARIABLES, Tracer, Variables};
use crate::error::{Error, Result, reasons};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::{bracketed_root, through};

const MOST_POINTS: usize = 400;
/// Longest steps along the curve, in the logarithms followed; tried in turn.
const LONGEST: [f64; 3] = [0.4, 0.2, 0.1];
/// Parts of a stretch from one of which a point is tried that its ends do not lead to.
const MORE: [f64; 4] = [0.5, 0.25, 0.75, 0.9];
/// Parabolas that find where the curve turns.
const TURNING: usize = 12;
/// Where a trace begins, in reducing temperatures.
const FIRST: f64 = 0.7;
/// The first step along the curve.
const FIRST_STEP: f64 = 0.1;

/// The envelope from a bubble point through the critical point to a dew point.
#[derive(Debug, Clone, PartialEq)]
pub struct Envelope {
    /// Points in order along the curve.
    pub points: Vec<EnvelopePoint>,
    /// The critical point.
    pub critical: Critical,
    /// Where two phases have their highest temperature.
    pub cricondentherm: EnvelopeExtreme,
    /// Where two phases have their highest pressure.
    pub cricondenbar: EnvelopeExtreme,
    /// The curve in stretches on which temperature and pressure both rise or fall: its points,
    /// the critical one among them, and where either turns.
    nodes: Vec<Node>,
}

/// Where the curve reaches its highest temperature or pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnvelopeExtreme {
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa.
    pub pressure: f64,
}

/// A point of the curve with its temperature, K, and pressure, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Node {
    at: Variables,
    temperature: f64,
    pressure: f64,
}

impl Node {
    fn new(tracer: &Tracer<'_>, at: Variables) -> Self {
        let (temperature, pressure) = tracer.temperature_pressure(&at);
        Self {
            at,
            temperature,
            pressure,
        }
    }
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
            question: reasons::QUESTION_ENVELOPE,
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
            question: reasons::QUESTION_CRITICAL_OF_BLEND,
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
        let nodes = curve.iter().map(|&at| Node::new(tracer, at)).collect();
        let nodes = with_turns(tracer, nodes, |node| node.temperature.ln());
        let nodes = with_turns(tracer, nodes, |node| node.pressure.ln());
        let highest = |value: fn(&Node) -> f64| {
            let best = nodes
                .iter()
                .reduce(|a, b| if value(b) > value(a) { b } else { a });
            best.map(|node| EnvelopeExtreme {
                temperature: node.temperature,
                pressure: node.pressure,
            })
        };
        Ok(Self {
            cricondentherm: highest(|node| node.temperature).ok_or_else(lost)?,
            cricondenbar: highest(|node| node.pressure).ok_or_else(lost)?,
            points,
            critical,
            nodes,
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

    /// All points of the curve at a temperature in K, in order along it: one on each stretch on
    /// which the temperature reaches that far. A stretch on which none was settled, next to the
    /// critical point, has none.
    pub fn at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
    ) -> Vec<EnvelopePoint> {
        let near = |start: &EnvelopePoint| {
            let EnvelopePoint { branch, pair } = start;
            bubble_dew::near_at_temperature(mixture, z, *branch, temperature, pair)
        };
        let target = temperature.ln();
        let error = |node: &Node| node.temperature.ln() - target;
        self.along(mixture, z, None, error, near)
    }

    /// Of the points at a temperature in K those of one branch.
    pub(super) fn branch_at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
    ) -> Vec<EnvelopePoint> {
        let near = |start: &EnvelopePoint| {
            bubble_dew::near_at_temperature(mixture, z, branch, temperature, &start.pair)
        };
        let target = temperature.ln();
        let error = |node: &Node| node.temperature.ln() - target;
        self.along(mixture, z, Some(branch), error, near)
    }

    /// As [`Envelope::at_temperature`] at a pressure in Pa.
    pub fn at_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        pressure: f64,
    ) -> Vec<EnvelopePoint> {
        let near = |start: &EnvelopePoint| {
            let EnvelopePoint { branch, pair } = start;
            bubble_dew::near_at_pressure(mixture, z, *branch, pressure, pair)
        };
        let target = pressure.ln();
        self.along(mixture, z, None, |node| node.pressure.ln() - target, near)
    }

    fn along(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        only: Option<Branch>,
        error: impl Fn(&Node) -> f64,
        near: impl Fn(&EnvelopePoint) -> Option<PhasePair>,
    ) -> Vec<EnvelopePoint> {
        let tracer = Tracer { mixture, z };
        let mut found = Vec::new();
        for (k, two) in self.nodes.windows(2).enumerate() {
            let (a, b) = (error(&two[0]), error(&two[1]));
            // an end that is the target is the next stretch's
            if !(a * b < 0.0 || (a == 0.0 && b != 0.0)) {
                continue;
            }
            // the critical point is a node, so that a stretch belongs to one branch
            let denser = || tracer.denser(&two[0].at) + tracer.denser(&two[1].at);
            if only.is_some_and(|only| (only == Branch::Dew) != (denser() > 0.0)) {
                continue;
            }
            let beside = k
                .checked_sub(1)
                .map_or_else(|| self.nodes.get(k + 2), |k| self.nodes.get(k));
            let beside = beside.map(|node| node.at);
            let stretch = Stretch::new(&tracer, two[0].at, beside, two[1].at);
            let settled = stretch.near(a / (a - b), &near).or_else(|| {
                stretch.root(&error, (a, b)).map(|point| {
                    // the last digits, where they can be had
                    let own = near(&point).filter(|own| beside_each_other(own, &point.pair));
                    EnvelopePoint {
                        pair: own.unwrap_or(point.pair),
                        ..point
                    }
                })
            });
            found.extend(settled);
        }
        found
    }
}

/// How far, in ln rho, a point solved for may lie from the same point on the curve.
const OWN: f64 = 1e-5;

fn beside_each_other(a: &PhasePair, b: &PhasePair) -> bool {
    let apart = |a: f64, b: f64| (a / b).ln().abs();
    apart(a.liquid_density, b.liquid_density) < OWN && apart(a.vapor_density, b.vapor_density) < OWN
}

/// Adds the points at which a value turns between its neighbours.
fn with_turns(tracer: &Tracer<'_>, nodes: Vec<Node>, value: impl Fn(&Node) -> f64) -> Vec<Node> {
    let mut all = nodes.clone();
    for three in nodes.windows(3).rev() {
        let values = [value(&three[0]), value(&three[1]), value(&three[2])];
        if (values[1] - values[0]) * (values[2] - values[1]) >= 0.0 {
            continue;
        }
        let stretch = Stretch::new(tracer, three[0].at, Some(three[1].at), three[2].at);
        let Some((middle, _)) = stretch.middle else {
            continue;
        };
        let height = |part: f64| {
            let value = value(&Node::new(tracer, stretch.variables_at_part(part)?));
            Some(Sample { part, value })
        };
        let mut samples = [0.0, middle, 1.0].map(|part| Sample { part, value: 0.0 });
        for (sample, value) in samples.iter_mut().zip(values) {
            sample.value = value;
        }
        let Sample { part, value: top } = turning(samples, height);
        let turned = stretch
            .variables_at_part(part)
            .map(|at| Node::new(tracer, at));
        let sign = (values[1] - values[0]).signum();
        if let Some(turned) = turned
            && part != middle
            && sign * (top - values[1]) > 0.0
            && let Some(place) = all.iter().position(|node| node.at == three[1].at)
        {
            all.insert(if part > middle { place + 1 } else { place }, turned);
        }
    }
    all
}

/// A function's value at a part of the way between two points.
#[derive(Clone, Copy)]
struct Sample {
    part: f64,
    value: f64,
}

/// Where a function turns between the outer of three points, of which the middle one is the
/// highest or the lowest; as far as it has values.
fn turning(mut three: [Sample; 3], at: impl Fn(f64) -> Option<Sample>) -> Sample {
    let sign = (three[1].value - three[0].value).signum();
    for _ in 0..TURNING {
        let next = vertex(&three);
        if (next - three[1].part).abs() < 1e-7 * (three[2].part - three[0].part) {
            break;
        }
        let Some(found) = at(next) else {
            break;
        };
        let beside = if found.part > three[1].part { 2 } else { 0 };
        if sign * (found.value - three[1].value) > 0.0 {
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
    /// A point known between or beside them, and which part of the way it lies.
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
    fn variables_at_part(&self, part: f64) -> Option<Variables> {
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
        self.tracer.point(&self.variables_at_part(part)?)
    }

    /// A point between the ends by `settle`, started from a part of the way; `None` where it
    /// leaves the stretch.
    fn near(
        &self,
        part: f64,
        settle: impl Fn(&EnvelopePoint) -> Option<PhasePair>,
    ) -> Option<EnvelopePoint> {
        let start = self.tracer.point(&self.between(part))?;
        let pair = settle(&start)?;
        let found = EnvelopePoint {
            branch: start.branch,
            pair,
        };
        let at = self.tracer.variables(&found);
        let within = |k: usize| {
            let (low, high) = (self.from[k].min(self.to[k]), self.from[k].max(self.to[k]));
            at[k] >= low - 1e-12 && at[k] <= high + 1e-12
        };
        // by what changes most along the stretch, and by the given density
        let density = self.tracer.mixture.count();
        (within(self.fixed) && within(density)).then_some(found)
    }

    /// The point at which an error vanishes that has the values `ends` at the ends.
    fn root(&self, error: impl Fn(&Node) -> f64, ends: (f64, f64)) -> Option<EnvelopePoint> {
        let lost = || Error::NotConverged {
            question: reasons::QUESTION_ENVELOPE_POINT,
            steps: 0,
            residual: f64::NAN,
        };
        if ends.0 == 0.0 {
            return self.tracer.point(&self.from);
        }
        let error = |part: f64| match part {
            0.0 => Ok(ends.0),
            1.0 => Ok(ends.1),
            inside => {
                let at = self.variables_at_part(inside).ok_or_else(lost)?;
                Ok(error(&Node::new(self.tracer, at)))
            }
        };
        let part = bracketed_root(error, 0.0, 1.0, 1e-14).ok()?;
        self.point(part)
    }

    /// In proportion between the ends, or by the parabola through the point known beside them.
    fn between(&self, part: f64) -> Variables {
        let mut start = self.from;
        for (k, value) in start.iter_mut().enumerate() {
            let (a, b) = (self.from[k], self.to[k]);
            *value = match self.middle {
                None => a + part * (b - a),
                Some((at, middle)) => through(&[0.0, at, 1.0], [a, middle[k], b].into_iter(), part),
            };
        }
        start
    }
}

/// The vertex of the parabola through three points.
fn vertex(points: &[Sample; 3]) -> f64 {
    let [x0, x1, x2] = points.map(|point| point.part);
    let [y0, y1, y2] = points.map(|point| point.value);
    let d1 = (y1 - y0) / (x1 - x0);
    let d2 = ((y2 - y1) / (x2 - x1) - d1) / (x2 - x0);
    (0.5 * (x0 + x1 - d1 / d2)).clamp(x0 + 0.01 * (x2 - x0), x2 - 0.01 * (x2 - x0))
}
