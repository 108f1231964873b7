//! `exercise`: tasks for a class with their key, from a recipe.

use std::path::PathBuf;

use crate::args::{DataArgs, OutputArgs, SiteArgs, meant};
use crate::errors::Failure;
use crate::io;
use crate::verbs::charts::print;
use zeotrope::chart::exercise::Exercise;
use zeotrope::output::Format;
use zeotrope::page::{self, Document, Form, Paper, Style};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope exercise recipes/exercise_superheat.yaml\n  \
                  zeotrope exercise recipes/exercise_drawn.yaml --seed 7 --paper letter --output sheet.pdf")]
pub(crate) struct ExerciseArgs {
    /// The recipe, a YAML file: tasks of superheat, subcooling, lens, coil and cycle
    #[arg(value_name = "RECIPE")]
    recipe: PathBuf,
    /// Seed of what is drawn; the recipe's own, else 1, if not given
    #[arg(long, value_name = "NUMBER")]
    seed: Option<u64>,
    /// a4, letter, a3 or tabloid, for PDF
    #[arg(long, value_name = "PAPER")]
    paper: Option<String>,
    /// A file of words in another language
    #[arg(long, value_name = "FILE")]
    words: Option<PathBuf>,
    #[command(flatten)]
    data: DataArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &ExerciseArgs) -> Result<Document, Failure> {
    let format = meant::format(&args.output)?;
    let (site, warnings) = meant::site(&args.site)?;
    let shown = args.recipe.display().to_string();
    let hint = "name a recipe, for example recipes/exercise_superheat.yaml";
    let text = io::text(&args.recipe, hint)?;
    let catalogue = meant::catalogue(&args.data)?;
    let found = Exercise::new(&shown, &text, args.seed, &catalogue, &site)?;
    let words = print::words(args.words.as_deref())?;
    let paper = args.paper.as_deref().map_or(Ok(Paper::A4), Paper::named)?;
    let form = (format == Format::Pdf).then(|| Form {
        paper,
        ..Form::default()
    });
    let style = Style {
        decimal_comma: words.decimal_comma,
        words,
        day: print::day(None, format)?,
        ..args.output.style(found.units, site)
    };
    Ok(page::exercise(&found, &warnings, form, &style))
}
