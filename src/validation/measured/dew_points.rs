//! Measured dew points: pressure over a vapor of measured composition.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::{Subject, bias_and_rms, by_names};
use crate::catalogue::Catalogue;
use crate::equilibrium::bubble_dew::{self, Branch};
use crate::error::Result;
use crate::validation::rows;

/// Measured dew points, a point a row; `tests/data/README.md` tells what they are.
const TABLE: &str = include_str!("../../../tests/data/measured_dew_points.csv");

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
    let points: Vec<Point> = rows::read("measured_dew_points.csv", TABLE)?;
    by_names(&points, |point| [point.first.as_str(), &point.second])
        .into_iter()
        .map(|(names, own)| distance(catalogue, names, &own))
        .collect()
}

fn distance(catalogue: &Catalogue, names: [&str; 2], points: &[&Point]) -> Result<DewDistance> {
    let subject = Subject::of(catalogue, &names)?;
    let (mut near_critical, mut unanswered, mut suspect) = (0, 0, 0);
    let mut papers = BTreeSet::new();
    let mut percents = Vec::new();
    for point in points {
        let z = subject.fractions(&[point.y_first, 1.0 - point.y_first]);
        let at = point.temperature;
        if !point.suspect.is_empty() {
            suspect += 1;
        } else if subject.is_near_critical(&z, at) {
            near_critical += 1;
        } else if let Ok(found) =
            bubble_dew::at_temperature(subject.mixture(), &z, Branch::Dew, at, None)
        {
            papers.insert(point.doi.as_str());
            percents.push((found.pressure / point.pressure - 1.0) * 100.0);
        } else {
            unanswered += 1;
        }
    }
    let (bias_percent, rms_percent) = bias_and_rms(&percents);
    Ok(DewDistance {
        first: names[0].into(),
        second: names[1].into(),
        points: percents.len(),
        papers: papers.len(),
        bias_percent,
        rms_percent,
        near_critical,
        unanswered,
        suspect,
    })
}
