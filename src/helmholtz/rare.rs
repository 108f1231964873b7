//! Terms of a residual whose exponents only a few equations have.
//!
//! ```text
//! n tau^t delta^d exp(u(delta) + v(tau))
//! ```

use super::Derivatives;
use crate::catalogue::records;
use crate::numeric::exp;

/// The exponents of a term.
#[derive(Debug, Clone, Copy)]
enum Shape {
    /// u = -eta (delta - epsilon)^2, v = 1 / (beta (tau - gamma)^2 + b): Gao et al., J. Phys. Chem.
    /// Ref. Data 49 (2020) 023102
    Gao {
        eta: f64,
        epsilon: f64,
        beta: f64,
        gamma: f64,
        b: f64,
    },
    /// u = -delta^l, v = -tau^m: Lemmon & Jacobsen, J. Phys. Chem. Ref. Data 34 (2005) 69, eq. 25
    DoubleExponential { l: f64, m: f64 },
}

/// A rare term of one function.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rare {
    pub(super) function: usize,
    n: f64,
    t: f64,
    d: f64,
    shape: Shape,
}

impl Rare {
    /// u, delta u' and delta (delta u')'.
    #[inline(always)]
    fn in_delta(&self, delta: f64, log_delta: f64) -> (f64, f64, f64) {
        match self.shape {
            Shape::Gao { eta, epsilon, .. } => {
                let offset = delta - epsilon;
                (
                    -eta * offset * offset,
                    -delta * 2.0 * eta * offset,
                    -delta * 2.0 * eta * (delta + offset),
                )
            }
            Shape::DoubleExponential { l, .. } => {
                let q = exp(l * log_delta);
                (-q, -l * q, -l * l * q)
            }
        }
    }

    /// v, tau v' and tau (tau v')'.
    #[inline(always)]
    fn in_tau(&self, tau: f64, log_tau: f64) -> (f64, f64, f64) {
        match self.shape {
            Shape::Gao { beta, gamma, b, .. } => {
                let offset = tau - gamma;
                let w = 1.0 / (beta * offset * offset + b);
                let slope = -2.0 * beta * offset * w * w;
                let change = -2.0 * beta * w * w + 8.0 * beta * beta * offset * offset * w * w * w;
                (w, tau * slope, tau * slope + tau * tau * change)
            }
            Shape::DoubleExponential { m, .. } => {
                let q = exp(m * log_tau);
                (-q, -m * q, -m * m * q)
            }
        }
    }

    #[inline(always)]
    pub(super) fn derivatives(
        &self,
        tau: f64,
        log_tau: f64,
        delta: f64,
        log_delta: f64,
    ) -> Derivatives {
        let (u, delta_slope, delta_change) = self.in_delta(delta, log_delta);
        let (v, tau_slope, tau_change) = self.in_tau(tau, log_tau);
        let value = self.n * exp(self.t * log_tau + self.d * log_delta + u + v);
        let a = self.d + delta_slope;
        let b = self.t + tau_slope;
        Derivatives {
            a: value,
            d: value * a,
            t: value * b,
            dd: value * (a * a + delta_change),
            dt: value * a * b,
            tt: value * (b * b + tau_change),
        }
    }

    /// The factor n tau^t exp(v) at one tau.
    #[inline(always)]
    pub(super) fn folded(&self, tau: f64, log_tau: f64) -> f64 {
        let (v, _, _) = self.in_tau(tau, log_tau);
        self.n * exp(self.t * log_tau + v)
    }

    /// The term, folded, and its first two derivatives in delta.
    #[inline(always)]
    pub(super) fn folded_at(&self, folded: f64, delta: f64, log_delta: f64) -> [f64; 3] {
        let (u, slope, change) = self.in_delta(delta, log_delta);
        let value = folded * exp(self.d * log_delta + u);
        let slope = self.d + slope;
        [value, value * slope, value * (slope * slope + change)]
    }
}

/// Adds the rare terms of `function` to `rare`.
pub(super) fn push_rare(rare: &mut Vec<Rare>, function: usize, terms: &records::ResidualRecord) {
    if let Some(terms) = &terms.gao {
        for k in 0..terms.n.len() {
            rare.push(Rare {
                function,
                n: terms.n[k],
                t: terms.t[k],
                d: terms.d[k],
                shape: Shape::Gao {
                    eta: terms.eta[k],
                    epsilon: terms.epsilon[k],
                    beta: terms.beta[k],
                    gamma: terms.gamma[k],
                    b: terms.b[k],
                },
            });
        }
    }
    if let Some(terms) = &terms.double_exponential {
        for k in 0..terms.n.len() {
            rare.push(Rare {
                function,
                n: terms.n[k],
                t: terms.t[k],
                d: terms.d[k],
                shape: Shape::DoubleExponential {
                    l: terms.l[k],
                    m: terms.m[k],
                },
            });
        }
    }
}
