//! Raoult's law beside the real lines, against hand arithmetic with published vapour pressures.

use zeotrope::catalogue::{Basis, Catalogue};
use zeotrope::equilibrium::bubble_dew::Branch;
use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Error, Refrigerant};

use crate::program::json;

/// R-600a 0.37000 MPa and R-600 0.25760 MPa at 300 K (Bücker & Wagner, J. Phys. Chem. Ref. Data 35
/// (2006) 929, tables of saturation). Both have one molar mass: 50 % by mass is 50 % by mole.
#[test]
fn two_butanes_by_hand() {
    let blend = Refrigerant::named("R-600a/R-600 (50/50)").unwrap();
    let at = Temperature::kelvin(300.0);
    let bubble = blend.ideal_at_temperature(Branch::Bubble, at).unwrap();
    // (0.37000 + 0.25760)/2 = 0.31380; 0.5 x 0.37000/0.31380 = 0.58955
    assert!((bubble.pressure.in_bar() - 3.1380).abs() < 1e-4);
    assert!((bubble.other_mole_fractions[0] - 0.58955).abs() < 1e-5);
    let dew = blend.ideal_at_temperature(Branch::Dew, at).unwrap();
    // 2/(1/0.37000 + 1/0.25760) = 0.303738; 0.5 x 0.303738/0.37000 = 0.410457
    assert!((dew.pressure.in_bar() - 3.03738).abs() < 1e-4);
    assert!((dew.other_mole_fractions[0] - 0.410457).abs() < 1e-5);
}

/// At 273.15 K R-125 0.67052 MPa (Lemmon & Jacobsen, J. Phys. Chem. Ref. Data 34 (2005) 69), R-143a
/// 0.61967 MPa (Lemmon & Jacobsen, J. Phys. Chem. Ref. Data 29 (2000) 521), R-152a 0.263992 MPa
/// (Outcalt & McLinden, J. Phys. Chem. Ref. Data 25 (1996) 605); molar masses 120.0214, 84.041 and
/// 66.051 g/mol.
#[test]
fn three_components_by_hand() {
    let blend = Refrigerant::named("R-125/R-143a/R-152a (30/30/40)").unwrap();
    let pressures = [0.67052e6, 0.61967e6, 0.263992e6];
    let moles = [30.0 / 120.0214, 30.0 / 84.041, 40.0 / 66.051];
    let all: f64 = moles.iter().sum();
    let share = moles.map(|n| n / all);
    let bubble: f64 = share.iter().zip(pressures).map(|(x, p)| x * p).sum();
    let dew = 1.0 / share.iter().zip(pressures).map(|(y, p)| y / p).sum::<f64>();
    let at = Temperature::kelvin(273.15);
    for (branch, expected) in [(Branch::Bubble, bubble), (Branch::Dew, dew)] {
        let found = blend.ideal_at_temperature(branch, at).unwrap();
        assert!((found.pressure.in_pascal() / expected - 1.0).abs() < 3e-5);
        // back from the pressure
        let back = blend.ideal_at_pressure(branch, found.pressure).unwrap();
        assert!((back.temperature.in_kelvin() - 273.15).abs() < 1e-8);
        let sum: f64 = found.other_mass_fractions.iter().sum();
        assert!((sum - 1.0).abs() < 1e-12);
    }
}

/// Raoult's law against measured bubble points of a pair, less measured over measured; points
/// marked as suspect are left out.
fn against_measured(first: &str, second: &str) -> Vec<f64> {
    let catalogue = Catalogue::embedded();
    let mut rows = csv::Reader::from_path("tests/data/measured_bubble_points.csv").unwrap();
    let rows = rows.records().map(|row| row.unwrap());
    rows.filter(|row| &row[0] == first && &row[1] == second && row[6].is_empty())
        .map(|row| {
            let number = |k: usize| row[k].parse::<f64>().unwrap();
            let percent = 100.0 * number(4);
            let text = format!("{first}/{second} ({percent:.6}/{:.6})", 100.0 - percent);
            let blend = Refrigerant::from_catalogue(&catalogue, &text, Basis::Mole).unwrap();
            let at = Temperature::kelvin(number(2));
            let ideal = blend.ideal_at_temperature(Branch::Bubble, at).unwrap();
            ideal.pressure.in_pascal() / number(3) - 1.0
        })
        .collect()
}

/// Like molecules keep to the rule, unlike ones do not: propane with propene, and R-1234yf with
/// R-32, which rises above it (doi 10.1016/j.fluid.2017.01.024 and others in the file).
#[test]
fn like_molecules_keep_to_the_rule() {
    let alike = against_measured("R-290", "R-1270");
    assert!(alike.len() >= 70);
    assert!(alike.iter().all(|error| error.abs() < 0.025), "{alike:?}");
    let unlike = against_measured("R-1234yf", "R-32");
    assert!(unlike.len() >= 40);
    assert!(unlike.iter().all(|error| *error < 0.0), "{unlike:?}");
    assert!(unlike.iter().any(|error| *error < -0.08), "{unlike:?}");
}

/// No azeotrope comes of the rule.
#[test]
fn an_azeotrope_has_an_ideal_glide() {
    let r507a = Refrigerant::named("R-507A").unwrap();
    let at = Temperature::celsius(0.0);
    let ideal = |branch| r507a.ideal_at_temperature(branch, at).unwrap().pressure;
    assert!(ideal(Branch::Bubble) > ideal(Branch::Dew));
}

/// R-744's critical temperature is 304.1282 K (Span & Wagner, J. Phys. Chem. Ref. Data 25 (1996)
/// 1509).
#[test]
fn no_ideal_value_above_a_critical_temperature() {
    let blend = Refrigerant::named("R-455A").unwrap();
    let below = Temperature::kelvin(304.0);
    assert!(blend.ideal_at_temperature(Branch::Dew, below).is_ok());
    let error = blend
        .ideal_at_temperature(Branch::Bubble, Temperature::kelvin(304.2))
        .unwrap_err();
    let Error::OutOfRange { range, high, .. } = error else {
        panic!("{error}");
    };
    assert!(range.to_string().contains("R-744") && (high - 304.1282).abs() < 1e-3);
    assert!(
        blend
            .ideal_at_pressure(Branch::Bubble, Pressure::bar(40.0))
            .is_err()
    );

    let answer = json(&[
        "saturation",
        "R-455A",
        "--temperature",
        "40C",
        "--model",
        "ideal",
    ]);
    assert!(answer["bubble"].is_object());
    assert_eq!(answer["ideal"]["bubble"], serde_json::Value::Null);
    let warned = answer["warnings"].as_array().unwrap().iter();
    assert!(warned.clone().any(|one| one["code"] == "no_ideal_value"));
    let answer = json(&[
        "glide",
        "R-407C",
        "--pressure",
        "65psig",
        "--model",
        "ideal",
    ]);
    assert!(answer["ideal"]["glide_K"].as_f64().unwrap() > 0.0);
}
