//! The state of a blend from two of its properties.
//!
//! The lines of the blend say where one phase ends and two begin; inside, the split is found by
//! Newton's method from a neighbour. On an isobar h and s rise with T, on an isotherm density
//! rises and s falls with p, and at constant h s falls with p: each pair has one answer.

use super::bubble_dew::{Branch, PhasePair};
use super::line::{AtTemperature, BlendLine};
use super::split::{Sought, Split, between, split};
use super::stability::liquid_density;
use super::{EquilibriumState, Given, KnownLines, Phase, Phases, Property};
use crate::error::{Error, Result};
use crate::helmholtz::{FixedComposition, Isotherm, Mixture, MoleFractions};
use crate::numeric::{bracketed_root, roots_on};
use crate::state::{SinglePhase, density_between, highest_density};

/// Relative overstepping of a limit that is rounding, not a wish.
const SLACK: f64 = 1e-9;
/// Relative distance from a known line within which it is solved for.
const DOUBT: f64 = 1e-6;
/// Relative width at which a bracketed search stops.
const TOLERANCE: f64 = 1e-14;
/// Steps before a density is given up.
const MOST_STEPS: usize = 60;
/// Densest state that is sought, in reducing densities.
const DENSEST: f64 = 6.0;
/// Steps in the vapour fraction by which a split is followed from the bubble point.
const FOLLOW: usize = 16;

/// Where a blend is answered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlendLimits {
    /// Lowest temperature, K.
    pub coldest: f64,
    /// Highest temperature, K.
    pub hottest: f64,
    /// Highest pressure, Pa.
    pub highest_pressure: f64,
}

/// A blend that is asked for states.
pub struct BlendSolver<'a> {
    mixture: &'a Mixture,
    z: &'a MoleFractions,
    fixed: FixedComposition<'a>,
    line: &'a BlendLine,
    limits: BlendLimits,
    known: Option<&'a dyn KnownLines>,
}

impl<'a> BlendSolver<'a> {
    /// A blend of composition `z` with its lines and limits; the lines are solved for where they
    /// are not `known`.
    pub fn new(
        mixture: &'a Mixture,
        z: &'a MoleFractions,
        line: &'a BlendLine,
        limits: BlendLimits,
        known: Option<&'a dyn KnownLines>,
    ) -> Self {
        Self {
            mixture,
            z,
            fixed: mixture.at_composition(z),
            line,
            limits,
            known,
        }
    }

    /// The state with the two given properties, in molar SI; quality is by mass.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] outside the limits; [`Error::NoState`] for a pair that is answered
    /// for pure refrigerants alone, or where nothing has both properties;
    /// [`Error::NotConverged`].
    pub fn state(&self, given: Given) -> Result<EquilibriumState> {
        use Given::*;
        let state = match given {
            TemperaturePressure(t, p) => self.at_temperature_pressure(t, p),
            TemperatureQuality(t, q) => {
                self.check_temperature(t)?;
                self.at_quality(Sought::TemperatureQuality(t, q), q)
            }
            PressureQuality(p, q) => {
                self.check_pressure(p)?;
                self.at_quality(Sought::PressureQuality(p, q), q)
            }
            TemperatureDensity(t, rho) => self.at_temperature_density(t, rho),
            TemperatureEntropy(t, s) => self.on_isotherm(t, s, Property::Entropy),
            PressureEnthalpy(p, h) => self.on_isobar(p, h, Property::Enthalpy),
            PressureEntropy(p, s) => self.on_isobar(p, s, Property::Entropy),
            PressureDensity(p, rho) => self.on_isobar(p, rho, Property::Density),
            EnthalpyEntropy(h, s) => self.at_enthalpy_entropy(h, s),
            _ => Err(Error::NoState {
                reason: "this pair of properties is answered for pure refrigerants alone".into(),
                hint: "for a blend give temperature or pressure with another property, or \
                       enthalpy with entropy"
                    .into(),
            }),
        }?;
        if given.is_met(&state) {
            return Ok(state);
        }
        Err(self.nothing())
    }

    fn out_of_range(
        &self,
        quantity: &'static str,
        value: f64,
        (low, high): (f64, f64),
        unit: &'static str,
    ) -> Error {
        Error::OutOfRange {
            quantity,
            value,
            low,
            high,
            unit,
            range: "common range of the components' equations".into(),
        }
    }

    fn check_temperature(&self, t: f64) -> Result<()> {
        let (low, high) = (self.limits.coldest, self.limits.hottest);
        if t >= low * (1.0 - SLACK) && t <= high * (1.0 + SLACK) {
            return Ok(());
        }
        Err(self.out_of_range("temperature", t, (low, high), "K"))
    }

    fn check_pressure(&self, p: f64) -> Result<()> {
        let high = self.limits.highest_pressure;
        if p > 0.0 && p <= high * (1.0 + SLACK) {
            return Ok(());
        }
        Err(self.out_of_range("pressure", p, (0.0, high), "Pa"))
    }

    /// The phases on the lines at a temperature; none where there are no two phases.
    fn lines(&self, temperature: f64) -> Result<AtTemperature> {
        self.line
            .all_at_temperature(self.mixture, self.z, temperature)
    }

    /// The lines as known, where these leave no doubt that a pressure lies beside them.
    fn known_lines(&self, temperature: f64, pressure: f64) -> Option<AtTemperature> {
        let known = |branch| self.known?.at_temperature(branch, temperature);
        let (bubble, dew) = (known(Branch::Bubble)?, known(Branch::Dew)?);
        let beside =
            pressure < dew.pressure * (1.0 - DOUBT) || pressure > bubble.pressure * (1.0 + DOUBT);
        beside.then_some(AtTemperature {
            bubble: Some(bubble),
            dew: Some(dew),
            retrograde: None,
        })
    }

    fn single(&self, temperature: f64, density: f64, dense: bool) -> EquilibriumState {
        let phase = SinglePhase::at(&self.fixed, temperature, density);
        let name = match self.line.envelope(self.mixture, self.z) {
            Ok(envelope) => {
                let hot = temperature > envelope.critical.temperature;
                let high = phase.pressure > envelope.critical.pressure;
                match (hot, high) {
                    (true, true) => Phase::Supercritical,
                    (false, true) => Phase::Liquid,
                    _ if dense && !hot => Phase::Liquid,
                    _ => Phase::Vapor,
                }
            }
            Err(_) if dense => Phase::Liquid,
            Err(_) => Phase::Vapor,
        };
        EquilibriumState::single(phase, name)
    }

    fn two(&self, split: &Split) -> EquilibriumState {
        let pair = &split.pair;
        let phase = |x: &MoleFractions, density| {
            SinglePhase::at(&self.mixture.at_composition(x), pair.temperature, density)
        };
        EquilibriumState {
            temperature: pair.temperature,
            pressure: pair.pressure,
            phases: Phases::Two {
                liquid: phase(&pair.liquid, pair.liquid_density),
                vapor: phase(&pair.vapor, pair.vapor_density),
                vapor_fraction: split.vapor_fraction,
            },
        }
    }

    /// The density of the liquid, or of a dense gas, by Newton's method from above: there the
    /// pressure is convex in density, and loops of the equation at lower densities are not met.
    fn compressed(&self, isotherm: &Isotherm<'_>, temperature: f64, pressure: f64) -> Result<f64> {
        let mut density = 1.1 * liquid_density(self.mixture, self.z, temperature);
        while isotherm.pressure(density) < pressure {
            density *= 1.05;
            if density > DENSEST * self.fixed.reducing_density {
                return Err(no_density());
            }
        }
        for _ in 0..MOST_STEPS {
            let (value, slope) = isotherm.pressure_slope(density);
            if slope <= 0.0 {
                break;
            }
            let step = ((value - pressure) / slope).clamp(-0.1, 0.1);
            density *= 1.0 - step;
            if step.abs() < 1e-9 {
                return Ok(density * (1.0 - (isotherm.pressure(density) - pressure) / slope));
            }
        }
        Err(no_density())
    }

    fn at_temperature_pressure(&self, temperature: f64, pressure: f64) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        let lines = match self.known_lines(temperature, pressure) {
            Some(lines) => lines,
            None => self.lines(temperature)?,
        };
        self.on_lines(
            &lines,
            &self.fixed.isotherm(temperature),
            temperature,
            pressure,
        )
    }

    /// The state at a temperature and pressure, the lines at that temperature being known.
    fn on_lines(
        &self,
        lines: &AtTemperature,
        isotherm: &Isotherm<'_>,
        temperature: f64,
        pressure: f64,
    ) -> Result<EquilibriumState> {
        self.check_pressure(pressure)?;
        let ideal = pressure / isotherm.rt;
        if let Some(dew) = lines.dew {
            if pressure <= dew.pressure {
                let high = dew.vapor_density * (1.0 + SLACK);
                let start = ideal * dew.vapor_density * isotherm.rt / dew.pressure;
                let root = density_between(isotherm, pressure, 0.2 * ideal, high, start)?;
                return Ok(self.single(temperature, root.density, false));
            }
            // the dense side: the liquid above the bubble point, or the gas above the upper dew
            let upper = match (lines.bubble, lines.retrograde) {
                (Some(bubble), _) => Some(bubble),
                (None, upper) => upper,
            };
            if let Some(upper) = upper {
                if pressure >= upper.pressure {
                    let density = self.compressed(isotherm, temperature, pressure)?;
                    return Ok(self.single(temperature, density, true));
                }
                let sought = Sought::TemperaturePressure(temperature, pressure);
                let first = Split {
                    pair: upper,
                    vapor_fraction: if lines.bubble.is_some() { 0.0 } else { 1.0 },
                };
                let last = Split {
                    pair: dew,
                    vapor_fraction: 1.0,
                };
                let weight =
                    (upper.pressure / pressure).ln() / (upper.pressure / dew.pressure).ln();
                return self
                    .split_between(sought, &first, &last, weight)
                    .map(|found| self.two(&found));
            }
        }
        let from = self.fixed.reducing_density;
        let high = highest_density(&self.fixed, isotherm, pressure, from).ok_or_else(no_density)?;
        let low = 0.2 * ideal.min(from);
        let root = density_between(isotherm, pressure, low, high, ideal)?;
        Ok(self.single(temperature, root.density, root.density > from))
    }

    /// A split between two known ones, from a point in proportion, else followed from the first.
    fn split_between(
        &self,
        sought: Sought,
        first: &Split,
        last: &Split,
        weight: f64,
    ) -> Result<Split> {
        for weight in [weight, 0.5, 0.2, 0.8] {
            let start = between(first, last, weight);
            if let Some(found) = split(self.mixture, self.z, sought, &start) {
                return Ok(found);
            }
        }
        // Follow the split in quality at the given temperature or pressure, then switch.
        let at = |quality: f64| match sought {
            Sought::TemperaturePressure(t, _) | Sought::TemperatureQuality(t, _) => {
                Sought::TemperatureQuality(t, quality)
            }
            Sought::PressureQuality(p, _) => Sought::PressureQuality(p, quality),
        };
        let mut here = *first;
        for k in 1..FOLLOW {
            let quality = k as f64 / FOLLOW as f64;
            let mut start = here;
            start.vapor_fraction = quality;
            let Some(next) = split(self.mixture, self.z, at(quality), &start) else {
                break;
            };
            if let Some(found) = split(self.mixture, self.z, sought, &next) {
                return Ok(found);
            }
            here = next;
        }
        Err(Error::NotConverged {
            question: "two phases of a blend",
            steps: FOLLOW,
            residual: f64::NAN,
        })
    }

    fn at_quality(&self, sought: Sought, quality: f64) -> Result<EquilibriumState> {
        if !(0.0..=1.0).contains(&quality) {
            return Err(self.out_of_range("quality", quality, (0.0, 1.0), ""));
        }
        let (bubble, dew) = self.ends(sought)?;
        let (first, last) = ends_as_splits(&bubble, &dew);
        if quality == 0.0 {
            return Ok(self.two(&first));
        }
        if quality == 1.0 {
            return Ok(self.two(&last));
        }
        self.split_between(sought, &first, &last, quality)
            .map(|found| self.two(&found))
    }

    fn ends(&self, sought: Sought) -> Result<(PhasePair, PhasePair)> {
        let (m, z) = (self.mixture, self.z);
        let end = |branch| match sought {
            Sought::TemperaturePressure(t, _) | Sought::TemperatureQuality(t, _) => {
                match self.known.and_then(|known| known.at_temperature(branch, t)) {
                    Some(pair) => Ok(pair),
                    None => self.line.at_temperature(m, z, branch, t),
                }
            }
            Sought::PressureQuality(p, _) => {
                match self.known.and_then(|known| known.at_pressure(branch, p)) {
                    Some(pair) => Ok(pair),
                    None => self.line.at_pressure(m, z, branch, p),
                }
            }
        };
        Ok((end(Branch::Bubble)?, end(Branch::Dew)?))
    }

    fn at_temperature_density(&self, temperature: f64, density: f64) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        if !(density > 0.0 && density.is_finite()) {
            return Err(self.out_of_range("density", density, (0.0, f64::INFINITY), "mol/m3"));
        }
        let lines = self.lines(temperature)?;
        let upper = lines
            .bubble
            .map(|bubble| (bubble, bubble.liquid_density))
            .or(lines.retrograde.map(|upper| (upper, upper.vapor_density)));
        if let (Some(dew), Some((upper, dense))) = (lines.dew, upper)
            && density > dew.vapor_density
            && density < dense
        {
            return self.on_split_isotherm(
                temperature,
                (dew.pressure, upper.pressure),
                density,
                Property::Density,
            );
        }
        let dense = upper.map_or(density > self.fixed.reducing_density, |(_, edge)| {
            density >= edge
        });
        let state = self.single(temperature, density, dense);
        self.check_pressure(state.pressure)?;
        Ok(state)
    }

    /// Inside two phases on an isotherm: by quality, above the critical temperature by pressure.
    fn on_split_isotherm(
        &self,
        temperature: f64,
        (low, high): (f64, f64),
        target: f64,
        property: Property,
    ) -> Result<EquilibriumState> {
        let lines = self.lines(temperature)?;
        if let (Some(bubble), Some(dew)) = (&lines.bubble, &lines.dew) {
            // the pressure says little next to an azeotrope
            let (first, last) = ends_as_splits(bubble, dew);
            let error = |state: &EquilibriumState| property.of(state) - target;
            let (l, v) = (error(&self.two(&first)), error(&self.two(&last)));
            let sought = |quality| Sought::TemperatureQuality(temperature, quality);
            return self.by_quality(sought, (&first, &last), (l, v), 0.5, error);
        }
        let isotherm = self.fixed.isotherm(temperature);
        let at = |log: f64| self.on_lines(&lines, &isotherm, temperature, log.exp());
        let error = |log: f64| Ok(property.of(&at(log)?) - target);
        let edge = 1e-13;
        let ends = (low.ln() + edge, high.ln() - edge);
        at(bracketed_root(error, ends.0, ends.1, TOLERANCE)?)
    }

    fn on_isotherm(
        &self,
        temperature: f64,
        target: f64,
        property: Property,
    ) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        let lines = self.lines(temperature)?;
        if let (Some(bubble), Some(dew)) = (&lines.bubble, &lines.dew) {
            let (first, last) = ends_as_splits(bubble, dew);
            let error = |state: &EquilibriumState| property.of(state) - target;
            let (l, v) = (error(&self.two(&first)), error(&self.two(&last)));
            if l * v < 0.0 {
                let sought = |quality| Sought::TemperatureQuality(temperature, quality);
                return self.by_quality(sought, (&first, &last), (l, v), l / (l - v), error);
            }
        }
        let isotherm = self.fixed.isotherm(temperature);
        let (low, high) = (1e-2_f64.ln(), self.limits.highest_pressure.ln());
        // a grid of the ends of one phase, that the search stays within one kind of state
        let mut grid = vec![low, high];
        for pair in [lines.bubble, lines.dew, lines.retrograde]
            .into_iter()
            .flatten()
        {
            grid.extend([pair.pressure.ln() - 1e-13, pair.pressure.ln() + 1e-13]);
        }
        grid.sort_by(f64::total_cmp);
        let at = |log: f64| self.on_lines(&lines, &isotherm, temperature, log.exp());
        let roots = roots_on(|log| Ok(property.of(&at(log)?) - target), &grid, TOLERANCE);
        roots
            .first()
            .map_or_else(|| Err(self.nothing()), |&root| at(root))
    }

    fn without_known(&self) -> Self {
        let (mixture, z) = (self.mixture, self.z);
        Self::new(mixture, z, self.line, self.limits, None)
    }

    /// Inside two phases, by the vapour's share of the mass; (l, v) are the errors at its ends.
    fn by_quality(
        &self,
        sought: impl Fn(f64) -> Sought,
        (first, last): (&Split, &Split),
        (l, v): (f64, f64),
        weight: f64,
        error: impl Fn(&EquilibriumState) -> f64,
    ) -> Result<EquilibriumState> {
        let mut near = between(first, last, weight);
        let mut at = |quality: f64| {
            let found = split(self.mixture, self.z, sought(quality), &near).map_or_else(
                || self.split_between(sought(quality), first, last, quality),
                Ok,
            )?;
            near = found;
            Ok(found)
        };
        let quality = bracketed_root(
            |quality| match quality {
                0.0 => Ok(l),
                1.0 => Ok(v),
                inside => Ok(error(&self.two(&at(inside)?))),
            },
            0.0,
            1.0,
            1e-13,
        )?;
        at(quality).map(|found| self.two(&found))
    }

    fn on_isobar(
        &self,
        pressure: f64,
        target: f64,
        property: Property,
    ) -> Result<EquilibriumState> {
        self.check_pressure(pressure)?;
        let ends = self.ends(Sought::PressureQuality(pressure, 0.0));
        let error = |state: &EquilibriumState| property.of(state) - target;
        if let Ok((bubble, dew)) = &ends {
            let (first, last) = ends_as_splits(bubble, dew);
            let (liquid, vapor) = (self.two(&first), self.two(&last));
            let met = |state| property.is_met(state, target);
            if self.known.is_some() && (met(&liquid) || met(&vapor)) {
                // so near to a line that its own error decides
                return self.without_known().on_isobar(pressure, target, property);
            }
            let (l, v) = (error(&liquid), error(&vapor));
            if l == 0.0 {
                return Ok(self.two(&first));
            }
            if v == 0.0 {
                return Ok(self.two(&last));
            }
            if l * v < 0.0 {
                let sought = |quality| Sought::PressureQuality(pressure, quality);
                return self.by_quality(sought, (&first, &last), (l, v), l / (l - v), error);
            }
            // one phase beside the line: the density lies beyond that of the line
            let rising = property != Property::Density;
            let cold = (l > 0.0) == rising;
            return if cold {
                self.beside(
                    error,
                    (self.limits.coldest, bubble.temperature),
                    |t, iso| {
                        self.compressed(iso, t, pressure)
                            .map(|density| self.single(t, density, true))
                    },
                )
            } else {
                self.beside(error, (dew.temperature, self.limits.hottest), |t, iso| {
                    let ideal = pressure / iso.rt;
                    let high = dew.vapor_density * (1.0 + SLACK);
                    density_between(iso, pressure, 0.2 * ideal, high, ideal)
                        .map(|root| self.single(t, root.density, false))
                })
            };
        }
        let (low, high) = (self.limits.coldest, self.limits.hottest);
        let grid: Vec<f64> = (0..=48)
            .map(|k| low + (high - low) * f64::from(k) / 48.0)
            .collect();
        let at = |temperature: f64| self.at_temperature_pressure(temperature, pressure);
        let roots = roots_on(|temperature| Ok(error(&at(temperature)?)), &grid, TOLERANCE);
        roots
            .first()
            .map_or_else(|| Err(self.nothing()), |&root| at(root))
    }

    fn beside(
        &self,
        error: impl Fn(&EquilibriumState) -> f64,
        (low, high): (f64, f64),
        at: impl Fn(f64, &Isotherm<'_>) -> Result<EquilibriumState>,
    ) -> Result<EquilibriumState> {
        let at = |temperature: f64| at(temperature, &self.fixed.isotherm(temperature));
        let root = bracketed_root(
            |temperature| Ok(error(&at(temperature)?)),
            low,
            high,
            TOLERANCE,
        )
        .map_err(|_| self.nothing())?;
        at(root)
    }

    fn at_enthalpy_entropy(&self, enthalpy: f64, entropy: f64) -> Result<EquilibriumState> {
        let at = |log: f64| self.on_isobar(log.exp(), enthalpy, Property::Enthalpy);
        let (low, high) = (1e2_f64.ln(), self.limits.highest_pressure.ln() - 1e-12);
        let grid: Vec<f64> = (0..=60)
            .map(|k| low + (high - low) * f64::from(k) / 60.0)
            .collect();
        let missing = |log: f64| -> Result<f64> { Ok(at(log)?.entropy() - entropy) };
        // ds/dp = -v/T: there is one root, and where neighbours enclose it the rest is not asked
        let mut before: Option<(f64, f64)> = None;
        for &log in &grid {
            let here = missing(log).ok().map(|value| (log, value));
            if let (Some((low, above)), Some((high, below))) = (before, here)
                && above >= 0.0
                && below <= 0.0
            {
                return at(bracketed_root(missing, low, high, TOLERANCE)?);
            }
            before = here;
        }
        // next to an edge of what is answered
        let roots = roots_on(missing, &grid, TOLERANCE);
        roots
            .first()
            .map_or_else(|| Err(self.nothing()), |&root| at(root))
    }

    fn nothing(&self) -> Error {
        Error::NoState {
            reason: "nothing within the range of this blend has these two properties".into(),
            hint: format!(
                "it is answered from {:.2} to {} K and up to {} Pa",
                self.limits.coldest, self.limits.hottest, self.limits.highest_pressure
            ),
        }
    }
}

fn no_density() -> Error {
    Error::NotConverged {
        question: "density at given temperature and pressure",
        steps: 0,
        residual: f64::NAN,
    }
}

fn ends_as_splits(bubble: &PhasePair, dew: &PhasePair) -> (Split, Split) {
    (
        Split {
            pair: *bubble,
            vapor_fraction: 0.0,
        },
        Split {
            pair: *dew,
            vapor_fraction: 1.0,
        },
    )
}
