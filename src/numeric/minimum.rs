//! The least value of a function between two points.

use crate::error::Result;

/// The least value between `a` and `b` by golden-section search, each step of which leaves 0.618 of
/// the interval: where it lies and what it is. A value at which `stops` holds ends the search.
///
/// # Errors
/// The first error of `f`.
///
/// # Example
/// ```
/// use zeotrope::numeric::golden_section;
/// let (at, least) = golden_section(|x| Ok((x - 1.0).powi(2) + 2.0), (0.0, 5.0), 45, |_| false)?;
/// assert!((at - 1.0).abs() < 1e-6 && (least - 2.0).abs() < 1e-12);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn golden_section(
    mut f: impl FnMut(f64) -> Result<f64>,
    (mut a, mut b): (f64, f64),
    steps: usize,
    stops: impl Fn(f64) -> bool,
) -> Result<(f64, f64)> {
    const RATIO: f64 = 0.618_033_988_749_895;
    let (mut c, mut d) = (b - RATIO * (b - a), a + RATIO * (b - a));
    let (mut at_c, mut at_d) = (f(c)?, f(d)?);
    for _ in 0..steps {
        if stops(at_c) {
            return Ok((c, at_c));
        }
        if stops(at_d) {
            return Ok((d, at_d));
        }
        if at_c < at_d {
            (b, d, at_d) = (d, c, at_c);
            c = b - RATIO * (b - a);
            at_c = f(c)?;
        } else {
            (a, c, at_c) = (c, d, at_d);
            d = a + RATIO * (b - a);
            at_d = f(d)?;
        }
    }
    let middle = 0.5 * (a + b);
    Ok((middle, f(middle)?))
}
