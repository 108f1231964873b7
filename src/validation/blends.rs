//! How far the listed blends lie from their published bubble and dew points, and why.

use crate::catalogue::records::PairKind;
use crate::catalogue::{Basis, Catalogue};
use crate::error::Result;
use crate::refrigerant::{PairTrust, Refrigerant};
use crate::service::deviation::{BlendDeviation, deviations};

/// Azeotropes whose normal boiling points in Table 2 of the handbook are listed beside the model's
/// whatever they differ by, with [`AZEOTROPES_REASON`].
pub const AZEOTROPES: &[&str] = &["R-500", "R-502", "R-504", "R-508A", "R-508B"];

/// Why the azeotropes are listed. Table 5 of the handbook, which is finer, is not on record here for
/// these five.
pub const AZEOTROPES_REASON: &str = "their pairs are answered with the open published parameters, which need not be those \
     behind the handbook's values; nothing is tuned and no tolerance widened. For R-500, R-508A \
     and R-508B the values of ANSI/ASHRAE 34 quoted from memory (-33.6, -87.4 and -87.4 °C) are \
     themselves 0.6 K below, 1.4 K below and 0.9 K above those of Table 2";

/// A share of the distance: pairs that meet measured points to less than this speak for the model.
const SPEAKS_FOR: f64 = 0.5;

/// The distance of every blend of a catalogue from its published points, each with what is known of
/// its reason.
///
/// # Errors
/// [`crate::Error::Catalogue`] for a broken file.
pub fn blend_distances(catalogue: &Catalogue) -> Result<Vec<(BlendDeviation, String)>> {
    let mut found = Vec::new();
    for designation in catalogue.blend_designations() {
        let blend = Refrigerant::from_catalogue(catalogue, &designation, Basis::Mass)?;
        for distance in deviations(&blend) {
            let reason = reason(&blend, &distance);
            found.push((distance, reason));
        }
    }
    Ok(found)
}

/// What may be behind a distance: the published value, an estimate, or a pair that nobody measured.
fn reason(blend: &Refrigerant, distance: &BlendDeviation) -> String {
    let mut reasons = Vec::new();
    if distance.from_memory() {
        reasons.push("the published value is quoted from memory".to_owned());
    }
    let pairs = |wanted: &dyn Fn(&PairTrust) -> bool| -> Vec<String> {
        blend
            .pairs()
            .iter()
            .filter(|pair| wanted(pair))
            .map(|pair| format!("{} + {}", pair.first, pair.second))
            .collect()
    };
    let estimated = pairs(&|pair| pair.kind == PairKind::Estimated);
    if !estimated.is_empty() {
        reasons.push(format!("estimated: {}", estimated.join(", ")));
    }
    let size = distance.difference().map_or(0.0, f64::abs);
    let doubted = pairs(&|pair| {
        pair.kind != PairKind::Estimated
            && pair
                .measured()
                .is_none_or(|measured| measured.rms_k > SPEAKS_FOR * size)
    });
    if estimated.is_empty() && doubted.is_empty() {
        reasons.push(
            "every pair meets measured bubble points to less than half of this: the published \
             value stands apart from them"
                .to_owned(),
        );
    } else if !doubted.is_empty() {
        reasons.push(format!(
            "published pairs that no measured points confirm to half of this: {}",
            doubted.join(", ")
        ));
    }
    reasons.join("; ")
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
