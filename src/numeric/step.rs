//! How long the step of a Newton iteration is, and how much of it is taken.

/// The largest absolute value among `values`; 0 where there are none.
///
/// Values that are not numbers are passed over.
///
/// # Example
/// ```
/// assert_eq!(zeotrope::numeric::largest(&[0.5, -2.0, 1.0]), 2.0);
/// ```
pub fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |most, value| value.abs().max(most))
}

/// The share of `step` that may be taken so that none of its parts is longer than `most` of that
/// part's index; 1 where none is.
///
/// # Example
/// ```
/// use zeotrope::numeric::shortening;
/// assert_eq!(shortening(&[0.5, -2.0], |_| 0.5), 0.25);
/// assert_eq!(shortening(&[0.5, -2.0], |_| 3.0), 1.0);
/// ```
pub fn shortening(step: &[f64], most: impl Fn(usize) -> f64) -> f64 {
    let shares = step
        .iter()
        .enumerate()
        .map(|(k, part)| most(k) / part.abs());
    shares.fold(1.0, f64::min)
}
