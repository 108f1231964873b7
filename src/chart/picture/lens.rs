//! Bubble and dew temperature of a mixture of two against its composition, at given pressures.
//!
//! Beside it the ideal mixture of the same two: Raoult's law, p = sum x_i p_i(T) along the bubble
//! line and 1/p = sum y_i/p_i(T) along the dew line, with each one's own saturation pressure.

use super::super::Request;
use super::super::plot::{Axis, Scale, Stroke};
use super::{Drawn, Kind, Name, Subject, Trace, axis, nothing, pressures};
use crate::catalogue::{Basis, Catalogue};
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature, short};
use crate::{Error, Result};

/// Steps of composition from one component to the other.
const STEPS: usize = 40;

pub(super) fn draw(request: &Request, catalogue: &Catalogue) -> Result<Drawn> {
    let pressures = pressures(request, Kind::Lens)?;
    let (first, second, blend) = two(request)?;
    let pure = [
        Refrigerant::from_catalogue(catalogue, &first, Basis::Mass)?,
        Refrigerant::from_catalogue(catalogue, &second, Basis::Mass)?,
    ];
    let mut mixtures = Vec::new();
    for step in 0..=STEPS {
        let percent = 100.0 * step as f64 / STEPS as f64;
        let one = match step {
            0 => pure[1].clone(),
            STEPS => pure[0].clone(),
            _ => {
                let rest = short(100.0 - percent, 6);
                let literal = format!("{first}/{second} ({}/{rest})", short(percent, 6));
                Refrigerant::from_catalogue(catalogue, &literal, Basis::Mass)?
            }
        };
        mixtures.push((percent, one));
    }
    let read = |temperature: Temperature| request.temperature_unit.read(temperature);
    let mut curves = Vec::new();
    let mut marks = Vec::new();
    for pressure in pressures {
        let mut lines: [Vec<(f64, f64)>; 4] = Default::default();
        for (percent, mixture) in &mixtures {
            let found = [
                mixture.bubble_temperature(pressure).ok(),
                mixture.dew_temperature(pressure).ok(),
                ideal(&pure, mixture, pressure, false),
                ideal(&pure, mixture, pressure, true),
            ];
            for (line, temperature) in lines.iter_mut().zip(found) {
                line.extend(temperature.map(|temperature| (*percent, read(temperature))));
            }
        }
        let [bubble, dew, ideal_bubble, ideal_dew] = lines;
        for (name, points, stroke) in [
            (Name::At(pressure), bubble, Stroke::Solid),
            (Name::None, dew, Stroke::Dashed),
            (Name::None, ideal_bubble, Stroke::Dotted),
            (Name::None, ideal_dew, Stroke::Dotted),
        ] {
            if points.len() > 1 {
                curves.push(Trace {
                    name,
                    points,
                    stroke,
                });
            }
        }
        if let Some((percent, blend)) = &blend {
            let point = blend.dew_temperature(pressure).ok();
            let name = || Name::Refrigerant(blend.designation().to_owned());
            marks.extend(point.map(|temperature| (name(), (*percent, read(temperature)))));
        }
    }
    if curves.is_empty() {
        return Err(nothing("lens"));
    }
    let all = curves
        .iter()
        .flat_map(|curve| &curve.points)
        .map(|point| point.1);
    Ok(Drawn {
        subject: Subject::Lens { first, second },
        x: axis(0.0, 100.0, Scale::Linear),
        y: Axis::around("", all),
        curves,
        marks,
    })
}

/// The two components, and the blend of them where one was named.
#[allow(clippy::type_complexity)]
fn two(request: &Request) -> Result<(String, String, Option<(f64, Refrigerant)>)> {
    if let [blend] = request.refrigerants.as_slice()
        && let [first, second] = blend.components()
    {
        let percent = first.mass_fraction * 100.0;
        return Ok((
            first.designation.clone(),
            second.designation.clone(),
            Some((percent, blend.clone())),
        ));
    }
    match request.refrigerants.as_slice() {
        [first, second] if first.is_pure() && second.is_pure() => Ok((
            first.designation().to_owned(),
            second.designation().to_owned(),
            None,
        )),
        _ => Err(Error::Value {
            quantity: "picture",
            text: "lens".into(),
            problem: "is of two components".into(),
            hint: "name a blend of two, or two pure refrigerants".into(),
        }),
    }
}

/// Bubble or dew temperature of the ideal mixture, between the boiling points of its components.
fn ideal(
    pure: &[Refrigerant; 2],
    mixture: &Refrigerant,
    pressure: Pressure,
    is_dew: bool,
) -> Option<Temperature> {
    let share = |one: &Refrigerant| {
        let components = mixture.components();
        let named = |wanted: &&crate::catalogue::Component| wanted.designation == one.designation();
        components
            .iter()
            .find(named)
            .map_or(0.0, |found| found.mole_fraction)
    };
    let shares = [share(&pure[0]), share(&pure[1])];
    let boiling = [
        pure[0].bubble_temperature(pressure).ok()?.in_kelvin(),
        pure[1].bubble_temperature(pressure).ok()?.in_kelvin(),
    ];
    let (mut low, mut high) = (boiling[0].min(boiling[1]), boiling[0].max(boiling[1]));
    // Monotone in temperature, so that halving finds it; 40 halvings leave less than 1e-9 K.
    for _ in 0..40 {
        let middle = (low + high) / 2.0;
        let at = |one: &Refrigerant| {
            one.bubble_pressure(Temperature::kelvin(middle))
                .ok()
                .map(Pressure::in_pascal)
        };
        let (first, second) = (at(&pure[0])?, at(&pure[1])?);
        let found = if is_dew {
            1.0 / (shares[0] / first + shares[1] / second)
        } else {
            shares[0] * first + shares[1] * second
        };
        if found > pressure.in_pascal() {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(Temperature::kelvin((low + high) / 2.0))
}
