//! The spinodals of an isotherm, and the critical point of an equation.

use crate::error::{Error, Result};
use crate::helmholtz::pure::Point;
use crate::helmholtz::{FixedComposition, Isotherm};

/// The densities between which an isotherm is mechanically unstable, mol/m3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spinodal {
    /// The end on the vapour's side.
    pub vapor: f64,
    /// The end on the liquid's side.
    pub liquid: f64,
}

impl Spinodal {
    /// The unstable stretch around `middle`; `None` where the isotherm is stable there.
    pub fn around(isotherm: &Isotherm<'_>, middle: f64) -> Option<Self> {
        let unstable = |density: f64| isotherm.pressure_slope(density).1 < 0.0;
        if !unstable(middle) {
            return None;
        }
        let edge = |outward: f64| {
            let mut inside = middle;
            let mut step = 1e-5;
            let mut outside = middle * (1.0 + outward * step);
            while unstable(outside) {
                inside = outside;
                step *= 1.5;
                outside = middle * (outward * step).exp();
                if step > 20.0 {
                    return None;
                }
            }
            for _ in 0..60 {
                let between = 0.5 * (inside + outside);
                if unstable(between) {
                    inside = between;
                } else {
                    outside = between;
                }
            }
            Some(outside)
        };
        Some(Self {
            vapor: edge(-1.0)?,
            liquid: edge(1.0)?,
        })
    }
}

/// Where dp/drho and d2p/drho2 of a pure equation vanish, searched from `start`.
///
/// On each isotherm the least slope dp/dln(rho) near the middle is found; the critical
/// temperature is where that least slope is zero, by the secant method.
///
/// # Errors
/// [`Error::NotConverged`] when there is no such point within 5 % of the starting temperature.
pub fn critical_point(fixed: &FixedComposition<'_>, start: Point) -> Result<Point> {
    let least = |temperature: f64| {
        let isotherm = fixed.isotherm(temperature);
        let slope = |density: f64| {
            let r = isotherm.residual(density);
            1.0 + r.d + r.dd
        };
        // golden-section search for the least slope
        let (mut a, mut b) = (0.7 * start.density, 1.35 * start.density);
        let ratio = 0.618_033_988_749_895;
        let (mut c, mut d) = (b - ratio * (b - a), a + ratio * (b - a));
        let (mut at_c, mut at_d) = (slope(c), slope(d));
        for _ in 0..45 {
            if at_c < at_d {
                (b, d, at_d) = (d, c, at_c);
                c = b - ratio * (b - a);
                at_c = slope(c);
            } else {
                (a, c, at_c) = (c, d, at_d);
                d = a + ratio * (b - a);
                at_d = slope(d);
            }
        }
        (slope(0.5 * (a + b)), 0.5 * (a + b))
    };
    let (mut low, mut high) = (0.95 * start.temperature, 1.05 * start.temperature);
    if !(least(low).0 < 0.0 && least(high).0 > 0.0) {
        return Err(Error::NotConverged {
            question: "critical point of the equation",
            steps: 0,
            residual: f64::NAN,
        });
    }
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if least(middle).0 < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let temperature = 0.5 * (low + high);
    Ok(Point {
        temperature,
        density: least(temperature).1,
    })
}
