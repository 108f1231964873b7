//! The slope of a bubble or dew line.
//!
//! Along a line the conditions F of [`super::bubble_dew`] stay met: with u the N + 1 logarithms of
//! densities solved for there, F_u du/dln T = -F_lnT, and of the vapor
//!
//! ```text
//! dp/dT = p/T + d(p/T)/dln T        along (1, du/dln T)
//! ```
//!
//! which for one component is Clapeyron's (s'' - s') / (v'' - v'). Over two liquids the conditions are those of
//! [`super::vapor_over_liquids`].

use super::bubble_dew::{Branch, PhasePair};
use super::conditions::{Columns, Conditions, Rows};
use super::three_phases::ThreePhases;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::solve_linear;

const MOST_UNKNOWNS: usize = MAX_COMPONENTS + 2;

/// dp/dT, Pa/K, along the line of a branch at one of its points; `None` where the line has no slope,
/// at its very end, and where the blend holds a component of no content.
pub fn line_slope(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    pair: &PhasePair,
) -> Option<f64> {
    if let Some(three) = ThreePhases::at_bubble_point(pair) {
        return three.line_slope(mixture, z);
    }
    let count = mixture.count();
    if z.iter().any(|&z| z <= 0.0) {
        return None;
    }
    let conditions = Conditions::of(mixture);
    let partial = |x: &MoleFractions, density: f64| {
        let mut amounts = [0.0; MAX_COMPONENTS];
        for (amount, x) in amounts.iter_mut().zip(x.iter()) {
            *amount = x * density;
        }
        conditions.phase(pair.temperature, &amounts)
    };
    let liquid = partial(&pair.liquid, pair.liquid_density);
    let vapor = partial(&pair.vapor, pair.vapor_density);
    let (in_other, in_own) = (Columns::Each(0), Columns::Together(count));
    let ((own, other), in_vapor) = match branch {
        Branch::Bubble => ((&liquid, &vapor), in_other),
        Branch::Dew => ((&vapor, &liquid), in_own),
    };
    let rows = Rows {
        first: 0,
        pressure: count,
        log_temperature: Some(count + 1),
    };
    let scale = conditions.pressure_scale(liquid.total);
    let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
    conditions.add(&mut matrix, rows, other, (1.0, scale), &[in_other]);
    conditions.add(&mut matrix, rows, own, (-1.0, scale), &[in_own]);
    let mut change = [0.0; MOST_UNKNOWNS];
    for (change, row) in change.iter_mut().zip(&matrix).take(count + 1) {
        *change = -row[count + 1];
    }
    if !solve_linear(&mut matrix, &mut change, count + 1) {
        return None;
    }
    let mut by_amount = [0.0; MOST_UNKNOWNS];
    conditions.add_pressure(&mut by_amount, &vapor, 1.0, &[in_vapor]);
    let along: f64 = by_amount[..=count]
        .iter()
        .zip(&change)
        .map(|(slope, change)| slope * change)
        .sum();
    let terms = &vapor.potential;
    let slope = terms.pressure_over_temperature + terms.pressure_by_log_temperature + along;
    slope.is_finite().then_some(slope)
}
