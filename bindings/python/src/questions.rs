//! The functions of the module: a refrigerant or a column of names beside the properties.

#![allow(non_snake_case)] // the unit in every name

use pyo3::prelude::*;

use crate::ask::{Options, Whose, ask, pair, state_question};
use crate::engine::{Number, Question};
use crate::refrigerant::options;

fn number<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    number: Number,
    values: &[(&str, &Bound<'py, PyAny>)],
    options: &Options<'_, 'py>,
) -> PyResult<Bound<'py, PyAny>> {
    let whose = Whose::read(refrigerant)?;
    let values: Vec<_> = values
        .iter()
        .map(|(name, value)| (*name, (*value).clone()))
        .collect();
    ask(py, &whose, Question::Number(number), &values, options)
}

/// Bubble pressure, Pa absolute, at a temperature in K: where the first vapor appears in the liquid.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of
/// values: each name is resolved once.
///
/// `temperature_K`: a number gives a float; a column of NumPy, Arrow, polars or pandas gives
/// a column of its own kind and shape. Null stays null, NaN stays NaN, and a row without an
/// answer becomes null or NaN.
///
/// `errors`: 'raise' (the default for a number) raises, 'null' (the default for columns)
/// gives null or NaN, 'codes' gives the answers and a code of each (zeotrope.Code).
/// `threads`: 1, or the variable ZEOTROPE_THREADS. `out`: a float64 array of NumPy to write
/// to.
///
/// Raises: OutOfRange off the saturation line; NotConverged.
///
/// Source: the equation of state that `model` names.
#[pyfunction]
#[pyo3(signature = (refrigerant, temperature_K, *, out=None, errors=None, threads=None))]
pub(crate) fn bubble_pressure_Pa<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    temperature_K: &Bound<'py, PyAny>,
    out: Option<&Bound<'py, PyAny>>,
    errors: Option<&str>,
    threads: Option<usize>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = options(out, errors, threads, None);
    number(
        py,
        refrigerant,
        Number::BubblePressure,
        &[("temperature_K", temperature_K)],
        &options,
    )
}

/// Dew pressure, Pa absolute, at a temperature in K: where the last liquid vanishes from the vapor.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of
/// values: each name is resolved once.
///
/// `temperature_K`: a number gives a float; a column of NumPy, Arrow, polars or pandas gives
/// a column of its own kind and shape. Null stays null, NaN stays NaN, and a row without an
/// answer becomes null or NaN.
///
/// `errors`: 'raise' (the default for a number) raises, 'null' (the default for columns)
/// gives null or NaN, 'codes' gives the answers and a code of each (zeotrope.Code).
/// `threads`: 1, or the variable ZEOTROPE_THREADS. `out`: a float64 array of NumPy to write
/// to.
///
/// Raises: OutOfRange off the saturation line; NotConverged.
///
/// Source: the equation of state that `model` names.
#[pyfunction]
#[pyo3(signature = (refrigerant, temperature_K, *, out=None, errors=None, threads=None))]
pub(crate) fn dew_pressure_Pa<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    temperature_K: &Bound<'py, PyAny>,
    out: Option<&Bound<'py, PyAny>>,
    errors: Option<&str>,
    threads: Option<usize>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = options(out, errors, threads, None);
    number(
        py,
        refrigerant,
        Number::DewPressure,
        &[("temperature_K", temperature_K)],
        &options,
    )
}

/// Bubble temperature, K, at a pressure in Pa: subcooling is relative to it.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of
/// values: each name is resolved once.
///
/// `pressure_Pa`: a number gives a float; a column of NumPy, Arrow, polars or pandas gives a
/// column of its own kind and shape. Null stays null, NaN stays NaN, and a row without an
/// answer becomes null or NaN.
///
/// `errors`: 'raise' (the default for a number) raises, 'null' (the default for columns)
/// gives null or NaN, 'codes' gives the answers and a code of each (zeotrope.Code).
/// `threads`: 1, or the variable ZEOTROPE_THREADS. `out`: a float64 array of NumPy to write
/// to. `atmosphere_Pa`: where the pressures are gauge pressures, the local atmospheric
/// pressure in Pa that they are relative to; without it they are absolute.
///
/// Raises: OutOfRange off the saturation line; NotConverged.
///
/// Source: the equation of state that `model` names.
#[pyfunction]
#[pyo3(signature = (refrigerant, pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
pub(crate) fn bubble_temperature_K<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    pressure_Pa: &Bound<'py, PyAny>,
    out: Option<&Bound<'py, PyAny>>,
    errors: Option<&str>,
    threads: Option<usize>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = options(out, errors, threads, atmosphere_Pa);
    number(
        py,
        refrigerant,
        Number::BubbleTemperature,
        &[("pressure_Pa", pressure_Pa)],
        &options,
    )
}

/// Dew temperature, K, at a pressure in Pa: superheat is relative to it.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of
/// values: each name is resolved once.
///
/// `pressure_Pa`: a number gives a float; a column of NumPy, Arrow, polars or pandas gives a
/// column of its own kind and shape. Null stays null, NaN stays NaN, and a row without an
/// answer becomes null or NaN.
///
/// `errors`: 'raise' (the default for a number) raises, 'null' (the default for columns)
/// gives null or NaN, 'codes' gives the answers and a code of each (zeotrope.Code).
/// `threads`: 1, or the variable ZEOTROPE_THREADS. `out`: a float64 array of NumPy to write
/// to. `atmosphere_Pa`: where the pressures are gauge pressures, the local atmospheric
/// pressure in Pa that they are relative to; without it they are absolute.
///
/// Raises: OutOfRange off the saturation line; NotConverged.
///
/// Source: the equation of state that `model` names.
#[pyfunction]
#[pyo3(signature = (refrigerant, pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
pub(crate) fn dew_temperature_K<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    pressure_Pa: &Bound<'py, PyAny>,
    out: Option<&Bound<'py, PyAny>>,
    errors: Option<&str>,
    threads: Option<usize>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = options(out, errors, threads, atmosphere_Pa);
    number(
        py,
        refrigerant,
        Number::DewTemperature,
        &[("pressure_Pa", pressure_Pa)],
        &options,
    )
}

/// Temperature glide, K, at a pressure in Pa: dew minus bubble temperature; 0 for a pure refrigerant.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of
/// values: each name is resolved once.
///
/// `pressure_Pa`: a number gives a float; a column of NumPy, Arrow, polars or pandas gives a
/// column of its own kind and shape. Null stays null, NaN stays NaN, and a row without an
/// answer becomes null or NaN.
///
/// `errors`: 'raise' (the default for a number) raises, 'null' (the default for columns)
/// gives null or NaN, 'codes' gives the answers and a code of each (zeotrope.Code).
/// `threads`: 1, or the variable ZEOTROPE_THREADS. `out`: a float64 array of NumPy to write
/// to. `atmosphere_Pa`: where the pressures are gauge pressures, the local atmospheric
/// pressure in Pa that they are relative to; without it they are absolute.
///
/// Raises: OutOfRange off the saturation line; NotConverged.
///
/// Source: the equation of state that `model` names.
#[pyfunction]
#[pyo3(signature = (refrigerant, pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
pub(crate) fn glide_K<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    pressure_Pa: &Bound<'py, PyAny>,
    out: Option<&Bound<'py, PyAny>>,
    errors: Option<&str>,
    threads: Option<usize>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = options(out, errors, threads, atmosphere_Pa);
    number(
        py,
        refrigerant,
        Number::Glide,
        &[("pressure_Pa", pressure_Pa)],
        &options,
    )
}

/// Density, kg/m3, of the one phase at a temperature in K and a pressure in Pa.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of
/// values: each name is resolved once.
///
/// `temperature_K` and `pressure_Pa`: a number gives a float; a column of NumPy, Arrow,
/// polars or pandas gives a column of its own kind and shape. Null stays null, NaN stays NaN,
/// and a row without an answer becomes null or NaN.
///
/// `errors`: 'raise' (the default for a number) raises, 'null' (the default for columns)
/// gives null or NaN, 'codes' gives the answers and a code of each (zeotrope.Code).
/// `threads`: 1, or the variable ZEOTROPE_THREADS. `out`: a float64 array of NumPy to write
/// to. `atmosphere_Pa`: where the pressures are gauge pressures, the local atmospheric
/// pressure in Pa that they are relative to; without it they are absolute.
///
/// Raises: OutOfRange; NoState on a saturation line, where two phases meet; NotConverged.
///
/// Source: the equation of state that `model` names.
#[pyfunction]
#[pyo3(signature = (refrigerant, temperature_K, pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
#[allow(clippy::too_many_arguments)] // two properties
pub(crate) fn density_kg_m3<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    temperature_K: &Bound<'py, PyAny>,
    pressure_Pa: &Bound<'py, PyAny>,
    out: Option<&Bound<'py, PyAny>>,
    errors: Option<&str>,
    threads: Option<usize>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let options = options(out, errors, threads, atmosphere_Pa);
    number(
        py,
        refrigerant,
        Number::Density,
        &[
            ("temperature_K", temperature_K),
            ("pressure_Pa", pressure_Pa),
        ],
        &options,
    )
}

/// State from two properties: temperature, pressure, density, enthalpy, entropy, quality.
///
/// `refrigerant` is a name, a Refrigerant, or a column of names next to the columns of values.
///
/// Two numbers give a dict under the keys of the program's JSON, with `phase`, `quality`, and
/// in two phases `liquid` and `vapor`. Columns give, of the same rows, columns under the keys
/// temperature_K, pressure_Pa, density_kg_m3, enthalpy_J_kg, entropy_J_kg_K,
/// internal_energy_J_kg, cp_J_kg_K, cv_J_kg_K, speed_of_sound_m_s, compressibility_factor,
/// joule_thomson_K_Pa, isothermal_compressibility_1_Pa, thermal_expansion_1_K,
/// dp_drho_T_Pa_m3_kg, dp_dT_rho_Pa_K, isentropic_exponent, quality and phase: a dict of arrays
/// for NumPy, a struct for Arrow and polars, a DataFrame for pandas. What a state does not have
/// (cp between qualities 0 and 1, the quality of one phase) is null or NaN.
///
/// `phase`: liquid, vapor, supercritical or two-phase, where two states answer.
/// `reference_state` of enthalpy and entropy: usual (iir where it exists), iir, ashrae,
/// boiling-point, ideal-gas or published. `errors`, `threads` and `atmosphere_Pa` as in
/// `dew_temperature_K`. A blend takes T,p; T,q; p,q; p,h; p,s; p,rho; T,rho; T,s and h,s.
///
/// Raises: OutOfRange; NoState where nothing, or more than one state, has both properties;
/// NoReferenceState; NotConverged.
#[pyfunction]
#[pyo3(signature = (
    refrigerant, *, temperature_K=None, pressure_Pa=None, density_kg_m3=None, enthalpy_J_kg=None,
    entropy_J_kg_K=None, quality=None, phase=None, reference_state="usual", errors=None,
    threads=None, atmosphere_Pa=None
))]
#[allow(clippy::too_many_arguments)] // two of six properties
pub(crate) fn state<'py>(
    py: Python<'py>,
    refrigerant: &Bound<'py, PyAny>,
    temperature_K: Option<&Bound<'py, PyAny>>,
    pressure_Pa: Option<&Bound<'py, PyAny>>,
    density_kg_m3: Option<&Bound<'py, PyAny>>,
    enthalpy_J_kg: Option<&Bound<'py, PyAny>>,
    entropy_J_kg_K: Option<&Bound<'py, PyAny>>,
    quality: Option<&Bound<'py, PyAny>>,
    phase: Option<&str>,
    reference_state: &str,
    errors: Option<&str>,
    threads: Option<usize>,
    atmosphere_Pa: Option<f64>,
) -> PyResult<Bound<'py, PyAny>> {
    let (pair, values) = pair([
        temperature_K,
        pressure_Pa,
        density_kg_m3,
        enthalpy_J_kg,
        entropy_J_kg_K,
        quality,
    ])?;
    let question = state_question(pair, reference_state, phase)?;
    let whose = Whose::read(refrigerant)?;
    let options = options(None, errors, threads, atmosphere_Pa);
    ask(py, &whose, question, &values, &options)
}
