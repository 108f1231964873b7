//! Columns in parts, cut into pieces that lie in one part of each.

use arrow_buffer::NullBuffer;

use crate::engine::Question;
use crate::names::Known;

/// A part of a column: its values, and which of them are not null.
pub(crate) type Part<'a> = (&'a [f64], Option<&'a NullBuffer>);

/// Where the values of one property come from.
pub(crate) enum Values<'a> {
    /// The same number in every row.
    Same(f64),
    /// A column in parts, one after the other.
    Parts(Vec<Part<'a>>),
}

/// Where the refrigerants come from.
pub(crate) enum Refrigerants<'a> {
    /// The same in every row.
    Same(&'a Known),
    /// Keys in parts, each the place of a refrigerant, or [`NO_NAME`](crate::names::NO_NAME).
    Keys(Vec<&'a [u32]>, &'a [Known]),
}

/// What is to be answered.
pub(crate) struct Task<'a> {
    pub(crate) question: Question,
    pub(crate) refrigerants: Refrigerants<'a>,
    /// One property, or two.
    pub(crate) values: Vec<Values<'a>>,
    /// What is added to the values of each property: the atmosphere to a gauge pressure.
    pub(crate) added: [f64; 2],
    pub(crate) rows: usize,
    pub(crate) threads: usize,
    /// Whether signals are looked for: handlers run on the main thread alone.
    pub(crate) is_watched: bool,
    /// Whether the first row without an answer ends it all.
    pub(crate) raises: bool,
}

/// Room for the answers.
pub(crate) struct Room<'a> {
    /// The question's columns of numbers.
    pub(crate) columns: Vec<&'a mut [f64]>,
    /// Phases of states; empty where none are asked for.
    pub(crate) phases: &'a mut [u8],
    /// Codes of rows; empty where none are asked for.
    pub(crate) codes: &'a mut [u8],
}

/// Rows that lie in one part of each column, and the room for their answers.
pub(crate) struct Piece<'a> {
    /// Place of its first row among all.
    pub(crate) first: usize,
    pub(crate) rows: usize,
    /// Values of each property, the rows' validity, and the place of the first in that.
    pub(crate) values: [Option<(Part<'a>, usize)>; 2],
    pub(crate) keys: Option<&'a [u32]>,
    pub(crate) room: Room<'a>,
}

/// Cuts the columns of a task.
pub(crate) struct Cutter<'a, 'b> {
    task: &'b Task<'a>,
    room: Room<'b>,
    first: usize,
    /// Part, and row in the part, of each property and of the keys.
    places: [(usize, usize); 3],
}

/// The place of the keys.
const KEYS: usize = 2;

impl<'a, 'b> Cutter<'a, 'b> {
    pub(crate) fn new(task: &'b Task<'a>, room: Room<'b>) -> Self {
        Self {
            task,
            room,
            first: 0,
            places: [(0, 0); 3],
        }
    }

    /// The next piece; `None` after the last.
    pub(crate) fn next(&mut self) -> Option<Piece<'b>> {
        let left = self.task.rows - self.first;
        let mut rows = self.task.question.piece().min(left);
        for (place, values) in self.places.iter_mut().zip(&self.task.values) {
            if let Values::Parts(parts) = values {
                rows = rows.min(left_in_part(place, |part| Some(parts.get(part)?.0.len())));
            }
        }
        if let Refrigerants::Keys(parts, _) = &self.task.refrigerants {
            let place = &mut self.places[KEYS];
            rows = rows.min(left_in_part(place, |part| Some(parts.get(part)?.len())));
        }
        if rows == 0 {
            return None;
        }
        let mut values = [None, None];
        for (k, one) in self.task.values.iter().enumerate() {
            if let Values::Parts(parts) = one {
                let (part, from) = self.places[k];
                let (slice, valid) = parts[part];
                values[k] = Some(((&slice[from..from + rows], valid), from));
                self.places[k].1 += rows;
            }
        }
        let keys = match &self.task.refrigerants {
            Refrigerants::Same(_) => None,
            Refrigerants::Keys(parts, _) => {
                let (part, from) = self.places[KEYS];
                self.places[KEYS].1 += rows;
                Some(&parts[part][from..from + rows])
            }
        };
        let first = self.first;
        self.first += rows;
        Some(Piece {
            first,
            rows,
            values,
            keys,
            room: self.room.split(rows),
        })
    }
}

/// Moves on past parts that are used up; rows left in the part then reached, 0 behind the last.
fn left_in_part(place: &mut (usize, usize), rows: impl Fn(usize) -> Option<usize>) -> usize {
    while let Some(rows) = rows(place.0) {
        if place.1 < rows {
            return rows - place.1;
        }
        *place = (place.0 + 1, 0);
    }
    0
}

impl<'a> Room<'a> {
    fn split(&mut self, rows: usize) -> Self {
        fn head<'a, T>(slice: &mut &'a mut [T], rows: usize) -> &'a mut [T] {
            let whole = std::mem::take(slice);
            let (head, rest) = whole.split_at_mut(rows.min(whole.len()));
            *slice = rest;
            head
        }
        let columns = self.columns.iter_mut();
        Self {
            columns: columns.map(|column| head(column, rows)).collect(),
            phases: head(&mut self.phases, rows),
            codes: head(&mut self.codes, rows),
        }
    }
}
