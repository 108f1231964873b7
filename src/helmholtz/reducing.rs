//! Reducing functions of composition: what temperature and density make tau and delta of a mixture.
//!
//! Kunz & Wagner, J. Chem. Eng. Data 57 (2012) 3032, eqs. 16 and 17, multiplied out:
//!
//! ```text
//! Tr(x)      = sum x_i^2 T_i + sum_{i<j} 2 betaT gammaT sqrt(T_i T_j) f(x_i, x_j; betaT)
//! 1/rhor(x)  = sum x_i^2 v_i + sum_{i<j} 2 betaV gammaV (v_i^(1/3)+v_j^(1/3))^3/8 f(x_i, x_j; betaV)
//! f(x, y; b) = x y (x + y) / (b^2 x + y)
//! ```
//!
//! Every term is homogeneous of second degree, so that with partial densities n_i in place of
//! x_i, and N their sum, Y(n) = N^2 Y(x): derivatives at fixed other n_j need no "last" component.
//!
//! Of beta = 1, as of pairs of which nothing is known and of most volumes, f is x y: with the squares of the
//! pure values these terms are one quadratic form.

use super::MAX_COMPONENTS;

/// One reducing function, compiled: Y(x) = x H x / 2 + sum of pairs.
#[derive(Debug, Clone)]
pub struct ReducingFunction {
    count: usize,
    /// H, the second derivatives of the pure values' terms and of pairs whose beta is 1.
    form: [[f64; MAX_COMPONENTS]; MAX_COMPONENTS],
    pairs: Vec<ReducingPair>,
}

#[derive(Debug, Clone, Copy)]
struct ReducingPair {
    first: usize,
    second: usize,
    factor: f64,
    beta_square: f64,
}

/// A reducing function's value, gradient and Hessian in the (unconstrained) mole fractions.
#[derive(Debug, Clone, Copy)]
pub struct ReducingValue {
    /// Y.
    pub value: f64,
    /// dY/dx_i.
    pub gradient: [f64; MAX_COMPONENTS],
    /// d2Y/dx_i dx_j.
    pub hessian: [[f64; MAX_COMPONENTS]; MAX_COMPONENTS],
}

impl ReducingFunction {
    /// From the pure values and, a pair, (first, second, beta, gamma); `mean` is the combining
    /// rule of two pure values at beta = gamma = 1.
    pub fn new(
        own: Vec<f64>,
        pairs: impl Iterator<Item = (usize, usize, f64, f64)>,
        mean: impl Fn(f64, f64) -> f64,
    ) -> Self {
        let mut form = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
        for (i, y) in own.iter().enumerate() {
            form[i][i] = 2.0 * y;
        }
        let mut of_beta = Vec::new();
        for (first, second, beta, gamma) in pairs {
            let factor = 2.0 * beta * gamma * mean(own[first], own[second]);
            if beta == 1.0 {
                form[first][second] = factor;
                form[second][first] = factor;
            } else {
                of_beta.push(ReducingPair {
                    first,
                    second,
                    factor,
                    beta_square: beta * beta,
                });
            }
        }
        Self {
            count: own.len(),
            form,
            pairs: of_beta,
        }
    }

    /// H x, and Y(x) but for the pairs.
    #[inline]
    fn of_form(&self, x: &[f64]) -> ([f64; MAX_COMPONENTS], f64) {
        let (mut slopes, mut twice) = ([0.0; MAX_COMPONENTS], 0.0);
        for (row, x) in self.form[..self.count].iter().zip(x) {
            for (slope, y) in slopes.iter_mut().zip(row) {
                *slope += y * x;
            }
        }
        for (slope, x) in slopes.iter().zip(x) {
            twice += slope * x;
        }
        (slopes, 0.5 * twice)
    }

    /// Y(x).
    pub fn value(&self, x: &[f64]) -> f64 {
        let (_, mut sum) = self.of_form(x);
        for pair in &self.pairs {
            let (a, b) = (x[pair.first], x[pair.second]);
            let w = pair.beta_square * a + b;
            if w > 0.0 {
                sum += pair.factor * a * b * (a + b) / w;
            }
        }
        sum
    }

    /// Y(x) with its gradient and Hessian.
    pub fn derivatives(&self, x: &[f64]) -> ReducingValue {
        let (gradient, value) = self.of_form(x);
        let mut result = ReducingValue {
            value,
            gradient,
            hessian: self.form,
        };
        for pair in &self.pairs {
            let (i, j, b) = (pair.first, pair.second, pair.beta_square);
            let (x, y) = (x[i], x[j]);
            let w = b * x + y;
            if w <= 0.0 {
                continue;
            }
            let (s, u) = (x + y, x * y);
            let (w1, us) = (1.0 / w, x * y * (x + y));
            let (w2, w3) = (w1 * w1, w1 * w1 * w1);
            // f = u s / w; the bracketed numerators are d(us)/dx and d(us)/dy
            let (us_x, us_y) = (y * s + u, x * s + u);
            let c = pair.factor;
            result.value += c * us * w1;
            result.gradient[i] += c * (us_x * w1 - us * b * w2);
            result.gradient[j] += c * (us_y * w1 - us * w2);
            result.hessian[i][i] +=
                c * (2.0 * y * w1 - 2.0 * b * us_x * w2 + 2.0 * b * b * us * w3);
            result.hessian[j][j] += c * (2.0 * x * w1 - 2.0 * us_y * w2 + 2.0 * us * w3);
            let mixed = c * (2.0 * s * w1 - us_x * w2 - b * us_y * w2 + 2.0 * b * us * w3);
            result.hessian[i][j] += mixed;
            result.hessian[j][i] += mixed;
        }
        result
    }
}
