//! A row with its answer, as it is written.

use super::answers::{Answers, Value};
use super::record::{Record, write_cell};
use crate::Warning;

/// What a row is answered with.
#[derive(Debug, Default)]
pub struct Reply {
    /// A value for each key of the answer; none where there is no answer at all.
    pub values: Vec<Value>,
    /// Why there is no answer, or which part of it is missing; empty otherwise.
    pub error: String,
    /// What to know about the answer.
    pub warnings: Vec<Warning>,
}

impl Reply {
    /// No answer, with the reason.
    pub fn none(&mut self, error: impl Into<String>) {
        self.values.clear();
        self.error = error.into();
    }

    fn clear(&mut self) {
        self.values.clear();
        self.error.clear();
        self.warnings.clear();
    }
}

/// How lines are written.
#[derive(Debug, Clone, Copy)]
pub struct LineFormat {
    /// Cells of the header.
    pub width: usize,
    /// What parts cells.
    pub separator: u8,
    /// Whether numbers have decimal commas.
    pub has_commas: bool,
}

/// A row and its answer.
#[derive(Debug)]
pub struct Job<T> {
    /// The row.
    pub row: Record,
    /// What its values are made of.
    pub value: Option<T>,
    /// Its answer.
    pub reply: Reply,
    /// The row with its answer, as written.
    pub text: Vec<u8>,
}

impl<T> Job<T> {
    /// A row that has no answer yet.
    pub fn from_record(row: Record) -> Self {
        Self {
            row,
            value: None,
            reply: Reply::default(),
            text: Vec::new(),
        }
    }

    /// Answers the row and writes it with its answer.
    pub fn answer(
        &mut self,
        format: &LineFormat,
        answers: &Answers,
        one: impl Fn(&Record, &mut Reply) -> Option<T>,
    ) {
        let width = format.width;
        self.reply.clear();
        let mut extra = self.row.iter().skip(width);
        self.value = match extra.all(|cell| cell.trim_ascii().is_empty()) {
            true => one(&self.row, &mut self.reply),
            false => {
                let extra = self.row.iter().skip(width).map(String::from_utf8_lossy);
                self.reply.none(format!(
                    "the row has {} cells, the header {width}; ignored: {}",
                    self.row.len(),
                    extra.collect::<Vec<_>>().join(",")
                ));
                None
            }
        };
        self.text.clear();
        let separator = format.separator;
        self.row.write(width, separator, &mut self.text);
        answers.write(
            &self.reply.values,
            separator,
            format.has_commas,
            &mut self.text,
        );
        self.text.push(separator);
        let mut cell = |text: &str| write_cell(text.as_bytes(), separator, &mut self.text);
        cell(&self.reply.error);
        self.text.push(separator);
        for (at, warning) in self.reply.warnings.iter().enumerate() {
            if at > 0 {
                self.text.extend_from_slice(b" ");
            }
            self.text.extend_from_slice(warning.code().as_bytes());
        }
        self.text.push(b'\n');
    }
}
