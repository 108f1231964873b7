//! The ideal-gas part of a component's Helmholtz energy.
//!
//! ```text
//! alpha0 = ln(rho/rhor) + a1 + a2 tau + c ln(tau) + sum n tau^t + sum n ln(1 - exp(-theta tau))
//! ```
//!
//! A heat capacity polynomial cp0/R = sum n T^t is carried over exactly, since
//! cp0/R = 1 - tau^2 d2alpha0/dtau2: n T^t becomes -n Tr^t tau^(-t) / (t (t+1)), for t = 0
//! n ln(tau), for t = -1 -(n/Tr) tau ln(tau).
//!
//! Inside the engine each component has h = 0 and s = 0 as an ideal gas at 298.15 K and
//! 101 325 Pa; the published zero is kept beside it.

use crate::catalogue::records;
use crate::numeric::exp;

/// Temperature of the engine's own zero, K.
pub const ZERO_TEMPERATURE: f64 = 298.15;
/// Pressure of the engine's own zero, Pa.
pub const ZERO_PRESSURE: f64 = crate::units::Pressure::ATMOSPHERE.in_pascal();

/// The ideal-gas part of one component.
#[derive(Debug, Clone)]
pub struct IdealGas {
    reducing_temperature: f64,
    constant: f64,
    linear: f64,
    log_tau: f64,
    tau_log_tau: f64,
    power: Vec<(f64, f64)>,
    planck_einstein: Vec<(f64, f64)>,
    published: [f64; 2],
}

/// alpha0 without its ln(rho), and its logarithmic derivatives in tau.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct IdealDerivatives {
    /// alpha0 - ln(rho / (mol/m3)).
    pub a: f64,
    /// tau dalpha0/dtau.
    pub t: f64,
    /// (tau d/dtau)^2 alpha0.
    pub tt: f64,
}

impl IdealGas {
    /// Compiles the ideal-gas terms of a record.
    pub fn new(record: &records::PureRecord) -> Self {
        let terms = &record.ideal_gas;
        let temperature = record.reducing.temperature_k;
        let mut ideal = Self {
            reducing_temperature: temperature,
            constant: terms.constant - record.reducing.density_mol_m3.ln(),
            linear: terms.linear,
            log_tau: terms.log_tau,
            tau_log_tau: 0.0,
            power: Vec::new(),
            planck_einstein: Vec::new(),
            published: [0.0; 2],
        };
        if let Some(power) = &terms.power {
            ideal
                .power
                .extend(power.n.iter().copied().zip(power.t.iter().copied()));
        }
        if let Some(terms) = &terms.planck_einstein {
            ideal
                .planck_einstein
                .extend(terms.n.iter().copied().zip(terms.theta.iter().copied()));
        }
        if let Some(polynomial) = &terms.heat_capacity_polynomial {
            for (&n, &t) in polynomial.n.iter().zip(&polynomial.t) {
                if t == 0.0 {
                    ideal.log_tau += n;
                } else if t == -1.0 {
                    ideal.tau_log_tau -= n / temperature;
                } else {
                    ideal
                        .power
                        .push((-n * temperature.powf(t) / (t * (t + 1.0)), -t));
                }
            }
        }
        // Own zero: h/(R T) = 1 + t = 0 and s/R = t - a - ln(rho) = 0 there.
        let tau = temperature / ZERO_TEMPERATURE;
        let linear = ideal.linear - (1.0 + ideal.derivatives(ZERO_TEMPERATURE).t) / tau;
        let linear_shift = ideal.linear - linear;
        ideal.linear = linear;
        let log_density = (ZERO_PRESSURE / (record.gas_constant_j_mol_k * ZERO_TEMPERATURE)).ln();
        let constant_shift = ideal.derivatives(ZERO_TEMPERATURE).a + log_density + 1.0;
        ideal.constant -= constant_shift;
        ideal.published = [constant_shift, linear_shift];
        ideal
    }

    /// alpha0 - ln(rho) and its derivatives at a temperature in K.
    pub fn derivatives(&self, temperature: f64) -> IdealDerivatives {
        self.sum::<true>(temperature)
    }

    /// The same, `a` left undone: heat capacity and enthalpy do without its logarithms.
    pub fn slopes(&self, temperature: f64) -> IdealDerivatives {
        self.sum::<false>(temperature)
    }

    #[inline(always)]
    fn sum<const VALUE: bool>(&self, temperature: f64) -> IdealDerivatives {
        let tau = self.reducing_temperature / temperature;
        let log_tau = tau.ln();
        let mut sum = IdealDerivatives {
            a: self.constant
                + self.linear * tau
                + self.log_tau * log_tau
                + self.tau_log_tau * tau * log_tau,
            t: self.linear * tau + self.log_tau + self.tau_log_tau * tau * (log_tau + 1.0),
            tt: self.linear * tau + self.tau_log_tau * tau * (log_tau + 2.0),
        };
        for &(n, t) in &self.power {
            let value = n * exp(t * log_tau);
            sum.a += value;
            sum.t += t * value;
            sum.tt += t * t * value;
        }
        for &(n, theta) in &self.planck_einstein {
            // d/dtau ln(1 - e^-x) = theta / (e^x - 1), x = theta tau
            let x = theta * tau;
            let decay = exp(-x);
            let q = 1.0 - decay;
            let slope = x * decay / q;
            if VALUE {
                sum.a += n * q.ln();
            }
            sum.t += n * slope;
            sum.tt += n * slope * (1.0 - x / q);
        }
        sum
    }

    /// What to add to the engine's `a` and `t` at a temperature in K to have the published zero:
    /// `[constant + linear tau, linear tau]`.
    pub fn published_shift(&self, temperature: f64) -> [f64; 2] {
        let linear = self.published[1] * self.reducing_temperature / temperature;
        [self.published[0] + linear, linear]
    }
}
