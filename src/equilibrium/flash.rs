//! The phases at a temperature and pressure from stability alone: where no lines are known.
//!
//! The blend as one phase is tested; where it is unstable, its rival starts a split, brought
//! nearer by substitution of the ratios K_i = y_i / x_i (Rachford & Rice, J. Pet. Technol. 4
//! (1952) 19) and settled by Newton's method.

use super::bubble_dew::PhasePair;
use super::one_phase::{compressed, is_liquid, logarithms, one_phase, thin};
use super::split::{Sought, Split, split};
use super::stability::{Rival, is_unstable, rivals};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::state::density_near;

/// Substitutions between two attempts of Newton's method.
const SUBSTITUTIONS: usize = 12;
/// Attempts of Newton's method.
const ATTEMPTS: usize = 10;

/// What there is at a temperature and pressure.
#[derive(Debug, Clone, Copy)]
pub enum Found {
    /// One phase of a density, mol/m3.
    One(f64),
    /// Two phases, one of them a vapour.
    Two(Split),
    /// Two liquids and no vapour; the blend as one liquid has a density, mol/m3.
    TwoLiquids(f64),
    /// The blend as one phase of a density, mol/m3, is unstable, and no split was found.
    Unstable(f64, Rival),
}

/// The stable phases of composition `z` at a temperature in K and a pressure in Pa; `None` where
/// the equation has no density.
pub fn phases(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
    pressure: f64,
) -> Option<Found> {
    let density = one_phase(mixture, z, temperature, pressure)?;
    let mut rivals = rivals(mixture, temperature, z, density, pressure);
    // the most stable first, each once
    rivals.sort_by(|a, b| b.excess.total_cmp(&a.excess));
    rivals.dedup_by(|a, b| (a.density / b.density - 1.0).abs() < 1e-6);
    let Some(&worst) = rivals.first() else {
        return Some(Found::One(density));
    };
    let all_liquid = rivals
        .iter()
        .all(|rival| is_liquid(mixture, &rival.x, temperature, rival.density));
    let mut best: Option<Split> = None;
    let mut liquids = false;
    for rival in &rivals {
        let Some(found) = from_rival(mixture, z, (temperature, pressure), density, rival) else {
            continue;
        };
        let found = gas_as_vapor(mixture, found);
        let PhasePair {
            vapor,
            vapor_density,
            ..
        } = &found.pair;
        let stable = !is_unstable(mixture, temperature, vapor, *vapor_density, pressure);
        let both_liquid = is_liquid(mixture, vapor, temperature, *vapor_density);
        if stable && both_liquid {
            return Some(Found::TwoLiquids(density));
        }
        if stable {
            return Some(Found::Two(found));
        }
        liquids |= both_liquid;
        if !both_liquid {
            best = best.or(Some(found));
        }
    }
    Some(match best {
        Some(found) => Found::Two(found),
        // no split settled, but liquids alone prove the liquid unstable
        None if liquids || (is_liquid(mixture, z, temperature, density) && all_liquid) => {
            Found::TwoLiquids(density)
        }
        None => Found::Unstable(density, worst),
    })
}

/// A split whose vapor is the gas, where the gas has more moles a volume than the liquid: hydrogen
/// under pressure beside a liquid of large molecules.
fn gas_as_vapor(mixture: &Mixture, found: Split) -> Split {
    let pair = &found.pair;
    let is_liquid = |x, density| is_liquid(mixture, x, pair.temperature, density);
    let swapped =
        is_liquid(&pair.vapor, pair.vapor_density) && !is_liquid(&pair.liquid, pair.liquid_density);
    if !swapped {
        return found;
    }
    Split {
        vapor_fraction: 1.0 - found.vapor_fraction,
        pair: PhasePair {
            liquid: pair.vapor,
            vapor: pair.liquid,
            liquid_density: pair.vapor_density,
            vapor_density: pair.liquid_density,
            ..*pair
        },
    }
}

/// The split that a rival of the blend leads to.
pub fn from_rival(
    mixture: &Mixture,
    z: &MoleFractions,
    (temperature, pressure): (f64, f64),
    density: f64,
    rival: &Rival,
) -> Option<Split> {
    let count = mixture.count();
    let thinner = rival.density < density;
    let mut ratios = [0.0; MAX_COMPONENTS];
    for k in 0..count {
        let ratio = (rival.x[k].max(1e-300) / z[k].max(1e-300)).ln();
        ratios[k] = if thinner { ratio } else { -ratio };
    }
    let mut densities = if thinner {
        [density, rival.density]
    } else {
        [rival.density, density]
    };
    let sought = Sought::TemperaturePressure(temperature, pressure);
    for _ in 0..ATTEMPTS {
        let mut start = None;
        for _ in 0..SUBSTITUTIONS {
            let (beta, liquid, vapor) = rachford_rice(z, &ratios)?;
            let root = |x: &MoleFractions, near: f64, dense: bool| {
                let fixed = mixture.at_composition(x);
                let isotherm = fixed.isotherm(temperature);
                density_near(&isotherm, pressure, near).or_else(|| {
                    if dense {
                        compressed(mixture, x, &isotherm, temperature, pressure)
                    } else {
                        thin(&isotherm, fixed.reducing_density, pressure)
                    }
                })
            };
            densities = [
                root(&liquid, densities[0], true)?,
                root(&vapor, densities[1], false)?,
            ];
            let of_liquid = logarithms(mixture, &liquid, temperature, densities[0]);
            let of_vapor = logarithms(mixture, &vapor, temperature, densities[1]);
            for k in 0..count {
                ratios[k] += of_liquid[k] - of_vapor[k];
            }
            start = Some(Split {
                vapor_fraction: beta,
                pair: PhasePair {
                    temperature,
                    pressure,
                    liquid,
                    vapor,
                    liquid_density: densities[0],
                    vapor_density: densities[1],
                    steps: 0,
                    residual: f64::INFINITY,
                },
            });
        }
        if let Some(found) = split(mixture, z, sought, &start?) {
            return Some(found);
        }
    }
    None
}

/// The vapour fraction and both compositions of ratios ln K_i; the fraction is kept within the
/// split.
fn rachford_rice(
    z: &MoleFractions,
    logs: &[f64; MAX_COMPONENTS],
) -> Option<(f64, MoleFractions, MoleFractions)> {
    let count = z.len();
    let ratio = |k: usize| logs[k].clamp(-60.0, 60.0).exp();
    let sum = |beta: f64| -> f64 {
        (0..count)
            .map(|k| z[k] * (ratio(k) - 1.0) / (1.0 + beta * (ratio(k) - 1.0)))
            .sum()
    };
    let (mut low, mut high) = (0.0, 1.0);
    let beta = if sum(0.0) <= 0.0 {
        1e-3
    } else if sum(1.0) >= 0.0 {
        1.0 - 1e-3
    } else {
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if sum(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    };
    let (mut x, mut y) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
    for k in 0..count {
        x[k] = z[k] / (1.0 + beta * (ratio(k) - 1.0));
        y[k] = x[k] * ratio(k);
    }
    let finite = x.iter().chain(&y).all(|value| value.is_finite());
    finite.then(|| {
        (
            beta,
            MoleFractions::new(&x[..count]),
            MoleFractions::new(&y[..count]),
        )
    })
}
