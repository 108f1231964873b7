//! `reading --csv`: a log of both sides, row by row, with lowest, highest, mean and trend, and a
//! picture of the run.

use std::io::Write;
use std::path::Path;

use crate::cli::args::OutputArgs;
use crate::cli::args::meant;
use crate::cli::args::reading::ReadingArgs;
use crate::cli::errors::Failure;
use crate::cli::io::deliver;
use crate::cli::io::rows::{self, CsvRows};
use crate::cli::verbs::readings::{instruments, reading};
use crate::output::Format;
use crate::page::{self, both_sides, parts};
use crate::service::reading::both_sides::{Machine, Mode};
use crate::service::reading::log::{Log, LogColumns, LogReader, LogRow};
use crate::service::sheet::{Record, Reply};
use crate::units::BareUnit;

pub(crate) fn answer(
    args: &ReadingArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    deliver::check_output(&args.output)?;
    let as_rows = match meant::format(&args.output)? {
        Format::Csv => true,
        Format::Text => args.output.format.is_none() && args.output.output.is_none(),
        _ => false,
    };
    let (site, site_warnings) = meant::site(&args.site)?;
    let (kit, _) = instruments::kit_of_sides(&args.gauge, &args.accuracy, &args.sides)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let file = match (&args.follow, &args.csv) {
        (Some(path), _) => CsvRows::follow(path, &args.columns.sheet, BareUnit::Refused)?,
        (None, path) => {
            let path = path.as_deref().unwrap_or(Path::new("-"));
            CsvRows::open(path, &args.columns.sheet, BareUnit::Refused)?
        }
    };
    file.dates(&args.columns.sheet)?;
    let columns = LogColumns::new(&file.heads, file.clock(), &kit, &site)?;
    let units = meant::units(
        &args.units,
        columns.temperature_unit(),
        columns.pressure_unit(),
    )?;
    let clock = columns.clock();
    let reader = LogReader {
        refrigerant: &refrigerant,
        kit,
        columns,
        site,
        mode: args.wanted.mode.map(Mode::from).unwrap_or_default(),
        dialect: file.dialect,
    };
    let mut log = Log::new(&refrigerant, clock, site).with_targets(reading::targets(&args.wanted)?);
    log.mode = args.wanted.mode.map(Mode::from);
    let keys = both_sides::cells(&Machine::default(), [None; 2], &[]).map(|(head, _)| head);
    let answers = file.answers(&keys, &args.columns, site)?;
    let one = |row: &Record, reply: &mut Reply| {
        let mut errors = Vec::new();
        let found = reader.row(row, |head, error| {
            errors.push(format!("{head}: {}", rows::error(error, &units, &site)));
        });
        let Some(found) = found else {
            reply.none(errors.join("; "));
            return None;
        };
        let sure = found.uncertainty.each_ref().map(Option::as_ref);
        let cells = both_sides::cells(&found.machine, sure, &found.marks());
        let data = cells.into_iter().map(|(_, datum)| datum.into());
        reply.values.extend(data);
        reply.error = errors.join("; ");
        Some(found)
    };
    let seen = |row: Option<&LogRow>| log.add(row);
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
    if as_rows {
        for warning in warnings {
            let _ = writeln!(err, "warning: {} ({})", warning, warning.code());
        }
        let written = file.answer(&answers, &args.output, (out, err), one, seen);
        if args.follow.is_some() {
            let style = args.output.style(units, site);
            let summary = page::reading_log(&log, &refrigerant, Vec::new(), &style);
            let _ = err.write_all(&summary.write(Format::Text)?);
        }
        return written;
    }
    let nowhere = OutputArgs::default();
    file.answer(&answers, &nowhere, (&mut std::io::sink(), err), one, seen)?;
    let style = args.output.style(units, site);
    let answer = page::reading_log(&log, &refrigerant, warnings, &style);
    deliver::answer(&answer, &args.output, out, err)
}
