//! A kit file at a vessel: its limits, its gauges and what a check of them found.

use std::path::PathBuf;

use serde_json::Value;
use zeotrope::units::PASCAL_PER_PSI;

use crate::program::{Run, answer, json, zeotrope};

/// A kit file that goes when the test ends.
struct KitFile(PathBuf);

impl KitFile {
    fn new(test: &str, text: &str) -> Self {
        let name = format!("zeotrope-{test}-{}.yaml", std::process::id());
        let path = std::env::temp_dir().join(name);
        std::fs::write(&path, text).unwrap();
        Self(path)
    }

    fn path(&self) -> &str {
        self.0.to_str().unwrap()
    }
}

impl Drop for KitFile {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.0);
    }
}

fn psi(value: &Value) -> f64 {
    value.as_f64().unwrap() / PASCAL_PER_PSI
}

const DRUM: [&str; 6] = [
    "at-rest",
    "R-134a",
    "--pressure",
    "96psig",
    "--temperature",
    "80F",
];

#[test]
fn the_limits_of_a_kit() {
    let by = |more: &[&str]| json(&[&DRUM[..], more].concat());
    let said = by(&[
        "--gauge-accuracy",
        "0.25%span",
        "--gauge-span",
        "500psi",
        "--thermometer-accuracy",
        "1F",
    ]);
    let plain = KitFile::new(
        "limits",
        "name: van 3\nlow: {span: 500psi, accuracy: 0.25%span}\nclamp: {accuracy: 1F}\n",
    );
    let found = by(&["--kit", plain.path()]);
    assert_eq!(found["bubble"], said["bubble"]);
    assert_eq!(
        (&found["kit"], &said["kit"]),
        (&"van 3".into(), &Value::Null)
    );
    // What is said beside the file comes first.
    let nearer = by(&["--kit", plain.path(), "--thermometer-accuracy", "0.5F"]);
    assert!(psi(&nearer["bubble"]["worst_case_Pa"]) < psi(&found["bubble"]["worst_case_Pa"]));
    // By hand with 1.66 psi/°F (CoolProp 8.0.0, a cross-check): gauge 1.25, thermometer 1.66,
    // contact half of that, site 0.5 kPa = 0.0725 psi.
    let full = KitFile::new(
        "full",
        "name: van 3\nlow: {accuracy: 1.25psi}\nclamp: {accuracy: 1F, contact: 0.5F}\n\
         site: {accuracy: 0.5kPa}\n",
    );
    let found = by(&["--kit", full.path()]);
    let parts: [f64; 4] = [1.25, 1.66, 0.83, 0.0725];
    let sum: f64 = parts.iter().sum();
    let root = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    assert!((psi(&found["bubble"]["worst_case_Pa"]) - sum).abs() < 0.01);
    assert!((psi(&found["bubble"]["root_sum_square_Pa"]) - root).abs() < 0.01);
    // A kit without a thermometer decides nothing.
    let half = KitFile::new("half", "name: van 3\nlow: {accuracy: 1psi}\n");
    let run = zeotrope(&[&DRUM[..], &["--kit", half.path()]].concat());
    assert_eq!(run.code, 2);
    assert!(run.err.contains("one of the two limits"), "{}", run.err);
}

#[test]
fn which_gauge_of_a_kit() {
    let kit = KitFile::new(
        "sides",
        "name: van 3\nlow: {accuracy: 1psi}\nhigh: {accuracy: 4psi}\nclamp: {accuracy: 1F}\n",
    );
    let ask = |more: &[&str]| zeotrope(&[&DRUM[..], &["--kit", kit.path()], more].concat());
    let unsaid = ask(&[]);
    assert_eq!(unsaid.code, 2);
    assert!(
        unsaid.err.contains("add --side low or --side high"),
        "{}",
        unsaid.err
    );
    let worst = |side| {
        let found = ask(&["--side", side, "--format", "json"]);
        let found: Value = serde_json::from_str(&found.out).unwrap();
        psi(&found["bubble"]["worst_case_Pa"])
    };
    assert!((worst("high") - worst("low") - 3.0).abs() < 1e-9);
    let one = KitFile::new(
        "one",
        "name: van 3\nhigh: {accuracy: 4psi}\nclamp: {accuracy: 1F}\n",
    );
    let found = json(&[&DRUM[..], &["--kit", one.path()]].concat());
    assert!((psi(&found["bubble"]["worst_case_Pa"]) - worst("high")).abs() < 1e-9);
    let run = zeotrope(&[&DRUM[..], &["--side", "low"]].concat());
    assert_eq!(run.code, 2, "{}", run.err);
}

#[test]
fn what_would_fit_within_a_kit() {
    let kit = KitFile::new(
        "fit",
        "name: van 3\nlow: {accuracy: 3psi}\nclamp: {accuracy: 1.5F, contact: 0.5F}\n",
    );
    let question = ["at-rest", "--pressure", "132psig", "--temperature", "75F"];
    let by = |more: &[&str]| json(&[&question[..], more].concat())["would_fit"].clone();
    let said = ["--gauge-accuracy", "3psi", "--thermometer-accuracy", "2F"];
    assert_eq!(by(&["--kit", kit.path()]), by(&said));
    let run = zeotrope(&question);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("--kit"), "{}", run.err);
}

fn check(kit: &KitFile, more: &[&str]) -> Run {
    let question = [
        "at-rest",
        "R-134a",
        "--pressure",
        "88.9psig",
        "--temperature",
        "80F",
        "--open-reading",
        "1psig",
        "--date",
        "2026-11-25",
        "--format",
        "json",
        "--kit",
        kit.path(),
    ];
    zeotrope(&[&question[..], more].concat())
}

/// A check with a kit, its entry put back into the kit, and the same vessel read with that:
/// 86.69 psig (computed with CoolProp 8.0.0, a cross-check).
#[test]
fn a_check_and_its_kit() {
    let kit = |correction: &str| {
        let text = format!(
            "name: van 3\nlow: {{accuracy: 1.25psi, {correction}}}\nclamp: {{accuracy: 0.1F}}\n"
        );
        KitFile::new("check", &text)
    };
    let first = check(&kit(""), &[]);
    assert_eq!(first.code, 0, "{}", first.err);
    let found: Value = serde_json::from_str(&first.out).unwrap();
    let entry = found["kit_entry"].as_str().unwrap();
    let corrected = kit(entry);
    let mut question = DRUM;
    question[3] = "88.9psig";
    let drum = [&question[..], &["--kit", corrected.path()]].concat();
    let found = json(&drum);
    // The entry has 0.01 psi and four decimals of the factor.
    assert!(
        (psi(&found["pressure_Pa"]) - 14.696 - 86.69).abs() < 0.02,
        "{found}"
    );
    assert_eq!(found["place"], "at_saturation");
    assert_eq!(found["checked"], "2026-11-25");
    assert!((psi(&found["shown_Pa"]) - 88.9).abs() < 1e-9);
    let page = answer(&drum)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    for part in [
        "88.900 psi shown",
        "as checked 2026-11-25, not a calibration",
    ] {
        assert!(page.contains(part), "{part}: {page}");
    }
    // A new check starts from what the gauge shows, not from the old correction.
    assert_eq!(check(&corrected, &[]).out, first.out);
}

#[test]
fn a_check_needs_the_air_of_the_site() {
    let kit = KitFile::new(
        "sealed",
        "name: van 3\nlow: {kind: sealed, zeroed: factory, accuracy: 1.25psi}\n\
         clamp: {accuracy: 1F}\n",
    );
    let run = check(&kit, &["--elevation", "1600m"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("zero the gauge here"), "{}", run.err);
    let run = check(
        &kit,
        &[
            "--elevation",
            "1600m",
            "--gauge",
            "sealed",
            "--zeroed",
            "here",
        ],
    );
    assert_eq!(run.code, 0, "{}", run.err);
    // Sealed in at sea level, the gauge counts from 101.325 kPa wherever it is.
    let drum = [&DRUM[..], &["--elevation", "1600m", "--kit", kit.path()]].concat();
    let found = json(&drum);
    assert!((psi(&found["pressure_Pa"]) - 96.0 - 14.696).abs() < 1e-3);
    assert!(answer(&drum).contains("sealed in"));
}
