//! `show`: what is known about one refrigerant, each fact with its source.

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::page::{self, Document, parts};
use crate::service::facts::Facts;
use crate::service::profile::profile;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope show R-134a\n  zeotrope show propane --units ip\n  zeotrope show R-744 --format json"
)]
pub(crate) struct ShowArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
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
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let style = args
        .output
        .style(meant::units(&args.units, None, None)?, site);
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let warnings = parts::all_warnings(&refrigerant, &[], &site_warnings);
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
