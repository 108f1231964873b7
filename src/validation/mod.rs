//! The engine against published values: where it agrees, by how much, and where not and why.
//!
//! The values are those of the tests (`tests/data/`), none of them computed by this project. A
//! row is judged by the tolerance that stands beside it; the few other tolerances and the
//! exceptions are named in [`mod@exceptions`], each with its reason.

mod blends;
mod engine;
pub mod exceptions;
mod measured;
pub mod random;
pub(crate) mod reasons;
mod report;
mod rows;

pub use crate::service::deviation::BlendDeviation;
pub use blends::{AZEOTROPES, AZEOTROPES_REASON, blend_distances, median};
pub use measured::{
    AllVapors, AzeotropeDistance, DewDistance, PairDistance, TernaryDistance, VaporDistance,
    all_vapors, measured_azeotropes, measured_bubble_points, measured_dew_points,
    measured_ternaries, measured_vapors,
};
pub use report::Report;
pub use rows::{PublishedRow, Tier};

use crate::catalogue::Catalogue;
use crate::error::Result;
use engine::Engine;

/// What became of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CheckOutcome {
    /// Within its tolerance.
    Within,
    /// Outside its tolerance, for the reason named.
    Excepted(&'static str),
    /// Shown but not judged, for the reason named.
    Listed(&'static str),
    /// Outside its tolerance, or without an answer, and nobody knows why.
    Outside,
}

/// A row beside what the engine gives for it.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckedRow {
    /// The published value and its state.
    pub row: PublishedRow,
    /// The engine's value in the row's unit; what went wrong where there is none.
    pub computed: std::result::Result<f64, String>,
    /// Deviation allowed, in the row's unit (K for temperatures in degree C).
    pub tolerance: f64,
    /// Deviation in units of the tolerance; infinite where there is no value.
    pub deviation: f64,
    /// What became of it.
    pub verdict: CheckOutcome,
}

/// The rows of one source.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SourceSummary {
    /// How near the source is to the equations here.
    pub tier: Tier,
    /// Paper, book or standard.
    pub source: String,
    /// Number of rows.
    pub rows: usize,
    /// Rows that are judged and without exception.
    pub judged: usize,
    /// Largest deviation of the judged rows, in units of the tolerance.
    #[serde(rename = "worst_of_tolerance")]
    pub worst: f64,
    /// Which row that is: number, refrigerant and property.
    pub worst_row: String,
    /// Rows outside for a named reason.
    pub excepted: usize,
    /// Rows shown but not judged.
    pub listed: usize,
    /// Rows outside without a reason.
    pub outside: usize,
}

/// Compares the engine and the facts of a catalogue with every published value.
///
/// # Errors
/// [`crate::Error::File`] for a table that cannot be read; a row without an answer is no error
/// but counts as [`CheckOutcome::Outside`].
///
/// # Example
/// ```no_run
/// use zeotrope::catalogue::Catalogue;
/// let comparisons = zeotrope::validation::published_values(&Catalogue::embedded())?;
/// assert_eq!(comparisons.len(), 2276);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn published_values(catalogue: &Catalogue) -> Result<Vec<CheckedRow>> {
    let mut engine = Engine::new(catalogue);
    Ok(rows::published()?
        .into_iter()
        .map(|row| compare(&mut engine, row))
        .collect())
}

fn compare(engine: &mut Engine, row: PublishedRow) -> CheckedRow {
    let computed = engine.value(&row);
    let tolerance = exceptions::tolerance(&row);
    let deviation = match &computed {
        Ok(value) if value.is_finite() => (value - row.value).abs() / tolerance,
        _ => f64::INFINITY,
    };
    let verdict = if let Some(reason) = exceptions::listed(&row) {
        CheckOutcome::Listed(reason)
    } else if deviation <= 1.0 {
        CheckOutcome::Within
    } else {
        exceptions::reason(&row).map_or(CheckOutcome::Outside, CheckOutcome::Excepted)
    };
    CheckedRow {
        row,
        computed,
        tolerance,
        deviation,
        verdict,
    }
}

/// The comparisons by source, in the order of tiers and then of the table.
pub fn by_source(comparisons: &[CheckedRow]) -> Vec<SourceSummary> {
    let mut summaries: Vec<SourceSummary> = Vec::new();
    for comparison in comparisons {
        let row = &comparison.row;
        let known = summaries
            .iter()
            .position(|summary| summary.tier == row.tier && summary.source == row.source);
        let place = known.unwrap_or_else(|| {
            summaries.push(SourceSummary {
                tier: row.tier,
                source: row.source.clone(),
                rows: 0,
                judged: 0,
                worst: 0.0,
                worst_row: String::new(),
                excepted: 0,
                listed: 0,
                outside: 0,
            });
            summaries.len() - 1
        });
        let summary = &mut summaries[place];
        summary.rows += 1;
        match comparison.verdict {
            CheckOutcome::Excepted(_) => summary.excepted += 1,
            CheckOutcome::Listed(_) => summary.listed += 1,
            CheckOutcome::Within | CheckOutcome::Outside => {
                summary.judged += 1;
                summary.outside += usize::from(comparison.verdict == CheckOutcome::Outside);
                if comparison.deviation >= summary.worst {
                    summary.worst = comparison.deviation;
                    summary.worst_row = row.name();
                }
            }
        }
    }
    summaries.sort_by_key(|summary| summary.tier);
    summaries
}
