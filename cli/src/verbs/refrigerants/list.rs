//! `list`: the refrigerants that are included.

use crate::args::meant;
use crate::args::{DataArgs, OutputArgs};
use crate::errors::Failure;
use zeotrope::page::{self, Document, Style};
use zeotrope::service::listing::list;
use zeotrope::units::{Atmosphere, UnitSet};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope list\n  zeotrope list A2L\n  zeotrope list propane --format json"
)]
pub(crate) struct ListArgs {
    /// Words that must all occur in the line: part of a name, a class, pure or blend
    #[arg(value_name = "WORD")]
    pub(crate) words: Vec<String>,
    #[command(flatten)]
    pub(crate) data: DataArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &ListArgs) -> Result<Document, Failure> {
    let entries = list(&meant::catalogue(&args.data)?, &args.words)?;
    if entries.is_empty() {
        return Err(Failure::no_answer(
            format!("no refrigerant has all of: {}", args.words.join(" ")),
            "'zeotrope list' without words names every refrigerant included",
        ));
    }
    let style = Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL);
    Ok(page::listing(&entries, &style))
}
