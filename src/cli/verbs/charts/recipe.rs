//! A recipe: a file that names refrigerants and choices, read as if they had been typed.

use clap::{CommandFactory, FromArgMatches};
use serde_yaml::Value;

use crate::cli::args::signs;
use crate::cli::errors::Failure;
use crate::cli::errors::usage;
use crate::cli::verbs::charts::chart_args::ChartArgs;
use crate::cli::verbs::{Args, Verb};

/// The arguments with those of a recipe put before them; what was typed too outranks the recipe.
pub(crate) fn with_recipe(args: &ChartArgs) -> Result<Option<ChartArgs>, Failure> {
    let Some(path) = &args.print.recipe else {
        return Ok(None);
    };
    let shown = path.display().to_string();
    let text = std::fs::read_to_string(path);
    let text = text.map_err(|problem| broken(&shown, &problem.to_string()))?;
    let mut typed: Vec<String> = vec!["zeotrope".into()];
    typed.extend(arguments(&shown, &text, args)?);
    let arguments = crate::cli::args::signs::signs(typed.into_iter().map(Into::into));
    let found = Args::command()
        .try_get_matches_from(arguments)
        .and_then(|matches| Args::from_arg_matches(&matches))
        .map_err(|error| usage::failure(&error))?;
    let Verb::Chart(mut merged) = found.verb else {
        return Err(broken(&shown, "is not a recipe of a chart"));
    };
    overlay(&mut merged, args);
    Ok(Some(*merged))
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

/// What a recipe's text stands for, as it would have been typed behind the program's name; `args`
/// are typed beside it.
pub(crate) fn arguments(shown: &str, text: &str, args: &ChartArgs) -> Result<Vec<String>, Failure> {
    let broken = |problem: String| broken(shown, &problem);
    let recipe: Value =
        serde_yaml::from_str(text).map_err(|problem| broken(problem.to_string()))?;
    let Value::Mapping(recipe) = recipe else {
        return Err(broken("holds no choices".into()));
    };
    let command = Args::command();
    let chart = command.find_subcommand("chart");
    let mut typed: Vec<String> = vec!["chart".into()];
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
        if is_typed(args, key) {
            continue;
        }
        match value {
            Value::Bool(true) => typed.push(format!("--{key}")),
            Value::Bool(false) => {}
            // A note may be given again; other lists are separated by commas.
            _ if key == "note" => typed.extend(texts.iter().map(|text| format!("--note={text}"))),
            _ => typed.push(format!("--{key}={}", texts.join(","))),
        }
    }
    if !args.refrigerants.is_empty() {
        names.clone_from(&args.refrigerants);
    }
    if names.is_empty() {
        return Err(Failure::usage(
            format!("{shown}: no refrigerant is named"),
            "list them in the recipe under 'refrigerants', or name one beside it",
        ));
    }
    typed.extend(names);
    Ok(typed)
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

/// Whether rows were typed, which outrank all rows of the recipe.
fn is_typed(args: &ChartArgs, key: &str) -> bool {
    let rows = args.from.is_some()
        || args.to.is_some()
        || !args.temperatures.is_empty()
        || !args.pressures.is_empty();
    rows && matches!(key, "from" | "to" | "step" | "temperatures" | "pressures")
}

/// Puts what was typed over what the recipe says.
fn overlay(merged: &mut ChartArgs, args: &ChartArgs) {
    fn over<T: Clone>(merged: &mut Option<T>, typed: &Option<T>) {
        if typed.is_some() {
            merged.clone_from(typed);
        }
    }
    fn over_list(merged: &mut Vec<String>, typed: &[String]) {
        if !typed.is_empty() {
            *merged = typed.to_vec();
        }
    }
    over(&mut merged.from, &args.from);
    over(&mut merged.to, &args.to);
    over(&mut merged.step, &args.step);
    over_list(&mut merged.temperatures, &args.temperatures);
    over_list(&mut merged.pressures, &args.pressures);
    merged.tolerance |= args.tolerance;
    let (look, typed) = (&mut merged.look, &args.look);
    over(&mut look.resolution, &typed.resolution);
    over_list(&mut look.columns, &typed.columns);
    over(&mut look.one_column_below, &typed.one_column_below);
    over(&mut look.also, &typed.also);
    over(&mut look.picture, &typed.picture);
    over(&mut look.digits, &typed.digits);
    look.decimal_comma |= typed.decimal_comma;
    look.blank |= typed.blank;
    let (print, typed) = (&mut merged.print, &args.print);
    over(&mut print.form, &typed.form);
    over(&mut print.paper, &typed.paper);
    over(&mut print.title, &typed.title);
    over_list(&mut print.note, &typed.note);
    over(&mut print.shop, &typed.shop);
    over(&mut print.logo, &typed.logo);
    over(&mut print.date, &typed.date);
    over(&mut print.words, &typed.words);
    over(&mut print.size, &typed.size);
    over(&mut print.legible_at, &typed.legible_at);
    over(&mut print.bleed, &typed.bleed);
    over(&mut print.tint, &typed.tint);
    over(&mut print.footer, &typed.footer);
    over(&mut print.name, &typed.name);
    over(&mut print.target_superheat, &typed.target_superheat);
    over(&mut print.target_subcooling, &typed.target_subcooling);
    over(&mut print.qr, &typed.qr);
    print.writing_lines = print.writing_lines.max(typed.writing_lines);
    print.contents |= typed.contents;
    print.landscape |= typed.landscape;
    print.csv_header |= typed.csv_header;
    over(&mut merged.basis.data.data, &args.basis.data.data);
    merged.basis.mole |= args.basis.mole;
    over(&mut merged.units.units, &args.units.units);
    over(
        &mut merged.units.temperature_unit,
        &args.units.temperature_unit,
    );
    over(&mut merged.units.pressure_unit, &args.units.pressure_unit);
    over(&mut merged.site.elevation, &args.site.elevation);
    over(
        &mut merged.site.station_pressure,
        &args.site.station_pressure,
    );
    over(&mut merged.output.format, &args.output.format);
    merged.output.output.clone_from(&args.output.output);
    merged.output.force = args.output.force;
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
