//! Moist air against the handbook, a general-purpose open library, and hand arithmetic.

use zeotrope::service::air::moist_air::{Humidity, MoistAir, air_side, saturation_pressure};
use zeotrope::units::{Pressure, Temperature};

use crate::program::{answer, json, zeotrope};

const SEA_LEVEL: Pressure = Pressure::kilopascal(101.325);

fn fahrenheit(dry: f64, share: f64, pressure: Pressure) -> MoistAir {
    let humidity = Humidity::Relative(share);
    MoistAir::new(Temperature::fahrenheit(dry), humidity, pressure).unwrap()
}

/// ASHRAE Handbook Fundamentals, chapter 1, table of thermodynamic properties of water at
/// saturation. The chapter's own equations meet its table within 2.5e-4.
#[test]
fn saturation_meets_the_handbook() {
    for (celsius, pascal) in [
        (-20.0, 103.24),
        (5.0, 872.6),
        (25.0, 3169.7),
        (50.0, 12_351.3),
    ] {
        let found = saturation_pressure(Temperature::celsius(celsius)).unwrap();
        let error = found.in_pascal() / pascal - 1.0;
        assert!(error.abs() < 2.5e-4, "{celsius} °C: {error:e}");
    }
}

/// ASHRAE Handbook Fundamentals, chapter 1, worked example: 40 °C dry, 20 °C wet bulb. The figures
/// are readings of its chart, so 2 %; enthalpy and volume quoted from memory.
#[test]
fn worked_example_of_the_handbook() {
    let wet = Humidity::WetBulb(Temperature::celsius(20.0));
    let air = MoistAir::new(Temperature::celsius(40.0), wet, SEA_LEVEL).unwrap();
    for (name, found, printed) in [
        ("humidity ratio", air.humidity_ratio, 0.0065),
        ("relative humidity", air.relative_humidity, 0.14),
        ("enthalpy", air.enthalpy, 56.7e3),
        ("specific volume", air.specific_volume, 0.896),
    ] {
        assert!((found / printed - 1.0).abs() < 0.02, "{name}: {found}");
    }
    // By hand with the chapter's equations: W = 0.00640, 13.98 %.
    assert!(
        (air.humidity_ratio - 0.006_40).abs() < 5e-6,
        "{}",
        air.humidity_ratio
    );
    assert!(
        (air.relative_humidity - 0.139_8).abs() < 5e-5,
        "{}",
        air.relative_humidity
    );
}

/// Computed with CoolProp 8.0.0, a cross-check; it carries the enhancement that the handbook's
/// equations leave out, which is worth up to 0.5 % of the vapour pressure and little in wet bulb.
#[test]
fn wet_bulb_meets_an_open_library() {
    let high = Pressure::pascal(83_428.0);
    for (dry, pressure, wet) in [
        (80.0, SEA_LEVEL, 66.657),
        (75.0, SEA_LEVEL, 62.547),
        (80.0, high, 65.839),
        (75.0, high, 61.713),
    ] {
        let found = fahrenheit(dry, 0.5, pressure).wet_bulb.in_fahrenheit();
        assert!((found - wet).abs() < 0.03, "{dry} °F: {found} {wet}");
    }
}

/// Whichever reading of moisture is given, the others come back from the air it makes.
#[test]
fn each_reading_gives_the_others_back() {
    for celsius in [-30.0, -5.0, 0.5, 5.0, 24.0, 45.0] {
        for share in [0.05, 0.4, 0.95, 1.0] {
            for pressure in [60e3, 101_325.0] {
                let (dry, p) = (Temperature::celsius(celsius), Pressure::pascal(pressure));
                let air = MoistAir::new(dry, Humidity::Relative(share), p).unwrap();
                let ways = [
                    Some(Humidity::WetBulb(air.wet_bulb)),
                    air.frozen_wet_bulb.map(Humidity::WetBulb),
                    air.dew_point.map(Humidity::DewPoint),
                ];
                for humidity in ways.into_iter().flatten() {
                    let again = MoistAir::new(dry, humidity, p).unwrap();
                    let ratio = again.humidity_ratio / air.humidity_ratio;
                    // Equations 5 and 6 do not quite meet at 0 °C: 1e-4.
                    assert!(
                        (ratio - 1.0).abs() < 1.2e-4,
                        "{celsius} {share} {humidity:?}: {ratio}"
                    );
                }
                assert!(air.wet_bulb <= dry);
                // Saturated air has one temperature thrice, a trace of rounding aside.
                let wet = air.wet_bulb.in_kelvin() + 1e-6;
                assert!(
                    air.dew_point.is_none_or(|dew| dew.in_kelvin() <= wet),
                    "{air:?}"
                );
            }
        }
    }
}

/// Just below freezing a wick may be wet or frozen; both wet bulbs are told.
#[test]
fn two_wet_bulbs_near_freezing() {
    let air = (0..400)
        .map(|k| f64::from(k) / 100.0)
        .map(|t| {
            MoistAir::new(Temperature::celsius(t), Humidity::Relative(0.9), SEA_LEVEL).unwrap()
        })
        .find(|air| air.frozen_wet_bulb.is_some())
        .unwrap();
    assert!(air.wet_bulb.in_celsius() >= 0.0);
    assert!(air.frozen_wet_bulb.unwrap().in_celsius() < 0.0);
}

/// The parts of the heat are the whole, and the whole is what the handbook's equation says.
#[test]
fn heat_of_a_stream() {
    let (entering, leaving) = (
        fahrenheit(80.0, 0.5, SEA_LEVEL),
        fahrenheit(55.0, 0.9, SEA_LEVEL),
    );
    let found = air_side(&entering, &leaving, 0.5);
    let by_hand = 0.5 / entering.specific_volume * (entering.enthalpy - leaving.enthalpy);
    assert!((found.total - by_hand).abs() < 1e-9 * by_hand);
    assert!((found.sensible + found.latent - found.total).abs() < 1e-9 * by_hand);
    // The rule of thumb 4.5 Btu/h per cfm and Btu/lb holds at sea level to 5 % (common practice).
    let cfm = 0.5 * 60.0 / 0.3048_f64.powi(3);
    let rule =
        4.5 * cfm * (entering.enthalpy - leaving.enthalpy) / 2326.0 * 1_055.055_852_62 / 3600.0;
    assert!(
        (found.total / rule - 1.0).abs() < 0.05,
        "{} {rule}",
        found.total
    );
}

#[test]
fn the_altitude_has_a_part() {
    let question = [
        "moist-air",
        "--dry-bulb",
        "80F",
        "--wet-bulb",
        "67F",
        "--leaving-dry-bulb",
        "58F",
        "--leaving-wet-bulb",
        "56F",
        "--flow",
        "1200cfm",
    ];
    let low = json(&question);
    assert!(low["sea_level_capacity_W"].is_null());
    let high = json(&[&question[..], &["--elevation", "5280ft"]].concat());
    assert_eq!(high["sea_level_capacity_W"], low["capacity_W"]);
    let part = high["capacity_W"].as_f64().unwrap() - low["capacity_W"].as_f64().unwrap();
    assert!((high["altitude_part_W"].as_f64().unwrap() - part).abs() < 1e-9);
    assert!(part < 0.0, "{part}");
    let page = answer(&[&question[..], &["--elevation", "5280ft"]].concat());
    assert!(page.contains("difference by altitude"), "{page}");
    assert!(page.contains("Source: ASHRAE"), "{page}");
}

#[test]
fn a_barometer_is_hinted_as_one() {
    for text in ["24.6", "24.6inHg", "12psi", "12psig", "24.6hPa"] {
        let question = ["moist-air", "--dry-bulb", "70F", "--wet-bulb", "60F"];
        let run = zeotrope(&[&question[..], &["--station-pressure", text]].concat());
        assert_eq!(run.code, 2, "{text}");
        assert!(
            run.err.contains("for example 24.6inHga"),
            "{text}: {}",
            run.err
        );
    }
}
