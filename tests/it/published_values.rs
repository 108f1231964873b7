//! Every published value of `tests/data/published_values.csv` against the engine. Each row carries
//! its source; where one may lie outside its tolerance, the exception names the reason.

use std::sync::OnceLock;

use zeotrope::validation::{self, Comparison, Verdict, exceptions};

/// The table's rows, counted by hand of `wc -l`, head line apart.
const ROWS: usize = 2276;

fn comparisons() -> &'static [Comparison] {
    static ONCE: OnceLock<Vec<Comparison>> = OnceLock::new();
    ONCE.get_or_init(|| validation::published_values().unwrap())
}

fn line(comparison: &Comparison) -> String {
    format!(
        "{}: published {} {}, computed {:?}, {:.3} of its tolerance; {} [{}]",
        comparison.row.name(),
        comparison.row.value,
        comparison.row.unit,
        comparison.computed,
        comparison.deviation,
        comparison.row.source,
        comparison.row.note,
    )
}

#[test]
fn no_row_is_skipped() {
    assert_eq!(comparisons().len(), ROWS);
    let mut ids: Vec<_> = comparisons().iter().map(|one| &one.row.id).collect();
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), ROWS);
    let by_source = validation::by_source(comparisons());
    assert_eq!(
        by_source.iter().map(|source| source.rows).sum::<usize>(),
        ROWS
    );
}

#[test]
fn every_row_is_within_its_tolerance_or_named() {
    let outside: Vec<String> = comparisons()
        .iter()
        .filter(|one| one.verdict == Verdict::Outside)
        .map(line)
        .collect();
    assert!(
        outside.is_empty(),
        "{} outside:\n{}",
        outside.len(),
        outside.join("\n")
    );
}

#[test]
fn every_exception_is_really_outside() {
    for (rows, reason) in exceptions::EXCEPTIONS {
        for id in *rows {
            let one = comparisons()
                .iter()
                .find(|one| one.row.id == *id)
                .unwrap_or_else(|| panic!("{id}: no such row"));
            assert_eq!(one.verdict, Verdict::Excepted(reason), "{}", line(one));
            assert!(one.deviation > 1.0, "{}", line(one));
            assert!(
                one.computed.is_ok(),
                "no answer is no exception: {}",
                line(one)
            );
        }
    }
}

#[test]
fn every_judged_row_has_a_tolerance() {
    for one in comparisons() {
        if !matches!(one.verdict, Verdict::Listed(_)) {
            assert!(one.tolerance > 0.0, "{}", line(one));
        }
    }
}
