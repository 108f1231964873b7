//! A loss from every corner of the published tolerances.

use serde::Serialize;

use super::book::{Book, follow};
use super::lines::Card;
use super::question::LossQuestion;
use super::trace::Trace;
use crate::catalogue::corners as corners_of;
use crate::error::Result;
use crate::refrigerant::Refrigerant;

/// The lowest and highest over the corners.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Range {
    /// The lowest.
    pub lowest: f64,
    /// The highest.
    pub highest: f64,
}

/// One share lost, over the corners; arrays in the order of the composition.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct OverCorners {
    /// The share of the mass lost; the end of each corner's own loss where that comes before.
    pub lost_mass_fraction: f64,
    /// What is left, by mass.
    pub remaining_mass_fractions: Vec<Range>,
    /// The flammable share of the vapor.
    pub vapor_flammable_mass_fraction: Range,
    /// The flammable share of what is left.
    pub remaining_flammable_mass_fraction: Range,
    /// As in a row; none where a corner has no such point.
    #[serde(rename = "superheat_error_K")]
    pub superheat_error: Option<Range>,
    /// As in a row; none where a corner has no such point.
    #[serde(rename = "subcooling_error_K")]
    pub subcooling_error: Option<Range>,
}

/// A loss over the corners of the published tolerances.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Corners {
    /// How many corners there are.
    pub corners: usize,
    /// As the rows of the answer.
    pub rows: Vec<OverCorners>,
}

/// The corners of a listed blend followed; none where no tolerance is published.
pub(super) fn corners(
    listed: &Refrigerant,
    question: &LossQuestion,
    asked: &[f64],
) -> Result<Option<Corners>> {
    let Some((record, found)) = listed
        .blend()
        .and_then(|record| Some((record, corners_of(record)?)))
    else {
        return Ok(None);
    };
    let card = Card::of(listed, question.suction, question.liquid);
    let question = &LossQuestion {
        refill: None,
        ..question.clone()
    };
    let mut table: Vec<Vec<super::Row>> = vec![Vec::new(); asked.len()];
    for corner in &found {
        let names = record.components.iter().map(|one| one.refrigerant.as_str());
        let shares: Vec<(&str, f64)> = names.zip(corner.iter().copied()).collect();
        let mut book = Book::new(listed, card, question);
        let (trace, start) = follow(listed, question, &book, &shares)?;
        for (rows, &lost) in table.iter_mut().zip(asked) {
            let moment = trace.moment(lost.min(trace.end.0))?;
            rows.push(book.row(&trace.vessel, &start, &moment));
        }
    }
    let rows = table.iter().zip(asked).map(|(rows, &lost)| {
        let over = |value: &dyn Fn(&super::Row) -> f64| {
            let values = rows.iter().map(value);
            Range {
                lowest: values.clone().fold(f64::INFINITY, f64::min),
                highest: values.fold(f64::NEG_INFINITY, f64::max),
            }
        };
        let known = |value: &dyn Fn(&super::Row) -> Option<f64>| {
            let all = rows.iter().all(|row| value(row).is_some());
            all.then(|| over(&|row| value(row).unwrap_or_default()))
        };
        OverCorners {
            lost_mass_fraction: lost,
            remaining_mass_fractions: (0..listed.components().len())
                .map(|k| over(&|row| row.remaining_mass_fractions[k]))
                .collect(),
            vapor_flammable_mass_fraction: over(&|row| row.vapor_flammable_mass_fraction),
            remaining_flammable_mass_fraction: over(&|row| row.remaining_flammable_mass_fraction),
            superheat_error: known(&|row| row.superheat_error),
            subcooling_error: known(&|row| row.subcooling_error),
        }
    });
    Ok(Some(Corners {
        corners: found.len(),
        rows: rows.collect(),
    }))
}

/// Halvings of a step when the edge of the tolerance is sought.
const HALVINGS: usize = 40;
/// Rounding of a mass fraction.
const ROUNDING: f64 = 1e-9;

/// The share lost up to which what leaves stays within the tolerances.
pub(super) fn leaving_within(
    listed: &Refrigerant,
    trace: &Trace<'_>,
    book: &Book<'_>,
) -> Result<Option<f64>> {
    let Some(record) = listed.blend() else {
        return Ok(None);
    };
    let mut limits = Vec::new();
    for one in listed.components() {
        let mut own = record.components.iter();
        let Some(limit) = own
            .find(|own| own.refrigerant == one.designation)
            .and_then(|own| own.tolerance_mass_percent)
        else {
            return Ok(None);
        };
        limits.push((one.mass_fraction, limit));
    }
    let within = |lost: f64| -> Result<bool> {
        let leaving = book.leaving(&trace.vessel, &trace.moment(lost)?);
        Ok(leaving
            .iter()
            .zip(&limits)
            .all(|(w, (own, [below, above]))| {
                let percent = 100.0 * (w - own);
                percent >= -below - ROUNDING && percent <= above + ROUNDING
            }))
    };
    let mut good = 0.0;
    if !within(good)? {
        return Ok(Some(0.0));
    }
    let end = trace.end.0;
    for lost in trace.places().filter(|lost| *lost < end).chain([end]) {
        if within(lost)? {
            good = lost;
            continue;
        }
        let mut bad = lost;
        for _ in 0..HALVINGS {
            let middle = 0.5 * (good + bad);
            if within(middle)? {
                good = middle;
            } else {
                bad = middle;
            }
        }
        return Ok(Some(good));
    }
    Ok(Some(end))
}
