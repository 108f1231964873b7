//! Which refrigerant a row is about: one for the whole file, or that of a column `refrigerant`.

use std::collections::HashMap;
use std::sync::{Arc, RwLock};

use super::record::Record;

/// What is made of a refrigerant, or why there is none.
pub type Made<T> = Result<Arc<T>, String>;

/// What the rows of a file are about, each refrigerant prepared once.
#[derive(Debug)]
pub struct Subjects<T, Make> {
    column: Option<usize>,
    make: Make,
    only: Option<Arc<T>>,
    known: RwLock<HashMap<Vec<u8>, Made<T>>>,
}

impl<T, Make: Fn(&str) -> Result<T, String>> Subjects<T, Make> {
    /// One for all rows, else those of a column; `make` prepares one of a cell's text.
    pub fn new(column: Option<usize>, only: Option<T>, make: Make) -> Self {
        Self {
            column,
            make,
            only: only.map(Arc::new),
            known: RwLock::default(),
        }
    }

    /// What the row is about, or why that is not known.
    ///
    /// # Errors
    /// What `make` says of the cell, or that it is empty.
    pub fn of_row(&self, row: &Record) -> Made<T> {
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
            text => (self.make)(text).map(Arc::new),
        };
        if let Ok(mut known) = self.known.write() {
            known.insert(cell.to_vec(), made.clone());
        }
        made
    }
}
