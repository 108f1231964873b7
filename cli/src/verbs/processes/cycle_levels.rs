//! The temperatures and pressures between which a cycle runs: which options go together.

use super::cycle::CycleArgs;
use crate::args::meant::value_of;
use crate::errors::{Failure, OrFailure};
use zeotrope::process::cycle::{
    CoilTemperature, Cycle, GasCoolerPressure, HighSide, Levels, cycles, level_kinds,
    parse_gas_cooler,
};
use zeotrope::units::{
    Atmosphere, PressureUnit, TemperatureUnit, parse_temperature, parse_temperature_difference,
};

/// Cycles without their options, and the units in which they were asked for.
pub(super) struct Asked {
    pub(super) cycles: Vec<Cycle>,
    pub(super) is_sweep: bool,
    pub(super) temperature_unit: Option<TemperatureUnit>,
    pub(super) pressure_unit: Option<PressureUnit>,
}

/// Every condition that the options ask for.
pub(super) fn conditions(args: &CycleArgs, site: &Atmosphere) -> Result<Asked, Failure> {
    let step = value_of!(args.step, parse_temperature_difference)?.map(|step| step.value);
    let levels = |text: &str| Levels::parse(text, step, site);
    let low = value_of!(args.evaporating, levels)?;
    let pressure = value_of!(args.gas_cooler_pressure, |text| parse_gas_cooler(
        text, site
    ))?
    .unwrap_or(GasCoolerPressure::Best);
    // beside a condensing temperature, for refrigerants whose critical point lies below it
    let high = match value_of!(args.condensing, levels)? {
        Some(condensing) => match value_of!(args.gas_cooler_outlet, parse_temperature)? {
            Some(outlet) => HighSide::Either(condensing, pressure, outlet.value),
            None => HighSide::Condenser(condensing),
        },
        None => {
            let outlet = value_of!(args.gas_cooler_outlet, levels)?.ok_or_else(|| {
                Failure::usage("no condensing temperature", "add --condensing 40C")
            })?;
            HighSide::GasCooler(pressure, outlet)
        }
    };
    check(args, &low, &high)?;
    let kinds = level_kinds(args.evaporating_at, args.condensing_at, &args.compare_at);
    let cycles = cycles(&low, &high, &kinds).of_option("--gas-cooler-outlet")?;
    let outlets = high.levels();
    let is_sweep = low.is_range() || outlets.is_range();
    if step.is_some() && !is_sweep {
        return Err(Failure::usage(
            "--step goes with temperatures from..to",
            "give for example --condensing 30C..50C --step 5C",
        ));
    }
    let (of_low, of_high) = (low.units(), outlets.units());
    Ok(Asked {
        cycles,
        is_sweep,
        temperature_unit: of_low.0.or(of_high.0),
        pressure_unit: of_low.1.or(of_high.1),
    })
}

/// Refuses a kind of temperature where there is none.
fn check(args: &CycleArgs, low: &Levels, high: &HighSide) -> Result<(), Failure> {
    for (option, given, kind) in [
        ("--evaporating-at", low, args.evaporating_at),
        ("--condensing-at", high.levels(), args.condensing_at),
    ] {
        if kind.is_some() && given.is_pressure() {
            return Err(Failure::usage(
                format!("{option} says which temperature is meant, and a pressure was given"),
                format!("leave out {option}, or give a temperature"),
            ));
        }
    }
    if args.condensing_at == Some(CoilTemperature::InletMean) {
        return Err(Failure::usage(
            "--condensing-at: an inlet mean belongs to an evaporator",
            "use mean, dew or bubble",
        ));
    }
    let has_other =
        low.is_pressure() || high.levels().is_pressure() || matches!(high, HighSide::GasCooler(..));
    if !args.compare_at.is_empty() && has_other {
        return Err(Failure::usage(
            "--compare-at is for an evaporating and a condensing temperature",
            "give both as temperatures, or leave --compare-at out",
        ));
    }
    Ok(())
}
