//! Bracketed roots whose values are known in closed form.

use zeotrope::numeric::bracketed_root;

#[test]
fn a_root_of_tiny_values_is_found() {
    // values of 1e-200, whose products underflow
    let root = bracketed_root(|x| Ok(1e-200 * (x * x - 2.0)), 1.0, 2.0, 1e-15).unwrap();
    assert!((root - std::f64::consts::SQRT_2).abs() < 1e-14, "{root}");
}

#[test]
fn a_root_at_zero_is_found() {
    let root = bracketed_root(|x| Ok(x.exp_m1() + x.powi(3)), -1.0, 2.0, 1e-12).unwrap();
    assert!(root.abs() < 1e-15, "{root}");
}

#[test]
fn a_search_that_does_not_close_says_so() {
    // no width is below a negative tolerance
    let found = bracketed_root(|x| Ok(if x < 1.5 { -1.0 } else { 1.0 }), 1.0, 2.0, -1.0);
    assert!(found.is_err());
}
