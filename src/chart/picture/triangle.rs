//! Glide of three components against their composition, at a pressure: lines of equal dew minus
//! bubble temperature over the triangle of all compositions.

use super::super::Request;
use super::super::plot::{Scale, Stroke};
use super::compositions::{Compositions, Steps};
use super::contours::{Valued, levels, lines};
use super::kept::Kept;
use super::{
    AxisQuantity, Drawn, Name, Part, PictureKind, PictureSubject, Trace, axis, nothing, pressures,
};
use crate::catalogue::{Basis, Catalogue};
use crate::chart::reasons;
use crate::process::azeotrope::AzeotropeAt;
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::units::TemperatureDifference;
use crate::{Error, Result};

/// Steps of composition along a side: 231 compositions.
const STEPS: usize = 20;
/// Lines of equal glide, about.
const LINES: usize = 7;

/// The glides in K that were found last, with their places.
static GLIDES: Kept<Vec<Option<Valued>>> = Kept::new(2);

pub(super) fn draw(request: &Request, catalogue: &Catalogue) -> Result<Drawn> {
    let pressures = pressures(request, PictureKind::Triangle)?;
    let (names, blend) = three(request)?;
    let [pressure] = pressures[..] else {
        return Err(Error::Value {
            quantity: "picture",
            text: PictureKind::Triangle.name().into(),
            problem: "is drawn at one pressure".into(),
            hint: "give one pressure, for example 5bara".into(),
        });
    };
    let unit = request.temperature_unit;
    let mixtures = Compositions::new(catalogue, &names, STEPS)?;
    let at = AzeotropeAt::Pressure(pressure);
    let found = GLIDES.found(catalogue, &names, (Basis::Mass, at), || {
        glides(&mixtures, at)
    });
    let values: Vec<Option<Valued>> = found
        .iter()
        .map(|one| {
            let (at, kelvin) = (*one)?;
            Some((
                at,
                unit.read_difference(TemperatureDifference::kelvin(kelvin)),
            ))
        })
        .collect();
    let triangles = triangles(&values);
    let most = values.iter().flatten().map(|one| one.1).fold(0.0, f64::max);
    let mut curves = vec![edge()];
    for level in levels(most, LINES) {
        for points in lines(&triangles, level) {
            // Thin, so that its figure stands on the line itself.
            let line = Trace::new(Name::Difference(level), Part::EqualGlide, points);
            curves.push(line.stroke(Stroke::Faint));
        }
    }
    if triangles.is_empty() || curves.len() == 1 {
        return Err(nothing(reasons::DRAWN_NOTHING_OF_TRIANGLE));
    }
    let mut marks = Vec::new();
    if let Some(blend) = blend {
        let own: Vec<f64> = blend
            .components()
            .iter()
            .map(|one| one.mass_fraction)
            .collect();
        let at = (100.0 * own[0], 100.0 * own[1]);
        marks.push((Name::Refrigerant(blend.designation().to_owned()), at));
        let found = blend
            .exact()
            .saturation_at_pressure(pressure, ReferenceState::IdealGas);
        let bubble = found.ok().and_then(|found| found.bubble);
        curves.extend(bubble.map(|bubble| {
            let vapor = &bubble.vapor.mass_fractions;
            let points = vec![at, (100.0 * vapor[0], 100.0 * vapor[1])];
            Trace::new(Name::None, Part::Tie, points).stroke(Stroke::Faint)
        }));
    }
    let [first, second, third] = names;
    let (across, up) = (first.clone(), second.clone());
    Ok(Drawn {
        subject: PictureSubject::Triangle {
            first,
            second,
            third,
            pressure,
        },
        across: AxisQuantity::MassFraction(across),
        up: AxisQuantity::MassFraction(up),
        x: axis(0.0, 100.0, Scale::Linear),
        y: axis(0.0, 100.0, Scale::Linear),
        curves,
        marks,
    })
}

/// The three components, and the blend of them where one was named.
fn three(request: &Request) -> Result<([String; 3], Option<&Refrigerant>)> {
    if let [blend] = request.refrigerants.as_slice()
        && let [first, second, third] = blend.components()
    {
        let names = [first, second, third].map(|one| one.designation.clone());
        return Ok((names, Some(blend)));
    }
    match request.refrigerants.as_slice() {
        [first, second, third] if request.refrigerants.iter().all(Refrigerant::is_pure) => {
            let names = [first, second, third].map(|one| one.designation().to_owned());
            Ok((names, None))
        }
        _ => Err(Error::Value {
            quantity: "picture",
            text: PictureKind::Triangle.name().into(),
            problem: "is of three components".into(),
            hint: "name a blend of three, or three pure refrigerants".into(),
        }),
    }
}

/// The side along which there is nothing of the third.
fn edge() -> Trace {
    Trace::new(Name::None, Part::Edge, vec![(0.0, 100.0), (100.0, 0.0)])
}

/// Glide in K at all compositions, by the steps of the first and the second, where there is one.
fn glides(mixtures: &Compositions<'_>, at: AzeotropeAt) -> Vec<Option<Valued>> {
    let all: Vec<Steps> = compositions().collect();
    let is_pure = |steps: &Steps| steps.contains(&STEPS);
    let mixed: Vec<Steps> = all.iter().filter(|one| !is_pure(one)).cloned().collect();
    let mut ends = mixtures.ends(&mixed, at).into_iter();
    let percent = |step: usize| 100.0 * step as f64 / STEPS as f64;
    all.iter()
        .map(|steps| {
            let at = (percent(steps[0]), percent(steps[1]));
            if is_pure(steps) {
                return Some((at, 0.0));
            }
            let [bubble, dew] = ends.next()?;
            Some((at, dew?.temperature - bubble?.temperature))
        })
        .collect()
}

/// Every composition, the first's steps outside, the second's inside.
fn compositions() -> impl Iterator<Item = Steps> {
    (0..=STEPS).flat_map(|first| {
        (0..=STEPS - first).map(move |second| vec![first, second, STEPS - first - second])
    })
}

/// The small triangles whose corners all have a value.
fn triangles(values: &[Option<Valued>]) -> Vec<[Valued; 3]> {
    let at = |first: usize, second: usize| -> Option<Valued> {
        let before = (0..first).map(|row| STEPS + 1 - row).sum::<usize>();
        values[before + second]
    };
    let mut found = Vec::new();
    for first in 0..STEPS {
        for second in 0..STEPS - first {
            let corners = [
                at(first, second),
                at(first + 1, second),
                at(first, second + 1),
            ];
            found.extend(all(corners));
            if first + second + 2 <= STEPS {
                let upper = [
                    at(first + 1, second + 1),
                    at(first + 1, second),
                    at(first, second + 1),
                ];
                found.extend(all(upper));
            }
        }
    }
    found
}

fn all([a, b, c]: [Option<Valued>; 3]) -> Option<[Valued; 3]> {
    Some([a?, b?, c?])
}
