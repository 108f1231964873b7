//! Every hand-made derivative against automatic differentiation of the formulas as printed
//! (`dual_equation.rs`), at random states.
//!
//! A difference is judged against the sum of the absolute values of all terms, which is what
//! rounding of a sum that cancels is relative to.

use num_dual::{DualNum, HyperDual64};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use zeotrope::Refrigerant;
use zeotrope::catalogue::Catalogue;
use zeotrope::helmholtz::MoleFractions;

use crate::dual_equation::{
    ideal_heat_capacity, ideal_terms, mixture_terms, pair_terms, residual_terms,
};

/// A runner that draws the same cases each time; `PROPTEST_CASES` asks for more.
pub(crate) fn runner(cases: u32) -> TestRunner {
    let asked = std::env::var("PROPTEST_CASES").ok();
    let cases = asked.and_then(|text| text.parse().ok()).unwrap_or(cases);
    let config = Config {
        cases,
        failure_persistence: None,
        ..Config::default()
    };
    TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha))
}

/// All pure refrigerants of the catalogue.
pub(crate) fn pures() -> Vec<Refrigerant> {
    let all: Vec<Refrigerant> = Catalogue::embedded()
        .pure_designations()
        .iter()
        .map(|designation| Refrigerant::named(designation).unwrap())
        .collect();
    assert_eq!(all.len(), 72);
    all
}

fn close(what: &str, ours: f64, sum: f64, scale: f64, tolerance: f64) -> Result<(), TestCaseError> {
    let error = (ours - sum).abs() / scale.max(f64::MIN_POSITIVE);
    prop_assert!(
        error <= tolerance,
        "{what}: {ours} beside {sum}, {error:e} of {scale}"
    );
    Ok(())
}

/// Sum of one part of all terms, and of its absolute values.
fn summed(terms: &[HyperDual64], part: impl Fn(&HyperDual64) -> f64) -> (f64, f64) {
    let sum = terms.iter().map(&part).sum();
    (sum, terms.iter().map(|term| part(term).abs()).sum())
}

/// `value` as a number whose derivatives are those by the logarithm of itself: d e^u / du = e^u.
fn logarithmic(value: f64, once: bool, again: bool) -> HyperDual64 {
    let part = |yes: bool| if yes { value } else { 0.0 };
    HyperDual64::new(value, part(once), part(again), part(once && again))
}

#[test]
fn residual_parts_of_all_pure_refrigerants() {
    let all = pures();
    // density over the reducing density: thin gas to compressed liquid
    let states = (0.0..1.0_f64, prop_oneof![1e-6..0.1_f64, 0.1..3.2_f64]);
    runner(64)
        .run(&states, |(place, delta)| {
            for refrigerant in &all {
                let (mixture, x) = refrigerant.model();
                let record = &mixture.components()[0].record;
                let range = &record.range;
                let cold = range.temperature_min_k;
                let hot = range
                    .temperature_max_k
                    .min(3.0 * record.reducing.temperature_k);
                let temperature = cold * (hot / cold).powf(place);
                let tau = record.reducing.temperature_k / temperature;
                let density = delta * record.reducing.density_mol_m3;
                let fixed = mixture.at_composition(x);
                let ours = fixed.residual(temperature, density);
                let name = refrigerant.designation();
                let terms = |t: [bool; 2], d: [bool; 2]| {
                    let tau = logarithmic(tau, t[0], t[1]);
                    let delta = logarithmic(delta, d[0], d[1]);
                    residual_terms(&record.residual, tau, delta)
                };
                let same = terms([false; 2], [true; 2]);
                let (a, a_scale) = summed(&same, |term| term.re);
                let (d, d_scale) = summed(&same, |term| term.eps1);
                let (dd, dd_scale) = summed(&same, |term| term.eps1eps2);
                let same = terms([true; 2], [false; 2]);
                let (t, t_scale) = summed(&same, |term| term.eps1);
                let (tt, tt_scale) = summed(&same, |term| term.eps1eps2);
                let mixed = terms([true, false], [false, true]);
                let (dt, dt_scale) = summed(&mixed, |term| term.eps1eps2);
                for (what, ours, sum, scale) in [
                    ("a", ours.a, a, a_scale),
                    ("d", ours.d, d, d_scale),
                    ("t", ours.t, t, t_scale),
                    ("dd", ours.dd, dd, dd_scale),
                    ("dt", ours.dt, dt, dt_scale),
                    ("tt", ours.tt, tt, tt_scale),
                ] {
                    let what = format!("{name} {what} at {temperature} K, delta {delta}");
                    close(&what, ours, sum, scale, RESIDUAL)?;
                }
                let along = fixed.isotherm(temperature).residual(density);
                for (what, ours, full, scale) in [
                    ("a", along.a, ours.a, a_scale),
                    ("d", along.d, ours.d, d_scale),
                    ("dd", along.dd, ours.dd, dd_scale),
                ] {
                    let what = format!("{name} isotherm {what} at {temperature} K, delta {delta}");
                    close(&what, ours, full, scale, RESIDUAL)?;
                }
            }
            Ok(())
        })
        .unwrap();
}

/// Asked of pure refrigerants.
const RESIDUAL: f64 = 1e-10;

#[test]
fn ideal_parts_of_all_pure_refrigerants() {
    let all = pures();
    runner(64)
        .run(&(0.0..1.0_f64), |place| {
            for refrigerant in &all {
                let (mixture, _) = refrigerant.model();
                let component = &mixture.components()[0];
                let record = &component.record;
                let range = &record.range;
                let cold = range.temperature_min_k;
                let temperature = cold * (range.temperature_max_k / cold).powf(place);
                let reducing = record.reducing.temperature_k;
                let tau = logarithmic(reducing / temperature, true, true);
                let terms = ideal_terms(&record.ideal_gas, reducing, tau);
                let ours = component.ideal.derivatives(temperature);
                let [constant, linear] = component.ideal.published_shift(temperature);
                // ln(delta) = ln(rho) - ln(rho_r)
                let unit = -record.reducing.density_mol_m3.ln();
                for (what, ours, part) in [
                    (
                        "a",
                        ours.a + constant - unit,
                        (|term: &HyperDual64| term.re) as fn(&_) -> f64,
                    ),
                    ("t", ours.t + linear, |term| term.eps1),
                    ("tt", ours.tt + linear, |term| term.eps1eps2),
                ] {
                    let (sum, scale) = summed(&terms, part);
                    let what = format!("{} {what} at {temperature} K", record.designation);
                    close(&what, ours, sum, scale + linear.abs() + 1.0, 1e-12)?;
                }
                // cp0/R = 1 - tau^2 alpha0_tautau
                let cp = ideal_heat_capacity(&record.ideal_gas, reducing, temperature);
                let what = format!("{} cp0/R at {temperature} K", record.designation);
                let scale = ours.tt.abs() + ours.t.abs() + cp;
                close(&what, 1.0 - (ours.tt - ours.t), cp, scale, 1e-11)?;
            }
            Ok(())
        })
        .unwrap();
}

/// Listed blends of two to six components, with departure functions, reducing parameters alone,
/// and estimated pairs.
const BLENDS: [&str; 6] = ["R-410A", "R-407C", "R-448A", "R-455A", "R-513A", "R-417C"];

/// Literals beside them, the last of six components.
const LITERALS: [&str; 2] = [
    "R-744/R-50/R-728 (40/30/30)",
    "R-32/R-125/R-134a/R-1234yf/R-1234ze(E)/R-744 (20/20/20/20/10/10)",
];

#[test]
fn mixture_potential_and_its_derivatives() {
    let blends: Vec<_> = BLENDS
        .iter()
        .chain(&LITERALS)
        .map(|name| {
            let refrigerant = Refrigerant::named(name).unwrap();
            let pairs = pair_terms(&refrigerant);
            (refrigerant, pairs)
        })
        .collect();
    let most = blends.iter().map(|(r, _)| r.components().len()).max();
    assert_eq!(most, Some(6));
    let states = (
        prop::array::uniform6(0.01..1.0_f64),
        0.6..1.5_f64,
        prop_oneof![1e-4..0.1_f64, 0.1..3.0_f64],
    );
    runner(64)
        .run(&states, |(parts, reduced_temperature, reduced_density)| {
            for (refrigerant, pairs) in &blends {
                let (mixture, _) = refrigerant.model();
                let count = mixture.count();
                let x = MoleFractions::checked(&parts[..count]).unwrap();
                let fixed = mixture.at_composition(&x);
                let temperature = reduced_temperature * fixed.reducing_temperature;
                let density = reduced_density * fixed.reducing_density;
                let partial: Vec<f64> = x.iter().map(|x| x * density).collect();
                let ours = mixture.potential(temperature, &partial);
                let name = refrigerant.designation();
                let at = format!("{name} {:?} at {temperature} K, {density} mol/m3", &*x);

                // `first` and `second` count components, and `count` is ln T
                let terms = |first: usize, second: usize| {
                    let seed = |k: usize, value: f64| {
                        let part = |own: usize| if own == k { 1.0 } else { 0.0 };
                        HyperDual64::new(value, part(first), part(second), 0.0)
                    };
                    let n: Vec<_> = (0..count).map(|k| seed(k, partial[k])).collect();
                    let hot = logarithmic(temperature, first == count, second == count);
                    mixture_terms(refrigerant, pairs, hot, &n)
                };
                let mut pressure = (density * fixed.gas_constant, density * fixed.gas_constant);
                let mut by_log_temperature = (0.0, 0.0);
                for (p, own) in partial.iter().enumerate() {
                    for q in 0..=p {
                        let all = terms(p, q);
                        let (second, scale) = summed(&all, |term| term.eps1eps2);
                        let what = format!("d2G/dn{p}dn{q} of {at}");
                        // Terms of one kind cancel among the derivatives of x and N too; RT/N is
                        // the size of the ideal part beside it.
                        let scale = scale + fixed.gas_constant / density;
                        close(&what, ours.hessian[p][q], second, scale, MIXTURE)?;
                        close(&what, ours.hessian[q][p], second, scale, MIXTURE)?;
                    }
                    let all = terms(p, count);
                    let (first, scale) = summed(&all, |term| term.eps1);
                    close(
                        &format!("dG/dn{p} of {at}"),
                        ours.gradient[p],
                        first,
                        scale,
                        MIXTURE,
                    )?;
                    pressure.0 += own * first;
                    pressure.1 += own * scale;
                    let (mixed, scale) = summed(&all, |term| term.eps1eps2);
                    let what = format!("d2G/dn{p}dlnT of {at}");
                    close(
                        &what,
                        ours.gradient_by_log_temperature[p],
                        mixed,
                        scale,
                        MIXTURE,
                    )?;
                    by_log_temperature.0 += own * mixed;
                    by_log_temperature.1 += own * scale;
                }
                // p/T = N R - G + sum n_i G_i, and its derivative in ln T
                let all = terms(count, count);
                let (value, scale) = summed(&all, |term| term.re);
                let what = format!("p/T of {at}");
                let sum = pressure.0 - value;
                close(
                    &what,
                    ours.pressure_over_temperature,
                    sum,
                    pressure.1 + scale,
                    MIXTURE,
                )?;
                let (slope, scale) = summed(&all, |term| term.eps1);
                let what = format!("d(p/T)/dlnT of {at}");
                let sum = by_log_temperature.0 - slope;
                let scale = by_log_temperature.1 + scale;
                close(&what, ours.pressure_by_log_temperature, sum, scale, MIXTURE)?;

                let full = fixed.residual(temperature, density);
                let along = fixed.isotherm(temperature).residual(density);
                let rn = density * fixed.gas_constant;
                let scale = value.abs() / rn + 1.0;
                let (a_scale, _) = summed(&all, |term| term.re.abs() / rn);
                close(
                    &format!("alphar of {at}"),
                    full.a,
                    value / rn,
                    a_scale,
                    MIXTURE,
                )?;
                for (what, ours, other) in [
                    ("a", along.a, full.a),
                    ("d", along.d, full.d),
                    ("dd", along.dd, full.dd),
                ] {
                    let what = format!("isotherm {what} of {at}");
                    close(&what, ours, other, scale + other.abs() + a_scale, MIXTURE)?;
                }
            }
            Ok(())
        })
        .unwrap();
}

/// Asked of mixtures.
const MIXTURE: f64 = 1e-10;

/// The helper itself: x^3 has the logarithmic derivatives 3 x^3 and 9 x^3.
#[test]
fn logarithmic_numbers_differentiate_by_the_logarithm() {
    let cube = logarithmic(2.0, true, true).powi(3);
    assert_eq!((cube.re, cube.eps1, cube.eps1eps2), (8.0, 24.0, 72.0));
}
