//! What a refrigerant answers with: SI by mass, enthalpy and entropy from a named zero.

use crate::Warning;
use serde::Serialize;

use crate::equilibrium::Phase;
use crate::units::{Pressure, Temperature};

use super::reference_state::ReferenceState;

/// Temperature, pressure and density of a critical point.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CriticalPoint {
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    /// Density, kg/m3.
    #[serde(rename = "density_kg_m3")]
    pub density: f64,
}

/// Where a refrigerant is answered.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Limits {
    /// Lowest temperature.
    #[serde(rename = "temperature_min_K")]
    pub temperature_min: Temperature,
    /// Highest temperature.
    #[serde(rename = "temperature_max_K")]
    pub temperature_max: Temperature,
    /// Highest pressure.
    #[serde(rename = "pressure_max_Pa")]
    pub pressure_max: Pressure,
}

/// Properties of one phase, or of two phases together.
///
/// # Units
/// SI by mass: kg/m3, J/kg, J/(kg K), m/s, K/Pa. What has no meaning for two phases together is
/// `None` there.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhaseProperties {
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    /// Density, kg/m3.
    #[serde(rename = "density_kg_m3")]
    pub density: f64,
    /// Enthalpy, J/kg, from the answer's reference state.
    #[serde(rename = "enthalpy_J_kg")]
    pub enthalpy: f64,
    /// Entropy, J/(kg K), from the answer's reference state.
    #[serde(rename = "entropy_J_kg_K")]
    pub entropy: f64,
    /// Internal energy h - p/rho, J/kg.
    #[serde(rename = "internal_energy_J_kg")]
    pub internal_energy: f64,
    /// Isobaric heat capacity, J/(kg K).
    #[serde(rename = "cp_J_kg_K")]
    pub cp: Option<f64>,
    /// Isochoric heat capacity, J/(kg K).
    #[serde(rename = "cv_J_kg_K")]
    pub cv: Option<f64>,
    /// Speed of sound, m/s.
    #[serde(rename = "speed_of_sound_m_s")]
    pub speed_of_sound: Option<f64>,
    /// Compressibility factor p/(rho R T).
    pub compressibility_factor: Option<f64>,
    /// Joule-Thomson coefficient, K/Pa.
    #[serde(rename = "joule_thomson_K_Pa")]
    pub joule_thomson: Option<f64>,
    /// Fugacity coefficients in the order of the components; empty for two phases together.
    pub fugacity_coefficients: Vec<f64>,
    /// Mole fractions in the order of the components.
    pub mole_fractions: Vec<f64>,
    /// Mass fractions in the order of the components.
    pub mass_fractions: Vec<f64>,
}

impl PhaseProperties {
    /// Fugacity of a component, mole fraction x fugacity coefficient x pressure; of one phase.
    pub fn fugacity(&self, component: usize) -> Option<Pressure> {
        let fraction = self.mole_fractions.get(component)?;
        let coefficient = self.fugacity_coefficients.get(component)?;
        let pascal = fraction * coefficient * self.pressure.in_pascal();
        Some(Pressure::pascal(pascal))
    }
}

/// A bubble or dew point: a liquid and a vapor in equilibrium.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SaturationPoint {
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    /// The liquid.
    pub liquid: PhaseProperties,
    /// The vapor.
    pub vapor: PhaseProperties,
    /// Enthalpy of the vapor minus that of the liquid at this point, J/kg.
    #[serde(rename = "latent_heat_J_kg")]
    pub latent_heat: f64,
}

/// A point of a line without the properties of its phases.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure.
    pub pressure: Pressure,
    /// Density of the liquid, kg/m3.
    pub liquid_density: f64,
    /// Density of the vapor, kg/m3.
    pub vapor_density: f64,
}

/// Bubble and dew at one temperature or one pressure; a pure refrigerant has both, equal.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Saturation {
    /// The bubble point, where there is one.
    pub bubble: Option<SaturationPoint>,
    /// The dew point, where there is one; of two at one temperature, that of lower pressure.
    pub dew: Option<SaturationPoint>,
    /// The second dew point, of higher pressure, between the critical temperature and the highest
    /// temperature of two phases.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub retrograde: Option<SaturationPoint>,
    /// Dew minus bubble temperature, K, at a given pressure.
    #[serde(rename = "glide_K")]
    pub glide: Option<f64>,
    /// The reference state of enthalpy and entropy used.
    #[serde(rename = "reference")]
    pub zero: ReferenceState,
    /// What to know about this answer.
    #[serde(skip)]
    pub warnings: Vec<Warning>,
}

/// A state of one or two phases.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct State {
    /// Molar mass, kg/mol.
    #[serde(rename = "molar_mass_kg_mol")]
    pub molar_mass: f64,
    /// Which phase it is.
    pub phase: Phase,
    /// Properties of the whole.
    #[serde(flatten)]
    pub properties: PhaseProperties,
    /// Vapor's share of the mass in two phases.
    pub quality: Option<f64>,
    /// The liquid in two phases.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liquid: Option<PhaseProperties>,
    /// The vapor in two phases.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vapor: Option<PhaseProperties>,
    /// The reference state of enthalpy and entropy used.
    #[serde(rename = "reference")]
    pub zero: ReferenceState,
    /// What to know about this answer.
    #[serde(skip)]
    pub warnings: Vec<Warning>,
}
