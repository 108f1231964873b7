//! Non-analytic terms, which shape the critical region of R-744 and R-718.
//!
//! Span & Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509, eq. 6.1 and Table 32:
//!
//! ```text
//! alpha = n Delta^b delta psi
//! Delta = theta^2 + B ((delta-1)^2)^a
//! theta = (1 - tau) + A ((delta-1)^2)^(1/(2 beta))
//! psi   = exp(-C (delta-1)^2 - D (tau-1)^2)
//! ```

use super::Derivatives;

/// One non-analytic term; letters as in the formula above.
#[derive(Debug, Clone, Copy)]
pub(super) struct NonAnalytic {
    pub(super) n: f64,
    pub(super) a: f64,
    pub(super) b: f64,
    pub(super) beta: f64,
    pub(super) big_a: f64,
    pub(super) big_b: f64,
    pub(super) big_c: f64,
    pub(super) big_d: f64,
}

/// The derivatives of `Delta^b` divide by powers of delta - 1; within this distance of 1 they are
/// evaluated at this distance, far below what the density of a state is known to.
const NEAREST: f64 = 1e-9;

impl NonAnalytic {
    /// Value and logarithmic derivatives at (tau, delta).
    pub(super) fn derivatives(&self, tau: f64, delta: f64) -> Derivatives {
        let offset = if (delta - 1.0).abs() < NEAREST {
            NEAREST
        } else {
            delta - 1.0
        };
        let delta = 1.0 + offset;
        let square = offset * offset;
        let log_square = square.ln();
        let inverse_beta = 1.0 / self.beta;

        // A ((delta-1)^2)^(1/(2 beta)) and its first two derivatives in delta
        let g = self.big_a * (0.5 * inverse_beta * log_square).exp();
        let g_1 = g * inverse_beta / offset;
        let g_2 = g * inverse_beta * (inverse_beta - 1.0) / square;
        // B ((delta-1)^2)^a and its first two derivatives
        let h = self.big_b * (self.a * log_square).exp();
        let h_1 = h * 2.0 * self.a / offset;
        let h_2 = h * 2.0 * self.a * (2.0 * self.a - 1.0) / square;

        let theta = (1.0 - tau) + g;
        let big_delta = theta * theta + h;
        if big_delta <= 0.0 {
            return Derivatives::default();
        }
        let big_delta_1 = 2.0 * theta * g_1 + h_1;
        let big_delta_2 = 2.0 * (g_1 * g_1 + theta * g_2) + h_2;

        // Work with w = ln(Delta^b delta psi): alpha = n exp(w).
        let ratio = self.b / big_delta;
        let w = self.b * big_delta.ln() + delta.ln()
            - self.big_c * square
            - self.big_d * (tau - 1.0) * (tau - 1.0);
        let w_delta = ratio * big_delta_1 + 1.0 / delta - 2.0 * self.big_c * offset;
        let w_deltadelta = ratio * (big_delta_2 - big_delta_1 * big_delta_1 / big_delta)
            - 1.0 / (delta * delta)
            - 2.0 * self.big_c;
        // dDelta/dtau = -2 theta, d2Delta/dtau2 = 2, d2Delta/dtau ddelta = -2 dg/ddelta
        let w_tau = -2.0 * ratio * theta - 2.0 * self.big_d * (tau - 1.0);
        let w_tautau = ratio * (2.0 - 4.0 * theta * theta / big_delta) - 2.0 * self.big_d;
        let w_deltatau = ratio * (-2.0 * g_1 + 2.0 * theta * big_delta_1 / big_delta);

        let value = self.n * w.exp();
        let d = delta * w_delta;
        let t = tau * w_tau;
        Derivatives {
            a: value,
            d: value * d,
            t: value * t,
            dd: value * (d * d + d + delta * delta * w_deltadelta),
            dt: value * (d * t + delta * tau * w_deltatau),
            tt: value * (t * t + t + tau * tau * w_tautau),
        }
    }
}
