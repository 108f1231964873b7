//! Liquid and vapor in a rigid vessel: temperature, volume and amounts given.
//!
//! Unknown are ln n_i of both phases' partial densities and the liquid's share phi of the volume:
//!
//! ```text
//! F_i = ln n_i + G_i / R_i |vapor - (ln n_i + G_i / R_i) |liquid                i = 1 ... N
//! F_p = ((p/T)|vapor - (p/T)|liquid) / (rho_liquid R)
//! F_m = (phi n_i|liquid + (1 - phi) n_i|vapor) / c_i - 1                         i = 1 ... N
//! ```
//!
//! c_i the amount of a component in the vessel per volume. Where phi is given and the volume
//! sought, c_i = c z_i and ln c takes the place of phi. Newton's method with the analytic Hessian.
//! phi may come out below zero: then no liquid is left, and a search for where it vanishes can
//! bracket that point.

use super::bubble_dew::PhasePair;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, shortening, solve_linear};

const MOST_UNKNOWNS: usize = 2 * MAX_COMPONENTS + 1;
const MOST_STEPS: usize = 40;
/// What the last step may leave of the logarithms.
const LEFT: f64 = 1e-13;
/// A step whose square is no more than that.
const SHORT: f64 = 3e-7;

/// Two phases in a volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InVolume {
    /// The phases.
    pub pair: PhasePair,
    /// The liquid's share of the volume; below zero where it has vanished.
    pub liquid_volume: f64,
    /// Density of the whole, mol/m3.
    pub density: f64,
}

/// The phases of amounts per volume, mol/m3, from a start nearby; `None` unless Newton's method
/// settles on two phases.
pub fn of_amounts(mixture: &Mixture, amounts: &[f64], start: &InVolume) -> Option<InVolume> {
    let density = amounts.iter().sum();
    newton(mixture, amounts, None, &InVolume { density, ..*start })
}

/// The phases of a composition of which the liquid fills a share of the volume, from a bubble or
/// dew point of it.
pub fn filled(
    mixture: &Mixture,
    z: &MoleFractions,
    liquid_volume: f64,
    start: &PhasePair,
) -> Option<InVolume> {
    let density =
        liquid_volume * start.liquid_density + (1.0 - liquid_volume) * start.vapor_density;
    let start = InVolume {
        pair: *start,
        liquid_volume,
        density,
    };
    newton(mixture, z, Some(liquid_volume), &start)
}

// Long because one iteration fills one matrix: potentials, pressure, amounts and volume of both phases.
fn newton(
    mixture: &Mixture,
    amounts: &[f64],
    share: Option<f64>,
    start: &InVolume,
) -> Option<InVolume> {
    let count = mixture.count();
    let (unknowns, last) = (2 * count + 1, 2 * count);
    let components = mixture.components();
    let temperature = start.pair.temperature;
    let mut phi = start.liquid_volume;
    let mut density = start.density;
    let whole: f64 = amounts.iter().sum();
    let (mut vapor, mut liquid) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
    for k in 0..count {
        vapor[k] = start.pair.vapor[k].max(1e-300) * start.pair.vapor_density;
        liquid[k] = start.pair.liquid[k].max(1e-300) * start.pair.liquid_density;
        if amounts[k] <= 0.0 {
            (vapor[k], liquid[k]) = (0.0, 0.0);
        }
    }
    let mut previous = f64::INFINITY;
    for steps in 1..=MOST_STEPS {
        let a = mixture.potential(temperature, &liquid[..count]);
        let b = mixture.potential(temperature, &vapor[..count]);
        let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
        let mut right = [0.0; MOST_UNKNOWNS];
        let liquid_sum: f64 = liquid[..count].iter().sum();
        let scale = 1.0 / (liquid_sum * components[0].record.gas_constant_j_mol_k);
        right[count] = -(b.pressure_over_temperature - a.pressure_over_temperature) * scale;
        for i in 0..count {
            let r = components[i].record.gas_constant_j_mol_k;
            let (mut s, mut t) = (r, r);
            for j in 0..count {
                s += liquid[j] * a.hessian[j][i];
                t += vapor[j] * b.hessian[j][i];
            }
            matrix[count][i] = t * vapor[i] * scale;
            matrix[count][count + i] = -s * liquid[i] * scale;
            let balance = count + 1 + i;
            if amounts[i] <= 0.0 {
                // a component of no content plays no part
                matrix[i][i] = 1.0;
                matrix[balance][count + i] = 1.0;
                continue;
            }
            right[i] = -((vapor[i] / liquid[i]).ln() + (b.gradient[i] - a.gradient[i]) / r);
            for j in 0..count {
                matrix[i][j] = b.hessian[i][j] * vapor[j] / r;
                matrix[i][count + j] = -a.hessian[i][j] * liquid[j] / r;
            }
            matrix[i][i] += 1.0;
            matrix[i][count + i] -= 1.0;
            let held = amounts[i] / whole * density;
            right[balance] = 1.0 - (phi * liquid[i] + (1.0 - phi) * vapor[i]) / held;
            matrix[balance][i] = (1.0 - phi) * vapor[i] / held;
            matrix[balance][count + i] = phi * liquid[i] / held;
            matrix[balance][last] = match share {
                Some(_) => -(phi * liquid[i] + (1.0 - phi) * vapor[i]) / held,
                None => (liquid[i] - vapor[i]) / held,
            };
        }
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
        let shrink = shortening(&right[..unknowns], |_| 0.6);
        for k in 0..count {
            vapor[k] *= (shrink * right[k]).exp();
            liquid[k] *= (shrink * right[count + k]).exp();
        }
        match share {
            Some(_) => density *= (shrink * right[last]).exp(),
            None => phi += shrink * right[last],
        }
        if done {
            let liquid_density: f64 = liquid[..count].iter().sum();
            let vapor_density: f64 = vapor[..count].iter().sum();
            if liquid_density <= vapor_density * 1.001 || !phi.is_finite() {
                return None;
            }
            let vapor_x = MoleFractions::new(&vapor[..count]);
            let isotherm = mixture.at_composition(&vapor_x).isotherm(temperature);
            let pressure = isotherm.pressure(vapor_density);
            return (pressure > 0.0).then(|| InVolume {
                liquid_volume: phi,
                density,
                pair: PhasePair {
                    temperature,
                    pressure,
                    liquid: MoleFractions::new(&liquid[..count]),
                    vapor: vapor_x,
                    liquid_density,
                    vapor_density,
                    liquids: None,
                    steps,
                    residual: size,
                },
            });
        }
    }
    None
}
