//! A data logger's day: logs as they come, swings, counts.

use zeotrope::service::reading::log::{Statistics, Swing};

use crate::folder::Folder;
use crate::program::{answer, json, zeotrope};
use crate::sheet::Sheet;
use crate::technician::{near, number};

/// Eight minutes of a valve that hunts by ±3 °F every two minutes about 10 °F: the pressure is
/// steady, so that the swing of the line, 6 °F, is that of the superheat.
#[test]
fn a_hunting_valve() {
    let folder = Folder::new("hunting");
    let file = folder.file("log.csv");
    let mut text = "time_s,suction_pressure_psig,suction_line_temperature_F\n".to_owned();
    for second in (0..=480).step_by(5) {
        let phase = std::f64::consts::TAU * f64::from(second) / 120.0;
        text.push_str(&format!("{second},118,{}\n", 50.0 + 3.0 * phase.sin()));
    }
    std::fs::write(&file, text).unwrap();
    let mean = number(
        &json(&[
            "superheat",
            "R-410A",
            "--pressure",
            "118psig",
            "--line",
            "50F",
        ])["superheat_K"],
    );
    let target = format!("{mean}K");
    let words = [
        "reading", "R-410A", "--csv", &file, "--target", &target, "--band", "1.826F",
    ];
    let found = json(&words);
    let superheat = &found["statistics"]["superheat_K"];
    near(number(&superheat["swing"]) * 1.8, 6.0, 0.05, "swing");
    near(number(&superheat["swing_period_s"]), 120.0, 0.1, "period");
    assert!(
        superheat["trend_per_h"].is_null() && superheat["drift"].is_null(),
        "{superheat}"
    );
    // 1.826 is 3 sin 37.5°: within for 4 x 37.5 of 360 degrees, below for 105
    near(
        number(&superheat["within_time_fraction"]),
        150.0 / 360.0,
        0.01,
        "within",
    );
    near(
        number(&superheat["below_time_fraction"]),
        105.0 / 360.0,
        0.01,
        "below",
    );
    let page = answer(&[&words[..], &["--format", "text"]].concat());
    assert!(
        page.contains("superheat swings by 6.0 °F from trough to peak, every 120 s"),
        "{page}"
    );
    assert!(page.contains("trend over the run"), "{page}");
}

#[test]
fn a_drift_is_told_where_it_exceeds_the_swing() {
    let of = |drift: f64| {
        let mut seen = Statistics::default();
        for k in 0..1000 {
            let time = f64::from(k);
            seen.add(time, (time / 7.0).sin() + drift * time / 999.0);
        }
        seen.drift()
    };
    // a sine of 1 swings by 2 from trough to peak
    assert_eq!((of(1.0), of(1.5)), (None, None));
    near(of(5.0).unwrap(), 5.0, 0.1, "drift");
    let mut steady = Swing::new(1.0);
    (0..100).for_each(|k| steady.add(f64::from(k), f64::from(k % 2) * 0.5));
    assert_eq!((steady.size(), steady.period()), (None, None));
    // both ways by one and a half of what is counted
    let mut swings = Swing::new(1.0);
    (0..100).for_each(|k| swings.add(f64::from(k), f64::from(k % 2) * 1.5));
    assert_eq!((swings.size(), swings.period()), (Some(1.5), Some(2.0)));
}

/// Each row in one class, and the words beside the sheet agree with it.
#[test]
fn rows_are_counted_once() {
    let folder = Folder::new("counts");
    let file = folder.file("log.csv");
    let rows = "suction_pressure_psig,suction_line_temperature_F\n118,50\n118,\n118,open\n,50\n";
    std::fs::write(&file, rows).unwrap();
    let words = ["reading", "R-410A", "--csv", &file];
    let found = json(&words);
    let count = |key: &str| found[key].as_u64().unwrap();
    assert_eq!(
        [
            count("rows_answered"),
            count("rows_partial"),
            count("rows_marked"),
            count("rows_unanswered")
        ],
        [1, 2, 0, 1]
    );
    assert_eq!(found["statistics"]["superheat_K"]["count"], 1);
    assert_eq!(found["statistics"]["suction_dew_temperature_K"]["count"], 3);
    let run = zeotrope(&words);
    assert!(
        run.err
            .contains("1 of 4 rows lacks an answer, 2 a part of it"),
        "{}",
        run.err
    );
}

/// A mark that is not closed swallows no row; a cell of two lines is still one.
#[test]
fn quotation_marks_swallow_nothing() {
    let folder = Folder::new("quotes");
    let file = folder.file("rows.csv");
    let text = "what,pressure_psig\n\"door 3,65\nx,70\n\"7/8\" line,75\n\"two\nlines\",85\n";
    std::fs::write(&file, text).unwrap();
    let run = zeotrope(&["saturation", "R-134a", "--csv", &file]);
    let sheet = Sheet::of(&run.out);
    assert_eq!(
        sheet.column("what"),
        ["\"door 3", "x", "\"7/8\" line", "two\nlines"]
    );
    assert!(
        sheet
            .column("dew_temperature_K")
            .iter()
            .all(|cell| !cell.is_empty())
    );
    assert!(
        run.err.contains("line 2") && run.err.contains("(2 rows)"),
        "{}",
        run.err
    );
}

/// Semicolons, decimal commas, own headers, 12-hour dates: 20 rows, 20 answers, in the units asked
/// for. R-134a: 0.34966 MPa at 5 °C (Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657).
#[test]
fn a_foreign_log() {
    let folder = Folder::new("foreign");
    let file = folder.file("log.csv");
    let mut text = "Datum;Saugdruck bara;Sauggas\r\n".to_owned();
    for minute in 0..20 {
        text.push_str(&format!(
            "11/28/2026 12:{minute:02} AM;3,4966;{},5\r\n",
            10 + minute % 3
        ));
    }
    std::fs::write(&file, &text).unwrap();
    let words = [
        "reading",
        "R-134a",
        "--csv",
        &file,
        "--column",
        "time=Datum",
        "--column",
        "suction_pressure=Saugdruck bara",
        "--column",
        "suction_line_temperature=Sauggas:C",
    ];
    let run = zeotrope(
        &[
            &words[..],
            &["--answers", "superheat_F,suction_dew_temperature_C"],
        ]
        .concat(),
    );
    assert_eq!(run.code, 0, "{}", run.err);
    let lines: Vec<Vec<&str>> = run
        .out
        .lines()
        .map(|line| line.split(';').collect())
        .collect();
    assert_eq!(lines.len(), 21);
    assert_eq!(
        lines[0][3..],
        [
            "superheat_F",
            "suction_dew_temperature_C",
            "error",
            "warnings"
        ]
    );
    let figure = |text: &str| text.replace(',', ".").parse::<f64>().unwrap();
    for (minute, line) in lines[1..].iter().enumerate() {
        let line_temperature = 10.5 + (minute % 3) as f64;
        near(
            figure(line[3]),
            (line_temperature - 5.0) * 1.8,
            0.01,
            "superheat",
        );
        near(figure(line[4]), 5.0, 0.005, "dew");
        assert_eq!(line[5], "");
    }
    assert_eq!(json(&words)["statistics"]["superheat_K"]["count"], 20);
}

#[test]
fn dates_and_numbers_with_two_readings() {
    let folder = Folder::new("readings");
    let file = folder.file("log.csv");
    std::fs::write(&file, "time,suction_pressure_psig\n11/12/2026 12:00,65\n").unwrap();
    let run = zeotrope(&["reading", "R-22", "--csv", &file]);
    assert_eq!(run.code, 2);
    assert!(
        run.err.contains("two readings") && run.err.contains("--date-order"),
        "{}",
        run.err
    );
    assert_eq!(
        zeotrope(&[
            "reading",
            "R-22",
            "--csv",
            &file,
            "--date-order",
            "day-first"
        ])
        .code,
        0
    );
    // no answer of saturation rests on the time
    assert_eq!(zeotrope(&["saturation", "R-22", "--csv", &file]).code, 0);
    std::fs::write(&file, "pressure_kPaa;note\n1,234;x\n").unwrap();
    let refused = zeotrope(&["saturation", "R-22", "--csv", &file]);
    assert_eq!(refused.code, 1, "{}", refused.out);
    let dew = |sign: &str| {
        let words = [
            "saturation",
            "R-22",
            "--csv",
            &file,
            "--answers",
            "dew_pressure_kPaa",
        ];
        let run = zeotrope(&[&words[..], &["--decimal", sign]].concat());
        let line = run.out.lines().nth(1).unwrap_or_default().to_owned();
        line.split(';')
            .nth(2)
            .unwrap_or_default()
            .replace(',', ".")
            .parse::<f64>()
            .unwrap()
    };
    near(dew("point"), 1234.0, 1e-6, "thousands");
    // below the range of R-22, as 1.234 kPa is
    std::fs::write(&file, "pressure_kPaa;note\n1,234;x\n501,5;y\n").unwrap();
    let run = zeotrope(&[
        "saturation",
        "R-22",
        "--csv",
        &file,
        "--answers",
        "dew_pressure_kPaa",
    ]);
    assert!(
        run.out.contains(";501,5;") || run.out.contains(";501,4999"),
        "{}",
        run.out
    );
}

#[test]
fn each_row_names_its_refrigerant() {
    let folder = Folder::new("subjects");
    let file = folder.file("rows.csv");
    std::fs::write(&file, "Gas,pressure_psig\nR-22,65\nR-999,70\nR-410A,118\n").unwrap();
    let words = [
        "saturation",
        "--csv",
        &file,
        "--column",
        "refrigerant=Gas",
        "--answers",
    ];
    let run = zeotrope(&[&words[..], &["dew_temperature_F"]].concat());
    let sheet = Sheet::of(&run.out);
    let dew = sheet.column("dew_temperature_F");
    // common charts, from memory: R-22 37.5 °F at 65 psig, R-410A 39.8 °F at 118 psig
    near(dew[0].parse().unwrap(), 37.5, 0.3, "R-22");
    near(dew[2].parse().unwrap(), 39.8, 0.3, "R-410A");
    assert!(dew[1].is_empty() && sheet.column("error")[1].contains("R-999"));
}
