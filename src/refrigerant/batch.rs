//! Many questions at once: slices in, slices out.
//!
//! A row without an answer becomes NaN and its reason is kept; the other rows are not lost. With
//! the feature `parallel` the rows are shared among the threads of rayon's current pool. Each row
//! is answered as if it were alone, so that the answers are the same bits whatever the number of
//! threads.

#[cfg(feature = "parallel")]
use rayon::prelude::*;

use super::row::StateRow;
use super::{Given, ReferenceState, Refrigerant};
use crate::Phase;
use crate::error::{Error, Result};
use crate::numeric::chebyshev::{Cells, Table};

/// Rows that one thread takes at a time: few enough to share out a hundred slow ones.
pub(super) const PIECE: usize = 64;
/// The same of a line, where nearly all are quick.
const PIECE_OF_LINE: usize = 1024;

/// A row of a batch that has no answer, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Unanswered {
    /// Place of the row in the slices, from 0.
    pub row: usize,
    /// Why it has no answer.
    pub reason: Error,
}

/// Rows of a line that are summed side by side.
const LANES: usize = 8;
/// Rows from which on a table of a line's cells pays.
const MANY: usize = 512;

impl Refrigerant {
    /// Many states, each from two of its properties; see [`Refrigerant::state`].
    ///
    /// `phase` chooses where two states answer. Returns the rows without an answer, in their
    /// order: [`Refrigerant::state`]'s errors, and [`Error::NoState`] where more than one state is
    /// left or none is of that phase.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::refrigerant::StateRow;
    /// use zeotrope::{Given, Refrigerant, ReferenceState, units::Pressure};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let given = [0.0, 0.5, 1.0].map(|quality| Given::PressureQuality(Pressure::bar(3.4966), quality));
    /// let mut states = [StateRow::NONE; 3];
    /// assert!(r134a.states(&given, ReferenceState::Iir, None, &mut states)?.is_empty());
    /// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    /// assert!((states[1].temperature.in_celsius() - 5.0).abs() < 1e-3);
    /// assert!(states[1].cp.is_nan());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn states(
        &self,
        given: &[Given],
        zero: ReferenceState,
        phase: Option<Phase>,
        states: &mut [StateRow],
    ) -> Result<Vec<Unanswered>> {
        same_length(given.len(), states.len())?;
        Ok(in_pieces(states, PIECE, |start, states| {
            answered(start, states, StateRow::NONE, |row| {
                self.row(given[row], zero, phase)
            })
        }))
    }
}

pub(super) fn same_length(rows: usize, room: usize) -> Result<()> {
    if rows == room {
        return Ok(());
    }
    Err(Error::Lengths { rows, room })
}

/// Fills replies in pieces of a size, on all threads of the current pool where there are any; `piece` is
/// given the place of its first row.
pub(super) fn in_pieces<Reply: Send>(
    replies: &mut [Reply],
    size: usize,
    piece: impl Fn(usize, &mut [Reply]) -> Vec<Unanswered> + Sync + Send,
) -> Vec<Unanswered> {
    #[cfg(feature = "parallel")]
    if replies.len() > size {
        let pieces: Vec<Vec<Unanswered>> = replies
            .par_chunks_mut(size)
            .enumerate()
            .map(|(index, replies)| piece(index * size, replies))
            .collect();
        return pieces.into_iter().flatten().collect();
    }
    #[cfg(not(feature = "parallel"))]
    let _ = size;
    piece(0, replies)
}

/// Answers each row by itself; a row without an answer becomes `none`.
pub(super) fn answered<Reply: Copy>(
    start: usize,
    replies: &mut [Reply],
    none: Reply,
    one: impl Fn(usize) -> Result<Reply>,
) -> Vec<Unanswered> {
    let mut unanswered = Vec::new();
    for (row, reply) in (start..).zip(replies) {
        *reply = one(row).unwrap_or_else(|reason| {
            unanswered.push(Unanswered { row, reason });
            none
        });
    }
    unanswered
}

/// Reads a line at many places, several side by side where cells hold it; `cells` says those about a
/// place.
pub(super) fn line_batch<'c>(
    questions: &[f64],
    replies: &mut [f64],
    cells: impl Fn(f64) -> Option<Cells<'c>> + Sync + Send,
    one: impl Fn(f64) -> Result<f64> + Sync + Send,
) -> Result<Vec<Unanswered>> {
    same_length(questions.len(), replies.len())?;
    let size = match replies.len() < 8 * PIECE_OF_LINE {
        true => PIECE,
        false => PIECE_OF_LINE,
    };
    Ok(in_pieces(replies, size, |start, replies| {
        let mut unanswered = Vec::new();
        let asked = &questions[start..start + replies.len()];
        let held = |asked: f64| cells(asked).filter(|cells| !cells.value(asked).is_nan());
        let mut alone = |row: usize, asked: f64| {
            one(asked).unwrap_or_else(|reason| {
                unanswered.push(Unanswered { row, reason });
                f64::NAN
            })
        };
        if replies.len() < MANY {
            for (row, (reply, &asked)) in (start..).zip(replies.iter_mut().zip(asked)) {
                *reply = match held(asked) {
                    Some(cells) => cells.value(asked),
                    None => alone(row, asked),
                };
            }
            return unanswered;
        }
        let mut table = Table::default();
        let groups = replies.chunks_mut(LANES).zip(asked.chunks(LANES));
        for (first, (replies, asked)) in (start..).step_by(LANES).zip(groups) {
            let mut sum = 0.0;
            for (reply, asked) in replies.iter_mut().zip(asked) {
                *reply = table.value(*asked);
                sum += *reply;
            }
            if !sum.is_nan() {
                continue;
            }
            for (row, (reply, &asked)) in (first..).zip(replies.iter_mut().zip(asked)) {
                if !reply.is_nan() {
                    continue;
                }
                *reply = match held(asked) {
                    Some(cells) => {
                        table.add(cells);
                        cells.value(asked)
                    }
                    None => alone(row, asked),
                };
            }
        }
        unanswered
    }))
}

/// Does something with each row, on all threads of the current pool where there are any.
pub(crate) fn for_each_row<Row: Send>(rows: &mut [Row], one: impl Fn(&mut Row) + Sync + Send) {
    #[cfg(feature = "parallel")]
    rows.par_iter_mut().for_each(one);
    #[cfg(not(feature = "parallel"))]
    rows.iter_mut().for_each(one);
}
