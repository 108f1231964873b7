//! A technician's day: what answers must say.

use zeotrope::service::vessel::rise::{Held, Hold, Resolution, RiseShape, rise};
use zeotrope::units::{Atmosphere, Pressure, PressureUnit};

use crate::program::{answer, json, zeotrope};

/// A page in one line: a line may be broken anywhere.
fn flat(words: &[&str]) -> String {
    let page = answer(words);
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub(crate) fn near(value: f64, expected: f64, within: f64, what: &str) {
    assert!(
        (value - expected).abs() <= within,
        "{what}: {value}, expected {expected}"
    );
}

pub(crate) fn number(value: &serde_json::Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("no number: {value}"))
}

/// 300 to 316 micron in 30 minutes: 16 micron, 32 micron per hour, no shape; to 500 micron in 10
/// minutes there is room. The same shape with 20 times the rise is straight.
#[test]
fn a_small_rise_has_no_shape() {
    let series = |step: f64| -> Vec<(f64, Pressure)> {
        let micron = |k: f64| PressureUnit::Micron.write(300.0 + step * k, &Atmosphere::SEA_LEVEL);
        (0..=6)
            .map(|k| (300.0 * f64::from(k), micron(f64::from(k))))
            .collect()
    };
    let micron = |pascal: f64| pascal / PressureUnit::Micron.pascal();
    let asked = Hold {
        limit: PressureUnit::Micron.write(500.0, &Atmosphere::SEA_LEVEL),
        time: 600.0,
    };
    let hold = Some(asked);
    let small = rise(&series(16.0 / 6.0), None, None, hold).unwrap();
    assert_eq!(small.shape, RiseShape::TooLittle);
    near(micron(small.total()), 16.0, 1e-9, "rise");
    near(micron(small.rate()) * 3600.0, 32.0, 1e-9, "per hour");
    assert_eq!(small.hold.unwrap().1, Held::Below);
    let large = rise(&series(20.0 * 16.0 / 6.0), None, None, hold).unwrap();
    // a step of 53 micron every 5 minutes, each a step of the readings: 10 micron resolve it
    let fine = Some(Resolution::Given(
        PressureUnit::Micron.write(10.0, &Atmosphere::SEA_LEVEL),
    ));
    assert_eq!(
        rise(&series(20.0 * 16.0 / 6.0), None, fine, hold)
            .unwrap()
            .shape,
        RiseShape::Straight
    );
    // 300 + 53.3 k passes 500 micron at k = 4, 20 minutes, behind the 10 asked for
    assert_eq!(large.hold.unwrap().1, Held::Below);
    let longer = Hold {
        time: 1800.0,
        ..asked
    };
    let passed = rise(&series(20.0 * 16.0 / 6.0), None, fine, Some(longer)).unwrap();
    assert_eq!(passed.hold.unwrap().1, Held::Passed(1200.0));
    let later = Hold {
        time: 3600.0,
        ..asked
    };
    let early = rise(&series(1.0), None, fine, Some(later)).unwrap();
    assert_eq!(early.hold.unwrap().1, Held::TooShort);
}

/// 29.921 - 7 inHg and 181 + 14.696 psi: each side in the unit of its gauge.
#[test]
fn each_side_keeps_its_unit() {
    let page = flat(&[
        "reading",
        "R-404A",
        "--suction-pressure",
        "7inHgvac",
        "--liquid-pressure",
        "181psig",
    ]);
    for part in [
        "7.000 inHg",
        "22.921 inHg",
        "181.000 psi shown",
        "195.696 psi",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    let metric = flat(&[
        "reading",
        "R-404A",
        "--suction-pressure",
        "7inHgvac",
        "--liquid-pressure",
        "181psig",
        "--pressure-unit",
        "barg",
    ]);
    assert!(
        !metric.contains("inHg") && !metric.contains("psi shown"),
        "{metric}"
    );
}

/// Above the critical pressure, 73.8 bar (Span & Wagner, J. Phys. Chem. Ref. Data 25 (1996) 1509),
/// all but the subcooling is an answer: ratio 1364.696/394.696, approach 95 - 90 °F.
#[test]
fn a_gas_cooler_is_read() {
    let words = [
        "reading",
        "R-744",
        "--suction-pressure",
        "380psig",
        "--suction-line",
        "40F",
        "--liquid-pressure",
        "1350psig",
        "--liquid-line",
        "95F",
        "--ambient",
        "90F",
    ];
    let found = json(&words);
    near(
        number(&found["pressure_ratio"]),
        1364.696 / 394.696,
        1e-4,
        "ratio",
    );
    near(
        number(&found["gas_cooler_approach_K"]) * 1.8,
        5.0,
        1e-9,
        "approach",
    );
    assert!(number(&found["suction"]["superheat_K"]) > 0.0);
    assert_eq!(found["liquid"]["supercritical"], true);
    assert!(found["liquid"]["subcooling_K"].is_null());
    assert!(answer(&words).contains("gas cooler outlet minus ambient  5.0 °F"));
}

/// In heating the indoor coil condenses: condensing is held against the return air, evaporating
/// against ambient. R-410A: 340 psig condenses near 104.6 °F, 80 psig evaporates near 20 °F
/// (common charts, from memory).
#[test]
fn heating_names_coils_by_what_they_do() {
    let words = [
        "reading",
        "R-410A",
        "--suction-pressure",
        "80psig",
        "--liquid-pressure",
        "340psig",
        "--ambient",
        "35F",
        "--return-air",
        "70F",
        "--supply-air",
        "100F",
    ];
    let cooling = json(&words);
    assert_eq!(cooling["air_says_heating"], true);
    assert!(answer(&words).contains("Supply air is warmer than return air"));
    let words = [&words[..], &["--mode", "heating"]].concat();
    let found = json(&words);
    assert_eq!(
        (&found["mode"], &found["air_says_heating"]),
        (&"heating".into(), &false.into())
    );
    near(
        number(&found["condensing_over_return_air_K"]) * 1.8,
        34.6,
        1.5,
        "indoor",
    );
    near(
        number(&found["ambient_over_evaporating_K"]) * 1.8,
        15.0,
        2.0,
        "outdoor",
    );
    near(number(&found["air_difference_K"]) * 1.8, 30.0, 1e-9, "air");
    assert!(found["condensing_over_ambient_K"].is_null());
    assert!(answer(&words).contains("indoor coil (condenser)"));
}

/// R-404A, 210 psig, 93 °F: 1.2 °F above bubble. Within 2 °F nothing is impossible; 5 °F above dew
/// it is.
#[test]
fn near_saturation_may_be_two_phases() {
    let at = |line: &str, more: &[&str]| {
        let words = [
            "subcooling",
            "R-404A",
            "--pressure",
            "210psig",
            "--line",
            line,
        ];
        flat(&[&words[..], more].concat())
    };
    let page = at("93F", &[]);
    assert!(
        page.contains("Within 2.0 °F of bubble") && page.contains("flash gas"),
        "{page}"
    );
    assert!(!page.contains("not possible"), "{page}");
    let kit = ["--gauge-accuracy", "5psi", "--clamp-accuracy", "1F"];
    assert!(at("93F", &kit).contains("Zero within the uncertainty: at or near bubble"));
    assert!(at("98F", &[]).contains("not possible"));
    let page = flat(&[
        "superheat",
        "R-134a",
        "--pressure",
        "37psig",
        "--line",
        "41F",
    ]);
    assert!(page.contains("of dew (this program's own figure"), "{page}");
}

/// A sealed gauge zeroed at the factory counts from 14.696 psia wherever it is: 86 psig shown is
/// 86 psig, and the answer has one reference.
#[test]
fn a_sealed_gauge_has_one_reference() {
    let gauge = [
        "--gauge",
        "sealed",
        "--zeroed",
        "factory",
        "--elevation",
        "5280ft",
    ];
    let at_rest = [
        "at-rest",
        "R-134a",
        "--pressure",
        "86psig",
        "--temperature",
        "80F",
    ];
    let page = answer(&[&at_rest[..], &gauge].concat());
    assert!(
        page.contains("86.00 psig") && !page.contains("88.60"),
        "{page}"
    );
    let superheat = [
        "superheat",
        "R-134a",
        "--pressure",
        "18.4psig",
        "--line",
        "30F",
    ];
    for page in [page, answer(&[&superheat[..], &gauge].concat())] {
        assert!(page.contains("those of this gauge"), "{page}");
        assert!(!page.contains("vacuum are relative to 83.428"), "{page}");
    }
}

#[test]
fn small_slips() {
    let words = [
        "superheat",
        "R-410A",
        "--pressure",
        "118psig",
        "--line",
        "50F",
    ];
    let page = answer(&[&words[..], &["--pressure-drop", "-5psi"]].concat());
    assert!(
        page.contains("+ 5.000 psi from tap to clamp") && !page.contains("- -"),
        "{page}"
    );
    let page = answer(&[
        "glide",
        "R-407C",
        "--pressure",
        "5barg",
        "--pressure-unit",
        "Pa",
    ]);
    assert!(!page.contains("barg"), "{page}");
}

#[test]
fn values_as_people_type_them() {
    let plain = answer(&["superheat", "R-22", "--pressure", "65psig", "--line", "52F"]);
    for words in [
        &["superheat", "22", "--pressure", "65psig", "--line", "52F"][..],
        &[
            "superheat",
            "R-22",
            "--pressure",
            "65",
            "psig",
            "--line",
            "52",
            "F",
        ],
        &["superheat", "R-22", "-p", "65psig", "-l", "52F"],
    ] {
        assert_eq!(answer(words), plain, "{words:?}");
    }
    let humid = |share| {
        answer(&[
            "moist-air",
            "--dry-bulb",
            "75F",
            "--relative-humidity",
            share,
        ])
    };
    assert_eq!(humid("50"), humid("50%"));
    let site = |height| answer(&["convert", "70psig", "--to", "bara", "--elevation", height]);
    assert_eq!(site("5280'"), site("5280ft"));
    assert_eq!(site("5280feet"), site("5280ft"));
    for (words, hint) in [
        (
            &["superheat", "R-22", "-p", "4\"", "-l", "40F"][..],
            "did you mean 4inHgvac",
        ),
        (
            &["superheat", "R-22", "-p", "65psi", "-l", "40F"],
            "65psig (gauge)",
        ),
        (&["saturation", "R507", "-t", "5C"], "R-507A"),
    ] {
        let run = zeotrope(words);
        assert!(run.err.contains(hint), "{words:?}: {}", run.err);
    }
    // a ton of refrigeration is 12 000 Btu/h by definition: 3.516 85 kW
    let page = answer(&["convert", "3", "tons", "--to", "kW"]);
    assert!(
        page.contains("heat flow") && page.contains("10.5506 kW"),
        "{page}"
    );
}

/// Water at 20 °C: 998.2 kg/m3 (IAPWS-95 tables), so 0.4328 psi per ft, the trade's 0.433. In a
/// pipe: R-134a, 7.2 to 30 °C, 161.0 kJ/kg and 0.0542 m3/kg in the suction (ASHRAE Handbook
/// Fundamentals 2021 ch. 29 table 8, second hand); 10 kW flow at 62.1 g/s and 3.366 L/s, in a bore
/// of 20 mm at 10.72 m/s.
#[test]
fn columns_and_pipes() {
    let found = json(&["riser", "R-718", "--height", "10ft", "--liquid", "20C"]);
    near(
        number(&found["static_head_Pa"]) / 6_894.757,
        4.328,
        0.002,
        "head",
    );
    let found = json(&[
        "pipe",
        "R-134a",
        "--capacity",
        "10kW",
        "--diameter",
        "20mm",
        "--evaporating",
        "7.2C",
        "--condensing",
        "30C",
        "--superheat",
        "0.01K",
        "--subcooling",
        "0.01K",
    ]);
    near(
        number(&found["mass_flow_kg_s"]),
        0.0621,
        0.0003,
        "mass flow",
    );
    near(number(&found["velocity_m_s"]), 10.72, 0.1, "velocity");
}
