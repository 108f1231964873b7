//! What a card of every listed refrigerant is held to, and what is said where a chart does not fit.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};

use crate::print::{Folder, bytes, placed_words};
use crate::print_layout::BOX;
use crate::program::{Run, json, zeotrope};

/// How many refrigerants at the least must have a card: gases far above their critical points have
/// no chart.
const LEAST: usize = 150;

/// The listed refrigerants that have a chart.
fn charted() -> Vec<String> {
    let all = json(&["list"]);
    let names = all.as_array().unwrap().iter();
    names
        .map(|one| one["refrigerant"].as_str().unwrap().to_owned())
        .collect()
}

/// Asks something of every refrigerant in two threads; how many have been asked.
fn each(ask: impl Fn(&str) -> bool + Sync) -> usize {
    let names = charted();
    let (next, asked) = (AtomicUsize::new(0), AtomicUsize::new(0));
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                while let Some(name) = names.get(next.fetch_add(1, Ordering::Relaxed)) {
                    asked.fetch_add(usize::from(ask(name)), Ordering::Relaxed);
                }
            });
        }
    });
    asked.into_inner()
}

fn has_chart(name: &str) -> bool {
    zeotrope(&["chart", name, "--format", "csv", "--step", "20F"]).code == 0
}

/// A card has two sides at most, no type under 5 pt and figures of 5.5 pt and more, whatever the
/// refrigerant; folded it is one sheet of two sides.
#[test]
fn every_card_has_two_sides() {
    let asked = each(|name| {
        if !has_chart(name) {
            return false;
        }
        for (form, figures) in [("wallet", 5.5), ("folded", 7.0)] {
            let (pages, words) = placed_words(&bytes(&[name, "--form", form]));
            assert!(pages.len() <= 2, "{name}: {} sides of {form}", pages.len());
            for word in &words {
                let size = (word.place[3] - word.place[1]) / BOX;
                assert!(size > 4.95, "{name}: '{}' in {size:.2} pt", word.text);
            }
            // A row's temperature stands in no sentence without its unit behind it.
            let row = words
                .iter()
                .find(|word| word.text == "\u{2212}40" || word.text == "0");
            let size = row.map_or(99.0, |word| (word.place[3] - word.place[1]) / BOX);
            assert!(
                size > figures - 0.05,
                "{name}: figures of {form} in {size:.2} pt"
            );
        }
        true
    });
    assert!(asked > LEAST, "{asked}");
}

/// Every column of print has one number of decimals, whatever the refrigerant.
#[test]
fn every_column_has_one_number_of_decimals() {
    let asked = each(|name| {
        let page = zeotrope(&["chart", name, "--format", "html", "--date", "2026-05-31"]);
        if page.code != 0 {
            return false;
        }
        let mut found: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
        for row in page.out.split("<tr>").filter(|row| row.contains("<td")) {
            for (column, cell) in row.split("<td").skip(1).enumerate() {
                let text = cell.split('>').nth(1).unwrap().split('<').next().unwrap();
                if text.parse::<f64>().is_ok() {
                    let decimals = text.split_once('.').map_or(0, |(_, digits)| digits.len());
                    found.entry(column).or_default().insert(decimals);
                }
            }
        }
        assert!(!found.is_empty(), "{name}");
        assert!(
            found.values().all(|one| one.len() == 1),
            "{name}: {found:?}"
        );
        true
    });
    assert!(asked > LEAST, "{asked}");
}

fn refused(arguments: &[&str]) -> Run {
    let folder = Folder::new(&format!("refused-{:x}", arguments.as_ptr() as usize));
    let target = folder.file("chart.pdf");
    let run = zeotrope(&[&["chart"], arguments, &["--output", &target]].concat());
    assert_ne!(run.code, 0, "{arguments:?}");
    assert!(!std::path::Path::new(&target).exists());
    run
}

/// Columns that are too wide for a form are named with their refrigerant and with how many fit.
#[test]
fn a_column_too_wide_says_which() {
    for form in ["wall", "folded", "wallet", "strip", "sheet"] {
        let wide = [
            "--columns",
            "bubble,dew,mean",
            "--tolerance",
            "--also",
            "bara",
        ];
        for names in [&["R-407C"][..], &["R-407C", "R-134a"]] {
            let chart = [names, &wide, &["--form", form]].concat();
            let told = refused(&chart).err;
            let which =
                format!("columns of 'R-407C \u{b7} A1' are wider than a panel of the form {form}");
            assert!(told.contains(&which), "{form}: {told}");
            let holds = told
                .split("at most ")
                .nth(1)
                .unwrap_or_else(|| panic!("{told}"));
            let (holds, rest) = holds.split_once(' ').unwrap();
            let holds: usize = holds.parse().unwrap();
            assert!(rest.starts_with("of its 14 columns"), "{told}");
            assert!((1..14).contains(&holds), "{told}");
        }
    }
}

/// Rows that are too many: with as many as the hint says they fit.
#[test]
fn rows_too_many_say_how_many_fit() {
    for form in ["wallet", "sheet"] {
        let told = refused(&["R-407C", "--form", form, "--step", "0.5F"]).err;
        assert!(told.contains("does not hold 381 rows"), "{told}");
        let most = told
            .split("at most ")
            .nth(1)
            .unwrap_or_else(|| panic!("{told}"));
        let most: f64 = most.split(',').next().unwrap().parse().unwrap();
        assert!((20.0..200.0).contains(&most), "{told}");
        // Rows of whole degrees, as those asked for nearly are.
        let step = format!("{}F", (190.0 / (most - 1.0)).ceil());
        bytes(&["R-407C", "--form", form, "--step", &step]);
    }
    // A shop's own lines can be what is too much.
    let long = "A note that does not end. ".repeat(250);
    let told = refused(&["R-290", "--form", "wallet", "--note", &long]).err;
    assert!(told.contains("less around the table"), "{told}");
}
