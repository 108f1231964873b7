//! Wrong usage in the program's own words: the error, then a hint.

use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::errors::Failure;

/// Words of the trade that are no verbs, after the verb meant.
#[rustfmt::skip]
const TRADE_WORDS: &[(&str, &str)] = &[
    ("superheat", "sh super-heat superheating superheat"),
    ("subcooling", "sc subcool sub-cooling subcooled subcooling"),
    ("reading", "readings read log sh-sc"),
    ("chart", "pt p-t ptchart pt-chart table charts card pressure-temperature"),
    ("saturation", "boiling boil boiling-point condensing bubble dew sat saturated"),
    ("glide", "coil midpoint mid-point evaporator condenser"),
    ("convert", "micron microns inhg psi psig psia bar barg kpa gauge absolute units unit conversion altitude elevation"),
    ("state", "properties props prop enthalpy entropy density flash quality"),
    ("show", "info about gwp class composition odp safety describe refrigerant"),
    ("moist-air", "air humidity psychrometrics psychrometric wet-bulb wetbulb dew-point dewpoint"),
    ("target-superheat", "target charging charge fixed-orifice orifice"),
    ("at-rest", "identify standing noncondensables non-condensables gauge-check"),
    ("pressure-test", "nitrogen leak-test leak standing-pressure n2"),
    ("evacuation", "vacuum evacuate pump-down decay rise-test moisture"),
    ("cylinder", "tank bottle recovery refill filling"),
    ("exposure", "lfl rcl flammability co2e co2-equivalent room"),
    ("cycle", "cop compressor compressors discharge capacity compare comparison economizer transcritical gas-cooler"),
    ("pipe", "velocity flow line-size sizing pipes"),
    ("riser", "head static-head lift column"),
    ("setup", "config configure defaults settings"),
    ("list", "ls refrigerants gases fluids blends search find"),
];

/// The verb that a word of the trade means.
fn verb_meant(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let first = word.split_whitespace().next().unwrap_or_default();
    let means = |words: &str| words.split(' ').any(|one| one == word || one == first);
    let found = TRADE_WORDS.iter().find(|(_, words)| means(words));
    found.map(|(verb, _)| *verb)
}

fn context(error: &clap::Error, kind: ContextKind) -> Option<String> {
    error.get(kind).and_then(|value| match value {
        ContextValue::String(text) => Some(text.clone()),
        // the likeliest comes last
        ContextValue::Strings(texts) => {
            let texts: Vec<&str> = texts.iter().rev().map(String::as_str).collect();
            Some(texts.join("' or '"))
        }
        _ => None,
    })
}

/// What clap found wrong, as this program tells it.
pub(crate) fn failure(error: &clap::Error) -> Failure {
    match error.kind() {
        ErrorKind::InvalidSubcommand => unknown_verb(error),
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand | ErrorKind::MissingSubcommand => {
            Failure::usage(
                "no command was given",
                "'zeotrope --help' names the commands; begin with 'zeotrope list'",
            )
        }
        _ => as_rendered(error),
    }
}

fn unknown_verb(error: &clap::Error) -> Failure {
    let word = context(error, ContextKind::InvalidSubcommand).unwrap_or_default();
    let hint = match (
        verb_meant(&word),
        context(error, ContextKind::SuggestedSubcommand),
    ) {
        (Some(verb), _) => {
            format!("the command for that is '{verb}': see 'zeotrope {verb} --help'")
        }
        (None, Some(near)) => {
            format!("did you mean '{near}'? 'zeotrope --help' names the commands")
        }
        (None, None) => "'zeotrope --help' names the commands".to_owned(),
    };
    Failure::usage(format!("'{word}' is not a command of this program"), hint)
}

/// The rest in clap's own words, without its layout.
fn as_rendered(error: &clap::Error) -> Failure {
    let rendered = error.render().to_string();
    let mut message: Vec<&str> = Vec::new();
    let mut tips: Vec<&str> = Vec::new();
    let mut in_message = true;
    for line in rendered.lines() {
        let line = line.trim();
        // How to pass an unknown option as a value is no help: no value begins so.
        if let Some(tip) = line.strip_prefix("tip: ")
            && !tip.starts_with("to pass ")
        {
            tips.push(tip);
        }
        in_message &= !line.is_empty();
        if in_message {
            message.push(line.strip_prefix("error: ").unwrap_or(line));
        }
    }
    let usage = rendered
        .lines()
        .find_map(|line| line.strip_prefix("Usage: "))
        .map_or_else(
            || "zeotrope".to_owned(),
            |usage| {
                let words = usage.split_whitespace();
                let verb = words.take_while(|word| !word.starts_with(['[', '<', '-']));
                verb.collect::<Vec<_>>().join(" ")
            },
        );
    let help = format!("'{usage} --help' shows what it takes, with examples");
    let hint = if tips.is_empty() {
        help
    } else {
        format!("{}; {help}", tips.join("; "))
    };
    Failure::usage(message.join(" "), hint)
}
