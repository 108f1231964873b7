//! Rows of a CSV file: where they come from, what the options say of them, where the sheet goes.

use std::fs::{File, Metadata};
use std::io::{self, Write};
use std::path::Path;

use crate::args::meant;
use crate::args::{AskedArgs, OutputArgs, RowArgs, SheetArgs};
use crate::errors::{Failure, shown};
use crate::io::deliver;
use crate::io::follow::Followed;
use crate::io::progress::Progress;
use zeotrope::Error;
use zeotrope::output::Format;
use zeotrope::page::{Style, no_rows, row_notes};
use zeotrope::service::sheet::{
    Answers, Record, Reply, SheetFile, SheetQuestion, Source, Subjects, columns_of_yaml, unreadable,
};
use zeotrope::units::{Atmosphere, BareUnit, ColumnQuantity, Heads, ReadColumn};

/// Opens a file, or standard input where the name is `-`, and reads its column headers.
///
/// `bare` says what a header with `kPa` or `MPa` means.
pub(crate) fn open(path: &Path, args: &SheetArgs, bare: BareUnit) -> Result<SheetFile, Failure> {
    let asked = question(args, bare)?;
    Ok(SheetFile::open(source(path)?, &asked)?)
}

/// As [`open`], for a file that is read on as it is written, until the run is ended.
pub(crate) fn follow(path: &Path, args: &SheetArgs, bare: BareUnit) -> Result<SheetFile, Failure> {
    let name = path.display().to_string();
    let file = File::open(path).map_err(|problem| unreadable(&name, &problem))?;
    let source = Source {
        bytes: Box::new(Followed::new(file)?),
        name,
        size: None,
        is_followed: true,
    };
    Ok(SheetFile::open(source, &question(args, bare)?)?)
}

fn source(path: &Path) -> Result<Source, Failure> {
    let source = |bytes, name, size| Source {
        bytes,
        name,
        size,
        is_followed: false,
    };
    if path.as_os_str() == "-" {
        let input = Box::new(io::stdin().lock());
        return Ok(source(input, "standard input".to_owned(), None));
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
        true => {
            let bytes = Box::new(flate2::read::MultiGzDecoder::new(file));
            source(bytes, name, Some(u64::MAX))
        }
        false => source(Box::new(file), name, size),
    })
}

/// What the options say of a file: the columns of the file of columns, then their own.
fn question(args: &SheetArgs, bare: BareUnit) -> Result<SheetQuestion, Failure> {
    let mut columns = Vec::new();
    if let Some(path) = &args.columns_file {
        let text = super::text(path, "give the name of a YAML file of columns")?;
        columns = columns_of_yaml(&path.display().to_string(), &text)?;
    }
    let typed = args.column.iter().filter(|text| text.contains('='));
    columns.extend(typed.cloned());
    Ok(SheetQuestion {
        bare,
        columns,
        decimal: args.decimal,
        dates: args.date_order,
    })
}

/// A file with the columns that a question reads, and the style that follows from their units.
pub(crate) struct RowsAsked {
    pub(crate) file: SheetFile,
    pub(crate) places: Vec<ReadColumn>,
    pub(crate) style: Style,
}

/// Opens the file whose rows are to be answered, and chooses `count` columns of the quantities wanted.
pub(crate) fn asked(
    rows: &RowArgs,
    args: &AskedArgs,
    (wanted, count): (&[ColumnQuantity], usize),
    site: Atmosphere,
) -> Result<RowsAsked, Failure> {
    let path = rows.csv.as_deref().unwrap_or(Path::new("-"));
    let sheet = &rows.columns.sheet;
    let file = open(path, sheet, BareUnit::Absolute)?;
    // headers without a meaning choose among columns
    let bare = sheet.column.iter().filter(|text| !text.contains('='));
    let chosen = bare.flat_map(|text| text.split(',')).map(str::to_owned);
    let chosen: Vec<String> = chosen.collect();
    let places = file.heads.choose(wanted, count, &chosen)?;
    let mut columns = places.iter().map(|place| &place.column);
    let scale = columns.find_map(|column| column.temperature_unit());
    let unit = places.iter().find_map(|place| place.column.pressure_unit());
    let style = args.style(scale, unit, site)?;
    Ok(RowsAsked {
        file,
        places,
        style,
    })
}

/// Answers every row and writes the sheet; no answer at all is a failure.
///
/// `one` and `seen` are those of [`SheetFile::answer`].
pub(crate) fn answer<T: Send>(
    file: SheetFile,
    answers: &Answers,
    args: &OutputArgs,
    (out, err): (&mut dyn Write, &mut dyn Write),
    style: &Style,
    one: impl Fn(&Record, &mut Reply) -> Option<T> + Sync + Send,
    seen: impl FnMut(Option<&T>),
) -> Result<(), Failure> {
    let name = file.name().to_owned();
    let mut progress = Progress::new(args.output.is_some());
    let mut tally = None;
    let written = deliver::stream(args, out, |sink| {
        let found = file.answer(answers, one, seen, |piece, done| {
            progress.show_if_due(err, || match done.share {
                Some(share) => format!("{} rows, {:.0} %", done.rows, 100.0 * share),
                None => format!("{} rows", done.rows),
            });
            sink.write(piece)
        });
        tally = Some(found?);
        Ok(())
    });
    progress.end(err);
    written?;
    let tally = tally.unwrap_or_default();
    for note in row_notes(&tally, &name, style) {
        // With standard error closed there is no one left to tell.
        let _ = writeln!(err, "warning: {}", shown(&note));
    }
    match no_rows(&tally, &name, style) {
        Some(wrong) => Err(Failure::no_answer(wrong.message, wrong.hint)),
        None => Ok(()),
    }
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

/// The error of a row, a range told in the units of its columns.
pub(crate) fn error(error: Error, style: &Style) -> String {
    Failure::in_style(error, style).message().to_owned()
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
