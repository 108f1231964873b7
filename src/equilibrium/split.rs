//! A blend of overall composition z split into liquid and vapour.
//!
//! Unknown are ln n_i of both phases' partial densities, the vapour fraction beta and ln T:
//!
//! ```text
//! F_i = ln n_i + G_i / R_i |vapour - (ln n_i + G_i / R_i) |liquid              i = 1 ... N
//! F_p = ((p/T)|vapour - (p/T)|liquid) / (rho_liquid R)
//! F_m = (1 - beta) x_i + beta y_i - z_i                                        i = 1 ... N-1
//! ```
//!
//! and two of: T, p, the vapour's share of the mass. Newton's method with the analytic Hessian.

use super::bubble_dew::{self, PhasePair};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, shortening, solve_linear};

const MOST_UNKNOWNS: usize = 2 * MAX_COMPONENTS + 2;
const MOST_STEPS: usize = 40;

/// Two phases and how much of each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// The phases.
    pub pair: PhasePair,
    /// Moles of vapour a mole of blend.
    pub vapor_fraction: f64,
}

/// What a split is sought by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sought {
    /// Temperature, K, and pressure, Pa.
    TemperaturePressure(f64, f64),
    /// Temperature, K, and the vapour's share of the mass.
    TemperatureQuality(f64, f64),
    /// Pressure, Pa, and the vapour's share of the mass.
    PressureQuality(f64, f64),
}

/// A split between two others: phases and densities in proportion.
pub fn between(a: &Split, b: &Split, weight: f64) -> Split {
    Split {
        vapor_fraction: a.vapor_fraction + weight * (b.vapor_fraction - a.vapor_fraction),
        pair: bubble_dew::between(&a.pair, &b.pair, weight),
    }
}

/// Finds the split by Newton's method from `start`; `None` unless it settles on two phases.
pub fn split(mixture: &Mixture, z: &MoleFractions, sought: Sought, start: &Split) -> Option<Split> {
    let count = mixture.count();
    let unknowns = 2 * count + 2;
    let (beta_at, temperature_at) = (2 * count, 2 * count + 1);
    let components = mixture.components();
    let mut temperature = match sought {
        Sought::TemperaturePressure(t, _) | Sought::TemperatureQuality(t, _) => t,
        Sought::PressureQuality(..) => start.pair.temperature,
    };
    let mut beta = start.vapor_fraction;
    let (mut vapor, mut liquid) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
    for k in 0..count {
        vapor[k] = start.pair.vapor[k].max(1e-300) * start.pair.vapor_density;
        liquid[k] = start.pair.liquid[k].max(1e-300) * start.pair.liquid_density;
    }
    let mut previous = f64::INFINITY;
    for steps in 1..=MOST_STEPS {
        let a = mixture.potential(temperature, &liquid[..count]);
        let b = mixture.potential(temperature, &vapor[..count]);
        let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
        let mut right = [0.0; MOST_UNKNOWNS];
        let liquid_sum: f64 = liquid[..count].iter().sum();
        let vapor_sum: f64 = vapor[..count].iter().sum();
        let scale = 1.0 / (liquid_sum * components[0].record.gas_constant_j_mol_k);
        let mut vapor_slope = [0.0; MAX_COMPONENTS];
        for i in 0..count {
            let r = components[i].record.gas_constant_j_mol_k;
            right[i] = -((vapor[i] / liquid[i]).ln() + (b.gradient[i] - a.gradient[i]) / r);
            let (mut s, mut t) = (r, r);
            for j in 0..count {
                matrix[i][j] = b.hessian[i][j] * vapor[j] / r;
                matrix[i][count + j] = -a.hessian[i][j] * liquid[j] / r;
                s += liquid[j] * a.hessian[j][i];
                t += vapor[j] * b.hessian[j][i];
            }
            matrix[i][i] += 1.0;
            matrix[i][count + i] -= 1.0;
            matrix[i][temperature_at] =
                (b.gradient_by_log_temperature[i] - a.gradient_by_log_temperature[i]) / r;
            vapor_slope[i] = t * vapor[i];
            matrix[count][i] = t * vapor[i] * scale;
            matrix[count][count + i] = -s * liquid[i] * scale;
        }
        right[count] = -(b.pressure_over_temperature - a.pressure_over_temperature) * scale;
        matrix[count][temperature_at] =
            (b.pressure_by_log_temperature - a.pressure_by_log_temperature) * scale;
        for i in 0..count - 1 {
            let row = count + 1 + i;
            let (x, y) = (liquid[i] / liquid_sum, vapor[i] / vapor_sum);
            right[row] = z[i] - (1.0 - beta) * x - beta * y;
            for j in 0..count {
                let own = if i == j { 1.0 } else { 0.0 };
                matrix[row][j] = beta * y * (own - vapor[j] / vapor_sum);
                matrix[row][count + j] = (1.0 - beta) * x * (own - liquid[j] / liquid_sum);
            }
            matrix[row][beta_at] = y - x;
        }
        let (first, second) = (2 * count, 2 * count + 1);
        if let Sought::TemperaturePressure(..) | Sought::TemperatureQuality(..) = sought {
            matrix[first][temperature_at] = 1.0;
        }
        if let Sought::TemperaturePressure(_, pressure) | Sought::PressureQuality(pressure, _) =
            sought
        {
            let row = if matches!(sought, Sought::PressureQuality(..)) {
                first
            } else {
                second
            };
            right[row] = 1.0 - b.pressure_over_temperature * temperature / pressure;
            for j in 0..count {
                matrix[row][j] = temperature * vapor_slope[j] / pressure;
            }
            matrix[row][temperature_at] = temperature
                * (b.pressure_over_temperature + b.pressure_by_log_temperature)
                / pressure;
        }
        if let Sought::TemperatureQuality(_, quality) | Sought::PressureQuality(_, quality) = sought
        {
            // (1 - q) beta Mv = q (1 - beta) Ml
            let mass = |n: &[f64; MAX_COMPONENTS], sum: f64| -> f64 {
                components
                    .iter()
                    .zip(n)
                    .map(|(c, n)| c.record.molar_mass_kg_mol * n)
                    .sum::<f64>()
                    / sum
            };
            let (mv, ml) = (mass(&vapor, vapor_sum), mass(&liquid, liquid_sum));
            right[second] = (quality * (1.0 - beta) * ml - (1.0 - quality) * beta * mv) / ml;
            matrix[second][beta_at] = ((1.0 - quality) * mv + quality * ml) / ml;
            for j in 0..count {
                let m = components[j].record.molar_mass_kg_mol;
                matrix[second][j] = (1.0 - quality) * beta * vapor[j] / vapor_sum * (m - mv) / ml;
                matrix[second][count + j] =
                    -quality * (1.0 - beta) * liquid[j] / liquid_sum * (m - ml) / ml;
            }
        }
        if !solve_linear(&mut matrix, &mut right, unknowns) {
            return None;
        }
        let size = largest(&right[..unknowns]);
        let done = size < 1e-9 || (size < 1e-6 && size > 0.5 * previous);
        previous = size;
        let shrink = shortening(&right[..unknowns], |k| {
            if k == temperature_at {
                0.05
            } else if k == beta_at {
                0.4
            } else {
                0.6
            }
        });
        for k in 0..count {
            vapor[k] *= (shrink * right[k]).exp();
            liquid[k] *= (shrink * right[count + k]).exp();
        }
        beta += shrink * right[beta_at];
        temperature *= (shrink * right[temperature_at]).exp();
        if done {
            let liquid_sum: f64 = liquid[..count].iter().sum();
            let vapor_sum: f64 = vapor[..count].iter().sum();
            if liquid_sum <= vapor_sum * 1.001 || !(-1e-9..=1.0 + 1e-9).contains(&beta) {
                return None;
            }
            let vapor_x = MoleFractions::new(&vapor[..count]);
            let isotherm = mixture.at_composition(&vapor_x).isotherm(temperature);
            let pressure = isotherm.pressure(vapor_sum);
            if pressure.is_nan() || pressure <= 0.0 {
                return None;
            }
            return Some(Split {
                vapor_fraction: beta.clamp(0.0, 1.0),
                pair: PhasePair {
                    temperature,
                    pressure,
                    liquid: MoleFractions::new(&liquid[..count]),
                    vapor: vapor_x,
                    liquid_density: liquid_sum,
                    vapor_density: vapor_sum,
                    steps,
                    residual: size,
                },
            });
        }
    }
    None
}
