//! Digits from an error: what a printed figure is worth in degrees.

use crate::program::{answer, json, zeotrope};

/// The one cell of a chart at one temperature.
fn cell(refrigerant: &str, at: &str, resolution: &str, unit: &str) -> String {
    let sheet = answer(&[
        "chart",
        refrigerant,
        "--from",
        at,
        "--to",
        at,
        "--resolution",
        resolution,
        "--pressure-unit",
        unit,
        "--format",
        "csv",
    ]);
    sheet
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .nth(1)
        .unwrap()
        .to_owned()
}

/// R-134a, psi: a figure rounded to 1 psi is worth ±2.3 °F at -40, ±1.0 at 0 and ±0.5 at 40 °F
/// (computed with CoolProp 8.0.0, a cross-check). So whole psi serve just above these.
#[test]
fn whole_pounds_where_they_serve() {
    for (at, enough, too_fine) in [
        ("-40F", "2.4F", "2.1F"),
        ("0F", "1.1F", "0.9F"),
        ("40F", "0.55F", "0.45F"),
    ] {
        let coarse = cell("R-134a", at, enough, "psia");
        assert!(!coarse.contains('.'), "{at} {enough}: {coarse}");
        let fine = cell("R-134a", at, too_fine, "psia");
        assert_eq!(
            fine.split('.').nth(1).map(str::len),
            Some(1),
            "{at} {too_fine}: {fine}"
        );
    }
}

/// Each printed cell, read back through the other question, misses by no more than was asked.
#[test]
fn printed_cells_read_back() {
    for (refrigerant, columns) in [
        ("R-134a", "bubble"),
        ("R-407C", "dew"),
        ("R-455A", "bubble"),
        ("R-744", "bubble"),
    ] {
        for resolution in ["0.05K", "0.5K", "2K"] {
            let chart = json(&[
                "chart",
                refrigerant,
                "--from",
                "-40C",
                "--to",
                "25C",
                "--step",
                "5C",
                "--columns",
                columns,
                "--resolution",
                resolution,
                "--pressure-unit",
                "kPaa",
            ]);
            let most: f64 = resolution.trim_end_matches('K').parse().unwrap();
            let mut worst = 0.0_f64;
            for row in chart["rows"].as_array().unwrap() {
                let text = row["cells"][0]["text"].as_str().unwrap();
                let asked = row["row"]["temperature_K"].as_f64().unwrap();
                let read = json(&[
                    "saturation",
                    refrigerant,
                    "--pressure",
                    &format!("{text}kPaa"),
                ]);
                let read = read[columns]["temperature_K"].as_f64().unwrap();
                worst = worst.max((read - asked).abs());
            }
            assert!(worst <= most * 1.001, "{refrigerant} {resolution}: {worst}");
            // The footer's own figure is this one, and digits are not wasted.
            let told = chart["largest_error_K"].as_f64().unwrap();
            assert!(
                (told - worst).abs() < 0.01 * worst + 1e-6,
                "{refrigerant} {resolution}: {told} {worst}"
            );
            // Whole kPa are finer than 2 K everywhere.
            assert!(
                resolution == "2K" || worst > most / 100.0,
                "{refrigerant} {resolution}: {worst}"
            );
        }
    }
}

/// Linear reading of R-134a in steps of 5 °F errs by at most 0.07 °F (computed with CoolProp 8.0.0,
/// a cross-check) where figures are fine; rounding comes on top of it.
#[test]
fn reading_between_rows() {
    let chart = json(&[
        "chart",
        "R-134a",
        "--from",
        "-40F",
        "--to",
        "150F",
        "--step",
        "5F",
        "--resolution",
        "0.001F",
        "--pressure-unit",
        "psia",
    ]);
    let between = chart["largest_error_between_rows_K"].as_f64().unwrap() * 1.8;
    assert!((0.05..=0.075).contains(&between), "{between}");
}

#[test]
fn uniform_digits() {
    let sheet = answer(&[
        "chart",
        "R-134a",
        "--from",
        "-40C",
        "--to",
        "60C",
        "--step",
        "10C",
        "--digits",
        "uniform",
        "--pressure-unit",
        "kPaa",
        "--format",
        "csv",
    ]);
    let digits: Vec<usize> = sheet
        .lines()
        .skip(1)
        .map(|line| line.split_once('.').map_or(0, |(_, digits)| digits.len()))
        .collect();
    assert!(digits.windows(2).all(|pair| pair[0] == pair[1]), "{sheet}");
}

/// Glide at dew 40 °F (computed with CoolProp 8.0.0, a cross-check): R-410A 0.19, R-507A 0.04,
/// R-513A 0.03, R-454B 2.7 °F. One column where it stays below half a kelvin, 0.9 °F.
#[test]
fn one_column_for_small_glide() {
    for (refrigerant, columns) in [
        ("R-410A", 1),
        ("R-507A", 1),
        ("R-513A", 1),
        ("R-454B", 2),
        ("R-407C", 2),
    ] {
        let chart = json(&[
            "chart",
            refrigerant,
            "--from",
            "40F",
            "--to",
            "60F",
            "--step",
            "10F",
        ]);
        let found = chart["columns"].as_array().unwrap();
        assert_eq!(found.len(), columns, "{refrigerant}");
        if columns == 1 {
            assert_eq!(found[0]["line"], "mean");
            let notes = chart["footers"].to_string();
            assert!(notes.contains("halfway between bubble and dew"), "{notes}");
        }
    }
    let chart = json(&[
        "chart",
        "R-410A",
        "--from",
        "40F",
        "--to",
        "40F",
        "--one-column-below",
        "0.05K",
    ]);
    assert_eq!(chart["columns"].as_array().unwrap().len(), 2);
}

/// The coldest and the hottest rows end with a word and its reason, never with what is no number.
#[test]
fn every_cell_says_something() {
    for refrigerant in ["R-508B", "R-508A", "R-744", "R-407C", "R-410A", "R-23"] {
        let run = zeotrope(&[
            "chart",
            refrigerant,
            "--from",
            "-60C",
            "--to",
            "95C",
            "--step",
            "1C",
        ]);
        assert_eq!(run.code, 0, "{}", run.err);
        assert!(
            !run.out.contains("NaN") && !run.out.contains("inf"),
            "{refrigerant}"
        );
        let has_words = run.out.contains("above critical") || run.out.contains("no answer");
        assert!(
            has_words,
            "{refrigerant} does not say where it ends: {}",
            run.out
        );
    }
}

/// kPa and MPa without a letter are absolute here, and the answer says so.
#[test]
fn bare_kilopascals_are_absolute() {
    let text = answer(&["chart", "R-134a", "--pressures", "300kPa,0.5MPa"]);
    assert!(text.contains("Pressures in kPaa are absolute"), "{text}");
    // R-134a at 5 °C: 349.66 kPa (Tillner-Roth & Baehr 1994).
    let sheet = answer(&[
        "chart",
        "R-134a",
        "--pressures",
        "349.66kPa",
        "--resolution",
        "0.01K",
        "--format",
        "csv",
    ]);
    let read: f64 = sheet
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .nth(1)
        .unwrap()
        .parse()
        .unwrap();
    assert!((read - 5.0).abs() < 0.011, "{sheet}");
}
