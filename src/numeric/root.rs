//! Roots of one function of one variable.

use super::minimum::golden_section;
use crate::error::{Error, Result, reasons};

/// Steps before a bracketed search is given up; bisection to the last bit needs about 60 from
/// any bracket within a factor of two, 1100 never.
const MOST_STEPS: usize = 200;

/// Finds where `f` is zero between `a` and `b`, at which it must differ in sign.
///
/// Regula falsi with the weight of Anderson & Björck (BIT 13 (1973) 253), bisecting whenever
/// three steps have not halved the bracket. Stops at a bracket of `tolerance` times the variable, or
/// of `tolerance` times the rounding of the first bracket's ends where the root is zero.
///
/// # Errors
/// [`Error::NotConverged`] where the signs at `a` and `b` agree, a value is not a number, or the
/// bracket is still wider after 200 steps; whatever `f` returns.
///
/// # Example
/// ```
/// use zeotrope::numeric::bracketed_root;
/// let root = bracketed_root(|x| Ok(x * x - 2.0), 1.0, 2.0, 1e-15).unwrap();
/// assert!((root - std::f64::consts::SQRT_2).abs() < 1e-14);
/// ```
pub fn bracketed_root(
    mut f: impl FnMut(f64) -> Result<f64>,
    mut a: f64,
    mut b: f64,
    tolerance: f64,
) -> Result<f64> {
    let failed = |steps, residual| Error::NotConverged {
        question: reasons::QUESTION_ROOT,
        steps,
        residual,
    };
    let (mut at_a, mut at_b) = (f(a)?, f(b)?);
    if at_a == 0.0 {
        return Ok(a);
    }
    if at_b == 0.0 {
        return Ok(b);
    }
    if at_a.is_nan() || at_b.is_nan() || at_a.signum() == at_b.signum() {
        return Err(failed(0, at_a.abs().min(at_b.abs())));
    }
    let rounding = f64::EPSILON * a.abs().max(b.abs());
    let mut width = (b - a).abs();
    for step in 1..=MOST_STEPS {
        let slow = step % 3 == 0 && (b - a).abs() > 0.5 * width;
        if step % 3 == 0 {
            width = (b - a).abs();
        }
        let mut c = b - at_b * (b - a) / (at_b - at_a);
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        if slow || !(c > low && c < high) {
            c = 0.5 * (a + b);
        }
        let at_c = f(c)?;
        if at_c == 0.0 {
            return Ok(c);
        }
        if !at_c.is_finite() {
            return Err(failed(step, at_c));
        }
        // the product of two small values would underflow
        if at_c.signum() != at_b.signum() {
            (a, at_a) = (b, at_b);
        } else {
            let weight = 1.0 - at_c / at_b;
            at_a *= if weight > 0.0 { weight } else { 0.5 };
        }
        (b, at_b) = (c, at_c);
        if (b - a).abs() <= tolerance * b.abs().max(rounding) || at_b.abs() < f64::MIN_POSITIVE {
            return Ok(b);
        }
    }
    Err(failed(MOST_STEPS, at_b))
}

/// All roots of `f` over the stretches of a grid on which it has an answer.
///
/// Sign changes between neighbours are refined; a neighbour that comes closest to zero without
/// changing sign is searched for a pair of roots; where `f` stops having an answer between two
/// neighbours, the edge is found and counts as a point of the grid.
pub fn roots_on(mut f: impl FnMut(f64) -> Result<f64>, grid: &[f64], tolerance: f64) -> Vec<f64> {
    let mut answer = |x: f64| f(x).ok().filter(|value| value.is_finite());
    // stretches of answered points
    let mut stretches: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut previous: Option<(f64, Option<f64>)> = None;
    for &x in grid {
        let value = answer(x);
        match (previous, value) {
            (Some((before, None)), Some(value)) => {
                let mut stretch = Vec::new();
                stretch.extend(edge(&mut answer, x, before));
                stretch.push((x, value));
                stretches.push(stretch);
            }
            (None, Some(value)) => stretches.push(vec![(x, value)]),
            (Some((_, Some(_))), Some(value)) => {
                if let Some(stretch) = stretches.last_mut() {
                    stretch.push((x, value));
                }
            }
            (Some((before, Some(_))), None) => {
                let end = edge(&mut answer, before, x);
                if let Some(stretch) = stretches.last_mut() {
                    stretch.extend(end);
                }
            }
            (_, None) => {}
        }
        previous = Some((x, value));
    }
    let mut roots = Vec::new();
    for stretch in &stretches {
        roots_on_stretch(&mut f, stretch, tolerance, &mut roots);
    }
    roots
}

/// The last point with an answer on the way from `inside` to `outside`.
fn edge(
    answer: &mut impl FnMut(f64) -> Option<f64>,
    mut inside: f64,
    mut outside: f64,
) -> Option<(f64, f64)> {
    let mut found = None;
    for _ in 0..50 {
        let middle = 0.5 * (inside + outside);
        match answer(middle) {
            Some(value) => {
                found = Some((middle, value));
                inside = middle;
            }
            None => outside = middle,
        }
    }
    found
}

fn roots_on_stretch(
    f: &mut impl FnMut(f64) -> Result<f64>,
    points: &[(f64, f64)],
    tolerance: f64,
    roots: &mut Vec<f64>,
) {
    for (k, &(x, value)) in points.iter().enumerate() {
        if value == 0.0 {
            roots.push(x);
            continue;
        }
        let Some(&(next, at_next)) = points.get(k + 1) else {
            continue;
        };
        if value * at_next < 0.0 {
            roots.extend(bracketed_root(&mut *f, x, next, tolerance).ok());
        }
        let Some(&(after, at_after)) = points.get(k + 2) else {
            continue;
        };
        let turning = value * at_next > 0.0
            && at_next * at_after > 0.0
            && at_next.abs() <= value.abs()
            && at_next.abs() <= at_after.abs();
        if turning && let Some(turn) = other_sign(f, x, after, value.signum()) {
            roots.extend(bracketed_root(&mut *f, x, turn, tolerance).ok());
            roots.extend(bracketed_root(&mut *f, turn, after, tolerance).ok());
        }
    }
}

/// A point between `a` and `b` where `f` has not the sign `sign`, sought where |f| is least.
fn other_sign(f: &mut impl FnMut(f64) -> Result<f64>, a: f64, b: f64, sign: f64) -> Option<f64> {
    let crosses = |value: f64| value <= 0.0;
    let found = golden_section(|x| Ok(sign * f(x)?), (a, b), 40, crosses);
    let (at, value) = found.ok()?;
    crosses(value).then_some(at)
}
