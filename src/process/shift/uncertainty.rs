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
//! others a pair counts as much as there is of it in the liquid. The loss is followed anew with
//! each, and the distances are added as squares. Pairs without a measured vapor are not counted,
//! nor is the deviation of the pressure.

use serde::Serialize;

use super::book::{Book, VaporUncertainty, floor};
use super::question::LossQuestion;
use super::refill;
use super::tilt::Tilt;
use super::trace::{Moment, Trace};
use super::vessel::{Amounts, Vessel};
use crate::error::Result;
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

/// What is known of one moment: mass fractions left, vapor, leaving, and the two readings.
struct Known {
    shares: [Vec<f64>; 3],
    readings: [Option<f64>; 2],
}

/// Sums of squares of distances.
#[derive(Clone)]
struct Sums {
    shares: [Vec<f64>; 3],
    readings: [Option<f64>; 2],
}

impl Known {
    fn of(moment: &Moment, vessel: &Vessel<'_>, book: &mut Book<'_>) -> Self {
        let shares = [&moment.amounts[..], &moment.vapor, &moment.leaving];
        let whole = vessel.fractions(&moment.amounts);
        Self {
            shares: shares.map(|x| book.ordered(&vessel.by_mass(x))),
            readings: book.lines.readings(&whole),
        }
    }
}

impl Sums {
    fn new(count: usize) -> Self {
        Self {
            shares: [(); 3].map(|()| vec![0.0; count]),
            readings: [Some(0.0); 2],
        }
    }

    fn add(&mut self, nominal: &Known, off: &Known) {
        let shares = self.shares.iter_mut().zip(&nominal.shares);
        for ((sums, nominal), off) in shares.zip(&off.shares) {
            for ((sum, a), b) in sums.iter_mut().zip(nominal).zip(off) {
                *sum += (a - b).powi(2);
            }
        }
        let readings = self.readings.iter_mut().zip(nominal.readings);
        for ((sum, a), b) in readings.zip(off.readings) {
            *sum = sum.zip(a).zip(b).map(|((sum, a), b)| sum + (a - b).powi(2));
        }
    }

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

/// The uncertainty of each share lost and then of each round of top-up asked for; none where no
/// pair has a measured vapor.
pub(super) fn of_rows(
    together: &Refrigerant,
    trace: &Trace<'_>,
    book: &mut Book<'_>,
    start: &Amounts,
    (question, asked): (&LossQuestion, &[f64]),
) -> Result<Option<(Vec<VaporUncertainty>, Vec<VaporUncertainty>)>> {
    let tilts = Tilt::of(together);
    if tilts.is_empty() {
        return Ok(None);
    }
    let places = places(asked);
    let nominal = follow(trace, book, question, &places)?;
    let mut sums = vec![Sums::new(trace.vessel.count()); nominal.len()];
    for tilt in tilts {
        let contents = trace.vessel.contents(start, trace.first())?;
        let begun = (trace.vessel.clone(), contents);
        let leaving = (question.leaving, Some(tilt));
        let off = Trace::tilted(begun, start, leaving, floor(question))?;
        let off = follow(&off, book, question, &places)?;
        for ((sums, nominal), off) in sums.iter_mut().zip(&nominal).zip(&off) {
            sums.add(nominal, off);
        }
    }
    let mut found: Vec<VaporUncertainty> = sums.into_iter().map(Sums::told).collect();
    let rounds = found.split_off(places.len());
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
    Ok(Some((rows.collect(), rounds)))
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

fn follow(
    trace: &Trace<'_>,
    book: &mut Book<'_>,
    question: &LossQuestion,
    asked: &[f64],
) -> Result<Vec<Known>> {
    let mut known = Vec::with_capacity(asked.len());
    for &lost in asked {
        let moment = trace.moment(lost.min(trace.end.0))?;
        known.push(Known::of(&moment, &trace.vessel, book));
    }
    if let Some(refill) = &question.refill {
        let mut topped = refill::Topped::new(trace, book, question, refill);
        for _ in 0..refill.rounds {
            let (_, moment) = topped.next()?;
            known.push(Known::of(&moment, &trace.vessel, book));
        }
    }
    Ok(known)
}
