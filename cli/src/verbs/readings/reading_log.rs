//! `reading --csv`: a log of both sides, row by row, with lowest, highest, mean and trend, and a
//! picture of the run.

use std::io::Write;
use std::path::Path;

use crate::args::OutputArgs;
use crate::args::meant;
use crate::args::reading::ReadingArgs;
use crate::errors::Failure;
use crate::io::{deliver, rows};
use crate::verbs::readings::{instruments, reading};
use zeotrope::output::Format;
use zeotrope::page::{self, all_warnings};
use zeotrope::service::reading::log::{Log, LogColumns, LogReader, LogRow};
use zeotrope::service::sheet::{Record, Reply};
use zeotrope::units::BareUnit;

pub(crate) fn answer(
    args: &ReadingArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let output = &args.asked.output;
    deliver::check_output(output)?;
    let as_rows = match meant::format(output)? {
        Format::Csv => true,
        Format::Text => output.format.is_none() && output.output.is_none(),
        _ => false,
    };
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let (kit, _) = instruments::kit_of_sides(&args.gauge, &args.accuracy, &args.sides)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
    let sheet = &args.columns.sheet;
    let file = match &args.follow {
        Some(path) => rows::follow(path, sheet, BareUnit::Refused)?,
        None => {
            let path = args.csv.as_deref().unwrap_or(Path::new("-"));
            rows::open(path, sheet, BareUnit::Refused)?
        }
    };
    file.dates()?;
    let columns = LogColumns::new(&file.heads, file.clock(), &kit, &site)?;
    let (scale, unit) = (columns.temperature_unit(), columns.pressure_unit());
    let style = args.asked.style(scale, unit, site)?;
    let clock = columns.clock();
    let reader = LogReader {
        refrigerant: &refrigerant,
        kit,
        columns,
        site,
        mode: args.mode.unwrap_or_default(),
        dialect: file.dialect,
    };
    let mut log = Log::new(&refrigerant, clock, site).with_targets(reading::targets(args)?);
    log.mode = args.mode;
    let keys = page::log_heads();
    let answers = file.answers(&args.columns.answers, &keys, site)?;
    let one = |row: &Record, reply: &mut Reply| {
        let mut errors = Vec::new();
        let found = reader.row(row, |head, error| {
            errors.push(format!("{head}: {}", rows::error(error, &style)));
        });
        let Some(found) = found else {
            reply.none(errors.join("; "));
            return None;
        };
        reply.values.extend(page::log_values(&found));
        reply.error = errors.join("; ");
        Some(found)
    };
    let seen = |row: Option<&LogRow>| log.add(row);
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    if as_rows {
        for warning in warnings {
            let _ = writeln!(err, "warning: {} ({})", warning, warning.code());
        }
        let written = rows::answer(file, &answers, output, (out, err), &style, one, seen);
        if args.follow.is_some() {
            let summary = page::reading_log(&log, &refrigerant, Vec::new(), &style);
            let _ = err.write_all(&summary.write(Format::Text)?);
        }
        return written;
    }
    let (nowhere, mut sink) = (OutputArgs::default(), std::io::sink());
    rows::answer(
        file,
        &answers,
        &nowhere,
        (&mut sink, err),
        &style,
        one,
        seen,
    )?;
    let answer = page::reading_log(&log, &refrigerant, warnings, &style);
    deliver::answer(&answer, output, out, err)
}
