//! An answer of the crate as objects of Python, under the keys of JSON.

use pyo3::prelude::*;
use pyo3::types::{PyDict, PyList};
use serde_json::Value;

use crate::failure::wrong_value;

/// An answer as a dict.
pub(crate) fn of<'py>(
    py: Python<'py>,
    answer: &impl serde::Serialize,
) -> PyResult<Bound<'py, PyAny>> {
    let value = serde_json::to_value(answer).map_err(|error| wrong_value(error.to_string()))?;
    object(py, &value)
}

/// A value of JSON.
pub(crate) fn object<'py>(py: Python<'py>, value: &Value) -> PyResult<Bound<'py, PyAny>> {
    Ok(match value {
        Value::Null => py.None().into_bound(py),
        Value::Bool(value) => value.into_pyobject(py)?.to_owned().into_any(),
        Value::Number(number) => match (number.as_i64(), number.as_f64()) {
            (Some(whole), _) => whole.into_pyobject(py)?.into_any(),
            (None, Some(float)) => float.into_pyobject(py)?.into_any(),
            (None, None) => number.to_string().into_pyobject(py)?.into_any(),
        },
        Value::String(text) => text.into_pyobject(py)?.into_any(),
        Value::Array(values) => {
            let list = PyList::empty(py);
            for value in values {
                list.append(object(py, value)?)?;
            }
            list.into_any()
        }
        Value::Object(fields) => {
            let dict = PyDict::new(py);
            for (key, value) in fields {
                dict.set_item(key, object(py, value)?)?;
            }
            dict.into_any()
        }
    })
}
