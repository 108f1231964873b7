//! Values below zero among the arguments: `-40C` is no option.

use std::ffi::OsString;

/// Options that take a name, in which a hyphen stays what it is.
const TAKE_NAMES: &[&str] = &[
    "--output",
    "--data",
    "--csv",
    "--column",
    "--columns-file",
    "--answers",
    "--kit",
    "--chart",
    "--rise",
    "--source",
    "--logo",
    "--words",
    "--all",
    "--recipe",
];

/// Writes the hyphen before a number as a minus sign (U+2212), which every value
/// accepts, so that it is not taken for an option.
///
/// To let values begin with any hyphen instead would swallow the options behind them.
pub(crate) fn signs(arguments: impl Iterator<Item = OsString>) -> impl Iterator<Item = OsString> {
    let mut names = false;
    arguments.map(move |argument| {
        let takes_name = std::mem::replace(&mut names, false);
        let Some(text) = argument.to_str() else {
            return argument;
        };
        names = TAKE_NAMES.contains(&text);
        match text.strip_prefix('-') {
            Some(rest) if !takes_name && begins_number(rest) => format!("\u{2212}{rest}").into(),
            _ => argument,
        }
    })
}

fn begins_number(text: &str) -> bool {
    let digits = text.strip_prefix('.').unwrap_or(text);
    digits.starts_with(|first: char| first.is_ascii_digit())
}
