//! A vapor V over two liquids A and B, and the bubble point of a blend whose liquid parts in two.
//!
//! Some published pairs part a hydrocarbon from a fluorocarbon at low temperature, and water parts
//! from most refrigerants.
//!
//! ```text
//! ln n_i + G_i / R_i   equal in V, A and B                                2 N conditions
//! p/T                  equal in V, A and B                                2
//! (1 - beta) ((1 - phi) x_i|A + phi x_i|B) + beta y_i = z_i               N - 1
//! ```
//!
//! for the 3 N partial densities, phi, the moles of B a mole of liquid, and beta, the moles of V a mole
//! of blend, where temperature and pressure are known. At a bubble point beta is 0, and one of both is
//! not known.

use super::bubble_dew::{Branch, PhasePair, cold_at_temperature};
use super::conditions::{Columns, Conditions, PhaseTerms, Rows};
use super::one_phase::{density_near_one, is_liquid, liquid_density, logarithms, rises_to};
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
/// Amount of a third phase from which the amounts of all are sought, the least of any, and how nearly.
const LITTLE: f64 = 0.1;
const LEAST: f64 = 1e-4;
const NEARLY: f64 = 1e-3;
/// Substitutions before each further attempt of Newton's method, and the longest step of a logarithm in one.
const SUBSTITUTIONS: [usize; 4] = [2, 6, 12, 24];
const LONGEST: f64 = 5.0;
/// A step of Newton's method that is too long to settle, after so many.
const TOO_LONG: f64 = 20.0;
const FIRST_STEPS: usize = 8;
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
        let start = (phases, liquids.vapor_fraction, 0.0);
        let found = settle(mixture, z, Known::Temperature(temperature), start)?;
        Some(found.as_bubble_point(z))
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
        let start = (phases, z[alone], 0.0);
        let found = settle(mixture, z, Known::Temperature(temperature), start)?;
        let found = found.as_bubble_point(z);
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
    let temperature = pair.temperature;
    let known = pressure.map_or(Known::Temperature(temperature), |pressure| {
        Known::Pressure(pressure, temperature)
    });
    let start = (phases, liquids.vapor_fraction, 0.0);
    let found = settle(mixture, z, known, start)?.as_bubble_point(z);
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

/// A vapor over two liquids.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreePhases {
    /// K.
    pub temperature: f64,
    /// Pa.
    pub pressure: f64,
    /// Mole fractions and density, mol/m3, of the vapor and of both liquids.
    pub phases: [(MoleFractions, f64); 3],
    /// Moles of vapor a mole of blend.
    pub vapor_fraction: f64,
    /// Moles of the second liquid a mole of both.
    pub share: f64,
    steps: usize,
    residual: f64,
}

impl ThreePhases {
    /// The blend at a temperature, K, and a pressure, Pa, from three phases near its own; `None` unless
    /// they settle as three and, where it `is_proof`, are stable.
    pub(super) fn of(
        mixture: &Mixture,
        z: &MoleFractions,
        (temperature, pressure): (f64, f64),
        near: &Self,
        is_proof: bool,
    ) -> Option<Self> {
        let newton = |near: &Self| {
            let phases = near.phases.map(|(x, density)| amounts(&x, density));
            let known = Known::Both(temperature, pressure);
            let start = (phases, near.share, near.vapor_fraction);
            settle(mixture, z, known, start)
        };
        let mut near = *near;
        (near.temperature, near.pressure) = (temperature, pressure);
        let mut found = newton(&near);
        for substitutions in SUBSTITUTIONS {
            if found.is_some() {
                break;
            }
            for _ in 0..substitutions {
                near = near.nearer(mixture, z)?;
            }
            found = newton(&near);
        }
        let found = found?;
        let (vapor, density) = &found.phases[0];
        let is_stable = !is_proof || !is_unstable(mixture, temperature, vapor, *density, pressure);
        is_stable.then_some(found)
    }

    /// Two phases and a rival of theirs, the first the one that is no liquid, or the thinnest: a start, the amounts those at
    /// which, with its components' shares between the phases as they are, the blend has its lowest Gibbs
    /// energy (Michelsen, Comput. Chem. Eng. 18 (1994) 545):
    ///
    /// ```text
    /// Q = sum_j beta_j - sum_i z_i ln E_i        E_i = sum_j beta_j w_ij
    /// ```
    ///
    /// of the mole fractions w_ij, those of the rival times exp of how far it lies below the others.
    pub(super) fn beside(
        mixture: &Mixture,
        z: &MoleFractions,
        split: &Split,
        rival: &Rival,
    ) -> Option<Self> {
        let pair = &split.pair;
        let liquid = (pair.liquid, pair.liquid_density);
        let (vapor, other) = ((pair.vapor, pair.vapor_density), (rival.x, rival.density));
        let is_gas =
            |phase: &(MoleFractions, f64)| !is_liquid(mixture, &phase.0, pair.temperature, phase.1);
        // of two that are no liquids the thinner is the vapor
        let is_vapor = match (is_gas(&vapor), is_gas(&other)) {
            (true, false) => true,
            (false, true) => false,
            _ => vapor.1 < other.1,
        };
        let second = split.vapor_fraction;
        let (phases, rivals_place, parts) = if is_vapor {
            ([vapor, liquid, other], 2, [second, 1.0 - second, LITTLE])
        } else {
            ([other, liquid, vapor], 0, [LITTLE, 1.0 - second, second])
        };
        let mut contents = phases.map(|(x, _)| amounts(&x, 1.0));
        for content in &mut contents[rivals_place][..z.len()] {
            *content *= rival.excess.exp();
        }
        let near = Self {
            temperature: pair.temperature,
            pressure: pair.pressure,
            phases,
            vapor_fraction: 0.0,
            share: 0.0,
            steps: 0,
            residual: f64::INFINITY,
        };
        near.filled(z, contents, parts)
    }

    /// The phases with the amounts and compositions of their contents' shares.
    fn filled(
        mut self,
        z: &MoleFractions,
        mut contents: [[f64; MAX_COMPONENTS]; 3],
        parts: [f64; 3],
    ) -> Option<Self> {
        let count = z.len();
        let [vapor, a, b] = least_energy(z, &contents, parts)?;
        for (k, z) in z.iter().enumerate() {
            let all = vapor * contents[0][k] + a * contents[1][k] + b * contents[2][k];
            for own in &mut contents {
                own[k] *= z / all.max(1e-300);
            }
        }
        for ((x, _), own) in self.phases.iter_mut().zip(&contents) {
            *x = MoleFractions::new(&own[..count]);
        }
        self.vapor_fraction = vapor / (vapor + a + b);
        self.share = b / (a + b);
        Some(self)
    }

    /// Moles of each phase a mole of blend.
    fn parts(&self) -> [f64; 3] {
        let liquid = 1.0 - self.vapor_fraction;
        [
            self.vapor_fraction,
            liquid * (1.0 - self.share),
            liquid * self.share,
        ]
    }

    /// Phases that are nearer to equilibrium: each component's shares are in proportion to its mole
    /// fractions over its fugacities.
    fn nearer(self, mixture: &Mixture, z: &MoleFractions) -> Option<Self> {
        let place = (self.temperature, self.pressure);
        let logs = self
            .phases
            .map(|(x, density)| logarithms(mixture, &x, self.temperature, density));
        let mut contents = self.phases.map(|(x, _)| amounts(&x, 1.0));
        for (own, logs_of_own) in contents.iter_mut().zip(&logs) {
            for (k, content) in own.iter_mut().enumerate().take(z.len()) {
                *content *= (logs[1][k] - logs_of_own[k]).clamp(-LONGEST, LONGEST).exp();
            }
        }
        let mut next = self.filled(z, contents, self.parts())?;
        if next.parts().into_iter().any(|part| part < 2.0 * LEAST) {
            return None;
        }
        for (x, density) in &mut next.phases {
            *density = density_near_one(mixture, x, place, *density)?;
        }
        Some(next)
    }

    /// Both liquids without the vapor.
    pub(super) fn liquids(&self) -> Split {
        let [_, (liquid, liquid_density), (vapor, vapor_density)] = self.phases;
        Split {
            vapor_fraction: self.share,
            pair: PhasePair {
                temperature: self.temperature,
                pressure: self.pressure,
                liquid,
                vapor,
                liquid_density,
                vapor_density,
                steps: self.steps,
                residual: self.residual,
            },
        }
    }

    /// The phase that there is least of: its mole fractions and density, mol/m3.
    pub(super) fn least(&self) -> (MoleFractions, f64) {
        let all = self.parts().into_iter().zip(self.phases);
        let least = all.reduce(|a, b| if b.0 < a.0 { b } else { a });
        least.map_or(self.phases[0], |(_, phase)| phase)
    }

    /// A bubble point: its liquid is both together.
    fn as_bubble_point(&self, z: &MoleFractions) -> PhasePair {
        let [(vapor, vapor_density), (_, a), (_, b)] = self.phases;
        PhasePair {
            temperature: self.temperature,
            pressure: self.pressure,
            liquid: *z,
            vapor,
            liquid_density: 1.0 / ((1.0 - self.share) / a + self.share / b),
            vapor_density,
            steps: self.steps,
            residual: self.residual,
        }
    }
}

/// Amounts of three phases at which Q of [`ThreePhases::beside`] is least, none of them below [`LEAST`],
/// by Newton's method.
fn least_energy(
    z: &MoleFractions,
    contents: &[[f64; MAX_COMPONENTS]; 3],
    mut amounts: [f64; 3],
) -> Option<[f64; 3]> {
    for _ in 0..MOST_STEPS {
        let mut hessian = [[0.0; 3]; 3];
        let mut right = [-1.0; 3];
        for (k, z) in z.iter().enumerate().filter(|(_, z)| **z > 0.0) {
            let all: f64 = (0..3).map(|f| amounts[f] * contents[f][k]).sum();
            let parts = [0, 1, 2].map(|f| contents[f][k] / all.max(1e-300));
            for f in 0..3 {
                right[f] += z * parts[f];
                for g in 0..3 {
                    hessian[f][g] += z * parts[f] * parts[g];
                }
            }
        }
        // a phase that is at its least and would be less stays there
        for f in 0..3 {
            if amounts[f] <= LEAST && right[f] < 0.0 {
                hessian[f] = [0.0; 3];
                for row in &mut hessian {
                    row[f] = 0.0;
                }
                (hessian[f][f], right[f]) = (1.0, 0.0);
            }
        }
        if !solve_linear(&mut hessian, &mut right, 3) {
            return None;
        }
        let mut moved = 0.0_f64;
        for (amount, step) in amounts.iter_mut().zip(right) {
            let next = (*amount + step)
                .clamp(0.3 * *amount, 3.0 * *amount)
                .max(LEAST);
            moved = moved.max((next - *amount).abs());
            *amount = next;
        }
        if moved < NEARLY {
            return Some(amounts);
        }
    }
    None
}

/// What is known of three phases.
#[derive(Clone, Copy)]
enum Known {
    /// Temperature, K, of a bubble point.
    Temperature(f64),
    /// Pressure, Pa, of a bubble point near a temperature in K.
    Pressure(f64, f64),
    /// Temperature, K, and pressure, Pa.
    Both(f64, f64),
}

/// Newton's method for the three phases, from partial densities of vapor, A and B, the share of B and the
/// vapor fraction.
fn settle(
    mixture: &Mixture,
    z: &MoleFractions,
    known: Known,
    (mut phases, mut share, beta): ([[f64; MAX_COMPONENTS]; 3], f64, f64),
) -> Option<ThreePhases> {
    let count = mixture.count();
    let (share_at, last) = (3 * count, 3 * count + 1);
    // the last unknown: ln T, the vapor fraction or none
    let (mut temperature, pressure) = match known {
        Known::Temperature(temperature) => (temperature, None),
        Known::Pressure(pressure, near) => (near, Some(pressure)),
        Known::Both(temperature, pressure) => (temperature, Some(pressure)),
    };
    let log_temperature = matches!(known, Known::Pressure(..)).then_some(last);
    let (mut beta, has_vapor) = match known {
        Known::Both(..) => (beta, true),
        _ => (0.0, false),
    };
    let unknowns = last + usize::from(pressure.is_some());
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
        // moles of each phase a mole of blend
        let moles = [beta, (1.0 - beta) * (1.0 - share), (1.0 - beta) * share];
        for i in 0..count - 1 {
            let row = 2 * count + 2 + i;
            right[row] = z[i];
            for f in 0..3 {
                let part = moles[f] * phases[f][i] / sums[f];
                right[row] -= part;
                for j in 0..count {
                    let own = if i == j { 1.0 } else { 0.0 };
                    matrix[row][f * count + j] = part * (own - phases[f][j] / sums[f]);
                }
            }
            let [y, a, b] = [0, 1, 2].map(|f| phases[f][i] / sums[f]);
            matrix[row][share_at] = (1.0 - beta) * (b - a);
            if has_vapor {
                matrix[row][last] = y - (1.0 - share) * a - share * b;
            }
        }
        if let Some(pressure) = pressure {
            let (row, given) = (&mut matrix[last], (temperature, pressure));
            right[last] = conditions.given_pressure(row, &at[0], given, Columns::Each(0), last);
            if has_vapor {
                row[last] = 0.0;
            }
        }
        if !solve_linear(&mut matrix, &mut right, unknowns) {
            return None;
        }
        let size = largest(&right[..unknowns]);
        if steps > FIRST_STEPS && size > TOO_LONG {
            return None;
        }
        let shrink = if size > 0.4 { 0.4 / size } else { 1.0 };
        if let Some(column) = log_temperature {
            temperature *= (shrink * right[column]).exp();
        }
        for (f, phase) in phases.iter_mut().enumerate() {
            for k in 0..count {
                phase[k] *= (shrink * right[f * count + k]).exp();
            }
        }
        share += shrink * right[share_at];
        if has_vapor {
            beta += shrink * right[last];
        }
        if size < 1e-9 {
            let is_part = |part: f64| (0.0..=1.0).contains(&part);
            if !is_part(share) || !is_part(beta) {
                return None;
            }
            // next to its critical point the vapor and a liquid may settle as one phase
            if are_one(&phases[0], &phases[1]) || are_one(&phases[0], &phases[2]) {
                return None;
            }
            let phases = phases.map(|phase| {
                let phase = &phase[..count];
                (MoleFractions::new(phase), phase.iter().sum::<f64>())
            });
            let (vapor, density) = &phases[0];
            let fixed = mixture.at_composition(vapor);
            let isotherm = fixed.isotherm(temperature);
            let pressure = isotherm.pressure(*density);
            // nor is a solution between the spinodals one of phases, at a pressure below zero least of all
            if pressure <= 0.0 || !rises_to(&isotherm, *density) {
                return None;
            }
            return Some(ThreePhases {
                temperature,
                pressure,
                phases,
                vapor_fraction: beta,
                share,
                steps,
                residual: size,
            });
        }
    }
    None
}
