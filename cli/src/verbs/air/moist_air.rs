//! `moist-air`: air from its dry bulb and one more reading; the heat between two states.

use crate::args::meant::{self, value_of};
use crate::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::errors::{Failure, OrFailure};
use zeotrope::page::{self, Document};
use zeotrope::service::air::moist_air::{Humidity, OneState, TwoStates};
use zeotrope::units::{Temperature, parse_temperature, parse_volume_flow};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope moist-air --dry-bulb 80F --relative-humidity 50%\n  \
                  zeotrope moist-air --dry-bulb 75F --wet-bulb 62F --elevation 5280ft\n  \
                  zeotrope moist-air --dry-bulb 27C --wet-bulb 19C --leaving-dry-bulb 14C \\\n      \
                  --leaving-wet-bulb 13C --flow 2000m3/h --elevation 1600m"
)]
pub(crate) struct MoistAirArgs {
    /// Dry bulb, for example 80F
    #[arg(long, value_name = "TEMPERATURE")]
    dry_bulb: String,
    /// Wet bulb, for example 67F
    #[arg(long, value_name = "TEMPERATURE")]
    wet_bulb: Option<String>,
    /// Relative humidity, for example 50%
    #[arg(long, value_name = "PERCENT")]
    relative_humidity: Option<String>,
    /// Dew point, below 0 °C the frost point
    #[arg(long, value_name = "TEMPERATURE")]
    dew_point: Option<String>,
    /// Dry bulb of the air that leaves
    #[arg(long, value_name = "TEMPERATURE")]
    leaving_dry_bulb: Option<String>,
    /// Wet bulb of the air that leaves
    #[arg(long, value_name = "TEMPERATURE")]
    leaving_wet_bulb: Option<String>,
    /// Relative humidity of the air that leaves
    #[arg(long, value_name = "PERCENT")]
    leaving_relative_humidity: Option<String>,
    /// Dew point of the air that leaves
    #[arg(long, value_name = "TEMPERATURE")]
    leaving_dew_point: Option<String>,
    /// Flow of air where it enters, for example 1200cfm or 2000m3/h
    #[arg(long, value_name = "FLOW")]
    flow: Option<String>,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &MoistAirArgs) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let dry = value_of!(args.dry_bulb, parse_temperature)?;
    let units = meant::units(&args.units, Some(dry.unit), None)?;
    let style = args.output.style(units, site);
    let given = [
        value_of!(args.wet_bulb, Humidity::parse_wet_bulb)?,
        value_of!(args.relative_humidity, Humidity::parse_relative)?,
        value_of!(args.dew_point, Humidity::parse_dew_point)?,
    ];
    let entering = (dry.value, only("", given)?);
    let flow = value_of!(args.flow, parse_volume_flow)?;
    match (leaving(args)?, flow) {
        (None, None) => {
            let found = OneState::new(entering, &site).in_style(&style)?;
            Ok(page::moist_air(&found, warnings, &style))
        }
        (Some(leaving), Some(flow)) => {
            let found = TwoStates::new(entering, leaving, flow, &site).in_style(&style)?;
            Ok(page::air_heat(&found, warnings, &style))
        }
        (Some(_), None) => Err(Failure::usage(
            "two states of air need a flow to give heat",
            "add --flow 1200cfm or --flow 2000m3/h",
        )),
        (None, Some(_)) => Err(Failure::usage(
            "a flow needs the air that leaves",
            "add --leaving-dry-bulb and one of --leaving-wet-bulb, --leaving-relative-humidity, \
             --leaving-dew-point",
        )),
    }
}

fn leaving(args: &MoistAirArgs) -> Result<Option<(Temperature, Humidity)>, Failure> {
    let given = [
        value_of!(args.leaving_wet_bulb, Humidity::parse_wet_bulb)?,
        value_of!(args.leaving_relative_humidity, Humidity::parse_relative)?,
        value_of!(args.leaving_dew_point, Humidity::parse_dew_point)?,
    ];
    match value_of!(args.leaving_dry_bulb, parse_temperature)? {
        Some(dry) => Ok(Some((dry.value, only("leaving-", given)?))),
        None if given.iter().any(Option::is_some) => Err(Failure::usage(
            "the air that leaves has no dry bulb",
            "add --leaving-dry-bulb 55F",
        )),
        None => Ok(None),
    }
}

/// The one reading of moisture among those that may be given.
pub(super) fn only(prefix: &str, given: [Option<Humidity>; 3]) -> Result<Humidity, Failure> {
    let found: Vec<Humidity> = given.into_iter().flatten().collect();
    let problem = match found.as_slice() {
        [one] => return Ok(*one),
        [] => "no reading of the air's moisture was given",
        _ => "more than one reading of the air's moisture were given",
    };
    let names = ["wet-bulb", "relative-humidity", "dew-point"];
    let names = names.map(|name| format!("--{prefix}{name}"));
    Err(Failure::usage(
        problem,
        format!("give one of {}", names.join(", ")),
    ))
}
