//! Bubble and dew temperature of a mixture of two against its composition, at given pressures.
//!
//! Beside it the ideal mixture of the same two: Raoult's law, p = sum x_i p_i(T) along the bubble
//! line and 1/p = sum y_i/p_i(T) along the dew line, with each one's own saturation pressure.

use super::super::Request;
use super::super::plot::{Axis, Scale, Stroke};
use super::compositions::{Compositions, Steps};
use super::{Drawn, Name, PictureKind, PictureSubject, Trace, axis, nothing, pressures};
use crate::catalogue::{Basis, Catalogue};
use crate::numeric::bracketed_root;
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::units::{Pressure, Temperature};
use crate::{Error, Result};

/// Steps of composition from one component to the other.
const STEPS: usize = 40;

pub(super) fn draw(request: &Request, catalogue: &Catalogue) -> Result<Drawn> {
    let pressures = pressures(request, PictureKind::Lens)?;
    let (first, second, blend) = two(request)?;
    let names = [first.clone(), second.clone()];
    let pure = [
        Refrigerant::from_catalogue(catalogue, &first, Basis::Mass)?,
        Refrigerant::from_catalogue(catalogue, &second, Basis::Mass)?,
    ];
    let mixtures = Compositions::new(catalogue, &names, STEPS)?;
    let between: Vec<Steps> = (1..STEPS).map(|step| vec![step, STEPS - step]).collect();
    let read = |temperature: Temperature| request.temperature_unit.read(temperature);
    let mut curves = Vec::new();
    let mut marks = Vec::new();
    let mut ties = Vec::new();
    for pressure in pressures {
        let mut lines: [Vec<(f64, f64)>; 4] = Default::default();
        let mixed = mixtures.ends(&between, pressure);
        let end = |one: &Refrigerant| one.bubble_temperature(pressure).ok();
        let (right, left) = (end(&pure[0]), end(&pure[1]));
        for step in 0..=STEPS {
            let percent = 100.0 * step as f64 / STEPS as f64;
            let [bubble, dew] = match step {
                0 => [left, left],
                STEPS => [right, right],
                _ => mixed[step - 1],
            };
            let x = shares(&mixtures, &names, step);
            let alone = right.zip(left);
            let ideal = |is_dew| ideal(&pure, x, alone?, pressure, is_dew);
            let found = [bubble, dew, ideal(false), ideal(true)];
            for (line, temperature) in lines.iter_mut().zip(found) {
                line.extend(temperature.map(|temperature| (percent, read(temperature))));
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
            let found = blend
                .exact()
                .saturation_at_pressure(pressure, ReferenceState::IdealGas)
                .ok();
            let name = || Name::Refrigerant(blend.designation().to_owned());
            let dew = found.as_ref().and_then(|found| found.dew.as_ref());
            marks.extend(dew.map(|dew| (name(), (*percent, read(dew.temperature)))));
            let bubble = found.as_ref().and_then(|found| found.bubble.as_ref());
            ties.extend(bubble.map(|bubble| {
                let at = read(bubble.temperature);
                let vapor = 100.0 * bubble.vapor.mass_fractions[0];
                Trace {
                    name: Name::None,
                    points: vec![(*percent, at), (vapor, at)],
                    stroke: Stroke::Faint,
                }
            }));
        }
    }
    if curves.is_empty() {
        return Err(nothing("lens"));
    }
    let all = curves.iter().flat_map(|curve| &curve.points);
    let y = Axis::spanning("", all.map(|point| point.1));
    // Tie lines stand last: a curve without a name belongs to the one before it.
    curves.extend(ties);
    Ok(Drawn {
        subject: PictureSubject::Lens { first, second },
        x: axis(0.0, 100.0, Scale::Linear),
        y,
        curves,
        marks,
    })
}

/// Mole fractions of the two, in their order, at a step.
fn shares(mixtures: &Compositions<'_>, names: &[String; 2], step: usize) -> [f64; 2] {
    let share = step as f64 / STEPS as f64;
    let moles = mixtures.mole_fractions(&[share, 1.0 - share]);
    match names[0] < names[1] {
        true => [moles[0], moles[1]],
        false => [moles[1], moles[0]],
    }
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

/// Bubble or dew temperature of the ideal mixture of mole fractions `x`, between the boiling points
/// of its components.
fn ideal(
    pure: &[Refrigerant; 2],
    x: [f64; 2],
    alone: (Temperature, Temperature),
    pressure: Pressure,
    is_dew: bool,
) -> Option<Temperature> {
    let at = |one: &Refrigerant, kelvin: f64| {
        let found = one.bubble_pressure(Temperature::kelvin(kelvin))?;
        Ok::<f64, Error>(found.in_pascal())
    };
    // ln p is nearly straight in 1/T.
    let error = |inverse: f64| {
        let (first, second) = (at(&pure[0], 1.0 / inverse)?, at(&pure[1], 1.0 / inverse)?);
        let found = match is_dew {
            true => 1.0 / (x[0] / first + x[1] / second),
            false => x[0] * first + x[1] * second,
        };
        Ok((found / pressure.in_pascal()).ln())
    };
    let ends = (alone.0.in_kelvin(), alone.1.in_kelvin());
    if x[0] == 1.0 || x[1] == 1.0 || ends.0 == ends.1 {
        return Some(if x[0] == 1.0 { alone.0 } else { alone.1 });
    }
    let root = bracketed_root(error, 1.0 / ends.0, 1.0 / ends.1, 1e-12).ok()?;
    Some(Temperature::kelvin(1.0 / root))
}
