//! What is wrong, in the style's language and units.

use super::Style;
use super::warning::sentence;
use super::words::Phrase;
use super::words::errors::*;
use crate::Branch;
use crate::error::{Blank, Error, RangeUnit, Reason};
use crate::units::{Pressure, Temperature, short};

/// What is wrong, and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Wrong {
    /// What is wrong.
    pub message: String,
    /// What to do about it.
    pub hint: String,
}

/// What is wrong and what to do instead; `None` for an error whose message is the same in every
/// style.
pub fn in_words(error: &Error, style: &Style) -> Option<Wrong> {
    if let Error::CyclePoint {
        point,
        place,
        cause,
        hint,
    } = error
    {
        let cause = in_words(cause, style)?;
        let blanks = [
            ("point", *point),
            ("place", &style.word(*place)),
            ("cause", &cause.message),
        ];
        return Some(Wrong {
            message: style.say(CYCLE_POINT_FAILS, &blanks),
            hint: hint.clone().unwrap_or(cause.hint),
        });
    }
    if let Error::AboveRange { .. } | Error::BelowRange { .. } = error {
        return Some(Wrong {
            message: reason(error, style),
            hint: error.hint()?,
        });
    }
    if let Error::NoState { hint, .. } | Error::NoAnswer { hint, .. } = error {
        return Some(Wrong {
            message: reason(error, style),
            hint: hint.clone(),
        });
    }
    let Error::OutOfRange {
        quantity,
        value,
        low,
        high,
        unit,
        range,
    } = error
    else {
        return None;
    };
    let (of_temperature, of_pressure) = (style.units.temperature, style.units.pressure);
    let (read, name, decimals): (Box<dyn Fn(f64) -> f64>, _, usize) = match *unit {
        RangeUnit::Kelvin => (
            Box::new(|kelvin| of_temperature.read(Temperature::kelvin(kelvin))),
            of_temperature.symbol(),
            2,
        ),
        RangeUnit::Pascal => (
            Box::new(|pascal| of_pressure.read(Pressure::pascal(pascal), &style.site)),
            of_pressure.words(),
            if of_pressure.pascal() > 1e4 { 5 } else { 2 },
        ),
        _ => return None,
    };
    // A vacuum counts downwards.
    let (low, high) = match (read(*low), read(*high)) {
        (low, high) if low <= high => (low, high),
        (low, high) => (high, low),
    };
    // Rounded inwards, so that the limits named are answered themselves.
    let scale = 10f64.powi(decimals as i32);
    let low = style.fixed((low * scale).ceil() / scale, decimals);
    let high = style.fixed((high * scale).floor() / scale, decimals);
    let quantity = match *quantity {
        "temperature" => style.word(QUANTITY_TEMPERATURE),
        "pressure" => style.word(QUANTITY_PRESSURE),
        other => other.to_owned(),
    };
    let blanks = [
        ("quantity", quantity.as_str()),
        ("value", &style.sign(short(read(*value), 7))),
        ("unit", name),
        ("low", &low),
        ("high", &high),
        ("range", &clause(range, style)),
    ];
    Some(Wrong {
        message: style.say(OUT_OF_RANGE, &blanks),
        hint: style.say(GIVE_WITHIN, &blanks),
    })
}

/// What is wrong.
///
/// In the style's language, but for what only a question's own text can cause: files, compositions
/// and values as they were typed, which are no part of a page.
pub(crate) fn reason(error: &Error, style: &Style) -> String {
    match error {
        Error::OutOfRange { .. } => {
            in_words(error, style).map_or_else(|| error.to_string(), |wrong| wrong.message)
        }
        Error::AboveRange {
            temperature,
            pressure,
            ..
        } => at_range(ABOVE_RANGE, (*temperature, *pressure), style),
        Error::BelowRange {
            point,
            temperature,
            pressure,
        } => {
            let phrase = if *point == Branch::Dew.point() {
                DEW_BELOW_RANGE
            } else {
                BUBBLE_BELOW_RANGE
            };
            at_range(phrase, (*temperature, *pressure), style)
        }
        Error::CyclePoint {
            point,
            place,
            cause,
            ..
        } => {
            let cause = reason(cause, style);
            let place = style.word(*place);
            let blanks = [("point", *point), ("place", &place), ("cause", &cause)];
            style.say(CYCLE_POINT_FAILS, &blanks)
        }
        Error::NoState { reason, .. } => {
            style.say(NO_SUCH_STATE, &[("reason", &clause(reason, style))])
        }
        Error::NoAnswer { reason, .. } => clause(reason, style),
        Error::NotConverged {
            question, steps, ..
        } => {
            let (question, steps) = (style.word(*question), steps.to_string());
            style.say(NO_SOLUTION, &[("question", &question), ("steps", &steps)])
        }
        other => other.to_string(),
    }
}

/// A reason or a range, its figures in the style's units.
fn clause(why: &Reason, style: &Style) -> String {
    let (phrase, blanks) = why.phrase();
    let text = |blank: &Blank| match *blank {
        Blank::Quantity(kelvin, RangeUnit::Kelvin) => {
            style.temperature(Temperature::kelvin(kelvin))
        }
        Blank::Quantity(pascal, RangeUnit::Pascal) => {
            style.pressure(Pressure::pascal(pascal), style.units.pressure)
        }
        Blank::PressureSize(pascal) => style.pressure_size(pascal),
        Blank::Problem(ref problem) => reason(problem, style),
        Blank::Warning(ref warning) => sentence(warning, style),
        Blank::Quantity(..) => style.sign(blank.to_string()),
        Blank::Name(ref name) => name.clone(),
    };
    let texts: Vec<(&str, String)> = blanks
        .iter()
        .map(|(name, one)| (*name, text(one)))
        .collect();
    let blanks = texts.iter().map(|(name, text)| (*name, text.as_str()));
    style.say(phrase, &blanks.collect::<Vec<_>>())
}

/// A phrase about a temperature in K and a pressure in Pa.
fn at_range(phrase: Phrase, (temperature, pressure): (f64, f64), style: &Style) -> String {
    let temperature = style.temperature(Temperature::kelvin(temperature));
    let pressure = style.pressure(Pressure::pascal(pressure), style.units.pressure);
    let blanks = [
        ("temperature", temperature.as_str()),
        ("pressure", &pressure),
    ];
    style.say(phrase, &blanks)
}
