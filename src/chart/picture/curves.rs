//! Saturation pressure against temperature. The pressure is absolute: a logarithm has no place for
//! a gauge that reads nothing.

use super::super::plot::{Axis, Stroke};
use super::super::rows::ends;
use super::super::{Request, Rows};
use super::{AxisQuantity, Drawn, Name, Part, PictureSubject, Trace};
use crate::chart::reasons;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature};
use crate::{Error, Result};

/// Points along a curve: with 80 the broken line lies less than a tenth of a pixel off.
const POINTS: usize = 80;

pub(super) fn draw(request: &Request) -> Result<Drawn> {
    let unit = request.pressure_unit.absolute();
    let mut curves = Vec::new();
    let mut has_blend = false;
    for refrigerant in &request.refrigerants {
        let lines: &[(bool, Stroke)] = if refrigerant.is_pure() {
            &[(true, Stroke::Solid)]
        } else {
            has_blend = true;
            &[(true, Stroke::Solid), (false, Stroke::Dashed)]
        };
        for &(bubble, stroke) in lines {
            let points: Vec<(f64, f64)> = line(refrigerant, bubble, &request.rows, request)
                .into_iter()
                .map(|(temperature, pressure)| {
                    (
                        request.temperature_unit.read(temperature),
                        pressure.in_pascal() / unit.pascal(),
                    )
                })
                .collect();
            if points.len() < 2 {
                continue;
            }
            // The name stands once, at the first line of the refrigerant.
            let named = stroke == Stroke::Solid;
            let name = match named {
                true => Name::Refrigerant(refrigerant.designation().to_owned()),
                false => Name::None,
            };
            let part = if bubble { Part::Bubble } else { Part::Dew };
            curves.push(Trace::new(name, part, points).stroke(stroke));
        }
    }
    if curves.is_empty() {
        return Err(Error::NoState {
            reason: reasons::DRAWN_NO_LINE.into(),
            hint: "choose other rows".into(),
        });
    }
    let all = || curves.iter().flat_map(|curve| &curve.points);
    Ok(Drawn {
        subject: PictureSubject::Curves { has_blend },
        across: AxisQuantity::Temperature(request.temperature_unit),
        up: AxisQuantity::Pressure(unit),
        x: Axis::spanning("", all().map(|point| point.0)),
        y: Axis::logarithmic_around("", all().map(|point| point.1)),
        curves,
        marks: Vec::new(),
    })
}

/// Points of one line within the rows, up to the critical point where it lies among them.
fn line(
    refrigerant: &Refrigerant,
    bubble: bool,
    rows: &Rows,
    request: &Request,
) -> Vec<(Temperature, Pressure)> {
    let critical = refrigerant.critical_point();
    let mut points = Vec::new();
    match rows {
        Rows::Temperatures(values) => {
            let [from, to] = ends(values);
            let limits = refrigerant.limits();
            let from = request.temperature_unit.write(from).in_kelvin();
            let to = request.temperature_unit.write(to).in_kelvin();
            let from = from.max(limits.temperature_min.in_kelvin());
            let end = critical.map_or(to, |point| to.min(point.temperature.in_kelvin()));
            for index in 0..=POINTS {
                let share = index as f64 / POINTS as f64;
                let temperature = Temperature::kelvin(from + share * (end - from));
                let pressure = if bubble {
                    refrigerant.bubble_pressure(temperature)
                } else {
                    refrigerant.dew_pressure(temperature)
                };
                points.extend(pressure.ok().map(|pressure| (temperature, pressure)));
            }
            if let Some(point) = critical.filter(|point| point.temperature.in_kelvin() < to) {
                points.push((point.temperature, point.pressure));
            }
        }
        Rows::Pressures(values) => {
            let [from, to] = ends(values);
            let from = request.pressure_unit.write(from, &request.site).in_pascal();
            let to = request.pressure_unit.write(to, &request.site).in_pascal();
            let end = critical.map_or(to, |point| to.min(point.pressure.in_pascal()));
            for index in 0..=POINTS {
                let share = index as f64 / POINTS as f64;
                let pressure = Pressure::pascal(from * (end / from).powf(share));
                let temperature = if bubble {
                    refrigerant.bubble_temperature(pressure)
                } else {
                    refrigerant.dew_temperature(pressure)
                };
                points.extend(temperature.ok().map(|temperature| (temperature, pressure)));
            }
        }
    }
    points.retain(|(temperature, pressure)| {
        temperature.in_kelvin().is_finite() && pressure.in_pascal() > 0.0
    });
    points
}
