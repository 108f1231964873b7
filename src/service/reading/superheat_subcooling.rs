//! Superheat and subcooling: a line's temperature counted from the branch that it belongs to.
//!
//! superheat = T_line - T_dew(p), subcooling = T_bubble(p) - T_line. The branch follows from what
//! is asked and is never the reader's choice.

use crate::equilibrium::bubble_dew::Branch;
use crate::error::{Blank, RangeUnit, Reason};
use crate::error::{Error, Result, finite};
use crate::refrigerant::Refrigerant;
use crate::service::measurement::decision::{Decision, Target, Verdict, deciding};
use crate::service::measurement::uncertainty::{
    self, Direction, ErrorLimits, ReadBranch as UncertainBranch, Uncertainty,
};
use crate::service::reasons;
use crate::units::{Pressure, Temperature, TemperatureDifference};

/// What stands for zero where no accuracy is known, K: the last digit that is shown.
const SHOWN: f64 = 0.05;

/// How near to saturation a reading without a known accuracy says nothing about the phase, K:
/// 2 °F, which is this program's own figure.
pub const NEAR_SATURATION: f64 = 2.0 / 1.8;

/// What is counted from a saturation temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Of a vapour, above its dew temperature.
    Superheat,
    /// Of a liquid, below its bubble temperature.
    Subcooling,
}

impl Measure {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Superheat => "superheat",
            Self::Subcooling => "subcooling",
        }
    }

    /// The name of the branch it counts from.
    pub const fn branch_word(self) -> &'static str {
        match self {
            Self::Superheat => "dew",
            Self::Subcooling => "bubble",
        }
    }

    /// The name of the branch it does not count from.
    pub const fn other_branch_word(self) -> &'static str {
        match self {
            Self::Superheat => "bubble",
            Self::Subcooling => "dew",
        }
    }

    /// How it goes with the saturation temperature.
    pub const fn direction(self) -> Direction {
        match self {
            Self::Superheat => Direction::Falls,
            Self::Subcooling => Direction::Rises,
        }
    }

    const fn branches(self) -> [Branch; 2] {
        match self {
            Self::Superheat => [Branch::Dew, Branch::Bubble],
            Self::Subcooling => [Branch::Bubble, Branch::Dew],
        }
    }

    /// The difference, K, between a line and a saturation temperature.
    pub fn difference(self, line: Temperature, saturation: Temperature) -> f64 {
        match self {
            Self::Superheat => (line - saturation).in_kelvin(),
            Self::Subcooling => (saturation - line).in_kelvin(),
        }
    }

    /// The temperature of a line with a wanted difference.
    pub fn line_with(self, wanted: TemperatureDifference, saturation: Temperature) -> Temperature {
        match self {
            Self::Superheat => saturation + wanted,
            Self::Subcooling => saturation - wanted,
        }
    }

    /// The saturation temperature it counts from.
    ///
    /// # Errors
    /// [`Error::NoState`] for a subcooling above the critical pressure; as
    /// [`Refrigerant::dew_temperature`] and [`Refrigerant::bubble_temperature`].
    pub fn saturation(self, refrigerant: &Refrigerant, pressure: Pressure) -> Result<Temperature> {
        saturation_on(refrigerant, self.branches()[0], pressure)
            .map_err(|error| above_critical(self, refrigerant, pressure, error))
    }

    /// The temperature of the branch it does not count from.
    pub fn other(self, refrigerant: &Refrigerant, pressure: Pressure) -> Option<Temperature> {
        saturation_on(refrigerant, self.branches()[1], pressure).ok()
    }
}

fn saturation_on(
    refrigerant: &Refrigerant,
    branch: Branch,
    pressure: Pressure,
) -> Result<Temperature> {
    match branch {
        Branch::Bubble => refrigerant.bubble_temperature(pressure),
        Branch::Dew => refrigerant.dew_temperature(pressure),
    }
}

/// Tells a liquid side above the critical pressure as that.
fn above_critical(
    measure: Measure,
    refrigerant: &Refrigerant,
    pressure: Pressure,
    error: Error,
) -> Error {
    match refrigerant.critical_point() {
        // A superheat is told the range, as by every other answer; heat is rejected above it too.
        Some(critical) if measure == Measure::Subcooling && pressure >= critical.pressure => {
            Error::NoState {
                reason: Reason::of(
                    reasons::SUBCOOLING_ABOVE_CRITICAL,
                    "refrigerant",
                    refrigerant.designation(),
                )
                .and(
                    "critical",
                    Blank::Quantity(critical.pressure.in_pascal(), RangeUnit::Pascal),
                ),
                hint: "a gas cooler has an outlet temperature and an approach, no saturation \
                   temperature; check the pressure and the refrigerant"
                    .into(),
            }
        }
        _ => error,
    }
}

/// Superheat of a vapour at a clamp, the pressure being that at the same place.
///
/// # Errors
/// As [`Measure::saturation`].
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::reading::superheat_subcooling::superheat;
/// use zeotrope::units::{Pressure, Temperature};
/// // R-407C, 65 psig at sea level, line at 52 °F; computed with a general-purpose open library.
/// let r407c = Refrigerant::named("R-407C")?;
/// let found = superheat(&r407c, Pressure::psia(65.0 + 14.696), Temperature::fahrenheit(52.0))?;
/// assert!((found.in_fahrenheit_degrees() - 10.7).abs() < 0.1);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn superheat(
    refrigerant: &Refrigerant,
    pressure: Pressure,
    line: Temperature,
) -> Result<TemperatureDifference> {
    finite("line temperature", line.in_kelvin())?;
    let saturation = Measure::Superheat.saturation(refrigerant, pressure)?;
    Ok(line - saturation)
}

/// Subcooling of a liquid at a clamp, the pressure being that at the same place.
///
/// # Errors
/// As [`Measure::saturation`].
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::reading::superheat_subcooling::subcooling;
/// use zeotrope::units::{Pressure, Temperature};
/// // R-407C, 265 psig at sea level, line at 101 °F; computed with a general-purpose open library.
/// let r407c = Refrigerant::named("R-407C")?;
/// let found = subcooling(&r407c, Pressure::psia(265.0 + 14.696), Temperature::fahrenheit(101.0))?;
/// assert!((found.in_fahrenheit_degrees() - 10.3).abs() < 0.1);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn subcooling(
    refrigerant: &Refrigerant,
    pressure: Pressure,
    line: Temperature,
) -> Result<TemperatureDifference> {
    finite("line temperature", line.in_kelvin())?;
    let saturation = Measure::Subcooling.saturation(refrigerant, pressure)?;
    Ok(saturation - line)
}

/// A reading on its branch.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// What was asked.
    pub measure: Measure,
    /// Pressure at the clamp.
    pub pressure: Pressure,
    /// Temperature of the line.
    pub line: Temperature,
    /// Temperature of the branch it counts from.
    pub saturation: Temperature,
    /// Temperature of the other branch, where there is one.
    pub other: Option<Temperature>,
    /// The superheat or subcooling, K.
    pub value: f64,
}

/// What a reading says about what passes the clamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadingMeaning {
    /// One phase, on the side that was asked for.
    OnePhase,
    /// Zero within the uncertainty, or within [`NEAR_SATURATION`] where that is not known.
    AtSaturation,
    /// Between bubble and dew.
    TwoPhase,
    /// Beyond both: not possible at equilibrium.
    NotPossible,
}

impl Reading {
    /// Reads a line's temperature on the branch that it belongs to.
    ///
    /// # Errors
    /// As [`Measure::saturation`].
    pub fn new(
        measure: Measure,
        refrigerant: &Refrigerant,
        pressure: Pressure,
        line: Temperature,
    ) -> Result<Self> {
        finite("line temperature", line.in_kelvin())?;
        let saturation = measure.saturation(refrigerant, pressure)?;
        let other = measure.other(refrigerant, pressure);
        Ok(Self::with_branches(
            measure, pressure, line, saturation, other,
        ))
    }

    /// A reading of which both branches are known.
    pub fn with_branches(
        measure: Measure,
        pressure: Pressure,
        line: Temperature,
        saturation: Temperature,
        other: Option<Temperature>,
    ) -> Self {
        Self {
            measure,
            pressure,
            line,
            saturation,
            other,
            value: measure.difference(line, saturation),
        }
    }

    /// Limits completed by what is known of the refrigerant itself: the tolerance of a blend's
    /// composition where one is published, and the distance of a two-component blend's model from
    /// measured bubble points, as a standard uncertainty of that branch, where one is on record.
    ///
    /// The tolerance is left out where `nominal` says that the composition is known.
    pub fn with_refrigerant(
        &self,
        refrigerant: &Refrigerant,
        limits: ErrorLimits,
        nominal: bool,
    ) -> ErrorLimits {
        let branch = self.measure.branches()[0];
        let band = match nominal {
            true => None,
            false => refrigerant.temperature_band(branch, self.pressure).ok(),
        };
        let measured = match (branch, refrigerant.pairs()) {
            (Branch::Bubble, [only]) => only
                .record
                .as_ref()
                .and_then(|record| record.measured)
                .map(|measured| measured.rms_k),
            _ => None,
        };
        ErrorLimits {
            composition: band.flatten().map(|band| {
                [
                    (self.saturation - band.lowest).in_kelvin(),
                    (band.highest - self.saturation).in_kelvin(),
                ]
            }),
            equation: measured,
            ..limits
        }
    }

    /// What would have been read on the other branch, K, where that differs by more than the
    /// uncertainty: the error of whoever takes the wrong column of a chart.
    pub fn wrong_branch(&self, expanded: Option<f64>) -> Option<f64> {
        let other = self.measure.difference(self.line, self.other?);
        ((other - self.value).abs() > expanded.unwrap_or(SHOWN)).then_some(other)
    }

    /// What it says, given how far below and above the expanded interval reaches; without that
    /// [`NEAR_SATURATION`] stands for it.
    ///
    /// # Example
    /// ```
    /// use zeotrope::Refrigerant;
    /// use zeotrope::service::reading::superheat_subcooling::{ReadingMeaning, Measure, Reading};
    /// use zeotrope::units::{Pressure, Temperature};
    /// let r407c = Refrigerant::named("R-407C")?;
    /// let at = |fahrenheit| Reading::new(
    ///     Measure::Superheat, &r407c, Pressure::psia(79.696), Temperature::fahrenheit(fahrenheit),
    /// );
    /// // bubble 30.2, dew 41.3 °F
    /// assert_eq!(at(52.0)?.meaning(None), ReadingMeaning::OnePhase);
    /// assert_eq!(at(36.0)?.meaning(None), ReadingMeaning::TwoPhase);
    /// assert_eq!(at(36.0)?.meaning(Some([4.0, 4.0])), ReadingMeaning::AtSaturation);
    /// assert_eq!(at(20.0)?.meaning(None), ReadingMeaning::NotPossible);
    /// assert_eq!(at(40.0)?.meaning(None), ReadingMeaning::AtSaturation);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn meaning(&self, expanded: Option<[f64; 2]>) -> ReadingMeaning {
        let [below, above] = expanded.unwrap_or([NEAR_SATURATION; 2]);
        if self.value > below {
            return ReadingMeaning::OnePhase;
        }
        if self.value >= -above {
            return ReadingMeaning::AtSaturation;
        }
        match self.other {
            Some(other) if self.measure.difference(self.line, other) >= -above => {
                ReadingMeaning::TwoPhase
            }
            _ => ReadingMeaning::NotPossible,
        }
    }

    /// The uncertainty of the value from limits of error.
    ///
    /// # Errors
    /// As [`uncertainty::uncertainty`].
    pub fn uncertainty(
        &self,
        refrigerant: &Refrigerant,
        limits: &ErrorLimits,
    ) -> Result<Uncertainty> {
        self.on_branch(refrigerant, |branch| {
            uncertainty::uncertainty(branch, limits)
        })
    }

    /// The uncertainty where any accuracy is known, or why nothing bounds it.
    pub fn bounded(
        &self,
        refrigerant: &Refrigerant,
        limits: &ErrorLimits,
    ) -> (Option<Uncertainty>, Option<Error>) {
        if !limits.any_instrument() {
            return (None, None);
        }
        match self.uncertainty(refrigerant, limits) {
            Ok(found) => (Some(found), None),
            Err(error) => (None, Some(error)),
        }
    }

    /// Judges the reading by a band, given its uncertainty; without the gauge's accuracy there is
    /// no verdict. `span` is the gauge's, Pa.
    pub fn judge(
        &self,
        refrigerant: &Refrigerant,
        limits: &ErrorLimits,
        found: Option<&Uncertainty>,
        target: Target,
        span: Option<f64>,
    ) -> Decision {
        let verdict = found
            .filter(|_| limits.pressure.is_some())
            .map(|found| target.judge(self.value, found.expanded));
        let ask = |branch: &UncertainBranch<'_>| deciding(branch, limits, self.value, &target);
        let deciding = (verdict == Some(Verdict::NotDecidable))
            .then(|| self.on_branch(refrigerant, ask).ok())
            .flatten();
        Decision {
            target,
            verdict,
            deciding,
            span,
        }
    }

    /// Asks something of the branch around the reading.
    ///
    /// # Errors
    /// Whatever `ask` returns.
    pub fn on_branch<Answer>(
        &self,
        refrigerant: &Refrigerant,
        ask: impl FnOnce(&UncertainBranch<'_>) -> Result<Answer>,
    ) -> Result<Answer> {
        let temperature = |pascal: f64| {
            saturation_on(
                refrigerant,
                self.measure.branches()[0],
                Pressure::pascal(pascal),
            )
            .map(Temperature::in_kelvin)
        };
        ask(&UncertainBranch {
            temperature: &temperature,
            pressure: self.pressure.in_pascal(),
            nominal: self.saturation.in_kelvin(),
            direction: self.measure.direction(),
        })
    }
}
