//! Rows of columns answered piece by piece, on one thread or several, until a signal.
//!
//! Threads are made for a call and end with it: a child process that was forked has none of its
//! parent's, and would wait for a pool of them without end.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use pyo3::prelude::*;
use zeotrope::{Error, Refrigerant};

use crate::engine::{self, Question};
use crate::failure::{self, ANSWERED, MISSING};
use crate::names::{Known, NO_NAME};
use crate::pieces::{Cutter, Part, Piece, Refrigerants, Room, Task, Values};

/// Longest time without a look for signals.
const PATIENCE: Duration = Duration::from_millis(10);

/// Why a task ended early.
pub(crate) enum Ended {
    /// By a signal: what its handler raised.
    Interrupted(PyErr),
    /// By a row without an answer.
    Row(usize, Error),
}

/// Answers a task into the room given. To be called without the interpreter's lock.
pub(crate) fn answer(task: &Task<'_>, room: Room<'_>) -> Result<(), Ended> {
    let cutter = Mutex::new(Cutter::new(task, room));
    let stop = AtomicBool::new(false);
    let earliest: Mutex<Option<(usize, Error)>> = Mutex::new(None);
    let work = |go_on: &mut dyn FnMut() -> bool| {
        let mut desk = Desk::default();
        while !stop.load(Ordering::Relaxed) && go_on() {
            let Some(piece) = lock(&cutter).next() else {
                break;
            };
            if let Some(found) = desk.answer(task, piece) {
                // pieces before this one are taken already, and are finished
                stop.store(true, Ordering::Relaxed);
                let mut earliest = lock(&earliest);
                if earliest.as_ref().is_none_or(|other| found.0 < other.0) {
                    *earliest = Some(found);
                }
            }
        }
    };
    let mut interrupted = None;
    let mut looked = Instant::now();
    let mut look = || {
        if !task.is_watched || looked.elapsed() < PATIENCE {
            return true;
        }
        looked = Instant::now();
        if let Err(error) = Python::attach(|py| py.check_signals()) {
            interrupted = Some(error);
            stop.store(true, Ordering::Relaxed);
        }
        interrupted.is_none()
    };
    // no more threads than pieces
    let threads = task.threads.min(task.rows.div_ceil(task.question.piece()));
    if threads <= 1 {
        work(&mut look);
    } else {
        std::thread::scope(|scope| {
            for _ in 1..threads {
                scope.spawn(|| work(&mut || true));
            }
            work(&mut look);
        });
    }
    if let Some(error) = interrupted {
        return Err(Ended::Interrupted(error));
    }
    match lock(&earliest).take() {
        Some((row, error)) => Err(Ended::Row(row, error)),
        None => Ok(()),
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// What a thread works with: the columns of a piece that are not ready as they lie in memory.
#[derive(Default)]
struct Desk {
    values: [Vec<f64>; 2],
    by_name: ByName,
}

impl Desk {
    /// Answers a piece; where rows without an answer are raised, the first of them.
    fn answer(&mut self, task: &Task<'_>, piece: Piece<'_>) -> Option<(usize, Error)> {
        let Self { values, by_name } = self;
        let [a, b] = values;
        let column = |place: usize, scratch| {
            let values = task.values.get(place)?;
            let given = (values, piece.values[place]);
            Some(ready(given, task.added[place], piece.rows, scratch))
        };
        let a = column(0, a).unwrap_or_default();
        let b = column(1, b).unwrap_or_default();
        let Room {
            columns,
            phases,
            codes,
        } = piece.room;
        for (row, code) in codes.iter_mut().enumerate() {
            let is_missing = a[row].is_nan() || b.get(row).is_some_and(|b| b.is_nan());
            *code = if is_missing { MISSING } else { ANSWERED };
        }
        let mut earliest: Option<(usize, Error)> = None;
        let mut failed = |row: usize, error: Error| {
            if let Some(code) = codes.get_mut(row) {
                *code = failure::code(&error);
            }
            let row = piece.first + row;
            if task.raises && earliest.as_ref().is_none_or(|one| row < one.0) {
                earliest = Some((row, error));
            }
        };
        match (&task.refrigerants, piece.keys) {
            (Refrigerants::Keys(_, known), Some(keys)) => {
                let given = (keys, *known, a, b);
                by_name.answer(task.question, given, columns, phases, &mut failed);
                // a null among the names, wherever a value stands next to it
                for (code, key) in codes.iter_mut().zip(keys) {
                    if *key == NO_NAME {
                        *code = MISSING;
                    }
                }
            }
            (Refrigerants::Same(known), _) => {
                one_refrigerant(task.question, known, (a, b), columns, phases, &mut failed);
            }
            // keys are cut where there are keys
            (Refrigerants::Keys(..), None) => {}
        }
        earliest
    }
}

/// The values of a piece as they are asked with: as they lie in memory where that can be, else
/// written into `scratch`, NaN for null.
fn ready<'a>(
    (values, part): (&Values<'_>, Option<(Part<'a>, usize)>),
    added: f64,
    rows: usize,
    scratch: &'a mut Vec<f64>,
) -> &'a [f64] {
    scratch.clear();
    match (values, part) {
        (_, Some(((slice, None), _))) if added == 0.0 => return slice,
        (_, Some(((slice, valid), from))) => {
            let is_valid = |row: usize| valid.is_none_or(|valid| valid.is_valid(from + row));
            let given = slice.iter().enumerate();
            scratch.extend(given.map(|(row, value)| {
                if is_valid(row) {
                    value + added
                } else {
                    f64::NAN
                }
            }));
        }
        (Values::Same(value), None) => scratch.resize(rows, value + added),
        (Values::Parts(_), None) => scratch.resize(rows, f64::NAN),
    }
    scratch
}

/// Rows of one refrigerant.
fn one_refrigerant(
    question: Question,
    known: &Known,
    (a, b): (&[f64], &[f64]),
    mut columns: Vec<&mut [f64]>,
    phases: &mut [u8],
    failed: &mut dyn FnMut(usize, Error),
) {
    let refrigerant = match known {
        Ok(refrigerant) => refrigerant,
        Err(error) => {
            columns.iter_mut().for_each(|column| column.fill(f64::NAN));
            phases.fill(0);
            (0..a.len()).for_each(|row| failed(row, error.clone()));
            return;
        }
    };
    asked(question, refrigerant, (a, b), &mut columns, phases, failed);
}

fn asked(
    question: Question,
    refrigerant: &Refrigerant,
    (a, b): (&[f64], &[f64]),
    columns: &mut [&mut [f64]],
    phases: &mut [u8],
    failed: &mut dyn FnMut(usize, Error),
) {
    match (question, columns) {
        (Question::Number(number), [answers]) => {
            engine::numbers(refrigerant, number, (a, b), answers, failed);
        }
        (Question::State(state), columns) => {
            engine::states(refrigerant, &state, (a, b), columns, phases, failed);
        }
        // a number has one column
        (Question::Number(_), _) => {}
    }
}

/// Rows of many refrigerants, gathered by refrigerant.
#[derive(Default)]
struct ByName {
    /// How many rows of the piece have each key; then where the next of them goes in `order`.
    places: Vec<u32>,
    /// Rows of the piece, those of one key next to each other.
    order: Vec<u32>,
    values: [Vec<f64>; 2],
    columns: Vec<Vec<f64>>,
    phases: Vec<u8>,
}

impl ByName {
    fn answer(
        &mut self,
        question: Question,
        (keys, known, a, b): (&[u32], &[Known], &[f64], &[f64]),
        mut columns: Vec<&mut [f64]>,
        phases: &mut [u8],
        failed: &mut dyn FnMut(usize, Error),
    ) {
        let first = keys.first().copied().unwrap_or(NO_NAME);
        if first != NO_NAME && keys.iter().all(|key| *key == first) {
            let known = &known[first as usize];
            return one_refrigerant(question, known, (a, b), columns, phases, failed);
        }
        self.gather(keys, known.len());
        let order = std::mem::take(&mut self.order);
        for same in order.chunk_by(|one, next| keys[*one as usize] == keys[*next as usize]) {
            let known = known.get(keys[same[0] as usize] as usize);
            self.one_name(question, known, same, (a, b), &mut columns, phases, failed);
        }
        self.order = order;
    }

    /// Orders the rows by their keys: by counting, or by sorting where names are more than rows.
    fn gather(&mut self, keys: &[u32], names: usize) {
        let Self { places, order, .. } = self;
        order.clear();
        if names > keys.len() {
            order.extend(0..keys.len() as u32);
            order.sort_by_key(|row| keys[*row as usize]);
            return;
        }
        // a place behind the names for rows without one
        let slot = |key: u32| (key as usize).min(names);
        places.clear();
        places.resize(names + 1, 0);
        keys.iter().for_each(|key| places[slot(*key)] += 1);
        let mut next = 0;
        for place in places.iter_mut() {
            next += *place;
            *place = next - *place;
        }
        order.resize(keys.len(), 0);
        for (row, key) in (0..).zip(keys) {
            let place = &mut places[slot(*key)];
            order[*place as usize] = row;
            *place += 1;
        }
    }

    /// Rows of one key; without a refrigerant where the name is null.
    #[allow(clippy::too_many_arguments)] // what a piece has, and where its answers go
    fn one_name(
        &mut self,
        question: Question,
        known: Option<&Known>,
        same: &[u32],
        (a, b): (&[f64], &[f64]),
        columns: &mut [&mut [f64]],
        phases: &mut [u8],
        failed: &mut dyn FnMut(usize, Error),
    ) {
        let rows = same.iter().map(|row| *row as usize);
        let Some(Ok(refrigerant)) = known else {
            for row in rows {
                columns.iter_mut().for_each(|column| column[row] = f64::NAN);
                if let Some(phase) = phases.get_mut(row) {
                    *phase = 0;
                }
                if let Some(Err(error)) = known {
                    failed(row, error.clone());
                }
            }
            return;
        };
        for (gathered, given) in self.values.iter_mut().zip([a, b]) {
            gathered.clear();
            gathered.extend(rows.clone().filter_map(|row| given.get(row)));
        }
        self.columns.resize(columns.len(), Vec::new());
        for column in &mut self.columns {
            column.resize(same.len(), f64::NAN);
        }
        self.phases.resize(phases.len().min(same.len()), 0);
        let mut answers: Vec<&mut [f64]> = self.columns.iter_mut().map(Vec::as_mut_slice).collect();
        let given = (self.values[0].as_slice(), self.values[1].as_slice());
        asked(
            question,
            refrigerant,
            given,
            &mut answers,
            &mut self.phases,
            &mut |place, error| failed(same[place] as usize, error),
        );
        for (place, row) in rows.enumerate() {
            for (column, answers) in columns.iter_mut().zip(&self.columns) {
                column[row] = answers[place];
            }
            if let (Some(phase), Some(answer)) = (phases.get_mut(row), self.phases.get(place)) {
                *phase = *answer;
            }
        }
    }
}
