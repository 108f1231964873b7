//! `riser`: static head of a liquid column.

use crate::args::AskedArgs;
use crate::args::meant::{self, value_of};
use crate::errors::{Failure, OrFailure};
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::process::riser::{RiserQuestion, riser};
use zeotrope::units::{BareUnit, parse_length, parse_pressure, parse_temperature};

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
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &RiserArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let height = value_of!(args.height, parse_length)?;
    let liquid = value_of!(args.liquid, parse_temperature)?;
    let pressure = |text: &str| parse_pressure(text, BareUnit::Refused, &site);
    let pressure = value_of!(args.pressure, pressure)?;
    let unit = pressure.map(|typed| typed.unit);
    let style = args.asked.style(Some(liquid.unit), unit, site)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
    let asked = RiserQuestion {
        liquid: liquid.value,
        pressure: pressure.map(|typed| typed.value),
        height,
    };
    let found = riser(&refrigerant, asked).in_style(&style)?;
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    Ok(page::riser(&found, &refrigerant, warnings, &style))
}
