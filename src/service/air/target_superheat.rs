//! Target superheat of a system with a fixed orifice: a field estimate, or the manufacturer's chart.
//!
//! Common practice, no source, where nothing else is said. The manufacturer's chart outranks the
//! estimate; where a condition is not met, neither applies.

use crate::error::{Blank, RangeUnit, Reason};
use crate::phrase::Phrase;
use crate::service::reasons;
use serde::Serialize;

use super::moist_air::{Humidity, MoistAir};
use crate::Warning;
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result};

/// What has to be so before either figure means anything; common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Condition {
    /// Airflow and heat exchangers are in order.
    #[serde(rename = "airflow set, filters and coils clean")]
    Airflow,
    /// The system has run long enough.
    #[serde(rename = "running steadily in cooling for about 15 minutes")]
    Steady,
    /// Outdoor air at least [`OUTDOOR_LEAST`].
    #[serde(rename = "outdoor air at least 55 °F (12.8 °C)")]
    Outdoor,
    /// Return air at least [`RETURN_LEAST`].
    #[serde(rename = "return air at least 70 °F (21.1 °C)")]
    Return,
}

impl Condition {
    /// Every condition.
    pub const ALL: &'static [Self] = &[Self::Airflow, Self::Steady, Self::Outdoor, Self::Return];
}

/// Lowest outdoor dry bulb of the conditions.
pub const OUTDOOR_LEAST: Temperature = Temperature::fahrenheit(55.0);

/// Lowest return dry bulb of the conditions.
pub const RETURN_LEAST: Temperature = Temperature::fahrenheit(70.0);

/// Lowest and highest difference of printed charts from the estimate.
pub(crate) const CHARTS_DIFFER: [TemperatureDifference; 2] = [
    TemperatureDifference::fahrenheit_degrees(-7.5),
    TemperatureDifference::fahrenheit_degrees(3.0),
];

/// Where a target comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TargetMethod {
    /// The field formula.
    Estimate,
    /// The manufacturer's chart.
    Chart,
}

impl TargetMethod {
    /// The method's name for programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Estimate => "estimate",
            Self::Chart => "chart",
        }
    }

    const fn source(self) -> Phrase {
        match self {
            Self::Estimate => reasons::TARGET_SOURCE_ESTIMATE,
            Self::Chart => reasons::TARGET_SOURCE_CHART,
        }
    }
}

/// The indoor air as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Indoor {
    /// Wet bulb of the return air.
    pub wet_bulb: Temperature,
    /// Dry bulb of the return air, where it was read.
    pub dry_bulb: Option<Temperature>,
    /// Whether the wet bulb was calculated from another reading of moisture.
    pub is_calculated: bool,
}

impl Indoor {
    /// The air of a dry bulb and one reading of moisture; where both bulbs are read, that they
    /// agree is checked as well.
    ///
    /// # Errors
    /// As [`MoistAir::new`].
    pub fn new(dry_bulb: Temperature, humidity: Humidity, site: &Atmosphere) -> Result<Self> {
        Ok(Self {
            wet_bulb: MoistAir::new(dry_bulb, humidity, site.pressure())?.wet_bulb,
            dry_bulb: Some(dry_bulb),
            is_calculated: !matches!(humidity, Humidity::WetBulb(_)),
        })
    }

    /// The air of a wet bulb alone.
    pub const fn of_wet_bulb(wet_bulb: Temperature) -> Self {
        Self {
            wet_bulb,
            dry_bulb: None,
            is_calculated: false,
        }
    }
}

/// A target superheat with what it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TargetSuperheat {
    /// Where the target comes from.
    pub method: TargetMethod,
    /// Wet bulb of the return air.
    #[serde(rename = "indoor_wet_bulb_K")]
    pub indoor_wet_bulb: Temperature,
    /// Dry bulb of the air at the condenser.
    #[serde(rename = "outdoor_dry_bulb_K")]
    pub outdoor_dry_bulb: Temperature,
    /// The target and how much it moves.
    #[serde(flatten)]
    pub target: SuperheatTarget,
    /// Root-sum-square of what the thermometers' limit of error makes, where that is known.
    #[serde(rename = "root_sum_square_K")]
    pub root_sum_square: Option<TemperatureDifference>,
    /// Worst case of the same.
    #[serde(rename = "worst_case_K")]
    pub worst_case: Option<TemperatureDifference>,
    /// Local atmospheric pressure.
    #[serde(rename = "atmosphere_Pa")]
    pub atmosphere: Pressure,
    /// The formula, or how the chart is read.
    pub source: Phrase,
    /// The conditions.
    pub conditions: &'static [Condition],
    /// The indoor air.
    #[serde(skip)]
    pub indoor: Indoor,
}

impl TargetSuperheat {
    /// The target from the chart where there is one, or else estimated; with a warning for each
    /// condition that the temperatures are seen not to meet. `limit` is that of both thermometers.
    ///
    /// # Errors
    /// As [`estimate`] or [`SuperheatChart::target`]; [`Error::NoAnswer`] as well where there is no
    /// chart and the return air is colder than 70 °F.
    pub fn new(
        indoor: Indoor,
        outdoor: Temperature,
        chart: Option<&SuperheatChart>,
        limit: Option<TemperatureDifference>,
        site: &Atmosphere,
    ) -> Result<(Self, Vec<Warning>)> {
        let unmet = unmet(&indoor, outdoor);
        let (method, target) = match chart {
            Some(chart) => (TargetMethod::Chart, chart.target(indoor.wet_bulb, outdoor)?),
            None => (TargetMethod::Estimate, estimate(indoor.wet_bulb, outdoor)?),
        };
        if let (TargetMethod::Estimate, Some((_, first))) = (method, unmet.first()) {
            return Err(refused(first.clone(), PROCEDURE));
        }
        let spread = limit.map(|limit| target.spread(limit));
        let answer = Self {
            method,
            indoor_wet_bulb: indoor.wet_bulb,
            outdoor_dry_bulb: outdoor,
            target,
            root_sum_square: spread.map(|both| both.0),
            worst_case: spread.map(|both| both.1),
            atmosphere: site.pressure(),
            source: method.source(),
            conditions: Condition::ALL,
            indoor,
        };
        Ok((answer, unmet.into_iter().map(|one| one.0).collect()))
    }
}

/// The conditions that the temperatures given are seen not to meet.
fn unmet(indoor: &Indoor, outdoor: Temperature) -> Vec<(Warning, Reason)> {
    let kelvin = |at: Temperature| Blank::Quantity(at.in_kelvin(), RangeUnit::Kelvin);
    let reason = |phrase, found: Temperature, least| {
        Reason::with(phrase, "found", kelvin(found)).and("least", kelvin(least))
    };
    let is_cold = |dry: &Temperature| *dry < RETURN_LEAST;
    let indoor = indoor.dry_bulb.filter(is_cold).map(|dry| {
        let warning = Warning::ReturnAirTooCold(dry, RETURN_LEAST);
        (
            warning,
            reason(reasons::WARNING_RETURN_AIR, dry, RETURN_LEAST),
        )
    });
    let outdoor = (outdoor < OUTDOOR_LEAST).then(|| {
        let warning = Warning::OutdoorAirTooCold(outdoor, OUTDOOR_LEAST);
        (
            warning,
            reason(reasons::WARNING_OUTDOOR_AIR, outdoor, OUTDOOR_LEAST),
        )
    });
    indoor.into_iter().chain(outdoor).collect()
}

/// Indoor wet bulb and outdoor dry bulb, °F, at and beyond which printed charts forbid charging
/// while the estimate still gives 5 °F or more; from memory.
const FORBIDDEN: [(f64, f64); 4] = [(60.0, 85.0), (60.0, 90.0), (62.0, 95.0), (64.0, 100.0)];

/// Wet bulbs and outdoor dry bulbs of printed charts, °F; from memory.
const INDOOR_RANGE: (f64, f64) = (50.0, 76.0);
const OUTDOOR_MOST: f64 = 115.0;

/// Below this estimate, °F, the method is not valid.
const LEAST: f64 = 5.0;

/// A target with how much it moves with either bulb.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SuperheatTarget {
    /// The target superheat.
    #[serde(rename = "target_superheat_K")]
    pub superheat: TemperatureDifference,
    /// Change of the target for a degree of indoor wet bulb.
    #[serde(rename = "per_wet_bulb_K_K")]
    pub per_wet_bulb: f64,
    /// Change of the target for a degree of outdoor dry bulb.
    #[serde(rename = "per_outdoor_dry_bulb_K_K")]
    pub per_outdoor: f64,
}

impl SuperheatTarget {
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

fn refused(reason: Reason, hint: &str) -> Error {
    Error::NoAnswer {
        reason,
        hint: hint.into(),
    }
}

/// A reason about both bulbs.
fn bulbs(phrase: Phrase, wet_bulb: Temperature, outdoor: Temperature) -> Reason {
    let kelvin = |at: Temperature| Blank::Quantity(at.in_kelvin(), RangeUnit::Kelvin);
    Reason::with(phrase, "wet_bulb", kelvin(wet_bulb)).and("outdoor", kelvin(outdoor))
}

/// What to do where the method does not apply.
const PROCEDURE: &str = "this method does not apply: follow the manufacturer's charging procedure";

/// What to do where the estimate alone does not apply.
const CHART: &str =
    "use the manufacturer's chart; without one follow the manufacturer's charging procedure";

/// An estimate of the target superheat: (3 WB - 80 - DB)/2 in °F, from the indoor wet bulb WB
/// and the outdoor dry bulb DB.
///
/// Common practice, no source. Printed charts differ from it by -7.5 to +3 °F.
///
/// # Errors
/// [`Error::NoAnswer`] where the outdoor air is colder than 55 °F, where a bulb lies outside the
/// charts it replaces (50 to 76 °F wet, to 115 °F outdoors), where the estimate is below
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
pub fn estimate(indoor_wet_bulb: Temperature, outdoor: Temperature) -> Result<SuperheatTarget> {
    let (wet, dry) = (indoor_wet_bulb.in_fahrenheit(), outdoor.in_fahrenheit());
    // A trace of rounding does not move a limit.
    let trace = 1e-9;
    if let Some((_, reason)) = unmet(&Indoor::of_wet_bulb(indoor_wet_bulb), outdoor).pop() {
        return Err(refused(reason, PROCEDURE));
    }
    if !(INDOOR_RANGE.0 - trace..=INDOOR_RANGE.1 + trace).contains(&wet)
        || dry > OUTDOOR_MOST + trace
    {
        return Err(refused(
            bulbs(reasons::TARGET_OUTSIDE_ESTIMATE, indoor_wet_bulb, outdoor),
            CHART,
        ));
    }
    if FORBIDDEN
        .iter()
        .any(|corner| wet <= corner.0 + trace && dry >= corner.1 - trace)
    {
        return Err(refused(
            bulbs(reasons::TARGET_FORBIDDEN, indoor_wet_bulb, outdoor),
            CHART,
        ));
    }
    let degrees = (3.0 * wet - 80.0 - dry) / 2.0;
    if degrees < LEAST - trace {
        return Err(refused(
            Reason::of(
                reasons::TARGET_BELOW_LEAST,
                "estimate",
                &format!("{degrees:.1}"),
            ),
            CHART,
        ));
    }
    Ok(SuperheatTarget {
        superheat: TemperatureDifference::fahrenheit_degrees(degrees),
        per_wet_bulb: 1.5,
        per_outdoor: -0.5,
    })
}

/// A manufacturer's chart: rows by outdoor dry bulb, columns by indoor wet bulb.
#[derive(Debug, Clone, PartialEq)]
pub struct SuperheatChart {
    outdoor: Vec<Temperature>,
    wet_bulb: Vec<Temperature>,
    cells: Vec<Vec<Option<TemperatureDifference>>>,
}

fn rises(values: &[Temperature]) -> bool {
    values.windows(2).all(|pair| pair[0] < pair[1])
}

impl SuperheatChart {
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
        let wrong = |reason: Reason| refused(reason, "compare the chart with the manufacturer's");
        if outdoor.len() < 2 || wet_bulb.len() < 2 {
            return Err(wrong(reasons::TARGET_CHART_SMALL.into()));
        }
        if cells.len() != outdoor.len() || cells.iter().any(|row| row.len() != wet_bulb.len()) {
            return Err(wrong(reasons::TARGET_CHART_ROWS.into()));
        }
        if !rises(&outdoor) || !rises(&wet_bulb) {
            return Err(wrong(reasons::TARGET_CHART_RISES.into()));
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
        let wrong = |what: Phrase, row: usize, column: usize| {
            Err(refused(
                bulbs(what, self.wet_bulb[column], self.outdoor[row]),
                "superheat rises with the wet bulb and falls with the outdoor dry bulb: compare \
                 the chart with the manufacturer's",
            ))
        };
        for (row, cells) in self.cells.iter().enumerate() {
            let mut before: Option<TemperatureDifference> = None;
            for (column, cell) in cells.iter().enumerate() {
                let Some(cell) = cell else { continue };
                if cell.in_kelvin() < 0.0 {
                    return wrong(reasons::TARGET_CELL_NEGATIVE, row, column);
                }
                if before.is_some_and(|before| *cell <= before) {
                    return wrong(reasons::TARGET_CELL_RISES, row, column);
                }
                before = Some(*cell);
            }
        }
        for column in 0..self.wet_bulb.len() {
            let mut before: Option<TemperatureDifference> = None;
            for (row, cells) in self.cells.iter().enumerate() {
                let Some(cell) = cells[column] else { continue };
                if before.is_some_and(|before| cell >= before) {
                    return wrong(reasons::TARGET_CELL_FALLS, row, column);
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
    /// use zeotrope::service::air::target_superheat::SuperheatChart;
    /// use zeotrope::units::{Temperature, TemperatureDifference};
    /// let heads = |values: [f64; 2]| values.map(Temperature::fahrenheit).to_vec();
    /// let row = |values: [f64; 2]| {
    ///     values.map(|value| Some(TemperatureDifference::fahrenheit_degrees(value))).to_vec()
    /// };
    /// let chart = SuperheatChart::new(
    ///     heads([80.0, 90.0]),
    ///     heads([64.0, 68.0]),
    ///     vec![row([14.0, 20.0]), row([10.0, 16.0])],
    /// )?;
    /// // By hand: half way between 14 and 20, and between 10 and 16, half way between those.
    /// let target = chart.target(Temperature::fahrenheit(66.0), Temperature::fahrenheit(85.0))?;
    /// assert!((target.superheat.in_fahrenheit_degrees() - 15.0).abs() < 1e-9);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn target(
        &self,
        indoor_wet_bulb: Temperature,
        outdoor: Temperature,
    ) -> Result<SuperheatTarget> {
        let (Some((row, y)), Some((column, x))) = (
            between(&self.outdoor, outdoor),
            between(&self.wet_bulb, indoor_wet_bulb),
        ) else {
            return Err(refused(
                bulbs(reasons::TARGET_OUTSIDE_CHART, indoor_wet_bulb, outdoor),
                "a chart is not extrapolated: follow the manufacturer's charging procedure",
            ));
        };
        let around = [
            self.cells[row][column],
            self.cells[row][column + 1],
            self.cells[row + 1][column],
            self.cells[row + 1][column + 1],
        ];
        let [Some(a), Some(b), Some(c), Some(d)] = around else {
            return Err(refused(reasons::TARGET_CELL_EMPTY.into(), PROCEDURE));
        };
        let [a, b, c, d] = [a, b, c, d].map(TemperatureDifference::in_kelvin);
        let (wide, high) = (
            (self.wet_bulb[column + 1] - self.wet_bulb[column]).in_kelvin(),
            (self.outdoor[row + 1] - self.outdoor[row]).in_kelvin(),
        );
        let (top, bottom) = (a + x * (b - a), c + x * (d - c));
        Ok(SuperheatTarget {
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
