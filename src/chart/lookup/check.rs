//! Every input of a lookup held against the line.

use super::fit::Target;
use super::form::LookupForm;
use crate::refrigerant::for_each_row;

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
    form: &LookupForm,
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
    for_each_row(&mut parts, |part| read(part, form, target, opposite, every));
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
    form: &LookupForm,
    target: &Target<'_>,
    opposite: Option<&(dyn Fn(f64, f64) -> Option<f64> + Sync)>,
    every: u32,
) {
    let (from, to) = part.ends;
    let end = (to == target.ends.1 && (to - from) % every != 0).then_some(to);
    for raw in (from..=to).step_by(every as usize).chain(end) {
        let input = target.input(raw);
        let value = form.value(raw, target.gives_temperature);
        let line = target.line.read(input);
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
