//! Bubble and dew line of a mixture of two against its composition, at given pressures (temperature
//! upwards) or at given temperatures (pressure upwards), beside an ideal mixture of the same two.

mod blend;
mod ideal;
mod lines;

use self::ideal::Ideal;
use self::lines::{Lines, Pair, Point};
use super::super::plot::{Axis, Scale, Stroke};
use super::super::{Request, Rows};
use super::compositions::Compositions;
use super::kept::Kept;
use super::smooth::{curve, steps};
use super::{AxisQuantity, Drawn, Name, Part, PictureKind, PictureSubject, Trace, axis, nothing};
use crate::catalogue::{Basis, Catalogue};
use crate::chart::reasons;
use crate::equilibrium::bubble_dew::Branch;
use crate::process::azeotrope::AzeotropeAt;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, PressureUnit, Temperature, TemperatureUnit};
use crate::{Error, Result};

/// Steps of composition from one component to the other, at least.
const STEPS: usize = 40;
/// More pressures or temperatures in one lens cannot be told apart.
const MOST: usize = 6;

/// The lever rule on the tie line halfway between bubble and dew.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Lever {
    /// The pressure or temperature of the lens.
    pub at: AzeotropeAt,
    /// Halfway from bubble to dew, in the unit of the vertical axis.
    pub halfway: f64,
    /// Percent of the first component in the liquid.
    pub liquid: f64,
    /// Percent of the first component in the blend.
    pub blend: f64,
    /// Percent of the first component in the vapor.
    pub vapor: f64,
    /// The vapor's share, (blend - liquid)/(vapor - liquid), by mass or by mole as the axis.
    pub share: f64,
}

/// Why both lines of a lens do not reach a pure component.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct OpenEnd {
    /// That component.
    pub refrigerant: String,
    /// The pressure or temperature of the lens.
    pub at: AzeotropeAt,
    /// The component's critical pressure, Pa, or temperature, K, where the lens lies above it.
    pub critical: Option<f64>,
    /// Percent of the first component where both lines meet in a critical point of a mixture.
    pub tip: Option<f64>,
}

/// Units of the vertical axis.
struct Scales {
    is_temperature: bool,
    temperature: TemperatureUnit,
    pressure: PressureUnit,
}

impl Scales {
    fn read(&self, value: f64) -> f64 {
        match self.is_temperature {
            true => self.temperature.read(Temperature::kelvin(value)),
            false => value / self.pressure.pascal(),
        }
    }

    fn temperature(&self, read: f64) -> Temperature {
        self.temperature.write(read)
    }

    fn pressure(&self, read: f64) -> Pressure {
        Pressure::pascal(read * self.pressure.pascal())
    }
}

/// What does not depend on the blend that is shown on a lens; values in K or Pa.
struct Found {
    lines: Lines,
    /// Both lines of the ideal mixture.
    ideal: Vec<(Part, Vec<Point>)>,
    azeotropes: Vec<Point>,
}

/// As many as one lens shows.
static LINES: Kept<Found> = Kept::new(MOST);

impl Found {
    fn of(pair: &Pair<'_>) -> Self {
        let lines = pair.lines();
        let azeotropes = match lines.may_touch {
            true => blend::azeotropes_on(pair),
            false => Vec::new(),
        };
        Self {
            lines,
            ideal: ideal_lines(pair),
            azeotropes,
        }
    }
}

pub(super) fn draw(request: &Request, catalogue: &Catalogue) -> Result<Drawn> {
    let places = places(request)?;
    let (first, second, own) = two(request)?;
    let basis = request.choices.picture.basis;
    let names = [first.clone(), second.clone()];
    let pure = [
        Refrigerant::kept(catalogue, &first, Basis::Mass)?,
        Refrigerant::kept(catalogue, &second, Basis::Mass)?,
    ];
    let mixtures = Compositions::new(catalogue, &names, STEPS)?;
    let scales = Scales {
        is_temperature: matches!(request.rows, Rows::Pressures(_)),
        temperature: request.temperature_unit,
        pressure: request.pressure_unit.absolute(),
    };
    let (mut curves, mut marks, mut last) = (Vec::new(), Vec::new(), Vec::new());
    let (mut levers, mut open) = (Vec::new(), Vec::new());
    for at in places {
        let pair = Pair {
            mixtures: &mixtures,
            pure: &pure,
            basis,
            at,
        };
        let found = LINES.found(catalogue, &names, (basis, at), || Found::of(&pair));
        let read = |points: &[Point]| {
            let points = points.iter();
            points
                .map(|(part, value)| (100.0 * part, scales.read(*value)))
                .collect::<Vec<_>>()
        };
        let name = match at {
            AzeotropeAt::Pressure(at) => Name::At(at),
            AzeotropeAt::Temperature(at) => Name::AtTemperature(request.temperature_unit.read(at)),
        };
        let mut names = std::iter::once(name).chain(std::iter::repeat(Name::None));
        let mut named = || names.next().unwrap_or(Name::None);
        for run in &found.lines.bubble {
            curves.push(Trace::new(named(), Part::Bubble, read(run)));
        }
        for run in &found.lines.dew {
            curves.push(Trace::new(named(), Part::Dew, read(run)).stroke(Stroke::Dashed));
        }
        curves.extend(found.ideal.iter().map(|(part, points)| {
            Trace::new(Name::None, *part, read(points)).stroke(Stroke::Dotted)
        }));
        for (side, one) in [&pure[1], &pure[0]].into_iter().enumerate() {
            if pair.alone(one).is_none() {
                open.push(open_end(one, at, found.lines.tips[side]));
            }
        }
        marks.extend(
            read(&found.azeotropes)
                .into_iter()
                .map(|(percent, value)| (Name::Azeotrope(percent, value), (percent, value))),
        );
        if let Some(own) = &own {
            let drawn = blend::blend(own, &pair, &scales);
            marks.extend(drawn.marks);
            last.extend(drawn.curves);
            levers.extend(drawn.lever);
        }
    }
    if curves.is_empty() {
        return Err(nothing(reasons::DRAWN_NOTHING_OF_LENS));
    }
    let all = curves.iter().flat_map(|curve: &Trace| &curve.points);
    let y = Axis::spanning("", all.map(|point| point.1));
    // The blend's own lines stand last: a curve without a name belongs to the one before it.
    curves.extend(last);
    Ok(Drawn {
        subject: PictureSubject::Lens {
            first: first.clone(),
            second,
            basis,
            levers,
            open,
        },
        across: match basis {
            Basis::Mass => AxisQuantity::MassFraction(first),
            Basis::Mole => AxisQuantity::MoleFraction(first),
        },
        up: match scales.is_temperature {
            true => AxisQuantity::Temperature(scales.temperature),
            false => AxisQuantity::Pressure(scales.pressure),
        },
        x: axis(0.0, 100.0, Scale::Linear),
        y,
        curves,
        marks,
    })
}

/// The pressures or temperatures of a lens.
fn places(request: &Request) -> Result<Vec<AzeotropeAt>> {
    let places: Vec<AzeotropeAt> = match &request.rows {
        Rows::Pressures(values) => values
            .iter()
            .map(|value| AzeotropeAt::Pressure(request.pressure_unit.write(*value, &request.site)))
            .collect(),
        Rows::Temperatures(values) => values
            .iter()
            .map(|value| AzeotropeAt::Temperature(request.temperature_unit.write(*value)))
            .collect(),
    };
    match places.len() > MOST {
        false => Ok(places),
        true => Err(Error::Value {
            quantity: "picture",
            text: PictureKind::Lens.name().into(),
            problem: format!("is drawn at given pressures or temperatures, at most {MOST}"),
            hint: "give rows by pressure, for example 5bara,10bara, or single temperatures".into(),
        }),
    }
}

/// The two components, and the blend of them where one was named.
fn two(request: &Request) -> Result<(String, String, Option<Refrigerant>)> {
    if let [blend] = request.refrigerants.as_slice()
        && let [first, second] = blend.components()
    {
        return Ok((
            first.designation.clone(),
            second.designation.clone(),
            Some(blend.clone()),
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
            text: PictureKind::Lens.name().into(),
            problem: "is of two components".into(),
            hint: "name a blend of two, or two pure refrigerants".into(),
        }),
    }
}

/// Both lines of the ideal mixture, as far as both components boil alone.
fn ideal_lines(pair: &Pair<'_>) -> Vec<(Part, Vec<Point>)> {
    let alone = (pair.alone(&pair.pure[0]), pair.alone(&pair.pure[1]));
    let (Some(first), Some(second)) = alone else {
        return Vec::new();
    };
    let ideal = Ideal {
        pure: pair.pure,
        alone: [first, second],
        at: pair.at,
    };
    let height = (first - second).abs().max(1e-9);
    let line = |(branch, name)| {
        let ends = ideal.ends(branch)?;
        let part_of = |share: f64| pair.part(&[share, 1.0 - share]);
        let [from, to] = ends.map(|end| part_of(end.0));
        let at = |part: f64| {
            let share = match part {
                _ if (part - from).abs() < 1e-12 => ends[0].0,
                _ if (part - to).abs() < 1e-12 => ends[1].0,
                _ => pair.mixtures.moles(&pair.masses(part))[0],
            };
            Some((part, ideal.point(branch, share, ends)?))
        };
        let points = curve(&steps(from, to, 8), at, |(x, y)| (*x, y / height));
        Some((name, points))
    };
    [
        (Branch::Bubble, Part::IdealBubble),
        (Branch::Dew, Part::IdealDew),
    ]
    .into_iter()
    .filter_map(line)
    .filter(|(_, points)| points.len() > 1)
    .collect()
}

fn open_end(one: &Refrigerant, at: AzeotropeAt, tip: Option<Point>) -> OpenEnd {
    let critical = one.critical_point();
    OpenEnd {
        refrigerant: one.designation().to_owned(),
        at,
        critical: match (at, critical) {
            (AzeotropeAt::Pressure(at), Some(own)) if own.pressure < at => {
                Some(own.pressure.in_pascal())
            }
            (AzeotropeAt::Temperature(at), Some(own)) if own.temperature < at => {
                Some(own.temperature.in_kelvin())
            }
            _ => None,
        },
        tip: tip.map(|tip| 100.0 * tip.0),
    }
}
