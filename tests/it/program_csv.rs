//! Rows of a CSV file: values, order, bad rows, slips in the head, files.

use crate::folder::Folder;
use crate::program::{Run, zeotrope};
use crate::sheet::Sheet;

/// Runs a verb on a file with this text.
fn on(text: impl AsRef<[u8]>, arguments: &[&str]) -> Run {
    let name = std::thread::current()
        .name()
        .unwrap_or("x")
        .replace("::", "-");
    let folder = Folder::new(&format!("csv-{name}"));
    let file = folder.file("rows.csv");
    std::fs::write(&file, text).unwrap();
    let arguments: Vec<&str> = arguments.iter().chain(&["--csv", &file]).copied().collect();
    zeotrope(&arguments)
}

fn sheet(text: impl AsRef<[u8]>, arguments: &[&str]) -> Sheet {
    let run = on(text, arguments);
    assert_eq!(run.code, 0, "{}", run.err);
    Sheet::of(&run.out)
}

/// Lemmon, McLinden & Wagner, J. Chem. Eng. Data 54 (2009) 3141, saturation table, with the
/// last printed digit; -50 °C is -58 °F.
#[test]
fn printed_saturation_pressures() {
    for head_and_rows in [
        "temperature_K\n223.15\n323.15\n",
        "temperature_C\n-50\n50\n",
        "Line temperature (°F)\n\u{2212}58\n122\n",
        "pressure_Pa\n70569\n1713300\n",
        "suction_pressure_kPaa\n70.569\n1713.3\n",
        "pressure kPa\n70.569\n1713.3\n",
        // gauge and absolute differ by 101.325 kPa at sea level
        "pressure_kPag\n-30.756\n1611.975\n",
    ] {
        let sheet = sheet(head_and_rows, &["saturation", "R-290"]);
        for branch in ["bubble", "dew"] {
            let temperatures = sheet.numbers(&format!("{branch}_temperature_K"));
            let pressures = sheet.numbers(&format!("{branch}_pressure_Pa"));
            let close = |value: f64, printed: f64, digit: f64| {
                assert!(
                    (value - printed).abs() < digit,
                    "{head_and_rows} {value} {printed}"
                );
            };
            close(temperatures[0], 223.15, 0.001);
            close(temperatures[1], 323.15, 0.003);
            close(pressures[0], 70_569.0, 1.0);
            close(pressures[1], 1_713_300.0, 100.0);
        }
        let density = sheet.numbers("bubble_liquid_density_kg_m3");
        assert!((density[0] - 589.90).abs() < 0.02 && (density[1] - 448.87).abs() < 0.05);
        assert_eq!(sheet.column("error"), ["", ""]);
    }
}

/// R-134a: Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657, saturation at 0.1 MPa.
#[test]
fn printed_states() {
    let rows = "pressure_bara,quality\n1,0\n1,1\n";
    let sheet = sheet(rows, &["state", "R-134a", "--zero", "iir"]);
    assert_eq!(sheet.column("phase"), ["two-phase", "two-phase"]);
    for (head, printed, digit) in [
        ("temperature_K", [246.79, 246.79], 0.02),
        ("enthalpy_J_kg", [165.44e3, 382.60e3], 20.0),
        ("entropy_J_kg_K", [867.6, 1747.5], 0.2),
        ("cp_J_kg_K", [1280.0, 793.2], 0.2),
        ("speed_of_sound_m_s", [743.31, 145.63], 0.02),
    ] {
        for (value, printed) in sheet.numbers(head).into_iter().zip(printed) {
            assert!((value - printed).abs() < digit, "{head} {value} {printed}");
        }
    }
}

/// R-32/R-125/R-134a: computed with CoolProp 8.0.0, a cross-check (`tests/data/blend_points.csv`).
#[test]
fn a_blend_of_a_general_purpose_open_library() {
    let blend = "R-32/R-125/R-134a (38.11/17.956/43.934)";
    let sheet = sheet(
        "temperature_K\n223.15\n283.15\n333.15\n",
        &["saturation", blend, "--mole"],
    );
    for (head, expected) in [
        ("bubble_pressure_Pa", [73829.8814, 776404.037, 2769230.84]),
        ("dew_pressure_Pa", [50220.4646, 644876.762, 2528690.95]),
    ] {
        for (value, expected) in sheet.numbers(head).into_iter().zip(expected) {
            assert!(
                (value / expected - 1.0).abs() < 2e-6,
                "{head} {value} {expected}"
            );
        }
    }
}

/// The answer's own columns are read again.
#[test]
fn there_and_back() {
    let there = sheet(
        "temperature_K\n250\n275.5\n300\n320\n",
        &["saturation", "R-407C"],
    );
    for branch in ["bubble", "dew"] {
        let pressures = there.column(&format!("{branch}_pressure_Pa")).join("\n");
        let rows = format!("pressure_Pa\n{pressures}\n");
        let back = sheet(rows, &["saturation", "R-407C"]);
        let temperatures = back.numbers(&format!("{branch}_temperature_K"));
        for (found, asked) in temperatures.into_iter().zip([250.0, 275.5, 300.0, 320.0]) {
            assert!((found / asked - 1.0_f64).abs() < 1e-9, "{branch} {found}");
        }
        assert!(
            back.numbers("glide_K")
                .iter()
                .all(|glide| *glide > 4.0 && *glide < 8.0)
        );
    }
}

/// A byte order mark, CRLF, quotation marks, blank lines and ragged rows.
#[test]
fn all_rows_and_columns_come_back_in_order() {
    let text = "\u{feff}time,Suction pressure (psig),note\r\n\
                1,70,\"cold, \"\"door\"\" open\"\r\n\
                2,n/a,\r\n\
                \r\n\
                3,-20,\"two\nlines\"\r\n\
                4,70\r\n\
                5,70,x,,\r\n\
                6,70,x,9\r\n\
                7,,\r\n\
                8,9000,\r\n\
                9,70psig,\r\n\
                10,1e999,\r\n\
                11,\"1,000\",\r\n";
    let run = on(text, &["saturation", "R-134a"]);
    assert_eq!(run.code, 0, "{}", run.err);
    let sheet = Sheet::of(&run.out);
    assert_eq!(
        sheet.heads[..3],
        ["time", "Suction pressure (psig)", "note"]
    );
    assert_eq!(sheet.heads[sheet.heads.len() - 2..], ["error", "warnings"]);
    let times: Vec<String> = (1..=11).map(|time| time.to_string()).collect();
    assert_eq!(sheet.column("time"), times);
    assert_eq!(sheet.column("note")[0], "cold, \"door\" open");
    assert_eq!(sheet.column("note")[2], "two\nlines");
    let errors = sheet.column("error");
    let expected = [
        "",
        "does not begin with a number",
        "below a perfect vacuum",
        "",
        "",
        "ignored: 9",
        "is empty",
        "9000 psig is outside",
        "is not a bare number",
        "is not a finite number",
        "holds a comma",
    ];
    for ((row, error), expected) in errors.iter().enumerate().zip(expected) {
        let right = if expected.is_empty() {
            error.is_empty()
        } else {
            error.contains(expected)
        };
        assert!(right, "row {}: {error:?}, not {expected:?}", row + 1);
        let answered = !sheet.column("dew_temperature_K")[row].is_empty();
        assert_eq!(answered, expected.is_empty(), "row {}", row + 1);
    }
    assert!(run.err.contains("8 of 11 rows"), "{}", run.err);
    assert!(run.err.contains("; row 2: pressure 'n/a'"), "{}", run.err);
}

/// The equation solved for every row differs from the curve in its last digits alone.
#[test]
fn rows_are_solved_where_that_is_asked() {
    let temperatures = (0..40).map(|k| format!("{}\n", f64::from(k) - 20.3));
    let rows = format!("temperature_C\n{}", temperatures.collect::<String>());
    let at = |exact: &[&str]| {
        let words = [&["saturation", "R-407C"], exact].concat();
        sheet(&rows, &words).numbers("bubble_pressure_Pa")
    };
    let (read, solved) = (at(&[]), at(&["--exact"]));
    assert_ne!(read, solved);
    for (read, solved) in read.iter().zip(&solved) {
        assert!((read / solved - 1.0).abs() < 1e-10, "{read} and {solved}");
    }
}

/// Bytes that are no UTF-8 pass through in columns that are not read.
#[test]
fn other_columns_keep_their_bytes() {
    let folder = Folder::new("csv-bytes");
    let (file, answer) = (folder.file("rows.csv"), folder.file("answer.csv"));
    std::fs::write(&file, b"place,temperature_C\nK\xfchlraum,5\nx,\xff\n").unwrap();
    let run = zeotrope(&["saturation", "R-134a", "--csv", &file, "--output", &answer]);
    assert_eq!((run.code, run.out.as_str()), (0, ""), "{}", run.err);
    let written = std::fs::read(&answer).unwrap();
    assert!(written.windows(10).any(|bytes| bytes == b"K\xfchlraum,5"));
}

#[test]
fn columns_are_chosen_by_name() {
    let rows = "ambient_temperature_C,suction_pressure_barg,discharge_pressure_barg\n30,2,9\n";
    let run = on(rows, &["saturation", "R-134a"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("--column"), "{}", run.err);
    let at = |column: &str| {
        let sheet = sheet(rows, &["saturation", "R-134a", "--column", column]);
        sheet.numbers("dew_pressure_Pa")[0]
    };
    assert!((at("suction_pressure_barg") - 301_325.0).abs() < 1e-6);
    assert!((at("discharge_pressure_barg") - 1_001_325.0).abs() < 1e-6);
    // what is named by its quantity alone comes first
    let rows = "ambient_temperature_C,pressure_barg,air_quality_index,temperature_F\n30,2,7,68\n";
    let state = sheet(rows, &["state", "R-134a"]);
    assert!((state.numbers("temperature_K")[0] - 293.15).abs() < 1e-9);
    let state = sheet(
        rows,
        &[
            "state",
            "R-134a",
            "--column",
            "pressure_barg,ambient_temperature_C",
        ],
    );
    assert!((state.numbers("temperature_K")[0] - 303.15).abs() < 1e-9);
}

/// A gauge counts from the air of the site.
#[test]
fn gauges_need_the_site() {
    let pressure = |more: &[&str]| {
        let arguments: Vec<&str> = ["saturation", "R-134a"]
            .iter()
            .chain(more)
            .copied()
            .collect();
        sheet("pressure_psig\n70\n", &arguments).numbers("dew_pressure_Pa")[0]
    };
    let psi = 6_894.757_293_168;
    assert!((pressure(&[]) - (70.0 * psi + 101_325.0)).abs() < 0.01);
    // ASHRAE Handbook Fundamentals, ch. 1: 101325 (1 - 2.25577e-5 z)^5.2559, 83.524 kPa at 1600 m
    let air = 101_325.0 * (1.0_f64 - 2.255_77e-5 * 1600.0).powf(5.2559);
    assert!((pressure(&["--elevation", "1600m"]) - (70.0 * psi + air)).abs() < 0.01);
}

/// A state that is given under the names of the answer is not written twice.
#[test]
fn a_property_given_by_its_key_stands_once() {
    let sheet = sheet("temperature_K,pressure_Pa\n300,1e5\n", &["state", "R-134a"]);
    for head in ["temperature_K", "pressure_Pa", "density_kg_m3"] {
        assert_eq!(
            sheet.heads.iter().filter(|own| *own == head).count(),
            1,
            "{head}"
        );
    }
}

/// Above the critical temperature of a zeotrope there still is a dew point: the row says what is
/// missing beside what there is.
#[test]
fn half_an_answer_says_what_is_missing() {
    let run = on(
        "temperature_K\n300\n362.8\n",
        &["saturation", "R-744/R-134a (20/80)"],
    );
    let sheet = Sheet::of(&run.out);
    let at = |head: &str| sheet.column(head)[1].to_owned();
    assert!(at("error").starts_with("no bubble point: "), "{}", run.out);
    assert_eq!(at("bubble_pressure_Pa"), "");
    assert!(!at("dew_pressure_Pa").is_empty());
    assert_eq!(sheet.column("error")[0], "");
    assert!(run.err.contains("1 of 2 rows"), "{}", run.err);
}

#[test]
fn where_two_states_answer_the_phase_is_asked_for() {
    // 228 kJ/kg at 20 °C is met just after the first bubble and again as a liquid under pressure
    let rows = "temperature_C,enthalpy_kJ_kg\n20,228\n20,300\n";
    let both = sheet(rows, &["state", "R-134a"]);
    assert!(
        both.column("error")[0].contains("choose one by its phase: two-phase, liquid"),
        "{:?}",
        both.column("error")
    );
    assert_eq!(both.column("phase"), ["", "two-phase"]);
    let liquid = sheet(rows, &["state", "R-134a", "--phase", "liquid"]);
    assert_eq!(liquid.column("phase"), ["liquid", ""]);
    assert!(liquid.column("error")[1].contains("no liquid state"));
}

#[test]
fn slips_in_the_head_and_on_the_command_line() {
    let saturation: &[&str] = &["saturation", "R-134a"];
    let state: &[&str] = &["state", "R-134a"];
    for (text, arguments, code, message, hint) in [
        ("", saturation, 1, "is empty", "the first line names"),
        (
            "time,x\n1,2\n",
            saturation,
            2,
            "has no columns for a temperature",
            "there are: time, x",
        ),
        (
            "temperature\n5\n",
            saturation,
            2,
            "has no unit",
            "temperature_C or temperature_F",
        ),
        (
            "temperature_X\n5\n",
            saturation,
            2,
            "'X' is not a unit",
            "temperature_C",
        ),
        (
            "pressure_psi\n70\n",
            saturation,
            2,
            "whether it is gauge or absolute",
            "pressure_psig (gauge)",
        ),
        (
            "pressure_mPa\n70\n",
            saturation,
            2,
            "ends in 'mPa', which is not a unit",
            "MPaa",
        ),
        (
            "temperature_C,pressure_psig\n5,7\n",
            saturation,
            2,
            "2 columns for",
            "--column",
        ),
        (
            "temperature_C,temperature_C\n5,7\n",
            saturation,
            2,
            "2 columns for",
            "--column",
        ),
        (
            "temperature_C,error\n5,\n",
            saturation,
            2,
            "column 'error' already",
            "rename",
        ),
        (
            "temperature_C,dew_pressure_Pa\n5,\n",
            saturation,
            2,
            "'dew_pressure_Pa' already",
            "rename",
        ),
        (
            "temperature_C,glide_K\n5,\n",
            saturation,
            2,
            "'glide_K' already",
            "rename",
        ),
        ("5\n6\n", saturation, 2, "no columns", "there are: 5"),
        (
            "temperature_C\n",
            saturation,
            1,
            "no rows",
            "below the line",
        ),
        (
            "temperature_C\nx\ny\n",
            saturation,
            1,
            "none of 2 rows",
            "column 'error'",
        ),
        (
            "temperature_C\n5\n",
            state,
            2,
            "1 column for a temperature",
            "there are",
        ),
        (
            "temperature_C,phase,pressure_bara\n5,,1\n",
            state,
            2,
            "'phase' already",
            "rename",
        ),
        (
            "a_temperature_C,b_temperature_C\n5,6\n",
            state,
            2,
            "are one property",
            "different",
        ),
    ] {
        let run = on(text, arguments);
        assert_eq!(run.code, code, "{text:?}: {}", run.err);
        assert!(run.err.starts_with("error: "), "{}", run.err);
        assert!(run.err.contains(message), "{text:?}: {}", run.err);
        let told = run.err.split("\nhint: ").nth(1).unwrap();
        assert!(told.contains(hint), "{text:?}: {}", run.err);
    }
    let rows = "temperature_C,pressure_bara\n5,1\n";
    for (arguments, message) in [
        (
            &["saturation", "R-134a", "--column", "x"][..],
            "no column 'x'",
        ),
        (
            &[
                "saturation",
                "R-134a",
                "--column",
                "temperature_C,pressure_bara",
            ],
            "2 columns",
        ),
        (
            &["saturation", "R-134a", "R-290", "--column", "temperature_C"],
            "one refrigerant",
        ),
        (
            &["saturation", "R-134a", "--temperature", "5C"],
            "--temperature",
        ),
        (&["saturation", "R-134a", "--units", "ip"], "--units"),
        (&["saturation", "R-134a", "--format", "json"], "not in json"),
        (&["state", "R-134a", "--pressure", "1bara"], "--pressure"),
    ] {
        let run = on(rows, arguments);
        assert_eq!(
            (run.code, run.out.as_str()),
            (2, ""),
            "{arguments:?}: {}",
            run.err
        );
        assert!(run.err.contains(message), "{arguments:?}: {}", run.err);
        assert!(run.err.contains("\nhint: "), "{}", run.err);
    }
    for alone in [
        &[
            "saturation",
            "R-134a",
            "--temperature",
            "5C",
            "--column",
            "x",
        ][..],
        &[
            "state",
            "R-134a",
            "--temperature",
            "5C",
            "--quality",
            "0",
            "--column",
            "x",
        ],
    ] {
        let run = zeotrope(alone);
        assert_eq!((run.code, run.out.as_str()), (2, ""));
        assert!(run.err.contains("--csv FILE"), "{}", run.err);
    }
    for file in ["/no/such/file.csv", "/"] {
        let run = zeotrope(&["saturation", "R-134a", "--csv", file]);
        assert_eq!(run.code, 1);
        assert!(run.err.contains("could not be read"), "{}", run.err);
    }
}

/// A line that never ends must not fill the memory.
#[test]
fn a_row_without_end_is_refused() {
    let mut text = b"temperature_C,note\n5,\"".to_vec();
    text.resize(20 << 20, b'x');
    let run = on(text, &["saturation", "R-134a"]);
    assert_eq!(run.code, 1);
    assert!(run.err.contains("longer than 16 MiB"), "{}", run.err);
}

/// The file appears whole or not at all.
#[test]
fn the_answer_of_a_file_appears_whole() {
    let folder = Folder::new("csv-output");
    let (file, answer) = (folder.file("rows.csv"), folder.file("answer.csv"));
    std::fs::write(&file, "temperature_C\n5\n-300\n").unwrap();
    let to = ["saturation", "R-134a", "--csv", &file, "--output", &answer];
    let run = zeotrope(&to);
    assert_eq!((run.code, run.out.as_str()), (0, ""), "{}", run.err);
    let first = std::fs::read_to_string(&answer).unwrap();
    assert_eq!(first, zeotrope(&to[..4]).out);
    assert_eq!(zeotrope(&to).code, 1, "an existing file needs --force");
    let forced: Vec<&str> = to.iter().chain(&["--force"]).copied().collect();
    assert_eq!(zeotrope(&forced).code, 0);
    // a failure half way leaves the old file and nothing else
    let mut text = b"temperature_C,note\n5,\"".to_vec();
    text.resize(20 << 20, b'x');
    std::fs::write(&file, text).unwrap();
    assert_eq!(zeotrope(&forced).code, 1);
    assert_eq!(std::fs::read_to_string(&answer).unwrap(), first);
    assert_eq!(folder.names().len(), 2, "{:?}", folder.names());
    // onto itself
    std::fs::write(&file, "temperature_C\n5\n").unwrap();
    let itself = [
        "saturation",
        "R-134a",
        "--csv",
        &file,
        "--output",
        &file,
        "--force",
    ];
    assert_eq!(zeotrope(&itself).code, 0);
    assert_eq!(
        Sheet::of(&std::fs::read_to_string(&file).unwrap())
            .rows
            .len(),
        1
    );
}
