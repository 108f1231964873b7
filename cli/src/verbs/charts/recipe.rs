//! A recipe: a file that names refrigerants and choices, read as if they had been typed.

use std::ffi::OsString;

use clap::CommandFactory;

use crate::args::signs;
use crate::errors::Failure;
use crate::verbs::charts::chart_args::ChartArgs;
use crate::verbs::{Args, Verb};
use zeotrope::chart::{ROW_CHOICES, Recipe, RecipeChoice, broken_recipe as broken};

/// What decides a card's figures and its form.
const OF_A_CARD: &str = "from to step temperatures pressures resolution digits columns \
                         one-column-below also pairs units temperature-unit pressure-unit \
                         elevation station-pressure form paper size tolerance decimal-comma";

/// The arguments with those of the recipe that they name, but for what was typed too; `None` where
/// they name none.
pub(crate) fn joined(args: &Args, typed: &[OsString]) -> Result<Option<Vec<OsString>>, Failure> {
    let Verb::Chart(chart) = &args.verb else {
        return Ok(None);
    };
    let Some(path) = &chart.print.recipe else {
        return Ok(None);
    };
    let shown = path.display().to_string();
    let text = std::fs::read_to_string(path);
    let text = text.map_err(|problem| broken(&shown, problem.to_string()))?;
    let given = arguments(&shown, &text, &chart.refrigerants, typed)?;
    let given = signs::signs(given.into_iter().map(Into::into)).skip(1);
    let verb = typed.iter().position(|word| word == "chart");
    let (before, own) = typed.split_at(verb.unwrap_or_default() + 1);
    Ok(Some([before, &given.collect::<Vec<_>>(), own].concat()))
}

/// How a card is made again, as it is typed: what decides its figures and its form. The page puts the
/// card's refrigerants in.
pub(super) fn typed_again(args: &ChartArgs) -> String {
    let given = &args.given;
    let mut words = vec!["zeotrope chart {refrigerants}".to_owned()];
    for name in OF_A_CARD.split(' ') {
        let Some(texts) = given.get(name) else {
            continue;
        };
        let value = signs::in_ascii(&texts.join(","));
        words.push(match name {
            "tolerance" | "decimal-comma" => format!("--{name}"),
            _ if value.contains(char::is_whitespace) => format!("--{name} \"{value}\""),
            _ => format!("--{name} {value}"),
        });
    }
    words.join(" ")
}

/// The program's arguments, without its name, that a recipe stands for, but for what was typed.
pub(crate) fn arguments(
    shown: &str,
    text: &str,
    refrigerants: &[String],
    typed: &[OsString],
) -> Result<Vec<String>, Failure> {
    let command = Args::command();
    let chart = command.find_subcommand("chart");
    let is_option = |key: &str| {
        let mut arguments = chart.into_iter().flat_map(clap::Command::get_arguments);
        arguments.any(|argument| argument.get_long() == Some(key))
    };
    let recipe = Recipe::parse(shown, text, |key| {
        is_option(key) && !matches!(key, "recipe" | "all" | "help" | "output" | "force")
    })?;
    let is_typed = |option: &str| signs::is_given(typed, option);
    // rows that were typed outrank all rows of the recipe
    let has_rows = ROW_CHOICES.iter().any(|option| is_typed(option));
    let mut found: Vec<String> = vec!["chart".into()];
    for (key, choice) in &recipe.choices {
        if is_typed(key) || (has_rows && ROW_CHOICES.contains(&key.as_str())) {
            continue;
        }
        match choice {
            RecipeChoice::Switch(true) => found.push(format!("--{key}")),
            RecipeChoice::Switch(false) => {}
            // A note may be given again; other lists are separated by commas.
            RecipeChoice::Texts(texts) if key == "note" => {
                found.extend(texts.iter().map(|text| format!("--note={text}")));
            }
            RecipeChoice::Texts(texts) => found.push(format!("--{key}={}", texts.join(","))),
        }
    }
    if refrigerants.is_empty() {
        if recipe.refrigerants.is_empty() {
            return Err(Failure::usage(
                format!("{shown}: no refrigerant is named"),
                "list them in the recipe under 'refrigerants', or name one beside it",
            ));
        }
        found.extend(recipe.refrigerants);
    }
    Ok(found)
}
