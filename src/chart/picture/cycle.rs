//! What a picture of a cycle is drawn from: dome, lines of quality, isotherms and isentropes, the
//! legs of the cycle, as states on both planes.

use super::isolines::{Isoline, Isolines, Valued};
use super::outline::Outline;
use super::plane::{Plane, PlanePoint, Window};
use crate::process::cycle::{Place, Point};
use crate::refrigerant::{Given, Refrigerant};
use crate::units::{Pressure, UnitSet};

/// Points on each leg of a cycle.
const LEG: usize = 24;

/// What stands behind a cycle: its dome, and lines where one cycle is drawn alone.
pub(crate) struct Behind {
    /// Bubble and dew line up to the critical point.
    pub(crate) outline: [Vec<PlanePoint>; 2],
    /// Lines of one property.
    pub(crate) lines: Vec<(Isoline, Valued)>,
}

/// The dome behind a cycle's points, with lines of these kinds.
pub(crate) fn behind(
    refrigerant: &Refrigerant,
    points: &[Point],
    plane: Plane,
    (kinds, units): (&[Isoline], &UnitSet),
) -> Option<Behind> {
    let all = |read: fn(&Point) -> f64| {
        let ends = (f64::INFINITY, f64::NEG_INFINITY);
        points
            .iter()
            .map(read)
            .fold(ends, |(low, high), one| (low.min(one), high.max(one)))
    };
    let pressures = all(|point| point.pressure.in_pascal());
    let temperatures = all(|point| point.temperature.in_kelvin());
    let low = 0.6 * pressures.0;
    let coldest = refrigerant.limits().temperature_min.in_kelvin();
    let start = refrigerant.bubble_temperature(Pressure::pascal(low));
    let start = start.map_or(coldest, |at| at.in_kelvin().max(coldest));
    let outline = Outline::new(refrigerant, plane, start)?;
    let high = pressures.1.max(outline.pressures().1);
    let enthalpies = all(|point| point.enthalpy);
    let entropies = all(|point| point.entropy);
    let dome = outline.bubble.iter().chain(&outline.dew);
    let widest = |read: fn(&PlanePoint) -> f64, own: (f64, f64)| {
        dome.clone()
            .map(read)
            .fold(own, |(low, high), one| (low.min(one), high.max(one)))
    };
    let window = Window {
        plane,
        across: match plane {
            Plane::PressureEnthalpy => widest(|at| at.enthalpy, enthalpies),
            Plane::TemperatureEntropy => widest(|at| at.entropy, entropies),
        },
        up: match plane {
            Plane::PressureEnthalpy => (low.min(outline.pressures().0), high),
            Plane::TemperatureEntropy => widest(|at| at.temperature, temperatures),
        },
    };
    let isolines = Isolines {
        refrigerant,
        outline: &outline,
        window,
        units,
        pressures: (low.min(outline.pressures().0), high),
        temperatures,
    };
    let mut lines = Vec::new();
    for kind in kinds {
        let of_vapor = *kind == Isoline::Entropy;
        let found = isolines.lines(*kind).into_iter();
        // isentropes matter where the vapor is compressed
        let wanted = found.filter(|(_, points)| {
            let steep = points.iter().map(|at| at.entropy).fold(0.0, f64::max);
            !of_vapor || steep >= outline.critical.entropy
        });
        lines.extend(wanted.map(|one| (*kind, one)));
    }
    Some(Behind {
        lines,
        outline: [outline.bubble, outline.dew],
    })
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
        PlanePoint::given(refrigerant, given)
    };
    let mut points = vec![PlanePoint::point(from)];
    points.extend((1..LEG).filter_map(between));
    points.push(PlanePoint::point(to));
    points
}
