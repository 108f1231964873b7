//! A blend of overall composition z split into liquid and vapor.
//!
//! Unknown are ln n_i of both phases' partial densities, the vapor fraction beta and ln T:
//!
//! ```text
//! F_i, F_p of the vapor = those of the liquid                     i = 1 ... N    (conditions.rs)
//! F_m = (1 - beta) x_i + beta y_i - z_i                           i = 1 ... N-1
//! F_q = (1 - q) beta Mv - q (1 - beta) Ml
//! F_e = (1 - beta) e|liquid + beta e|vapor - e                    e: h, s or v
//! ```
//!
//! and two of: T, p, q (the vapor's share of the mass) or e. Newton's method with the analytic
//! Hessian.

use std::cell::OnceCell;

use super::Property;
use super::bubble_dew::{self, PhasePair};
use super::conditions::{Columns, Conditions, Ideal, PhaseTerms, Rows};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, shortening, solve_linear};

const MOST_UNKNOWNS: usize = 2 * MAX_COMPONENTS + 2;
const MOST_STEPS: usize = 40;
/// What the last step may leave: less than lines read from curves are held to.
const LEFT: f64 = 2e-11;
/// A step whose square is no more than that.
const SHORT: f64 = 1e-6;
/// Differences of mole fractions and of ln density within which phases a step of pressure apart are one.
const ALIKE: f64 = 0.2;

/// Two phases and how much of each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// The phases.
    pub pair: PhasePair,
    /// Moles of vapor a mole of blend.
    pub vapor_fraction: f64,
}

impl Split {
    /// Whether its thinner phase is that of another, a step of pressure away.
    pub(super) fn is_a_step_from(&self, other: &Self) -> bool {
        let (a, b) = (&self.pair, &other.pair);
        let mut both = a.vapor.iter().zip(b.vapor.iter());
        (a.vapor_density / b.vapor_density).ln().abs() < ALIKE
            && both.all(|(a, b)| (a - b).abs() < ALIKE)
    }
}

/// A split and what its phases hold together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filled {
    /// The phases and how much of each.
    pub split: Split,
    /// J a mole of blend.
    pub enthalpy: f64,
    /// J/K a mole of blend.
    pub entropy: f64,
}

/// What a split is sought by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sought {
    /// Temperature, K, and pressure, Pa.
    TemperaturePressure(f64, f64),
    /// Temperature, K, and the vapor's share of the mass.
    TemperatureQuality(f64, f64),
    /// Pressure, Pa, and the vapor's share of the mass.
    PressureQuality(f64, f64),
    /// Temperature, K, and a property of both phases together: J/mol, J/(mol K), mol/m3.
    TemperatureProperty(f64, Property, f64),
    /// Pressure, Pa, and a property of both phases together.
    PressureProperty(f64, Property, f64),
    /// As the one before, of a pressure that changes with temperature: its value at the temperature
    /// of this step and d ln p/d ln T.
    PressureAlong((f64, f64), Property, f64),
    /// Enthalpy, J/mol, and entropy, J/(mol K), of both phases together.
    EnthalpyEntropy(f64, f64),
}

/// What stays the same from bubble to dew point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fixed {
    /// K.
    Temperature(f64),
    /// Pa.
    Pressure(f64),
}

impl Fixed {
    /// A split of this and a vapor's share of the mass.
    pub(super) fn with_quality(self, quality: f64) -> Sought {
        match self {
            Fixed::Temperature(t) => Sought::TemperatureQuality(t, quality),
            Fixed::Pressure(p) => Sought::PressureQuality(p, quality),
        }
    }

    /// A split of this and a property.
    pub(super) fn with_property(self, property: Property, value: f64) -> Sought {
        match self {
            Fixed::Temperature(t) => Sought::TemperatureProperty(t, property, value),
            Fixed::Pressure(p) => Sought::PressureProperty(p, property, value),
        }
    }
}

impl Sought {
    pub(super) fn temperature(self) -> Option<f64> {
        match self {
            Sought::TemperaturePressure(t, _)
            | Sought::TemperatureQuality(t, _)
            | Sought::TemperatureProperty(t, ..) => Some(t),
            _ => None,
        }
    }

    pub(super) fn pressure(self) -> Option<f64> {
        match self {
            Sought::TemperaturePressure(_, p)
            | Sought::PressureQuality(p, _)
            | Sought::PressureProperty(p, ..)
            | Sought::PressureAlong((p, _), ..) => Some(p),
            _ => None,
        }
    }

    pub(super) fn properties(self) -> [Option<(Property, f64)>; 2] {
        match self {
            Sought::TemperatureProperty(_, property, value)
            | Sought::PressureProperty(_, property, value)
            | Sought::PressureAlong(_, property, value) => [Some((property, value)), None],
            Sought::EnthalpyEntropy(h, s) => {
                [Some((Property::Enthalpy, h)), Some((Property::Entropy, s))]
            }
            _ => [None, None],
        }
    }

    pub(super) fn quality(self) -> Option<f64> {
        match self {
            Sought::TemperatureQuality(_, q) | Sought::PressureQuality(_, q) => Some(q),
            _ => None,
        }
    }
}

/// A split between two others: phases and densities in proportion.
pub fn between(a: &Split, b: &Split, weight: f64) -> Split {
    Split {
        vapor_fraction: a.vapor_fraction + weight * (b.vapor_fraction - a.vapor_fraction),
        pair: bubble_dew::weighted(&[&a.pair, &b.pair], &[1.0 - weight, weight]),
    }
}

/// A split between a bubble and a dew point of one temperature or one pressure, `weight` of the way
/// from the first: temperature and liquid in proportion, K = y/x and the vapor's density in their
/// logarithms, compositions from z by K. A start and no more.
pub fn between_lines(z: &MoleFractions, bubble: &PhasePair, dew: &PhasePair, weight: f64) -> Split {
    let count = z.len();
    let mean = |a: f64, b: f64| a + weight * (b - a);
    let (mut x, mut y) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
    for i in 0..count {
        if z[i] <= 0.0 {
            continue;
        }
        let (first, last) = (bubble.vapor[i] / z[i], z[i] / dew.liquid[i]);
        let k = first * (last / first).powf(weight);
        x[i] = z[i] / (1.0 + weight * (k - 1.0));
        y[i] = k * x[i];
    }
    let thinner = dew.vapor_density / bubble.vapor_density;
    Split {
        vapor_fraction: weight,
        pair: PhasePair {
            temperature: mean(bubble.temperature, dew.temperature),
            pressure: mean(bubble.pressure, dew.pressure),
            liquid: MoleFractions::new(&x[..count]),
            vapor: MoleFractions::new(&y[..count]),
            liquid_density: mean(bubble.liquid_density, dew.liquid_density),
            vapor_density: bubble.vapor_density * thinner.powf(weight),
            liquids: None,
            steps: 0,
            residual: f64::NAN,
        },
    }
}

/// Finds the split by Newton's method from `start`; `None` unless it settles on two phases.
pub fn split(mixture: &Mixture, z: &MoleFractions, sought: Sought, start: &Split) -> Option<Split> {
    split_within(MOST_STEPS, mixture, z, sought, start)
}

/// As [`split`], in a number of steps.
pub(super) fn split_within(
    most_steps: usize,
    mixture: &Mixture,
    z: &MoleFractions,
    sought: Sought,
    start: &Split,
) -> Option<Split> {
    let known = |_| Some(sought);
    settle(most_steps, mixture, z, known, start, |_, _, _| ()).map(|(split, ())| split)
}

/// As [`split`] of what is said anew for the temperature of each step, K, with what both phases
/// hold together, which Newton's method has at hand.
pub fn filled_along(
    mixture: &Mixture,
    z: &MoleFractions,
    sought_at: impl Fn(f64) -> Option<Sought>,
    start: &Split,
) -> Option<Filled> {
    let both = |conditions: &Conditions<'_>, last: &Iterate<'_>, step: &[f64]| {
        [Property::Enthalpy, Property::Entropy]
            .map(|property| last.after(conditions, property, step))
    };
    let (split, [enthalpy, entropy]) = settle(MOST_STEPS, mixture, z, sought_at, start, both)?;
    Some(Filled {
        split,
        enthalpy,
        entropy,
    })
}

/// Newton's method, and what `with` makes of the phases before the last step, and of that step.
fn settle<T>(
    most_steps: usize,
    mixture: &Mixture,
    z: &MoleFractions,
    sought_at: impl Fn(f64) -> Option<Sought>,
    start: &Split,
    with: impl Fn(&Conditions<'_>, &Iterate<'_>, &[f64]) -> T,
) -> Option<(Split, T)> {
    let count = mixture.count();
    let (beta_at, temperature_at) = (2 * count, 2 * count + 1);
    let conditions = Conditions::of(mixture);
    let mut at = Unknowns::of(&start.pair, start.vapor_fraction, count);
    if let Some(temperature) = sought_at(at.temperature)?.temperature() {
        at.temperature = temperature;
    }
    let unknowns = 2 * count + 2;
    let mut matrix = [[0.0; MOST_UNKNOWNS]; MOST_UNKNOWNS];
    let mut right = [0.0; MOST_UNKNOWNS];
    let mut previous = f64::INFINITY;
    for steps in 1..=most_steps {
        let here = Iterate {
            sought: sought_at(at.temperature)?,
            liquid: conditions.phase(at.temperature, &at.liquid),
            vapor: conditions.phase(at.temperature, &at.vapor),
            at: &at,
            ideal: OnceCell::new(),
        };
        for row in &mut matrix[..unknowns] {
            row[..unknowns].fill(0.0);
        }
        here.equations(&conditions, z, &mut matrix, &mut right);
        if !solve_linear(&mut matrix, &mut right, unknowns) {
            return None;
        }
        let step = &right[..unknowns];
        let size = largest(step);
        // quadratic: what a step leaves is its square, times what it was of the one before
        let left = if previous.is_finite() {
            (size / previous).powi(2) * size
        } else {
            size
        };
        let done = size < SHORT || (size < 1e-4 && left < LEFT);
        previous = size;
        let shrink = shortening(step, |k| {
            if k == temperature_at {
                0.05
            } else if k == beta_at {
                0.4
            } else {
                0.6
            }
        });
        let made = done.then(|| with(&conditions, &here, step));
        let sought = here.sought;
        for k in 0..count {
            at.vapor[k] *= (shrink * step[k]).exp();
            at.liquid[k] *= (shrink * step[count + k]).exp();
        }
        at.beta += shrink * step[beta_at];
        at.temperature *= (shrink * step[temperature_at]).exp();
        if let Some(made) = made {
            let pressure = match sought {
                // that of the temperature before the step
                Sought::PressureAlong(..) => None,
                _ => sought.pressure(),
            };
            return Some((at.finish(mixture, pressure, (steps, size))?, made));
        }
    }
    None
}

/// What Newton's method changes: partial densities in mol/m3, the vapor fraction, K.
struct Unknowns {
    vapor: [f64; MAX_COMPONENTS],
    liquid: [f64; MAX_COMPONENTS],
    beta: f64,
    temperature: f64,
}

impl Unknowns {
    fn of(pair: &PhasePair, beta: f64, count: usize) -> Self {
        let (mut vapor, mut liquid) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
        for k in 0..count {
            vapor[k] = pair.vapor[k].max(1e-300) * pair.vapor_density;
            liquid[k] = pair.liquid[k].max(1e-300) * pair.liquid_density;
        }
        Self {
            vapor,
            liquid,
            beta,
            temperature: pair.temperature,
        }
    }

    /// The split, of a pressure in Pa where that is known, unless its phases are one or beta lies
    /// beside 0 to 1.
    fn finish(
        &self,
        mixture: &Mixture,
        pressure: Option<f64>,
        (steps, residual): (usize, f64),
    ) -> Option<Split> {
        let count = mixture.count();
        let liquid_density: f64 = self.liquid[..count].iter().sum();
        let vapor_density: f64 = self.vapor[..count].iter().sum();
        let is_share = (-1e-9..=1.0 + 1e-9).contains(&self.beta);
        if !is_share {
            return None;
        }
        let vapor = MoleFractions::new(&self.vapor[..count]);
        let pressure = pressure.unwrap_or_else(|| {
            let isotherm = mixture.at_composition(&vapor).isotherm(self.temperature);
            isotherm.pressure(vapor_density)
        });
        if pressure.is_nan() || pressure <= 0.0 {
            return None;
        }
        let pair = PhasePair {
            temperature: self.temperature,
            pressure,
            liquid: MoleFractions::new(&self.liquid[..count]),
            vapor,
            liquid_density,
            vapor_density,
            liquids: None,
            steps,
            residual,
        };
        pair.is_two(mixture).then_some(Split {
            vapor_fraction: self.beta.clamp(0.0, 1.0),
            pair,
        })
    }
}

type Matrix = [[f64; MOST_UNKNOWNS]; MOST_UNKNOWNS];
type Row = [f64; MOST_UNKNOWNS];

/// The phases at what Newton's method holds, and what is sought there.
struct Iterate<'a> {
    sought: Sought,
    liquid: PhaseTerms,
    vapor: PhaseTerms,
    at: &'a Unknowns,
    /// Made where a property is asked for.
    ideal: OnceCell<Ideal>,
}

impl Iterate<'_> {
    /// The linear system of a step: rows F_i, F_p, F_m, then the two that say what is sought. The
    /// matrix comes empty.
    fn equations(
        &self,
        conditions: &Conditions<'_>,
        z: &MoleFractions,
        matrix: &mut Matrix,
        right: &mut Row,
    ) {
        let (at, liquid, vapor, sought) = (self.at, &self.liquid, &self.vapor, self.sought);
        let count = z.len();
        let (beta_at, temperature_at) = (2 * count, 2 * count + 1);
        let (in_vapor, in_liquid) = (Columns::Each(0), Columns::Each(count));
        let rows = Rows {
            first: 0,
            pressure: count,
            log_temperature: Some(temperature_at),
        };
        let scale = conditions.pressure_scale(liquid.total);
        conditions.add(matrix, rows, vapor, (1.0, scale), &[in_vapor]);
        conditions.add(matrix, rows, liquid, (-1.0, scale), &[in_liquid]);
        for (i, right) in right[..count].iter_mut().enumerate() {
            *right = -conditions.difference(i, liquid, vapor);
        }
        let over = |phase: &PhaseTerms| phase.potential.pressure_over_temperature;
        right[count] = -(over(vapor) - over(liquid)) / scale;
        for i in 0..count - 1 {
            let row = count + 1 + i;
            let (x, y) = (at.liquid[i] / liquid.total, at.vapor[i] / vapor.total);
            right[row] = z[i] - (1.0 - at.beta) * x - at.beta * y;
            for j in 0..count {
                let own = if i == j { 1.0 } else { 0.0 };
                matrix[row][j] = at.beta * y * (own - at.vapor[j] / vapor.total);
                matrix[row][count + j] = (1.0 - at.beta) * x * (own - at.liquid[j] / liquid.total);
            }
            matrix[row][beta_at] = y - x;
        }
        let mut row = 2 * count;
        if sought.temperature().is_some() {
            matrix[row][temperature_at] = 1.0;
            right[row] = 0.0;
            row += 1;
        }
        if let Some(pressure) = sought.pressure() {
            let given = (at.temperature, pressure);
            let cells = &mut matrix[row];
            right[row] = conditions.given_pressure(cells, vapor, given, in_vapor, temperature_at);
            if let Sought::PressureAlong((_, slope), ..) = sought {
                cells[temperature_at] -= slope;
            }
            row += 1;
        }
        if let Some(quality) = sought.quality() {
            right[row] = self.given_quality(conditions, &mut matrix[row], quality);
        }
        for property in sought.properties().into_iter().flatten() {
            right[row] = self.given_property(conditions, &mut matrix[row], property);
            row += 1;
        }
    }

    /// The row of F_q, in units of the liquid's molar mass.
    fn given_quality(&self, conditions: &Conditions<'_>, row: &mut Row, quality: f64) -> f64 {
        let (liquid, vapor, beta) = (&self.liquid, &self.vapor, self.at.beta);
        let components = conditions.mixture.components();
        let count = components.len();
        let mass = |phase: &PhaseTerms| -> f64 {
            let parts = components.iter().zip(&phase.amounts);
            let sum: f64 = parts.map(|(c, n)| c.record.molar_mass_kg_mol * n).sum();
            sum / phase.total
        };
        let (mv, ml) = (mass(vapor), mass(liquid));
        row[2 * count] = ((1.0 - quality) * mv + quality * ml) / ml;
        for j in 0..count {
            let m = components[j].record.molar_mass_kg_mol;
            let (y, x) = (
                vapor.amounts[j] / vapor.total,
                liquid.amounts[j] / liquid.total,
            );
            row[j] = (1.0 - quality) * beta * y * (m - mv) / ml;
            row[count + j] = -quality * (1.0 - beta) * x * (m - ml) / ml;
        }
        (quality * (1.0 - beta) * ml - (1.0 - quality) * beta * mv) / ml
    }

    /// The row of F_e, in units of R T, of R or of the volume asked for.
    fn given_property(
        &self,
        conditions: &Conditions<'_>,
        row: &mut Row,
        (property, value): (Property, f64),
    ) -> f64 {
        let count = conditions.mixture.count();
        let (beta, temperature) = (self.at.beta, self.at.temperature);
        let scale = match property {
            Property::Density => 1.0 / value,
            _ => unit(conditions, property, temperature),
        };
        let wanted = match property {
            Property::Density => 1.0 / value,
            _ => value,
        };
        let ideal = self.ideal.get_or_init(|| conditions.ideal(temperature));
        let of = |phase| conditions.property(property, temperature, phase, ideal);
        let (l, v) = (of(&self.liquid), of(&self.vapor));
        for j in 0..count {
            row[j] = beta * v.by_amount[j] / scale;
            row[count + j] = (1.0 - beta) * l.by_amount[j] / scale;
        }
        row[2 * count] = (v.value - l.value) / scale;
        row[2 * count + 1] =
            ((1.0 - beta) * l.by_log_temperature + beta * v.by_log_temperature) / scale;
        (wanted - (1.0 - beta) * l.value - beta * v.value) / scale
    }

    /// Enthalpy or entropy of both phases together after a step, to first order: what is sought
    /// where that is it.
    fn after(&self, conditions: &Conditions<'_>, property: Property, step: &[f64]) -> f64 {
        let mut sought = self.sought.properties().into_iter().flatten();
        if let Some((_, value)) = sought.find(|(own, _)| *own == property) {
            return value;
        }
        let mut row = [0.0; MOST_UNKNOWNS];
        let missing = self.given_property(conditions, &mut row, (property, 0.0));
        let change: f64 = row.iter().zip(step).map(|(slope, step)| slope * step).sum();
        unit(conditions, property, self.at.temperature) * (change - missing)
    }
}

/// What a property is counted in: R T or R.
pub(super) fn unit(conditions: &Conditions<'_>, property: Property, temperature: f64) -> f64 {
    let gas_constant = conditions.pressure_scale(1.0);
    match property {
        Property::Enthalpy => gas_constant * temperature,
        Property::Entropy | Property::Density => gas_constant,
    }
}
