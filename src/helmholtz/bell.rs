//! Bells of a residual: terms whose exponent is smooth in both delta and tau.
//!
//! ```text
//! n tau^t delta^d exp(u(delta) + v(tau))
//! ```

use super::Derivatives;
use crate::catalogue::records;
use crate::numeric::exp;

/// delta part u of a bell's exponent.
#[derive(Debug, Clone, Copy)]
pub(super) enum DeltaShape {
    /// -eta (delta - epsilon)^2 - linear (delta - gamma)
    Bell {
        eta: f64,
        epsilon: f64,
        linear: f64,
        gamma: f64,
    },
    /// -delta^l
    Power { l: f64 },
}

/// tau part v of a bell's exponent.
#[derive(Debug, Clone, Copy)]
pub(super) enum TauShape {
    None,
    /// -beta (tau - gamma)^2
    Gaussian {
        beta: f64,
        gamma: f64,
    },
    /// 1 / (beta (tau - gamma)^2 + b), Gao et al., J. Phys. Chem. Ref. Data 49 (2020) 023102
    Gao {
        beta: f64,
        gamma: f64,
        b: f64,
    },
    /// -tau^m, Lemmon & Jacobsen, J. Phys. Chem. Ref. Data 34 (2005) 69, eq. 25
    Power {
        m: f64,
    },
}

/// A bell of one function.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bell {
    pub(super) function: usize,
    pub(super) n: f64,
    pub(super) t: f64,
    pub(super) d: f64,
    pub(super) delta: DeltaShape,
    pub(super) tau: TauShape,
}

impl DeltaShape {
    /// u, delta u' and delta (delta u')'.
    #[inline(always)]
    pub(super) fn exponent(self, delta: f64) -> (f64, f64, f64) {
        match self {
            DeltaShape::Bell {
                eta,
                epsilon,
                linear,
                gamma,
            } => {
                let offset = delta - epsilon;
                (
                    -eta * offset * offset - linear * (delta - gamma),
                    -delta * (2.0 * eta * offset + linear),
                    -delta * (2.0 * eta * (delta + offset) + linear),
                )
            }
            DeltaShape::Power { l } => {
                let q = delta.powf(l);
                (-q, -l * q, -l * l * q)
            }
        }
    }
}

impl TauShape {
    /// v, tau v' and tau (tau v')'.
    #[inline(always)]
    pub(super) fn exponent(self, tau: f64) -> (f64, f64, f64) {
        match self {
            TauShape::None => (0.0, 0.0, 0.0),
            TauShape::Gaussian { beta, gamma } => {
                let offset = tau - gamma;
                (
                    -beta * offset * offset,
                    -2.0 * beta * tau * offset,
                    -2.0 * beta * tau * (tau + offset),
                )
            }
            TauShape::Gao { beta, gamma, b } => {
                let offset = tau - gamma;
                let w = 1.0 / (beta * offset * offset + b);
                let slope = -2.0 * beta * offset * w * w;
                let change = -2.0 * beta * w * w + 8.0 * beta * beta * offset * offset * w * w * w;
                (w, tau * slope, tau * slope + tau * tau * change)
            }
            TauShape::Power { m } => {
                let q = tau.powf(m);
                (-q, -m * q, -m * m * q)
            }
        }
    }
}

impl Bell {
    #[inline(always)]
    pub(super) fn at(&self, tau: f64, log_tau: f64, delta: f64, log_delta: f64) -> Derivatives {
        let (u, delta_slope, delta_change) = self.delta.exponent(delta);
        let (v, tau_slope, tau_change) = self.tau.exponent(tau);
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
}

/// Adds the bells of `function` to `bells`.
pub(super) fn push_bells(bells: &mut Vec<Bell>, function: usize, terms: &records::Residual) {
    if let Some(terms) = &terms.gaussian {
        for k in 0..terms.n.len() {
            bells.push(Bell {
                function,
                n: terms.n[k],
                t: terms.t[k],
                d: terms.d[k],
                delta: DeltaShape::Bell {
                    eta: terms.eta[k],
                    epsilon: terms.epsilon[k],
                    linear: 0.0,
                    gamma: 0.0,
                },
                tau: if terms.beta[k] == 0.0 {
                    TauShape::None
                } else {
                    TauShape::Gaussian {
                        beta: terms.beta[k],
                        gamma: terms.gamma[k],
                    }
                },
            });
        }
    }
    if let Some(terms) = &terms.gerg_bell {
        for k in 0..terms.n.len() {
            bells.push(Bell {
                function,
                n: terms.n[k],
                t: terms.t[k],
                d: terms.d[k],
                delta: DeltaShape::Bell {
                    eta: terms.eta[k],
                    epsilon: terms.epsilon[k],
                    linear: terms.beta[k],
                    gamma: terms.gamma[k],
                },
                tau: TauShape::None,
            });
        }
    }
    if let Some(terms) = &terms.gao {
        for k in 0..terms.n.len() {
            bells.push(Bell {
                function,
                n: terms.n[k],
                t: terms.t[k],
                d: terms.d[k],
                delta: DeltaShape::Bell {
                    eta: terms.eta[k],
                    epsilon: terms.epsilon[k],
                    linear: 0.0,
                    gamma: 0.0,
                },
                tau: TauShape::Gao {
                    beta: terms.beta[k],
                    gamma: terms.gamma[k],
                    b: terms.b[k],
                },
            });
        }
    }
    if let Some(terms) = &terms.double_exponential {
        for k in 0..terms.n.len() {
            bells.push(Bell {
                function,
                n: terms.n[k],
                t: terms.t[k],
                d: terms.d[k],
                delta: DeltaShape::Power { l: terms.l[k] },
                tau: TauShape::Power { m: terms.m[k] },
            });
        }
    }
}
