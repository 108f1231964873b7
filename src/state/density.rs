//! The density at given temperature and pressure, on a stretch of the isotherm where there is one.

use crate::error::{Error, Result, reasons};
use crate::helmholtz::{FixedComposition, Isotherm};

/// A density with how it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DensityRoot {
    /// Density, mol/m3.
    pub density: f64,
    /// Steps taken.
    pub steps: usize,
}

/// Steps before a search is given up; bisection alone needs about 60.
const MOST_STEPS: usize = 100;
/// The same of a search without a bracket.
const STEPS_NEAR: usize = 15;
/// What such a search may leave of the density.
const LEFT: f64 = 1e-12;

/// Finds the density between `low` and `high` mol/m3 at which the isotherm has `pressure` Pa.
///
/// Newton's method in ln(rho), kept inside the bracket. The pressure must rise from `low` to
/// `high`; `start` is tried first.
///
/// # Errors
/// [`Error::NotConverged`] when the pressure is not met between `low` and `high`.
pub fn density_between(
    isotherm: &Isotherm<'_>,
    pressure: f64,
    mut low: f64,
    mut high: f64,
    start: f64,
) -> Result<DensityRoot> {
    let mut density = if start > low && start < high {
        start
    } else {
        0.5 * (low + high)
    };
    let mut residual = f64::INFINITY;
    for steps in 1..=MOST_STEPS {
        let (value, slope) = isotherm.pressure_slope(density);
        residual = (value - pressure) / slope.abs().max(pressure);
        if value > pressure {
            high = density;
        } else {
            low = density;
        }
        let step = log_step(pressure, value, slope);
        let next = density * (1.0 + step.clamp(-0.5, 1.0));
        let inside = next > low && next < high;
        if step.abs() < 1e-9 {
            return Ok(DensityRoot {
                density: if inside { next } else { density },
                steps,
            });
        }
        if (high - low) <= 4.0 * f64::EPSILON * high {
            return Ok(DensityRoot { density, steps });
        }
        density = if inside { next } else { 0.5 * (low + high) };
    }
    Err(Error::NotConverged {
        question: reasons::QUESTION_DENSITY,
        steps: MOST_STEPS,
        residual,
    })
}

/// The density in mol/m3 at which the isotherm has `pressure` Pa, next to `start`, by Newton's
/// method alone; `None` where the steps do not settle.
pub fn density_near(isotherm: &Isotherm<'_>, pressure: f64, start: f64) -> Option<f64> {
    let mut density = start;
    let mut previous = 0.0_f64;
    for _ in 0..STEPS_NEAR {
        let (value, slope) = isotherm.pressure_slope(density);
        let step = log_step(pressure, value, slope);
        if step.is_nan() || step.abs() > 0.5 {
            return None;
        }
        density *= 1.0 + step;
        // what is left is the square of the step, times what it was of the one before
        let left = (step / previous).powi(2) * step.abs();
        if step.abs() < 1e-7 || (step.abs() < 1e-4 && left < LEFT) {
            return Some(density);
        }
        previous = step;
    }
    None
}

/// Newton's step in ln(rho): a gas is nearly straight in ln p against ln rho, a liquid in p
/// against ln rho.
fn log_step(pressure: f64, value: f64, slope: f64) -> f64 {
    if slope <= 0.0 {
        f64::NAN
    } else if slope < 4.0 * value {
        (pressure / value).ln() * value / slope
    } else {
        (pressure - value) / slope
    }
}

/// A density in mol/m3 at which the isotherm's pressure exceeds `pressure` Pa, searched upward
/// from `from`; `None` where the equation has none below six reducing densities.
pub fn highest_density(
    fixed: &FixedComposition<'_>,
    isotherm: &Isotherm<'_>,
    pressure: f64,
    from: f64,
) -> Option<f64> {
    let mut density = from;
    while density < 6.0 * fixed.reducing_density {
        let (value, slope) = isotherm.pressure_slope(density);
        if value > pressure && slope > 0.0 {
            return Some(density);
        }
        density *= 1.03;
    }
    None
}
