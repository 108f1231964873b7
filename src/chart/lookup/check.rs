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

/// Inputs that are read together: so few that their columns stay in the nearest cache.
const TOGETHER: u32 = 1024;

/// Reads a part, several inputs side by side together.
fn read(
    part: &mut Part,
    form: &LookupForm,
    target: &Target<'_>,
    opposite: Option<&(dyn Fn(f64, f64) -> Option<f64> + Sync)>,
    every: u32,
) {
    let (from, to) = part.ends;
    let mut rows = Rows::default();
    let mut first = from;
    while first <= to {
        let count = (target.side_by_side(first).min(TOGETHER) / every).max(1);
        let last = first.saturating_add((count - 1) * every).min(to);
        rows.raws.clear();
        match every {
            1 => rows.raws.extend(first..=last),
            _ => rows.raws.extend((first..=last).step_by(every as usize)),
        }
        part.take(&mut rows, form, target, opposite);
        match first.checked_add(count * every) {
            Some(next) => first = next,
            None => break,
        }
    }
    if to == target.ends.1 && (to - from) % every != 0 {
        rows.raws.clear();
        rows.raws.push(to);
        part.take(&mut rows, form, target, opposite);
    }
}

/// Inputs side by side, what is read there, and how far that is off.
#[derive(Default)]
struct Rows {
    raws: Vec<u32>,
    plain: Vec<f64>,
    fused: Vec<f64>,
    line: Vec<f64>,
    errors: Vec<f64>,
}

impl Rows {
    /// Fills the columns beside the inputs; `None` where one has no reading or the line no value.
    fn fill(&mut self, form: &LookupForm, target: &Target<'_>) -> Option<()> {
        let Self {
            raws,
            plain,
            fused,
            line,
            errors,
        } = self;
        let by_temperature = target.gives_temperature;
        form.values(raws, by_temperature, plain, fused)?;
        let accuracy = target.values(raws, line)?;
        // The line's own distance from the equation is added.
        let both = plain.iter().zip(fused.iter()).zip(line.iter());
        errors.clear();
        errors.extend(both.map(|((plain, fused), line)| {
            let (plain, fused) = ((plain - line).abs(), (fused - line).abs());
            let larger = if fused > plain { fused } else { plain };
            larger + accuracy * line
        }));
        if !by_temperature {
            for (error, raw) in errors.iter_mut().zip(raws.iter()) {
                *error *= (target.kelvin)(target.input(*raw));
            }
        }
        Some(())
    }
}

impl Part {
    fn take(
        &mut self,
        rows: &mut Rows,
        form: &LookupForm,
        target: &Target<'_>,
        opposite: Option<&(dyn Fn(f64, f64) -> Option<f64> + Sync)>,
    ) {
        let read = self.inputs;
        self.inputs += rows.raws.len() as u64;
        let filled = rows.fill(form, target);
        // A value that is not a number is none.
        if filled.is_none() || rows.errors.iter().any(|error| error.is_nan()) {
            self.largest = (f64::INFINITY, rows.raws[0]);
            return;
        }
        let Rows {
            raws,
            plain,
            errors,
            ..
        } = rows;
        let (sum, largest) = sum_and_largest(errors);
        self.sum += sum;
        if largest > self.largest.0
            && let Some(at) = errors.iter().position(|one| *one == largest)
        {
            self.largest = (largest, raws[at]);
        }
        if read == 0 {
            self.first = plain[0];
        }
        let falls = plain.windows(2).filter(|two| two[1] < two[0]).count();
        self.monotonic &= falls == 0 && plain[0] >= self.last;
        self.last = plain[plain.len() - 1];
        if let Some(opposite) = opposite {
            for (raw, plain) in raws.iter().zip(plain.iter()) {
                if let Some(off) = opposite(target.input(*raw), *plain) {
                    self.round_trip = self.round_trip.max(off);
                }
            }
        }
    }
}

/// In four lanes, which a compiler adds up side by side.
fn sum_and_largest(errors: &[f64]) -> (f64, f64) {
    let (mut sums, mut largest) = ([0.0; 4], [0.0; 4]);
    let (fours, rest) = errors.as_chunks::<4>();
    for four in fours {
        for lane in 0..4 {
            sums[lane] += four[lane];
            largest[lane] = if four[lane] > largest[lane] {
                four[lane]
            } else {
                largest[lane]
            };
        }
    }
    let sum = sums.iter().chain(rest).sum();
    (sum, largest.iter().chain(rest).copied().fold(0.0, f64::max))
}
