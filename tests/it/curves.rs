//! Curves held against the solver they are made from, on every refrigerant carried.

use std::sync::OnceLock;

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use zeotrope::catalogue::Catalogue;
use zeotrope::curve::{ACCURACY, ACCURACY_NEAR_TOP, Line, NEAR_TOP};
use zeotrope::equilibrium::bubble_dew::Branch;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Error, Given, ReferenceState, Refrigerant, Result};

const BRANCHES: [Branch; 2] = [Branch::Bubble, Branch::Dew];

/// Every refrigerant carried, each built once.
fn all() -> &'static [Refrigerant] {
    static ALL: OnceLock<Vec<Refrigerant>> = OnceLock::new();
    ALL.get_or_init(|| {
        let catalogue = Catalogue::embedded();
        let names = catalogue.pure_designations();
        let names = names.into_iter().chain(catalogue.blend_designations());
        names
            .map(|name| Refrigerant::named(&name).unwrap_or_else(|error| panic!("{name}: {error}")))
            .collect()
    })
}

fn pressure(refrigerant: &Refrigerant, branch: Branch, kelvin: f64) -> Result<f64> {
    let at = Temperature::kelvin(kelvin);
    let found = match branch {
        Branch::Bubble => refrigerant.bubble_pressure(at),
        Branch::Dew => refrigerant.dew_pressure(at),
    };
    found.map(Pressure::in_pascal)
}

fn temperature(refrigerant: &Refrigerant, branch: Branch, pascal: f64) -> Result<f64> {
    let at = Pressure::pascal(pascal);
    let found = match branch {
        Branch::Bubble => refrigerant.bubble_temperature(at),
        Branch::Dew => refrigerant.dew_temperature(at),
    };
    found.map(Temperature::in_kelvin)
}

/// Lowest temperature and the end of a line, K.
fn range(refrigerant: &Refrigerant, branch: Branch) -> (f64, f64) {
    let low = refrigerant.limits().temperature_min.in_kelvin();
    let critical = refrigerant
        .critical_point()
        .unwrap()
        .temperature
        .in_kelvin();
    let high = match (refrigerant.is_pure(), branch) {
        (false, Branch::Dew) => refrigerant.envelope().unwrap().cricondentherm.temperature,
        _ => critical,
    };
    (low, high)
}

fn allowed(kelvin: f64, end: f64) -> f64 {
    if kelvin < end * (1.0 - NEAR_TOP) {
        ACCURACY
    } else {
        ACCURACY_NEAR_TOP
    }
}

/// What differs between curve and solver at a temperature and at the pressure there.
fn difference(refrigerant: &Refrigerant, branch: Branch, part: f64) -> Option<String> {
    let (low, high) = range(refrigerant, branch);
    let kelvin = low + part * (high - low);
    let exact = refrigerant.exact();
    let name = refrigerant.designation();
    let told = |what: &str, quick: &dyn std::fmt::Debug, solved: &dyn std::fmt::Debug| {
        Some(format!(
            "{name} {branch:?} {kelvin} K {what}: {quick:?} and {solved:?}"
        ))
    };
    let (quick, solved) = (
        pressure(refrigerant, branch, kelvin),
        pressure(&exact, branch, kelvin),
    );
    let at = match (&quick, &solved) {
        (Ok(a), Ok(b)) if (a / b - 1.0).abs() <= allowed(kelvin, high) => *b,
        // a residual that is not a number is not equal to itself
        (Err(a), Err(b)) if a.to_string() == b.to_string() => return None,
        // a point that the solver finds from its neighbours alone
        (Ok(_), Err(Error::NotConverged { .. })) => return None,
        _ => return told("p", &quick, &solved),
    };
    let (quick, solved) = (
        temperature(refrigerant, branch, at),
        temperature(&exact, branch, at),
    );
    match (&quick, &solved) {
        (Ok(a), Ok(b)) if (a / b - 1.0).abs() <= allowed(*b, high) => None,
        (Err(a), Err(b)) if a.to_string() == b.to_string() => None,
        (Ok(_), Err(Error::NotConverged { .. })) => None,
        _ => told("T", &quick, &solved),
    }
}

fn config() -> ProptestConfig {
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(64);
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(20),
        failure_persistence: None,
        max_global_rejects: cases,
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(config())]

    /// Anywhere on any line, its end and the last thousandth before it included.
    #[test]
    fn a_curve_is_the_solver(
        which in any::<prop::sample::Index>(),
        dew in any::<bool>(),
        part in prop_oneof![4 => 0.0..1.02_f64, 1 => 0.98..1.0002_f64],
    ) {
        let refrigerant = which.get(all());
        let branch = BRANCHES[usize::from(dew)];
        let differs = difference(refrigerant, branch, part);
        prop_assert!(differs.is_none(), "{}", differs.unwrap());
    }

    /// The quick answers are those of whole states that are solved from the equation.
    #[test]
    fn quick_answers_are_those_of_states(
        which in any::<prop::sample::Index>(),
        part in 0.02..0.9_f64,
        log_ratio in -1.5..1.5_f64,
    ) {
        let refrigerant = which.get(all());
        let exact = refrigerant.exact();
        let (low, high) = range(refrigerant, Branch::Dew);
        let at = Temperature::kelvin(low + part * (high - low));
        // what is left out counts as rejected, of which there may be few
        let line = exact.dew_pressure(at);
        prop_assume!(line.is_ok());
        let line = line.unwrap();
        let pressure = Pressure::pascal(line.in_pascal() * log_ratio.exp());
        let name = refrigerant.designation();
        let states = exact.state(Given::TemperaturePressure(at, pressure), ReferenceState::IdealGas);
        prop_assume!(states.is_ok());
        let states = states.unwrap();
        let solved = &states[0].properties;
        let context = format!("{name} {} K {} Pa", at.in_kelvin(), pressure.in_pascal());
        let density = refrigerant.density(at, pressure).unwrap();
        prop_assert!((density / solved.density - 1.0).abs() < 1e-8, "{context}: {density}");
        let enthalpy = solved.enthalpy;
        let back = refrigerant.temperature_at_enthalpy(pressure, enthalpy, ReferenceState::IdealGas);
        let back = back.unwrap_or_else(|error| panic!("{context}: {error}")).in_kelvin();
        prop_assert!((back / at.in_kelvin() - 1.0).abs() < 1e-7, "{context}: {back} K");
        let entropy = refrigerant.entropy_at_enthalpy(pressure, enthalpy, ReferenceState::IdealGas).unwrap();
        let unit = 8.314 / refrigerant.molar_mass();
        prop_assert!((entropy - solved.entropy).abs() < 1e-6 * unit, "{context}: {entropy} J/kg/K");
    }
}

#[test]
fn every_line_is_the_solver_s_all_along() {
    let mut differences = Vec::new();
    for (k, refrigerant) in all().iter().enumerate() {
        for branch in BRANCHES {
            if refrigerant.is_pure() && branch == Branch::Dew {
                continue;
            }
            // other places on each line, none of them where a piece was checked
            let offset = (k as f64 * 0.618).fract();
            let parts = (0..10).map(|n| (f64::from(n) + offset) / 10.0);
            for part in parts.chain([0.97, 0.9985, 0.9997]) {
                differences.extend(difference(refrigerant, branch, part));
            }
        }
    }
    assert!(differences.is_empty(), "{}", differences.join("\n"));
}

/// Mole fractions of the other phase are held ten times as coarse as the pressure.
#[test]
fn the_other_phase_is_made_of_what_the_solver_says() {
    for name in ["R-407C", "R-448A", "R-454B", "R-410A"] {
        let curves = Refrigerant::named(name).unwrap();
        let exact = curves.exact();
        for k in 0..20 {
            let at = Temperature::kelvin(231.7 + 3.9 * f64::from(k));
            let ask = |of: &Refrigerant| {
                let found = of.saturation_at_temperature(at, ReferenceState::IdealGas);
                let found = found.unwrap();
                let (bubble, dew) = (found.bubble.unwrap(), found.dew.unwrap());
                [bubble.vapor.mole_fractions, dew.liquid.mole_fractions].concat()
            };
            for (read, solved) in ask(&curves).iter().zip(ask(&exact)) {
                let off = (read - solved).abs();
                assert!(off < 10.0 * ACCURACY, "{name} {at:?}: {off:e}");
            }
        }
    }
}

/// From -50 to 60 °C and below 0.98 of the critical temperature every line is covered, where the
/// liquid does not part.
#[test]
fn curves_have_no_holes_in_common_use() {
    let mut holes = Vec::new();
    for refrigerant in all() {
        for branch in BRANCHES {
            let (curve, line) = refrigerant.curve(branch);
            let parted = match &line {
                Line::Pure(_) => 0.0,
                Line::Blend {
                    mixture, z, line, ..
                } => line.splits_below(mixture, z).unwrap_or(0.0),
            };
            let low = range(refrigerant, branch).0.max(parted).max(223.15);
            let critical = refrigerant.critical_point().unwrap().temperature;
            let high = (0.98 * critical.in_kelvin()).min(333.15);
            let places = (0..=40).map(|k| low + f64::from(k) / 40.0 * (high - low));
            for kelvin in places.filter(|kelvin| (low..high).contains(kelvin)) {
                if curve
                    .pressure(kelvin, || refrigerant.curve(branch).1)
                    .is_none()
                {
                    holes.push(format!(
                        "{} {branch:?} {kelvin} K",
                        refrigerant.designation()
                    ));
                }
            }
        }
    }
    assert!(holes.is_empty(), "{}", holes.join("\n"));
}

/// What is built does not depend on who asks first, or for what.
#[test]
fn threads_get_the_same_numbers() {
    for name in ["R-134a", "R-407C", "R-448A"] {
        let kelvins: Vec<f64> = (0..60).map(|k| 230.0 + 1.7 * f64::from(k)).collect();
        let ask = |refrigerant: &Refrigerant, kelvin: f64| {
            let p = pressure(refrigerant, Branch::Dew, kelvin).unwrap();
            (
                p.to_bits(),
                temperature(refrigerant, Branch::Dew, p).unwrap().to_bits(),
            )
        };
        let alone = Refrigerant::named(name).unwrap();
        let expected: Vec<_> = kelvins
            .iter()
            .rev()
            .map(|&k| ask(&alone, k))
            .rev()
            .collect();
        let shared = Refrigerant::named(name).unwrap();
        std::thread::scope(|scope| {
            for first in 0..4 {
                let (shared, kelvins, expected) = (shared.clone(), &kelvins, &expected);
                scope.spawn(move || {
                    for k in 0..kelvins.len() {
                        let k = (k + 15 * first) % kelvins.len();
                        assert_eq!(
                            ask(&shared, kelvins[k]),
                            expected[k],
                            "{name} {}",
                            kelvins[k]
                        );
                    }
                });
            }
        });
    }
}

/// A line read as a number and within a whole point has the same bits.
#[test]
fn numbers_and_points_have_equal_bits() {
    for name in ["R-134a", "R-407C", "R-744"] {
        let refrigerant = Refrigerant::named(name).unwrap();
        let kelvin: Vec<f64> = (0..200).map(|k| 225.3 + 0.331 * f64::from(k)).collect();
        for (k, &at) in kelvin.iter().enumerate() {
            let at = Temperature::kelvin(at);
            let point = refrigerant
                .saturation_at_temperature(at, ReferenceState::IdealGas)
                .unwrap();
            let bubble = refrigerant.bubble_pressure(at).unwrap();
            let dew = refrigerant.dew_pressure(at).unwrap();
            for (one, whole) in [(bubble, &point.bubble), (dew, &point.dew)] {
                let whole = whole.as_ref().unwrap().pressure;
                let bits = [one, whole].map(|p| p.in_pascal().to_bits());
                assert_eq!(bits[0], bits[1], "{name}, row {k}");
            }
        }
    }
}
