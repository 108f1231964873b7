//! A point of a line followed from rival to rival until none is left.

use super::bubble_dew::{self, Branch, PhasePair};
use super::bubble_over_liquids::bubble_over_two_liquids;
use super::one_phase::is_liquid;
use super::stability::{Rival, pair_is_unstable, rival, rival_of};
use crate::error::Result;
use crate::helmholtz::{Mixture, MoleFractions};

/// Rivals followed before a point is given up.
const MOST_RIVALS: usize = 6;

/// A point whose phases are stable, where the liquid splits in two or a dew point was lost. What was found
/// to be more stable than a point is not sought again.
pub(super) fn followed(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
    found: Result<PhasePair>,
    known: Option<&(PhasePair, Rival)>,
) -> Result<PhasePair> {
    let mut pair = found.or_else(|error| {
        if branch == Branch::Bubble {
            return Err(error);
        }
        // A dew point lost between two liquids: the vapour just below the bubble pressure shows
        // which liquid it would drop.
        let bubble = bubble_dew::at_temperature(mixture, z, Branch::Bubble, temperature, None)?;
        [1.0, 0.95, 0.8, 0.6, 0.4]
            .into_iter()
            .find_map(|part| {
                let density = part * bubble.vapor_density;
                let pressure = mixture
                    .at_composition(z)
                    .isotherm(temperature)
                    .pressure(density);
                let drop = rival(mixture, temperature, z, density, pressure)?;
                let start = PhasePair {
                    liquid: drop.x,
                    liquid_density: drop.density,
                    vapor: *z,
                    vapor_density: 0.8 * density,
                    ..bubble
                };
                bubble_dew::near_at_temperature(mixture, z, branch, temperature, &start)
            })
            .ok_or(error)
    })?;
    for _ in 0..MOST_RIVALS {
        let already = known.filter(|(own, _)| *own == pair);
        let rival = already.map_or_else(|| rival_of(mixture, &pair), |(_, rival)| Some(*rival));
        let Some(rival) = rival else {
            return Ok(pair);
        };
        let liquid = is_liquid(mixture, &rival.x, temperature, rival.density);
        let better = match (branch, liquid) {
            (Branch::Bubble, true) => {
                // the blend itself as a denser or lighter liquid, or two liquids
                let other = PhasePair {
                    liquid_density: rival.density,
                    ..pair
                };
                let other =
                    bubble_dew::near_at_temperature(mixture, z, branch, temperature, &other)
                        .filter(|other| rival_of(mixture, other).is_none());
                if let Some(other) = other {
                    return Ok(other);
                }
                // a third liquid may belong beside them
                let both = bubble_over_two_liquids(mixture, z, &pair, &rival).map(|mut both| {
                    if pair_is_unstable(mixture, &both)
                        && let Some(liquids) = &mut both.liquids
                    {
                        liquids.are_all = false;
                    }
                    both
                });
                return both.ok_or_else(|| bubble_dew::not_found(branch, "temperature"));
            }
            (Branch::Bubble, false) => PhasePair {
                vapor: rival.x,
                vapor_density: rival.density,
                ..pair
            },
            (Branch::Dew, _) => PhasePair {
                liquid: rival.x,
                liquid_density: rival.density,
                // the drop appears at the lower pressure
                vapor_density: pair.vapor_density * 0.8,
                ..pair
            },
        };
        pair = bubble_dew::near_at_temperature(mixture, z, branch, temperature, &better)
            .ok_or_else(|| bubble_dew::not_found(branch, "temperature"))?;
    }
    Err(bubble_dew::not_found(branch, "temperature"))
}
