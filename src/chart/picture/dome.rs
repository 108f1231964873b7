//! The dome of two phases on pressure and enthalpy or on temperature and entropy, closed at the
//! critical point, with lines of equal temperature, entropy, quality or density.

use super::super::plot::{Scale, Stroke};
use super::super::{Request, Rows};
use super::isolines::{Isoline, Isolines};
use super::outline::Outline;
use super::plane::{Plane, PlanePoint, Window};
use super::{AxisQuantity, Drawn, Name, Part, PictureSubject, Trace, axis, nothing, units};
use crate::chart::reasons;
use crate::refrigerant::{Given, Refrigerant};
use crate::units::{Pressure, Temperature, UnitSet};
use crate::{Error, Result};

/// Room above the highest pressure and below the lowest.
const ABOVE: f64 = 1.6;
const BELOW: f64 = 0.8;

pub(super) fn draw(request: &Request) -> Result<Drawn> {
    let wanted = &request.choices.picture;
    let kinds = kinds(request)?;
    let units = units(request.temperature_unit, request.pressure_unit);
    let outlines = outlines(request, wanted.plane)?;
    let ranges = Ranges::new(request, &outlines);
    let window = ranges.window(wanted.plane, &outlines, !kinds.is_empty());
    let on = Axes::new(wanted.plane, &units);
    let is_one = outlines.len() == 1;
    let (mut curves, mut marks) = (Vec::new(), Vec::new());
    for (refrigerant, outline) in &outlines {
        let name = || Name::Refrigerant(refrigerant.designation().to_owned());
        let names = match is_one {
            true => [Name::Bubble, Name::Dew, Name::CriticalPoint],
            false => [name(), Name::None, Name::None],
        };
        let [bubble, dew, critical] = names;
        curves.push(Trace::new(bubble, Part::Bubble, on.all(&outline.bubble)));
        let dew = Trace::new(dew, Part::Dew, on.all(&outline.dew));
        curves.push(dew.stroke(Stroke::Dashed));
        marks.push((critical, on.axis_values(&outline.critical)));
        let isolines = Isolines {
            refrigerant,
            outline,
            window,
            units: &units,
            pressures: ranges.pressures,
            temperatures: ranges.temperatures,
        };
        for kind in &kinds {
            for (tick, points) in isolines.lines(*kind) {
                let name = match is_one {
                    true => Name::Isoline(*kind, tick.at),
                    false => Name::IsolineOf(refrigerant.designation().to_owned(), *kind, tick.at),
                };
                let line = Trace::new(name, Part::Isoline(*kind), on.all(&points));
                curves.push(line.stroke(Stroke::Faint));
            }
        }
    }
    let mut zeros = Vec::new();
    for (_, outline) in &outlines {
        if !zeros.contains(&outline.zero) {
            zeros.push(outline.zero);
        }
    }
    let ((left, right), (low, high)) = on.ends(&window);
    Ok(Drawn {
        subject: PictureSubject::Dome {
            refrigerants: outlines
                .iter()
                .map(|(one, _)| one.designation().to_owned())
                .collect(),
            plane: wanted.plane,
            zeros,
        },
        across: on.across,
        up: on.up,
        x: axis(left, right, Scale::Linear),
        y: axis(
            low,
            high,
            match wanted.plane {
                Plane::PressureEnthalpy => Scale::Logarithmic,
                Plane::TemperatureEntropy => Scale::Linear,
            },
        ),
        curves,
        marks,
    })
}

/// The kinds of lines asked for; isotherms on pressure and enthalpy where none is.
fn kinds(request: &Request) -> Result<Vec<Isoline>> {
    let wanted = &request.choices.picture;
    let is_one = request.refrigerants.len() == 1;
    let Some(kinds) = &wanted.isolines else {
        let usual = is_one && wanted.plane == Plane::PressureEnthalpy;
        return Ok(usual.then_some(Isoline::Temperature).into_iter().collect());
    };
    if let Some(kind) = kinds.iter().find(|kind| kind.is_axis_of(wanted.plane)) {
        let hint = "name others: quality, density, and those that are no axis of the plane";
        return Err(Error::Value {
            quantity: "isolines",
            text: kind.name().into(),
            problem: "is an axis of this picture".into(),
            hint: hint.into(),
        });
    }
    Ok(kinds.clone())
}

type Outlines<'a> = Vec<(&'a Refrigerant, Outline)>;

/// The outline of each refrigerant from the lowest temperature of the rows.
fn outlines(request: &Request, plane: Plane) -> Result<Outlines<'_>> {
    let Rows::Temperatures(values) = &request.rows else {
        return Err(Error::Value {
            quantity: "picture",
            text: "dome".into(),
            problem: "is drawn between two temperatures".into(),
            hint: "give rows by temperature, for example from -40C to 120C".into(),
        });
    };
    let from = super::super::rows::ends(values)[0];
    let from = request.temperature_unit.write(from).in_kelvin();
    let outlines = request
        .refrigerants
        .iter()
        .filter_map(|one| Some((one, Outline::new(one, plane, from)?)));
    let outlines: Vec<_> = outlines.collect();
    match outlines.is_empty() {
        true => Err(nothing(reasons::DRAWN_NOTHING_OF_DOME)),
        false => Ok(outlines),
    }
}

/// Where lines run.
struct Ranges {
    pressures: (f64, f64),
    temperatures: (f64, f64),
}

impl Ranges {
    fn new(request: &Request, outlines: &Outlines<'_>) -> Self {
        let [from, to] = match &request.rows {
            Rows::Temperatures(values) => super::super::rows::ends(values),
            Rows::Pressures(_) => [f64::NAN; 2],
        }
        .map(|value| request.temperature_unit.write(value).in_kelvin());
        let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
        let (mut coldest, mut hottest) = (f64::INFINITY, to);
        for (refrigerant, outline) in outlines {
            let (lowest, highest) = outline.pressures();
            (low, high) = (low.min(BELOW * lowest), high.max(ABOVE * highest));
            let limits = refrigerant.limits();
            high = high.min(limits.pressure_max.in_pascal());
            coldest = coldest.min(from.max(limits.temperature_min.in_kelvin()));
            hottest = hottest.max(1.02 * outline.critical.temperature);
        }
        Self {
            pressures: (low, high),
            temperatures: (coldest, hottest),
        }
    }

    fn window(&self, plane: Plane, outlines: &Outlines<'_>, has_lines: bool) -> Window {
        let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
        for (refrigerant, outline) in outlines {
            let hottest = refrigerant.limits().temperature_max.in_kelvin();
            let corner = Given::TemperaturePressure(
                Temperature::kelvin(self.temperatures.1.min(hottest)),
                Pressure::pascal(self.pressures.0.max(outline.pressures().0)),
            );
            // lines run on into the hottest vapor
            let corner = PlanePoint::given(refrigerant, corner).filter(|_| has_lines);
            let all = outline.bubble.iter().chain(&outline.dew).chain(&corner);
            for at in all {
                let (x, _) = at.on(plane);
                (left, right) = (left.min(x), right.max(x));
            }
        }
        let room = 0.03 * (right - left);
        Window {
            plane,
            across: (left - room, right + room),
            up: match plane {
                Plane::PressureEnthalpy => self.pressures,
                Plane::TemperatureEntropy => self.temperatures,
            },
        }
    }
}

/// The axes of a plane in units.
pub(super) struct Axes {
    plane: Plane,
    pub(super) across: AxisQuantity,
    pub(super) up: AxisQuantity,
}

impl Axes {
    pub(super) fn new(plane: Plane, units: &UnitSet) -> Self {
        let (across, up) = match plane {
            Plane::PressureEnthalpy => (
                AxisQuantity::Enthalpy(units.enthalpy),
                AxisQuantity::Pressure(units.absolute),
            ),
            Plane::TemperatureEntropy => (
                AxisQuantity::Entropy(units.entropy),
                AxisQuantity::Temperature(units.temperature),
            ),
        };
        Self { plane, across, up }
    }

    pub(super) fn axis_values(&self, at: &PlanePoint) -> (f64, f64) {
        let (x, y) = at.on(self.plane);
        (self.across.read(x), self.up.read(y))
    }

    pub(super) fn all(&self, points: &[PlanePoint]) -> Vec<(f64, f64)> {
        points.iter().map(|at| self.axis_values(at)).collect()
    }

    fn ends(&self, window: &Window) -> ((f64, f64), (f64, f64)) {
        let (x, y) = (window.across, window.up);
        (
            (self.across.read(x.0), self.across.read(x.1)),
            (self.up.read(y.0), self.up.read(y.1)),
        )
    }
}
