//! Lines found last, for a page whose slider asks again: the lines of a picture over all
//! compositions stay where they are while a blend of the same components moves along them.
//!
//! What is kept depends on its key alone, so that an answer is the same whether it was kept or not.

use std::sync::{Arc, Mutex, PoisonError};

use crate::catalogue::{Basis, Catalogue, Parameters};
use crate::process::azeotrope::AzeotropeAt;

/// What lines over all compositions depend on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Key {
    from: Parameters,
    names: Vec<String>,
    basis: Basis,
    at: AzeotropeAt,
}

/// The lines found last, those asked last at the end.
pub(super) struct Kept<Found> {
    most: usize,
    found: Mutex<Vec<(Key, Arc<Found>)>>,
}

impl<Found> Kept<Found> {
    pub(super) const fn new(most: usize) -> Self {
        let found = Mutex::new(Vec::new());
        Self { most, found }
    }

    /// What was found for these components, whose shares are counted by `basis`, at a pressure or
    /// temperature, found now where it was not lately or where facts are not the embedded ones.
    pub(super) fn found(
        &self,
        catalogue: &Catalogue,
        names: &[String],
        (basis, at): (Basis, AzeotropeAt),
        find: impl FnOnce() -> Found,
    ) -> Arc<Found> {
        let Some(from) = catalogue.embedded_alone() else {
            return Arc::new(find());
        };
        let list = || self.found.lock().unwrap_or_else(PoisonError::into_inner);
        let names = names.to_vec();
        let key = Key {
            from,
            names,
            basis,
            at,
        };
        if let Some(known) = taken(&mut list(), &key) {
            return known;
        }
        // not locked while it is sought: other threads may ask for others
        let found = Arc::new(find());
        let mut list = list();
        if list.len() >= self.most {
            list.remove(0);
        }
        list.push((key, Arc::clone(&found)));
        found
    }
}

/// What is known for a key, moved to the end of the list.
fn taken<Found>(list: &mut Vec<(Key, Arc<Found>)>, key: &Key) -> Option<Arc<Found>> {
    let place = list.iter().position(|(known, _)| known == key)?;
    let one = list.remove(place);
    let found = Arc::clone(&one.1);
    list.push(one);
    Some(found)
}
