//! Cycles drawn on pressure and enthalpy or on temperature and entropy.

use super::super::Style;
use super::super::words::cycle::*;
use super::CyclePicture;
use crate::chart::picture::cycle::{PlanePoint, dome, isentropes, isotherms, legs, qualities};
use crate::chart::plot::{Axis, Mark, Plot, PlotCurve, Stroke};
use crate::process::cycle::{Entry, Place};
use crate::refrigerant::Refrigerant;
use crate::units::Temperature;

/// Where a state lies on a plane, in the style's units.
fn on(at: PlanePoint, plane: CyclePicture, style: &Style) -> (f64, f64) {
    let units = &style.units;
    match plane {
        CyclePicture::PressureEnthalpy => (
            at.enthalpy / units.enthalpy.joule_per_kg(),
            at.pressure / units.absolute.pascal(),
        ),
        CyclePicture::TemperatureEntropy => (
            at.entropy / units.entropy.joule_per_kg_k(),
            units.temperature.read(Temperature::kelvin(at.temperature)),
        ),
    }
}

/// The picture of the cycles that were found.
pub(super) fn plot<'a>(
    plane: CyclePicture,
    entries: impl Iterator<Item = (&'a Entry, &'a Refrigerant)>,
    names: &str,
    style: &Style,
) -> Plot {
    let strokes = [Stroke::Solid, Stroke::Dashed, Stroke::Dotted];
    let (mut curves, mut marks) = (Vec::new(), Vec::new());
    let entries: Vec<_> = entries.collect();
    let is_one = entries.len() == 1;
    for ((entry, refrigerant), stroke) in entries.iter().zip(strokes.into_iter().cycle()) {
        let Ok(found) = &entry.found else { continue };
        let drawn = |points: Vec<PlanePoint>, label: &str, stroke| PlotCurve {
            label: label.to_owned(),
            points: points.into_iter().map(|at| on(at, plane, style)).collect(),
            stroke,
        };
        let lowest = found.points.iter().map(|point| point.pressure.in_pascal());
        let lowest = lowest.fold(f64::INFINITY, f64::min);
        let outline = dome(refrigerant, 0.6 * lowest);
        if is_one {
            for (quality, line) in qualities(refrigerant, &outline) {
                let quality = style.fixed(quality, 1);
                let label = style.say(CYCLE_QUALITY_LINE, &[("quality", &quality)]);
                curves.push(drawn(line, &label, Stroke::Faint));
            }
            if plane == CyclePicture::PressureEnthalpy {
                let (points, lines) = (&found.points, &outline);
                let unit = style.units.temperature;
                for (tick, line) in isotherms(refrigerant, points, lines, unit) {
                    let label = format!("{} {}", style.sign(tick.text), unit.symbol());
                    curves.push(drawn(line, &label, Stroke::Faint));
                }
                let unit = style.units.entropy;
                for (tick, line) in isentropes(refrigerant, points, lines, unit) {
                    let entropy = style.sign(tick.text);
                    let label = style.say(CYCLE_ENTROPY_LINE, &[("entropy", &entropy)]);
                    curves.push(drawn(line, &label, Stroke::Faint));
                }
            }
        }
        for line in outline {
            let stroke = if is_one {
                Stroke::Dashed
            } else {
                Stroke::Faint
            };
            curves.push(drawn(line, "", stroke));
        }
        let mut label = entry.identity.refrigerant.as_str();
        for leg in legs(refrigerant, &found.points) {
            curves.push(drawn(leg, label, stroke));
            label = "";
        }
        if is_one {
            let real = found.points.iter().filter(|point| {
                !matches!(
                    point.place,
                    Place::IdealDischarge | Place::IdealHighDischarge
                )
            });
            marks.extend(real.map(|point| Mark {
                label: point.place.name().to_owned(),
                at: on(PlanePoint::point(point), plane, style),
            }));
        }
    }
    let numbers = |read: fn(&(f64, f64)) -> f64| {
        let points = curves.iter().flat_map(|curve: &PlotCurve| &curve.points);
        points.map(read).collect::<Vec<f64>>()
    };
    let (xs, ys) = (numbers(|at| at.0), numbers(|at| at.1));
    let units = &style.units;
    let (title, x, y) = match plane {
        CyclePicture::PressureEnthalpy => {
            let x = [("unit", units.enthalpy.typed())];
            let y = [("unit", units.absolute.words())];
            (
                CYCLE_PICTURE_PH,
                Axis::spanning(style.say(CYCLE_AXIS_ENTHALPY, &x), xs),
                Axis::logarithmic_around(style.say(CYCLE_AXIS_PRESSURE, &y), ys),
            )
        }
        CyclePicture::TemperatureEntropy => {
            let x = [("unit", units.entropy.typed())];
            let y = [("unit", units.temperature.symbol())];
            (
                CYCLE_PICTURE_TS,
                Axis::spanning(style.say(CYCLE_AXIS_ENTROPY, &x), xs),
                Axis::spanning(style.say(CYCLE_AXIS_TEMPERATURE, &y), ys),
            )
        }
    };
    Plot {
        title: style.say(title, &[("refrigerants", names)]),
        x,
        y,
        curves,
        marks,
        notes: vec![match (is_one, plane) {
            (false, _) => style.word(CYCLE_PICTURE_DOMES),
            (true, CyclePicture::PressureEnthalpy) => {
                style.say(CYCLE_PICTURE_LINES, &[("unit", units.entropy.typed())])
            }
            (true, CyclePicture::TemperatureEntropy) => style.word(CYCLE_PICTURE_QUALITIES),
        }],
    }
}
