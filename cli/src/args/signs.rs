//! Arguments as people type them: `-40C` is no option, and `65 psig` is one value.

use std::ffi::OsString;

use zeotrope::units::is_unit_word;

/// Options that take a name, in which a hyphen stays what it is.
const TAKE_NAMES: &str = "--output --data --csv --column --columns-file --answers --kit --chart \
                          --rise --source --logo --words --all --recipe";

fn takes_name(option: &str) -> bool {
    TAKE_NAMES.split(' ').any(|name| name == option)
}

/// Writes the hyphen before a number as a minus sign (U+2212), which every value
/// accepts, so that it is not taken for an option.
///
/// To let values begin with any hyphen instead would swallow the options behind them.
pub(crate) fn signs(arguments: impl Iterator<Item = OsString>) -> impl Iterator<Item = OsString> {
    let mut names = false;
    joined(arguments).into_iter().map(move |argument| {
        let is_name = std::mem::replace(&mut names, false);
        let Some(text) = argument.to_str() else {
            return argument;
        };
        names = takes_name(text);
        match text.strip_prefix('-') {
            Some(rest) if !is_name && begins_number(rest) => format!("\u{2212}{rest}").into(),
            _ => argument,
        }
    })
}

/// Whether an option is among arguments as they were typed.
pub(crate) fn is_given(typed: &[OsString], option: &str) -> bool {
    typed.iter().any(|word| {
        let word = word.to_string_lossy();
        let name = word.split_once('=').map_or(&*word, |(name, _)| name);
        name.strip_prefix("--") == Some(option)
    })
}

/// A value as it was typed, without blanks around it: the sign that [`signs`] wrote in ASCII again.
pub(crate) fn in_ascii(text: &str) -> String {
    text.trim().replace('\u{2212}', "-")
}

/// Joins a bare number and the unit behind it, `65 psig`, where they follow an option that takes no
/// name, or stand among the values of `convert`.
pub(crate) fn joined(arguments: impl Iterator<Item = OsString>) -> Vec<OsString> {
    let mut found: Vec<OsString> = Vec::new();
    for argument in arguments {
        let is_value = |before: &[OsString]| match before {
            [.., option, _] if option.to_string_lossy().starts_with('-') => {
                !takes_name(&option.to_string_lossy())
            }
            [_, verb, ..] => verb == "convert",
            _ => false,
        };
        let is_unit = argument.to_str().is_some_and(is_unit_word);
        match found.last() {
            Some(last) if is_unit && is_number(last) && is_value(&found) => {
                if let Some(last) = found.last_mut() {
                    last.push(&argument);
                }
            }
            _ => found.push(argument),
        }
    }
    found
}

fn is_number(text: &OsString) -> bool {
    let text = text.to_string_lossy();
    let text = text.trim_start_matches(['-', '\u{2212}', '+']);
    !text.is_empty() && text.parse::<f64>().is_ok() && begins_number(text)
}

fn begins_number(text: &str) -> bool {
    let digits = text.strip_prefix('.').unwrap_or(text);
    digits.starts_with(|first: char| first.is_ascii_digit())
}
