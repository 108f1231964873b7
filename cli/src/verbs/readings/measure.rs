//! `superheat` and `subcooling`: one reading on the branch that it belongs to.

use crate::args::meant::{self, value_of};
use crate::args::reading::MeasureArgs;
use crate::errors::{Failure, OrFailure};
use crate::verbs::readings::instruments;
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::service::measurement::gauge_reading::GaugeReading;
use zeotrope::service::reading::measured::{LineRead, ReadingQuestion, measured};
use zeotrope::service::reading::superheat_subcooling::Measure;
use zeotrope::units::{
    parse_band, parse_pressure_difference, parse_temperature, parse_temperature_difference,
};

pub(crate) fn answer(measure: Measure, args: &MeasureArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let kit = instruments::kit(&args.gauge, &args.accuracy)?;
    let instrument = match measure {
        Measure::Superheat => &kit.low,
        Measure::Subcooling => &kit.high,
    };
    let read = |text: &str| GaugeReading::parse(text, instrument, &site);
    let read = value_of!(args.pressure, read)?;
    let drop = value_of!(args.pressure_drop, parse_pressure_difference)?;
    let line = value_of!(args.line, parse_temperature)?;
    let wanted = value_of!(args.wanted, parse_temperature_difference)?;
    let target = value_of!(args.target, parse_temperature_difference)?;
    let target = meant::target(target, value_of!(args.band, parse_band)?);
    let (line, unit) = match (line, wanted) {
        (Some(line), _) => (LineRead::Read(line.value), line.unit),
        (None, Some(wanted)) => (LineRead::Wanted(wanted.value), wanted.unit),
        (None, None) => {
            return Err(Failure::usage(
                "neither a line's temperature nor what is wanted was given",
                "add --line 52F, or --wanted 10F for the line's temperature",
            ));
        }
    };
    let style = args.asked.style(Some(unit), Some(read.unit), site)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
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
    let found = measured(&refrigerant, question).in_style(&style)?;
    let warnings = all_warnings(&refrigerant, &found.warnings, &site_warnings);
    let style = instruments::as_typed(style, &args.asked.units);
    Ok(page::measured(&found, &refrigerant, warnings, &style))
}
