//! Two liquids beside each other, alone or under the first vapor: equal fugacities in both (Gibbs), their
//! amounts together the blend, and what follows from that.

use crate::program::zeotrope;
use crate::three_phases::{blend, fugacities};
use zeotrope::process::coil::Coil;
use zeotrope::refrigerant::{PhaseProperties, SaturationPoint, State};
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Basis, Given, Phase, ReferenceState, Refrigerant, Warning};

fn state(blend: &Refrigerant, given: Given) -> State {
    let mut found = blend.state(given, ReferenceState::IdealGas).unwrap();
    found.remove(0)
}

fn bubble(blend: &Refrigerant, kelvin: f64) -> SaturationPoint {
    let at = Temperature::kelvin(kelvin);
    let found = blend.saturation_at_temperature(at, ReferenceState::IdealGas);
    found.unwrap().bubble.unwrap()
}

/// How far apart the logarithms of the fugacities in two phases of one pressure are.
fn imbalance(a: &PhaseProperties, b: &PhaseProperties) -> f64 {
    let both = fugacities(a).into_iter().zip(fugacities(b));
    both.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

/// The second liquid's share of the mass, by the first component's.
fn share(whole: &PhaseProperties, [a, b]: &[PhaseProperties; 2]) -> f64 {
    let first = |one: &PhaseProperties| one.mass_fractions[0];
    (first(whole) - first(a)) / (first(b) - first(a))
}

/// Blends by mole of water, ammonia and fluorocarbons with hydrocarbons, K and Pa above the bubble point.
const PARTED: [(&str, f64, f64); 5] = [
    ("R-600/R-718 (90/10)", 290.0, 3.0e6),
    ("R-290/R-718 (60/40)", 310.0, 5.0e6),
    ("R-717/R-600 (50/50)", 250.0, 1.0e6),
    ("R-600/R-718/R-134a (50/10/40)", 290.0, 3.0e6),
    ("R-41/FK-5-1-12/R-718/R-143a (25/25/25/25)", 388.4, 8.0e6),
];

#[test]
fn two_liquids_have_equal_fugacities_and_are_the_blend() {
    for (text, kelvin, pascal) in PARTED {
        let blend = blend(text);
        let at = (Temperature::kelvin(kelvin), Pressure::pascal(pascal));
        let found = state(&blend, Given::TemperaturePressure(at.0, at.1));
        assert_eq!(found.phase, Phase::Liquid, "{text}");
        assert!(found.quality.is_none() && found.vapor.is_none(), "{text}");
        let liquids = found.liquids.as_deref().unwrap();
        assert!(imbalance(&liquids[0], &liquids[1]) < 1e-8, "{text}");
        let whole = &found.properties;
        let share = share(whole, liquids);
        assert!(share > 0.0 && share < 1.0, "{text}: {share}");
        let mean = |of: fn(&PhaseProperties) -> f64| {
            (1.0 - share) * of(&liquids[0]) + share * of(&liquids[1])
        };
        let volume = mean(|one| 1.0 / one.density) * whole.density;
        assert!((volume - 1.0).abs() < 1e-9, "{text}");
        assert!(
            (mean(|one| one.enthalpy) - whole.enthalpy).abs() < 1e-3,
            "{text}"
        );
        assert!(
            (mean(|one| one.entropy) - whole.entropy).abs() < 1e-6,
            "{text}"
        );
        for (k, own) in whole.mass_fractions.iter().enumerate() {
            let parts = [0, 1].map(|one| liquids[one].mass_fractions[k]);
            let sum = (1.0 - share) * parts[0] + share * parts[1];
            assert!((sum - own).abs() < 1e-9, "{text}");
        }
    }
}

#[test]
fn two_liquids_are_met_from_every_pair_of_properties() {
    for (text, kelvin, pascal) in PARTED {
        let blend = blend(text);
        let (t, p) = (Temperature::kelvin(kelvin), Pressure::pascal(pascal));
        let found = state(&blend, Given::TemperaturePressure(t, p));
        let own = &found.properties;
        let (h, s, rho) = (own.enthalpy, own.entropy, own.density);
        for given in [
            Given::TemperatureEntropy(t, s),
            Given::TemperatureDensity(t, rho),
            Given::PressureEnthalpy(p, h),
            Given::PressureEntropy(p, s),
            Given::PressureDensity(p, rho),
            Given::EnthalpyEntropy(h, s),
        ] {
            let back = state(&blend, given);
            assert!(back.liquids.is_some(), "{text} {given:?}");
            let off = back.properties.temperature.in_kelvin() / kelvin - 1.0;
            assert!(off.abs() < 1e-6, "{text} {given:?}");
        }
    }
}

/// At one temperature and pressure the enthalpy a mass is linear in the overall composition (lever rule).
#[test]
fn the_enthalpy_is_linear_in_composition() {
    let enthalpy = |ammonia: f64| {
        let shares = [("R-717", ammonia), ("R-600", 1.0 - ammonia)];
        let blend = Refrigerant::from_fractions(&shares, Basis::Mass).unwrap();
        let given = Given::TemperaturePressure(Temperature::celsius(-20.0), Pressure::bar(5.0));
        let liquid = state(&blend, given).properties.enthalpy;
        (liquid, bubble(&blend, 253.15).liquid.enthalpy)
    };
    let [(a, p), (b, q), (c, r)] = [0.3, 0.5, 0.7].map(enthalpy);
    assert!((b - 0.5 * (a + c)).abs() < 1e-3, "{a} {b} {c}");
    assert!((q - 0.5 * (p + r)).abs() < 1e-3, "{p} {q} {r}");
}

/// Under the first vapor both liquids have its fugacities, and two phases of quality 0 are the bubble point.
#[test]
fn a_bubble_point_has_both_liquids() {
    for (text, kelvin) in [
        ("R-600/R-718 (90/10)", 304.5),
        ("R-717/R-600 (50/50)", 253.15),
        ("R-600/R-718/R-134a (50/10/40)", 290.0),
        ("R-290/R-718/R-728 (60/30/10)", 290.0),
    ] {
        let blend = blend(text);
        let point = bubble(&blend, kelvin);
        let liquids = point.liquids.as_deref().unwrap();
        for liquid in liquids {
            assert!(imbalance(liquid, &point.vapor) < 1e-8, "{text}");
        }
        let line = blend.bubble_point(Temperature::kelvin(kelvin)).unwrap();
        let off = line.liquid_density / point.liquid.density - 1.0;
        assert!(off.abs() < 1e-9, "{text}: {off}");
        let begun = |quality| {
            let at = Temperature::kelvin(kelvin);
            state(&blend, Given::TemperatureQuality(at, quality)).properties
        };
        let (none, little) = (begun(0.0), begun(1e-6));
        for found in [none, little] {
            let off = (found.enthalpy - point.liquid.enthalpy).abs();
            assert!(off < 2.0, "{text}: {off} J/kg");
        }
    }
}

/// By the reference state of the International Institute of Refrigeration the liquid at 0 °C has 200 kJ/kg and
/// 1 kJ/(kg K), two liquids together too.
#[test]
fn the_reference_state_is_of_both_liquids() {
    for text in ["R-600/R-718 (90/10)", "R-600/R-718/R-134a (50/10/40)"] {
        let cold = Temperature::celsius(0.0);
        let found = blend(text).saturation_at_temperature(cold, ReferenceState::Iir);
        let bubble = found.unwrap().bubble.unwrap();
        assert!(bubble.liquids.is_some(), "{text}");
        let (h, s) = (bubble.liquid.enthalpy, bubble.liquid.entropy);
        assert!(
            (h - 200e3).abs() < 1e-3 && (s - 1e3).abs() < 1e-6,
            "{text}: {h} {s}"
        );
    }
}

/// A third liquid, rich in water, belongs beside the two over which the vapor stands: what is answered is
/// marked as not stable.
#[test]
fn a_third_liquid_is_said() {
    let text = "R-141b/R-744/R-236fa/R-718/R-1234ze(E)/R-C270/R-1336mzz(Z)/R-600a \
                (13.673654/18.388958/11.772384/16.451959/10.796282/1.008050/5.838266/22.070446)";
    let at = Temperature::kelvin(216.673137);
    let found = blend(text).saturation_at_temperature(at, ReferenceState::IdealGas);
    let found = found.unwrap();
    assert!(found.bubble.unwrap().liquids.is_some());
    let is_mark = |one: &Warning| matches!(one, Warning::UnstableLiquid(_));
    assert!(found.warnings.iter().any(is_mark));
}

/// Clausius and Clapeyron's equation of three phases of two components, all of one pressure at a
/// temperature: dp/dT = (s'' - s') / (v'' - v') of a vapor and as much of both liquids as has its
/// composition. The line of three components is followed by its pressures.
#[test]
fn the_slope_over_two_liquids_is_clapeyrons() {
    for (text, kelvin) in [
        ("R-600/R-718 (90/10)", 304.5),
        ("R-290/R-718 (60/40)", 310.0),
        ("R-717/R-600 (50/50)", 253.15),
    ] {
        let point = bubble(&blend(text), kelvin);
        let liquids = point.liquids.as_deref().unwrap();
        let share = share(&point.vapor, liquids);
        let change = |of: fn(&PhaseProperties) -> f64| {
            of(&point.vapor) - (1.0 - share) * of(&liquids[0]) - share * of(&liquids[1])
        };
        let expected = change(|one| one.entropy) / change(|one| 1.0 / one.density);
        let off = point.slope.unwrap() / expected - 1.0;
        assert!(off.abs() < 1e-7, "{text}: {off}");
    }
    for (text, kelvin) in [
        ("R-600/R-718/R-134a (50/10/40)", 290.0),
        ("R-290/R-718/R-728 (60/30/10)", 290.0),
    ] {
        let blend = blend(text);
        let pressure = |kelvin| {
            let found = blend.bubble_pressure(Temperature::kelvin(kelvin));
            found.unwrap().in_pascal()
        };
        let expected = (pressure(kelvin + 0.01) - pressure(kelvin - 0.01)) / 0.02;
        let off = bubble(&blend, kelvin).slope.unwrap() / expected - 1.0;
        assert!(off.abs() < 1e-6, "{text}: {off}");
    }
}

/// Where all three phases stand the temperature of two components stays, and equal amounts of heat
/// evaporate equal amounts (first law at constant pressure).
#[test]
fn equal_heat_evaporates_as_much_along_a_coil() {
    let blend = blend("R-600/R-718 (90/10)");
    let coil = Coil::condenser(&blend, Pressure::bar(3.0), ReferenceState::IdealGas).unwrap();
    let stations = &coil.stations;
    let cold = stations.last().unwrap().temperature.in_kelvin();
    let parted = stations
        .iter()
        .filter(|one| (one.temperature.in_kelvin() - cold).abs() < 1e-6);
    let qualities: Vec<f64> = parted.map(|one| one.quality).collect();
    assert!(qualities.len() >= 7, "{qualities:?}");
    let steps: Vec<f64> = qualities.windows(2).map(|two| two[0] - two[1]).collect();
    for step in &steps {
        assert!((step / steps[0] - 1.0).abs() < 1e-6, "{steps:?}");
    }
}

/// The working shows each liquid's fugacity, one of a component in all three phases.
#[test]
fn the_working_shows_both_liquids() {
    let asked = [
        "saturation",
        "R-600/R-718 (90/10)",
        "--mole",
        "--pressure",
        "3bara",
        "--explain",
    ];
    let page = zeotrope(&asked).out;
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!page.contains("NaN"), "{page}");
    let (_, line) = page.split_once("R-718: first liquid").unwrap();
    let (line, _) = line.split_once(" bara.").unwrap();
    let fugacities: Vec<&str> = line
        .split(", ")
        .map(|part| part.rsplit("= ").next().unwrap())
        .collect();
    assert_eq!(fugacities.len(), 3, "{line}");
    assert!(fugacities.iter().all(|one| *one == fugacities[0]), "{line}");
}
