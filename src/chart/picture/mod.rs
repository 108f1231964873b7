//! The pictures that go with a chart: what each shows, as numbers.

mod coil;
mod compositions;
mod contours;
mod curves;
pub(crate) mod cycle;
mod dome;
mod lens;
mod triangle;

pub(crate) use dome::isotherm;

use super::plot::{Axis, Scale, Stroke};
use super::{Request, Rows};
use crate::catalogue::Catalogue;
use crate::refrigerant::ReferenceState;
use crate::service::facts::Facts;
use crate::units::{Atmosphere, EnthalpyUnit, Pressure, PressureUnit, TemperatureUnit};
use crate::{Error, Result};

/// A kind of picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureKind {
    /// Saturation pressure against temperature, bubble and dew, on a logarithmic axis.
    Curves,
    /// Bubble and dew temperature of two components against composition at a pressure, beside
    /// an ideal mixture.
    Lens,
    /// Lines of equal glide of three components at a pressure.
    Triangle,
    /// Temperature on the way from bubble to dew at a pressure, as in an evaporator.
    Coil,
    /// Pressure against enthalpy: the dome of two phases, with isotherms.
    Dome,
}

impl PictureKind {
    /// Every kind there is.
    pub const ALL: [PictureKind; 5] = [
        PictureKind::Curves,
        PictureKind::Lens,
        PictureKind::Triangle,
        PictureKind::Coil,
        PictureKind::Dome,
    ];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            PictureKind::Curves => "curves",
            PictureKind::Lens => "lens",
            PictureKind::Triangle => "triangle",
            PictureKind::Coil => "coil",
            PictureKind::Dome => "dome",
        }
    }
}

/// What a curve or a point shows.
#[derive(Debug, Clone, PartialEq)]
pub enum Name {
    /// Nothing of its own: it belongs to the curve before it.
    None,
    /// A refrigerant.
    Refrigerant(String),
    /// A pressure.
    At(Pressure),
    /// A refrigerant at a pressure.
    RefrigerantAt(String, Pressure),
    /// A difference of temperatures, in the picture's unit.
    Difference(f64),
    /// An isotherm, its temperature in the picture's unit.
    Isotherm(f64),
    /// The bubble line.
    Bubble,
    /// The dew line.
    Dew,
    /// The critical point.
    CriticalPoint,
}

/// A curve of a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Trace {
    /// What it shows.
    pub name: Name,
    /// Points in the numbers of the axes, in order.
    pub points: Vec<(f64, f64)>,
    /// How it is drawn.
    pub stroke: Stroke,
}

/// What a picture is of, beside its kind.
#[derive(Debug, Clone, PartialEq)]
pub enum PictureSubject {
    /// Saturation lines, of a blend among others or not.
    Curves {
        /// Whether bubble and dew part.
        has_blend: bool,
    },
    /// Two components.
    Lens {
        /// That of the horizontal axis.
        first: String,
        /// The other.
        second: String,
    },
    /// Three components.
    Triangle {
        /// That of the horizontal axis.
        first: String,
        /// That of the vertical axis.
        second: String,
        /// The rest.
        third: String,
        /// The pressure.
        pressure: Pressure,
    },
    /// A coil, with its pressure where all curves share one.
    Coil {
        /// That pressure.
        pressure: Option<Pressure>,
    },
    /// One refrigerant.
    Dome {
        /// Its designation.
        refrigerant: String,
        /// Unit of the enthalpies.
        unit: EnthalpyUnit,
        /// Their reference state.
        zero: ReferenceState,
    },
}

/// A picture as numbers and names.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// What it is of.
    pub subject: PictureSubject,
    /// The horizontal axis, without its label.
    pub x: Axis,
    /// The vertical axis, without its label.
    pub y: Axis,
    /// The curves.
    pub curves: Vec<Trace>,
    /// The points with names.
    pub marks: Vec<(Name, (f64, f64))>,
    /// What is known of each refrigerant.
    pub facts: Vec<Facts>,
    /// Unit of the temperatures.
    pub temperature_unit: TemperatureUnit,
    /// Unit of the pressures.
    pub pressure_unit: PressureUnit,
    /// The local atmospheric pressure that gauge pressures are relative to.
    pub site: Atmosphere,
}

impl Picture {
    /// A picture of what a chart's request asks for; the catalogue gives the mixtures of a lens.
    ///
    /// # Errors
    /// [`Error::NoState`] where nothing of it can be drawn; [`Error::Value`] where it needs
    /// pressures for rows, one refrigerant, or one of two or three components.
    pub fn new(kind: PictureKind, request: &Request, catalogue: &Catalogue) -> Result<Self> {
        let drawn = match kind {
            PictureKind::Curves => curves::draw(request),
            PictureKind::Lens => lens::draw(request, catalogue),
            PictureKind::Triangle => triangle::draw(request, catalogue),
            PictureKind::Coil => coil::draw(request),
            PictureKind::Dome => dome::draw(request),
        }?;
        Ok(Self {
            subject: drawn.subject,
            x: drawn.x,
            y: drawn.y,
            curves: drawn.curves,
            marks: drawn.marks,
            facts: request.refrigerants.iter().map(Facts::of).collect(),
            temperature_unit: request.temperature_unit,
            pressure_unit: request.pressure_unit,
            site: request.site,
        })
    }
}

/// What a kind of picture draws.
struct Drawn {
    subject: PictureSubject,
    x: Axis,
    y: Axis,
    curves: Vec<Trace>,
    marks: Vec<(Name, (f64, f64))>,
}

/// An axis without a label.
fn axis(from: f64, to: f64, scale: Scale) -> Axis {
    Axis {
        label: String::new(),
        from,
        to,
        scale,
    }
}

/// The pressures of the rows, for a picture at given pressures.
fn pressures(request: &Request, kind: PictureKind) -> Result<Vec<Pressure>> {
    match &request.rows {
        Rows::Pressures(values) => Ok(values
            .iter()
            .map(|value| request.pressure_unit.write(*value, &request.site))
            .collect()),
        Rows::Temperatures(_) => Err(Error::Value {
            quantity: "picture",
            text: kind.name().into(),
            problem: "is drawn at given pressures".into(),
            hint: "give rows by pressure, for example 5bara,10bara".into(),
        }),
    }
}

fn nothing(what: &str) -> Error {
    Error::NoState {
        reason: format!("no point of this {what} has an answer"),
        hint: "choose other pressures or temperatures".into(),
    }
}
