//! The columns of a log, and its rows answered.

use super::LogRow;
use crate::error::Reason;
use crate::refrigerant::Refrigerant;
use crate::service::measurement::gauge::Added;
use crate::service::measurement::gauge_reading::{self, GaugeReading};
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{Uncertainty, without_draws};
use crate::service::reading::both_sides::{AirRead, Machine, Mode, ReadSide, SideRead};
use crate::service::reading::superheat_subcooling::Measure;
use crate::service::reasons;
use crate::service::sheet::{Clock, Dialect, Record};
use crate::units::{
    Atmosphere, CellValue, Heads, PressureUnit, ReadColumn, Temperature, TemperatureUnit,
};
use crate::{Error, Result};

/// A column of pressures and the gauge it was read with.
#[derive(Debug, Clone)]
struct Pressures {
    place: ReadColumn,
    instrument: Instrument,
    added: Added,
    air: Atmosphere,
}

/// The columns of a log.
#[derive(Debug, Clone)]
pub struct LogColumns {
    suction: Option<Pressures>,
    suction_line: Option<ReadColumn>,
    liquid: Option<Pressures>,
    liquid_line: Option<ReadColumn>,
    air: [Option<ReadColumn>; 4],
    clock: Option<(usize, Clock)>,
}

impl LogColumns {
    /// The columns that headers name.
    ///
    /// # Errors
    /// [`Error::Columns`] without a column of pressures, with a line that has none beside it, and
    /// where a header has no unit; those of [`gauge_reading::added`].
    pub fn new(
        heads: &Heads,
        clock: Option<(usize, Clock)>,
        kit: &Kit,
        site: &Atmosphere,
    ) -> Result<Self> {
        let pressures = |names: &[&str], instrument: &Instrument| -> Result<Option<Pressures>> {
            let Some(place) = heads.meaning(names)? else {
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
        let columns = Self {
            suction: pressures(&["suction_pressure", "low_pressure"], &kit.low)?,
            suction_line: heads.meaning(&["suction_line_temperature", "suction_temperature"])?,
            liquid: pressures(&["liquid_pressure", "high_pressure"], &kit.high)?,
            liquid_line: heads.meaning(&["liquid_line_temperature", "liquid_temperature"])?,
            air: [
                heads.meaning(&["ambient_temperature", "outdoor_temperature"])?,
                heads.meaning(&["return_air_temperature", "return_temperature"])?,
                heads.meaning(&["supply_air_temperature", "supply_temperature"])?,
                heads.meaning(&["wet_bulb_temperature"])?,
            ],
            clock,
        };
        if columns.suction.is_none() && columns.liquid.is_none() {
            return Err(wrong(
                "the log has no column of pressures".into(),
                "name the columns for example time, suction_pressure_psig, \
             suction_line_temperature_F, liquid_pressure_psig, liquid_line_temperature_F"
                    .into(),
            ));
        }
        for (line, pressure, name) in [
            (&columns.suction_line, &columns.suction, "suction_pressure"),
            (&columns.liquid_line, &columns.liquid, "liquid_pressure"),
        ] {
            if let (Some(line), None) = (line, pressure) {
                return Err(wrong(
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

    /// The column of times says them so.
    pub fn clock(&self) -> Option<Clock> {
        self.clock.map(|(_, clock)| clock)
    }

    /// The unit of the first column of temperatures.
    pub fn temperature_unit(&self) -> Option<TemperatureUnit> {
        let lines = [&self.suction_line, &self.liquid_line].into_iter();
        let mut places = lines.chain(&self.air).flatten();
        places.find_map(|place| place.column.temperature_unit())
    }

    /// The unit of the first column of pressures.
    pub fn pressure_unit(&self) -> Option<PressureUnit> {
        let mut sides = [&self.suction, &self.liquid].into_iter().flatten();
        sides.find_map(|one| one.place.column.pressure_unit())
    }
}

fn wrong(problem: String, hint: String) -> Error {
    Error::Columns {
        problem,
        hint,
        choice: Vec::new(),
    }
}

/// What the rows of a log are answered with.
#[derive(Debug, Clone)]
pub struct LogReader<'a> {
    /// The refrigerant.
    pub refrigerant: &'a Refrigerant,
    /// Instruments of both sides.
    pub kit: Kit,
    /// What stands where.
    pub columns: LogColumns,
    /// The local atmosphere.
    pub site: Atmosphere,
    /// What the system does.
    pub mode: Mode,
    /// How the file is written.
    pub dialect: Dialect,
}

impl LogReader<'_> {
    /// Answers a row: what cannot be read is handed to `told` with the column's header, the rest
    /// answered; `None` where neither side has an answer.
    pub fn row(&self, row: &Record, mut told: impl FnMut(&str, Error)) -> Option<LogRow> {
        let mut is_partial = false;
        let mut told = |head: &str, error: Error| {
            is_partial = true;
            told(head, error);
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
        Some(LogRow {
            time,
            machine: Machine {
                suction,
                liquid,
                air,
                mode: self.mode,
            },
            uncertainty: [low.flatten(), high.flatten()],
            is_partial,
        })
    }

    fn side(
        &self,
        measure: Measure,
        pressures: &Pressures,
        line: Option<Temperature>,
        row: &Record,
    ) -> Result<(ReadSide, Option<Uncertainty>)> {
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

    fn pressure(&self, pressures: &Pressures, row: &Record) -> Result<GaugeReading> {
        let CellValue::Pressure(value) =
            self.dialect.read(&pressures.place, row, &pressures.air)?
        else {
            return Err(Error::NoState {
                reason: Reason::of(reasons::SHEET_NO_PRESSURE, "column", &pressures.place.head),
                hint: "name it for example suction_pressure_psig".into(),
            });
        };
        let unit = pressures
            .place
            .column
            .pressure_unit()
            .unwrap_or(PressureUnit::Pascal);
        GaugeReading::taken(value, unit, pressures.added, &pressures.instrument)
    }
}
