//! All lines at a temperature near the top of a blend's envelope: as it was traced, each point held against
//! its rivals, and from stability what is missing.

use super::at_temperature::{AtTemperature, SAME};
use super::bubble_dew::{self, Branch, PhasePair};
use super::envelope::EnvelopePoint;
use super::line::{BlendLine, reducing_temperature, search, upper_from_stability};
use super::rivals::followed;
use super::stability::{is_beaten_by, pair_is_unstable};
use crate::error::{Error, Result};
use crate::helmholtz::{Mixture, MoleFractions};

impl BlendLine {
    /// The lines at a temperature in K, those that are missing sought by stability; `only` says which is
    /// wanted.
    pub(super) fn near_the_top(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
        only: Option<Branch>,
    ) -> Result<AtTemperature> {
        let envelope = match self.envelope(mixture, z) {
            Ok(envelope) => envelope,
            Err(_) => {
                let none = AtTemperature::default();
                return self.sought(mixture, z, temperature, none, (None, only));
            }
        };
        if temperature > envelope.cricondentherm.temperature {
            let none = AtTemperature::default();
            if self.is_whole(mixture, z) {
                return Ok(none);
            }
            return self.sought(mixture, z, temperature, none, (None, only));
        }
        let below = temperature < envelope.critical.temperature;
        let points = envelope.at_temperature(mixture, z, temperature);
        let all = AtTemperature::of(points.iter().copied(), below);
        let mut found = all.clone();
        if envelope.folds() {
            // of several liquids the stable one
            let stable = |point: &&EnvelopePoint| {
                let pair = &point.pair;
                let tested = (&pair.vapor, pair.vapor_density, pair.pressure);
                !points.iter().any(|EnvelopePoint { pair: other, .. }| {
                    let trial = (&other.liquid, other.liquid_density);
                    is_beaten_by(mixture, temperature, tested, trial)
                })
            };
            found = AtTemperature::of(points.iter().filter(stable).copied(), below).or(all);
        }
        let tested = |pair: Option<PhasePair>| pair.filter(|pair| !pair_is_unstable(mixture, pair));
        if !self.is_whole(mixture, z) {
            // a dew point may lie below its own
            let bubble = tested(found.bubble);
            let below = bubble.is_some().then_some(true);
            let found = AtTemperature {
                bubble,
                ..AtTemperature::default()
            };
            return self.sought(mixture, z, temperature, found, (below, only));
        }
        // What is not asked for is not tested, where what is asked for is stable.
        let asked = only.and_then(|branch| match branch {
            Branch::Bubble => found.bubble,
            Branch::Dew => found.dew,
        });
        if tested(asked).is_some() {
            return Ok(found);
        }
        let stable = AtTemperature {
            bubble: tested(found.bubble),
            dew: tested(found.dew),
            retrograde: tested(found.retrograde),
            lost: None,
        };
        let complete = stable.dew.is_some()
            && if below {
                stable.bubble.is_some()
            } else {
                stable.retrograde.is_some()
            };
        if complete {
            return Ok(stable);
        }
        self.sought(mixture, z, temperature, stable, (Some(below), only))
    }

    /// Fills in from stability what is missing of the lines at a temperature in K. `below` says on
    /// which side of the critical temperature it lies, where that is known. No point lies above the
    /// pressures of the blend's lines.
    fn sought(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
        mut found: AtTemperature,
        (below, only): (Option<bool>, Option<Branch>),
    ) -> Result<AtTemperature> {
        let wanted = |branch| only.is_none_or(|only| only == branch);
        let within = |(branch, pair): (Branch, PhasePair)| {
            self.within(mixture, z, branch, pair)
                .map(|pair| (branch, pair))
        };
        let lower = || {
            let found = search(mixture, z).lower_at_temperature(temperature);
            found.and_then(within)
        };
        if found.dew.is_none() && wanted(Branch::Dew) {
            match lower() {
                Ok((Branch::Dew, dew)) => found.dew = Some(dew),
                Ok((Branch::Bubble, bubble)) => found.bubble = found.bubble.or(Some(bubble)),
                Err(error) => found.lost = Some(error),
            }
        }
        if found.upper().is_none() && (wanted(Branch::Bubble) || below == Some(false)) {
            match upper_beside_top(mixture, z, temperature, below).and_then(within) {
                Ok((Branch::Bubble, pair)) => found.bubble = Some(pair),
                Ok((Branch::Dew, pair)) => {
                    // not the lower one again
                    let other = found
                        .dew
                        .is_none_or(|dew| pair.pressure > dew.pressure * (1.0 + SAME));
                    found.retrograde = other.then_some(pair);
                }
                Err(error @ Error::AboveRange { .. })
                    if only == Some(Branch::Bubble)
                        && temperature > reducing_temperature(mixture, z) =>
                {
                    match lower() {
                        Ok((Branch::Bubble, bubble)) => found.bubble = Some(bubble),
                        _ => found.lost = Some(error),
                    }
                }
                Err(error) => found.lost = Some(error),
            }
        }
        if found.upper().is_none() && only.is_none() && found.lost.is_none() {
            found.lost = Some(bubble_dew::not_found(Branch::Bubble, "temperature"));
        }
        Ok(found)
    }
}

/// As [`upper_from_stability`], after a cold start where there is a bubble point: the liquid may part up
/// to the top.
fn upper_beside_top(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
    below: Option<bool>,
) -> Result<(Branch, PhasePair)> {
    let mut beyond = None;
    if below != Some(false) {
        let whole = bubble_dew::at_temperature(mixture, z, Branch::Bubble, temperature, None);
        match followed(mixture, z, Branch::Bubble, temperature, whole, None) {
            // a solution above all pressures need not be the line
            Ok(found) if found.pressure > search(mixture, z).highest_pressure => {
                beyond = Some((Branch::Bubble, found));
            }
            Ok(found) => return Ok((Branch::Bubble, found)),
            Err(_) => {}
        }
    }
    upper_from_stability(mixture, z, temperature).or_else(|error| beyond.ok_or(error))
}
