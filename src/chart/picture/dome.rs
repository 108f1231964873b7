//! Pressure against enthalpy: bubble and dew line, the critical point where they meet, isotherms.

use super::super::plot::{Axis, Scale, Stroke};
use super::super::{Request, Rows};
use super::{Drawn, Name, PictureSubject, Trace, axis, nothing};
use crate::refrigerant::{Given, ReferenceState, Refrigerant};
use crate::units::{EnthalpyUnit, Pressure, Temperature, TemperatureUnit};
use crate::{Error, Result};

/// Points on each line of the dome and on each part of an isotherm.
const POINTS: usize = 60;
const PART: usize = 40;

pub(super) fn draw(request: &Request) -> Result<Drawn> {
    let [refrigerant] = request.refrigerants.as_slice() else {
        return Err(Error::Value {
            quantity: "picture",
            text: "dome".into(),
            problem: "is of one refrigerant".into(),
            hint: "name one".into(),
        });
    };
    let fahrenheit = request.temperature_unit == TemperatureUnit::Fahrenheit;
    let unit = if fahrenheit {
        EnthalpyUnit::BtuPerPound
    } else {
        EnthalpyUnit::KilojoulePerKilogram
    };
    let pressure_unit = request.pressure_unit.absolute();
    let place = |enthalpy: f64, pressure: f64| {
        (
            enthalpy / unit.joule_per_kg(),
            pressure / pressure_unit.pascal(),
        )
    };
    let critical = refrigerant
        .critical_point()
        .ok_or_else(|| nothing("dome"))?;
    let (from, to) = ends(request, refrigerant)?;
    let top = to.min(critical.temperature.in_kelvin() * 0.9985);
    let (mut bubble, mut dew) = (Vec::new(), Vec::new());
    let mut zero = ReferenceState::Usual;
    for index in 0..=POINTS {
        // Both lines run flat towards their top, where temperatures lie close to each other.
        let rest = 1.0 - index as f64 / POINTS as f64;
        let temperature = top - (top - from) * rest * rest;
        let Ok(found) = refrigerant
            .saturation_at_temperature(Temperature::kelvin(temperature), ReferenceState::Usual)
        else {
            continue;
        };
        zero = found.zero;
        bubble.extend(
            found
                .bubble
                .map(|point| place(point.liquid.enthalpy, point.pressure.in_pascal())),
        );
        dew.extend(
            found
                .dew
                .map(|point| place(point.vapor.enthalpy, point.pressure.in_pascal())),
        );
    }
    let (Some(first), Some(last)) = (dew.first().copied(), dew.last().copied()) else {
        return Err(nothing("dome"));
    };
    let mut marks = Vec::new();
    let reaches = to > critical.temperature.in_kelvin();
    if reaches {
        let given = Given::TemperatureDensity(
            Temperature::kelvin(critical.temperature.in_kelvin() + 0.01),
            critical.density,
        );
        let states = refrigerant
            .state(given, ReferenceState::Usual)
            .unwrap_or_default();
        if let Some(state) = states.first() {
            let at = place(state.properties.enthalpy, critical.pressure.in_pascal());
            bubble.push(at);
            dew.push(at);
            marks.push((Name::CriticalPoint, at));
        }
    }
    let low = first.1 * 0.8;
    let high = if reaches { last.1 * 1.6 } else { last.1 * 1.3 };
    let mut curves = vec![
        Trace {
            name: Name::Bubble,
            points: bubble,
            stroke: Stroke::Solid,
        },
        Trace {
            name: Name::Dew,
            points: dew,
            stroke: Stroke::Dashed,
        },
    ];
    let read = |kelvin: f64| request.temperature_unit.read(Temperature::kelvin(kelvin));
    let scale = axis(read(from), read(to), Scale::Linear);
    let pascal = pressure_unit.pascal();
    for tick in scale.ticks(10) {
        let temperature = request.temperature_unit.write(tick.at);
        let points: Vec<(f64, f64)> =
            isotherm(refrigerant, temperature, low * pascal, high * pascal)
                .into_iter()
                .map(|(enthalpy, pressure)| place(enthalpy, pressure))
                .collect();
        if points.len() > 1 {
            curves.push(Trace {
                name: Name::Isotherm(tick.at),
                points,
                stroke: Stroke::Faint,
            });
        }
    }
    let enthalpies = curves
        .iter()
        .flat_map(|curve| &curve.points)
        .map(|point| point.0);
    Ok(Drawn {
        subject: PictureSubject::Dome {
            refrigerant: refrigerant.designation().to_owned(),
            unit,
            zero,
        },
        x: Axis::spanning("", enthalpies),
        y: axis(low, high, Scale::Logarithmic),
        curves,
        marks,
    })
}

/// The lowest and highest temperature among the rows, within the refrigerant's range.
fn ends(request: &Request, refrigerant: &Refrigerant) -> Result<(f64, f64)> {
    let Rows::Temperatures(values) = &request.rows else {
        return Err(Error::Value {
            quantity: "picture",
            text: "dome".into(),
            problem: "is drawn between two temperatures".into(),
            hint: "give rows by temperature, for example from -40C to 120C".into(),
        });
    };
    let limits = refrigerant.limits();
    let [low, high] = super::super::rows::ends(values)
        .map(|value| request.temperature_unit.write(value).in_kelvin());
    let low = low.max(limits.temperature_min.in_kelvin());
    let high = high.min(limits.temperature_max.in_kelvin());
    let critical = refrigerant
        .critical_point()
        .ok_or_else(|| nothing("dome"))?;
    if low < high && low < critical.temperature.in_kelvin() {
        Ok((low, high))
    } else {
        Err(nothing("dome"))
    }
}

/// Enthalpy, J/kg, and pressure, Pa, along an isotherm from high pressure to low.
pub(crate) fn isotherm(
    refrigerant: &Refrigerant,
    temperature: Temperature,
    low: f64,
    high: f64,
) -> Vec<(f64, f64)> {
    // States of one phase from one pressure down to another.
    let along = |from: f64, to: f64| -> Vec<(f64, f64)> {
        if from <= to {
            return Vec::new();
        }
        let point = |pressure: f64| {
            let given = Given::TemperaturePressure(temperature, Pressure::pascal(pressure));
            let found = refrigerant.state(given, ReferenceState::Usual).ok()?;
            Some((found.first()?.properties.enthalpy, pressure))
        };
        let points = (0..=PART)
            .map(|index| from * (to / from).powf(index as f64 / PART as f64))
            .filter_map(point)
            .collect();
        without_corners(points, point)
    };
    let saturated = refrigerant
        .saturation_at_temperature(temperature, ReferenceState::Usual)
        .ok()
        .and_then(|found| found.bubble.zip(found.dew));
    let Some((bubble, dew)) = saturated else {
        return along(high, low);
    };
    let (upper, lower) = (bubble.pressure.in_pascal(), dew.pressure.in_pascal());
    // Just off the two lines, whose own points are known.
    let mut points = along(high, upper * 1.0001);
    points.push((bubble.liquid.enthalpy, upper));
    points.extend((1..PART).filter_map(|index| {
        let given = Given::TemperatureQuality(temperature, index as f64 / PART as f64);
        let found = refrigerant.state(given, ReferenceState::Usual).ok()?;
        let state = &found.first()?.properties;
        Some((state.enthalpy, state.pressure.in_pascal()))
    }));
    points.push((dew.vapor.enthalpy, lower));
    points.extend(along(lower * 0.9999, low));
    points
}

/// Puts points between those that lie far apart in enthalpy: just above the critical temperature an
/// isotherm runs flat for a stretch.
fn without_corners(
    mut points: Vec<(f64, f64)>,
    point: impl Fn(f64) -> Option<(f64, f64)>,
) -> Vec<(f64, f64)> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return points;
    };
    let far = (last.0 - first.0).abs() / PART as f64;
    for _ in 0..6 {
        let mut finer = Vec::with_capacity(2 * points.len());
        for pair in points.windows(2) {
            finer.push(pair[0]);
            if (pair[1].0 - pair[0].0).abs() > far {
                finer.extend(point((pair[0].1 * pair[1].1).sqrt()));
            }
        }
        finer.extend(points.last().copied());
        points = finer;
    }
    points
}
