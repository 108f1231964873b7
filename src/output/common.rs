//! The parts of JSON that answers share.

use serde_json::{Value, json};

use super::number;
use crate::refrigerant::Warning;

/// The list of warnings.
pub fn warnings(warnings: &[Warning]) -> Value {
    warnings
        .iter()
        .map(|warning| json!({"code": warning.code, "text": warning.text}))
        .collect()
}

/// A number, or null where there is none.
pub fn optional(value: Option<f64>) -> Value {
    value.map_or(Value::Null, number)
}

/// How many figures stand behind the decimal sign; none for a word.
pub(super) fn decimals(text: &str) -> Option<usize> {
    let figure = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = match figure.find(['.', ',']) {
        Some(at) => (&figure[..at], &figure[at + 1..]),
        None => (figure, ""),
    };
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    (!figure.is_empty() && digits(whole) && digits(part)).then_some(part.len())
}
