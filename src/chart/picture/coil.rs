//! Temperature on the way from bubble to dew at one pressure, against the share of the heat taken
//! up: what an evaporator without pressure drop shows along its length.

use super::super::Request;
use super::super::plot::{Axis, Scale, Stroke};
use super::{Drawn, Name, PictureKind, PictureSubject, Trace, axis, nothing, pressures};
use crate::Result;
use crate::process::coil::Coil;
use crate::refrigerant::ReferenceState;

pub(super) fn draw(request: &Request) -> Result<Drawn> {
    let pressures = pressures(request, PictureKind::Coil)?;
    let mut curves = Vec::new();
    for refrigerant in &request.refrigerants {
        for pressure in &pressures {
            let Ok(coil) = Coil::evaporator(refrigerant, *pressure, None, ReferenceState::Usual)
            else {
                continue;
            };
            let stations = coil.stations.iter().map(|station| {
                let temperature = request.temperature_unit.read(station.temperature);
                (100.0 * station.position, temperature)
            });
            let name = refrigerant.designation().to_owned();
            curves.push(Trace {
                name: if pressures.len() > 1 {
                    Name::RefrigerantAt(name, *pressure)
                } else {
                    Name::Refrigerant(name)
                },
                points: stations.collect(),
                stroke: Stroke::Solid,
            });
        }
    }
    if curves.is_empty() {
        return Err(nothing("coil"));
    }
    let all = curves.iter().flat_map(|curve| &curve.points);
    Ok(Drawn {
        subject: PictureSubject::Coil {
            pressure: match pressures.as_slice() {
                [only] => Some(*only),
                _ => None,
            },
        },
        x: axis(0.0, 100.0, Scale::Linear),
        y: Axis::spanning("", all.map(|point| point.1)),
        curves,
        marks: Vec::new(),
    })
}
