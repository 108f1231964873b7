//! Two phases of a blend at a temperature and pressure from two near them: brought nearer by substitution of
//! the ratios K_i = y_i / x_i (Rachford & Rice, J. Pet. Technol. 4 (1952) 19) and settled by Newton's method.

use super::bubble_dew::PhasePair;
use super::one_phase::{density_near_one, logarithms};
use super::split::{Sought, Split, split_within};
use super::stability::Rival;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::numeric::largest;

/// Substitutions before each attempt of Newton's method.
const SUBSTITUTIONS: [usize; 8] = [1, 3, 8, 12, 12, 12, 24, 24];
/// Steps of Newton's method in each: where it settles it mostly does in ten, and where it does not
/// substitutions go on.
const NEWTONS: [usize; 8] = [12, 12, 12, 12, 12, 12, 40, 40];
/// The attempt from which substitutions are halved: of a blend that has three phases two change
/// places for ever.
const HALVED: usize = 3;
/// Longest step of ln K in a substitution.
const LONGEST: f64 = 5.0;
/// ln K of no two phases.
const SENSELESS: f64 = 100.0;
/// Largest step of ln K of ratios that leave nothing of a phase and will not: at any time, and after so many
/// attempts. From next to a saddle they move away slowly at first.
const NONE: f64 = 1e-9;
const SMALL: f64 = 0.1;
const MANY: usize = 3;
/// How far ln K is led on at most along a step that substitutions repeat, in parts of it.
const LED_ON: f64 = 1.0;
/// Share of the blend in a phase that ratios leave nothing of, and of other components in one of one.
pub(super) const NEXT_TO_NOTHING: f64 = 1e-3;
/// Ratio of densities up to which two phases may change places.
const ALIKE: f64 = 1.3;

/// Newton's method from two phases, brought nearer by substitution. A rival of the blend has
/// its potentials but for the excess that it lies below the tangent plane, which ln K counts
/// too.
pub(super) fn settled(
    mixture: &Mixture,
    z: &MoleFractions,
    place: (f64, f64),
    [a, b]: [&Rival; 2],
) -> Option<Split> {
    let (temperature, pressure) = place;
    let count = mixture.count();
    let (thin, dense) = if a.density < b.density {
        (a, b)
    } else {
        (b, a)
    };
    let mut ratios = [0.0; MAX_COMPONENTS];
    for (k, ratio) in ratios.iter_mut().enumerate().take(count) {
        let log = (thin.x[k].max(1e-300) / dense.x[k].max(1e-300)).ln();
        *ratio = log + thin.excess - dense.excess;
    }
    let mut densities = [dense.density, thin.density];
    let sought = Sought::TemperaturePressure(temperature, pressure);
    let mut steps = [[0.0; MAX_COMPONENTS]; 2];
    for (attempt, substitutions) in SUBSTITUTIONS.into_iter().enumerate() {
        let part = if attempt < HALVED { 1.0 } else { 0.5 };
        let mut near = None;
        for _ in 0..substitutions {
            let shares = rachford_rice(z, &ratios)?;
            densities = [
                density_near_one(mixture, &shares.liquid, place, densities[0])?,
                density_near_one(mixture, &shares.vapor, place, densities[1])?,
            ];
            let of_liquid = logarithms(mixture, &shares.liquid, temperature, densities[0]);
            let of_vapor = logarithms(mixture, &shares.vapor, temperature, densities[1]);
            steps[0] = steps[1];
            for k in 0..count {
                let step = part * (of_liquid[k] - of_vapor[k]);
                steps[1][k] = step.clamp(-LONGEST, LONGEST);
                ratios[k] += steps[1][k];
            }
            let is_late = attempt >= MANY;
            let small = if is_late { SMALL } else { NONE };
            let is_one = !shares.is_split && largest(&steps[1][..count]) < small;
            if is_one || (is_late && largest(&ratios[..count]) > SENSELESS) {
                return None;
            }
            near = Some(shares);
        }
        let near = near?;
        let start = Split {
            vapor_fraction: near.vapor_fraction,
            pair: PhasePair {
                temperature,
                pressure,
                liquid: near.liquid,
                vapor: near.vapor,
                liquid_density: densities[0],
                vapor_density: densities[1],
                liquids: None,
                steps: 0,
                residual: f64::INFINITY,
            },
        };
        let newton = |start: &Split| split_within(NEWTONS[attempt], mixture, z, sought, start);
        // which of two dense phases has more moles a volume is not known before
        let other_way = || {
            let alike = densities[0] < ALIKE * densities[1];
            alike.then(|| newton(&swapped(&start))).flatten()
        };
        if let Some(found) = newton(&start).or_else(other_way) {
            return Some(found);
        }
        lead_on(&mut ratios[..count], &steps);
    }
    None
}

/// Leads ln K on along the last of two steps of substitutions, as far as all that would follow go where each
/// is a part of the one before: their slowest direction (Crowe & Nishio, AIChE J. 21 (1975) 528).
fn lead_on(ratios: &mut [f64], [before, last]: &[[f64; MAX_COMPONENTS]; 2]) {
    let count = ratios.len();
    let product = |a: &[f64]| -> f64 { a.iter().zip(before).map(|(a, b)| a * b).sum() };
    let part = product(&last[..count]) / product(&before[..count]);
    if part.is_nan() || part <= 0.0 {
        return;
    }
    let most = LED_ON * largest(ratios) / largest(&last[..count]);
    let all = if part < 1.0 {
        part / (1.0 - part)
    } else {
        most
    };
    for (ratio, step) in ratios.iter_mut().zip(last) {
        *ratio += all.min(most) * step;
    }
}

/// A split whose phases have changed places.
pub(super) fn swapped(split: &Split) -> Split {
    let pair = &split.pair;
    Split {
        vapor_fraction: 1.0 - split.vapor_fraction,
        pair: PhasePair {
            liquid: pair.vapor,
            vapor: pair.liquid,
            liquid_density: pair.vapor_density,
            vapor_density: pair.liquid_density,
            ..*pair
        },
    }
}

/// Two phases of a blend.
struct Shares {
    /// Of the vapor.
    vapor_fraction: f64,
    /// Whether the ratios leave some of each; else there is next to nothing of one.
    is_split: bool,
    liquid: MoleFractions,
    vapor: MoleFractions,
}

/// The phases of ratios ln K_i.
fn rachford_rice(z: &MoleFractions, logs: &[f64; MAX_COMPONENTS]) -> Option<Shares> {
    let count = z.len();
    let ratio = |k: usize| logs[k].clamp(-60.0, 60.0).exp();
    let sum = |beta: f64| -> f64 {
        (0..count)
            .map(|k| z[k] * (ratio(k) - 1.0) / (1.0 + beta * (ratio(k) - 1.0)))
            .sum()
    };
    let (mut low, mut high) = (0.0, 1.0);
    let is_split = sum(0.0) > 0.0 && sum(1.0) < 0.0;
    let beta = if sum(0.0) <= 0.0 {
        NEXT_TO_NOTHING
    } else if !is_split {
        1.0 - NEXT_TO_NOTHING
    } else {
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if sum(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    };
    let (mut x, mut y) = ([0.0; MAX_COMPONENTS], [0.0; MAX_COMPONENTS]);
    for k in 0..count {
        x[k] = z[k] / (1.0 + beta * (ratio(k) - 1.0));
        y[k] = x[k] * ratio(k);
    }
    let finite = x.iter().chain(&y).all(|value| value.is_finite());
    finite.then(|| Shares {
        vapor_fraction: beta,
        is_split,
        liquid: MoleFractions::new(&x[..count]),
        vapor: MoleFractions::new(&y[..count]),
    })
}
