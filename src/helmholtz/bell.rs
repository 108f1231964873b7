//! Bells of a residual: terms whose exponent is of second degree in delta and in tau, two side by
//! side.
//!
//! ```text
//! n tau^t delta^d exp(u + v)      u = -eta (delta - epsilon)^2 - linear (delta - gamma)
//!                                 v = -beta (tau - middle)^2
//! ```
//!
//! With linear = 0 the Gaussian terms of the equations of pure refrigerants, with beta = 0 those of
//! GERG's departure functions.

use super::{Derivatives, LANES, Lanes, each_lane, total};
use crate::catalogue::records;
use crate::numeric::exp;

/// Two bells of one function; where there is but one, the other has the factor 0.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Bells {
    pub(super) function: usize,
    n: Lanes,
    t: Lanes,
    d: Lanes,
    eta: Lanes,
    epsilon: Lanes,
    linear: Lanes,
    gamma: Lanes,
    beta: Lanes,
    middle: Lanes,
}

/// One bell, in the order of [`Bells`]: n, t, d, eta, epsilon, linear, gamma, beta, middle.
type Bell = [f64; 9];

impl Bells {
    fn new(function: usize, bells: &[Bell]) -> Self {
        let lanes = |k: usize| {
            let mut lanes = [0.0; LANES];
            for (lane, bell) in lanes.iter_mut().zip(bells) {
                *lane = bell[k];
            }
            lanes
        };
        Self {
            function,
            n: lanes(0),
            t: lanes(1),
            d: lanes(2),
            eta: lanes(3),
            epsilon: lanes(4),
            linear: lanes(5),
            gamma: lanes(6),
            beta: lanes(7),
            middle: lanes(8),
        }
    }

    /// The sum of the two with all derivatives.
    #[inline(always)]
    #[allow(clippy::needless_range_loop)] // the lanes of all arrays alike
    pub(super) fn derivatives(
        &self,
        tau: f64,
        log_tau: f64,
        delta: f64,
        log_delta: f64,
    ) -> Derivatives {
        let mut sums = [[0.0; LANES]; 6];
        each_lane(|k| {
            let (u, slope, change) = self.in_delta(k, delta);
            let offset = tau - self.middle[k];
            let exponent = self.t[k] * log_tau + self.d[k] * log_delta + u;
            let value = self.n[k] * exp(exponent - self.beta[k] * offset * offset);
            // A = d + delta u', B = t + tau v', and tau B'
            let a = self.d[k] + slope;
            let b = self.t[k] - 2.0 * self.beta[k] * tau * offset;
            let b_change = -2.0 * self.beta[k] * tau * (tau + offset);
            sums[0][k] = value;
            sums[1][k] = value * a;
            sums[2][k] = value * b;
            sums[3][k] = value * (a * a + change);
            sums[4][k] = value * a * b;
            sums[5][k] = value * (b * b + b_change);
        });
        Derivatives::from_lanes(sums)
    }

    /// u, delta u' and delta (delta u')' of bell `k`.
    #[inline(always)]
    fn in_delta(&self, k: usize, delta: f64) -> (f64, f64, f64) {
        let (eta, linear) = (self.eta[k], self.linear[k]);
        let offset = delta - self.epsilon[k];
        (
            -eta * offset * offset - linear * (delta - self.gamma[k]),
            -delta * (2.0 * eta * offset + linear),
            -delta * (2.0 * eta * (delta + offset) + linear),
        )
    }

    /// The factors n tau^t exp(v) at one tau, times `weight`.
    #[inline(always)]
    pub(super) fn folded(&self, weight: f64, tau: f64, log_tau: f64) -> Lanes {
        let mut folded = [0.0; LANES];
        for (k, folded) in folded.iter_mut().enumerate() {
            let offset = tau - self.middle[k];
            let v = -self.beta[k] * offset * offset;
            *folded = weight * self.n[k] * exp(self.t[k] * log_tau + v);
        }
        folded
    }

    /// The sum of the two, folded, and its first two derivatives in delta.
    #[inline(always)]
    pub(super) fn folded_at(&self, folded: &Lanes, delta: f64, log_delta: f64) -> [f64; 3] {
        let mut sums = [[0.0; LANES]; 3];
        for k in 0..LANES {
            let (u, slope, change) = self.in_delta(k, delta);
            let value = folded[k] * exp(self.d[k] * log_delta + u);
            let a = self.d[k] + slope;
            sums[0][k] = value;
            sums[1][k] = value * a;
            sums[2][k] = value * (a * a + change);
        }
        sums.map(total)
    }
}

/// Adds the bells of `function` to `bells`.
pub(super) fn push_bells(bells: &mut Vec<Bells>, function: usize, terms: &records::ResidualRecord) {
    let mut own: Vec<Bell> = Vec::new();
    if let Some(terms) = &terms.gaussian {
        for k in 0..terms.n.len() {
            own.push([
                terms.n[k],
                terms.t[k],
                terms.d[k],
                terms.eta[k],
                terms.epsilon[k],
                0.0,
                0.0,
                terms.beta[k],
                terms.gamma[k],
            ]);
        }
    }
    if let Some(terms) = &terms.gerg_bell {
        for k in 0..terms.n.len() {
            own.push([
                terms.n[k],
                terms.t[k],
                terms.d[k],
                terms.eta[k],
                terms.epsilon[k],
                terms.beta[k],
                terms.gamma[k],
                0.0,
                0.0,
            ]);
        }
    }
    bells.extend(own.chunks(LANES).map(|pair| Bells::new(function, pair)));
}
