//! Deviation of a listed blend from its published bubble and dew point at 101.325 kPa.

use serde::{Serialize, Serializer};

use crate::Branch;
use crate::refrigerant::Refrigerant;
use crate::units::Pressure;

/// A published bubble or dew point beside the model's.
#[derive(Debug, Clone, PartialEq)]
pub struct BlendDeviation {
    /// The blend.
    pub designation: String,
    /// On which line.
    pub branch: Branch,
    /// Published temperature, degree C.
    pub published: f64,
    /// Where it was published.
    pub source: String,
    /// The model's temperature, degree C; why there is none.
    pub computed: std::result::Result<f64, String>,
    /// Whether the published points served to estimate a pair: then this is no check.
    pub fitted_to_these_values: bool,
}

impl BlendDeviation {
    /// Model minus published, K.
    pub fn difference(&self) -> Option<f64> {
        self.computed
            .as_ref()
            .ok()
            .map(|computed| computed - self.published)
    }

    /// Whether the published value was not looked up.
    pub fn from_memory(&self) -> bool {
        self.source.contains("from memory")
    }
}

impl Serialize for BlendDeviation {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            side: Branch,
            #[serde(rename = "pressure_Pa")]
            pressure: Pressure,
            #[serde(rename = "published_C")]
            published: f64,
            source: &'a str,
            from_memory: bool,
            fitted_to_these_values: bool,
            #[serde(rename = "difference_K")]
            difference: Option<f64>,
        }
        Keys {
            side: self.branch,
            pressure: Pressure::ATMOSPHERE,
            published: self.published,
            source: &self.source,
            from_memory: self.from_memory(),
            fitted_to_these_values: self.fitted_to_these_values,
            difference: self.difference(),
        }
        .serialize(serializer)
    }
}

/// A listed blend's published points beside the model's; empty where none is on record.
///
/// # Example
/// ```
/// use zeotrope::{Branch, Refrigerant};
/// use zeotrope::service::deviation::deviations;
/// let found = deviations(&Refrigerant::named("R-407C")?);
/// // ASHRAE Handbook Fundamentals 2021, ch. 29, Table 2
/// assert_eq!((found[0].branch, found[0].published), (Branch::Bubble, -43.8));
/// assert!(found[0].difference().unwrap().abs() < 0.25);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn deviations(refrigerant: &Refrigerant) -> Vec<BlendDeviation> {
    let Some(record) = refrigerant.blend() else {
        return Vec::new();
    };
    // Two points are no reason to build curves.
    let refrigerant = refrigerant.exact();
    let sides = [
        (Branch::Bubble, &record.bubble_c),
        (Branch::Dew, &record.dew_c),
    ];
    sides
        .into_iter()
        .filter_map(|(branch, published)| {
            let published = published.as_ref()?;
            let computed = match branch {
                Branch::Bubble => refrigerant.bubble_temperature(Pressure::ATMOSPHERE),
                Branch::Dew => refrigerant.dew_temperature(Pressure::ATMOSPHERE),
            };
            Some(BlendDeviation {
                designation: record.designation.clone(),
                branch,
                published: published.value,
                source: published.source.clone(),
                computed: computed
                    .map(|temperature| temperature.in_celsius())
                    .map_err(|problem| problem.to_string()),
                fitted_to_these_values: record.fitted_to_these_values,
            })
        })
        .collect()
}
