//! Bubble and dew points of a blend.
//!
//! One phase has the blend's composition z (the given phase), the other its own. Unknown are
//! u = ln rho of the given phase, v_i = ln n_i of the other phase's partial densities and, at
//! given pressure, ln T. With mu_i/T = R_i ln n_i + G_i (G the residual part of Psi/T, see
//! [`crate::helmholtz::mixture`]):
//!
//! ```text
//! F_i = ln n_i + G_i / R_i  |other  -  (ln n_i + G_i / R_i) |given          i = 1 ... N
//! F_p = ((p/T)|other - (p/T)|given) / (rho_liquid R)
//! F_s = p|vapor / p - 1                                        at given pressure
//! ```
//!
//! solved by Newton's method with the analytic Hessian of G. The pressure of the liquid cancels to
//! rounding at low pressure; the answer's pressure is the vapour's.

use super::conditions::{Columns, Conditions, PhaseTerms, Rows};
pub use super::phase_pair::{Branch, PhasePair, TwoLiquids};
use super::raoult::{raoult, raoult_pressure, raoult_temperature};
use crate::error::{Error, Result, reasons};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{lagrange_weights, largest, shortening, solve_linear};

/// Unknowns at most: N logarithms of partial densities, one density, one temperature.
const MOST_UNKNOWNS: usize = MAX_COMPONENTS + 2;
const MOST_STEPS: usize = 40;
/// The same from a neighbour on the line: what needs more has left the line.
const STEPS_ALONG: usize = 12;
/// Where a cold start is easy, in parts of the reducing temperature, and the first step from there.
const EASY: [f64; 5] = [0.75, 0.65, 0.55, 0.85, 0.45];
const STEP: f64 = 0.02;
/// Shortest step along the line, in parts of the reducing temperature.
const SHORTEST: f64 = 1e-5;
/// What the last step may leave of the logarithms.
const LEFT: f64 = 1e-13;
/// A step whose square is no more than that.
const SHORT: f64 = 3e-7;

/// What is given besides the composition.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Known {
    /// The temperature.
    Temperature,
    /// The pressure, Pa.
    Pressure(f64),
}

/// The blend's line at a temperature in K.
///
/// Newton's method from `start`, else from Raoult's law on the ancillary equations, else along
/// the line from a temperature where that is easy.
///
/// # Errors
/// [`Error::NotConverged`] where no pair of distinct phases was found; above the line's end there
/// is none.
pub fn at_temperature(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
    start: Option<&PhasePair>,
) -> Result<PhasePair> {
    let near = start.and_then(|near| near_at_temperature(mixture, z, branch, temperature, near));
    if let Some(found) = near {
        return Ok(found);
    }
    let first = raoult(mixture, z, branch, temperature);
    let cold = newton(mixture, z, branch, Known::Temperature, &first);
    if let Some(found) = cold
        && plausible(mixture, z, &found)
    {
        return Ok(found);
    }
    down_the_line(mixture, z, branch, temperature)
        .or_else(|| {
            let enough = |at: &PhasePair| at.temperature >= temperature;
            let top = (temperature, cold.is_none());
            along_the_line(mixture, z, branch, enough, top)
                .filter(|last| last.temperature == temperature)
        })
        .ok_or_else(|| not_found(branch, "temperature"))
}

/// The blend's line at a pressure in Pa; the lower temperature where two have that pressure.
///
/// # Errors
/// [`Error::NotConverged`] where no pair of distinct phases was found; above the line's highest
/// pressure there is none.
pub fn at_pressure(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    pressure: f64,
    start: Option<&PhasePair>,
) -> Result<PhasePair> {
    let known = Known::Pressure(pressure);
    if let Some(found) = start.and_then(|near| newton(mixture, z, branch, known, near)) {
        return Ok(found);
    }
    if let Some(found) = cold_at_pressure(mixture, z, branch, pressure) {
        return Ok(found);
    }
    let top = mixture.at_composition(z).reducing_temperature * 1.2;
    along_the_line(
        mixture,
        z,
        branch,
        |at| at.pressure >= pressure,
        (top, false),
    )
    .and_then(|last| newton(mixture, z, branch, known, &last))
    .ok_or_else(|| not_found(branch, "pressure"))
}

/// The blend's line at a temperature in K, from Raoult's law alone: `None` where Newton's method
/// does not settle from it, or not where such a start can be trusted.
pub(super) fn cold_at_temperature(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
) -> Option<PhasePair> {
    let first = raoult(mixture, z, branch, temperature);
    newton(mixture, z, branch, Known::Temperature, &first)
        .filter(|found| plausible(mixture, z, found))
}

/// As [`cold_at_temperature`] at a pressure in Pa.
pub(super) fn cold_at_pressure(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    pressure: f64,
) -> Option<PhasePair> {
    let temperature = raoult_temperature(mixture, z, branch, pressure)?;
    let first = raoult(mixture, z, branch, temperature);
    newton(mixture, z, branch, Known::Pressure(pressure), &first)
        .filter(|found| plausible(mixture, z, found))
}

/// The blend's line at a temperature in K, from a neighbour alone: `None` where Newton's method
/// does not settle from it.
pub fn near_at_temperature(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
    neighbour: &PhasePair,
) -> Option<PhasePair> {
    let start = PhasePair {
        temperature,
        ..*neighbour
    };
    newton(mixture, z, branch, Known::Temperature, &start)
}

/// As [`near_at_temperature`] at a pressure in Pa.
pub fn near_at_pressure(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    pressure: f64,
    neighbour: &PhasePair,
) -> Option<PhasePair> {
    newton(mixture, z, branch, Known::Pressure(pressure), neighbour)
}

/// Points of a line from which the next is guessed at most.
pub const MOST_BEFORE: usize = 6;

/// The pair at a place along points at others, by the polynomial through them; not in equilibrium.
/// `None` with fewer than two points, or more than [`MOST_BEFORE`].
pub fn through(points: &[(f64, PhasePair)], place: f64) -> Option<PhasePair> {
    if !(2..=MOST_BEFORE).contains(&points.len()) {
        return None;
    }
    let mut weights = [0.0; MOST_BEFORE];
    let places: Vec<f64> = points.iter().map(|(place, _)| *place).collect();
    lagrange_weights(&places, place, &mut weights);
    let pairs: Vec<&PhasePair> = points.iter().map(|(_, pair)| pair).collect();
    Some(weighted(&pairs, &weights))
}

/// The pair whose logarithms are the sums of others' by weights that sum to 1.
pub fn weighted(pairs: &[&PhasePair], weights: &[f64]) -> PhasePair {
    let sum = |of: &dyn Fn(&PhasePair) -> f64| -> f64 {
        let terms = pairs.iter().zip(weights);
        terms.map(|(pair, weight)| weight * of(pair)).sum()
    };
    let geometric = |of: &dyn Fn(&PhasePair) -> f64| sum(&|pair| of(pair).ln()).exp();
    let fractions = |of: fn(&PhasePair) -> &MoleFractions| {
        let mut values = [0.0; MAX_COMPONENTS];
        let count = of(pairs[0]).len();
        for (k, value) in values[..count].iter_mut().enumerate() {
            if pairs.iter().all(|pair| of(pair)[k] > 0.0) {
                *value = geometric(&|pair| of(pair)[k]);
            }
        }
        MoleFractions::new(&values[..count])
    };
    PhasePair {
        temperature: sum(&|pair| pair.temperature),
        pressure: geometric(&|pair| pair.pressure),
        liquid: fractions(|pair| &pair.liquid),
        vapor: fractions(|pair| &pair.vapor),
        liquid_density: geometric(&|pair| pair.liquid_density),
        vapor_density: geometric(&|pair| pair.vapor_density),
        liquids: None,
        steps: 0,
        residual: f64::INFINITY,
    }
}

pub(super) fn not_found(branch: Branch, by: &'static str) -> Error {
    Error::NotConverged {
        question: match (branch, by) {
            (Branch::Bubble, "temperature") => reasons::QUESTION_BUBBLE_BY_TEMPERATURE,
            (Branch::Bubble, _) => reasons::QUESTION_BUBBLE_BY_PRESSURE,
            (Branch::Dew, "temperature") => reasons::QUESTION_DEW_BY_TEMPERATURE,
            (Branch::Dew, _) => reasons::QUESTION_DEW_BY_PRESSURE,
        },
        steps: MOST_STEPS,
        residual: f64::NAN,
    }
}

/// Whether a pair found from a cold start lies where such a start can be trusted: well below the
/// critical region, the phases far apart on either side of the reducing density.
fn plausible(mixture: &Mixture, z: &MoleFractions, pair: &PhasePair) -> bool {
    let reducing = mixture.at_composition(z).reducing_density;
    pair.liquid_density > 1.15 * reducing && pair.vapor_density < 0.85 * reducing
}

/// Newton's method from `start`; `None` unless it settles on two distinct phases.
fn newton(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    known: Known,
    start: &PhasePair,
) -> Option<PhasePair> {
    newton_within(MOST_STEPS, mixture, z, branch, known, start)
}

/// As [`newton`] in a number of steps.
fn newton_within(
    most_steps: usize,
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    known: Known,
    start: &PhasePair,
) -> Option<PhasePair> {
    let count = mixture.count();
    // Components of no content play no part: the line is that of the others.
    let unknowns = count + 1 + usize::from(known != Known::Temperature);
    let (mut temperature, mut given, other_x, other_density) = match branch {
        Branch::Bubble => (
            start.temperature,
            start.liquid_density,
            start.vapor,
            start.vapor_density,
        ),
        Branch::Dew => (
            start.temperature,
            start.vapor_density,
            start.liquid,
            start.liquid_density,
        ),
    };
    let mut own = [0.0; MAX_COMPONENTS];
    let mut other = [0.0; MAX_COMPONENTS];
    for (other, x) in other.iter_mut().zip(other_x.iter()) {
        *other = x.max(1e-300) * other_density;
    }
    let conditions = Conditions::of(mixture);
    let mut previous = f64::INFINITY;
    for steps in 1..=most_steps {
        for (own, z) in own.iter_mut().zip(z.iter()) {
            *own = z * given;
        }
        let a = conditions.phase(temperature, &own);
        let b = conditions.phase(temperature, &other);
        let (mut matrix, mut right) = equations(&conditions, (z, branch), known, (&a, &b));
        if !solve_linear(&mut matrix, &mut right, unknowns) {
            return None;
        }
        let size = largest(&right[..unknowns]);
        // quadratic: what a step leaves is its square, times what it was of the one before
        let left = if previous.is_finite() {
            (size / previous).powi(2) * size
        } else {
            size
        };
        let done = size < SHORT || (size < 1e-6 && (size > 0.5 * previous || left < LEFT));
        previous = size;
        // Long steps are shortened: a step in ln T counts tenfold, one in the liquid's density
        // twofold.
        let shrink = shortening(&right[..unknowns], |k| {
            if k == count + 1 {
                0.05
            } else if k == count && branch == Branch::Bubble {
                0.2
            } else {
                0.7
            }
        });
        for i in 0..count {
            other[i] *= (shrink * right[i]).exp();
        }
        given *= (shrink * right[count]).exp();
        if known != Known::Temperature {
            temperature *= (shrink * right[count + 1]).exp();
        }
        if done {
            let own_slope: f64 = a.pressure_slopes[..count].iter().sum();
            let other_slope = &b.pressure_slopes[..count];
            if !(own_slope > 0.0 && other_slope.iter().sum::<f64>() > 0.0) {
                return None;
            }
            let (pa, pb) = (
                a.potential.pressure_over_temperature,
                b.potential.pressure_over_temperature,
            );
            // the vapour's pressure after the last step, which is short
            let pressure = match (known, branch) {
                (Known::Pressure(pressure), _) => pressure,
                (Known::Temperature, Branch::Bubble) => {
                    let change = other_slope.iter().zip(&right);
                    temperature * (pb + change.map(|(slope, step)| slope * step).sum::<f64>())
                }
                (Known::Temperature, Branch::Dew) => temperature * (pa + own_slope * right[count]),
            };
            let phases = Phases {
                given,
                other: &other[..count],
            };
            return finish(
                mixture,
                z,
                branch,
                (temperature, pressure),
                &phases,
                (steps, size),
            );
        }
    }
    None
}

/// The linear system of a step, of the given phase `a` and the other `b`: rows F_i, F_p and, at
/// given pressure, F_s.
#[inline]
fn equations(
    conditions: &Conditions<'_>,
    (z, branch): (&MoleFractions, Branch),
    known: Known,
    (a, b): (&PhaseTerms, &PhaseTerms),
) -> (Matrix, [f64; MOST_UNKNOWNS]) {
    let count = z.len();
    let rows = Rows {
        first: 0,
        pressure: count,
        log_temperature: (known != Known::Temperature).then_some(count + 1),
    };
    let (in_other, in_own) = (Columns::Each(0), Columns::Together(count));
    let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
    let mut right = [0.0; MOST_UNKNOWNS];
    let scale = conditions.pressure_scale(match branch {
        Branch::Bubble => a.total,
        Branch::Dew => b.total,
    });
    conditions.add(&mut matrix, rows, b, (1.0, scale), &[in_other]);
    conditions.add(&mut matrix, rows, a, (-1.0, scale), &[in_own]);
    for i in 0..count {
        if z[i] > 0.0 {
            right[i] = -conditions.difference(i, a, b);
        } else {
            matrix[i] = [0.0; MOST_UNKNOWNS];
            matrix[i][i] = 1.0;
        }
    }
    let (pa, pb) = (
        a.potential.pressure_over_temperature,
        b.potential.pressure_over_temperature,
    );
    right[count] = -(pb - pa) / scale;
    if let Known::Pressure(pressure) = known {
        let (vapor, columns) = match branch {
            Branch::Bubble => (b, in_other),
            Branch::Dew => (a, in_own),
        };
        let (last, asked) = (count + 1, (a.temperature, pressure));
        let row = &mut matrix[last];
        right[last] = conditions.given_pressure(row, vapor, asked, columns, last);
    }
    (matrix, right)
}

type Matrix = [[f64; MOST_UNKNOWNS]; MOST_UNKNOWNS];

/// What was solved for: the given phase's density and the other's partial densities, mol/m3.
struct Phases<'a> {
    given: f64,
    other: &'a [f64],
}

fn finish(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    (temperature, pressure): (f64, f64),
    phases: &Phases<'_>,
    (steps, residual): (usize, f64),
) -> Option<PhasePair> {
    let Phases { given, other } = *phases;
    let mut content = [0.0; MAX_COMPONENTS];
    for (i, n) in other.iter().enumerate() {
        content[i] = if z[i] > 0.0 { *n } else { 0.0 };
    }
    let other_density: f64 = content.iter().sum();
    let other_x = MoleFractions::new(&content[..other.len()]);
    let (liquid, vapor, liquid_density, vapor_density) = match branch {
        Branch::Bubble => (*z, other_x, given, other_density),
        Branch::Dew => (other_x, *z, other_density, given),
    };
    let found = PhasePair {
        temperature,
        pressure,
        liquid,
        vapor,
        liquid_density,
        vapor_density,
        liquids: None,
        steps,
        residual,
    };
    (pressure > 0.0 && found.is_two(mixture)).then_some(found)
}

/// Follows the line downward to a temperature in K from where a cold start is easy; `None` where
/// that lies above none of these or a step fails.
fn down_the_line(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
) -> Option<PhasePair> {
    let reducing = mixture.at_composition(z).reducing_temperature;
    let above = EASY.map(|easy| easy * reducing);
    let mut easy = above.into_iter().filter(|easy| *easy > temperature);
    let mut last = easy.find_map(|easy| cold_at_temperature(mixture, z, branch, easy))?;
    let mut step = STEP * reducing;
    while last.temperature > temperature {
        let next = (last.temperature - step).max(temperature);
        last = advance(mixture, z, branch, &last, next)?;
        step *= 1.3;
    }
    Some(last)
}

/// Follows the line upward in temperature from where a cold start is easy until `enough` says so
/// or `top` K is reached; the last pair found before that. `is_lost` says that a cold start at the
/// top leads nowhere.
fn along_the_line(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    enough: impl Fn(&PhasePair) -> bool,
    (top, is_lost): (f64, bool),
) -> Option<PhasePair> {
    let reducing = mixture.at_composition(z).reducing_temperature;
    let mut last = None;
    let mut tried = f64::NAN;
    for easy in EASY {
        let temperature = (easy * reducing).min(top);
        if temperature == tried || (is_lost && temperature == top) {
            continue;
        }
        tried = temperature;
        let first = raoult(mixture, z, branch, temperature);
        last = newton(mixture, z, branch, Known::Temperature, &first)
            .filter(|found| plausible(mixture, z, found) && !enough(found) || temperature == top);
        if last.is_some() {
            break;
        }
    }
    let mut last = last?;
    let mut step = STEP * reducing;
    while !enough(&last) && last.temperature < top {
        let next = (last.temperature + step).min(top);
        match advance(mixture, z, branch, &last, next) {
            Some(found) if enough(&found) => return Some(found),
            Some(found) => {
                last = found;
                step *= 1.3;
            }
            None => {
                step *= 0.4;
                if step < SHORTEST * reducing {
                    break;
                }
            }
        }
    }
    Some(last)
}

/// One step along the line, the start corrected by the pure components' ancillary slopes.
fn advance(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    from: &PhasePair,
    temperature: f64,
) -> Option<PhasePair> {
    let ratio = raoult_pressure(mixture, z, branch, temperature)
        / raoult_pressure(mixture, z, branch, from.temperature);
    let start = PhasePair {
        temperature,
        vapor_density: from.vapor_density * ratio,
        liquid_density: from.liquid_density * (1.0 - 0.3 * (ratio - 1.0) * 0.1),
        ..*from
    };
    let newton = |start| newton_within(STEPS_ALONG, mixture, z, branch, Known::Temperature, &start);
    let found = newton(start).or_else(|| {
        newton(PhasePair {
            temperature,
            ..*from
        })
    })?;
    // a step that jumps to another solution changes the pressure out of proportion
    let jump = (found.pressure / from.pressure).ln() / ratio.ln();
    (jump > 0.2 && jump < 3.0).then_some(found)
}
