//! How far the measured deviation of the pairs' vapors moves a loss.
//!
//! What of the relative volatility alpha of a pair the deviations from its measured vapors amount
//! to, epsilon = d ln(alpha), is laid on the model, one pair after the other:
//!
//! ```text
//! ln K_i -> ln K_i + epsilon x_j        ln K_j -> ln K_j - epsilon x_i
//! ```
//!
//! so that of two components alone ln(alpha) moves by epsilon at every composition, the
//! Gibbs-Duhem equation at given temperature holds (x_i dln K_i + x_j dln K_j = 0), and beside
//! others a pair counts as much as there is of it in the liquid. How far each pair moves the loss
//! is followed to first order (`deviations`)
//! between the steps of the loss itself, and the distances are added as squares. Pairs without a
//! measured vapor are not counted, nor is the deviation of the pressure.

use serde::Serialize;

use super::book::{Book, VaporUncertainty};
use super::deviations::{Deviations, SMALL, combined, more_of};
use super::lines::Left;
use super::question::LossQuestion;
use super::refill;
use super::tilt::Tilt;
use super::trace::Trace;
use super::vessel::Amounts;
use crate::equilibrium::at_volume::InVolume;
use crate::error::Result;
use crate::helmholtz::MAX_COMPONENTS;
use crate::refrigerant::Refrigerant;

/// Which pairs the uncertainty counts.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
#[non_exhaustive]
pub struct VaporPairs {
    /// Pairs with measured vapors, `R-32 + R-125`.
    pub measured: Vec<String>,
    /// Pairs without.
    pub not_measured: Vec<String>,
}

impl VaporPairs {
    pub(super) fn of(together: &Refrigerant) -> Self {
        let mut found = Self::default();
        for pair in together.pairs() {
            let name = format!("{} + {}", pair.first, pair.second);
            match pair.measured_vapors() {
                Some(_) => found.measured.push(name),
                None => found.not_measured.push(name),
            }
        }
        found
    }
}

/// What is known of one moment: mass fractions left, vapor, leaving, and the two readings; or how
/// far these change.
#[derive(Clone)]
struct Known {
    shares: [Vec<f64>; 3],
    readings: [Option<f64>; 2],
}

impl Known {
    fn zero(count: usize) -> Self {
        Self {
            shares: [(); 3].map(|()| vec![0.0; count]),
            readings: [Some(0.0); 2],
        }
    }

    fn of(
        trace: &Trace<'_>,
        book: &mut Book<'_>,
        lost: Option<f64>,
        (amounts, contents): (&Amounts, Option<&InVolume>),
    ) -> Self {
        let vessel = &trace.vessel;
        let moment = trace.holding(0.0, *amounts, contents);
        let shares = [&moment.amounts[..], &moment.vapor, &moment.leaving];
        Self {
            shares: shares.map(|x| book.ordered(&vessel.by_mass(x))),
            readings: book.lines.readings(Left {
                z: &vessel.fractions(amounts),
                lost,
            }),
        }
    }

    /// Adds what `of` makes of each number and the other's.
    fn add(&mut self, other: &Self, of: impl Fn(f64) -> f64) {
        for (sums, other) in self.shares.iter_mut().zip(&other.shares) {
            for (sum, other) in sums.iter_mut().zip(other) {
                *sum += of(*other);
            }
        }
        for (sum, other) in self.readings.iter_mut().zip(other.readings) {
            *sum = sum.zip(other).map(|(sum, other)| sum + of(other));
        }
    }

    /// The roots of sums of squares.
    fn told(self) -> VaporUncertainty {
        let root = |sums: Vec<f64>| sums.into_iter().map(f64::sqrt).collect();
        let [remaining, vapor, leaving] = self.shares;
        let [superheat, subcooling] = self.readings.map(|sum| sum.map(f64::sqrt));
        VaporUncertainty {
            remaining_mass_fractions: root(remaining),
            vapor_mass_fractions: root(vapor),
            leaving_mass_fractions: root(leaving),
            superheat_error: superheat,
            subcooling_error: subcooling,
        }
    }
}

/// The uncertainty of a moment whose amounts each pair moves by `off`.
fn uncertainty(
    trace: &Trace<'_>,
    book: &mut Book<'_>,
    tilts: &[Tilt],
    lost: f64,
    (amounts, contents): (&Amounts, Option<&InVolume>),
    off: &[Amounts],
) -> Result<VaporUncertainty> {
    let count = trace.vessel.count();
    let nominal = Known::of(trace, book, Some(lost), (amounts, contents));
    let mut slopes = vec![Known::zero(count); count];
    for (k, slope) in slopes.iter_mut().enumerate() {
        let moved = match contents {
            _ if amounts[k] <= 0.0 => continue,
            Some(contents) => more_of(trace, k, amounts, contents)?,
            None => None,
        };
        let moved = match moved {
            Some((more, there)) => Known::of(trace, book, None, (&more, Some(&there))),
            None => {
                let mut more = *amounts;
                more[k] *= SMALL.exp();
                Known::of(trace, book, None, (&more, None))
            }
        };
        slope.add(&moved, |moved| moved / SMALL);
        slope.add(&nominal, |nominal| -nominal / SMALL);
    }
    let mut squares = Known::zero(count);
    for (tilt, off) in tilts.iter().zip(off) {
        let mut moved = Known::zero(count);
        for (slope, off) in slopes.iter().zip(off) {
            moved.add(slope, |slope| slope * off);
        }
        if let Some(contents) = contents {
            let mut there = *contents;
            (there.pair.liquid, there.pair.vapor) = tilt.phases(contents);
            let there = trace.holding(0.0, *amounts, Some(&there));
            for (at, x) in [(1, &there.vapor), (2, &there.leaving)] {
                let shares = book.ordered(&trace.vessel.by_mass(x));
                let own = moved.shares[at].iter_mut().zip(&nominal.shares[at]);
                for ((moved, nominal), share) in own.zip(shares) {
                    *moved += share - nominal;
                }
            }
        }
        squares.add(&moved, |moved| moved * moved);
    }
    Ok(squares.told())
}

/// The uncertainty along a loss, found at some of its rows as they are made.
pub(super) struct Along {
    tilts: Vec<Tilt>,
    deviations: Deviations,
    /// The rows at which it is found, and what was found so far.
    places: Vec<f64>,
    found: Vec<VaporUncertainty>,
}

impl Along {
    /// Of a loss of which these shares are asked; none where no pair has a measured vapor.
    pub(super) fn of(
        together: &Refrigerant,
        trace: &Trace<'_>,
        asked: &[f64],
    ) -> Result<Option<Self>> {
        let tilts = Tilt::of(together);
        if tilts.is_empty() {
            return Ok(None);
        }
        let deviations = Deviations::along(trace, &tilts, none_yet(&tilts))?;
        Ok(Some(Self {
            tilts,
            deviations,
            places: places(asked),
            found: Vec::new(),
        }))
    }

    /// Finds it at a row just made, where that is one of the rows meant.
    pub(super) fn find(
        &mut self,
        trace: &Trace<'_>,
        book: &mut Book<'_>,
        lost: f64,
        held: (&Amounts, Option<&InVolume>),
    ) -> Result<()> {
        if self.places.get(self.found.len()) == Some(&lost) {
            let off = self.deviations.at_share_lost(lost);
            let found = uncertainty(trace, book, &self.tilts, lost, held, &off)?;
            self.found.push(found);
        }
        Ok(())
    }

    /// That of each row.
    pub(super) fn rows(&self, asked: &[f64]) -> Vec<VaporUncertainty> {
        let (places, found) = (&self.places, &self.found);
        let rows = asked.iter().map(|&lost| {
            let next = places.partition_point(|place| *place < lost);
            let next = next.clamp(1.min(places.len() - 1), places.len() - 1);
            let before = next.saturating_sub(1);
            let width = places[next] - places[before];
            let share = if width > 0.0 {
                (lost - places[before]) / width
            } else {
                0.0
            };
            found[before].towards(&found[next], share)
        });
        rows.collect()
    }

    /// That of each round of top-up asked for.
    pub(super) fn rounds(
        &self,
        trace: &Trace<'_>,
        book: &mut Book<'_>,
        question: &LossQuestion,
    ) -> Result<Vec<VaporUncertainty>> {
        let (tilts, mut begun) = (&self.tilts, none_yet(&self.tilts));
        let mut rounds = Vec::new();
        let Some(refill) = &question.refill else {
            return Ok(rounds);
        };
        let mut topped = refill::Topped::new(trace, book, question, refill);
        for _ in 0..refill.rounds {
            let (followed, lost) = topped.lose()?;
            let off = Deviations::along(followed, tilts, begun)?.at_share_lost(lost);
            let left = followed.amounts(lost);
            let (amounts, contents) = topped.top_up()?;
            let share = combined(&left, &amounts, |left, whole| {
                if whole > 0.0 { left / whole } else { 0.0 }
            });
            let diluted = |off: &Amounts| combined(off, &share, |off, share| off * share);
            begun = off.iter().map(diluted).collect();
            let there = (&amounts, Some(&contents));
            rounds.push(uncertainty(trace, book, tilts, 0.0, there, &begun)?);
        }
        Ok(rounds)
    }
}

/// No deviation of any pair, where a loss begins.
fn none_yet(tilts: &[Tilt]) -> Vec<Amounts> {
    vec![[0.0; MAX_COMPONENTS]; tilts.len()]
}

/// Rows at which the uncertainty is found at most; it is smooth, and has two digits.
const MOST_PLACES: usize = 12;

/// The rows themselves, or of many some, evenly, the first and the last among them.
fn places(asked: &[f64]) -> Vec<f64> {
    if asked.len() <= MOST_PLACES {
        return asked.to_vec();
    }
    let last = asked.len() - 1;
    let each = 0..MOST_PLACES;
    each.map(|place| asked[place * last / (MOST_PLACES - 1)])
        .collect()
}

impl VaporUncertainty {
    /// What lies a share of the way to another.
    fn towards(&self, other: &Self, share: f64) -> Self {
        let mean = |a: f64, b: f64| a + share * (b - a);
        let means = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| mean(*a, *b)).collect();
        let known = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| mean(a, b));
        Self {
            remaining_mass_fractions: means(
                &self.remaining_mass_fractions,
                &other.remaining_mass_fractions,
            ),
            vapor_mass_fractions: means(&self.vapor_mass_fractions, &other.vapor_mass_fractions),
            leaving_mass_fractions: means(
                &self.leaving_mass_fractions,
                &other.leaving_mass_fractions,
            ),
            superheat_error: known(self.superheat_error, other.superheat_error),
            subcooling_error: known(self.subcooling_error, other.subcooling_error),
        }
    }
}
