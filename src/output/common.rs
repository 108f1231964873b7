//! The parts of JSON that answers share.

use serde_json::{Map, Value, json};

use super::number;
use crate::refrigerant::{Refrigerant, Warning};
use crate::service::facts::{Facts, Identity};

/// The list of warnings.
pub fn warnings(warnings: &[Warning]) -> Value {
    warnings
        .iter()
        .map(|warning| json!({"code": warning.code, "text": warning.text}))
        .collect()
}

/// The keys that name a refrigerant: `refrigerant` and `composition`.
pub fn identity(refrigerant: &Refrigerant) -> Map<String, Value> {
    match serde_json::to_value(Identity::of(refrigerant)) {
        Ok(Value::Object(object)) => object,
        _ => Map::new(),
    }
}

/// The value of `model`.
pub fn model(facts: &Facts) -> Value {
    serde_json::to_value(&facts.model).unwrap_or_default()
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
