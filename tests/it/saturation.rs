//! The saturation line and the single states of all pure refrigerants, held against what
//! thermodynamics asks of them: equal pressure and Gibbs energy, an inflection at the critical
//! point, and the same state from whichever two properties it is sought by.

use num_dual::Dual3_64;
use proptest::prelude::*;
use zeotrope::catalogue::Catalogue;
use zeotrope::equilibrium::critical::critical_point;
use zeotrope::equilibrium::pure::{saturation_at_pressure, saturation_at_temperature};
use zeotrope::helmholtz::pure::DensityPoint;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Basis, Error, Refrigerant};

use crate::derivatives::pures;
use crate::dual_equation::residual_terms;

/// Temperatures from the lowest to 1e-4 below the critical one, closer together at the top.
fn temperatures(refrigerant: &Refrigerant) -> Vec<f64> {
    let component = &refrigerant.model().0.components()[0];
    let low = component.record.range.temperature_min_k;
    let critical = component.critical.temperature;
    let top = critical * (1.0 - 1e-4);
    let mut all: Vec<f64> = (0..40)
        .map(|k| low + (top - low) * f64::from(k) / 40.0)
        .collect();
    all.extend([0.97, 0.99, 0.995, 0.998, 0.999, 0.9995].map(|part| part * critical));
    all.push(top);
    all.sort_by(f64::total_cmp);
    all
}

#[test]
fn temperature_to_pressure_and_back() {
    for refrigerant in pures() {
        let (mixture, x) = refrigerant.model();
        let fixed = mixture.at_composition(x);
        let name = refrigerant.designation();
        for temperature in temperatures(&refrigerant) {
            let there = saturation_at_temperature(&fixed, temperature, None)
                .unwrap_or_else(|error| panic!("{name} {temperature} K: {error}"));
            let back = saturation_at_pressure(&fixed, there.pressure, None)
                .unwrap_or_else(|error| panic!("{name} {} Pa: {error}", there.pressure));
            let error = (back.temperature / temperature - 1.0).abs();
            assert!(error < 1e-10, "{name} {temperature} K: {error:e}");
        }
    }
}

#[test]
fn pressure_to_temperature_and_back() {
    for refrigerant in pures() {
        let (mixture, x) = refrigerant.model();
        let fixed = mixture.at_composition(x);
        let name = refrigerant.designation();
        let all = temperatures(&refrigerant);
        let pressure = |t: f64| saturation_at_temperature(&fixed, t, None).unwrap().pressure;
        let (low, high) = (pressure(all[0]), pressure(all[all.len() - 1]));
        for k in 0..=30 {
            let asked = low * (high / low).powf(f64::from(k) / 30.0);
            let asked = asked.clamp(low, high);
            let there = saturation_at_pressure(&fixed, asked, None)
                .unwrap_or_else(|error| panic!("{name} {asked} Pa: {error}"));
            let error = (there.pressure / asked - 1.0).abs();
            assert!(error < 1e-10, "{name} {asked} Pa gives itself: {error:e}");
            let back = pressure(there.temperature);
            let error = (back / asked - 1.0).abs();
            assert!(error < 1e-10, "{name} {asked} Pa: {error:e}");
        }
    }
}

#[test]
fn phases_have_one_pressure_and_one_gibbs_energy() {
    for refrigerant in pures() {
        let (mixture, x) = refrigerant.model();
        let fixed = mixture.at_composition(x);
        let name = refrigerant.designation();
        let mut previous = 0.0;
        for temperature in temperatures(&refrigerant) {
            let at = saturation_at_temperature(&fixed, temperature, None).unwrap();
            assert!(
                at.liquid_density > at.vapor_density,
                "{name} {temperature} K"
            );
            assert!(at.pressure > previous, "{name} {temperature} K");
            previous = at.pressure;
            // the full evaluation, not the isotherm the solver works on
            let gibbs_and_pressure = |density: f64| {
                let r = fixed.residual(temperature, density);
                (density.ln() + r.a + r.d, density * (1.0 + r.d))
            };
            let (g_l, p_l) = gibbs_and_pressure(at.liquid_density);
            let (g_v, p_v) = gibbs_and_pressure(at.vapor_density);
            let gap = (g_l - g_v).abs();
            assert!(gap < 1e-9, "{name} {temperature} K: Gibbs energy {gap:e}");
            let gap = (p_l - p_v).abs() / at.liquid_density;
            assert!(gap < 1e-9, "{name} {temperature} K: pressure {gap:e}");
            let printed = p_v * fixed.gas_constant * temperature;
            assert!((printed / at.pressure - 1.0).abs() < 1e-12, "{name}");
        }
    }
}

/// have non-analytic terms, whose second derivatives have no limit at the
/// critical point (Span & Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509).
const NON_ANALYTIC: [&str; 2] = ["R-744", "R-718"];

#[test]
fn the_isotherm_is_flat_at_the_critical_point() {
    let mut checked = 0;
    for refrigerant in pures() {
        let name = refrigerant.designation();
        if NON_ANALYTIC.contains(&name) {
            continue;
        }
        let component = &refrigerant.model().0.components()[0];
        let record = &component.record;
        let tau = record.reducing.temperature_k / component.critical.temperature;
        let density = component.critical.density / record.reducing.density_mol_m3;
        let delta = Dual3_64::from_re(density).derivative();
        let a = residual_terms(&record.residual, Dual3_64::from_re(tau), delta)
            .into_iter()
            .fold(Dual3_64::from_re(0.0), |sum, term| sum + term);
        // p / (rhor R Tc) = delta + delta^2 a_d, differentiated by delta
        let slope = 1.0 + 2.0 * density * a.v1 + density.powi(2) * a.v2;
        let curvature = 2.0 * a.v1 + 4.0 * density * a.v2 + density.powi(2) * a.v3;
        assert!(slope.abs() < FLAT, "{name}: dp/drho {slope:e}");
        assert!(curvature.abs() < FLAT, "{name}: d2p/drho2 {curvature:e}");
        checked += 1;
    }
    assert_eq!(checked, 70);
}

/// The data files hold the critical point to ten digits.
const FLAT: f64 = 1e-8;

/// Where a file holds no critical point it is sought: from the published point the search comes
/// to where the slope vanishes, by dual numbers from the formula as printed, and to the point on file,
/// which another program found.
#[test]
fn the_critical_point_is_sought_where_the_isotherm_is_flat() {
    let mut checked = 0;
    for refrigerant in pures() {
        let name = refrigerant.designation();
        if NON_ANALYTIC.contains(&name) {
            continue;
        }
        let (mixture, x) = refrigerant.model();
        let component = &mixture.components()[0];
        let record = &component.record;
        let published = &record.critical_point.published;
        let start = DensityPoint {
            temperature: published.temperature_k,
            density: published.density_mol_m3,
        };
        let found = critical_point(&mixture.at_composition(x), start).unwrap();
        let tau = record.reducing.temperature_k / found.temperature;
        let density = found.density / record.reducing.density_mol_m3;
        let delta = Dual3_64::from_re(density).derivative();
        let a = residual_terms(&record.residual, Dual3_64::from_re(tau), delta)
            .into_iter()
            .fold(Dual3_64::from_re(0.0), |sum, term| sum + term);
        let slope = 1.0 + 2.0 * density * a.v1 + density.powi(2) * a.v2;
        assert!(slope.abs() < SOUGHT, "{name}: dp/drho {slope:e}");
        let own = component.critical.temperature;
        let off = found.temperature / own - 1.0;
        assert!(
            off.abs() < SOUGHT,
            "{name}: {} and {own} K",
            found.temperature
        );
        checked += 1;
    }
    assert_eq!(checked, 70);
}

/// What a search for the critical point may leave, in parts.
const SOUGHT: f64 = 1e-7;

#[test]
fn questions_beyond_the_line_are_refused() {
    for refrigerant in pures() {
        let (mixture, x) = refrigerant.model();
        let fixed = mixture.at_composition(x);
        let component = &mixture.components()[0];
        let low = component.record.range.temperature_min_k;
        let critical = component.critical.temperature;
        let top = saturation_at_temperature(&fixed, critical, None)
            .unwrap()
            .pressure;
        let bottom = saturation_at_temperature(&fixed, low, None)
            .unwrap()
            .pressure;
        let bad = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -1.0];
        let name = refrigerant.designation();
        for t in [low - 1e-3, critical + 1e-3, 1e300].iter().chain(&bad) {
            let answer = saturation_at_temperature(&fixed, *t, None);
            assert!(answer.is_err(), "{name} {t} K: {answer:?}");
        }
        for p in [bottom * 0.999, top * 1.001, 1e300].iter().chain(&bad) {
            let answer = saturation_at_pressure(&fixed, *p, None);
            assert!(answer.is_err(), "{name} {p} Pa: {answer:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever number is asked, there is an answer or an error.
    #[test]
    fn any_number_is_answered_or_refused(number in any::<f64>(), which in 0..72_usize) {
        let designation = &Catalogue::embedded().pure_designations()[which];
        let refrigerant = Refrigerant::named(designation).unwrap();
        let (mixture, x) = refrigerant.model();
        let fixed = mixture.at_composition(x);
        if let Ok(at) = saturation_at_temperature(&fixed, number, None) {
            prop_assert!(at.pressure > 0.0);
        }
        if let Ok(at) = saturation_at_pressure(&fixed, number, None) {
            prop_assert!(at.temperature > 0.0);
        }
    }
}

/// A dew line ends in the critical point, below the highest pressure of the bubble line: what is refused
/// above it names the pressure of that point.
#[test]
fn the_dew_line_ends_at_the_critical_pressure() {
    for name in ["R-407C", "R-454C", "R-448A"] {
        let blend = Refrigerant::named(name).unwrap().exact();
        let critical = blend.critical_point().unwrap().pressure.in_pascal();
        let beyond = blend.dew_temperature(Pressure::pascal(1.3 * critical));
        let Err(Error::OutOfRange { high, .. }) = beyond else {
            panic!("{name}: {beyond:?}");
        };
        assert!((high / critical - 1.0).abs() < 1e-9, "{name}: {high}");
    }
}

/// Above water a hydrocarbon's vapor begins to condense where water alone has the pressure of its
/// part: kelvins of IAPWS R7-97 at that pressure (Dalton's law), within 1 K up to 5 bar. Far below,
/// where the propane would condense, the vapor would hold a thousand times too much water.
#[test]
fn beside_water_the_dew_point_is_that_of_the_water() {
    for (propane, water) in [
        (50, 400.56),
        (60, 393.36),
        (80, 372.76),
        (90, 354.47),
        (95, 338.11),
    ] {
        let name = format!("R-290/R-718 ({propane}/{})", 100 - propane);
        let catalogue = Catalogue::embedded();
        let blend = Refrigerant::from_catalogue(&catalogue, &name, Basis::Mole).unwrap();
        for one in [blend.exact(), blend] {
            let found = one.dew_temperature(Pressure::bar(5.0)).unwrap();
            assert!((found.in_kelvin() - water).abs() < 1.0, "{name}: {found:?}");
        }
    }
}

/// Over two liquids that do not dissolve in one another the vapor has the vapor pressures of both
/// together, within 1 %: propane by CoolProp 8.0.0, water by IAPWS R7-97, Pa.
#[test]
fn over_two_liquids_the_bubble_point_has_both_vapor_pressures() {
    let catalogue = Catalogue::embedded();
    for propane in [5, 30, 60, 90, 99] {
        let name = format!("R-290/R-718 ({propane}/{})", 100 - propane);
        let blend = Refrigerant::from_catalogue(&catalogue, &name, Basis::Mole).unwrap();
        let blend = blend.exact();
        for (celsius, of_propane, of_water) in [
            (10.0, 636_602.0, 1_228.2),
            (30.0, 1_078_995.0, 4_247.0),
            (60.0, 2_116_753.0, 19_946.0),
        ] {
            let temperature = Temperature::celsius(celsius);
            let found = blend.bubble_pressure(temperature).unwrap();
            let part = found.in_pascal() / (of_propane + of_water);
            assert!((part - 1.0).abs() < 0.01, "{name} at {celsius} °C: {part}");
            let back = blend.bubble_temperature(found).unwrap();
            let off = back.in_kelvin() - temperature.in_kelvin();
            assert!(off.abs() < 1e-6, "{name} at {celsius} °C: {off} K off");
        }
    }
}

/// Three phases of two components have one pressure at a temperature, whatever there is of each
/// (Gibbs' phase rule).
#[test]
fn over_two_liquids_of_two_components_the_pressure_is_one() {
    let catalogue = Catalogue::embedded();
    let pressures = [10, 20, 30, 35, 38, 40, 42, 44, 50].map(|ammonia| {
        let name = format!("R-717/R-600 ({ammonia}/{})", 100 - ammonia);
        let blend = Refrigerant::from_catalogue(&catalogue, &name, Basis::Mass).unwrap();
        let found = blend.exact().bubble_pressure(Temperature::celsius(-20.0));
        found.unwrap().in_pascal()
    });
    for pressure in pressures {
        assert!(
            (pressure / pressures[0] - 1.0).abs() < 1e-9,
            "{pressures:?}"
        );
    }
}

/// Some percent of another refrigerant lower carbon dioxide's pressure by little, up to its critical point:
/// 6.4342 MPa at 25 °C and 7.2137 MPa at 30 °C by Span and Wagner's equation (CoolProp 8.0.0).
#[test]
fn carbon_dioxide_with_little_else_has_both_lines_to_the_top() {
    let catalogue = Catalogue::embedded();
    for other in ["R-1234yf", "R-134a", "R-32", "R-290"] {
        for (share, celsius, of_pure) in [
            (0.5, 25.0, 6_434_200.0),
            (2.5, 25.0, 6_434_200.0),
            (0.5, 30.0, 7_213_700.0),
            (2.5, 30.0, 7_213_700.0),
        ] {
            let name = format!("R-744/{other} ({}/{share})", 100.0 - share);
            let blend = Refrigerant::from_catalogue(&catalogue, &name, Basis::Mole).unwrap();
            let blend = blend.exact();
            let at = Temperature::celsius(celsius);
            let lines = [blend.bubble_pressure(at), blend.dew_pressure(at)];
            let [bubble, dew] = lines.map(|line| line.unwrap().in_pascal());
            assert!(bubble > dew, "{name} at {celsius} °C: {bubble} {dew}");
            for line in [bubble, dew] {
                let off = (line / of_pure - 1.0).abs();
                assert!(off < 0.04 * share, "{name} at {celsius} °C: {line}");
            }
            let back = blend.bubble_temperature(blend.bubble_pressure(at).unwrap());
            assert!(
                (back.unwrap().in_celsius() - celsius).abs() < 1e-6,
                "{name}"
            );
        }
    }
}
