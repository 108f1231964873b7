//! How sure a reading is: limits combined, the asymmetric case, verdicts, the kit file.

use zeotrope::Refrigerant;
use zeotrope::service::measurement::decision::{Target, Verdict};
use zeotrope::service::measurement::kit::Kit;
use zeotrope::service::measurement::uncertainty::{CombinationMethod, ErrorLimits, without_draws};
use zeotrope::service::reading::superheat_subcooling::{Measure, Reading};
use zeotrope::units::{Atmosphere, PASCAL_PER_PSI, Pressure, Temperature};

use crate::program::{answer, json, zeotrope};

fn near(value: f64, expected: f64, within: f64, what: &str) {
    assert!(
        (value - expected).abs() <= within,
        "{what}: {value}, expected {expected}"
    );
}

fn psi_and_degrees(psi: f64, fahrenheit: f64) -> ErrorLimits {
    ErrorLimits {
        pressure: Some(psi * PASCAL_PER_PSI),
        clamp: (fahrenheit > 0.0).then_some(fahrenheit / 1.8),
        ..ErrorLimits::default()
    }
}

/// A suction line 10 °F above a dew temperature.
fn suction(refrigerant: &Refrigerant, dew: f64) -> Reading {
    let pressure = refrigerant
        .dew_pressure(Temperature::fahrenheit(dew))
        .unwrap();
    let line = Temperature::fahrenheit(dew + 10.0);
    Reading::new(Measure::Superheat, refrigerant, pressure, line).unwrap()
}

/// Computed with CoolProp 8.0.0 and by the GUM's sums, a cross-check: R-410A, dew 40 °F; worst,
/// root of squares of the limits, k = 2.
#[test]
fn worked_examples() {
    let r410a = Refrigerant::named("R-410A").unwrap();
    let reading = suction(&r410a, 40.0);
    let rows = [(5.0, 1.8, 4.0, 2.84, 3.28), (1.25, 1.0, 1.55, 1.14, 1.32)];
    for (psi, degrees, worst, squares, expanded) in rows {
        let found = reading
            .uncertainty(&r410a, &psi_and_degrees(psi, degrees))
            .unwrap();
        assert_eq!(found.method, CombinationMethod::Squares);
        near(found.worst_case() * 1.8, worst, 0.03, "worst case");
        // limits are u sqrt(3)
        near(
            found.standard * 3f64.sqrt() * 1.8,
            squares,
            0.01,
            "root of squares",
        );
        near(found.expanded_half() * 1.8, expanded, 0.02, "k = 2");
    }
    let pressure_only = reading
        .uncertainty(&r410a, &psi_and_degrees(5.0, 0.0))
        .unwrap();
    near(pressure_only.worst_case() * 1.8, 2.2, 0.03, "from pressure");
    // 2u = 1.15 a would lie beyond the only limit there is.
    assert!(pressure_only.expanded_half() <= pressure_only.worst_case());
    assert!(2.0 * pressure_only.standard > pressure_only.worst_case());
}

/// Random numbers of this test alone: splitmix64, Steele, Lea & Flood, OOPSLA 2014.
struct Splitmix(u64);

impl Splitmix {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    fn within(&mut self, limit: f64) -> f64 {
        limit * (2.0 * self.uniform() - 1.0)
    }
}

/// Draws superheats with the equation itself at every draw.
fn draws(
    reading: &Reading,
    refrigerant: &Refrigerant,
    limits: &ErrorLimits,
    count: usize,
) -> Vec<f64> {
    let mut random = Splitmix(7);
    (0..count)
        .map(|_| {
            let off = random.within(limits.pressure.unwrap_or(0.0))
                + random.within(limits.site.unwrap_or(0.0));
            let pressure = Pressure::pascal(reading.pressure.in_pascal() + off);
            let dew = refrigerant.dew_temperature(pressure).unwrap();
            let thermometer = random.within(limits.clamp.unwrap_or(0.0))
                + random.within(limits.contact.unwrap_or(0.0));
            (reading.line - dew).in_kelvin() + thermometer
        })
        .collect()
}

fn deviation(values: &[f64]) -> f64 {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt()
}

/// 1e5 draws through the pure equation, where the branch is straight over the limits.
#[test]
fn standard_uncertainty_against_draws() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let reading = suction(&r134a, 40.0);
    let limits = ErrorLimits {
        pressure: Some(1.25 * PASCAL_PER_PSI),
        site: Some(1000.0),
        clamp: Some(0.5),
        contact: Some(0.3),
        ..ErrorLimits::default()
    };
    let found = reading.uncertainty(&r134a, &limits).unwrap();
    assert_eq!(found.method, CombinationMethod::Squares);
    let drawn = deviation(&draws(&reading, &r134a, &limits, 100_000));
    near(found.standard / drawn, 1.0, 0.02, "against draws");
}

/// No error larger than the sum of all limits can occur, so no interval may reach beyond it: random
/// kits from good to coarse, near vacuum and far from it, with draws and without.
#[test]
fn expanded_is_never_above_the_worst_case() {
    let mut random = Splitmix(11);
    let mut methods = [0, 0];
    for name in ["R-410A", "R-123", "R-407C", "R-134a"] {
        let refrigerant = Refrigerant::named(name).unwrap();
        for _ in 0..25 {
            let reading = suction(&refrigerant, -20.0 + 100.0 * random.uniform());
            let mut some = |most: f64| {
                let size = random.uniform();
                (random.uniform() < 0.6).then_some(most * size * size)
            };
            let limits = ErrorLimits {
                pressure: some(0.6 * reading.pressure.in_pascal()),
                site: some(0.2 * reading.pressure.in_pascal()),
                clamp: some(2.0),
                contact: some(3.0),
                equation: some(0.1),
                composition: some(0.5).map(|below| [below, 2.0 * below]),
            };
            let Ok(found) = reading.uncertainty(&refrigerant, &limits) else {
                // So coarse that nothing bounds the result.
                continue;
            };
            methods[usize::from(found.method == CombinationMethod::MonteCarlo)] += 1;
            let plain = reading
                .on_branch(&refrigerant, |branch| without_draws(branch, &limits))
                .unwrap();
            for one in [found, plain] {
                for (expanded, worst) in one.expanded.into_iter().zip(one.worst) {
                    assert!(expanded <= worst, "{name} {limits:?}: {one:?}");
                }
                assert!(one.expanded_half() <= one.worst_case(), "{name}: {one:?}");
                assert!(one.standard <= one.worst_case(), "{name}: {one:?}");
            }
        }
    }
    assert!(methods[0] > 20 && methods[1] > 10, "{methods:?}");
}

/// Computed: R-134a at -10 °F (1.9 psig) with ±3.5 psi is +7.9/-9.3 °F in the dew temperature; the
/// superheat goes the other way.
#[test]
fn the_sides_differ_at_low_pressure() {
    let r134a = Refrigerant::named("R-134a").unwrap();
    let reading = suction(&r134a, -10.0);
    let limits = psi_and_degrees(3.5, 0.0);
    let found = reading.uncertainty(&r134a, &limits).unwrap();
    assert_eq!(found.method, CombinationMethod::MonteCarlo);
    near(found.worst[0] * 1.8, 7.9, 0.06, "superheat down");
    near(found.worst[1] * 1.8, 9.3, 0.06, "superheat up");

    // Against other draws through the equation itself: standard, and an interval of 95 %.
    let mut drawn = draws(&reading, &r134a, &limits, 20_000);
    near(found.standard / deviation(&drawn), 1.0, 0.02, "standard");
    drawn.sort_by(f64::total_cmp);
    let (low, high) = (drawn[500] - reading.value, drawn[19_499] - reading.value);
    near(found.expanded[0], -low, 0.05, "interval down");
    near(found.expanded[1], high, 0.05, "interval up");
    let inside = |value: &&f64| {
        let off = **value - reading.value;
        off >= -found.expanded[0] && off <= found.expanded[1]
    };
    let share = drawn.iter().filter(inside).count() as f64 / drawn.len() as f64;
    near(share, 0.95, 0.005, "share inside");
    assert!(found.expanded[0] < found.worst[0] && found.expanded[1] < found.worst[1]);

    // The same question has the same answer.
    assert_eq!(found, reading.uncertainty(&r134a, &limits).unwrap());
}

/// Limits that reach a vacuum bound nothing: no figure, a word, no verdict.
#[test]
fn a_gauge_too_coarse_for_the_pressure() {
    let words = [
        "superheat",
        "R-123",
        "--pressure",
        "24inHgvac",
        "--line",
        "60F",
        "--gauge-accuracy",
        "2%span",
        "--gauge-span",
        "500psi",
        "--target",
        "10F",
        "--band",
        "5F",
    ];
    let found = json(&words);
    assert!(found["worst_case_K"].is_null());
    assert!(found["decision"]["verdict"].is_null());
    let codes = found["warnings"].to_string();
    assert!(codes.contains("uncertainty_unbounded"), "{codes}");
    assert!(found["superheat_K"].is_number());
}

#[test]
fn figures_are_null_where_no_accuracy_was_given() {
    let found = json(&[
        "superheat",
        "R-134a",
        "--pressure",
        "30psig",
        "--line",
        "50F",
    ]);
    for key in [
        "standard_uncertainty_K",
        "expanded_uncertainty_K",
        "worst_case_K",
    ] {
        assert!(found[key].is_null(), "{key}");
    }
    let found = json(&[
        "superheat",
        "R-134a",
        "--pressure",
        "30psig",
        "--line",
        "50F",
        "--gauge-accuracy",
        "1psi",
    ]);
    let of = |source: &str| {
        let all = found["contributions"].as_array().unwrap();
        all.iter().find(|one| one["source"] == source).unwrap()["standard_K"].clone()
    };
    assert!(of("pressure").is_number());
    assert!(of("clamp").is_null());
    assert!(of("equation").is_null());
}

/// JCGM 106: the interval within the band, outside it, or over its edge.
#[test]
fn verdicts_and_what_would_decide() {
    let ask = |line: &str, accuracy: &str| {
        json(&[
            "subcooling",
            "R-410A",
            "--pressure",
            "340psig",
            "--line",
            line,
            "--target",
            "10F",
            "--band",
            "3F",
            "--gauge-accuracy",
            accuracy,
            "--gauge-span",
            "500psi",
        ])
    };
    let verdict = |line: &str, accuracy: &str| {
        ask(line, accuracy)["decision"]["verdict"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    // bubble at 340 psig is 104.6 °F
    assert_eq!(verdict("94.6F", "2%span"), "within");
    assert_eq!(verdict("96.5F", "2%span"), "not_decidable");
    assert_eq!(verdict("96.5F", "0.5%span"), "within");
    assert_eq!(verdict("101F", "0.5%span"), "outside");

    // The accuracy named decides, a slightly worse one does not.
    let open = ask("96.5F", "2%span");
    let limit = open["decision"]["deciding_gauge_limit_Pa"]
        .as_f64()
        .unwrap()
        / 1e3;
    assert_eq!(verdict("96.5F", &format!("{limit}kPa")), "within");
    assert_eq!(
        verdict("96.5F", &format!("{}kPa", 1.02 * limit)),
        "not_decidable"
    );

    // An edge of the band: nothing decides.
    let edge = Target {
        value: 5.0,
        band: 1.0,
    };
    assert_eq!(edge.judge(6.0, [0.1, 0.1]), Verdict::NotDecidable);
    // Without the gauge's accuracy there is no verdict.
    let blind = json(&[
        "subcooling",
        "R-410A",
        "--pressure",
        "340psig",
        "--line",
        "96.5F",
        "--target",
        "10F",
        "--band",
        "3F",
    ]);
    assert!(blind["decision"]["verdict"].is_null());
}

/// Limits of the classes as the standards list them, both lists from memory.
#[test]
fn classes_of_gauges() {
    let limit = |accuracy: &str, psig: &str| {
        let found = json(&[
            "superheat",
            "R-134a",
            "--pressure",
            psig,
            "--line",
            "150F",
            "--gauge-accuracy",
            accuracy,
            "--gauge-span",
            "400psi",
        ]);
        found["gauge_limit_Pa"].as_f64().unwrap() / PASCAL_PER_PSI
    };
    for (accuracy, psig, expected) in [
        ("B40.100 4A", "30psig", 0.4),
        ("ASME B40.100 2A", "30psig", 2.0),
        ("B40.100 grade A", "30psig", 8.0),
        ("B40.100 A", "200psig", 4.0),
        ("B40.100 B", "200psig", 8.0),
        ("B40.100 C", "30psig", 16.0),
        ("B40.100 D", "200psig", 20.0),
        ("EN 837-1 class 1.0", "30psig", 4.0),
        ("EN 837-1 1.6", "30psig", 6.4),
        ("0.25%span", "30psig", 1.0),
        ("1%reading", "30psig", 0.3),
        ("3.5psi", "30psig", 3.5),
    ] {
        near(limit(accuracy, psig), expected, 1e-9, accuracy);
    }
    for wrong in [
        "B40.100 E",
        "EN 837-1 class 3",
        "2%scale",
        "0psi",
        "-1psi",
        "2A",
        "nonsense",
    ] {
        let run = zeotrope(&[
            "superheat",
            "R-134a",
            "--pressure",
            "30psig",
            "--line",
            "50F",
            "--gauge-accuracy",
            wrong,
        ]);
        assert_eq!(run.code, 2, "{wrong}: {}", run.err);
        assert!(run.err.contains("hint:"), "{}", run.err);
    }
}

const KIT: &str = "\
name: van 3
low:
  kind: vented
  span: 250psi
  accuracy: 1%span
  zero_offset: 0.5psi
  span_factor: 1.01
  checked: 2026-10-01
high: {span: 800psi, accuracy: B40.100 2A, kind: sealed, zeroed: 1600m}
clamp: {accuracy: 1F, contact: 0.5F}
site: {accuracy: 0.5kPa}
";

#[test]
fn a_kit_file() {
    let folder = std::env::temp_dir().join(format!("zeotrope-kit-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join("kit.yaml");
    std::fs::write(&path, KIT).unwrap();
    let kit = path.to_str().unwrap();
    let low = [
        "superheat",
        "R-410A",
        "--pressure",
        "118psig",
        "--line",
        "50F",
        "--kit",
        kit,
    ];
    let found = json(&low);
    let corrected = 1.01 * (118.0 - 0.5) * PASCAL_PER_PSI + 101_325.0;
    near(
        found["pressure_Pa"].as_f64().unwrap(),
        corrected,
        0.01,
        "corrected",
    );
    near(
        found["gauge_limit_Pa"].as_f64().unwrap(),
        2.5 * PASCAL_PER_PSI,
        1e-6,
        "low",
    );
    assert_eq!(found["kit"], "van 3");
    assert_eq!(found["checked"], "2026-10-01");
    let page = answer(&low);
    assert!(
        page.contains("van 3: zero and span as checked 2026-10-01, not a calibration"),
        "{page}"
    );
    assert!(
        page.contains("1.01 x (118.000 psi shown - 0.500 psi zero offset)"),
        "{page}"
    );

    let high = json(&[
        "subcooling",
        "R-410A",
        "--pressure",
        "340psig",
        "--line",
        "95F",
        "--kit",
        kit,
    ]);
    near(
        high["gauge_limit_Pa"].as_f64().unwrap(),
        4.0 * PASCAL_PER_PSI,
        1e-6,
        "high",
    );
    let sealed_in = Atmosphere::standard_at_elevation(1600.0)
        .unwrap()
        .pressure()
        .in_pascal();
    near(
        high["added_Pa"].as_f64().unwrap(),
        sealed_in,
        1e-6,
        "sealed in",
    );
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn a_kit_file_that_is_wrong() {
    let cases = [
        (
            "name: a\nlow: {spam: 1}\n",
            "kit.yaml:2: low.spam: unknown key 'spam', did you mean span?",
        ),
        ("low: {span: 5psi}\n", "the key 'name' is missing"),
        ("name: a\nlow:\n  span: 500\n", "kit.yaml:3: low.span"),
        (
            "name: a\nlow:\n  accuracy: 2%\n",
            "kit.yaml:3: low.accuracy",
        ),
        ("name: a\nhigh:\n  zero_offset: 1psi\n", "needs the date"),
        (
            "name: a\nhigh: {checked: 2026-01-01}\n",
            "neither a zero_offset nor",
        ),
        (
            "name: a\nhigh: {span_factor: 1.1, checked: yesterday}\n",
            "is no date",
        ),
        (
            "name: a\nhigh: {span_factor: 0, checked: 2026-01-01}\n",
            "no factor of a gauge's span",
        ),
        ("name: a\nclamp: {accuracy: 1psi}\n", "clamp.accuracy"),
        ("", "the file is empty"),
        ("name: [a\n", "kit.yaml:"),
    ];
    for (text, part) in cases {
        let error = Kit::parse("kit.yaml", text).unwrap_err();
        assert!(error.to_string().contains(part), "{text:?}: {error}");
        assert!(error.hint().unwrap().contains("a kit file has"), "{error}");
    }
}
