//! Kinds of reasons that refusals are counted by.

use crate::error::Error;

/// Why a branch is missing, as the warnings say.
pub(super) fn missing(warnings: &[crate::Warning]) -> &'static str {
    let errors = warnings.iter().find_map(|one| match one {
        crate::Warning::NoBranch(_, error) => Some(error),
        _ => None,
    });
    errors.map_or("no reason", |error| reason(&error.to_string()))
}

/// The kind of reason of an error.
pub(super) fn kind(error: &Error) -> String {
    match error {
        Error::NotConverged { question, .. } => format!("not converged: {question}"),
        Error::OutOfRange { quantity, .. } => format!("{quantity} out of range"),
        Error::NoState { .. } => "no such state".into(),
        other => reason(&other.to_string()).into(),
    }
}

/// The kind of reason of a missing branch from its warning.
fn reason(text: &str) -> &'static str {
    for (sign, reason) in [
        ("no solution found", "branch missing: not converged"),
        ("is outside", "branch missing: out of range"),
        ("has no liquid", "branch missing: no liquid of a component"),
        ("pressure range", "branch missing: above the pressure range"),
        (
            "temperature range",
            "branch missing: below the temperature range",
        ),
    ] {
        if text.contains(sign) {
            return reason;
        }
    }
    "branch missing"
}
