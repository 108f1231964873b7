//! A list of figures, each with its text for people and its key and value for programs.

use serde_json::{Map, Value};

use crate::output::{number, number_cell};
use crate::page::{Block, Sheet};

struct Figure {
    name: String,
    text: String,
    key: &'static str,
    value: Value,
}

/// The figures of an answer, from which its page, its sheet and its JSON are made.
#[derive(Default)]
pub(crate) struct Figures(Vec<Figure>);

impl Figures {
    /// Adds a figure; one without a name stands in JSON alone, one without a key on the page.
    pub(crate) fn add(
        &mut self,
        name: impl Into<String>,
        text: impl Into<String>,
        key: &'static str,
        value: impl Into<Value>,
    ) {
        self.0.push(Figure {
            name: name.into(),
            text: text.into(),
            key,
            value: value.into(),
        });
    }

    /// Adds a number.
    pub(crate) fn number(
        &mut self,
        name: impl Into<String>,
        text: impl Into<String>,
        key: &'static str,
        value: f64,
    ) {
        self.add(name, text, key, number(value));
    }

    /// Names with their texts.
    pub(crate) fn pairs(&self) -> Vec<(String, String)> {
        self.0
            .iter()
            .filter(|figure| !figure.name.is_empty())
            .map(|figure| (figure.name.clone(), figure.text.clone()))
            .collect()
    }

    /// The same as a part of a page.
    pub(crate) fn block(&self) -> Block {
        Block::Pairs(self.pairs())
    }

    /// Keys with their values.
    pub(crate) fn object(&self) -> Map<String, Value> {
        self.0
            .iter()
            .filter(|figure| !figure.key.is_empty())
            .map(|figure| (figure.key.to_owned(), figure.value.clone()))
            .collect()
    }

    /// One row under the keys, of what fits into a cell.
    pub(crate) fn sheet(&self) -> Sheet {
        let cells = || {
            self.0
                .iter()
                .filter(|figure| !figure.key.is_empty())
                .filter_map(|figure| Some((figure.key, cell(&figure.value)?)))
        };
        Sheet {
            heads: cells().map(|(key, _)| key.to_owned()).collect(),
            rows: vec![cells().map(|(_, text)| text).collect()],
        }
    }
}

fn cell(value: &Value) -> Option<String> {
    match value {
        Value::Null => Some(String::new()),
        Value::Bool(value) => Some(value.to_string()),
        Value::String(text) => Some(text.clone()),
        Value::Number(value) => Some(number_cell(value.as_f64())),
        Value::Array(_) | Value::Object(_) => None,
    }
}
