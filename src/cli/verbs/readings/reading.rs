//! `reading`: both sides of a system at once.

use crate::cli::args::meant;
use crate::cli::args::meant::option;
use crate::cli::args::reading::{ReadingArgs, WantedArgs};
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::verbs::readings::instruments;
use crate::page::{self, Document, parts};
use crate::service::measurement::decision::Target;
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::measurement::kit::Instrument;
use crate::service::reading::both_sides::{
    AirRead, BothSidesQuestion, Mode, SideAsked, both_sides,
};
use crate::units::parse_temperature;

pub(crate) fn answer(args: &ReadingArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let (kit, air_limit) = instruments::kit_of_sides(&args.gauge, &args.accuracy, &args.sides)?;
    let both = &args.both;
    let temperature =
        |name: &str, text: &Option<String>| option(name, text.as_deref(), parse_temperature);
    let lines = [
        temperature("--suction-line", &both.suction_line)?,
        temperature("--liquid-line", &both.liquid_line)?,
    ];
    let airs = [
        temperature("--ambient", &both.ambient)?,
        temperature("--return-air", &both.return_air)?,
        temperature("--supply-air", &both.supply_air)?,
        temperature("--wet-bulb", &both.wet_bulb)?,
    ];
    let pressure = |name: &str, text: &Option<String>, instrument: &Instrument| {
        option(name, text.as_deref(), |text| {
            GaugeReading::parse(text, instrument, &site)
        })
    };
    let reads = [
        pressure("--suction-pressure", &both.suction_pressure, &kit.low)?,
        pressure("--liquid-pressure", &both.liquid_pressure, &kit.high)?,
    ];
    let Some(unit) = reads.iter().flatten().map(|read| read.unit).next() else {
        return Err(Failure::usage(
            "no pressure was given",
            "add --suction-pressure 118psig, --liquid-pressure 340psig or both, or --csv FILE",
        ));
    };
    for (line, read, names) in [
        (
            &lines[0],
            &reads[0],
            ["--suction-line", "--suction-pressure"],
        ),
        (&lines[1], &reads[1], ["--liquid-line", "--liquid-pressure"]),
    ] {
        if line.is_some() && read.is_none() {
            return Err(Failure::usage(
                format!("{} without {}", names[0], names[1]),
                format!("add {}, or leave {} out", names[1], names[0]),
            ));
        }
    }
    let typed = lines
        .iter()
        .chain(&airs)
        .flatten()
        .map(|line| line.unit)
        .next();
    let units = meant::units(&args.units, typed, Some(unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;

    let targets = targets(&args.wanted)?;
    let side = |at: usize| {
        let read = reads[at].clone()?;
        let line = lines[at].map(|line| line.value);
        let target = targets[at];
        Some(SideAsked { read, line, target })
    };
    let question = BothSidesQuestion {
        suction: side(0),
        liquid: side(1),
        air: AirRead {
            ambient: airs[0].map(|air| air.value),
            returning: airs[1].map(|air| air.value),
            supplied: airs[2].map(|air| air.value),
            wet_bulb: airs[3].map(|air| air.value),
        },
        mode: args.wanted.mode.map(Mode::from),
        air_limit,
        nominal_composition: args.accuracy.nominal_composition,
        kit,
        site,
    };
    let discharge = temperature("--discharge-line", &both.discharge_line)?;
    let running = discharge.and_then(|line| question.running(&refrigerant, line.value));
    let mut found = both_sides(&refrigerant, question).in_units(&units, &site)?;
    found.find_inlet_mean(&refrigerant);
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
    let style = instruments::as_typed(args.output.style(units, site), &args.units);
    let mut document = page::both_sides(&found, &refrigerant, warnings, &style);
    if let Some(running) = &running {
        page::running_cycle(&mut document, running, &style);
    }
    Ok(document)
}

/// What is wanted of superheat and of subcooling.
pub(crate) fn targets(wanted: &WantedArgs) -> Result<[Option<Target>; 2], Failure> {
    Ok([
        meant::target(
            ["--target", "--band"],
            wanted.target.as_deref(),
            wanted.band.as_deref(),
        )?,
        meant::target(
            ["--subcooling-target", "--subcooling-band"],
            wanted.subcooling_target.as_deref(),
            wanted.subcooling_band.as_deref(),
        )?,
    ])
}
