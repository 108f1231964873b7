//! Residual terms of one or several Helmholtz functions, compiled to shared tables.
//!
//! All functions of a mixture (its components and departure functions) are evaluated at the same
//! tau and delta, so each distinct power of tau, power of delta and exponential of delta is made
//! once for all of them:
//!
//! ```text
//! regular term   n tau^t delta^d exp(-g delta^l)            (g = 0: power term)
//! bell           n tau^t delta^d exp(u(delta) + v(tau))     see bell.rs, and rare.rs for others
//! non-analytic   see non_analytic.rs
//! ```
//!
//! With A = d + delta u', the first and second logarithmic derivatives in delta of a term f are
//! f A and f (A^2 + delta A'); the same holds in tau with B = t + tau v'.
//!
//! The terms of a function are summed two side by side, which processors do in one go.

use super::bell::{Bells, push_bells};
use super::non_analytic::NonAnalytic;
use super::rare::{Rare, push_rare};
use super::{Derivatives, Isothermal, LANES, Lanes, each_lane};
use crate::catalogue::records;
use crate::error::{Error, Result};
use crate::numeric::exp;

/// Room for distinct powers of tau.
const MAX_TAU_POWERS: usize = 160;
/// The same in tables of one equation or two.
const FEW_TAU_POWERS: usize = 48;
/// The same in tables of most blends.
const SOME_TAU_POWERS: usize = 64;
/// Room for distinct exponentials of delta.
const MAX_BLOCKS: usize = 24;
/// Room for distinct monomials delta^d exp(-g delta^l).
const MAX_MONOMIALS: usize = 96;
/// The same in tables of one equation or two.
const FEW_MONOMIALS: usize = 32;
/// The same in tables of most blends.
const SOME_MONOMIALS: usize = 40;
/// Room for bells, by pairs.
const MAX_BELLS: usize = 64;
/// Room for rare terms.
const MAX_RARE: usize = 16;
/// Room for non-analytic terms.
const MAX_NON_ANALYTIC: usize = 8;
/// Room for integer powers of delta.
const MAX_DELTA_POWER: usize = 24;
/// Room for functions: components and departures of eight components.
pub(super) const MAX_FUNCTIONS: usize = 36;

/// Two regular terms of one function: factors, and rows in the tables of tau and delta. Where
/// there is but one, the other has the factor 0.
#[derive(Debug, Clone, Copy)]
struct Regular {
    n: Lanes,
    t: Lanes,
    tau: [u16; LANES],
    monomial: [u16; LANES],
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
    /// Function by function, and where those of each end.
    regular: Vec<Regular>,
    regular_ends: Vec<usize>,
    bells: Vec<Bells>,
    rare: Vec<Rare>,
    non_analytic: Vec<(usize, NonAnalytic)>,
}

/// The delta part of a monomial at one delta: delta^d exp(-g delta^l), A = d - l g delta^l and
/// A^2 + delta A'; the last is not used.
type Monomial = [f64; 4];

/// The residual of fixed composition on an isotherm, its tau part folded into factors.
#[derive(Debug, Clone)]
pub struct ResidualIsotherm<'a> {
    residual: &'a Residual,
    tau: f64,
    factors: [f64; MAX_MONOMIALS],
    bells: [Lanes; MAX_BELLS],
    rare: [f64; MAX_RARE],
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
    // Long because each shape of term is read once, next to the others that share its powers.
    pub fn new(functions: &[&records::ResidualRecord]) -> Result<Self> {
        // (l, g, d) and t of every regular term, before they are shared
        let mut regular: Vec<(usize, f64, f64, f64, f64, f64)> = Vec::new();
        let (mut bells, mut rare) = (Vec::new(), Vec::new());
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
            push_rare(&mut rare, function, terms);
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
        let mut decays: Vec<(f64, f64)> = shapes.iter().map(|&(l, g, _)| (l, g)).collect();
        decays.dedup();
        if tau_powers.len() > MAX_TAU_POWERS
            || decays.len() > MAX_BLOCKS
            || shapes.len() > MAX_MONOMIALS
            || bells.len() > MAX_BELLS
            || rare.len() > MAX_RARE
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
        let place = |shape: (f64, f64, f64)| shapes.iter().position(|other| *other == shape);
        let power = |t: f64| tau_powers.iter().position(|other| *other == t);
        let (mut pairs, mut regular_ends) = (Vec::new(), Vec::new());
        for function in 0..functions.len() {
            let own = regular.iter().filter(|term| term.0 == function);
            let mut own: Vec<(usize, usize, f64, f64)> = own
                .map(|&(_, n, t, d, l, g)| {
                    (place((l, g, d)).unwrap_or(0), power(t).unwrap_or(0), n, t)
                })
                .collect();
            own.sort_by_key(|term| term.0);
            for pair in own.chunks(LANES) {
                let mut terms = Regular {
                    n: [0.0; LANES],
                    t: [0.0; LANES],
                    tau: [0; LANES],
                    monomial: [0; LANES],
                };
                for (k, &(monomial, tau, n, t)) in pair.iter().enumerate() {
                    (terms.n[k], terms.t[k]) = (n, t);
                    (terms.tau[k], terms.monomial[k]) = (tau as u16, monomial as u16);
                }
                pairs.push(terms);
            }
            regular_ends.push(pairs.len());
        }
        let highest = shapes
            .iter()
            .fold(0.0, |m: f64, &(l, _, d)| m.max(d).max(l));
        Ok(Self {
            functions: functions.len(),
            tau_powers,
            blocks,
            monomials: shapes.iter().map(|shape| exponent(shape.2)).collect(),
            highest_power: all_small.then_some(highest as usize),
            regular: pairs,
            regular_ends,
            bells,
            rare,
            non_analytic,
        })
    }

    /// Number of functions compiled together.
    pub fn functions(&self) -> usize {
        self.functions
    }

    #[inline(always)]
    fn tau_table<const POWERS: usize>(&self, log_tau: f64, table: &mut [f64; POWERS]) {
        for (value, t) in table.iter_mut().zip(&self.tau_powers) {
            *value = exp(t * log_tau);
        }
    }

    /// Calls `with(monomial, value, A, A^2 + delta A')` for each monomial.
    // How a power is made is settled outside the loops: the compiler leaves that where it stands.
    #[inline(always)]
    fn each_monomial(&self, delta: f64, with: impl FnMut(usize, f64, f64, f64)) {
        match self.highest_power {
            Some(highest) => {
                let mut powers = [1.0; MAX_DELTA_POWER + 1];
                for k in 1..=highest {
                    powers[k] = powers[k - 1] * delta;
                }
                self.each_monomial_of(|exponent| powers[exponent.place], with);
            }
            None => {
                let log_delta = delta.ln();
                self.each_monomial_of(|exponent| exp(exponent.value * log_delta), with);
            }
        }
    }

    /// The same with the powers of delta.
    #[inline(always)]
    fn each_monomial_of(
        &self,
        power: impl Fn(Exponent) -> f64,
        mut with: impl FnMut(usize, f64, f64, f64),
    ) {
        let (mut q, mut decay) = ([0.0; MAX_BLOCKS], [0.0; MAX_BLOCKS]);
        for (q, block) in q.iter_mut().zip(&self.blocks) {
            *q = block.g * power(block.l);
        }
        for (decay, q) in decay.iter_mut().zip(&q).take(self.blocks.len()) {
            *decay = exp(-q);
        }
        for ((block, q), decay) in self.blocks.iter().zip(&q).zip(&decay) {
            let lq = block.l.value * q;
            let llq = block.l.value * lq;
            for index in block.start..block.end {
                let d = self.monomials[index];
                let slope = d.value - lq;
                with(index, power(d) * decay, slope, slope * slope - llq);
            }
        }
    }

    /// The sum of all functions times `weights`, with all derivatives to second order.
    pub fn derivatives(&self, weights: &[f64], tau: f64, delta: f64) -> Derivatives {
        let mut sum = Derivatives::default();
        self.each_part(tau, delta, |function, part| {
            sum.add(weights[function], part)
        });
        sum
    }

    /// Each function by itself to first order, and the sum times `weights` to second order.
    pub fn by_function(&self, weights: &[f64], tau: f64, delta: f64) -> ByFunction {
        let mut result = ByFunction {
            a: [0.0; MAX_FUNCTIONS],
            d: [0.0; MAX_FUNCTIONS],
            t: [0.0; MAX_FUNCTIONS],
            sum: Derivatives::default(),
        };
        self.each_part(tau, delta, |function, part| {
            result.a[function] += part.a;
            result.d[function] += part.d;
            result.t[function] += part.t;
            result.sum.add(weights[function], part);
        });
        result
    }

    /// Calls `with(function, part)` for each part of each function.
    #[inline(always)]
    fn each_part(&self, tau: f64, delta: f64, with: impl FnMut(usize, &Derivatives)) {
        let holds = |powers, monomials| {
            self.tau_powers.len() <= powers && self.monomials.len() <= monomials
        };
        if holds(FEW_TAU_POWERS, FEW_MONOMIALS) {
            self.each_part_of::<FEW_TAU_POWERS, FEW_MONOMIALS>(tau, delta, with);
        } else if holds(SOME_TAU_POWERS, SOME_MONOMIALS) {
            self.each_part_of::<SOME_TAU_POWERS, SOME_MONOMIALS>(tau, delta, with);
        } else {
            self.each_part_of::<MAX_TAU_POWERS, MAX_MONOMIALS>(tau, delta, with);
        }
    }

    /// The same with tables of a size.
    #[inline(always)]
    fn each_part_of<const POWERS: usize, const MONOMIALS: usize>(
        &self,
        tau: f64,
        delta: f64,
        mut with: impl FnMut(usize, &Derivatives),
    ) {
        let log_tau = tau.ln();
        let mut powers = [0.0; POWERS];
        self.tau_table(log_tau, &mut powers);
        let mut monomials: [Monomial; MONOMIALS] = [[0.0; 4]; MONOMIALS];
        self.each_monomial(delta, |index, value, slope, curvature| {
            monomials[index] = [value, slope, curvature, 0.0];
        });
        let mut start = 0;
        for (function, &end) in self.regular_ends.iter().enumerate() {
            let mut sums = [[0.0; LANES]; 6];
            for terms in &self.regular[start..end] {
                let of = |part: usize| -> Lanes {
                    std::array::from_fn(|k| monomials[usize::from(terms.monomial[k])][part])
                };
                let power: Lanes = std::array::from_fn(|k| powers[usize::from(terms.tau[k])]);
                let (value, slope, curvature) = (of(0), of(1), of(2));
                each_lane(|k| {
                    let value = terms.n[k] * power[k] * value[k];
                    let (d, t) = (value * slope[k], value * terms.t[k]);
                    sums[0][k] += value;
                    sums[1][k] += d;
                    sums[2][k] += t;
                    sums[3][k] += value * curvature[k];
                    sums[4][k] += d * terms.t[k];
                    sums[5][k] += t * terms.t[k];
                });
            }
            start = end;
            with(function, &Derivatives::from_lanes(sums));
        }
        if !(self.bells.is_empty() && self.rare.is_empty()) {
            let log_delta = delta.ln();
            for bells in &self.bells {
                with(
                    bells.function,
                    &bells.derivatives(tau, log_tau, delta, log_delta),
                );
            }
            for term in &self.rare {
                with(
                    term.function,
                    &term.derivatives(tau, log_tau, delta, log_delta),
                );
            }
        }
        for (function, term) in &self.non_analytic {
            with(*function, &term.derivatives(tau, delta));
        }
    }

    /// Folds the tau part at `tau` of the sum of all functions times `weights`.
    #[inline]
    pub fn isotherm(&self, weights: &[f64], tau: f64) -> ResidualIsotherm<'_> {
        let mut isotherm = ResidualIsotherm {
            residual: self,
            tau,
            factors: [0.0; MAX_MONOMIALS],
            bells: [[0.0; LANES]; MAX_BELLS],
            rare: [0.0; MAX_RARE],
            non_analytic_weights: [0.0; MAX_NON_ANALYTIC],
        };
        if self.tau_powers.len() <= FEW_TAU_POWERS {
            self.fold::<FEW_TAU_POWERS>(weights, &mut isotherm);
        } else {
            self.fold::<MAX_TAU_POWERS>(weights, &mut isotherm);
        }
        isotherm
    }

    #[inline(always)]
    fn fold<const POWERS: usize>(&self, weights: &[f64], isotherm: &mut ResidualIsotherm<'_>) {
        let tau = isotherm.tau;
        let log_tau = tau.ln();
        let mut powers = [0.0; POWERS];
        self.tau_table(log_tau, &mut powers);
        let mut start = 0;
        for (weight, &end) in weights.iter().zip(&self.regular_ends) {
            for terms in &self.regular[start..end] {
                for k in 0..LANES {
                    let power = powers[usize::from(terms.tau[k])];
                    isotherm.factors[usize::from(terms.monomial[k])] += weight * terms.n[k] * power;
                }
            }
            start = end;
        }
        for (folded, bells) in isotherm.bells.iter_mut().zip(&self.bells) {
            *folded = bells.folded(weights[bells.function], tau, log_tau);
        }
        for (folded, term) in isotherm.rare.iter_mut().zip(&self.rare) {
            *folded = weights[term.function] * term.folded(tau, log_tau);
        }
        let own = isotherm.non_analytic_weights.iter_mut();
        for (weight, (function, _)) in own.zip(&self.non_analytic) {
            *weight = weights[*function];
        }
    }
}

impl ResidualIsotherm<'_> {
    /// Value and density derivatives at `delta`.
    pub fn density_derivatives(&self, delta: f64) -> Isothermal {
        let mut sum = Isothermal::default();
        self.residual
            .each_monomial(delta, |index, value, slope, curvature| {
                let c = self.factors[index] * value;
                sum.a += c;
                sum.d += c * slope;
                sum.dd += c * curvature;
            });
        let (bells, rare) = (&self.residual.bells, &self.residual.rare);
        if !(bells.is_empty() && rare.is_empty()) {
            let log_delta = delta.ln();
            let bells = self.bells.iter().zip(bells);
            let rare = self.rare.iter().zip(rare);
            let parts = bells
                .map(|(folded, bells)| bells.folded_at(folded, delta, log_delta))
                .chain(rare.map(|(folded, term)| term.folded_at(*folded, delta, log_delta)));
            for [a, d, dd] in parts {
                sum.a += a;
                sum.d += d;
                sum.dd += dd;
            }
        }
        let terms = self.residual.non_analytic.iter();
        for (weight, (_, term)) in self.non_analytic_weights.iter().zip(terms) {
            let derivatives = term.derivatives(self.tau, delta);
            sum.a += weight * derivatives.a;
            sum.d += weight * derivatives.d;
            sum.dd += weight * derivatives.dd;
        }
        sum
    }
}
