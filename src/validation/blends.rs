//! How far each listed blend lies from its published bubble and dew point at 101.325 kPa.

use crate::catalogue::{Basis, Catalogue};
use crate::error::Result;
use crate::refrigerant::Refrigerant;
use crate::units::Pressure;

/// Standard atmosphere, the pressure of the published points.
const ATMOSPHERE: Pressure = Pressure::pascal(101_325.0);

/// A published bubble or dew point beside the model's.
#[derive(Debug, Clone, PartialEq)]
pub struct BlendDistance {
    /// The blend.
    pub designation: String,
    /// `bubble` or `dew`.
    pub side: &'static str,
    /// Published temperature, degree C.
    pub published: f64,
    /// Where it was published.
    pub source: String,
    /// The model's temperature, degree C; what went wrong where there is none.
    pub computed: std::result::Result<f64, String>,
    /// Whether the published points served to estimate a pair: then this is no check.
    pub fitted_to_these_values: bool,
}

impl BlendDistance {
    /// Model less published, K.
    pub fn difference(&self) -> Option<f64> {
        self.computed
            .as_ref()
            .ok()
            .map(|computed| computed - self.published)
    }
}

/// The distance of every listed blend from its published points.
///
/// # Errors
/// [`crate::Error::Catalogue`] for a broken file.
pub fn blend_distances() -> Result<Vec<BlendDistance>> {
    let catalogue = Catalogue::embedded();
    let mut distances = Vec::new();
    for designation in catalogue.blend_designations() {
        let record = catalogue.blend(&designation)?;
        if record.refused.is_some() || (record.bubble_c.is_none() && record.dew_c.is_none()) {
            continue;
        }
        let blend = Refrigerant::from_catalogue(&catalogue, &designation, Basis::Mass)?;
        let sides = [("bubble", &record.bubble_c), ("dew", &record.dew_c)];
        for (side, published) in sides {
            let Some(published) = published else {
                continue;
            };
            let computed = match side {
                "bubble" => blend.bubble_temperature(ATMOSPHERE),
                _ => blend.dew_temperature(ATMOSPHERE),
            };
            distances.push(BlendDistance {
                designation: designation.clone(),
                side,
                published: published.value,
                source: published.source.clone(),
                computed: computed
                    .map(|temperature| temperature.in_celsius())
                    .map_err(|problem| problem.to_string()),
                fitted_to_these_values: record.fitted_to_these_values,
            });
        }
    }
    Ok(distances)
}

/// The middle one of some sizes; `None` of none.
pub fn median(sizes: impl Iterator<Item = f64>) -> Option<f64> {
    let mut sizes: Vec<f64> = sizes.map(f64::abs).collect();
    sizes.sort_by(f64::total_cmp);
    let middle = sizes.len() / 2;
    match sizes.len() {
        0 => None,
        count if count % 2 == 1 => Some(sizes[middle]),
        _ => Some((sizes[middle - 1] + sizes[middle]) / 2.0),
    }
}
