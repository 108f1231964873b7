//! What is counted over the rows of a sheet.

use super::job::Reply;
use super::record::Slips;
use crate::Warning;

/// What is counted over all rows.
#[derive(Debug, Clone, Default, PartialEq)]
#[non_exhaustive]
pub struct Tally {
    /// Rows.
    pub rows: u64,
    /// Those with an answer or a part of it.
    pub answered: u64,
    /// Those without an answer or a part of it.
    pub with_error: u64,
    /// Row, counted from 1 below the head, and its error.
    pub first_error: Option<(u64, String)>,
    /// The first of its code, the number of rows that have it, the first of them.
    pub warnings: Vec<(Warning, u64, u64)>,
    /// Quotation marks taken for characters.
    pub slips: Slips,
}

impl Tally {
    /// Rows without any answer.
    pub const fn unanswered(&self) -> u64 {
        self.rows - self.answered
    }

    /// Rows that lack a part of their answer.
    pub const fn in_part(&self) -> u64 {
        self.with_error - self.unanswered()
    }

    /// Counts a row.
    pub fn count(&mut self, reply: &Reply) {
        self.rows += 1;
        let row = self.rows;
        self.answered += u64::from(!reply.values.is_empty());
        if !reply.error.is_empty() {
            self.with_error += 1;
            self.first_error
                .get_or_insert_with(|| (row, reply.error.clone()));
        }
        for warning in &reply.warnings {
            match self
                .warnings
                .iter_mut()
                .find(|(known, ..)| known.code() == warning.code())
            {
                Some((_, rows, _)) => *rows += 1,
                None => self.warnings.push((warning.clone(), 1, row)),
            }
        }
    }
}
