//! Levels of cycles as people write them: a pressure, a temperature, or temperatures from..to.

use super::question::{CoilTemperature, Cycle, GasCoolerPressure, Level};
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureDifference,
    TemperatureUnit, TypedLevel, parse_level, parse_pressure, parse_temperature,
};
use crate::{Error, Result};

/// Most steps of one range.
const MOST_STEPS: usize = 200;

/// One level, or several.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Levels {
    /// Temperatures of a coil, and the unit in which they were written.
    Temperatures(Vec<Temperature>, TemperatureUnit),
    /// A pressure, and its unit.
    Pressure(Pressure, PressureUnit),
}

impl Levels {
    /// Reads a pressure, a temperature, or temperatures from..to, both included where the step meets
    /// them.
    ///
    /// # Errors
    /// [`Error::Value`] where it is none, a range has no step, runs downwards or has more than 200
    /// steps.
    ///
    /// # Example
    /// ```
    /// use zeotrope::process::cycle::{CoilTemperature, Levels};
    /// use zeotrope::units::{Atmosphere, TemperatureDifference};
    /// let step = Some(TemperatureDifference::kelvin(5.0));
    /// let found = Levels::parse("30C..50C", step, &Atmosphere::SEA_LEVEL)?;
    /// assert_eq!(found.levels(CoilTemperature::Mean).len(), 5);
    /// assert!(Levels::parse("30C..50C", None, &Atmosphere::SEA_LEVEL).is_err());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(
        text: &str,
        step: Option<TemperatureDifference>,
        site: &Atmosphere,
    ) -> Result<Self> {
        let Some((from, to)) = text.split_once("..") else {
            return Ok(match parse_level(text, BareUnit::Refused, site)? {
                TypedLevel::Temperature(typed) => Self::Temperatures(vec![typed.value], typed.unit),
                TypedLevel::Pressure(typed) => Self::Pressure(typed.value, typed.unit),
            });
        };
        let (from, to) = (parse_temperature(from)?, parse_temperature(to)?);
        let wrong = |problem: &str, hint: &str| Error::Value {
            quantity: "range",
            text: text.replace('\u{2212}', "-"),
            problem: problem.into(),
            hint: hint.into(),
        };
        let step = step.ok_or_else(|| {
            wrong(
                "gives temperatures from..to without a step",
                "give a step, for example 5C",
            )
        })?;
        let span = (to.value - from.value).in_kelvin();
        let size = step.in_kelvin();
        if size <= 0.0 || span < 0.0 {
            return Err(wrong(
                "does not run upwards, by a step above zero",
                "give for example 30C..50C with a step of 5C",
            ));
        }
        let steps = (span / size + 1e-9).floor();
        if steps > MOST_STEPS as f64 {
            return Err(wrong("has more than 200 steps", "give a larger step"));
        }
        let at = |index: u32| from.value + TemperatureDifference::kelvin(f64::from(index) * size);
        let all = (0..=steps as u32).map(at).collect();
        Ok(Self::Temperatures(all, from.unit))
    }

    /// Each level, where its temperatures are those of a kind.
    pub fn levels(&self, kind: CoilTemperature) -> Vec<Level> {
        match self {
            Self::Pressure(pressure, _) => vec![Level::Pressure(*pressure)],
            Self::Temperatures(all, _) => {
                let level = |temperature: &Temperature| Level::Temperature(*temperature, kind);
                all.iter().map(level).collect()
            }
        }
    }

    /// Whether there are several.
    pub fn is_range(&self) -> bool {
        matches!(self, Self::Temperatures(all, _) if all.len() > 1)
    }

    /// Whether it is a pressure.
    pub const fn is_pressure(&self) -> bool {
        matches!(self, Self::Pressure(..))
    }

    /// The units in which they were written.
    pub const fn units(&self) -> (Option<TemperatureUnit>, Option<PressureUnit>) {
        match self {
            Self::Temperatures(_, unit) => (Some(*unit), None),
            Self::Pressure(_, unit) => (None, Some(*unit)),
        }
    }
}

/// Reads the pressure of a gas cooler, `best` for that of the highest COP for cooling.
///
/// # Errors
/// As [`parse_pressure`].
///
/// # Example
/// ```
/// use zeotrope::process::cycle::{GasCoolerPressure, parse_gas_cooler};
/// use zeotrope::units::Atmosphere;
/// let found = parse_gas_cooler("best", &Atmosphere::SEA_LEVEL)?;
/// assert_eq!(found, GasCoolerPressure::Best);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_gas_cooler(text: &str, site: &Atmosphere) -> Result<GasCoolerPressure> {
    if text.eq_ignore_ascii_case("best") {
        return Ok(GasCoolerPressure::Best);
    }
    let typed = parse_pressure(text, BareUnit::Refused, site)?;
    Ok(GasCoolerPressure::At(typed.value))
}

/// Which temperature of evaporator and condenser is meant: the usual ones, or the same of both for
/// each of a list, where an inlet mean goes with the condenser's mean.
pub fn level_kinds(
    evaporating: Option<CoilTemperature>,
    condensing: Option<CoilTemperature>,
    compared: &[CoilTemperature],
) -> Vec<(CoilTemperature, CoilTemperature)> {
    if compared.is_empty() {
        return vec![(
            evaporating.unwrap_or(CoilTemperature::InletMean),
            condensing.unwrap_or(CoilTemperature::Mean),
        )];
    }
    let both = |one: &CoilTemperature| match one {
        CoilTemperature::InletMean => (CoilTemperature::InletMean, CoilTemperature::Mean),
        other => (*other, *other),
    };
    compared.iter().map(both).collect()
}

/// What is there in place of a condenser, or beside it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum HighSide {
    /// A condenser.
    Condenser(Levels),
    /// A condenser, and a gas cooler for refrigerants whose critical point lies below it: its
    /// pressure and the temperature at its outlet.
    Either(Levels, GasCoolerPressure, Temperature),
    /// A gas cooler: its pressure and the temperatures at its outlet.
    GasCooler(GasCoolerPressure, Levels),
}

impl HighSide {
    /// The levels of the condenser, or those of the gas cooler's outlet.
    pub const fn levels(&self) -> &Levels {
        let (Self::Condenser(levels) | Self::Either(levels, ..) | Self::GasCooler(_, levels)) =
            self;
        levels
    }
}

/// A cycle for each condition, the evaporating one outermost.
///
/// # Errors
/// [`Error::Value`] where the outlet of a gas cooler is a pressure.
pub fn cycles(
    evaporating: &Levels,
    high: &HighSide,
    kinds: &[(CoilTemperature, CoilTemperature)],
) -> Result<Vec<Cycle>> {
    let mut cycles = Vec::new();
    for &(low_kind, high_kind) in kinds {
        for low in evaporating.levels(low_kind) {
            for level in high.levels().levels(high_kind) {
                cycles.push(match (high, level) {
                    (HighSide::Condenser(_), level) => Cycle::between(low, level),
                    (HighSide::Either(_, pressure, outlet), level) => {
                        Cycle::between(low, level).or_gas_cooler(*pressure, *outlet)
                    }
                    (HighSide::GasCooler(pressure, _), Level::Temperature(outlet, _)) => {
                        Cycle::transcritical(low, *pressure, outlet)
                    }
                    (HighSide::GasCooler(..), Level::Pressure(pressure)) => {
                        return Err(Error::Value {
                            quantity: "outlet of a gas cooler",
                            text: format!("{} Pa", pressure.in_pascal()),
                            problem: "is a pressure".into(),
                            hint: "give a temperature, for example 35C".into(),
                        });
                    }
                });
            }
        }
    }
    Ok(cycles)
}
