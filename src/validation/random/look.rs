//! Lines that were refused, looked for by stability alone.

use super::judge::OnePhaseKind::{self, Liquid, Unstable, Vapor};
use super::judge::PROOF;
use super::{Asked, BELOW_THE_TOP, CLOSED, Found, lost, points};
use crate::refrigerant::{Saturation, SaturationPoint};
use crate::units::Temperature;

/// Pressures or temperatures at which a refused answer is looked for.
const LOOKED_AT: u32 = 24;
/// Lowest such pressure, Pa.
const LOWEST: f64 = 1e2;
/// Halvings towards an edge of two phases.
const HALVINGS: usize = 12;

/// A place on an isotherm or an isobar.
#[derive(Clone, Copy)]
struct Place {
    /// K.
    temperature: f64,
    /// Pa.
    pressure: f64,
}

impl Asked<'_> {
    /// Looks for the lines at a temperature in K that an answer does not have.
    pub(super) fn look_at_temperature(
        &mut self,
        temperature: f64,
        answer: Option<&Saturation>,
        found: &mut Found,
    ) {
        let (low, _, most) = self.limits();
        if temperature < low {
            return;
        }
        // from high to low pressure
        let places = (0..LOOKED_AT).map(|k| {
            let part = f64::from(k) / f64::from(LOOKED_AT - 1);
            let pressure = (most.ln() + (LOWEST.ln() - most.ln()) * part).exp();
            Place {
                temperature,
                pressure,
            }
        });
        self.look(places, answer, found);
    }

    /// The same at a pressure in Pa.
    pub(super) fn look_at_pressure(
        &mut self,
        pressure: f64,
        answer: Option<&Saturation>,
        found: &mut Found,
    ) {
        let (low, high, _) = self.limits();
        // a gas with a trace of a refrigerant condenses below the refrigerant's range
        let end = high.min((1.3 * self.reducing()).max(1.2 * low));
        let places = (0..LOOKED_AT).map(|k| Place {
            temperature: low + (end - low) * f64::from(k) / f64::from(LOOKED_AT - 1),
            pressure,
        });
        self.look(places, answer, found);
    }

    /// Looks along places from where the blend is dense to where it is thin.
    fn look(
        &mut self,
        places: impl Iterator<Item = Place>,
        answer: Option<&Saturation>,
        found: &mut Found,
    ) {
        let top = self.top();
        let (_, z) = self.refrigerant.model();
        let has_upper = answer.is_some_and(|it| it.bubble.is_some() || it.retrograde.is_some());
        let points = answer.map(points).unwrap_or_default();
        let has_one_between = |a: Place, b: Place| {
            points.iter().any(|(_, point, _)| {
                let temperature = point.temperature.in_kelvin();
                let pressure = point.pressure.in_pascal();
                temperature > a.temperature * (1.0 - CLOSED)
                    && temperature < b.temperature * (1.0 + CLOSED)
                    && pressure < a.pressure * (1.0 + CLOSED)
                    && pressure > b.pressure * (1.0 - CLOSED)
            })
        };
        let kinds: Vec<(Place, OnePhaseKind)> = places
            .filter_map(|place| Some((place, self.kind_at(place)?)))
            .collect();
        for two in kinds.windows(2) {
            let [(dense, before), (thin, after)] = [two[0], two[1]];
            let judge = self.judge(Temperature::kelvin(dense.temperature));
            if judge.lacks_a_liquid(z, thin.pressure) {
                continue;
            }
            let missing = match (before, after) {
                (Liquid, Unstable) if !has_upper => "an upper point",
                (Unstable, Vapor)
                    if !has_one_between(dense, thin) && !self.is_beaten(thin, &points) =>
                {
                    // the blend may be the denser phase there: above the critical pressure, or with
                    // a trace of a gas above the critical temperature
                    match (self.drops(dense, thin), has_upper) {
                        (true, _) => "a dew point",
                        (false, true) => continue,
                        (false, false) => "a bubble point",
                    }
                }
                _ => continue,
            };
            let near = thin.temperature > BELOW_THE_TOP * top;
            let what = format!(
                "{missing} exists between {:.2} K, {:.0} Pa and {:.2} K, {:.0} Pa",
                dense.temperature, dense.pressure, thin.temperature, thin.pressure
            );
            found.push((lost(near), what));
        }
    }

    /// Whether the phase beside the blend at a point that was answered proves the blend unstable at a place
    /// where no trial of the judge's own did.
    fn is_beaten(&self, place: Place, points: &[(&str, &SaturationPoint, bool)]) -> bool {
        let (_, z) = self.refrigerant.model();
        let judge = self.judge(Temperature::kelvin(place.temperature));
        let Some(blend) = judge.best(z, place.pressure) else {
            return false;
        };
        points.iter().any(|(_, point, bubble)| {
            let other = if *bubble { &point.vapor } else { &point.liquid };
            let trial = self.phase(&judge, other);
            let trial = judge.near(&trial, place.pressure, !bubble);
            trial.is_some_and(|trial| judge.distance(&trial, &blend.potentials) < -PROOF)
        })
    }

    fn kind_at(&self, place: Place) -> Option<OnePhaseKind> {
        let (_, z) = self.refrigerant.model();
        let judge = self.judge(Temperature::kelvin(place.temperature));
        judge.kind(z, place.pressure)
    }

    /// Whether what appears on the edge between a place of two phases and one of one is denser than the
    /// blend.
    fn drops(&self, mut two: Place, mut one: Place) -> bool {
        for _ in 0..HALVINGS {
            let middle = Place {
                temperature: (two.temperature * one.temperature).sqrt(),
                pressure: (two.pressure * one.pressure).sqrt(),
            };
            match self.kind_at(middle) {
                Some(Liquid | Vapor) => one = middle,
                _ => two = middle,
            }
        }
        let (_, z) = self.refrigerant.model();
        let judge = self.judge(Temperature::kelvin(two.temperature));
        let blend = judge.best(z, two.pressure);
        blend.is_none_or(|blend| {
            let proof = judge.proof(&blend, two.pressure);
            proof.is_none_or(|proof| proof.trial.density > blend.density)
        })
    }
}
