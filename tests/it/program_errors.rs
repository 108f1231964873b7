//! Slips of input: an error, a hint, the right exit code, and nothing on standard output.

use crate::program::zeotrope;

/// Arguments, exit code, and a part of the error or hint that must be there.
const SLIPS: &[(&[&str], u8, &str)] = &[
    (
        &["saturation", "R-134", "--temperature", "5C"],
        1,
        "did you mean R-134a?",
    ),
    (
        &["saturation", "r1234zee", "--temperature", "5C"],
        1,
        "R-1234ze(E)",
    ),
    (
        &["saturation", "", "--temperature", "5C"],
        1,
        "unknown refrigerant",
    ),
    (&["show", "99"], 1, "unknown refrigerant"),
    (
        &["saturation", "R-134a", "--temperature", "40"],
        2,
        "write 40C, 40F or 40K",
    ),
    (&["saturation", "R-134a", "--pressure", "40"], 2, "40psig"),
    (
        &["saturation", "R-134a", "--pressure", "40psi"],
        2,
        "40psig (gauge) or 40psia (absolute)",
    ),
    (
        &["saturation", "R-134a", "--pressure", "3bar"],
        2,
        "3barg (gauge) or 3bara (absolute)",
    ),
    (
        &["saturation", "R-134a", "--temperature", "-500C"],
        2,
        "below absolute zero",
    ),
    (
        &["saturation", "R-134a", "--temperature", "NaN"],
        2,
        "does not begin with a number",
    ),
    (
        &["saturation", "R-134a", "--temperature", "NaNC"],
        2,
        "does not begin with a number",
    ),
    (
        &["saturation", "R-134a", "--temperature", "1e999C"],
        2,
        "not a finite number",
    ),
    (
        &["saturation", "R-134a", "--pressure", "1e999Pa"],
        2,
        "not a finite number",
    ),
    (
        &["saturation", "R-134a", "--pressure", "-20psig"],
        2,
        "perfect vacuum is -14.70 psig",
    ),
    // a blend that begins below its lowest temperature says so in the units of the answer
    (
        &["saturation", "R-437A", "--pressure", "100Pa"],
        1,
        "which begins at -100.63 °C",
    ),
    (
        &[
            "saturation",
            "R-437A",
            "--pressure",
            "100Pa",
            "--units",
            "ip",
        ],
        1,
        "which begins at -149.13 °F",
    ),
    (
        &["saturation", "R-134a", "--temperature", "102C"],
        1,
        "°C is outside",
    ),
    (
        &["saturation", "R-134a", "--temperature", "216F"],
        1,
        "°F is outside",
    ),
    (
        &["saturation", "R-134a", "--pressure", "1Pa"],
        1,
        "give a pressure from",
    ),
    (
        &["saturation", "R-134a", "--pressure", "0psia"],
        1,
        "give a pressure from",
    ),
    (
        &["saturation", "R-134a", "--pressure", "50bara"],
        1,
        "give a pressure from",
    ),
    (&["saturation", "R-134a"], 2, "--temperature"),
    (
        &[
            "saturation",
            "R-134a",
            "--temperature",
            "5C",
            "--pressure",
            "3bara",
        ],
        2,
        "cannot be used with",
    ),
    (
        &[
            "saturation",
            "R-718",
            "--temperature",
            "5C",
            "--zero",
            "iir",
        ],
        1,
        "use boiling-point",
    ),
    (
        &["saturation", "R-32/R-125 (50/60)", "--temperature", "5C"],
        2,
        "100",
    ),
    (
        &["saturation", "R-32/R-125 (50/50", "--temperature", "5C"],
        2,
        "R-32/R-125",
    ),
    (
        &["saturation", "R-403A", "--temperature", "5C"],
        1,
        "is not included",
    ),
    (
        &["state", "R-134a", "--temperature", "5C"],
        2,
        "two properties, not 1",
    ),
    (
        &[
            "state",
            "R-134a",
            "--temperature",
            "5C",
            "--quality",
            "0.5",
            "--enthalpy",
            "2kJ/kg",
        ],
        2,
        "two properties, not 3",
    ),
    (
        &["state", "R-134a", "--temperature", "5C", "--quality", "1.5"],
        2,
        "outside 0 to 1",
    ),
    (
        &[
            "state",
            "R-134a",
            "--temperature",
            "5C",
            "--density",
            "-1kg/m3",
        ],
        2,
        "not above zero",
    ),
    (
        &[
            "state",
            "R-134a",
            "--temperature",
            "5C",
            "--pressure",
            "10bara",
            "--phase",
            "vapor",
        ],
        1,
        "these properties have: liquid",
    ),
    (
        &[
            "chart", "R-134a", "--from", "0C", "--to", "50C", "--step", "0C",
        ],
        2,
        "not above zero",
    ),
    (
        &[
            "chart", "R-134a", "--from", "0C", "--to", "50C", "--step", "-5C",
        ],
        2,
        "not above zero",
    ),
    (
        &[
            "chart", "R-134a", "--from", "0C", "--to", "50C", "--step", "0.0001C",
        ],
        2,
        "100000 rows",
    ),
    (
        &[
            "chart", "R-134a", "R-290", "R-744", "--from", "0C", "--to", "50C", "--step", "0.001C",
        ],
        2,
        "100000 cells",
    ),
    (
        &[
            "chart", "R-134a", "--from", "50C", "--to", "0C", "--step", "5C",
        ],
        2,
        "lies above --to",
    ),
    (
        &["chart", "R-134a", "--from", "0C"],
        2,
        "--from and --to go together",
    ),
    (
        &["chart", "R-134a", "--from", "40", "--to", "60"],
        2,
        "has no unit",
    ),
    (
        &[
            "chart", "R-134a", "--from", "0psi", "--to", "60psi", "--step", "5psi",
        ],
        2,
        "0psig",
    ),
    (
        &[
            "chart", "R-134a", "--from", "0psig", "--to", "60psig", "--step", "5psig",
        ],
        2,
        "5psi",
    ),
    (
        &["chart", "R-134a", "--from", "0psig", "--to", "60psig"],
        2,
        "need a --step",
    ),
    (
        &["chart", "R-134a", "--pressures", "5psig,7"],
        2,
        "'7' has no unit",
    ),
    (
        &["chart", "R-744", "--from", "40C", "--to", "60C"],
        1,
        "beyond the critical point of R-744",
    ),
    (
        &["list", "--format", "svg"],
        1,
        "this result cannot be drawn as SVG",
    ),
    (
        &["chart", "R-134a", "--format", "docx"],
        2,
        "is not a format",
    ),
    (&["chart", "R-134a", "--units", "metric"], 2, "ip, si"),
    (
        &["chart", "R-134a", "--pressure-unit", "psi"],
        2,
        "psig (gauge) or psia",
    ),
    (
        &["chart", "R-134a", "--temperature-unit", "X"],
        2,
        "use one of C F K",
    ),
    (
        &["chart", "R-134a", "--elevation", "1600"],
        2,
        "1600m or 1600ft",
    ),
    (
        &["chart", "R-134a", "--elevation", "12000m"],
        2,
        "-500m to 11000m",
    ),
    (
        &["chart", "R-134a", "--station-pressure", "0psig"],
        2,
        "is relative to the very air",
    ),
    (
        &["chart", "R-134a", "--output", "no/such/folder/chart.csv"],
        1,
        "could not be written",
    ),
    (
        &["chart", "R-134a", "--output", "chart.docx"],
        2,
        "names no format",
    ),
    (
        &["chart", "R-134a", "--data", "no/such/folder"],
        1,
        "no/such/folder",
    ),
    (&["convert", "40"], 2, "has no unit"),
    (&["convert", "5psi"], 2, "5psig (gauge)"),
    (&["convert", "5kPa"], 2, "5kPag (gauge) or 5kPaa (absolute)"),
    (
        &["convert", "25C", "--to", "psig"],
        2,
        "a temperature has no such unit",
    ),
    (
        &["convert", "2bara", "--to", "inHgvac"],
        1,
        "above the local atmospheric pressure",
    ),
    (&["convert"], 2, "VALUE"),
    (&["list", "unobtainium"], 1, "no refrigerant has all of"),
    (&["pt", "R-134a"], 2, "'chart'"),
    (
        &["superheat chart"],
        2,
        "the command for that is 'superheat'",
    ),
    (&["micron", "500"], 2, "'convert'"),
    (&["boiling", "R-134a"], 2, "'saturation'"),
    (&["enthalpy", "R-134a"], 2, "'state'"),
    (&["chrat", "R-134a"], 2, "'chart'"),
    (&["xyzzy"], 2, "names the commands"),
    (&["chart", "R-134a", "--bogus"], 2, "--bogus"),
    (&[], 2, "no command was given"),
];

#[test]
fn slips_of_input() {
    let mut page = String::new();
    for (arguments, code, part) in SLIPS {
        let run = zeotrope(arguments);
        assert_eq!(run.code, *code, "{arguments:?}: {}", run.err);
        assert_eq!(run.out, "", "{arguments:?}");
        assert!(run.err.contains(part), "{arguments:?}: {}", run.err);
        let lines: Vec<&str> = run.err.lines().collect();
        assert_eq!(lines.len(), 2, "{arguments:?}: {}", run.err);
        assert!(lines[0].starts_with("error: "), "{}", run.err);
        assert!(lines[1].starts_with("hint: "), "{}", run.err);
        page.push_str(&format!(
            "$ zeotrope {}\n{}\n",
            arguments.join(" "),
            run.err
        ));
    }
    insta::assert_snapshot!("slips", page);
}

#[test]
fn what_was_typed_cannot_steer_the_terminal() {
    let run = zeotrope(&["saturation", "R-\u{1b}[31m1", "--temperature", "5C"]);
    assert_eq!(run.code, 1);
    assert!(!run.err.contains('\u{1b}'), "{:?}", run.err);
}
