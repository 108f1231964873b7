//! Refrigerants by name: one, or a column of names, each of which is resolved once.

use std::collections::HashMap;
use std::sync::{LazyLock, Mutex};

use arrow_array::cast::AsArray;
use arrow_array::{Array, ArrayRef};
use arrow_schema::DataType;
use pyo3::prelude::*;
use pyo3::types::PyString;
use zeotrope::{Error, Refrigerant};

/// A name's refrigerant, or why there is none.
pub(crate) type Known = std::result::Result<Refrigerant, Error>;

/// The key of a row whose name is null.
pub(crate) const NO_NAME: u32 = u32::MAX;

/// Refrigerants that stay known between calls: what a batch of an engine asks again.
const MOST_KEPT: usize = 1024;

static KEPT: LazyLock<Mutex<HashMap<String, Known>>> = LazyLock::new(Mutex::default);

/// A refrigerant by its name.
pub(crate) fn known(name: &str) -> Known {
    // Where another thread is at it, the name is resolved once more; a lock that a fork left taken
    // is not waited for either.
    if let Ok(kept) = KEPT.try_lock()
        && let Some(known) = kept.get(name)
    {
        return known.clone();
    }
    let found = Refrigerant::named(name);
    if let Ok(mut kept) = KEPT.try_lock() {
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.insert(name.to_owned(), found.clone());
    }
    found
}

/// Names in the order of their first row, and the key of each row.
#[derive(Default)]
pub(crate) struct Column {
    pub(crate) known: Vec<Known>,
    /// In the parts of the column.
    pub(crate) keys: Vec<Vec<u32>>,
    places: HashMap<String, u32>,
}

impl Column {
    /// The key of a name.
    fn key(&mut self, name: &str) -> u32 {
        if let Some(key) = self.places.get(name) {
            return *key;
        }
        let key = self.known.len() as u32;
        self.known.push(known(name));
        self.places.insert(name.to_owned(), key);
        key
    }

    /// Names one by one.
    fn part<'a>(&mut self, names: impl Iterator<Item = Option<&'a str>>) -> Vec<u32> {
        let mut last: Option<(&str, u32)> = None;
        names
            .map(|name| match (name, last) {
                (None, _) => NO_NAME,
                (Some(name), Some((same, key))) if name == same => key,
                (Some(name), _) => {
                    let key = self.key(name);
                    last = Some((name, key));
                    key
                }
            })
            .collect()
    }

    /// From a column of Arrow: text of any kind, or a dictionary of it with any kind of key.
    pub(crate) fn of_arrow(parts: &[ArrayRef]) -> Option<Self> {
        let mut column = Self::default();
        for part in parts {
            let keys = column.arrow_part(part)?;
            column.keys.push(keys);
        }
        Some(column)
    }

    fn arrow_part(&mut self, part: &ArrayRef) -> Option<Vec<u32>> {
        Some(match part.data_type() {
            DataType::Utf8 => self.part(part.as_string::<i32>().iter()),
            DataType::LargeUtf8 => self.part(part.as_string::<i64>().iter()),
            DataType::Utf8View => self.part(part.as_string_view().iter()),
            DataType::Null => vec![NO_NAME; part.len()],
            DataType::Dictionary(..) => {
                let dictionary = part.as_any_dictionary();
                let names = self.arrow_part(dictionary.values())?;
                if names.is_empty() {
                    return Some(vec![NO_NAME; part.len()]);
                }
                let valid = dictionary.keys().nulls();
                let keys = dictionary.normalized_keys().into_iter().enumerate();
                keys.map(|(row, key)| {
                    if valid.is_none_or(|valid| valid.is_valid(row)) {
                        names[key]
                    } else {
                        NO_NAME
                    }
                })
                .collect()
            }
            _ => return None,
        })
    }

    /// From objects of Python, each a text or `None`; a NaN, which stands for a missing text in a
    /// column of objects, is no name either. `None` for anything else.
    pub(crate) fn of_objects(objects: &Bound<'_, PyAny>) -> PyResult<Option<Self>> {
        let mut column = Self::default();
        let mut keys = Vec::new();
        for object in objects.try_iter()? {
            let object = object?;
            if let Ok(name) = object.cast::<PyString>() {
                keys.push(column.key(&name.to_cow()?));
            } else if object.is_none() || object.extract::<f64>().is_ok_and(f64::is_nan) {
                keys.push(NO_NAME);
            } else {
                return Ok(None);
            }
        }
        column.keys.push(keys);
        Ok(Some(column))
    }
}
