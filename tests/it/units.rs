//! Conversions and the reading of values, against published figures.

use zeotrope::Error;
use zeotrope::units::*;

fn pressure(text: &str) -> f64 {
    parse_pressure(text, BareUnit::Refused, &Atmosphere::SEA_LEVEL)
        .unwrap()
        .value
        .in_pascal()
}

fn refused<T: std::fmt::Debug>(result: zeotrope::Result<T>) -> (String, String) {
    let error = result.unwrap_err();
    assert!(matches!(error, Error::Value { .. }), "{error:?}");
    (error.to_string(), error.hint().unwrap())
}

fn refused_pressure(text: &str) -> (String, String) {
    refused(parse_pressure(
        text,
        BareUnit::Refused,
        &Atmosphere::SEA_LEVEL,
    ))
}

/// Factors to the digits printed in NIST SP 811 (2008), appendix B.8; from memory.
#[test]
fn sizes_of_units() {
    assert!((PASCAL_PER_PSI - 6894.757).abs() < 5e-4);
    assert!((PASCAL_PER_INCH_OF_MERCURY - 3386.389).abs() < 5e-4);
    assert!((PASCAL_PER_TORR - 133.3224).abs() < 5e-5);
    // SP 811 prints the conventional millimetre of mercury as 133.3224 Pa.
    assert!((PASCAL_PER_MICRON - 0.133_322_4).abs() < 5e-8);
    // lb/ft3 = 16.018 46 kg/m3
    let density = parse_density("1lb/ft3").unwrap().value.in_kg_per_m3(1.0);
    assert!((density - 16.018_46).abs() < 5e-6);
    // Btu(IT)/lb = 2326 J/kg, Btu(IT)/(lb °F) = 4186.8 J/(kg K), both exact
    assert_eq!(parse_enthalpy("1Btu/lb").unwrap().value, 2326.0);
    assert_eq!(parse_entropy("1Btu/lb/F").unwrap().value, 4186.8);
}

/// ASHRAE Handbook Fundamentals, chapter 1, table of the standard atmosphere.
#[test]
fn standard_atmosphere() {
    for (metres, printed) in [
        (-500.0, 107_478.0),
        (500.0, 95_461.0),
        (1000.0, 89_875.0),
        (4000.0, 61_640.0),
        (10_000.0, 26_436.0),
    ] {
        let site = Atmosphere::standard_at_elevation(metres).unwrap();
        // Printed to 1 Pa.
        let difference = site.pressure().in_pascal() - printed;
        assert!(difference.abs() < 1.0, "{metres} m: {difference} Pa off");
    }
    for metres in [-500.1, 11_000.1, f64::NAN, f64::INFINITY] {
        refused(Atmosphere::standard_at_elevation(metres));
    }
}

/// Limits of range are written in kelvin with two decimals; a person types them in °C.
#[test]
fn celsius_meets_kelvin_to_the_last_bit() {
    for hundredths in (-27_315..=30_000).step_by(7) {
        let celsius: f64 = format!("{hundredths}e-2").parse().unwrap();
        let kelvin: f64 = format!("{}e-2", hundredths + 27_315).parse().unwrap();
        assert_eq!(
            Temperature::celsius(celsius).in_kelvin(),
            kelvin,
            "{celsius} °C"
        );
        assert!((Temperature::kelvin(kelvin).in_celsius() - celsius).abs() < 1e-12);
    }
}

/// 0 °C is 32 °F, 100 °C is 212 °F, -40 is the same on both scales, 0 K is -459.67 °F:
/// definitions of the scales.
#[test]
fn temperature_scales() {
    for (celsius, fahrenheit) in [
        (0.0, 32.0),
        (100.0, 212.0),
        (-40.0, -40.0),
        (-273.15, -459.67),
    ] {
        let from_celsius = Temperature::celsius(celsius);
        assert!((from_celsius.in_fahrenheit() - fahrenheit).abs() < 1e-9);
        let from_fahrenheit = Temperature::fahrenheit(fahrenheit);
        assert!((from_fahrenheit.in_celsius() - celsius).abs() < 1e-9);
    }
    // 18 Fahrenheit degrees are 10 K; as a thermometer reading 18 °F would be -7.8 °C.
    let step = parse_temperature_difference("18F").unwrap();
    assert!((step.value.in_kelvin() - 10.0).abs() < 1e-12);
    assert_eq!(step.unit, TemperatureUnit::Fahrenheit);
}

#[test]
fn temperatures_as_typed() {
    for text in [
        "5C", "41F", "278.15K", "5°C", "41 °F", " 5 C ", "5degC", "+5c", "5.0e0C",
    ] {
        let kelvin = parse_temperature(text).unwrap().value.in_kelvin();
        assert!((kelvin - 278.15).abs() < 1e-9, "{text}: {kelvin}");
    }
    for text in ["-40C", "\u{2212}40C", "-40F", "\u{2212}40°F"] {
        let kelvin = parse_temperature(text).unwrap().value.in_kelvin();
        assert!((kelvin - 233.15).abs() < 1e-9, "{text}: {kelvin}");
    }
    assert_eq!(
        parse_temperature("41F").unwrap().unit,
        TemperatureUnit::Fahrenheit
    );
}

#[test]
fn temperatures_refused() {
    for (text, problem) in [
        ("40", "has no unit"),
        ("-500C", "below absolute zero"),
        ("-460F", "below absolute zero"),
        ("-1K", "below absolute zero"),
        ("NaN", "does not begin with a number"),
        ("NaNC", "does not begin with a number"),
        ("infC", "does not begin with a number"),
        ("1e999C", "not a finite number"),
        ("-1e999C", "not a finite number"),
        ("", "does not begin with a number"),
        ("C", "does not begin with a number"),
        ("-", "does not begin with a number"),
        (".C", "does not begin with a number"),
        ("5,5C", "holds a comma"),
        ("5psig", "not a unit of temperature"),
        ("5°K", "not a unit of temperature"),
        ("5CC", "not a unit of temperature"),
        ("5\u{1F321}", "not a unit of temperature"),
    ] {
        let (message, hint) = refused(parse_temperature(text));
        assert!(message.contains(problem), "{text}: {message}");
        assert!(!hint.is_empty());
    }
    assert_eq!(refused(parse_temperature("40")).1, "write 40C, 40F or 40K");
}

/// 70 psig above 101 325 Pa is 84.696 psia (14.6959 psi in an atmosphere, NIST SP 811, from memory).
#[test]
fn pressures_as_typed() {
    assert!((pressure("70psig") - (70.0 * PASCAL_PER_PSI + 101_325.0)).abs() < 1e-9);
    assert!((pressure("70psig") - pressure("84.695949psia")).abs() < 0.01);
    assert_eq!(pressure("5.8barg"), 681_325.0);
    assert_eq!(pressure("6.8bara"), 680_000.0);
    assert_eq!(pressure("580kPag"), 681_325.0);
    assert_eq!(pressure("681kPaa"), 681_000.0);
    assert!((pressure("0.68MPaa") - 680_000.0).abs() < 1e-6);
    assert!((pressure("0.58MPag") - 681_325.0).abs() < 1e-6);
    assert_eq!(pressure("681000Pa"), 681_000.0);
    assert!((pressure("24.6inHga") - 24.6 * 3386.389).abs() < 0.05);
    // 500 micron = 66.661 Pa, 1 micron being 0.133322 Pa
    assert!((pressure("500micron") - 66.661).abs() < 1e-3);
    assert_eq!(pressure("12mbar"), 1200.0);
    assert!((pressure("9torr") - 1199.9).abs() < 0.01);
    assert_eq!(pressure("0psig"), 101_325.0);
    assert_eq!(pressure("70 PSIG"), pressure("70psig"));
    assert_eq!(pressure("\u{2212}2psig"), pressure("-2psig"));
    assert_eq!(
        parse_pressure("70psig", BareUnit::Refused, &Atmosphere::SEA_LEVEL)
            .unwrap()
            .unit,
        PressureUnit::PsiGauge
    );
}

/// V = (p_site - p_abs)/3386.389 Pa per inHg.
#[test]
fn vacuum_counts_from_the_site() {
    assert!((pressure("12.4inHgvac") - (101_325.0 - 12.4 * 3386.389)).abs() < 0.01);
    let site = Atmosphere::standard_at_elevation(1609.344).unwrap();
    let there = parse_pressure("12.4inHgvac", BareUnit::Refused, &site).unwrap();
    // 83 428 Pa at 5280 ft, computed with the same formula elsewhere.
    assert!((there.value.in_pascal() - (83_428.0 - 12.4 * 3386.389)).abs() < 1.0);
    // 29 inHg below that air would be less than nothing.
    let (message, hint) = refused(parse_pressure("29inHgvac", BareUnit::Refused, &site));
    assert!(message.contains("below a perfect vacuum"), "{message}");
    assert!(hint.contains("24.64 inHg vacuum"), "{hint}");
}

#[test]
fn pressures_refused() {
    for (text, problem, hint_part) in [
        ("40", "has no unit", "40psig"),
        (
            "40psi",
            "does not say whether it is gauge or absolute",
            "40psig (gauge) or 40psia (absolute)",
        ),
        (
            "5.8bar",
            "does not say whether it is gauge or absolute",
            "5.8barg (gauge) or 5.8bara (absolute)",
        ),
        (
            "580kPa",
            "does not say whether it is gauge or absolute",
            "580kPag (gauge) or 580kPaa (absolute)",
        ),
        (
            "0.5MPa",
            "does not say whether it is gauge or absolute",
            "0.5MPag (gauge) or 0.5MPaa (absolute)",
        ),
        (
            "12inHg",
            "does not say whether it is gauge or absolute",
            "12inHgvac",
        ),
        ("5mPa", "not a unit of pressure", "MPaa"),
        (
            "-12inHgvac",
            "both a minus sign and the word vacuum",
            "12inHgvac",
        ),
        ("-20psig", "below a perfect vacuum", "-14.70 psig"),
        ("-1psia", "below a perfect vacuum", "never negative"),
        ("NaN", "does not begin with a number", "70psig"),
        ("1e999psig", "not a finite number", "70psig"),
        ("40C", "not a unit of pressure", "psig"),
    ] {
        let (message, hint) = refused_pressure(text);
        assert!(message.contains(problem), "{text}: {message}");
        assert!(hint.contains(hint_part), "{text}: {hint}");
    }
}

#[test]
fn bare_kilopascal_is_absolute_only_where_said() {
    for (text, unit) in [
        ("681kPa", PressureUnit::KilopascalAbsolute),
        ("0.681MPa", PressureUnit::MegapascalAbsolute),
    ] {
        let typed = parse_pressure(text, BareUnit::Absolute, &Atmosphere::SEA_LEVEL).unwrap();
        assert!((typed.value.in_pascal() - 681_000.0).abs() < 1e-6);
        assert_eq!(typed.unit, unit);
    }
    refused(parse_pressure(
        "40psi",
        BareUnit::Absolute,
        &Atmosphere::SEA_LEVEL,
    ));
    refused(parse_pressure(
        "40bar",
        BareUnit::Absolute,
        &Atmosphere::SEA_LEVEL,
    ));
}

#[test]
fn differences_of_pressure() {
    assert!((parse_pressure_difference("500psi").unwrap() - 500.0 * 6894.757).abs() < 0.2);
    assert_eq!(parse_pressure_difference("0.2bar").unwrap(), 20_000.0);
    for text in ["5", "5psig", "5kPaa", "5mPa", "x"] {
        refused(parse_pressure_difference(text));
    }
}

#[test]
fn every_pressure_unit_reads_back_what_it_writes() {
    let site = Atmosphere::standard_at_elevation(1600.0).unwrap();
    for unit in PressureUnit::ALL {
        let written = unit.write(12.5, &site);
        assert!((unit.read(written, &site) - 12.5).abs() < 1e-9, "{unit:?}");
        assert_eq!(PressureUnit::named(unit.typed()).unwrap(), *unit);
    }
}

#[test]
fn elevations_qualities_and_long_texts() {
    assert!((parse_elevation("5280ft").unwrap() - 1609.344).abs() < 1e-9);
    assert_eq!(parse_elevation("1.6km").unwrap(), 1600.0);
    for text in ["1600", "1600F", "m"] {
        refused(parse_elevation(text));
    }
    assert_eq!(parse_quality("1").unwrap(), 1.0);
    for text in ["1.0001", "-0.1", "25%", "NaN", "1e999"] {
        refused(parse_quality(text));
    }
    let (message, _) = refused(parse_temperature(&"9".repeat(5000)));
    assert!(message.len() < 120, "{message}");
}

#[test]
fn station_pressure_must_be_air() {
    let inches = Pressure::pascal(24.6 * 3386.389);
    let site = Atmosphere::from_station_pressure(inches).unwrap();
    assert_eq!(site.pressure(), inches);
    for pascal in [0.0, 19_999.0, 115_001.0, f64::NAN] {
        refused(Atmosphere::from_station_pressure(Pressure::pascal(pascal)));
    }
}
