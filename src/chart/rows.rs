//! The rows of a chart.

use super::Request;
use super::cell::{Cell, RowAt, VACUUM};
use crate::units::{TemperatureUnit, fixed};
use crate::{Error, Result};

/// Most cells a chart may hold: beyond it lies a slip of the step, no chart.
pub const MOST_CELLS: usize = 100_000;

/// What the rows of a chart stand for.
#[derive(Debug, Clone, PartialEq)]
pub enum Rows {
    /// Temperatures, as numbers in the chart's unit.
    Temperatures(Vec<f64>),
    /// Pressures, as numbers in the chart's unit.
    Pressures(Vec<f64>),
}

impl Rows {
    /// The rows of a chart where none are asked for, what shops have on the wall: -40 to 150 °F,
    /// -40 to 65 °C, 235 to 335 K, in steps of 5 or as given (common practice, no source).
    ///
    /// # Errors
    /// As [`steps`].
    pub fn usual(unit: TemperatureUnit, step: Option<f64>) -> Result<Self> {
        let (from, to) = match unit {
            TemperatureUnit::Fahrenheit => (-40.0, 150.0),
            TemperatureUnit::Celsius => (-40.0, 65.0),
            TemperatureUnit::Kelvin => (235.0, 335.0),
        };
        Self::temperatures(from, to, step)
    }

    /// Rows from one temperature to another, in steps of 5 where none is given.
    ///
    /// # Errors
    /// As [`steps`].
    pub fn temperatures(from: f64, to: f64, step: Option<f64>) -> Result<Self> {
        steps(from, to, step.unwrap_or(5.0)).map(Self::Temperatures)
    }

    /// Every nth of the rows, from the first on.
    pub fn thinned(&self, every: usize) -> Self {
        let some = |values: &[f64]| values.iter().copied().step_by(every.max(1)).collect();
        match self {
            Rows::Temperatures(values) => Rows::Temperatures(some(values)),
            Rows::Pressures(values) => Rows::Pressures(some(values)),
        }
    }

    /// How many rows there are.
    pub fn count(&self) -> usize {
        match self {
            Rows::Temperatures(values) | Rows::Pressures(values) => values.len(),
        }
    }

    pub(super) fn label_and_condition(&self, index: usize, request: &Request) -> (Cell, RowAt) {
        match self {
            Rows::Temperatures(values) => {
                let temperature = request.temperature_unit.write(values[index]);
                let cell = Cell {
                    text: plain(values[index]),
                    value: Some(temperature.in_kelvin()),
                    gap: None,
                };
                (cell, RowAt::Temperature(temperature))
            }
            Rows::Pressures(values) => {
                let pressure = request.pressure_unit.write(values[index], &request.site);
                let (figure, vacuum) = request.pressure_unit.cell(pressure, &request.site);
                let text = if vacuum {
                    format!("{figure}{VACUUM}")
                } else {
                    plain(values[index])
                };
                let cell = Cell {
                    text,
                    value: Some(pressure.in_pascal()),
                    gap: None,
                };
                (cell, RowAt::Pressure(pressure))
            }
        }
    }
}

/// A row's own number: as short as it can be told, at most four decimals.
fn plain(value: f64) -> String {
    let text = fixed(value, 4);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    text.to_owned()
}

/// The numbers from one to another, both included where a step ends there.
///
/// # Errors
/// [`Error::Value`] where a number is not finite, the step is 0 or below, `from` lies
/// above `to`, or there would be more than [`MOST_CELLS`] numbers.
///
/// # Example
/// ```
/// use zeotrope::chart::steps;
/// assert_eq!(steps(-40.0, -20.0, 10.0)?, [-40.0, -30.0, -20.0]);
/// assert!(steps(0.0, 10.0, 0.0).is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn steps(from: f64, to: f64, step: f64) -> Result<Vec<f64>> {
    let wrong = |quantity, value: f64, problem: &str, hint: &str| {
        Err(Error::Value {
            quantity,
            text: value.to_string(),
            problem: problem.into(),
            hint: hint.into(),
        })
    };
    if !(from.is_finite() && to.is_finite() && step.is_finite()) {
        return wrong("rows", step, "are not finite numbers", "use finite numbers");
    }
    if step <= 0.0 {
        return wrong(
            "step",
            step,
            "is not above zero",
            "give a step above zero, for example 5F",
        );
    }
    if from > to {
        return wrong(
            "from",
            from,
            "lies above the last row",
            "give the lower end first",
        );
    }
    // A step of 0.1 meets its end although 0.1 has no exact binary form.
    let count = ((to - from) / step + 1e-9).floor();
    if count >= MOST_CELLS as f64 {
        return wrong(
            "step",
            step,
            "makes more than 100000 rows",
            "take a larger step or a shorter range",
        );
    }
    Ok((0..=count as usize)
        .map(|index| from + index as f64 * step)
        .collect())
}

/// The lowest and the highest of some numbers.
pub(super) fn ends(values: &[f64]) -> [f64; 2] {
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    [least, most]
}

pub(super) fn check_size(rows: usize, columns: usize) -> Result<()> {
    let problem = match rows.saturating_mul(columns) {
        0 => "holds no cell",
        cells if cells > MOST_CELLS => "holds more than 100000 cells",
        _ => return Ok(()),
    };
    Err(Error::Value {
        quantity: "chart",
        text: format!("{rows} rows, {columns} columns"),
        problem: problem.into(),
        hint: "take a larger step, a shorter range or fewer refrigerants".into(),
    })
}
