//! `show`: what is known about one refrigerant, each fact with its source.

use crate::args::AskedArgs;
use crate::args::meant::{self, value_of};
use crate::errors::Failure;
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::process::azeotrope::{AzeotropeAt, Azeotropes};
use zeotrope::service::facts::Facts;
use zeotrope::service::profile::profile;
use zeotrope::units::{BareUnit, parse_pressure, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope show R-134a\n  zeotrope show propane --units ip\n  zeotrope show R-744 --format json\n  \
                  zeotrope show \"R-290/R-134a (50/50)\" --azeotrope --temperature 0C"
)]
pub(crate) struct ShowArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    /// The azeotropes of its components instead, at a temperature or pressure
    #[arg(long)]
    pub(crate) azeotrope: bool,
    /// Temperature of the azeotropes
    #[arg(long, value_name = "TEMPERATURE", requires = "azeotrope", conflicts_with = "pressure")]
    pub(crate) temperature: Option<String>,
    /// Pressure of the azeotropes
    #[arg(long, value_name = "PRESSURE", requires = "azeotrope")]
    pub(crate) pressure: Option<String>,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &ShowArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let temperature = value_of!(args.temperature, parse_temperature)?;
    let pressure = |text: &str| parse_pressure(text, BareUnit::Absolute, &site);
    let pressure = value_of!(args.pressure, pressure)?;
    let scale = temperature.as_ref().map(|typed| typed.unit);
    let unit = pressure.as_ref().map(|typed| typed.unit);
    let style = args.asked.style(scale, unit, site)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    if !args.azeotrope {
        let facts = Facts::of_refrigerant(&refrigerant);
        let found = profile(&refrigerant, &facts);
        let page = page::profile(&found, &refrigerant, &facts, warnings, &style);
        return Ok(page);
    }
    let at = match (temperature, pressure) {
        (Some(typed), _) => AzeotropeAt::Temperature(typed.value),
        (None, Some(typed)) => AzeotropeAt::Pressure(typed.value),
        (None, None) => {
            return Err(Failure::usage(
                "--azeotrope needs a temperature or a pressure",
                "add --temperature 0C or --pressure 1bara",
            ));
        }
    };
    let found = Azeotropes::new(&refrigerant, at)?;
    Ok(page::azeotropes(&found, &refrigerant, at, warnings, &style))
}
