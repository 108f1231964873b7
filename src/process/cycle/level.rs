//! Pressures of evaporator and condenser, and states with the name of their point.

use super::answer::{Place, Point};
use super::question::{CoilTemperature, Level, refused};
use crate::error::RangeUnit;
use crate::numeric::bracketed_root;
use crate::phrase::Phrase;
use crate::process::reasons;
use crate::refrigerant::{Given, PhaseProperties, Quick, ReferenceState, Refrigerant, State};
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result, Warning};

/// Width of the last bracket of ln p: a rounding or two of the pressure.
const LAST: f64 = 1e-14;

/// Bubble and dew point at a pressure: saturated liquid and saturated vapor.
pub(super) struct Ends {
    pub(super) bubble: Point,
    pub(super) dew: Point,
    pub(super) zero: ReferenceState,
    pub(super) warnings: Vec<Warning>,
}

impl Ends {
    /// Dew minus bubble temperature.
    pub(super) fn glide(&self) -> TemperatureDifference {
        self.dew.temperature - self.bubble.temperature
    }
}

/// The state of two given properties, as a point.
pub(super) fn point(refrigerant: &Refrigerant, place: Place, given: Given) -> Result<Point> {
    if let Some(quick) = refrigerant.quick(given, ReferenceState::Usual) {
        return Ok(quickly(place, &quick));
    }
    let state = naming_point(place, refrigerant.state(given, ReferenceState::Usual))?;
    let one: &State = state.first().ok_or_else(|| {
        let cause = Error::NoState {
            reason: crate::error::reasons::REASON_NONE.into(),
            hint: "change the temperatures of the cycle".into(),
        };
        error(place, cause, None)
    })?;
    Ok(of(place, &one.properties, one.quality))
}

fn quickly(place: Place, quick: &Quick) -> Point {
    Point {
        place,
        temperature: Temperature::kelvin(quick.temperature),
        pressure: Pressure::pascal(quick.pressure),
        enthalpy: quick.enthalpy,
        entropy: quick.entropy,
        density: quick.density,
        quality: (!quick.quality.is_nan()).then_some(quick.quality),
    }
}

fn of(place: Place, properties: &PhaseProperties, quality: Option<f64>) -> Point {
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
) -> Result<Ends> {
    let zero = ReferenceState::Usual;
    if let Some(ends) = refrigerant.quick_ends(pressure, zero) {
        let saturated = |quick| Point {
            quality: None,
            ..quickly(place, quick)
        };
        return Ok(Ends {
            bubble: saturated(&ends.liquid),
            dew: saturated(&ends.vapor),
            zero: ends.zero,
            warnings: ends.warnings,
        });
    }
    let found = naming_point(place, refrigerant.saturation_at_pressure(pressure, zero))?;
    let missing = |end: Result<Temperature>| match naming_point(place, end) {
        Err(error) => error,
        Ok(_) => refused(reasons::CYCLE_END_MISSING, "lower the pressure"),
    };
    let bubble = found.bubble.as_ref();
    let bubble = bubble.ok_or_else(|| missing(refrigerant.bubble_temperature(pressure)))?;
    let dew = found.dew.as_ref();
    let dew = dew.ok_or_else(|| missing(refrigerant.dew_temperature(pressure)))?;
    Ok(Ends {
        bubble: of(place, &bubble.liquid, None),
        dew: of(place, &dew.vapor, None),
        zero: found.zero,
        warnings: found.warnings,
    })
}

/// The saturated vapor at a pressure; none above the two-phase region.
pub(super) fn saturated_vapor(refrigerant: &Refrigerant, pressure: Pressure) -> Option<Point> {
    let (place, zero) = (Place::IdealDischarge, ReferenceState::Usual);
    if let Some(vapor) = refrigerant.quick(Given::PressureQuality(pressure, 1.0), zero) {
        return Some(quickly(place, &vapor));
    }
    let found = refrigerant.saturation_at_pressure(pressure, zero).ok()?;
    found.dew.map(|dew| of(place, &dew.vapor, None))
}

/// Pressure at the outlet and state at the inlet of an evaporator with a mean of inlet and dew
/// temperature, where curves tell both.
pub(super) fn inlet_mean(
    refrigerant: &Refrigerant,
    mean: Temperature,
    enthalpy: f64,
    drop: f64,
) -> Option<(Pressure, Point)> {
    let zero = ReferenceState::Usual;
    let (outlet, inlet) = refrigerant.quick_inlet_mean(mean, enthalpy, drop, zero)?;
    Some((outlet, quickly(Place::EvaporatorInlet, &inlet)))
}

/// A failure with the name of the point.
pub(super) fn naming_point<T>(place: Place, found: Result<T>) -> Result<T> {
    found.map_err(|cause| error(place, cause, None))
}

pub(super) fn error(place: Place, cause: Error, hint: Option<&str>) -> Error {
    if matches!(cause, Error::CyclePoint { .. } | Error::NoAnswer { .. }) {
        return cause;
    }
    Error::CyclePoint {
        point: place.name(),
        place: place.phrase(),
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
    range: Phrase,
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
    let dew = || naming_point(place, refrigerant.dew_pressure(temperature));
    let bubble = || naming_point(place, refrigerant.bubble_pressure(temperature));
    let mut enters = match kind {
        CoilTemperature::Dew => return dew(),
        CoilTemperature::Bubble => return bubble(),
        CoilTemperature::Mean | CoilTemperature::InletMean
            if refrigerant.is_pure() && (kind == CoilTemperature::Mean || drop == 0.0) =>
        {
            return dew();
        }
        CoilTemperature::Mean => None,
        CoilTemperature::InletMean => Some(&mut inlet),
    };
    let excess = |ln_p: f64| {
        let pressure = Pressure::pascal(ln_p.exp());
        let first = match &mut enters {
            Some(inlet) => inlet(pressure)?,
            None => naming_point(place, refrigerant.bubble_temperature(pressure))?,
        };
        let last = naming_point(place, refrigerant.dew_temperature(pressure))?;
        Ok((first.in_kelvin() + last.in_kelvin()) / 2.0 - temperature.in_kelvin())
    };
    // At the dew pressure of that temperature the mean lies below it, at its bubble pressure above;
    // a drop lifts the inlet by less than the drop in pressure does.
    let dew = dew()?.in_pascal();
    let low = (dew - drop).max(0.05 * dew);
    let root = bracketed_root(excess, low.ln(), bubble()?.in_pascal().ln(), LAST);
    naming_point(place, root).map(|ln_p| Pressure::pascal(ln_p.exp()))
}
