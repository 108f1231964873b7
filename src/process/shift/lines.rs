//! Bubble and dew of what is left, beside those of the listed composition.

use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
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

/// Lines of one composition after another: each point starts from that of the one before.
#[derive(Debug, Clone)]
pub(super) struct Lines<'a> {
    mixture: &'a Mixture,
    temperature: f64,
    card: Card,
    /// Bubble and dew at the temperature, bubble and dew at the suction pressure, bubble at the
    /// liquid's: the last one, and the one before it.
    near: [[Option<PhasePair>; 2]; 5],
}

/// How far beyond the last point the line through it and the one before is trusted, in their
/// distance.
const FARTHEST: f64 = 2.5;

/// Starts of a point of a composition: on the line through the two points before, and the last of
/// them. With rows as even as they mostly are, the first spares a third of the steps.
fn starts(
    near: &[Option<PhasePair>; 2],
    branch: Branch,
    z: &MoleFractions,
) -> [Option<PhasePair>; 2] {
    let given = |pair: &PhasePair| match branch {
        Branch::Bubble => pair.liquid,
        Branch::Dew => pair.vapor,
    };
    let ahead = near[0].zip(near[1]).and_then(|(last, before)| {
        let (a, b) = (given(&before), given(&last));
        let (mut along, mut size) = (0.0, 0.0);
        for ((a, b), z) in a.iter().zip(b.iter()).zip(z.iter()) {
            along += (z - a) * (b - a);
            size += (b - a) * (b - a);
        }
        let weight = along / size;
        (size > 0.0 && weight.abs() < FARTHEST).then(|| bubble_dew::between(&before, &last, weight))
    });
    [ahead, near[0]]
}

impl<'a> Lines<'a> {
    pub(super) fn new(mixture: &'a Mixture, temperature: f64, card: Card) -> Self {
        Self {
            mixture,
            temperature,
            card,
            near: [[None; 2]; 5],
        }
    }

    fn at_temperature(&mut self, slot: usize, branch: Branch, z: &MoleFractions) -> Option<f64> {
        let (mixture, at) = (self.mixture, self.temperature);
        let starts = starts(&self.near[slot], branch, z).into_iter().flatten();
        let mut found = starts
            .filter_map(|near| bubble_dew::near_at_temperature(mixture, z, branch, at, &near));
        let found = found.next().or_else(|| {
            let line = BlendLine::default();
            line.at_temperature(mixture, z, branch, at).ok()
        });
        self.near[slot] = [found, self.near[slot][0]];
        Some(found?.pressure)
    }

    fn at_pressure(
        &mut self,
        slot: usize,
        branch: Branch,
        z: &MoleFractions,
        pressure: Option<Pressure>,
    ) -> Option<f64> {
        let (mixture, at) = (self.mixture, pressure?.in_pascal());
        let starts = starts(&self.near[slot], branch, z).into_iter().flatten();
        let mut found =
            starts.filter_map(|near| bubble_dew::near_at_pressure(mixture, z, branch, at, &near));
        let found = found.next().or_else(|| {
            let line = BlendLine::default();
            line.at_pressure(mixture, z, branch, at).ok()
        });
        self.near[slot] = [found, self.near[slot][0]];
        Some(found?.temperature)
    }

    /// What superheat and subcooling read by the listed card miss by.
    pub(super) fn readings(&mut self, z: &MoleFractions) -> [Option<f64>; 2] {
        let card = self.card;
        let dew = self.at_pressure(3, Branch::Dew, z, card.suction);
        let bubble = self.at_pressure(4, Branch::Bubble, z, card.liquid);
        let difference = |a: Option<f64>, b: Option<f64>| Some(a? - b?);
        [difference(dew, card.dew), difference(card.bubble, bubble)]
    }

    /// The lines of a composition, its bubble point at the temperature where it is known.
    pub(super) fn of(&mut self, z: &MoleFractions, bubble: Option<f64>) -> Told {
        let card = self.card;
        let bubble = bubble.or_else(|| self.at_temperature(0, Branch::Bubble, z));
        let dew = self.at_temperature(1, Branch::Dew, z);
        let low_bubble = self.at_pressure(2, Branch::Bubble, z, card.suction);
        let low_dew = self.at_pressure(3, Branch::Dew, z, card.suction);
        let high_bubble = self.at_pressure(4, Branch::Bubble, z, card.liquid);
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
