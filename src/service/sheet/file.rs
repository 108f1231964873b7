//! Rows of a file, each answered by itself: read in pieces, answered on all cores, written in their
//! order.
//!
//! Memory holds one piece of rows, whatever the length of the file. All columns come back as they
//! were, then those of the answer, then `error`, which says why a row or a part of it has no
//! answer, and `warnings`; both are empty otherwise.

use std::collections::BTreeMap;
use std::io::{self, Read};

use super::{Answers, Clock, Decimal, Dialect, Job, LineFormat, Reader, Record, Reply, Tally};
use crate::error::{Blank, Reason};
use crate::refrigerant::for_each_row;
use crate::service::reasons;
use crate::units::{Atmosphere, BareUnit, DateOrder, Heads};
use crate::{Error, Result};

/// Rows in memory at a time.
const PIECE: usize = 8192;
/// The last columns.
const ERROR: &str = "error";
const WARNINGS: &str = "warnings";

/// Where rows come from.
pub struct Source {
    /// Their bytes.
    pub bytes: Box<dyn Read>,
    /// The name that errors say.
    pub name: String,
    /// Bytes of a file; none where rows come as they come.
    pub size: Option<u64>,
    /// Whether the end is only where it ends so far, so that an unfinished line waits.
    pub is_followed: bool,
}

/// What is said about the columns of a file and about how it is written.
#[derive(Debug, Clone)]
pub struct SheetQuestion {
    /// What a header with `kPa` or `MPa` means.
    pub bare: BareUnit,
    /// What columns are: `NAME=HEADER` or `NAME=HEADER:UNIT`.
    pub columns: Vec<String>,
    /// Its decimal sign, where its cells do not decide.
    pub decimal: Option<Decimal>,
    /// The order of its dates, where its cells do not decide.
    pub dates: Option<DateOrder>,
}

/// The columns of a YAML text of `NAME: HEADER`, as [`SheetQuestion::columns`] has them.
///
/// # Errors
/// [`Error::NoAnswer`] where it is none; `file` names it.
pub fn columns_of_yaml(file: &str, text: &str) -> Result<Vec<String>> {
    let map: BTreeMap<String, String> = serde_yaml::from_str(text).map_err(|problem| {
        no_rows(
            Reason::of(reasons::FILE_PROBLEM, "file", file)
                .and("problem", Blank::Name(problem.to_string())),
            "write a line for each column, for example suction_pressure: \"PT101:psig\"",
        )
    })?;
    let columns = map.iter().map(|(column, head)| format!("{column}={head}"));
    Ok(columns.collect())
}

/// A file whose column headers, and the rows that say how it is written, have been read.
pub struct SheetFile {
    reader: Reader<Box<dyn Read>>,
    name: String,
    size: Option<u64>,
    asked_dates: Option<DateOrder>,
    header: Record,
    /// Rows read ahead.
    first: Vec<Record>,
    /// How the file is written.
    pub dialect: Dialect,
    /// What the columns say.
    pub heads: Heads,
}

impl SheetFile {
    /// Reads the column headers of a file and how it is written.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where it cannot be read, is in UTF-16 or is empty; those of
    /// [`Heads::map`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::sheet::{Decimal, SheetFile, SheetQuestion, Source};
    /// use zeotrope::units::BareUnit;
    /// let text = "temp;x\n5,5;1\n";
    /// let source = Source {
    ///     bytes: Box::new(text.as_bytes()),
    ///     name: "log.csv".into(),
    ///     size: Some(text.len() as u64),
    ///     is_followed: false,
    /// };
    /// let asked = SheetQuestion {
    ///     bare: BareUnit::Absolute,
    ///     columns: vec!["temperature=temp:C".into()],
    ///     decimal: None,
    ///     dates: None,
    /// };
    /// let file = SheetFile::open(source, &asked)?;
    /// assert_eq!(file.dialect.separator, b';');
    /// assert_eq!(file.dialect.decimal, Some(Decimal::Comma));
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn open(source: Source, asked: &SheetQuestion) -> Result<Self> {
        let Source {
            bytes,
            name,
            size,
            is_followed,
        } = source;
        let mut reader = Reader::new(bytes, b',');
        let failed = |problem: io::Error| unreadable(&name, &problem);
        let line = reader.peek().map_err(failed)?.unwrap_or_default();
        if line.starts_with(b"\xff\xfe") || line.starts_with(b"\xfe\xff") {
            return Err(no_rows(
                Reason::of(reasons::FILE_UTF_16, "file", &name),
                "save the spreadsheet as CSV in UTF-8",
            ));
        }
        let separator = Dialect::separator_of(line);
        reader.set_separator(separator);
        let mut header = Record::default();
        if !reader.read(&mut header).map_err(failed)? {
            return Err(no_rows(
                Reason::of(reasons::FILE_EMPTY, "file", &name),
                "the first line names the columns, for example time,pressure_psig",
            ));
        }
        let headers = header.iter().map(decoded).collect();
        let mut heads = Heads::new(name.clone(), headers, asked.bare);
        for column in &asked.columns {
            heads.map(column)?;
        }
        let mut rows = Self {
            reader,
            name,
            size,
            asked_dates: asked.dates,
            header,
            first: Vec::new(),
            dialect: Dialect {
                separator,
                decimal: None,
                dates: DateOrder::Unknown,
            },
            heads,
        };
        // A logger's first row is waited for only where it has to say how the file is written.
        let is_written = matches!(rows.clock(), Some((_, Clock::Written(_))));
        if rows.size.is_some() || separator != b',' || is_written || rows.reader.has_line() {
            let mut first: Vec<Record> = (0..PIECE).map(|_| Record::default()).collect();
            let count = rows.fill(first.iter_mut())?;
            first.truncate(count);
            rows.first = first;
        }
        rows.dialect.decimal = asked.decimal.or_else(|| rows.decimal());
        rows.dialect.dates = rows.dates().unwrap_or_default();
        if is_followed {
            rows.reader.whole_lines_only();
        }
        Ok(rows)
    }

    /// The name that errors say.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The decimal sign that the cells decide.
    fn decimal(&self) -> Option<Decimal> {
        let columns = self.heads.of_quantities();
        let cells: Vec<&str> = self.texts(&columns).collect();
        match cells.iter().any(|cell| cell.contains(',')) {
            true => Decimal::from_cells(cells).ok(),
            false => None,
        }
    }

    /// The column of times, if there is one.
    pub fn clock(&self) -> Option<(usize, Clock)> {
        let found = self.heads.find(|head| Clock::named(head).is_some());
        let (at, head) = found?;
        Some((at, Clock::named(head)?.in_order(self.dialect.dates)))
    }

    /// The order of dates asked for, or the one that the cells decide.
    ///
    /// # Errors
    /// [`Error::DateOrder`] where dates have two readings, [`Error::Columns`] where several columns
    /// hold times.
    pub fn dates(&self) -> Result<DateOrder> {
        self.heads
            .find_alone(|head: &str| Clock::named(head).is_some())?;
        match (self.asked_dates, self.clock()) {
            (Some(order), _) => Ok(order),
            (None, Some((at, Clock::Written(_)))) => {
                Dialect::dates_of(self.texts(&[at])).map_err(|cell| Error::DateOrder {
                    file: self.name.clone(),
                    cell: cell.to_owned(),
                })
            }
            _ => Ok(DateOrder::Unknown),
        }
    }

    /// Cells of the rows read ahead.
    fn texts<'a>(&'a self, columns: &'a [usize]) -> impl Iterator<Item = &'a str> {
        let cells = self
            .first
            .iter()
            .flat_map(|row| columns.iter().map(|&at| row.get(at)));
        cells
            .flatten()
            .filter_map(|cell| std::str::from_utf8(cell).ok())
    }

    /// The answers asked for, of those under some keys; all of them where none are named.
    ///
    /// # Errors
    /// As [`Answers::named`], and [`Error::Columns`] where the file has a column of such a name
    /// already.
    pub fn answers(&self, asked: &[String], keys: &[&str], site: Atmosphere) -> Result<Answers> {
        let answers = match asked.is_empty() {
            true => Answers::all(keys, site),
            false => Answers::named(asked, keys, site)?,
        };
        for head in answers.heads().chain([ERROR, WARNINGS]) {
            if self.heads.as_slice().iter().any(|own| own.trim() == head) {
                let holds = match head {
                    ERROR => "reason where a row has no answer",
                    WARNINGS => "names of what to know about a row",
                    _ => "answer",
                };
                return Err(Error::Columns {
                    problem: format!("{} has a column '{head}' already", self.name),
                    hint: format!("rename it: a column of that name holds the {holds}"),
                    choice: Vec::new(),
                });
            }
        }
        Ok(answers)
    }

    /// Shows every row in its order, until one is refused.
    ///
    /// # Errors
    /// That of the row, and [`Error::NoAnswer`] where the file cannot be read on.
    pub fn each(mut self, mut seen: impl FnMut(&Record) -> Result<()>) -> Result<()> {
        std::mem::take(&mut self.first)
            .iter()
            .try_for_each(&mut seen)?;
        let mut row = Record::default();
        while self.fill(std::iter::once(&mut row))? > 0 {
            seen(&row)?;
        }
        Ok(())
    }

    /// Answers every row and hands the lines of the sheet to `write`, a piece at a time.
    ///
    /// `one` answers a row into a reply; it may be called from any thread. It also gives the answer
    /// that its values are made of, which `seen` is shown, row by row in their order. `write` is
    /// also told how far the reading is.
    ///
    /// # Errors
    /// What `write` ends with, and [`Error::NoAnswer`] where the file cannot be read on.
    pub fn answer<T: Send, Ended: From<Error>>(
        mut self,
        answers: &Answers,
        one: impl Fn(&Record, &mut Reply) -> Option<T> + Sync + Send,
        mut seen: impl FnMut(Option<&T>),
        mut write: impl FnMut(&[u8], Progress) -> std::result::Result<(), Ended>,
    ) -> std::result::Result<Tally, Ended> {
        let mut tally = Tally::default();
        let width = self.header.len();
        let format = LineFormat {
            width,
            separator: self.dialect.separator,
            has_commas: self.dialect.decimal == Some(Decimal::Comma),
        };
        let mut text = Vec::new();
        self.header.write(width, format.separator, &mut text);
        for head in answers.heads().chain([ERROR, WARNINGS]) {
            text.push(format.separator);
            text.extend_from_slice(head.as_bytes());
        }
        text.push(b'\n');
        write(&text, self.progress(&tally))?;
        let first = std::mem::take(&mut self.first);
        let mut count = first.len();
        let mut piece: Vec<Job<T>> = first.into_iter().map(Job::from_record).collect();
        if count == 0 {
            count = self.refill(&mut piece)?;
        }
        while count > 0 {
            let jobs = &mut piece[..count];
            for_each_row(jobs, |job| job.answer(&format, answers, &one));
            text.clear();
            for job in jobs.iter() {
                tally.count(&job.reply);
                seen(job.value.as_ref());
                text.extend_from_slice(&job.text);
            }
            write(&text, self.progress(&tally))?;
            count = self.refill(&mut piece)?;
        }
        tally.slips = self.reader.slips();
        Ok(tally)
    }

    fn progress(&self, tally: &Tally) -> Progress {
        let read = self.reader.position();
        let size = self.size.filter(|size| *size > 0);
        Progress {
            rows: tally.rows,
            share: size.map(|size| read.min(size) as f64 / size as f64),
        }
    }

    /// Reads the next rows into a piece; returns how many there were.
    fn refill<T>(&mut self, piece: &mut Vec<Job<T>>) -> Result<usize> {
        piece.resize_with(PIECE, || Job::from_record(Record::default()));
        self.fill(piece.iter_mut().map(|job| &mut job.row))
    }

    /// Reads the next rows; returns how many there were.
    ///
    /// Rows that come one by one, as from a logger, are not kept waiting for a full piece.
    fn fill<'a>(&mut self, rows: impl Iterator<Item = &'a mut Record>) -> Result<usize> {
        let mut count = 0;
        for row in rows {
            if count > 0 && self.size.is_none() && !self.reader.has_line() {
                break;
            }
            let more = self.reader.read(row);
            if !more.map_err(|problem| unreadable(&self.name, &problem))? {
                break;
            }
            count += 1;
        }
        Ok(count)
    }
}

/// How far the reading of a file is.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Progress {
    /// Rows that are answered.
    pub rows: u64,
    /// Share of the bytes that are read, where their number is known.
    pub share: Option<f64>,
}

/// A column header as text; bytes that are no UTF-8 are those of Latin-1.
fn decoded(head: &[u8]) -> String {
    match std::str::from_utf8(head) {
        Ok(text) => text.to_owned(),
        Err(_) => head.iter().map(|byte| char::from(*byte)).collect(),
    }
}

fn no_rows(reason: Reason, hint: &str) -> Error {
    Error::NoAnswer {
        reason,
        hint: hint.to_owned(),
    }
}

/// Why a file was not read.
pub(crate) fn not_read(name: &str, problem: &io::Error) -> Reason {
    Reason::of(reasons::FILE_UNREADABLE, "file", name)
        .and("problem", Blank::Name(problem.to_string()))
}

/// What is wrong with a file of rows that cannot be read.
pub fn unreadable(name: &str, problem: &io::Error) -> Error {
    no_rows(
        not_read(name, problem),
        "give the name of a CSV file, or - for standard input",
    )
}
