//! A trial phase brought to where it settles by substitution alone (Michelsen, Fluid Phase Equilib.
//! 9 (1982) 1), each time at the density that it has at the tested pressure. Slow, and crosses no
//! spinodal.

use super::one_phase::{compressed, is_dense, liquid_density, rises_between, thin};
use super::trails::Trail;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::state::density_near;

/// Substitutions.
const MOST: usize = 40;
/// Longest step of a logarithm.
const LONGEST: f64 = 10.0;
/// Change of mole fractions at which a trial has settled.
const SETTLED: f64 = 1e-9;
/// The same, and the distance from the tangent plane, from which its sign is sure: it is stationary
/// where a trial settles, and changes with the square of what is left.
const NEARLY_SETTLED: f64 = 1e-4;
const CLEAR: f64 = 1e-3;
/// Distance from the tangent plane, in units of R T a mole, beyond rounding.
const BELOW: f64 = 1e-6;
/// Densest liquid, in densities of the components' liquids: beyond it equations have roots that are
/// none.
const DENSEST: f64 = 1.1;
/// The same in [`DENSEST`] liquids, where these have a lower pressure.
const COMPRESSED: f64 = 1.25;
/// Part of the reducing temperature from which an isotherm rises all along.
const HOT: f64 = 1.05;
/// A distance that no phase has, but an equation far outside its temperatures.
const ABSURD: f64 = 50.0;

/// What a trial is held against.
pub(super) struct PatientTrial<'a> {
    pub(super) mixture: &'a Mixture,
    /// K.
    pub(super) temperature: f64,
    /// Pa.
    pub(super) pressure: f64,
    /// ln n_i + G_i / R_i of the tested phase.
    pub(super) target: &'a [f64; MAX_COMPONENTS],
}

impl PatientTrial<'_> {
    /// Follows a trial until it settles or comes to what is known, and leaves a trail. One negative
    ///
    /// ```text
    /// D = sum_i w_i (R_i/R) (ln n_i + G_i/R_i - target_i)
    /// ```
    ///
    /// on the way proves a rival: those of the phase farthest below the tangent plane, and how far, in units
    /// of R T a mole.
    pub(super) fn settled(
        &self,
        start: [f64; MAX_COMPONENTS],
        trail: &mut Trail<'_>,
        is_known: impl Fn(&[f64; MAX_COMPONENTS]) -> bool,
    ) -> Option<([f64; MAX_COMPONENTS], f64)> {
        let count = self.mixture.count();
        let mut x = MoleFractions::new(&start[..count]);
        let mut density = start[..count].iter().sum::<f64>();
        let dense = is_dense(self.mixture, &x, density);
        let mut deepest: Option<([f64; MAX_COMPONENTS], f64)> = None;
        for _ in 0..MOST {
            let Some(root) = self.root(&x, density, dense) else {
                // for want of a density: another may go on
                trail.forget();
                break;
            };
            density = root;
            let mut trial = [0.0; MAX_COMPONENTS];
            for (n, x) in trial.iter_mut().zip(x.iter()) {
                *n = x * density;
            }
            if is_known(&trial) || trail.meets(&trial) {
                break;
            }
            trail.leave(trial);
            let at = self.mixture.potential(self.temperature, &trial[..count]);
            let gas_constant = self.mixture.at_composition(&x).gas_constant;
            let (mut depth, mut next) = (0.0, [0.0; MAX_COMPONENTS]);
            for (k, component) in self.mixture.components().iter().enumerate() {
                if trial[k] <= 0.0 {
                    continue;
                }
                let r = component.record.gas_constant_j_mol_k;
                let step = self.target[k] - trial[k].ln() - at.gradient[k] / r;
                depth += x[k] * r / gas_constant * step;
                next[k] = x[k] * step.clamp(-LONGEST, LONGEST).exp();
            }
            if depth.is_nan() || depth > ABSURD {
                break;
            }
            let deeper = depth > BELOW && deepest.is_none_or(|(_, most)| depth > most);
            if deeper && self.is_outermost(&x, density, dense) {
                deepest = Some((trial, depth));
            }
            let next = MoleFractions::new(&next[..count]);
            let moved = next.iter().zip(x.iter());
            let moved = moved.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            x = next;
            let is_clear = moved < NEARLY_SETTLED && depth.abs() > CLEAR;
            if moved.is_nan() || moved < SETTLED || is_clear {
                break;
            }
        }
        deepest
    }

    /// The density on the trial's side, by a search where Newton's method from the last one fails.
    fn root(&self, x: &MoleFractions, near: f64, dense: bool) -> Option<f64> {
        let fixed = self.mixture.at_composition(x);
        let isotherm = fixed.isotherm(self.temperature);
        let packed = DENSEST * liquid_density(self.mixture, x, self.temperature);
        // a hot isotherm has no sides, and pressure may compress a liquid further
        let is_hot = self.temperature > HOT * fixed.reducing_temperature;
        let is_compressed = |density: f64| {
            density < COMPRESSED * packed && isotherm.pressure(packed) < self.pressure
        };
        let on_its_side = |density: &f64| {
            let is_on_it = is_hot || (*density > fixed.reducing_density) == dense;
            is_on_it && (*density < packed || is_compressed(*density))
        };
        density_near(&isotherm, self.pressure, near)
            .filter(on_its_side)
            .or_else(|| {
                if dense {
                    compressed(self.mixture, x, &isotherm, self.temperature, self.pressure)
                } else {
                    thin(&isotherm, fixed.reducing_density, self.pressure)
                }
            })
    }

    /// Whether the pressure rises all the way from a density to its side.
    fn is_outermost(&self, x: &MoleFractions, density: f64, dense: bool) -> bool {
        let fixed = self.mixture.at_composition(x);
        let isotherm = fixed.isotherm(self.temperature);
        let packed = DENSEST * liquid_density(self.mixture, x, self.temperature);
        let (low, high) = if dense {
            (density, packed)
        } else {
            (0.0, density)
        };
        rises_between(&isotherm, low, high)
    }
}
