//! The bubble and dew lines of one blend, with the rules for their ends.
//!
//! Below nine tenths of the reducing temperature a cold start is safe. Above, the traced envelope
//! says what exists: below the critical temperature a bubble and a dew point; between it and the
//! highest temperature of two phases no bubble point and two dew points, of which the lower is
//! meant; at a pressure above the critical one the lower bubble temperature.

use std::sync::OnceLock;

use super::bubble_dew::{self, Branch, PhasePair};
use super::envelope::{Envelope, EnvelopePoint};
use super::stability::{is_beaten_by, rival};
use super::three_phase::bubble_over_two_liquids;
use crate::error::{Error, Result};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::bracketed_root;

/// Up to this part of the reducing temperature a cold start is safe.
const SAFE: f64 = 0.90;
/// Where a liquid that splits in two is looked for, K: the coldest a blend is answered.
const COLDEST: f64 = 213.15;
/// Part of the reducing temperature below which a second, thinner liquid of the model is a loop of
/// an equation between the phases, and means nothing.
const LOOPS: f64 = 0.97;
/// Part of the critical pressure above which points are sought along the envelope.
const FLAT: f64 = 0.995;
/// How far, in ln rho, a point may lie from the one between its neighbours on the envelope.
const BESIDE: f64 = 0.1;
/// The same where a point was settled on the envelope itself.
const OWN: f64 = 1e-5;
/// How closely the edge of the parted range is sought, K.
const EDGE: f64 = 0.1;
/// Above the edge of the parted range cold starts are trusted again, K.
const MARGIN: f64 = 5.0;
/// Relative difference in pressure up to which two points of one temperature are one.
const SAME: f64 = 1e-7;
/// A step down the line, in parts of the temperature.
const COOLER: f64 = 0.9;
/// Rivals followed before a dew point is given up.
const MOST_RIVALS: usize = 6;

/// What is found out once about a blend's lines.
#[derive(Debug, Default)]
pub struct BlendLine {
    envelope: OnceLock<Result<Envelope>>,
    splits_below: OnceLock<Option<f64>>,
}

/// Points of the lines at one temperature.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct AtTemperature {
    /// The bubble point.
    pub bubble: Option<PhasePair>,
    /// The dew point, of two the one of lower pressure.
    pub dew: Option<PhasePair>,
    /// The dew point of higher pressure above the critical temperature.
    pub retrograde: Option<PhasePair>,
}

impl AtTemperature {
    /// Sorts points of one temperature, below the critical one or above.
    fn of(points: impl Iterator<Item = (Branch, PhasePair)>, below: bool) -> Self {
        let mut sorted = Self::default();
        for (branch, found) in points {
            match (branch, below) {
                (Branch::Bubble, true) => sorted.bubble = Some(denser(sorted.bubble, found)),
                (Branch::Dew, true) => sorted.dew = Some(denser(sorted.dew, found)),
                // two points of one temperature: the lower pressure first
                (_, false) => match sorted.dew {
                    Some(dew) if dew.pressure < found.pressure => sorted.retrograde = Some(found),
                    earlier => {
                        sorted.retrograde = earlier;
                        sorted.dew = Some(found);
                    }
                },
            }
        }
        sorted
    }

    /// Where a point is missing, that of `other`.
    fn or(self, other: Self) -> Self {
        if other.retrograde.is_some() {
            return other;
        }
        Self {
            bubble: self.bubble.or(other.bubble),
            dew: self.dew.or(other.dew),
            retrograde: None,
        }
    }
}

impl BlendLine {
    /// The traced envelope, made at the first call.
    ///
    /// # Errors
    /// As [`Envelope::trace`].
    pub fn envelope(&self, mixture: &Mixture, z: &MoleFractions) -> Result<&Envelope> {
        let traced = self.envelope.get_or_init(|| Envelope::trace(mixture, z));
        traced.as_ref().map_err(Clone::clone)
    }

    /// Below which temperature, K, the model splits the liquid in two.
    pub fn splits_below(&self, mixture: &Mixture, z: &MoleFractions) -> Option<f64> {
        *self.splits_below.get_or_init(|| {
            let unstable = |temperature: f64| {
                [Branch::Bubble, Branch::Dew].into_iter().any(|branch| {
                    bubble_dew::at_temperature(mixture, z, branch, temperature, None)
                        .map_or(true, |pair| rival_of(mixture, &pair).is_some())
                })
            };
            if !unstable(COLDEST) {
                return None;
            }
            let (mut low, mut high) = (COLDEST, 0.8 * reducing_temperature(mixture, z));
            while high - low > EDGE {
                let middle = 0.5 * (low + high);
                if unstable(middle) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            // a margin for rounding of the edge; above it both ways agree
            Some(high + 0.5)
        })
    }

    /// A branch at a temperature in K.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] above the end of the branch; [`Error::NotConverged`].
    pub fn at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
    ) -> Result<PhasePair> {
        if temperature < SAFE * reducing_temperature(mixture, z) {
            let whole = || bubble_dew::at_temperature(mixture, z, branch, temperature, None);
            let stable = |found| stable(mixture, z, branch, temperature, found);
            return match self.splits_below(mixture, z) {
                Some(edge) if temperature < edge => {
                    let cold = bubble_dew::cold_at_temperature(mixture, z, branch, temperature);
                    stable(cold.ok_or_else(|| bubble_dew::not_found(branch, "temperature")))
                        .or_else(|_| stable(whole()))
                }
                _ => whole().or_else(|lost| stable(Err(lost))),
            };
        }
        let all = self.near_the_top(mixture, z, temperature, Some(branch))?;
        let found = match branch {
            Branch::Bubble => all.bubble,
            Branch::Dew => all.dew,
        };
        found.ok_or_else(|| self.beyond(mixture, z, branch, temperature))
    }

    /// Everything at a temperature in K.
    ///
    /// # Errors
    /// As [`BlendLine::at_temperature`], where there is neither bubble nor dew point.
    pub fn all_at_temperature(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
    ) -> Result<AtTemperature> {
        if temperature >= SAFE * reducing_temperature(mixture, z) {
            return self.near_the_top(mixture, z, temperature, None);
        }
        let at = |branch| self.at_temperature(mixture, z, branch, temperature);
        Ok(AtTemperature {
            bubble: Some(at(Branch::Bubble)?),
            dew: Some(at(Branch::Dew)?),
            retrograde: None,
        })
    }

    fn near_the_top(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        temperature: f64,
        only: Option<Branch>,
    ) -> Result<AtTemperature> {
        let envelope = self.envelope(mixture, z)?;
        if temperature > envelope.cricondentherm.0 {
            return Ok(AtTemperature::default());
        }
        let below = temperature < envelope.critical.temperature;
        let wanted = |branch| !below || only.is_none_or(|only| only == branch);
        let near = || {
            let starts = envelope.starts_at_temperature(temperature);
            let found = starts.iter().filter_map(|start| {
                let EnvelopePoint { branch, pair } = start;
                let found = wanted(*branch).then(|| {
                    bubble_dew::near_at_temperature(mixture, z, *branch, temperature, pair)
                });
                // not a loop of an equation farther off
                Some((*branch, found?.filter(|found| beside(found, pair, BESIDE))?))
            });
            AtTemperature::of(found, below)
        };
        let along = || -> Vec<EnvelopePoint> {
            let points = envelope.at_temperature(mixture, z, temperature);
            let settled = points.into_iter().map(|point| {
                let EnvelopePoint { branch, pair } = point;
                let found = bubble_dew::near_at_temperature(mixture, z, branch, temperature, &pair);
                let own = found.filter(|found| beside(found, &pair, OWN));
                EnvelopePoint {
                    branch,
                    pair: own.unwrap_or(pair),
                }
            });
            settled.collect()
        };
        let sorted = |points: &mut dyn Iterator<Item = EnvelopePoint>| {
            AtTemperature::of(points.map(|point| (point.branch, point.pair)), below)
        };
        if envelope.folds() {
            // a neighbour may lead to the other liquid
            let points = along();
            let stable = |point: &EnvelopePoint| {
                let EnvelopePoint { pair, .. } = point;
                let tested = (&pair.vapor, pair.vapor_density, pair.pressure);
                !points.iter().any(|EnvelopePoint { pair: other, .. }| {
                    let trial = (&other.liquid, other.liquid_density);
                    is_beaten_by(mixture, temperature, tested, trial)
                })
            };
            let all = sorted(&mut points.iter().copied());
            if temperature < LOOPS * reducing_temperature(mixture, z) {
                return Ok(all);
            }
            return Ok(sorted(&mut points.iter().copied().filter(stable)).or(all));
        }
        let mut result = near();
        let complete = if below {
            (!wanted(Branch::Bubble) || result.bubble.is_some())
                && (!wanted(Branch::Dew) || result.dew.is_some())
        } else {
            result.retrograde.is_some()
        };
        if !complete {
            // next to the critical point neighbours are no help
            result = result.or(sorted(&mut along().into_iter()));
        }
        Ok(result)
    }

    /// A branch at a pressure in Pa; the lower temperature where two have that pressure.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] above the branch's highest pressure; [`Error::NotConverged`].
    pub fn at_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Result<PhasePair> {
        let reducing = reducing_temperature(mixture, z);
        if let Some(edge) = self.splits_below(mixture, z) {
            let range = (COLDEST - 0.5, edge + MARGIN);
            let [low, high] = [range.0, range.1]
                .map(|temperature| self.at_temperature(mixture, z, branch, temperature));
            if pressure < high?.pressure && low.is_ok_and(|low| pressure >= low.pressure) {
                return self.at_pressure_through_temperatures(mixture, z, branch, pressure, range);
            }
        }
        let found = bubble_dew::cold_at_pressure(mixture, z, branch, pressure)
            .or_else(|| self.at_low_pressure(mixture, z, branch, pressure).ok());
        if let Some(found) = found
            && found.temperature < SAFE * reducing
        {
            return Ok(found);
        }
        let envelope = self.envelope(mixture, z)?;
        let coldest = |points: &mut dyn Iterator<Item = PhasePair>| {
            points.reduce(|a, b| if b.temperature < a.temperature { b } else { a })
        };
        let near = || {
            let starts = envelope.starts_at_pressure(pressure);
            coldest(
                &mut starts
                    .iter()
                    .filter(|start| start.branch == branch)
                    .filter_map(|start| {
                        bubble_dew::near_at_pressure(mixture, z, branch, pressure, &start.pair)
                    }),
            )
        };
        let along = || {
            let points = envelope.at_pressure(mixture, z, pressure);
            let own = points.iter().filter(|point| point.branch == branch);
            // of a fold only what belongs to the line at its temperature
            let on_the_line = |pair: &PhasePair| {
                let there = || self.at_temperature(mixture, z, branch, pair.temperature);
                !envelope.folds()
                    || there().is_ok_and(|own| (own.pressure / pressure - 1.0).abs() < SAME)
            };
            let settled = own.map(|point| {
                let pair = &point.pair;
                let found = bubble_dew::near_at_pressure(mixture, z, branch, pressure, pair);
                let own = found.filter(|found| beside(found, pair, OWN));
                own.unwrap_or(*pair)
            });
            coldest(&mut settled.filter(on_the_line))
        };
        // next to the critical point and the highest pressure neighbours are no help
        let coldest = if pressure > FLAT * envelope.critical.pressure || envelope.folds() {
            along().or_else(near)
        } else {
            near().or_else(along)
        };
        coldest.ok_or_else(|| Error::OutOfRange {
            quantity: "pressure",
            value: pressure,
            low: 0.0,
            high: match branch {
                Branch::Bubble => envelope.cricondenbar.1,
                Branch::Dew => envelope.critical.pressure,
            },
            unit: "Pa",
            range: match branch {
                Branch::Bubble => "bubble line".into(),
                Branch::Dew => "dew line".into(),
            },
        })
    }

    /// A branch at a pressure in Pa that it has below [`SAFE`], through temperatures.
    fn at_low_pressure(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
    ) -> Result<PhasePair> {
        let at = |temperature| self.at_temperature(mixture, z, branch, temperature);
        let mut high = SAFE * reducing_temperature(mixture, z) * (1.0 - f64::EPSILON);
        if at(high)?.pressure < pressure {
            return Err(bubble_dew::not_found(branch, "pressure"));
        }
        let mut low = COOLER * high;
        while at(low)?.pressure > pressure {
            (low, high) = (COOLER * low, low);
        }
        self.at_pressure_through_temperatures(mixture, z, branch, pressure, (low, high))
    }

    /// Where a cold start could find the wrong liquid, the line at a pressure is sought through
    /// the line at temperature.
    fn at_pressure_through_temperatures(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        pressure: f64,
        (low, high): (f64, f64),
    ) -> Result<PhasePair> {
        let at = |temperature: f64| self.at_temperature(mixture, z, branch, temperature);
        let error = |temperature: f64| Ok((at(temperature)?.pressure / pressure).ln());
        at(bracketed_root(error, low, high, 1e-14)?)
    }

    fn beyond(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        branch: Branch,
        temperature: f64,
    ) -> Error {
        match self.envelope(mixture, z) {
            Ok(envelope) => {
                let high = match branch {
                    Branch::Bubble => envelope.critical.temperature,
                    Branch::Dew => envelope.cricondentherm.0,
                };
                if temperature <= high {
                    return bubble_dew::not_found(branch, "temperature");
                }
                Error::OutOfRange {
                    quantity: "temperature",
                    value: temperature,
                    low: COLDEST,
                    high,
                    unit: "K",
                    range: match branch {
                        Branch::Bubble => "bubble line, up to the critical point".into(),
                        Branch::Dew => "dew line".into(),
                    },
                }
            }
            Err(error) => error,
        }
    }
}

/// Of two points at one temperature the one with the denser liquid, which is that of the line from
/// below: a loop within the two-phase region of some equations means nothing.
fn denser(earlier: Option<PhasePair>, found: PhasePair) -> PhasePair {
    earlier
        .filter(|earlier| earlier.liquid_density > found.liquid_density)
        .unwrap_or(found)
}

/// Whether two points lie beside each other, `near` in ln rho.
fn beside(a: &PhasePair, b: &PhasePair, near: f64) -> bool {
    let apart = |a: f64, b: f64| (a / b).ln().abs();
    apart(a.liquid_density, b.liquid_density) < near
        && apart(a.vapor_density, b.vapor_density) < near
}

fn reducing_temperature(mixture: &Mixture, z: &MoleFractions) -> f64 {
    mixture.at_composition(z).reducing_temperature
}

fn rival_of(mixture: &Mixture, pair: &PhasePair) -> Option<super::stability::Rival> {
    let (t, p) = (pair.temperature, pair.pressure);
    let of_liquid = rival(mixture, t, &pair.liquid, pair.liquid_density, p);
    of_liquid.or_else(|| rival(mixture, t, &pair.vapor, pair.vapor_density, p))
}

/// A point whose phases are stable, where the liquid splits in two or a dew point was lost.
fn stable(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
    found: Result<PhasePair>,
) -> Result<PhasePair> {
    let mut pair = found.or_else(|error| {
        // A dew point lost between two liquids: the vapour just below the bubble pressure shows
        // which liquid it would drop.
        let bubble = bubble_dew::at_temperature(mixture, z, Branch::Bubble, temperature, None)?;
        [1.0, 0.95, 0.8, 0.6, 0.4]
            .into_iter()
            .find_map(|part| {
                let density = part * bubble.vapor_density;
                let pressure = mixture
                    .at_composition(z)
                    .isotherm(temperature)
                    .pressure(density);
                let drop = rival(mixture, temperature, z, density, pressure)?;
                let start = PhasePair {
                    liquid: drop.x,
                    liquid_density: drop.density,
                    vapor: *z,
                    vapor_density: 0.8 * density,
                    ..bubble
                };
                bubble_dew::near_at_temperature(mixture, z, branch, temperature, &start)
            })
            .ok_or(error)
    })?;
    for _ in 0..MOST_RIVALS {
        let Some(rival) = rival_of(mixture, &pair) else {
            return Ok(pair);
        };
        let liquid = rival.density > mixture.at_composition(&rival.x).reducing_density;
        let better = match (branch, liquid) {
            (Branch::Bubble, true) => {
                // the blend itself as a denser or lighter liquid, or two liquids
                let other = PhasePair {
                    liquid_density: rival.density,
                    ..pair
                };
                let other =
                    bubble_dew::near_at_temperature(mixture, z, branch, temperature, &other)
                        .filter(|other| rival_of(mixture, other).is_none());
                if let Some(other) = other {
                    return Ok(other);
                }
                return bubble_over_two_liquids(mixture, z, &pair, &rival)
                    .ok_or_else(|| bubble_dew::not_found(branch, "temperature"));
            }
            (Branch::Bubble, false) => PhasePair {
                vapor: rival.x,
                vapor_density: rival.density,
                ..pair
            },
            (Branch::Dew, _) => PhasePair {
                liquid: rival.x,
                liquid_density: rival.density,
                // the drop appears at the lower pressure
                vapor_density: pair.vapor_density * 0.8,
                ..pair
            },
        };
        pair = bubble_dew::near_at_temperature(mixture, z, branch, temperature, &better)
            .ok_or_else(|| bubble_dew::not_found(branch, "temperature"))?;
    }
    Err(bubble_dew::not_found(branch, "temperature"))
}
