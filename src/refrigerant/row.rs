//! A state as plain numbers.

use super::State;
use crate::Phase;
use crate::units::{Pressure, Temperature};

/// A state as a row of plain numbers, without the heap.
///
/// # Units
/// SI by mass as in [`PhaseProperties`](super::PhaseProperties). What a state does not have is
/// NaN: cp, cv and the speed of sound between qualities 0 and 1, the quality of one phase, and
/// everything of a row without an answer, whose phase is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StateRow {
    /// Which phase it is.
    pub phase: Option<Phase>,
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure.
    pub pressure: Pressure,
    /// Density, kg/m3.
    pub density: f64,
    /// Enthalpy, J/kg.
    pub enthalpy: f64,
    /// Entropy, J/(kg K).
    pub entropy: f64,
    /// Internal energy, J/kg.
    pub internal_energy: f64,
    /// Isobaric heat capacity, J/(kg K).
    pub cp: f64,
    /// Isochoric heat capacity, J/(kg K).
    pub cv: f64,
    /// Speed of sound, m/s.
    pub speed_of_sound: f64,
    /// Vapour's share of the mass in two phases.
    pub quality: f64,
}

impl StateRow {
    /// A row without an answer: NaN throughout.
    pub const NONE: StateRow = StateRow {
        phase: None,
        temperature: Temperature::kelvin(f64::NAN),
        pressure: Pressure::pascal(f64::NAN),
        density: f64::NAN,
        enthalpy: f64::NAN,
        entropy: f64::NAN,
        internal_energy: f64::NAN,
        cp: f64::NAN,
        cv: f64::NAN,
        speed_of_sound: f64::NAN,
        quality: f64::NAN,
    };
}

impl Default for StateRow {
    fn default() -> Self {
        Self::NONE
    }
}

impl From<&State> for StateRow {
    fn from(state: &State) -> Self {
        let whole = &state.properties;
        Self {
            phase: Some(state.phase),
            temperature: whole.temperature,
            pressure: whole.pressure,
            density: whole.density,
            enthalpy: whole.enthalpy,
            entropy: whole.entropy,
            internal_energy: whole.internal_energy,
            cp: whole.cp.unwrap_or(f64::NAN),
            cv: whole.cv.unwrap_or(f64::NAN),
            speed_of_sound: whole.speed_of_sound.unwrap_or(f64::NAN),
            quality: state.quality.unwrap_or(f64::NAN),
        }
    }
}
