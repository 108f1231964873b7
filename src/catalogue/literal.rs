//! Compositions in the standard's notation: `R-32/R-125/R-134a (23/25/52)`.

use super::normal::normal;
use crate::{Error, Result};

/// A notation taken apart: names as typed (short ones completed), amounts in percent.
pub(super) type Entries = Vec<(String, f64)>;

/// Whether a text means a composition rather than a designation or name.
///
/// `R-1234ze(E)` has a bracket too, but no amounts in it.
pub(super) fn is_literal(text: &str) -> bool {
    if text.contains('/') {
        return true;
    }
    text.trim_end()
        .strip_suffix(')')
        .and_then(|open| open.rsplit_once('('))
        .is_some_and(|(_, inside)| {
            let inside = inside.trim();
            inside.is_empty()
                || inside.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.'))
        })
}

/// Takes a notation apart; amounts are finite and not below zero.
pub(super) fn entries(literal: &str) -> Result<Entries> {
    let problem = |problem: String, hint: &str| Error::Composition {
        literal: literal.to_owned(),
        problem,
        hint: hint.to_owned(),
    };
    const SHAPE: &str = "write it as R-32/R-125/R-134a (23/25/52)";
    let Some((names, amounts)) = literal
        .trim()
        .strip_suffix(')')
        .and_then(|open| open.rsplit_once('('))
    else {
        return Err(problem("it has no amounts in brackets".into(), SHAPE));
    };
    let names: Vec<&str> = names.split('/').map(str::trim).collect();
    let amounts: Vec<&str> = amounts.split('/').map(str::trim).collect();
    if names.iter().any(|name| name.is_empty()) {
        return Err(problem("a component has no name".into(), SHAPE));
    }
    if names.len() != amounts.len() {
        let counts = format!("{} components but {} amounts", names.len(), amounts.len());
        return Err(problem(counts, "give each component one amount, in order"));
    }
    // Short form: what follows a component with R may leave the R away, even R-32's.
    let lettered = normal(names[0]).prefixed;
    names
        .iter()
        .zip(amounts)
        .map(|(name, text)| {
            let amount = amount(text).map_err(|(fault, hint)| problem(fault, hint))?;
            let short = lettered && name.starts_with(|c: char| c.is_ascii_digit());
            let name = if short {
                format!("R-{name}")
            } else {
                (*name).to_owned()
            };
            Ok((name, amount))
        })
        .collect()
}

/// Reads one amount; an error is its problem and hint.
fn amount(text: &str) -> std::result::Result<f64, (String, &'static str)> {
    let number = text.strip_suffix('%').unwrap_or(text).trim_end();
    if number.is_empty() {
        return Err((
            "an amount is missing".into(),
            "give each component one amount",
        ));
    }
    if number.contains(',') {
        return Err((
            format!("'{text}' is no amount"),
            "write the decimal sign as a point",
        ));
    }
    let plain = number
        .chars()
        .all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E'));
    match number.parse::<f64>() {
        Ok(value) if plain && value.is_finite() && value >= 0.0 => Ok(value),
        Ok(value) if plain && value < 0.0 => Err((
            format!("the amount {text} is below zero"),
            "give amounts from 0 to 100 %",
        )),
        _ => Err((
            format!("'{text}' is no amount"),
            "give amounts in percent, such as 23 or 52.5",
        )),
    }
}
