//! Temperature on the way from bubble to dew at one pressure, against the share of the heat taken
//! up: what an evaporator without loss of pressure shows along its length.

use super::super::Request;
use super::super::plot::{Axis, Curve, Plot, Scale, Stroke};
use super::{Kind, nothing, pressure_name, pressures};
use crate::Result;
use crate::refrigerant::{Given, Zero};

const STEPS: usize = 24;

pub(super) fn plot(request: &Request) -> Result<Plot> {
    let pressures = pressures(request, Kind::Coil)?;
    let mut curves = Vec::new();
    for refrigerant in &request.refrigerants {
        for pressure in &pressures {
            let Ok(ends) = refrigerant.saturation_at_pressure(*pressure, Zero::Usual) else {
                continue;
            };
            let (Some(bubble), Some(dew)) = (&ends.bubble, &ends.dew) else {
                continue;
            };
            let (from, to) = (bubble.liquid.enthalpy, dew.vapor.enthalpy);
            let mut points = vec![(0.0, request.temperature_unit.read(bubble.temperature))];
            for step in 1..STEPS {
                let share = step as f64 / STEPS as f64;
                let given = Given::PressureEnthalpy(*pressure, from + share * (to - from));
                let found = refrigerant.state(given, Zero::Usual).unwrap_or_default();
                points.extend(found.first().map(|state| {
                    let temperature = state.properties.temperature;
                    (100.0 * share, request.temperature_unit.read(temperature))
                }));
            }
            points.push((100.0, request.temperature_unit.read(dew.temperature)));
            let name = refrigerant.designation();
            let label = if pressures.len() > 1 {
                format!("{name}, {}", pressure_name(*pressure, request))
            } else {
                name.to_owned()
            };
            curves.push(Curve {
                label,
                points,
                stroke: Stroke::Solid,
            });
        }
    }
    if curves.is_empty() {
        return Err(nothing("coil"));
    }
    let at = match pressures.as_slice() {
        [only] => format!(" at {}", pressure_name(*only, request)),
        _ => String::new(),
    };
    let all = curves
        .iter()
        .flat_map(|curve| &curve.points)
        .map(|point| point.1);
    Ok(Plot {
        title: format!("Temperature along a coil{at}"),
        x: Axis {
            label: "heat taken up on the way from bubble to dew, %".into(),
            from: 0.0,
            to: 100.0,
            scale: Scale::Linear,
        },
        y: Axis::around(
            format!("temperature, {}", request.temperature_unit.symbol()),
            all,
        ),
        curves,
        marks: Vec::new(),
        notes: vec![
            "Without loss of pressure. A valve hands over some vapour already: an evaporator \
             begins some way to the right."
                .into(),
        ],
    })
}
