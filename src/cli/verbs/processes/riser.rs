//! `riser`: static head of a liquid column.

use crate::cli::args::meant::{self, option};
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::{Failure, OrFailure};
use crate::page::{self, Document, parts};
use crate::process::riser::{RiserQuestion, riser};
use crate::units::{BareUnit, parse_length, parse_pressure, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope riser R-410A --height 30ft --liquid 95F --pressure 340psig\n  \
                  zeotrope riser R-290 --height 6m --liquid 30C"
)]
pub(crate) struct RiserArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Height of the column, for example 30ft or 6m
    #[arg(long, value_name = "LENGTH")]
    height: String,
    /// Temperature of the liquid
    #[arg(long, value_name = "TEMPERATURE")]
    liquid: String,
    /// Pressure at the bottom, for what is left at the top
    #[arg(long, value_name = "PRESSURE")]
    pressure: Option<String>,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &RiserArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let of = |name: &'static str| move |error| Failure::from(error).of_option(name);
    let height = parse_length(&args.height).map_err(of("--height"))?;
    let liquid = parse_temperature(&args.liquid).map_err(of("--liquid"))?;
    let pressure = option("--pressure", args.pressure.as_deref(), |text| {
        parse_pressure(text, BareUnit::Refused, &site)
    })?;
    let unit = pressure.map(|typed| typed.unit);
    let units = meant::units(&args.units, Some(liquid.unit), unit)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let asked = RiserQuestion {
        liquid: liquid.value,
        pressure: pressure.map(|typed| typed.value),
        height,
    };
    let found = riser(&refrigerant, asked).in_units(&units, &site)?;
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
    let style = args.output.style(units, site);
    Ok(page::riser(&found, &refrigerant, warnings, &style))
}
