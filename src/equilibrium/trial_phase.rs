//! What a trial phase of the stability test starts from, and where it ends.

use super::one_phase::liquid_density;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};

/// Share of one component in the liquids that trials start from.
pub(super) const RICH: [f64; 2] = [0.9, 0.45];
/// As [`RICH`], beside a gas: of one that is far above its critical temperature a liquid holds next
/// to nothing.
pub(super) const RICH_BESIDE_GAS: f64 = 0.999_999;
/// Reduced temperature from which a component is such a gas.
pub(super) const GAS: f64 = 1.3;

/// Ratio of critical temperatures from which components may part at low temperatures.
const WIDE: f64 = 1.7;

/// Whether components differ so much that a gas dissolves in the others like one.
pub(super) fn is_wide(mixture: &Mixture, x: &MoleFractions) -> bool {
    let criticals = || {
        let there = mixture.components().iter().zip(x.iter());
        there.filter_map(|(one, x)| (*x > 0.0).then_some(one.critical.temperature))
    };
    let highest = criticals().fold(0.0, f64::max);
    criticals().any(|one| highest > WIDE * one)
}

/// Of each component its reduced temperature, where it is there.
pub(super) fn reduced(
    mixture: &Mixture,
    x: &MoleFractions,
    temperature: f64,
) -> [Option<f64>; MAX_COMPONENTS] {
    let mut reduced = [None; MAX_COMPONENTS];
    for (k, component) in mixture.components().iter().enumerate() {
        reduced[k] = (x[k] > 0.0).then(|| temperature / component.critical.temperature);
    }
    reduced
}

/// What a trial starts from.
#[derive(Debug, Clone, Copy)]
pub(super) enum Trial {
    /// The vapour over the phase tested, by Raoult's law.
    Vapor,
    /// The liquid under it.
    Liquid,
    /// A liquid with a share of one component beside what is tested.
    Rich(usize, f64),
    /// Next to nothing but a component that is a gas.
    Gas(usize),
}

impl Trial {
    pub(super) fn all(
        mixture: &Mixture,
        x: &MoleFractions,
        temperature: f64,
    ) -> impl Iterator<Item = Self> + use<> {
        let reduced = reduced(mixture, x, temperature);
        let there = move |k: &usize| reduced[*k].is_some();
        let beside_gas = reduced.iter().flatten().any(|&reduced| reduced > GAS);
        let condenses = move |k: &usize| beside_gas && reduced[*k].is_some_and(|own| own < 1.0);
        let all = 0..mixture.count();
        let rich = all.clone().filter(there);
        let rich = rich.flat_map(|k| RICH.map(|share| Self::Rich(k, share)));
        let alone = all.clone().filter(condenses);
        let alone = alone.map(|k| Self::Rich(k, RICH_BESIDE_GAS));
        let is_gas = move |k: &usize| reduced[*k].is_some_and(|own| own > GAS);
        let gases = all.filter(is_gas).map(Self::Gas);
        [Self::Vapor, Self::Liquid]
            .into_iter()
            .chain(rich)
            .chain(alone)
            .chain(gases)
    }

    /// Partial densities, mol/m3.
    pub(super) fn start(
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
                Self::Gas(gas) if gas == i => 1.0,
                Self::Gas(_) => (1.0 - RICH_BESIDE_GAS) * x[i],
            };
        }
        let w = MoleFractions::new(&content[..count]);
        let density = match self {
            Self::Vapor | Self::Gas(_) => {
                pressure / (mixture.at_composition(&w).gas_constant * temperature)
            }
            _ => liquid_density(mixture, &w, temperature),
        };
        let mut trial = [0.0; MAX_COMPONENTS];
        for (n, w) in trial.iter_mut().zip(w.iter()) {
            *n = w * density;
        }
        trial
    }
}

/// A trial that proves a rival before it is settled.
#[derive(Clone, Copy)]
pub(super) struct Proof {
    pub(super) trial: [f64; MAX_COMPONENTS],
    /// How far it lies below the tangent plane, in units of R T a mole.
    pub(super) depth: f64,
}

/// Where substitution brings a trial.
pub(super) enum Brought {
    /// To a phase that is known.
    Known,
    /// Nearer, with what proved a rival on the way.
    Near(Option<Proof>),
}

/// Where Newton's method brings a trial.
pub(super) enum End {
    /// To a phase that is known.
    Known,
    /// To a stationary point.
    Settled,
    Lost,
}
