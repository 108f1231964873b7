//! The bubble point of a blend whose liquid splits in two: vapour over two liquids.
//!
//! Some published pairs part a hydrocarbon from a fluorocarbon at low temperature. The first
//! vapour then stands over two liquids A and B, of which the blend consists:
//!
//! ```text
//! ln n_i + G_i / R_i   equal in V, A and B           2 N conditions
//! p/T                  equal in V, A and B           2
//! (1 - phi) x_i|A + phi x_i|B = z_i                  N - 1
//! ```
//!
//! for the 3 N partial densities and phi, the moles of B a mole of liquid; at a pressure for the
//! temperature too.

use super::bubble_dew::{Branch, PhasePair, cold_at_temperature};
use super::conditions::{Columns, Conditions, PhaseTerms, Rows};
use super::one_phase::{liquid_density, rises_to};
use super::split::{Sought, Split, split};
use super::stability::{Rival, is_unstable};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, solve_linear};

const MOST_UNKNOWNS: usize = 3 * MAX_COMPONENTS + 2;
const MOST_STEPS: usize = 60;
/// Difference in pressure, in units of rho R T, beyond rounding.
const PARTED: f64 = 1e-7;
/// Shares of the more stable liquid with which the split in two is tried, as parts of the one that
/// leaves nothing of a component: of ammonia beside butane, each liquid holds next to nothing of
/// what the other consists of.
const PARTS: [f64; 10] = [0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.95, 0.99];

/// Relative difference of partial densities below which two phases are one.
const ONE_PHASE: f64 = 1e-5;
/// Share of a component in a liquid that it hardly dissolves in, where Newton's method starts.
const TRACE: f64 = 1e-5;

/// The bubble point over two liquids, from the bubble point over one and the liquid that is more
/// stable than it. The pair's liquid is both together: their common composition and density.
pub fn bubble_over_two_liquids(
    mixture: &Mixture,
    z: &MoleFractions,
    single: &PhasePair,
    rival: &Rival,
) -> Option<PhasePair> {
    let count = mixture.count();
    let temperature = single.temperature;
    // the two liquids at the pressure of the bubble point over one: the more stable one beside
    // what some share of it leaves of the blend, or beside the blend itself where it is little
    let left = z.iter().zip(rival.x.iter()).map(|(z, x)| z / x);
    let most = left.fold(1.0, f64::min);
    let starts = PARTS
        .into_iter()
        .map(|part| part * most)
        .flat_map(|share| [(share, 0.0), (share, share)]);
    starts.into_iter().find_map(|(share, taken)| {
        let mut rest = [0.0; MAX_COMPONENTS];
        for (rest, (z, x)) in rest.iter_mut().zip(z.iter().zip(rival.x.iter())) {
            *rest = (z - taken * x) / (1.0 - taken);
        }
        if rest[..count].iter().any(|&rest| rest <= 0.0) {
            return None;
        }
        let rest = MoleFractions::new(&rest[..count]);
        // volumes add
        let volume = 1.0 / single.liquid_density - taken / rival.density;
        let density = (1.0 - taken) / volume;
        if density.is_nan() || density <= 0.0 {
            return None;
        }
        let dense_rest = density > rival.density;
        let pair = PhasePair {
            liquid: if dense_rest { rest } else { rival.x },
            vapor: if dense_rest { rival.x } else { rest },
            liquid_density: density.max(rival.density),
            vapor_density: density.min(rival.density),
            ..*single
        };
        let start = Split {
            pair,
            vapor_fraction: if dense_rest || taken == 0.0 {
                share
            } else {
                1.0 - share
            },
        };
        let sought = Sought::TemperaturePressure(temperature, single.pressure);
        let liquids = split(mixture, z, sought, &start)?;
        let phases = [
            amounts(&single.vapor, single.vapor_density),
            amounts(&liquids.pair.liquid, liquids.pair.liquid_density),
            amounts(&liquids.pair.vapor, liquids.pair.vapor_density),
        ];
        settle(
            mixture,
            z,
            (temperature, None),
            (phases, liquids.vapor_fraction),
        )
    })
}

/// The bubble point over two liquids of which one is next to nothing but one component, such as water
/// beside a hydrocarbon: there the blend as one liquid has none that leads to it. The other liquid
/// and the vapor start as a bubble point without that component, which adds its own vapor pressure.
pub fn bubble_beside_one(
    mixture: &Mixture,
    z: &MoleFractions,
    temperature: f64,
) -> Option<PhasePair> {
    let count = mixture.count();
    let components = mixture.components().iter().enumerate();
    let parts =
        components.filter(|(k, one)| z[*k] > TRACE && temperature < one.critical.temperature);
    parts.into_iter().find_map(|(alone, component)| {
        let mut rest = [0.0; MAX_COMPONENTS];
        let mut nearly_alone = [TRACE; MAX_COMPONENTS];
        rest[..count].copy_from_slice(&z[..count]);
        rest[alone] = TRACE * (1.0 - z[alone]);
        nearly_alone[alone] = 1.0;
        let nearly_alone = MoleFractions::new(&nearly_alone[..count]);
        let rest = MoleFractions::new(&rest[..count]);
        let single = cold_at_temperature(mixture, &rest, Branch::Bubble, temperature)?;
        let mut vapor = amounts(&single.vapor, single.vapor_density);
        let own = component.ancillary.extended_pressure(temperature);
        vapor[alone] = own / (component.record.gas_constant_j_mol_k * temperature);
        let phases = [
            vapor,
            amounts(&rest, single.liquid_density),
            amounts(
                &nearly_alone,
                liquid_density(mixture, &nearly_alone, temperature),
            ),
        ];
        let found = settle(mixture, z, (temperature, None), (phases, z[alone]))?;
        let (rho, p) = (found.vapor_density, found.pressure);
        (!is_unstable(mixture, temperature, &found.vapor, rho, p)).then_some(found)
    })
}

/// The bubble point over two liquids from these beside each other at a pressure above it and a gas of
/// a composition and density in mol/m3 that there is below it, at their temperature or at a pressure in
/// Pa; `None` unless it is stable.
pub(super) fn over_two_liquids(
    mixture: &Mixture,
    z: &MoleFractions,
    pressure: Option<f64>,
    liquids: &Split,
    (vapor, vapor_density): (&MoleFractions, f64),
) -> Option<PhasePair> {
    let pair = &liquids.pair;
    let phases = [
        amounts(vapor, vapor_density),
        amounts(&pair.liquid, pair.liquid_density),
        amounts(&pair.vapor, pair.vapor_density),
    ];
    let known = (pair.temperature, pressure);
    let found = settle(mixture, z, known, (phases, liquids.vapor_fraction))?;
    let (rho, p) = (found.vapor_density, found.pressure);
    (!is_unstable(mixture, found.temperature, &found.vapor, rho, p)).then_some(found)
}

/// Partial densities, mol/m3, none of them 0.
fn amounts(x: &MoleFractions, density: f64) -> [f64; MAX_COMPONENTS] {
    let mut amounts = [0.0; MAX_COMPONENTS];
    for (amount, x) in amounts.iter_mut().zip(x.iter()) {
        *amount = (x * density).max(1e-300);
    }
    amounts
}

/// Whether the liquid of a bubble point is two parted liquids together: their common density is
/// not that of one liquid at the pair's pressure.
pub fn liquid_is_parted(mixture: &Mixture, pair: &PhasePair) -> bool {
    let fixed = mixture.at_composition(&pair.liquid);
    let (temperature, density) = (pair.temperature, pair.liquid_density);
    let error = fixed.isotherm(temperature).pressure(density) - pair.pressure;
    error.abs() > PARTED * density * fixed.gas_constant * temperature
}

/// Whether partial densities of two phases are the same, but for rounding.
fn are_one(a: &[f64; MAX_COMPONENTS], b: &[f64; MAX_COMPONENTS]) -> bool {
    let mut both = a.iter().zip(b).filter(|(a, _)| **a > 0.0);
    both.all(|(a, b)| (a / b - 1.0).abs() < ONE_PHASE)
}

/// Newton's method for the three phases, from partial densities of vapor, A and B and the share of B, at a
/// temperature in K or near it at a pressure in Pa.
fn settle(
    mixture: &Mixture,
    z: &MoleFractions,
    (mut temperature, pressure): (f64, Option<f64>),
    (mut phases, mut share): ([[f64; MAX_COMPONENTS]; 3], f64),
) -> Option<PhasePair> {
    let count = mixture.count();
    let log_temperature = pressure.map(|_| 3 * count + 1);
    let unknowns = 3 * count + 1 + usize::from(pressure.is_some());
    let conditions = Conditions::of(mixture);
    for steps in 1..=MOST_STEPS {
        let at: [PhaseTerms; 3] =
            std::array::from_fn(|f| conditions.phase(temperature, &phases[f]));
        let sums = [at[0].total, at[1].total, at[2].total];
        let scale = conditions.pressure_scale(sums[1]);
        let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
        let mut right = [0.0; MOST_UNKNOWNS];
        // phase 1 (liquid A) against 0 (vapor) and 2 (liquid B)
        for (block, phase) in [(0, 0), (1, 2)] {
            let rows = Rows {
                first: block * count,
                pressure: 2 * count + block,
                log_temperature,
            };
            let columns = |f: usize| [Columns::Each(f * count)];
            conditions.add(&mut matrix, rows, &at[phase], (1.0, scale), &columns(phase));
            conditions.add(&mut matrix, rows, &at[1], (-1.0, scale), &columns(1));
            for i in 0..count {
                right[rows.first + i] = -conditions.difference(i, &at[1], &at[phase]);
            }
            let over = |f: usize| at[f].potential.pressure_over_temperature;
            right[rows.pressure] = -(over(phase) - over(1)) / scale;
        }
        for i in 0..count - 1 {
            let row = 2 * count + 2 + i;
            let (a, b) = (phases[1][i] / sums[1], phases[2][i] / sums[2]);
            right[row] = z[i] - (1.0 - share) * a - share * b;
            for j in 0..count {
                let own = if i == j { 1.0 } else { 0.0 };
                matrix[row][count + j] = (1.0 - share) * a * (own - phases[1][j] / sums[1]);
                matrix[row][2 * count + j] = share * b * (own - phases[2][j] / sums[2]);
            }
            matrix[row][3 * count] = b - a;
        }
        if let (Some(pressure), Some(column)) = (pressure, log_temperature) {
            let (row, given) = (&mut matrix[column], (temperature, pressure));
            right[column] = conditions.given_pressure(row, &at[0], given, Columns::Each(0), column);
        }
        if !solve_linear(&mut matrix, &mut right, unknowns) {
            return None;
        }
        let size = largest(&right[..unknowns]);
        let shrink = if size > 0.4 { 0.4 / size } else { 1.0 };
        if let Some(column) = log_temperature {
            temperature *= (shrink * right[column]).exp();
        }
        for (f, phase) in phases.iter_mut().enumerate() {
            for k in 0..count {
                phase[k] *= (shrink * right[f * count + k]).exp();
            }
        }
        share += shrink * right[3 * count];
        if size < 1e-9 {
            if !(0.0..=1.0).contains(&share) {
                return None;
            }
            let sums: [f64; 3] = std::array::from_fn(|f| phases[f][..count].iter().sum());
            // next to its critical point the vapor and a liquid may settle as one phase
            if are_one(&phases[0], &phases[1]) || are_one(&phases[0], &phases[2]) {
                return None;
            }
            let vapor = MoleFractions::new(&phases[0][..count]);
            let fixed = mixture.at_composition(&vapor);
            let isotherm = fixed.isotherm(temperature);
            let pressure = isotherm.pressure(sums[0]);
            // nor is a solution between the spinodals one of phases, at a pressure below zero least of all
            if pressure <= 0.0 || !rises_to(&isotherm, sums[0]) {
                return None;
            }
            return Some(PhasePair {
                temperature,
                pressure,
                liquid: *z,
                vapor,
                liquid_density: 1.0 / ((1.0 - share) / sums[1] + share / sums[2]),
                vapor_density: sums[0],
                steps,
                residual: size,
            });
        }
    }
    None
}
