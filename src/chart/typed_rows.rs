//! Rows of a chart as people write them, and the units that follow from them.

use super::rows::{Rows, steps};
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, TemperatureUnit, Typed, TypedLevel, UnitSet,
    parse_level, parse_pressure, parse_pressure_difference, parse_temperature,
    parse_temperature_difference,
};
use crate::{Error, Result};

/// Rows as written: two ends and a step, or lists.
#[derive(Debug, Clone, Copy, Default)]
pub struct TypedRows<'a> {
    /// First row: a temperature or a pressure.
    pub from: Option<&'a str>,
    /// Last row.
    pub to: Option<&'a str>,
    /// Difference between rows.
    pub step: Option<&'a str>,
    /// Rows at these temperatures.
    pub temperatures: &'a [String],
    /// Rows at these pressures; with rows of temperatures those of a second table.
    pub pressures: &'a [String],
}

/// Which of the texts an error is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowsPart {
    /// The first row.
    From,
    /// The last row.
    To,
    /// The step.
    Step,
    /// The list of temperatures.
    Temperatures,
    /// The list of pressures.
    Pressures,
}

/// Why there are no rows.
#[derive(Debug, Clone, PartialEq)]
pub enum RowsError {
    /// A part cannot be read.
    Part(RowsPart, Error),
    /// One end was given and not the other.
    OneEnd,
    /// The first row, a number in the chart's unit, lies above the last.
    Reversed(String),
    /// Rows by pressure have no step of their own.
    NoStep,
    /// A vacuum in inches of mercury counts downwards.
    CountsDown,
    /// The rows cannot be, for another reason.
    Rows(Error),
}

type Answer<Value> = std::result::Result<Value, RowsError>;

/// An error as that of a part.
fn from_result<Value>(part: RowsPart, found: Result<Value>) -> Answer<Value> {
    found.map_err(|error| RowsError::Part(part, error))
}

fn of_rows<Value>(found: Result<Value>) -> Answer<Value> {
    found.map_err(|error| match error {
        Error::Value {
            quantity: "from",
            text,
            ..
        } => RowsError::Reversed(text),
        other => RowsError::Rows(other),
    })
}

impl TypedRows<'_> {
    /// The rows, and the units of the chart, which `units` settles by those in which the rows are
    /// written.
    ///
    /// # Errors
    /// What is wrong, and with which part; what `units` ends with.
    ///
    /// # Example
    /// ```
    /// use zeotrope::chart::{Rows, RowsError, TypedRows};
    /// use zeotrope::units::{Atmosphere, UnitSet};
    /// let typed = TypedRows {
    ///     from: Some("0C"),
    ///     to: Some("10C"),
    ///     ..TypedRows::default()
    /// };
    /// let units = |scale, unit| Ok::<_, RowsError>(UnitSet::of_question(scale, unit));
    /// let (rows, _) = typed.rows(units, true, &Atmosphere::SEA_LEVEL).unwrap();
    /// assert_eq!(rows, Rows::Temperatures(vec![0.0, 5.0, 10.0]));
    /// ```
    pub fn rows<Ended: From<RowsError>>(
        &self,
        units: impl Fn(
            Option<TemperatureUnit>,
            Option<PressureUnit>,
        ) -> std::result::Result<UnitSet, Ended>,
        is_usual_fahrenheit: bool,
        site: &Atmosphere,
    ) -> std::result::Result<(Rows, UnitSet), Ended> {
        if !self.temperatures.is_empty() {
            let typed = self.temperatures.iter().map(|text| parse_temperature(text));
            let typed = from_result(RowsPart::Temperatures, typed.collect::<Result<Vec<_>>>())?;
            let units = units(typed.first().map(|one| one.unit), None)?;
            let pairs = typed.iter().zip(self.temperatures);
            let values = pairs.map(|(one, text)| exact(text, one, units.temperature));
            return Ok((Rows::Temperatures(values.collect()), units));
        }
        let has_no_ends = self.from.is_none() && self.to.is_none();
        if !self.pressures.is_empty() && has_no_ends {
            let typed = self.listed_pressures(site)?;
            let units = units(None, typed.first().map(|one| one.unit))?;
            let values = typed.iter().map(|one| units.pressure.read(one.value, site));
            return Ok((Rows::Pressures(values.collect()), units));
        }
        let (from, to) = match (self.from, self.to) {
            (Some(from), Some(to)) => (from, to),
            (None, None) => {
                let usual = is_usual_fahrenheit.then_some(TemperatureUnit::Fahrenheit);
                let units = units(self.step_unit()?.or(usual), None)?;
                let step = self.step(units.temperature)?;
                let rows = of_rows(Rows::usual(units.temperature, step))?;
                return Ok((rows, units));
            }
            _ => return Err(RowsError::OneEnd.into()),
        };
        let first = parse_level(from, BareUnit::Absolute, site);
        match from_result(RowsPart::From, first)? {
            TypedLevel::Pressure(first) => {
                let units = units(None, Some(first.unit))?;
                let rows = self.by_pressure(first.value, to, units.pressure, site)?;
                Ok((rows, units))
            }
            TypedLevel::Temperature(first) => {
                let last = from_result(RowsPart::To, parse_temperature(to))?;
                let units = units(Some(first.unit), None)?;
                let scale = units.temperature;
                let step = self.step(scale)?;
                let (from, to) = (exact(from, &first, scale), exact(to, &last, scale));
                let rows = of_rows(Rows::temperatures(from, to, step))?;
                Ok((rows, units))
            }
        }
    }

    fn step_unit(&self) -> Answer<Option<TemperatureUnit>> {
        let typed = self.step.map(parse_temperature_difference).transpose();
        Ok(from_result(RowsPart::Step, typed)?.map(|typed| typed.unit))
    }

    /// The step between temperatures.
    fn step(&self, scale: TemperatureUnit) -> Answer<Option<f64>> {
        let Some(text) = self.step else {
            return Ok(None);
        };
        let typed = from_result(RowsPart::Step, parse_temperature_difference(text))?;
        let is_fahrenheit = |unit| unit == TemperatureUnit::Fahrenheit;
        let is_same = is_fahrenheit(typed.unit) == is_fahrenheit(scale);
        let exact = leading_number(text).filter(|_| is_same);
        Ok(Some(
            exact.unwrap_or_else(|| scale.read_difference(typed.value)),
        ))
    }

    fn by_pressure(
        &self,
        first: Pressure,
        to: &str,
        unit: PressureUnit,
        site: &Atmosphere,
    ) -> Answer<Rows> {
        let last = from_result(RowsPart::To, parse_pressure(to, BareUnit::Absolute, site))?;
        if unit == PressureUnit::InchesOfMercuryVacuum {
            return Err(RowsError::CountsDown);
        }
        let step = self.step.ok_or(RowsError::NoStep)?;
        let step = from_result(RowsPart::Step, parse_pressure_difference(step))? / unit.pascal();
        let (from, to) = (unit.read(first, site), unit.read(last.value, site));
        of_rows(steps(from, to, step)).map(Rows::Pressures)
    }

    fn listed_pressures(&self, site: &Atmosphere) -> Answer<Vec<Typed<Pressure, PressureUnit>>> {
        let read = |text: &String| parse_pressure(text, BareUnit::Absolute, site);
        let typed = self.pressures.iter().map(read);
        from_result(RowsPart::Pressures, typed.collect::<Result<Vec<_>>>())
    }

    /// The rows of a second table, by pressure, where both kinds are asked for.
    ///
    /// # Errors
    /// As [`TypedRows::rows`].
    pub fn second(
        &self,
        rows: &Rows,
        unit: PressureUnit,
        site: &Atmosphere,
    ) -> Answer<Option<Rows>> {
        if matches!(rows, Rows::Pressures(_)) || self.pressures.is_empty() {
            return Ok(None);
        }
        let typed = self.listed_pressures(site)?;
        let values = typed.iter().map(|one| unit.read(one.value, site));
        Ok(Some(Rows::Pressures(values.collect())))
    }
}

/// A temperature in a chart's unit: a number that was written in it stays as it is, with no way
/// through kelvin where none is needed.
fn exact(
    text: &str,
    typed: &Typed<crate::units::Temperature, TemperatureUnit>,
    scale: TemperatureUnit,
) -> f64 {
    let exact = leading_number(text).filter(|_| typed.unit == scale);
    exact.unwrap_or_else(|| scale.read(typed.value))
}

/// The number at the head of a value that has been read already.
fn leading_number(text: &str) -> Option<f64> {
    let clean = text.trim().replace('\u{2212}', "-");
    let end = clean
        .find(|character: char| !matches!(character, '0'..='9' | '.' | '-' | '+'))
        .unwrap_or(clean.len());
    // An exponent, rare in a row of a chart, goes the way through kelvin.
    match clean[end..].chars().next() {
        Some('e' | 'E') => None,
        _ => clean[..end].parse().ok(),
    }
}
