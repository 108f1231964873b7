//! The pictures that go with a chart: what each shows, as numbers.

mod coil;
mod curves;
mod dome;
mod lens;

use super::footer::signature;
use super::plot::Plot;
use super::{Request, Rows};
use crate::catalogue::Catalogue;
use crate::service::facts::CLASS_NOT_ASSIGNED;
use crate::units::Pressure;
use crate::{Error, Result};

/// A kind of picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Saturation pressure against temperature, bubble and dew, on a logarithmic axis.
    Curves,
    /// Bubble and dew temperature of two components against composition at a pressure, beside
    /// an ideal mixture.
    Lens,
    /// Temperature on the way from bubble to dew at a pressure, as in an evaporator.
    Coil,
    /// Pressure against enthalpy: the dome of two phases, with isotherms.
    Dome,
}

impl Kind {
    /// Every kind there is.
    pub const ALL: [Kind; 4] = [Kind::Curves, Kind::Lens, Kind::Coil, Kind::Dome];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Kind::Curves => "curves",
            Kind::Lens => "lens",
            Kind::Coil => "coil",
            Kind::Dome => "dome",
        }
    }
}

impl Plot {
    /// A picture of what a chart's request asks for; the catalogue gives the mixtures of a lens.
    ///
    /// # Errors
    /// [`Error::NoState`] where nothing of it can be drawn; [`Error::Value`] where it needs
    /// pressures for rows, one refrigerant, or one of two components.
    pub fn new(kind: Kind, request: &Request, catalogue: &Catalogue) -> Result<Self> {
        let mut plot = match kind {
            Kind::Curves => curves::plot(request),
            Kind::Lens => lens::plot(request, catalogue),
            Kind::Coil => coil::plot(request),
            Kind::Dome => dome::plot(request),
        }?;
        let classes: Vec<String> = request
            .refrigerants
            .iter()
            .map(|one| {
                let class = one.safety_class();
                let class = class.as_deref().unwrap_or(CLASS_NOT_ASSIGNED);
                format!("{} {class}", one.designation())
            })
            .collect();
        plot.notes.push(format!("Class: {}.", classes.join(", ")));
        plot.notes.push(format!(
            "{}. Arithmetic, no verdict: local codes, the maker's instructions and licensed \
             people decide.",
            signature(&request.choices)
        ));
        Ok(plot)
    }
}

/// The pressures of the rows, for a picture at given pressures.
fn pressures(request: &Request, kind: Kind) -> Result<Vec<Pressure>> {
    match &request.rows {
        Rows::Pressures(values) => Ok(values
            .iter()
            .map(|value| request.pressure_unit.write(*value, &request.site))
            .collect()),
        Rows::Temperatures(_) => Err(Error::Value {
            quantity: "picture",
            text: kind.name().into(),
            problem: "is drawn at given pressures".into(),
            hint: "give them, for example --pressures 5bara,10bara".into(),
        }),
    }
}

fn nothing(what: &str) -> Error {
    Error::NoState {
        reason: format!("no point of this {what} has an answer"),
        hint: "choose other pressures or temperatures".into(),
    }
}

/// A pressure as it stands beside a curve.
fn pressure_name(pressure: Pressure, request: &Request) -> String {
    let unit = request.pressure_unit;
    let value = crate::units::short(unit.read(pressure, &request.site), 4);
    format!("{value} {}", unit.typed())
}
