//! Two phases of a blend between its lines, near enough for one step of Newton's method.
//!
//! At one pressure, w of the way from the bubble to the dew point in enthalpy,
//!
//! ```text
//! f(w) = (1 - w) f(0) + w f(1) + w (1 - w) g(w)        f: ln K_i, T, 1/rho', ln rho'', beta, ...
//! x_i = z_i / (1 + beta (K_i - 1))                     y_i = K_i x_i
//! ```
//!
//! with both ends from the lines' curves, and g a polynomial of w whose coefficients are series of
//! the pressure. They are fitted to solved states an octave of pressure at a time, when first asked
//! for, and held against nothing: they give a start, and Newton's method says how good it was.

use super::{PRESSURES, Stretches};
use crate::equilibrium::Property;
use crate::equilibrium::bubble_dew::PhasePair;
use crate::equilibrium::split::{Filled, Sought, Split, between_lines, filled_along};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::chebyshev::{PanelPlace, Pieces, Series, coefficients, points_of};

/// Places between the lines, and pressures of a piece, that are solved.
const WAY: usize = 8;
const ALONG: usize = 8;
/// A piece is halved so often where one of its states is not solved, or its series do not die away.
const HALVED: usize = 3;
/// What the last terms of a series may be.
const TAIL: f64 = 1e-5;

/// Functions of w: the way in entropy, then moles of vapor, temperature, the liquid's volume, the
/// logarithm of the vapor's density, and of each K-value.
const ENTROPY: usize = 0;
const VAPOR: usize = 1;
const TEMPERATURE: usize = 2;
const VOLUME: usize = 3;
const VAPOR_DENSITY: usize = 4;
const K_VALUE: usize = 5;

type Values = [f64; K_VALUE + MAX_COMPONENTS];

/// A bubble or a dew point, with the properties of the phase that is the whole blend.
#[derive(Debug, Clone, Copy)]
pub(crate) struct LineEnd {
    /// The point.
    pub(crate) pair: PhasePair,
    /// J/mol.
    pub(crate) enthalpy: f64,
    /// J/(mol K).
    pub(crate) entropy: f64,
}

impl LineEnd {
    fn property(&self, property: Property) -> f64 {
        match property {
            Property::Entropy => self.entropy,
            _ => self.enthalpy,
        }
    }
}

/// The states between the lines of one blend.
#[derive(Debug)]
pub(crate) struct Between(Stretches);

impl Default for Between {
    fn default() -> Self {
        // as the lines by pressure: an octave
        Self(Stretches::new(PRESSURES, 0))
    }
}

impl Between {
    /// Two phases near those that have an enthalpy or an entropy together, J/mol or J/(mol K), at
    /// the pressure of two ends; `solved` says both ends at a pressure in Pa.
    pub(crate) fn start(
        &self,
        (mixture, z): (&Mixture, &MoleFractions),
        [bubble, dew]: [&LineEnd; 2],
        (property, value): (Property, f64),
        ends: impl Fn(f64) -> Option<[LineEnd; 2]>,
    ) -> Split {
        let (from, to) = (bubble.property(property), dew.property(property));
        let share = (value - from) / (to - from);
        let pressure = bubble.pair.pressure;
        let line = |low, high| built((mixture, z), (low, high), &ends);
        let near = || {
            let pieces = self.0.holding(pressure, line)?;
            let read = Read {
                pieces,
                place: pieces.locate(pressure)?,
            };
            Some(read.split(z, [&bubble.pair, &dew.pair], property, share))
        };
        near().unwrap_or_else(|| between_lines(z, &bubble.pair, &dew.pair, share))
    }
}

/// Series at a pressure.
struct Read<'a> {
    pieces: &'a Pieces,
    place: PanelPlace,
}

impl Read<'_> {
    /// g of a function.
    fn bow(&self, function: usize) -> [f64; WAY] {
        let term = |k| self.pieces.function(function * WAY + k, self.place);
        std::array::from_fn(term)
    }

    fn split(
        &self,
        z: &MoleFractions,
        [bubble, dew]: [&PhasePair; 2],
        property: Property,
        share: f64,
    ) -> Split {
        let mut way = share;
        if property == Property::Entropy {
            // both ways are nearly one
            let bow = self.bow(ENTROPY);
            for _ in 0..STEPS {
                let next = share - way * (1.0 - way) * polynomial(&bow, way);
                let change = next - way;
                way = next;
                if change.abs() < NEAR {
                    break;
                }
            }
        }
        let lifted = |function: usize, from: f64, to: f64| {
            from + way * (to - from) + way * (1.0 - way) * polynomial(&self.bow(function), way)
        };
        let beta = lifted(VAPOR, 0.0, 1.0);
        let (mut x, mut y) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
        for i in (0..z.len()).filter(|i| z[*i] > 0.0) {
            let [from, to] = log_k_values(z, [bubble, dew], i);
            let k = lifted(K_VALUE + i, from, to).exp();
            x[i] = z[i] / (1.0 + beta * (k - 1.0));
            y[i] = k * x[i];
        }
        let [liquid, vapor] = [x, y].map(|x| MoleFractions::new(&x[..z.len()]));
        let volumes = [bubble, dew].map(|pair| 1.0 / pair.liquid_density);
        let thin = [bubble, dew].map(|pair| pair.vapor_density.ln());
        Split {
            vapor_fraction: beta,
            pair: PhasePair {
                temperature: lifted(TEMPERATURE, bubble.temperature, dew.temperature),
                pressure: bubble.pressure,
                liquid,
                vapor,
                liquid_density: 1.0 / lifted(VOLUME, volumes[0], volumes[1]),
                vapor_density: lifted(VAPOR_DENSITY, thin[0], thin[1]).exp(),
                liquids: None,
                steps: 0,
                residual: f64::NAN,
            },
        }
    }
}

/// Steps that find the way in enthalpy from that in entropy, and how near.
const STEPS: usize = 8;
const NEAR: f64 = 1e-8;

/// ln K of a component at both ends.
fn log_k_values(z: &MoleFractions, [bubble, dew]: [&PhasePair; 2], i: usize) -> [f64; 2] {
    [(bubble.vapor[i] / z[i]).ln(), (z[i] / dew.liquid[i]).ln()]
}

/// A series in 2 w - 1, by Clenshaw's recurrence.
fn polynomial(c: &[f64; WAY], way: f64) -> f64 {
    let x = 2.0 * way - 1.0;
    let (mut now, mut before) = (0.0, 0.0);
    for c in c[1..].iter().rev() {
        (now, before) = (c + 2.0 * x * now - before, now);
    }
    c[0] + x * now - before
}

/// Pieces between two pressures, Pa.
fn built(
    (mixture, z): (&Mixture, &MoleFractions),
    (low, high): (f64, f64),
    ends: &impl Fn(f64) -> Option<[LineEnd; 2]>,
) -> Pieces {
    let builder = Builder { mixture, z, ends };
    let mut pieces = Vec::new();
    builder.cover(low, high, HALVED, &mut pieces);
    Pieces::new((K_VALUE + z.len()) * WAY, &pieces)
}

struct Builder<'a, Ends> {
    mixture: &'a Mixture,
    z: &'a MoleFractions,
    ends: &'a Ends,
}

impl<Ends: Fn(f64) -> Option<[LineEnd; 2]>> Builder<'_, Ends> {
    fn cover(&self, low: f64, high: f64, left: usize, pieces: &mut Vec<(f64, f64, Vec<Series>)>) {
        if let Some(piece) = self.piece(low, high) {
            pieces.push((low, high, piece));
        } else if left > 0 {
            let middle = 0.5 * (low + high);
            self.cover(low, middle, left - 1, pieces);
            self.cover(middle, high, left - 1, pieces);
        }
    }

    fn piece(&self, low: f64, high: f64) -> Option<Vec<Series>> {
        let count = (K_VALUE + self.z.len()) * WAY;
        let mut all = vec![[0.0; ALONG]; count];
        for (along, x) in points_of::<ALONG>().into_iter().enumerate() {
            let pressure = 0.5 * ((low + high) + x * (high - low));
            for (function, bow) in self.bows(pressure)?.into_iter().enumerate() {
                for (term, c) in coefficients(&bow).into_iter().enumerate() {
                    all[function * WAY + term][along] = c;
                }
            }
        }
        let series = all.iter().map(|values| {
            let fitted = coefficients(values);
            let mut series = Series::default();
            series[..ALONG].copy_from_slice(&fitted);
            (fitted[ALONG - 1].abs() < TAIL).then_some(series)
        });
        series.collect()
    }

    /// g of each function at a pressure, Pa, at the points between the lines.
    fn bows(&self, pressure: f64) -> Option<Vec<[f64; WAY]>> {
        let [bubble, dew] = (self.ends)(pressure)?;
        let ends = [&bubble.pair, &dew.pair];
        let mut bows = vec![[0.0; WAY]; K_VALUE + self.z.len()];
        for (place, x) in points_of::<WAY>().into_iter().enumerate() {
            let way = 0.5 * (1.0 + x);
            let enthalpy = bubble.enthalpy + way * (dew.enthalpy - bubble.enthalpy);
            let sought = Sought::PressureProperty(pressure, Property::Enthalpy, enthalpy);
            let start = between_lines(self.z, ends[0], ends[1], way);
            let found = filled_along(self.mixture, self.z, |_| Some(sought), &start)?;
            let values = self.values(&found, [&bubble, &dew]);
            let [first, last] = [(&bubble, 0.0), (&dew, 1.0)].map(|(end, way)| {
                let mut values = Values::default();
                values[ENTROPY] = way;
                values[VAPOR] = way;
                values[TEMPERATURE] = end.pair.temperature;
                values[VOLUME] = 1.0 / end.pair.liquid_density;
                values[VAPOR_DENSITY] = end.pair.vapor_density.ln();
                for i in (0..self.z.len()).filter(|i| self.z[*i] > 0.0) {
                    values[K_VALUE + i] = log_k_values(self.z, ends, i)[way as usize];
                }
                values
            });
            for (function, bow) in bows.iter_mut().enumerate() {
                let straight = first[function] + way * (last[function] - first[function]);
                bow[place] = (values[function] - straight) / (way * (1.0 - way));
            }
        }
        Some(bows)
    }

    /// The functions of a state between two ends.
    fn values(&self, found: &Filled, [bubble, dew]: [&LineEnd; 2]) -> Values {
        let pair = &found.split.pair;
        let mut values = Values::default();
        values[ENTROPY] = (found.entropy - bubble.entropy) / (dew.entropy - bubble.entropy);
        values[VAPOR] = found.split.vapor_fraction;
        values[TEMPERATURE] = pair.temperature;
        values[VOLUME] = 1.0 / pair.liquid_density;
        values[VAPOR_DENSITY] = pair.vapor_density.ln();
        for i in (0..self.z.len()).filter(|i| self.z[*i] > 0.0) {
            values[K_VALUE + i] = (pair.vapor[i] / pair.liquid[i]).ln();
        }
        values
    }
}
