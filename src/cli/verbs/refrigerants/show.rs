//! `show`: what is known about one refrigerant, each fact with its source.

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::page::{self, Document, parts};
use crate::process::azeotrope::{AzeotropeAt, Azeotropes};
use crate::service::facts::Facts;
use crate::service::profile::profile;
use crate::units::{BareUnit, parse_pressure, parse_temperature};

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
    #[arg(
        long,
        value_name = "TEMPERATURE",
        requires = "azeotrope",
        conflicts_with = "pressure"
    )]
    pub(crate) temperature: Option<String>,
    /// Pressure of the azeotropes
    #[arg(long, value_name = "PRESSURE", requires = "azeotrope")]
    pub(crate) pressure: Option<String>,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &ShowArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let temperature = args.temperature.as_deref();
    let temperature = meant::option("--temperature", temperature, parse_temperature)?;
    let pressure = meant::option("--pressure", args.pressure.as_deref(), |text| {
        parse_pressure(text, BareUnit::Absolute, &site)
    })?;
    let (scale, unit) = (
        temperature.as_ref().map(|typed| typed.unit),
        pressure.as_ref().map(|typed| typed.unit),
    );
    let style = args
        .output
        .style(meant::units(&args.units, scale, unit)?, site);
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
    if args.azeotrope {
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
        return Ok(page::azeotropes(&found, &refrigerant, at, warnings, &style));
    }
    let facts = Facts::of(&refrigerant);
    let found = profile(&refrigerant, &facts);
    Ok(page::profile(
        &found,
        &refrigerant,
        &facts,
        warnings,
        &style,
    ))
}
