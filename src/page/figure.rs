//! The one definition of a figure: its label, its text for people, the answer's field that it
//! stands for, and that field's value.

use super::style::Style;
use super::words::Phrase;
use crate::units::{Pressure, Temperature, TemperatureDifference};
use serde_json::Value;

/// A number to the shortest text that reads back to the same number; null where there is none.
fn number(value: f64) -> Value {
    serde_json::Number::from_f64(value).map_or(Value::Null, Value::Number)
}

/// A number for a cell of a sheet, as in JSON; empty where there is none.
pub fn number_cell(value: Option<f64>) -> String {
    match value.map(number) {
        Some(Value::Number(number)) => number.to_string(),
        _ => String::new(),
    }
}

/// What a figure holds for programs.
#[derive(Debug, Clone, PartialEq)]
pub enum Datum {
    /// No value: an empty cell, null in JSON.
    None,
    /// A number in the unit that the field's key names.
    Number(f64),
    /// A count.
    Count(u64),
    /// A word.
    Word(String),
    /// Yes or no.
    Flag(bool),
}

impl Datum {
    /// The text of a spreadsheet's cell.
    pub fn cell(&self) -> String {
        match self {
            Datum::None => String::new(),
            Datum::Number(value) => number_cell(Some(*value)),
            Datum::Count(count) => count.to_string(),
            Datum::Word(word) => word.clone(),
            Datum::Flag(flag) => flag.to_string(),
        }
    }
}

impl From<Datum> for crate::service::sheet::Value {
    fn from(datum: Datum) -> Self {
        match datum {
            Datum::None => Self::None,
            Datum::Number(value) => value.into(),
            Datum::Word(word) => Self::Word(word),
            Datum::Count(_) | Datum::Flag(_) => Self::Word(datum.cell()),
        }
    }
}

impl From<f64> for Datum {
    fn from(value: f64) -> Self {
        if value.is_finite() {
            Datum::Number(value)
        } else {
            Datum::None
        }
    }
}

impl From<usize> for Datum {
    fn from(count: usize) -> Self {
        Datum::Count(count as u64)
    }
}

impl From<bool> for Datum {
    fn from(flag: bool) -> Self {
        Datum::Flag(flag)
    }
}

impl From<&str> for Datum {
    fn from(word: &str) -> Self {
        Datum::Word(word.to_owned())
    }
}

impl From<String> for Datum {
    fn from(word: String) -> Self {
        Datum::Word(word)
    }
}

impl From<Temperature> for Datum {
    fn from(value: Temperature) -> Self {
        value.in_kelvin().into()
    }
}

impl From<TemperatureDifference> for Datum {
    fn from(value: TemperatureDifference) -> Self {
        value.in_kelvin().into()
    }
}

impl From<Pressure> for Datum {
    fn from(value: Pressure) -> Self {
        value.in_pascal().into()
    }
}

impl<T: Into<Datum>> From<Option<T>> for Datum {
    fn from(value: Option<T>) -> Self {
        value.map_or(Datum::None, Into::into)
    }
}

/// A figure of a document.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is called on the page; empty where the page does not show it.
    pub label: String,
    /// Its text for people.
    pub text: String,
    /// The path of the answer's field, keys and places joined by `/`; empty for a remark that
    /// stands for no single field.
    pub field: String,
    /// The field's value.
    pub datum: Datum,
}

impl Figure {
    /// Whether a spreadsheet has a column for it.
    pub(super) fn is_cell(&self) -> bool {
        !self.field.is_empty()
    }

    /// The column's name: the keys of the path joined by `_`, from the last list on.
    pub(super) fn column(&self) -> String {
        let keys: Vec<&str> = self.field.split('/').collect();
        let is_place = |key: &&str| key.parse::<usize>().is_ok();
        let inner = keys.len().saturating_sub(1);
        let from = keys[..inner]
            .iter()
            .rposition(is_place)
            .map_or(0, |at| at + 1);
        keys[from..].join("_")
    }
}

/// Figures in the order in which they are shown.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Figures(pub(super) Vec<Figure>);

impl Figures {
    /// Adds a figure: its label, its text, the answer's field and that field's value.
    pub fn add(
        &mut self,
        label: impl Into<String>,
        text: impl Into<String>,
        field: impl Into<String>,
        datum: impl Into<Datum>,
    ) {
        self.push(label.into(), text.into(), field.into(), datum.into());
    }

    /// Adds a figure whose label is a phrase.
    pub fn named(
        &mut self,
        style: &Style,
        label: Phrase,
        text: impl Into<String>,
        field: impl Into<String>,
        datum: impl Into<Datum>,
    ) {
        self.push(style.word(label), text.into(), field.into(), datum.into());
    }

    // Once in the program, and not at each of some hundred figures.
    #[inline(never)]
    fn push(&mut self, label: String, text: String, field: String, datum: Datum) {
        self.0.push(Figure {
            label,
            text,
            field,
            datum,
        });
    }

    /// Adds a remark that stands for no single field.
    pub fn remark(&mut self, label: impl Into<String>, text: impl Into<String>) {
        self.add(label, text, "", Datum::None);
    }

    /// Adds what a spreadsheet has and the page does not show.
    pub fn cell(&mut self, field: impl Into<String>, datum: impl Into<Datum>) {
        self.add("", "", field, datum);
    }

    /// Adds a temperature in the style's unit, with two decimals; a dash where there is none.
    pub fn temperature(
        &mut self,
        style: &Style,
        label: Phrase,
        field: impl Into<String>,
        value: impl Into<Option<Temperature>>,
    ) {
        let value = value.into();
        let text = value.map_or_else(|| "-".to_owned(), |value| style.temperature(value));
        self.named(style, label, text, field, value);
    }

    /// Adds a pressure in the style's unit; a dash where there is none.
    pub fn pressure(
        &mut self,
        style: &Style,
        label: Phrase,
        field: impl Into<String>,
        value: impl Into<Option<Pressure>>,
    ) {
        let value = value.into();
        let unit = style.units.pressure;
        let text = value.map_or_else(|| "-".to_owned(), |value| style.pressure(value, unit));
        self.named(style, label, text, field, value);
    }

    /// Adds a figure where it is known; where it is not, a spreadsheet alone has its empty cell.
    pub fn known<Value: Copy + Into<Datum>>(
        &mut self,
        style: &Style,
        label: Phrase,
        field: impl Into<String>,
        value: Option<Value>,
        text: impl FnOnce(Value) -> String,
    ) {
        match value {
            Some(value) => self.named(style, label, text(value), field, value),
            None => self.cell(field, None::<f64>),
        }
    }

    /// The figures in order.
    pub fn as_slice(&self) -> &[Figure] {
        &self.0
    }

    /// The labels with their texts, of what the page shows.
    pub(super) fn pairs(&self) -> Vec<(String, String)> {
        let shown = self.0.iter().filter(|figure| !figure.label.is_empty());
        shown
            .map(|one| (one.label.clone(), one.text.clone()))
            .collect()
    }
}
