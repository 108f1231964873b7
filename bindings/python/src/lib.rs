//! zeotrope for Python: refrigerant properties over numbers, and over columns of NumPy, Arrow,
//! polars and pandas.

mod ask;
mod charts;
mod column;
mod document;
mod engine;
mod failure;
mod handle;
mod json;
mod names;
mod pieces;
mod processes;
mod questions;
mod refrigerant;
mod reply;
mod rows;

use pyo3::prelude::*;

/// What `zeotrope` is made of.
#[pymodule]
fn _zeotrope(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("__version__", env!("CARGO_PKG_VERSION"))?;
    module.add_class::<handle::Refrigerant>()?;
    module.add_function(wrap_pyfunction!(refrigerant::blend, module)?)?;
    module.add_function(wrap_pyfunction!(refrigerant::restored, module)?)?;
    module.add_function(wrap_pyfunction!(questions::bubble_pressure_Pa, module)?)?;
    module.add_function(wrap_pyfunction!(questions::dew_pressure_Pa, module)?)?;
    module.add_function(wrap_pyfunction!(questions::bubble_temperature_K, module)?)?;
    module.add_function(wrap_pyfunction!(questions::dew_temperature_K, module)?)?;
    module.add_function(wrap_pyfunction!(questions::glide_K, module)?)?;
    module.add_function(wrap_pyfunction!(questions::density_kg_m3, module)?)?;
    module.add_function(wrap_pyfunction!(questions::state, module)?)?;
    module.add_class::<document::Document>()?;
    module.add_function(wrap_pyfunction!(charts::chart, module)?)?;
    module.add_function(wrap_pyfunction!(processes::cycle, module)?)?;
    module.add_function(wrap_pyfunction!(processes::leak, module)?)?;
    module.add_function(wrap_pyfunction!(processes::draw, module)?)?;
    Ok(())
}
