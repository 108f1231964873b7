//! Why there is no answer: a sentence by name with its figures, so that a page can say it in another
//! language and in its own units.

use std::fmt::{Display, Formatter};

use super::RangeUnit;
use crate::phrase::{Phrase, filled};

/// What fills a blank of a sentence.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Blank {
    /// A name.
    Name(String),
    /// A quantity in its SI unit.
    Quantity(f64, RangeUnit),
    /// A difference or a size of pressure in Pa, relative to nothing.
    PressureSize(f64),
}

/// Why, as a clause without a full stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason(Box<Said>);

#[derive(Debug, Clone, PartialEq)]
enum Said {
    Named(Phrase, Vec<(&'static str, Blank)>),
    Text(String),
}

impl Reason {
    /// The phrase and what fills its blanks; `None` for a text that has no name.
    pub fn phrase(&self) -> Option<(Phrase, &[(&'static str, Blank)])> {
        match &*self.0 {
            Said::Named(phrase, blanks) => Some((*phrase, blanks)),
            Said::Text(_) => None,
        }
    }

    /// The same with a name in one of its blanks.
    pub(crate) fn of(phrase: Phrase, blank: &'static str, name: &str) -> Self {
        Self::with(phrase, blank, Blank::Name(name.to_owned()))
    }

    /// A phrase with one blank.
    pub(crate) fn with(phrase: Phrase, blank: &'static str, filled: Blank) -> Self {
        Self(Box::new(Said::Named(phrase, vec![(blank, filled)])))
    }

    /// The same with one more blank.
    pub(crate) fn and(mut self, blank: &'static str, filled: Blank) -> Self {
        if let Said::Named(_, blanks) = &mut *self.0 {
            blanks.push((blank, filled));
        }
        self
    }
}

impl From<Phrase> for Reason {
    fn from(phrase: Phrase) -> Self {
        Self(Box::new(Said::Named(phrase, Vec::new())))
    }
}

impl From<String> for Reason {
    fn from(text: String) -> Self {
        Self(Box::new(Said::Text(text)))
    }
}

impl From<&str> for Reason {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

/// In English and SI.
impl Display for Reason {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        match &*self.0 {
            Said::Text(text) => f.write_str(text),
            Said::Named(phrase, blanks) => {
                let texts = blanks
                    .iter()
                    .map(|(name, blank)| (*name, blank.to_string()));
                let texts: Vec<(&str, String)> = texts.collect();
                let blanks = texts.iter().map(|(name, text)| (*name, text.as_str()));
                f.write_str(&filled(phrase.english, &blanks.collect::<Vec<_>>()))
            }
        }
    }
}

impl Display for Blank {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        match self {
            Blank::Name(name) => f.write_str(name),
            Blank::Quantity(pascal, RangeUnit::Pascal) => write!(f, "{:.4} MPa", pascal / 1e6),
            Blank::PressureSize(pascal) => write!(f, "{:.2} kPa", pascal / 1e3),
            Blank::Quantity(kelvin, RangeUnit::Kelvin) => write!(f, "{kelvin:.2} K"),
            Blank::Quantity(value, RangeUnit::None) => write!(f, "{value}"),
            Blank::Quantity(value, unit) => write!(f, "{value} {unit}"),
        }
    }
}
