//! The one error type of the library, with a hint for whoever reads it.

mod reason;
pub(crate) mod reasons;

use thiserror::Error;

pub use reason::{Blank, Reason};

use crate::phrase::Phrase;

/// Shorthand for results of this crate.
pub type Result<T> = std::result::Result<T, Error>;

/// The SI unit of a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RangeUnit {
    /// K.
    Kelvin,
    /// Pa.
    Pascal,
    /// mol/m3.
    MolePerCubicMetre,
    /// kg/m3.
    KilogramPerCubicMetre,
    /// A pure number.
    None,
}

impl std::fmt::Display for RangeUnit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Kelvin => "K",
            Self::Pascal => "Pa",
            Self::MolePerCubicMetre => "mol/m3",
            Self::KilogramPerCubicMetre => "kg/m3",
            Self::None => "",
        })
    }
}

/// Why a question has no answer.
///
/// The message (`Display`) says what is wrong; [`Error::hint`] says what to do
/// about it. Both are complete English clauses without a trailing full stop.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum Error {
    /// No refrigerant is known by this name.
    #[error("unknown refrigerant '{name}'")]
    UnknownRefrigerant {
        /// What was asked for, as typed.
        name: String,
        /// The nearest known spellings, best first.
        nearest: Vec<String>,
    },
    /// The refrigerant is known but not included, for the reason given.
    #[error("{designation} is not included: {reason}")]
    Refused {
        /// The designation.
        designation: String,
        /// Why it is not included.
        reason: String,
    },
    /// The columns of a sheet do not say what is to be read.
    #[error("{problem}")]
    Columns {
        /// What is wrong with them.
        problem: String,
        /// What to do about it.
        hint: String,
        /// Headers of which some are to be chosen; as many as are to be read come first.
        choice: Vec<String>,
    },
    /// A gauge's accuracy is a part of its span, and the span is not known.
    #[error("the gauge accuracy is a part of the gauge's span, which is not given")]
    NoSpan,
    /// Dates of a file have two readings, and nothing says which number is the month.
    #[error("{file}: '{cell}' has two readings, month first or day first")]
    DateOrder {
        /// The file's name.
        file: String,
        /// Such a date.
        cell: String,
    },
    /// A composition literal does not say a composition.
    #[error("composition '{literal}': {problem}")]
    Composition {
        /// The literal as typed.
        literal: String,
        /// What is wrong with it.
        problem: String,
        /// What to write instead.
        hint: String,
    },
    /// A value as typed does not say a quantity.
    #[error("{quantity} '{text}' {problem}")]
    Value {
        /// Name of the quantity, for example `temperature`.
        quantity: &'static str,
        /// The text as typed.
        text: String,
        /// What is wrong with it: the rest of the sentence that begins with quantity and text.
        problem: String,
        /// What to write instead.
        hint: String,
    },
    /// A number is NaN or infinite.
    #[error("{quantity} {value} is not a finite number")]
    NotFinite {
        /// Name of the argument, for example `pressure`.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
    /// A quantity lies outside the range in which there is an answer.
    #[error("{quantity} {value} {unit} is outside {low} to {high} {unit} ({range})")]
    OutOfRange {
        /// Name of the quantity, for example `temperature`.
        quantity: &'static str,
        /// The value asked for, in `unit`.
        value: f64,
        /// Lower limit, in `unit`.
        low: f64,
        /// Upper limit, in `unit`.
        high: f64,
        /// SI unit of the three numbers.
        unit: RangeUnit,
        /// Which range this is, for example `saturation line of R-134a`.
        range: Reason,
    },
    /// A line of a blend lies above the pressures in which the blend is answered: a gas in it
    /// keeps it in two phases.
    #[error(
        "the {point} at {temperature} K lies above the pressure range, which ends at {pressure} Pa"
    )]
    AboveRange {
        /// Which point, for example `bubble point`.
        point: &'static str,
        /// Temperature asked for, K.
        temperature: f64,
        /// Highest pressure that is answered, Pa.
        pressure: f64,
    },
    /// A line of a blend lies below the temperatures in which the blend is answered: a gas in it is
    /// not yet a liquid there.
    #[error(
        "the {point} at {pressure} Pa lies below the temperature range, which begins at \
         {temperature} K"
    )]
    BelowRange {
        /// Which point, for example `bubble point`.
        point: &'static str,
        /// Pressure asked for, Pa.
        pressure: f64,
        /// Lowest temperature that is answered, K.
        temperature: f64,
    },
    /// There is no such state.
    #[error("no such state: {reason}")]
    NoState {
        /// Why.
        reason: Reason,
        /// What to ask instead.
        hint: String,
    },
    /// The arithmetic of a service call has no answer, for the reason given.
    #[error("{reason}")]
    NoAnswer {
        /// Why.
        reason: Reason,
        /// What to do instead.
        hint: String,
    },
    /// A point of a cycle has no state.
    #[error("point {point} ({place}): {cause}")]
    CyclePoint {
        /// The point's name, for example `3`.
        point: &'static str,
        /// Where it lies, for example `liquid line`.
        place: Phrase,
        /// Why there is none.
        cause: Box<Error>,
        /// What to do instead, where the cause does not say it.
        hint: Option<String>,
    },
    /// A solver ended without an answer.
    #[error("{question}: no solution found after {steps} steps (residual {residual:e})")]
    NotConverged {
        /// The question, for example `bubble point at given temperature`.
        question: Phrase,
        /// Steps taken.
        steps: usize,
        /// Residual where the solver stopped, dimensionless.
        residual: f64,
    },
    /// A data file is broken.
    #[error("{file}:{line}: {path}: {problem}")]
    Catalogue {
        /// The file's name.
        file: String,
        /// Line in the file, counted from 1; 0 where it is not known.
        line: usize,
        /// Key path inside the file, for example `residual.power.n`.
        path: String,
        /// What is wrong there.
        problem: String,
    },
    /// A reference state of enthalpy and entropy that this refrigerant does not have.
    #[error("{refrigerant} has no reference state '{asked}': {reason}")]
    ReferenceState {
        /// The refrigerant.
        refrigerant: String,
        /// The reference state asked for.
        asked: &'static str,
        /// Why there is none.
        reason: Reason,
        /// Those that exist.
        available: Vec<&'static str>,
    },
    /// The slices of a batch differ in length.
    #[error("{rows} rows were given room for {room} answers")]
    Lengths {
        /// Number of questions.
        rows: usize,
        /// Number of places for answers.
        room: usize,
    },
    /// A file could not be read or written.
    #[error("{file}: {problem}")]
    File {
        /// The file's name.
        file: String,
        /// What went wrong.
        problem: String,
        /// What to do.
        hint: String,
    },
}

/// What kind of error it is, for programs that decide by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ErrorKind {
    /// No refrigerant has this name, or it is known and not carried.
    UnknownRefrigerant,
    /// A text, a number or a choice that says no question.
    Input,
    /// A number that is NaN or infinite.
    NotFinite,
    /// Outside the range in which there is an answer.
    OutOfRange,
    /// There is no such state, or no answer for the reason told.
    NoAnswer,
    /// A solver ended without an answer.
    NotConverged,
    /// A data file is broken.
    Data,
    /// A file could not be read or written.
    File,
}

/// Refuses what is not finite; `quantity` names the argument.
pub(crate) fn finite(quantity: &'static str, value: f64) -> Result<f64> {
    if value.is_finite() {
        return Ok(value);
    }
    Err(Error::NotFinite { quantity, value })
}

impl Error {
    /// The same with another hint, where it is about a value that was typed.
    pub(crate) fn with_value_hint(mut self, other: &str) -> Self {
        if let Error::Value { hint, .. } = &mut self {
            other.clone_into(hint);
        }
        self
    }

    /// What kind of error it is; makes no text.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Refrigerant, error::ErrorKind, units::Temperature};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let error = r134a.dew_pressure(Temperature::kelvin(400.0)).unwrap_err();
    /// assert_eq!(error.kind(), ErrorKind::OutOfRange);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn kind(&self) -> ErrorKind {
        match self {
            Error::UnknownRefrigerant { .. } | Error::Refused { .. } => {
                ErrorKind::UnknownRefrigerant
            }
            Error::Columns { .. }
            | Error::NoSpan
            | Error::DateOrder { .. }
            | Error::Composition { .. }
            | Error::Value { .. }
            | Error::Lengths { .. }
            | Error::ReferenceState { .. } => ErrorKind::Input,
            Error::NotFinite { .. } => ErrorKind::NotFinite,
            Error::OutOfRange { .. } | Error::AboveRange { .. } | Error::BelowRange { .. } => {
                ErrorKind::OutOfRange
            }
            Error::NoState { .. } | Error::NoAnswer { .. } => ErrorKind::NoAnswer,
            Error::CyclePoint { cause, .. } => cause.kind(),
            Error::NotConverged { .. } => ErrorKind::NotConverged,
            Error::Catalogue { .. } => ErrorKind::Data,
            Error::File { .. } => ErrorKind::File,
        }
    }

    /// Says what to do about the error, where there is something to say.
    ///
    /// # Example
    /// ```
    /// let error = zeotrope::Error::UnknownRefrigerant {
    ///     name: "R-134".into(),
    ///     nearest: vec!["R-134a".into()],
    /// };
    /// assert_eq!(error.hint().unwrap(), "did you mean R-134a?");
    /// ```
    pub fn hint(&self) -> Option<String> {
        match self {
            Error::UnknownRefrigerant { nearest, .. } => match nearest.as_slice() {
                [] => None,
                nearest => Some(format!("did you mean {}?", nearest.join(", "))),
            },
            Error::Refused { .. } => None,
            Error::Composition { hint, .. }
            | Error::Columns { hint, .. }
            | Error::Value { hint, .. }
            | Error::NoState { hint, .. }
            | Error::NoAnswer { hint, .. }
            | Error::File { hint, .. } => Some(hint.clone()),
            Error::OutOfRange {
                quantity,
                low,
                high,
                unit,
                ..
            } => Some(format!("give a {quantity} from {low} to {high} {unit}")),
            Error::NotFinite { quantity, .. } => Some(format!("give a finite {quantity}")),
            Error::AboveRange { .. } => {
                Some("up to that pressure there are two phases; ask for the dew point".into())
            }
            Error::BelowRange { .. } => Some("take a higher pressure".into()),
            Error::NoSpan => Some("say the whole scale of the gauge, for example 500psi".into()),
            Error::DateOrder { .. } => Some("say which number of a date is the month".into()),
            Error::CyclePoint { cause, hint, .. } => hint.clone().or_else(|| cause.hint()),
            Error::NotConverged { .. } => None,
            Error::Lengths { .. } => Some("give slices of one length".into()),
            Error::Catalogue { .. } => Some("fluids/README.md describes every key".into()),
            Error::ReferenceState { available, .. } => {
                Some(format!("use {}", available.join(" or ")))
            }
        }
    }
}
