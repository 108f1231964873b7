//! `zeotrope.Refrigerant`: a refrigerant by name or composition, and what is asked of it.

use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use pyo3::IntoPyObjectExt;
use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use zeotrope::Basis;
use zeotrope::service::facts::Facts;

use crate::ask::{self, Options, Whose, ask, pair, state_question};
use crate::column::{one_number, plain_number};
use crate::engine::{self, Line, Number, Question};
use crate::failure::{raised, wrong_value};
use crate::handle::{Recipe, Refrigerant};
use crate::json;

/// How a question is answered.
pub(crate) fn options<'a, 'py>(
    out: Option<&'a Bound<'py, PyAny>>,
    errors: Option<&'a str>,
    threads: Option<usize>,
    atmosphere: Option<f64>,
) -> Options<'a, 'py> {
    Options {
        out: out.filter(|out| !out.is_none()),
        errors,
        threads,
        atmosphere,
    }
}

fn basis(name: &str) -> PyResult<Basis> {
    match name {
        "mass" => Ok(Basis::Mass),
        "mole" => Ok(Basis::Mole),
        other => Err(wrong_value(format!(
            "basis is 'mass' or 'mole', not '{other}'"
        ))),
    }
}

fn basis_name(basis: Basis) -> &'static str {
    match basis {
        Basis::Mass => "mass",
        Basis::Mole => "mole",
    }
}

impl Refrigerant {
    fn made(py: Python<'_>, recipe: Recipe, basis: Basis) -> PyResult<Self> {
        let found = match &recipe {
            Recipe::Text(text) => zeotrope::Refrigerant::from_catalogue(
                &zeotrope::catalogue::Catalogue::embedded(),
                text,
                basis,
            ),
            Recipe::Fractions(parts) => {
                let parts: Vec<(&str, f64)> = parts
                    .iter()
                    .map(|(name, part)| (name.as_str(), *part))
                    .collect();
                zeotrope::Refrigerant::from_fractions(&parts, basis)
            }
        };
        Ok(Self {
            inner: found.map_err(|error| raised(py, &error, None))?,
            recipe,
            basis,
            is_exact: false,
        })
    }

    fn number<'py>(
        &self,
        py: Python<'py>,
        number: Number,
        values: &[(&str, &Bound<'py, PyAny>)],
        options: &Options<'_, 'py>,
    ) -> PyResult<Bound<'py, PyAny>> {
        // the quick way of a loop over floats
        if let [(_, value)] = values
            && options.is_plain()
            && let Some(value) = plain_number(value)
        {
            let value = value?;
            return match engine::number(&self.inner, number, value, 0.0) {
                Ok(answer) => Ok(answer.into_pyobject(py)?.into_any()),
                Err(error) => Err(raised(py, &error, None)),
            };
        }
        let whose = Whose::One(Ok(self.inner.clone()));
        let values: Vec<_> = values
            .iter()
            .map(|(name, value)| (*name, (*value).clone()))
            .collect();
        ask(py, &whose, Question::Number(number), &values, options)
    }

    fn same_as(&self, other: &Self) -> bool {
        self.is_exact == other.is_exact
            && self.inner.designation() == other.inner.designation()
            && self.inner.components() == other.inner.components()
    }
}

/// A blend of refrigerants by fractions of one.
///
/// `parts` is a mapping of names and fractions, 0 to 1, that sum to 1 within 1e-9; `basis` says
/// whether they are fractions of mass or of moles.
///
/// Raises: UnknownRefrigerant; RefusedRefrigerant; CompositionError where a fraction is not 0 to 1
/// or their sum is not 1.
///
/// >>> zeotrope.blend({"R-32": 0.23, "R-125": 0.25, "R-134a": 0.52})
/// Refrigerant('R-407C')
#[pyfunction]
#[pyo3(signature = (parts, *, basis = "mass"))]
pub(crate) fn blend(
    py: Python<'_>,
    parts: &Bound<'_, PyDict>,
    basis: &str,
) -> PyResult<Refrigerant> {
    let parts = ask::fractions(parts)?;
    Refrigerant::made(py, Recipe::Fractions(parts), self::basis(basis)?)
}

#[pymethods]
#[allow(non_snake_case)] // the unit in every name
impl Refrigerant {
    #[new]
    #[pyo3(signature = (name, *, basis = "mass"))]
    fn new(py: Python<'_>, name: String, basis: &str) -> PyResult<Self> {
        Self::made(py, Recipe::Text(name), self::basis(basis)?)
    }

    /// The designation, or the composition in the standard's notation.
    #[getter]
    fn designation(&self) -> &str {
        self.inner.designation()
    }

    /// Components with their mass and mole fractions, in the order asked for.
    #[getter]
    fn composition<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let facts = json::of(py, &Facts::of_refrigerant(&self.inner).identity)?;
        facts.get_item("composition")
    }

    /// The equations of state and the binary pairs that answers rest on, with their sources.
    #[getter]
    fn model<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        json::of(py, &Facts::of_refrigerant(&self.inner).model)
    }

    /// Molar mass, kg/mol.
    #[getter]
    fn molar_mass_kg_mol(&self) -> f64 {
        self.inner.molar_mass()
    }

    /// Whether it has one component.
    #[getter]
    fn is_pure(&self) -> bool {
        self.inner.is_pure()
    }

    /// Safety class of the standard; None where none is on record here.
    #[getter]
    fn safety_class(&self) -> Option<String> {
        self.inner.safety_class()
    }

    /// Where it is answered: temperature_min_K, temperature_max_K, pressure_max_Pa.
    #[getter]
    fn limits<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        json::of(py, &self.inner.limits())
    }

    /// The critical point of the equation, or of a blend's traced envelope: temperature_K,
    /// pressure_Pa, density_kg_m3; None where it could not be traced.
    #[getter]
    fn critical_point<'py>(&self, py: Python<'py>) -> PyResult<Option<Bound<'py, PyAny>>> {
        let found = py.detach(|| self.inner.critical_point());
        found.map(|point| json::of(py, &point)).transpose()
    }

    /// The same refrigerant, each answer solved from the equation itself instead of read from
    /// curves that reproduce it to 1e-10; to check by, and for single questions.
    fn exact(&self) -> Self {
        Self {
            inner: self.inner.exact(),
            recipe: self.recipe.clone(),
            basis: self.basis,
            is_exact: true,
        }
    }

    /// Bubble pressure, Pa absolute, at a temperature in K: where the first vapor appears in the liquid.
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
    #[pyo3(signature = (temperature_K, *, out=None, errors=None, threads=None))]
    fn bubble_pressure_Pa<'py>(
        &self,
        py: Python<'py>,
        temperature_K: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        errors: Option<&str>,
        threads: Option<usize>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(out, errors, threads, None);
        self.number(
            py,
            Number::BubblePressure,
            &[("temperature_K", temperature_K)],
            &options,
        )
    }

    /// Dew pressure, Pa absolute, at a temperature in K: where the last liquid vanishes from the vapor.
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
    #[pyo3(signature = (temperature_K, *, out=None, errors=None, threads=None))]
    fn dew_pressure_Pa<'py>(
        &self,
        py: Python<'py>,
        temperature_K: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        errors: Option<&str>,
        threads: Option<usize>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(out, errors, threads, None);
        self.number(
            py,
            Number::DewPressure,
            &[("temperature_K", temperature_K)],
            &options,
        )
    }

    /// Bubble temperature, K, at a pressure in Pa: subcooling is relative to it.
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
    #[pyo3(signature = (pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
    fn bubble_temperature_K<'py>(
        &self,
        py: Python<'py>,
        pressure_Pa: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        errors: Option<&str>,
        threads: Option<usize>,
        atmosphere_Pa: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(out, errors, threads, atmosphere_Pa);
        self.number(
            py,
            Number::BubbleTemperature,
            &[("pressure_Pa", pressure_Pa)],
            &options,
        )
    }

    /// Dew temperature, K, at a pressure in Pa: superheat is relative to it.
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
    #[pyo3(signature = (pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
    fn dew_temperature_K<'py>(
        &self,
        py: Python<'py>,
        pressure_Pa: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        errors: Option<&str>,
        threads: Option<usize>,
        atmosphere_Pa: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(out, errors, threads, atmosphere_Pa);
        self.number(
            py,
            Number::DewTemperature,
            &[("pressure_Pa", pressure_Pa)],
            &options,
        )
    }

    /// Temperature glide, K, at a pressure in Pa: dew minus bubble temperature; 0 for a pure refrigerant.
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
    #[pyo3(signature = (pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
    fn glide_K<'py>(
        &self,
        py: Python<'py>,
        pressure_Pa: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        errors: Option<&str>,
        threads: Option<usize>,
        atmosphere_Pa: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(out, errors, threads, atmosphere_Pa);
        self.number(py, Number::Glide, &[("pressure_Pa", pressure_Pa)], &options)
    }

    /// Density, kg/m3, of the one phase at a temperature in K and a pressure in Pa.
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
    #[pyo3(signature = (temperature_K, pressure_Pa, *, out=None, errors=None, threads=None, atmosphere_Pa=None))]
    #[allow(clippy::too_many_arguments)] // two properties
    fn density_kg_m3<'py>(
        &self,
        py: Python<'py>,
        temperature_K: &Bound<'py, PyAny>,
        pressure_Pa: &Bound<'py, PyAny>,
        out: Option<&Bound<'py, PyAny>>,
        errors: Option<&str>,
        threads: Option<usize>,
        atmosphere_Pa: Option<f64>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(out, errors, threads, atmosphere_Pa);
        self.number(
            py,
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
    #[pyo3(signature = (
        *, temperature_K=None, pressure_Pa=None, density_kg_m3=None, enthalpy_J_kg=None,
        entropy_J_kg_K=None, quality=None, phase=None, reference_state="usual", errors=None,
        threads=None, atmosphere_Pa=None
    ))]
    #[allow(clippy::too_many_arguments)] // two of six properties
    fn state<'py>(
        &self,
        py: Python<'py>,
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
        let whose = Whose::One(Ok(self.inner.clone()));
        let options = options(None, errors, threads, atmosphere_Pa);
        ask(py, &whose, question, &values, &options)
    }

    /// Bubble and dew of one temperature in K or one pressure in Pa, whole, as a dict.
    ///
    /// Keys are those of the program's JSON: `bubble` and `dew`, each with temperature_K,
    /// pressure_Pa, latent_heat_J_kg, dp_dT_line_Pa_K (along the line), k_values (y/x by component),
    /// and all properties of its `liquid` and `vapor`; at a pressure also glide_K and
    /// heat_bubble_to_dew_J_kg. A branch without an answer is None. Takes numbers alone;
    /// `atmosphere_Pa` and `reference_state` as in `state`.
    ///
    /// Raises: TypeError unless just one of both is given; OutOfRange where there is neither
    /// branch; NoReferenceState; NotConverged.
    ///
    /// Source: the equation of state that `model` names.
    #[pyo3(signature = (
        *, temperature_K=None, pressure_Pa=None, atmosphere_Pa=None, reference_state="usual"
    ))]
    fn saturation<'py>(
        &self,
        py: Python<'py>,
        temperature_K: Option<&Bound<'py, PyAny>>,
        pressure_Pa: Option<&Bound<'py, PyAny>>,
        atmosphere_Pa: Option<f64>,
        reference_state: &str,
    ) -> PyResult<Bound<'py, PyAny>> {
        let options = options(None, None, None, atmosphere_Pa);
        let at = match (temperature_K, pressure_Pa) {
            (Some(value), None) => Line::Temperature(one_number("temperature_K", value)?),
            (None, Some(value)) => {
                Line::Pressure(one_number("pressure_Pa", value)? + options.atmosphere(py)?)
            }
            _ => {
                let text = "give one of temperature_K and pressure_Pa";
                return Err(PyTypeError::new_err(text));
            }
        };
        let reference = ask::reference(reference_state)?;
        let found = py.detach(|| engine::saturation(&self.inner, at, reference));
        json::of(py, &found.map_err(|error| raised(py, &error, None))?)
    }

    fn __repr__(&self) -> String {
        let exact = if self.is_exact { ".exact()" } else { "" };
        format!("Refrigerant('{}'){exact}", self.inner.designation())
    }

    fn __eq__(&self, other: &Bound<'_, PyAny>) -> bool {
        other
            .cast::<Self>()
            .is_ok_and(|other| self.same_as(other.get()))
    }

    fn __hash__(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.inner.designation().hash(&mut hasher);
        hasher.finish()
    }

    /// As it was made, and by which version.
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let restored = py.import("zeotrope")?.getattr("_restored")?;
        let recipe = match &self.recipe {
            Recipe::Text(text) => text.into_bound_py_any(py)?,
            Recipe::Fractions(parts) => parts.into_bound_py_any(py)?,
        };
        let basis = basis_name(self.basis);
        let version = env!("CARGO_PKG_VERSION");
        (restored, (recipe, basis, self.is_exact, version)).into_bound_py_any(py)
    }
}

/// A refrigerant as it was pickled.
#[pyfunction]
pub(crate) fn restored(
    py: Python<'_>,
    recipe: &Bound<'_, PyAny>,
    basis: &str,
    is_exact: bool,
) -> PyResult<Refrigerant> {
    let recipe = match recipe.extract::<String>() {
        Ok(text) => Recipe::Text(text),
        Err(_) => Recipe::Fractions(recipe.extract()?),
    };
    let made = Refrigerant::made(py, recipe, self::basis(basis)?)?;
    Ok(if is_exact { made.exact() } else { made })
}
