//! Where things stand on paper: nothing leaves the page, nothing covers another, no type is smaller
//! than it may be; the same input gives the same bytes.

use crate::print::{Word, bytes, info, placed_words};

/// Height of a line's box in sizes of type: Roboto Condensed's ascender 1900 and descender 500 of
/// 2048 units, as the font's own table `hhea` says.
const BOX: f64 = 2400.0 / 2048.0;

fn check(arguments: &[&str], least: f64) -> usize {
    let pdf = bytes(arguments);
    let (pages, words) = placed_words(&pdf);
    assert!(!words.is_empty());
    for word in &words {
        let [left, top, right, bottom] = word.place;
        let [width, height] = pages[word.page];
        assert!(
            left >= 4.0 && top >= 2.0 && right <= width - 4.0 && bottom <= height - 2.0,
            "{arguments:?}: '{}' leaves page {} at {:?}",
            word.text,
            word.page,
            word.place
        );
        let size = (bottom - top) / BOX;
        assert!(
            size > least - 0.05,
            "{arguments:?}: '{}' is set in {size:.2} points",
            word.text
        );
    }
    for (index, one) in words.iter().enumerate() {
        for other in words[index + 1..]
            .iter()
            .filter(|other| other.page == one.page)
        {
            let across = one.place[2].min(other.place[2]) - one.place[0].max(other.place[0]);
            let down = one.place[3].min(other.place[3]) - one.place[1].max(other.place[1]);
            // Boxes of lines overlap a little by design; letters do not.
            assert!(
                across < 0.5 || down < 2.5,
                "{arguments:?}: '{}' and '{}' cover each other on page {}",
                one.text,
                other.text,
                one.page
            );
        }
    }
    pages.len()
}

#[test]
fn forms_keep_to_their_paper() {
    let three = ["R-454B", "R-32", "R-744"];
    assert_eq!(check(&[&three[..], &["--form", "wall"]].concat(), 7.5), 1);
    check(
        &[
            &three[..],
            &["--form", "wall", "--landscape", "--paper", "letter"],
        ]
        .concat(),
        7.5,
    );
    assert_eq!(check(&["R-454B", "--form", "folded"], 6.5), 2);
    check(
        &["R-454B", "R-410A", "--form", "folded", "--paper", "letter"],
        6.5,
    );
    check(&["R-454B", "--form", "wallet"], 6.5);
    assert_eq!(check(&["R-454B", "--form", "strip"], 8.0), 1);
    check(&["R-744", "--form", "strip", "--paper", "letter"], 8.0);
    check(&[&three[..], &["--form", "sheet"]].concat(), 6.5);
    check(&["R-407C", "--form", "sheet", "--paper", "letter"], 6.5);
}

/// Twelve refrigerants that fit side by side in a type a little smaller are not parted into eleven
/// and one: all names stand on one line.
#[test]
fn none_is_left_over() {
    let twelve = [
        "R-134a", "R-290", "R-744", "R-717", "R-407C", "R-410A", "R-32", "R-454B", "R-448A",
        "R-449A", "R-513A", "R-1234yf",
    ];
    let rows = ["--from", "0psig", "--to", "200psig", "--step", "10psi"];
    let pdf = bytes(&[&twelve[..], &rows, &["--form", "wall", "--landscape"]].concat());
    let (_, words) = placed_words(&pdf);
    let head = words.iter().find(|word| word.text == twelve[0]).unwrap();
    for name in twelve {
        let beside =
            |word: &&Word| word.page == head.page && (word.place[1] - head.place[1]).abs() < 0.1;
        let on_the_line = words.iter().filter(beside).filter(|word| word.text == name);
        assert_eq!(
            on_the_line.count(),
            1,
            "{name} does not stand beside {}",
            twelve[0]
        );
    }
}

/// Long names break within their columns; many blends go on over pages with their heads repeated.
#[test]
fn long_names_and_many_blends() {
    let long = "R-32/R-125/R-134a/R-1234yf/R-1234ze(E)/R-744/R-290 (20/15/15/20/15/5/10)";
    for form in ["wall", "folded", "wallet", "sheet"] {
        check(&[long, "R-134a", "--form", form], 6.5);
    }
    check(&[long, "--form", "strip"], 8.0);
    let many: Vec<String> = crate::program::json(&["list", "blend"])
        .as_array()
        .unwrap()
        .iter()
        .take(30)
        .map(|one| one["refrigerant"].as_str().unwrap().to_owned())
        .collect();
    let mut arguments: Vec<&str> = many.iter().map(String::as_str).collect();
    arguments.extend([
        "--form", "wall", "--from", "-20C", "--to", "40C", "--step", "5C",
    ]);
    let pages = check(&arguments, 7.5);
    assert!(pages > 1);
    let (_, words) = placed_words(&bytes(&arguments));
    let heads = words.iter().filter(|word| word.text == "\u{b0}C").count();
    assert!(heads >= 3, "{heads} heads");
}

#[test]
fn titles_of_any_length_and_script() {
    let long = "A title that does not end. ".repeat(185);
    check(&["R-134a", "--form", "wall", "--title", &long], 7.5);
    check(
        &["R-134a", "--form", "wall", "--title", &"X".repeat(5000)],
        7.5,
    );
    check(
        &[
            "R-134a",
            "--form",
            "wallet",
            "--title",
            "Хладагент для морозильной камеры",
        ],
        6.5,
    );
    check(
        &[
            "R-134a",
            "--form",
            "wallet",
            "--shop",
            "Θερμοκρασία και πίεση",
            "--note",
            "ÄÖÜ łódź",
        ],
        6.5,
    );
}

/// The card of ISO/IEC 7810, ID-1, is 85.60 mm x 53.98 mm; A4 is 210 mm x 297 mm (ISO 216);
/// a point is 1/72 inch.
#[test]
fn papers_and_properties() {
    let size = |arguments: &[&str]| {
        let (pages, _) = placed_words(&bytes(arguments));
        pages[0].map(|points| points / 72.0 * 25.4)
    };
    let near = |found: [f64; 2], wanted: [f64; 2]| {
        assert!(
            found
                .iter()
                .zip(wanted)
                .all(|(found, wanted)| (found - wanted).abs() < 0.1),
            "{found:?} is not {wanted:?}"
        );
    };
    near(size(&["R-32", "--form", "wallet"]), [85.6, 54.0]);
    near(size(&["R-32", "--form", "wall"]), [210.0, 297.0]);
    near(
        size(&["R-32", "--form", "wall", "--landscape"]),
        [297.0, 210.0],
    );
    near(
        size(&["R-32", "--form", "wall", "--paper", "letter"]),
        [215.9, 279.4],
    );
    near(size(&["R-32", "--form", "folded"]), [210.0, 148.0]);
    near(
        size(&["R-32", "--form", "folded", "--paper", "letter"]),
        [279.4, 215.9],
    );
    let told = info(&bytes(&["R-32", "--form", "wall", "--title", "Cold room"]));
    for part in ["Title:           Cold room", "Tagged:          yes", "2026"] {
        assert!(told.contains(part), "{told}");
    }
}

#[test]
fn same_input_same_bytes() {
    for form in ["wall", "folded", "wallet", "strip", "sheet"] {
        let chart = ["R-454B", "--form", form];
        assert!(bytes(&chart) == bytes(&chart), "{form}");
    }
}

/// No sentence is torn between two sides of a card, and no row of a table left over alone.
#[test]
fn nothing_is_torn() {
    let sides = |arguments: &[&str]| -> Vec<Vec<String>> {
        let pdf = bytes(arguments);
        let (pages, words) = placed_words(&pdf);
        (0..pages.len())
            .map(|page| {
                let here = words.iter().filter(|word| word.page == page);
                here.map(|word| word.text.clone()).collect()
            })
            .collect()
    };
    for refrigerant in ["R-32", "R-454B", "R-407C"] {
        for rows in [["0F", "130F", "5F"], ["-40F", "120F", "10F"]] {
            let [from, to, step] = rows;
            for side in sides(&[
                refrigerant,
                "--form",
                "wallet",
                "--from",
                from,
                "--to",
                to,
                "--step",
                step,
            ]) {
                let last = side.last().unwrap();
                let is_figure = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
                let ends = last.ends_with('.') || last.ends_with("31") || is_figure(last);
                assert!(ends, "{refrigerant}: a side ends with '{last}'");
            }
        }
    }
    let found = sides(&[
        "R-407C", "--form", "folded", "--from", "-40C", "--to", "60C", "--step", "2C",
    ]);
    let heads = |side: &[String]| side.iter().filter(|word| *word == "dew").count();
    assert_eq!((heads(&found[0]), found.len()), (2, 2));
    let inside = found[1].iter().filter(|word| *word == "bubble").count();
    assert!(inside <= 1, "{:?}", found[1]);
}

/// What has to stand on every print form, whatever its size.
#[test]
fn cautions_on_every_form() {
    for form in ["wall", "folded", "wallet", "strip", "sheet"] {
        let text = crate::print::lines(&bytes(&["R-454B", "--form", form])).join(" ");
        for part in [
            "read subcooling there",
            "read superheat there",
            "A zeotropic blend changes composition",
            "may no longer match the listed composition",
            "remove ignition sources",
            "licensed people decide",
            "class A2L",
            "68.9 % R-32",
            "glide",
            "sea level",
            "Largest error of a printed value",
            "2026-05-31",
            "zeotrope 0.1.0",
        ] {
            assert!(text.contains(part), "{form} lacks '{part}': {text}");
        }
    }
}
