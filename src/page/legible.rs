//! A wall chart that is read from a distance: its rows and paper chosen by it.

use super::{Document, Form, Print, Style, chart};
use crate::chart::{Chart, Request};
use crate::{Error, Result, Warning};

/// Every how many rows one is kept, in the order tried.
const KEPT: [usize; 4] = [1, 2, 4, 5];
/// Metres in a foot.
const METRE_PER_FOOT: f64 = 0.3048;

/// The wall chart of a question on the smallest paper and with the most of its rows at which its
/// figures are read from a distance such as `2m` or `6ft`; the paper stays where it `is_fixed`.
///
/// # Errors
/// [`Error::Value`] for what is no distance, and where no choice is read from that far, with how
/// far the best is.
pub fn legible_wall(
    asked: &Request,
    distance: &str,
    is_fixed: bool,
    (print, warnings, style): (&Print, &[Warning], &Style),
) -> Result<Document> {
    let metres = metres(distance)?;
    let given = print.form.unwrap_or_default();
    let larger = given.paper.larger().filter(|_| !is_fixed);
    let mut best = 0.0_f64;
    for every in KEPT {
        let question = Request {
            rows: asked.rows.thinned(every),
            ..asked.clone()
        };
        let Ok(found) = Chart::new(&question) else {
            continue;
        };
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

fn metres(text: &str) -> Result<f64> {
    let clean = text.to_lowercase().replace(' ', "");
    let units = [("ft", METRE_PER_FOOT), ("m", 1.0)];
    let found = units.into_iter().find_map(|(unit, size)| {
        let number: f64 = clean.strip_suffix(unit)?.parse().ok()?;
        Some(number * size)
    });
    found
        .filter(|metres| *metres > 0.0 && metres.is_finite())
        .ok_or_else(|| Error::Value {
            quantity: "distance",
            text: text.into(),
            problem: "is not a distance above zero".into(),
            hint: "write it in metres or feet: 2m or 6ft".into(),
        })
}
