//! `cycle` as the program answers it: side by side, in rows, step by step, drawn, refused.

use crate::program::{answer, json, zeotrope};

/// Every step of the working, calculated again from the numbers printed in it.
#[test]
fn the_working_leads_to_the_printed_digit() {
    let ask = |more: &[&str]| {
        let mut words = vec![
            "cycle",
            "R-407C",
            "--evaporating",
            "0C",
            "--condensing",
            "40C",
        ];
        words.extend(["--superheat", "5K", "--efficiency", "70%", "--explain"]);
        words.extend(more);
        json(&words)
    };
    for more in [&["--subcooling", "3K"][..], &["--economizer"]] {
        let answer = ask(more);
        let lines: Vec<String> = answer["results"][0]["working"]
            .as_array()
            .unwrap()
            .iter()
            .map(|line| line.as_str().unwrap().to_owned())
            .collect();
        let numbers = |start: &str| -> Vec<f64> {
            let line = lines.iter().find(|line| line.starts_with(start));
            let line = line.unwrap_or_else(|| panic!("{start}: {lines:#?}"));
            let shown = line.split_once(" = ").unwrap().1;
            // Behind the formula, from where the first number stands alone.
            let shown = shown.split_once(" = ").map_or(shown, |(_, behind)| behind);
            shown
                .split(|c: char| !(c.is_ascii_digit() || c == '.'))
                .filter_map(|part| part.trim_end_matches('.').parse().ok())
                .collect()
        };
        let effect = numbers("Refrigerating effect");
        assert!(
            (effect[0] - effect[1] - effect[2]).abs() < 1.1e-4,
            "{effect:?}"
        );
        let cop = numbers("COP for cooling");
        assert_eq!(format!("{:.3}", cop[0] / cop[1]), format!("{:.3}", cop[2]));
        let found = answer["results"][0]["cop_cooling"].as_f64().unwrap();
        assert_eq!(format!("{found:.3}"), format!("{:.3}", cop[2]));
        let volume = numbers("Volumetric capacity");
        assert!(
            (volume[0] / volume[1] / volume[2] - 1.0).abs() < 2e-4,
            "{volume:?}"
        );
        let heating = numbers("COP for heating");
        if more.len() == 2 {
            let work = numbers("Work");
            assert!((work[0] - work[1] - work[2]).abs() < 1.1e-4, "{work:?}");
            let cop = (heating[0] - heating[1]) / heating[2];
            assert_eq!(format!("{cop:.3}"), format!("{:.3}", heating[3]));
        } else {
            let cop = heating[0] * (heating[1] - heating[2]) / heating[3];
            assert_eq!(format!("{cop:.3}"), format!("{:.3}", heating[4]));
        }
    }
}

#[test]
fn several_are_shown_relative_to_the_first() {
    let words = [
        "cycle",
        "R-22",
        "R-290",
        "R-717",
        "--evaporating",
        "20F",
        "--condensing",
        "30C",
    ];
    let found = json(&words);
    // COP and g/s circulated a kilowatt of ASHRAE Handbook Fundamentals 2021, chapter 29, table 8.
    let printed = [(6.105, 6.03), (5.987, 3.47), (6.254, 0.90)];
    for (at, (cop, circulated)) in printed.into_iter().enumerate() {
        let own = &found["results"][at];
        assert!((own["cop_cooling"].as_f64().unwrap() / cop - 1.0).abs() < 1e-3);
        let relative = own["relative"]["cop_cooling"].as_f64().unwrap();
        assert!((relative - cop / 6.105).abs() < 1.5e-3);
        let flow = own["relative"]["mass_flow"].as_f64().unwrap();
        assert!((flow / (circulated / 6.03) - 1.0).abs() < 1e-2, "{flow}");
    }
    assert_eq!(found["results"][1]["refrigerant"], "R-290");
    assert_eq!(found["results"][1]["evaporating_at"], "inlet-mean");
    let cautions = found["cautions"].to_string();
    assert!(cautions.contains("R-290, R-717 are flammable") && cautions.contains("R-717 is toxic"));
    assert!(cautions.contains("does not make one refrigerant a substitute"));
    for format in ["text", "csv", "html"] {
        let page = answer(&[&words[..], &["--format", format]].concat());
        assert!(
            !page.contains("suitable") && !page.contains("drop-in"),
            "{format}"
        );
    }
}

#[test]
fn a_sweep_is_rows() {
    let words = [
        "cycle",
        "R-290",
        "R-600a",
        "--evaporating",
        "-5C",
        "--condensing",
        "30C..50C",
        "--step",
        "5C",
    ];
    let sheet = answer(&[&words[..], &["--format", "csv"]].concat());
    let mut reader = csv::Reader::from_reader(sheet.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let at = |name: &str| heads.iter().position(|head| head == name).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 10);
    let cop = |row: &csv::StringRecord| row[at("cop_cooling")].parse::<f64>().unwrap();
    assert!(
        rows.iter()
            .step_by(2)
            .zip(rows.iter().skip(2).step_by(2))
            .all(|(a, b)| cop(a) > cop(b))
    );
    assert_eq!(&rows[9][at("condensing_temperature_K")], "323.15");
    let found = json(&words);
    assert_eq!(found["results"].as_array().unwrap().len(), 10);
}

#[test]
fn what_is_stated_is_compared() {
    let ask = |more: &[&str]| {
        let words = [
            "cycle",
            "R-32",
            "--evaporating",
            "-15C",
            "--condensing",
            "45C",
        ];
        answer(&[&words[..], more].concat())
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    let page = ask(&["--discharge-limit", "90C", "--pressure-rating", "40barg"]);
    assert!(
        page.contains("above the stated limit of 90.00 °C"),
        "{page}"
    );
    assert!(
        page.contains("not above the stated rating of 40.000 barg"),
        "{page}"
    );
    assert!(ask(&["--pressure-rating", "20barg"]).contains("barg, above the stated rating"));
    assert!(!ask(&[]).contains("stated"));
}

#[test]
fn wrong_questions_say_what_is_wrong() {
    for (question, code, word) in [
        (&["--condensing", "40C", "--step", "5C"][..], 2, "--step"),
        (&["--condensing", "30C..40C"], 2, "without a step"),
        (&["--condensing", "40C..30C", "--step", "5C"], 2, "upwards"),
        (
            &["--condensing", "10barg", "--condensing-at", "dew"],
            2,
            "a pressure was given",
        ),
        (
            &["--condensing", "40C", "--condensing-at", "inlet-mean"],
            2,
            "inlet mean",
        ),
        (
            &["--condensing", "40C", "--economizer", "--stages", "1"],
            2,
            "--economizer",
        ),
        (
            &["--condensing", "40C", "--intermediate-pressure", "4barg"],
            2,
            "--intermediate-pressure",
        ),
        (
            &["--condensing", "40C", "--efficiency", "0%"],
            1,
            "efficiency",
        ),
        (&["--condensing", "120C"], 1, "point 3"),
        (
            &[
                "--gas-cooler-outlet",
                "35C",
                "--gas-cooler-pressure",
                "20barg",
            ],
            1,
            "gas cooler",
        ),
    ] {
        let words = [&["cycle", "R-134a", "--evaporating", "0C"], question].concat();
        let run = zeotrope(&words);
        assert_eq!(run.code, code, "{question:?}: {}", run.err);
        assert!(
            run.err.contains(word) && run.err.contains("hint:"),
            "{question:?}: {}",
            run.err
        );
    }
}

#[test]
fn a_cycle_is_drawn_with_its_dome() {
    for plane in ["ph", "ts"] {
        let words = [
            "cycle",
            "R-407C",
            "--evaporating",
            "0C",
            "--condensing",
            "40C",
            "--superheat",
            "5K",
            "--picture",
            plane,
            "--format",
            "svg",
        ];
        let picture = answer(&words);
        // Two lines of the dome and the five legs of a cycle.
        let lines = picture.matches("<polyline").count() + picture.matches("<path").count();
        assert!(
            picture.starts_with("<svg") && lines >= 7,
            "{plane}: {lines}"
        );
        assert!(picture.contains("Cycle on"), "{plane}");
    }
    let many = ["R-32", "R-134a", "R-290", "R-600a"];
    let words = [
        &["cycle"],
        &many[..],
        &[
            "--evaporating",
            "0C",
            "--condensing",
            "40C",
            "--picture",
            "ph",
        ],
    ];
    assert_eq!(zeotrope(&words.concat()).code, 2);
}

#[test]
fn a_gas_cooler_stands_beside_a_condenser() {
    let words = [
        "cycle",
        "R-744",
        "R-290",
        "--evaporating",
        "-8C",
        "--condensing",
        "40C",
        "--gas-cooler-outlet",
        "35C",
        "--gas-cooler-pressure",
        "90bara",
    ];
    let found = json(&words);
    let number = |at: usize, key: &str| found["results"][at][key].as_f64();
    assert_eq!(number(0, "gas_cooler_outlet_K"), Some(308.15));
    assert_eq!(number(0, "condensing_temperature_K"), None);
    assert!((number(0, "condensing_pressure_Pa").unwrap() / 90e5 - 1.0).abs() < 1e-12);
    assert_eq!(number(1, "gas_cooler_outlet_K"), None);
    assert_eq!(number(1, "condensing_temperature_K"), Some(313.15));
    // each as it is asked alone
    for (at, alone) in [
        (
            0,
            &[
                "cycle",
                "R-744",
                "--gas-cooler-outlet",
                "35C",
                "--gas-cooler-pressure",
                "90bara",
            ][..],
        ),
        (1, &["cycle", "R-290", "--condensing", "40C"][..]),
    ] {
        let alone = json(&[alone, &["--evaporating", "-8C"]].concat());
        assert_eq!(
            found["results"][at]["cop_cooling"],
            alone["results"][0]["cop_cooling"]
        );
    }
    let page = answer(&words);
    assert!(
        page.contains("R-744, whose critical point lies below")
            || page.contains("R-290: condensing")
    );
}

#[test]
fn every_condition_has_its_points() {
    for more in [
        &["--condensing", "30C..40C", "--step", "5C"][..],
        &["--condensing", "40C", "--compare-at", "dew,mean,bubble"],
    ] {
        let words = [&["cycle", "R-407C", "--evaporating", "0C"], more].concat();
        let heads = |page: String| {
            page.matches("Points of the cycle of R-407C: evaporating")
                .count()
        };
        assert_eq!(heads(answer(&words)), 3);
        assert_eq!(heads(answer(&[&words[..], &["--brief"]].concat())), 0);
    }
}
