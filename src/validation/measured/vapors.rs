//! Measured vapors: the mole fraction in the vapor over a liquid of measured composition.
//!
//! The model's vapor is that of its bubble point at the measured temperature and liquid, so that
//! the measured pressure plays no part.

use serde::{Deserialize, Serialize};

use super::{Compared, bias_and_rms, by_names};
use crate::catalogue::Catalogue;
use crate::equilibrium::bubble_dew::Branch;
use crate::error::Result;
use crate::validation::{median, rows};

/// Measured vapors, a point a row; `tests/data/README.md` tells what they are.
const TABLE: rows::Table = rows::table!("measured_vapors.csv");

#[derive(Debug, Deserialize)]
struct Point {
    first: String,
    second: String,
    #[serde(rename = "T_K")]
    temperature: f64,
    x_first: f64,
    y_first: f64,
    paper: String,
    suspect: String,
}

/// A pair's distance from its measured vapors, model less measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct VaporDistance {
    /// First refrigerant, whose mole fraction is compared.
    pub first: String,
    /// Second refrigerant.
    pub second: String,
    /// Points compared.
    pub points: usize,
    /// Papers they come from.
    pub papers: usize,
    /// Mean of model less measured mole fraction of the first in the vapor.
    #[serde(rename = "bias_y")]
    pub bias: Option<f64>,
    /// Root mean square of the same.
    #[serde(rename = "rms_y")]
    pub rms: Option<f64>,
    /// What of the relative volatility the deviations amount to, %: sqrt(sum dy^2 / sum (y (1 - y))^2),
    /// since dy = y (1 - y) d ln(alpha).
    pub relative_volatility_percent: Option<f64>,
    /// Whether the pair's parameters were refitted to measured points of it.
    pub refitted: bool,
    /// Points from 0.95 of the reducing temperature on, in no figure.
    pub near_critical: usize,
    /// Points without a bubble point of the model.
    pub unanswered: usize,
    /// Points of suspect sets, in no figure.
    pub suspect: usize,
    /// The deviations themselves.
    #[serde(skip)]
    pub deviations: Vec<f64>,
}

/// The distance of every pair with measured vapors, in the order of the table.
///
/// # Errors
/// [`crate::Error::File`] for a table that cannot be read; [`crate::Error::Catalogue`] for a
/// broken file.
pub fn measured_vapors(catalogue: &Catalogue) -> Result<Vec<VaporDistance>> {
    let points: Vec<Point> = rows::read(&TABLE)?;
    by_names(&points, |point| [point.first.as_str(), &point.second])
        .into_iter()
        .map(|(names, own)| distance(catalogue, names, &own))
        .collect()
}

fn distance(catalogue: &Catalogue, names: [&str; 2], points: &[&Point]) -> Result<VaporDistance> {
    let mut compared = Compared::new(catalogue, &names)?;
    let place = compared.subject.places[0];
    let mut deviations = Vec::new();
    let mut width = 0.0;
    for point in points {
        if point.x_first <= 0.0 || point.x_first >= 1.0 {
            continue; // one component alone has no vapor of another composition
        }
        let x = [point.x_first, 1.0 - point.x_first];
        let paper = (point.paper.as_str(), point.suspect.as_str());
        if let Some(found) = compared.phases(Branch::Bubble, &x, point.temperature, paper) {
            deviations.push(found.vapor[place] - point.y_first);
            width += (point.y_first * (1.0 - point.y_first)).powi(2);
        }
    }
    let (bias, rms) = bias_and_rms(&deviations);
    let sum: f64 = deviations.iter().map(|one| one * one).sum();
    Ok(VaporDistance {
        first: names[0].into(),
        second: names[1].into(),
        points: deviations.len(),
        papers: compared.papers.len(),
        bias,
        rms,
        relative_volatility_percent: (width > 0.0).then(|| (sum / width).sqrt() * 100.0),
        refitted: compared.subject.is_refitted(),
        near_critical: compared.near_critical,
        unanswered: compared.unanswered,
        suspect: compared.suspect,
        deviations,
    })
}

/// All pairs together.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct AllVapors {
    /// Points compared.
    pub points: usize,
    /// Pairs they belong to.
    pub pairs: usize,
    /// Median of the size of the deviation, mole fraction.
    pub median_y: Option<f64>,
    /// 95 % of the points lie within it, mole fraction.
    pub within_95_percent_y: Option<f64>,
}

/// What all pairs together show.
pub fn all_vapors(distances: &[VaporDistance]) -> AllVapors {
    let deviations = distances.iter().flat_map(|one| &one.deviations);
    let mut sizes: Vec<f64> = deviations.map(|one| one.abs()).collect();
    sizes.sort_by(f64::total_cmp);
    let place = (0.95 * sizes.len() as f64) as usize;
    AllVapors {
        points: sizes.len(),
        pairs: distances.iter().filter(|one| one.points > 0).count(),
        median_y: median(sizes.iter().copied()),
        within_95_percent_y: sizes.get(place).copied(),
    }
}
