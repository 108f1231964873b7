//! Cycles drawn on pressure and enthalpy or on temperature and entropy.

use super::super::Style;
use super::super::words::cycle::*;
use super::CyclePicture;
use crate::chart::picture::isotherm;
use crate::chart::plot::{Axis, Curve, Mark, Plot, Stroke};
use crate::process::cycle::{Entry, Place, Point};
use crate::refrigerant::{Given, PhaseProperties, ReferenceState, Refrigerant};
use crate::units::{Pressure, Temperature};

/// Points on each line of a dome and on each leg of a cycle.
const POINTS: usize = 60;
const LEG: usize = 24;

/// A state on both planes: pressure Pa, enthalpy J/kg, temperature K, entropy J/(kg K).
#[derive(Clone, Copy)]
struct At {
    pressure: f64,
    enthalpy: f64,
    temperature: f64,
    entropy: f64,
}

impl At {
    const fn of(phase: &PhaseProperties) -> Self {
        Self {
            pressure: phase.pressure.in_pascal(),
            enthalpy: phase.enthalpy,
            temperature: phase.temperature.in_kelvin(),
            entropy: phase.entropy,
        }
    }

    const fn point(point: &Point) -> Self {
        Self {
            pressure: point.pressure.in_pascal(),
            enthalpy: point.enthalpy,
            temperature: point.temperature.in_kelvin(),
            entropy: point.entropy,
        }
    }

    fn on(self, plane: CyclePicture, style: &Style) -> (f64, f64) {
        let units = &style.units;
        match plane {
            CyclePicture::PressureEnthalpy => (
                self.enthalpy / units.enthalpy.joule_per_kg(),
                self.pressure / units.absolute.pascal(),
            ),
            CyclePicture::TemperatureEntropy => (
                self.entropy / units.entropy.joule_per_kg_k(),
                units
                    .temperature
                    .read(Temperature::kelvin(self.temperature)),
            ),
        }
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
        let drawn = |points: Vec<At>, label: &str, stroke| Curve {
            label: label.to_owned(),
            points: points.into_iter().map(|at| at.on(plane, style)).collect(),
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
                let isotherms = isotherms(refrigerant, points, lines, style);
                let isentropes = isentropes(refrigerant, points, lines, style);
                for (label, line) in isotherms.into_iter().chain(isentropes) {
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
                at: At::point(point).on(plane, style),
            }));
        }
    }
    let numbers = |read: fn(&(f64, f64)) -> f64| {
        let points = curves.iter().flat_map(|curve: &Curve| &curve.points);
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
                Axis::around(style.say(CYCLE_AXIS_ENTHALPY, &x), xs),
                Axis::logarithmic_around(style.say(CYCLE_AXIS_PRESSURE, &y), ys),
            )
        }
        CyclePicture::TemperatureEntropy => {
            let x = [("unit", units.entropy.typed())];
            let y = [("unit", units.temperature.symbol())];
            (
                CYCLE_PICTURE_TS,
                Axis::around(style.say(CYCLE_AXIS_ENTROPY, &x), xs),
                Axis::around(style.say(CYCLE_AXIS_TEMPERATURE, &y), ys),
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

/// Bubble and dew line from a pressure up to the critical point, where they meet.
fn dome(refrigerant: &Refrigerant, from: f64) -> Vec<Vec<At>> {
    let Some(critical) = refrigerant.critical_point() else {
        return Vec::new();
    };
    let top = 0.9985 * critical.temperature.in_kelvin();
    let coldest = refrigerant.limits().temperature_min.in_kelvin();
    let start = refrigerant.bubble_temperature(Pressure::pascal(from));
    let start = start.map_or(coldest, |at| at.in_kelvin().max(coldest));
    let (mut bubble, mut dew) = (Vec::new(), Vec::new());
    for index in 0..=POINTS {
        // Both lines run flat towards their top, where temperatures lie close to each other.
        let rest = 1.0 - index as f64 / POINTS as f64;
        let kelvin = Temperature::kelvin(top - (top - start) * rest * rest);
        let Ok(found) = refrigerant.saturation_at_temperature(kelvin, ReferenceState::Usual) else {
            continue;
        };
        bubble.extend(found.bubble.map(|point| At::of(&point.liquid)));
        dew.extend(found.dew.map(|point| At::of(&point.vapor)));
    }
    let warm = Temperature::kelvin(critical.temperature.in_kelvin() + 0.01);
    let given = Given::TemperatureDensity(warm, critical.density);
    let states = refrigerant
        .state(given, ReferenceState::Usual)
        .unwrap_or_default();
    if let Some(state) = states.first() {
        let at = At::of(&state.properties);
        bubble.push(at);
        dew.push(at);
    }
    vec![bubble, dew]
}

/// Lines of one quality at the pressures of the bubble line.
fn qualities(refrigerant: &Refrigerant, outline: &[Vec<At>]) -> Vec<(f64, Vec<At>)> {
    let pressures = || outline.first().into_iter().flatten().map(|at| at.pressure);
    let line = |quality: f64| {
        let state = |pascal: f64| {
            let given = Given::PressureQuality(Pressure::pascal(pascal), quality);
            let states = refrigerant.state(given, ReferenceState::Usual).ok()?;
            states.first().map(|state| At::of(&state.properties))
        };
        // The last pressure is the critical one, where all of them meet.
        let critical = outline.first().and_then(|line| line.last()).copied();
        let points = pressures().filter_map(state).chain(critical);
        (quality, points.collect())
    };
    [0.2, 0.4, 0.6, 0.8].map(line).into()
}

/// Isotherms at round temperatures from the evaporator to the discharge, over the pressures of the
/// bubble line.
fn isotherms(
    refrigerant: &Refrigerant,
    points: &[Point],
    outline: &[Vec<At>],
    style: &Style,
) -> Vec<(String, Vec<At>)> {
    let unit = style.units.temperature;
    let read = points.iter().map(|point| unit.read(point.temperature));
    let axis = Axis::around("", read);
    let bounds = outline
        .first()
        .and_then(|line| line.first().zip(line.last()));
    let Some((low, high)) = bounds else {
        return Vec::new();
    };
    let highest = points.iter().map(|point| point.pressure.in_pascal());
    let highest = highest.fold(high.pressure, f64::max);
    let line = |tick: crate::chart::plot::Tick| {
        let temperature = unit.write(tick.at);
        let along = isotherm(refrigerant, temperature, low.pressure, highest);
        let state = |(enthalpy, pressure)| At {
            pressure,
            enthalpy,
            temperature: temperature.in_kelvin(),
            // Not drawn on this plane.
            entropy: f64::NAN,
        };
        let text = style.sign(tick.text);
        let label = format!("{text} {}", unit.symbol());
        (label, along.into_iter().map(state).collect())
    };
    axis.ticks(7).into_iter().map(line).collect()
}

/// Isentropes of the vapor at round entropies, from the critical one to the largest of the cycle,
/// over the pressures of the bubble line.
fn isentropes(
    refrigerant: &Refrigerant,
    points: &[Point],
    outline: &[Vec<At>],
    style: &Style,
) -> Vec<(String, Vec<At>)> {
    let unit = style.units.entropy.joule_per_kg_k();
    let bounds = outline
        .last()
        .and_then(|line| line.first().zip(line.last()));
    let Some((low, high)) = bounds else {
        return Vec::new();
    };
    let highest = points.iter().map(|point| point.pressure.in_pascal());
    let highest = highest.fold(high.pressure, f64::max);
    let largest = points.iter().map(|point| point.entropy);
    let largest = largest.fold(high.entropy, f64::max);
    let axis = Axis::around("", [high.entropy / unit, largest / unit]);
    let line = |tick: crate::chart::plot::Tick| {
        let state = |step: usize| {
            let share = step as f64 / LEG as f64;
            let pascal = low.pressure * (highest / low.pressure).powf(share);
            let given = Given::PressureEntropy(Pressure::pascal(pascal), tick.at * unit);
            let states = refrigerant.state(given, ReferenceState::Usual).ok()?;
            let vapor = states.first().filter(|state| state.quality.is_none())?;
            Some(At::of(&vapor.properties))
        };
        let text = style.sign(tick.text.clone());
        let label = style.say(CYCLE_ENTROPY_LINE, &[("entropy", &text)]);
        (label, (0..=LEG).filter_map(state).collect())
    };
    axis.ticks(5).into_iter().map(line).collect()
}

/// The legs of a cycle, each along what the device does: heat at the pressure of its ends,
/// compression and expansion straight between their states.
fn legs(refrigerant: &Refrigerant, points: &[Point]) -> Vec<Vec<At>> {
    let get = |place: Place| points.iter().find(|point| point.place == place);
    let two_stages = get(Place::HighDischarge).is_some();
    let last = match two_stages {
        true => Place::HighDischarge,
        false => Place::Discharge,
    };
    let mut pairs = vec![
        (Place::EvaporatorInlet, Place::EvaporatorOutlet),
        (Place::EvaporatorOutlet, Place::Suction),
        (Place::Suction, Place::Discharge),
        (last, Place::LiquidLine),
    ];
    if two_stages {
        pairs.extend([
            (Place::Discharge, Place::HighSuction),
            (Place::HighSuction, Place::HighDischarge),
            (Place::LiquidLine, Place::IntermediateInlet),
            (Place::IntermediateInlet, Place::IntermediateVapor),
            (Place::IntermediateLiquid, Place::EvaporatorInlet),
        ]);
        // Of an economizer the liquid stays at its pressure; in a vessel it boils.
        let flashed = get(Place::IntermediateLiquid).zip(get(Place::IntermediateInlet));
        let is_open = flashed.is_some_and(|(liquid, inlet)| liquid.pressure == inlet.pressure);
        pairs.push(match is_open {
            true => (Place::IntermediateInlet, Place::IntermediateLiquid),
            false => (Place::LiquidLine, Place::IntermediateLiquid),
        });
    } else if get(Place::SubcooledLiquid).is_some() {
        pairs.push((Place::LiquidLine, Place::SubcooledLiquid));
        pairs.push((Place::SubcooledLiquid, Place::EvaporatorInlet));
    } else {
        pairs.push((Place::LiquidLine, Place::EvaporatorInlet));
    }
    let drawn = |(from, to): (Place, Place)| Some(leg(refrigerant, get(from)?, get(to)?));
    pairs.into_iter().filter_map(drawn).collect()
}

/// States in equal steps of enthalpy and of the logarithm of pressure; along an expansion the
/// enthalpy is the same, along a compression entropy rises evenly.
fn leg(refrigerant: &Refrigerant, from: &Point, to: &Point) -> Vec<At> {
    let compressed = matches!(to.place, Place::Discharge | Place::HighDischarge);
    let between = |index: usize| {
        let share = index as f64 / LEG as f64;
        let mean = |a: f64, b: f64| a + share * (b - a);
        let (a, b) = (from.pressure.in_pascal(), to.pressure.in_pascal());
        let pressure = Pressure::pascal(mean(a.ln(), b.ln()).exp());
        let given = match compressed {
            true => Given::PressureEntropy(pressure, mean(from.entropy, to.entropy)),
            false => Given::PressureEnthalpy(pressure, mean(from.enthalpy, to.enthalpy)),
        };
        let states = refrigerant.state(given, ReferenceState::Usual).ok()?;
        states.first().map(|state| At::of(&state.properties))
    };
    let mut points = vec![At::point(from)];
    points.extend((1..LEG).filter_map(between));
    points.push(At::point(to));
    points
}
