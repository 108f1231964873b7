//! One line read and judged: superheat or subcooling with its uncertainty and a verdict.

use serde::{Serialize, Serializer};

use crate::Warning;
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::decision::{Decision, Target};
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::uncertainty::{Uncertainty, UncertaintyKeys};
use crate::service::reading::superheat_subcooling::{Measure, Reading, ReadingMeaning};
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result};

/// What is known of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LineRead {
    /// Its temperature was read.
    Read(Temperature),
    /// Its temperature is asked for, with this superheat or subcooling.
    Wanted(TemperatureDifference),
}

/// A line as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingQuestion {
    /// What is asked.
    pub measure: Measure,
    /// The pressure.
    pub read: GaugeReading,
    /// By how much the pressure at the clamp is lower than at the tap, Pa.
    pub drop: Option<f64>,
    /// The line.
    pub line: LineRead,
    /// The wanted value and its band.
    pub target: Option<Target>,
    /// Whether a blend counts as exactly its nominal composition.
    pub nominal_composition: bool,
    /// The kit it was read with.
    pub kit: Kit,
    /// The air of the site.
    pub site: Atmosphere,
}

impl ReadingQuestion {
    /// The gauge it was read with.
    pub const fn instrument(&self) -> &Instrument {
        match self.measure {
            Measure::Superheat => &self.kit.low,
            Measure::Subcooling => &self.kit.high,
        }
    }
}

/// A line read and judged.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// What the refrigerant is called and made of.
    pub identity: Identity,
    /// The question.
    pub asked: ReadingQuestion,
    /// The reading on its branch.
    pub reading: Reading,
    /// How sure it is, where any accuracy is known.
    pub uncertainty: Option<Uncertainty>,
    /// Why nothing bounds it, where an accuracy is known and there is no uncertainty.
    pub unbounded: Option<Error>,
    /// The verdict, where there is a target.
    pub decision: Option<Decision>,
    /// What to know about saturation at this pressure.
    pub warnings: Vec<Warning>,
    /// What the numbers rest on.
    pub model: Model,
}

/// Reads a line on the branch that it belongs to, with its uncertainty and a verdict.
///
/// # Errors
/// As [`Measure::saturation`] and [`GaugeReading::at_clamp`].
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::measurement::gauge_reading::GaugeReading;
/// use zeotrope::service::measurement::kit::Kit;
/// use zeotrope::service::reading::measured::{LineRead, ReadingQuestion, measured};
/// use zeotrope::service::reading::superheat_subcooling::Measure;
/// use zeotrope::units::{Atmosphere, Temperature};
/// let (kit, site) = (Kit::default(), Atmosphere::SEA_LEVEL);
/// let question = ReadingQuestion {
///     measure: Measure::Superheat,
///     read: GaugeReading::parse("65psig", &kit.low, &site)?,
///     drop: None,
///     line: LineRead::Read(Temperature::fahrenheit(52.0)),
///     target: None,
///     nominal_composition: false,
///     kit,
///     site,
/// };
/// // computed with a general-purpose open library: 10.7 °F
/// let found = measured(&Refrigerant::named("R-407C")?, question)?;
/// assert!((found.reading.value * 1.8 - 10.7).abs() < 0.1);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn measured(refrigerant: &Refrigerant, asked: ReadingQuestion) -> Result<Measured> {
    let measure = asked.measure;
    let pressure = asked.read.at_clamp(asked.drop)?;
    let line = match asked.line {
        LineRead::Read(line) => line,
        LineRead::Wanted(wanted) => {
            measure.line_with(wanted, measure.saturation(refrigerant, pressure)?)
        }
    };
    let reading = Reading::new(measure, refrigerant, pressure, line)?;
    let limits = asked.read.limits(&asked.kit);
    let limits = reading.with_refrigerant(refrigerant, limits, asked.nominal_composition);
    let (uncertainty, unbounded) = reading.bounded(refrigerant, &limits);
    let span = asked.instrument().span;
    let decision = asked
        .target
        .map(|target| reading.judge(refrigerant, &limits, uncertainty.as_ref(), target, span));
    let warnings = refrigerant
        .saturation_at_pressure(pressure, ReferenceState::IdealGas)
        .map(|saturation| saturation.warnings)
        .unwrap_or_default();
    let facts = Facts::of_refrigerant(refrigerant);
    Ok(Measured {
        identity: facts.identity,
        asked,
        reading,
        uncertainty,
        unbounded,
        decision,
        warnings,
        model: facts.model,
    })
}

impl Measured {
    /// How far below and above the value the expanded interval reaches, K.
    pub fn expanded(&self) -> Option<[f64; 2]> {
        self.uncertainty.as_ref().map(|found| found.expanded)
    }

    /// What it says about what passes the clamp.
    pub fn meaning(&self) -> ReadingMeaning {
        self.reading.meaning(self.expanded())
    }

    /// What would have been read on the other branch, K, where that differs by more than the
    /// uncertainty.
    pub fn wrong_branch(&self) -> Option<f64> {
        let half = self.uncertainty.as_ref().map(Uncertainty::expanded_half);
        self.reading.wrong_branch(half)
    }

    /// The line's temperature that the wanted figure would ask for on the other branch.
    pub fn wrong_line(&self) -> Option<Temperature> {
        let wanted = TemperatureDifference::kelvin(self.reading.value);
        let other = self.reading.other?;
        Some(self.reading.measure.line_with(wanted, other))
    }
}

#[derive(Serialize)]
#[allow(non_snake_case)]
struct OtherBranch {
    branch: &'static str,
    saturation_temperature_K: Option<Temperature>,
    #[serde(flatten)]
    value: Value,
    differs: bool,
}

/// A superheat or a subcooling under its own key.
#[derive(Serialize)]
pub(super) enum Value {
    /// A superheat, K.
    #[serde(rename = "superheat_K")]
    Superheat(Option<f64>),
    /// A subcooling, K.
    #[serde(rename = "subcooling_K")]
    Subcooling(Option<f64>),
}

impl Value {
    pub(super) const fn from_kelvin(measure: Measure, kelvin: Option<f64>) -> Self {
        match measure {
            Measure::Superheat => Self::Superheat(kelvin),
            Measure::Subcooling => Self::Subcooling(kelvin),
        }
    }
}

impl Serialize for Measured {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            pressure_Pa: Pressure,
            line_temperature_K: Temperature,
            saturation_temperature_K: Temperature,
            branch: &'static str,
            #[serde(flatten)]
            value: Value,
            other_branch: OtherBranch,
            meaning: ReadingMeaning,
            atmosphere_Pa: Pressure,
            added_Pa: f64,
            shown_Pa: f64,
            corrected_Pa: f64,
            pressure_drop_Pa: Option<f64>,
            gauge_limit_Pa: Option<f64>,
            kit: Option<&'a str>,
            checked: Option<&'a str>,
            decision: Option<Decision>,
            #[serde(flatten)]
            uncertainty: UncertaintyKeys<'a>,
            model: &'a Model,
        }
        let (asked, reading) = (&self.asked, &self.reading);
        let measure = reading.measure;
        let correction = asked.instrument().correction.as_ref();
        let name = asked.kit.name.as_str();
        let other = reading.other;
        let other_branch = OtherBranch {
            branch: measure.other_branch_word(),
            saturation_temperature_K: other,
            value: Value::from_kelvin(
                measure,
                other.map(|other| measure.difference(reading.line, other)),
            ),
            differs: self.wrong_branch().is_some(),
        };
        Keys {
            identity: &self.identity,
            pressure_Pa: reading.pressure,
            line_temperature_K: reading.line,
            saturation_temperature_K: reading.saturation,
            branch: measure.branch_word(),
            value: Value::from_kelvin(measure, Some(reading.value)),
            other_branch,
            meaning: self.meaning(),
            atmosphere_Pa: asked.site.pressure(),
            added_Pa: asked.read.added.pascal(),
            shown_Pa: asked.read.shown,
            corrected_Pa: asked.read.corrected,
            pressure_drop_Pa: asked.drop,
            gauge_limit_Pa: asked.read.limit,
            kit: (!name.is_empty()).then_some(name),
            checked: correction.map(|one| one.checked.as_str()),
            decision: self.decision,
            uncertainty: self.uncertainty.as_ref().into(),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
