//! `convert`: pressures and temperatures at a site, and other amounts.

use crate::args::{OutputArgs, SiteArgs, meant, signs};
use crate::errors::{Failure, OrFailure};
use zeotrope::page::{self, Document};
use zeotrope::service::conversion::{ConvertedQuantity, Unit, convert};
use zeotrope::units::UnitSet;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope convert 70psig --to bara\n  zeotrope convert -40C --to F\n  \
                  zeotrope convert 12.4inHgvac --to psia --elevation 5280ft\n  zeotrope convert 500micron\n  zeotrope convert 3tons --to kW"
)]
pub(crate) struct ConvertArgs {
    /// Pressures, temperatures, capacities, flows, masses, volumes, lengths or velocities with their
    /// units
    #[arg(value_name = "VALUE", required = true)]
    pub(crate) values: Vec<String>,
    /// Unit to convert to; without it, to every unit of the kind
    #[arg(long, value_name = "UNIT")]
    pub(crate) to: Option<String>,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &ConvertArgs) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let mut given = Vec::new();
    let mut to = None;
    for text in &args.values {
        let quantity = ConvertedQuantity::parse(text, &site)?;
        if let Some(name) = &args.to {
            to = Some(Unit::named(name, &quantity).of_option("--to")?);
        }
        given.push((signs::in_ascii(text), quantity));
    }
    let found = convert(given, to, site)?;
    let style = args.output.style(UnitSet::SI, site);
    Ok(page::conversion(&found, warnings, &style))
}
