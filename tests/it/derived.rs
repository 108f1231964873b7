//! Derived properties: slopes of the pressure, slopes of lines, K-values, heat from bubble to dew.

use zeotrope::units::{Pressure, Temperature};
use zeotrope::{Basis, Given, ReferenceState, Refrigerant};

/// `tests/data/derived.csv`, made by `tools/derived.py` with CoolProp 8.0.0, a cross-check.
#[test]
fn slopes_of_the_pressure_of_a_general_purpose_open_library() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/derived.csv");
    let mut compared = 0;
    for row in csv::Reader::from_path(path).unwrap().records() {
        let row = row.unwrap();
        let number = |column: usize| row[column].parse::<f64>().unwrap();
        let names: Vec<&str> = row[0].split('/').collect();
        let fractions = row[1].split('/').map(|x| x.parse::<f64>().unwrap());
        let parts: Vec<(&str, f64)> = names.into_iter().zip(fractions).collect();
        let refrigerant = Refrigerant::from_fractions(&parts, Basis::Mole).unwrap();
        let given =
            Given::TemperaturePressure(Temperature::kelvin(number(2)), Pressure::pascal(number(3)));
        let state = &refrigerant.state(given, ReferenceState::IdealGas).unwrap()[0];
        let derived = state.properties.derived;
        for (ours, column) in [
            (derived.isothermal_compressibility, 4),
            (derived.thermal_expansion, 5),
            (derived.pressure_by_density, 6),
            (derived.pressure_by_temperature, 7),
        ] {
            // mixtures: the other library has one gas constant for all
            let error = (ours.unwrap() / number(column) - 1.0).abs();
            assert!(error < 2e-5, "{row:?} {column}: {error:e}");
            compared += 1;
        }
    }
    assert_eq!(compared, 40);
}

/// Clapeyron: dp/dT = latent heat / (T (v'' - v')), an identity for one component; R-134a at 5 °C
/// by the printed table of Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657 (h' 206.75,
/// h'' 401.49 kJ/kg, rho' 1278.1, rho'' 17.131 kg/m3, values from memory), 2e-3.
#[test]
fn the_slope_of_a_pure_line() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let found = r134a
        .saturation_at_temperature(Temperature::celsius(5.0), ReferenceState::Iir)
        .unwrap();
    let (bubble, dew) = (found.bubble.unwrap(), found.dew.unwrap());
    let by_hand = (401.49e3 - 206.75e3) / (278.15 * (1.0 / 17.131 - 1.0 / 1278.1));
    for point in [&bubble, &dew] {
        let slope = point.slope.unwrap();
        assert!((slope / by_hand - 1.0).abs() < 2e-3, "{slope} {by_hand}");
        assert_eq!(point.k_values, [1.0]);
    }
}

/// The derivative against differences of the line itself over 0.02 K: what is checked is the
/// derivative, not the line.
#[test]
fn the_slopes_of_blends_are_those_of_their_lines() {
    for name in ["R-407C", "R-410A", "R-455A", "R-448A"] {
        let blend = Refrigerant::named(name).unwrap().exact();
        for celsius in [-30.0, 0.0, 40.0] {
            let at = |more: f64| Temperature::celsius(celsius + more);
            let found = blend
                .saturation_at_temperature(at(0.0), ReferenceState::IdealGas)
                .unwrap();
            let (bubble, dew) = (found.bubble.unwrap(), found.dew.unwrap());
            let line = |of: &dyn Fn(Temperature) -> Pressure| {
                (of(at(0.01)).in_pascal() - of(at(-0.01)).in_pascal()) / 0.02
            };
            for (slope, difference) in [
                (bubble.slope, line(&|t| blend.bubble_pressure(t).unwrap())),
                (dew.slope, line(&|t| blend.dew_pressure(t).unwrap())),
            ] {
                let error = (slope.unwrap() / difference - 1.0).abs();
                assert!(error < 1e-6, "{name} {celsius}: {error:e}");
            }
        }
    }
}

/// What evaporates R-407C at 5 bar: computed with CoolProp 8.0.0, a cross-check.
#[test]
fn heat_from_bubble_to_dew() {
    let r407c = Refrigerant::named("R-407C").unwrap();
    let found = r407c
        .saturation_at_pressure(Pressure::bar(5.0), ReferenceState::Iir)
        .unwrap();
    let heat = found.heat_bubble_to_dew.unwrap();
    let (bubble, dew) = (found.bubble.unwrap(), found.dew.unwrap());
    // with one gas constant for all components
    assert!((heat / 216_079.90 - 1.0).abs() < 2e-5, "{heat}");
    assert!(heat != bubble.latent_heat && heat != dew.latent_heat);
    // R-32 boils off first, R-134a last
    assert!(bubble.k_values[0] > bubble.k_values[1] && bubble.k_values[1] > bubble.k_values[2]);
    let at_temperature = r407c
        .saturation_at_temperature(Temperature::celsius(5.0), ReferenceState::Iir)
        .unwrap();
    assert_eq!(at_temperature.heat_bubble_to_dew, None);
}
