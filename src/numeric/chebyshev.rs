//! Functions of one positive variable as pieces, each a Chebyshev series of fixed length.
//!
//! On a piece from a to b, with x = (2 v - a - b) / (b - a), f = sum c_k T_k(x). The coefficients
//! follow from values at the zeros of T_n (Clenshaw, Math. Tables Aids Comput. 9 (1955) 118).

use std::sync::LazyLock;

/// Terms of a series.
pub const TERMS: usize = 12;
const HALF: usize = TERMS / 2;

/// Coefficients c_0 ... of a series.
pub type Series = [f64; TERMS];

/// The points in [-1, 1] at which a series is fitted, rising.
pub fn points() -> [f64; TERMS] {
    std::array::from_fn(|k| -(angle(k)).cos())
}

fn angle(k: usize) -> f64 {
    std::f64::consts::PI * (k as f64 + 0.5) / TERMS as f64
}

/// The series through `values` at [`points`].
///
/// # Example
/// ```
/// use zeotrope::numeric::chebyshev::{points, series, value};
/// let fitted = series(&points().map(f64::exp));
/// assert!((value(&fitted, 0.3) - 0.3_f64.exp()).abs() < 1e-12);
/// ```
pub fn series(values: &[f64; TERMS]) -> Series {
    static COSINES: LazyLock<[[f64; TERMS]; TERMS]> = LazyLock::new(|| {
        std::array::from_fn(|n| std::array::from_fn(|k| (n as f64 * angle(k)).cos()))
    });
    std::array::from_fn(|n| {
        let sum: f64 = (0..TERMS)
            .map(|k| values[TERMS - 1 - k] * COSINES[n][k])
            .sum();
        sum * if n == 0 { 1.0 } else { 2.0 } / TERMS as f64
    })
}

/// The sum of a series at x in [-1, 1].
///
/// Clenshaw's recurrence in y = T_2(x) for the even and for the odd terms apart, since
/// T_(k+2) = 2 y T_k - T_(k-2): two short chains in place of a long one.
#[inline(always)]
pub fn value(c: &Series, x: f64) -> f64 {
    let y = 4.0 * x * x - 2.0;
    let (mut even, mut even_1, mut odd, mut odd_1) = (0.0, 0.0, 0.0, 0.0);
    for k in (1..HALF).rev() {
        (even, even_1) = (c[2 * k] - even_1 + y * even, even);
        (odd, odd_1) = (c[2 * k + 1] - odd_1 + y * odd, odd);
    }
    // T_0 = 1, T_2 = y/2; T_1 = x, T_3 = (y - 1) x
    let even = c[0] - even_1 + 0.5 * y * even;
    let odd = c[1] - odd_1 + (y - 1.0) * odd;
    even + x * odd
}

/// As [`value`], of several series at once, each the same bits.
///
/// One series is a chain of steps that wait for each other; several fill the waiting.
#[inline]
pub fn values<const W: usize>(c: [&Series; W], x: [f64; W]) -> [f64; W] {
    let y = x.map(|x| 4.0 * x * x - 2.0);
    let (mut even, mut even_1, mut odd, mut odd_1) = ([0.0; W], [0.0; W], [0.0; W], [0.0; W]);
    for k in (1..HALF).rev() {
        for w in 0..W {
            (even[w], even_1[w]) = (c[w][2 * k] - even_1[w] + y[w] * even[w], even[w]);
            (odd[w], odd_1[w]) = (c[w][2 * k + 1] - odd_1[w] + y[w] * odd[w], odd[w]);
        }
    }
    std::array::from_fn(|w| {
        let even = c[w][0] - even_1[w] + 0.5 * y[w] * even[w];
        let odd = c[w][1] - odd_1[w] + (y[w] - 1.0) * odd[w];
        even + x[w] * odd
    })
}

/// Several functions of one variable on the same pieces, which need not meet.
#[derive(Debug, Clone)]
pub struct Pieces {
    /// Series a piece.
    functions: usize,
    spans: Vec<Span>,
    /// The first function's series, a piece each.
    first: Vec<Series>,
    /// The others', piece by piece.
    rest: Vec<Series>,
    /// For each bin of the variable the first piece that ends in or beyond it.
    bins: Vec<u32>,
    lowest_bin: u64,
}

#[derive(Debug, Clone, Copy)]
struct Span {
    low: f64,
    high: f64,
    middle: f64,
    inverse: f64,
}

/// A place on a piece.
#[derive(Debug, Clone, Copy)]
pub struct PanelPlace {
    piece: usize,
    x: f64,
}

/// Bins an octave: the leading bits of the number.
const BIN_BITS: u32 = 52 - 6;

fn bin(value: f64) -> u64 {
    value.to_bits() >> BIN_BITS
}

impl Pieces {
    /// From pieces in rising order: low and high end above 0, and a series a function.
    pub fn new(functions: usize, pieces: &[(f64, f64, Vec<Series>)]) -> Self {
        let mut all = Self {
            functions,
            spans: Vec::with_capacity(pieces.len()),
            first: Vec::with_capacity(pieces.len()),
            rest: Vec::with_capacity(pieces.len() * functions.saturating_sub(1)),
            bins: Vec::new(),
            lowest_bin: 0,
        };
        for (low, high, series) in pieces {
            all.spans.push(Span {
                low: *low,
                high: *high,
                middle: 0.5 * (low + high),
                inverse: 2.0 / (high - low),
            });
            all.first.extend(series.first());
            all.rest.extend(series.iter().skip(1));
        }
        if let (Some(first), Some(last)) = (all.spans.first(), all.spans.last()) {
            all.lowest_bin = bin(first.low);
            let mut piece = 0;
            for b in all.lowest_bin..=bin(last.high) {
                let begin = f64::from_bits(b << BIN_BITS);
                while piece + 1 < all.spans.len() && all.spans[piece].high < begin {
                    piece += 1;
                }
                all.bins.push(piece as u32);
            }
        }
        all
    }

    /// How many pieces there are.
    pub fn count(&self) -> usize {
        self.spans.len()
    }

    /// The ends of each piece, rising.
    pub fn ends(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.spans.iter().map(|span| (span.low, span.high))
    }

    /// Where a value lies; `None` off the pieces.
    #[inline]
    pub fn locate(&self, value: f64) -> Option<PanelPlace> {
        let bin = bin(value).wrapping_sub(self.lowest_bin);
        let mut piece = *self.bins.get(bin as usize)? as usize;
        loop {
            let span = self.spans.get(piece)?;
            if value <= span.high {
                return (value >= span.low).then_some(PanelPlace {
                    piece,
                    x: (value - span.middle) * span.inverse,
                });
            }
            piece += 1;
        }
    }

    /// The first function at a place.
    #[inline]
    pub fn first(&self, place: PanelPlace) -> f64 {
        value(&self.first[place.piece], place.x)
    }

    /// The first function's series at a place, and where on it.
    #[inline]
    pub fn series(&self, place: PanelPlace) -> (&Series, f64) {
        (&self.first[place.piece], place.x)
    }

    /// Function `k` at a place, counted from 0.
    #[inline]
    pub fn function(&self, k: usize, place: PanelPlace) -> f64 {
        match k {
            0 => self.first(place),
            _ => value(
                &self.rest[place.piece * (self.functions - 1) + k - 1],
                place.x,
            ),
        }
    }
}
