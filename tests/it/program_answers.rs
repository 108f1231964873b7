//! Answers of the verbs: values against outside figures, JSON's keys, one text in all formats.

use serde_json::Value;

use crate::program::{answer, json, zeotrope};

fn keys(value: &Value) -> Vec<&str> {
    value
        .as_object()
        .unwrap()
        .keys()
        .map(String::as_str)
        .collect()
}

const PHASE_KEYS: [&str; 19] = [
    "temperature_K",
    "pressure_Pa",
    "density_kg_m3",
    "enthalpy_J_kg",
    "entropy_J_kg_K",
    "internal_energy_J_kg",
    "cp_J_kg_K",
    "cv_J_kg_K",
    "speed_of_sound_m_s",
    "compressibility_factor",
    "joule_thomson_K_Pa",
    "isothermal_compressibility_1_Pa",
    "thermal_expansion_1_K",
    "dp_drho_T_Pa_m3_kg",
    "dp_dT_rho_Pa_K",
    "isentropic_exponent",
    "fugacity_coefficients",
    "mole_fractions",
    "mass_fractions",
];

#[test]
fn keys_of_saturation() {
    let of_temperature = json(&["saturation", "R-407C", "--temperature", "5C"]);
    assert_eq!(
        keys(&of_temperature),
        [
            "refrigerant",
            "composition",
            "bubble",
            "dew",
            "glide_K",
            "heat_bubble_to_dew_J_kg",
            "reference",
            "model",
            "warnings",
            "cautions"
        ]
    );
    assert_eq!(
        keys(&of_temperature["composition"][0]),
        ["refrigerant", "mass_fraction", "mole_fraction"]
    );
    for branch in ["bubble", "dew"] {
        let point = &of_temperature[branch];
        assert_eq!(
            keys(point),
            [
                "temperature_K",
                "pressure_Pa",
                "liquid",
                "vapor",
                "latent_heat_J_kg",
                "dp_dT_line_Pa_K",
                "k_values"
            ]
        );
        assert_eq!(keys(&point["liquid"]), PHASE_KEYS);
        assert_eq!(keys(&point["vapor"]), PHASE_KEYS);
        assert_eq!(
            point["vapor"]["mass_fractions"].as_array().unwrap().len(),
            3
        );
    }
    assert_eq!(of_temperature["glide_K"], Value::Null);
    assert_eq!(of_temperature["reference"], "iir");
    assert_eq!(
        keys(&of_temperature["model"]),
        ["equations", "pairs", "published_points"]
    );
    assert_eq!(
        keys(&of_temperature["model"]["pairs"][0]),
        [
            "first",
            "second",
            "kind",
            "source",
            "refitted",
            "measured",
            "measured_vapors"
        ]
    );

    let pure = json(&["saturation", "R-134a", "--pressure", "3bara"]);
    assert_eq!(pure["bubble"], pure["dew"]);
    assert_eq!(pure["glide_K"], 0.0);

    let several = json(&["saturation", "R-134a", "R-290", "--temperature", "5C"]);
    assert_eq!(several.as_array().unwrap().len(), 2);
}

#[test]
fn keys_of_state() {
    let mut wanted = vec!["refrigerant", "composition", "molar_mass_kg_mol", "phase"];
    wanted.extend(PHASE_KEYS);
    wanted.push("quality");
    let one = json(&[
        "state",
        "R-134a",
        "--temperature",
        "25C",
        "--pressure",
        "3bara",
    ]);
    let mut of_one = wanted.clone();
    of_one.extend(["reference", "model", "warnings", "cautions"]);
    assert_eq!(keys(&one), of_one);
    assert_eq!(one["phase"], "vapor");
    assert_eq!(one["quality"], Value::Null);

    let two = json(&[
        "state",
        "R-134a",
        "--temperature",
        "25C",
        "--quality",
        "0.25",
    ]);
    wanted.extend([
        "liquid",
        "vapor",
        "reference",
        "model",
        "warnings",
        "cautions",
    ]);
    assert_eq!(keys(&two), wanted);
    assert_eq!(two["phase"], "two-phase");
    assert_eq!(two["quality"], 0.25);
    assert_eq!(two["cp_J_kg_K"], Value::Null);
    assert_eq!(keys(&two["liquid"]), PHASE_KEYS);
}

/// A number in JSON reads back to the bits that were computed.
#[test]
fn numbers_read_back() {
    let one = json(&["saturation", "R-134a", "--temperature", "5C"]);
    let refrigerant = zeotrope::Refrigerant::named("R-134a").unwrap();
    let exact = refrigerant
        .exact()
        .bubble_pressure(zeotrope::units::Temperature::celsius(5.0))
        .unwrap();
    let read = one["bubble"]["pressure_Pa"].as_f64().unwrap();
    assert_eq!(read.to_bits(), exact.in_pascal().to_bits());
}

/// Saturation pressures in psig, and temperatures in °F, from a general-purpose open library
/// (CoolProp 8.0.0), given there to the digits written here: a cross-check, not truth.
#[test]
fn a_chart_against_another_library() {
    for (refrigerant, fahrenheit, column, psig) in [
        ("R-134a", "-10F", 1, 1.9),
        ("R-134a", "80F", 1, 86.7),
        ("R-410A", "40F", 2, 118.4),
        ("R-410A", "75F", 2, 217.8),
        ("R-454B", "40F", 2, 107.5),
        ("R-448A", "40F", 2, 71.2),
        ("R-455A", "40F", 2, 64.7),
    ] {
        let sheet = answer(&[
            "chart",
            refrigerant,
            "--from",
            fahrenheit,
            "--to",
            fahrenheit,
            "--columns",
            "bubble,dew",
            "--resolution",
            "0.02F",
            "--format",
            "csv",
        ]);
        let cell = sheet
            .lines()
            .nth(1)
            .unwrap()
            .split(',')
            .nth(column)
            .unwrap();
        let found: f64 = cell.parse().unwrap();
        // Two roundings to 0.1 psi and the library's own constants.
        assert!(
            (found - psig).abs() < 0.15,
            "{refrigerant} {fahrenheit}: {found}"
        );
    }
}

/// R-407C at 80 psig is taught as bubble 40, dew 50.8 °F (from memory); printed to whole
/// and tenths of a degree with another age of the model behind it, so half a degree.
#[test]
fn bubble_and_dew_as_taught() {
    let sheet = answer(&[
        "chart",
        "R-407C",
        "--pressures",
        "80psig",
        "--format",
        "csv",
    ]);
    let row: Vec<f64> = sheet
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .map(|cell| cell.parse().unwrap())
        .collect();
    assert_eq!(row[0], 80.0);
    assert!((row[1] - 40.0).abs() < 0.5, "{row:?}");
    assert!((row[2] - 50.8).abs() < 0.5, "{row:?}");
}

/// Every cell of the sheet stands in the text, in Markdown and in JSON as it is.
#[test]
fn one_text_in_all_formats() {
    let chart = [
        "chart", "R-134a", "R-407C", "R-744", "--from", "-60F", "--to", "100F", "--step", "20F",
    ];
    let with = |format| {
        let mut arguments = chart.to_vec();
        arguments.extend(["--format", format]);
        answer(&arguments)
    };
    let sheet = with("csv");
    let rows: Vec<Vec<&str>> = sheet
        .lines()
        .skip(1)
        .map(|row| row.split(',').collect())
        .collect();
    assert_eq!(rows.len(), 9);
    assert!(rows.iter().flatten().any(|cell| cell.ends_with("inHg vac")));
    assert!(rows.iter().flatten().any(|cell| *cell == "above critical"));
    assert!(rows.iter().flatten().all(|cell| !cell.is_empty()));

    let markdown = with("markdown");
    let in_markdown: Vec<Vec<&str>> = markdown
        .lines()
        .filter(|line| line.starts_with("| "))
        .skip(2)
        .map(|line| line.trim_matches('|').split('|').map(str::trim).collect())
        .collect();
    assert_eq!(in_markdown, rows);

    let text = with("text");
    let in_text: Vec<Vec<String>> = text
        .lines()
        .skip_while(|line| !line.starts_with("---"))
        .skip(1)
        .take(rows.len())
        .map(|line| {
            let cells = line
                .split("  ")
                .map(str::trim)
                .filter(|cell| !cell.is_empty());
            cells.map(str::to_owned).collect()
        })
        .collect();
    assert_eq!(in_text, rows);

    let json: Value = serde_json::from_str(&with("json")).unwrap();
    assert_eq!(json["rows"].as_array().unwrap().len(), rows.len());
    for (row, texts) in json["rows"].as_array().unwrap().iter().zip(&rows) {
        let cells = std::iter::once(&row["row"]).chain(row["cells"].as_array().unwrap());
        let in_json: Vec<&str> = cells.map(|cell| cell["text"].as_str().unwrap()).collect();
        assert_eq!(&in_json, texts);
    }
}

/// At 5280 ft the air has 83 428 Pa: a gauge zeroed there shows 2.595 psi more than at
/// sea level for the same absolute pressure.
#[test]
fn gauges_count_from_the_site() {
    let psig = |arguments: &[&str]| {
        let mut all = vec![
            "chart",
            "R-410A",
            "--from",
            "40F",
            "--to",
            "40F",
            "--columns",
            "bubble,dew",
            "--format",
            "csv",
        ];
        all.extend(arguments);
        let sheet = answer(&all);
        let cell = sheet
            .lines()
            .nth(1)
            .unwrap()
            .split(',')
            .nth(2)
            .unwrap()
            .to_owned();
        cell.parse::<f64>().unwrap()
    };
    let difference = psig(&["--elevation", "5280ft"]) - psig(&[]);
    assert!(
        (difference - (101_325.0 - 83_428.0) / 6894.757).abs() < 0.11,
        "{difference}"
    );
    let text = answer(&["chart", "R-410A", "--elevation", "5280ft"]).replace("\n  ", " ");
    assert!(
        text.contains("standard atmosphere at 1609 m (5280 ft)"),
        "{text}"
    );
    let text = answer(&["chart", "R-410A"]).replace("\n  ", " ");
    assert!(text.contains("sea level assumed"), "{text}");
}

#[test]
fn answers_come_in_the_units_of_the_question() {
    let units = |arguments: &[&str], wanted: &[&str]| {
        let text = answer(arguments);
        for part in wanted {
            assert!(text.contains(part), "{arguments:?} lacks {part}: {text}");
        }
    };
    units(
        &["saturation", "R-134a", "--temperature", "41F"],
        &["°F", "psig", "psia", "Btu/lb"],
    );
    units(
        &["saturation", "R-134a", "--temperature", "5C"],
        &["°C", "barg", "bara", "kJ/kg"],
    );
    units(
        &["saturation", "R-134a", "--pressure", "300kPa"],
        &["kPaa", "kPag", "°C"],
    );
    units(
        &["saturation", "R-134a", "--temperature", "278K"],
        &["278.00 K"],
    );
    units(
        &[
            "saturation",
            "R-134a",
            "--temperature",
            "5C",
            "--units",
            "ip",
        ],
        &["41.00 °F", "psia"],
    );
    units(
        &[
            "saturation",
            "R-134a",
            "--temperature",
            "5C",
            "--pressure-unit",
            "kPaa",
            "--temperature-unit",
            "F",
        ],
        &["41.00 °F", "kPaa", "kJ/kg"],
    );
}

/// A vacuum is told by the word, a gauge figure by its sign, never by both.
#[test]
fn vacuum_by_word_or_sign() {
    let psig = answer(&[
        "chart", "R-134a", "--from", "-60F", "--to", "-20F", "--step", "10F",
    ]);
    for line in psig
        .lines()
        .filter(|line| line.contains("vac") && !line.contains(':'))
    {
        let cell = line.split("  ").last().unwrap();
        assert!(!cell.contains('-'), "{line}");
    }
    let barg = answer(&[
        "chart", "R-134a", "--from", "-60C", "--to", "-30C", "--step", "10C",
    ]);
    assert!(barg.contains("-0.8") && !barg.contains("vac"), "{barg}");
}

/// What is flammable, toxic, unclassified or at high pressure is told so on every answer.
#[test]
fn cautions_by_class() {
    let told = |refrigerant: &str, verb: &[&str], part: &str| {
        let mut arguments = vec![verb[0], refrigerant];
        arguments.extend(&verb[1..]);
        let text = answer(&arguments).replace("\n  ", " ");
        assert!(text.contains(part), "{arguments:?} lacks {part}: {text}");
    };
    for verb in [
        &["chart"][..],
        &["saturation", "--temperature", "0C"],
        &["state", "--temperature", "20C", "--pressure", "1bara"],
        &["show"],
    ] {
        told("R-290", verb, "remove ignition sources");
        told("R-32", verb, "remove ignition sources");
        told(
            "R-717",
            verb,
            "only trained people with the right protective equipment",
        );
        told(
            "R-744",
            verb,
            "Pressures exceed ordinary gauge and hose ratings",
        );
        told(
            "R-32/R-134a (50/50)",
            verb,
            "No safety class assigned: treat as flammable and toxic",
        );
        told("R-134a", verb, "licensed people decide");
    }
    told(
        "R-407C",
        &["chart"],
        "A zeotropic blend changes composition",
    );
    let text = answer(&["chart", "R-134a", "R-22"]);
    assert!(
        text.contains("Similar pressure does not make one refrigerant a substitute"),
        "{text}"
    );
    assert!(!answer(&["chart", "R-134a"]).contains("Similar pressure"));
}

/// 0 °C = 32 °F and 1 atm = 14.6959 psi = 29.9213 inHg (NIST SP 811, from memory).
#[test]
fn conversions() {
    assert_eq!(answer(&["convert", "0C", "--to", "F"]), "0C = 32 °F\n");
    assert_eq!(
        answer(&["convert", "101325Pa", "--to", "psia"]),
        "101325Pa = 14.6959 psia\n"
    );
    assert_eq!(
        answer(&["convert", "101325Pa", "--to", "inHga"]),
        "101325Pa = 29.9213 inHga\n"
    );
    let gauge = answer(&["convert", "0psig", "--to", "psia"]);
    assert!(gauge.starts_with("0psig = 14.6959 psia\n"), "{gauge}");
    assert!(gauge.contains("sea level assumed"), "{gauge}");
    // Option and value in either order, and several values.
    let several = answer(&["convert", "--to", "F", "-40C", "\u{2212}40C", "0C"]);
    assert_eq!(several, "-40C = -40 °F\n-40C = -40 °F\n0C = 32 °F\n");
}

#[test]
fn list_and_filter() {
    let all = json(&["list"]);
    assert!(all.as_array().unwrap().len() > 180);
    let propane = json(&["list", "propane"]);
    assert!(
        propane
            .as_array()
            .unwrap()
            .iter()
            .any(|one| one["refrigerant"] == "R-290")
    );
    let text = answer(&["list"]);
    // A class that is not on record is told, never left blank.
    assert!(text.contains("not assigned here"));
}

#[test]
fn warnings_go_with_a_sheet_on_standard_error() {
    let run = zeotrope(&[
        "saturation",
        "R-400",
        "--temperature",
        "5C",
        "--format",
        "csv",
    ]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.err.starts_with("warning: "), "{}", run.err);
    assert!(run.out.lines().count() == 2, "{}", run.out);
}

/// The lowest temperature of a blend's answer is -60 °C itself.
#[test]
fn the_lowest_row_of_a_blend_is_answered() {
    let sheet = answer(&[
        "chart", "R-407C", "--from", "-60C", "--to", "-60C", "--format", "csv",
    ]);
    assert!(!sheet.contains("below range"), "{sheet}");
}
