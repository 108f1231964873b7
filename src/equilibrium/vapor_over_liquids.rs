//! A vapor V over two liquids A and B.
//!
//! ```text
//! ln n_i + G_i / R_i   equal in V, A and B                                2 N conditions
//! p/T                  equal in V, A and B                                2
//! (1 - beta) ((1 - phi) x_i|A + phi x_i|B) + beta y_i = z_i               N - 1
//! ```
//!
//! and two of: T, p, the vapor's share q of the mass or a property e of all three together,
//!
//! ```text
//! F_q = q (1 - beta) Ml - (1 - q) beta Mv            Ml = (1 - phi) Ma + phi Mb
//! F_e = (1 - beta) ((1 - phi) e|A + phi e|B) + beta e|V - e
//! ```
//!
//! for the 3 N partial densities, phi, the moles of B a mole of liquid, beta, the moles of V a mole of
//! blend, and ln T. At a bubble point beta is 0, and one of T and p is known.

use super::Property;
use super::bubble_dew::PhasePair;
use super::conditions::{Columns, Conditions, Ideal, PhaseTerms, Rows};
use super::one_phase::{density_near_one, is_liquid, logarithms, rises_to};
use super::split::{Sought, Split, unit};
use super::stability::{Rival, is_unstable};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, shortening, solve_linear};

const MOST_UNKNOWNS: usize = 3 * MAX_COMPONENTS + 3;
const MOST_STEPS: usize = 60;
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
        let sought = Sought::TemperaturePressure(temperature, pressure);
        let newton = |near: &Self| near.settled(mixture, z, sought);
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

    /// Newton's method from these phases to what is sought, stable or not.
    pub(super) fn settled(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        sought: Sought,
    ) -> Option<Self> {
        let phases = self.phases.map(|(x, density)| amounts(&x, density));
        let known = Known::Two(sought, self.temperature);
        settle(mixture, z, known, (phases, self.share, self.vapor_fraction))
    }

    /// Phases of a temperature, K, and a pressure, Pa: the vapor, the liquids, and how much of each.
    pub(super) fn start(
        (temperature, pressure): (f64, f64),
        phases: [(MoleFractions, f64); 3],
        (vapor_fraction, share): (f64, f64),
    ) -> Self {
        Self {
            temperature,
            pressure,
            phases,
            vapor_fraction,
            share,
            steps: 0,
            residual: f64::INFINITY,
        }
    }

    /// Two phases and a rival of theirs, the first the one that is no liquid, or the thinnest: a start. The
    /// amounts are those at which, with its components' shares between the phases as they are, the blend
    /// has its lowest Gibbs energy (Michelsen, Comput. Chem. Eng. 18 (1994) 545):
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
        let place = (pair.temperature, pair.pressure);
        Self::start(place, phases, (0.0, 0.0)).filled(z, contents, parts)
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
        parts(self.vapor_fraction, self.share)
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
    pub(super) fn as_bubble_point(&self, z: &MoleFractions) -> PhasePair {
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

/// Moles of each phase a mole of blend.
fn parts(vapor_fraction: f64, share: f64) -> [f64; 3] {
    let liquid = 1.0 - vapor_fraction;
    [vapor_fraction, liquid * (1.0 - share), liquid * share]
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

/// The phases at what Newton's method holds.
struct Iterate<'a> {
    conditions: &'a Conditions<'a>,
    phases: &'a [PhaseTerms; 3],
    temperature: f64,
    beta: f64,
    share: f64,
}

type Row = [f64; MOST_UNKNOWNS];

impl Iterate<'_> {
    /// The rows of two properties sought, and what they lack.
    fn sought(&self, rows: &mut [Row], right: &mut [f64], sought: Sought) {
        let log_temperature = 3 * self.conditions.mixture.count() + 2;
        let mut rows = rows.iter_mut().zip(right);
        let mut fill = |with: &dyn Fn(&mut Row) -> f64| {
            if let Some((row, right)) = rows.next() {
                *right = with(row);
            }
        };
        if sought.temperature().is_some() {
            fill(&|row| {
                row[log_temperature] = 1.0;
                0.0
            });
        }
        if let Some(pressure) = sought.pressure() {
            fill(&|row| self.pressure(row, pressure, log_temperature));
        }
        if let Some(quality) = sought.quality() {
            fill(&|row| self.quality(row, quality));
        }
        let ideal = self.conditions.ideal(self.temperature);
        for property in sought.properties().into_iter().flatten() {
            fill(&|row| self.property(row, property, &ideal));
        }
    }

    fn pressure(&self, row: &mut Row, pressure: f64, log_temperature: usize) -> f64 {
        let given = (self.temperature, pressure);
        let columns = Columns::Each(0);
        self.conditions
            .given_pressure(row, &self.phases[0], given, columns, log_temperature)
    }

    /// The row of F_q, in units of the liquids' molar mass.
    fn quality(&self, row: &mut Row, quality: f64) -> f64 {
        let components = self.conditions.mixture.components();
        let count = components.len();
        let mass = |phase: &PhaseTerms| -> f64 {
            let parts = components.iter().zip(&phase.amounts);
            let sum: f64 = parts.map(|(c, n)| c.record.molar_mass_kg_mol * n).sum();
            sum / phase.total
        };
        let [v, a, b] = [0, 1, 2].map(|f| mass(&self.phases[f]));
        let liquid = (1.0 - self.share) * a + self.share * b;
        let factors = [quality - 1.0, quality, quality];
        for (f, (part, mass)) in parts(self.beta, self.share)
            .into_iter()
            .zip([v, a, b])
            .enumerate()
        {
            for (j, component) in components.iter().enumerate() {
                let x = self.phases[f].amounts[j] / self.phases[f].total;
                let own = component.record.molar_mass_kg_mol - mass;
                row[f * count + j] = factors[f] * part * x * own / liquid;
            }
        }
        row[3 * count] = quality * (1.0 - self.beta) * (b - a) / liquid;
        row[3 * count + 1] = (-quality * liquid - (1.0 - quality) * v) / liquid;
        ((1.0 - quality) * self.beta * v - quality * (1.0 - self.beta) * liquid) / liquid
    }

    /// The row of F_e, in units of R T, of R or of the volume asked for.
    fn property(&self, row: &mut Row, (property, value): (Property, f64), ideal: &Ideal) -> f64 {
        let count = self.conditions.mixture.count();
        let (scale, wanted) = match property {
            Property::Density => (1.0 / value, 1.0 / value),
            _ => (unit(self.conditions, property, self.temperature), value),
        };
        let of = |phase| {
            self.conditions
                .property(property, self.temperature, phase, ideal)
        };
        let [v, a, b] = [0, 1, 2].map(|f| of(&self.phases[f]));
        let liquid = (1.0 - self.share) * a.value + self.share * b.value;
        let mut missing = wanted;
        let mut by_temperature = 0.0;
        for (f, (part, own)) in parts(self.beta, self.share)
            .into_iter()
            .zip([&v, &a, &b])
            .enumerate()
        {
            for j in 0..count {
                row[f * count + j] = part * own.by_amount[j] / scale;
            }
            by_temperature += part * own.by_log_temperature;
            missing -= part * own.value;
        }
        row[3 * count] = (1.0 - self.beta) * (b.value - a.value) / scale;
        row[3 * count + 1] = (v.value - liquid) / scale;
        row[3 * count + 2] = by_temperature / scale;
        missing / scale
    }
}

/// What is known of three phases.
#[derive(Clone, Copy)]
pub(super) enum Known {
    /// Temperature, K, of a bubble point.
    Temperature(f64),
    /// Pressure, Pa, of a bubble point near a temperature in K.
    Pressure(f64, f64),
    /// Two properties of a blend near a temperature in K.
    Two(Sought, f64),
}

/// Newton's method for the three phases, from partial densities of vapor, A and B, the share of B and the
/// vapor fraction.
pub(super) fn settle(
    mixture: &Mixture,
    z: &MoleFractions,
    known: Known,
    (mut phases, mut share, beta): ([[f64; MAX_COMPONENTS]; 3], f64, f64),
) -> Option<ThreePhases> {
    let count = mixture.count();
    let (share_at, next) = (3 * count, 3 * count + 1);
    let (mut temperature, beta_at, log_temperature) = match known {
        Known::Temperature(temperature) => (temperature, None, None),
        Known::Pressure(_, near) => (near, None, Some(next)),
        Known::Two(sought, near) => {
            let temperature = sought.temperature().unwrap_or(near);
            (temperature, Some(next), Some(next + 1))
        }
    };
    let mut beta = beta_at.map_or(0.0, |_| beta);
    let unknowns = log_temperature.map_or(next, |last| last + 1);
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
        let moles = parts(beta, share);
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
            if let Some(column) = beta_at {
                matrix[row][column] = y - (1.0 - share) * a - share * b;
            }
        }
        let iterate = Iterate {
            conditions: &conditions,
            phases: &at,
            temperature,
            beta,
            share,
        };
        let (matrix_below, right_below) = (&mut matrix[next..], &mut right[next..]);
        match known {
            Known::Temperature(_) => {}
            Known::Pressure(pressure, _) => {
                right_below[0] = iterate.pressure(&mut matrix_below[0], pressure, next);
            }
            Known::Two(sought, _) => iterate.sought(matrix_below, right_below, sought),
        }
        if !solve_linear(&mut matrix, &mut right, unknowns) {
            return None;
        }
        let size = largest(&right[..unknowns]);
        if steps > FIRST_STEPS && size > TOO_LONG {
            return None;
        }
        let shrink = shortening(&right[..unknowns], |k| match log_temperature {
            Some(column) if column == k => 0.05,
            _ => 0.4,
        });
        if let Some(column) = log_temperature {
            temperature *= (shrink * right[column]).exp();
        }
        for (f, phase) in phases.iter_mut().enumerate() {
            for k in 0..count {
                phase[k] *= (shrink * right[f * count + k]).exp();
            }
        }
        share += shrink * right[share_at];
        if let Some(column) = beta_at {
            beta += shrink * right[column];
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

/// Partial densities, mol/m3, none of them 0.
pub(super) fn amounts(x: &MoleFractions, density: f64) -> [f64; MAX_COMPONENTS] {
    let mut amounts = [0.0; MAX_COMPONENTS];
    for (amount, x) in amounts.iter_mut().zip(x.iter()) {
        *amount = (x * density).max(1e-300);
    }
    amounts
}

/// Whether partial densities of two phases are the same, but for rounding.
fn are_one(a: &[f64; MAX_COMPONENTS], b: &[f64; MAX_COMPONENTS]) -> bool {
    let mut both = a.iter().zip(b).filter(|(a, _)| **a > 0.0);
    both.all(|(a, b)| (a / b - 1.0).abs() < ONE_PHASE)
}
