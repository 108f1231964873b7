//! Whether a phase is stable: no other phase would lower the Helmholtz energy.
//!
//! A trial phase n with the chemical potentials of the tested one is a stationary point of the
//! distance between Psi and its tangent plane (Michelsen, Fluid Phase Equilib. 9 (1982) 1). In
//! densities that distance at a stationary point is p - p(n): the tested phase is unstable when a
//! trial of another density or composition has the higher pressure.

use super::bubble_dew::PhasePair;
use super::one_phase::{
    compressed, is_dense, is_liquid, liquid_density, one_phase_on, rises_between, rises_to,
};
use super::patient_trial::PatientTrial;
pub use super::rival::Rival;
use super::spinodal::{FAR, amounts, bends_more_than};
use super::trails::Trails;
use super::trial_phase::{
    Brought, End, GAS, Proof, RICH, RICH_BESIDE_GAS, Trial, is_wide, reduced,
};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::{largest, solve_linear};

const MOST_STEPS: usize = 40;
/// Steps after which one that is too long by so much is the last: of 54,000 trials of random blends that
/// settled 22 had such a one, of 38,000 that did not 10,000.
const FIRST_STEPS: usize = 5;
const TOO_LONG: f64 = 100.0;
/// Steps after which those left must reach where a trial would settle, where it may be followed patiently.
const SOME_STEPS: usize = 15;
/// A distance below the tangent plane, in units of R T a mole, that proves a rival before it is
/// settled.
const CLEAR: f64 = 1e-3;
/// Part of the reducing temperature below which a phase about the reducing density may be a loop of an
/// equation: the isotherm tells.
const LOOPS: f64 = 0.97;
/// Excess below which a trial counts as the tested phase itself or one in equilibrium with it.
const EQUAL: f64 = 1e-6;

/// Substitutions of a trial's composition at the tested pressure before Newton's method.
const SUBSTITUTIONS: usize = 6;
/// Longest step of a logarithm in a substitution.
const LONGEST: f64 = 3.0;
/// Distance from the density of the components' liquids within which a trial is a liquid, as a share
/// of it.
const PACKED: f64 = 0.15;
/// Smallest eigenvalues, as [`FAR`], from which the energy is convex all around a phase, of a liquid the
/// first alone...
const CONVEX: [f64; 3] = [0.2, 0.05, 0.0125];
/// ... as far as this part of them, in parts of its partial densities: a trial that comes so near settles
/// on it.
const BASIN: f64 = 0.1;
/// Part of its own vapor pressure that a component's fugacity exceeds where it may part from a blend
/// as a liquid of its own: water beside what does not dissolve it. Where activities are those of
/// refrigerants none does but one that is nearly alone.
const ALONE: f64 = 0.9;
/// Shares of one component between a liquid and those rich in it at which a spinodal between them is
/// looked for.
const BETWEEN: [f64; 3] = [RICH[0], RICH[1], 0.2];

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
    worst(rivals(mixture, temperature, x, density, pressure))
}

fn worst(rivals: Vec<Rival>) -> Option<Rival> {
    let by_excess = |a: &Rival, b: &Rival| a.excess.total_cmp(&b.excess);
    rivals.into_iter().max_by(by_excess)
}

/// As [`rival`], all that the trials find; the same one may be found twice.
pub fn rivals(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> Vec<Rival> {
    Tested::new(mixture, temperature, x, density, pressure).rivals()
}

/// As [`rival`], the first that the trials find.
pub fn first_rival(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> Option<Rival> {
    Tested::new(mixture, temperature, x, density, pressure).first()
}

/// Whether there is a [`rival`]; the search ends with the first.
pub fn is_unstable(
    mixture: &Mixture,
    temperature: f64,
    x: &MoleFractions,
    density: f64,
    pressure: f64,
) -> bool {
    Tested::new(mixture, temperature, x, density, pressure).is_unstable()
}

/// A [`rival`] of both phases of a pair, which have one potential; the vapour's pressure has all its
/// digits.
pub fn rival_of(mixture: &Mixture, pair: &PhasePair) -> Option<Rival> {
    worst(Tested::pair(mixture, pair).rivals())
}

/// As [`rival_of`], the first that the trials find.
pub(super) fn first_rival_of(mixture: &Mixture, pair: &PhasePair) -> Option<Rival> {
    Tested::pair(mixture, pair).first()
}

/// Whether there is a [`rival_of`] a pair.
pub fn pair_is_unstable(mixture: &Mixture, pair: &PhasePair) -> bool {
    Tested::pair(mixture, pair).is_unstable()
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
    tested.rival(amounts(trial.0, trial.1)).is_some()
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
    beside_gas: bool,
    /// Partial densities of the phases of these potentials that are known, where the energy is
    /// convex around them: a trial that comes to one of them is no rival.
    /// Beside each how far.
    known: [Option<([f64; MAX_COMPONENTS], f64)>; 2],
    /// The liquid among them, where it is far from its spinodal.
    liquid: Option<MoleFractions>,
    /// Whether a liquid of these potentials is not.
    may_be_parting: bool,
    trails: Trails,
}

/// Whether partial densities are those of a phase but for the width of its basin.
fn is_beside(phase: &[f64; MAX_COMPONENTS], trial: &[f64; MAX_COMPONENTS], width: f64) -> bool {
    let mut both = trial.iter().zip(phase).filter(|(_, own)| **own > 0.0);
    both.all(|(n, own)| (n / own - 1.0).abs() < width)
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
        let own = amounts(x, density);
        let at = mixture.potential(temperature, &own[..count]);
        let mut target = [0.0; MAX_COMPONENTS];
        for i in 0..count {
            let r = mixture.components()[i].record.gas_constant_j_mol_k;
            target[i] = own[i].max(1e-300).ln() + at.gradient[i] / r;
        }
        let fixed = mixture.at_composition(x);
        let dense = 1e-3 * density.min(fixed.reducing_density) * fixed.gas_constant * temperature;
        let mut tested = Self {
            mixture,
            temperature,
            x,
            density,
            pressure,
            target,
            scale: pressure.max(dense),
            beside_gas: reduced(mixture, x, temperature)
                .iter()
                .flatten()
                .any(|&own| own > GAS),
            known: [None; 2],
            liquid: None,
            may_be_parting: false,
            trails: Trails::default(),
        };
        tested.knows(0, x, density, &at.hessian);
        tested
    }

    /// Takes a phase of these potentials for known.
    fn knows(
        &mut self,
        place: usize,
        x: &MoleFractions,
        density: f64,
        hessian: &[[f64; MAX_COMPONENTS]; MAX_COMPONENTS],
    ) {
        let own = amounts(x, density);
        let bends = |least| bends_more_than(least, self.mixture, &own, hessian);
        if is_dense(self.mixture, x, density) {
            if bends(FAR) {
                self.liquid = Some(*x);
            } else {
                self.may_be_parting = true;
            }
        }
        // Newton's method may cross to a liquid that is nearly parting from where another lies
        let is_liquid = is_liquid(self.mixture, x, self.temperature, density);
        let levels = if is_liquid { &CONVEX[..1] } else { &CONVEX[..] };
        let convex = levels.iter().copied().find(|&least| bends(least));
        self.known[place] = convex.map(|least| (own, BASIN * least));
    }

    /// The vapor of a pair, with the liquid of the same potentials.
    fn pair(mixture: &'a Mixture, pair: &'a PhasePair) -> Self {
        let (t, p) = (pair.temperature, pair.pressure);
        let mut tested = Self::new(mixture, t, &pair.vapor, pair.vapor_density, p);
        let liquid = amounts(&pair.liquid, pair.liquid_density);
        let at = mixture.potential(t, &liquid[..mixture.count()]);
        tested.knows(1, &pair.liquid, pair.liquid_density, &at.hessian);
        tested
    }

    fn starts(&self) -> impl Iterator<Item = [f64; MAX_COMPONENTS]> {
        let mut alike = [false; MAX_COMPONENTS];
        if let Some(liquid) = self.liquid
            && !self.beside_gas
        {
            for (k, alike) in alike.iter_mut().enumerate().take(liquid.len()) {
                *alike = liquid[k] > 0.0 && self.is_alike(&liquid, k);
            }
        }
        let alone = (0..self.mixture.count()).filter(|&k| !self.beside_gas && self.may_part(k));
        Trial::all(self.mixture, self.x, self.temperature)
            .filter(move |trial| !matches!(trial, Trial::Rich(rich, _) if alike[*rich]))
            .chain(alone.map(|k| Trial::Rich(k, RICH_BESIDE_GAS)))
            .map(|trial| self.start(trial, self.x))
    }

    /// Whether a component has the fugacity of a liquid of its own.
    fn may_part(&self, k: usize) -> bool {
        let component = &self.mixture.components()[k];
        if self.x[k] <= 0.0 || self.temperature >= component.critical.temperature {
            return false;
        }
        let rt = component.record.gas_constant_j_mol_k * self.temperature;
        let own = component.ancillary.extended_pressure(self.temperature);
        self.target[k].exp() * rt > ALONE * own
    }

    fn start(&self, trial: Trial, x: &MoleFractions) -> [f64; MAX_COMPONENTS] {
        trial.start(self.mixture, self.temperature, x, self.pressure)
    }

    /// Whether no spinodal parts a liquid from those rich in a component: two liquids in
    /// equilibrium have one between them ([`is_far_from_parting`]).
    fn is_alike(&self, liquid: &MoleFractions, rich: usize) -> bool {
        BETWEEN.into_iter().all(|share| {
            let between = self.start(Trial::Rich(rich, share), liquid);
            let at = &between[..self.mixture.count()];
            let at = self.mixture.potential(self.temperature, at);
            bends_more_than(FAR, self.mixture, &between, &at.hessian)
        })
    }

    fn rivals(&self) -> Vec<Rival> {
        self.starts()
            .filter_map(|start| self.rival(start))
            .collect()
    }

    fn first(&self) -> Option<Rival> {
        self.starts().find_map(|start| self.rival(start))
    }

    fn is_unstable(&self) -> bool {
        self.starts().any(|start| self.is_beaten(start))
    }

    /// Whether a trial has come to a phase that is known.
    fn is_known(&self, trial: &[f64; MAX_COMPONENTS]) -> bool {
        let mut known = self.known.iter().flatten();
        known.any(|(known, width)| is_beside(known, trial, *width))
    }

    /// Brings a trial nearer: its composition by substitution, its density by Newton's method
    /// towards the tested pressure.
    ///
    /// What proves a rival on the way: the distance from the tangent plane, in units of R T a mole,
    /// is one at any partial densities n,
    ///
    /// ```text
    /// D = (sum_i n_i (mu_i(n) - mu_i) - (p(n) - p)) / (n R T)
    /// ```
    fn substitute(&self, trial: &mut [f64; MAX_COMPONENTS]) -> Brought {
        let mut proof: Option<Proof> = None;
        let count = self.mixture.count();
        let start = MoleFractions::new(&trial[..count]);
        let reducing = self.mixture.at_composition(&start).reducing_density;
        let outward = if trial[..count].iter().sum::<f64>() > reducing {
            0.1
        } else {
            -0.3
        };
        self.trails.begin();
        for _ in 0..SUBSTITUTIONS {
            if self.is_known(trial) || self.trails.meet(trial) {
                return Brought::Known;
            }
            self.trails.leave(trial);
            let at = self.mixture.potential(self.temperature, &trial[..count]);
            let (mut slope, mut size) = (0.0_f64, 0.0_f64);
            let mut next = [0.0; MAX_COMPONENTS];
            let sum: f64 = trial[..count].iter().sum();
            let (mut total, mut potentials, mut gas) = (0.0, 0.0, 1.0);
            for i in 0..count {
                if trial[i] <= 0.0 {
                    continue;
                }
                let r = self.mixture.components()[i].record.gas_constant_j_mol_k;
                let mut own = r;
                for (n, row) in trial[..count].iter().zip(&at.hessian) {
                    own += n * row[i];
                }
                slope += own * trial[i];
                gas = r;
                let step = self.target[i] - trial[i].ln() - at.gradient[i] / r;
                potentials += trial[i] * r * step;
                next[i] = trial[i] * step.clamp(-LONGEST, LONGEST).exp();
                total += next[i];
            }
            let missing = self.pressure / self.temperature - at.pressure_over_temperature;
            let depth = (potentials - missing) / (sum * gas);
            let deeper = proof.is_none_or(|proof| depth > proof.depth);
            if depth > CLEAR && slope > 0.0 && deeper && self.is_sound(trial) {
                proof = Some(Proof {
                    trial: *trial,
                    depth,
                });
                if self.is_thin(trial) {
                    return Brought::Near(proof);
                }
            }
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
                break;
            }
        }
        Brought::Near(proof.filter(|proof| self.is_at_pressure(&proof.trial)))
    }

    /// The phase that a trial settles on, where it is more stable.
    fn rival(&self, start: [f64; MAX_COMPONENTS]) -> Option<Rival> {
        let mut trial = start;
        let count = self.mixture.count();
        let Brought::Near(proof) = self.substitute(&mut trial) else {
            return None;
        };
        let end = self.settle(&mut trial);
        let settled = matches!(end, End::Settled);
        let excess = settled.then(|| self.excess(&trial)).flatten();
        let depth = match (excess, proof) {
            (Some(excess), _) => excess,
            (None, Some(proof)) => {
                trial = proof.trial;
                proof.depth
            }
            (None, None) if matches!(end, End::Known) => return None,
            (None, None) => {
                let depth;
                (trial, depth) = self.patiently(start)?;
                depth
            }
        };
        let sum: f64 = trial[..count].iter().sum();
        if !sum.is_finite() || !depth.is_finite() {
            return None;
        }
        let x = MoleFractions::new(&trial[..count]);
        let dense = is_dense(self.mixture, &x, sum);
        let density = one_phase_on(self.mixture, &x, self.temperature, self.pressure, dense);
        Some(Rival {
            x,
            density: density.unwrap_or(sum),
            excess: depth,
        })
    }

    /// How far below the tangent plane a settled trial lies; `None` where it is no other phase or
    /// not below.
    fn excess(&self, trial: &[f64; MAX_COMPONENTS]) -> Option<f64> {
        let count = self.mixture.count();
        let sum: f64 = trial[..count].iter().sum();
        let x = MoleFractions::new(&trial[..count]);
        let there = self.mixture.at_composition(&x);
        let found = there.isotherm(self.temperature).pressure(sum);
        let same = (sum / self.density - 1.0).abs() < 1e-4
            && x.iter()
                .zip(self.x.iter())
                .all(|(a, b)| (a - b).abs() < 1e-4);
        let above = found - self.pressure;
        (!same && above / self.scale > EQUAL && self.is_phase(trial))
            .then(|| above / (sum * there.gas_constant * self.temperature))
    }

    /// Whether a trial proves a rival, settled or not.
    fn is_beaten(&self, start: [f64; MAX_COMPONENTS]) -> bool {
        let mut trial = start;
        match self.substitute(&mut trial) {
            Brought::Known => false,
            Brought::Near(Some(_)) => true,
            Brought::Near(None) => match self.settle(&mut trial) {
                End::Known => false,
                End::Settled if self.excess(&trial).is_some() => true,
                End::Settled | End::Lost => self.patiently(start).is_some(),
            },
        }
    }

    /// Where substitution alone brings a trial that Newton's method has lost, and how far that lies
    /// below the tangent plane: beside a gas or what hardly dissolves, spinodals lie between.
    fn patiently(&self, start: [f64; MAX_COMPONENTS]) -> Option<([f64; MAX_COMPONENTS], f64)> {
        let trial = PatientTrial {
            mixture: self.mixture,
            temperature: self.temperature,
            pressure: self.pressure,
            target: &self.target,
        };
        if !self.is_hard() {
            return None;
        }
        self.trails
            .patiently(|trail| trial.settled(start, trail, |at| self.is_known(at)))
    }

    /// Whether a trial that Newton's method loses is followed patiently.
    fn is_hard(&self) -> bool {
        self.beside_gas
            || self.may_be_parting
            || is_wide(self.mixture, self.x)
            || (0..self.mixture.count()).any(|k| self.may_part(k))
    }

    /// Newton's method in ln n_i towards ln n_i + G_i / R_i = target.
    fn settle(&self, trial: &mut [f64; MAX_COMPONENTS]) -> End {
        let count = self.mixture.count();
        let is_hard = self.is_hard();
        for step in 0..MOST_STEPS {
            if self.is_known(trial) {
                return End::Known;
            }
            let at = self.mixture.potential(self.temperature, &trial[..count]);
            let mut matrix = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
            let mut right = [0.0; MAX_COMPONENTS];
            for i in 0..count {
                let inverse_r = 1.0 / self.mixture.components()[i].record.gas_constant_j_mol_k;
                if trial[i] <= 0.0 {
                    matrix[i][i] = 1.0;
                    continue;
                }
                right[i] = self.target[i] - trial[i].ln() - at.gradient[i] * inverse_r;
                for j in 0..count {
                    matrix[i][j] = at.hessian[i][j] * trial[j] * inverse_r;
                }
                matrix[i][i] += 1.0;
            }
            if !solve_linear(&mut matrix, &mut right, count) {
                return End::Lost;
            }
            let size = largest(&right[..count]);
            // farther than the steps that are left
            let is_far = is_hard && step >= SOME_STEPS && size > 0.5 * (MOST_STEPS - step) as f64;
            if is_far || (step >= FIRST_STEPS && size > TOO_LONG) {
                return End::Lost;
            }
            let shrink = if size > 0.5 { 0.5 / size } else { 1.0 };
            for i in 0..count {
                trial[i] *= (shrink * right[i]).exp();
            }
            if size < 1e-9 {
                return End::Settled;
            }
        }
        End::Lost
    }

    /// Whether a trial is a gas.
    fn is_thin(&self, trial: &[f64; MAX_COMPONENTS]) -> bool {
        let trial = &trial[..self.mixture.count()];
        let there = self.mixture.at_composition(&MoleFractions::new(trial));
        let sum = trial.iter().sum::<f64>();
        sum < 0.5 * there.reducing_density && rises_to(&there.isotherm(self.temperature), sum)
    }

    /// Whether a trial is a gas or, beside a gas, a liquid as dense as its components' liquids,
    /// where no loop of an equation lies: there it proves a rival before it is settled.
    fn is_sound(&self, trial: &[f64; MAX_COMPONENTS]) -> bool {
        if self.is_thin(trial) {
            return true;
        }
        if !self.beside_gas {
            return false;
        }
        let trial = &trial[..self.mixture.count()];
        let sum = trial.iter().sum::<f64>();
        let x = MoleFractions::new(trial);
        let there = self.mixture.at_composition(&x);
        let packed = liquid_density(self.mixture, &x, self.temperature);
        (sum / packed - 1.0).abs() < PACKED
            && sum > 1.4 * there.reducing_density
            && there.isotherm(self.temperature).pressure_slope(sum).1 > 0.0
    }

    /// Whether a dense trial is on the branch of a liquid of the tested pressure: what is no phase
    /// there proves nothing.
    fn is_at_pressure(&self, trial: &[f64; MAX_COMPONENTS]) -> bool {
        let trial = &trial[..self.mixture.count()];
        let sum = trial.iter().sum::<f64>();
        let x = MoleFractions::new(trial);
        let there = self.mixture.at_composition(&x);
        let isotherm = there.isotherm(self.temperature);
        let (t, p) = (self.temperature, self.pressure);
        compressed(self.mixture, &x, &isotherm, t, p)
            .is_some_and(|own| rises_between(&isotherm, own.min(sum), own.max(sum)))
    }

    /// Whether a component's equation has loops up to its critical point: non-analytic terms make them.
    fn loops_to_the_top(&self) -> bool {
        let mut there = self.mixture.components().iter().zip(self.x.iter());
        there.any(|(one, x)| *x > 0.0 && one.record.residual.non_analytic.is_some())
    }

    /// Whether partial densities are those of a phase: on a rising isotherm, and not in a loop
    /// that reference equations have inside the two-phase region, which means nothing.
    fn is_phase(&self, trial: &[f64; MAX_COMPONENTS]) -> bool {
        let count = self.mixture.count();
        let sum: f64 = trial[..count].iter().sum();
        let there = self
            .mixture
            .at_composition(&MoleFractions::new(&trial[..count]));
        let isotherm = there.isotherm(self.temperature);
        let (_, slope) = isotherm.pressure_slope(sum);
        if sum < 0.7 * there.reducing_density && !rises_to(&isotherm, sum) {
            return false;
        }
        if slope.is_nan() || slope <= 0.0 {
            return false;
        }
        if sum < 0.7 * there.reducing_density {
            return true;
        }
        let part = self.temperature / there.reducing_temperature;
        if part >= LOOPS && !self.loops_to_the_top() {
            return true;
        }
        // on the branch of a gas or on that of a liquid, and not in a loop between them
        let x = MoleFractions::new(&trial[..count]);
        let packed = liquid_density(self.mixture, &x, self.temperature);
        let is_packed = sum > packed || rises_between(&isotherm, sum, packed);
        is_packed || rises_between(&isotherm, 0.0, sum)
    }
}
