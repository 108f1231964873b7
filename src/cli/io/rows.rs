//! Rows of a CSV file, each answered by itself: read in pieces, answered on all cores, written in
//! their order.
//!
//! Memory holds one piece of rows, whatever the length of the file. All columns come back as they
//! were, then those of the answer, then `error`, which says why a row or a part of it has no
//! answer and is empty otherwise.

use std::fs::{File, Metadata};
use std::io::{self, Read, Write};
use std::path::Path;
use std::rc::Rc;

use csv::ByteRecord;

use crate::Error;
use crate::Warning;
use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, RowArgs};
use crate::cli::errors::{Failure, shown};
use crate::cli::io::bounded::{Flow, Source};
use crate::cli::io::deliver;
use crate::cli::io::progress::Progress;
use crate::output::Format;
use crate::refrigerant::each;
use crate::units::{Atmosphere, BareUnit, Heads, Measured, Place, UnitSet};

/// Rows in memory at a time.
const PIECE: usize = 2048;
/// The last column.
const ERROR: &str = "error";

/// A CSV file whose head has been read.
pub(crate) struct Rows {
    reader: csv::Reader<Source>,
    flow: Rc<Flow>,
    name: String,
    /// Bytes of a file; none of standard input.
    size: Option<u64>,
    /// What the columns say.
    pub(crate) heads: Heads,
}

/// The value of a column in a row.
pub(crate) fn read(place: &Place, row: &ByteRecord, site: &Atmosphere) -> crate::Result<Measured> {
    let cell = row.get(place.index).unwrap_or_default();
    place.column.read(&String::from_utf8_lossy(cell), site)
}

/// What a row is answered with.
#[derive(Debug, Default)]
pub(crate) struct Reply {
    /// A cell for each head of the answer; none where there is no answer at all.
    pub(crate) cells: Vec<String>,
    /// Why there is no answer, or which part of it is missing; empty otherwise.
    pub(crate) error: String,
    /// What to know about the answer.
    pub(crate) warnings: Vec<Warning>,
}

impl Reply {
    /// No answer, with the reason.
    pub(crate) fn none(error: impl Into<String>) -> Self {
        Self {
            error: error.into(),
            ..Self::default()
        }
    }
}

impl Rows {
    /// Opens a file, or standard input where the name is `-`, and reads its head.
    ///
    /// `bare` says what a head with `kPa` or `MPa` means.
    pub(crate) fn open(path: &Path, bare: BareUnit) -> Result<Self, Failure> {
        let standard_input = path.as_os_str() == "-";
        let name = if standard_input {
            "standard input".to_owned()
        } else {
            path.display().to_string()
        };
        let (source, size): (Box<dyn Read>, _) = if standard_input {
            (Box::new(io::stdin().lock()), None)
        } else {
            let file = File::open(path).map_err(|problem| unreadable(&name, &problem))?;
            // A named pipe is no file: its rows come as they come.
            let data = file.metadata().ok().filter(Metadata::is_file);
            let size = data.map(|data| data.len());
            (Box::new(file), size)
        };
        let flow = Rc::new(Flow::default());
        let mut reader = csv::ReaderBuilder::new()
            .flexible(true)
            .buffer_capacity(1 << 16)
            .from_reader(Source {
                bytes: source,
                flow: flow.clone(),
            });
        let heads = reader
            .byte_headers()
            .map_err(|problem| unread(&name, problem))?;
        let heads: Vec<String> = heads
            .iter()
            .map(|head| String::from_utf8(head.to_vec()))
            .collect::<Result<_, _>>()
            .map_err(|_| {
                Failure::no_answer(
                    format!("the column headers of {name} are not UTF-8 text"),
                    "save the spreadsheet as CSV in UTF-8",
                )
            })?;
        if heads.is_empty() {
            return Err(Failure::no_answer(
                format!("{name} is empty"),
                "the first line names the columns, for example time,pressure_psig",
            ));
        }
        if let [head] = heads.as_slice()
            && head.contains([';', '\t'])
        {
            return Err(Failure::usage(
                format!("{name} has one column, '{head}'"),
                "separate columns by commas; a decimal point, not a comma",
            ));
        }
        Ok(Self {
            reader,
            flow,
            heads: Heads::new(name.clone(), heads, bare),
            name,
            size,
        })
    }

    /// Answers every row and writes the sheet; no answer at all is a failure.
    ///
    /// `heads` are the columns of the answer. `one` answers a row; it may be called from any
    /// thread.
    pub(crate) fn answer(
        self,
        heads: &[&str],
        args: &OutputArgs,
        out: &mut dyn Write,
        err: &mut dyn Write,
        one: impl Fn(&ByteRecord) -> Reply + Sync + Send,
    ) -> Result<(), Failure> {
        let one = |row: &ByteRecord| (one(row), None::<()>);
        self.answer_seen(heads, args, (out, err), one, |_| ())
    }

    /// As [`Rows::answer`]; `one` also gives the answer that its cells are made of, which `seen` is
    /// shown, row by row in their order.
    pub(crate) fn answer_seen<T: Send>(
        mut self,
        heads: &[&str],
        args: &OutputArgs,
        (out, err): (&mut dyn Write, &mut dyn Write),
        one: impl Fn(&ByteRecord) -> (Reply, Option<T>) + Sync + Send,
        mut seen: impl FnMut(Option<&T>),
    ) -> Result<(), Failure> {
        for head in heads.iter().chain(&[ERROR]) {
            if self.heads.as_slice().iter().any(|own| own.trim() == *head) {
                return Err(Failure::usage(
                    format!("{} has a column '{head}' already", self.name),
                    format!(
                        "rename it: a column of that name holds the {}",
                        match *head {
                            ERROR => "reason where a row has no answer",
                            _ => "answer",
                        }
                    ),
                ));
            }
        }
        let mut tally = Tally::default();
        let mut progress = Progress::new(args.output.is_some());
        let written = deliver::stream(args, out, |sink| {
            let head = self.heads.as_slice().iter().map(String::as_str);
            sink.write(&line(head.chain(heads.iter().copied()).chain([ERROR]))?)?;
            let mut piece: Vec<Job<T>> = (0..PIECE).map(|_| Job::default()).collect();
            loop {
                let count = self.fill(&mut piece)?;
                if count == 0 {
                    return Ok(());
                }
                let jobs = &mut piece[..count];
                each(jobs, |job| {
                    job.answer(self.heads.as_slice().len(), heads.len(), &one)
                });
                let mut text = csv::WriterBuilder::new().from_writer(Vec::new());
                for job in jobs.iter() {
                    tally.count(job);
                    seen(job.value.as_ref());
                    text.write_byte_record(&job.row)
                        .map_err(|problem| unread(&self.name, problem))?;
                }
                let text = text.into_inner().map_err(|problem| {
                    unread(&self.name, csv::Error::from(problem.into_error()))
                })?;
                sink.write(&text)?;
                let read = self.reader.position().byte();
                progress.at(err, || match self.size.filter(|size| *size > 0) {
                    Some(size) => {
                        let percent = 100.0 * read.min(size) as f64 / size as f64;
                        format!("{} rows, {percent:.0} %", tally.rows)
                    }
                    None => format!("{} rows", tally.rows),
                });
            }
        });
        progress.end(err);
        written?;
        tally.tell(&self.name, err)
    }

    /// Reads the next rows; returns how many there were.
    ///
    /// Rows that come one by one, as from a logger, are not kept waiting for a full piece.
    fn fill<T>(&mut self, piece: &mut [Job<T>]) -> Result<usize, Failure> {
        for (index, job) in piece.iter_mut().enumerate() {
            let at = self.reader.position().byte();
            // Of a line end of two characters the second is still to come.
            let nothing_at_hand = at + 1 >= self.flow.read.get();
            if index > 0 && self.size.is_none() && nothing_at_hand {
                return Ok(index);
            }
            self.flow.row_start.set(at);
            let more = self
                .reader
                .read_byte_record(&mut job.row)
                .map_err(|problem| unread(&self.name, problem))?;
            if !more {
                return Ok(index);
            }
        }
        Ok(piece.len())
    }
}

/// A row and its answer.
struct Job<T> {
    row: ByteRecord,
    value: Option<T>,
    error: String,
    answered: bool,
    warnings: Vec<Warning>,
}

impl<T> Default for Job<T> {
    fn default() -> Self {
        Self {
            row: ByteRecord::default(),
            value: None,
            error: String::new(),
            answered: false,
            warnings: Vec::new(),
        }
    }
}

impl<T> Job<T> {
    /// Answers the row and writes the answer behind it.
    fn answer(
        &mut self,
        width: usize,
        count: usize,
        one: impl Fn(&ByteRecord) -> (Reply, Option<T>),
    ) {
        let extra: Vec<&[u8]> = self.row.iter().skip(width).collect();
        let (reply, value) = if extra.iter().all(|cell| cell.trim_ascii().is_empty()) {
            one(&self.row)
        } else {
            let extra: Vec<_> = extra
                .iter()
                .map(|cell| String::from_utf8_lossy(cell))
                .collect();
            let error = format!(
                "the row has {} cells, the header {width}; ignored: {}",
                self.row.len(),
                extra.join(",")
            );
            (Reply::none(error), None)
        };
        // What is missing at the end of a row is empty.
        self.row.truncate(width);
        while self.row.len() < width {
            self.row.push_field(b"");
        }
        self.answered = !reply.cells.is_empty();
        for index in 0..count {
            let cell = reply.cells.get(index).map(String::as_bytes);
            self.row.push_field(cell.unwrap_or_default());
        }
        self.row.push_field(reply.error.as_bytes());
        self.value = value;
        self.error = reply.error;
        self.warnings = reply.warnings;
    }
}

/// What is counted over all rows.
#[derive(Default)]
struct Tally {
    rows: u64,
    answered: u64,
    with_error: u64,
    /// Row, counted from 1 below the head, and its error.
    first_error: Option<(u64, String)>,
    /// The first of its code, the number of rows that have it, the first of them.
    warnings: Vec<(Warning, u64, u64)>,
}

impl Tally {
    fn count<T>(&mut self, job: &Job<T>) {
        self.rows += 1;
        let row = self.rows;
        self.answered += u64::from(job.answered);
        if !job.error.is_empty() {
            self.with_error += 1;
            self.first_error
                .get_or_insert_with(|| (row, job.error.clone()));
        }
        for warning in &job.warnings {
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

    /// Says on standard error what the sheet has no room for.
    fn tell(self, name: &str, err: &mut dyn Write) -> Result<(), Failure> {
        // With standard error closed there is no one left to tell.
        for (warning, rows, first) in &self.warnings {
            let which = match *rows {
                rows if rows == self.rows => String::new(),
                1 => format!(", row {first}"),
                rows => format!(", {rows} rows, the first {first}"),
            };
            let _ = writeln!(
                err,
                "warning: {} ({}{which})",
                shown(&warning.to_string()),
                warning.code()
            );
        }
        match self.first_error {
            None if self.rows == 0 => Err(Failure::no_answer(
                format!("{name} has column headers and no rows"),
                "rows belong below the line that names the columns",
            )),
            Some((row, text)) if self.answered == 0 => Err(Failure::no_answer(
                format!(
                    "none of {} rows has an answer; row {row}: {text}",
                    self.rows
                ),
                "the column 'error' says why of each row",
            )),
            Some((row, text)) => {
                let lack = if self.with_error == 1 {
                    "lacks"
                } else {
                    "lack"
                };
                let _ = writeln!(
                    err,
                    "warning: {} of {} rows {lack} an answer or a part of it, see column 'error'; \
                     row {row}: {} (unanswered)",
                    self.with_error,
                    self.rows,
                    shown(&text)
                );
                Ok(())
            }
            None => Ok(()),
        }
    }
}

/// The error of a row, a range told in the units of its columns.
pub(crate) fn error(error: Error, units: &UnitSet, site: &Atmosphere) -> String {
    Failure::in_units(error, units, site).message().to_owned()
}

/// Refuses what rows of a file cannot be written as, before any work is done.
pub(crate) fn check_output(args: &OutputArgs) -> Result<(), Failure> {
    let problem = match meant::format(args) {
        Ok(Format::Csv) => return meant::check_output(args),
        Ok(Format::Text) if args.format.is_none() && args.output.is_none() => return Ok(()),
        Err(failure) if args.format.is_some() => return Err(failure),
        Ok(other) => format!(
            "rows of a file are answered in csv, not in {}",
            other.name()
        ),
        Err(_) => "rows of a file are answered in csv".to_owned(),
    };
    Err(Failure::usage(
        problem,
        "end the name of the file in .csv, or add --format csv",
    ))
}

/// Refuses a column where no rows are read.
pub(crate) fn check_alone(args: &RowArgs) -> Result<(), Failure> {
    match args.column.first() {
        None => Ok(()),
        Some(head) => Err(Failure::usage(
            format!("--column {head}: no rows of a file are read"),
            "name the file with --csv FILE, or leave --column out",
        )),
    }
}

/// One line of CSV.
fn line<'a>(cells: impl Iterator<Item = &'a str>) -> Result<Vec<u8>, Failure> {
    let mut text = csv::Writer::from_writer(Vec::new());
    text.write_record(cells)
        .map_err(|problem| unread("the header", problem))?;
    text.into_inner()
        .map_err(|problem| unread("the header", csv::Error::from(problem.into_error())))
}

fn unreadable(name: &str, problem: &io::Error) -> Failure {
    Failure::no_answer(
        format!("{name} could not be read: {problem}"),
        "give the name of a CSV file, or - for standard input",
    )
}

fn unread(name: &str, problem: csv::Error) -> Failure {
    match problem.into_kind() {
        csv::ErrorKind::Io(problem) => unreadable(name, &problem),
        other => unreadable(name, &io::Error::other(format!("{other:?}"))),
    }
}
