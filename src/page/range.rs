//! A range that a value lies outside of, in the style's units.

use super::Style;
use super::words::properties::{GIVE_WITHIN, OUT_OF_RANGE};
use crate::error::{Error, RangeUnit};
use crate::units::{Pressure, Temperature, short};

/// What is wrong and what to give instead; `None` for an error that is not about a temperature or
/// a pressure outside a range.
pub fn out_of_range(error: &Error, style: &Style) -> Option<(String, String)> {
    if let Error::CyclePoint {
        point,
        place,
        cause,
        hint,
    } = error
    {
        let (message, own) = out_of_range(cause, style)?;
        let hint = hint.clone().unwrap_or(own);
        return Some((format!("point {point} ({place}): {message}"), hint));
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
    let blanks = [
        ("quantity", *quantity),
        ("value", &style.sign(short(read(*value), 7))),
        ("unit", name),
        ("low", &low),
        ("high", &high),
        ("range", range),
    ];
    Some((
        style.say(OUT_OF_RANGE, &blanks),
        style.say(GIVE_WITHIN, &blanks),
    ))
}

/// What is wrong, a range in the style's units.
pub(crate) fn reason(error: &Error, style: &Style) -> String {
    out_of_range(error, style).map_or_else(|| error.to_string(), |(reason, _)| reason)
}
