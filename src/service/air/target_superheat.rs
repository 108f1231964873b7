//! Target superheat of a machine with a fixed orifice: a field estimate, and the plate's own chart.
//!
//! Common practice, no source, where nothing else is said. The chart on the machine outranks the
//! estimate; where the conditions fail the charge is weighed in.

use crate::units::{Temperature, TemperatureDifference};
use crate::{Error, Result};

/// What has to be so before either figure means anything; common practice, no source.
pub const CONDITIONS: [&str; 4] = [
    "airflow set, filters and coils clean",
    "running steadily in cooling for about 15 minutes",
    "outdoor air at least 55 °F (12.8 °C)",
    "return air at least 70 °F (21.1 °C)",
];

/// Lowest outdoor dry bulb of the conditions.
pub const OUTDOOR_LEAST: Temperature = Temperature::fahrenheit(55.0);

/// Lowest return dry bulb of the conditions.
pub const RETURN_LEAST: Temperature = Temperature::fahrenheit(70.0);

/// Indoor wet bulb and outdoor dry bulb, °F, at and beyond which printed charts forbid charging
/// while the estimate still gives 5 °F or more; from memory.
const FORBIDDEN: [(f64, f64); 4] = [(60.0, 85.0), (60.0, 90.0), (62.0, 95.0), (64.0, 100.0)];

/// Wet bulbs and outdoor dry bulbs of printed charts, °F; from memory.
const INDOOR_RANGE: (f64, f64) = (50.0, 76.0);
const OUTDOOR_MOST: f64 = 115.0;

/// Below this estimate, °F, the method is not valid.
const LEAST: f64 = 5.0;

/// A target with how much it moves with either bulb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Target {
    /// The target superheat.
    pub superheat: TemperatureDifference,
    /// Change of the target for a degree of indoor wet bulb.
    pub per_wet_bulb: f64,
    /// Change of the target for a degree of outdoor dry bulb.
    pub per_outdoor: f64,
}

impl Target {
    /// Root of the sum of squares, and sum, of what both thermometers' limit of error makes.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::air::target_superheat::estimate;
    /// use zeotrope::units::{Temperature, TemperatureDifference};
    /// let target = estimate(Temperature::fahrenheit(64.0), Temperature::fahrenheit(96.0))?;
    /// // By hand: 1.5 and 0.5 degrees a degree, so 2 in the worst case.
    /// let (usual, worst) = target.spread(TemperatureDifference::fahrenheit_degrees(1.0));
    /// assert!((worst.in_fahrenheit_degrees() - 2.0).abs() < 1e-12);
    /// assert!((usual.in_fahrenheit_degrees() - 2.5_f64.sqrt()).abs() < 1e-12);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn spread(
        &self,
        limit: TemperatureDifference,
    ) -> (TemperatureDifference, TemperatureDifference) {
        let [wet, outdoor] =
            [self.per_wet_bulb, self.per_outdoor].map(|slope| (slope * limit.in_kelvin()).abs());
        (
            TemperatureDifference::kelvin(wet.hypot(outdoor)),
            TemperatureDifference::kelvin(wet + outdoor),
        )
    }
}

fn refused(reason: String, hint: &str) -> Error {
    Error::NoAnswer {
        reason,
        hint: hint.into(),
    }
}

/// A temperature in both units.
fn both(temperature: Temperature) -> String {
    format!(
        "{:.1} °F ({:.1} °C)",
        temperature.in_fahrenheit(),
        temperature.in_celsius()
    )
}

const WEIGH: &str = "use the chart on the machine (--chart FILE), or weigh the charge in";

/// An estimate of the target superheat: (3 WB - 80 - DB)/2 in °F, from the indoor wet bulb WB
/// and the outdoor dry bulb DB.
///
/// Common practice, no source. Printed charts differ from it by -7.5 to +3 °F.
///
/// # Errors
/// [`Error::NoAnswer`] where the outdoor air is colder than 55 °F, where a bulb lies outside the
/// charts it stands in for (50 to 76 °F wet, to 115 °F outdoors), where the estimate is below
/// 5 °F, and in the corner where printed charts forbid charging: as dry indoors and as hot
/// outdoors as 60/85, 62/95 or 64/100 °F.
///
/// # Example
/// ```
/// use zeotrope::{service::air::target_superheat::estimate, units::Temperature};
/// // By hand: (3 x 64 - 80 - 96)/2 = 8.
/// let target = estimate(Temperature::fahrenheit(64.0), Temperature::fahrenheit(96.0))?;
/// assert!((target.superheat.in_fahrenheit_degrees() - 8.0).abs() < 1e-9);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn estimate(indoor_wet_bulb: Temperature, outdoor: Temperature) -> Result<Target> {
    let (wet, dry) = (indoor_wet_bulb.in_fahrenheit(), outdoor.in_fahrenheit());
    // A trace of rounding does not move a limit.
    let trace = 1e-9;
    if outdoor < OUTDOOR_LEAST {
        return Err(refused(
            format!(
                "outdoor air of {} is colder than the 55 °F that the method needs",
                both(outdoor)
            ),
            "weigh the charge in, or follow the maker's cold-weather procedure",
        ));
    }
    if !(INDOOR_RANGE.0 - trace..=INDOOR_RANGE.1 + trace).contains(&wet)
        || dry > OUTDOOR_MOST + trace
    {
        return Err(refused(
            format!(
                "{} wet bulb and {} outdoors lie outside the charts that the estimate stands in \
                 for (50 to 76 °F wet bulb, 55 to 115 °F outdoors)",
                both(indoor_wet_bulb),
                both(outdoor)
            ),
            WEIGH,
        ));
    }
    if FORBIDDEN
        .iter()
        .any(|corner| wet <= corner.0 + trace && dry >= corner.1 - trace)
    {
        return Err(refused(
            format!(
                "at {} wet bulb and {} outdoors printed charts forbid charging by superheat",
                both(indoor_wet_bulb),
                both(outdoor)
            ),
            WEIGH,
        ));
    }
    let degrees = (3.0 * wet - 80.0 - dry) / 2.0;
    if degrees < LEAST - trace {
        return Err(refused(
            format!("the estimate is {degrees:.1} °F, below the 5 °F from which it is valid"),
            WEIGH,
        ));
    }
    Ok(Target {
        superheat: TemperatureDifference::fahrenheit_degrees(degrees),
        per_wet_bulb: 1.5,
        per_outdoor: -0.5,
    })
}

/// The chart from a machine's plate: rows by outdoor dry bulb, columns by indoor wet bulb.
#[derive(Debug, Clone, PartialEq)]
pub struct PlateChart {
    outdoor: Vec<Temperature>,
    wet_bulb: Vec<Temperature>,
    cells: Vec<Vec<Option<TemperatureDifference>>>,
}

fn rises(values: &[Temperature]) -> bool {
    values.windows(2).all(|pair| pair[0] < pair[1])
}

impl PlateChart {
    /// A chart from its heads and cells; an empty cell forbids charging there.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where there are fewer than two rows or columns, a row of another length,
    /// heads that do not rise, a superheat below zero, or one that does not strictly rise with the
    /// wet bulb along a row or fall with the outdoor dry bulb down a column.
    pub fn new(
        outdoor: Vec<Temperature>,
        wet_bulb: Vec<Temperature>,
        cells: Vec<Vec<Option<TemperatureDifference>>>,
    ) -> Result<Self> {
        let wrong = |reason: String| refused(reason, "check the chart against the plate");
        if outdoor.len() < 2 || wet_bulb.len() < 2 {
            return Err(wrong(
                "a chart needs at least two rows and two columns".into(),
            ));
        }
        if cells.len() != outdoor.len() || cells.iter().any(|row| row.len() != wet_bulb.len()) {
            return Err(wrong("the chart's rows are not of one length".into()));
        }
        if !rises(&outdoor) || !rises(&wet_bulb) {
            return Err(wrong(
                "the chart's dry bulbs (rows) and wet bulbs (columns) do not rise".into(),
            ));
        }
        let chart = Self {
            outdoor,
            wet_bulb,
            cells,
        };
        chart.check()?;
        Ok(chart)
    }

    /// Whether the figures rise along rows and fall down columns, over gaps as well.
    fn check(&self) -> Result<()> {
        let place = |row: usize, column: usize| {
            format!(
                "{} outdoors and {} wet bulb",
                both(self.outdoor[row]),
                both(self.wet_bulb[column])
            )
        };
        let wrong = |what: &str, row, column| {
            Err(refused(
                format!("the chart {what} at {}", place(row, column)),
                "superheat rises with the wet bulb and falls with the outdoor dry bulb: check \
                 the chart against the plate",
            ))
        };
        for (row, cells) in self.cells.iter().enumerate() {
            let mut before: Option<TemperatureDifference> = None;
            for (column, cell) in cells.iter().enumerate() {
                let Some(cell) = cell else { continue };
                if cell.in_kelvin() < 0.0 {
                    return wrong("has a superheat below zero", row, column);
                }
                if before.is_some_and(|before| *cell <= before) {
                    return wrong("does not rise with the wet bulb", row, column);
                }
                before = Some(*cell);
            }
        }
        for column in 0..self.wet_bulb.len() {
            let mut before: Option<TemperatureDifference> = None;
            for (row, cells) in self.cells.iter().enumerate() {
                let Some(cell) = cells[column] else { continue };
                if before.is_some_and(|before| cell >= before) {
                    return wrong("does not fall with the outdoor dry bulb", row, column);
                }
                before = Some(cell);
            }
        }
        Ok(())
    }

    /// The target by linear interpolation in both bulbs, inside the chart alone.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] outside the chart's heads, and where one of the four cells around the
    /// point is empty.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::air::target_superheat::PlateChart;
    /// use zeotrope::units::{Temperature, TemperatureDifference};
    /// let heads = |values: [f64; 2]| values.map(Temperature::fahrenheit).to_vec();
    /// let row = |values: [f64; 2]| {
    ///     values.map(|value| Some(TemperatureDifference::fahrenheit_degrees(value))).to_vec()
    /// };
    /// let chart = PlateChart::new(
    ///     heads([80.0, 90.0]),
    ///     heads([64.0, 68.0]),
    ///     vec![row([14.0, 20.0]), row([10.0, 16.0])],
    /// )?;
    /// // By hand: half way between 14 and 20, and between 10 and 16, half way between those.
    /// let target = chart.target(Temperature::fahrenheit(66.0), Temperature::fahrenheit(85.0))?;
    /// assert!((target.superheat.in_fahrenheit_degrees() - 15.0).abs() < 1e-9);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn target(&self, indoor_wet_bulb: Temperature, outdoor: Temperature) -> Result<Target> {
        let (Some((row, y)), Some((column, x))) = (
            between(&self.outdoor, outdoor),
            between(&self.wet_bulb, indoor_wet_bulb),
        ) else {
            return Err(refused(
                format!(
                    "{} wet bulb and {} outdoors lie outside the chart",
                    both(indoor_wet_bulb),
                    both(outdoor)
                ),
                "a chart is not continued beyond its edge: weigh the charge in",
            ));
        };
        let around = [
            self.cells[row][column],
            self.cells[row][column + 1],
            self.cells[row + 1][column],
            self.cells[row + 1][column + 1],
        ];
        let [Some(a), Some(b), Some(c), Some(d)] = around else {
            return Err(refused(
                "a cell of the chart around these bulbs is empty: it forbids charging there".into(),
                "weigh the charge in",
            ));
        };
        let [a, b, c, d] = [a, b, c, d].map(TemperatureDifference::in_kelvin);
        let (wide, high) = (
            (self.wet_bulb[column + 1] - self.wet_bulb[column]).in_kelvin(),
            (self.outdoor[row + 1] - self.outdoor[row]).in_kelvin(),
        );
        let (top, bottom) = (a + x * (b - a), c + x * (d - c));
        Ok(Target {
            superheat: TemperatureDifference::kelvin(top + y * (bottom - top)),
            per_wet_bulb: ((1.0 - y) * (b - a) + y * (d - c)) / wide,
            per_outdoor: (bottom - top) / high,
        })
    }
}

/// The stretch of rising heads that a value lies in, and how far along.
fn between(heads: &[Temperature], value: Temperature) -> Option<(usize, f64)> {
    // What was typed in one unit and written in another may differ by a trace.
    let trace = TemperatureDifference::kelvin(1e-9);
    let index = heads
        .windows(2)
        .position(|pair| pair[0] - trace <= value && value <= pair[1] + trace)?;
    let along = (value - heads[index]).in_kelvin();
    let length = (heads[index + 1] - heads[index]).in_kelvin();
    Some((index, (along / length).clamp(0.0, 1.0)))
}
