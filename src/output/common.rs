//! The parts of JSON that answers share.

use serde_json::{Map, Value, json};

use super::number;
use crate::refrigerant::{PhaseProperties, Refrigerant, Warning};
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

/// The keys of one phase.
pub fn phase(properties: &PhaseProperties) -> Map<String, Value> {
    let list = |values: &[f64]| -> Value { values.iter().copied().map(number).collect() };
    let mut object = Map::new();
    let figures = [
        ("temperature_K", Some(properties.temperature.in_kelvin())),
        ("pressure_Pa", Some(properties.pressure.in_pascal())),
        ("density_kg_m3", Some(properties.density)),
        ("enthalpy_J_kg", Some(properties.enthalpy)),
        ("entropy_J_kg_K", Some(properties.entropy)),
        ("internal_energy_J_kg", Some(properties.internal_energy)),
        ("cp_J_kg_K", properties.cp),
        ("cv_J_kg_K", properties.cv),
        ("speed_of_sound_m_s", properties.speed_of_sound),
        ("compressibility_factor", properties.compressibility_factor),
        ("joule_thomson_K_Pa", properties.joule_thomson),
    ];
    for (key, value) in figures {
        object.insert(key.into(), optional(value));
    }
    object.insert(
        "fugacity_coefficients".into(),
        list(&properties.fugacity_coefficients),
    );
    object.insert("mole_fractions".into(), list(&properties.mole_fractions));
    object.insert("mass_fractions".into(), list(&properties.mass_fractions));
    object
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
