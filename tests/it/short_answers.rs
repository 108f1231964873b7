//! The usual answer begins with its verdict and figures; logs with headers of their own.

use crate::print::Folder;
use crate::program::{answer, words, zeotrope};

/// A question, and what stands in the first ten lines of its usual answer.
const QUESTIONS: [(&str, &[&str]); 11] = [
    (
        "superheat R-410A --pressure 118psig --line 50F --target 10F --band 5F --gauge-accuracy 1%span --gauge-span 500psi --clamp-accuracy 1F",
        &[
            "superheat 10.2 °F against 10.0 °F ± 5.0 °F: within",
            "dew temperature",
            "line",
        ],
    ),
    (
        "subcooling R-410A --pressure 340psig --line 96.5F --target 10F --band 3F",
        &[
            "subcooling 8.1 °F against 10.0 °F ± 3.0 °F",
            "bubble temperature",
            "line",
        ],
    ),
    (
        "superheat R-404A --pressure 70psig --line 20F",
        &["below", "superheat", "dew temperature"],
    ),
    (
        "reading R-410A --suction-pressure 118psig --suction-line 50F --liquid-pressure 340psig --liquid-line 96.5F --target 10F --band 3F --subcooling-target 10F --subcooling-band 3F",
        &[
            "superheat 10.2 °F against",
            "subcooling 8.1 °F against",
            "superheat, subcooling",
            "10.16 °F",
        ],
    ),
    (
        "reading R-410A --suction-pressure 118psig --suction-line 50F --liquid-pressure 340psig --liquid-line 96.5F --ambient 95F",
        &[
            "superheat, subcooling",
            "10.16 °F",
            "8.11 °F",
            "bubble temperature",
            "line",
        ],
    ),
    (
        "saturation R-407C --pressure 65psig",
        &["bubble", "dew", "30.19 °F", "41.25 °F"],
    ),
    (
        "saturation R-134a --temperature 5C",
        &["2.4833 barg", "3.4966 bara"],
    ),
    ("evacuation --pressure 500micron", &["500.0 micron", "ice"]),
    (
        "pressure-test --start-pressure 500psig --start-temperature 85F --end-pressure 470psig --end-temperature 60F --gauge-accuracy 1psi --thermometer-accuracy 1F",
        &["significant", "474.49 psig", "-4.49 psi"],
    ),
    (
        "cylinder R-134a --water-capacity 27.2L --contents 20kg",
        &["26.26 kg", "20.00 kg"],
    ),
    (
        "at-rest R-407C --pressure 145psig --temperature 75F",
        &["between dew and bubble", "152.83 psig", "128.55 psig"],
    ),
];

#[test]
fn verdict_and_figures_come_first() {
    for (question, parts) in QUESTIONS {
        let asked = words(question);
        let asked: Vec<&str> = asked.iter().map(String::as_str).collect();
        let told = answer(&asked);
        let first = told.lines().take(10).collect::<Vec<_>>().join("\n");
        for part in parts {
            assert!(
                first.contains(part),
                "{question}: '{part}' is not in:\n{first}"
            );
        }
    }
}

/// A rise test of a logger's own headers, semicolons, decimal commas and 12-hour dates: the same as
/// one written as the help says.
#[test]
fn a_rise_test_with_headers_of_its_own() {
    let folder = Folder::new("rise-columns");
    let (own, usual) = (folder.file("own.csv"), folder.file("usual.csv"));
    let mut text = "\u{feff}Zeit;Druck P1;T\r\n".to_owned();
    let mut plain = "time_min,pressure_micron\n".to_owned();
    for (at, micron) in ["300,5", "340,0", "371,5", "398,0", "420,5", "441,0"]
        .iter()
        .enumerate()
    {
        text.push_str(&format!("11/28/2026 12:{:02} AM;{micron};21,5\r\n", 5 * at));
        plain.push_str(&format!("{},{}\n", 5 * at, micron.replace(',', ".")));
    }
    std::fs::write(&own, text).unwrap();
    std::fs::write(&usual, plain).unwrap();
    let limit = ["--limit", "500micron", "--hold", "20min"];
    let own = [
        "evacuation",
        "--rise",
        &own,
        "--column",
        "time=Zeit",
        "--column",
    ];
    let own = answer(&[&own[..], &["pressure=Druck P1:micron"], &limit].concat());
    let usual = answer(&[&["evacuation", "--rise", &usual][..], &limit].concat());
    assert_eq!(own, usual);
    let first = own.lines().take(10).collect::<Vec<_>>().join("\n");
    assert!(
        first.contains("500.0 micron") && first.contains("300.5 micron"),
        "{first}"
    );
    let idle = [
        "evacuation",
        "--pressure",
        "500micron",
        "--column",
        "time=Zeit",
    ];
    assert!(zeotrope(&idle).err.contains("no rows of a file are read"));
}

/// Two columns of times with one header are refused where times are read, not where they pass
/// through; a mapped one is taken before others.
#[test]
fn two_columns_of_times() {
    let folder = Folder::new("two-times");
    let twice = folder.file("twice.csv");
    let rows = "time,suction_pressure_psig,time\n00:00,65,5\n00:10,66,6\n";
    std::fs::write(&twice, rows).unwrap();
    let told = zeotrope(&["reading", "R-407C", "--csv", &twice]);
    assert_ne!(told.code, 0);
    assert!(
        told.err.contains("more than one column is named 'time'"),
        "{}",
        told.err
    );
    let through = [
        "saturation",
        "R-407C",
        "--csv",
        &twice,
        "--column",
        "suction_pressure_psig",
    ];
    assert!(answer(&through).starts_with("time,suction_pressure_psig,time,"));
    let rise = folder.file("rise.csv");
    std::fs::write(
        &rise,
        "time,min,pressure_micron\nx,0,300\nx,10,340\nx,20,380\nx,30,420\n",
    )
    .unwrap();
    answer(&["evacuation", "--rise", &rise, "--column", "time_min=min"]);
}

/// Four readings by hand have no shape and a size, and a limit is held against them.
#[test]
fn a_rise_test_of_few_readings() {
    let folder = Folder::new("rise-few");
    let few = folder.file("few.csv");
    std::fs::write(
        &few,
        "time_min,pressure_micron\n0,412\n15,460\n30,511\n45,560\n",
    )
    .unwrap();
    let limit = ["--limit", "600micron", "--hold", "30min"];
    let told = answer(&[&["evacuation", "--rise", &few][..], &limit].concat());
    for part in [
        "600.0 micron",
        "too few readings",
        "148 micron, 197 micron per h",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
}
