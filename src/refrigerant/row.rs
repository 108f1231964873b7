//! A state as plain numbers.

use super::State;
use crate::Phase;
use crate::state::SinglePhase;
use crate::units::{Pressure, Temperature};

/// A state as a row of plain numbers, without the heap.
///
/// # Units
/// SI by mass as in [`PhaseProperties`](super::PhaseProperties). What a state does not have is
/// NaN: cp, cv, the speed of sound and what follows it between qualities 0 and 1, the quality of
/// one phase, and everything of a row without an answer, whose phase is `None`.
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
    /// Compressibility factor p/(rho R T).
    pub compressibility_factor: f64,
    /// Joule-Thomson coefficient, K/Pa.
    pub joule_thomson: f64,
    /// -(dv/dp)_T / v, 1/Pa.
    pub isothermal_compressibility: f64,
    /// (dv/dT)_p / v, 1/K.
    pub thermal_expansion: f64,
    /// (dp/drho)_T, Pa m3/kg.
    pub pressure_by_density: f64,
    /// (dp/dT)_rho, Pa/K.
    pub pressure_by_temperature: f64,
    /// -(dln p/dln v)_s = rho w^2 / p.
    pub isentropic_exponent: f64,
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
        compressibility_factor: f64::NAN,
        joule_thomson: f64::NAN,
        isothermal_compressibility: f64::NAN,
        thermal_expansion: f64::NAN,
        pressure_by_density: f64::NAN,
        pressure_by_temperature: f64::NAN,
        isentropic_exponent: f64::NAN,
        quality: f64::NAN,
    };
}

impl Default for StateRow {
    fn default() -> Self {
        Self::NONE
    }
}

impl StateRow {
    /// Fills in what one phase has and two together have not.
    pub(super) fn with(mut self, phase: &SinglePhase) -> Self {
        let mass = phase.molar_mass;
        self.cp = phase.cp / mass;
        self.cv = phase.cv / mass;
        self.speed_of_sound = phase.speed_of_sound;
        self.compressibility_factor = phase.compressibility_factor;
        self.joule_thomson = phase.joule_thomson;
        let stiffness = phase.density * phase.pressure_by_density;
        self.isothermal_compressibility = 1.0 / stiffness;
        self.thermal_expansion = phase.pressure_by_temperature / stiffness;
        self.pressure_by_density = phase.pressure_by_density / mass;
        self.pressure_by_temperature = phase.pressure_by_temperature;
        self.isentropic_exponent =
            self.density * phase.speed_of_sound.powi(2) / self.pressure.in_pascal();
        self
    }
}

impl From<&State> for StateRow {
    fn from(state: &State) -> Self {
        let whole = &state.properties;
        let or_nan = |value: Option<f64>| value.unwrap_or(f64::NAN);
        Self {
            phase: Some(state.phase),
            temperature: whole.temperature,
            pressure: whole.pressure,
            density: whole.density,
            enthalpy: whole.enthalpy,
            entropy: whole.entropy,
            internal_energy: whole.internal_energy,
            cp: or_nan(whole.cp),
            cv: or_nan(whole.cv),
            speed_of_sound: or_nan(whole.speed_of_sound),
            compressibility_factor: or_nan(whole.compressibility_factor),
            joule_thomson: or_nan(whole.joule_thomson),
            isothermal_compressibility: or_nan(whole.derived.isothermal_compressibility),
            thermal_expansion: or_nan(whole.derived.thermal_expansion),
            pressure_by_density: or_nan(whole.derived.pressure_by_density),
            pressure_by_temperature: or_nan(whole.derived.pressure_by_temperature),
            isentropic_exponent: or_nan(whole.derived.isentropic_exponent),
            quality: or_nan(state.quality),
        }
    }
}
