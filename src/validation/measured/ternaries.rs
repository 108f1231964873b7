//! Measured mixtures of three: no parameter of the model was fitted to three components, so that
//! they test a prediction from pairs.

use serde::{Deserialize, Serialize};

use super::{Compared, bias_and_rms, by_names};
use crate::catalogue::Catalogue;
use crate::equilibrium::bubble_dew::Branch;
use crate::error::Result;
use crate::validation::rows;

/// Measured mixtures of three, a point a row; `tests/data/README.md` tells what they are.
const TABLE: rows::Table = rows::table!("measured_ternaries.csv");

#[derive(Debug, Deserialize)]
struct Point {
    first: String,
    second: String,
    third: String,
    #[serde(rename = "T_K")]
    temperature: f64,
    #[serde(rename = "p_Pa")]
    pressure: f64,
    x_first: Option<f64>,
    x_second: Option<f64>,
    x_third: Option<f64>,
    y_first: Option<f64>,
    y_second: Option<f64>,
    y_third: Option<f64>,
    doi: String,
    suspect: String,
}

/// The distance of three components from measured points, model less measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct TernaryDistance {
    /// The refrigerants.
    pub refrigerants: Vec<String>,
    /// Points compared.
    pub points: usize,
    /// Papers they come from.
    pub papers: usize,
    /// Mean deviation of the bubble pressure, %; of the dew pressure where no liquid was measured.
    pub bias_percent: Option<f64>,
    /// Root mean square of the same, %.
    pub rms_percent: Option<f64>,
    /// Points with a measured vapor.
    pub vapors: usize,
    /// Root mean square deviation of a mole fraction in the vapor, over all three.
    #[serde(rename = "rms_y")]
    pub rms_y: Option<f64>,
    /// Pairs of it whose parameters are estimated or unknown.
    pub estimated_pairs: usize,
    /// Points from 0.95 of the reducing temperature on, in no figure.
    pub near_critical: usize,
    /// Points without a bubble point of the model.
    pub unanswered: usize,
    /// Points of suspect sets, in no figure.
    pub suspect: usize,
}

/// The distance of every measured set of three, in the order of the table.
///
/// # Errors
/// [`crate::Error::File`] for a table that cannot be read; [`crate::Error::Catalogue`] for a
/// broken file.
pub fn measured_ternaries(catalogue: &Catalogue) -> Result<Vec<TernaryDistance>> {
    let points: Vec<Point> = rows::read(&TABLE)?;
    by_names(&points, |point| {
        [point.first.as_str(), &point.second, &point.third]
    })
    .into_iter()
    .map(|(names, own)| distance(catalogue, names, &own))
    .collect()
}

fn distance(catalogue: &Catalogue, names: [&str; 3], points: &[&Point]) -> Result<TernaryDistance> {
    let mut compared = Compared::new(catalogue, &names)?;
    let places = compared.subject.places.clone();
    let mut vapors = 0;
    let (mut percents, mut fractions) = (Vec::new(), Vec::new());
    for point in points {
        let whole = |shares: [Option<f64>; 3]| match shares {
            [Some(a), Some(b), Some(c)] => Some([a, b, c]),
            _ => None,
        };
        let liquid = whole([point.x_first, point.x_second, point.x_third]);
        let vapor = whole([point.y_first, point.y_second, point.y_third]);
        let (branch, given) = match (liquid, vapor) {
            (Some(liquid), _) => (Branch::Bubble, liquid),
            (None, Some(vapor)) => (Branch::Dew, vapor),
            (None, None) => continue,
        };
        let paper = (point.doi.as_str(), point.suspect.as_str());
        let Some(found) = compared.phases(branch, &given, point.temperature, paper) else {
            continue;
        };
        percents.push((found.pressure / point.pressure - 1.0) * 100.0);
        if let (Branch::Bubble, Some(vapor)) = (branch, vapor) {
            vapors += 1;
            let own = places.iter().zip(vapor);
            fractions.extend(own.map(|(place, y)| found.vapor[*place] - y));
        }
    }
    let (bias_percent, rms_percent) = bias_and_rms(&percents);
    Ok(TernaryDistance {
        refrigerants: names.map(str::to_owned).to_vec(),
        points: percents.len(),
        papers: compared.papers.len(),
        bias_percent,
        rms_percent,
        vapors,
        rms_y: bias_and_rms(&fractions).1,
        estimated_pairs: compared.subject.estimated(),
        near_critical: compared.near_critical,
        unanswered: compared.unanswered,
        suspect: compared.suspect,
    })
}
