//! Why a run ends without an answer, and how that is told.

pub(crate) mod usage;

use std::io::Write;

use crate::Exit;
use zeotrope::Error;
use zeotrope::page::{Style, in_words};

/// Why a run ends without an answer.
#[derive(Debug)]
pub(crate) struct Failure {
    message: String,
    hint: Option<String>,
    exit: Exit,
}

impl Failure {
    /// The question was put wrongly.
    pub(crate) fn usage(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            hint: Some(hint.into()),
            exit: Exit::WrongUsage,
        }
    }

    /// There is no answer.
    pub(crate) fn no_answer(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            hint: Some(hint.into()),
            exit: Exit::NoAnswer,
        }
    }

    /// The reader has closed its end: nothing is wrong and nothing to tell.
    pub(crate) fn closed_pipe() -> Self {
        Self {
            message: String::new(),
            hint: None,
            exit: Exit::Done,
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        self.exit
    }

    /// As [`Failure::from`], a range told in the units of the question.
    pub(crate) fn in_style(error: Error, style: &Style) -> Self {
        match in_words(&error, style) {
            Some(wrong) => Self::no_answer(wrong.message, wrong.hint),
            None => error.into(),
        }
    }

    /// What is wrong, without the hint.
    pub(crate) fn message(&self) -> &str {
        &self.message
    }

    /// Says which option a value was given to.
    pub(crate) fn of_option(mut self, option: &str) -> Self {
        self.message = format!("{option}: {}", self.message);
        self
    }

    /// Writes the error and its hint, and says how the run ends.
    pub(crate) fn tell(&self, err: &mut dyn Write, colour: bool) -> Exit {
        if self.message.is_empty() {
            return self.exit;
        }
        let label = |text: &str, style: anstyle::Style| {
            if colour {
                format!("{style}{text}{style:#}")
            } else {
                text.to_owned()
            }
        };
        let red = anstyle::AnsiColor::Red.on_default().bold();
        let blue = anstyle::AnsiColor::Cyan.on_default().bold();
        let mut text = format!("{} {}\n", label("error:", red), shown(&self.message));
        if let Some(hint) = &self.hint {
            text.push_str(&format!("{} {}\n", label("hint:", blue), shown(hint)));
        }
        // With standard error closed there is no one left to tell.
        let _ = err.write_all(text.as_bytes());
        let _ = err.flush();
        self.exit
    }
}

/// Results of the library, told as a failure of the program.
pub(crate) trait OrFailure<Value> {
    /// As of an option's value.
    fn of_option(self, option: &str) -> Result<Value, Failure>;
    /// As of the option of a field of arguments, such as `args.pressure_drop`.
    fn of_field(self, field: &str) -> Result<Value, Failure>;
    /// A range in the units of the question.
    fn in_style(self, style: &Style) -> Result<Value, Failure>;
}

impl<Value> OrFailure<Value> for zeotrope::Result<Value> {
    fn of_option(self, option: &str) -> Result<Value, Failure> {
        self.map_err(|error| Failure::from(error).of_option(option))
    }

    fn of_field(self, field: &str) -> Result<Value, Failure> {
        self.map_err(|error| {
            let field = field.rsplit('.').next().unwrap_or_default().trim();
            Failure::from(error).of_option(&format!("--{}", field.replace('_', "-")))
        })
    }

    fn in_style(self, style: &Style) -> Result<Value, Failure> {
        self.map_err(|error| Failure::in_style(error, style))
    }
}

/// What was typed may hold control characters; shown as they are they could steer a terminal.
pub(crate) fn shown(text: &str) -> String {
    text.chars()
        .map(|character| match character {
            '\n' => character,
            other if other.is_control() => '\u{FFFD}',
            other => other,
        })
        .collect()
}

impl From<Error> for Failure {
    fn from(error: Error) -> Self {
        let exit = match error {
            Error::Value { .. }
            | Error::Composition { .. }
            | Error::Columns { .. }
            | Error::DateOrder { .. }
            | Error::NoSpan => Exit::WrongUsage,
            _ => Exit::NoAnswer,
        };
        let own = match error {
            Error::UnknownRefrigerant { .. } | Error::Refused { .. } => {
                "'zeotrope list' names every refrigerant that is included"
            }
            _ => "take a point farther from the ends of the range, which 'zeotrope show' names",
        };
        Self {
            message: error.to_string(),
            hint: option_hint(&error)
                .or_else(|| error.hint())
                .or_else(|| Some(own.to_owned())),
            exit,
        }
    }
}

/// Which option mends an error that a library cannot know of.
fn option_hint(error: &Error) -> Option<String> {
    match error {
        Error::NoSpan => {
            Some("add the whole scale of the gauge, for example --gauge-span 500psi".into())
        }
        Error::DateOrder { .. } => {
            Some("add --date-order month-first or --date-order day-first".into())
        }
        Error::Columns { choice, .. } if !choice.is_empty() => {
            Some(format!("say which: --column {}", choice.join(",")))
        }
        _ => None,
    }
}
