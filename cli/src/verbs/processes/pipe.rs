//! `pipe`: velocity and flow in a pipe for a capacity.

use crate::args::AskedArgs;
use crate::args::choices::choice;
use crate::args::meant::{self, value_of};
use crate::errors::{Failure, OrFailure};
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::process::pipe::{PipeLine, PipeQuestion, pipe_flow};
use zeotrope::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureUnit, TypedLevel,
    parse_heat_flow, parse_length, parse_level, parse_temperature, parse_temperature_difference,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope pipe R-410A --capacity 3tons --diameter 0.785in --evaporating 45F \\\n    \
                  --condensing 105F --superheat 10F --subcooling 10F\n  \
                  zeotrope pipe R-448A --line liquid --capacity 10kW --diameter 11mm \\\n    \
                  --evaporating -25C --condensing 40C --superheat 6K --subcooling 4K"
)]
pub(crate) struct PipeArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Which line the pipe is; suction if not given
    #[arg(value_parser = choice::<PipeLine>(), long, value_name = "LINE")]
    line: Option<PipeLine>,
    /// Refrigerating capacity, for example 3tons or 10kW
    #[arg(long, value_name = "CAPACITY")]
    capacity: String,
    /// Inside diameter, for example 0.785in or 20mm
    #[arg(long, value_name = "LENGTH")]
    diameter: String,
    /// Evaporating pressure, or the dew temperature there
    #[arg(long, value_name = "VALUE")]
    evaporating: String,
    /// Condensing pressure, or the bubble temperature there
    #[arg(long, value_name = "VALUE")]
    condensing: String,
    /// Superheat of the suction line
    #[arg(long, value_name = "DIFFERENCE")]
    superheat: String,
    /// Subcooling of the liquid line
    #[arg(long, value_name = "DIFFERENCE")]
    subcooling: String,
    /// Temperature of the discharge line, for --line discharge
    #[arg(long, value_name = "TEMPERATURE")]
    discharge: Option<String>,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &PipeArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
    let capacity = value_of!(args.capacity, parse_heat_flow)?;
    let diameter = value_of!(args.diameter, parse_length)?;
    let superheat = value_of!(args.superheat, parse_temperature_difference)?;
    let subcooling = value_of!(args.subcooling, parse_temperature_difference)?;
    let discharge = value_of!(args.discharge, parse_temperature)?;
    let low = |text: &str| level(text, &site, |dew| refrigerant.dew_pressure(dew));
    let high = |text: &str| level(text, &site, |bubble| refrigerant.bubble_pressure(bubble));
    let (low, temperature, pressure) = value_of!(args.evaporating, low)?;
    let (high, ..) = value_of!(args.condensing, high)?;
    let style = (args.asked).style(temperature.or(Some(superheat.unit)), pressure, site)?;
    let dew = refrigerant.dew_temperature(low).in_style(&style)?;
    let bubble = refrigerant.bubble_temperature(high).in_style(&style)?;
    let asked = PipeQuestion {
        line: args.line.unwrap_or(PipeLine::Suction),
        capacity,
        diameter,
        low,
        high,
        suction: dew + superheat.value,
        liquid: bubble - subcooling.value,
        discharge: discharge.map(|typed| typed.value),
    };
    let found = pipe_flow(&refrigerant, asked).in_style(&style)?;
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    Ok(page::pipe(&found, &refrigerant, warnings, &style))
}

/// A pressure with the units in which it was typed.
type Level = (Pressure, Option<TemperatureUnit>, Option<PressureUnit>);

/// A pressure as typed, or that of a saturation temperature as typed.
fn level(
    text: &str,
    site: &Atmosphere,
    saturated: impl Fn(Temperature) -> zeotrope::Result<Pressure>,
) -> zeotrope::Result<Level> {
    Ok(match parse_level(text, BareUnit::Refused, site)? {
        TypedLevel::Pressure(typed) => (typed.value, None, Some(typed.unit)),
        TypedLevel::Temperature(typed) => (saturated(typed.value)?, Some(typed.unit), None),
    })
}
