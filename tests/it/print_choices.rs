//! What a shop may choose, and what happens when it chooses badly.

use crate::print::{Folder, bytes, lines};
use crate::program::{answer, zeotrope};
use zeotrope::page::Block;

#[test]
fn bad_choices_are_told() {
    let folder = Folder::new("bad");
    let broken = folder.write("broken.yaml", "refrigerants: [R-134a\nform: wallet");
    let unknown = folder.write("unknown.yaml", "refrigerants: [R-134a]\ncolour: red");
    let empty = folder.write("empty.yaml", "form: wallet");
    let bad_value = folder.write("value.yaml", "refrigerants: [R-134a]\nform: poster");
    let no_picture = folder.write("logo.png", "no picture");
    let many: Vec<&str> = std::iter::repeat_n("R-407C", 200).collect();
    let wallet = [&["chart"][..], &many, &["--form", "wallet"]].concat();
    let title = "X".repeat(5000);
    let cases: Vec<(Vec<&str>, u8, &str)> = vec![
        (
            vec!["chart", "R-32", "--form", "poster"],
            2,
            "form 'poster' is not known hint: use wall, folded, wallet, strip, sheet",
        ),
        (
            vec!["chart", "R-32", "--paper", "a5"],
            2,
            "paper 'a5' is not known hint: use a4, letter, a3, tabloid",
        ),
        (
            vec!["chart", "R-32", "--form", "wall", "--tint", "bleu"],
            2,
            "tint 'bleu' is not known hint: use grey, blue, green, yellow, red, violet, #rrggbb",
        ),
        (
            vec!["chart", "R-32", "--form", "wallet", "--size", "3.5x2"],
            2,
            "3.5x2in",
        ),
        (
            vec!["chart", "R-32", "--form", "wallet", "--bleed", "3"],
            2,
            "is not a length",
        ),
        (
            vec!["chart", "R-32", "--form", "wall", "--legible-at", "200m"],
            2,
            "at best",
        ),
        (
            vec![
                "chart",
                "R-32",
                "--form",
                "wallet",
                "--name",
                "Store 12 mix",
            ],
            2,
            "not exactly one",
        ),
        (
            vec![
                "chart",
                "R-32/R-125 (40/60)",
                "--form",
                "wallet",
                "--name",
                "r410a",
            ],
            2,
            "spells a refrigerant",
        ),
        (
            vec![
                "chart", "R-32", "--form", "wallet", "--from", "-40C", "--to", "60C", "--step",
                "0.2C",
            ],
            2,
            "fewer rows",
        ),
        (
            vec!["chart", "R-32", "--form", "wallet", "--landscape"],
            2,
            "turns a wall chart",
        ),
        (
            vec!["chart", "R-32", "--form", "wallet", "--format", "csv"],
            2,
            "are for PDF",
        ),
        (vec!["chart", "R-32", "--picture", "pie"], 2, "is not known"),
        (
            vec!["chart", "R-32", "--picture", "dome", "--format", "markdown"],
            2,
            "SVG, HTML or PDF, its numbers as CSV or JSON",
        ),
        (
            vec!["chart", "R-32", "--picture", "dome", "--form", "wallet"],
            2,
            "too small a panel",
        ),
        (
            vec!["chart", "R-32", "--picture", "lens", "--pressures", "5bara"],
            2,
            "two components",
        ),
        (
            vec!["chart", "R-454B", "--picture", "lens"],
            2,
            "at given pressures",
        ),
        (
            vec!["chart", "R-32", "--resolution", "0F"],
            2,
            "not above zero",
        ),
        (
            vec!["chart", "R-32", "--resolution", "0.1"],
            2,
            "has no unit",
        ),
        (
            vec!["chart", "R-32", "--columns", "middle"],
            2,
            "is not known",
        ),
        (
            vec!["chart", "R-32", "--date", "31.5.2026"],
            2,
            "is not a date",
        ),
        (
            vec!["chart", "R-32", "--date", "2026-02-30"],
            2,
            "is not a date",
        ),
        (
            vec!["chart", "R-32", "--also", "psi"],
            2,
            "whether it is gauge or absolute",
        ),
        (
            vec!["chart", "R-32", "--format", "html", "--logo", &no_picture],
            1,
            "neither PNG nor SVG",
        ),
        (vec!["chart", "R-32", "--words", &broken], 1, "--words"),
        (vec!["chart", "--recipe", &broken], 1, "a recipe is YAML"),
        (
            vec!["chart", "--recipe", &unknown],
            1,
            "'colour' is not a choice",
        ),
        (
            vec!["chart", "--recipe", &empty],
            2,
            "no refrigerant is named",
        ),
        (vec!["chart", "--recipe", &bad_value], 2, "is not known"),
        (
            vec!["chart", "--recipe", "no/such/file.yaml"],
            1,
            "No such file",
        ),
        (
            vec!["chart", "R-32", "--pressures", "5bara", "--to", "5C"],
            2,
            "go together",
        ),
        (
            vec!["chart", "R-32", "--form", "nodes", "--pressures", "5bara"],
            2,
            "form 'nodes' is not known",
        ),
        (
            vec!["chart", "R-32", "--title", "a\nb"],
            2,
            "is more than one line",
        ),
        (
            vec![
                "chart",
                "R-32",
                "--form",
                "wall",
                "--title",
                "\u{51b7}\u{5a92}",
            ],
            2,
            "the typeface of the PDF has no",
        ),
        (
            vec!["chart", "R-32", "--form", "wallet", "--title", &title],
            2,
            "on 2 sides",
        ),
        (
            vec!["chart", "R-411C", "--form", "wall"],
            1,
            "unknown refrigerant",
        ),
        (vec!["chart"], 2, "required"),
        (wallet, 2, "on 2 sides"),
    ];
    for (arguments, code, part) in cases {
        let shown: String = arguments.join(" ").chars().take(100).collect();
        let mut all = arguments.clone();
        let target = folder.file("never.out");
        let named = ["--format", "pdf"];
        if arguments.len() > 1 && !arguments.contains(&"--format") && arguments.contains(&"--form")
        {
            all.extend(named);
            all.extend(["--output", &target]);
        }
        let run = zeotrope(&all);
        assert_eq!(run.code, code, "{shown}: {}", run.err);
        let words = run.err.replace("\n", " ");
        assert!(
            words.contains("error: ") && words.contains("hint: "),
            "{shown}: {words}"
        );
        assert!(words.contains(part), "{shown} lacks '{part}': {words}");
        assert!(run.out.is_empty(), "{shown}");
        assert!(!std::path::Path::new(&target).exists(), "{shown}");
    }
}

/// A print over an existing file needs --force; a folder that cannot be is told.
#[test]
fn files_are_not_lost() {
    let folder = Folder::new("files");
    let file = folder.write("card.pdf", "mine");
    let run = zeotrope(&["chart", "R-32", "--form", "wallet", "--output", &file]);
    assert_eq!(run.code, 1, "{}", run.err);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
    let inside = folder.file("card.pdf/deeper");
    let run = zeotrope(&["chart", "--all", &inside, "--format", "csv"]);
    assert_eq!(run.code, 1, "{}", run.err);
    assert!(run.err.contains("hint: "), "{}", run.err);
    assert_eq!(folder.names(), ["card.pdf"]);
}

/// The examples of recipes that come with the program all print.
#[test]
fn recipes_that_come_with_it() {
    let entry_name = |path: &std::path::Path| {
        let name = path.file_name().and_then(|name| name.to_str());
        name.unwrap_or_default().to_owned()
    };
    let mut count = 0;
    for entry in std::fs::read_dir("recipes").unwrap() {
        let path = entry.unwrap().path();
        let name = entry_name(&path);
        // recipes of exercises are another command's: `exercises.rs` asks them
        if name.ends_with(".yaml") && !name.starts_with("exercise_") {
            let pdf = bytes(&["--recipe", &path.display().to_string(), "--format", "pdf"]);
            assert!(pdf.starts_with(b"%PDF"), "{path:?}");
            assert!(!lines(&pdf).is_empty());
            count += 1;
        }
    }
    assert!(count >= 3, "{count}");
}

/// What is typed outranks the recipe.
#[test]
fn typed_over_recipe() {
    let folder = Folder::new("recipe");
    let recipe = folder.write(
        "shop.yaml",
        "refrigerants: [R-134a, R-290]\nfrom: -40F\nto: 40F\nstep: 20F\ntitle: Van 3\nnote: [one, two]\n",
    );
    let text = answer(&["chart", "--recipe", &recipe]);
    assert!(
        text.starts_with("Van 3") && text.contains("R-290"),
        "{text}"
    );
    assert!(
        text.contains("\none\n") && text.contains("\ntwo\n"),
        "{text}"
    );
    let text = answer(&[
        "chart", "R-32", "--recipe", &recipe, "--title", "Van 4", "--from", "0C", "--to", "5C",
    ]);
    assert!(
        text.starts_with("Van 4") && text.contains("R-32") && !text.contains("R-290"),
        "{text}"
    );
    assert!(text.contains("\n°C"), "{text}");
}

/// Rows of both kinds on one sheet, own lists of rows, and a second unit.
#[test]
fn rows_and_units() {
    let text = answer(&[
        "chart",
        "R-134a",
        "--temperatures",
        "0C,7C,15C",
        "--pressures",
        "2barg,3barg",
    ]);
    let tables = text.lines().filter(|line| line.starts_with("---")).count();
    assert_eq!(tables, 2, "{text}");
    assert!(text.contains("\n 7  "), "{text}");
    // 5 °C: 349.66 kPa absolute (Tillner-Roth & Baehr 1994), 36.018 psig above 101.325 kPa.
    let sheet = answer(&[
        "chart", "R-134a", "--from", "41F", "--to", "41F", "--also", "kPaa", "--format", "csv",
    ]);
    assert_eq!(
        sheet.lines().next().unwrap(),
        "temperature_F,R-134a_psig,R-134a_kPaa"
    );
    let cells: Vec<f64> = sheet
        .lines()
        .nth(1)
        .unwrap()
        .split(',')
        .map(|cell| cell.parse().unwrap())
        .collect();
    assert!(
        (cells[1] - 36.018).abs() < 0.06 && (cells[2] - 349.66).abs() < 0.6,
        "{sheet}"
    );
    let text = answer(&[
        "chart", "R-134a", "--from", "0C", "--to", "10C", "--also", "F",
    ]);
    assert!(text.contains("41.0"), "{text}");
}

#[test]
fn shop_note_logo_and_header() {
    let folder = Folder::new("shop");
    let logo = folder.write(
        "sign.svg",
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"/>",
    );
    let page = bytes(&[
        "R-32",
        "--format",
        "html",
        "--logo",
        &logo,
        "--shop",
        "Harbour cold store",
    ]);
    let page = String::from_utf8(page).unwrap();
    assert!(
        page.contains("data:image/svg+xml;base64,PHN2Zy") && page.contains("Harbour cold store")
    );
    let sheet = answer(&[
        "chart",
        "R-32",
        "--format",
        "csv",
        "--csv-header",
        "--note",
        "ours",
    ]);
    assert!(
        sheet.starts_with("# ") && sheet.contains("# ours\n"),
        "{sheet}"
    );
    let plain = answer(&["chart", "R-32", "--format", "csv"]);
    assert!(!plain.contains('#'), "{plain}");
}

/// A title of one's own takes the place of the usual one, which goes on saying what the figures are;
/// a note on an exercise does not wait behind its key.
#[test]
fn own_title_and_note() {
    let usual = "Saturation pressure (barg) by temperature (\u{b0}C)";
    let chart = ["chart", "R-32", "--from", "0C", "--to", "5C"];
    let own = ["--title", "Van 3", "--note", "Due Friday"];
    let text = answer(&[&chart[..], &own].concat());
    assert!(text.starts_with(&format!("Van 3\n\n{usual}\n")), "{text}");
    let told = lines(&bytes(&[&chart[1..], &own, &["--form", "folded"]].concat()));
    let face = ["Van 3", "R-32 \u{b7} A2L"];
    assert_eq!(told[..2], face, "{told:?}");
    let text = answer(&[&chart[..], &own, &["--blank"]].concat());
    let (exercise, key) = text.split_once("Answer key").unwrap();
    assert!(exercise.contains("Due Friday") && exercise.contains("______"));
    assert!(key.contains(usual) && !key.contains("Due Friday"), "{key}");
}

/// A sheet for rows of both kinds has all columns once, blank where they do not belong; a second
/// unit stands in both tables; what only the second table has to say is said.
#[test]
fn both_kinds_in_two_units() {
    let chart = [
        "chart",
        "R-744",
        "--temperatures",
        "0C,10C",
        "--pressures",
        "30barg,80barg",
        "--also",
        "psig",
    ];
    let sheet = answer(&[&chart[..], &["--format", "csv"]].concat());
    let rows: Vec<&str> = sheet.lines().collect();
    assert_eq!(
        rows[0],
        "temperature_C,R-744_barg,R-744_psig,pressure_barg,pressure_psig,R-744_C"
    );
    assert_eq!(rows.len(), 5, "{sheet}");
    assert!(
        rows[1].starts_with("0,") && rows[1].ends_with(",,,"),
        "{sheet}"
    );
    // 30 barg are 435.1 psig; 80 barg lie above the critical 73.77 bar (Span & Wagner 1996).
    assert!(rows[3].starts_with(",,,30,435.1"), "{sheet}");
    assert!(rows[4].ends_with(",above critical"), "{sheet}");
    let text = answer(&chart);
    assert!(
        text.contains("above critical: beyond the critical point"),
        "{text}"
    );
    assert_eq!(
        text.matches("Largest error of a printed value").count(),
        2,
        "{text}"
    );
    let found = crate::program::json(&chart);
    let count = |key: &str| found[key].as_array().unwrap().len();
    assert_eq!(
        ["also_rows", "second_columns", "second_rows"].map(count),
        [2, 1, 2]
    );
}

/// The whole catalogue, a file each, whole or not at all; what is there already stays.
#[test]
fn the_whole_catalogue() {
    let folder = Folder::new("all");
    let target = folder.file("charts");
    let all = [
        "chart", "--all", &target, "--format", "csv", "--from", "0C", "--to", "10C",
    ];
    let run = zeotrope(&all);
    assert_eq!(run.code, 0, "{}", run.err);
    // Gases far above their critical points have no cell there, and are named.
    assert!(run.err.contains("R-728: left out"), "{}", run.err);
    let names: Vec<String> = std::fs::read_dir(&target)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert!(names.len() > 190, "{}", names.len());
    assert!(names.iter().all(|name| name.ends_with(".csv")), "{names:?}");
    let told = format!("{} of ", names.len());
    assert!(run.err.contains(&told), "{}", run.err);
    let before = std::fs::read_to_string(format!("{target}/R-134a.csv")).unwrap();
    let again = zeotrope(&all);
    assert_eq!(again.code, 1, "{}", again.err);
    assert!(again.err.contains("exists already"), "{}", again.err);
    assert_eq!(
        std::fs::read_to_string(format!("{target}/R-134a.csv")).unwrap(),
        before
    );
}

/// By hand: what decides the figures and the form, without the shop's own words.
#[test]
fn a_card_is_made_again_as_it_was_typed() {
    let typed = "chart R-454B --from -20F --to 120F --tolerance --elevation 5280ft --form wallet \
                 --shop Shop --qr recipe --format pdf";
    let words = std::iter::once("zeotrope").chain(typed.split_whitespace());
    let page = zeotrope_cli::document(words).unwrap();
    let codes = page.blocks.iter().filter_map(|block| match block {
        Block::Code(text) => Some(text.as_str()),
        _ => None,
    });
    assert_eq!(
        codes.collect::<Vec<_>>(),
        [
            "zeotrope chart R-454B --from -20F --to 120F --elevation 5280ft --form wallet --tolerance"
        ]
    );
}
