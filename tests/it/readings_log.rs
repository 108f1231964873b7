//! Both sides at once, and logs: every row kept, in order, answered or marked.

use zeotrope::service::reading::log::{Statistics, Thinned};
use zeotrope::service::sheet::Clock;

use crate::program::{answer, json, zeotrope};

fn near(value: f64, expected: f64, within: f64, what: &str) {
    assert!(
        (value - expected).abs() <= within,
        "{what}: {value}, expected {expected}"
    );
}

/// A file of its own for each test, removed at its end.
struct Log(std::path::PathBuf);

impl Log {
    fn new(name: &str, text: &str) -> Self {
        let file = format!("zeotrope-log-{}-{name}.csv", std::process::id());
        let path = std::env::temp_dir().join(file);
        std::fs::write(&path, text).unwrap();
        Self(path)
    }

    fn name(&self) -> &str {
        self.0.to_str().unwrap()
    }
}

impl Drop for Log {
    fn drop(&mut self) {
        std::fs::remove_file(&self.0).unwrap();
    }
}

const HEAD: &str = "time,suction_pressure_psig,suction_line_temperature_F,liquid_pressure_psig,\
                    liquid_line_temperature_F,ambient_temperature_F\n";

/// Rows of an answer by column name.
fn rows(text: &str) -> Vec<std::collections::HashMap<String, String>> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            heads
                .iter()
                .map(str::to_owned)
                .zip(record.iter().map(str::to_owned))
                .collect()
        })
        .collect()
}

#[test]
fn both_sides_agree_with_each_alone() {
    let kit = [
        "--gauge-accuracy",
        "1%span",
        "--low-span",
        "250psi",
        "--high-span",
        "800psi",
        "--clamp-accuracy",
        "1F",
    ];
    let mut words = vec![
        "reading",
        "R-410A",
        "--suction-pressure",
        "118psig",
        "--suction-line",
        "50F",
        "--liquid-pressure",
        "340psig",
        "--liquid-line",
        "95F",
        "--ambient",
        "85F",
        "--return-air",
        "75F",
        "--supply-air",
        "56F",
    ];
    words.extend(kit);
    let both = json(&words);
    for (side, verb, pressure, line, span) in [
        ("suction", "superheat", "118psig", "50F", "250psi"),
        ("liquid", "subcooling", "340psig", "95F", "800psi"),
    ] {
        let alone = json(&[
            verb,
            "R-410A",
            "--pressure",
            pressure,
            "--line",
            line,
            "--gauge-accuracy",
            "1%span",
            "--gauge-span",
            span,
            "--clamp-accuracy",
            "1F",
        ]);
        for key in [
            format!("{verb}_K"),
            "standard_uncertainty_K".into(),
            "worst_case_K".into(),
        ] {
            let (one, other) = (both[side][&key].as_f64(), alone[&key].as_f64());
            near(one.unwrap(), other.unwrap(), 1e-9, &key);
        }
    }
    // 354.696 over 132.696 psia; return less supply air 19 °F.
    near(
        both["pressure_ratio"].as_f64().unwrap(),
        354.696 / 132.696,
        1e-4,
        "pressure ratio",
    );
    near(
        both["air_difference_K"].as_f64().unwrap() * 1.8,
        19.0,
        1e-9,
        "air",
    );
    // u/r by the GUM, eq. 12, of ±8 in 354.7 and ±2.5 in 132.7 psi
    let relative: f64 = ((8.0f64 / 354.696).powi(2) + (2.5f64 / 132.696).powi(2)) / 3.0;
    near(
        both["pressure_ratio_expanded_uncertainty"]
            .as_f64()
            .unwrap(),
        2.0 * 354.696 / 132.696 * relative.sqrt(),
        1e-4,
        "of the ratio",
    );
    let mean = both["liquid"]["mean_temperature_K"].as_f64().unwrap();
    let ambient = (85.0 + 459.67) / 1.8;
    near(
        both["condensing_over_ambient_K"].as_f64().unwrap(),
        mean - ambient,
        1e-9,
        "over ambient",
    );
    assert_eq!(both["marks"], serde_json::json!([]));
}

/// Swapped gauges and clamps, and a condenser colder than its air, are marked.
#[test]
fn what_makes_no_sense_is_marked() {
    let marks = |words: &[&str]| {
        let mut all = vec!["reading", "R-410A"];
        all.extend(words);
        json(&all)["marks"].to_string()
    };
    let swapped = marks(&[
        "--suction-pressure",
        "340psig",
        "--suction-line",
        "50F",
        "--liquid-pressure",
        "118psig",
        "--liquid-line",
        "95F",
    ]);
    assert!(swapped.contains("pressures_not_apart"), "{swapped}");
    let clamps = marks(&[
        "--suction-pressure",
        "118psig",
        "--suction-line",
        "95F",
        "--liquid-pressure",
        "340psig",
        "--liquid-line",
        "50F",
    ]);
    assert!(clamps.contains("lines_swapped"), "{clamps}");
    let cold = marks(&["--suction-pressure", "118psig", "--suction-line", "20F"]);
    assert!(cold.contains("suction_too_cold"), "{cold}");
    let air = marks(&["--liquid-pressure", "340psig", "--ambient", "110F"]);
    assert!(air.contains("condensing_below_air"), "{air}");
}

#[test]
fn a_log_keeps_every_row() {
    let mut text = HEAD.to_owned();
    for minute in 0..5000 {
        let hour = minute / 60;
        let day = 1 + hour / 24;
        text.push_str(&format!(
            "2026-07-{day:02}T{:02}:{:02}:00,118.0,{:.3},340.0,95.0,85\n",
            hour % 24,
            minute % 60,
            50.0 + minute as f64 / 600.0,
        ));
    }
    text.push_str("2026-07-05T00:00:00,,60,340,95,85\n");
    text.push_str("2026-07-05T00:01:00,118,open,340,95,85\n");
    text.push_str("2026-07-05T00:02:00,340,50,118,95,85\n");
    text.push_str("later,118,50,340,95,85\n");
    text.push_str("2026-07-05T00:03:00,,,,,\n");
    text.push_str("2026-07-05T00:04:00,-20,50,340,95,85\n");
    let log = Log::new("rows", &text);
    let words = [
        "reading",
        "R-410A",
        "--csv",
        log.name(),
        "--gauge-accuracy",
        "2psi",
        "--clamp-accuracy",
        "1F",
    ];
    let run = zeotrope(&words);
    assert_eq!(run.code, 0, "{}", run.err);
    let found = rows(&run.out);
    assert_eq!(found.len(), 5006);
    for (row, line) in found.iter().zip(text.lines().skip(1)) {
        assert!(line.starts_with(&row["time"]));
    }
    // A row is what the verbs say alone.
    let alone = json(&[
        "superheat",
        "R-410A",
        "--pressure",
        "118psig",
        "--line",
        "50F",
        "--gauge-accuracy",
        "2psi",
        "--clamp-accuracy",
        "1F",
        "--nominal-composition",
    ]);
    for (column, key) in [
        ("superheat_K", "superheat_K"),
        ("superheat_standard_uncertainty_K", "standard_uncertainty_K"),
        ("superheat_expanded_uncertainty_K", "expanded_uncertainty_K"),
        ("superheat_worst_case_K", "worst_case_K"),
    ] {
        let value: f64 = found[0][column].parse().unwrap();
        near(value, alone[key].as_f64().unwrap(), 1e-9, column);
    }
    let tail = &found[5000..];
    // a gap, and text: the other side, the rest of this one, and a word
    assert_eq!(tail[0]["superheat_K"], "");
    assert_ne!(tail[0]["subcooling_K"], "");
    assert!(
        tail[0]["error"].contains("suction_pressure_psig") && tail[0]["error"].contains("empty")
    );
    assert_ne!(tail[1]["suction_dew_temperature_K"], "");
    assert_eq!(tail[1]["superheat_K"], "");
    assert!(tail[1]["error"].contains("'open'"));
    assert!(tail[2]["marks"].contains("pressures_not_apart"));
    assert!(tail[3]["error"].contains("'later' is not a time"));
    assert!(tail[4]["error"].contains("empty"));
    assert!(
        tail[5]["error"].contains("perfect vacuum"),
        "{}",
        tail[5]["error"]
    );
    assert_ne!(tail[5]["subcooling_K"], "");

    // The line rises by 0.1 °F a minute over 10: 0.1 °F each 60 minutes.
    let summary = json(&["reading", "R-410A", "--csv", log.name()]);
    assert_eq!(summary["rows"], 5006);
    assert_eq!(summary["rows_marked"], 1);
    assert_eq!(summary["rows_answered"], 5000);
    assert_eq!(summary["rows_partial"], 4);
    assert_eq!(summary["rows_unanswered"], 1);
    let superheat = &summary["statistics"]["superheat_K"];
    assert_eq!(superheat["count"], 5000);
    near(
        superheat["trend_per_h"].as_f64().unwrap() * 1.8,
        0.1,
        1e-4,
        "trend",
    );
    let first = alone["superheat_K"].as_f64().unwrap();
    near(superheat["min"].as_f64().unwrap(), first, 1e-9, "lowest");
    near(
        superheat["max"].as_f64().unwrap(),
        first + 4999.0 / 600.0 / 1.8,
        5e-4,
        "highest",
    );
    let page = answer(&["reading", "R-410A", "--csv", log.name(), "--format", "text"]);
    assert!(page.contains("trend per hour"), "{page}");
    let picture = answer(&["reading", "R-410A", "--csv", log.name(), "--format", "svg"]);
    assert!(picture.starts_with("<svg "));
    for label in [">superheat<", ">subcooling<", ">time, h<"] {
        assert!(picture.contains(label), "{label}");
    }
}

/// A page with the table and both curves; the drawing alone as SVG.
#[test]
fn a_run_is_drawn() {
    let mut text = HEAD.to_owned();
    for minute in 0..600 {
        text.push_str(&format!(
            "2026-07-01T{:02}:{:02},{:.2},52,340,95,85\n",
            minute / 60,
            minute % 60,
            118.0 + 6.0 * (f64::from(minute) / 60.0).sin()
        ));
    }
    let log = Log::new("drawn", &text);
    let draw = |format| answer(&["reading", "R-410A", "--csv", log.name(), "--format", format]);
    let (html, svg) = (draw("html"), draw("svg"));
    assert!(html.starts_with("<!DOCTYPE html>"), "{html}");
    assert!(svg.trim_start().starts_with("<svg"), "{svg}");
    for page in [&html, &svg] {
        assert_eq!(page.matches("<svg").count(), 1);
        for word in [
            "superheat",
            "subcooling",
            "time, h",
            "difference, °F",
            "<polyline",
        ] {
            assert!(page.contains(word), "{word}: {page}");
        }
        assert!(!page.contains("NaN"), "{page}");
    }
    for word in [
        "<table",
        "trend per hour",
        "Rows with a full answer: 600",
        "Local codes",
    ] {
        assert!(html.contains(word), "{word}: {html}");
    }
}

/// One degree an hour, by hand, over two midnights of times without a date.
#[test]
fn a_log_runs_past_midnight() {
    let mut text = "time,suction_pressure_psig,suction_line_temperature_F\n".to_owned();
    for hour in 0..40 {
        text.push_str(&format!("{:02}:30,118,{}\n", (hour + 20) % 24, 45 + hour));
    }
    let log = Log::new("midnight", &text);
    let found = json(&["reading", "R-410A", "--csv", log.name()]);
    let trend = found["statistics"]["superheat_K"]["trend_per_h"].as_f64();
    near(trend.unwrap() * 1.8, 1.0, 1e-9, "trend");
}

#[test]
fn a_log_that_cannot_be_read() {
    for (name, text, part) in [
        (
            "unit",
            "suction_pressure_psi,suction_line_temperature_F\n118,50\n",
            "does not say whether it is gauge or absolute",
        ),
        (
            "unknown",
            "suction_pressure_foot,suction_line_temperature_F\n118,50\n",
            "is not a unit of pressure",
        ),
        (
            "bare",
            "suction_pressure_psig,suction_line_temperature\n118,50\n",
            "has no unit",
        ),
        ("none", "a,b\n1,2\n", "no column of pressures"),
        (
            "twice",
            "suction_pressure_psig,suction_pressure_kPaa\n1,2\n",
            "say the same",
        ),
        (
            "line",
            "suction_pressure_psig,liquid_line_temperature_F\n1,2\n",
            "liquid_pressure_psig",
        ),
    ] {
        let log = Log::new(name, text);
        let run = zeotrope(&["reading", "R-410A", "--csv", log.name()]);
        assert_eq!(run.code, 2, "{name}: {}", run.err);
        assert!(run.err.contains(part), "{name}: {}", run.err);
        assert_eq!(run.out, "");
    }
    let none = Log::new("unanswered", "suction_pressure_psig\nx\ny\n");
    let run = zeotrope(&[
        "reading",
        "R-410A",
        "--csv",
        none.name(),
        "--format",
        "json",
    ]);
    assert_eq!(run.code, 1);
    assert_eq!(run.out, "");
    let run = zeotrope(&["reading", "R-410A"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("no pressure was given"), "{}", run.err);
    let run = zeotrope(&["reading", "R-410A", "--suction-line", "50F"]);
    assert_eq!(run.code, 2);
}

/// A sealed gauge in a log counts from the air sealed in.
#[test]
fn gauges_of_a_log() {
    let log = Log::new(
        "sealed",
        "Suction pressure (psig),Suction line temperature (F)\n118.4,50\n",
    );
    let found = rows(&answer(&[
        "reading",
        "R-410A",
        "--csv",
        log.name(),
        "--elevation",
        "5280ft",
        "--gauge",
        "sealed",
        "--zeroed",
        "factory",
    ]));
    let alone = json(&[
        "superheat",
        "R-410A",
        "--pressure",
        "118.4psig",
        "--line",
        "50F",
    ]);
    let value: f64 = found[0]["superheat_K"].parse().unwrap();
    near(
        value,
        alone["superheat_K"].as_f64().unwrap(),
        1e-9,
        "sealed",
    );
}

/// The running sums against the formulas over all values at once.
#[test]
fn statistics_against_their_formulas() {
    let points: Vec<(f64, f64)> = (0..500)
        .map(|k| {
            let time = 1e9 + 60.0 * k as f64;
            (time, 5.0 + 0.01 * k as f64 + (k as f64 * 0.7).sin())
        })
        .collect();
    let mut seen = Statistics::default();
    for &(time, value) in &points {
        seen.add(time, value);
    }
    let count = points.len() as f64;
    let mean_time = points.iter().map(|p| p.0).sum::<f64>() / count;
    let mean = points.iter().map(|p| p.1).sum::<f64>() / count;
    let spread: f64 = points.iter().map(|p| (p.0 - mean_time).powi(2)).sum();
    let together: f64 = points
        .iter()
        .map(|p| (p.0 - mean_time) * (p.1 - mean))
        .sum();
    near(seen.mean().unwrap(), mean, 1e-9, "mean");
    let trend = seen.trend().unwrap();
    near(trend / (together / spread), 1.0, 1e-6, "trend");
    assert_eq!(Statistics::default().mean(), None);
    assert_eq!(Statistics::default().trend(), None);

    let mut kept = Thinned::new(100);
    for k in 0..100_000 {
        kept.add(k as f64, 0.0);
    }
    assert!(kept.points().len() <= 100);
    let steps: Vec<f64> = kept.points().windows(2).map(|w| w[1].0 - w[0].0).collect();
    assert!(steps.iter().all(|step| *step == kept.every() as f64));
}

#[test]
fn times_as_people_write_them() {
    let at = |text| Clock::Written(zeotrope::units::DateOrder::Unknown).seconds(text);
    let day = 86_400.0;
    let difference = |one, other| at(one).unwrap() - at(other).unwrap();
    assert_eq!(
        difference("2024-03-01T00:00", "2024-02-28T00:00"),
        2.0 * day
    );
    assert_eq!(difference("2100-03-01 00:00", "2100-02-28 00:00"), day);
    assert_eq!(
        difference("2000-03-01T00:00", "2000-02-28T00:00"),
        2.0 * day
    );
    assert_eq!(
        difference("2027-01-01T00:00", "2026-01-01T00:00"),
        365.0 * day
    );
    assert_eq!(difference("12:30:15", "12:30"), 15.0);
    assert_eq!(
        difference("2026-07-01T12:00-05:00", "2026-07-01T17:00Z"),
        0.0
    );
    assert_eq!(
        difference("2026-07-01T12:00+0200", "2026-07-01T10:00Z"),
        0.0
    );
    assert_eq!(difference("11/28/2026 12:03 AM", "2026-11-28 00:03"), 0.0);
    assert_eq!(
        difference("28.11.2026 1:05:30 pm", "2026-11-28 13:05:30"),
        0.0
    );
    assert_eq!(
        difference("28-Nov-2026 12:00", "Nov 28, 2026 12:00 PM"),
        0.0
    );
    // November 12 or December 11: two readings
    assert!(
        at("11/12/2026 12:00")
            .unwrap_err()
            .to_string()
            .contains("two readings")
    );
    for wrong in [
        "",
        "noon",
        "25:00",
        "2026-13-01T00:00",
        "12",
        "1.5:30",
        "13:00 PM",
        "2026-02-30",
        "1:2:3:4",
        "-1:00",
    ] {
        assert!(at(wrong).is_err(), "{wrong}");
    }
    assert_eq!(
        Clock::named("time_min").unwrap().seconds("1.5").unwrap(),
        90.0
    );
    assert!(Clock::named("time_s").unwrap().seconds("soon").is_err());
    assert!(Clock::named("temperature_F").is_none());
}
