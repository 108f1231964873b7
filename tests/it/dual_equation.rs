//! The equations once more, term by term as the papers print them, over any kind of number.
//!
//! Nothing here is shared with the engine but the records: no tables, no recurrences, no
//! hand-made derivatives. Terms come one by one, so that the sum of their absolute values tells
//! how much of a sum cancels.

use num_dual::DualNum;
use zeotrope::Refrigerant;
use zeotrope::catalogue::Catalogue;
use zeotrope::catalogue::records::{IdealGasRecord, PairReducing, ResidualRecord};

/// All terms of a residual part at (tau, delta).
pub(crate) fn residual_terms<D: DualNum<f64> + Copy>(
    terms: &ResidualRecord,
    tau: D,
    delta: D,
) -> Vec<D> {
    let mut all = Vec::new();
    let monomial = |n: f64, t: f64, d: f64| tau.powf(t) * delta.powf(d) * n;
    let square = |x: D| x * x;
    if let Some(p) = &terms.power {
        for i in 0..p.n.len() {
            all.push(monomial(p.n[i], p.t[i], p.d[i]));
        }
    }
    if let Some(e) = &terms.exponential {
        for i in 0..e.n.len() {
            let g = e.g.as_ref().map_or(1.0, |g| g[i]);
            all.push(monomial(e.n[i], e.t[i], e.d[i]) * (delta.powf(e.l[i]) * -g).exp());
        }
    }
    if let Some(b) = &terms.gaussian {
        for i in 0..b.n.len() {
            let exponent =
                square(delta - b.epsilon[i]) * -b.eta[i] - square(tau - b.gamma[i]) * b.beta[i];
            all.push(monomial(b.n[i], b.t[i], b.d[i]) * exponent.exp());
        }
    }
    if let Some(b) = &terms.gao {
        for i in 0..b.n.len() {
            let in_tau = (square(tau - b.gamma[i]) * b.beta[i] + b.b[i]).recip();
            let exponent = square(delta - b.epsilon[i]) * -b.eta[i] + in_tau;
            all.push(monomial(b.n[i], b.t[i], b.d[i]) * exponent.exp());
        }
    }
    if let Some(b) = &terms.double_exponential {
        for i in 0..b.n.len() {
            let exponent = -delta.powf(b.l[i]) - tau.powf(b.m[i]);
            all.push(monomial(b.n[i], b.t[i], b.d[i]) * exponent.exp());
        }
    }
    if let Some(s) = &terms.non_analytic {
        for i in 0..s.n.len() {
            let distance = square(delta - 1.0);
            let theta = -tau + 1.0 + distance.powf(0.5 / s.beta[i]) * s.big_a[i];
            let big_delta = square(theta) + distance.powf(s.a[i]) * s.big_b[i];
            let psi = (distance * -s.big_c[i] - square(tau - 1.0) * s.big_d[i]).exp();
            all.push(big_delta.powf(s.b[i]) * delta * psi * s.n[i]);
        }
    }
    if let Some(b) = &terms.gerg_bell {
        for i in 0..b.n.len() {
            let exponent =
                square(delta - b.epsilon[i]) * -b.eta[i] - (delta - b.gamma[i]) * b.beta[i];
            all.push(monomial(b.n[i], b.t[i], b.d[i]) * exponent.exp());
        }
    }
    all
}

/// All terms of an ideal-gas part but ln(delta), with the published zero.
pub(crate) fn ideal_terms<D: DualNum<f64> + Copy>(
    terms: &IdealGasRecord,
    reducing_temperature: f64,
    tau: D,
) -> Vec<D> {
    let mut all = vec![
        D::from(terms.constant),
        tau * terms.linear,
        tau.ln() * terms.log_tau,
    ];
    if let Some(p) = &terms.power {
        all.extend(p.n.iter().zip(&p.t).map(|(&n, &t)| tau.powf(t) * n));
    }
    if let Some(p) = &terms.planck_einstein {
        let term = |(&n, &theta): (&f64, &f64)| (-(tau * -theta).exp() + 1.0).ln() * n;
        all.extend(p.n.iter().zip(&p.theta).map(term));
    }
    if let Some(p) = &terms.heat_capacity_polynomial {
        for (&n, &t) in p.n.iter().zip(&p.t) {
            // cp0/R = 1 - tau^2 d2alpha0/dtau2, integrated twice
            all.push(if t == 0.0 {
                tau.ln() * n
            } else if t == -1.0 {
                tau * tau.ln() * (-n / reducing_temperature)
            } else {
                (tau.recip() * reducing_temperature).powf(t) * (-n / (t * (t + 1.0)))
            });
        }
    }
    all
}

/// cp0/R at a temperature in K, straight from the record, without any derivative.
pub(crate) fn ideal_heat_capacity(
    terms: &IdealGasRecord,
    reducing_temperature: f64,
    t_k: f64,
) -> f64 {
    let tau = reducing_temperature / t_k;
    let mut cp = 1.0 + terms.log_tau;
    if let Some(p) = &terms.power {
        let pairs = p.n.iter().zip(&p.t);
        cp -= pairs
            .map(|(n, t)| n * t * (t - 1.0) * tau.powf(*t))
            .sum::<f64>();
    }
    if let Some(p) = &terms.planck_einstein {
        let pairs = p.n.iter().zip(&p.theta);
        // Einstein's function, n (x/2 / sinh(x/2))^2
        cp += pairs
            .map(|(n, theta)| n * (0.5 * theta * tau / (0.5 * theta * tau).sinh()).powi(2))
            .sum::<f64>();
    }
    if let Some(p) = &terms.heat_capacity_polynomial {
        let pairs = p.n.iter().zip(&p.t);
        cp += pairs.map(|(n, t)| n * t_k.powf(*t)).sum::<f64>();
    }
    cp
}

/// What a pair of a blend adds, by the places of its components in the order of `beta`.
pub(crate) struct PairTerms {
    first: usize,
    second: usize,
    reducing: PairReducing,
    departure: Option<(ResidualRecord, f64)>,
}

/// The pairs of a refrigerant's model, from the catalogue.
pub(crate) fn pair_terms(refrigerant: &Refrigerant) -> Vec<PairTerms> {
    let catalogue = Catalogue::embedded();
    let components = refrigerant.model().0.components();
    let mut pairs = Vec::new();
    for i in 0..components.len() {
        for j in i + 1..components.len() {
            let name = |k: usize| components[k].record.designation.as_str();
            let Some((record, swapped)) = catalogue.pair(name(i), name(j)).unwrap() else {
                continue;
            };
            let mut reducing = record.reducing;
            if let Some(refit) = &record.refitted {
                reducing.beta_t = refit.beta_t;
                reducing.gamma_t = refit.gamma_t;
            }
            let departure = record.departure.as_ref().map(|name| {
                let function = catalogue.departure(name).unwrap();
                (function.residual.clone(), record.departure_factor)
            });
            let (first, second) = if swapped { (j, i) } else { (i, j) };
            pairs.push(PairTerms {
                first,
                second,
                reducing,
                departure,
            });
        }
    }
    pairs
}

/// All terms of G(n, T) = R(n) N alphar(tau, delta, x), J/(K m3), the reducing functions as in
/// Kunz & Wagner, J. Chem. Eng. Data 57 (2012) 3032, eqs. 16 and 17.
pub(crate) fn mixture_terms<D: DualNum<f64> + Copy>(
    refrigerant: &Refrigerant,
    pairs: &[PairTerms],
    temperature: D,
    partial: &[D],
) -> Vec<D> {
    let components = refrigerant.model().0.components();
    let density = partial.iter().fold(D::from(0.0), |sum, n| sum + *n);
    let x: Vec<D> = partial.iter().map(|n| *n / density).collect();
    let (mut hot, mut volume) = (D::from(0.0), D::from(0.0));
    let mut gas_constant = D::from(0.0);
    for (component, x) in components.iter().zip(&x) {
        let record = &component.record;
        hot += *x * *x * record.reducing.temperature_k;
        volume += *x * *x / record.reducing.density_mol_m3;
        gas_constant += *x * record.gas_constant_j_mol_k;
    }
    for i in 0..x.len() {
        for j in i + 1..x.len() {
            let known = pairs
                .iter()
                .find(|p| (p.first, p.second) == (i, j) || (p.second, p.first) == (i, j));
            let (a, b, [beta_t, gamma_t, beta_v, gamma_v]) = match known {
                Some(pair) => {
                    let r = &pair.reducing;
                    let all = [r.beta_t, r.gamma_t, r.beta_v, r.gamma_v];
                    (pair.first, pair.second, all)
                }
                None => (i, j, [1.0; 4]),
            };
            let point = |k: usize| &components[k].record.reducing;
            let shape = |beta: f64| x[a] * x[b] * (x[a] + x[b]) / (x[a] * (beta * beta) + x[b]);
            let mean = (point(a).temperature_k * point(b).temperature_k).sqrt();
            hot += shape(beta_t) * (2.0 * beta_t * gamma_t * mean);
            let root = |k: usize| point(k).density_mol_m3.powf(-1.0 / 3.0);
            let mean = 0.125 * (root(a) + root(b)).powi(3);
            volume += shape(beta_v) * (2.0 * beta_v * gamma_v * mean);
        }
    }
    let (tau, delta) = (hot / temperature, density * volume);
    let whole = gas_constant * density;
    let mut all = Vec::new();
    for (component, x) in components.iter().zip(&x) {
        let terms = residual_terms(&component.record.residual, tau, delta);
        all.extend(terms.into_iter().map(|term| whole * *x * term));
    }
    for pair in pairs {
        if let Some((function, factor)) = &pair.departure {
            let weight = whole * x[pair.first] * x[pair.second] * *factor;
            let terms = residual_terms(function, tau, delta);
            all.extend(terms.into_iter().map(|term| weight * term));
        }
    }
    all
}
