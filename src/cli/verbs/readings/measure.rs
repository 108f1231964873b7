//! What `superheat` and `subcooling` share: one reading on the branch that it belongs to.

use crate::cli::args::meant;
use crate::cli::args::meant::option;
use crate::cli::args::reading::MeasureArgs;
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::verbs::readings::instruments;
use crate::page::{self, Document, parts};
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::reading::measured::{LineRead, ReadingQuestion, measured};
use crate::service::reading::superheat_subcooling::Measure;
use crate::units::{parse_pressure_difference, parse_temperature, parse_temperature_difference};

pub(crate) fn answer(measure: Measure, args: &MeasureArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let kit = instruments::kit(&args.gauge, &args.accuracy)?;
    let instrument = match measure {
        Measure::Superheat => &kit.low,
        Measure::Subcooling => &kit.high,
    };
    let read = GaugeReading::parse(&args.pressure, instrument, &site).of_option("--pressure")?;
    let drop = option(
        "--pressure-drop",
        args.pressure_drop.as_deref(),
        parse_pressure_difference,
    )?;
    let line = option("--line", args.line.as_deref(), parse_temperature)?;
    let wanted = option(
        "--wanted",
        args.wanted.as_deref(),
        parse_temperature_difference,
    )?;
    let target = meant::target(
        ["--target", "--band"],
        args.target.as_deref(),
        args.band.as_deref(),
    )?;
    let typed = line
        .map(|line| line.unit)
        .or(wanted.map(|wanted| wanted.unit));
    let units = meant::units(&args.units, typed, Some(read.unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let line = match (line, wanted) {
        (Some(line), _) => LineRead::Read(line.value),
        (None, Some(wanted)) => LineRead::Wanted(wanted.value),
        (None, None) => {
            return Err(Failure::usage(
                "neither a line's temperature nor what is wanted was given",
                "add --line 52F, or --wanted 10F for the line's temperature",
            ));
        }
    };
    let question = ReadingQuestion {
        measure,
        read,
        drop,
        line,
        target,
        nominal_composition: args.accuracy.nominal_composition,
        kit,
        site,
    };
    let found = measured(&refrigerant, question).in_units(&units, &site)?;
    let warnings = parts::all_warnings(&refrigerant, &found.warnings, &site_warnings);
    let style = instruments::as_typed(args.output.style(units, site), &args.units);
    Ok(page::measured(&found, &refrigerant, warnings, &style))
}
