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
    points_of()
}

/// The same for a series of fewer terms or more.
pub fn points_of<const N: usize>() -> [f64; N] {
    std::array::from_fn(|k| -(angle_of(k, N)).cos())
}

fn angle_of(k: usize, count: usize) -> f64 {
    std::f64::consts::PI * (k as f64 + 0.5) / count as f64
}

/// Coefficients of the series through `values` at [`points_of`] so many.
///
/// # Example
/// ```
/// use zeotrope::numeric::chebyshev::{coefficients, points_of};
/// // x^2 = (T_0 + T_2) / 2
/// let fitted = coefficients(&points_of::<3>().map(|x| x * x));
/// assert!((fitted[0] - 0.5).abs() < 1e-15 && (fitted[2] - 0.5).abs() < 1e-15);
/// ```
pub fn coefficients<const N: usize>(values: &[f64; N]) -> [f64; N] {
    std::array::from_fn(|n| {
        let terms = values.iter().rev().enumerate();
        let sum: f64 = terms
            .map(|(k, value)| value * (n as f64 * angle_of(k, N)).cos())
            .sum();
        sum * if n == 0 { 1.0 } else { 2.0 } / N as f64
    })
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
        std::array::from_fn(|n| std::array::from_fn(|k| (n as f64 * angle_of(k, TERMS)).cos()))
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

/// Powers of a cell's polynomial.
const POWERS: usize = 6;
/// How far a cell may be off its series, relative.
const CELL: f64 = 2e-12;
/// Where a cell is fitted: zeros of T_6, rising.
const FITTED: [f64; POWERS] = [
    -0.965_925_826_289_068_3,
    -0.707_106_781_186_547_5,
    -0.258_819_045_102_520_8,
    0.258_819_045_102_520_8,
    0.707_106_781_186_547_5,
    0.965_925_826_289_068_3,
];
/// Where it is held against its series: extrema of T_6.
const HELD: [f64; 4] = [-1.0, -0.5, 0.866_025_403_784_438_6, 1.0];

/// A function between two numbers of equal leading bits, in powers of the distance from the middle:
/// half the work of a series, and found without a search.
#[derive(Debug, Clone, Copy)]
pub struct Cell {
    middle: f64,
    powers: [f64; POWERS],
}

impl Cell {
    /// No function, its value not a number: what stands where there is no cell.
    const NONE: Cell = Cell {
        middle: f64::NAN,
        powers: [f64::NAN; POWERS],
    };

    fn is_none(&self) -> bool {
        self.middle.is_nan()
    }

    /// The cell from one end to the other; `None` where it does not hold.
    fn new(low: f64, high: f64, of: impl Fn(f64) -> f64) -> Option<Self> {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        let values = FITTED.map(|x| of(middle + half * x));
        // sum f_k T_n(x_k) 2/N, the first halved
        let mut c = [0.0; POWERS];
        for (value, x) in values.iter().zip(FITTED) {
            let (mut before, mut now) = (1.0, x);
            c[0] += value / POWERS as f64;
            for c in &mut c[1..] {
                *c += 2.0 * value * now / POWERS as f64;
                (before, now) = (now, 2.0 * x * now - before);
            }
        }
        // T_2 = 2x^2 - 1, T_3 = 4x^3 - 3x, T_4 = 8x^4 - 8x^2 + 1, T_5 = 16x^5 - 20x^3 + 5x
        let mut powers = [
            c[0] - c[2] + c[4],
            c[1] - 3.0 * c[3] + 5.0 * c[5],
            2.0 * c[2] - 8.0 * c[4],
            4.0 * c[3] - 20.0 * c[5],
            8.0 * c[4],
            16.0 * c[5],
        ];
        let mut unit = 1.0;
        for power in &mut powers {
            *power *= unit;
            unit /= half;
        }
        let cell = Self { middle, powers };
        let holds = |x: f64| {
            let at = middle + half * x;
            (cell.value(at) - of(at)).abs() <= CELL * of(at).abs()
        };
        HELD.into_iter().all(holds).then_some(cell)
    }

    /// The function at a number within.
    #[inline(always)]
    pub fn value(&self, at: f64) -> f64 {
        let d = at - self.middle;
        let [a, b, c, e, f, g] = self.powers;
        (a + b * d) + d * d * ((c + e * d) + d * d * (f + g * d))
    }
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
    /// The first function once more, where a cell holds it.
    cells: Vec<Cell>,
    lowest_cell: u64,
    cell_shift: u32,
}

/// The first function of pieces as far as cells hold it.
#[derive(Debug, Clone, Copy)]
pub struct Cells<'a> {
    cells: &'a [Cell],
    lowest: u64,
    shift: u32,
}

impl Cells<'_> {
    /// The function at a value; not a number where no cell holds it.
    #[inline(always)]
    pub fn value(&self, at: f64) -> f64 {
        let place = (at.to_bits() >> self.shift).wrapping_sub(self.lowest);
        match self.cells.get(place as usize) {
            Some(cell) => cell.value(at),
            None => f64::NAN,
        }
    }
}

/// Cells of several pieces of one function side by side, to be read at many values.
#[derive(Debug, Default)]
pub struct Table<'a> {
    cells: Vec<&'a Cell>,
    lowest: u64,
    shift: u32,
}

impl<'a> Table<'a> {
    /// Adds cells, in the place of all others where those are too far away.
    pub fn add(&mut self, more: Cells<'a>) {
        let end = |lowest: u64, count: usize| lowest + count as u64;
        let (mut low, mut high) = (more.lowest, end(more.lowest, more.cells.len()));
        let both = (
            low.min(self.lowest),
            high.max(end(self.lowest, self.cells.len())),
        );
        let is_near = self.shift == more.shift && both.1 - both.0 < MOST_CELLS;
        if is_near && !self.cells.is_empty() {
            (low, high) = both;
        } else {
            self.cells.clear();
        }
        let mut cells = vec![&NO_CELL; (high - low) as usize];
        let own = self.cells.iter().copied().zip(self.lowest..);
        for (cell, place) in own.chain(more.cells.iter().zip(more.lowest..)) {
            if !cell.is_none() {
                cells[(place - low) as usize] = cell;
            }
        }
        (self.cells, self.lowest, self.shift) = (cells, low, more.shift);
    }

    /// As [`Cells::value`].
    #[inline(always)]
    pub fn value(&self, at: f64) -> f64 {
        let place = (at.to_bits() >> self.shift).wrapping_sub(self.lowest);
        match self.cells.get(place as usize) {
            Some(cell) => cell.value(at),
            None => f64::NAN,
        }
    }
}

static NO_CELL: Cell = Cell::NONE;
/// Cells of a table from the first to the last, at most.
const MOST_CELLS: u64 = 1 << 12;

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
    value: f64,
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
            cells: Vec::new(),
            lowest_cell: 0,
            cell_shift: 0,
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

    /// The same with the first function in cells too, an octave having two to so many of them.
    pub fn with_cells(mut self, bits: u32) -> Self {
        self.cell_shift = f64::MANTISSA_DIGITS - 1 - bits;
        let (Some(first), Some(last)) = (self.spans.first(), self.spans.last()) else {
            return self;
        };
        let shift = self.cell_shift;
        self.lowest_cell = first.low.to_bits() >> shift;
        let mut piece = 0;
        for cell in self.lowest_cell..=last.high.to_bits() >> shift {
            let [low, high] = [cell, cell + 1].map(|cell| f64::from_bits(cell << shift));
            while piece + 1 < self.spans.len() && self.spans[piece].high <= low {
                piece += 1;
            }
            let (span, series) = (&self.spans[piece], &self.first[piece]);
            let of = |at: f64| value(series, (at - span.middle) * span.inverse);
            let is_within = span.low <= low && high <= span.high;
            let cell = is_within.then(|| Cell::new(low, high, of)).flatten();
            self.cells.push(cell.unwrap_or(Cell::NONE));
        }
        self
    }

    /// The first function's cells.
    #[inline]
    pub fn cells(&self) -> Cells<'_> {
        Cells {
            cells: &self.cells,
            lowest: self.lowest_cell,
            shift: self.cell_shift,
        }
    }

    /// The first function at a value, by its cell where there is one; `None` off the pieces.
    #[inline]
    pub fn first_at(&self, value: f64) -> Option<f64> {
        let found = self.cells().value(value);
        if found.is_nan() {
            return Some(self.first(self.locate(value)?));
        }
        Some(found)
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
                    value,
                    piece,
                    x: (value - span.middle) * span.inverse,
                });
            }
            piece += 1;
        }
    }

    /// The first function at a place, by its cell where there is one: as [`Pieces::first_at`], so
    /// that whole points and single numbers have equal bits.
    #[inline]
    pub fn first(&self, place: PanelPlace) -> f64 {
        let found = self.cells().value(place.value);
        if found.is_nan() {
            return value(&self.first[place.piece], place.x);
        }
        found
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
