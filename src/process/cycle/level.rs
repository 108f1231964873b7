//! Pressures of evaporator and condenser, and states with the name of their point.

use super::answer::{Place, Point};
use super::question::{Kind, Level};
use crate::error::RangeUnit;
use crate::numeric::bracketed_root;
use crate::refrigerant::{Given, PhaseProperties, ReferenceState, Refrigerant, Saturation, State};
use crate::units::{Pressure, Temperature};
use crate::{Error, Result};

/// Width of the last bracket of ln p: a rounding or two of the pressure.
const LAST: f64 = 1e-14;

/// The state of two given properties, as a point.
pub(super) fn point(refrigerant: &Refrigerant, place: Place, given: Given) -> Result<Point> {
    if let Some(quick) = refrigerant.quick(given, ReferenceState::Usual) {
        return Ok(Point {
            place,
            temperature: Temperature::kelvin(quick.temperature),
            pressure: Pressure::pascal(quick.pressure),
            enthalpy: quick.enthalpy,
            entropy: quick.entropy,
            density: quick.density,
            quality: (!quick.quality.is_nan()).then_some(quick.quality),
        });
    }
    let state = at(place, refrigerant.state(given, ReferenceState::Usual))?;
    let one: &State = state.first().ok_or_else(|| {
        let cause = Error::NoState {
            reason: "none has these two properties".into(),
            hint: "change the temperatures of the cycle".into(),
        };
        error(place, cause, None)
    })?;
    Ok(of(place, &one.properties, one.quality))
}

/// A saturated phase as a point.
pub(super) fn of(place: Place, properties: &PhaseProperties, quality: Option<f64>) -> Point {
    Point {
        place,
        temperature: properties.temperature,
        pressure: properties.pressure,
        enthalpy: properties.enthalpy,
        entropy: properties.entropy,
        density: properties.density,
        quality,
    }
}

/// Bubble and dew point at a pressure, both of them.
pub(super) fn saturated(
    refrigerant: &Refrigerant,
    place: Place,
    pressure: Pressure,
) -> Result<Saturation> {
    let found = at(
        place,
        refrigerant.saturation_at_pressure(pressure, ReferenceState::Usual),
    )?;
    if found.bubble.is_none() {
        at(place, refrigerant.bubble_temperature(pressure))?;
    }
    if found.dew.is_none() {
        at(place, refrigerant.dew_temperature(pressure))?;
    }
    Ok(found)
}

/// A failure with the name of the point.
pub(super) fn at<T>(place: Place, found: Result<T>) -> Result<T> {
    found.map_err(|cause| error(place, cause, None))
}

pub(super) fn error(place: Place, cause: Error, hint: Option<&str>) -> Error {
    if matches!(cause, Error::CyclePoint { .. } | Error::NoAnswer { .. }) {
        return cause;
    }
    Error::CyclePoint {
        point: place.name(),
        place: place.text(),
        cause: Box::new(cause),
        hint: hint.map(str::to_owned),
    }
}

/// A temperature on the wrong side of another.
pub(super) fn outside(
    place: Place,
    quantity: &'static str,
    value: Temperature,
    (low, high): (Temperature, Temperature),
    range: &str,
) -> Error {
    let cause = Error::OutOfRange {
        quantity,
        value: value.in_kelvin(),
        low: low.in_kelvin(),
        high: high.in_kelvin(),
        unit: RangeUnit::Kelvin,
        range: range.into(),
    };
    error(place, cause, None)
}

/// The pressure at a level; `inlet` tells the temperature that enters an evaporator at a pressure
/// of its outlet, `drop` how much higher the pressure is where it enters, Pa.
pub(super) fn pressure(
    refrigerant: &Refrigerant,
    place: Place,
    level: Level,
    drop: f64,
    mut inlet: impl FnMut(Pressure) -> Result<Temperature>,
) -> Result<Pressure> {
    let (temperature, kind) = match level {
        Level::Pressure(pressure) => return Ok(pressure),
        Level::Temperature(temperature, kind) => (temperature, kind),
    };
    let dew = || at(place, refrigerant.dew_pressure(temperature));
    let bubble = || at(place, refrigerant.bubble_pressure(temperature));
    let mut enters = match kind {
        Kind::Dew => return dew(),
        Kind::Bubble => return bubble(),
        Kind::Mean | Kind::InletMean
            if refrigerant.is_pure() && (kind == Kind::Mean || drop == 0.0) =>
        {
            return dew();
        }
        Kind::Mean => None,
        Kind::InletMean => Some(&mut inlet),
    };
    let excess = |ln_p: f64| {
        let pressure = Pressure::pascal(ln_p.exp());
        let first = match &mut enters {
            Some(inlet) => inlet(pressure)?,
            None => at(place, refrigerant.bubble_temperature(pressure))?,
        };
        let last = at(place, refrigerant.dew_temperature(pressure))?;
        Ok((first.in_kelvin() + last.in_kelvin()) / 2.0 - temperature.in_kelvin())
    };
    // At the dew pressure of that temperature the mean lies below it, at its bubble pressure above;
    // a drop lifts the inlet by less than the drop in pressure does.
    let dew = dew()?.in_pascal();
    let low = (dew - drop).max(0.05 * dew);
    let root = bracketed_root(excess, low.ln(), bubble()?.in_pascal().ln(), LAST);
    at(place, root).map(|ln_p| Pressure::pascal(ln_p.exp()))
}
