//! `reading --csv`: a log of both sides, row by row, with lowest, highest, mean and trend, and a
//! picture of the run.

use std::io::Write;
use std::path::Path;

use csv::ByteRecord;
use serde_json::{Map, Value, json};

use crate::chart::plot::{Axis, Curve, Plot, Stroke};
use crate::cli::args::OutputArgs;
use crate::cli::args::meant;
use crate::cli::args::reading::ReadingArgs;
use crate::cli::errors::Failure;
use crate::cli::io::deliver;
use crate::cli::io::rows::{self, Place, Reply, Rows};
use crate::cli::page;
use crate::cli::transition::cautions;
use crate::cli::verbs::readings::instruments::{self, Read};
use crate::cli::verbs::readings::reading::{HEADS, cells};
use crate::output::{Format, identity, model, number, optional, warnings};
use crate::page::{Block, Document, Sheet, Table};
use crate::refrigerant::{Refrigerant, Warning};
use crate::service::facts::Facts;
use crate::service::measurement::gauge::Added;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{Uncertainty, without_draws};
use crate::service::reading::both_sides::{AirRead, Machine, Side, SideRead};
use crate::service::reading::log::{Clock, Statistics, Thinned};
use crate::service::reading::superheat_subcooling::Measure;
use crate::units::{
    Atmosphere, BareUnit, Measured, Temperature, TemperatureDifference, UnitSet, fixed,
};

/// Points of a curve in the picture.
const POINTS: usize = 2000;

/// A column of pressures and the gauge it was read with.
struct Pressures {
    place: Place,
    instrument: Instrument,
    added: Added,
    air: Atmosphere,
}

/// The columns of a log.
struct Columns {
    suction: Option<Pressures>,
    suction_line: Option<Place>,
    liquid: Option<Pressures>,
    liquid_line: Option<Place>,
    air: [Option<Place>; 3],
    clock: Option<(usize, Clock)>,
}

/// What the rows are answered with.
struct Setting<'a> {
    refrigerant: &'a Refrigerant,
    kit: Kit,
    columns: Columns,
    units: UnitSet,
    site: Atmosphere,
}

pub(crate) fn answer(
    args: &ReadingArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    meant::check_output(&args.output)?;
    let as_rows = match meant::format(&args.output)? {
        Format::Csv => true,
        Format::Text => args.output.format.is_none() && args.output.output.is_none(),
        _ => false,
    };
    let (site, site_warnings) = meant::site(&args.site)?;
    let (kit, _) = instruments::kit_of_sides(&args.gauge, &args.accuracy, &args.sides)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let file = Rows::open(
        args.csv.as_deref().unwrap_or(Path::new("-")),
        BareUnit::Refused,
    )?;
    let columns = columns(&file, &kit, &site)?;
    let units = units(args, &columns)?;
    let width = file.width();
    let clock = columns.clock;
    let setting = Setting {
        refrigerant: &refrigerant,
        kit,
        columns,
        units,
        site,
    };
    let mut run = Run::new(clock, width);
    let one = |row: &ByteRecord| setting.row(row);
    let seen = |row: &ByteRecord| run.add(row);
    if as_rows {
        for warning in page::all_warnings(&refrigerant, &[], &site_warnings) {
            let _ = writeln!(err, "warning: {} ({})", warning.text, warning.code);
        }
        return file.answer_seen(&HEADS, &args.output, (out, err), one, seen);
    }
    let nowhere = OutputArgs::default();
    file.answer_seen(&HEADS, &nowhere, (&mut std::io::sink(), err), one, seen)?;
    let all = page::all_warnings(&refrigerant, &[], &site_warnings);
    let answer = run.answer(&setting, all);
    deliver::answer(&answer, &args.output, out, err)
}

fn columns(file: &Rows, kit: &Kit, site: &Atmosphere) -> Result<Columns, Failure> {
    let pressures =
        |names: &[&str], instrument: &Instrument| -> Result<Option<Pressures>, Failure> {
            let Some(place) = file.meaning(names)? else {
                return Ok(None);
            };
            let Some(unit) = place.column.pressure_unit() else {
                return Ok(None);
            };
            let added = crate::service::measurement::gauge_reading::added(instrument, unit, site)?;
            Ok(Some(Pressures {
                place,
                instrument: instrument.clone(),
                air: crate::service::measurement::gauge_reading::air(&added, site),
                added,
            }))
        };
    let columns = Columns {
        suction: pressures(&["suction_pressure", "low_pressure"], &kit.low)?,
        suction_line: file.meaning(&["suction_line_temperature", "suction_temperature"])?,
        liquid: pressures(&["liquid_pressure", "high_pressure"], &kit.high)?,
        liquid_line: file.meaning(&["liquid_line_temperature", "liquid_temperature"])?,
        air: [
            file.meaning(&["ambient_temperature", "outdoor_temperature"])?,
            file.meaning(&["return_air_temperature", "return_temperature"])?,
            file.meaning(&["supply_air_temperature", "supply_temperature"])?,
        ],
        clock: file
            .find(|head| Clock::named(head).is_some())
            .and_then(|(at, head)| Some((at, Clock::named(head)?))),
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
    fn row(&self, row: &ByteRecord) -> Reply {
        let mut errors = Vec::new();
        let mut told = |head: &str, error: crate::Error| {
            let text = rows::error(error, &self.units, &self.site);
            errors.push(format!("{head}: {text}"));
        };
        let mut temperature = |place: &Option<Place>| {
            let place = place.as_ref()?;
            match place.read(row, &self.site) {
                Ok(Measured::Temperature(value)) => Some(value),
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
        let [ambient, returning, supplied] = [0, 1, 2].map(|at| temperature(&columns.air[at]));
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
        if let Some((at, clock)) = columns.clock {
            let cell = String::from_utf8_lossy(row.get(at).unwrap_or_default()).into_owned();
            if let Err(error) = clock.seconds(&cell) {
                told("time", error);
            }
        }
        if suction.is_none() && liquid.is_none() {
            return Reply::none(errors.join("; "));
        }
        let split = |found: Option<(Side, Option<Uncertainty>)>| match found {
            Some((side, uncertainty)) => (Some(side), uncertainty),
            None => (None, None),
        };
        let ((suction, low), (liquid, high)) = (split(suction), split(liquid));
        let machine = Machine {
            suction,
            liquid,
            air: AirRead {
                ambient,
                returning,
                supplied,
            },
        };
        let expanded = |found: &Option<Uncertainty>| found.as_ref().map(|one| one.expanded);
        let marks = machine.marks(expanded(&low), expanded(&high));
        Reply {
            cells: cells(&machine, [low.as_ref(), high.as_ref()], &marks),
            error: errors.join("; "),
            warnings: Vec::new(),
        }
    }

    fn side(
        &self,
        measure: Measure,
        pressures: &Pressures,
        line: Option<Temperature>,
        row: &ByteRecord,
    ) -> crate::Result<(Side, Option<Uncertainty>)> {
        let read = self.pressure(pressures, row)?;
        let pressure = read.pressure;
        let side = Side::new(self.refrigerant, measure, SideRead { pressure, line })?;
        // In rows the composition is counted as nominal, and nothing is drawn: see the help.
        let limits = instruments::limits(&self.kit, &read);
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

    fn pressure(&self, pressures: &Pressures, row: &ByteRecord) -> crate::Result<Read> {
        let Measured::Pressure(value) = pressures.place.read(row, &pressures.air)? else {
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
        Read::taken(value, unit, pressures.added, &pressures.instrument)
    }
}

/// How a quantity of the summary is shown.
#[derive(Clone, Copy)]
enum Kind {
    Temperature,
    Difference,
    Ratio,
}

/// Quantities of the summary: place in [`HEADS`], words.
const SUMMARY: [(usize, &str, Kind); 9] = [
    (1, "suction dew temperature", Kind::Temperature),
    (2, "superheat", Kind::Difference),
    (6, "liquid bubble temperature", Kind::Temperature),
    (8, "subcooling", Kind::Difference),
    (12, "evaporator's (bubble + dew)/2", Kind::Temperature),
    (13, "condenser's (bubble + dew)/2", Kind::Temperature),
    (14, "pressure ratio", Kind::Ratio),
    (15, "condenser's mean over ambient", Kind::Difference),
    (16, "return air over evaporator's mean", Kind::Difference),
];
/// Places of superheat, subcooling and the marks in [`HEADS`].
const SUPERHEAT: usize = 2;
const SUBCOOLING: usize = 8;
const MARKS: usize = 18;

/// What a run of rows adds up to.
struct Run {
    clock: Option<(usize, Clock)>,
    width: usize,
    begun: Option<f64>,
    /// The latest time, and the midnights that times of day have passed, in s.
    latest: f64,
    midnights: f64,
    rows: u64,
    answered: u64,
    marked: u64,
    seen: [Statistics; SUMMARY.len()],
    curves: [Thinned; 2],
}

impl Run {
    fn new(clock: Option<(usize, Clock)>, width: usize) -> Self {
        Self {
            clock,
            width,
            begun: None,
            latest: 0.0,
            midnights: 0.0,
            rows: 0,
            answered: 0,
            marked: 0,
            seen: Default::default(),
            curves: [Thinned::new(POINTS), Thinned::new(POINTS)],
        }
    }

    /// Takes in a finished row; one that is marked or has no time counts for nothing but itself.
    fn add(&mut self, row: &ByteRecord) {
        self.rows += 1;
        let width = self.width;
        let figure = |place: usize| -> Option<f64> {
            let cell = row.get(width + place)?;
            std::str::from_utf8(cell).ok()?.parse().ok()
        };
        let figures = SUMMARY.map(|(place, ..)| figure(place));
        if figures.iter().all(Option::is_none) {
            return;
        }
        self.answered += 1;
        if row
            .get(self.width + MARKS)
            .is_some_and(|cell| !cell.is_empty())
        {
            self.marked += 1;
            return;
        }
        let time = match self.clock {
            None => Some((self.rows - 1) as f64),
            Some((at, clock)) => {
                let cell = String::from_utf8_lossy(row.get(at).unwrap_or_default()).into_owned();
                let time = clock.seconds(&cell).ok();
                match clock {
                    Clock::Written => time.map(|time| self.past_midnight(time)),
                    Clock::Seconds(_) => time,
                }
            }
        };
        let Some(time) = time else { return };
        let time = time - *self.begun.get_or_insert(time);
        for (statistics, value) in self.seen.iter_mut().zip(figures) {
            if let Some(value) = value {
                statistics.add(time, value);
            }
        }
        for (curve, place) in self.curves.iter_mut().zip([SUPERHEAT, SUBCOOLING]) {
            if let Some(value) = figure(place) {
                curve.add(time, value);
            }
        }
    }

    /// A time of day that lies half a day or more before the latest is one of the next day; times
    /// with a date lie beyond any first day.
    fn past_midnight(&mut self, time: f64) -> f64 {
        const DAY: f64 = 86_400.0;
        if time < DAY && time + self.midnights < self.latest - 0.5 * DAY {
            self.midnights += DAY;
        }
        let midnights = if time < DAY { self.midnights } else { 0.0 };
        self.latest = time + midnights;
        self.latest
    }

    fn answer(&self, setting: &Setting<'_>, all: Vec<Warning>) -> Document {
        let facts = Facts::of(setting.refrigerant);
        let mut blocks = vec![
            Block::Title(self.title(setting)),
            self.table(setting),
            Block::Lines(vec![self.counts()]),
        ];
        blocks.extend(page::foot(
            setting.refrigerant,
            &facts,
            None,
            &all,
            &setting.site,
        ));
        blocks.push(Block::Picture(self.picture(setting)));
        Document {
            blocks,
            sheet: Sheet::default(),
            json: self.json(setting, &facts, &all),
            warnings: all,
            ..Document::default()
        }
    }

    fn title(&self, setting: &Setting<'_>) -> String {
        format!(
            "{}, a log of {} rows",
            setting.refrigerant.designation(),
            self.rows
        )
    }

    fn counts(&self) -> String {
        format!(
            "{} rows answered, {} without an answer, {} that make no sense: the last two are kept \
             and marked in the rows (--format csv) and count for nothing above. In rows a blend \
             counts as its nominal composition.",
            self.answered,
            self.rows - self.answered,
            self.marked
        )
    }

    /// The trend in units a reader has: per hour, or per row without a time.
    fn trend(&self, statistics: &Statistics) -> Option<f64> {
        let scale = if self.clock.is_some() { 3600.0 } else { 1.0 };
        statistics.trend().map(|slope| slope * scale)
    }

    fn table(&self, setting: &Setting<'_>) -> Block {
        let units = &setting.units;
        let difference = |kelvin: f64| {
            units
                .temperature
                .read_difference(TemperatureDifference::kelvin(kelvin))
        };
        let mut table = Table {
            groups: Vec::new(),
            heads: ["", "unit", "lowest", "highest", "mean"]
                .map(str::to_owned)
                .to_vec(),
            rows: Vec::new(),
            words: 2,
        };
        table.heads.push(
            match self.clock {
                Some(_) => "trend per hour",
                None => "trend per row",
            }
            .to_owned(),
        );
        for ((_, name, kind), statistics) in SUMMARY.iter().zip(&self.seen) {
            let (Some(min), Some(max), Some(mean)) =
                (statistics.min(), statistics.max(), statistics.mean())
            else {
                continue;
            };
            let (unit, show): (&str, Box<dyn Fn(f64) -> String>) = match kind {
                Kind::Temperature => (
                    units.temperature.symbol(),
                    Box::new(|kelvin| {
                        fixed(units.temperature.read(Temperature::kelvin(kelvin)), 1)
                    }),
                ),
                Kind::Difference => (
                    units.temperature.difference_symbol(),
                    Box::new(|kelvin| fixed(difference(kelvin), 1)),
                ),
                Kind::Ratio => ("", Box::new(|ratio| fixed(ratio, 2))),
            };
            let trend = self.trend(statistics).map_or_else(
                || "-".to_owned(),
                |slope| match kind {
                    Kind::Ratio => fixed(slope, 3),
                    _ => fixed(difference(slope), 2),
                },
            );
            table.rows.push(vec![
                (*name).to_owned(),
                unit.to_owned(),
                show(min),
                show(max),
                show(mean),
                trend,
            ]);
        }
        Block::Table(table)
    }

    fn json(&self, setting: &Setting<'_>, facts: &Facts, all: &[Warning]) -> Value {
        let mut object = identity(setting.refrigerant);
        let mut put = |key: &str, value: Value| {
            object.insert(key.to_owned(), value);
        };
        put("rows", self.rows.into());
        put("rows_answered", self.answered.into());
        put("rows_marked", self.marked.into());
        let key = match self.clock {
            Some(_) => "trend_per_h",
            None => "trend_per_row",
        };
        let statistics: Map<String, Value> = SUMMARY
            .iter()
            .zip(&self.seen)
            .map(|((place, ..), seen)| {
                let value = json!({
                    "count": seen.count(),
                    "min": optional(seen.min()),
                    "max": optional(seen.max()),
                    "mean": optional(seen.mean()),
                    key: optional(self.trend(seen)),
                });
                (HEADS[*place].to_owned(), value)
            })
            .collect();
        put("statistics", Value::Object(statistics));
        put("atmosphere_Pa", number(setting.site.pressure().in_pascal()));
        put("model", model(facts));
        put("cautions", cautions(&[(setting.refrigerant, facts)]).into());
        put("warnings", warnings(all));
        Value::Object(object)
    }

    fn picture(&self, setting: &Setting<'_>) -> Plot {
        let units = &setting.units;
        let longest = self
            .curves
            .iter()
            .flat_map(Thinned::points)
            .map(|point| point.0)
            .fold(0.0, f64::max);
        let (size, label) = match self.clock {
            None => (1.0, "row"),
            Some(_) if longest > 3.0 * 3600.0 => (3600.0, "time, h"),
            Some(_) if longest > 180.0 => (60.0, "time, min"),
            Some(_) => (1.0, "time, s"),
        };
        let curves: Vec<Curve> = self
            .curves
            .iter()
            .zip([("superheat", Stroke::Solid), ("subcooling", Stroke::Dashed)])
            .filter(|(curve, _)| !curve.points().is_empty())
            .map(|(curve, (label, stroke))| Curve {
                label: label.to_owned(),
                points: curve
                    .points()
                    .iter()
                    .map(|(time, kelvin)| {
                        let difference = TemperatureDifference::kelvin(*kelvin);
                        (time / size, units.temperature.read_difference(difference))
                    })
                    .collect(),
                stroke,
            })
            .collect();
        let numbers = |at: fn(&(f64, f64)) -> f64| -> Vec<f64> {
            let points = curves.iter().flat_map(|curve| &curve.points);
            points.map(at).collect()
        };
        let most = self.curves.iter().map(Thinned::every).max().unwrap_or(1);
        let mut notes = vec![self.counts(), "A line bridges rows left out.".to_owned()];
        if most > 1 {
            notes.push(format!("One of {most} rows is drawn."));
        }
        Plot {
            title: self.title(setting),
            x: Axis::around(label, numbers(|point| point.0)),
            y: Axis::around(
                format!("difference, {}", units.temperature.difference_symbol()),
                numbers(|point| point.1).into_iter().chain([0.0]),
            ),
            curves,
            marks: Vec::new(),
            notes,
        }
    }
}
