//! By the vapor's share of the mass, where nothing quicker leads to it: along an isobar or an isotherm quality
//! may rise and fall again, and where one phase begins it may jump.

use super::BlendSolver;
use super::brackets::{Look, Looks, edge, one_of};
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::split::Fixed;
use crate::equilibrium::{EquilibriumState, Phases, QUALITY_MET};
use crate::error::Error;

/// Points of a line that are looked at before it is closed in.
const LOOKS: u32 = 60;
/// The least of them where a part of the line is looked at.
const LEAST_LOOKS: u32 = 4;
/// Part of the reducing density below which a gas is thin.
const A_GAS: f64 = 0.1;
/// How far in ln p or ln T beside a line a look begins.
const BESIDE_A_LINE: f64 = 1e-3;
/// Parts of a stretch at which a turn of the quality is looked for.
const TURN: [f64; 7] = [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875];
/// How often that stretch is narrowed.
const TURNS: usize = 3;

impl BlendSolver<'_> {
    /// By the vapor's share of the mass along an isobar or an isotherm.
    pub(super) fn bracketed_quality(&self, fixed: Fixed, quality: f64) -> Option<EquilibriumState> {
        let find = || self.bracketed_quality_of(Looks::Marked, fixed, quality);
        self.quickly(find, |found| {
            (found.quality() - quality).abs() < QUALITY_MET
        })
    }

    /// The same of some states only.
    pub(super) fn bracketed_quality_of(
        &self,
        looks: Looks,
        fixed: Fixed,
        quality: f64,
    ) -> Option<EquilibriumState> {
        if looks == Looks::OneLiquid {
            return None;
        }
        let error = |state: &EquilibriumState| match &state.phases {
            Phases::Two { .. } | Phases::Three { .. } => quality - state.quality(),
            Phases::Liquids { .. } => quality,
            Phases::Single(phase, _) if phase.density > self.fixed.reducing_density => quality,
            Phases::Single(..) => quality - 1.0,
        };
        // of two temperatures or pressures the lower
        let dew = self.end(Branch::Dew, fixed);
        let extent = self.extent(fixed);
        let (extent, count) = match fixed {
            // to the gas just above the dew point, where that is found: a thin one stays one the hotter it is
            Fixed::Pressure(_) => {
                let (hot, cold) = extent;
                let is_thin = |density: f64| density < A_GAS * self.fixed.reducing_density;
                let at_coldest = || Some(one_of(&self.as_one(fixed, cold, false)?)?.density);
                let gas = match dew {
                    Ok(dew) if is_thin(dew.vapor_density) => {
                        -dew.temperature * (1.0 + BESIDE_A_LINE)
                    }
                    Err(Error::BelowRange { .. }) if at_coldest().is_some_and(is_thin) => {
                        return None;
                    }
                    _ => hot,
                };
                let end = gas.clamp(hot, cold);
                let looks = f64::from(LOOKS) * (cold - end) / (cold - hot);
                ((cold, end), (looks.ceil() as u32).max(LEAST_LOOKS))
            }
            // from the gas just below it
            Fixed::Temperature(_) => {
                let (low, high) = extent;
                let gas = dew.map_or(low, |dew| dew.pressure.ln() - BESIDE_A_LINE);
                ((gas.max(low), high), LOOKS)
            }
        };
        let sought = fixed.with_quality(quality);
        let look = |at: f64| Look::of(at, self.along(looks, fixed, at)?, error);
        // where one phase begins quality may jump past what is sought
        let is_met = |found: &EquilibriumState| error(found).abs() < QUALITY_MET;
        let close = |ends| self.closed(&look, &error, ends, sought).filter(is_met);
        at_a_crossing(&look, extent, count, close)
    }
}

/// What the first crossing leads to, of a line on which quality may fall and rise: between looks, and
/// where three of them say that it turns.
fn at_a_crossing(
    look: &impl Fn(f64) -> Option<Look>,
    (low, high): (f64, f64),
    looks: u32,
    close: impl Fn((Look, Look)) -> Option<EquilibriumState>,
) -> Option<EquilibriumState> {
    let at = |k| low + (high - low) * f64::from(k) / f64::from(looks);
    let (mut before, mut here) = (None, look(low));
    for k in 1..=looks {
        let next = look(at(k));
        let ends = match (here, next) {
            (Some(here), Some(next)) if here.error * next.error <= 0.0 => Some((here, next)),
            // where answers end
            (Some(here), None) => beyond(look, here, at(k)),
            (None, Some(next)) => beyond(look, next, at(k - 1)),
            _ => None,
        };
        let about = |three: [Option<Look>; 3]| {
            let [Some(a), Some(b), Some(c)] = three else {
                return None;
            };
            let turned = turn(look, [a, b, c])?;
            Some([(a, turned), (turned, c)])
        };
        // a turn within the last stretch shows by its middle
        let is_last = k == looks;
        let middle = || is_last.then(|| look(0.5 * (at(k - 1) + at(k)))).flatten();
        let turned = about([before, here, next]).or_else(|| about([here, middle(), next]));
        let mut all = ends.into_iter().chain(turned.into_iter().flatten());
        let found = all.find_map(|(a, b)| close(if a.error > b.error { (b, a) } else { (a, b) }));
        if found.is_some() {
            return found;
        }
        (before, here) = (here, next);
    }
    None
}

/// A point beyond what is sought where the errors of three turn next to it.
fn turn(look: &impl Fn(f64) -> Option<Look>, [a, b, c]: [Look; 3]) -> Option<Look> {
    let sign = b.error.signum();
    let off = |look: &Look| sign * look.error;
    let turns = off(&b) <= off(&a) && off(&b) <= off(&c) && off(&a).min(off(&c)) > 0.0;
    // a parabola's vertex lies below the lowest of three points by a quarter of what they differ by
    let turns = turns && off(&b) < off(&a).max(off(&c)) - off(&b);
    if !turns {
        return None;
    }
    let (mut low, mut high) = (a.at, c.at);
    for _ in 0..TURNS {
        let places = TURN.map(|part| low + part * (high - low));
        let nearest = places
            .into_iter()
            .filter_map(look)
            .reduce(|a, b| if off(&b) < off(&a) { b } else { a })?;
        if off(&nearest) <= 0.0 {
            return Some(nearest);
        }
        let width = TURN[0] * (high - low);
        (low, high) = (nearest.at - width, nearest.at + width);
    }
    None
}

/// A point of the other sign next to where answers end.
fn beyond(
    look: &impl Fn(f64) -> Option<Look>,
    here: Look,
    unanswered: f64,
) -> Option<(Look, Look)> {
    let is_other = |look: &Look| look.error * here.error <= 0.0;
    Some((here, edge(look, here.at, unanswered, is_other)?))
}
