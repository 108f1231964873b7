//! One phase from its pressure and its enthalpy or entropy.
//!
//! Newton's method in (T, rho) with
//!
//! ```text
//! dh = (cv + pT / rho) dT + (p_rho - T pT / rho) / rho drho
//! ds = cv / T dT - pT / rho^2 drho                          dp = pT dT + p_rho drho
//! ```
//!
//! and pT = dp/dT at constant density, p_rho = dp/drho at constant temperature.

use crate::helmholtz::FixedComposition;

/// What is given besides the pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Caloric {
    /// Enthalpy, J/mol.
    Enthalpy(f64),
    /// Entropy, J/(mol K).
    Entropy(f64),
}

/// A phase found by pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByPressure {
    /// Temperature, K.
    pub temperature: f64,
    /// Density, mol/m3.
    pub density: f64,
    /// Enthalpy, J/mol.
    pub enthalpy: f64,
    /// Entropy, J/(mol K).
    pub entropy: f64,
    /// Steps taken.
    pub steps: usize,
}

const MOST_STEPS: usize = 12;
/// A relative step this small leaves an error of its square.
const LAST_STEP: f64 = 1e-6;
/// What the last step may leave.
const LEFT: f64 = 1e-12;
/// Longest relative step in temperature and in density.
const LONGEST: (f64, f64) = (0.2, 0.4);

/// The phase of a pressure in Pa and an enthalpy or entropy next to a start (K, mol/m3); `None`
/// where the steps do not settle or meet what is mechanically unstable.
pub fn by_pressure(
    fixed: &FixedComposition<'_>,
    pressure: f64,
    caloric: Caloric,
    start: (f64, f64),
) -> Option<ByPressure> {
    let (mut temperature, mut density) = start;
    let mut previous = 0.0;
    for steps in 1..=MOST_STEPS {
        // the first step is seldom the last, which alone asks for both
        let needs_entropy = steps > 1 || matches!(caloric, Caloric::Entropy(_));
        let at = Lean::at_density(fixed, temperature, density, needs_entropy);
        let (p_rho, p_t) = (at.pressure_by_density, at.pressure_by_temperature);
        if !(p_rho > 0.0 && at.cv > 0.0) {
            return None;
        }
        let (missing, by_t, by_rho) = match caloric {
            Caloric::Enthalpy(h) => (
                h - at.enthalpy,
                at.cv + p_t / density,
                (p_rho - temperature * p_t / density) / density,
            ),
            Caloric::Entropy(s) => (
                s - at.entropy(fixed),
                at.cv / temperature,
                -p_t / (density * density),
            ),
        };
        let missing_p = pressure - at.pressure;
        let determinant = by_t * p_rho - by_rho * p_t;
        let step_t = (missing * p_rho - by_rho * missing_p) / determinant;
        let step_rho = (by_t * missing_p - p_t * missing) / determinant;
        let (part_t, part_rho) = (step_t / temperature, step_rho / density);
        if !(part_t.is_finite() && part_rho.is_finite()) {
            return None;
        }
        let size = part_t.abs().max(part_rho.abs());
        // what is left is the square of the step, times what it was of the one before
        let left = (size / previous).powi(2) * size;
        if size < LAST_STEP || (size < 1e-4 && left < LEFT) {
            // dh = T ds + dp / rho along the step
            let (enthalpy, entropy) = match caloric {
                Caloric::Enthalpy(h) => (
                    h,
                    at.entropy(fixed) + (missing - missing_p / density) / temperature,
                ),
                Caloric::Entropy(s) => {
                    (at.enthalpy + temperature * missing + missing_p / density, s)
                }
            };
            return Some(ByPressure {
                temperature: temperature + step_t,
                density: density + step_rho,
                enthalpy,
                entropy,
                steps,
            });
        }
        let share = (LONGEST.0 / part_t.abs())
            .min(LONGEST.1 / part_rho.abs())
            .min(1.0);
        previous = size;
        temperature += share * step_t;
        density += share * step_rho;
    }
    None
}

/// What a step needs of [`super::SinglePhase`], by the same formulas.
struct Lean {
    temperature: f64,
    density: f64,
    pressure: f64,
    enthalpy: f64,
    cv: f64,
    pressure_by_density: f64,
    pressure_by_temperature: f64,
    residual_entropy: f64,
    /// At 1 mol/m3.
    ideal_entropy: Option<f64>,
}

impl Lean {
    fn at_density(
        fixed: &FixedComposition<'_>,
        temperature: f64,
        density: f64,
        needs_entropy: bool,
    ) -> Self {
        let r = fixed.residual(temperature, density);
        let gas_constant = fixed.gas_constant;
        let (h0, cp0, ideal_entropy) = if needs_entropy {
            let (h0, cp0, s0) = fixed.ideal_entropy(temperature);
            (h0, cp0, Some(s0))
        } else {
            let (h0, cp0) = fixed.ideal_enthalpy(temperature);
            (h0, cp0, None)
        };
        let rt = gas_constant * temperature;
        Self {
            temperature,
            density,
            pressure: density * rt * (1.0 + r.d),
            enthalpy: h0 + rt * (r.t + r.d),
            cv: cp0 - gas_constant * (1.0 + r.tt - r.t),
            pressure_by_density: rt * (1.0 + r.d + r.dd),
            pressure_by_temperature: density * gas_constant * (1.0 + r.d - r.dt),
            residual_entropy: gas_constant * (r.t - r.a),
            ideal_entropy,
        }
    }

    fn entropy(&self, fixed: &FixedComposition<'_>) -> f64 {
        let ideal = self
            .ideal_entropy
            .unwrap_or_else(|| fixed.ideal_entropy(self.temperature).2);
        ideal - fixed.gas_constant * self.density.ln() + self.residual_entropy
    }
}
