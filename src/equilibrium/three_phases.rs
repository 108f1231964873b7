//! Three phases, a vapor over two liquids, and where Newton's method for them
//! ([`super::vapor_over_liquids`]) starts.

use super::bubble_dew::PhasePair;
use super::one_phase::{density_near_one, is_liquid, logarithms};
use super::phase_pair::TwoLiquids;
use super::split::{Fixed, Sought, Split};
use super::stability::{Rival, is_unstable};
use super::vapor_over_liquids::{Known, settle, slope};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::solve_linear;

const MOST_STEPS: usize = 60;
/// Amount of a third phase from which the amounts of all are sought, the least of any, and how nearly.
const LITTLE: f64 = 0.1;
const LEAST: f64 = 1e-4;
const NEARLY: f64 = 1e-3;
/// Substitutions before each further attempt of Newton's method, and the longest step of a logarithm in one.
const SUBSTITUTIONS: [usize; 4] = [2, 6, 12, 24];
const LONGEST: f64 = 5.0;

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
    pub(super) steps: usize,
    pub(super) residual: f64,
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
        found.filter(|found| !is_proof || found.is_stable(mixture))
    }

    /// As [`ThreePhases::of`], stable ones, from phases so near that Newton's method alone leads there.
    pub(super) fn beside_these(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        (temperature, pressure): (f64, f64),
    ) -> Option<Self> {
        let near = Self {
            temperature,
            pressure,
            ..*self
        };
        near.settled(
            mixture,
            z,
            Sought::TemperaturePressure(temperature, pressure),
        )
        .filter(|found| found.is_stable(mixture))
    }

    /// Whether the first of the phases is a gas, and not one more liquid.
    pub(super) fn has_gas(&self, mixture: &Mixture) -> bool {
        let (x, density) = &self.phases[0];
        !is_liquid(mixture, x, self.temperature, *density)
    }

    fn is_stable(&self, mixture: &Mixture) -> bool {
        let (vapor, density) = &self.phases[0];
        !is_unstable(mixture, self.temperature, vapor, *density, self.pressure)
    }

    /// Newton's method from these phases to what is sought, stable or not.
    pub(super) fn settled(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        sought: Sought,
    ) -> Option<Self> {
        settle(mixture, z, Known::Two(sought), self)
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

    /// Two phases, the liquid of which parts in two: a start.
    pub(super) fn with_parted(split: &Split, parted: &Split) -> Self {
        let vapor = (split.pair.vapor, split.pair.vapor_density);
        let mut start = Self::over(parted, vapor);
        start.vapor_fraction = split.vapor_fraction;
        start
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

    /// Two liquids and a vapor of mole fractions and a density, mol/m3.
    pub(super) fn over(liquids: &Split, vapor: (MoleFractions, f64)) -> Self {
        let pair = &liquids.pair;
        let a = (pair.liquid, pair.liquid_density);
        let b = (pair.vapor, pair.vapor_density);
        let place = (pair.temperature, pair.pressure);
        Self::start(place, [vapor, a, b], (0.0, liquids.vapor_fraction))
    }

    /// Both liquids without the vapor, that of more moles a volume first.
    pub(super) fn liquids(&self) -> Split {
        let [_, mut first, mut second] = self.phases;
        let mut share = self.share;
        if first.1 < second.1 {
            (first, second, share) = (second, first, 1.0 - share);
        }
        let ((liquid, liquid_density), (vapor, vapor_density)) = (first, second);
        Split {
            vapor_fraction: share,
            pair: PhasePair {
                temperature: self.temperature,
                pressure: self.pressure,
                liquid,
                vapor,
                liquid_density,
                vapor_density,
                liquids: None,
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

    /// The three phases of a bubble point over two liquids.
    pub(crate) fn at_bubble_point(pair: &PhasePair) -> Option<Self> {
        let TwoLiquids { phases, share, .. } = pair.liquids?;
        let [a, b] = phases;
        let phases = [(pair.vapor, pair.vapor_density), a, b];
        let place = (pair.temperature, pair.pressure);
        Some(Self::start(place, phases, (0.0, share)))
    }

    /// The bubble point at a temperature or a pressure by Newton's method from these phases, stable or not.
    pub(super) fn bubble_point(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        fixed: Fixed,
    ) -> Option<PhasePair> {
        let found = settle(mixture, z, Known::BubblePoint(fixed), self)?;
        let [(vapor, vapor_density), a, b] = found.phases;
        Some(PhasePair {
            temperature: found.temperature,
            pressure: found.pressure,
            liquid: *z,
            vapor,
            liquid_density: 1.0 / ((1.0 - found.share) / a.1 + found.share / b.1),
            vapor_density,
            liquids: Some(TwoLiquids {
                phases: [a, b],
                share: found.share,
                are_all: true,
            }),
            steps: found.steps,
            residual: found.residual,
        })
    }

    /// The same where its vapor is stable.
    pub(super) fn stable_bubble_point(
        &self,
        mixture: &Mixture,
        z: &MoleFractions,
        fixed: Fixed,
    ) -> Option<PhasePair> {
        let found = self.bubble_point(mixture, z, fixed)?;
        let (rho, p) = (found.vapor_density, found.pressure);
        (!is_unstable(mixture, found.temperature, &found.vapor, rho, p)).then_some(found)
    }

    /// dp/dT, Pa/K, along the bubble line at a bubble point.
    pub(super) fn line_slope(&self, mixture: &Mixture, z: &MoleFractions) -> Option<f64> {
        slope(mixture, z, self)
    }
}

/// Moles of each phase a mole of blend.
pub(super) fn parts(vapor_fraction: f64, share: f64) -> [f64; 3] {
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

/// Partial densities, mol/m3, none of them 0.
pub(super) fn amounts(x: &MoleFractions, density: f64) -> [f64; MAX_COMPONENTS] {
    let mut amounts = [0.0; MAX_COMPONENTS];
    for (amount, x) in amounts.iter_mut().zip(x.iter()) {
        *amount = (x * density).max(1e-300);
    }
    amounts
}
