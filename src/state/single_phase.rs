//! Properties of one phase at temperature, density and composition.
//!
//! With `r` the residual part, A_d = r.d, and P_d = 1 + r.d + r.dd, P_t = 1 + r.d - r.dt
//! (Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141, Table 7, in logarithmic form):
//!
//! ```text
//! p   = rho R T (1 + r.d)            dp/drho = R T P_d         dp/dT = rho R P_t
//! h   = T (sum x_i R_i (1 + t_i) + R (r.t + r.d))
//! s   = sum x_i R_i (t_i - a_i - ln(x_i rho)) + R (r.t - r.a)
//! cv  = -sum x_i R_i (tt_i - t_i) - R (r.tt - r.t)
//! cp  = cv + R P_t^2 / P_d
//! w^2 = (R T / M) (P_d + R P_t^2 / cv)
//! mu  = (P_t / P_d - 1) / (rho cp)
//! ```

use crate::helmholtz::{FixedComposition, MAX_COMPONENTS, MoleFractions};

/// One phase.
///
/// # Units
/// Molar SI; enthalpy and entropy from the engine's own zero (each component an ideal gas at
/// 298.15 K and 101 325 Pa).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SinglePhase {
    /// Mole fractions.
    pub x: MoleFractions,
    /// Molar mass, kg/mol.
    pub molar_mass: f64,
    /// Temperature, K.
    pub temperature: f64,
    /// Density, mol/m3.
    pub density: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// Enthalpy, J/mol.
    pub enthalpy: f64,
    /// Entropy, J/(mol K).
    pub entropy: f64,
    /// Isochoric heat capacity, J/(mol K).
    pub cv: f64,
    /// Isobaric heat capacity, J/(mol K).
    pub cp: f64,
    /// Speed of sound, m/s.
    pub speed_of_sound: f64,
    /// Compressibility factor p/(rho R T).
    pub compressibility_factor: f64,
    /// Joule-Thomson coefficient, K/Pa.
    pub joule_thomson: f64,
    /// Gas constant, J/(mol K).
    pub gas_constant: f64,
    /// dp/drho at constant temperature, J/mol.
    pub pressure_by_density: f64,
    /// dp/dT at constant density, Pa/K.
    pub pressure_by_temperature: f64,
    /// alphar, the residual Helmholtz energy over R T.
    pub residual_helmholtz: f64,
}

impl SinglePhase {
    /// The phase at a temperature in K and a density in mol/m3.
    pub fn at_density(fixed: &FixedComposition<'_>, temperature: f64, density: f64) -> Self {
        let r = fixed.residual(temperature, density);
        let gas_constant = fixed.gas_constant;
        let (mut h0, mut s0, mut cv0) = (0.0, 0.0, 0.0);
        for (component, &x) in fixed.mixture.components().iter().zip(fixed.x.iter()) {
            if x <= 0.0 {
                continue;
            }
            let weight = x * component.record.gas_constant_j_mol_k;
            let ideal = component.ideal.derivatives(temperature);
            h0 += weight * (1.0 + ideal.t);
            s0 += weight * (ideal.t - ideal.a - (x * density).ln());
            cv0 -= weight * (ideal.tt - ideal.t);
        }
        let molar_mass = fixed.molar_mass();
        let p_d = 1.0 + r.d + r.dd;
        let p_t = 1.0 + r.d - r.dt;
        let cv = cv0 - gas_constant * (r.tt - r.t);
        let cp = cv + gas_constant * p_t * p_t / p_d;
        let rt = gas_constant * temperature;
        Self {
            x: fixed.x,
            molar_mass,
            temperature,
            density,
            pressure: density * rt * (1.0 + r.d),
            enthalpy: temperature * (h0 + gas_constant * (r.t + r.d)),
            entropy: s0 + gas_constant * (r.t - r.a),
            cv,
            cp,
            speed_of_sound: (rt / molar_mass * (p_d + gas_constant * p_t * p_t / cv)).sqrt(),
            compressibility_factor: 1.0 + r.d,
            joule_thomson: (p_t / p_d - 1.0) / (density * cp),
            gas_constant,
            pressure_by_density: rt * p_d,
            pressure_by_temperature: density * gas_constant * p_t,
            residual_helmholtz: r.a,
        }
    }

    /// Internal energy, J/mol.
    pub fn internal_energy(&self) -> f64 {
        self.enthalpy - self.pressure / self.density
    }

    /// Logarithms of the fugacity coefficients f_i / (x_i p), in the model's order.
    ///
    /// ln f_i = ln(n_i R_i T) + (dG/dn_i) / R_i, G the residual part of Psi/T
    /// ([`crate::helmholtz::mixture`]).
    pub fn log_fugacity_coefficients(&self, fixed: &FixedComposition<'_>) -> [f64; MAX_COMPONENTS] {
        let mut partial = [0.0; MAX_COMPONENTS];
        for (n, x) in partial.iter_mut().zip(self.x.iter()) {
            *n = x * self.density;
        }
        let count = self.x.len();
        let potential = fixed.mixture.potential(self.temperature, &partial[..count]);
        let mut result = [0.0; MAX_COMPONENTS];
        for (i, component) in fixed.mixture.components().iter().enumerate() {
            let own = component.record.gas_constant_j_mol_k;
            result[i] = potential.gradient[i] / own
                + (own / self.gas_constant / self.compressibility_factor).ln();
        }
        result
    }
}
