//! What a picture of a cycle is drawn from: dome, lines of quality, isotherms and isentropes, the
//! legs of the cycle, as states on both planes.

use super::isotherm;
use crate::chart::plot::{Axis, Tick};
use crate::process::cycle::{Place, Point};
use crate::refrigerant::{Given, PhaseProperties, ReferenceState, Refrigerant};
use crate::units::{EntropyUnit, Pressure, Temperature, TemperatureUnit};

/// Points on each line of a dome and on each leg of a cycle.
const POINTS: usize = 60;
const LEG: usize = 24;

/// A state on both planes: pressure Pa, enthalpy J/kg, temperature K, entropy J/(kg K).
#[derive(Clone, Copy)]
pub(crate) struct PlanePoint {
    pub(crate) pressure: f64,
    pub(crate) enthalpy: f64,
    pub(crate) temperature: f64,
    pub(crate) entropy: f64,
}

impl PlanePoint {
    pub(crate) const fn of(phase: &PhaseProperties) -> Self {
        Self {
            pressure: phase.pressure.in_pascal(),
            enthalpy: phase.enthalpy,
            temperature: phase.temperature.in_kelvin(),
            entropy: phase.entropy,
        }
    }

    pub(crate) const fn point(point: &Point) -> Self {
        Self {
            pressure: point.pressure.in_pascal(),
            enthalpy: point.enthalpy,
            temperature: point.temperature.in_kelvin(),
            entropy: point.entropy,
        }
    }
}

/// Bubble and dew line from a pressure up to the critical point, where they meet.
pub(crate) fn dome(refrigerant: &Refrigerant, from: f64) -> Vec<Vec<PlanePoint>> {
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
        bubble.extend(found.bubble.map(|point| PlanePoint::of(&point.liquid)));
        dew.extend(found.dew.map(|point| PlanePoint::of(&point.vapor)));
    }
    let warm = Temperature::kelvin(critical.temperature.in_kelvin() + 0.01);
    let given = Given::TemperatureDensity(warm, critical.density);
    let states = refrigerant
        .state(given, ReferenceState::Usual)
        .unwrap_or_default();
    if let Some(state) = states.first() {
        let at = PlanePoint::of(&state.properties);
        bubble.push(at);
        dew.push(at);
    }
    vec![bubble, dew]
}

/// Lines of one quality at the pressures of the bubble line.
pub(crate) fn qualities(
    refrigerant: &Refrigerant,
    outline: &[Vec<PlanePoint>],
) -> Vec<(f64, Vec<PlanePoint>)> {
    let pressures = || outline.first().into_iter().flatten().map(|at| at.pressure);
    let line = |quality: f64| {
        let state = |pascal: f64| {
            let given = Given::PressureQuality(Pressure::pascal(pascal), quality);
            let states = refrigerant.state(given, ReferenceState::Usual).ok()?;
            states
                .first()
                .map(|state| PlanePoint::of(&state.properties))
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
pub(crate) fn isotherms(
    refrigerant: &Refrigerant,
    points: &[Point],
    outline: &[Vec<PlanePoint>],
    unit: TemperatureUnit,
) -> Vec<(Tick, Vec<PlanePoint>)> {
    let read = points.iter().map(|point| unit.read(point.temperature));
    let axis = Axis::spanning("", read);
    let bounds = outline
        .first()
        .and_then(|line| line.first().zip(line.last()));
    let Some((low, high)) = bounds else {
        return Vec::new();
    };
    let highest = points.iter().map(|point| point.pressure.in_pascal());
    let highest = highest.fold(high.pressure, f64::max);
    let line = |tick: Tick| {
        let temperature = unit.write(tick.at);
        let along = isotherm(refrigerant, temperature, low.pressure, highest);
        let state = |(enthalpy, pressure)| PlanePoint {
            pressure,
            enthalpy,
            temperature: temperature.in_kelvin(),
            // Not drawn on this plane.
            entropy: f64::NAN,
        };
        (tick, along.into_iter().map(state).collect())
    };
    axis.ticks(7).into_iter().map(line).collect()
}

/// Isentropes of the vapor at round entropies, from the critical one to the largest of the cycle,
/// over the pressures of the bubble line.
pub(crate) fn isentropes(
    refrigerant: &Refrigerant,
    points: &[Point],
    outline: &[Vec<PlanePoint>],
    unit: EntropyUnit,
) -> Vec<(Tick, Vec<PlanePoint>)> {
    let unit = unit.joule_per_kg_k();
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
    let axis = Axis::spanning("", [high.entropy / unit, largest / unit]);
    let line = |tick: Tick| {
        let state = |step: usize| {
            let share = step as f64 / LEG as f64;
            let pascal = low.pressure * (highest / low.pressure).powf(share);
            let given = Given::PressureEntropy(Pressure::pascal(pascal), tick.at * unit);
            let states = refrigerant.state(given, ReferenceState::Usual).ok()?;
            let vapor = states.first().filter(|state| state.quality.is_none())?;
            Some(PlanePoint::of(&vapor.properties))
        };
        let points: Vec<_> = (0..=LEG).filter_map(state).collect();
        (tick, points)
    };
    // one state alone is no line
    let lines = axis.ticks(5).into_iter().map(line);
    lines.filter(|(_, points)| points.len() > 1).collect()
}

/// The legs of a cycle, each along what the device does: heat at the pressure of its ends,
/// compression and expansion straight between their states.
pub(crate) fn legs(refrigerant: &Refrigerant, points: &[Point]) -> Vec<Vec<PlanePoint>> {
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
fn leg(refrigerant: &Refrigerant, from: &Point, to: &Point) -> Vec<PlanePoint> {
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
        states
            .first()
            .map(|state| PlanePoint::of(&state.properties))
    };
    let mut points = vec![PlanePoint::point(from)];
    points.extend((1..LEG).filter_map(between));
    points.push(PlanePoint::point(to));
    points
}
