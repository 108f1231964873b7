//! A wall chart that is read from a distance: which of its answers, and the paper, chosen by it.

use super::{Document, Form, Print, Style, chart};
use crate::chart::Chart;
use crate::units::parse_length;
use crate::{Error, Result, Warning};

/// The first of a question's charts whose figures are read from a distance such as `2m` or `6ft`, on
/// the smallest paper on which they are; the paper stays where it `is_fixed`.
///
/// # Errors
/// As [`parse_length`]; [`Error::Value`] where no chart is read from that far, with how far the best
/// is.
pub fn legible_wall(
    charts: impl IntoIterator<Item = Chart>,
    distance: &str,
    is_fixed: bool,
    (print, warnings, style): (&Print, &[Warning], &Style),
) -> Result<Document> {
    let metres = parse_length(distance)?;
    let given = print.form.unwrap_or_default();
    let larger = given.paper.larger().filter(|_| !is_fixed);
    let mut best = 0.0_f64;
    for found in charts {
        let found = [found];
        for paper in [Some(given.paper), larger].into_iter().flatten() {
            for landscape in [given.landscape, true] {
                let print = Print {
                    form: Some(Form {
                        paper,
                        landscape,
                        ..given
                    }),
                    ..print.clone()
                };
                let document = chart(&found, &print, warnings, style);
                let reach = document.legible_to()?.unwrap_or(0.0);
                if reach >= metres {
                    return Ok(document);
                }
                best = best.max(reach);
            }
        }
    }
    Err(Error::Value {
        quantity: "distance",
        text: distance.into(),
        problem: format!("is farther than these figures are read from: at best {best:.1} m"),
        hint: "choose fewer refrigerants, a shorter range, a larger paper, or come nearer".into(),
    })
}
