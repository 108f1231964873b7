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
use crate::refrigerant::Refrigerant;
use crate::service::measurement::gauge::Added;
use crate::service::measurement::gauge_reading::{self, GaugeReading};
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{Uncertainty, without_draws};
use crate::service::reading::both_sides::{AirRead, Machine, Mode, ReadSide, SideRead};
use crate::service::reading::log::{Clock, Log, LogRow};
use crate::service::reading::superheat_subcooling::Measure;
use crate::service::sheet::{Dialect, Record, Reply};
use crate::units::{Atmosphere, BareUnit, CellValue, ReadColumn, Temperature, UnitSet};

/// A column of pressures and the gauge it was read with.
struct Pressures {
    place: ReadColumn,
    instrument: Instrument,
    added: Added,
    air: Atmosphere,
}

/// The columns of a log.
struct Columns {
    suction: Option<Pressures>,
    suction_line: Option<ReadColumn>,
    liquid: Option<Pressures>,
    liquid_line: Option<ReadColumn>,
    air: [Option<ReadColumn>; 4],
    clock: Option<(usize, Clock)>,
}

/// What the rows are answered with.
struct Setting<'a> {
    refrigerant: &'a Refrigerant,
    kit: Kit,
    columns: Columns,
    units: UnitSet,
    site: Atmosphere,
    mode: Mode,
    dialect: Dialect,
}

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
    let columns = columns(&file, &kit, &site)?;
    let units = units(args, &columns)?;
    let clock = columns.clock.map(|(_, clock)| clock);
    let setting = Setting {
        refrigerant: &refrigerant,
        kit,
        columns,
        units,
        site,
        mode: args.wanted.mode.map(Mode::from).unwrap_or_default(),
        dialect: file.dialect,
    };
    let mut log = Log::new(&refrigerant, clock, site).with_targets(reading::targets(&args.wanted)?);
    log.mode = args.wanted.mode.map(Mode::from);
    let keys = both_sides::cells(&Machine::default(), [None; 2], &[]).map(|(head, _)| head);
    let answers = file.answers(&keys, &args.columns, site)?;
    let one = |row: &Record, reply: &mut Reply| setting.row(row, reply);
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

fn columns(file: &CsvRows, kit: &Kit, site: &Atmosphere) -> Result<Columns, Failure> {
    let pressures =
        |names: &[&str], instrument: &Instrument| -> Result<Option<Pressures>, Failure> {
            let Some(place) = file.heads.meaning(names)? else {
                return Ok(None);
            };
            let Some(unit) = place.column.pressure_unit() else {
                return Ok(None);
            };
            let added = gauge_reading::added(instrument, unit, site)?;
            Ok(Some(Pressures {
                place,
                instrument: instrument.clone(),
                air: gauge_reading::air(&added, site),
                added,
            }))
        };
    let columns = Columns {
        suction: pressures(&["suction_pressure", "low_pressure"], &kit.low)?,
        suction_line: file
            .heads
            .meaning(&["suction_line_temperature", "suction_temperature"])?,
        liquid: pressures(&["liquid_pressure", "high_pressure"], &kit.high)?,
        liquid_line: file
            .heads
            .meaning(&["liquid_line_temperature", "liquid_temperature"])?,
        air: [
            file.heads
                .meaning(&["ambient_temperature", "outdoor_temperature"])?,
            file.heads
                .meaning(&["return_air_temperature", "return_temperature"])?,
            file.heads
                .meaning(&["supply_air_temperature", "supply_temperature"])?,
            file.heads.meaning(&["wet_bulb_temperature"])?,
        ],
        clock: file.clock(),
    };
    if columns.suction.is_none() && columns.liquid.is_none() {
        return Err(Failure::usage(
            "the log has no column of pressures",
            "name the columns for example time, suction_pressure_psig, \
             suction_line_temperature_F, liquid_pressure_psig, liquid_line_temperature_F",
        ));
    }
    for (line, pressure, name) in [
        (&columns.suction_line, &columns.suction, "suction_pressure"),
        (&columns.liquid_line, &columns.liquid, "liquid_pressure"),
    ] {
        if let (Some(line), None) = (line, pressure) {
            return Err(Failure::usage(
                format!("column '{}' has no {name} beside it", line.head),
                format!(
                    "add a column such as {name}_psig, or leave '{}' out",
                    line.head
                ),
            ));
        }
    }
    Ok(columns)
}

/// The units of the summary: those asked for, else those of the columns.
fn units(args: &ReadingArgs, columns: &Columns) -> Result<UnitSet, Failure> {
    let temperature = [&columns.suction_line, &columns.liquid_line]
        .into_iter()
        .chain(&columns.air)
        .flatten()
        .find_map(|place| place.column.temperature_unit());
    let pressure = [&columns.suction, &columns.liquid]
        .into_iter()
        .flatten()
        .find_map(|one| one.place.column.pressure_unit());
    meant::units(&args.units, temperature, pressure)
}

impl Setting<'_> {
    /// Answers a row; what cannot be read is told, the rest answered.
    fn row(&self, row: &Record, reply: &mut Reply) -> Option<LogRow> {
        let mut errors = Vec::new();
        let mut told = |head: &str, error: crate::Error| {
            let text = rows::error(error, &self.units, &self.site);
            errors.push(format!("{head}: {text}"));
        };
        let mut temperature = |place: &Option<ReadColumn>| {
            let place = place.as_ref()?;
            match self.dialect.read(place, row, &self.site) {
                Ok(CellValue::Temperature(value)) => Some(value),
                Ok(_) => None,
                Err(error) => {
                    told(&place.head, error);
                    None
                }
            }
        };
        let columns = &self.columns;
        let lines = [
            temperature(&columns.suction_line),
            temperature(&columns.liquid_line),
        ];
        let [ambient, returning, supplied, wet_bulb] =
            [0, 1, 2, 3].map(|at| temperature(&columns.air[at]));
        let mut side = |measure, pressures: &Option<Pressures>, line| {
            let pressures = pressures.as_ref()?;
            match self.side(measure, pressures, line, row) {
                Ok(found) => Some(found),
                Err(error) => {
                    told(&pressures.place.head, error);
                    None
                }
            }
        };
        let suction = side(Measure::Superheat, &columns.suction, lines[0]);
        let liquid = side(Measure::Subcooling, &columns.liquid, lines[1]);
        let time = columns.clock.and_then(|(at, clock)| {
            let cell = String::from_utf8_lossy(row.get(at).unwrap_or_default()).into_owned();
            let time = clock.seconds(&cell);
            time.map_err(|error| told("time", error)).ok()
        });
        if suction.is_none() && liquid.is_none() {
            reply.none(errors.join("; "));
            return None;
        }
        let (suction, low) = suction.unzip();
        let (liquid, high) = liquid.unzip();
        let air = AirRead {
            ambient,
            returning,
            supplied,
            wet_bulb,
        };
        let answer = LogRow {
            time,
            machine: Machine {
                suction,
                liquid,
                air,
                mode: self.mode,
            },
            uncertainty: [low.flatten(), high.flatten()],
            is_partial: !errors.is_empty(),
        };
        let found = answer.uncertainty.each_ref().map(Option::as_ref);
        let cells = both_sides::cells(&answer.machine, found, &answer.marks());
        reply
            .values
            .extend(cells.into_iter().map(|(_, datum)| datum.into()));
        reply.error = errors.join("; ");
        Some(answer)
    }

    fn side(
        &self,
        measure: Measure,
        pressures: &Pressures,
        line: Option<Temperature>,
        row: &Record,
    ) -> crate::Result<(ReadSide, Option<Uncertainty>)> {
        let read = self.pressure(pressures, row)?;
        let pressure = read.pressure;
        let side = ReadSide::new(self.refrigerant, measure, SideRead { pressure, line })?;
        // In rows the composition is counted as nominal, and nothing is drawn: see the help.
        let limits = read.limits(&self.kit);
        let uncertainty = side
            .reading
            .as_ref()
            .filter(|_| limits.any_instrument())
            .and_then(|reading| {
                reading
                    .on_branch(self.refrigerant, |branch| without_draws(branch, &limits))
                    .ok()
            });
        Ok((side, uncertainty))
    }

    fn pressure(&self, pressures: &Pressures, row: &Record) -> crate::Result<GaugeReading> {
        let CellValue::Pressure(value) =
            self.dialect.read(&pressures.place, row, &pressures.air)?
        else {
            return Err(crate::Error::NoState {
                reason: format!("column '{}' says no pressure", pressures.place.head),
                hint: "name it for example suction_pressure_psig".into(),
            });
        };
        let unit = pressures
            .place
            .column
            .pressure_unit()
            .unwrap_or(self.units.absolute);
        GaugeReading::taken(value, unit, pressures.added, &pressures.instrument)
    }
}
