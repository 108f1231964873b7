//! Every input of a lookup held against the line.
//!
//! Where a curve has no answer (a liquid that parts, the last of a line below its end), solving the
//! equation for each input would take a thousand times as long: there a piece of the line is
//! fitted to solved points and held against others, and where that fails each input is solved.

use super::fit::Target;
use super::form::Form;
use crate::curve::{ACCURACY, ACCURACY_NEAR_TOP};
use crate::numeric::chebyshev::{Series, TERMS, points, series, value};
use crate::refrigerant::each;

/// Inputs of the widest piece fitted.
const WIDEST: u32 = 1 << 16;
/// Fewer inputs than this are solved one by one: a piece takes 17 points.
const FEWEST: u32 = 32;
/// Where a piece is held against the line, off the points fitted.
const CHECKED: [f64; 5] = [-1.0, -0.7071, 0.2588, 0.9659, 1.0];

/// What a check over all inputs found.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Check {
    /// How many inputs were read.
    pub inputs: u64,
    /// Every how manieth input was read: 1 for all.
    pub every: u32,
    /// The largest error, the larger with and without a fused multiply-add, K.
    #[serde(rename = "largest_error_K")]
    pub largest: f64,
    /// The input at which it was found, Pa or K.
    pub largest_at: f64,
    /// The mean of the errors' sizes, K.
    #[serde(rename = "mean_error_K")]
    pub mean: f64,
    /// Whether a higher input never gives a lower value.
    pub monotonic: bool,
    /// The largest difference p(T(p)) - p, read back by the opposite lookup, as a temperature, K;
    /// none where that lookup was not made.
    #[serde(rename = "round_trip_K")]
    pub round_trip: Option<f64>,
}

#[derive(Clone, Copy)]
struct Part {
    ends: (u32, u32),
    inputs: u64,
    largest: (f64, u32),
    sum: f64,
    monotonic: bool,
    first: f64,
    last: f64,
    round_trip: f64,
}

/// Reads every input, or every so manieth and the last.
pub(super) fn check(
    form: &Form,
    target: &Target<'_>,
    opposite: Option<&(dyn Fn(f64, f64) -> Option<f64> + Sync)>,
    every: u32,
) -> Check {
    let (low, high) = target.ends;
    const SIZE: u32 = 1 << 16;
    let size = SIZE * every;
    let mut parts: Vec<Part> = (0..=(high - low) / size)
        .map(|at| Part {
            ends: (
                low + at * size,
                (low + at * size).saturating_add(size - 1).min(high),
            ),
            inputs: 0,
            largest: (0.0, low),
            sum: 0.0,
            monotonic: true,
            first: f64::NAN,
            last: f64::NEG_INFINITY,
            round_trip: 0.0,
        })
        .collect();
    each(&mut parts, |part| read(part, form, target, opposite, every));
    let mut found = parts[0];
    for part in &parts[1..] {
        found.inputs += part.inputs;
        found.sum += part.sum;
        found.monotonic &= part.monotonic && part.first >= found.last;
        found.last = part.last;
        found.round_trip = found.round_trip.max(part.round_trip);
        if part.largest.0 > found.largest.0 {
            found.largest = part.largest;
        }
    }
    Check {
        inputs: found.inputs,
        every,
        largest: found.largest.0,
        largest_at: target.input(found.largest.1),
        mean: found.sum / found.inputs as f64,
        monotonic: found.monotonic,
        round_trip: opposite.map(|_| found.round_trip),
    }
}

fn read(
    part: &mut Part,
    form: &Form,
    target: &Target<'_>,
    opposite: Option<&(dyn Fn(f64, f64) -> Option<f64> + Sync)>,
    every: u32,
) {
    let (from, to) = part.ends;
    let mut gaps = Gaps::new(every);
    let end = (to == target.ends.1 && (to - from) % every != 0).then_some(to);
    for raw in (from..=to).step_by(every as usize).chain(end) {
        let input = target.input(raw);
        let value = form.value(raw, target.gives_temperature);
        let line = (target.curve)(input)
            .map(|line| (line, target.accuracy(input, line)))
            .or_else(|| gaps.line(target, raw, to));
        let (Some((plain, fused)), Some((line, accuracy))) = (value, line) else {
            part.largest = (f64::INFINITY, raw);
            part.inputs += 1;
            continue;
        };
        let kelvin = (target.kelvin)(input);
        // The line's own distance from the equation is added.
        let error = ((plain - line).abs().max((fused - line).abs()) + accuracy * line) * kelvin;
        part.inputs += 1;
        part.sum += error;
        if error > part.largest.0 {
            part.largest = (error, raw);
        }
        if part.inputs == 1 {
            part.first = plain;
        }
        part.monotonic &= plain >= part.last;
        part.last = plain;
        if let Some(off) = opposite.and_then(|opposite| opposite(input, plain)) {
            part.round_trip = part.round_trip.max(off);
        }
    }
}

/// The line where its curve has no answer, in pieces fitted as the inputs rise.
struct Gaps {
    every: u32,
    /// Inputs that the next piece is tried with.
    width: u32,
    /// Up to this one inputs are solved one by one.
    singly: u32,
    piece: Option<Piece>,
}

struct Piece {
    last: u32,
    middle: f64,
    inverse: f64,
    fitted: Series,
}

impl Gaps {
    fn new(every: u32) -> Self {
        Self {
            every,
            width: WIDEST,
            singly: 0,
            piece: None,
        }
    }

    /// The line at an input with the relative accuracy of it; inputs are asked rising, the last
    /// being `to`.
    fn line(&mut self, target: &Target<'_>, raw: u32, to: u32) -> Option<(f64, f64)> {
        let input = target.input(raw);
        let ended = self.piece.as_ref().is_none_or(|piece| raw > piece.last);
        if ended && raw >= self.singly {
            self.piece = self.fit(target, raw, to);
        }
        let Some(piece) = &self.piece else {
            return Some(((target.value)(input)?, ACCURACY));
        };
        let x = (input - piece.middle) * piece.inverse;
        Some((value(&piece.fitted, x), ACCURACY_NEAR_TOP))
    }

    fn fit(&mut self, target: &Target<'_>, raw: u32, to: u32) -> Option<Piece> {
        while self.width / self.every >= FEWEST {
            let last = raw.saturating_add(self.width).min(to);
            if let Some(piece) = piece(target, raw, last) {
                self.width = self.width.saturating_mul(2).min(WIDEST);
                return Some(piece);
            }
            self.width /= 2;
        }
        self.width = FEWEST.saturating_mul(self.every);
        self.singly = raw.saturating_add(self.width);
        None
    }
}

fn piece(target: &Target<'_>, first: u32, last: u32) -> Option<Piece> {
    let (low, high) = (target.input(first), target.input(last));
    if low >= high {
        return None;
    }
    let middle = 0.5 * (low + high);
    let solved = |x: f64| (target.value)((middle + 0.5 * x * (high - low)).clamp(low, high));
    let mut values = [0.0; TERMS];
    for (value, x) in values.iter_mut().zip(points()) {
        *value = solved(x)?;
    }
    let fitted = series(&values);
    let allowed = 0.25 * ACCURACY_NEAR_TOP * values[0].min(values[TERMS - 1]);
    let holds = |x: f64| solved(x).is_some_and(|line| (value(&fitted, x) - line).abs() <= allowed);
    let dies = fitted[TERMS - 1].abs() <= allowed && fitted[TERMS - 2].abs() <= allowed;
    (dies && CHECKED.into_iter().all(holds)).then_some(Piece {
        last,
        middle,
        inverse: 2.0 / (high - low),
        fitted,
    })
}
