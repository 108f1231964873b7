//! Residual terms of one or several Helmholtz functions, compiled to shared tables.
//!
//! All functions of a mixture (its components and departure functions) are evaluated at the same
//! tau and delta, so each distinct power of tau, power of delta and exponential of delta is made
//! once for all of them:
//!
//! ```text
//! regular term   n tau^t delta^d exp(-g delta^l)            (g = 0: power term)
//! bell           n tau^t delta^d exp(u(delta) + v(tau))
//! non-analytic   see non_analytic.rs
//! ```
//!
//! With A = d + delta u', the first and second logarithmic derivatives in delta of a term f are
//! f A and f (A^2 + delta A'); the same holds in tau with B = t + tau v'.

use super::bell::{Bell, push_bells};
use super::non_analytic::NonAnalytic;
use super::{Derivatives, Isothermal};
use crate::catalogue::records;
use crate::error::{Error, Result};
use crate::numeric::exp;

/// Room for distinct powers of tau.
const MAX_TAU_POWERS: usize = 160;
/// Room for distinct monomials delta^d exp(-g delta^l).
const MAX_MONOMIALS: usize = 96;
/// Room for bells.
const MAX_BELLS: usize = 64;
/// Room for non-analytic terms.
const MAX_NON_ANALYTIC: usize = 8;
/// Room for integer powers of delta.
const MAX_DELTA_POWER: usize = 24;
/// Room for functions: components and departures of eight components.
pub(super) const MAX_FUNCTIONS: usize = 36;

/// A regular term: which function, factor, and its rows in the tables of tau and delta.
#[derive(Debug, Clone, Copy)]
struct Regular {
    function: usize,
    n: f64,
    t: f64,
    tau: usize,
    monomial: usize,
}

/// An exponent of delta, and its place among the integer powers where all are small integers.
#[derive(Debug, Clone, Copy)]
struct Exponent {
    value: f64,
    place: usize,
}

/// exp(-g delta^l), shared by the monomials from `start` to `end`.
#[derive(Debug, Clone, Copy)]
struct Block {
    g: f64,
    l: Exponent,
    start: usize,
    end: usize,
}

/// The residual parts of one or several functions, compiled.
#[derive(Debug, Clone)]
pub struct Residual {
    functions: usize,
    tau_powers: Vec<f64>,
    blocks: Vec<Block>,
    /// Exponents d of delta, in the order of the blocks.
    monomials: Vec<Exponent>,
    /// Largest integer exponent of delta; `None` where one is not a small integer.
    highest_power: Option<usize>,
    /// Function by function, and where the terms of each end.
    regular: Vec<Regular>,
    function_ends: Vec<usize>,
    /// The same terms monomial by monomial, and where the terms of each end.
    by_monomial: Vec<Regular>,
    monomial_ends: Vec<usize>,
    bells: Vec<Bell>,
    non_analytic: Vec<(usize, NonAnalytic)>,
}

/// The delta part of all monomials at one delta: delta^d exp(-g delta^l), A = d - l g delta^l and
/// A^2 + delta A'.
type DeltaTable = [[f64; 3]; MAX_MONOMIALS];

/// The residual of fixed composition on an isotherm, its tau part folded into factors.
#[derive(Debug, Clone)]
pub struct ResidualIsotherm<'a> {
    residual: &'a Residual,
    tau: f64,
    factors: [f64; MAX_MONOMIALS],
    bell_factors: [f64; MAX_BELLS],
    /// Weights of the functions that the non-analytic terms belong to.
    non_analytic_weights: [f64; MAX_NON_ANALYTIC],
}

/// Values and first derivatives of each function, and the weighted sum of the second derivatives.
#[derive(Debug, Clone, Copy)]
pub struct ByFunction {
    /// Value of each function.
    pub a: [f64; MAX_FUNCTIONS],
    /// delta d/ddelta of each function.
    pub d: [f64; MAX_FUNCTIONS],
    /// tau d/dtau of each function.
    pub t: [f64; MAX_FUNCTIONS],
    /// The weighted sum of all.
    pub sum: Derivatives,
}

impl Residual {
    /// Compiles the residual parts of `functions`.
    ///
    /// # Errors
    /// [`Error::Composition`] when the functions together have more distinct terms than the
    /// tables hold (more than any eight published equations here have).
    pub fn new(functions: &[&records::Residual]) -> Result<Self> {
        // (l, g, d) and t of every regular term, before they are shared
        let mut regular: Vec<(usize, f64, f64, f64, f64, f64)> = Vec::new();
        let mut bells = Vec::new();
        let mut non_analytic = Vec::new();
        for (function, terms) in functions.iter().enumerate() {
            if let Some(power) = &terms.power {
                for k in 0..power.n.len() {
                    regular.push((function, power.n[k], power.t[k], power.d[k], 0.0, 0.0));
                }
            }
            if let Some(exponential) = &terms.exponential {
                for k in 0..exponential.n.len() {
                    let g = exponential.g.as_ref().map_or(1.0, |g| g[k]);
                    regular.push((
                        function,
                        exponential.n[k],
                        exponential.t[k],
                        exponential.d[k],
                        exponential.l[k],
                        g,
                    ));
                }
            }
            push_bells(&mut bells, function, terms);
            if let Some(terms) = &terms.non_analytic {
                for k in 0..terms.n.len() {
                    let term = NonAnalytic {
                        n: terms.n[k],
                        a: terms.a[k],
                        b: terms.b[k],
                        beta: terms.beta[k],
                        big_a: terms.big_a[k],
                        big_b: terms.big_b[k],
                        big_c: terms.big_c[k],
                        big_d: terms.big_d[k],
                    };
                    non_analytic.push((function, term));
                }
            }
        }

        let mut tau_powers: Vec<f64> = regular.iter().map(|term| term.2).collect();
        tau_powers.sort_by(f64::total_cmp);
        tau_powers.dedup();
        let mut shapes: Vec<(f64, f64, f64)> = regular
            .iter()
            .map(|&(_, _, _, d, l, g)| (l, g, d))
            .collect();
        shapes.sort_by(|x, y| {
            (x.0.total_cmp(&y.0))
                .then(x.1.total_cmp(&y.1))
                .then(x.2.total_cmp(&y.2))
        });
        shapes.dedup();
        if tau_powers.len() > MAX_TAU_POWERS
            || shapes.len() > MAX_MONOMIALS
            || bells.len() > MAX_BELLS
            || non_analytic.len() > MAX_NON_ANALYTIC
            || functions.len() > MAX_FUNCTIONS
        {
            return Err(Error::Composition {
                literal: String::new(),
                problem: "the components' equations have too many terms together".into(),
                hint: "use fewer components".into(),
            });
        }
        let is_small = |x: f64| x >= 0.0 && x.fract() == 0.0 && x <= MAX_DELTA_POWER as f64;
        let all_small = shapes.iter().all(|&(l, _, d)| is_small(d) && is_small(l));
        let exponent = |value: f64| Exponent {
            value,
            place: if all_small { value as usize } else { 0 },
        };
        let mut blocks: Vec<Block> = Vec::new();
        for (index, &(l, g, _)) in shapes.iter().enumerate() {
            match blocks.last_mut() {
                Some(block) if block.l.value == l && block.g == g => block.end = index + 1,
                _ => blocks.push(Block {
                    g,
                    l: exponent(l),
                    start: index,
                    end: index + 1,
                }),
            }
        }
        let position =
            |shape: (f64, f64, f64)| shapes.iter().position(|other| *other == shape).unwrap_or(0);
        let mut regular: Vec<Regular> = regular
            .iter()
            .map(|&(function, n, t, d, l, g)| Regular {
                function,
                n,
                t,
                tau: tau_powers.iter().position(|other| *other == t).unwrap_or(0),
                monomial: position((l, g, d)),
            })
            .collect();
        regular.sort_by_key(|term| (term.function, term.monomial));
        let function_ends = (0..functions.len())
            .map(|k| regular.partition_point(|term| term.function <= k))
            .collect();
        let mut by_monomial = regular.clone();
        by_monomial.sort_by_key(|term| term.monomial);
        let monomial_ends = (0..shapes.len())
            .map(|k| by_monomial.partition_point(|term| term.monomial <= k))
            .collect();
        let highest = shapes
            .iter()
            .fold(0.0, |m: f64, &(l, _, d)| m.max(d).max(l));
        Ok(Self {
            functions: functions.len(),
            tau_powers,
            blocks,
            monomials: shapes.iter().map(|shape| exponent(shape.2)).collect(),
            highest_power: all_small.then_some(highest as usize),
            regular,
            function_ends,
            by_monomial,
            monomial_ends,
            bells,
            non_analytic,
        })
    }

    /// Number of functions compiled together.
    pub fn functions(&self) -> usize {
        self.functions
    }

    #[inline(always)]
    fn tau_table(&self, log_tau: f64) -> [f64; MAX_TAU_POWERS] {
        let mut table = [0.0; MAX_TAU_POWERS];
        for (value, t) in table.iter_mut().zip(&self.tau_powers) {
            *value = exp(t * log_tau);
        }
        table
    }

    /// Calls `with(monomial, value, A, A^2 + delta A')` for each monomial.
    #[inline(always)]
    fn each_monomial(&self, delta: f64, mut with: impl FnMut(usize, f64, f64, f64)) {
        let mut powers = [1.0; MAX_DELTA_POWER + 1];
        let log_delta = match self.highest_power {
            Some(highest) => {
                for k in 1..=highest {
                    powers[k] = powers[k - 1] * delta;
                }
                0.0
            }
            None => delta.ln(),
        };
        let power = |exponent: Exponent| match self.highest_power {
            Some(_) => powers[exponent.place],
            None => exp(exponent.value * log_delta),
        };
        for block in &self.blocks {
            let (q, decay) = if block.g == 0.0 {
                (0.0, 1.0)
            } else {
                let q = block.g * power(block.l);
                (q, exp(-q))
            };
            let lq = block.l.value * q;
            let llq = block.l.value * lq;
            for index in block.start..block.end {
                let d = self.monomials[index];
                let slope = d.value - lq;
                with(index, power(d) * decay, slope, slope * slope - llq);
            }
        }
    }

    #[inline(always)]
    fn delta_table(&self, delta: f64) -> DeltaTable {
        let mut table = [[0.0; 3]; MAX_MONOMIALS];
        self.each_monomial(delta, |index, value, slope, curvature| {
            table[index] = [value, slope, curvature];
        });
        table
    }

    /// The sum of all functions times `weights`, with all derivatives to second order.
    pub fn at(&self, weights: &[f64], tau: f64, delta: f64) -> Derivatives {
        let log_tau = tau.ln();
        let tau_table = self.tau_table(log_tau);
        let mut sum = Derivatives::default();
        let mut start = 0;
        self.each_monomial(delta, |index, value, slope, curvature| {
            // sum of w n tau^t, and of that times t and t^2
            let (mut c, mut ct, mut ctt) = (0.0, 0.0, 0.0);
            let end = self.monomial_ends[index];
            for term in &self.by_monomial[start..end] {
                let part = weights[term.function] * term.n * tau_table[term.tau];
                c += part;
                ct += part * term.t;
                ctt += part * term.t * term.t;
            }
            start = end;
            sum.a += c * value;
            sum.d += c * value * slope;
            sum.dd += c * value * curvature;
            sum.t += ct * value;
            sum.dt += ct * value * slope;
            sum.tt += ctt * value;
        });
        let log_delta = delta.ln();
        for bell in &self.bells {
            let derivatives = bell.at(tau, log_tau, delta, log_delta);
            sum.add(weights[bell.function], &derivatives);
        }
        for (function, term) in &self.non_analytic {
            sum.add(weights[*function], &term.at(tau, delta));
        }
        sum
    }

    /// Each function by itself to first order, and the sum times `weights` to second order.
    pub fn by_function(&self, weights: &[f64], tau: f64, delta: f64) -> ByFunction {
        let log_tau = tau.ln();
        let tau_table = self.tau_table(log_tau);
        let table = self.delta_table(delta);
        let mut result = ByFunction {
            a: [0.0; MAX_FUNCTIONS],
            d: [0.0; MAX_FUNCTIONS],
            t: [0.0; MAX_FUNCTIONS],
            sum: Derivatives::default(),
        };
        let mut start = 0;
        let (mut dd, mut dt, mut tt) = (0.0, 0.0, 0.0);
        for (k, &end) in self.function_ends.iter().enumerate() {
            let weight = weights[k];
            let (mut own_a, mut own_d, mut own_t) = (0.0, 0.0, 0.0);
            for term in &self.regular[start..end] {
                let [value, slope, curvature] = table[term.monomial];
                let value = term.n * tau_table[term.tau] * value;
                let d = value * slope;
                own_a += value;
                own_d += d;
                own_t += value * term.t;
                dd += weight * value * curvature;
                dt += weight * d * term.t;
                tt += weight * value * term.t * term.t;
            }
            start = end;
            (result.a[k], result.d[k], result.t[k]) = (own_a, own_d, own_t);
        }
        (result.sum.dd, result.sum.dt, result.sum.tt) = (dd, dt, tt);
        let log_delta = delta.ln();
        let others = self
            .bells
            .iter()
            .map(|bell| (bell.function, bell.at(tau, log_tau, delta, log_delta)))
            .chain(
                self.non_analytic
                    .iter()
                    .map(|(k, term)| (*k, term.at(tau, delta))),
            );
        for (k, derivatives) in others {
            result.a[k] += derivatives.a;
            result.d[k] += derivatives.d;
            result.t[k] += derivatives.t;
            result.sum.dd += weights[k] * derivatives.dd;
            result.sum.dt += weights[k] * derivatives.dt;
            result.sum.tt += weights[k] * derivatives.tt;
        }
        for (k, weight) in weights[..self.functions].iter().enumerate() {
            result.sum.a += weight * result.a[k];
            result.sum.d += weight * result.d[k];
            result.sum.t += weight * result.t[k];
        }
        result
    }

    /// Folds the tau part at `tau` of the sum of all functions times `weights`.
    #[inline]
    pub fn isotherm(&self, weights: &[f64], tau: f64) -> ResidualIsotherm<'_> {
        let log_tau = tau.ln();
        let tau_table = self.tau_table(log_tau);
        let mut isotherm = ResidualIsotherm {
            residual: self,
            tau,
            factors: [0.0; MAX_MONOMIALS],
            bell_factors: [0.0; MAX_BELLS],
            non_analytic_weights: [0.0; MAX_NON_ANALYTIC],
        };
        let mut start = 0;
        for (factor, &end) in isotherm.factors.iter_mut().zip(&self.monomial_ends) {
            let terms = self.by_monomial[start..end].iter();
            *factor = terms
                .map(|term| weights[term.function] * term.n * tau_table[term.tau])
                .sum();
            start = end;
        }
        for (factor, bell) in isotherm.bell_factors.iter_mut().zip(&self.bells) {
            let (v, _, _) = bell.tau.exponent(tau);
            *factor = weights[bell.function] * bell.n * exp(bell.t * log_tau + v);
        }
        let own = isotherm.non_analytic_weights.iter_mut();
        for (weight, (function, _)) in own.zip(&self.non_analytic) {
            *weight = weights[*function];
        }
        isotherm
    }
}

impl ResidualIsotherm<'_> {
    /// Value and density derivatives at `delta`.
    pub fn at(&self, delta: f64) -> Isothermal {
        let mut sum = Isothermal::default();
        self.residual
            .each_monomial(delta, |index, value, slope, curvature| {
                let c = self.factors[index] * value;
                sum.a += c;
                sum.d += c * slope;
                sum.dd += c * curvature;
            });
        if !self.residual.bells.is_empty() {
            let log_delta = delta.ln();
            for (factor, bell) in self.bell_factors.iter().zip(&self.residual.bells) {
                let (u, slope, change) = bell.delta.exponent(delta);
                let c = factor * exp(bell.d * log_delta + u);
                let slope = bell.d + slope;
                sum.a += c;
                sum.d += c * slope;
                sum.dd += c * (slope * slope + change);
            }
        }
        let terms = self.residual.non_analytic.iter();
        for (weight, (_, term)) in self.non_analytic_weights.iter().zip(terms) {
            let derivatives = term.at(self.tau, delta);
            sum.a += weight * derivatives.a;
            sum.d += weight * derivatives.d;
            sum.dd += weight * derivatives.dd;
        }
        sum
    }
}
