//! The pictures that go with a chart: what each shows, as numbers.

mod coil;
mod compositions;
mod contours;
mod curves;
pub(crate) mod cycle;
mod dome;
mod isolines;
mod kept;
mod lens;
mod names;
mod outline;
mod plane;
mod smooth;
mod triangle;

pub use coil::{Approach, FluidKind, SecondFluid};
pub use isolines::Isoline;
pub use lens::{Lever, OpenEnd};
pub use names::{AxisQuantity, Name, Part};
pub use plane::Plane;
pub(crate) use plane::PlanePoint;

use super::plot::{Axis, Scale, Stroke};
use super::{Request, Rows};
use crate::catalogue::{Basis, Catalogue};
use crate::phrase::Phrase;
use crate::process::coil::{CoilKind, LiquidFeed};
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::service::facts::{Facts, PairEstimate, estimates};
use crate::units::{
    Atmosphere, Pressure, PressureUnit, TemperatureUnit, UnitSet, parse_temperature,
};
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
    pub const ALL: &'static [PictureKind] = &[
        PictureKind::Curves,
        PictureKind::Lens,
        PictureKind::Triangle,
        PictureKind::Coil,
        PictureKind::Dome,
    ];

    /// A kind by its name.
    ///
    /// # Errors
    /// [`Error::Value`] where there is none of that name.
    pub fn named(name: &str) -> Result<Self> {
        let found = Self::ALL
            .iter()
            .find(|kind| kind.name().eq_ignore_ascii_case(name));
        let names = || Self::ALL.iter().map(|kind| kind.name()).collect::<Vec<_>>();
        found.copied().ok_or_else(|| Error::Value {
            quantity: "picture",
            text: name.to_owned(),
            problem: "is not known".into(),
            hint: format!("use {}", names().join(", ")),
        })
    }

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

/// What a picture is to show, beside what a chart is asked.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PictureChoices {
    /// The plane of a dome.
    pub plane: Plane,
    /// The lines on a dome; isotherms on pressure and enthalpy where none are named.
    pub isolines: Option<Vec<Isoline>>,
    /// Whether a lens is by mass or by mole.
    pub basis: Basis,
    /// The liquid before the expansion device of an evaporator: its coil begins at the inlet.
    pub liquid: Option<LiquidFeed>,
    /// The fluid on the other side of a coil.
    pub second: Option<SecondFluid>,
}

impl PictureChoices {
    /// Choices as they are typed: kinds of lines, the temperature of an evaporator's liquid, and where
    /// air or water enters and leaves.
    ///
    /// # Errors
    /// As [`Isoline::named`], [`SecondFluid::typed`] and of a temperature without its unit.
    ///
    /// # Example
    /// ```
    /// use zeotrope::chart::picture::{Isoline, PictureChoices};
    /// let isolines = ["quality".to_owned()];
    /// let found = PictureChoices::typed(&isolines, Some("38C"), [Some("27C,15C"), None])?;
    /// assert_eq!(found.isolines, Some(vec![Isoline::Quality]));
    /// assert_eq!(found.liquid.unwrap().temperature.in_celsius(), 38.0);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn typed(
        isolines: &[String],
        liquid: Option<&str>,
        [air, water]: [Option<&str>; 2],
    ) -> Result<Self> {
        let kinds = isolines.iter().map(|name| Isoline::named(name));
        let kinds = kinds.collect::<Result<Vec<_>>>()?;
        let fluids = [(FluidKind::Air, air), (FluidKind::Water, water)];
        let typed = fluids
            .into_iter()
            .find_map(|(kind, text)| Some((kind, text?)));
        let liquid = liquid.map(parse_temperature).transpose()?;
        Ok(Self {
            isolines: (!kinds.is_empty()).then_some(kinds),
            liquid: liquid.map(|typed| LiquidFeed {
                temperature: typed.value,
                pressure: None,
            }),
            second: typed
                .map(|(kind, text)| SecondFluid::typed(kind, text))
                .transpose()?,
            ..Self::default()
        })
    }
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
    /// Which line it is.
    pub part: Part,
}

impl Trace {
    /// A full line.
    pub(crate) const fn new(name: Name, part: Part, points: Vec<(f64, f64)>) -> Self {
        Self {
            name,
            points,
            stroke: Stroke::Solid,
            part,
        }
    }

    /// The same in another stroke.
    pub(crate) const fn stroke(mut self, stroke: Stroke) -> Self {
        self.stroke = stroke;
        self
    }
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
        /// Whether amounts are by mass or by mole.
        basis: Basis,
        /// The lever rule at each pressure or temperature, of a blend that was named.
        levers: Vec<Lever>,
        /// The ends at which both lines do not reach a pure component.
        open: Vec<OpenEnd>,
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
        /// What it does.
        kind: CoilKind,
        /// The liquid before the expansion device, where the coil begins at its inlet.
        liquid: Option<LiquidFeed>,
        /// What flows on the other side.
        fluid: Option<SecondFluid>,
        /// How near each refrigerant's line comes to that of the fluid.
        approaches: Vec<Approach>,
    },
    /// Domes of two phases.
    Dome {
        /// The refrigerants.
        refrigerants: Vec<String>,
        /// The plane.
        plane: Plane,
        /// The reference states of enthalpy and entropy.
        zeros: Vec<ReferenceState>,
    },
}

/// A picture as numbers and names.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Its kind.
    pub kind: PictureKind,
    /// What it is of.
    pub subject: PictureSubject,
    /// What the horizontal axis counts.
    pub across: AxisQuantity,
    /// What the vertical axis counts.
    pub up: AxisQuantity,
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
    /// The estimated pairs that it rests on.
    pub estimates: Vec<PairEstimate>,
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
            kind,
            estimates: estimated(request, &drawn.subject, catalogue)?,
            subject: drawn.subject,
            across: drawn.across,
            up: drawn.up,
            x: drawn.x,
            y: drawn.y,
            curves: drawn.curves,
            marks: drawn.marks,
            facts: request
                .refrigerants
                .iter()
                .map(Facts::of_refrigerant)
                .collect(),
            temperature_unit: request.temperature_unit,
            pressure_unit: request.pressure_unit,
            site: request.site,
        })
    }

    /// The same without what is to be read from it: the named blend of a lens, its tie line and the
    /// azeotropes.
    pub(crate) fn unsolved(&self) -> Self {
        let mut asked = self.clone();
        let is_given = |part| !matches!(part, Part::Tie | Part::Glide | Part::Approach);
        asked.curves.retain(|curve| is_given(curve.part));
        asked.marks.clear();
        if let PictureSubject::Lens { levers, .. } = &mut asked.subject {
            levers.clear();
        }
        asked
    }

    /// The units of its lines.
    pub(crate) fn units(&self) -> UnitSet {
        units(self.temperature_unit, self.pressure_unit)
    }
}

/// What a kind of picture draws.
struct Drawn {
    subject: PictureSubject,
    across: AxisQuantity,
    up: AxisQuantity,
    x: Axis,
    y: Axis,
    curves: Vec<Trace>,
    marks: Vec<(Name, (f64, f64))>,
}

/// The estimated pairs of the refrigerants of a picture, or of the mixtures that it goes through.
fn estimated(
    request: &Request,
    subject: &PictureSubject,
    catalogue: &Catalogue,
) -> Result<Vec<PairEstimate>> {
    let mixed = match subject {
        PictureSubject::Lens { first, second, .. } => Some(format!("{first}/{second} (50/50)")),
        PictureSubject::Triangle {
            first,
            second,
            third,
            ..
        } => Some(format!("{first}/{second}/{third} (40/30/30)")),
        _ => None,
    };
    let mixture = mixed
        .map(|text| Refrigerant::kept(catalogue, &text, Basis::Mass))
        .transpose()?;
    let all = request.refrigerants.iter().chain(&mixture);
    let mut found: Vec<PairEstimate> = Vec::new();
    for estimate in all.flat_map(estimates) {
        if !found.contains(&estimate) {
            found.push(estimate);
        }
    }
    Ok(found)
}

/// The units of a picture.
fn units(temperature: TemperatureUnit, pressure: PressureUnit) -> UnitSet {
    let set = match temperature {
        TemperatureUnit::Fahrenheit => UnitSet::INCH_POUND,
        _ => UnitSet::SI,
    };
    UnitSet {
        absolute: pressure.absolute(),
        ..set.with_temperature(temperature)
    }
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

fn nothing(reason: Phrase) -> Error {
    Error::NoState {
        reason: reason.into(),
        hint: "choose other pressures or temperatures".into(),
    }
}
