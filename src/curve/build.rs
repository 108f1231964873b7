//! Making a stretch of a curve: pieces are fitted to points solved each from those before it, held
//! against the solver at points between, and halved until they hold.

use super::line::Line;
use super::{
    ACCURACY, ACCURACY_NEAR_TOP, CELLS_BY_PRESSURE, CELLS_BY_TEMPERATURE, Curve, LIQUID,
    LIQUID_ENTHALPY, LIQUID_ENTROPY, LIQUID_STIFFNESS, NEAR_TOP, OTHER, PRESSURE, VAPOR,
    VAPOR_ENTROPY, pair_of,
};
use crate::equilibrium::bubble_dew::{Branch, PhasePair, through};
use crate::helmholtz::MAX_COMPONENTS;
use crate::numeric::chebyshev::{Pieces, Series, TERMS, points, series, value};

/// Where a piece is checked: its end, and extrema between the points fitted of the first
/// polynomial left out, which the error resembles.
const CHECKED: [f64; 4] = [
    -1.0,
    -0.707_106_781_186_547_5,
    0.258_819_045_102_520_8,
    0.965_925_826_289_068_3,
];
/// The same where another line may take this one's place: both ends.
const CHECKED_TO_BOTH_ENDS: [f64; 4] = [CHECKED[0], CHECKED[1], CHECKED[2], 1.0];
/// Part of the accuracy that a check may use up.
const SHARE: f64 = 0.25;
/// How much coarser everything else is than the pressure.
const COARSER: f64 = 10.0;
/// Width, in parts of the temperature, below which a piece no better than twice its size is given
/// up.
const HOPELESS: f64 = 4e-3;
/// Narrowest piece, in parts of the variable.
const NARROWEST: f64 = 1e-5;
/// The same where the line has points in some places and not in others.
const NARROWEST_UNSOLVED: f64 = 1e-3;

/// Pieces without a point, or that do not hold by pressure, after which what is left of a stretch
/// is not covered: where a line is missing, each costs a long search.
const MOST_UNSOLVED: usize = 16;

/// Of the points solved, how many the next is guessed from: they lie unevenly.
const MOST_LAST: usize = 4;

/// What a temperature is known to, in parts: by pressure it need not come back above the coldest.
const ROUNDING: f64 = 1e-11;

/// How far what serves as a start may be off.
const START: f64 = 1e-3;
/// What enthalpy (over T) and entropy are judged by, J/(mol K).
const GAS_CONSTANT: f64 = 8.314;

type Values = [f64; OTHER + MAX_COMPONENTS];
type Piece = (f64, f64, Vec<Series>);

/// What holds between two temperatures, K.
pub(super) fn by_temperature(line: &Line<'_>, low: f64, high: f64) -> Pieces {
    let count = line.composition().len();
    let (low, high) = line.within(low, high);
    let end = line.end(high);
    let mut builder = Builder {
        line,
        functions: if count == 1 { OTHER } else { OTHER + count },
        near_top: near_top(end),
        ends: Vec::new(),
        pieces: Vec::new(),
        unsolved: 0,
    };
    if low < high {
        let mut edges = vec![low, builder.near_top, high];
        edges.extend(line.breaks(high));
        if let Some(end) = end {
            // each half as far from the end as the last: there the line bends most
            edges.extend((1..8).map(|k| end * (1.0 - 0.1 * 0.5_f64.powi(k))));
        }
        for (low, high) in between(edges, low, high) {
            builder.cover(low, high, None);
        }
    }
    Pieces::new(builder.functions, &builder.pieces).with_cells(CELLS_BY_TEMPERATURE)
}

/// From where accuracy is coarser, K.
fn near_top(end: Option<f64>) -> f64 {
    end.map_or(f64::INFINITY, |end| end * (1.0 - NEAR_TOP))
}

fn accuracy(low: f64, near_top: f64) -> f64 {
    if low >= near_top {
        ACCURACY_NEAR_TOP
    } else {
        ACCURACY
    }
}

/// Neighbours among the edges that lie within.
fn between(mut edges: Vec<f64>, low: f64, high: f64) -> Vec<(f64, f64)> {
    edges.retain(|edge| (low..=high).contains(edge));
    edges.sort_by(f64::total_cmp);
    edges.dedup();
    edges.windows(2).map(|two| (two[0], two[1])).collect()
}

struct Builder<'a> {
    line: &'a Line<'a>,
    functions: usize,
    near_top: f64,
    /// What the solver alone says at ends of pieces, K.
    ends: Vec<(f64, Option<PhasePair>)>,
    pieces: Vec<Piece>,
    /// Pieces in which the line has no point.
    unsolved: usize,
}

/// Why a piece was not made.
struct Failed {
    /// How far it fails, in parts of what is allowed; infinite where the line has no point.
    error: f64,
    /// What was fitted, where all points are there.
    fitted: Option<Piece>,
}

impl Failed {
    const UNSOLVED: Self = Self {
        error: f64::INFINITY,
        fitted: None,
    };
}

impl Builder<'_> {
    /// Covers what it can between two temperatures; `whole` is the piece of which this is half.
    fn cover(&mut self, low: f64, high: f64, whole: Option<&Failed>) {
        if self.unsolved > MOST_UNSOLVED {
            return;
        }
        let failed = match self.piece(low, high, whole.and_then(|whole| whole.fitted.as_ref())) {
            Ok(piece) => return self.pieces.push(piece),
            Err(failed) => failed,
        };
        // what halving does not better is rounding or a jump
        let narrow = high - low < HOPELESS * high;
        let before = whole.map_or(f64::INFINITY, |whole| whole.error);
        let solved = failed.error.is_finite();
        self.unsolved += usize::from(!solved);
        let hopeless = narrow && solved && failed.error > 0.7 * before;
        let narrowest = if solved {
            NARROWEST
        } else {
            NARROWEST_UNSOLVED
        };
        if high - low < narrowest * high || hopeless {
            return;
        }
        let middle = 0.5 * (low + high);
        self.cover(low, middle, Some(&failed));
        self.cover(middle, high, Some(&failed));
    }

    /// All functions at a point of the line.
    fn values(&self, pair: &PhasePair) -> Values {
        let mut values = [0.0; OTHER + MAX_COMPONENTS];
        let [liquid, vapor] = self.line.phases(pair);
        let head = [
            pair.pressure,
            pair.liquid_density,
            pair.vapor_density,
            liquid.enthalpy,
            vapor.enthalpy,
            liquid.entropy,
            vapor.entropy,
            liquid.density * liquid.pressure_by_density,
        ];
        values[..OTHER].copy_from_slice(&head);
        let other = match self.line.branch() {
            Branch::Bubble => &pair.vapor,
            Branch::Dew => &pair.liquid,
        };
        values[OTHER..OTHER + other.len()].copy_from_slice(other);
        values
    }

    /// The point at a temperature in K by all rules, which the nearest end of a piece may lead to.
    fn exact(&self, temperature: f64) -> Option<PhasePair> {
        let ends = self.ends.iter().filter_map(|(_, found)| found.as_ref());
        let apart = |one: &PhasePair| (one.temperature - temperature).abs();
        let near = ends.min_by(|a, b| apart(a).total_cmp(&apart(b)));
        self.line.exact(temperature, near)
    }

    /// The point at an end of a piece, K, found once.
    fn end(&mut self, temperature: f64) -> Result<PhasePair, Failed> {
        let known = self.ends.iter().find(|one| one.0 == temperature);
        let found = known.map(|one| one.1).unwrap_or_else(|| {
            let found = self.exact(temperature);
            self.ends.push((temperature, found));
            found
        });
        found.ok_or(Failed::UNSOLVED)
    }

    /// A piece that holds, or why not; `whole` is what was fitted to the piece of which this is
    /// half.
    fn piece(&mut self, low: f64, high: f64, whole: Option<&Piece>) -> Result<Piece, Failed> {
        let at = |x: f64| on(low, high, x);
        // where the line could have turned, other points come from the envelope, not from the piece
        let is_safe = high < self.line.safe();
        let bottom = self.end(low)?;
        let checked = if is_safe {
            self.end(high)?;
            CHECKED_TO_BOTH_ENDS
        } else {
            CHECKED
        };
        // what was fitted beyond a kink is another line
        let is_this_line = |whole: &&Piece| {
            let there = self.read(whole, low).pressure / bottom.pressure;
            (there - 1.0).abs() < START
        };
        let whole = whole.filter(is_this_line);
        let mut all = [[0.0; OTHER + MAX_COMPONENTS]; TERMS];
        let mut solved = vec![(low, bottom)];
        for (values, x) in all.iter_mut().zip(points()) {
            let temperature = at(x);
            let start = match whole {
                Some(whole) => self.read(whole, temperature),
                None => through(last(&solved), temperature).unwrap_or(bottom),
            };
            let near = self.line.beside_neighbor(temperature, &start);
            let found = near
                .or_else(|| self.exact(temperature))
                .ok_or(Failed::UNSOLVED)?;
            solved.push((temperature, found));
            *values = self.values(&found);
        }
        let fitted: Vec<Series> = (0..self.functions)
            .map(|k| series(&all.map(|values| values[k])))
            .collect();
        let accuracy = SHARE * accuracy(low, self.near_top);
        let allowed = |k: usize, value: f64| match k {
            PRESSURE => accuracy * value,
            LIQUID | VAPOR => COARSER * accuracy * value,
            LIQUID_ENTHALPY..=VAPOR_ENTROPY => {
                let unit = if k < LIQUID_ENTROPY {
                    GAS_CONSTANT * low
                } else {
                    GAS_CONSTANT
                };
                COARSER * accuracy * unit
            }
            LIQUID_STIFFNESS => START * value.abs(),
            _ => COARSER * accuracy,
        };
        // a series that has not died away is not worth a check
        let mut worst: f64 = 0.0;
        for (k, series) in fitted.iter().enumerate() {
            let least = all[0][k].min(all[TERMS - 1][k]);
            let tail = series[TERMS - 1].abs() / allowed(k, least);
            worst = worst.max(tail / 30.0);
        }
        let piece = (low, high, fitted);
        let failed = |error, piece| Failed {
            error,
            fitted: Some(piece),
        };
        if worst > 1.0 {
            return Err(failed(worst, piece));
        }
        for x in checked {
            let temperature = at(x);
            // ends by all rules, which shows that this is the line meant and stable, and that no other has
            // taken its place in between
            let exact = match x {
                -1.0 => bottom,
                1.0 => self.end(high)?,
                _ => {
                    let near = if is_safe {
                        let start = self.read(&piece, temperature);
                        self.line.beside_neighbor(temperature, &start)
                    } else {
                        self.line.on_envelope(temperature)
                    };
                    near.or_else(|| self.exact(temperature))
                        .ok_or(Failed::UNSOLVED)?
                }
            };
            let solved = self.values(&exact);
            for (series, (k, solved)) in piece.2.iter().zip(solved.into_iter().enumerate()) {
                let error = (value(series, x) - solved).abs() / allowed(k, solved);
                // what is not a number has failed
                worst = if error <= worst { worst } else { error };
            }
        }
        if worst <= 1.0 {
            Ok(piece)
        } else {
            Err(failed(worst, piece))
        }
    }

    /// What a piece says at a temperature within it.
    fn read(&self, (low, high, fitted): &Piece, temperature: f64) -> PhasePair {
        let x = (2.0 * temperature - low - high) / (high - low);
        let z = self.line.composition();
        pair_of(self.line.branch(), &z, temperature, |k| {
            value(&fitted[k], x)
        })
    }
}

/// Points of a line from which the next is guessed, the last of those solved.
fn last(solved: &[(f64, PhasePair)]) -> &[(f64, PhasePair)] {
    &solved[solved.len().saturating_sub(MOST_LAST)..]
}

/// The place x of [-1, 1] between two ends.
fn on(low: f64, high: f64, x: f64) -> f64 {
    0.5 * ((low + high) + x * (high - low))
}

/// Temperature by pressure between two pressures, Pa, from the curve by temperature.
pub(super) fn by_pressure(curve: &Curve, line: &Line<'_>, low: f64, high: f64) -> Pieces {
    let mut inverse = Inverse {
        curve,
        line,
        begin: None,
        pieces: Vec::new(),
        failed: 0,
    };
    if let Some((bottom, top)) = inverse.ends(high)
        && top > low
        && bottom < high
    {
        inverse.cover(low.max(bottom), high.min(top));
    }
    Pieces::new(1, &inverse.pieces).with_cells(CELLS_BY_PRESSURE)
}

struct Inverse<'a> {
    curve: &'a Curve,
    line: &'a Line<'a>,
    /// The pressure, Pa, from which the last piece went or the next one goes, and its temperature, K, where
    /// the curve has the lowest of all that the line has there.
    begin: Option<(f64, Option<f64>)>,
    pieces: Vec<Piece>,
    /// Pieces that do not hold.
    failed: usize,
}

impl Inverse<'_> {
    /// The pressures between which the line rises, Pa, as far as those up to `high` go.
    fn ends(&self, high: f64) -> Option<(f64, f64)> {
        let (coldest, hottest) = self.line.within(0.0, f64::INFINITY);
        // solved for: stretches are not built that the pressures do not lie in
        let solved = |temperature| Some(self.line.exact(temperature, None)?.pressure);
        let bottom = solved(coldest * (1.0 + ROUNDING))?;
        if bottom > high {
            return None;
        }
        let safe = self.line.safe().min(hottest);
        let top = solved(safe)?;
        if top > high || safe == hottest {
            return Some((bottom, top.min(high)));
        }
        // up to the top of the line, or to where it turns
        let mut edges = self.line.breaks(hottest);
        edges.retain(|edge| *edge > safe && *edge < hottest);
        let end = edges.into_iter().fold(hottest, f64::min);
        let mut top = 0.0;
        for k in 0..=64 {
            let temperature = safe + (end - safe) * f64::from(k) / 64.0;
            top = self.pressure(temperature).unwrap_or(0.0).max(top);
            if top > high {
                return Some((bottom, high));
            }
        }
        Some((bottom, top))
    }

    fn cover(&mut self, low: f64, high: f64) {
        if self.failed > MOST_UNSOLVED {
            return;
        }
        if let Some(piece) = self.piece(low, high) {
            self.begin = Some((high, Some(value(&piece.2[0], 1.0))));
            self.pieces.push(piece);
            return;
        }
        self.failed += 1;
        if high - low > NARROWEST_UNSOLVED * high {
            let middle = 0.5 * (low + high);
            self.cover(low, middle);
            self.cover(middle, high);
        }
    }

    /// The temperature, K, at the pressure in Pa from which a piece goes, where the curve has what the
    /// solver finds, the lowest of all temperatures of that pressure.
    ///
    /// It serves for all of the piece and for those that join it. Below that temperature the line lies under
    /// this pressure, for it is continuous and does not have it there; from it on the curve by temperature,
    /// held against the solver itself, rises to every pressure of the piece. So none of them has a lower
    /// temperature, and the solver's search for one, which costs a hundred of its answers beside a gas, is
    /// spared the others.
    fn beginning(&mut self, pressure: f64) -> Option<f64> {
        if let Some((place, temperature)) = self.begin
            && place == pressure
        {
            return temperature;
        }
        let exact = self.line.exact_at_pressure(pressure);
        let temperature = exact.map(|exact| exact.temperature).filter(|&exact| {
            let accuracy = accuracy(exact, near_top(self.line.end(exact)));
            let read = self.temperature(pressure, exact);
            read.is_some_and(|read| (read / exact - 1.0).abs() <= SHARE * accuracy)
        });
        self.begin = Some((pressure, temperature));
        temperature
    }

    fn pressure(&self, temperature: f64) -> Option<f64> {
        let build = |low, high| by_temperature(self.line, low, high);
        let (pieces, place) = self.curve.holding(temperature, build)?;
        Some(pieces.first(place))
    }

    /// The temperature at which the curve has a pressure, by secants of ln p over 1/T from a
    /// temperature near it.
    fn temperature(&self, pressure: f64, near: f64) -> Option<f64> {
        let error = |t: f64| Some((self.pressure(t)? / pressure).ln());
        let (mut a, mut at_a) = (near, error(near)?);
        // next to an end the curve lies to one side
        let aside = [-1e-4, 1e-4].map(|part| near * (1.0 + part));
        let mut b = aside.into_iter().find(|&b| error(b).is_some())?;
        for _ in 0..12 {
            let at_b = error(b)?;
            if at_b == at_a {
                return Some(b);
            }
            let (ia, ib) = (1.0 / a, 1.0 / b);
            let next = 1.0 / (ib - at_b * (ib - ia) / (at_b - at_a));
            (a, at_a, b) = (b, at_b, next);
            if (b - a).abs() < 1e-14 * a {
                return Some(b);
            }
        }
        (at_a.abs() < 1e-13).then_some(b)
    }

    fn piece(&mut self, low: f64, high: f64) -> Option<Piece> {
        let at = |x: f64| on(low, high, x);
        let mut temperatures = [0.0; TERMS];
        let mut near = self.beginning(low)?;
        for (temperature, x) in temperatures.iter_mut().zip(points()) {
            *temperature = self.temperature(at(x), near)?;
            // the lower of two temperatures rises with pressure
            if *temperature < near * (1.0 - ACCURACY_NEAR_TOP) {
                return None;
            }
            near = *temperature;
        }
        let fitted = series(&temperatures);
        let near_top = near_top(self.line.end(near));
        for x in CHECKED {
            let (pressure, temperature) = (at(x), value(&fitted, x));
            let accuracy = accuracy(temperature, near_top);
            let error = (self.pressure(temperature)? / pressure - 1.0).abs();
            if error.is_nan() || error > SHARE * accuracy {
                return None;
            }
        }
        Some((low, high, vec![fitted]))
    }
}
