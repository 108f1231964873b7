//! `pipe`: velocity and flow in a pipe for a capacity.

use clap::ValueEnum;

use crate::cli::args::meant::{self, option};
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::page::{self, Document, parts};
use crate::process::pipe::{PipeLine, PipeQuestion, pipe_flow};
use crate::refrigerant::Refrigerant;
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, TemperatureUnit, parse_heat_flow, parse_length,
    parse_pressure, parse_temperature, parse_temperature_difference,
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
    #[arg(long, value_name = "LINE")]
    line: Option<LineArg>,
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
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// A line of a system.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum LineArg {
    Suction,
    Discharge,
    Liquid,
}

pub(crate) fn answer(args: &PipeArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let of = |name: &'static str| move |error| Failure::from(error).of_option(name);
    let capacity = parse_heat_flow(&args.capacity).map_err(of("--capacity"))?;
    let diameter = parse_length(&args.diameter).map_err(of("--diameter"))?;
    let superheat = parse_temperature_difference(&args.superheat).map_err(of("--superheat"))?;
    let subcooling = parse_temperature_difference(&args.subcooling).map_err(of("--subcooling"))?;
    let discharge = option("--discharge", args.discharge.as_deref(), parse_temperature)?;
    let low = level(
        &refrigerant,
        &args.evaporating,
        &site,
        Refrigerant::dew_pressure,
    );
    let low = low.map_err(of("--evaporating"))?;
    let high = level(
        &refrigerant,
        &args.condensing,
        &site,
        Refrigerant::bubble_pressure,
    );
    let high = high.map_err(of("--condensing"))?;
    let typed = low.1.or(Some(superheat.unit));
    let units = meant::units(&args.units, typed, low.2)?;
    let in_units = |error| Failure::in_units(error, &units, &site);
    let dew = refrigerant.dew_temperature(low.0).map_err(in_units)?;
    let bubble = refrigerant.bubble_temperature(high.0).map_err(in_units)?;
    let asked = PipeQuestion {
        line: match args.line {
            Some(LineArg::Discharge) => PipeLine::Discharge,
            Some(LineArg::Liquid) => PipeLine::Liquid,
            Some(LineArg::Suction) | None => PipeLine::Suction,
        },
        capacity,
        diameter,
        low: low.0,
        high: high.0,
        suction: dew + superheat.value,
        liquid: bubble - subcooling.value,
        discharge: discharge.map(|typed| typed.value),
    };
    let found = pipe_flow(&refrigerant, asked).map_err(in_units)?;
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
    let style = args.output.style(units, site);
    Ok(page::pipe(&found, &refrigerant, warnings, &style))
}

/// A pressure with the units in which it was typed.
type Level = (Pressure, Option<TemperatureUnit>, Option<PressureUnit>);

/// A pressure as typed, or that of a saturation temperature as typed.
pub(super) fn level(
    refrigerant: &Refrigerant,
    text: &str,
    site: &Atmosphere,
    of: impl Fn(&Refrigerant, crate::units::Temperature) -> crate::Result<Pressure>,
) -> crate::Result<Level> {
    if meant::pressure_like(text) {
        let typed = parse_pressure(text, BareUnit::Refused, site)?;
        return Ok((typed.value, None, Some(typed.unit)));
    }
    let typed = parse_temperature(text)?;
    Ok((of(refrigerant, typed.value)?, Some(typed.unit), None))
}
