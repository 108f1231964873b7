//! Whether a phase is stable: no other phase would lower the Helmholtz energy.
//!
//! A trial phase n with the chemical potentials of the tested one is a stationary point of the
//! distance between Psi and its tangent plane (Michelsen, Fluid Phase Equilib. 9 (1982) 1). In
//! densities that distance at a stationary point is p - p(n): the tested phase is unstable when a
//! trial of another density or composition has the higher pressure.

use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, solve_linear};

/// A phase that is more stable than the one tested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rival {
    /// Its mole fractions.
    pub x: MoleFractions,
    /// Its density, mol/m3.
    pub density: f64,
    /// How far its pressure is above that of the phase tested, in units of that pressure or, for
    /// a dense phase, of a thousandth of rho R T.
    pub excess: f64,
}

const MOST_STEPS: usize = 40;
/// Excess below which a trial counts as the tested phase itself or one in equilibrium with it.
const EQUAL: f64 = 1e-6;

/// Searches for a phase more stable than that of composition `x` and density mol/m3 at a
/// temperature in K, whose pressure in Pa is given apart (a liquid's cancels at low pressure).
///
/// Trials start from a vapour by Raoult's law and, for each component, from a liquid rich in it.
pub fn rival(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> Option<Rival> {
    let tested = Tested::new(mixture, temperature, x, density, pressure);
    let starts = 0..=mixture.count();
    starts
        .filter_map(|start| tested.rival(trial_start(mixture, temperature, x, pressure, start)))
        .reduce(|worst, rival| {
            if rival.excess > worst.excess {
                rival
            } else {
                worst
            }
        })
}

/// Whether a phase of composition `trial.0` and density `trial.1` mol/m3, or one next to it, is
/// more stable than that of composition `x`, density and pressure.
pub fn is_beaten_by(
    mixture: &Mixture,
    temperature: f64,
    (x, density, pressure): (&MoleFractions, f64, f64),
    trial: (&MoleFractions, f64),
) -> bool {
    let tested = Tested::new(mixture, temperature, x, density, pressure);
    let mut start = [0.0; MAX_COMPONENTS];
    for (n, w) in start.iter_mut().zip(trial.0.iter()) {
        *n = w * trial.1;
    }
    tested.rival(start).is_some()
}

/// A phase that is tested, with its potentials.
struct Tested<'a> {
    mixture: &'a Mixture,
    temperature: f64,
    x: &'a MoleFractions,
    density: f64,
    pressure: f64,
    target: [f64; MAX_COMPONENTS],
    scale: f64,
}

impl<'a> Tested<'a> {
    fn new(
        mixture: &'a Mixture,
        temperature: f64,
        x: &'a MoleFractions,
        density: f64,
        pressure: f64,
    ) -> Self {
        let count = mixture.count();
        let mut own = [0.0; MAX_COMPONENTS];
        for (n, x) in own.iter_mut().zip(x.iter()) {
            *n = x * density;
        }
        let at = mixture.potential(temperature, &own[..count]);
        let mut target = [0.0; MAX_COMPONENTS];
        for i in 0..count {
            let r = mixture.components()[i].record.gas_constant_j_mol_k;
            target[i] = own[i].max(1e-300).ln() + at.gradient[i] / r;
        }
        let fixed = mixture.at_composition(x);
        let dense = 1e-3 * density.min(fixed.reducing_density) * fixed.gas_constant * temperature;
        Self {
            mixture,
            temperature,
            x,
            density,
            pressure,
            target,
            scale: pressure.max(dense),
        }
    }

    /// The phase that a trial settles on, where it is more stable.
    fn rival(&self, mut trial: [f64; MAX_COMPONENTS]) -> Option<Rival> {
        let count = self.mixture.count();
        let target = &self.target[..count];
        if !settle(self.mixture, self.temperature, target, &mut trial) {
            return None;
        }
        let sum: f64 = trial[..count].iter().sum();
        let composition = MoleFractions::new(&trial[..count]);
        let there = self.mixture.at_composition(&composition);
        let (found, slope) = there.isotherm(self.temperature).pressure_slope(sum);
        // Inside the two-phase region reference equations have loops that mean nothing.
        let between = sum > 0.7 * there.reducing_density && sum < 1.4 * there.reducing_density;
        if slope <= 0.0 || (between && self.temperature < 0.93 * there.reducing_temperature) {
            return None;
        }
        let excess = (found - self.pressure) / self.scale;
        let same = (sum / self.density - 1.0).abs() < 1e-4
            && composition
                .iter()
                .zip(self.x.iter())
                .all(|(a, b)| (a - b).abs() < 1e-4);
        (!same && excess > EQUAL).then_some(Rival {
            x: composition,
            density: sum,
            excess,
        })
    }
}

/// Partial densities to start a trial from: a vapour, or a liquid rich in one component.
fn trial_start(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    pressure: f64,
    start: usize,
) -> [f64; MAX_COMPONENTS] {
    let count = mixture.count();
    let mut content = [0.0; MAX_COMPONENTS];
    for (i, component) in mixture.components().iter().enumerate() {
        content[i] = if start == 0 {
            x[i] * component.ancillary.extended_pressure(temperature)
        } else if i + 1 == start {
            0.9 + 0.1 * x[i]
        } else {
            0.1 * x[i]
        };
        if x[i] <= 0.0 {
            content[i] = 0.0;
        }
    }
    let w = MoleFractions::new(&content[..count]);
    let density = if start == 0 {
        pressure / (mixture.at_composition(&w).gas_constant * temperature)
    } else {
        liquid_density(mixture, &w, temperature)
    };
    let mut trial = [0.0; MAX_COMPONENTS];
    for (n, w) in trial.iter_mut().zip(w.iter()) {
        *n = w * density;
    }
    trial
}

/// A liquid's density from its components' ancillary equations, mol/m3: volumes add.
pub(super) fn liquid_density(mixture: &Mixture, x: &MoleFractions, temperature: f64) -> f64 {
    let mut volume = 0.0;
    for (component, x) in mixture.components().iter().zip(x.iter()) {
        let coldest = component.record.range.temperature_min_k;
        let hottest = (0.9 * component.critical.temperature).max(coldest);
        volume += x / component
            .ancillary
            .liquid_density(temperature.clamp(coldest, hottest));
    }
    1.0 / volume
}

/// Newton's method in ln n_i towards ln n_i + G_i / R_i = target.
fn settle(
    mixture: &Mixture,
    temperature: f64,
    target: &[f64],
    trial: &mut [f64; MAX_COMPONENTS],
) -> bool {
    let count = target.len();
    for _ in 0..MOST_STEPS {
        let at = mixture.potential(temperature, &trial[..count]);
        let mut matrix = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
        let mut right = [0.0; MAX_COMPONENTS];
        for i in 0..count {
            let inverse_r = 1.0 / mixture.components()[i].record.gas_constant_j_mol_k;
            if trial[i] <= 0.0 {
                matrix[i][i] = 1.0;
                continue;
            }
            right[i] = target[i] - trial[i].ln() - at.gradient[i] * inverse_r;
            for j in 0..count {
                matrix[i][j] = at.hessian[i][j] * trial[j] * inverse_r;
            }
            matrix[i][i] += 1.0;
        }
        if !solve_linear(&mut matrix, &mut right, count) {
            return false;
        }
        let size = largest(&right[..count]);
        let shrink = if size > 0.5 { 0.5 / size } else { 1.0 };
        for i in 0..count {
            trial[i] *= (shrink * right[i]).exp();
        }
        if size < 1e-9 {
            return true;
        }
    }
    false
}
