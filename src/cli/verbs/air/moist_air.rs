//! `moist-air`: air from its dry bulb and one more reading; the heat between two states.

use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::{Failure, OrFailure};
use crate::page::{self, Document};
use crate::service::air::moist_air::{Humidity, OneState, TwoStates};
use crate::units::{
    Temperature, TemperatureUnit, Typed, parse_percent, parse_temperature, parse_volume_flow,
};

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
    #[command(flatten)]
    moisture: MoistureArgs,
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

/// One reading of moisture.
#[derive(Debug, Clone, Default, clap::Args)]
pub(crate) struct MoistureArgs {
    /// Wet bulb, for example 67F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) wet_bulb: Option<String>,
    /// Relative humidity, for example 50%
    #[arg(long, value_name = "PERCENT")]
    pub(crate) relative_humidity: Option<String>,
    /// Dew point, below 0 °C the frost point
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) dew_point: Option<String>,
}

pub(crate) fn answer(args: &MoistAirArgs) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let dry = temperature("--dry-bulb", &args.dry_bulb)?;
    let units = meant::units(&args.units, Some(dry.unit), None)?;
    let entering = (dry.value, humidity(&args.moisture, "")?);
    let leaving = leaving(args)?;
    let flow = meant::option("--flow", args.flow.as_deref(), parse_volume_flow)?;
    let style = args.output.style(units, site);
    let in_units = |error| Failure::in_units(error, &units, &site);
    match (leaving, flow) {
        (None, None) => {
            let found = OneState::new(entering, &site).map_err(in_units)?;
            Ok(page::moist_air(&found, warnings, &style))
        }
        (Some(leaving), Some(flow)) => {
            let found = TwoStates::new(entering, leaving, flow, &site).map_err(in_units)?;
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

pub(crate) fn temperature(
    option: &str,
    text: &str,
) -> Result<Typed<Temperature, TemperatureUnit>, Failure> {
    parse_temperature(text).of_option(option)
}

/// The one reading of moisture among those that may be given.
pub(crate) fn humidity(args: &MoistureArgs, prefix: &str) -> Result<Humidity, Failure> {
    let name = |option: &str| format!("--{prefix}{option}");
    let mut found = Vec::new();
    if let Some(text) = &args.wet_bulb {
        found.push(Humidity::WetBulb(
            temperature(&name("wet-bulb"), text)?.value,
        ));
    }
    if let Some(text) = &args.relative_humidity {
        found.push(Humidity::Relative(
            parse_percent("relative humidity", text)
                .map_err(|error| Failure::from(error).of_option(&name("relative-humidity")))?,
        ));
    }
    if let Some(text) = &args.dew_point {
        found.push(Humidity::DewPoint(
            temperature(&name("dew-point"), text)?.value,
        ));
    }
    match found.as_slice() {
        [one] => Ok(*one),
        _ => Err(Failure::usage(
            format!(
                "{} of the air's moisture {} given",
                if found.is_empty() {
                    "no reading"
                } else {
                    "more than one reading"
                },
                if found.is_empty() { "was" } else { "were" }
            ),
            format!(
                "give one of {}, {}, {}",
                name("wet-bulb"),
                name("relative-humidity"),
                name("dew-point")
            ),
        )),
    }
}

fn leaving(args: &MoistAirArgs) -> Result<Option<(Temperature, Humidity)>, Failure> {
    let moisture = MoistureArgs {
        wet_bulb: args.leaving_wet_bulb.clone(),
        relative_humidity: args.leaving_relative_humidity.clone(),
        dew_point: args.leaving_dew_point.clone(),
    };
    let Some(dry) = &args.leaving_dry_bulb else {
        let any = [
            &moisture.wet_bulb,
            &moisture.relative_humidity,
            &moisture.dew_point,
        ];
        if any.iter().any(|text| text.is_some()) {
            return Err(Failure::usage(
                "the air that leaves has no dry bulb",
                "add --leaving-dry-bulb 55F",
            ));
        }
        return Ok(None);
    };
    let dry = temperature("--leaving-dry-bulb", dry)?;
    Ok(Some((dry.value, humidity(&moisture, "leaving-")?)))
}
