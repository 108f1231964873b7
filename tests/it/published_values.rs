//! Every published value of `tests/data/published_values.csv` against the engine. Each row carries
//! its source; where one may lie outside its tolerance, the exception names the reason.

use std::sync::OnceLock;

use zeotrope::catalogue::Catalogue;
use zeotrope::validation::{self, CheckOutcome, CheckedRow, exceptions};

/// The table's rows, counted by hand of `wc -l`, head line apart.
const ROWS: usize = 2276;

fn comparisons() -> &'static [CheckedRow] {
    static ONCE: OnceLock<Vec<CheckedRow>> = OnceLock::new();
    ONCE.get_or_init(|| validation::published_values(&Catalogue::embedded()).unwrap())
}

fn line(comparison: &CheckedRow) -> String {
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
        .filter(|one| one.verdict == CheckOutcome::Outside)
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
            assert_eq!(one.verdict, CheckOutcome::Excepted(reason), "{}", line(one));
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
fn every_row_out_of_range_really_has_no_answer() {
    for (rows, reason) in exceptions::OUT_OF_RANGE {
        for id in *rows {
            let one = comparisons().iter().find(|one| one.row.id == *id).unwrap();
            assert_eq!(one.verdict, CheckOutcome::Listed(reason), "{}", line(one));
            let problem = one.computed.as_ref().unwrap_err();
            assert!(problem.contains("is outside"), "{}", line(one));
        }
    }
}

#[test]
fn every_judged_row_has_a_tolerance() {
    for one in comparisons() {
        if !matches!(one.verdict, CheckOutcome::Listed(_)) {
            assert!(one.tolerance > 0.0, "{}", line(one));
        }
    }
}

/// Blends are answered from -60 °C on; Table 2 of the handbook gives some colder points.
#[test]
fn every_listed_blend_has_its_published_points() {
    let distances = validation::blend_distances(&Catalogue::embedded()).unwrap();
    assert!(distances.len() > 200, "{}", distances.len());
    for (one, _) in distances {
        assert!(one.computed.is_ok() || one.published < -60.0, "{one:?}");
    }
}

/// 4898 points, 85 of them suspect: counted in the table, head line apart.
#[test]
fn every_measured_point_is_counted_once() {
    let pairs = validation::measured_bubble_points(&Catalogue::embedded()).unwrap();
    assert_eq!(pairs.len(), 93);
    let suspect: usize = pairs.iter().map(|pair| pair.suspect).sum();
    let rest: usize = pairs.iter().map(|pair| pair.points + pair.unanswered).sum();
    assert_eq!((rest, suspect), (4813, 85));
}

#[test]
fn the_middle_one_of_sizes() {
    assert_eq!(validation::median([].into_iter()), None);
    assert_eq!(validation::median([-3.0, 1.0, 2.0].into_iter()), Some(2.0));
    assert_eq!(validation::median([1.0, -2.0].into_iter()), Some(1.5));
}
