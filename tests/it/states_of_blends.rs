//! States of blends: each pair of properties finds the state it was taken from.

use zeotrope::catalogue::Catalogue;
use zeotrope::refrigerant::State;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Basis, Given, Phase, ReferenceState, Refrigerant};

/// Relative difference in temperature and density up to which two states are one.
const SAME: f64 = 1e-6;
/// The published pairs of these part the liquid in two below 260 K.
const PARTED: [&str; 4] = ["R-437A", "R-439A", "R-504", "R-514A"];

/// Numbers from 0 to 1 by a xorshift generator of fixed seed.
struct Draw(u64);

impl Draw {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

fn distance(state: &State, from: &State) -> f64 {
    let (a, b) = (&state.properties, &from.properties);
    let temperature = a.temperature.in_kelvin() / b.temperature.in_kelvin() - 1.0;
    temperature.abs().max((a.density / b.density - 1.0).abs())
}

#[test]
fn each_pair_of_properties_finds_the_state_again() {
    let mut draw = Draw(98_765);
    let (mut asked, mut faults) = (0, Vec::new());
    for name in &Catalogue::embedded().blend_designations() {
        let blend = Refrigerant::named(name).unwrap();
        let limits = blend.limits();
        let critical = blend.critical_point().unwrap().temperature.in_kelvin();
        let cold = if PARTED.contains(&name.as_str()) {
            260.0
        } else {
            220.0
        };
        for k in 0..6 {
            let given = if k < 2 {
                let kelvin = draw.between(cold, 0.97 * critical);
                Given::TemperatureQuality(Temperature::kelvin(kelvin), draw.next())
            } else {
                let kelvin = draw.between(cold, limits.temperature_max.in_kelvin());
                let top = limits.pressure_max.in_pascal().min(3e7);
                let pascal = draw.between(2e4_f64.ln(), top.ln()).exp();
                Given::TemperaturePressure(Temperature::kelvin(kelvin), Pressure::pascal(pascal))
            };
            asked += 1;
            let first = match blend.state(given, ReferenceState::Usual) {
                Ok(states) => states[0].clone(),
                Err(error) => {
                    faults.push(format!("{name} {given:?}: {error}"));
                    continue;
                }
            };
            let p = &first.properties;
            let mut pairs = vec![
                Given::TemperatureDensity(p.temperature, p.density),
                Given::TemperatureEntropy(p.temperature, p.entropy),
                Given::PressureDensity(p.pressure, p.density),
                Given::PressureEnthalpy(p.pressure, p.enthalpy),
                Given::PressureEntropy(p.pressure, p.entropy),
                Given::TemperaturePressure(p.temperature, p.pressure),
            ];
            if let Some(quality) = first.quality {
                pairs.push(Given::PressureQuality(p.pressure, quality));
            }
            pairs.push(Given::EnthalpyEntropy(p.enthalpy, p.entropy));
            for pair in pairs {
                asked += 1;
                let found = blend.state(pair, ReferenceState::Usual);
                let off = found.as_ref().map(|states| distance(&states[0], &first));
                if !off.as_ref().is_ok_and(|off| *off < SAME) {
                    faults.push(format!("{name} {:?} {pair:?}: {off:?}", first.phase));
                }
            }
        }
    }
    assert!(asked > 5000, "{asked} asked");
    assert!(
        faults.is_empty(),
        "{} of {asked}:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

/// Amounts by mole of one blend, K, Pa and the pair of properties that the state is asked by again.
type Lost = (
    &'static [(&'static str, f64)],
    f64,
    f64,
    fn(&State) -> Given,
);

fn of(amounts: &[(&str, f64)]) -> Refrigerant {
    let whole: f64 = amounts.iter().map(|(_, amount)| amount).sum();
    let shares: Vec<(&str, f64)> = amounts.iter().map(|(name, n)| (*name, n / whole)).collect();
    Refrigerant::from_fractions(&shares, Basis::Mole).unwrap()
}

/// States that no start of Newton's method led to: found between brackets. A state is a function of
/// two of its properties, so that it must come back; no number of another source stands here.
#[test]
fn states_far_from_every_start_are_found_again() {
    let hs = |of: &State| Given::EnthalpyEntropy(of.properties.enthalpy, of.properties.entropy);
    let p_rho = |of: &State| Given::PressureDensity(of.properties.pressure, of.properties.density);
    let t_s =
        |of: &State| Given::TemperatureEntropy(of.properties.temperature, of.properties.entropy);
    let p_s = |of: &State| Given::PressureEntropy(of.properties.pressure, of.properties.entropy);
    let t_q = |of: &State| {
        Given::TemperatureQuality(of.properties.temperature, of.quality.unwrap_or(f64::NAN))
    };
    let lost: [Lost; 8] = [
        // next to the coldest temperature
        (
            &[("R-1233zd(E)", 0.52183), ("R-728", 99.47817)],
            165.76994,
            2_299_317.0,
            hs,
        ),
        (
            &[("R-50", 97.797025), ("R-143a", 2.202975)],
            188.82049,
            2_926_433.0,
            hs,
        ),
        // an isentrope of few degrees within the range of pressures
        (
            &[
                ("R-142b", 15.198318),
                ("R-732", 25.492046),
                ("R-600", 25.646841),
                ("R-365mfc", 33.662795),
            ],
            227.318406,
            5_212_346.0,
            hs,
        ),
        (
            &[("R-11", 99.989525), ("R-732", 0.010475)],
            195.909437,
            387_284.0,
            p_rho,
        ),
        // a gas denser, by moles, than the liquid that it stands over
        (
            &[("R-134a", 80.404993), ("R-702", 19.595007)],
            278.932945,
            6_053_993.0,
            t_s,
        ),
        // at the hottest temperature
        (
            &[("R-236fa", 0.4), ("R-113", 0.3), ("R-600a", 0.3)],
            400.0,
            12_040_537.0,
            p_s,
        ),
        // two phases up to the highest pressure
        (
            &[("R-12", 49.682466), ("R-740", 50.317534)],
            168.521559,
            3_392_532.0,
            t_q,
        ),
        (
            &[
                ("R-717", 52.629018),
                ("R-1234ze(Z)", 25.892712),
                ("R-14", 21.47827),
            ],
            217.160508,
            29_622.0,
            t_s,
        ),
    ];
    for (amounts, kelvin, pascal, again) in lost {
        let blend = of(amounts);
        let given =
            Given::TemperaturePressure(Temperature::kelvin(kelvin), Pressure::pascal(pascal));
        let first = blend.state(given, ReferenceState::IdealGas).unwrap();
        let asked = again(&first[0]);
        let back = blend
            .state(asked, ReferenceState::IdealGas)
            .unwrap_or_else(|error| panic!("{amounts:?} {asked:?}: {error}"));
        let missed = distance(&back[0], &first[0]);
        assert!(missed < SAME, "{amounts:?} {asked:?}: {missed}");
    }
}

/// A permanent gas far above its critical temperature stands over a liquid as a gas, however dense
/// it is: no two liquids.
#[test]
fn a_gas_under_pressure_is_no_second_liquid() {
    for (amounts, kelvin, pascal) in [
        ([("R-134a", 0.8), ("R-702", 0.2)], 278.93, 60e6),
        ([("R-113", 0.9999), ("R-702", 0.0001)], 325.37, 27.9e6),
        ([("R-610", 0.67), ("R-740", 0.33)], 314.55, 27.2e6),
    ] {
        let blend = of(&amounts);
        let given =
            Given::TemperaturePressure(Temperature::kelvin(kelvin), Pressure::pascal(pascal));
        let state = &blend.state(given, ReferenceState::IdealGas).unwrap()[0];
        if let (Some(liquid), Some(vapor)) = (&state.liquid, &state.vapor) {
            assert!(vapor.density < liquid.density, "{amounts:?}");
        }
        let parted = state.warnings.iter().any(|one| one.code() == "two_liquids");
        assert!(!parted, "{amounts:?}: {:?}", state.phase);
    }
}

/// A little oxygen gives R-11 a bubble line that falls with temperature before it rises: of two
/// temperatures of one pressure the lower is the bubble point.
#[test]
fn beside_a_gas_the_lower_bubble_temperature_is_meant() {
    let blend = of(&[("R-11", 99.989525), ("R-732", 0.010475)]);
    let cold = Temperature::kelvin(191.2824);
    let pressure = blend.bubble_pressure(cold).unwrap();
    let hot = Temperature::kelvin(402.0);
    assert!(
        (blend.bubble_pressure(hot).unwrap().in_pascal() / pressure.in_pascal() - 1.0).abs() < 0.01
    );
    let back = blend.exact().bubble_temperature(pressure).unwrap();
    assert!(
        (back.in_kelvin() - cold.in_kelvin()).abs() < 1e-3,
        "{back:?}"
    );
}

/// Enthalpies and entropies beyond the ends of an isobar are refused as those that no state has.
#[test]
fn beyond_the_ends_of_an_isobar_nothing_is_answered() {
    let pressure = Pressure::bar(8.0);
    for name in ["R-134a", "R-407C", "R-744"] {
        let refrigerant = Refrigerant::named(name).unwrap();
        for far in [-5e6, 5e6] {
            let found =
                refrigerant.temperature_at_enthalpy(pressure, far, ReferenceState::IdealGas);
            assert!(
                matches!(found, Err(zeotrope::Error::NoState { .. })),
                "{name}: {found:?}"
            );
        }
        // next to the ends something is
        let limits = refrigerant.limits();
        let near = |kelvin: f64| {
            let given = Given::TemperaturePressure(Temperature::kelvin(kelvin), pressure);
            let state = &refrigerant.state(given, ReferenceState::IdealGas).unwrap()[0];
            let enthalpy = state.properties.enthalpy;
            let found =
                refrigerant.temperature_at_enthalpy(pressure, enthalpy, ReferenceState::IdealGas);
            assert!(
                (found.unwrap().in_kelvin() / kelvin - 1.0).abs() < 1e-9,
                "{name} {kelvin}"
            );
        };
        near(limits.temperature_min.in_kelvin() * (1.0 + 1e-9));
        near(limits.temperature_max.in_kelvin() * (1.0 - 1e-9));
    }
}

/// Ammonia and butane are two liquids there. The whole has the volume of its parts, whose shares are
/// linear in the overall composition (lever rule): so is the volume per mass, and the pressure stays.
#[test]
fn over_two_liquids_the_volume_is_linear_in_composition() {
    let cold = Temperature::celsius(-20.0);
    let found = |ammonia: f64| {
        let shares = [("R-717", ammonia), ("R-600", 1.0 - ammonia)];
        let blend = Refrigerant::from_fractions(&shares, Basis::Mass).unwrap();
        let line = blend
            .exact()
            .saturation_at_temperature(cold, ReferenceState::IdealGas)
            .unwrap();
        let parted = line.warnings.iter().any(|one| one.code() == "two_liquids");
        assert!(parted, "{ammonia}");
        let bubble = line.bubble.unwrap();
        (bubble.pressure.in_pascal(), 1.0 / bubble.liquid.density)
    };
    let [(p0, v0), (p1, v1), (p2, v2)] = [0.3, 0.5, 0.7].map(found);
    assert!((p1 / p0 - 1.0).abs() < 1e-8 && (p2 / p0 - 1.0).abs() < 1e-8);
    assert!(
        (v1 / (0.5 * (v0 + v2)) - 1.0).abs() < 1e-8,
        "{v0} {v1} {v2}"
    );
}

/// Pressed to more than the vapor's pressure both are liquid: no vapor stands beside them, and the
/// answer says that there are two.
#[test]
fn two_liquids_under_pressure_are_not_liquid_and_vapor() {
    let given = Given::TemperaturePressure(Temperature::celsius(-20.0), Pressure::bar(5.0));
    for ammonia in [0.3, 0.5, 0.7] {
        let blend = of(&[("R-717", ammonia), ("R-600", 1.0 - ammonia)]);
        let state = &blend.state(given, ReferenceState::IdealGas).unwrap()[0];
        assert_eq!(state.phase, Phase::Liquid, "{ammonia}");
        let parted = state.warnings.iter().any(|one| one.code() == "two_liquids");
        assert!(parted, "{ammonia}");
    }
}

/// With a trace of something else compressed water keeps its density, 917.8 kg/m3 at 150 °C and 20 bar
/// (IAPWS R6-95, from memory), though its vapor could be compressed so far as well.
#[test]
fn of_two_densities_the_stable_one_is_taken() {
    for (trace, pascal) in [("R-290", 20e5), ("R-728", 20e5), ("R-134a", 6e5)] {
        let blend = of(&[("R-718", 0.9999), (trace, 0.0001)]);
        let given =
            Given::TemperaturePressure(Temperature::celsius(150.0), Pressure::pascal(pascal));
        let states = blend.state(given, ReferenceState::IdealGas).unwrap();
        assert_eq!(states.len(), 1, "{trace}");
        let density = states[0].properties.density;
        assert!((density / 917.4 - 1.0).abs() < 2e-3, "{trace}: {density}");
    }
}
