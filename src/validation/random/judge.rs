//! A judge of phases that shares nothing with the solvers but the Helmholtz energy itself.
//!
//! The tangent-plane criterion (Michelsen, Fluid Phase Equilib. 9 (1982) 1): a phase of mole
//! fractions z is unstable at (T, p) where any trial composition w has
//!
//! ```text
//! D(w) = sum_i w_i (mu_i(w) - mu_i(z)) / (R T) < 0
//! ```
//!
//! D is looked at along successive substitution from many trial compositions. A trial need not
//! settle: one negative value is a proof. Densities are roots of the isotherm, the first from the
//! thin side for a vapor and the first from the dense side for a liquid, so that loops of an
//! equation between them count for nothing.

use crate::helmholtz::{Isotherm, MAX_COMPONENTS, Mixture, MoleFractions};

/// D below minus this is a proof of instability, above it may be rounding.
pub const PROOF: f64 = 1e-7;
/// Substitutions from one trial composition.
const SUBSTITUTIONS: usize = 40;
/// Densest gas that is looked for, in reducing densities.
const DENSEST: f64 = 6.0;
/// Densest liquid that is looked for, in densities of saturated liquids.
const DENSER: f64 = 1.6;
/// D below minus this is no phase but an equation far outside its temperatures: a component of an
/// old equation at the reduced temperature of another.
const ABSURD: f64 = 50.0;
/// Places at which an isotherm is looked at between a root and its side.
const LOOKS: u32 = 24;
/// A trial this near to the phase tested, in the sum of differences of mole fractions, is that
/// phase itself.
const SAME: f64 = 1e-5;

type Potentials = [f64; MAX_COMPONENTS];

/// One phase with its potentials ln n_i + G_i / R_i, which are ln f_i but for a constant.
#[derive(Debug, Clone, Copy)]
pub struct JudgedPhase {
    /// Mole fractions.
    pub x: MoleFractions,
    /// Density, mol/m3.
    pub density: f64,
    /// Logarithms of the fugacities but for what phases of one temperature have in common.
    pub potentials: [f64; MAX_COMPONENTS],
}

/// A phase that proves another unstable.
#[derive(Debug, Clone, Copy)]
pub struct Proof {
    /// The trial phase.
    pub trial: JudgedPhase,
    /// D, negative.
    pub distance: f64,
}

/// What a blend is as one phase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnePhaseKind {
    /// Stable and thin.
    Vapor,
    /// Stable and packed.
    Liquid,
    /// A liquid that another liquid proves unstable, most of all.
    Parted,
    /// Unstable, a vapor beside a liquid.
    Unstable,
}

/// A phase is packed like a liquid above this part of the density of saturated liquids.
const DENSE: f64 = 0.5;

/// The judge of one mixture at one temperature.
pub struct Judge<'a> {
    mixture: &'a Mixture,
    temperature: f64,
}

impl<'a> Judge<'a> {
    /// For phases of a mixture at a temperature in K.
    pub fn new(mixture: &'a Mixture, temperature: f64) -> Self {
        Self {
            mixture,
            temperature,
        }
    }

    /// A phase of mole fractions `x` and a density in mol/m3.
    pub fn phase(&self, x: &MoleFractions, density: f64) -> JudgedPhase {
        let count = self.mixture.count();
        let mut partial = [0.0; MAX_COMPONENTS];
        for k in 0..count {
            partial[k] = (x[k] * density).max(1e-300);
        }
        let at = self.mixture.potential(self.temperature, &partial[..count]);
        let mut potentials = [0.0; MAX_COMPONENTS];
        for (k, component) in self.mixture.components().iter().enumerate() {
            potentials[k] =
                partial[k].ln() + at.gradient[k] / component.record.gas_constant_j_mol_k;
        }
        JudgedPhase {
            x: *x,
            density,
            potentials,
        }
    }

    /// Pressure, Pa, of a phase.
    pub fn pressure(&self, phase: &JudgedPhase) -> f64 {
        let fixed = self.mixture.at_composition(&phase.x);
        fixed.isotherm(self.temperature).pressure(phase.density)
    }

    /// dp/drho of a phase along its isotherm, J/mol: not above 0 it is no phase.
    pub fn slope(&self, phase: &JudgedPhase) -> f64 {
        let fixed = self.mixture.at_composition(&phase.x);
        let isotherm = fixed.isotherm(self.temperature);
        isotherm.pressure_slope(phase.density).1
    }

    /// Largest difference of potentials between two phases, over components that are there.
    pub fn imbalance(&self, a: &JudgedPhase, b: &JudgedPhase) -> f64 {
        (0..self.mixture.count())
            .filter(|&k| a.x[k] > 1e-12 && b.x[k] > 1e-12)
            .map(|k| (a.potentials[k] - b.potentials[k]).abs())
            .fold(0.0, f64::max)
    }

    /// D of a phase against the potentials of another.
    pub(super) fn distance(&self, trial: &JudgedPhase, against: &Potentials) -> f64 {
        let components = self.mixture.components();
        let first = components[0].record.gas_constant_j_mol_k;
        components
            .iter()
            .enumerate()
            .filter(|(k, _)| trial.x[*k] > 0.0)
            .map(|(k, component)| {
                let r = component.record.gas_constant_j_mol_k / first;
                trial.x[k] * r * (trial.potentials[k] - against[k])
            })
            .sum()
    }

    /// The stable phase of mole fractions `x` as one phase at a pressure in Pa: of vapor and liquid
    /// roots that of the lower Gibbs energy.
    pub fn best(&self, x: &MoleFractions, pressure: f64) -> Option<JudgedPhase> {
        let gibbs = |phase: &JudgedPhase| self.distance(phase, &[0.0; MAX_COMPONENTS]);
        [false, true]
            .into_iter()
            .filter_map(|dense| Some(self.phase(x, self.root(x, pressure, dense, None)?)))
            .reduce(|a, b| if gibbs(&b) < gibbs(&a) { b } else { a })
    }

    /// A phase of another pressure at one in Pa.
    pub(super) fn near(
        &self,
        phase: &JudgedPhase,
        pressure: f64,
        dense: bool,
    ) -> Option<JudgedPhase> {
        let density = self.root(&phase.x, pressure, dense, Some(phase.density))?;
        Some(self.phase(&phase.x, density))
    }

    /// The first density from the dense or from the thin side at which the isotherm of `x` has a
    /// pressure in Pa, mol/m3; `near` is tried before a search.
    fn root(
        &self,
        x: &MoleFractions,
        pressure: f64,
        dense: bool,
        near: Option<f64>,
    ) -> Option<f64> {
        let fixed = self.mixture.at_composition(x);
        let isotherm = fixed.isotherm(self.temperature);
        let near = near.and_then(|near| newton(&isotherm, pressure, near));
        if let Some(found) = near.filter(|&found| self.is_outermost(x, &isotherm, found, dense)) {
            return Some(found);
        }
        let reducing = fixed.reducing_density;
        if dense {
            let packed = self.packed(x);
            let mut above = 1.1 * packed;
            while isotherm.pressure(above) < pressure {
                above *= 1.03;
                if above > DENSER * packed {
                    return None;
                }
            }
            let mut below = above;
            while isotherm.pressure(below) >= pressure {
                above = below;
                below *= 0.98;
                if isotherm.pressure_slope(above).1 <= 0.0 || below < 0.2 * reducing {
                    return None;
                }
            }
            return Some(bisect(&isotherm, pressure, below, above));
        }
        let ideal = pressure / isotherm.rt;
        // Thin enough to lie before the spinodal of a vapor that does not reach this pressure.
        let mut below = 0.02 * ideal.min(reducing);
        while isotherm.pressure(below) > pressure {
            below *= 0.5;
        }
        let mut above = below;
        while isotherm.pressure(above) < pressure {
            below = above;
            above *= if above < 0.05 * reducing { 1.2 } else { 1.03 };
            if isotherm.pressure_slope(below).1 <= 0.0 || above > DENSEST * reducing {
                return None;
            }
        }
        Some(bisect(&isotherm, pressure, below, above))
    }

    /// Whether the pressure rises all the way from the thin or the dense side to a density: Newton's
    /// method may have led onto a loop between them.
    fn is_outermost(
        &self,
        x: &MoleFractions,
        isotherm: &Isotherm<'_>,
        density: f64,
        dense: bool,
    ) -> bool {
        let (from, to) = match dense {
            true => (density, (1.1 * self.packed(x)).max(density)),
            false => (0.0, density),
        };
        let places = (1..LOOKS).map(|at| f64::from(at) / f64::from(LOOKS));
        let mut densities = places.map(|part| from + part * (to - from));
        densities.all(|density| isotherm.pressure_slope(density).1 > 0.0)
    }

    /// A density near that of the liquid, mol/m3: saturated liquids of the components' own
    /// correlations, volumes added. Beyond it equations have roots that are no liquid.
    pub fn packed(&self, x: &MoleFractions) -> f64 {
        let mut volume = 0.0;
        for (component, x) in self.mixture.components().iter().zip(x.iter()) {
            let coldest = component.record.range.temperature_min_k;
            let hottest = (0.9 * component.critical.temperature).max(coldest);
            let own = component
                .ancillary
                .liquid_density(self.temperature.clamp(coldest, hottest));
            volume += x / own;
        }
        1.0 / volume
    }

    /// Whether a phase is unstable at a pressure in Pa, and what proves it.
    pub fn proof(&self, tested: &JudgedPhase, pressure: f64) -> Option<Proof> {
        let count = self.mixture.count();
        let mut worst: Option<Proof> = None;
        for (start, dense) in self.trials(&tested.x, pressure) {
            let mut x = start;
            let mut near = None;
            for _ in 0..SUBSTITUTIONS {
                let Some(density) = self.root(&x, pressure, dense, near) else {
                    break;
                };
                near = Some(density);
                let trial = self.phase(&x, density);
                let distance = self.distance(&trial, &tested.potentials);
                let apart: f64 = (0..count).map(|k| (x[k] - tested.x[k]).abs()).sum();
                let apart = apart + (density / tested.density).ln().abs();
                if apart < SAME {
                    break;
                }
                if distance.is_nan() || distance <= -ABSURD {
                    break;
                }
                if distance < -PROOF && worst.is_none_or(|worst| distance < worst.distance) {
                    worst = Some(Proof { trial, distance });
                }
                let mut next = [0.0; MAX_COMPONENTS];
                let mut moved: f64 = 0.0;
                for k in 0..count {
                    let step = tested.potentials[k] - trial.potentials[k];
                    next[k] = if tested.x[k] > 0.0 {
                        x[k].max(1e-30) * step.clamp(-20.0, 20.0).exp()
                    } else {
                        0.0
                    };
                }
                let next = MoleFractions::new(&next[..count]);
                for k in 0..count {
                    moved = moved.max((next[k] - x[k]).abs());
                }
                x = next;
                if moved < 1e-9 {
                    break;
                }
            }
        }
        worst
    }

    /// Trial compositions with the side from which their densities are sought.
    fn trials(&self, z: &MoleFractions, pressure: f64) -> Vec<(MoleFractions, bool)> {
        let components = self.mixture.components();
        let count = components.len();
        let volatility = |k: usize| {
            let own = components[k].ancillary.extended_pressure(self.temperature);
            (own / pressure).clamp(1e-12, 1e12)
        };
        let by = |power: f64| {
            let mut w = [0.0; MAX_COMPONENTS];
            for k in 0..count {
                w[k] = z[k] * volatility(k).powf(power);
            }
            MoleFractions::new(&w[..count])
        };
        let mut trials = vec![
            (*z, false),
            (*z, true),
            (by(1.0), false),
            (by(1.0 / 3.0), false),
            (by(-1.0), true),
            (by(-1.0 / 3.0), true),
        ];
        for k in (0..count).filter(|&k| z[k] > 0.0) {
            for share in [0.95, 0.5] {
                let mut w = [0.0; MAX_COMPONENTS];
                for j in 0..count {
                    w[j] = (1.0 - share) * z[j];
                }
                w[k] += share;
                let w = MoleFractions::new(&w[..count]);
                trials.push((w, true));
                if share > 0.9 {
                    trials.push((w, false));
                }
            }
        }
        trials
    }

    /// Whether a component of `x`, colder than its equation's range, has no liquid at a pressure in
    /// Pa: its isotherm turns above that pressure. What is rich in it is solid, and no trial that
    /// is a point of its equation proves anything.
    ///
    /// Water's equation (Wagner & Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387) has no liquid at
    /// low pressures below 234 K; water freezes by itself at 235 K (Kanno, Speedy & Angell,
    /// Science 189 (1975) 880, from memory).
    pub fn lacks_a_liquid(&self, x: &MoleFractions, pressure: f64) -> bool {
        let components = self.mixture.components();
        components.iter().enumerate().any(|(k, component)| {
            let mut own = [0.0; MAX_COMPONENTS];
            own[k] = 1.0;
            let own = MoleFractions::new(&own[..components.len()]);
            x[k] > 0.0
                && self.temperature < component.record.range.temperature_min_k
                && self.root(&own, pressure, true, None).is_none()
        })
    }

    /// Whether a phase is packed like a liquid.
    pub fn is_dense(&self, phase: &JudgedPhase) -> bool {
        phase.density > DENSE * self.packed(&phase.x)
    }

    /// What the blend is as one phase at a pressure in Pa; `None` without a density.
    pub fn kind(&self, z: &MoleFractions, pressure: f64) -> Option<OnePhaseKind> {
        let own = self.best(z, pressure)?;
        let dense = self.is_dense(&own);
        Some(match self.proof(&own, pressure) {
            Some(proof) if dense && self.is_dense(&proof.trial) => OnePhaseKind::Parted,
            Some(_) => OnePhaseKind::Unstable,
            None if dense => OnePhaseKind::Liquid,
            None => OnePhaseKind::Vapor,
        })
    }
}

/// Newton's method in ln rho from a root of a neighbour composition.
fn newton(isotherm: &Isotherm<'_>, pressure: f64, near: f64) -> Option<f64> {
    let mut density = near;
    for _ in 0..12 {
        let (value, slope) = isotherm.pressure_slope(density);
        if slope <= 0.0 {
            return None;
        }
        let step = (pressure - value) / slope;
        if step.is_nan() || step.abs() > 0.3 {
            return None;
        }
        density *= 1.0 + step;
        if step.abs() < 1e-11 {
            return Some(density);
        }
    }
    None
}

fn bisect(isotherm: &Isotherm<'_>, pressure: f64, mut below: f64, mut above: f64) -> f64 {
    for _ in 0..8 {
        let middle = 0.5 * (below + above);
        if isotherm.pressure(middle) < pressure {
            below = middle;
        } else {
            above = middle;
        }
    }
    let middle = 0.5 * (below + above);
    newton(isotherm, pressure, middle).unwrap_or_else(|| {
        for _ in 0..48 {
            let middle = 0.5 * (below + above);
            if isotherm.pressure(middle) < pressure {
                below = middle;
            } else {
                above = middle;
            }
        }
        0.5 * (below + above)
    })
}
