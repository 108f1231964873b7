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

use super::answer::{Book, floor};
use super::question::LossQuestion;
use super::refill;
use super::trace::{Moment, Trace};
use super::vessel::{Amounts, Vessel};
use crate::equilibrium::at_volume::InVolume;
use crate::error::Result;
use crate::helmholtz::{MAX_COMPONENTS, MoleFractions};
use crate::refrigerant::Refrigerant;

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

/// A pair whose relative volatility is taken as off.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tilt {
    first: usize,
    second: usize,
    /// What ln(alpha) of the first over the second is off by.
    epsilon: f64,
}

impl Tilt {
    /// One for each pair with measured vapors; places in the model's order.
    fn of(together: &Refrigerant) -> Vec<Self> {
        let components = together.model().0.components();
        let place = |name: &str| {
            let mut all = components.iter();
            all.position(|one| one.record.designation == *name)
        };
        let pairs = together.pairs().iter();
        pairs
            .filter_map(|pair| {
                Some(Self {
                    first: place(&pair.first)?,
                    second: place(&pair.second)?,
                    epsilon: pair.measured_vapors()?.relative_volatility_percent / 100.0,
                })
            })
            .collect()
    }

    /// Liquid and vapor of the same amounts and shares, the pair's volatility off.
    pub(super) fn phases(&self, contents: &InVolume) -> (MoleFractions, MoleFractions) {
        let pair = &contents.pair;
        let (liquid, vapor) = (&pair.liquid, &pair.vapor);
        let phi = contents.liquid_volume.clamp(0.0, 1.0);
        let moles = [phi * pair.liquid_density, (1.0 - phi) * pair.vapor_density];
        let share = moles[1] / (moles[0] + moles[1]);
        let count = liquid.len();
        let mut x = [0.0; MAX_COMPONENTS];
        let mut y = [0.0; MAX_COMPONENTS];
        for k in 0..count {
            if liquid[k] <= 0.0 {
                continue;
            }
            let off = if k == self.first {
                self.epsilon * liquid[self.second]
            } else if k == self.second {
                -self.epsilon * liquid[self.first]
            } else {
                0.0
            };
            let ratio = vapor[k] / liquid[k] * off.exp();
            let whole = (1.0 - share) * liquid[k] + share * vapor[k];
            x[k] = whole / (1.0 + share * (ratio - 1.0));
            y[k] = ratio * x[k];
        }
        (
            MoleFractions::new(&x[..count]),
            MoleFractions::new(&y[..count]),
        )
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
