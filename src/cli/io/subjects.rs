//! Which refrigerant a row is about: one for the whole file, or that of a column `refrigerant`.

use std::collections::HashMap;
use std::sync::{Arc, RwLock};

use crate::cli::errors::Failure;
use crate::service::sheet::Record;
use crate::units::Heads;

/// What is made of a refrigerant, or why there is none.
type Made<T> = Result<Arc<T>, String>;

/// What the rows of a file are about, each refrigerant prepared once.
pub(crate) struct Subjects<T, Make> {
    column: Option<usize>,
    make: Make,
    only: Option<Arc<T>>,
    known: RwLock<HashMap<Vec<u8>, Made<T>>>,
}

impl<T, Make: Fn(&str) -> Result<T, Failure>> Subjects<T, Make> {
    /// One refrigerant that was named, else those of the column.
    pub(crate) fn new(heads: &Heads, named: &[String], make: Make) -> Result<Self, Failure> {
        let called = |head: &str| head.trim().eq_ignore_ascii_case("refrigerant");
        let column = heads.find(called).map(|(at, _)| at);
        let (only, column) = match (named, column) {
            ([text], _) => (Some(Arc::new(make(text)?)), None),
            ([], Some(column)) => (None, Some(column)),
            ([], None) => {
                return Err(Failure::usage(
                    "no refrigerant was named, and no column 'refrigerant' names one",
                    "name it before --csv, or say --column refrigerant=HEADER",
                ));
            }
            _ => {
                return Err(Failure::usage(
                    "rows of a file are answered for one refrigerant, or for that of a column",
                    "name one, or none and a column 'refrigerant'",
                ));
            }
        };
        Ok(Self {
            column,
            make,
            only,
            known: RwLock::default(),
        })
    }

    /// What the row is about.
    pub(crate) fn of(&self, row: &Record) -> Made<T> {
        match (&self.only, self.column) {
            (Some(only), _) => Ok(only.clone()),
            (None, column) => self.named(row.get(column.unwrap_or_default()).unwrap_or_default()),
        }
    }

    fn named(&self, cell: &[u8]) -> Made<T> {
        let known = self.known.read().ok();
        if let Some(made) = known.and_then(|known| known.get(cell).cloned()) {
            return made;
        }
        let text = String::from_utf8_lossy(cell);
        let made = match text.trim() {
            "" => Err("no refrigerant in this row".to_owned()),
            text => (self.make)(text)
                .map(Arc::new)
                .map_err(|failure| failure.message().to_owned()),
        };
        if let Ok(mut known) = self.known.write() {
            known.insert(cell.to_vec(), made.clone());
        }
        made
    }
}
