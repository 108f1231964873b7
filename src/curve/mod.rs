//! Bubble and dew lines as piecewise Chebyshev series, made from the equation once and then read
//! in nanoseconds.
//!
//! A line is cut into stretches by the leading bits of the temperature (or of the pressure), and
//! a stretch is built when it is first asked for. Its pieces are held against the solver between
//! the points fitted: pressure to [`ACCURACY`], densities, the other phase's mole fractions,
//! enthalpies in units of R T and entropies in units of R to ten times that, and a thousand times coarser within [`NEAR_TOP`] of the line's highest
//! temperature. What does not hold that is not covered: there a curve has no answer, and whoever
//! asks it solves the equation. What is built depends on the line alone, not on what was asked
//! before or by whom.

mod between;
mod build;
mod line;

use std::sync::OnceLock;

pub(crate) use between::{Between, LineEnd};
pub use line::Line;

use crate::equilibrium::bubble_dew::{Branch, PhasePair};
use crate::helmholtz::{MAX_COMPONENTS, MoleFractions};
use crate::numeric::chebyshev::{Cells, PanelPlace, Pieces};

/// Relative error in pressure, at a temperature or of the temperature found.
pub const ACCURACY: f64 = 1e-10;
/// The same within [`NEAR_TOP`] of the line's highest temperature.
pub const ACCURACY_NEAR_TOP: f64 = 1e-7;
/// How far from the top of the line accuracy is coarser, in parts of that temperature.
pub const NEAR_TOP: f64 = 1e-3;

/// Functions of temperature: pressure; density, enthalpy and entropy of both phases; the liquid's
/// stiffness; then mole fractions of the other phase.
const PRESSURE: usize = 0;
const LIQUID: usize = 1;
const VAPOR: usize = 2;
const LIQUID_ENTHALPY: usize = 3;
const VAPOR_ENTHALPY: usize = 4;
const LIQUID_ENTROPY: usize = 5;
const VAPOR_ENTROPY: usize = 6;
/// rho dp/drho at constant temperature, a start for denser states and no more.
const LIQUID_STIFFNESS: usize = 7;
const OTHER: usize = 8;

/// Bits of the stretches of temperature: 64 K below 256 K, 128 K below 512 K.
const BY_TEMPERATURE: u32 = 1;
/// The same near the line's end, where a stretch costs most and few ask: 8 K below 256 K, 16 K
/// below 512 K.
const NEAR_END: u32 = 4;
/// Bits of the stretches of pressure: each is an octave.
const BY_PRESSURE: u32 = 0;
/// Bits of the cells of the pressure by temperature, 2 K above 256 K, and of the temperature by
/// pressure.
const CELLS_BY_TEMPERATURE: u32 = 7;
const CELLS_BY_PRESSURE: u32 = 5;
/// Pressures that curves are made for, Pa.
const PRESSURES: (f64, f64) = (1.0, 6e7);

/// A phase on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Side {
    /// Temperature, K.
    pub temperature: f64,
    /// Density, mol/m3.
    pub density: f64,
    /// Enthalpy, J/mol, from the engine's own zero.
    pub enthalpy: f64,
    /// Entropy, J/(mol K), from the engine's own zero.
    pub entropy: f64,
}

/// One line of one refrigerant.
#[derive(Debug)]
pub struct Curve {
    branch: Branch,
    z: MoleFractions,
    by_temperature: Stretches,
    /// From where, K, the line may come near its end.
    near_end: f64,
    by_temperature_near_end: Stretches,
    by_pressure: Stretches,
}

impl Curve {
    /// The curve of a line, nothing of it built yet.
    pub fn new(line: &Line<'_>) -> Self {
        let (low, high) = line.limits();
        let near_end = line.safe().clamp(low, high);
        Self {
            branch: line.branch(),
            z: line.composition(),
            by_temperature: Stretches::new((low, near_end), BY_TEMPERATURE),
            near_end,
            by_temperature_near_end: Stretches::new((near_end, high), NEAR_END),
            by_pressure: Stretches::new(PRESSURES, BY_PRESSURE),
        }
    }

    #[inline]
    fn pieces_and_place<'a>(
        &self,
        temperature: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<(&Pieces, PanelPlace)> {
        self.holding(temperature, |low, high| {
            build::by_temperature(&line(), low, high)
        })
    }

    #[inline]
    fn holding(
        &self,
        temperature: f64,
        build: impl FnOnce(f64, f64) -> Pieces,
    ) -> Option<(&Pieces, PanelPlace)> {
        let pieces = self.stretch(temperature, build)?;
        Some((pieces, pieces.locate(temperature)?))
    }

    #[inline]
    fn pieces<'a>(&self, temperature: f64, line: impl FnOnce() -> Line<'a>) -> Option<&Pieces> {
        self.stretch(temperature, |low, high| {
            build::by_temperature(&line(), low, high)
        })
    }

    #[inline]
    fn stretch(&self, temperature: f64, build: impl FnOnce(f64, f64) -> Pieces) -> Option<&Pieces> {
        let stretches = if temperature < self.near_end {
            &self.by_temperature
        } else {
            &self.by_temperature_near_end
        };
        stretches.holding(temperature, build)
    }

    /// Pressure, Pa, at a temperature in K; `None` off the curve. `line` is asked for where a
    /// stretch has to be built.
    #[inline]
    pub fn pressure<'a>(&self, temperature: f64, line: impl FnOnce() -> Line<'a>) -> Option<f64> {
        self.pieces(temperature, line)?.first_at(temperature)
    }

    /// Temperature, K, at a pressure in Pa, of two the lower; `None` off the curve.
    #[inline]
    pub fn temperature<'a>(&self, pressure: f64, line: impl FnOnce() -> Line<'a>) -> Option<f64> {
        self.pieces_by_pressure(pressure, line)?.first_at(pressure)
    }

    /// The cells of the pressure about a temperature in K; `None` off the curve.
    #[inline]
    pub fn pressure_cells<'a>(
        &self,
        temperature: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<Cells<'_>> {
        Some(self.pieces(temperature, line)?.cells())
    }

    /// The cells of the temperature about a pressure in Pa; `None` off the curve.
    #[inline]
    pub fn temperature_cells<'a>(
        &self,
        pressure: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<Cells<'_>> {
        Some(self.pieces_by_pressure(pressure, line)?.cells())
    }

    #[inline]
    fn pieces_by_pressure<'a>(
        &self,
        pressure: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<&Pieces> {
        self.by_pressure.holding(pressure, |low, high| {
            build::by_pressure(self, &line(), low, high)
        })
    }

    /// Pressure, Pa, and the densities of liquid and vapour, mol/m3, at a temperature in K.
    #[inline]
    pub fn densities<'a>(
        &self,
        temperature: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<(f64, f64, f64)> {
        let (pieces, place) = self.pieces_and_place(temperature, line)?;
        let of = |k| pieces.function(k, place);
        Some((of(PRESSURE), of(LIQUID), of(VAPOR)))
    }

    /// Pressure, Pa, and enthalpy of the liquid, J/mol, at a temperature in K.
    #[inline]
    pub fn liquid_enthalpy<'a>(
        &self,
        temperature: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<(f64, f64)> {
        let (pieces, place) = self.pieces_and_place(temperature, line)?;
        let of = |k| pieces.function(k, place);
        Some((of(PRESSURE), of(LIQUID_ENTHALPY)))
    }

    /// As [`Curve::liquid_enthalpy`], and a density in mol/m3 near that of the liquid at a pressure
    /// in Pa above the line's.
    #[inline]
    pub fn beside_liquid<'a>(
        &self,
        temperature: f64,
        pressure: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<(f64, f64, f64)> {
        let (pieces, place) = self.pieces_and_place(temperature, line)?;
        let saturated = pieces.first(place);
        let density = denser(pieces, place, pressure - saturated);
        Some((saturated, pieces.function(LIQUID_ENTHALPY, place), density))
    }

    /// A density in mol/m3 near that of the liquid at a temperature in K and a pressure in Pa above
    /// the line's.
    #[inline]
    pub fn near_liquid<'a>(
        &self,
        temperature: f64,
        pressure: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<f64> {
        let (pieces, place) = self.pieces_and_place(temperature, line)?;
        Some(denser(pieces, place, pressure - pieces.first(place)))
    }

    /// Liquid and vapour at a pressure in Pa; `None` off the curve.
    #[inline]
    pub fn sides_at_pressure<'a>(
        &self,
        pressure: f64,
        line: impl Fn() -> Line<'a>,
    ) -> Option<(Side, Side)> {
        let (_, sides) = self.sides(self.temperature(pressure, &line)?, line)?;
        Some(sides)
    }

    /// Pressure, Pa, liquid and vapor at a temperature in K; `None` off the curve.
    #[inline]
    pub fn sides<'a>(
        &self,
        temperature: f64,
        line: impl FnOnce() -> Line<'a>,
    ) -> Option<(f64, (Side, Side))> {
        let (pieces, place) = self.pieces_and_place(temperature, line)?;
        let side = |density, enthalpy, entropy| Side {
            temperature,
            density: pieces.function(density, place),
            enthalpy: pieces.function(enthalpy, place),
            entropy: pieces.function(entropy, place),
        };
        let liquid = side(LIQUID, LIQUID_ENTHALPY, LIQUID_ENTROPY);
        let vapor = side(VAPOR, VAPOR_ENTHALPY, VAPOR_ENTROPY);
        Some((pieces.first(place), (liquid, vapor)))
    }

    /// Both phases at a temperature in K; `None` off the curve.
    pub fn pair<'a>(&self, temperature: f64, line: impl FnOnce() -> Line<'a>) -> Option<PhasePair> {
        let (pieces, place) = self.pieces_and_place(temperature, line)?;
        let of = |k| pieces.function(k, place);
        Some(pair_of(self.branch, &self.z, temperature, of))
    }

    /// Both phases at a pressure in Pa; `None` off the curve.
    pub fn pair_at_pressure<'a>(
        &self,
        pressure: f64,
        line: impl Fn() -> Line<'a>,
    ) -> Option<PhasePair> {
        let pair = self.pair(self.temperature(pressure, &line)?, line)?;
        Some(PhasePair { pressure, ..pair })
    }

    /// The temperatures covered, K, and the pressures, Pa: stretches in rising order. Builds what
    /// is not built yet.
    pub fn covered(&self, line: &Line<'_>) -> [Vec<(f64, f64)>; 2] {
        let by_temperature = |low, high| build::by_temperature(line, low, high);
        let mut temperatures = self.by_temperature.covered(by_temperature);
        temperatures.extend(self.by_temperature_near_end.covered(by_temperature));
        let by_pressure = |low, high| build::by_pressure(self, line, low, high);
        [temperatures, self.by_pressure.covered(by_pressure)].map(|pieces| {
            let mut whole: Vec<(f64, f64)> = Vec::new();
            for (low, high) in pieces {
                match whole.last_mut() {
                    Some(last) if last.1 == low => last.1 = high,
                    _ => whole.push((low, high)),
                }
            }
            whole
        })
    }

    /// How many pieces have been built, by temperature and by pressure.
    pub fn size(&self) -> (usize, usize) {
        let by_temperature = self.by_temperature.count() + self.by_temperature_near_end.count();
        (by_temperature, self.by_pressure.count())
    }
}

/// Both phases from the functions of a piece at a temperature.
fn pair_of(
    branch: Branch,
    z: &MoleFractions,
    temperature: f64,
    of: impl Fn(usize) -> f64,
) -> PhasePair {
    let count = z.len();
    let mut other = *z;
    if count > 1 {
        let mut x = [0.0; MAX_COMPONENTS];
        for (k, x) in x[..count].iter_mut().enumerate() {
            *x = of(OTHER + k).max(0.0);
        }
        other = MoleFractions::new(&x[..count]);
    }
    let (liquid, vapor) = match branch {
        Branch::Bubble => (*z, other),
        Branch::Dew => (other, *z),
    };
    PhasePair {
        temperature,
        pressure: of(PRESSURE),
        liquid,
        vapor,
        liquid_density: of(LIQUID),
        vapor_density: of(VAPOR),
        liquids: None,
        steps: 0,
        residual: ACCURACY,
    }
}

/// The liquid's density, mol/m3, at a pressure so many Pa above the line's: as if the stiffness rose
/// sevenfold with pressure.
#[inline]
fn denser(pieces: &Pieces, place: PanelPlace, excess: f64) -> f64 {
    let e = excess / pieces.function(LIQUID_STIFFNESS, place);
    // (1 + 7 e)^(1/7), by its series where what that leaves out is below 1e-7
    let rise = if e.abs() < 6e-3 {
        1.0 + e * (1.0 - e * (3.0 - 13.0 * e))
    } else {
        (1.0 + 7.0 * e).powf(1.0 / 7.0)
    };
    pieces.function(LIQUID, place) * rise
}

/// Pieces in stretches that begin at numbers of equal leading bits.
#[derive(Debug)]
struct Stretches {
    limits: (f64, f64),
    shift: u32,
    first: u64,
    built: Vec<OnceLock<Pieces>>,
}

impl Stretches {
    fn new(limits: (f64, f64), bits: u32) -> Self {
        let (low, high) = limits;
        let shift = f64::MANTISSA_DIGITS - 1 - bits;
        let (first, last) = (low.to_bits() >> shift, high.to_bits() >> shift);
        Self {
            limits,
            shift,
            first,
            built: (first..=last).map(|_| OnceLock::new()).collect(),
        }
    }

    #[inline]
    fn holding(&self, value: f64, build: impl FnOnce(f64, f64) -> Pieces) -> Option<&Pieces> {
        let place = (value.to_bits() >> self.shift).wrapping_sub(self.first);
        let stretch = self.built.get(place as usize)?;
        Some(stretch.get_or_init(|| {
            let (low, high) = self.ends(place);
            build(low, high)
        }))
    }

    fn ends(&self, place: u64) -> (f64, f64) {
        let (lowest, highest) = self.limits;
        let end = |place: u64| f64::from_bits((self.first + place) << self.shift);
        (end(place).max(lowest), end(place + 1).min(highest))
    }

    fn covered(&self, build: impl Fn(f64, f64) -> Pieces) -> Vec<(f64, f64)> {
        let stretches = self.built.iter().enumerate();
        stretches
            .flat_map(|(place, stretch)| {
                let (low, high) = self.ends(place as u64);
                stretch.get_or_init(|| build(low, high)).ends()
            })
            .collect()
    }

    fn count(&self) -> usize {
        let built = self.built.iter().filter_map(OnceLock::get);
        built.map(Pieces::count).sum()
    }
}
