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

/// Substitutions of a trial's composition at the tested pressure before Newton's method.
const SUBSTITUTIONS: usize = 6;
/// Longest step of a logarithm in a substitution.
const LONGEST: f64 = 3.0;
/// Share of one component in the liquids that trials start from.
const RICH: [f64; 2] = [0.9, 0.45];

/// Searches for a phase more stable than that of composition `x` and density mol/m3 at a
/// temperature in K, whose pressure in Pa is given apart (a liquid's cancels at low pressure).
///
/// Trials start from a vapour and a liquid by Raoult's law and, for each component, from a liquid
/// rich in it and one half of it, which finds the second liquid next to the point where both
/// become one.
pub fn rival(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> Option<Rival> {
    let found = rivals(mixture, temperature, x, density, pressure);
    found.into_iter().reduce(|worst, rival| {
        if rival.excess > worst.excess {
            rival
        } else {
            worst
        }
    })
}

/// As [`rival`], all that the trials find; the same one may be found twice.
pub fn rivals(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> Vec<Rival> {
    let tested = Tested::new(mixture, temperature, x, density, pressure);
    Trial::all(mixture, x)
        .filter_map(|trial| tested.rival(trial.start(mixture, temperature, x, pressure)))
        .collect()
}

/// Whether there is a [`rival`]; the search ends with the first.
pub fn is_unstable(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> bool {
    let tested = Tested::new(mixture, temperature, x, density, pressure);
    Trial::all(mixture, x).any(|trial| {
        let start = trial.start(mixture, temperature, x, pressure);
        tested.rival(start).is_some()
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

    /// Brings a trial nearer: its composition by substitution, its density by Newton's method
    /// towards the tested pressure.
    fn substitute(&self, trial: &mut [f64; MAX_COMPONENTS]) {
        let count = self.mixture.count();
        let start = MoleFractions::new(&trial[..count]);
        let reducing = self.mixture.at_composition(&start).reducing_density;
        let outward = if trial[..count].iter().sum::<f64>() > reducing {
            0.1
        } else {
            -0.3
        };
        for _ in 0..SUBSTITUTIONS {
            let at = self.mixture.potential(self.temperature, &trial[..count]);
            let (mut slope, mut size) = (0.0_f64, 0.0_f64);
            let mut next = [0.0; MAX_COMPONENTS];
            let sum: f64 = trial[..count].iter().sum();
            let mut total = 0.0;
            for i in 0..count {
                if trial[i] <= 0.0 {
                    continue;
                }
                let r = self.mixture.components()[i].record.gas_constant_j_mol_k;
                let mut own = r;
                for j in 0..count {
                    own += trial[j] * at.hessian[j][i];
                }
                slope += own * trial[i];
                let step = self.target[i] - trial[i].ln() - at.gradient[i] / r;
                next[i] = trial[i] * step.clamp(-LONGEST, LONGEST).exp();
                total += next[i];
            }
            let missing = self.pressure / self.temperature - at.pressure_over_temperature;
            // between the spinodals: back to the trial's own side
            let log = if slope > 0.0 {
                (missing / slope).clamp(-0.3, 0.3)
            } else {
                outward
            };
            let density = sum * log.exp();
            for i in 0..count {
                let changed = next[i] / total * density;
                if trial[i] > 0.0 {
                    size = size.max((changed / trial[i]).ln().abs());
                }
                trial[i] = changed;
            }
            if size.is_nan() || size < 1e-3 {
                return;
            }
        }
    }

    /// The phase that a trial settles on, where it is more stable.
    fn rival(&self, mut trial: [f64; MAX_COMPONENTS]) -> Option<Rival> {
        let count = self.mixture.count();
        let target = &self.target[..count];
        self.substitute(&mut trial);
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

/// What a trial starts from.
#[derive(Debug, Clone, Copy)]
enum Trial {
    /// The vapour over the phase tested, by Raoult's law.
    Vapor,
    /// The liquid under it.
    Liquid,
    /// A liquid with a share of one component beside what is tested.
    Rich(usize, f64),
}

impl Trial {
    fn all(mixture: &Mixture, x: &MoleFractions) -> impl Iterator<Item = Self> {
        let there: [bool; MAX_COMPONENTS] =
            std::array::from_fn(|k| k < mixture.count() && x[k] > 0.0);
        let rich = (0..mixture.count())
            .filter(move |&k| there[k])
            .flat_map(|k| RICH.map(|share| Self::Rich(k, share)));
        [Self::Vapor, Self::Liquid].into_iter().chain(rich)
    }

    /// Partial densities, mol/m3.
    fn start(
        self,
        mixture: &Mixture,
        temperature: f64,
        x: &MoleFractions,
        pressure: f64,
    ) -> [f64; MAX_COMPONENTS] {
        let count = mixture.count();
        let mut content = [0.0; MAX_COMPONENTS];
        for (i, component) in mixture.components().iter().enumerate() {
            let own = || component.ancillary.extended_pressure(temperature);
            content[i] = match self {
                _ if x[i] <= 0.0 => 0.0,
                Self::Vapor => x[i] * own(),
                Self::Liquid => x[i] / own(),
                Self::Rich(rich, share) if rich == i => share + (1.0 - share) * x[i],
                Self::Rich(_, share) => (1.0 - share) * x[i],
            };
        }
        let w = MoleFractions::new(&content[..count]);
        let density = match self {
            Self::Vapor => pressure / (mixture.at_composition(&w).gas_constant * temperature),
            _ => liquid_density(mixture, &w, temperature),
        };
        let mut trial = [0.0; MAX_COMPONENTS];
        for (n, w) in trial.iter_mut().zip(w.iter()) {
            *n = w * density;
        }
        trial
    }
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
