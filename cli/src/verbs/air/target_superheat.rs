//! `target-superheat`: an estimate from the field formula, or the manufacturer's chart.

use std::path::PathBuf;

use crate::args::meant::{self, value_of};
use crate::args::{OutputArgs, SiteArgs, UnitArgs};
use crate::errors::{Failure, OrFailure};
use crate::verbs::air::moist_air::only;
use zeotrope::page::{self, Document, Style};
use zeotrope::service::air::chart_file::read_superheat_chart;
use zeotrope::service::air::moist_air::Humidity;
use zeotrope::service::air::target_superheat::{Indoor, TargetSuperheat};
use zeotrope::service::measurement::kit::parse_clamp;
use zeotrope::units::{TemperatureDifference, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope target-superheat --indoor-wet-bulb 64F --outdoor-dry-bulb 96F\n  \
                  zeotrope target-superheat --indoor-dry-bulb 75F --indoor-relative-humidity 50% \\\n      \
                  --outdoor-dry-bulb 90F --thermometer-accuracy 1F --elevation 5280ft\n\n\
                  A chart's CSV: first cell outdoor_dry_bulb_F or outdoor_dry_bulb_C, then \
                  the indoor wet bulbs; below, a row per outdoor dry bulb with its target \
                  superheats; an empty cell forbids charging there."
)]
pub(crate) struct TargetSuperheatArgs {
    /// Wet bulb of the return air, for example 64F
    #[arg(long, value_name = "TEMPERATURE")]
    indoor_wet_bulb: Option<String>,
    /// Dry bulb of the return air; with one of the next two it gives the wet bulb at the site
    #[arg(long, value_name = "TEMPERATURE")]
    indoor_dry_bulb: Option<String>,
    /// Relative humidity of the return air, for example 50%
    #[arg(long, value_name = "PERCENT")]
    indoor_relative_humidity: Option<String>,
    /// Dew point of the return air
    #[arg(long, value_name = "TEMPERATURE")]
    indoor_dew_point: Option<String>,
    /// Dry bulb of the air at the condenser, for example 96F
    #[arg(long, value_name = "TEMPERATURE")]
    outdoor_dry_bulb: String,
    /// The manufacturer's chart, as CSV; it outranks the estimate
    #[arg(long, value_name = "FILE")]
    chart: Option<PathBuf>,
    /// Limit of error of both thermometers, for example 1F
    #[arg(long, value_name = "DIFFERENCE")]
    thermometer_accuracy: Option<String>,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &TargetSuperheatArgs) -> Result<Document, Failure> {
    let (site, mut warnings) = meant::site(&args.site)?;
    let outdoor = value_of!(args.outdoor_dry_bulb, parse_temperature)?;
    let units = meant::units(&args.units, Some(outdoor.unit), None)?;
    let style = args.output.style(units, site);
    let limit = value_of!(args.thermometer_accuracy, parse_clamp)?;
    let limit = limit.map(TemperatureDifference::kelvin);
    let indoor = indoor(args, &style)?;
    let chart = args.chart.as_deref().map(read_superheat_chart);
    let chart = chart.transpose().in_style(&style)?;
    let found = TargetSuperheat::new(indoor, outdoor.value, chart.as_ref(), limit, &site);
    let (found, unmet) = found.in_style(&style)?;
    warnings.extend(unmet);
    Ok(page::target_superheat(&found, warnings, &style))
}

fn indoor(args: &TargetSuperheatArgs, style: &Style) -> Result<Indoor, Failure> {
    let dry_bulb = value_of!(args.indoor_dry_bulb, parse_temperature)?;
    let given = [
        value_of!(args.indoor_wet_bulb, Humidity::parse_wet_bulb)?,
        value_of!(args.indoor_relative_humidity, Humidity::parse_relative)?,
        value_of!(args.indoor_dew_point, Humidity::parse_dew_point)?,
    ];
    match (dry_bulb, only("indoor-", given)?) {
        (Some(dry), humidity) => Indoor::new(dry.value, humidity, &style.site).in_style(style),
        (None, Humidity::WetBulb(wet)) => Ok(Indoor::of_wet_bulb(wet)),
        (None, _) => Err(Failure::usage(
            "a relative humidity or dew point alone does not give a wet bulb",
            "add --indoor-dry-bulb 75F",
        )),
    }
}
