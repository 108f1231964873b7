//! Temperature along a coil at one pressure, against the share of its heat: what an evaporator or a
//! condenser without pressure drop shows along its length. Beside it, where asked for, a second fluid
//! in counterflow: its heat capacity hardly changes, so that its line is straight; the least distance
//! of both lines is the approach.

use super::super::Request;
use super::super::plot::{Axis, Scale, Stroke};
use super::smooth::{curve, steps};
use super::{
    AxisQuantity, Drawn, Name, Part, PictureKind, PictureSubject, Trace, axis, nothing, pressures,
};
use crate::chart::reasons;
use crate::process::coil::{Coil, CoilKind, Station};
use crate::refrigerant::{Given, ReferenceState, Refrigerant};
use crate::units::{Pressure, Temperature, TemperatureDifference, parse_temperature};
use crate::{Error, Result};

/// Parts of a line, at least.
const PARTS: usize = 10;
/// Least height of the axis, in its own degrees.
const LEAST_HEIGHT: f64 = 4.0;

/// What flows on the other side of a coil.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum FluidKind {
    /// Air of which no moisture condenses.
    Air,
    /// Water.
    Water,
}

/// The fluid on the other side of a coil, in counterflow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SecondFluid {
    /// What it is.
    pub kind: FluidKind,
    /// Where it enters the coil.
    pub entering: Temperature,
    /// Where it leaves.
    pub leaving: Temperature,
}

impl SecondFluid {
    /// A fluid by its two temperatures, entering and leaving, separated by a comma: `27C,15C`.
    ///
    /// # Errors
    /// [`Error::Value`] where there are not two different temperatures.
    ///
    /// # Example
    /// ```
    /// use zeotrope::chart::picture::{FluidKind, SecondFluid};
    /// let air = SecondFluid::typed(FluidKind::Air, "27C,15C")?;
    /// assert_eq!(air.leaving.in_celsius(), 15.0);
    /// assert!(SecondFluid::typed(FluidKind::Water, "12C").is_err());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn typed(kind: FluidKind, text: &str) -> Result<Self> {
        let wrong = || Error::Value {
            quantity: "second fluid",
            text: text.into(),
            problem: "is not two different temperatures".into(),
            hint: "give where it enters and where it leaves, for example 27C,15C".into(),
        };
        let (entering, leaving) = text.split_once(',').ok_or_else(wrong)?;
        let entering = parse_temperature(entering.trim())?.value;
        let leaving = parse_temperature(leaving.trim())?.value;
        match entering == leaving {
            true => Err(wrong()),
            false => Ok(Self {
                kind,
                entering,
                leaving,
            }),
        }
    }

    /// Which coil it flows through: in an evaporator it is cooled.
    pub fn coil(&self) -> CoilKind {
        match self.entering > self.leaving {
            true => CoilKind::Evaporator,
            false => CoilKind::Condenser,
        }
    }

    /// Its temperature where the refrigerant has so much of its heat.
    fn temperature_at(&self, share: f64) -> Temperature {
        let way = (self.entering - self.leaving).in_kelvin();
        self.leaving + TemperatureDifference::kelvin(share * way)
    }
}

/// How near the lines of a refrigerant and of the second fluid come.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Approach {
    /// The refrigerant.
    pub refrigerant: String,
    /// The warmer side minus the colder one; below zero where the lines cross.
    pub least: TemperatureDifference,
    /// Share of the heat there, 0 to 1.
    pub share: f64,
}

pub(super) fn draw(request: &Request) -> Result<Drawn> {
    let pressures = pressures(request, PictureKind::Coil)?;
    let wanted = &request.choices.picture;
    let kind = wanted.second.map_or(CoilKind::Evaporator, |one| one.coil());
    if kind == CoilKind::Condenser && wanted.liquid.is_some() {
        return Err(Error::Value {
            quantity: "picture",
            text: PictureKind::Coil.name().into(),
            problem: "is of a condenser, where the second fluid is warmed, and has no inlet liquid"
                .into(),
            hint: "leave the liquid out, or let the second fluid be cooled".into(),
        });
    }
    let read = |at: Temperature| request.temperature_unit.read(at);
    let (mut curves, mut last, mut approaches) = (Vec::new(), Vec::new(), Vec::new());
    let mut refused = None;
    for refrigerant in &request.refrigerants {
        for pressure in &pressures {
            let points = match line(refrigerant, *pressure, (kind, request)) {
                Ok(points) => points,
                Err(error) => {
                    refused = refused.or(Some(error));
                    continue;
                }
            };
            let name = refrigerant.designation().to_owned();
            if let Some(fluid) = &wanted.second {
                let (found, ends) = approach(&name, &points, fluid);
                let [own, other] = ends.map(|at| (100.0 * found.share, read(at)));
                let named = Name::Approach(request.temperature_unit.read_difference(found.least));
                let trace = Trace::new(named, Part::Approach, vec![own, other]);
                last.push(trace.stroke(Stroke::Faint));
                approaches.push(found);
            }
            let drawn = points.iter().map(|(share, at)| (100.0 * share, read(*at)));
            let named = match pressures.len() > 1 {
                true => Name::RefrigerantAt(name, *pressure),
                false => Name::Refrigerant(name),
            };
            curves.push(Trace::new(named, Part::Coil, drawn.collect()));
        }
    }
    if curves.is_empty() {
        return Err(refused
            .filter(|_| wanted.liquid.is_some())
            .unwrap_or_else(|| nothing(reasons::DRAWN_NOTHING_OF_COIL)));
    }
    if let Some(fluid) = &wanted.second {
        let ends = [0.0, 1.0].map(|share| (100.0 * share, read(fluid.temperature_at(share))));
        let line = Trace::new(Name::Fluid(fluid.kind), Part::Fluid, ends.to_vec());
        curves.push(line.stroke(Stroke::Dashed));
    }
    curves.extend(last);
    // A pure refrigerant's line is level: an axis has some height all the same.
    let all = curves.iter().flat_map(|curve| &curve.points);
    let mut y = Axis::spanning("", all.map(|point| point.1));
    let short = (LEAST_HEIGHT - (y.to - y.from)).max(0.0);
    (y.from, y.to) = (y.from - short / 2.0, y.to + short / 2.0);
    Ok(Drawn {
        subject: PictureSubject::Coil {
            pressure: match pressures.as_slice() {
                [only] => Some(*only),
                _ => None,
            },
            kind,
            liquid: wanted.liquid,
            fluid: wanted.second,
            approaches,
        },
        across: AxisQuantity::HeatShare,
        up: AxisQuantity::Temperature(request.temperature_unit),
        x: axis(0.0, 100.0, Scale::Linear),
        y,
        curves,
        marks: Vec::new(),
    })
}

/// A place along a coil: share of the heat, 0 to 1, and temperature.
type Place = (f64, Temperature);

/// A refrigerant's temperature along its coil.
fn line(
    refrigerant: &Refrigerant,
    pressure: Pressure,
    (kind, request): (CoilKind, &Request),
) -> Result<Vec<Place>> {
    let zero = ReferenceState::Usual;
    let coil = match kind {
        CoilKind::Evaporator => {
            let liquid = request.choices.picture.liquid;
            Coil::evaporator(refrigerant, pressure, liquid, zero)?
        }
        CoilKind::Condenser => Coil::condenser(refrigerant, pressure, zero)?,
    };
    let stations: &[Station] = &coil.stations;
    let (Some(first), Some(end)) = (stations.first(), stations.last()) else {
        return Err(nothing(reasons::DRAWN_NOTHING_OF_COIL));
    };
    let height = (end.temperature - first.temperature)
        .in_kelvin()
        .abs()
        .max(1.0);
    let at = |share: f64| -> Option<Place> {
        if share == 0.0 || share == 1.0 {
            let own = if share == 0.0 { first } else { end };
            return Some((share, own.temperature));
        }
        let enthalpy = first.enthalpy + share * (end.enthalpy - first.enthalpy);
        let states = refrigerant.state(Given::PressureEnthalpy(pressure, enthalpy), zero);
        Some((share, states.ok()?.first()?.properties.temperature))
    };
    let place = |(share, at): &Place| (*share, at.in_kelvin() / height);
    Ok(curve(&steps(0.0, 1.0, PARTS), at, place))
}

/// Where both lines come nearest, with the temperatures of the refrigerant and of the fluid there.
///
/// Between points of the refrigerant's line both are straight, so that the least lies on one of them.
fn approach(name: &str, points: &[Place], fluid: &SecondFluid) -> (Approach, [Temperature; 2]) {
    let sign = match fluid.coil() {
        CoilKind::Evaporator => 1.0,
        CoilKind::Condenser => -1.0,
    };
    let apart = |(share, at): &Place| sign * (fluid.temperature_at(*share) - *at).in_kelvin();
    let nearest = points
        .iter()
        .min_by(|a, b| apart(a).total_cmp(&apart(b)))
        .copied()
        .unwrap_or((0.0, fluid.leaving));
    let found = Approach {
        refrigerant: name.to_owned(),
        least: TemperatureDifference::kelvin(apart(&nearest)),
        share: nearest.0,
    };
    (found, [nearest.1, fluid.temperature_at(nearest.0)])
}
