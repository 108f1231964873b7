//! The program's commands with their options, as JSON for the page's forms: labels, choices and
//! help are the program's own.

use clap::{Arg, ArgAction, Command};
use serde_json::{Value, json};

/// Commands that read or write files, or are of use to a shell alone.
const NOT_HERE: [&str; 7] = [
    "lookup",
    "validate",
    "words",
    "completions",
    "man",
    "setup",
    "help",
];
/// Options that name files, or where and in which format an answer goes.
const NO_FIELD: [&str; 12] = [
    "data",
    "csv",
    "column",
    "columns-file",
    "kit",
    "logo",
    "words",
    "all",
    "recipe",
    "output",
    "force",
    "no-config",
];

/// All commands that a page can answer.
pub(crate) fn forms() -> Value {
    let program = zeotrope_cli::command();
    let commands = program
        .get_subcommands()
        .filter(|command| !NOT_HERE.contains(&command.get_name()));
    json!({
        "version": program.get_version(),
        "commands": commands.map(form).collect::<Vec<_>>(),
    })
}

fn form(command: &Command) -> Value {
    let fields = command.get_arguments().filter(|argument| {
        let name = argument.get_id().as_str();
        let long = argument.get_long().unwrap_or(name);
        !NO_FIELD.contains(&long) && !matches!(long, "help" | "version" | "format")
    });
    json!({
        "name": command.get_name(),
        "about": command.get_about().map(ToString::to_string),
        "after": command.get_after_help().map(ToString::to_string),
        "fields": fields.map(field).collect::<Vec<_>>(),
    })
}

fn field(argument: &Arg) -> Value {
    let is_flag = matches!(argument.get_action(), ArgAction::SetTrue);
    let choices = argument.get_possible_values();
    let choices = choices.iter().filter(|_| !is_flag).map(|choice| {
        let help = choice.get_help().map(ToString::to_string);
        json!([choice.get_name(), help])
    });
    let value = argument
        .get_value_names()
        .and_then(|names| names.first())
        .map(ToString::to_string);
    json!({
        "name": argument.get_long().unwrap_or(argument.get_id().as_str()),
        "bare": argument.is_positional(),
        "many": matches!(argument.get_action(), ArgAction::Append),
        "flag": is_flag,
        "value": value,
        "help": argument.get_help().map(ToString::to_string),
        "group": argument.get_help_heading(),
        "choices": choices.collect::<Vec<_>>(),
    })
}
