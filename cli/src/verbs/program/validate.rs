//! `validate`: the engine against published values, source by source.

use std::io::Write;

use crate::args::{DataArgs, OutputArgs, PairsArg, meant};
use crate::errors::Failure;
use crate::io::deliver;
use zeotrope::page::{self, Style};
use zeotrope::units::{Atmosphere, UnitSet};
use zeotrope::validation::{Report, random};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope validate\n  zeotrope validate --format json\n  \
                  zeotrope validate --pairs published\n  \
                  zeotrope validate --random 40 --seed 1")]
pub(crate) struct ValidateArgs {
    #[command(flatten)]
    pub(crate) data: DataArgs,
    /// Parameters of pairs that were refitted to measured bubble points; without it refitted
    #[arg(long, value_name = "PARAMETERS", help_heading = "Refrigerants")]
    pub(crate) pairs: Option<PairsArg>,
    /// Ask this many random questions instead and check every answer by its stability
    #[arg(long, value_name = "COUNT", help_heading = "Random questions")]
    pub(crate) random: Option<usize>,
    /// Which random questions; without it 1
    #[arg(long, value_name = "NUMBER", requires = "random", help_heading = "Random questions")]
    pub(crate) seed: Option<u64>,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// Answers, and fails where a value lies outside without a reason on record.
pub(crate) fn run(
    args: &ValidateArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    deliver::check_output(&args.output)?;
    let facts = meant::catalogue(&args.data)?;
    let facts = meant::with_pairs(&facts, args.pairs);
    let style = Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL);
    if let Some(questions) = args.random {
        let seed = args.seed.unwrap_or(1);
        let found = page::random_check(&random::ask(&facts, questions, seed), seed, &style);
        return deliver::answer(&found, &args.output, out, err);
    }
    let report = Report::new(&facts)?;
    deliver::answer(&page::validation(&report, &style), &args.output, out, err)?;
    match report.outside().next() {
        None => Ok(()),
        Some(_) => Err(Failure::no_answer(
            "published values lie outside their tolerance without a known reason",
            "the answer names them below 'Outside without a reason'",
        )),
    }
}
