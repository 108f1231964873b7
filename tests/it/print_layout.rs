//! Where things stand on paper: nothing leaves the page, nothing covers another, no type is smaller
//! than it may be; the same input gives the same bytes.

use crate::print::{Word, bytes, info, placed_words};

/// Height of a line's box in sizes of type: Roboto Condensed's ascender 2146 and descender 555 of
/// 2048 units, as the font's own table `OS/2` says and the PDF's descriptor repeats.
pub(crate) const BOX: f64 = 2701.0 / 2048.0;

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
            // Boxes of lines overlap by design, being higher than a line; letters do not.
            let high = (one.place[3] - one.place[1]).min(other.place[3] - other.place[1]);
            assert!(
                across < 0.5 || down < 0.18 * high,
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
    assert_eq!(check(&[&three[..], &["--form", "wall"]].concat(), 7.0), 1);
    check(
        &[
            &three[..],
            &["--form", "wall", "--landscape", "--paper", "letter"],
        ]
        .concat(),
        7.0,
    );
    assert_eq!(check(&["R-454B", "--form", "folded"], 6.5), 2);
    check(
        &["R-454B", "R-410A", "--form", "folded", "--paper", "letter"],
        6.5,
    );
    assert_eq!(check(&["R-454B", "--form", "wallet"], 5.0), 2);
    assert_eq!(check(&["R-454B", "--form", "strip"], 6.5), 1);
    check(&["R-744", "--form", "strip", "--paper", "letter"], 6.5);
    assert_eq!(check(&[&three[..], &["--form", "sheet"]].concat(), 5.0), 2);
    check(&["R-407C", "--form", "sheet", "--paper", "letter"], 5.0);
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
    for form in ["wall", "folded"] {
        check(&[long, "R-134a", "--form", form], 6.5);
    }
    for form in ["wallet", "sheet"] {
        check(&[long, "--form", form], 5.0);
    }
    check(&[long, "--form", "strip"], 6.5);
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
    let pages = check(&arguments, 7.0);
    assert!(pages > 1);
    let (_, words) = placed_words(&bytes(&arguments));
    let heads = words.iter().filter(|word| word.text == "\u{b0}C").count();
    assert!(heads >= 3, "{heads} heads");
}

#[test]
fn titles_of_any_length_and_script() {
    let long = "A title that does not end. ".repeat(185);
    check(&["R-134a", "--form", "wall", "--title", &long], 7.0);
    check(
        &["R-134a", "--form", "wall", "--title", &"X".repeat(5000)],
        7.0,
    );
    check(
        &[
            "R-134a",
            "--form",
            "wallet",
            "--title",
            "Хладагент для морозильной камеры",
        ],
        5.0,
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
        5.0,
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

/// A sentence begins on the side where it ends, and what goes on of a table on a further side is no
/// scrap of a few rows.
#[test]
fn nothing_is_torn() {
    for refrigerant in ["R-32", "R-454B", "R-407C"] {
        for [from, to, step] in [["0F", "130F", "5F"], ["-40F", "120F", "10F"]] {
            let rows = ["--from", from, "--to", to, "--step", step];
            let pdf = bytes(&[&[refrigerant, "--form", "wallet"][..], &rows].concat());
            let (pages, words) = placed_words(&pdf);
            assert_eq!(pages.len(), 2, "{refrigerant} {rows:?}");
            let front: Vec<&str> = words
                .iter()
                .filter(|word| word.page == 0)
                .map(|word| word.text.as_str())
                .collect();
            let last = front.last().unwrap();
            let is_figure = last
                .bytes()
                .all(|byte| byte.is_ascii_digit() || byte == b'.');
            assert!(is_figure || last.ends_with('.'), "{refrigerant}: '{last}'");
        }
    }
}

/// What has to stand on every print form, whatever its size.
#[test]
fn cautions_on_every_form() {
    for form in ["wall", "folded", "wallet", "strip", "sheet"] {
        let text = crate::print::lines(&bytes(&["R-454B", "--form", form])).join(" ");
        for part in [
            "R-454B · A2L",
            "flammable psig at °F, gauge zeroed at sea level",
            "read subcooling there",
            "read superheat there",
            "A zeotropic blend changes composition",
            "may no longer match the listed composition",
            "remove ignition sources",
            "licensed people decide",
            "68.9 % R-32",
            "glide",
            "Largest error of a printed value",
            "2026-05-31",
            "0.1.0",
        ] {
            assert!(text.contains(part), "{form} lacks '{part}': {text}");
        }
    }
}
