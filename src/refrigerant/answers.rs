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

/// What follows from the slopes of one phase's pressure; `None` for two phases together.
///
/// # Example
/// ```
/// use zeotrope::{Given, ReferenceState, Refrigerant, units::{Pressure, Temperature}};
/// let nitrogen = Refrigerant::named("R-728")?;
/// // nearly an ideal gas: 1/p, 1/T, and the ratio of its heat capacities, 7/5
/// let given = Given::TemperaturePressure(Temperature::kelvin(300.0), Pressure::bar(1.0));
/// let derived = nitrogen.state(given, ReferenceState::IdealGas)?[0].properties.derived;
/// assert!((derived.isothermal_compressibility.unwrap() * 1e5 - 1.0).abs() < 1e-3);
/// assert!((derived.thermal_expansion.unwrap() * 300.0 - 1.0).abs() < 3e-3);
/// assert!((derived.isentropic_exponent.unwrap() - 1.4).abs() < 3e-3);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Derived {
    /// -(dv/dp)_T / v, 1/Pa.
    #[serde(rename = "isothermal_compressibility_1_Pa")]
    pub isothermal_compressibility: Option<f64>,
    /// (dv/dT)_p / v, 1/K.
    #[serde(rename = "thermal_expansion_1_K")]
    pub thermal_expansion: Option<f64>,
    /// (dp/drho)_T, Pa m3/kg.
    #[serde(rename = "dp_drho_T_Pa_m3_kg")]
    pub pressure_by_density: Option<f64>,
    /// (dp/dT)_rho, Pa/K.
    #[serde(rename = "dp_dT_rho_Pa_K")]
    pub pressure_by_temperature: Option<f64>,
    /// -(dln p/dln v)_s = rho w^2 / p.
    pub isentropic_exponent: Option<f64>,
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
    /// What follows from the slopes of the pressure.
    #[serde(flatten)]
    pub derived: Derived,
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
    /// Both liquids where the model parts the liquid in two: [`SaturationPoint::liquid`] is then both
    /// together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liquids: Option<Box<[PhaseProperties; 2]>>,
    /// The vapor.
    pub vapor: PhaseProperties,
    /// Enthalpy of the vapor minus that of the liquid at this point, J/kg.
    #[serde(rename = "latent_heat_J_kg")]
    pub latent_heat: f64,
    /// dp/dT along the line at constant composition, Pa/K; `None` at its very end.
    #[serde(rename = "dp_dT_line_Pa_K")]
    pub slope: Option<f64>,
    /// K = y/x of each component, vapor over liquid mole fraction, in the order of the components.
    pub k_values: Vec<f64>,
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
    /// Enthalpy of the vapor at the dew point minus that of the liquid at the bubble point, J/kg, at
    /// a given pressure: what evaporates the blend.
    #[serde(rename = "heat_bubble_to_dew_J_kg")]
    pub heat_bubble_to_dew: Option<f64>,
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
    /// Both liquids where the model parts the liquid in two: what is named liquid is then both together.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub liquids: Option<Box<[PhaseProperties; 2]>>,
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
