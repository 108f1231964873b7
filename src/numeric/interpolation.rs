//! The polynomial through points, by Lagrange's weights.

/// Weights of values at `places` in the value at `at` of the polynomial through them, one a place.
pub fn lagrange_weights(places: &[f64], at: f64, weights: &mut [f64]) {
    for (k, weight) in weights.iter_mut().enumerate().take(places.len()) {
        let others = places.iter().enumerate().filter(|(j, _)| *j != k);
        *weight = others
            .map(|(_, place)| (at - place) / (places[k] - place))
            .product();
    }
}

/// The value at `at` of the polynomial through at most four `values` at `places`.
pub fn through(places: &[f64], values: impl Iterator<Item = f64>, at: f64) -> f64 {
    let mut weights = [0.0; 4];
    lagrange_weights(places, at, &mut weights);
    values
        .zip(weights)
        .map(|(value, weight)| value * weight)
        .sum()
}
