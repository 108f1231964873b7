//! By temperature and pressure: the lines at the temperature say which phases there are.

use std::mem;

use super::{BlendSolver, SLACK};
use crate::equilibrium::EquilibriumState;
use crate::equilibrium::Phases;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::flash::{self, Found};
use crate::equilibrium::line::AtTemperature;
use crate::equilibrium::one_phase::{
    self, gas_over_liquids, lacks_a_liquid, no_density_of_blend, no_liquid, not_all_liquids,
    would_freeze_out,
};
use crate::equilibrium::split::{Fixed, Sought, Split};
use crate::equilibrium::stability::is_unstable;
use crate::equilibrium::three_phases::ThreePhases;
use crate::error::{Error, Result, reasons};
use crate::helmholtz::Isotherm;
use crate::state::{density_between, highest_density};

/// Places at which phases are sought before a state is given up: of 5,700 states of random blends by two
/// of their properties three took more than 200, and 605 the one that took most.
const MOST_SOUGHT: usize = 1000;
/// Relative distance from a known line within which it is solved for.
const DOUBT: f64 = 1e-6;

impl BlendSolver<'_> {
    pub(super) fn at_temperature_pressure(
        &self,
        temperature: f64,
        pressure: f64,
    ) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        let lines = match self.known_lines(temperature, pressure) {
            Some(lines) => lines,
            None => match self.lines(temperature) {
                Ok(lines) => lines,
                Err(_) => return self.by_stability(temperature, pressure),
            },
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
        if lines.lost.is_some() {
            return self.by_stability(temperature, pressure);
        }
        let ideal = pressure / isotherm.rt;
        if let Some(dew) = lines.dew {
            if pressure <= dew.pressure {
                let high = dew.vapor_density * (1.0 + SLACK);
                let start = ideal * dew.vapor_density * isotherm.rt / dew.pressure;
                let root = density_between(isotherm, pressure, 0.2 * ideal, high, start)?;
                return Ok(self.single(temperature, root.density, false));
            }
            // the dense side: the liquid above the bubble point, or the gas above the upper dew
            if let Some(&upper) = lines.upper() {
                if pressure >= upper.pressure {
                    // over two liquids the liquid above is mostly two as well
                    let one = || self.compressed(isotherm, temperature, pressure).ok();
                    return match one().filter(|_| upper.liquids.is_none()) {
                        Some(density) => Ok(self.single(temperature, density, true)),
                        None => self.by_stability(temperature, pressure),
                    };
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
                // Between lines far apart the proportion may be too far off to settle.
                return match self.split_between(
                    (sought, Fixed::Temperature(temperature)),
                    &first,
                    &last,
                    weight,
                ) {
                    Ok(found) => Ok(self.two(&found)),
                    Err(_) => self.by_stability(temperature, pressure),
                };
            }
        }
        let from = self.fixed.reducing_density;
        let high = highest_density(&self.fixed, isotherm, pressure, from)
            .ok_or_else(|| no_density_of_blend(pressure))?;
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
            ..AtTemperature::default()
        })
    }

    /// The phases from stability alone, where a line was not found: what is missing is no phase.
    pub(super) fn by_stability(&self, temperature: f64, pressure: f64) -> Result<EquilibriumState> {
        let place = (temperature.to_bits(), pressure.to_bits());
        let kept = self.kept.borrow().get(&place).cloned();
        if let Some(kept) = kept {
            return kept;
        }
        self.check_pressure(pressure)?;
        self.sought.set(self.sought.get() + 1);
        if self.is_given_up() {
            return Err(Self::no_two_phases());
        }
        let near = self.beside_the_last(temperature, pressure);
        if let Some(found) = near.filter(|_| !self.proves.get()) {
            return self.of_phases(temperature, pressure, found);
        }
        let found = near
            .or_else(|| flash::phases(self.mixture, self.z, temperature, pressure))
            .ok_or_else(|| no_density_of_blend(pressure))
            .and_then(|found| self.of_phases(temperature, pressure, found));
        self.kept.borrow_mut().insert(place, found.clone());
        found
    }

    /// The phases from the last ones.
    fn beside_the_last(&self, temperature: f64, pressure: f64) -> Option<Found> {
        let (mixture, z, proves) = (self.mixture, self.z, self.proves.get());
        let place = (temperature, pressure);
        let mut all = self.near.get().into_iter().flatten();
        all.find_map(|near| match near {
            Found::Two(near) | Found::TwoLiquids(near) => {
                flash::two_near(mixture, z, place, &near, proves)
            }
            Found::Three(near) => {
                ThreePhases::of(mixture, z, place, &near, proves).map(Found::Three)
            }
            _ => None,
        })
    }

    /// Remembers phases, and those of another kind that were found before.
    fn remember(&self, found: Found) {
        let [last, before] = self.near.get();
        let is_alike = |last: &Found| mem::discriminant(last) == mem::discriminant(&found);
        let other = last.filter(|last| !is_alike(last)).or(before);
        self.near.set([Some(found), other]);
    }

    /// The state of phases at a temperature and pressure.
    fn of_phases(&self, temperature: f64, pressure: f64, found: Found) -> Result<EquilibriumState> {
        match found {
            Found::One(density)
                if would_freeze_out(self.mixture, self.z, (temperature, pressure), density) =>
            {
                Err(no_liquid())
            }
            Found::One(density) => {
                let dense = density > self.fixed.reducing_density;
                Ok(self.single(temperature, density, dense))
            }
            Found::Two(split) => {
                self.remember(found);
                Ok(self.two(&split))
            }
            Found::TwoLiquids(split) => {
                self.remember(found);
                Ok(self.liquids(&split))
            }
            Found::Three(three) => {
                self.remember(found);
                Ok(self.three(&three))
            }
            Found::TwoOfThree(split) => Ok(EquilibriumState {
                parted: true,
                ..self.two(&split)
            }),
            Found::Liquids(None, _) => Err(not_all_liquids(pressure)),
            Found::Liquids(Some(density), _) => Ok(EquilibriumState {
                parted: true,
                ..self.single(temperature, density, true)
            }),
            Found::Unstable(..) if lacks_a_liquid(self.mixture, self.z, temperature, pressure) => {
                Err(no_liquid())
            }
            Found::GasOverLiquids => Err(gas_over_liquids(pressure)),
            Found::Unstable(..) => Err(Self::no_two_phases()),
        }
    }

    pub(super) fn is_given_up(&self) -> bool {
        self.sought.get() > MOST_SOUGHT
    }

    pub(super) fn no_two_phases() -> Error {
        Error::NotConverged {
            question: reasons::QUESTION_TWO_PHASES,
            steps: 0,
            residual: f64::NAN,
        }
    }

    /// The state itself where its phases are stable, else what is stable at its temperature and
    /// pressure: other phases, or the same marked as those of a liquid that parts.
    pub(super) fn held_against_rivals(&self, state: EquilibriumState) -> Result<EquilibriumState> {
        let tested = match &state.phases {
            Phases::Single(phase, _) => phase,
            Phases::Liquids { liquids, .. } => &liquids[1],
            Phases::Two { vapor, .. } | Phases::Three { vapor, .. } => vapor,
        };
        let (temperature, pressure) = (state.temperature, state.pressure);
        let (x, density) = (&tested.x, tested.density);
        if !is_unstable(self.mixture, temperature, x, density, pressure) {
            return Ok(state);
        }
        let other = self.by_stability(temperature, pressure)?;
        let parted = other.parted;
        // of two liquids the one asked for, with its mark
        let same = other.phase() == state.phase();
        let answer = if parted && same { state } else { other };
        Ok(EquilibriumState { parted, ..answer })
    }

    /// The density of the liquid, or of a dense gas.
    pub(super) fn compressed(
        &self,
        isotherm: &Isotherm<'_>,
        temperature: f64,
        pressure: f64,
    ) -> Result<f64> {
        one_phase::compressed(self.mixture, self.z, isotherm, temperature, pressure)
            .ok_or_else(|| no_density_of_blend(pressure))
    }
}
