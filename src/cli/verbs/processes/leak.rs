//! `leak`: what a leak does to a blend, and what readings by the listed card then miss by.

use super::loss::{self, LossArgs};
use crate::cli::errors::Failure;
use crate::page::Document;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope leak R-407C --temperature 75F --lost 33% --mass 30lb --filled 80%\n  \
                  zeotrope leak R-454B --temperature 24C --lost 10%,30%,50% --tolerance\n  \
                  zeotrope leak R-407C --temperature 75F --lost 30% --refill R-407C --rounds 5\n  \
                  zeotrope leak R-407C --temperature 75F --lost 30% --form wallet --output card.pdf\n  \
                  zeotrope leak R-454B --temperature 75F --picture path --output path.svg\n  \
                  zeotrope leak R-407C --temperature 75F --blank --output exercise.pdf"
)]
pub(crate) struct LeakArgs {
    #[command(flatten)]
    pub(crate) loss: LossArgs,
}

pub(crate) fn answer(args: &LeakArgs) -> Result<Document, Failure> {
    loss::answer(&args.loss, false)
}
