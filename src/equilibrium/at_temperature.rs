//! The points of a blend's lines at one temperature, in order.

use super::bubble_dew::{Branch, PhasePair};
use super::envelope::EnvelopePoint;
use crate::error::Error;

/// Relative difference in pressure up to which two points of one temperature are one.
pub(super) const SAME: f64 = 1e-7;

/// Points of the lines at one temperature.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AtTemperature {
    /// The bubble point.
    pub bubble: Option<PhasePair>,
    /// The dew point, of two the one of lower pressure.
    pub dew: Option<PhasePair>,
    /// The dew point of higher pressure above the critical temperature.
    pub retrograde: Option<PhasePair>,
    /// Why a line that may exist is not among them. Without it, what is missing does not exist.
    pub lost: Option<Error>,
}

impl AtTemperature {
    /// The bubble point, or above the critical temperature the dew point of higher pressure.
    pub fn upper(&self) -> Option<&PhasePair> {
        self.bubble.as_ref().or(self.retrograde.as_ref())
    }

    /// Sorts points of one temperature, below the critical one or above.
    pub(super) fn of(points: impl Iterator<Item = EnvelopePoint>, below: bool) -> Self {
        let mut sorted = Self::default();
        for EnvelopePoint {
            branch,
            pair: found,
        } in points
        {
            match (branch, below) {
                (Branch::Bubble, true) => sorted.bubble = Some(denser(sorted.bubble, found)),
                (Branch::Dew, true) => sorted.dew = Some(denser(sorted.dew, found)),
                // two points of one temperature: the lower pressure first
                (_, false) => match sorted.dew {
                    None => sorted.dew = Some(found),
                    // two starts that settled on one point
                    Some(dew) if (found.pressure / dew.pressure - 1.0).abs() < SAME => {}
                    Some(dew) if found.pressure > dew.pressure => {
                        let upper = sorted
                            .retrograde
                            .filter(|upper| upper.pressure > found.pressure);
                        sorted.retrograde = upper.or(Some(found));
                    }
                    Some(dew) => {
                        sorted.retrograde = sorted.retrograde.or(Some(dew));
                        sorted.dew = Some(found);
                    }
                },
            }
        }
        sorted
    }

    /// Where a point is missing, that of `other`.
    pub(super) fn or(self, other: Self) -> Self {
        if other.retrograde.is_some() {
            return other;
        }
        Self {
            bubble: self.bubble.or(other.bubble),
            dew: self.dew.or(other.dew),
            retrograde: None,
            lost: self.lost.or(other.lost),
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
