//! How far the model lies from measured points, a pair of refrigerants at a time: bubble points
//! here, vapors, azeotropes, three components and dew points in the files beside.
//!
//! In pressure at the measured temperature and, from the slope of the bubble line there, in
//! temperature at the measured pressure: to first order -ln(p/p_measured) / (d ln p/dT).

use std::collections::BTreeSet;

use serde::Deserialize;

mod azeotropes;
mod dew_points;
mod ternaries;
mod vapors;

pub use azeotropes::{AzeotropeDistance, measured_azeotropes};
pub use dew_points::{DewDistance, measured_dew_points};
pub use ternaries::{TernaryDistance, measured_ternaries};
pub use vapors::{AllVapors, VaporDistance, all_vapors, measured_vapors};

use super::rows;
use crate::catalogue::records::PairKind;
use crate::catalogue::{Basis, Catalogue, normalized};
use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
use crate::error::Result;
use crate::helmholtz::{Mixture, MoleFractions};
use crate::refrigerant::Refrigerant;

/// Measured bubble points, a point a row; `tests/data/README.md` tells what they are.
const TABLE: rows::Table = rows::table!("measured_bubble_points.csv");

/// From this share of the reducing temperature on a point tests the critical region, not the pair.
const NEAR_CRITICAL: f64 = 0.95;

/// Half the distance over which the slope of a bubble line is read, K.
const HALF_STEP: f64 = 0.01;

/// A measured point.
#[derive(Debug, Deserialize)]
struct Point {
    first: String,
    second: String,
    #[serde(rename = "T_K")]
    temperature: f64,
    #[serde(rename = "p_Pa")]
    pressure: f64,
    /// Mole fraction of the first in the liquid.
    x_first: f64,
    doi: String,
    note: String,
}

/// A pair's distance from its measured bubble points; no verdict, since many pairs were fitted to
/// such points.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PairDistance {
    /// First refrigerant.
    pub first: String,
    /// Second refrigerant.
    pub second: String,
    /// Points compared.
    pub points: usize,
    /// Papers they come from.
    pub papers: usize,
    /// Mean of model less measured, % of the measured pressure; `None` without a point.
    pub bias_percent: Option<f64>,
    /// Root mean square of the same, % of the measured pressure; `None` without a point.
    pub rms_percent: Option<f64>,
    /// Mean of model less measured bubble temperature, K; `None` without a point.
    #[serde(rename = "bias_K")]
    pub bias_kelvin: Option<f64>,
    /// Root mean square of the same, K; `None` without a point.
    #[serde(rename = "rms_K")]
    pub rms_kelvin: Option<f64>,
    /// Whether the pair's parameters were refitted to these very points.
    pub refitted: bool,
    /// Points without a bubble point of the model, for example above the end of its line.
    pub unanswered: usize,
    /// Points of sets that disagree with other papers; in none of the numbers above.
    pub suspect: usize,
}

/// The distance of every measured pair, in the order of the table, with the pairs of a catalogue.
///
/// # Errors
/// [`crate::Error::File`] for a table that cannot be read; [`crate::Error::Catalogue`] for a
/// broken file.
pub fn measured_bubble_points(catalogue: &Catalogue) -> Result<Vec<PairDistance>> {
    let points: Vec<Point> = rows::read(&TABLE)?;
    by_names(&points, |point| [point.first.as_str(), &point.second])
        .into_iter()
        .map(|([first, second], own)| distance(catalogue, first, second, own.into_iter()))
        .collect()
}

/// The rows of each set of names, in the order of the table.
fn by_names<'a, Row, const N: usize>(
    rows: &'a [Row],
    names: impl Fn(&'a Row) -> [&'a str; N],
) -> Vec<([&'a str; N], Vec<&'a Row>)> {
    let mut sets: Vec<([&str; N], Vec<&Row>)> = Vec::new();
    for row in rows {
        let own = names(row);
        match sets.iter_mut().find(|(names, _)| *names == own) {
            Some((_, set)) => set.push(row),
            None => sets.push((own, vec![row])),
        }
    }
    sets
}

/// All that is measured of a pair or a set of three, whatever its composition.
struct Subject {
    refrigerant: Refrigerant,
    /// Place in the model of each name.
    places: Vec<usize>,
}

impl Subject {
    fn from_names(catalogue: &Catalogue, names: &[&str]) -> Result<Self> {
        let equal: Vec<(&str, f64)> = names.iter().map(|name| (*name, 1.0)).collect();
        let composition = catalogue.compose(&normalized(&equal)?, Basis::Mole)?;
        let refrigerant = Refrigerant::from_composition(catalogue, composition)?;
        let components = refrigerant.model().0.components();
        let places = names.iter().map(|name| {
            let mut own = components.iter();
            own.position(|one| one.record.designation == *name)
                .unwrap_or_default()
        });
        let places = places.collect();
        Ok(Self {
            refrigerant,
            places,
        })
    }

    fn mixture(&self) -> &Mixture {
        self.refrigerant.model().0
    }

    /// Fractions by name in the model's order.
    fn fractions(&self, by_name: &[f64]) -> MoleFractions {
        let mut own = vec![0.0; by_name.len()];
        for (place, x) in self.places.iter().zip(by_name) {
            own[*place] = *x;
        }
        MoleFractions::new(&own)
    }

    fn is_near_critical(&self, z: &MoleFractions, temperature: f64) -> bool {
        let reducing = self.mixture().at_composition(z).reducing_temperature;
        temperature > NEAR_CRITICAL * reducing
    }

    /// Whether a pair's parameters were refitted to measured points of it.
    fn is_refitted(&self) -> bool {
        let mut pairs = self.refrigerant.pairs().iter();
        pairs.any(|pair| pair.refit().is_some())
    }

    /// Pairs of it whose parameters are estimated or not known at all.
    fn estimated(&self) -> usize {
        let pairs = self.refrigerant.pairs().iter();
        pairs
            .filter(|pair| pair.kind == PairKind::Estimated)
            .count()
    }
}

/// What the model has at the measured points of a subject, and why points are in no figure.
struct Compared<'a> {
    subject: Subject,
    papers: BTreeSet<&'a str>,
    near_critical: usize,
    unanswered: usize,
    suspect: usize,
}

impl<'a> Compared<'a> {
    fn new(catalogue: &Catalogue, names: &[&str]) -> Result<Self> {
        Ok(Self {
            subject: Subject::from_names(catalogue, names)?,
            papers: BTreeSet::new(),
            near_critical: 0,
            unanswered: 0,
            suspect: 0,
        })
    }

    /// The model's phases at a temperature in K and fractions by name; `None`, and counted, where
    /// the point is in no figure.
    fn phases(
        &mut self,
        branch: Branch,
        fractions: &[f64],
        temperature: f64,
        (paper, suspect): (&'a str, &str),
    ) -> Option<PhasePair> {
        let z = self.subject.fractions(fractions);
        if !suspect.is_empty() {
            self.suspect += 1;
            return None;
        }
        if self.subject.is_near_critical(&z, temperature) {
            self.near_critical += 1;
            return None;
        }
        let mixture = self.subject.mixture();
        let found = bubble_dew::at_temperature(mixture, &z, branch, temperature, None).ok();
        match found {
            Some(_) => _ = self.papers.insert(paper),
            None => self.unanswered += 1,
        }
        found
    }
}

fn distance<'a>(
    catalogue: &Catalogue,
    first: &str,
    second: &str,
    points: impl Iterator<Item = &'a Point>,
) -> Result<PairDistance> {
    let subject = Subject::from_names(catalogue, &[first, second])?;
    let mixture = subject.mixture();
    let (mut unanswered, mut suspect) = (0, 0);
    let mut papers = BTreeSet::new();
    let (mut percents, mut kelvins) = (Vec::new(), Vec::new());
    for point in points {
        if !point.note.is_empty() {
            suspect += 1;
            continue;
        }
        let z = subject.fractions(&[point.x_first, 1.0 - point.x_first]);
        match bubble_dew::at_temperature(mixture, &z, Branch::Bubble, point.temperature, None) {
            Ok(found) => {
                papers.insert(point.doi.as_str());
                let ratio = found.pressure / point.pressure;
                percents.push((ratio - 1.0) * 100.0);
                kelvins.extend(log_slope(mixture, &z, &found).map(|slope| -ratio.ln() / slope));
            }
            Err(_) => unanswered += 1,
        }
    }
    let (bias_percent, rms_percent) = bias_and_rms(&percents);
    let (bias_kelvin, rms_kelvin) = bias_and_rms(&kelvins);
    Ok(PairDistance {
        first: first.into(),
        second: second.into(),
        points: percents.len(),
        papers: papers.len(),
        bias_percent,
        rms_percent,
        bias_kelvin,
        rms_kelvin,
        refitted: subject.is_refitted(),
        unanswered,
        suspect,
    })
}

/// d ln p/dT of the bubble line at a point of it, 1/K; `None` at the line's end.
fn log_slope(mixture: &Mixture, z: &MoleFractions, at: &PhasePair) -> Option<f64> {
    let beside = |step: f64| {
        let temperature = at.temperature + step;
        let found = bubble_dew::near_at_temperature(mixture, z, Branch::Bubble, temperature, at)?;
        Some(found.pressure.ln())
    };
    Some((beside(HALF_STEP)? - beside(-HALF_STEP)?) / (2.0 * HALF_STEP))
}

/// Mean and root mean square; `None` of nothing.
fn bias_and_rms(deviations: &[f64]) -> (Option<f64>, Option<f64>) {
    let count = deviations.len();
    let mean = |sum: f64| (count > 0).then(|| sum / count as f64);
    (
        mean(deviations.iter().sum()),
        mean(deviations.iter().map(|one| one * one).sum()).map(f64::sqrt),
    )
}
