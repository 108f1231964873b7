//! The reference states of enthalpy and entropy, and which of them a refrigerant has.

use crate::units::{Pressure, Temperature};

/// The reference state that enthalpy and entropy are relative to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReferenceState {
    /// The first of iir, boiling-point and ideal-gas that the refrigerant has.
    Usual,
    /// 200 kJ/kg and 1 kJ/(kg K) in the saturated liquid (a blend's bubble point) at 0 °C.
    Iir,
    /// Both zero in the saturated liquid at -40 °C.
    Ashrae,
    /// Both zero in the saturated liquid at 101 325 Pa.
    BoilingPoint,
    /// Both zero as an ideal gas at 298.15 K and 101 325 Pa, each component by itself.
    IdealGas,
    /// As the equation's paper has it; pure refrigerants only.
    Published,
}

/// Temperature of the iir zero.
pub(super) const IIR_TEMPERATURE: Temperature = Temperature::kelvin(273.15);
/// Temperature of the ashrae zero.
pub(super) const ASHRAE_TEMPERATURE: Temperature = Temperature::kelvin(233.15);
/// Pressure of the boiling-point zero.
pub(super) const BOILING_PRESSURE: Pressure = Pressure::ATMOSPHERE;

impl ReferenceState {
    /// The reference state's name, as it is asked for.
    pub fn name(self) -> &'static str {
        match self {
            ReferenceState::Usual => "usual",
            ReferenceState::Iir => "iir",
            ReferenceState::Ashrae => "ashrae",
            ReferenceState::BoilingPoint => "boiling-point",
            ReferenceState::IdealGas => "ideal-gas",
            ReferenceState::Published => "published",
        }
    }

    pub(super) fn index(self) -> usize {
        match self {
            ReferenceState::Usual => 0,
            ReferenceState::Iir => 1,
            ReferenceState::Ashrae => 2,
            ReferenceState::BoilingPoint => 3,
            ReferenceState::IdealGas => 4,
            ReferenceState::Published => 5,
        }
    }
}

/// What is added to the engine's enthalpy and entropy, by mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Shift {
    /// The zero that it stands for.
    pub(super) zero: ReferenceState,
    /// J/kg.
    pub(super) enthalpy: f64,
    /// J/(kg K).
    pub(super) entropy: f64,
}
