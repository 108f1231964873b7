//! The object behind `zeotrope.Refrigerant`: what it is, below everything that is asked of it.

use pyo3::prelude::*;
use zeotrope::Basis;

/// How a refrigerant was asked for: asked for so again it is the same to the last bit.
#[derive(Clone)]
pub(crate) enum Recipe {
    /// A name or a composition in the standard's notation.
    Text(String),
    /// Names and fractions.
    Fractions(Vec<(String, f64)>),
}

/// A refrigerant, pure or blend, ready to be asked.
///
/// `Refrigerant("R-407C")` takes any usual spelling of a designation, a common chemical name, or a
/// composition in the standard's notation: "R-32/R-125 (50/50)", in mass % or with basis="mole" in
/// mole %. Names are resolved once; the object is immutable, may be shared by threads, and is
/// pickled by what it was made from. Units are SI, pressures absolute unless `atmosphere_Pa` is
/// given.
///
/// Raises: UnknownRefrigerant; RefusedRefrigerant; CompositionError.
///
/// >>> r = zeotrope.Refrigerant("R-134a")
/// >>> round(r.dew_pressure_Pa(278.15))
/// 349659
#[pyclass(frozen, module = "zeotrope", name = "Refrigerant")]
pub(crate) struct Refrigerant {
    pub(crate) inner: zeotrope::Refrigerant,
    pub(crate) recipe: Recipe,
    pub(crate) basis: Basis,
    pub(crate) is_exact: bool,
}
