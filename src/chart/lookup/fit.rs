//! Entries fitted to a line, and the smallest form that holds a resolution.

use super::form::{Arithmetic, LookupForm};
use super::line::Line;

/// Points of an interval that entries are fitted to and judged by.
const POINTS: u32 = 33;
/// Rounds in which nodes are shifted off the line.
const ROUNDS: usize = 24;
/// Intervals of an octave, as powers of two.
const MOST_INTERVAL_BITS: u32 = 9;
/// Inputs that are read together agree in so many bits.
const NARROW_BITS: u32 = 12;
/// From so many on they are read from one short piece of the line.
const LEAST_SHORT: usize = 12;

/// The line that entries are fitted to.
pub(super) struct Target<'a> {
    /// The numbers of the form.
    pub arithmetic: Arithmetic,
    /// Lowest and highest input, by their bits.
    pub ends: (u32, u32),
    /// The value of an input.
    pub line: &'a Line<'a>,
    /// Whether the value is a temperature, the input a pressure.
    pub gives_temperature: bool,
    /// K of one unit of the value at an input, to judge by.
    pub kelvin: &'a (dyn Fn(f64) -> f64 + Sync),
}

impl Target<'_> {
    /// An input by its bits, in SI.
    pub(super) fn input(&self, raw: u32) -> f64 {
        match self.arithmetic {
            Arithmetic::F32 => f64::from(f32::from_bits(raw)),
            Arithmetic::Integer => f64::from(raw) * self.milli(!self.gives_temperature),
        }
    }

    /// How many inputs from one on lie within a 4096th of it.
    pub(super) fn side_by_side(&self, raw: u32) -> u32 {
        match self.arithmetic {
            Arithmetic::F32 => 1 << (23 - NARROW_BITS),
            Arithmetic::Integer => raw >> NARROW_BITS,
        }
    }

    /// The line at inputs side by side, in rising order, and how far it may be off the equation as
    /// a part of it; `None` where one has no value.
    pub(super) fn values(&self, raws: &[u32], found: &mut Vec<f64>) -> Option<f64> {
        found.clear();
        let (first, last) = (self.input(*raws.first()?), self.input(*raws.last()?));
        let short = (raws.len() > LEAST_SHORT).then(|| self.line.short(first, last));
        if let Some(short) = short.flatten() {
            match self.arithmetic {
                Arithmetic::F32 => {
                    let input = |raw: &u32| f64::from(f32::from_bits(*raw));
                    found.extend(raws.iter().map(|raw| short.value(input(raw))));
                }
                Arithmetic::Integer => {
                    found.extend(raws.iter().map(|raw| short.value(self.input(*raw))));
                }
            }
            return Some(short.accuracy);
        }
        let mut worst: f64 = 0.0;
        for raw in raws {
            let (value, accuracy) = self.line.read(self.input(*raw))?;
            found.push(value);
            worst = worst.max(accuracy);
        }
        Some(worst)
    }

    fn milli(&self, is_temperature: bool) -> f64 {
        match self.arithmetic {
            Arithmetic::Integer if is_temperature => 1e-3,
            _ => 1.0,
        }
    }

    /// The input at a place of an interval, in SI.
    fn value_at(&self, key: u32, bits: u32, t: f64) -> f64 {
        let octave = (key >> bits) as i32;
        let part = f64::from(key & ((1 << bits) - 1)) + t;
        let whole = 1.0 + part / f64::from(1u32 << bits);
        match self.arithmetic {
            Arithmetic::F32 => 2f64.powi(octave - 127) * whole,
            Arithmetic::Integer => 2f64.powi(octave) * whole * self.milli(!self.gives_temperature),
        }
    }

    /// Every form in reach, the smallest first, of equal ones that of fewer operations.
    pub(super) fn forms(&self, resolution: f64) -> Vec<LookupForm> {
        let mut found: Vec<LookupForm> = Vec::new();
        for quadratic in [false, true] {
            for bits in 0..=MOST_INTERVAL_BITS {
                let Some(form) = self.fitted(bits, quadratic) else {
                    continue;
                };
                if self.sampled_error(&form) <= resolution {
                    found.push(form);
                    // The next, finer one may be needed where a full check finds more.
                    if found
                        .iter()
                        .filter(|one| one.curvature.is_empty() != quadratic)
                        .count()
                        > 1
                    {
                        break;
                    }
                }
            }
        }
        found.sort_by_key(|form| (form.bytes(), form.operations()));
        found
    }

    fn sampled_error(&self, form: &LookupForm) -> f64 {
        let (low, high) = self.ends;
        let step = ((high - low) / 4096).max(1);
        let raws = (low..=high).step_by(step as usize).chain([high]);
        raws.map(|raw| {
            let input = self.input(raw);
            match (
                form.value(raw, self.gives_temperature),
                self.line.value(input),
            ) {
                (Some((plain, _)), Some(line)) => (plain - line).abs() * (self.kelvin)(input),
                _ => f64::INFINITY,
            }
        })
        .fold(0.0, f64::max)
    }

    fn fitted(&self, bits: u32, quadratic: bool) -> Option<LookupForm> {
        let mut form = LookupForm {
            arithmetic: self.arithmetic,
            low: self.ends.0,
            high: self.ends.1,
            interval_bits: bits,
            fraction_bits: 15.min(23 - bits),
            first: 0,
            base: 0,
            unit: 0,
            nodes: Vec::new(),
            curvature: Vec::new(),
            is_convex: !self.gives_temperature,
        };
        let (first, last) = (form.interval_of(form.low).0, form.interval_of(form.high).0);
        form.first = first;
        let count = (last - first + 1) as usize;
        let samples: Vec<Vec<(f64, f64)>> = (first..=last)
            .map(|key| self.samples(key, bits, (first, last)))
            .collect::<Option<_>>()?;
        let (mut nodes, mut bends) = start(&samples, quadratic);
        for _ in 0..ROUNDS {
            shift(&samples, &mut nodes, &bends);
        }
        if quadratic {
            bends = samples
                .iter()
                .enumerate()
                .map(|(at, points)| bend(points, nodes[at], nodes[at + 1]))
                .collect();
        }
        // In the units of the output.
        let unit = self.milli(self.gives_temperature);
        for one in nodes.iter_mut().chain(&mut bends) {
            *one /= unit;
        }
        let (least, most) = nodes
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), one| {
                (a.min(*one), b.max(*one))
            });
        if !least.is_finite() || !most.is_finite() || least.abs().max(most.abs()) > 1e9 {
            return None;
        }
        form.base = least.floor() as i32;
        form.unit = ((most - f64::from(form.base)) / 65_500.0).log2().ceil() as i32;
        let fraction = form.fraction_bits as i32;
        if self.arithmetic == Arithmetic::Integer {
            form.unit = form.unit.clamp(fraction - 31, fraction);
        }
        let size = 2f64.powi(form.unit);
        let base = f64::from(form.base);
        form.nodes = nodes
            .iter()
            .map(|one| ((one - base) / size).round() as u16)
            .collect();
        if quadratic {
            let sign = if form.is_convex { -1.0 } else { 1.0 };
            form.curvature = bends
                .iter()
                .map(|one| (sign * one / size).round().max(0.0) as u16)
                .collect();
        }
        (form.nodes.len() == count + 1).then_some(form)
    }

    /// Points (t, value) of an interval within the range.
    fn samples(&self, key: u32, bits: u32, ends: (u32, u32)) -> Option<Vec<(f64, f64)>> {
        let (low, high) = (self.input(self.ends.0), self.input(self.ends.1));
        let (from, to) = (self.value_at(key, bits, 0.0), self.value_at(key, bits, 1.0));
        let part = |input: f64| (input - from) / (to - from);
        let first = if key == ends.0 { part(low) } else { 0.0 };
        let last = if key == ends.1 { part(high) } else { 1.0 };
        let points = (0..POINTS).map(|index| {
            let t = first + (last - first) * f64::from(index) / f64::from(POINTS - 1);
            let input = self.value_at(key, bits, t).clamp(low, high);
            Some((t, self.line.value(input)?))
        });
        points.collect()
    }
}

/// Nodes on the line, those outside the range from the first or last interval's own polynomial,
/// and the bends of quadratics.
fn start(samples: &[Vec<(f64, f64)>], quadratic: bool) -> (Vec<f64>, Vec<f64>) {
    let through = |points: &[(f64, f64)], t: f64| {
        let (a, m, b) = (
            points[0],
            points[points.len() / 2],
            points[points.len() - 1],
        );
        if b.0 - a.0 < 1e-9 {
            return a.1;
        }
        let slope = (b.1 - a.1) / (b.0 - a.0);
        if !quadratic {
            return a.1 + slope * (t - a.0);
        }
        let bend = ((m.1 - a.1) / (m.0 - a.0) - slope) / (m.0 - b.0);
        a.1 + (t - a.0) * (slope + bend * (t - b.0))
    };
    let mut nodes: Vec<f64> = samples.iter().map(|points| through(points, 0.0)).collect();
    nodes.extend(samples.last().map(|points| through(points, 1.0)));
    let bends = samples.iter().enumerate().map(|(at, points)| {
        if quadratic {
            bend(points, nodes[at], nodes[at + 1])
        } else {
            0.0
        }
    });
    let bends = bends.collect();
    (nodes, bends)
}

/// Value minus chord and bend at every point.
fn rest<'a>(
    points: &'a [(f64, f64)],
    start: f64,
    end: f64,
    bend: f64,
) -> impl Iterator<Item = f64> + 'a {
    points
        .iter()
        .map(move |(t, value)| value - (start + (end - start) * t + bend * t * (1.0 - t)))
}

fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), one| {
        (a.min(one), b.max(one))
    })
}

/// Moves every node by half of what its intervals are off on average of their extremes.
fn shift(samples: &[Vec<(f64, f64)>], nodes: &mut [f64], bends: &[f64]) {
    let off: Vec<f64> = samples
        .iter()
        .enumerate()
        .map(|(at, points)| {
            let (low, high) = span(rest(points, nodes[at], nodes[at + 1], bends[at]));
            (low + high) / 2.0
        })
        .collect();
    for (at, node) in nodes.iter_mut().enumerate() {
        let before = at.checked_sub(1).and_then(|one| off.get(one));
        let sides = [before, off.get(at)];
        let count = sides.iter().flatten().count() as f64;
        *node += sides.iter().flatten().copied().sum::<f64>() / count * 0.7;
    }
}

/// The bend whose largest error is least: the error is convex in it.
fn bend(points: &[(f64, f64)], start: f64, end: f64) -> f64 {
    let worst = |bend: f64| {
        let (low, high) = span(rest(points, start, end, bend));
        low.abs().max(high.abs())
    };
    let size = 8.0 * worst(0.0);
    let (mut low, mut high) = (-size, size);
    for _ in 0..80 {
        let third = (high - low) / 3.0;
        if worst(low + third) < worst(high - third) {
            high -= third;
        } else {
            low += third;
        }
    }
    (low + high) / 2.0
}
