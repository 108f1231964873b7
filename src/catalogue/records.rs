//! What a data file says, as it says it: one struct a kind of file, SI units in the keys.

use serde::{Deserialize, Serialize};

/// A fact with the place it was taken from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sourced<T> {
    /// The fact.
    pub value: T,
    /// Paper, standard or report; "from memory" where it was not looked up.
    pub source: String,
}

/// A paper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reference {
    /// Authors, family names with initials.
    pub authors: String,
    /// Title, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// Journal with volume and pages, or book and publisher.
    pub journal: String,
    /// Year of publication.
    pub year: u16,
    /// Digital object identifier, without a resolver's address.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doi: Option<String>,
}

/// A pure refrigerant: `fluids/pure/<designation>.yaml`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PureRecord {
    /// Designation in the standard's own spelling, for example `R-134a`.
    pub designation: String,
    /// Chemical name.
    pub name: String,
    /// Further spellings by which it is found (chemical and standard ones only).
    #[serde(default)]
    pub spellings: Vec<String>,
    /// Chemical formula.
    pub formula: String,
    /// CAS registry number.
    pub cas: String,
    /// Safety class of ISO 817 / ANSI/ASHRAE 34; absent where it is not assigned here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub safety_class: Option<Sourced<String>>,
    /// Global warming potentials, a line a report and horizon.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gwp: Vec<WarmingPotential>,
    /// Ozone depletion potential relative to R-11.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub odp: Option<Sourced<f64>>,
    /// Lower flammability limit, kg/m3.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lfl_kg_m3: Option<Sourced<f64>>,
    /// Molar mass used by the equation, kg/mol.
    pub molar_mass_kg_mol: f64,
    /// Gas constant used by the equation, J/(mol K).
    #[serde(rename = "gas_constant_J_mol_K")]
    pub gas_constant_j_mol_k: f64,
    /// The critical point, as published and as the equation has it.
    pub critical_point: CriticalPoints,
    /// Where the equation is valid.
    pub range: ValidRange,
    /// The point at which the equation's tau and delta are 1.
    pub reducing: ReducingPoint,
    /// Terms of the ideal-gas part.
    pub ideal_gas: IdealGasRecord,
    /// Terms of the residual part.
    pub residual: ResidualRecord,
    /// Starting values on the saturation line.
    pub ancillary: AncillaryRecord,
    /// The paper of the equation.
    pub reference: Reference,
    /// What a user should know of this equation (which of two printed ones, an erratum).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
    /// Values printed in the paper to check a program against.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub check_values: Vec<CheckValue>,
}

/// A global warming potential over a horizon, from one report.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WarmingPotential {
    /// Report, for example `IPCC AR5`.
    pub report: String,
    /// Horizon, years.
    pub horizon_years: u16,
    /// The potential, relative to carbon dioxide by mass; an upper bound where `below` is set.
    pub value: f64,
    /// True where the report says "less than `value`".
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub below: bool,
}

/// The critical point, as published and as the equation has it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CriticalPoints {
    /// As the paper states it.
    pub published: PublishedCriticalPoint,
    /// Where dp/drho and d2p/drho2 of the equation vanish; solved for when absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub equation: Option<EquationCriticalPoint>,
}

/// A published critical point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PublishedCriticalPoint {
    /// Temperature, K.
    #[serde(rename = "temperature_K")]
    pub temperature_k: f64,
    /// Pressure, Pa.
    #[serde(rename = "pressure_Pa")]
    pub pressure_pa: f64,
    /// Density, mol/m3.
    pub density_mol_m3: f64,
}

/// The critical point of an equation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EquationCriticalPoint {
    /// Temperature, K.
    #[serde(rename = "temperature_K")]
    pub temperature_k: f64,
    /// Density, mol/m3.
    pub density_mol_m3: f64,
}

/// Where an equation is valid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ValidRange {
    /// Lowest temperature, K.
    #[serde(rename = "temperature_min_K")]
    pub temperature_min_k: f64,
    /// Highest temperature, K.
    #[serde(rename = "temperature_max_K")]
    pub temperature_max_k: f64,
    /// Highest pressure, Pa.
    #[serde(rename = "pressure_max_Pa")]
    pub pressure_max_pa: f64,
}

/// The point at which tau and delta are 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReducingPoint {
    /// Temperature, K.
    #[serde(rename = "temperature_K")]
    pub temperature_k: f64,
    /// Density, mol/m3.
    pub density_mol_m3: f64,
}

/// Ideal-gas part: alpha0 = ln(delta) + a1 + a2 tau + c ln(tau) + the listed terms.
///
/// The published zero of enthalpy and entropy sits in `a1` and `a2`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IdealGasRecord {
    /// a1, the constant.
    pub constant: f64,
    /// a2, the factor of tau.
    pub linear: f64,
    /// c, the factor of ln(tau).
    pub log_tau: f64,
    /// Terms n tau^t.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub power: Option<PowerOfTau>,
    /// Terms n ln(1 - exp(-theta tau)), theta dimensionless.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub planck_einstein: Option<PlanckEinstein>,
    /// Heat capacity cp0/R = sum n (T / K)^t, added to that of the terms above.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_capacity_polynomial: Option<PowerOfTemperature>,
}

/// Terms n tau^t.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PowerOfTau {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of tau.
    pub t: Vec<f64>,
}

/// Terms n ln(1 - exp(-theta tau)).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanckEinstein {
    /// Factors.
    pub n: Vec<f64>,
    /// theta, characteristic temperature over the reducing temperature.
    pub theta: Vec<f64>,
}

/// Terms n (T/K)^t of cp0/R.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PowerOfTemperature {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of the temperature in K.
    pub t: Vec<f64>,
}

/// Residual part: the sum of all terms of all shapes present.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ResidualRecord {
    /// n tau^t delta^d.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub power: Option<PowerTerms>,
    /// n tau^t delta^d exp(-g delta^l); g is 1 where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exponential: Option<ExponentialTerms>,
    /// n tau^t delta^d exp(-eta (delta-epsilon)^2 - beta (tau-gamma)^2).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gaussian: Option<BellTerms>,
    /// n tau^t delta^d exp(-eta (delta-epsilon)^2 + 1/(beta (tau-gamma)^2 + b)) (Gao et al. 2020).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gao: Option<GaoTerms>,
    /// n tau^t delta^d exp(-delta^l - tau^m) (Lemmon & Jacobsen 2005).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub double_exponential: Option<DoubleExponentialTerms>,
    /// n Delta^b delta psi (Span & Wagner 1996, eq. 6.1).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub non_analytic: Option<NonAnalyticTerms>,
    /// n tau^t delta^d exp(-eta (delta-epsilon)^2 - beta (delta-gamma)), departure functions only (GERG).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gerg_bell: Option<BellTerms>,
}

/// n tau^t delta^d.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PowerTerms {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of tau.
    pub t: Vec<f64>,
    /// Exponents of delta.
    pub d: Vec<f64>,
}

/// n tau^t delta^d exp(-g delta^l).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExponentialTerms {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of tau.
    pub t: Vec<f64>,
    /// Exponents of delta.
    pub d: Vec<f64>,
    /// Exponents of delta inside the exponential.
    pub l: Vec<f64>,
    /// Factors inside the exponential; 1 where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub g: Option<Vec<f64>>,
}

/// n tau^t delta^d with a bell in delta and, for Gaussian terms, in tau.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BellTerms {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of tau.
    pub t: Vec<f64>,
    /// Exponents of delta.
    pub d: Vec<f64>,
    /// Width in delta.
    pub eta: Vec<f64>,
    /// Centre in delta.
    pub epsilon: Vec<f64>,
    /// Width in tau (Gaussian), or linear factor of delta (GERG bell).
    pub beta: Vec<f64>,
    /// Centre in tau (Gaussian), or offset of delta (GERG bell).
    pub gamma: Vec<f64>,
}

/// Terms of Gao et al. 2020.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GaoTerms {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of tau.
    pub t: Vec<f64>,
    /// Exponents of delta.
    pub d: Vec<f64>,
    /// eta; exp(-eta (delta-epsilon)^2), positive narrows.
    pub eta: Vec<f64>,
    /// epsilon.
    pub epsilon: Vec<f64>,
    /// beta.
    pub beta: Vec<f64>,
    /// gamma.
    pub gamma: Vec<f64>,
    /// b.
    pub b: Vec<f64>,
}

/// Terms of Lemmon & Jacobsen 2005.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DoubleExponentialTerms {
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of tau.
    pub t: Vec<f64>,
    /// Exponents of delta.
    pub d: Vec<f64>,
    /// Exponents of delta inside the exponential.
    pub l: Vec<f64>,
    /// Exponents of tau inside the exponential.
    pub m: Vec<f64>,
}

/// Non-analytic terms of Span & Wagner 1996.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NonAnalyticTerms {
    /// n.
    pub n: Vec<f64>,
    /// a.
    pub a: Vec<f64>,
    /// b.
    pub b: Vec<f64>,
    /// beta.
    pub beta: Vec<f64>,
    /// A.
    pub big_a: Vec<f64>,
    /// B.
    pub big_b: Vec<f64>,
    /// C.
    pub big_c: Vec<f64>,
    /// D.
    pub big_d: Vec<f64>,
}

/// Starting values on the saturation line, with theta = 1 - T/Tc and Tc, rhoc, pc those of `critical`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AncillaryRecord {
    /// Tc of these short equations, K.
    #[serde(rename = "temperature_K")]
    pub temperature_k: f64,
    /// ln(p/pc) = (Tc/T) sum n theta^t.
    pub pressure: AncillarySeries,
    /// rho_liquid = rhoc (1 + sum n theta^t).
    pub liquid_density: AncillarySeries,
    /// ln(rho_vapor/rhoc) = (Tc/T) sum n theta^t.
    pub vapor_density: AncillarySeries,
    /// Largest relative error found against the equation, in the order p, rho_liquid, rho_vapor.
    pub largest_error: [f64; 3],
}

/// One series of an ancillary equation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AncillarySeries {
    /// pc in Pa or rhoc in mol/m3.
    pub scale: f64,
    /// Factors.
    pub n: Vec<f64>,
    /// Exponents of theta.
    pub t: Vec<f64>,
}

/// A value printed in a paper, to check a program against.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckValue {
    /// Temperature, K.
    #[serde(rename = "temperature_K")]
    pub temperature_k: f64,
    /// Density, mol/m3; absent on the saturation line and where a pressure is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_mol_m3: Option<f64>,
    /// Pressure, Pa, where it is given instead of a density.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[serde(rename = "pressure_Pa")]
    pub pressure_pa: Option<f64>,
    /// Quality 0 or 1 on the saturation line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quality: Option<f64>,
    /// Which property, for example `pressure_pa` or `cp_j_mol_k`.
    pub property: String,
    /// The printed value, in the unit that the property's name ends with.
    pub value: f64,
    /// Relative tolerance that the printed digits allow.
    pub rtol: f64,
}

/// A binary pair: `fluids/pairs/<first>_<second>.yaml`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PairRecord {
    /// First component's designation; beta is defined for this order.
    pub first: String,
    /// Second component's designation.
    pub second: String,
    /// How the pair is known.
    pub kind: PairKind,
    /// The reducing parameters as published (or estimated).
    pub reducing: PairReducing,
    /// Parameters refitted to measured bubble points, used in place of `reducing`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refitted: Option<Refit>,
    /// Name of the departure function in `fluids/departures/`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub departure: Option<String>,
    /// F, the factor of the departure function.
    #[serde(default)]
    pub departure_factor: f64,
    /// Paper of the parameters, or how they were estimated.
    pub source: String,
    /// A remark, for example that the paper prints (xi, zeta).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
    /// How far the model lies from measured bubble points.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<MeasuredDeviation>,
    /// How far the model lies from measured vapors.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_vapors: Option<MeasuredVapors>,
}

/// How a pair is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PairKind {
    /// Reducing parameters and a departure function, published.
    Departure,
    /// Reducing parameters alone, published.
    Reducing,
    /// Estimated: nothing published.
    Estimated,
}

/// Four-parameter reducing functions.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PairReducing {
    /// beta of the temperature.
    pub beta_t: f64,
    /// gamma of the temperature.
    pub gamma_t: f64,
    /// beta of the molar volume.
    pub beta_v: f64,
    /// gamma of the molar volume.
    pub gamma_v: f64,
}

/// Parameters refitted to measured bubble points.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Refit {
    /// The refitted beta of the temperature.
    pub beta_t: f64,
    /// The refitted gamma of the temperature.
    pub gamma_t: f64,
    /// DOIs of the papers whose points were used.
    pub papers: Vec<String>,
    /// Points used.
    pub points: usize,
    /// Root mean square deviation of bubble pressure before, % of pressure.
    pub rms_before_percent: f64,
    /// Root mean square deviation of bubble pressure after, % of pressure.
    pub rms_after_percent: f64,
}

/// Deviation of the model from measured bubble points.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredDeviation {
    /// Points compared.
    pub points: usize,
    /// Papers they come from.
    pub papers: usize,
    /// Mean deviation (model - measured) of bubble pressure, % of pressure.
    pub bias_percent: f64,
    /// Root mean square deviation of bubble pressure, % of pressure.
    pub rms_percent: f64,
    /// Mean deviation (model - measured) of bubble temperature, K.
    #[serde(rename = "bias_K")]
    pub bias_k: f64,
    /// Root mean square deviation of bubble temperature, K.
    #[serde(rename = "rms_K")]
    pub rms_k: f64,
}

/// Deviation of the model from measured compositions of the vapor over a liquid, model less measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MeasuredVapors {
    /// Points compared.
    pub points: usize,
    /// Papers they come from.
    pub papers: usize,
    /// Mean deviation of the mole fraction of the pair's first component in the vapor.
    pub bias_y: f64,
    /// Root mean square of the same.
    pub rms_y: f64,
    /// What of the relative volatility the deviations amount to, %.
    pub relative_volatility_percent: f64,
}

/// A departure function: `fluids/departures/<name>.yaml`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DepartureRecord {
    /// Name by which pairs refer to it.
    pub name: String,
    /// Terms.
    pub residual: ResidualRecord,
    /// Paper.
    pub source: String,
}

/// A designated blend: an entry of `fluids/blends.yaml`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlendRecord {
    /// Designation.
    pub designation: String,
    /// Components with their mass %, in the standard's order.
    pub components: Vec<BlendComponent>,
    /// A limit of the standard on the sum of some components.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sum_rule: Option<SumRule>,
    /// Safety class; absent where it is not assigned here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub safety_class: Option<Sourced<String>>,
    /// Published bubble point (or normal boiling point) at 101.325 kPa, degree C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[serde(rename = "bubble_C")]
    pub bubble_c: Option<Sourced<f64>>,
    /// Published dew point at 101.325 kPa, degree C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[serde(rename = "dew_C")]
    pub dew_c: Option<Sourced<f64>>,
    /// True where the published values above were used to estimate a pair.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub fitted_to_these_values: bool,
    /// Why the blend is known but not carried.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refused: Option<String>,
    /// A warning that goes with every answer, for example that the composition is not fixed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warning: Option<String>,
}

/// A component of a designated blend.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlendComponent {
    /// Designation of the component.
    pub refrigerant: String,
    /// Nominal content, mass %.
    pub mass_percent: f64,
    /// Tolerance [below, above] the nominal content, mass %, both zero or positive; absent where none is published.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_mass_percent: Option<[f64; 2]>,
}

/// A limit on the sum of some components.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SumRule {
    /// The components summed.
    pub refrigerants: Vec<String>,
    /// Tolerance [below, above] the nominal sum, mass %.
    pub tolerance_mass_percent: [f64; 2],
}

impl BlendRecord {
    /// Whether the standard lists it as an azeotrope: those have the numbers from 500 on
    /// (ASHRAE 34, numbering of blends).
    pub fn is_azeotrope(&self) -> bool {
        let digits = self.designation.trim_start_matches("R-");
        let number: String = digits.chars().take_while(char::is_ascii_digit).collect();
        number.len() == 3 && number.starts_with('5')
    }
}
