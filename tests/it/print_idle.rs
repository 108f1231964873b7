//! Nothing that was asked for is left out in silence: a choice changes the answer or is refused.

use std::collections::BTreeMap;

use crate::print::Folder;
use crate::program::zeotrope;

/// Choices, and the kinds of answer in which each does nothing, by a word of the kind's name.
const IDLE: &[(&str, &[&str])] = &[
    ("--resolution 0.01K", PICTURES),
    ("--digits each", PICTURES),
    ("--columns mean", PICTURES),
    ("--one-column-below 5K", PICTURES),
    ("--also kPaa", PICTURES),
    ("--also F", PICTURES),
    ("--decimal-comma", PICTURES),
    ("--tolerance", PICTURES),
    ("--blank", &["json"]),
    ("--plane ts", NOT_DOMES),
    ("--isolines quality", NOT_DOMES),
    ("--liquid 50C", NOT_COILS),
    ("--air 60C,50C", NOT_COILS),
    ("--water 60C,50C", NOT_COILS),
    ("--title X", &["json", "table csv"]),
    ("--note Y", &["json", "table csv"]),
    ("--shop Z", &["json", "table csv"]),
    ("--words WORDS", &["json"]),
    ("--logo SIGN", &["text", "markdown", "csv", "json", "svg"]),
    ("--tint blue", UNSET),
    ("--target-superheat", UNSET),
    ("--writing-lines 2", UNPRINTED),
    ("--qr Ours", UNPRINTED),
    ("--contents", UNPRINTED),
    ("--date 2026-01-02", &["table csv"]),
    (
        "--csv-header",
        &[
            "text", "markdown", "json", "html", "svg", "pdf", "wall", "folded", "wallet", "strip",
            "sheet",
        ],
    ),
    ("--paper letter", &["wallet"]),
    ("--landscape", &[]),
    ("--pressures 3bara", &["curves", "dome"]),
    ("--step 5C", &["lens", "coil"]),
    ("--pressure-unit psia", &[]),
    ("--elevation 1600m", &[]),
    ("--station-pressure 850mbar", &[]),
];

const PICTURES: &[&str] = &["curves", "lens", "coil", "dome"];
/// Kinds of answer without a table that is set for people.
const UNSET: &[&str] = &[
    "curves", "lens", "coil", "dome", "text", "markdown", "csv", "json",
];
/// Kinds of answer without a table on paper.
const UNPRINTED: &[&str] = &[
    "curves", "lens", "coil", "dome", "text", "markdown", "csv", "json", "html",
];

const NOT_DOMES: &[&str] = &[
    "table", "headed", "wall", "folded", "wallet", "strip", "sheet", "curves", "lens", "coil",
];
const NOT_COILS: &[&str] = &[
    "table", "headed", "wall", "folded", "wallet", "strip", "sheet", "curves", "lens", "dome",
];

/// Every kind of answer that a chart has, by name, with a question that asks for it.
fn kinds() -> BTreeMap<String, String> {
    let rows = "--from -40C --to 80C --step 20C";
    let cool = "--from -40C --to 60C --step 20C";
    let mut kinds = BTreeMap::new();
    for format in ["text", "markdown", "csv", "json", "html", "pdf"] {
        let table = format!("R-454B R-32 {rows} --format {format}");
        kinds.insert(format!("table {format}"), table);
    }
    kinds.insert(
        "headed csv".into(),
        format!("R-454B R-32 {rows} --format csv --csv-header"),
    );
    for form in ["wall", "folded", "wallet", "strip", "sheet"] {
        // 'above critical' at 80 °C would be too wide for a strip.
        let rows = if form == "strip" { cool } else { rows };
        kinds.insert(form.into(), format!("R-454B {rows} --form {form}"));
    }
    for format in ["svg", "html", "pdf"] {
        for picture in PICTURES {
            let rows = match *picture {
                "lens" | "coil" => "--pressures 5bara,10bara",
                _ => rows,
            };
            kinds.insert(
                format!("{picture} {format}"),
                format!("R-454B {rows} --picture {picture} --format {format}"),
            );
        }
    }
    kinds
}

/// In each kind of answer each choice is refused where the table says that it does nothing, and
/// else changes the answer, or cannot be had for a reason that is told.
#[test]
fn no_choice_is_left_out_in_silence() {
    let folder = Folder::new("idle");
    let sign = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\">\
                <path d=\"M0 0h9v9z\"/></svg>";
    let files = [
        ("SIGN", folder.write("sign.svg", sign)),
        (
            "WORDS",
            folder.write(
                "words.yaml",
                "gap_above_critical: zu warm\nhazard_end: Kundige Leute entscheiden",
            ),
        ),
    ];
    let ask = |question: &str, choice: &str| {
        let mut words: Vec<&str> = ["chart"].into_iter().chain(question.split(' ')).collect();
        words.extend(
            choice
                .split(' ')
                .filter(|word| !word.is_empty())
                .map(|word| {
                    let file = files.iter().find(|(name, _)| *name == word);
                    file.map_or(word, |(_, path)| path.as_str())
                }),
        );
        zeotrope(&words)
    };
    let kinds = kinds();
    let mut effects = BTreeMap::new();
    for (kind, question) in &kinds {
        let plain = ask(question, "");
        assert_eq!(plain.code, 0, "{kind}: {}", plain.err);
        for (choice, idle) in IDLE {
            let run = ask(question, choice);
            let name = choice.split(' ').next().unwrap();
            let told = format!("error: {name} does nothing for ");
            if idle.iter().any(|word| kind.contains(word)) {
                assert_eq!(run.code, 2, "{kind}, {choice}: {}", run.out);
                assert!(run.err.starts_with(&told), "{kind}, {choice}: {}", run.err);
                assert!(
                    run.err.contains("\nhint: ") && run.out.is_empty(),
                    "{}",
                    run.err
                );
                continue;
            }
            assert!(!run.err.contains(&told), "{kind}, {choice}: {}", run.err);
            // Pictures show absolute pressures unless a gauge's are given, as these do not.
            let is_site = ["--elevation", "--station-pressure"].contains(&name);
            let is_picture = PICTURES.iter().any(|word| kind.contains(word));
            // What is said as it is anyway changes nothing either.
            let is_usual =
                *choice == "--digits each" && UNSET.iter().any(|word| kind.contains(word));
            if !(is_usual || is_site && is_picture) {
                assert!(run.code != 0 || run.out != plain.out, "{kind}, {choice}");
            }
            *effects.entry(choice).or_insert(0) += usize::from(run.code == 0);
        }
    }
    // What is refused everywhere would be no choice. Rows of temperatures have their step already.
    for (choice, _) in IDLE.iter().filter(|(choice, _)| *choice != "--step 5C") {
        assert!(
            effects.get(choice).is_some_and(|count| *count > 0),
            "{choice}"
        );
    }
}

/// A recipe's choices are as good as typed.
#[test]
fn nor_one_of_a_recipe() {
    let folder = Folder::new("idle-recipe");
    let recipe = folder.write(
        "shop.yaml",
        "refrigerants: [R-32]\ndecimal-comma: true\nnote: [ours]",
    );
    let run = zeotrope(&["chart", "--recipe", &recipe, "--picture", "curves"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(
        run.err
            .contains("--decimal-comma does nothing for a picture"),
        "{}",
        run.err
    );
    let run = zeotrope(&["chart", "--recipe", &recipe, "--format", "csv"]);
    assert!(
        run.err.contains("--note does nothing for CSV"),
        "{}",
        run.err
    );
    let run = zeotrope(&["chart", "--recipe", &recipe]);
    assert_eq!(run.code, 0, "{}", run.err);
}

/// Where every refrigerant gets a file, a choice that does nothing is told before one is written.
#[test]
fn nor_one_for_the_whole_catalogue() {
    let folder = Folder::new("idle-all");
    let target = folder.file("charts");
    let run = zeotrope(&[
        "chart", "--all", &target, "--format", "csv", "--shop", "Harbour",
    ]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(
        run.err.contains("--shop does nothing for CSV"),
        "{}",
        run.err
    );
    assert!(!std::path::Path::new(&target).exists());
}

/// The second figure of a row stands beside the first in JSON too; 20 °C are 68 °F.
#[test]
fn a_second_unit_of_rows_in_json() {
    let found = crate::program::json(&["chart", "R-32", "--temperatures", "20C", "--also", "F"]);
    assert_eq!(found["rows"][0]["row"]["also"], "68.0");
    assert_eq!(found["also_unit"], "F");
}

/// A sheet has no place for the working and for Raoult's law; every other format has.
#[test]
fn nor_what_teaches() {
    let questions: [&[&str]; 2] = [
        &["saturation", "R-407C", "--temperature", "25C"],
        &["glide", "R-407C", "--pressure", "65psig"],
    ];
    for question in questions {
        for (choice, name) in [
            (&["--explain"][..], "--explain"),
            (&["--model", "ideal"], "--model"),
        ] {
            for format in ["text", "markdown", "csv", "json", "html"] {
                let plain = [question, &["--format", format]].concat();
                let run = zeotrope(&[&plain[..], choice].concat());
                if format == "csv" {
                    assert_eq!(run.code, 2, "{plain:?}, {name}: {}", run.out);
                    let told = format!("error: {name} does nothing for CSV\nhint: ");
                    assert!(run.err.starts_with(&told), "{}", run.err);
                } else {
                    assert_eq!(run.code, 0, "{plain:?}, {name}: {}", run.err);
                    assert_ne!(run.out, zeotrope(&plain).out, "{plain:?}, {name}");
                }
            }
        }
    }
}
