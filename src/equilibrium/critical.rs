//! The spinodals of an isotherm, and the critical points of an equation and of a blend.

use crate::error::{Error, Result, reasons};
use crate::helmholtz::pure::DensityPoint;
use crate::helmholtz::{FixedComposition, Isotherm, MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::golden_section;
use crate::numeric::solve_linear;

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
    pub fn enclosing(isotherm: &Isotherm<'_>, middle: f64) -> Option<Self> {
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
/// temperature is where that least slope is zero, by bisection.
///
/// # Errors
/// [`Error::NotConverged`] when there is no such point within 5 % of the starting temperature.
pub fn critical_point(fixed: &FixedComposition<'_>, start: DensityPoint) -> Result<DensityPoint> {
    let least = |temperature: f64| {
        let isotherm = fixed.isotherm(temperature);
        let slope = |density: f64| {
            let r = isotherm.residual(density);
            1.0 + r.d + r.dd
        };
        let between = (0.7 * start.density, 1.35 * start.density);
        let found = golden_section(|density| Ok(slope(density)), between, 45, |_| false);
        // A slope is no error.
        found.map_or((f64::NAN, f64::NAN), |(density, slope)| (slope, density))
    };
    let (mut low, mut high) = (0.95 * start.temperature, 1.05 * start.temperature);
    if !(least(low).0 < 0.0 && least(high).0 > 0.0) {
        return Err(Error::NotConverged {
            question: reasons::QUESTION_CRITICAL_OF_EQUATION,
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
    Ok(DensityPoint {
        temperature,
        density: least(temperature).1,
    })
}

/// Steps of Newton's method for the critical point of a blend.
const MOST_STEPS: usize = 12;
/// A relative step this short is the last.
const SHORT: f64 = 1e-9;
/// Relative change of temperature and density by which slopes are taken.
const CHANGE: f64 = 1e-4;
/// Relative change of the partial densities by which the cubic form is taken.
const ALONG: f64 = 5e-3;
/// Added to the eigenvalues in the iteration for the least, which passes zero.
const SHIFT: f64 = 0.05;
/// Iterations for it.
const ITERATIONS: usize = 30;
/// How far from the start, in logarithms, a critical point is believed.
const BELIEVED: f64 = 0.1;

/// The critical point of a blend of composition `z`, searched from `start`; `None` where there is
/// none within a tenth of its temperature and density.
///
/// There the quadratic form of Psi in the partial densities n has a direction w in which it
/// vanishes, and so does the cubic form along it (Heidemann & Khalil, AIChE J. 26 (1980) 769, in
/// densities):
///
/// ```text
/// q(s) = sum_ij w_i w_j Psi_ij(n + s w) / (rho R T) = 0      q'(s) = 0      at s = 0
/// Psi_ij / T = R_i / n_i (i = j) + G_ij
/// ```
///
/// w from the least eigenvalue of sqrt(n_i n_j) Psi_ij, q' by central differences.
pub fn critical_of_blend(
    mixture: &Mixture,
    z: &MoleFractions,
    start: (f64, f64),
) -> Option<(f64, f64)> {
    let from = [start.0.ln(), start.1.ln()];
    let mut at = from;
    for _ in 0..MOST_STEPS {
        let [quadratic, cubic] = forms(mixture, z, at)?;
        let [q_t, c_t] = forms(mixture, z, [at[0] + CHANGE, at[1]])?;
        let [q_rho, c_rho] = forms(mixture, z, [at[0], at[1] + CHANGE])?;
        let slope = |there: f64, here: f64| (there - here) / CHANGE;
        let (a, b) = (slope(q_t, quadratic), slope(q_rho, quadratic));
        let (c, d) = (slope(c_t, cubic), slope(c_rho, cubic));
        let determinant = a * d - b * c;
        let step = [
            (b * cubic - d * quadratic) / determinant,
            (c * quadratic - a * cubic) / determinant,
        ];
        for k in 0..2 {
            at[k] += step[k];
            // a step that is not a number is too far as well
            let near = (at[k] - from[k]).abs() < BELIEVED;
            if !near {
                return None;
            }
        }
        if step[0].abs().max(step[1].abs()) < SHORT {
            return Some((at[0].exp(), at[1].exp()));
        }
    }
    None
}

/// q(0) and q'(0) at ln T and ln rho.
fn forms(mixture: &Mixture, z: &MoleFractions, at: [f64; 2]) -> Option<[f64; 2]> {
    let count = mixture.count();
    let (temperature, density) = (at[0].exp(), at[1].exp());
    let gas = |k: usize| mixture.components()[k].record.gas_constant_j_mol_k;
    let mut own = [0.0; MAX_COMPONENTS];
    for (n, z) in own.iter_mut().zip(z.iter()) {
        *n = z * density;
    }
    let hessian = mixture.potential(temperature, &own[..count]).hessian;
    let mut form = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
    let mut vector = [0.0; MAX_COMPONENTS];
    for i in 0..count {
        for j in 0..count {
            form[i][j] = (own[i] * own[j]).sqrt() * hessian[i][j] / gas(0);
        }
        form[i][i] += gas(i) / gas(0) + SHIFT;
        vector[i] = z[i].sqrt();
    }
    for _ in 0..ITERATIONS {
        if !solve_linear(&mut form.clone(), &mut vector, count) {
            return None;
        }
        let length = vector[..count].iter().map(|u| u * u).sum::<f64>().sqrt();
        vector.iter_mut().for_each(|u| *u /= length);
    }
    let mut along = [0.0; MAX_COMPONENTS];
    for i in 0..count {
        along[i] = (own[i] * density).sqrt() * vector[i];
    }
    let quadratic = |s: f64| {
        let mut there = [0.0; MAX_COMPONENTS];
        for i in 0..count {
            there[i] = own[i] + s * along[i];
        }
        let hessian = mixture.potential(temperature, &there[..count]).hessian;
        let mut sum = 0.0;
        for i in (0..count).filter(|&i| own[i] > 0.0) {
            sum += along[i] * along[i] * gas(i) / there[i];
            for j in 0..count {
                sum += along[i] * along[j] * hessian[i][j];
            }
        }
        sum / (density * gas(0))
    };
    // differences over two widths, their leading errors taken out
    let slope = |s: f64| (quadratic(s) - quadratic(-s)) / (2.0 * s);
    let cubic = (4.0 * slope(ALONG) - slope(2.0 * ALONG)) / 3.0;
    Some([quadratic(0.0), cubic])
}
