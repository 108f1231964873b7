//! How far the model lies from measured bubble points, a pair of refrigerants at a time.
//!
//! In pressure at the measured temperature and, from the slope of the bubble line there, in
//! temperature at the measured pressure: to first order -ln(p/p_measured) / (d ln p/dT).

use std::collections::BTreeSet;

use serde::Deserialize;

use super::rows;
use crate::catalogue::{Basis, Catalogue};
use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
use crate::error::Result;
use crate::helmholtz::{Mixture, MoleFractions};
use crate::refrigerant::Refrigerant;

/// Measured bubble points, a point a row; `tests/data/README.md` tells what they are.
const TABLE: &str = include_str!("../../tests/data/measured_bubble_points.csv");

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
    let points: Vec<Point> = rows::read("measured_bubble_points.csv", TABLE)?;
    let mut names: Vec<(&str, &str)> = Vec::new();
    for point in &points {
        let pair = (point.first.as_str(), point.second.as_str());
        if !names.contains(&pair) {
            names.push(pair);
        }
    }
    names
        .into_iter()
        .map(|(first, second)| {
            let own = points
                .iter()
                .filter(|point| point.first == first && point.second == second);
            distance(catalogue, first, second, own)
        })
        .collect()
}

fn distance<'a>(
    catalogue: &Catalogue,
    first: &str,
    second: &str,
    points: impl Iterator<Item = &'a Point>,
) -> Result<PairDistance> {
    let equal = catalogue.compose(&[(first, 0.5), (second, 0.5)], Basis::Mole)?;
    let pair = Refrigerant::from_composition(catalogue, equal)?;
    let (mixture, _) = pair.model();
    let first_leads = mixture.components()[0].record.designation == first;
    let (mut unanswered, mut suspect) = (0, 0);
    let mut papers = BTreeSet::new();
    let (mut percents, mut kelvins) = (Vec::new(), Vec::new());
    for point in points {
        if !point.note.is_empty() {
            suspect += 1;
            continue;
        }
        let x = match first_leads {
            true => [point.x_first, 1.0 - point.x_first],
            false => [1.0 - point.x_first, point.x_first],
        };
        let z = MoleFractions::new(&x);
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
        refitted: pair.pairs().iter().any(|pair| pair.refit().is_some()),
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
