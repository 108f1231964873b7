//! A state of a pure refrigerant is found again from each of the fifteen pairs of properties.

use zeotrope::Refrigerant;
use zeotrope::equilibrium::pure::saturation_at_temperature;
use zeotrope::equilibrium::state_of_pure::states_of_pure;
use zeotrope::equilibrium::{EquilibriumState, MolarGiven, Phase, Phases};
use zeotrope::helmholtz::FixedComposition;
use zeotrope::state::SinglePhase;

use crate::derivatives::{pures, runner};

/// Least pressure drawn, Pa: the search by enthalpy and entropy begins at 0.001 Pa.
const THINNEST: f64 = 0.01;

/// A state made from its temperature and densities alone, without the solver under test.
struct Made {
    state: EquilibriumState,
    quality: Option<f64>,
}

fn single(fixed: &FixedComposition<'_>, temperature: f64, density: f64) -> Made {
    let phase = SinglePhase::at_density(fixed, temperature, density);
    Made {
        state: EquilibriumState::single(phase, Phase::Vapor),
        quality: None,
    }
}

/// Gas below saturation or beyond the critical temperature, compressed liquid, two phases.
fn made(refrigerant: &Refrigerant, place: f64, depth: f64, which: usize) -> Option<Made> {
    let (mixture, x) = refrigerant.model();
    let fixed = mixture.at_composition(x);
    let component = &mixture.components()[0];
    let range = &component.record.range;
    let (cold, critical) = (range.temperature_min_k, component.critical);
    let top = if which == 0 {
        range.temperature_max_k
    } else {
        0.99 * critical.temperature
    };
    let temperature = cold * (top / cold).powf(place);
    let line = (temperature < critical.temperature)
        .then(|| saturation_at_temperature(&fixed, temperature, None).unwrap());
    let within = |made: &Made| {
        made.state.pressure <= range.pressure_max_pa && made.state.pressure >= THINNEST
    };
    let made = match (which, line) {
        (0, line) => {
            let most = line.map_or(2.0 * critical.density, |line| line.vapor_density);
            single(&fixed, temperature, most * 1e-4_f64.powf(depth))
        }
        (1, Some(line)) => {
            // halved until it is within the highest pressure
            let compressed = |k: i32| line.liquid_density * (1.0 + 0.2 * depth * 0.5_f64.powi(k));
            let mut tried = (0..12).map(|k| single(&fixed, temperature, compressed(k)));
            tried.find(|made| within(made) && made.state.pressure > line.pressure)?
        }
        (_, Some(line)) => Made {
            state: EquilibriumState {
                parted: false,
                temperature,
                pressure: line.pressure,
                phases: Phases::Two {
                    liquid: SinglePhase::at_density(&fixed, temperature, line.liquid_density),
                    vapor: SinglePhase::at_density(&fixed, temperature, line.vapor_density),
                    vapor_fraction: depth,
                },
            },
            quality: Some(depth),
        },
        (_, None) => return None,
    };
    within(&made).then_some(made)
}

/// The pairs by which a state can be asked, with what they are called.
fn questions(made: &Made) -> Vec<(&'static str, MolarGiven)> {
    let (t, p) = (made.state.temperature, made.state.pressure);
    let (rho, h, s) = (
        made.state.density(),
        made.state.enthalpy(),
        made.state.entropy(),
    );
    let mut all = vec![
        ("T, rho", MolarGiven::TemperatureDensity(t, rho)),
        ("T, h", MolarGiven::TemperatureEnthalpy(t, h)),
        ("T, s", MolarGiven::TemperatureEntropy(t, s)),
        ("p, rho", MolarGiven::PressureDensity(p, rho)),
        ("p, h", MolarGiven::PressureEnthalpy(p, h)),
        ("p, s", MolarGiven::PressureEntropy(p, s)),
        ("rho, h", MolarGiven::DensityEnthalpy(rho, h)),
        ("rho, s", MolarGiven::DensityEntropy(rho, s)),
        ("h, s", MolarGiven::EnthalpyEntropy(h, s)),
    ];
    match made.quality {
        // temperature and pressure do not say how much has boiled
        Some(q) => all.extend([
            ("T, q", MolarGiven::TemperatureQuality(t, q)),
            ("p, q", MolarGiven::PressureQuality(p, q)),
            ("rho, q", MolarGiven::DensityQuality(rho, q)),
            ("h, q", MolarGiven::EnthalpyQuality(h, q)),
            ("s, q", MolarGiven::EntropyQuality(s, q)),
        ]),
        None => all.push(("T, p", MolarGiven::TemperaturePressure(t, p))),
    }
    all
}

/// Largest difference of temperature, density, pressure, enthalpy and entropy, each against what
/// it is measured by: a liquid's pressure against rho R T.
fn distance(fixed: &FixedComposition<'_>, one: &EquilibriumState, other: &EquilibriumState) -> f64 {
    let rt = fixed.gas_constant * other.temperature;
    [
        one.temperature / other.temperature - 1.0,
        one.density() / other.density() - 1.0,
        (one.pressure - other.pressure) / (other.density() * rt + other.pressure),
        (one.enthalpy() - other.enthalpy()) / rt,
        (one.entropy() - other.entropy()) / fixed.gas_constant,
    ]
    .into_iter()
    .fold(0.0, |most: f64, part| most.max(part.abs()))
}

#[test]
fn each_pair_of_properties_finds_the_state_again() {
    let all = pures();
    let mut asked = std::collections::BTreeMap::<&str, usize>::new();
    let counted = std::cell::RefCell::new(&mut asked);
    let mut faults = Vec::new();
    let listed = std::cell::RefCell::new(&mut faults);
    runner(2)
        .run(&(0.0..1.0_f64, 0.01..0.99_f64), |(place, depth)| {
            for refrigerant in &all {
                let (mixture, x) = refrigerant.model();
                let fixed = mixture.at_composition(x);
                for which in 0..3 {
                    let Some(made) = made(refrigerant, place, depth, which) else {
                        continue;
                    };
                    for (pair, given) in questions(&made) {
                        *counted.borrow_mut().entry(pair).or_default() += 1;
                        let nearest = states_of_pure(&fixed, given).map(|found| {
                            let distances = found
                                .iter()
                                .map(|state| distance(&fixed, state, &made.state));
                            distances.fold(f64::INFINITY, f64::min)
                        });
                        if !nearest.as_ref().is_ok_and(|nearest| *nearest < SAME) {
                            listed.borrow_mut().push(format!(
                                "{} by {pair} at {} K, {} Pa, {} mol/m3, q {:?}: {nearest:?}",
                                refrigerant.designation(),
                                made.state.temperature,
                                made.state.pressure,
                                made.state.density(),
                                made.quality,
                            ));
                        }
                    }
                }
            }
            Ok(())
        })
        .unwrap();
    assert_eq!(asked.len(), 15, "{asked:?}");
    assert!(asked.values().all(|&count| count > 72), "{asked:?}");
    assert!(faults.is_empty(), "{asked:?}\n{}", faults.join("\n"));
}

/// How near a state must be found again.
const SAME: f64 = 1e-7;

/// Distance at which a state is found again by a pair of its properties.
fn found_again(
    refrigerant: &str,
    temperature: f64,
    density: f64,
    pair: fn(&EquilibriumState) -> MolarGiven,
) -> zeotrope::Result<f64> {
    let refrigerant = Refrigerant::named(refrigerant).unwrap();
    let (mixture, x) = refrigerant.model();
    let fixed = mixture.at_composition(x);
    let made =
        states_of_pure(&fixed, MolarGiven::TemperatureDensity(temperature, density)).unwrap()[0];
    let found = states_of_pure(&fixed, pair(&made))?;
    let distances = found.iter().map(|state| distance(&fixed, state, &made));
    Ok(distances.fold(f64::INFINITY, f64::min))
}

#[test]
fn wet_vapour_of_r_22_by_enthalpy_and_entropy() {
    for (temperature, density) in [
        (150.16336274819074, 0.2592962044725407),
        (287.26485439715754, 2148.2765279645805),
    ] {
        let nearest = found_again("R-22", temperature, density, |state| {
            MolarGiven::EnthalpyEntropy(state.enthalpy(), state.entropy())
        });
        assert!(
            nearest.as_ref().is_ok_and(|nearest| *nearest < SAME),
            "{nearest:?}"
        );
    }
}

#[test]
fn dense_helium_by_temperature_and_enthalpy_or_entropy() {
    let pairs: [fn(&EquilibriumState) -> MolarGiven; 2] = [
        |state| MolarGiven::TemperatureEnthalpy(state.temperature, state.enthalpy()),
        |state| MolarGiven::TemperatureEntropy(state.temperature, state.entropy()),
    ];
    for pair in pairs {
        let nearest = found_again("R-704", 16.105942576905544, 23453.99550448104, pair);
        assert!(
            nearest.as_ref().is_ok_and(|nearest| *nearest < SAME),
            "{nearest:?}"
        );
    }
}

#[test]
fn questions_outside_are_refused() {
    let refrigerant = Refrigerant::named("R-134a").unwrap();
    let (mixture, x) = refrigerant.model();
    let fixed = mixture.at_composition(x);
    let pairs: [fn(f64, f64) -> MolarGiven; 15] = [
        MolarGiven::TemperaturePressure,
        MolarGiven::TemperatureDensity,
        MolarGiven::TemperatureEnthalpy,
        MolarGiven::TemperatureEntropy,
        MolarGiven::TemperatureQuality,
        MolarGiven::PressureDensity,
        MolarGiven::PressureEnthalpy,
        MolarGiven::PressureEntropy,
        MolarGiven::PressureQuality,
        MolarGiven::DensityEnthalpy,
        MolarGiven::DensityEntropy,
        MolarGiven::DensityQuality,
        MolarGiven::EnthalpyEntropy,
        MolarGiven::EnthalpyQuality,
        MolarGiven::EntropyQuality,
    ];
    for pair in pairs {
        for (first, second) in [
            (f64::NAN, 0.5),
            (300.0, f64::NAN),
            (f64::NAN, f64::NAN),
            (f64::INFINITY, 0.5),
            (300.0, f64::NEG_INFINITY),
            (1e300, 1e300),
            (-1e300, -1.0),
        ] {
            let answer = states_of_pure(&fixed, pair(first, second));
            assert!(answer.is_err(), "{:?}: {answer:?}", pair(first, second));
        }
    }
    for given in [
        MolarGiven::TemperaturePressure(100.0, 1e5),
        MolarGiven::TemperaturePressure(300.0, -1e5),
        MolarGiven::TemperaturePressure(300.0, 1e10),
        MolarGiven::TemperatureDensity(300.0, -1.0),
        MolarGiven::TemperatureQuality(300.0, 1.5),
        MolarGiven::TemperatureQuality(300.0, -0.5),
        MolarGiven::TemperatureQuality(400.0, 0.5),
        MolarGiven::PressureQuality(5e6, 0.5),
        MolarGiven::PressureQuality(-1.0, 0.5),
        MolarGiven::PressureDensity(-1e5, 10.0),
        MolarGiven::DensityQuality(100.0, 2.0),
    ] {
        let answer = states_of_pure(&fixed, given);
        assert!(answer.is_err(), "{given:?}: {answer:?}");
    }
}
