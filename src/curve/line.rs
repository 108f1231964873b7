//! What a curve is made from: one line, solved from the equation.

use crate::equilibrium::FAR_FROM_CRITICAL;
use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
use crate::equilibrium::line::BlendLine;
use crate::equilibrium::pure::{Coexistence, saturation_at_pressure, saturation_at_temperature};
use crate::helmholtz::{FixedComposition, Mixture, MoleFractions};
use crate::state::SinglePhase;

/// How near to the end of a line a curve is tried, in parts of the temperature.
const END: f64 = 3e-5;

/// One bubble or dew line.
#[allow(clippy::large_enum_variant)] // made only where a stretch is built, never kept
pub enum Line<'a> {
    /// The saturation line of a pure refrigerant.
    Pure(FixedComposition<'a>),
    /// The bubble or the dew line of a blend.
    Blend {
        /// The model.
        mixture: &'a Mixture,
        /// The blend's composition.
        z: &'a MoleFractions,
        /// The rules for its lines.
        line: &'a BlendLine,
        /// Which line.
        branch: Branch,
        /// The temperatures in which the blend is answered, K.
        limits: (f64, f64),
    },
}

impl Line<'_> {
    pub(super) fn branch(&self) -> Branch {
        match self {
            Line::Pure(_) => Branch::Bubble,
            Line::Blend { branch, .. } => *branch,
        }
    }

    pub(super) fn composition(&self) -> MoleFractions {
        match self {
            Line::Pure(fixed) => fixed.x,
            Line::Blend { z, .. } => **z,
        }
    }

    /// Temperatures beyond which there is no line, K.
    pub(super) fn limits(&self) -> (f64, f64) {
        match self {
            Line::Pure(fixed) => {
                let equation = &fixed.mixture.components()[0];
                let low = equation.record.range.temperature_min_k;
                (low, equation.critical.temperature * (1.0 - END))
            }
            Line::Blend { limits, .. } => *limits,
        }
    }

    /// The part of a stretch of temperatures that may be covered, K.
    ///
    /// Where a blend's liquid parts, the lines have kinks and are left to the solver.
    pub(super) fn within(&self, low: f64, high: f64) -> (f64, f64) {
        let limits = self.limits();
        let (low, high) = (low.max(limits.0), high.min(limits.1));
        match self {
            Line::Pure(_) => (low, high),
            Line::Blend {
                mixture, z, line, ..
            } => {
                let low = line
                    .splits_below(mixture, z)
                    .map_or(low, |edge| low.max(edge));
                (low, self.end(high).map_or(high, |end| high.min(end)))
            }
        }
    }

    /// A temperature below which the line neither ends nor turns, K.
    pub(super) fn safe(&self) -> f64 {
        let reducing = match self {
            Line::Pure(fixed) => fixed.mixture.components()[0].critical.temperature,
            Line::Blend { mixture, z, .. } => mixture.at_composition(z).reducing_temperature,
        };
        FAR_FROM_CRITICAL * reducing
    }

    /// Where the line ends, K; `None` where that lies above a temperature that is safe.
    pub(super) fn end(&self, high: f64) -> Option<f64> {
        let Line::Blend {
            mixture,
            z,
            line,
            branch,
            ..
        } = self
        else {
            return Some(self.limits().1);
        };
        if high < self.safe() {
            return None;
        }
        let Ok(envelope) = line.envelope(mixture, z) else {
            return Some(self.safe());
        };
        let end = match branch {
            Branch::Bubble => envelope.critical.temperature,
            Branch::Dew => envelope.cricondentherm.temperature,
        };
        Some(end * (1.0 - END))
    }

    /// Temperatures, K, that a piece should not bridge: where the pressure turns, and where
    /// another line ends.
    pub(super) fn breaks(&self, high: f64) -> Vec<f64> {
        match (self, self.end(high)) {
            (
                Line::Blend {
                    mixture, z, line, ..
                },
                Some(_),
            ) => {
                let envelope = line.envelope(mixture, z);
                envelope.map_or_else(
                    |_| Vec::new(),
                    |envelope| {
                        vec![
                            envelope.cricondenbar.temperature,
                            envelope.critical.temperature,
                        ]
                    },
                )
            }
            _ => Vec::new(),
        }
    }

    /// The point at a temperature in K, held against its rivals; of bubble points those alone that take no
    /// search, of which a curve would make hundreds: over two liquids the line bends. A dew point that would
    /// take one comes from a point near it, if that is stable.
    pub(super) fn exact(&self, temperature: f64, near: Option<&PhasePair>) -> Option<PhasePair> {
        match self {
            Line::Pure(fixed) => {
                let found = saturation_at_temperature(fixed, temperature, None).ok()?;
                Some(pair(fixed, &found))
            }
            Line::Blend {
                mixture,
                z,
                line,
                branch,
                ..
            } => match branch {
                Branch::Bubble => line.bubble_at_once(mixture, z, temperature),
                Branch::Dew => line
                    .at_temperature_near(mixture, z, *branch, temperature, near)
                    .ok(),
            },
        }
    }

    /// The same point, whatever else may be more stable there: `None` where that has to be known.
    pub(super) fn on_envelope(&self, temperature: f64) -> Option<PhasePair> {
        match self {
            Line::Pure(_) => None,
            Line::Blend {
                mixture,
                z,
                line,
                branch,
                ..
            } => line.on_envelope(mixture, z, *branch, temperature),
        }
    }

    /// The same point from a neighbour.
    pub(super) fn beside_neighbor(
        &self,
        temperature: f64,
        neighbour: &PhasePair,
    ) -> Option<PhasePair> {
        match self {
            Line::Pure(fixed) => {
                let start = (neighbour.liquid_density, neighbour.vapor_density);
                let found = saturation_at_temperature(fixed, temperature, Some(start)).ok()?;
                Some(pair(fixed, &found))
            }
            Line::Blend {
                mixture, z, branch, ..
            } => bubble_dew::near_at_temperature(mixture, z, *branch, temperature, neighbour),
        }
    }

    /// Liquid and vapour of a point with their properties.
    pub(super) fn phases(&self, pair: &PhasePair) -> [SinglePhase; 2] {
        let mixture = match self {
            Line::Pure(fixed) => fixed.mixture,
            Line::Blend { mixture, .. } => mixture,
        };
        let sides = [
            (&pair.liquid, pair.liquid_density),
            (&pair.vapor, pair.vapor_density),
        ];
        sides.map(|(x, density)| {
            SinglePhase::at_density(&mixture.at_composition(x), pair.temperature, density)
        })
    }

    /// The point at a pressure in Pa, from nothing else, by all the rules for the line.
    pub(super) fn exact_at_pressure(&self, pressure: f64) -> Option<PhasePair> {
        match self {
            Line::Pure(fixed) => {
                let found = saturation_at_pressure(fixed, pressure, None).ok()?;
                Some(pair(fixed, &found))
            }
            Line::Blend {
                mixture,
                z,
                line,
                branch,
                limits,
            } => {
                let found = line.at_pressure(mixture, z, *branch, pressure).ok()?;
                (found.temperature >= limits.0).then_some(found)
            }
        }
    }
}

/// The phases of a pure refrigerant as those of a blend.
fn pair(fixed: &FixedComposition<'_>, found: &Coexistence) -> PhasePair {
    PhasePair {
        temperature: found.temperature,
        pressure: found.pressure,
        liquid: fixed.x,
        vapor: fixed.x,
        liquid_density: found.liquid_density,
        vapor_density: found.vapor_density,
        liquids: None,
        steps: found.steps,
        residual: found.residual,
    }
}
