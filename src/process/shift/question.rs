//! What is asked about a loss.

use serde::Serialize;

use crate::catalogue::{Basis, Catalogue, Component, normalized};
use crate::error::Result;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature};

/// Which phase is lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Leaving {
    /// Vapor.
    Vapor,
    /// Liquid, and vapor once no liquid is left.
    Liquid,
    /// Both, in the composition of the whole: what a running system loses, for comparison (common
    /// practice; what coils and receiver hold back is not counted).
    Circulating,
}

/// How far a loss goes at most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Until {
    /// Down to the pressure of the site: a leak.
    SitePressure(Pressure),
    /// Down to 0.1 % of the mass: a draw by a machine.
    Drawn,
}

/// What ended a loss.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// The pressure of the site.
    SitePressure,
    /// 99.9 % of the mass.
    Share,
}

/// Top-up after a loss, back to the mass at the start.
#[derive(Debug, Clone)]
pub struct Refill {
    /// What is filled in.
    pub refrigerant: Refrigerant,
    /// How many times loss and top-up follow each other.
    pub rounds: usize,
    /// All components of what was there and of what is filled in.
    pub(super) together: Refrigerant,
}

impl Refill {
    /// Top-up of `listed` with another refrigerant, or with the same.
    ///
    /// # Errors
    /// [`crate::Error::Composition`] for more than eight components together.
    pub fn new(
        catalogue: &Catalogue,
        listed: &Refrigerant,
        refrigerant: Refrigerant,
        rounds: usize,
    ) -> Result<Self> {
        let own = listed.components();
        let more: Vec<&Component> = refrigerant
            .components()
            .iter()
            .filter(|one| own.iter().all(|own| own.designation != one.designation))
            .collect();
        let together = if more.is_empty() {
            listed.clone()
        } else {
            let names = own.iter().chain(more).map(|one| one.designation.as_str());
            let parts: Vec<(&str, f64)> = names.map(|name| (name, 1.0)).collect();
            let composition = catalogue.compose(&normalized(&parts)?, Basis::Mass)?;
            Refrigerant::from_composition(catalogue, composition)?
        };
        Ok(Self {
            refrigerant,
            rounds,
            together,
        })
    }
}

/// A loss at a temperature.
#[derive(Debug, Clone)]
pub struct LossQuestion {
    /// Temperature of the vessel.
    pub temperature: Temperature,
    /// Which phase is lost.
    pub leaving: Leaving,
    /// How far it goes at most.
    pub until: Until,
    /// The liquid's share of a rigid vessel's volume at the start; none without vapor space.
    pub filled: Option<f64>,
    /// Shares of the mass lost at which there is a row; without any, every tenth.
    pub lost: Vec<f64>,
    /// Mass at the start, kg.
    pub mass: Option<f64>,
    /// Where glide and superheat are looked at; without it the listed blend's dew pressure at
    /// 40 °F.
    pub suction: Option<Pressure>,
    /// Where subcooling is looked at; without it the listed blend's bubble pressure at 110 °F.
    pub liquid: Option<Pressure>,
    /// Top-up after the largest loss asked for.
    pub refill: Option<Refill>,
    /// Whether the corners of the published tolerances are looked at.
    pub tolerance: bool,
}

impl LossQuestion {
    /// The same with a row every second percent too, as a picture needs; and the shares that it
    /// names, those asked for or every third tenth.
    pub fn for_picture(&self) -> (Self, Vec<f64>) {
        let mut marked = self.lost.clone();
        if marked.is_empty() {
            marked.extend([0.0, 0.3, 0.6, 0.9]);
        }
        let mut more = self.clone();
        more.lost = marked.clone();
        more.lost.extend((0..50).map(|part| f64::from(part) / 50.0));
        (more, marked)
    }

    /// A loss of vapor without vapor space, down to the pressure of the standard atmosphere.
    pub fn vapor(temperature: Temperature) -> Self {
        Self {
            temperature,
            leaving: Leaving::Vapor,
            until: Until::SitePressure(crate::units::Atmosphere::SEA_LEVEL.pressure()),
            filled: None,
            lost: Vec::new(),
            mass: None,
            suction: None,
            liquid: None,
            refill: None,
            tolerance: false,
        }
    }
}
