//! `draw`: what drawing from a cylinder does to a blend, and how much stays within its tolerances.

use super::loss::{self, LossArgs};
use crate::cli::errors::Failure;
use crate::page::Document;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope draw R-407C --temperature 75F --filled 80% --mass 25lb\n  \
                  zeotrope draw R-455A --temperature 20C --filled 75% --phase vapor --lost 5%,10%,20%"
)]
pub(crate) struct DrawArgs {
    #[command(flatten)]
    pub(crate) loss: LossArgs,
}

pub(crate) fn answer(args: &DrawArgs) -> Result<Document, Failure> {
    loss::answer(&args.loss, true)
}
