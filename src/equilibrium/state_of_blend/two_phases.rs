//! Between the lines at one temperature or one pressure, by quality.

use super::BlendSolver;
use crate::equilibrium::bubble_dew::{Branch, PhasePair};
use crate::equilibrium::split::{Fixed, Sought, Split, between, between_lines, split};
use crate::equilibrium::{EquilibriumState, KnownLines, Property};
use crate::error::{Error, RangeUnit, Result, reasons};
use crate::numeric::bracketed_root;

/// Steps in the vapour fraction by which a split is followed from the bubble point.
const FOLLOW: usize = 16;
/// Width in quality at which a bracketed search stops.
const TOLERANCE: f64 = 1e-13;

/// The ends of two phases at one temperature or one pressure, with a property sought.
pub(super) struct Ends {
    pub(super) first: Split,
    pub(super) last: Split,
    property: Property,
    target: f64,
    /// What the property is too much at the ends.
    pub(super) errors: (f64, f64),
}

impl Ends {
    fn error(&self, state: &EquilibriumState) -> f64 {
        self.property.of(state) - self.target
    }
}

impl BlendSolver<'_> {
    /// Bubble and dew point as ends of two phases.
    pub(super) fn as_ends(
        &self,
        bubble: &PhasePair,
        dew: &PhasePair,
        property: Property,
        target: f64,
    ) -> Ends {
        let (first, last) = (as_split(bubble, 0.0), as_split(dew, 1.0));
        let error = |split| property.of(&self.two(split)) - target;
        Ends {
            first,
            last,
            property,
            target,
            errors: (error(&first), error(&last)),
        }
    }

    /// The state between two ends that has the property; `None` where it lies beside them.
    ///
    /// Where Newton's method does not settle, the vapor's share of the mass is bracketed: the
    /// pressure would say little next to an azeotrope.
    pub(super) fn inside(&self, ends: &Ends, fixed: Fixed) -> Option<Result<EquilibriumState>> {
        let (l, v) = ends.errors;
        if l == 0.0 {
            return Some(Ok(self.two(&ends.first)));
        }
        if v == 0.0 {
            return Some(Ok(self.two(&ends.last)));
        }
        let weight = l / (l - v);
        (l * v < 0.0).then(|| {
            let sought = fixed.with_property(ends.property, ends.target);
            if let Some(found) = self.over_both_liquids(&ends.first.pair, sought) {
                return Ok(found);
            }
            let start = between_lines(self.z, &ends.first.pair, &ends.last.pair, weight);
            match split(self.mixture, self.z, sought, &start) {
                Some(found) => Ok(self.two(&found)),
                None => self.by_quality(ends, fixed),
            }
        })
    }

    fn by_quality(&self, ends: &Ends, fixed: Fixed) -> Result<EquilibriumState> {
        let (l, v) = ends.errors;
        let mut near = between(&ends.first, &ends.last, l / (l - v));
        let mut at = |quality: f64| {
            let sought = fixed.with_quality(quality);
            near = split(self.mixture, self.z, sought, &near).map_or_else(
                || self.split_between((sought, fixed), &ends.first, &ends.last, quality),
                Ok,
            )?;
            Ok(near)
        };
        let quality = bracketed_root(
            |quality| match quality {
                0.0 => Ok(l),
                1.0 => Ok(v),
                inside => Ok(ends.error(&self.two(&at(inside)?))),
            },
            0.0,
            1.0,
            TOLERANCE,
        )?;
        at(quality).map(|found| self.two(&found))
    }

    pub(super) fn at_quality(&self, fixed: Fixed, quality: f64) -> Result<EquilibriumState> {
        if !(0.0..=1.0).contains(&quality) {
            return Err(self.out_of_range("quality", quality, (0.0, 1.0), RangeUnit::None));
        }
        let (bubble, dew) = match self.ends(fixed) {
            Ok(ends) => ends,
            Err(error) if quality > 0.0 && quality < 1.0 => {
                return self.bracketed_quality(fixed, quality).ok_or(error);
            }
            Err(error) => {
                // the one end that is asked for
                let branch = if quality == 0.0 {
                    Branch::Bubble
                } else {
                    Branch::Dew
                };
                let end = self.end(branch, fixed).map_err(|_| error)?;
                return Ok(self.two(&as_split(&end, quality)));
            }
        };
        let (first, last) = (as_split(&bubble, 0.0), as_split(&dew, 1.0));
        if quality == 0.0 {
            return Ok(self.two(&first));
        }
        if quality == 1.0 {
            return Ok(self.two(&last));
        }
        let sought = fixed.with_quality(quality);
        if let Some(found) = self.over_both_liquids(&bubble, sought) {
            return Ok(found);
        }
        self.split_between((sought, fixed), &first, &last, quality)
            .map(|found| self.two(&found))
    }

    /// A branch at a temperature, K, as known or else solved for.
    pub(super) fn end_at(&self, branch: Branch, temperature: f64) -> Result<PhasePair> {
        let known = |known: &dyn KnownLines| known.at_temperature(branch, temperature);
        self.known.and_then(known).map_or_else(
            || {
                self.line
                    .at_temperature(self.mixture, self.z, branch, temperature)
            },
            Ok,
        )
    }

    /// The same at a pressure, Pa.
    fn end_at_pressure(&self, branch: Branch, pressure: f64) -> Result<PhasePair> {
        let known = |known: &dyn KnownLines| known.at_pressure(branch, pressure);
        self.known.and_then(known).map_or_else(
            || {
                self.line
                    .at_pressure(self.mixture, self.z, branch, pressure)
            },
            Ok,
        )
    }

    /// Bubble and dew point at a pressure, Pa, where they are known or found at once.
    pub(super) fn ends_at_once(&self, pressure: f64) -> Option<(PhasePair, PhasePair)> {
        let end = |branch| {
            let known = self
                .known
                .and_then(|known| known.at_pressure(branch, pressure));
            known.or_else(|| {
                self.line
                    .at_pressure_at_once(self.mixture, self.z, branch, pressure)
            })
        };
        Some((end(Branch::Bubble)?, end(Branch::Dew)?))
    }

    pub(super) fn end(&self, branch: Branch, fixed: Fixed) -> Result<PhasePair> {
        if let Some((own, found)) = &self.ends.borrow()[branch.place()]
            && *own == fixed
        {
            return found.clone();
        }
        let found = match fixed {
            Fixed::Temperature(t) => self.end_at(branch, t),
            Fixed::Pressure(p) => self.end_at_pressure(branch, p),
        };
        self.ends.borrow_mut()[branch.place()] = Some((fixed, found.clone()));
        found
    }

    /// Bubble and dew point at what is given of a split.
    pub(super) fn ends(&self, fixed: Fixed) -> Result<(PhasePair, PhasePair)> {
        Ok((
            self.end(Branch::Bubble, fixed)?,
            self.end(Branch::Dew, fixed)?,
        ))
    }

    /// A split between two known ones, from a point in proportion, else followed from the first.
    pub(super) fn split_between(
        &self,
        (sought, fixed): (Sought, Fixed),
        first: &Split,
        last: &Split,
        weight: f64,
    ) -> Result<Split> {
        let near = between_lines(self.z, &first.pair, &last.pair, weight);
        if let Some(found) = split(self.mixture, self.z, sought, &near) {
            return Ok(found);
        }
        for weight in [weight, 0.5, 0.2, 0.8] {
            let start = between(first, last, weight);
            if let Some(found) = split(self.mixture, self.z, sought, &start) {
                return Ok(found);
            }
        }
        // Follow the split in quality at the given temperature or pressure, then switch.
        let mut here = *first;
        for k in 1..FOLLOW {
            let quality = k as f64 / FOLLOW as f64;
            let mut start = here;
            start.vapor_fraction = quality;
            let Some(next) = split(self.mixture, self.z, fixed.with_quality(quality), &start)
            else {
                break;
            };
            if let Some(found) = split(self.mixture, self.z, sought, &next) {
                return Ok(found);
            }
            here = next;
        }
        Err(Error::NotConverged {
            question: reasons::QUESTION_TWO_PHASES,
            steps: FOLLOW,
            residual: f64::NAN,
        })
    }
}

/// A point of a line with so many moles of vapor a mole of blend: none at bubble points, all at dew points.
pub(super) fn as_split(pair: &PhasePair, vapor_fraction: f64) -> Split {
    Split {
        pair: *pair,
        vapor_fraction,
    }
}
