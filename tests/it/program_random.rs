//! Random words and numbers thrown at every verb: an answer or an error, never a panic.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::folder::Folder;
use crate::program::zeotrope;

/// 64 cases with a fixed seed; `PROPTEST_CASES` asks for more.
fn config() -> ProptestConfig {
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(64);
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(20),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        (-500i32..500).prop_map(|value| value.to_string()),
        (-1e3f64..1e4).prop_map(|value| value.to_string()),
        any::<f64>().prop_map(|value| format!("{value:e}")),
        Just("1e999".to_owned()),
        Just("NaN".to_owned()),
        Just("-0".to_owned()),
        Just("\u{2212}40".to_owned()),
    ]
}

fn value() -> impl Strategy<Value = String> {
    let unit = prop_oneof![
        4 => prop::sample::select(vec!["C", "F", "K", "°C"]),
        4 => prop::sample::select(vec![
            "psig", "psia", "barg", "bara", "kPa", "MPaa", "Pa", "inHga", "inHgvac", "micron",
            "torr",
        ]),
        3 => prop::sample::select(vec![
            "kg/m3", "mol/L", "kJ/kg", "Btu/lb", "kJ/kg/K", "m", "ft", "",
        ]),
        1 => prop::sample::select(vec!["psi", "bar", "mPa", "%", "\u{0}", "\u{1F321}"]),
    ];
    prop_oneof![
        8 => (number(), unit).prop_map(|(number, unit)| format!("{number}{unit}")),
        1 => ".{0,12}",
    ]
}

fn refrigerant() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => prop::sample::select(vec![
            "R-134a", "r290", "744", "R-717", "water", "R-410A", "R-407C", "R-718", "R-50",
            "R-32/R-125 (50/50)",
        ])
        .prop_map(str::to_owned),
        1 => "R-[0-9]{1,4}[A-Za-z]{0,2}(\\([EZ]\\))?",
        1 => "R-32/R-[0-9]{2,3} \\([0-9]{1,2}/[0-9]{1,2}\\)",
        1 => ".{0,20}",
    ]
}

fn option() -> impl Strategy<Value = Vec<String>> {
    let with_value = prop::sample::select(vec![
        "--temperature",
        "--pressure",
        "--density",
        "--enthalpy",
        "--entropy",
        "--quality",
        "--from",
        "--to",
        "--step",
        "--pressures",
        "--elevation",
        "--station-pressure",
        "--liquid",
        "--liquid-pressure",
    ]);
    prop_oneof![
        3 => (with_value, value()).prop_map(|(name, value)| vec![name.to_owned(), value]),
        3 => shared(),
        1 => Just(vec!["--zero".to_owned(), "ashrae".to_owned()]),
        1 => Just(vec!["--phase".to_owned(), "liquid".to_owned()]),
        1 => Just(vec!["--tolerance".to_owned()]),
        1 => Just(vec!["--model".to_owned(), "ideal".to_owned(), "--explain".to_owned()]),
    ]
}

/// Options around a service call, with a value of a likely kind.
fn service_option() -> impl Strategy<Value = Vec<String>> {
    let accuracies = prop::sample::select(vec![
        "--gauge-accuracy 1.25psi --thermometer-accuracy 1F",
        "--gauge-accuracy 0psi",
        "--thermometer-accuracy -1F",
        "--open-reading 0.2psig --date 2026-11-25",
        "--date yesterday",
        "--filling-ratio 0.7",
        "--filling-ratio NaN",
        "--end-elevation 300m",
        "--end-station-pressure 99kPa",
        "--chart no/such/file.csv",
        "--rise no/such/file.csv",
        "--gwp 1e999",
        "--rcl 100%",
    ])
    .prop_map(|words| words.split(' ').map(str::to_owned).collect());
    let any = prop::sample::select(vec![
        "--dry-bulb",
        "--wet-bulb",
        "--dew-point",
        "--relative-humidity",
        "--indoor-dry-bulb",
        "--end-pressure",
        "--contents",
        "--water-capacity",
        "--flow",
        "--lfl",
    ]);
    prop_oneof![
        accuracies,
        (any, value()).prop_map(|(name, value)| vec![name.to_owned(), value]),
    ]
}

/// Options that most verbs take, with words that they take, one aside.
fn shared() -> impl Strategy<Value = Vec<String>> {
    prop::sample::select(vec![
        "--units ip",
        "--units si",
        "--format json",
        "--format csv",
        "--format markdown",
        "--format pdf",
        "--temperature-unit F",
        "--temperature-unit K",
        "--pressure-unit inHgvac",
        "--pressure-unit micron",
        "--pressure-unit psig",
        "--elevation 1600m",
        "--station-pressure 24.6inHga",
        "--mole",
        "--pairs published",
        "--pairs 7",
    ])
    .prop_map(|words| words.split(' ').map(str::to_owned).collect())
}

/// Options of a chart alone.
fn look() -> impl Strategy<Value = Vec<String>> {
    prop::sample::select(vec![
        "--resolution 0.2F",
        "--resolution 1e-9K",
        "--resolution 90K",
        "--contents",
        "--decimal-comma",
        "--columns mean,dew",
        "--columns bubble,bubble",
        "--one-column-below 99K",
        "--also kPaa",
        "--also F",
        "--blank",
        "--tolerance",
        "--pressures 2barg,900psia",
        "--picture curves",
        "--picture lens",
        "--picture coil",
        "--picture dome",
        "--form wallet",
        "--form strip",
        "--title X --note Y --shop Z",
        "--csv-header",
        "--date 2026-02-29",
    ])
    .prop_map(|words| words.split(' ').map(str::to_owned).collect())
}

/// A temperature or pressure where many refrigerants have a saturation line.
fn likely() -> impl Strategy<Value = (&'static str, String)> {
    let temperature = (-80f64..150.0, prop::sample::select(vec!["C", "F"]));
    let pressure = (
        0f64..50.0,
        prop::sample::select(vec!["bara", "barg", "psig", "inHgvac"]),
    );
    prop_oneof![
        temperature.prop_map(|(number, unit)| ("--temperature", format!("{number:.2}{unit}"))),
        pressure.prop_map(|(number, unit)| ("--pressure", format!("{number:.3}{unit}"))),
        value().prop_map(|value| ("--temperature", value)),
        value().prop_map(|value| ("--pressure", value)),
    ]
}

fn head() -> impl Strategy<Value = String> {
    prop_oneof![
        8 => prop::sample::select(vec![
            "temperature_C", "temperature_K", "pressure_Pa", "suction_pressure_psig", "pressure_bara",
            "pressure_inHgvac", "density_mol_L", "enthalpy_kJ_kg", "entropy_Btu_lb_F", "quality",
            "time", "Line temperature (°F)",
        ])
        .prop_map(str::to_owned),
        1 => prop::sample::select(vec!["temperature", "pressure_psi", "error", "phase", "", "\""])
            .prop_map(str::to_owned),
        1 => ".{0,12}",
    ]
}

fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        8 => (-20f64..320.0).prop_map(|value| value.to_string()),
        2 => number(),
        1 => value(),
        1 => prop::sample::select(vec!["", " ", "\"", "\"a,b\"", "\r", "0.5"]).prop_map(str::to_owned),
    ]
}

/// What is said of a kit, with words that it takes, some aside.
fn accuracy() -> impl Strategy<Value = Vec<String>> {
    let difference = (
        0f64..20.0,
        prop::sample::select(vec!["F", "K", "psi", "%span", "%reading", "%"]),
    );
    let with_value = prop::sample::select(vec![
        "--gauge-accuracy",
        "--gauge-span",
        "--clamp-accuracy",
        "--clamp-contact",
        "--site-accuracy",
        "--pressure-drop",
    ]);
    let known = prop::sample::select(vec![
        "--gauge sealed",
        "--gauge absolute --zeroed here",
        "--zeroed 1600m",
        "--gauge-span 600psi",
        "--gauge-accuracy 2%span --gauge-span 800psi",
        "--clamp-accuracy 1F",
        "--target 10F --band 3F",
        "--nominal-composition",
    ]);
    prop_oneof![
        1 => (with_value, difference)
            .prop_map(|(name, (number, unit))| vec![name.to_owned(), format!("{number:.2}{unit}")]),
        2 => known.prop_map(|words| words.split(' ').map(str::to_owned).collect()),
    ]
}

fn check(arguments: &[String]) -> Result<(), TestCaseError> {
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let run = zeotrope(&words);
    prop_assert!(run.code <= 2, "{words:?}");
    if run.code == 0 {
        prop_assert!(!run.out.is_empty(), "{words:?}");
    } else {
        prop_assert_eq!(&run.out, "", "{:?}", words);
        prop_assert!(run.err.starts_with("error: "), "{words:?}: {}", run.err);
        prop_assert!(run.err.contains("\nhint: "), "{words:?}: {}", run.err);
    }
    Ok(())
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn states(
        name in refrigerant(),
        first in 0usize..6, second in 0usize..6,
        values in prop::collection::vec(-3f64..3.0, 2),
        more in prop::collection::vec(prop_oneof![4 => shared(), 1 => option()], 0..2),
    ) {
        // Values of a likely size, so that most cases get past the reading.
        const PROPERTIES: [(&str, f64, f64, &str); 6] = [
            ("--temperature", 0.0, 60.0, "C"),
            ("--pressure", 10.0, 8.0, "bara"),
            ("--density", 500.0, 400.0, "kg/m3"),
            ("--enthalpy", 300.0, 200.0, "kJ/kg"),
            ("--entropy", 1.5, 0.7, "kJ/kg/K"),
            ("--quality", 0.5, 0.2, ""),
        ];
        let mut arguments = vec!["state".to_owned(), name];
        for (which, scale) in [first, second].into_iter().zip(values) {
            let (option, middle, size, unit) = PROPERTIES[which];
            arguments.extend([option.to_owned(), format!("{}{unit}", middle + scale * size)]);
        }
        arguments.extend(more.into_iter().flatten());
        check(&arguments)?;
    }

    #[test]
    fn saturations(
        name in refrigerant(),
        at in likely(),
        more in prop::collection::vec(prop_oneof![4 => shared(), 1 => option()], 0..2),
    ) {
        let mut arguments = vec!["saturation".to_owned(), name, at.0.to_owned(), at.1];
        arguments.extend(more.into_iter().flatten());
        check(&arguments)?;
    }

    #[test]
    fn readings(
        name in refrigerant(),
        verb in prop::sample::select(vec!["superheat", "subcooling"]),
        pressure in (-20f64..600.0, prop::sample::select(vec!["psig", "psia", "barg", "inHgvac"])),
        line in (-60f64..160.0, prop::sample::select(vec!["F", "C"])),
        kit in prop::collection::vec(accuracy(), 0..4),
        more in prop::collection::vec(prop_oneof![4 => shared(), 1 => option()], 0..2),
    ) {
        let pressure = format!("{:.1}{}", pressure.0, pressure.1);
        let line = format!("{:.1}{}", line.0, line.1);
        let mut arguments: Vec<String> = [verb, &name, "--pressure", &pressure, "--line", &line]
            .map(str::to_owned)
            .to_vec();
        arguments.extend(kit.iter().chain(&more).flatten().cloned());
        check(&arguments)?;
        let mut arguments: Vec<String> = [
            "reading", &name, "--suction-pressure", &pressure, "--liquid-line", &line,
            "--liquid-pressure", &pressure, "--ambient", &line,
        ]
        .map(str::to_owned)
        .to_vec();
        arguments.extend(kit.into_iter().chain(more).flatten());
        check(&arguments)?;
    }

    #[test]
    fn glides(
        name in refrigerant(),
        pressure in (-1f64..40.0), liquid in (-60f64..160.0), before in (0f64..60.0),
        which in prop::sample::select(vec!["", "--liquid", "--liquid-pressure", "condenser"]),
        more in prop::collection::vec(prop_oneof![4 => shared(), 1 => option()], 0..2),
    ) {
        let mut arguments = vec!["glide".to_owned(), name];
        arguments.extend(["--pressure".to_owned(), format!("{pressure:.3}barg")]);
        if which.starts_with("--") {
            arguments.extend(["--liquid".to_owned(), format!("{liquid:.2}C")]);
        }
        if which == "--liquid-pressure" {
            arguments.extend([which.to_owned(), format!("{before:.2}bara")]);
        }
        if which == "condenser" {
            arguments.extend(["--coil".to_owned(), which.to_owned()]);
        }
        arguments.extend(more.into_iter().flatten());
        check(&arguments)?;
    }

    #[test]
    fn charts(
        names in prop::collection::vec(refrigerant(), 1..3),
        from in -100i32..100, rows in -2i32..12, step in -1i32..15,
        unit in prop::sample::select(vec![("C", "C"), ("F", "F"), ("psig", "psi"), ("bara", "bar")]),
        more in prop::collection::vec(prop_oneof![4 => shared(), 4 => look(), 1 => option()], 0..3),
    ) {
        let mut arguments = vec!["chart".to_owned()];
        arguments.extend(names);
        for (option, value) in [
            ("--from", format!("{from}{}", unit.0)),
            ("--to", format!("{}{}", from + rows * step, unit.0)),
            ("--step", format!("{step}{}", unit.1)),
        ] {
            arguments.extend([option.to_owned(), value]);
        }
        arguments.extend(more.into_iter().flatten());
        check(&arguments)?;
    }

    /// Sheets of likely and unlikely heads and cells: all rows come back, or an error.
    #[test]
    fn sheets(
        verb in prop::sample::select(vec!["saturation", "state"]),
        name in refrigerant(),
        heads in prop::collection::vec(head(), 1..5),
        rows in prop::collection::vec(prop::collection::vec(cell(), 0..6), 0..6),
        more in prop::collection::vec(prop_oneof![4 => shared(), 1 => option()], 0..2),
    ) {
        let folder = Folder::new("random-sheets");
        let file = folder.file("rows.csv");
        let lines = std::iter::once(heads.join(","))
            .chain(rows.iter().map(|row| row.join(",")));
        std::fs::write(&file, lines.collect::<Vec<_>>().join("\n")).unwrap();
        let mut arguments = vec![verb.to_owned(), name, "--csv".to_owned(), file];
        arguments.extend(more.into_iter().flatten());
        let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let run = zeotrope(&words);
        prop_assert!(run.code <= 2, "{words:?}");
        if run.code == 2 {
            prop_assert_eq!(&run.out, "", "{:?}", words);
        }
        if run.code != 0 {
            prop_assert!(run.err.contains("error: "), "{words:?}: {}", run.err);
            prop_assert!(run.err.contains("\nhint: "), "{words:?}: {}", run.err);
        } else {
            // the reader refuses rows of another length than the head's
            let mut sheet = csv::Reader::from_reader(run.out.as_bytes());
            for row in sheet.records() {
                prop_assert!(row.is_ok(), "{words:?}: {row:?}");
            }
        }
    }

    #[test]
    fn service_calls(
        verb in 0usize..7,
        name in refrigerant(),
        numbers in prop::collection::vec(-40f64..150.0, 4),
        share in -10i32..120,
        more in prop::collection::vec(
            prop_oneof![4 => shared(), 2 => service_option(), 1 => option()], 0..3
        ),
    ) {
        let [a, b, c, d] = [0, 1, 2, 3].map(|k: usize| format!("{:.2}", numbers[k]));
        let line = match verb {
            0 => format!("moist-air --dry-bulb {a}F --relative-humidity {share}% --flow {b}cfm \
                          --leaving-dry-bulb {c}F --leaving-wet-bulb {d}F"),
            1 => format!("target-superheat --indoor-wet-bulb {a}F --outdoor-dry-bulb {b}F"),
            2 => format!("at-rest @ --pressure {a}psig --temperature {b}F"),
            3 => format!("pressure-test --start-pressure {a}psig --start-temperature {b}F \
                          --end-pressure {c}psig --end-temperature {d}F"),
            4 => format!("evacuation --pressure {a}mbar --temperature {b}C"),
            5 => format!("cylinder @ --water-capacity {a}L --contents {b}lb"),
            _ => format!("exposure @ --lfl {a}% --mass {b}kg --source words"),
        };
        let mut arguments: Vec<String> = line
            .split_whitespace()
            .map(|word| if word == "@" { name.clone() } else { word.to_owned() })
            .collect();
        arguments.extend(more.into_iter().flatten());
        check(&arguments)?;
    }

    #[test]
    fn any_words(
        verb in prop::sample::select(vec![
            "list", "show", "convert", "saturation", "glide", "state", "chart", "validate", "pt", "",
            "moist-air", "target-superheat", "at-rest", "pressure-test", "evacuation", "cylinder",
            "exposure",
            "superheat", "subcooling", "reading",
        ]),
        words in prop::collection::vec(prop_oneof![refrigerant(), value(), ".{0,16}"], 0..3),
        more in prop::collection::vec(option(), 0..3),
    ) {
        let mut arguments = vec![verb.to_owned()];
        arguments.extend(words.into_iter().filter(|word| !word.starts_with('-')));
        arguments.extend(more.into_iter().flatten());
        check(&arguments)?;
    }
}
