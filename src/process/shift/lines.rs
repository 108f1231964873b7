//! Bubble and dew of what is left, beside those of the listed composition.

use super::trace::time_at;
use crate::equilibrium::bubble_dew::{
    Branch, MOST_BEFORE, PhasePair, near_at_pressure, near_at_temperature, through,
};
use crate::equilibrium::line::BlendLine;
use crate::helmholtz::{Mixture, MoleFractions};
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature};

/// Where the listed blend's dew pressure is taken that glide and superheat are looked at.
const EVAPORATING: Temperature = Temperature::fahrenheit(40.0);
/// Where its bubble pressure is taken that subcooling is looked at.
const CONDENSING: Temperature = Temperature::fahrenheit(110.0);

/// The listed card at the two pressures looked at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Card {
    pub(super) suction: Option<Pressure>,
    pub(super) liquid: Option<Pressure>,
    dew: Option<f64>,
    bubble: Option<f64>,
}

impl Card {
    pub(super) fn of(
        listed: &Refrigerant,
        suction: Option<Pressure>,
        liquid: Option<Pressure>,
    ) -> Self {
        // Four points alone: a curve would cost a hundred times as much.
        let listed = listed.exact();
        let suction = suction.or_else(|| listed.dew_pressure(EVAPORATING).ok());
        let liquid = liquid.or_else(|| listed.bubble_pressure(CONDENSING).ok());
        let dew = suction.and_then(|at| listed.dew_temperature(at).ok());
        let bubble = liquid.and_then(|at| listed.bubble_temperature(at).ok());
        Self {
            suction,
            liquid,
            dew: dew.map(Temperature::in_kelvin),
            bubble: bubble.map(Temperature::in_kelvin),
        }
    }
}

/// What the lines of a composition say; none where a point does not exist.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told {
    pub(super) bubble: Option<Pressure>,
    pub(super) dew: Option<Pressure>,
    pub(super) glide: Option<f64>,
    pub(super) superheat_error: Option<f64>,
    pub(super) subcooling_error: Option<f64>,
}

/// Lines of one composition after another: each point starts from those before it.
#[derive(Debug, Clone)]
pub(super) struct Lines<'a> {
    refrigerant: &'a Refrigerant,
    mixture: &'a Mixture,
    temperature: f64,
    card: Card,
    /// Bubble and dew at the temperature, bubble and dew at the suction pressure, bubble at the
    /// liquid's: the last points, with t there.
    before: [Vec<(f64, PhasePair)>; 5],
}

/// A composition, and the share lost where it is one along the loss: others leave no trace.
#[derive(Clone, Copy)]
pub(super) struct Left<'z> {
    pub(super) z: &'z MoleFractions,
    pub(super) lost: Option<f64>,
}

impl<'a> Lines<'a> {
    pub(super) fn new(refrigerant: &'a Refrigerant, temperature: f64, card: Card) -> Self {
        Self {
            refrigerant,
            mixture: refrigerant.model().0,
            temperature,
            card,
            before: Default::default(),
        }
    }

    /// A point from those before it, else from nothing.
    fn point(
        &mut self,
        slot: usize,
        left: Left<'_>,
        near: impl Fn(&PhasePair) -> Option<PhasePair>,
        alone: impl Fn() -> Option<PhasePair>,
    ) -> Option<PhasePair> {
        let before = &mut self.before[slot];
        // by t of `trace`: what is left changes as fast at the end as at the beginning
        let place = left.lost.map(time_at);
        if let Some(place) = place {
            before.retain(|(earlier, _)| *earlier < place);
        }
        let ahead = place.and_then(|place| through(before, place));
        let last = before.last().map(|(_, pair)| *pair);
        let mut starts = [ahead, last].into_iter().flatten();
        let found = starts.find_map(|start| near(&start)).or_else(alone);
        match (found, place) {
            (Some(found), Some(place)) => {
                if before.len() == MOST_BEFORE {
                    before.remove(0);
                }
                before.push((place, found));
            }
            (None, Some(_)) => before.clear(),
            (_, None) => {}
        }
        found
    }

    fn at_temperature(&mut self, slot: usize, branch: Branch, left: Left<'_>) -> Option<f64> {
        let (mixture, at, z) = (self.mixture, self.temperature, left.z);
        let near = |start: &PhasePair| near_at_temperature(mixture, z, branch, at, start);
        let refrigerant = self.refrigerant;
        let alone = || {
            let found = |line: &BlendLine| line.at_temperature(mixture, z, branch, at);
            refrigerant.with_line_of(z, found).ok()
        };
        Some(self.point(slot, left, near, alone)?.pressure)
    }

    fn at_pressure(
        &mut self,
        slot: usize,
        branch: Branch,
        left: Left<'_>,
        pressure: Option<Pressure>,
    ) -> Option<f64> {
        let (mixture, at, z) = (self.mixture, pressure?.in_pascal(), left.z);
        let near = |start: &PhasePair| near_at_pressure(mixture, z, branch, at, start);
        let refrigerant = self.refrigerant;
        let alone = || {
            let found = |line: &BlendLine| line.at_pressure(mixture, z, branch, at);
            refrigerant.with_line_of(z, found).ok()
        };
        Some(self.point(slot, left, near, alone)?.temperature)
    }

    /// What superheat and subcooling read by the listed card miss by.
    pub(super) fn readings(&mut self, left: Left<'_>) -> [Option<f64>; 2] {
        let card = self.card;
        let dew = self.at_pressure(3, Branch::Dew, left, card.suction);
        let bubble = self.at_pressure(4, Branch::Bubble, left, card.liquid);
        let difference = |a: Option<f64>, b: Option<f64>| Some(a? - b?);
        [difference(dew, card.dew), difference(card.bubble, bubble)]
    }

    /// The lines of a composition, its bubble point at the temperature where it is known.
    pub(super) fn of(&mut self, left: Left<'_>, bubble: Option<f64>) -> Told {
        let card = self.card;
        let bubble = bubble.or_else(|| self.at_temperature(0, Branch::Bubble, left));
        let dew = self.at_temperature(1, Branch::Dew, left);
        let low_bubble = self.at_pressure(2, Branch::Bubble, left, card.suction);
        let low_dew = self.at_pressure(3, Branch::Dew, left, card.suction);
        let high_bubble = self.at_pressure(4, Branch::Bubble, left, card.liquid);
        let difference = |a: Option<f64>, b: Option<f64>| Some(a? - b?);
        Told {
            bubble: bubble.map(Pressure::pascal),
            dew: dew.map(Pressure::pascal),
            glide: difference(low_dew, low_bubble),
            superheat_error: difference(low_dew, card.dew),
            subcooling_error: difference(card.bubble, high_bubble),
        }
    }
}
