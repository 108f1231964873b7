//! Loss and top-up in rounds, each back to the mass at the start.

use super::book::{Book, Round, Row, floor};
use super::question::{LossQuestion, Refill};
use super::trace::{Moment, Trace};
use super::vessel::Amounts;
use crate::equilibrium::at_volume::InVolume;
use crate::error::Result;

/// Rounds after which a limit is given up.
const MOST_ROUNDS: usize = 500;
/// Change of a mass fraction by a round that counts as none.
const SETTLED: f64 = 1e-9;
/// Share lost each round where no share is asked for.
const USUAL: f64 = 0.3;

/// One top-up after another.
pub(super) struct Topped<'a, 'q> {
    followed: Trace<'a>,
    /// Moles per kg of what is filled in.
    added: Amounts,
    question: &'q LossQuestion,
    /// What the next loss begins with, where a top-up was before it.
    full: Option<(Amounts, InVolume)>,
}

impl<'a, 'q> Topped<'a, 'q> {
    /// Before the first top-up; the loss before it is followed already.
    pub(super) fn new(
        trace: &Trace<'a>,
        book: &Book<'_>,
        question: &'q LossQuestion,
        refill: &Refill,
    ) -> Self {
        let components = refill.refrigerant.components().iter();
        let shares: Vec<(&str, f64)> = components
            .map(|one| (one.designation.as_str(), one.mass_fraction))
            .collect();
        Self {
            added: book.amounts(&trace.vessel, &shares),
            followed: trace.clone(),
            question,
            full: None,
        }
    }

    /// The next loss: followed from what there is, and the share lost before the top-up.
    pub(super) fn lose(&mut self) -> Result<(&Trace<'a>, f64)> {
        if let Some((amounts, contents)) = self.full.take() {
            self.followed = self
                .followed
                .again(contents, &amounts, floor(self.question))?;
        }
        Ok((&self.followed, self.lost()))
    }

    fn lost(&self) -> f64 {
        share(self.question).min(self.followed.end.0)
    }

    /// The top-up after a loss: what there is then, and how it stands in the vessel.
    pub(super) fn top_up(&mut self) -> Result<(Amounts, InVolume)> {
        let lost = self.lost();
        let mut amounts = self.followed.amounts(lost);
        for (n, added) in amounts.iter_mut().zip(&self.added) {
            *n += lost * added;
        }
        let contents = self.followed.vessel.contents(&amounts, None)?;
        self.full = Some((amounts, contents));
        Ok((amounts, contents))
    }

    /// The next loss and top-up.
    fn next(&mut self) -> Result<(Amounts, Moment)> {
        self.lose()?;
        let (amounts, contents) = self.top_up()?;
        let moment = self.followed.holding(0.0, amounts, Some(&contents));
        Ok((amounts, moment))
    }
}

/// The rounds asked for, and what they tend to.
pub(super) fn rounds(
    trace: &Trace<'_>,
    book: &mut Book<'_>,
    start: &Amounts,
    question: &LossQuestion,
) -> Result<(Vec<Round>, Option<Row>)> {
    let Some(refill) = &question.refill else {
        return Ok((Vec::new(), None));
    };
    let vessel = &trace.vessel;
    let mut topped = Topped::new(trace, book, question, refill);
    let mut told = Vec::new();
    let mut before = *start;
    for round in 1..=MOST_ROUNDS {
        let (amounts, moment) = topped.next()?;
        let change = vessel
            .by_mass(&amounts)
            .iter()
            .zip(vessel.by_mass(&before))
            .fold(0.0, |most: f64, (a, b)| most.max((a - b).abs()));
        let settled = change < SETTLED;
        if round <= refill.rounds || settled {
            let row = book.row(vessel, start, &moment);
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
    }
    Ok((told, None))
}

/// The share lost before each top-up: the largest asked for.
pub(super) fn share(question: &LossQuestion) -> f64 {
    let asked = question.lost.iter().copied().reduce(f64::max);
    asked.unwrap_or(USUAL)
}
