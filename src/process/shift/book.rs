//! From the moments of a loss to rows.

use crate::process::reasons;
use serde::Serialize;

use super::flammable::Flammable;
use super::lines::{Card, Left, Lines};
use super::question::{LossQuestion, Until};
use super::trace::{Moment, Trace};
use super::vessel::{Amounts, Vessel};
use crate::error::{Error, Result};
use crate::helmholtz::MAX_COMPONENTS;
use crate::refrigerant::Refrigerant;
use crate::units::Pressure;

/// The blend after a share of its mass is lost; arrays in the order of the composition.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs)] // the names say it, the units stand in the keys
#[non_exhaustive]
pub struct Row {
    pub lost_mass_fraction: f64,
    pub lost_mole_fraction: f64,
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    pub liquid_mass_fractions: Option<Vec<f64>>,
    pub liquid_mole_fractions: Option<Vec<f64>>,
    pub vapor_mass_fractions: Vec<f64>,
    pub vapor_mole_fractions: Vec<f64>,
    pub remaining_mass_fractions: Vec<f64>,
    /// What leaves at that moment.
    pub leaving_mass_fractions: Vec<f64>,
    /// Where a mass is given, kg.
    pub left_mass_kg: Option<f64>,
    pub remaining_flammable_mass_fraction: f64,
    pub liquid_flammable_mass_fraction: Option<f64>,
    pub vapor_flammable_mass_fraction: f64,
    pub leaving_flammable_mass_fraction: f64,
    /// Of what is left, at the temperature.
    #[serde(rename = "bubble_pressure_Pa")]
    pub bubble_pressure: Option<Pressure>,
    /// Of what is left, at the temperature.
    #[serde(rename = "dew_pressure_Pa")]
    pub dew_pressure: Option<Pressure>,
    /// Of what is left, at the suction pressure.
    #[serde(rename = "glide_K")]
    pub glide: Option<f64>,
    /// T_dew(left) - T_dew(listed) at the suction pressure: positive where the listed card reads
    /// more superheat than there is.
    #[serde(rename = "superheat_error_K")]
    pub superheat_error: Option<f64>,
    /// T_bubble(listed) - T_bubble(left) at the liquid pressure, read minus true.
    #[serde(rename = "subcooling_error_K")]
    pub subcooling_error: Option<f64>,
    /// From the measured deviation of the pairs' vapors; none where no pair has one on record, and
    /// of a limit.
    pub vapor_uncertainty: Option<VaporUncertainty>,
}

/// Standard uncertainties of a row from the measured vapors of its pairs.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[allow(missing_docs)] // as in the row that it belongs to
#[non_exhaustive]
pub struct VaporUncertainty {
    pub remaining_mass_fractions: Vec<f64>,
    pub vapor_mass_fractions: Vec<f64>,
    pub leaving_mass_fractions: Vec<f64>,
    #[serde(rename = "superheat_error_K")]
    pub superheat_error: Option<f64>,
    #[serde(rename = "subcooling_error_K")]
    pub subcooling_error: Option<f64>,
}

/// What there is after a loss and a top-up.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Round {
    /// Counted from 1.
    pub round: usize,
    /// The state behind the top-up; its share lost is 0.
    #[serde(flatten)]
    pub row: Row,
}

/// What turns moments into rows.
pub(super) struct Book<'a> {
    /// Place in the model of each component in the user's order.
    places: Vec<usize>,
    pub(super) flammable: Flammable,
    pub(super) lines: Lines<'a>,
    mass: Option<f64>,
}

impl<'a> Book<'a> {
    pub(super) fn new(together: &'a Refrigerant, card: Card, question: &LossQuestion) -> Self {
        let mixture = together.model().0;
        let places = together.components().iter().map(|one| {
            let mut components = mixture.components().iter();
            let place = components.position(|own| own.record.designation == one.designation);
            place.unwrap_or_default()
        });
        Self {
            places: places.collect(),
            flammable: Flammable::of(together),
            lines: Lines::new(together, question.temperature.in_kelvin(), card),
            mass: question.mass,
        }
    }

    /// From the model's order into the user's.
    pub(super) fn ordered(&self, values: &[f64]) -> Vec<f64> {
        self.places.iter().map(|&place| values[place]).collect()
    }

    /// Moles per kg of mass fractions by name.
    pub(super) fn amounts(&self, vessel: &Vessel<'_>, shares: &[(&str, f64)]) -> Amounts {
        let mut amounts = [0.0; MAX_COMPONENTS];
        for (place, component) in vessel.mixture.components().iter().enumerate() {
            let own = shares
                .iter()
                .filter(|(name, _)| *name == component.record.designation);
            let share: f64 = own.map(|(_, share)| share).sum();
            amounts[place] = share / component.record.molar_mass_kg_mol;
        }
        amounts
    }

    pub(super) fn row(&mut self, vessel: &Vessel<'_>, start: &Amounts, moment: &Moment) -> Row {
        let mass = |x: &[f64]| self.ordered(&vessel.by_mass(x));
        let remaining = mass(&moment.amounts);
        let liquid = moment.liquid.map(|x| mass(&x));
        let (vapor, leaving) = (mass(&moment.vapor), mass(&moment.leaving));
        let burns = |shares: &[f64]| self.flammable.share(shares);
        let moles = |amounts: &Amounts| amounts.iter().sum::<f64>();
        let (remaining_burns, vapor_burns) = (burns(&remaining), burns(&vapor));
        let (liquid_burns, leaving_burns) = (liquid.as_deref().map(burns), burns(&leaving));
        let whole = vessel.fractions(&moment.amounts);
        let left = Left {
            z: &whole,
            lost: Some(moment.lost),
        };
        let own_bubble = vessel.volume.is_none().then_some(moment.pressure);
        let told = self.lines.of(left, own_bubble);
        Row {
            lost_mass_fraction: moment.lost,
            lost_mole_fraction: 1.0 - moles(&moment.amounts) / moles(start),
            pressure: Pressure::pascal(moment.pressure),
            liquid_mole_fractions: moment.liquid.map(|x| self.ordered(&x)),
            liquid_flammable_mass_fraction: liquid_burns,
            liquid_mass_fractions: liquid,
            vapor_mole_fractions: self.ordered(&moment.vapor),
            vapor_flammable_mass_fraction: vapor_burns,
            vapor_mass_fractions: vapor,
            remaining_flammable_mass_fraction: remaining_burns,
            remaining_mass_fractions: remaining,
            leaving_flammable_mass_fraction: leaving_burns,
            leaving_mass_fractions: leaving,
            left_mass_kg: self.mass.map(|mass| mass * (1.0 - moment.lost)),
            bubble_pressure: told.bubble,
            dew_pressure: told.dew,
            glide: told.glide,
            superheat_error: told.superheat_error,
            subcooling_error: told.subcooling_error,
            vapor_uncertainty: None,
        }
    }

    /// What leaves at a moment, by mass in the user's order.
    pub(super) fn leaving(&self, vessel: &Vessel<'_>, moment: &Moment) -> Vec<f64> {
        self.ordered(&vessel.by_mass(&moment.leaving))
    }
}

/// Follows a loss of mass fractions by name; the amounts at the start beside it.
pub(super) fn follow<'a>(
    together: &'a Refrigerant,
    question: &LossQuestion,
    book: &Book<'a>,
    shares: &[(&str, f64)],
) -> Result<(Trace<'a>, Amounts)> {
    let temperature = question.temperature.in_kelvin();
    let empty = Vessel {
        refrigerant: together,
        mixture: together.model().0,
        temperature,
        volume: None,
    };
    let start = book.amounts(&empty, shares);
    let begun = Vessel::new(together, temperature, &start, question.filled)?;
    let floor = floor(question);
    if floor.is_some_and(|floor| begun.1.pair.pressure <= floor) {
        return Err(Error::NoAnswer {
            reason: reasons::LOSS_NOTHING_LEAKS.into(),
            hint: "give a higher temperature, or ask for a draw by a machine".into(),
        });
    }
    let trace = Trace::of(begun, &start, question.leaving, floor)?;
    Ok((trace, start))
}

pub(super) fn floor(question: &LossQuestion) -> Option<f64> {
    match question.until {
        Until::SitePressure(site) => Some(site.in_pascal()),
        Until::Drawn => None,
    }
}
