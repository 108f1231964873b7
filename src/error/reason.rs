//! Why there is no answer: a sentence by name with its figures, so that a page can say it in another
//! language and in its own units.

use std::fmt::{Display, Formatter};

use super::{Error, RangeUnit};
use crate::Warning;
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
    /// What is wrong inside what is told.
    Problem(Box<Error>),
    /// What is told of a warning.
    Warning(Box<Warning>),
}

/// Why, as a clause without a full stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason(Box<Said>);

#[derive(Debug, Clone, PartialEq)]
struct Said {
    phrase: Phrase,
    blanks: Vec<(&'static str, Blank)>,
}

impl Reason {
    /// The phrase and what fills its blanks.
    pub fn phrase(&self) -> (Phrase, &[(&'static str, Blank)]) {
        (self.0.phrase, &self.0.blanks)
    }

    /// The same with a name in one of its blanks.
    pub(crate) fn of(phrase: Phrase, blank: &'static str, name: &str) -> Self {
        Self::with(phrase, blank, Blank::Name(name.to_owned()))
    }

    /// A phrase with one blank.
    pub(crate) fn with(phrase: Phrase, blank: &'static str, filled: Blank) -> Self {
        Self::from(phrase).and(blank, filled)
    }

    /// The same with one more blank.
    pub(crate) fn and(mut self, blank: &'static str, filled: Blank) -> Self {
        self.0.blanks.push((blank, filled));
        self
    }
}

impl From<Phrase> for Reason {
    fn from(phrase: Phrase) -> Self {
        let blanks = Vec::new();
        Self(Box::new(Said { phrase, blanks }))
    }
}

/// In English and SI.
impl Display for Reason {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        let texts = self.0.blanks.iter();
        let texts: Vec<(&str, String)> = texts
            .map(|(name, blank)| (*name, blank.to_string()))
            .collect();
        let blanks = texts.iter().map(|(name, text)| (*name, text.as_str()));
        f.write_str(&filled(self.0.phrase.english, &blanks.collect::<Vec<_>>()))
    }
}

impl Display for Blank {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        match self {
            Blank::Name(name) => f.write_str(name),
            Blank::Problem(problem) => problem.fmt(f),
            Blank::Warning(warning) => warning.fmt(f),
            Blank::Quantity(pascal, RangeUnit::Pascal) => write!(f, "{:.4} MPa", pascal / 1e6),
            Blank::PressureSize(pascal) => write!(f, "{:.2} kPa", pascal / 1e3),
            Blank::Quantity(kelvin, RangeUnit::Kelvin) => write!(f, "{kelvin:.2} K"),
            Blank::Quantity(value, RangeUnit::None) => write!(f, "{value}"),
            Blank::Quantity(value, unit) => write!(f, "{value} {unit}"),
        }
    }
}
