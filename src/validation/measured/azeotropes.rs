//! Measured azeotropes beside those that the model has at the same temperature, or at the same
//! pressure where no temperature was measured.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::{Subject, bias_and_rms, by_names};
use crate::catalogue::Catalogue;
use crate::error::Result;
use crate::process::azeotrope::{AzeotropeAt, azeotropes};
use crate::units::{Pressure, Temperature};
use crate::validation::rows;

/// Measured azeotropes, a row each; `tests/data/README.md` tells what they are.
const TABLE: rows::Table = rows::table!("measured_azeotropes.csv");

#[derive(Debug, Deserialize)]
struct Point {
    first: String,
    second: String,
    #[serde(rename = "T_K")]
    temperature: Option<f64>,
    #[serde(rename = "p_Pa")]
    pressure: f64,
    x_first: f64,
    doi: String,
    suspect: String,
}

/// A pair's azeotropes beside measured ones, model less measured at the measured temperature, or pressure.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct AzeotropeDistance {
    /// First refrigerant.
    pub first: String,
    /// Second refrigerant.
    pub second: String,
    /// Measured azeotropes where the model has one too.
    pub points: usize,
    /// Measured azeotropes where it has none.
    pub not_found: usize,
    /// Of suspect sets, in no figure.
    pub suspect: usize,
    /// Papers.
    pub papers: usize,
    /// Lowest measured pressure, Pa.
    #[serde(rename = "from_Pa")]
    pub from: f64,
    /// Highest measured pressure, Pa.
    #[serde(rename = "to_Pa")]
    pub to: f64,
    /// Mean deviation of the first's mole fraction.
    #[serde(rename = "bias_x")]
    pub bias_x: Option<f64>,
    /// Root mean square of the same.
    #[serde(rename = "rms_x")]
    pub rms_x: Option<f64>,
    /// Mean deviation of the pressure at measured temperatures, %; `None` where none was.
    pub bias_percent: Option<f64>,
    /// Root mean square of the same, %.
    pub rms_percent: Option<f64>,
}

/// The distance of every pair with measured azeotropes, in the order of the table.
///
/// # Errors
/// [`crate::Error::File`] for a table that cannot be read; [`crate::Error::Catalogue`] for a
/// broken file.
pub fn measured_azeotropes(catalogue: &Catalogue) -> Result<Vec<AzeotropeDistance>> {
    let points: Vec<Point> = rows::read(&TABLE)?;
    by_names(&points, |point| [point.first.as_str(), &point.second])
        .into_iter()
        .map(|(names, own)| distance(catalogue, names, &own))
        .collect()
}

fn distance(
    catalogue: &Catalogue,
    names: [&str; 2],
    points: &[&Point],
) -> Result<AzeotropeDistance> {
    let subject = Subject::from_names(catalogue, &names)?;
    let (mut not_found, mut suspect) = (0, 0);
    let mut papers = BTreeSet::new();
    let (mut fractions, mut percents) = (Vec::new(), Vec::new());
    let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
    for point in points {
        if !point.suspect.is_empty() {
            suspect += 1;
            continue;
        }
        papers.insert(point.doi.as_str());
        (from, to) = (from.min(point.pressure), to.max(point.pressure));
        let at = match point.temperature {
            Some(kelvin) => AzeotropeAt::Temperature(Temperature::kelvin(kelvin)),
            None => AzeotropeAt::Pressure(Pressure::pascal(point.pressure)),
        };
        // Rarely there are two; the nearer one is meant.
        let found = azeotropes(&subject.refrigerant, at).unwrap_or_default();
        let away = |x: f64| (x - point.x_first).abs();
        let nearest = found
            .iter()
            .min_by(|a, b| away(a.mole_fractions[0]).total_cmp(&away(b.mole_fractions[0])));
        match nearest {
            Some(one) => {
                fractions.push(one.mole_fractions[0] - point.x_first);
                if point.temperature.is_some() {
                    percents.push((one.pressure.in_pascal() / point.pressure - 1.0) * 100.0);
                }
            }
            None => not_found += 1,
        }
    }
    let (bias_x, rms_x) = bias_and_rms(&fractions);
    let (bias_percent, rms_percent) = bias_and_rms(&percents);
    Ok(AzeotropeDistance {
        first: names[0].into(),
        second: names[1].into(),
        points: fractions.len(),
        not_found,
        suspect,
        papers: papers.len(),
        from,
        to,
        bias_x,
        rms_x,
        bias_percent,
        rms_percent,
    })
}
