//! `reading`: both sides of a system at once.

use crate::args::meant::{self, value_of};
use crate::args::reading::ReadingArgs;
use crate::errors::{Failure, OrFailure};
use crate::verbs::readings::instruments;
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::service::measurement::decision::Target;
use zeotrope::service::measurement::gauge_reading::GaugeReading;
use zeotrope::service::reading::both_sides::{AirRead, BothSidesQuestion, SideAsked, both_sides};
use zeotrope::units::{parse_band, parse_temperature, parse_temperature_difference};

pub(crate) fn answer(args: &ReadingArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let (kit, air_limit) = instruments::kit_of_sides(&args.gauge, &args.accuracy, &args.sides)?;
    let suction_line = value_of!(args.suction_line, parse_temperature)?;
    let liquid_line = value_of!(args.liquid_line, parse_temperature)?;
    let ambient = value_of!(args.ambient, parse_temperature)?;
    let returning = value_of!(args.return_air, parse_temperature)?;
    let supplied = value_of!(args.supply_air, parse_temperature)?;
    let wet_bulb = value_of!(args.wet_bulb, parse_temperature)?;
    let discharge = value_of!(args.discharge_line, parse_temperature)?;
    let low = |text: &str| GaugeReading::parse(text, &kit.low, &site);
    let high = |text: &str| GaugeReading::parse(text, &kit.high, &site);
    let suction = value_of!(args.suction_pressure, low)?;
    let liquid = value_of!(args.liquid_pressure, high)?;
    check(args)?;
    let temperatures = [
        suction_line,
        liquid_line,
        ambient,
        returning,
        supplied,
        wet_bulb,
    ];
    let scale = temperatures.iter().flatten().map(|typed| typed.unit).next();
    let unit = suction.as_ref().or(liquid.as_ref()).map(|read| read.unit);
    let style = args.asked.style(scale, unit, site)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
    let [of_suction, of_liquid] = targets(args)?;
    let question = BothSidesQuestion {
        suction: suction.map(|read| SideAsked {
            read,
            line: suction_line.map(|typed| typed.value),
            target: of_suction,
        }),
        liquid: liquid.map(|read| SideAsked {
            read,
            line: liquid_line.map(|typed| typed.value),
            target: of_liquid,
        }),
        air: AirRead {
            ambient: ambient.map(|typed| typed.value),
            returning: returning.map(|typed| typed.value),
            supplied: supplied.map(|typed| typed.value),
            wet_bulb: wet_bulb.map(|typed| typed.value),
        },
        mode: args.mode,
        air_limit,
        nominal_composition: args.accuracy.nominal_composition,
        kit,
        site,
    };
    let running = discharge.and_then(|line| question.running(&refrigerant, line.value));
    let mut found = both_sides(&refrigerant, question).in_style(&style)?;
    found.find_inlet_mean(&refrigerant);
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    let style = instruments::as_typed(style, &args.asked.units);
    let mut document = page::both_sides(&found, &refrigerant, warnings, &style);
    if let Some(running) = &running {
        page::running_cycle(&mut document, running, &style);
    }
    Ok(document)
}

/// Refuses a line without its pressure.
fn check(args: &ReadingArgs) -> Result<(), Failure> {
    if args.suction_pressure.is_none() && args.liquid_pressure.is_none() {
        return Err(Failure::usage(
            "no pressure was given",
            "add --suction-pressure 118psig, --liquid-pressure 340psig or both, or --csv FILE",
        ));
    }
    for (line, pressure, side) in [
        (&args.suction_line, &args.suction_pressure, "suction"),
        (&args.liquid_line, &args.liquid_pressure, "liquid"),
    ] {
        if line.is_some() && pressure.is_none() {
            return Err(Failure::usage(
                format!("--{side}-line without --{side}-pressure"),
                format!("add --{side}-pressure, or leave --{side}-line out"),
            ));
        }
    }
    Ok(())
}

/// What is wanted of superheat and of subcooling.
pub(crate) fn targets(args: &ReadingArgs) -> Result<[Option<Target>; 2], Failure> {
    let superheat = value_of!(args.target, parse_temperature_difference)?;
    let subcooling = value_of!(args.subcooling_target, parse_temperature_difference)?;
    Ok([
        meant::target(superheat, value_of!(args.band, parse_band)?),
        meant::target(subcooling, value_of!(args.subcooling_band, parse_band)?),
    ])
}
