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
//! blend, and ln T. At a bubble point beta is 0, and one of T and p is known; along the line of such points
//! these conditions stay met, and p changes with ln T.

use super::Property;
use super::conditions::{Columns, Conditions, Ideal, PhaseTerms, Rows};
use super::one_phase::rises_to;
use super::split::{Fixed, Sought, unit};
use super::three_phases::{ThreePhases, amounts, parts};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, shortening, solve_linear};

const MOST_UNKNOWNS: usize = 3 * MAX_COMPONENTS + 3;
const MOST_STEPS: usize = 60;
/// Relative difference of partial densities below which two phases are one.
const ONE_PHASE: f64 = 1e-5;
/// A step of Newton's method that is too long to settle, after so many.
const TOO_LONG: f64 = 20.0;
const FIRST_STEPS: usize = 8;

/// What is known of three phases.
#[derive(Clone, Copy)]
pub(super) enum Known {
    /// That they are a bubble point, and its temperature or pressure.
    BubblePoint(Fixed),
    /// Two properties of the blend.
    Two(Sought),
}

/// Where the unknowns behind the 3 N partial densities stand.
struct Places {
    share: usize,
    beta: Option<usize>,
    log_temperature: Option<usize>,
    all: usize,
}

impl Known {
    fn places(self, count: usize) -> Places {
        let share = 3 * count;
        let (beta, log_temperature) = match self {
            Known::BubblePoint(Fixed::Temperature(_)) => (None, None),
            Known::BubblePoint(Fixed::Pressure(_)) => (None, Some(share + 1)),
            Known::Two(_) => (Some(share + 1), Some(share + 2)),
        };
        Places {
            share,
            beta,
            log_temperature,
            all: log_temperature.map_or(share, |last| last) + 1,
        }
    }

    fn temperature(self) -> Option<f64> {
        match self {
            Known::BubblePoint(Fixed::Temperature(temperature)) => Some(temperature),
            Known::BubblePoint(Fixed::Pressure(_)) => None,
            Known::Two(sought) => sought.temperature(),
        }
    }
}

/// Newton's method for three phases from some near them.
pub(super) fn settle(
    mixture: &Mixture,
    z: &MoleFractions,
    known: Known,
    near: &ThreePhases,
) -> Option<ThreePhases> {
    let count = mixture.count();
    let places = known.places(count);
    let mut phases = near.phases.map(|(x, density)| amounts(&x, density));
    let mut temperature = known.temperature().unwrap_or(near.temperature);
    let mut beta = places.beta.map_or(0.0, |_| near.vapor_fraction);
    let mut share = near.share;
    let conditions = Conditions::of(mixture);
    for steps in 1..=MOST_STEPS {
        let at = phases.map(|amounts| conditions.phase(temperature, &amounts));
        let iterate = Iterate {
            conditions: &conditions,
            z,
            phases: &at,
            temperature,
            beta,
            share,
        };
        let (mut matrix, mut right) = iterate.equations(known, &places);
        if !solve_linear(&mut matrix, &mut right, places.all) {
            return None;
        }
        let size = largest(&right[..places.all]);
        if steps > FIRST_STEPS && size > TOO_LONG {
            return None;
        }
        let shrink = shortening(&right[..places.all], |k| match places.log_temperature {
            Some(column) if column == k => 0.05,
            _ => 0.4,
        });
        if let Some(column) = places.log_temperature {
            temperature *= (shrink * right[column]).exp();
        }
        for (f, phase) in phases.iter_mut().enumerate() {
            for k in 0..count {
                phase[k] *= (shrink * right[f * count + k]).exp();
            }
        }
        share += shrink * right[places.share];
        if let Some(column) = places.beta {
            beta += shrink * right[column];
        }
        if size < 1e-9 {
            let is_part = |part: f64| (0.0..=1.0).contains(&part);
            if !is_part(share) || !is_part(beta) {
                return None;
            }
            // next to a critical point, or where there is no third phase, two may settle as one
            let [vapor, a, b] = &phases;
            if are_one(vapor, a) || are_one(vapor, b) || are_one(a, b) {
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

/// dp/dT, Pa/K, along the bubble line over two liquids at one of its points; `None` where it has no slope,
/// and where the blend holds a component of no content.
pub(super) fn slope(mixture: &Mixture, z: &MoleFractions, at: &ThreePhases) -> Option<f64> {
    if z.iter().any(|&z| z <= 0.0) {
        return None;
    }
    let conditions = Conditions::of(mixture);
    let terms = at
        .phases
        .map(|(x, density)| conditions.phase(at.temperature, &amounts(&x, density)));
    let iterate = Iterate {
        conditions: &conditions,
        z,
        phases: &terms,
        temperature: at.temperature,
        beta: 0.0,
        share: at.share,
    };
    let known = Known::BubblePoint(Fixed::Pressure(at.pressure));
    let places = known.places(mixture.count());
    let (mut matrix, _) = iterate.equations(known, &places);
    // all conditions stay met but the last, of the pressure, which changes by a part of it
    let mut change = [0.0; MOST_UNKNOWNS];
    change[places.all - 1] = 1.0;
    if !solve_linear(&mut matrix, &mut change, places.all) {
        return None;
    }
    let slope = at.pressure / (at.temperature * change[places.log_temperature?]);
    slope.is_finite().then_some(slope)
}

/// The phases at what Newton's method holds.
struct Iterate<'a> {
    conditions: &'a Conditions<'a>,
    z: &'a MoleFractions,
    phases: &'a [PhaseTerms; 3],
    temperature: f64,
    beta: f64,
    share: f64,
}

type Row = [f64; MOST_UNKNOWNS];

impl Iterate<'_> {
    /// The slopes of all conditions, and what each lacks.
    fn equations(&self, known: Known, places: &Places) -> ([Row; MOST_UNKNOWNS], Row) {
        let (conditions, at) = (self.conditions, self.phases);
        let count = self.z.len();
        let scale = conditions.pressure_scale(at[1].total);
        let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
        let mut right = [0.0; MOST_UNKNOWNS];
        // phase 1 (liquid A) against 0 (vapor) and 2 (liquid B)
        for (block, phase) in [(0, 0), (1, 2)] {
            let rows = Rows {
                first: block * count,
                pressure: 2 * count + block,
                log_temperature: places.log_temperature,
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
        let moles = parts(self.beta, self.share);
        let x = |f: usize, i: usize| at[f].amounts[i] / at[f].total;
        for i in 0..count - 1 {
            let row = 2 * count + 2 + i;
            right[row] = self.z[i];
            for (f, moles) in moles.into_iter().enumerate() {
                let part = moles * x(f, i);
                right[row] -= part;
                for j in 0..count {
                    let own = if i == j { 1.0 } else { 0.0 };
                    matrix[row][f * count + j] = part * (own - x(f, j));
                }
            }
            let [y, a, b] = [0, 1, 2].map(|f| x(f, i));
            matrix[row][places.share] = (1.0 - self.beta) * (b - a);
            if let Some(column) = places.beta {
                matrix[row][column] = y - (1.0 - self.share) * a - self.share * b;
            }
        }
        let next = places.share + 1;
        match (known, places.log_temperature) {
            (Known::BubblePoint(Fixed::Pressure(pressure)), Some(column)) => {
                right[next] = self.pressure(&mut matrix[next], pressure, column);
            }
            (Known::Two(sought), Some(column)) => {
                self.sought(&mut matrix[next..], &mut right[next..], (sought, column));
            }
            _ => {}
        }
        (matrix, right)
    }

    /// The rows of two properties sought, and what they lack.
    fn sought(
        &self,
        rows: &mut [Row],
        right: &mut [f64],
        (sought, log_temperature): (Sought, usize),
    ) {
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

/// Whether partial densities of two phases are the same, but for rounding.
fn are_one(a: &[f64; MAX_COMPONENTS], b: &[f64; MAX_COMPONENTS]) -> bool {
    let mut both = a.iter().zip(b).filter(|(a, _)| **a > 0.0);
    both.all(|(a, b)| (a / b - 1.0).abs() < ONE_PHASE)
}
