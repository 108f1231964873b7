//! Measured dew points: pressure over a vapor of measured composition.

use serde::{Deserialize, Serialize};

use super::{Compared, bias_and_rms, by_names};
use crate::catalogue::Catalogue;
use crate::equilibrium::bubble_dew::Branch;
use crate::error::Result;
use crate::validation::rows;

/// Measured dew points, a point a row; `tests/data/README.md` tells what they are.
const TABLE: rows::Table = rows::table!("measured_dew_points.csv");

#[derive(Debug, Deserialize)]
struct Point {
    first: String,
    second: String,
    #[serde(rename = "T_K")]
    temperature: f64,
    #[serde(rename = "p_Pa")]
    pressure: f64,
    y_first: f64,
    doi: String,
    suspect: String,
}

/// A pair's distance from its measured dew points, model less measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct DewDistance {
    /// First refrigerant.
    pub first: String,
    /// Second refrigerant.
    pub second: String,
    /// Points compared.
    pub points: usize,
    /// Papers they come from.
    pub papers: usize,
    /// Mean deviation of the dew pressure, %.
    pub bias_percent: Option<f64>,
    /// Root mean square of the same, %.
    pub rms_percent: Option<f64>,
    /// Points from 0.95 of the reducing temperature on, in no figure.
    pub near_critical: usize,
    /// Points without a dew point of the model.
    pub unanswered: usize,
    /// Points of suspect sets, in no figure.
    pub suspect: usize,
}

/// The distance of every pair with measured dew points, in the order of the table.
///
/// # Errors
/// [`crate::Error::File`] for a table that cannot be read; [`crate::Error::Catalogue`] for a
/// broken file.
pub fn measured_dew_points(catalogue: &Catalogue) -> Result<Vec<DewDistance>> {
    let points: Vec<Point> = rows::read(&TABLE)?;
    by_names(&points, |point| [point.first.as_str(), &point.second])
        .into_iter()
        .map(|(names, own)| distance(catalogue, names, &own))
        .collect()
}

fn distance(catalogue: &Catalogue, names: [&str; 2], points: &[&Point]) -> Result<DewDistance> {
    let mut compared = Compared::new(catalogue, &names)?;
    let mut percents = Vec::new();
    for point in points {
        let (y, paper) = (point.y_first, (point.doi.as_str(), point.suspect.as_str()));
        let found = compared.phases(Branch::Dew, &[y, 1.0 - y], point.temperature, paper);
        percents.extend(found.map(|found| (found.pressure / point.pressure - 1.0) * 100.0));
    }
    let (bias_percent, rms_percent) = bias_and_rms(&percents);
    Ok(DewDistance {
        first: names[0].into(),
        second: names[1].into(),
        points: percents.len(),
        papers: compared.papers.len(),
        bias_percent,
        rms_percent,
        near_critical: compared.near_critical,
        unanswered: compared.unanswered,
        suspect: compared.suspect,
    })
}
