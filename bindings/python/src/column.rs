//! What Python gives: numbers, and columns of NumPy, Arrow, polars and pandas.

use arrow_array::types::Float64Type;
use arrow_array::{Array, ArrayRef, Float64Array, cast::AsArray};
use arrow_schema::DataType;
use numpy::{PyReadonlyArrayDyn, PyUntypedArrayMethods};
use pyo3::intern;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyBytes, PyFloat, PyInt, PyList, PyString, PyTuple};
use pyo3_arrow::input::AnyArray;

use crate::failure::{wrong_type, wrong_value};
use crate::pieces::Values;

/// What kind of column an answer becomes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    NumPy,
    PyArrow,
    Polars,
    /// Of pandas, kept in NumPy's or its own masked arrays, or in Arrow.
    Pandas,
    PandasArrow,
    /// Anything else with the PyCapsule interface.
    Capsule,
}

/// The column that an answer is like.
#[derive(Clone)]
pub(crate) struct Like<'py> {
    pub(crate) kind: Kind,
    pub(crate) given: Bound<'py, PyAny>,
    /// Of NumPy.
    pub(crate) shape: Vec<usize>,
    /// Rows in each of its parts; of Arrow alone.
    pub(crate) parts: Vec<usize>,
    /// Whether it is of one part by its kind, and not by chance.
    pub(crate) is_array: bool,
}

/// A property as given.
pub(crate) enum Given<'py> {
    Number(f64),
    NumPy(PyReadonlyArrayDyn<'py, f64>, Like<'py>),
    Arrow(Vec<Float64Array>, Like<'py>),
}

impl<'py> Given<'py> {
    /// Reads a property.
    pub(crate) fn read(name: &str, value: &Bound<'py, PyAny>) -> PyResult<Self> {
        if let Some(number) = plain_number(value) {
            return number.map(Self::Number);
        }
        match source(value) {
            Source::NumPy => numpy_column(name, value, None),
            Source::Sequence => {
                let array = numpy(value.py())?.call_method1("asarray", (value,))?;
                numpy_column(name, &array, None)
            }
            Source::Pandas => {
                let kinds = value.py().import("zeotrope._kinds")?;
                let (inner, is_arrow): (Bound<'py, PyAny>, bool) = kinds
                    .call_method1("pandas_values", (name, value))?
                    .extract()?;
                if is_arrow {
                    let parts = arrow_parts(name, &inner)?.0;
                    return Self::arrow(name, value, Kind::PandasArrow, parts, false);
                }
                numpy_column(name, &inner, Some(value))
            }
            Source::Arrow(kind) => {
                let (parts, is_array) = arrow_parts(name, value)?;
                Self::arrow(name, value, kind, parts, is_array)
            }
            Source::Other => Err(wrong_type(
                name,
                value,
                "give a float or an int, or a column of NumPy, Arrow, polars or pandas",
            )),
        }
    }

    fn arrow(
        name: &str,
        value: &Bound<'py, PyAny>,
        kind: Kind,
        parts: Vec<ArrayRef>,
        is_array: bool,
    ) -> PyResult<Self> {
        let numbers = parts.iter().map(|part| numbers(name, part));
        let numbers = numbers.collect::<PyResult<Vec<_>>>()?;
        let like = Like {
            kind,
            given: value.clone(),
            shape: Vec::new(),
            parts: numbers.iter().map(Array::len).collect(),
            is_array,
        };
        Ok(Self::Arrow(numbers, like))
    }

    /// Rows of a column; `None` for a number.
    pub(crate) fn rows(&self) -> Option<usize> {
        match self {
            Self::Number(_) => None,
            Self::NumPy(array, _) => Some(array.len()),
            Self::Arrow(parts, _) => Some(parts.iter().map(Array::len).sum()),
        }
    }

    /// The column that an answer is like; `None` for a number.
    pub(crate) fn like(&self) -> Option<&Like<'py>> {
        match self {
            Self::Number(_) => None,
            Self::NumPy(_, like) | Self::Arrow(_, like) => Some(like),
        }
    }

    /// As rows are answered from.
    pub(crate) fn values(&self) -> PyResult<Values<'_>> {
        Ok(match self {
            Self::Number(value) => Values::Same(*value),
            Self::NumPy(array, _) => {
                let slice = array.as_slice();
                let slice = slice.map_err(|_| wrong_value("an array is not contiguous"))?;
                Values::Parts(vec![(slice, None)])
            }
            Self::Arrow(parts, _) => Values::Parts(
                parts
                    .iter()
                    .map(|part| {
                        let valid = part.nulls().filter(|valid| valid.null_count() > 0);
                        (&part.values()[..], valid)
                    })
                    .collect(),
            ),
        })
    }
}

/// Where an object comes from, by the module of its class.
pub(crate) enum Source {
    NumPy,
    /// A list or tuple.
    Sequence,
    Pandas,
    Arrow(Kind),
    Other,
}

/// Where an object comes from.
pub(crate) fn source(value: &Bound<'_, PyAny>) -> Source {
    if value.is_instance_of::<PyList>() || value.is_instance_of::<PyTuple>() {
        return Source::Sequence;
    }
    let module = value.get_type().module();
    let module = module.as_ref().map(|module| module.to_string_lossy());
    let root = module.as_deref().unwrap_or_default();
    let has = |name| value.hasattr(name).unwrap_or(false);
    let is_column = || {
        has(intern!(value.py(), "__arrow_c_array__"))
            || has(intern!(value.py(), "__arrow_c_stream__"))
    };
    match root.split('.').next().unwrap_or_default() {
        "numpy" => Source::NumPy,
        "pandas" => Source::Pandas,
        "pyarrow" if is_column() => Source::Arrow(Kind::PyArrow),
        "polars" if is_column() => Source::Arrow(Kind::Polars),
        _ if is_column() => Source::Arrow(Kind::Capsule),
        _ if value.cast::<numpy::PyUntypedArray>().is_ok() => Source::NumPy,
        _ => Source::Other,
    }
}

/// A float of Python, or a whole number, which a bool is not here; `None` for anything else.
pub(crate) fn plain_number(value: &Bound<'_, PyAny>) -> Option<PyResult<f64>> {
    let is_whole = || value.is_instance_of::<PyInt>() && !value.is_instance_of::<PyBool>();
    (value.is_instance_of::<PyFloat>() || is_whole()).then(|| value.extract())
}

/// A number where no column is taken: of Python or of NumPy, not a bool.
pub(crate) fn one_number(name: &str, value: &Bound<'_, PyAny>) -> PyResult<f64> {
    let found = plain_number(value).or_else(|| (!is_plain(value)).then(|| value.extract()));
    found
        .and_then(Result::ok)
        .ok_or_else(|| wrong_type(name, value, "give a float or an int"))
}

/// Whether a value cannot be a column of any kind.
pub(crate) fn is_plain(value: &Bound<'_, PyAny>) -> bool {
    value.is_none()
        || value.is_instance_of::<PyBool>()
        || value.is_instance_of::<PyString>()
        || value.is_instance_of::<PyBytes>()
}

pub(crate) fn numpy(py: Python<'_>) -> PyResult<Bound<'_, PyAny>> {
    Ok(py.import(intern!(py, "numpy"))?.into_any())
}

/// An array or a scalar of NumPy; `owner` is the Series around it.
fn numpy_column<'py>(
    name: &str,
    value: &Bound<'py, PyAny>,
    owner: Option<&Bound<'py, PyAny>>,
) -> PyResult<Given<'py>> {
    let py = value.py();
    let refused = |hint: &str| wrong_type(name, owner.unwrap_or(value), hint);
    let Ok(kind) = value
        .getattr(intern!(py, "dtype"))
        .and_then(|dtype| dtype.getattr("kind"))
    else {
        return Err(refused("give a float or an int, or a column of them"));
    };
    let kind: String = kind.extract()?;
    if !matches!(kind.as_str(), "f" | "i" | "u") {
        return Err(refused(&format!(
            "the type of its elements is {}, give floats or integers",
            value.getattr("dtype")?
        )));
    }
    if value.getattr(intern!(py, "ndim"))?.extract::<usize>()? == 0 {
        return Ok(Given::Number(value.call_method0("item")?.extract()?));
    }
    if value.hasattr(intern!(py, "mask"))? {
        return Err(refused("fill a masked array with NaN: filled(numpy.nan)"));
    }
    let array = match value.extract::<PyReadonlyArrayDyn<'py, f64>>() {
        Ok(array) if array.is_c_contiguous() && array.as_slice().is_ok() => array,
        _ => numpy(py)?
            .call_method1("require", (value, "=f8", ["C", "A"]))?
            .extract()?,
    };
    let like = Like {
        kind: owner.map_or(Kind::NumPy, |_| Kind::Pandas),
        given: owner.unwrap_or(value).clone(),
        shape: array.shape().to_vec(),
        parts: Vec::new(),
        is_array: true,
    };
    Ok(Given::NumPy(array, like))
}

/// The parts of a column of Arrow, and whether it is one array by its kind.
pub(crate) fn arrow_parts(name: &str, value: &Bound<'_, PyAny>) -> PyResult<(Vec<ArrayRef>, bool)> {
    let any: AnyArray = value.extract()?;
    let is_array = matches!(any, AnyArray::Array(_));
    let chunked = any.into_chunked_array().map_err(|error| {
        let error: PyErr = error.into();
        error
    })?;
    let (parts, field) = chunked.into_inner();
    if let DataType::Struct(_) = field.data_type() {
        return Err(wrong_type(
            name,
            value,
            "it is a table or a struct; give one of its columns",
        ));
    }
    Ok((parts, is_array))
}

/// A part as numbers: as it lies in memory where they are 64-bit floats, else cast.
fn numbers(name: &str, part: &ArrayRef) -> PyResult<Float64Array> {
    let cast = || {
        arrow_cast::cast(part, &DataType::Float64)
            .map_err(|error| wrong_value(format!("{name}: {error}")))
    };
    match part.data_type() {
        DataType::Float64 => Ok(part.as_primitive::<Float64Type>().clone()),
        DataType::Dictionary(_, values) if values.is_numeric() => {
            Ok(cast()?.as_primitive::<Float64Type>().clone())
        }
        kind if kind.is_numeric() || kind.is_null() => {
            Ok(cast()?.as_primitive::<Float64Type>().clone())
        }
        kind => Err(pyo3::exceptions::PyTypeError::new_err(format!(
            "{name} is a column of {kind}; give a column of numbers"
        ))),
    }
}
