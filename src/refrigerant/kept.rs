//! The refrigerants asked last, with the curves that they have built.
//!
//! A page that follows a slider, or a lesson that asks one blend again and again, would build the
//! same curves for every answer. What a curve says depends on its line alone, so that an answer is
//! the same whether it was kept or not.

use std::sync::{Mutex, MutexGuard, PoisonError};

use super::Refrigerant;
use crate::catalogue::{Basis, Catalogue, Parameters};
use crate::error::Result;

/// How many are kept: as many as a picture shows, and the components of one. The one that was asked
/// for longest ago makes room: components are asked for again where blends of them only pass.
const MOST: usize = 12;

struct Kept {
    text: String,
    basis: Basis,
    from: Parameters,
    found: Refrigerant,
}

static KEPT: Mutex<Vec<Kept>> = Mutex::new(Vec::new());

impl Refrigerant {
    /// As [`Refrigerant::from_catalogue`], with the curves of one that was asked lately where the
    /// catalogue is the embedded one.
    ///
    /// # Errors
    /// As [`Refrigerant::from_catalogue`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Basis, Refrigerant, catalogue::Catalogue};
    /// let first = Refrigerant::kept(&Catalogue::embedded(), "R-407C", Basis::Mass)?;
    /// let again = Refrigerant::kept(&Catalogue::embedded(), "R-407C", Basis::Mass)?;
    /// assert_eq!(first.designation(), again.designation());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn kept(catalogue: &Catalogue, text: &str, basis: Basis) -> Result<Self> {
        let Some(from) = catalogue.embedded_alone() else {
            return Self::from_catalogue(catalogue, text, basis);
        };
        let list = || KEPT.lock().unwrap_or_else(PoisonError::into_inner);
        let is_asked = |one: &Kept| one.text == text && one.basis == basis && one.from == from;
        let taken = |mut list: MutexGuard<'_, Vec<Kept>>| {
            let place = list.iter().position(is_asked)?;
            let one = list.remove(place);
            let found = one.found.clone();
            list.push(one);
            Some(found)
        };
        if let Some(found) = taken(list()) {
            return Ok(found);
        }
        let found = Self::from_catalogue(catalogue, text, basis)?;
        let mut list = list();
        if list.len() >= MOST {
            list.remove(0);
        }
        list.push(Kept {
            text: text.to_owned(),
            basis,
            from,
            found: found.clone(),
        });
        Ok(found)
    }
}
