//! What a program reads of a document: the answer's own fields, then warnings and cautions.

use serde_json::{Map, Value};

use super::Datum;

/// The fields of an answer, for programs.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Json(pub(super) Value);

impl Json {
    /// As text, indented.
    pub fn text(&self) -> String {
        format!("{:#}", self.0)
    }

    /// Whether the field at a path, keys and places joined by `/`, has this value; `None` where
    /// there is no such field.
    pub fn holds(&self, path: &str, datum: &Datum) -> Option<bool> {
        let value = self.0.pointer(&format!("/{path}"))?;
        Some(match datum {
            Datum::None => value.is_null(),
            Datum::Number(own) => value.as_f64() == Some(*own),
            Datum::Count(own) => value.as_u64() == Some(*own),
            Datum::Word(own) => value.as_str() == Some(own),
            Datum::Flag(own) => value.as_bool() == Some(*own),
        })
    }

    /// Sets a field of the whole.
    pub(super) fn set(&mut self, key: &str, value: Value) {
        if let Value::Object(object) = &mut self.0 {
            object.insert(key.to_owned(), value);
        }
    }

    /// Adds texts under a key to the object at a pointer, where there is one.
    pub(super) fn add(&mut self, pointer: &str, key: &str, texts: Vec<String>) {
        if let Some(Value::Object(object)) = self.0.pointer_mut(pointer) {
            object.insert(key.to_owned(), texts.into());
        }
    }
}

impl From<Map<String, Value>> for Json {
    fn from(object: Map<String, Value>) -> Self {
        Self(Value::Object(object))
    }
}
