//! What Python gets: columns of the kind that was given.

use std::sync::Arc;

use arrow_array::{Array, ArrayRef, Float64Array, StringArray, StructArray, UInt8Array};
use arrow_buffer::NullBuffer;
use arrow_schema::{DataType, Field, Fields};
use numpy::{PyArray1, PyArrayMethods};
use pyo3::prelude::*;
use pyo3::types::PyDict;
use pyo3_arrow::{PyArray, PyChunkedArray};

use crate::column::{Kind, Like, numpy};
use crate::engine::{PHASES, STATE_COLUMNS};

/// The answers of a task.
pub(crate) struct Answers {
    pub(crate) columns: Vec<Vec<f64>>,
    pub(crate) phases: Option<Vec<u8>>,
    pub(crate) codes: Option<Vec<u8>>,
}

impl<'py> Like<'py> {
    /// A column of numbers.
    pub(crate) fn numbers(&self, py: Python<'py>, values: Vec<f64>) -> PyResult<Bound<'py, PyAny>> {
        match self.kind {
            Kind::NumPy => self.shaped(PyArray1::from_vec(py, values).into_any()),
            Kind::Pandas => self.pandas(PyArray1::from_vec(py, values).into_any()),
            _ => self.arrow(py, Arc::new(nullable(values)), ""),
        }
    }

    /// A column of codes.
    pub(crate) fn codes(&self, py: Python<'py>, codes: Vec<u8>) -> PyResult<Bound<'py, PyAny>> {
        match self.kind {
            Kind::NumPy => self.shaped(PyArray1::from_vec(py, codes).into_any()),
            Kind::Pandas => {
                let codes = PyArray1::from_vec(py, codes).into_any();
                self.kinds()?
                    .call_method1("pandas_codes", (&self.given, codes))
            }
            _ => self.arrow(py, Arc::new(UInt8Array::from(codes)), ""),
        }
    }

    /// States: a dict of arrays, a struct, or a frame.
    pub(crate) fn states(
        &self,
        py: Python<'py>,
        columns: Vec<Vec<f64>>,
        phases: &[u8],
    ) -> PyResult<Bound<'py, PyAny>> {
        if matches!(self.kind, Kind::NumPy | Kind::Pandas) {
            let answer = PyDict::new(py);
            for (name, values) in STATE_COLUMNS.iter().zip(columns) {
                let array = PyArray1::from_vec(py, values).into_any();
                answer.set_item(name, self.shaped(array)?)?;
            }
            let codes = PyArray1::from_slice(py, phases).into_any();
            let phases = self
                .kinds()?
                .call_method1("phases", (PHASES.to_vec(), codes))?;
            answer.set_item("phase", self.shaped(phases)?)?;
            if self.kind == Kind::Pandas {
                return self
                    .kinds()?
                    .call_method1("pandas_frame", (&self.given, answer));
            }
            return Ok(answer.into_any());
        }
        let mut fields: Vec<Field> = Vec::new();
        let mut arrays: Vec<ArrayRef> = Vec::new();
        for (name, values) in STATE_COLUMNS.iter().zip(columns) {
            fields.push(Field::new(*name, DataType::Float64, true));
            arrays.push(Arc::new(nullable(values)));
        }
        let text = |phase: &u8| (*phase > 0).then(|| PHASES[usize::from(*phase)]);
        fields.push(Field::new("phase", DataType::Utf8, true));
        arrays.push(Arc::new(StringArray::from_iter(phases.iter().map(text))));
        // a row without an answer is null as a whole
        let answered: NullBuffer = phases.iter().map(|phase| *phase > 0).collect();
        let answered = Some(answered).filter(|answered| answered.null_count() > 0);
        let states = StructArray::new(Fields::from(fields), arrays, answered);
        self.arrow(py, Arc::new(states), "state")
    }

    /// A column of Arrow, in the parts of the one that was given.
    fn arrow(&self, py: Python<'py>, whole: ArrayRef, name: &str) -> PyResult<Bound<'py, PyAny>> {
        if self.is_array {
            let array = PyArray::from_array_ref(whole);
            return match self.kind {
                Kind::PyArrow => {
                    let inner = array.into_pyobject(py)?;
                    py.import("pyarrow")?.call_method1("array", (inner,))
                }
                Kind::Polars | Kind::Pandas | Kind::PandasArrow | Kind::NumPy => {
                    let inner = array.into_pyobject(py)?;
                    self.kinds()?
                        .call_method1("like", (&self.given, inner, name))
                }
                Kind::Capsule => Ok(array.into_pyobject(py)?.into_any()),
            };
        }
        let mut from = 0;
        let mut parts = Vec::new();
        for rows in &self.parts {
            parts.push(whole.slice(from, *rows));
            from += rows;
        }
        let field = Field::new(name, whole.data_type().clone(), true);
        let chunked = PyChunkedArray::try_new(parts, Arc::new(field))?;
        match self.kind {
            Kind::PyArrow => chunked.into_pyarrow(py),
            Kind::Capsule => Ok(chunked.into_pyobject(py)?.into_any()),
            _ => {
                let inner = chunked.into_pyobject(py)?;
                self.kinds()?
                    .call_method1("like", (&self.given, inner, name))
            }
        }
    }

    fn shaped(&self, array: Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        if self.shape.len() == 1 {
            return Ok(array);
        }
        array.call_method1("reshape", (self.shape.clone(),))
    }

    fn pandas(&self, array: Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        self.kinds()?
            .call_method1("pandas_series", (&self.given, array))
    }

    fn kinds(&self) -> PyResult<Bound<'py, PyAny>> {
        Ok(self.given.py().import("zeotrope._kinds")?.into_any())
    }
}

/// Numbers with null for NaN.
fn nullable(values: Vec<f64>) -> Float64Array {
    let nulls = if values.iter().any(|value| value.is_nan()) {
        Some(values.iter().map(|value| !value.is_nan()).collect())
    } else {
        None
    };
    Float64Array::new(values.into(), nulls)
}

/// NumPy's array as `out=` names it, when it can take the answers as they are.
pub(crate) fn checked_out<'py>(
    out: &Bound<'py, PyAny>,
    like: &Like<'py>,
) -> PyResult<numpy::PyReadwriteArrayDyn<'py, f64>> {
    use numpy::PyUntypedArrayMethods;
    let wrong = || {
        crate::failure::wrong_value(format!(
            "out is not a writable, contiguous array of float64 of the shape {:?}",
            like.shape
        ))
    };
    let array: Bound<'py, numpy::PyArrayDyn<f64>> = out.extract().map_err(|_| wrong())?;
    if array.shape() != like.shape || !array.is_c_contiguous() {
        return Err(wrong());
    }
    array.try_readwrite().map_err(|_| wrong())
}

/// Whether two arrays may lie in the same memory.
pub(crate) fn may_overlap(one: &Bound<'_, PyAny>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
    numpy(one.py())?
        .call_method1("may_share_memory", (one, other))?
        .extract()
}
