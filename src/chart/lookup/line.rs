//! The line that a lookup is fitted to and held against, quick at every input.
//!
//! A curve answers nearly everywhere. Where it has no answer (a liquid that parts, the last of a
//! line below its end) solving the equation for each of millions of inputs would take hours: there
//! the line is fitted in cells to solved points and held against others, and where that fails in
//! ever smaller parts of a cell, each input is solved.

use std::sync::OnceLock;

use crate::curve::{ACCURACY, ACCURACY_NEAR_TOP};
use crate::numeric::chebyshev::{Series, TERMS, points, series, value};

/// Bits of the mantissa that name a cell: four an octave.
const CELL_BITS: u32 = 52 - 2;
/// How many times a cell is halved.
const HALVINGS: u32 = 13;
/// Where a piece is held against the line, off the points fitted.
const CHECKED: [f64; 5] = [-1.0, -0.71, 0.26, 0.97, 1.0];

/// Part of the line's own accuracy by which a short piece may miss it.
const SHORT_SHARE: f64 = 0.25;

type Function<'a> = &'a (dyn Fn(f64) -> Option<f64> + Sync);

/// A value at an input, both in SI.
pub(super) struct Line<'a> {
    curve: Function<'a>,
    solved: Function<'a>,
    /// From this temperature on, K, curves hold less.
    near_top: f64,
    gives_temperature: bool,
    ends: (f64, f64),
    first: u64,
    cells: Vec<OnceLock<Vec<Piece>>>,
}

struct Piece {
    low: f64,
    high: f64,
    fitted: Series,
}

/// Where a short piece is fitted: zeros of T_4, rising.
const FITTED_SHORT: [f64; 4] = [
    -0.923_879_532_511_286_7,
    -0.382_683_432_365_089_8,
    0.382_683_432_365_089_8,
    0.923_879_532_511_286_7,
];
/// Where it is held against the line.
const CHECKED_SHORT: [f64; 5] = [-1.0, -0.7, 0.0, 0.7, 1.0];

/// A piece of a line between neighboring inputs, a cubic through four points of it.
pub(super) struct Short {
    middle: f64,
    inverse: f64,
    powers: [f64; 4],
    /// How far it may be off the equation as a part of the value: twice as far as the points, since
    /// a cubic between such places enlarges what they are off by 1.9 at most, and what it was found
    /// to be off the line.
    pub(super) accuracy: f64,
}

impl Short {
    /// The value at an input.
    #[inline(always)]
    pub(super) fn value(&self, input: f64) -> f64 {
        let x = (input - self.middle) * self.inverse;
        let [a, b, c, d] = self.powers;
        (a + b * x) + (c + d * x) * (x * x)
    }
}

impl<'a> Line<'a> {
    /// A line between two inputs, by its curve alone and as solved.
    pub(super) fn new(
        (curve, solved): (Function<'a>, Function<'a>),
        ends: (f64, f64),
        gives_temperature: bool,
        near_top: f64,
    ) -> Self {
        let [first, last] = [ends.0, ends.1].map(|end| end.to_bits() >> CELL_BITS);
        Self {
            curve,
            solved,
            near_top,
            gives_temperature,
            ends,
            first,
            cells: (first..=last).map(|_| OnceLock::new()).collect(),
        }
    }

    /// The value at an input.
    #[inline]
    pub(super) fn value(&self, input: f64) -> Option<f64> {
        self.read(input).map(|(value, _)| value)
    }

    /// The value at an input, and how far it may be off the equation as a part of it.
    #[inline]
    pub(super) fn read(&self, input: f64) -> Option<(f64, f64)> {
        let Some(value) = (self.curve)(input) else {
            return self.between(input);
        };
        let kelvin = if self.gives_temperature { value } else { input };
        let accuracy = if kelvin < self.near_top {
            ACCURACY
        } else {
            ACCURACY_NEAR_TOP
        };
        Some((value, accuracy))
    }

    /// The piece between two inputs; `None` where a cubic does not hold, or the line has no value.
    pub(super) fn short(&self, low: f64, high: f64) -> Option<Short> {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        let at = |x: f64| self.read((middle + x * half).clamp(low, high));
        let (mut f, mut accuracy) = ([0.0; 4], 0.0_f64);
        for (f, x) in f.iter_mut().zip(FITTED_SHORT) {
            let (value, off) = at(x)?;
            (*f, accuracy) = (value, accuracy.max(off));
        }
        // c_n = 1/2 sum f_k T_n(x_k), c_0 half of that
        let sum = |t: fn(f64) -> f64| -> f64 {
            let each = f.iter().zip(FITTED_SHORT).map(|(f, x)| f * t(x));
            each.sum::<f64>() / 2.0
        };
        let (c0, c1) = (sum(|_| 0.5), sum(|x| x));
        let (c2, c3) = (sum(|x| 2.0 * x * x - 1.0), sum(|x| (4.0 * x * x - 3.0) * x));
        let mut short = Short {
            middle,
            inverse: 1.0 / half,
            powers: [c0 - c2, c1 - 3.0 * c3, 2.0 * c2, 4.0 * c3],
            accuracy: 0.0,
        };
        for x in CHECKED_SHORT {
            let (line, off) = at(x)?;
            accuracy = accuracy.max(off);
            let error = (short.value(middle + x * half) - line).abs();
            if error.is_nan() || error > SHORT_SHARE * off * line {
                return None;
            }
        }
        short.accuracy = (2.0 + SHORT_SHARE) * accuracy;
        Some(short)
    }

    #[cold]
    fn between(&self, input: f64) -> Option<(f64, f64)> {
        let place = (input.to_bits() >> CELL_BITS).wrapping_sub(self.first);
        let pieces = self.cells.get(place as usize).map(|cell| {
            cell.get_or_init(|| {
                let end = |place: u64| f64::from_bits((self.first + place) << CELL_BITS);
                let low = end(place).max(self.ends.0);
                let high = end(place + 1).min(self.ends.1);
                let mut pieces = Vec::new();
                self.cover(low, high, HALVINGS, &mut pieces);
                pieces
            })
        });
        let mut pieces = pieces.into_iter().flatten();
        match pieces.find(|piece| piece.low <= input && input <= piece.high) {
            Some(piece) => {
                let x = (2.0 * input - piece.low - piece.high) / (piece.high - piece.low);
                Some((value(&piece.fitted, x), ACCURACY_NEAR_TOP))
            }
            None => Some(((self.solved)(input)?, ACCURACY)),
        }
    }

    fn cover(&self, low: f64, high: f64, halvings: u32, found: &mut Vec<Piece>) {
        if low >= high {
            return;
        }
        if let Some(piece) = self.piece(low, high) {
            found.push(piece);
        } else if halvings > 0 {
            let middle = 0.5 * (low + high);
            self.cover(low, middle, halvings - 1, found);
            self.cover(middle, high, halvings - 1, found);
        }
    }

    fn piece(&self, low: f64, high: f64) -> Option<Piece> {
        let solved = |x: f64| {
            let input = 0.5 * ((low + high) + x * (high - low));
            (self.solved)(input.clamp(low, high))
        };
        let mut values = [0.0; TERMS];
        for (value, x) in values.iter_mut().zip(points()) {
            *value = solved(x)?;
        }
        let fitted = series(&values);
        let allowed = 0.25 * ACCURACY_NEAR_TOP * values[0].min(values[TERMS - 1]);
        let holds =
            |x: f64| solved(x).is_some_and(|line| (value(&fitted, x) - line).abs() <= allowed);
        let dies = fitted[TERMS - 2..].iter().all(|one| one.abs() <= allowed);
        (dies && CHECKED.into_iter().all(holds)).then_some(Piece { low, high, fitted })
    }
}
