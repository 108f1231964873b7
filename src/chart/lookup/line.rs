//! The line that a lookup is fitted to and held against, quick at every input.
//!
//! A curve answers nearly everywhere. Where it has no answer (a liquid that parts, the last of a
//! line below its end) solving the equation for each of millions of inputs would take hours: there
//! the line is fitted in cells to solved points and held against others, and where that fails in
//! ever smaller parts of a cell, each input is solved.

use std::sync::OnceLock;

use crate::curve::{ACCURACY, ACCURACY_NEAR_TOP};
use crate::numeric::chebyshev::{Series, TERMS, points, series, value};

/// Bits of the mantissa that name a cell: 512 an octave.
const CELL_BITS: u32 = 52 - 9;
/// How many times a cell is halved.
const HALVINGS: u32 = 6;
/// Where a piece is held against the line, off the points fitted.
const CHECKED: [f64; 5] = [-1.0, -0.71, 0.26, 0.97, 1.0];

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
