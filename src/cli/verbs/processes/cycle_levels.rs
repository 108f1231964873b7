//! The temperatures and pressures between which a cycle runs, as typed.

use crate::cli::args::meant;
use crate::cli::errors::{Failure, OrFailure};
use crate::process::cycle::{CoilTemperature, Cycle, GasCoolerPressure, Level};
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureUnit, parse_pressure,
    parse_temperature, parse_temperature_difference,
};

/// Which temperature of a coil is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum LevelArg {
    /// (inlet + dew)/2 of an evaporator
    InletMean,
    /// (bubble + dew)/2
    Mean,
    /// Dew point
    Dew,
    /// Bubble point
    Bubble,
}

impl LevelArg {
    const fn kind(self) -> CoilTemperature {
        match self {
            Self::InletMean => CoilTemperature::InletMean,
            Self::Mean => CoilTemperature::Mean,
            Self::Dew => CoilTemperature::Dew,
            Self::Bubble => CoilTemperature::Bubble,
        }
    }
}

/// Cycles without their options, and the units in which they were asked for.
pub(super) struct Asked {
    pub(super) cycles: Vec<Cycle>,
    pub(super) is_sweep: bool,
    pub(super) temperature_unit: Option<TemperatureUnit>,
    pub(super) pressure_unit: Option<PressureUnit>,
}

/// Most steps of one range.
const MOST_STEPS: usize = 200;

/// One value as typed, or several.
enum Given {
    Temperatures(Vec<Temperature>, TemperatureUnit),
    Pressure(Pressure, PressureUnit),
}

impl Given {
    fn levels(&self, kind: CoilTemperature) -> Vec<Level> {
        match self {
            Self::Pressure(pressure, _) => vec![Level::Pressure(*pressure)],
            Self::Temperatures(all, _) => {
                let level = |temperature: &Temperature| Level::Temperature(*temperature, kind);
                all.iter().map(level).collect()
            }
        }
    }

    const fn units(&self) -> (Option<TemperatureUnit>, Option<PressureUnit>) {
        match self {
            Self::Temperatures(_, unit) => (Some(*unit), None),
            Self::Pressure(_, unit) => (None, Some(*unit)),
        }
    }
}

/// Every condition, the evaporating one outermost.
pub(super) fn conditions(
    (evaporating, condensing): (&str, Option<&str>),
    (gas_pressure, gas_outlet): (Option<&str>, Option<&str>),
    (evaporating_at, condensing_at): (Option<LevelArg>, Option<LevelArg>),
    (compare_at, step): (&[LevelArg], Option<&str>),
    site: &Atmosphere,
) -> Result<Asked, Failure> {
    let low = given("--evaporating", evaporating, step, site)?;
    let (name, text) = match (condensing, gas_outlet) {
        (None, Some(outlet)) => ("--gas-cooler-outlet", outlet),
        (condensing, _) => ("--condensing", condensing.unwrap_or_default()),
    };
    let high = given(name, text, step, site)?;
    // beside a condensing temperature, for refrigerants whose critical point lies below it
    let beside = meant::option(
        "--gas-cooler-outlet",
        gas_outlet.filter(|_| condensing.is_some()),
        parse_temperature,
    )?;
    let is_pressure = |given: &Given| matches!(given, Given::Pressure(..));
    for (option, given, kind) in [
        ("--evaporating-at", &low, evaporating_at),
        ("--condensing-at", &high, condensing_at),
    ] {
        if kind.is_some() && is_pressure(given) {
            return Err(Failure::usage(
                format!("{option} says which temperature is meant, and a pressure was given"),
                format!("leave out {option}, or give a temperature"),
            ));
        }
    }
    if condensing_at == Some(LevelArg::InletMean) {
        return Err(Failure::usage(
            "--condensing-at: an inlet mean belongs to an evaporator",
            "use mean, dew or bubble",
        ));
    }
    if !compare_at.is_empty() && (is_pressure(&low) || is_pressure(&high) || condensing.is_none()) {
        return Err(Failure::usage(
            "--compare-at is for an evaporating and a condensing temperature",
            "give both as temperatures, or leave --compare-at out",
        ));
    }
    let kinds: Vec<(CoilTemperature, CoilTemperature)> = match compare_at {
        [] => vec![(
            evaporating_at.unwrap_or(LevelArg::InletMean).kind(),
            condensing_at.unwrap_or(LevelArg::Mean).kind(),
        )],
        list => {
            let both = |one: &LevelArg| match one {
                LevelArg::InletMean => (CoilTemperature::InletMean, CoilTemperature::Mean),
                other => (other.kind(), other.kind()),
            };
            list.iter().map(both).collect()
        }
    };
    let pressure = gas_cooler(gas_pressure, site)?;
    let mut cycles = Vec::new();
    for (low_kind, high_kind) in kinds {
        for evaporating in low.levels(low_kind) {
            for high_level in high.levels(high_kind) {
                cycles.push(match (gas_outlet, &beside, high_level) {
                    (None, _, level) => Cycle::between(evaporating, level),
                    (_, Some(outlet), level) => {
                        Cycle::between(evaporating, level).or_gas_cooler(pressure, outlet.value)
                    }
                    (Some(_), None, Level::Temperature(outlet, _)) => {
                        Cycle::transcritical(evaporating, pressure, outlet)
                    }
                    (Some(_), None, Level::Pressure(_)) => {
                        return Err(Failure::usage(
                            "--gas-cooler-outlet is a temperature",
                            "give for example 35C; its pressure is --gas-cooler-pressure",
                        ));
                    }
                });
            }
        }
    }
    let count = |given: &Given| given.levels(CoilTemperature::Dew).len();
    let is_sweep = count(&low) > 1 || count(&high) > 1;
    if step.is_some() && !is_sweep {
        return Err(Failure::usage(
            "--step goes with temperatures from..to",
            "give for example --condensing 30C..50C --step 5C",
        ));
    }
    let (of_low, of_high) = (low.units(), high.units());
    Ok(Asked {
        cycles,
        is_sweep,
        temperature_unit: of_low.0.or(of_high.0),
        pressure_unit: of_low.1.or(of_high.1),
    })
}

fn gas_cooler(text: Option<&str>, site: &Atmosphere) -> Result<GasCoolerPressure, Failure> {
    Ok(match text {
        None => GasCoolerPressure::Best,
        Some(text) if text.eq_ignore_ascii_case("best") => GasCoolerPressure::Best,
        Some(text) => {
            let typed =
                parse_pressure(text, BareUnit::Refused, site).of_option("--gas-cooler-pressure")?;
            GasCoolerPressure::At(typed.value)
        }
    })
}

fn given(
    option: &str,
    text: &str,
    step: Option<&str>,
    site: &Atmosphere,
) -> Result<Given, Failure> {
    let of_option = |error: crate::Error| Failure::from(error).of_option(option);
    if let Some((from, to)) = text.split_once("..") {
        let from = parse_temperature(from).map_err(of_option)?;
        let to = parse_temperature(to).map_err(of_option)?;
        let values = range(option, from.value, to.value, step)?;
        return Ok(Given::Temperatures(values, from.unit));
    }
    match (parse_temperature(text), meant::pressure_like(text)) {
        (Err(_), true) => {
            let typed = parse_pressure(text, BareUnit::Refused, site).map_err(of_option)?;
            Ok(Given::Pressure(typed.value, typed.unit))
        }
        (typed, _) => {
            let typed = typed.map_err(of_option)?;
            Ok(Given::Temperatures(vec![typed.value], typed.unit))
        }
    }
}

/// Temperatures from one to another, both included where the step meets them.
fn range(
    option: &str,
    from: Temperature,
    to: Temperature,
    step: Option<&str>,
) -> Result<Vec<Temperature>, Failure> {
    let Some(step) = step else {
        return Err(Failure::usage(
            format!("{option} gives temperatures from..to without a step"),
            "add for example --step 5C",
        ));
    };
    let step = parse_temperature_difference(step).of_option("--step")?;
    let span = (to - from).in_kelvin();
    let size = step.value.in_kelvin();
    if size <= 0.0 || span < 0.0 {
        return Err(Failure::usage(
            format!("{option}: a range runs upwards, by a step above zero"),
            "give for example 30C..50C with --step 5C",
        ));
    }
    let steps = (span / size + 1e-9).floor();
    if steps > MOST_STEPS as f64 {
        return Err(Failure::usage(
            format!("{option}: more than {MOST_STEPS} steps"),
            "give a larger step",
        ));
    }
    let at =
        |index: u32| from + crate::units::TemperatureDifference::kelvin(f64::from(index) * size);
    Ok((0..=steps as u32).map(at).collect())
}
