//! An exercise as it is written down: what the tasks are of, and what is drawn from its seed.

use serde::Deserialize;

use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureDifference, Typed,
    parse_pressure, parse_pressure_difference, parse_temperature, parse_temperature_difference,
};
use crate::{Error, Result};

/// A recipe as a file has it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Recipe {
    pub(super) title: Option<String>,
    pub(super) seed: Option<u64>,
    /// `ip` or `si`.
    pub(super) units: Option<String>,
    /// Limit of error of the gauge: `1.5psi`.
    pub(super) gauge: Option<String>,
    /// Limit of error of the thermometer: `2F`.
    pub(super) clamp: Option<String>,
    pub(super) tasks: Vec<Task>,
}

/// One task: exactly one of its kinds.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct Task {
    pub(super) superheat: Option<Reading>,
    pub(super) subcooling: Option<Reading>,
    pub(super) lens: Option<Lens>,
    pub(super) coil: Option<Coil>,
    pub(super) cycle: Option<Cycle>,
}

/// A reading: both values as read, or ranges `from..to` to draw true ones from.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Reading {
    pub(super) refrigerant: String,
    pub(super) pressure: Option<String>,
    pub(super) line: Option<String>,
    /// Range of the saturation temperature.
    pub(super) saturation: Option<String>,
    /// Range of superheat or subcooling.
    pub(super) value: Option<String>,
    /// A target that is judged.
    pub(super) target: Option<String>,
    /// What the target may be missed by.
    pub(super) band: Option<String>,
    /// Whether the wrong branch is asked for.
    #[serde(default)]
    pub(super) wrong_branch: bool,
}

/// A lens to read.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Lens {
    /// A mixture of two.
    pub(super) refrigerant: String,
    pub(super) pressure: String,
}

/// A coil to fill in.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Coil {
    pub(super) refrigerant: String,
    pub(super) pressure: String,
    pub(super) liquid: Option<String>,
}

/// A cycle to draw.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Cycle {
    pub(super) refrigerant: String,
    /// Dew temperature of the evaporator.
    pub(super) evaporating: String,
    /// Bubble temperature of the condenser.
    pub(super) condensing: String,
    pub(super) superheat: Option<String>,
    pub(super) subcooling: Option<String>,
    /// Isentropic efficiency, 0 to 1.
    pub(super) efficiency: Option<f64>,
}

/// What is wrong with a recipe.
pub(super) fn wrong(text: &str, problem: &str, hint: &str) -> Error {
    Error::Value {
        quantity: "exercise",
        text: text.into(),
        problem: problem.into(),
        hint: hint.into(),
    }
}

impl Recipe {
    pub(super) fn parse(name: &str, text: &str) -> Result<Self> {
        serde_yaml::from_str(text).map_err(|problem| Error::File {
            file: name.into(),
            problem: problem.to_string(),
            hint: "an exercise is YAML: 'tasks:', then a list such as '- superheat: \
                   {refrigerant: R-407C, pressure: 65psig, line: 52F}'"
                .into(),
        })
    }
}

/// A pressure of a recipe with its unit.
pub(super) fn pressure(text: &str, site: &Atmosphere) -> Result<Typed<Pressure, PressureUnit>> {
    parse_pressure(text, BareUnit::Refused, site)
}

/// A limit of error of a gauge, Pa.
pub(super) fn limit_of_gauge(text: Option<&str>) -> Result<Option<f64>> {
    text.map(parse_pressure_difference).transpose()
}

/// A difference of temperatures, K.
pub(super) fn difference(text: Option<&str>) -> Result<Option<TemperatureDifference>> {
    let typed = text.map(parse_temperature_difference).transpose()?;
    Ok(typed.map(|typed| typed.value))
}

/// A temperature.
pub(super) fn temperature(text: &str) -> Result<Temperature> {
    Ok(parse_temperature(text)?.value)
}

/// The ends of a range of temperatures, or twice the one that is given.
pub(super) fn temperatures(text: &str) -> Result<[Temperature; 2]> {
    let (from, to) = text.split_once("..").unwrap_or((text, text));
    Ok([temperature(from)?, temperature(to)?])
}

/// The ends of a range of differences, or twice the one that is given.
pub(super) fn differences(text: &str) -> Result<[TemperatureDifference; 2]> {
    let (from, to) = text.split_once("..").unwrap_or((text, text));
    let of = |text| Ok::<_, Error>(parse_temperature_difference(text)?.value);
    Ok([of(from)?, of(to)?])
}
