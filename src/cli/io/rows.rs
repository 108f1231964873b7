//! Rows of a CSV file, each answered by itself: read in pieces, answered on all cores, written in
//! their order.
//!
//! Memory holds one piece of rows, whatever the length of the file. All columns come back as they
//! were, then those of the answer, then `error`, which says why a row or a part of it has no
//! answer, and `warnings`; both are empty otherwise.

use std::fs::{File, Metadata};
use std::io::{self, Read, Write};
use std::path::Path;

use crate::Error;
use crate::cli::args::meant;
use crate::cli::args::{ColumnArgs, DecimalArg, OrderArg, OutputArgs, SheetArgs};
use crate::cli::errors::{Failure, shown};
use crate::cli::io::deliver;
use crate::cli::io::follow::Followed;
use crate::cli::io::progress::Progress;
use crate::output::Format;
use crate::refrigerant::for_each_row;

use crate::service::sheet::{
    Answers, Clock, Decimal, Dialect, Job, LineFormat, Reader, Record, Reply, Subjects, Tally,
};
use crate::units::{Atmosphere, BareUnit, DateOrder, Heads, UnitSet};

/// Rows in memory at a time.
const PIECE: usize = 8192;
/// The last columns.
const ERROR: &str = "error";
const WARNINGS: &str = "warnings";

/// A CSV file whose column headers, and the rows that say how it is written, have been read.
pub(crate) struct CsvRows {
    reader: Reader<Box<dyn Read>>,
    name: String,
    /// Bytes of a file; none where rows come as they come.
    size: Option<u64>,
    header: Record,
    /// Rows read ahead.
    first: Vec<Record>,
    /// How the file is written.
    pub(crate) dialect: Dialect,
    /// What the columns say.
    pub(crate) heads: Heads,
}

impl CsvRows {
    /// Opens a file, or standard input where the name is `-`, and reads its column headers.
    ///
    /// `bare` says what a header with `kPa` or `MPa` means.
    pub(crate) fn open(path: &Path, args: &SheetArgs, bare: BareUnit) -> Result<Self, Failure> {
        Self::of_source(source(path)?, args, bare)
    }

    /// As [`CsvRows::open`], for a file that is read on as it is written, until the run is ended.
    pub(crate) fn follow(path: &Path, args: &SheetArgs, bare: BareUnit) -> Result<Self, Failure> {
        let name = path.display().to_string();
        let file = File::open(path).map_err(|problem| unreadable(&name, &problem))?;
        let mut rows = Self::of_source((Box::new(Followed::new(file)?), name, None), args, bare)?;
        rows.reader.whole_lines_only();
        Ok(rows)
    }

    fn of_source(
        (source, name, size): Opened,
        args: &SheetArgs,
        bare: BareUnit,
    ) -> Result<Self, Failure> {
        let mut reader = Reader::new(source, b',');
        let failed = |problem: io::Error| unreadable(&name, &problem);
        let line = reader.peek().map_err(failed)?.unwrap_or_default();
        if line.starts_with(b"\xff\xfe") || line.starts_with(b"\xfe\xff") {
            return Err(Failure::no_answer(
                format!("{name} is in UTF-16"),
                "save the spreadsheet as CSV in UTF-8",
            ));
        }
        let separator = Dialect::separator_of(line);
        reader.set_separator(separator);
        let mut header = Record::default();
        if !reader.read(&mut header).map_err(failed)? {
            return Err(Failure::no_answer(
                format!("{name} is empty"),
                "the first line names the columns, for example time,pressure_psig",
            ));
        }
        let mut heads = Heads::new(name.clone(), header.iter().map(decoded).collect(), bare);
        for column in columns(args)? {
            heads.map(&column)?;
        }
        let mut rows = Self {
            reader,
            name,
            size,
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
        rows.dialect.decimal = rows.decimal(args);
        rows.dialect.dates = rows.dates(args).unwrap_or_default();
        Ok(rows)
    }

    /// The decimal sign asked for, or the one that the cells decide.
    fn decimal(&self, args: &SheetArgs) -> Option<Decimal> {
        match args.decimal {
            Some(DecimalArg::Point) => return Some(Decimal::Point),
            Some(DecimalArg::Comma) => return Some(Decimal::Comma),
            None => (),
        }
        let columns = self.heads.of_quantities();
        let cells: Vec<&str> = self.texts(&columns).collect();
        match cells.iter().any(|cell| cell.contains(',')) {
            true => Decimal::of(cells).ok(),
            false => None,
        }
    }

    /// The column of times, if there is one.
    pub(crate) fn clock(&self) -> Option<(usize, Clock)> {
        let found = self.heads.find(|head| Clock::named(head).is_some());
        let (at, head) = found?;
        Some((at, Clock::named(head)?.in_order(self.dialect.dates)))
    }

    /// The order of dates asked for, or the one that the cells decide; refused where dates have two
    /// readings.
    pub(crate) fn dates(&self, args: &SheetArgs) -> Result<DateOrder, Failure> {
        let is_clock = |head: &str| Clock::named(head).is_some();
        self.heads.find_alone(is_clock)?;
        match (args.date_order, self.clock()) {
            (Some(OrderArg::MonthFirst), _) => Ok(DateOrder::MonthFirst),
            (Some(OrderArg::DayFirst), _) => Ok(DateOrder::DayFirst),
            (None, Some((at, Clock::Written(_)))) => {
                Dialect::dates_of(self.texts(&[at])).map_err(|cell| {
                    Failure::usage(
                        format!(
                            "{}: '{cell}' has two readings, month first or day first",
                            self.name
                        ),
                        "add --date-order month-first or --date-order day-first",
                    )
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

    /// The answers asked for, of those under some keys.
    pub(crate) fn answers(
        &self,
        keys: &[&str],
        args: &ColumnArgs,
        site: Atmosphere,
    ) -> Result<Answers, Failure> {
        let answers = match args.answers.is_empty() {
            true => Answers::all(keys, site),
            false => Answers::named(&args.answers, keys, site)?,
        };
        for head in answers.heads().chain([ERROR, WARNINGS]) {
            if self.heads.as_slice().iter().any(|own| own.trim() == head) {
                let holds = match head {
                    ERROR => "reason where a row has no answer",
                    WARNINGS => "names of what to know about a row",
                    _ => "answer",
                };
                return Err(Failure::usage(
                    format!("{} has a column '{head}' already", self.name),
                    format!("rename it: a column of that name holds the {holds}"),
                ));
            }
        }
        Ok(answers)
    }

    /// Shows every row in its order, until one is refused.
    pub(crate) fn each(
        mut self,
        mut seen: impl FnMut(&Record) -> Result<(), Failure>,
    ) -> Result<(), Failure> {
        std::mem::take(&mut self.first)
            .iter()
            .try_for_each(&mut seen)?;
        let mut row = Record::default();
        while self.fill(std::iter::once(&mut row))? > 0 {
            seen(&row)?;
        }
        Ok(())
    }

    /// Answers every row and writes the sheet; no answer at all is a failure.
    ///
    /// `one` answers a row into a reply; it may be called from any thread. It also gives the answer
    /// that its values are made of, which `seen` is shown, row by row in their order.
    pub(crate) fn answer<T: Send>(
        mut self,
        answers: &Answers,
        args: &OutputArgs,
        (out, err): (&mut dyn Write, &mut dyn Write),
        one: impl Fn(&Record, &mut Reply) -> Option<T> + Sync + Send,
        mut seen: impl FnMut(Option<&T>),
    ) -> Result<(), Failure> {
        let mut tally = Tally::default();
        let mut progress = Progress::new(args.output.is_some());
        let width = self.header.len();
        let format = LineFormat {
            width,
            separator: self.dialect.separator,
            has_commas: self.dialect.decimal == Some(Decimal::Comma),
        };
        let written = deliver::stream(args, out, |sink| {
            let mut text = Vec::new();
            self.header.write(width, format.separator, &mut text);
            for head in answers.heads().chain([ERROR, WARNINGS]) {
                text.push(format.separator);
                text.extend_from_slice(head.as_bytes());
            }
            text.push(b'\n');
            sink.write(&text)?;
            let first = std::mem::take(&mut self.first);
            let mut count = first.len();
            let mut piece: Vec<Job<T>> = first.into_iter().map(Job::of).collect();
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
                sink.write(&text)?;
                let read = self.reader.position();
                progress.show_if_due(err, || match self.size.filter(|size| *size > 0) {
                    Some(size) => {
                        let percent = 100.0 * read.min(size) as f64 / size as f64;
                        format!("{} rows, {percent:.0} %", tally.rows)
                    }
                    None => format!("{} rows", tally.rows),
                });
                count = self.refill(&mut piece)?;
            }
            Ok(())
        });
        progress.end(err);
        written?;
        tally.slips = self.reader.slips();
        tell(&tally, &self.name, err)
    }

    /// Reads the next rows into a piece; returns how many there were.
    fn refill<T>(&mut self, piece: &mut Vec<Job<T>>) -> Result<usize, Failure> {
        piece.resize_with(PIECE, || Job::of(Record::default()));
        self.fill(piece.iter_mut().map(|job| &mut job.row))
    }

    /// Reads the next rows; returns how many there were.
    ///
    /// Rows that come one by one, as from a logger, are not kept waiting for a full piece.
    fn fill<'a>(&mut self, rows: impl Iterator<Item = &'a mut Record>) -> Result<usize, Failure> {
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

/// The bytes of a file or of standard input, its name, and its size where that is known.
type Opened = (Box<dyn Read>, String, Option<u64>);

fn source(path: &Path) -> Result<Opened, Failure> {
    if path.as_os_str() == "-" {
        return Ok((
            Box::new(io::stdin().lock()),
            "standard input".to_owned(),
            None,
        ));
    }
    let name = path.display().to_string();
    let file = File::open(path).map_err(|problem| unreadable(&name, &problem))?;
    // A named pipe is no file: its rows come as they come.
    let data = file.metadata().ok().filter(Metadata::is_file);
    let size = data.map(|data| data.len());
    let is_packed = path
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("gz"));
    Ok(match is_packed {
        true => (
            Box::new(flate2::read::MultiGzDecoder::new(file)),
            name,
            Some(u64::MAX),
        ),
        false => (Box::new(file), name, size),
    })
}

/// A column header as text; bytes that are no UTF-8 are those of Latin-1.
fn decoded(head: &[u8]) -> String {
    match std::str::from_utf8(head) {
        Ok(text) => text.to_owned(),
        Err(_) => head.iter().map(|byte| char::from(*byte)).collect(),
    }
}

/// The columns of the file of columns, then those of the command line.
fn columns(args: &SheetArgs) -> Result<Vec<String>, Failure> {
    let mut columns = Vec::new();
    if let Some(path) = &args.columns_file {
        let name = path.display().to_string();
        let text = std::fs::read_to_string(path).map_err(|problem| {
            Failure::no_answer(
                format!("{name} could not be read: {problem}"),
                "give the name of a YAML file of columns",
            )
        })?;
        let map: std::collections::BTreeMap<String, String> =
            serde_yaml::from_str(&text).map_err(|problem| {
                Failure::no_answer(
                    format!("{name}: {problem}"),
                    "write a line for each column, for example suction_pressure: \"PT101:psig\"",
                )
            })?;
        columns.extend(map.iter().map(|(column, head)| format!("{column}={head}")));
    }
    columns.extend(
        args.column
            .iter()
            .filter(|text| text.contains('='))
            .cloned(),
    );
    Ok(columns)
}

/// The refrigerant that was named, or those of the column `refrigerant`.
// What is handed back is an opaque closure, which has no shorter name.
#[allow(clippy::type_complexity)]
pub(crate) fn subjects<T, Make: Fn(&str) -> Result<T, Failure>>(
    heads: &Heads,
    named: &[String],
    make: Make,
) -> Result<Subjects<T, impl Fn(&str) -> Result<T, String> + use<T, Make>>, Failure> {
    let called = |head: &str| head.trim().eq_ignore_ascii_case("refrigerant");
    let column = heads.find(called).map(|(at, _)| at);
    let only = match (named, column) {
        ([text], _) => Some(make(text)?),
        ([], Some(_)) => None,
        ([], None) => {
            return Err(Failure::usage(
                "no refrigerant was named, and no column 'refrigerant' names one",
                "name it before --csv, or say --column refrigerant=HEADER",
            ));
        }
        _ => {
            return Err(Failure::usage(
                "rows of a file are answered for one refrigerant, or for that of a column",
                "name one, or none and a column 'refrigerant'",
            ));
        }
    };
    let told = move |text: &str| make(text).map_err(|failure| failure.message().to_owned());
    Ok(Subjects::new(column, only, told))
}

/// The headers that were named without a meaning, to choose among columns.
pub(crate) fn chosen(args: &ColumnArgs) -> Vec<String> {
    let bare = args.sheet.column.iter();
    let bare = bare.filter(|text| !text.contains('='));
    bare.flat_map(|text| text.split(','))
        .map(str::to_owned)
        .collect()
}

/// Says on standard error what the sheet has no room for.
fn tell(tally: &Tally, name: &str, err: &mut dyn Write) -> Result<(), Failure> {
    // With standard error closed there is no one left to tell.
    if tally.slips.count > 0 {
        let rows = if tally.slips.count == 1 {
            "row"
        } else {
            "rows"
        };
        let _ = writeln!(
            err,
            "warning: {name}, line {}: a quotation mark is not closed, or text follows it; it \
             was read as a character ({} {rows}) (quotation_mark)",
            tally.slips.first_line, tally.slips.count
        );
    }
    for (warning, rows, first) in &tally.warnings {
        let which = match *rows {
            rows if rows == tally.rows => String::new(),
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
    match &tally.first_error {
        None if tally.rows == 0 => Err(Failure::no_answer(
            format!("{name} has column headers and no rows"),
            "rows belong below the line that names the columns",
        )),
        Some((row, text)) if tally.answered == 0 => Err(Failure::no_answer(
            format!(
                "none of {} rows has an answer; row {row}: {text}",
                tally.rows
            ),
            "the column 'error' says why of each row",
        )),
        Some((row, text)) => {
            let without = tally.rows - tally.answered;
            let partial = tally.with_error - without;
            let lack = |count: u64| if count == 1 { "lacks" } else { "lack" };
            let parts = match (without, partial) {
                (_, 0) => format!(
                    "{without} of {} rows {} an answer",
                    tally.rows,
                    lack(without)
                ),
                (0, _) => {
                    format!(
                        "{partial} of {} rows {} a part of it",
                        tally.rows,
                        lack(partial)
                    )
                }
                _ => format!(
                    "{without} of {} rows {} an answer, {partial} a part of it",
                    tally.rows,
                    lack(without)
                ),
            };
            let _ = writeln!(
                err,
                "warning: {parts}, see column 'error'; row {row}: {} (unanswered)",
                shown(text)
            );
            Ok(())
        }
        None => Ok(()),
    }
}

/// The error of a row, a range told in the units of its columns.
pub(crate) fn error(error: Error, units: &UnitSet, site: &Atmosphere) -> String {
    Failure::in_units(error, units, site).message().to_owned()
}

/// Refuses what rows of a file cannot be written as, before any work is done.
pub(crate) fn check_output(args: &OutputArgs) -> Result<(), Failure> {
    let problem = match meant::format(args) {
        Ok(Format::Csv) => return deliver::check_output(args),
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

/// Refuses a column where no rows are read, which the option `file` would name.
pub(crate) fn check_alone(args: &SheetArgs, file: &str) -> Result<(), Failure> {
    match args.column.first() {
        None => Ok(()),
        Some(head) => Err(Failure::usage(
            format!("--column {head}: no rows of a file are read"),
            format!("name the file with {file} FILE, or leave --column out"),
        )),
    }
}

fn unreadable(name: &str, problem: &io::Error) -> Failure {
    Failure::no_answer(
        format!("{name} could not be read: {problem}"),
        "give the name of a CSV file, or - for standard input",
    )
}
