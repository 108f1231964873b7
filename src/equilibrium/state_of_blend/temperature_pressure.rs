//! By temperature and pressure: the lines at the temperature say which phases there are.

use super::{BlendSolver, SLACK};
use crate::equilibrium::EquilibriumState;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::line::AtTemperature;
use crate::equilibrium::split::{Sought, Split};
use crate::equilibrium::stability::liquid_density;
use crate::error::{Error, Result};
use crate::helmholtz::Isotherm;
use crate::state::{density_between, highest_density};

/// Relative distance from a known line within which it is solved for.
const DOUBT: f64 = 1e-6;
/// Steps before a density is given up.
const MOST_STEPS: usize = 60;
/// Densest state that is sought, in reducing densities.
const DENSEST: f64 = 6.0;

impl BlendSolver<'_> {
    pub(super) fn at_temperature_pressure(
        &self,
        temperature: f64,
        pressure: f64,
    ) -> Result<EquilibriumState> {
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
    pub(super) fn on_lines(
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

    /// The density of the liquid, or of a dense gas, by Newton's method from above: there the
    /// pressure is convex in density, and loops of the equation at lower densities are not met.
    pub(super) fn compressed(
        &self,
        isotherm: &Isotherm<'_>,
        temperature: f64,
        pressure: f64,
    ) -> Result<f64> {
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
}

fn no_density() -> Error {
    Error::NotConverged {
        question: "density at given temperature and pressure",
        steps: 0,
        residual: f64::NAN,
    }
}
