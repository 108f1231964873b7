//! Loss and top-up in rounds, each back to the mass at the start.

use super::answer::{Book, Round, Row, floor};
use super::question::Question;
use super::trace::{Moment, Trace};
use super::vessel::Amounts;
use crate::error::Result;

/// Rounds after which a limit is given up.
const MOST_ROUNDS: usize = 500;
/// Change of a mass fraction by a round that counts as none.
const SETTLED: f64 = 1e-9;
/// Share lost each round where no share is asked for.
const USUAL: f64 = 0.3;

/// The rounds asked for, and what they tend to.
pub(super) fn rounds(
    trace: &Trace<'_>,
    book: &mut Book<'_>,
    start: &Amounts,
    question: &Question,
) -> Result<(Vec<Round>, Option<Row>)> {
    let Some(refill) = &question.refill else {
        return Ok((Vec::new(), None));
    };
    let vessel = &trace.vessel;
    let shares: Vec<(&str, f64)> = refill
        .refrigerant
        .components()
        .iter()
        .map(|one| (one.designation.as_str(), one.mass_fraction))
        .collect();
    let added = book.amounts(vessel, &shares);
    let mut told = Vec::new();
    let mut followed = trace.clone();
    let mut before = *start;
    for round in 1..=MOST_ROUNDS {
        let lost = share(question).min(followed.end.0);
        let mut amounts = followed.amounts(lost);
        for (n, added) in amounts.iter_mut().zip(&added) {
            *n += lost * added;
        }
        let contents = vessel.contents(&amounts, None)?;
        let change = vessel
            .by_mass(&amounts)
            .iter()
            .zip(vessel.by_mass(&before))
            .fold(0.0, |most: f64, (a, b)| most.max((a - b).abs()));
        let settled = change < SETTLED;
        if round <= refill.rounds || settled {
            let row = book.row(vessel, start, &Moment::full(amounts, contents, question));
            if round <= refill.rounds {
                told.push(Round {
                    round,
                    row: row.clone(),
                });
            }
            if settled && round >= refill.rounds {
                return Ok((told, Some(row)));
            }
        }
        before = amounts;
        let begun = (vessel.clone(), contents);
        followed = Trace::of(begun, &amounts, question.leaving, floor(question))?;
    }
    Ok((told, None))
}

/// The share lost before each top-up: the largest asked for.
pub(super) fn share(question: &Question) -> f64 {
    let asked = question.lost.iter().copied().reduce(f64::max);
    asked.unwrap_or(USUAL)
}
