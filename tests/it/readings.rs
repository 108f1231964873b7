//! Superheat and subcooling on the right branch, at a site, with a gauge of any kind.
//!
//! Figures "computed" are from CoolProp 8.0.0, a cross-check, rounded as they stand there.

use serde_json::Value;
use zeotrope::Refrigerant;
use zeotrope::service::measurement::gauge::{Added, Gauge, GaugeKind, Zeroed};
use zeotrope::service::reading::superheat_subcooling::{Measure, superheat};
use zeotrope::units::{Atmosphere, Pressure, Temperature, TemperatureDifference};

use crate::program::{answer, json, zeotrope};

/// The JSON answer to a question as typed.
fn ask(words: &str) -> Value {
    json(&words.split_whitespace().collect::<Vec<_>>())
}

/// The printed answer to a question as typed.
fn page(words: &str) -> String {
    answer(&words.split_whitespace().collect::<Vec<_>>())
}

/// K of a JSON key as °F degrees.
fn degrees_f(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap() * 1.8
}

fn saturation_f(value: &Value) -> f64 {
    Temperature::kelvin(value["saturation_temperature_K"].as_f64().unwrap()).in_fahrenheit()
}

fn near(value: f64, expected: f64, within: f64, what: &str) {
    assert!(
        (value - expected).abs() <= within,
        "{what}: {value}, expected {expected}"
    );
}

/// Computed: the right branch and the wrong one.
#[test]
fn the_wrong_branch_is_shown_and_not_taken() {
    let sh = ask("superheat R-407C --pressure 65psig --line 52F");
    assert_eq!(sh["branch"], "dew");
    near(degrees_f(&sh, "superheat_K"), 10.7, 0.06, "superheat");
    near(
        degrees_f(&sh["other_branch"], "superheat_K"),
        21.8,
        0.06,
        "on bubble",
    );
    assert_eq!(sh["other_branch"]["differs"], true);

    let sc = ask("subcooling R-407C --pressure 265psig --line 101F");
    assert_eq!(sc["branch"], "bubble");
    near(degrees_f(&sc, "subcooling_K"), 10.3, 0.06, "subcooling");
    near(
        degrees_f(&sc["other_branch"], "subcooling_K"),
        18.8,
        0.06,
        "on dew",
    );

    let page = page("superheat R-407C --pressure 65psig --line 52F");
    assert!(
        page.contains("if wrongly taken from bubble  21.81 °F"),
        "{page}"
    );

    let wide = ask("superheat R-455A --pressure 65psig --line 50F");
    near(saturation_f(&wide), 40.2, 0.06, "R-455A dew");
    let bubble = wide["other_branch"]["saturation_temperature_K"]
        .as_f64()
        .unwrap();
    near(
        Temperature::kelvin(bubble).in_fahrenheit(),
        17.2,
        0.06,
        "R-455A bubble",
    );

    // A pure refrigerant has one branch.
    let pure = ask("superheat R-134a --pressure 30psig --line 50F");
    assert_eq!(pure["other_branch"]["differs"], false);
}

/// Taught figure, from memory: R-407C at 80 psig has bubble 40 and dew 50.8 °F; whole figures of
/// one chart, and charts of one blend differ by 1 % in pressure, about 0.5 °F.
/// AHRI 700: R-427A -43.0 and -36.3 °C at 101 kPa.
#[test]
fn taught_and_published_branches() {
    let r407c = |verb| {
        saturation_f(&json(&[
            verb,
            "R-407C",
            "--pressure",
            "80psig",
            "--line",
            "60F",
        ]))
    };
    near(r407c("superheat"), 50.8, 0.5, "dew");
    near(r407c("subcooling"), 40.0, 0.5, "bubble");
    let r427a = Refrigerant::named("R-427A").unwrap();
    let at = Pressure::kilopascal(101.325);
    let bubble = Measure::Subcooling
        .saturation(&r427a, at)
        .unwrap()
        .in_celsius();
    let dew = Measure::Superheat
        .saturation(&r427a, at)
        .unwrap()
        .in_celsius();
    near(bubble, -43.0, 0.35, "R-427A bubble");
    near(dew, -36.3, 0.35, "R-427A dew");
}

/// Computed: gauge zeroed on site at 5280 ft; the first temperature is what a sea-level chart says.
#[test]
fn a_sea_level_chart_misleads_at_a_mile() {
    let rows = [
        ("R-404A", "5.0psig", -38.6, -44.1),
        ("R-134a", "18.4psig", 20.0, 16.2),
        ("R-410A", "118.4psig", 40.0, 38.9),
        ("R-123", "18.1inHgvac", 40.2, 17.2),
    ];
    for (name, pressure, at_sea_level, there) in rows {
        let at = |elevation| {
            saturation_f(&json(&[
                "superheat",
                name,
                "--pressure",
                pressure,
                "--line",
                "60F",
                "--elevation",
                elevation,
            ]))
        };
        near(at("0ft"), at_sea_level, 0.1, name);
        near(at("5280ft"), there, 0.1, name);
    }
}

/// Saturation temperatures in K at gauge pressures in psig, suction and liquid side, at -100, 0, 800,
/// 1600 and 3000 m: computed with CoolProp 8.0.0, a cross-check, from the gauge's figure plus the
/// standard atmosphere of ASHRAE Fundamentals, ch. 1; three decimals.
#[test]
fn five_elevations() {
    let elevations = ["-100m", "0m", "800m", "1600m", "3000m"];
    type Row = (&'static str, [u32; 2], [f64; 5], [f64; 5]);
    let rows: [Row; 5] = [
        (
            "R-134a",
            [20, 150],
            [267.832, 267.699, 266.664, 265.679, 264.071],
            [317.374, 317.333, 317.020, 316.729, 316.269],
        ),
        (
            "R-290",
            [60, 190],
            [275.942, 275.864, 275.260, 274.693, 273.790],
            [314.498, 314.461, 314.174, 313.908, 313.487],
        ),
        (
            "R-32",
            [125, 400],
            [278.588, 278.548, 278.234, 277.942, 277.480],
            [319.133, 319.115, 318.977, 318.850, 318.650],
        ),
        (
            "R-410A",
            [118, 340],
            [277.551, 277.508, 277.179, 276.872, 276.387],
            [313.508, 313.487, 313.331, 313.186, 312.957],
        ),
        (
            "R-407C",
            [65, 265],
            [278.355, 278.290, 277.785, 277.313, 276.560],
            [317.228, 317.201, 316.999, 316.812, 316.517],
        ),
    ];
    for (name, [low, high], dew, bubble) in rows {
        for (place, elevation) in elevations.into_iter().enumerate() {
            for (verb, psig, expected, line) in [
                ("superheat", low, dew[place], 290.0),
                ("subcooling", high, bubble[place], 305.0),
            ] {
                let found = ask(&format!(
                    "{verb} {name} --pressure {psig}psig --line {line}K --elevation {elevation}"
                ));
                let what = format!("{verb} {name} at {elevation}");
                let saturation = found["saturation_temperature_K"].as_f64().unwrap();
                // half of the last decimal, and what the solvers leave
                near(saturation, expected, 0.001, &what);
                let result = found[format!("{verb}_K")].as_f64().unwrap();
                near(result, (line - expected).abs(), 0.001, &what);
            }
        }
    }
}

/// The keys that programs read.
#[test]
fn keys_of_the_json() {
    let instruments = "--gauge-accuracy 1psi --clamp-accuracy 1F --site-accuracy 0.5kPa";
    for (verb, branch, line) in [("superheat", "dew", "52F"), ("subcooling", "bubble", "20F")] {
        let bare = format!("{verb} R-407C --pressure 65psig --line {line}");
        let found = ask(&format!("{bare} {instruments}"));
        let number = |key: &str| {
            found[key]
                .as_f64()
                .unwrap_or_else(|| panic!("{verb}: {key} is no number: {found}"))
        };
        assert_eq!(found["refrigerant"], "R-407C");
        assert_eq!(found["branch"], branch);
        near(number("atmosphere_Pa"), 101_325.0, 0.0, "air");
        let line = Temperature::fahrenheit(line.trim_end_matches('F').parse().unwrap());
        near(
            number(&format!("{verb}_K")),
            (line.in_kelvin() - number("saturation_temperature_K")).abs(),
            1e-9,
            verb,
        );
        let expanded = number("expanded_uncertainty_K");
        assert!(expanded <= number("worst_case_K"), "{found}");
        assert!(expanded > number("standard_uncertainty_K"), "{found}");
        let contributions = found["contributions"].as_array().unwrap();
        let squares: f64 = contributions
            .iter()
            .filter_map(|one| one["standard_K"].as_f64())
            .map(|standard| standard * standard)
            .sum();
        near(
            squares.sqrt(),
            number("standard_uncertainty_K"),
            1e-9,
            "GUM eq. 10",
        );
        for source in [
            "pressure",
            "site",
            "clamp",
            "contact",
            "equation",
            "composition",
        ] {
            assert!(
                contributions.iter().any(|one| one["source"] == source),
                "{source}: {found}"
            );
        }
        assert!(!found["cautions"].as_array().unwrap().is_empty());

        let unsure = ask(&bare);
        for key in [
            "standard_uncertainty_K",
            "expanded_uncertainty_K",
            "worst_case_K",
        ] {
            assert_eq!(unsure.get(key), Some(&Value::Null), "{key}");
        }
    }
}

/// Computed: "118" on R-410A is 39.8 °F as psig and 33.1 °F as psia; on R-454B 44.8 °F.
#[test]
fn a_figure_needs_its_unit_and_its_refrigerant() {
    let at = |name, pressure| {
        saturation_f(&json(&[
            "superheat",
            name,
            "--pressure",
            pressure,
            "--line",
            "60F",
        ]))
    };
    near(at("R-410A", "118psig"), 39.8, 0.06, "psig");
    near(at("R-410A", "118psia"), 33.1, 0.06, "psia");
    near(at("R-454B", "118psig"), 44.8, 0.06, "R-454B");
    for bare in ["118psi", "8bar", "800kPa", "0.8MPa"] {
        for verb in ["superheat", "subcooling"] {
            let run = zeotrope(&[verb, "R-410A", "--pressure", bare, "--line", "60F"]);
            assert_eq!(run.code, 2, "{bare}");
            assert!(
                run.err
                    .contains("does not say whether it is gauge or absolute"),
                "{}",
                run.err
            );
            assert!(run.err.contains("hint: write"), "{}", run.err);
        }
    }
}

/// Slopes of the branches, psi/°F: dew at 40 °F, bubble at 100 °F. Computed, two decimals.
#[test]
fn slopes_of_the_branches() {
    let rows = [
        ("R-134a", 0.97, 2.10),
        ("R-22", 1.45, 2.90),
        ("R-404A", 1.71, 3.40),
        ("R-407C", 1.46, 3.30),
        ("R-454B", 2.10, 4.31),
        ("R-410A", 2.28, 4.55),
        ("R-32", 2.33, 4.67),
    ];
    for (name, dew, bubble) in rows {
        let refrigerant = Refrigerant::named(name).unwrap();
        let slope = |fahrenheit: f64, at: &dyn Fn(Temperature) -> Pressure| {
            let psia = |offset: f64| at(Temperature::fahrenheit(fahrenheit + offset)).in_psia();
            (psia(0.5) - psia(-0.5)) / 1.0
        };
        let at_dew = |t| refrigerant.dew_pressure(t).unwrap();
        let at_bubble = |t| refrigerant.bubble_pressure(t).unwrap();
        near(slope(40.0, &at_dew), dew, 0.0075, name);
        near(slope(100.0, &at_bubble), bubble, 0.0125, name);
    }
}

/// The six cases, kind by where it was zeroed, at 5280 ft (12.100 psia): the atmosphere by the
/// formula of ASHRAE Fundamentals, ch. 1; that a sealed cell zeroed here behaves as a vented one is
/// common practice, no source.
#[test]
fn what_a_gauge_counts_from() {
    let site = Atmosphere::standard_at_elevation(1609.344).unwrap();
    let air = site.pressure().in_pascal();
    let sea = 101_325.0;
    let mile_half = Zeroed::Elevation(804.672);
    let half = Atmosphere::standard_at_elevation(804.672)
        .unwrap()
        .pressure()
        .in_pascal();
    use GaugeKind::{Absolute, Sealed, Vented};
    let cases = [
        (Vented, Zeroed::Here, false, air),
        (Vented, Zeroed::Factory, false, air),
        (Vented, mile_half, false, air),
        (Sealed, Zeroed::Here, false, air),
        (Sealed, Zeroed::Factory, false, sea),
        (Sealed, mile_half, false, half),
        (Absolute, Zeroed::Here, false, air),
        (Absolute, Zeroed::Here, true, air),
        (Absolute, Zeroed::Factory, true, 0.0),
        (Absolute, Zeroed::Factory, false, sea),
        (Absolute, mile_half, false, half),
    ];
    for (kind, zeroed, absolute_unit, expected) in cases {
        let added = Gauge { kind, zeroed }.added(absolute_unit, &site).unwrap();
        assert_eq!(
            added.pascal(),
            expected,
            "{kind:?} {zeroed:?} {absolute_unit}"
        );
        assert_eq!(matches!(added, Added::Site(_)), expected == air);
    }
    let vented = Gauge {
        kind: Vented,
        zeroed: Zeroed::Here,
    };
    assert!(vented.added(true, &site).is_err());

    // The sum used is shown.
    let page = page(
        "superheat R-410A --pressure 118.4psig --line 50F --elevation 5280ft --gauge sealed --zeroed factory",
    );
    let sum = "118.400 psi shown + 14.696 psi (air that the gauge was zeroed or sealed in) = ";
    let words: Vec<&str> = page.split_whitespace().collect();
    assert!(words.join(" ").contains(sum.trim()), "{page}");

    // A sealed gauge at 5280 ft shows a vacuum that is deeper than the air there.
    let deep = ask(
        "superheat R-123 --pressure -13psig --line 60F --elevation 5280ft --gauge sealed --zeroed factory",
    );
    near(
        deep["pressure_Pa"].as_f64().unwrap(),
        sea - 13.0 * 6894.757,
        1.0,
        "deep vacuum",
    );
}

#[test]
fn a_drop_between_tap_and_clamp_and_the_inverse() {
    let r410a = Refrigerant::named("R-410A").unwrap();
    let at = |psig: f64, line: f64| {
        let pressure = Pressure::psia(psig + 101_325.0 / 6_894.757_293);
        superheat(&r410a, pressure, Temperature::fahrenheit(line))
            .unwrap()
            .in_kelvin()
    };
    let found = ask("superheat R-410A --pressure 120psig --line 50F --pressure-drop 2psi");
    near(
        found["superheat_K"].as_f64().unwrap(),
        at(118.0, 50.0),
        1e-6,
        "with a drop",
    );

    // The line for a wanted figure gives that figure when it is read.
    for (verb, sign) in [("superheat", 1.0), ("subcooling", -1.0)] {
        let wanted = json(&[verb, "R-407C", "--pressure", "200psig", "--wanted", "10F"]);
        let line = wanted["line_temperature_K"].as_f64().unwrap();
        let branch = wanted["saturation_temperature_K"].as_f64().unwrap();
        let ten = TemperatureDifference::fahrenheit_degrees(10.0).in_kelvin();
        near(line - branch, sign * ten, 1e-9, verb);
        let text = format!("{line}K");
        let back = json(&[verb, "R-407C", "--pressure", "200psig", "--line", &text]);
        near(back[format!("{verb}_K")].as_f64().unwrap(), ten, 1e-9, verb);
    }
}

/// Readings near zero and beyond, told by where the line lies: R-407C at 65 psig has bubble 30.2 and
/// dew 41.3 °F.
#[test]
fn words_for_what_passes_the_clamp() {
    let at = |verb: &str, line: &str, more: &[&str]| {
        let mut words = vec![verb, "R-407C", "--pressure", "65psig", "--line", line];
        words.extend(more);
        json(&words)["meaning"].as_str().unwrap().to_owned()
    };
    let kit = ["--gauge-accuracy", "3psi", "--clamp-accuracy", "1F"];
    assert_eq!(at("superheat", "52F", &[]), "one_phase");
    assert_eq!(at("superheat", "42F", &kit), "at_saturation");
    assert_eq!(at("superheat", "40F", &kit), "at_saturation");
    assert_eq!(at("superheat", "36F", &kit), "two_phase");
    assert_eq!(at("superheat", "20F", &kit), "not_possible");
    assert_eq!(at("subcooling", "20F", &kit), "one_phase");
    assert_eq!(at("subcooling", "30F", &kit), "at_saturation");
    assert_eq!(at("subcooling", "36F", &kit), "two_phase");
    assert_eq!(at("subcooling", "60F", &kit), "not_possible");
    // A pure refrigerant has nothing between.
    let pure = ask("superheat R-134a --pressure 30psig --line 20F");
    assert_eq!(pure["meaning"], "not_possible");
    let page = page("superheat R-134a --pressure 30psig --line 20F");
    for word in [
        "zero and kind",
        "the site",
        "refrigerant",
        "contact",
        "different places",
    ] {
        assert!(page.contains(word), "{word}: {page}");
    }
}

#[test]
fn words_that_are_never_said() {
    let pages = [
        page(
            "superheat R-454C --pressure 60psig --line 90F --target 10F --band 5F --gauge-accuracy 1psi --clamp-accuracy 1F",
        ),
        page(
            "subcooling R-410A --pressure 340psig --line 104F --target 10F --band 3F --gauge-accuracy 1psi --clamp-accuracy 1F",
        ),
    ];
    for page in pages {
        let page = page.replace('\n', " ").replace("   ", " ").to_lowercase();
        assert!(page.contains("outside"), "{page}");
        assert!(page.contains("common practice"), "{page}");
        // A flammable refrigerant's ignition sources are to be removed, never the refrigerant.
        let page = page.replace("remove ignition sources", "");
        for never in [
            "add ",
            "remove",
            "correct charge",
            "overcharge",
            "undercharge",
            "recharge",
        ] {
            assert!(!page.contains(never), "{never}: {page}");
        }
        assert!(page.contains("local codes"), "{page}");
    }
}

#[test]
fn what_cannot_be_read_is_told() {
    let cases: [(&str, u8, &str); 12] = [
        // above the critical pressure of R-744, 7.38 MPa (Span & Wagner 1996)
        (
            "subcooling R-744 --pressure 90barg --line 30C",
            1,
            "critical pressure",
        ),
        (
            "superheat R-134a --pressure 31inHgvac --line 5C",
            2,
            "perfect vacuum",
        ),
        (
            "superheat R-134a --pressure 26inHgvac --line 5C --elevation 5280ft",
            2,
            "perfect vacuum",
        ),
        ("superheat R-134a --pressure 20psig", 2, "--line"),
        ("superheat R-134a --pressure 20psig --line 50", 2, "no unit"),
        (
            "superheat R-134a --pressure 20psig --line 50F --wanted 9F",
            2,
            "cannot be used with",
        ),
        (
            "superheat R-134a --pressure 20psig --line 50F --gauge-accuracy 2%",
            2,
            "does not say of what",
        ),
        (
            "superheat R-134a --pressure 20psig --line 50F --gauge-accuracy 2%span",
            2,
            "--gauge-span 500psi",
        ),
        (
            "superheat R-134a --pressure 20psig --line 50F --gauge-accuracy 1psi --gauge-span 10psi",
            2,
            "ends below the reading",
        ),
        (
            "superheat R-134a --pressure 20psia --line 50F --gauge vented",
            2,
            "shows no absolute pressure",
        ),
        (
            "superheat R-134a --pressure 20psig --line 50F --gauge digital",
            2,
            "vented, sealed or absolute",
        ),
        (
            "superheat R-134a --pressure 20psig --line 50F --target 9F",
            2,
            "--band",
        ),
    ];
    for (words, code, part) in cases {
        let words: Vec<&str> = words.split_whitespace().collect();
        let run = zeotrope(&words);
        assert_eq!(run.code, code, "{words:?}: {}", run.err);
        assert!(run.err.contains(part), "{words:?}: {}", run.err);
        assert_eq!(run.out, "");
    }
}
