//! How far a gauge may be off, as its maker or a standard states it.
//!
//! Classes of analogue gauges, limits in % of span: ASME B40.100 grades 4A 0.1, 3A 0.25, 2A 0.5,
//! 1A 1, and A 2-1-2, B 3-2-3, C 4-3-4 (outer quarters, middle half, outer), D 5; EN 837-1 classes
//! 0.1 0.25 0.6 1 1.6 2.5 4. Both lists from memory.

use crate::units::parse_pressure_difference;
use crate::{Error, Result};

/// Grades of ASME B40.100: name, % of span in the outer quarters and in the middle half.
const B40_GRADES: [(&str, f64, f64); 8] = [
    ("4A", 0.1, 0.1),
    ("3A", 0.25, 0.25),
    ("2A", 0.5, 0.5),
    ("1A", 1.0, 1.0),
    ("A", 2.0, 1.0),
    ("B", 3.0, 2.0),
    ("C", 4.0, 3.0),
    ("D", 5.0, 5.0),
];

/// Classes of EN 837-1, each its % of span.
const EN_CLASSES: [f64; 7] = [0.1, 0.25, 0.6, 1.0, 1.6, 2.5, 4.0];

/// A gauge's limits of error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GaugeAccuracy {
    /// The same everywhere, Pa.
    Limit(f64),
    /// Fractions of the span, in the outer quarters of the scale and in its middle half.
    OfSpan {
        /// Outer quarters.
        outer: f64,
        /// Middle half.
        middle: f64,
    },
    /// A fraction of what is shown.
    OfReading(f64),
}

fn wrong(text: &str, problem: impl Into<String>, hint: impl Into<String>) -> Error {
    Error::Value {
        quantity: "gauge accuracy",
        text: text.chars().take(40).collect(),
        problem: problem.into(),
        hint: hint.into(),
    }
}

impl GaugeAccuracy {
    /// Reads an accuracy such as `0.25%span`, `1%reading`, `3.5psi`, `B40.100 2A` or
    /// `EN 837-1 class 1.0`.
    ///
    /// # Errors
    /// [`Error::Value`] where it is none of these, is not above zero, or a percentage does not say
    /// of what.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::accuracy::GaugeAccuracy;
    /// let grade_a = GaugeAccuracy::parse("ASME B40.100 A")?;
    /// let span = 3.0e6;
    /// assert_eq!(grade_a.limit(1.5e6, Some(span))?, 0.01 * span); // in the middle half
    /// assert_eq!(grade_a.limit(0.3e6, Some(span))?, 0.02 * span); // in a quarter at an end
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self> {
        let clean = text.trim();
        let lower = clean.to_lowercase();
        let everywhere = |percent: f64| Self::OfSpan {
            outer: percent / 100.0,
            middle: percent / 100.0,
        };
        if let Some((_, name)) = lower.split_once("b40.100") {
            let name = name.trim().trim_start_matches("grade").trim();
            return B40_GRADES
                .iter()
                .find(|(grade, ..)| grade.eq_ignore_ascii_case(name))
                .map(|(_, outer, middle)| Self::OfSpan {
                    outer: outer / 100.0,
                    middle: middle / 100.0,
                })
                .ok_or_else(|| {
                    wrong(
                        text,
                        format!("'{name}' is no grade of ASME B40.100"),
                        "use one of 4A 3A 2A 1A A B C D, for example 'B40.100 2A'",
                    )
                });
        }
        if let Some((_, name)) = lower.split_once("837-1") {
            let name = name.trim().trim_start_matches("class").trim();
            return name
                .parse::<f64>()
                .ok()
                .filter(|class| EN_CLASSES.contains(class))
                .map(everywhere)
                .ok_or_else(|| {
                    wrong(
                        text,
                        format!("'{name}' is no class of EN 837-1"),
                        "use one of 0.1 0.25 0.6 1 1.6 2.5 4, for example 'EN 837-1 class 1.6'",
                    )
                });
        }
        if let Some((number, of)) = clean.split_once('%') {
            let percent = number.trim().parse::<f64>().ok();
            let Some(percent) = percent.filter(|value| *value > 0.0 && *value <= 100.0) else {
                return Err(wrong(
                    text,
                    "is not a percentage above 0 and up to 100",
                    "write for example 0.25%span or 1%reading",
                ));
            };
            return match of.trim().to_lowercase().as_str() {
                "span" | "fs" | "full scale" | "of span" => Ok(everywhere(percent)),
                "reading" | "rdg" | "of reading" => Ok(Self::OfReading(percent / 100.0)),
                "" => Err(wrong(
                    text,
                    "does not say of what",
                    format!(
                        "write {percent}%span (of the whole scale) or {percent}%reading (of what \
                         is shown)"
                    ),
                )),
                other => Err(wrong(
                    text,
                    format!("'{other}' is not what a percentage can be of"),
                    format!("write {percent}%span or {percent}%reading"),
                )),
            };
        }
        let limit = parse_pressure_difference(clean).map_err(|error| {
            let problem = match error {
                Error::Value { problem, .. } => problem,
                other => other.to_string(),
            };
            wrong(
                text,
                problem,
                "write for example 0.25%span, 1%reading, 3.5psi, 'B40.100 2A' or \
                 'EN 837-1 class 1.6'",
            )
        })?;
        if limit > 0.0 {
            Ok(Self::Limit(limit))
        } else {
            Err(wrong(
                text,
                "is not above zero",
                "leave it out where the accuracy is not known",
            ))
        }
    }

    /// The limit of error in Pa at a figure shown.
    ///
    /// # Units
    /// `shown` in Pa from the gauge's zero, negative in a vacuum; `span` in Pa, from that zero.
    ///
    /// # Errors
    /// [`Error::Value`] where the span is needed and not given, or the figure lies above it.
    pub fn limit(&self, shown: f64, span: Option<f64>) -> Result<f64> {
        if let Some(span) = span
            && shown > span * (1.0 + 1e-9)
        {
            return Err(Error::Value {
                quantity: "gauge span",
                text: format!("{:.0} kPa ({:.0} psi)", span / 1e3, psi(span)),
                problem: format!(
                    "ends below the reading of {:.0} kPa ({:.0} psi)",
                    shown / 1e3,
                    psi(shown)
                ),
                hint: "give the whole scale of the gauge, from zero to its last figure".into(),
            });
        }
        match *self {
            Self::Limit(limit) => Ok(limit),
            Self::OfReading(fraction) => Ok(fraction * shown.abs()),
            Self::OfSpan { outer, middle } => {
                let span = span.ok_or(Error::NoSpan)?;
                let place = shown / span;
                let inside = (0.25..=0.75).contains(&place);
                Ok(span * if inside { middle } else { outer })
            }
        }
    }
}

fn psi(pascal: f64) -> f64 {
    pascal / crate::units::PASCAL_PER_PSI
}

/// Reads the whole scale of a gauge, such as `500psi`, in Pa.
///
/// # Errors
/// [`Error::Value`] where it is no difference of pressures or not above zero.
///
/// # Example
/// ```
/// assert_eq!(zeotrope::service::measurement::accuracy::parse_span("35bar")?, 3.5e6);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_span(text: &str) -> Result<f64> {
    let span = parse_pressure_difference(text)?;
    if span > 0.0 {
        return Ok(span);
    }
    Err(Error::Value {
        quantity: "gauge span",
        text: text.to_owned(),
        problem: "is not above zero".into(),
        hint: "give the whole scale of the gauge, for example 500psi".into(),
    })
}
