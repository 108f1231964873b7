//! The crate's errors as Python raises them, and as a code of a row.

use pyo3::exceptions::{PyRuntimeError, PyTypeError, PyValueError};
use pyo3::prelude::*;
use zeotrope::Error;

/// A row that is answered.
pub(crate) const ANSWERED: u8 = 0;
/// A row whose value or name is null or NaN.
pub(crate) const MISSING: u8 = 1;

/// The code of a row without an answer and the class that is raised for it; the numbers are those
/// of `zeotrope.Code`.
fn kind(error: &Error) -> (u8, &'static str) {
    match error {
        Error::OutOfRange { .. }
        | Error::AboveRange { .. }
        | Error::BelowRange { .. }
        | Error::NotFinite { .. } => (2, "OutOfRange"),
        Error::NoState { .. } => (3, "NoState"),
        Error::NoAnswer { .. } | Error::CyclePoint { .. } | Error::NoSpan => (4, "NoAnswer"),
        Error::NotConverged { .. } => (5, "NotConverged"),
        Error::UnknownRefrigerant { .. } => (6, "UnknownRefrigerant"),
        Error::Refused { .. } => (7, "RefusedRefrigerant"),
        Error::Composition { .. } => (8, "CompositionError"),
        Error::ReferenceState { .. } => (9, "NoReferenceState"),
        _ => (10, "Error"),
    }
}

/// The code of a row that has no answer.
pub(crate) fn code(error: &Error) -> u8 {
    kind(error).0
}

/// The error as Python raises it, with the row where it is one of many.
pub(crate) fn raised(py: Python<'_>, error: &Error, row: Option<usize>) -> PyErr {
    let class = py
        .import("zeotrope._errors")
        .and_then(|module| module.getattr(kind(error).1));
    let made = class.and_then(|class| class.call1((error.to_string(), error.hint(), row)));
    match made {
        Ok(exception) => PyErr::from_value(exception),
        Err(_) => PyRuntimeError::new_err(error.to_string()),
    }
}

/// A value of a wrong type: what was expected, and what may be done.
pub(crate) fn wrong_type(name: &str, given: &Bound<'_, PyAny>, hint: &str) -> PyErr {
    let found = given
        .get_type()
        .fully_qualified_name()
        .map_or_else(|_| "something else".to_owned(), |name| name.to_string());
    PyTypeError::new_err(format!(
        "{name} is a number or an array of numbers, not {found}; {hint}"
    ))
}

/// A wrong value of an argument.
pub(crate) fn wrong_value(text: impl Into<String>) -> PyErr {
    PyValueError::new_err(text.into())
}
