//! A vapor over two liquids: equal fugacities in all three phases (Gibbs), their amounts together the blend.

use zeotrope::catalogue::Catalogue;
use zeotrope::refrigerant::{PhaseProperties, State};
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Basis, Given, ReferenceState, Refrigerant};

/// Blends by mole with water or of a hydrocarbon with fluorocarbons, K and Pa.
const THREE: [(&str, f64, f64); 5] = [
    (
        "R-290/R-1123/R-718/R-1243zf/R-1150/R-728 \
         (11.834968/30.971912/23.196338/5.338228/14.797082/13.861472)",
        285.706729,
        13801615.7,
    ),
    ("R-290/R-718/R-728 (60/30/10)", 290.0, 1.5e6),
    ("R-32/R-125/R-718/R-728 (30/30/30/10)", 280.0, 1.5e6),
    (
        "R-170/R-143a/R-718/R-728/R-1150 (26.774276/17.713913/28.279300/25.455857/1.776654)",
        232.8875,
        24779000.0,
    ),
    (
        "R-1150/R-720/FK-5-1-12/R-115 (16.161363/36.853183/24.877381/22.108073)",
        194.328,
        4722296.9,
    ),
];

pub(crate) fn blend(text: &str) -> Refrigerant {
    let catalogue = Catalogue::embedded();
    let contents = catalogue.resolve(text, Basis::Mole).unwrap();
    Refrigerant::from_composition(&catalogue, contents)
        .unwrap()
        .exact()
}

fn at(blend: &Refrigerant, kelvin: f64, pascal: f64) -> State {
    let given = Given::TemperaturePressure(Temperature::kelvin(kelvin), Pressure::pascal(pascal));
    blend
        .state(given, ReferenceState::IdealGas)
        .unwrap()
        .remove(0)
}

/// ln of fugacities but for ln p.
pub(crate) fn fugacities(phase: &PhaseProperties) -> Vec<f64> {
    let parts = phase
        .mole_fractions
        .iter()
        .zip(&phase.fugacity_coefficients);
    parts.map(|(x, phi)| (x * phi).ln()).collect()
}

#[test]
fn all_three_phases_have_the_fugacities_and_are_the_blend() {
    for (text, kelvin, pascal) in THREE {
        let blend = blend(text);
        let state = at(&blend, kelvin, pascal);
        let (Some(liquids), Some(vapor)) = (&state.liquids, &state.vapor) else {
            panic!("{text}: {:?}", state.phase);
        };
        let [first, second] = liquids.as_ref();
        let of_vapor = fugacities(vapor);
        for liquid in [first, second] {
            for (a, b) in fugacities(liquid).iter().zip(&of_vapor) {
                assert!((a - b).abs() < 1e-8, "{text}: {a} {b}");
            }
            assert!(liquid.density > vapor.density, "{text}");
        }
        // shares of the mass by two components, then all of them
        let quality = state.quality.unwrap();
        let liquid = state.liquid.as_ref().unwrap();
        let share = (liquid.density.recip() - first.density.recip())
            / (second.density.recip() - first.density.recip());
        assert!((0.0..=1.0).contains(&share) && (0.0..=1.0).contains(&quality));
        for k in 0..state.properties.mass_fractions.len() {
            let both = (1.0 - share) * first.mass_fractions[k] + share * second.mass_fractions[k];
            let all = (1.0 - quality) * both + quality * vapor.mass_fractions[k];
            let own = state.properties.mass_fractions[k];
            assert!((all - own).abs() < 1e-9, "{text}: {all} {own}");
        }
        let sum = |of: fn(&PhaseProperties) -> f64| {
            let both = (1.0 - share) * of(first) + share * of(second);
            (1.0 - quality) * both + quality * of(vapor)
        };
        let enthalpy = sum(|phase| phase.enthalpy);
        assert!((enthalpy - state.properties.enthalpy).abs() < 1e-6 * enthalpy.abs());
        let codes: Vec<_> = state.warnings.iter().map(|one| one.code()).collect();
        assert!(codes.contains(&"two_liquids"), "{codes:?}");
    }
}

/// Each pair of properties leads back to the state: h and s rise with T on an isobar through three
/// phases too.
#[test]
fn three_phases_come_back_by_each_pair() {
    for (text, kelvin, pascal) in THREE {
        let blend = blend(text);
        let state = at(&blend, kelvin, pascal);
        let own = &state.properties;
        let (t, p) = (own.temperature, own.pressure);
        let (h, s, rho, q) = (
            own.enthalpy,
            own.entropy,
            own.density,
            state.quality.unwrap(),
        );
        for given in [
            Given::PressureEnthalpy(p, h),
            Given::PressureEntropy(p, s),
            Given::PressureDensity(p, rho),
            Given::TemperatureEntropy(t, s),
            Given::TemperatureDensity(t, rho),
            Given::TemperatureQuality(t, q),
            Given::EnthalpyEntropy(h, s),
        ] {
            let back = blend.state(given, ReferenceState::IdealGas);
            let back = back.unwrap_or_else(|error| panic!("{text} {given:?}: {error}"));
            let back = &back[0].properties;
            let off = (back.temperature.in_kelvin() / kelvin - 1.0).abs();
            assert!(
                off < 1e-6,
                "{text} {given:?}: {}",
                back.temperature.in_kelvin()
            );
            assert!(
                (back.pressure.in_pascal() / pascal - 1.0).abs() < 1e-5,
                "{text} {given:?}"
            );
        }
    }
}

/// Of two components all three phases lie at one temperature of a pressure, and the quality rises there from
/// 0: butane over water.
#[test]
fn two_components_boil_at_one_temperature_over_both_liquids() {
    let blend = blend("R-600/R-718 (90/10)");
    let pressure = Pressure::pascal(3e5);
    let bubble = blend.bubble_temperature(pressure).unwrap().in_kelvin();
    let mut before = f64::NEG_INFINITY;
    for quality in [0.001, 0.02, 0.1, 0.3, 0.6, 0.9] {
        let given = Given::PressureQuality(pressure, quality);
        let state = blend
            .state(given, ReferenceState::IdealGas)
            .unwrap()
            .remove(0);
        let own = &state.properties;
        assert!(state.liquids.is_some(), "{quality}");
        assert!(
            (own.temperature.in_kelvin() / bubble - 1.0).abs() < 1e-9,
            "{quality}"
        );
        assert!((state.quality.unwrap() - quality).abs() < 1e-9);
        assert!(own.enthalpy > before);
        before = own.enthalpy;
        let given = Given::PressureEnthalpy(pressure, own.enthalpy);
        let back = blend
            .state(given, ReferenceState::IdealGas)
            .unwrap()
            .remove(0);
        assert!((back.quality.unwrap() - quality).abs() < 1e-6, "{quality}");
    }
}

/// At the bubble point the vapor over both liquids vanishes.
#[test]
fn the_vapor_ends_at_the_bubble_point() {
    let blend = blend("R-290/R-718/R-728 (60/30/10)");
    let kelvin = Temperature::kelvin(290.0);
    let bubble = blend.bubble_pressure(kelvin).unwrap().in_pascal();
    let below = at(&blend, 290.0, bubble * (1.0 - 1e-4));
    assert!(below.liquids.is_some() && below.quality.unwrap() < 1e-4);
    let far = at(&blend, 290.0, bubble * 0.9).quality.unwrap();
    assert!(far > below.quality.unwrap());
}
