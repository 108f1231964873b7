//! A recipe: a file that names refrigerants and choices, read as if they had been typed.

use std::ffi::OsString;

use clap::CommandFactory;
use serde_yaml::Value;

use crate::cli::args::signs;
use crate::cli::errors::Failure;
use crate::cli::verbs::charts::chart_args::ChartArgs;
use crate::cli::verbs::{Args, Verb};

/// Options of rows.
const ROWS: [&str; 5] = ["from", "to", "step", "temperatures", "pressures"];

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
    let text = text.map_err(|problem| broken(&shown, &problem.to_string()))?;
    let given = arguments(&shown, &text, &chart.refrigerants, typed)?;
    let given = signs::signs(given.into_iter().map(Into::into)).skip(1);
    let verb = typed.iter().position(|word| word == "chart");
    let (before, own) = typed.split_at(verb.unwrap_or_default() + 1);
    Ok(Some([before, &given.collect::<Vec<_>>(), own].concat()))
}

fn broken(name: &str, problem: &str) -> Failure {
    Failure::no_answer(
        format!("{name}: {problem}"),
        "a recipe is YAML: 'refrigerants: [R-454B, R-32]', then options of chart without \
         their hyphens, for example 'form: wallet'",
    )
}

/// How a card is made again, as it is typed: what decides its figures and its form. The page puts the
/// card's refrigerants in.
pub(super) fn typed_again(args: &ChartArgs) -> String {
    let (look, print) = (&args.look, &args.print);
    let (units, site) = (&args.units, &args.site);
    let system = units.units.map(named);
    let (digits, pairs) = (look.digits.map(named), args.basis.pairs.map(named));
    let list = |values: &[String]| (!values.is_empty()).then(|| values.join(","));
    let values = [
        ("from", args.from.clone()),
        ("to", args.to.clone()),
        ("step", args.step.clone()),
        ("temperatures", list(&args.temperatures)),
        ("pressures", list(&args.pressures)),
        ("resolution", look.resolution.clone()),
        ("digits", digits),
        ("columns", list(&look.columns)),
        ("one-column-below", look.one_column_below.clone()),
        ("also", look.also.clone()),
        ("pairs", pairs),
        ("units", system),
        ("temperature-unit", units.temperature_unit.clone()),
        ("pressure-unit", units.pressure_unit.clone()),
        ("elevation", site.elevation.clone()),
        ("station-pressure", site.station_pressure.clone()),
        ("form", print.form.clone()),
        ("paper", print.paper.clone()),
        ("size", print.size.clone()),
    ];
    let switches = [
        ("tolerance", args.tolerance),
        ("decimal-comma", look.decimal_comma),
    ];
    let mut words = vec!["zeotrope chart {refrigerants}".to_owned()];
    for (name, value) in values {
        words.extend(value.map(|value| {
            let value = signs::in_ascii(&value);
            match value.contains(char::is_whitespace) {
                true => format!("--{name} \"{value}\""),
                false => format!("--{name} {value}"),
            }
        }));
    }
    let typed = switches.into_iter().filter(|(_, is_typed)| *is_typed);
    words.extend(typed.map(|(name, _)| format!("--{name}")));
    words.join(" ")
}

/// A choice by the word that is typed for it.
fn named<Choice: clap::ValueEnum>(choice: Choice) -> String {
    let value = choice.to_possible_value();
    value.map_or_else(String::new, |value| value.get_name().to_owned())
}

/// What a recipe's text stands for, as it would have been typed behind the program's name, but for
/// the refrigerants and options that were typed.
pub(crate) fn arguments(
    shown: &str,
    text: &str,
    refrigerants: &[String],
    typed: &[OsString],
) -> Result<Vec<String>, Failure> {
    let broken = |problem: String| broken(shown, &problem);
    let recipe: Value =
        serde_yaml::from_str(text).map_err(|problem| broken(problem.to_string()))?;
    let Value::Mapping(recipe) = recipe else {
        return Err(broken("holds no choices".into()));
    };
    let command = Args::command();
    let chart = command.find_subcommand("chart");
    let is_typed = |option: &str| {
        let long = format!("--{option}");
        typed.iter().any(|word| {
            let word = word.to_string_lossy();
            word.split_once('=').map_or(&*word, |(name, _)| name) == long
        })
    };
    // rows that were typed outrank all rows of the recipe
    let has_rows = ROWS.iter().any(|option| is_typed(option));
    let mut found: Vec<String> = vec!["chart".into()];
    let mut names = Vec::new();
    for (key, value) in &recipe {
        let Some(key) = key.as_str() else {
            return Err(broken("a choice is named by a word".into()));
        };
        let texts = texts(value).ok_or_else(|| broken(format!("'{key}' has no value")))?;
        if key == "refrigerants" {
            names = texts;
            continue;
        }
        let known = chart.is_some_and(|chart| {
            chart
                .get_arguments()
                .any(|argument| argument.get_long() == Some(key))
        });
        if !known || matches!(key, "recipe" | "all" | "help" | "output" | "force") {
            return Err(broken(format!("'{key}' is not a choice of a recipe")));
        }
        if is_typed(key) || (has_rows && ROWS.contains(&key)) {
            continue;
        }
        match value {
            Value::Bool(true) => found.push(format!("--{key}")),
            Value::Bool(false) => {}
            // A note may be given again; other lists are separated by commas.
            _ if key == "note" => found.extend(texts.iter().map(|text| format!("--note={text}"))),
            _ => found.push(format!("--{key}={}", texts.join(","))),
        }
    }
    if !refrigerants.is_empty() {
        return Ok(found);
    }
    if names.is_empty() {
        return Err(Failure::usage(
            format!("{shown}: no refrigerant is named"),
            "list them in the recipe under 'refrigerants', or name one beside it",
        ));
    }
    found.extend(names);
    Ok(found)
}

/// A value as the texts that would have been typed.
fn texts(value: &Value) -> Option<Vec<String>> {
    match value {
        Value::Bool(_) => Some(Vec::new()),
        Value::Number(number) => Some(vec![number.to_string()]),
        Value::String(text) => Some(vec![text.clone()]),
        Value::Sequence(list) => {
            let each: Option<Vec<Vec<String>>> = list.iter().map(texts).collect();
            Some(each?.concat())
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;

    /// By hand: what decides the figures and the form, without the shop's own words.
    #[test]
    fn a_card_is_made_again_as_it_was_typed() {
        let typed = [
            "zeotrope",
            "chart",
            "R-454B",
            "--from",
            "-20F",
            "--to",
            "120F",
            "--tolerance",
            "--elevation",
            "5280ft",
            "--form",
            "wallet",
            "--shop",
            "Store 12",
            "--qr",
            "recipe",
        ];
        let typed = signs::signs(typed.into_iter().map(Into::into));
        let again = match Args::try_parse_from(typed).map(|args| args.verb) {
            Ok(Verb::Chart(args)) => typed_again(&args),
            _ => String::new(),
        };
        assert_eq!(
            again,
            "zeotrope chart {refrigerants} --from -20F --to 120F --elevation 5280ft --form wallet \
             --tolerance"
        );
    }
}
