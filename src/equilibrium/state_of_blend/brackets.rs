//! Where nothing quicker leads to a state: from temperature and pressure alone.
//!
//! The phases at a temperature and pressure are settled by the lines and by stability. On an
//! isobar enthalpy and entropy rise with temperature, on an isotherm entropy falls and density
//! rises with pressure, and at constant entropy enthalpy rises with temperature, in one phase and
//! in two: between two answered points on either side the one sought is closed in, past points
//! that have no answer. In two phases the last steps are Newton's.

use super::{BlendSolver, SLACK};
use crate::equilibrium::bubble_dew::PhasePair;
use crate::equilibrium::split::{Fixed, Sought, Split, split};
use crate::equilibrium::{EquilibriumState, MolarGiven, Phases, Property};
use crate::error::Result;

/// Points of a line that are looked at before it is closed in.
const LOOKS: u32 = 12;
/// The same by quality, which may rise and fall again along the line.
const LOOKS_BY_QUALITY: u32 = 60;
/// Halvings towards the end of what has an answer.
const HALVINGS: u32 = 40;
/// Most points looked at in closing in.
const MOST: u32 = 90;
/// Relative width at which closing in ends.
const CLOSED: f64 = 1e-14;
/// Relative width below which two phases are handed to Newton's method.
const NEWTONS: f64 = 0.02;
/// What a quality found may miss.
const QUALITY_MET: f64 = 1e-9;
/// Lowest pressure that is looked at, Pa.
const LOWEST: f64 = 1e-2;

/// A point of the line: the place on it, the state there, and how far its property is off.
struct Look {
    at: f64,
    state: EquilibriumState,
    error: f64,
}

impl BlendSolver<'_> {
    /// The state of a pair of properties from brackets; `None` where nothing closes.
    pub(super) fn by_brackets(&self, given: MolarGiven) -> Option<EquilibriumState> {
        use MolarGiven::*;
        match given {
            PressureEnthalpy(p, h) => self.bracketed(Fixed::Pressure(p), Property::Enthalpy, h),
            PressureEntropy(p, s) => self.bracketed(Fixed::Pressure(p), Property::Entropy, s),
            PressureDensity(p, rho) => self.bracketed(Fixed::Pressure(p), Property::Density, rho),
            TemperatureEntropy(t, s) => self.bracketed(Fixed::Temperature(t), Property::Entropy, s),
            TemperatureDensity(t, rho) => {
                self.bracketed(Fixed::Temperature(t), Property::Density, rho)
            }
            EnthalpyEntropy(h, s) => self.bracketed_at_entropy(h, s),
            _ => None,
        }
    }

    /// By a property along an isobar or an isotherm.
    pub(super) fn bracketed(
        &self,
        fixed: Fixed,
        property: Property,
        target: f64,
    ) -> Option<EquilibriumState> {
        // with temperature only density falls, with pressure only entropy
        let falls = match fixed {
            Fixed::Pressure(_) => property == Property::Density,
            Fixed::Temperature(_) => property == Property::Entropy,
        };
        let sign = if falls { -1.0 } else { 1.0 };
        self.close_in(
            |at| self.stable_along(fixed, at).ok(),
            |state| sign * (property.of(state) - target),
            self.extent(fixed),
            fixed.with_property(property, target),
        )
        .filter(|found| property.is_met(found, target))
    }

    /// By the vapor's share of the mass along an isobar or an isotherm.
    pub(super) fn bracketed_quality(&self, fixed: Fixed, quality: f64) -> Option<EquilibriumState> {
        let sign = match fixed {
            Fixed::Pressure(_) => 1.0,
            Fixed::Temperature(_) => -1.0,
        };
        let error = |state: &EquilibriumState| match &state.phases {
            Phases::Two {
                liquid,
                vapor,
                vapor_fraction,
            } => {
                let vapors = vapor_fraction * vapor.molar_mass;
                vapors / (vapors + (1.0 - vapor_fraction) * liquid.molar_mass) - quality
            }
            Phases::Single(phase, _) if phase.density > self.fixed.reducing_density => -quality,
            Phases::Single(..) => 1.0 - quality,
        };
        self.close_in(
            |at| self.stable_along(fixed, at).ok(),
            |state| sign * error(state),
            self.extent(fixed),
            fixed.with_quality(quality),
        )
        .filter(|found| error(found).abs() < QUALITY_MET)
    }

    /// The stable state at a place of an isobar (K) or an isotherm (ln Pa).
    fn stable_along(&self, fixed: Fixed, at: f64) -> Result<EquilibriumState> {
        let state = match fixed {
            Fixed::Pressure(pressure) => self.at_temperature_pressure(at, pressure),
            Fixed::Temperature(temperature) => self.at_temperature_pressure(temperature, at.exp()),
        }?;
        self.held_against_rivals(state)
    }

    fn extent(&self, fixed: Fixed) -> (f64, f64) {
        match fixed {
            Fixed::Pressure(_) => (
                self.limits.coldest * (1.0 - 0.5 * SLACK),
                self.limits.hottest * (1.0 + 0.5 * SLACK),
            ),
            Fixed::Temperature(_) => {
                let highest = self.limits.highest_pressure * (1.0 + 0.5 * SLACK);
                (LOWEST.ln(), highest.ln())
            }
        }
    }

    /// At constant entropy enthalpy rises with temperature, dh = T ds + v dp; each isotherm has
    /// the entropy at one pressure.
    fn bracketed_at_entropy(&self, enthalpy: f64, entropy: f64) -> Option<EquilibriumState> {
        let at = |temperature: f64| {
            self.on_isotherm(temperature, entropy, Property::Entropy)
                .and_then(|state| self.held_against_rivals(state))
                .ok()
                .filter(|state| Property::Entropy.is_met(state, entropy))
                .or_else(|| {
                    self.bracketed(Fixed::Temperature(temperature), Property::Entropy, entropy)
                })
        };
        self.close_in(
            at,
            |state| state.enthalpy() - enthalpy,
            self.extent(Fixed::Pressure(self.limits.highest_pressure)),
            Sought::EnthalpyEntropy(enthalpy, entropy),
        )
        .filter(|found| Property::Enthalpy.is_met(found, enthalpy))
    }

    /// Where an error that rises along a line is nought.
    fn close_in(
        &self,
        state: impl Fn(f64) -> Option<EquilibriumState>,
        error: impl Fn(&EquilibriumState) -> f64,
        (low, high): (f64, f64),
        sought: Sought,
    ) -> Option<EquilibriumState> {
        let look = |at: f64| {
            let state = state(at)?;
            let error = error(&state);
            error.is_finite().then_some(Look { at, state, error })
        };
        let (first, last) = (look(low), look(high));
        let is_outside =
            |end: &Option<Look>, sign: f64| end.as_ref().is_some_and(|end| end.error * sign > 0.0);
        let looks = if sought.is_by_quality() {
            LOOKS_BY_QUALITY
        } else if is_outside(&first, 1.0) || is_outside(&last, -1.0) {
            return None;
        } else {
            LOOKS
        };
        let (mut below, mut above) = bracket(&look, looks, (low, first), (high, last))?;
        for step in 0..MOST {
            if below.error == 0.0 {
                return Some(below.state);
            }
            let width = (above.at - below.at) / above.at.abs().max(below.at.abs());
            if width < CLOSED {
                break;
            }
            if width < NEWTONS
                && let Some(found) = self.by_newton(&[&below, &above], sought)
                && error(&found).abs() <= below.error.abs().min(above.error)
            {
                return Some(found);
            }
            // a straight line between the two, each third time the middle
            let straight = below.error / (below.error - above.error);
            let part = if step % 3 == 2 {
                0.5
            } else {
                straight.clamp(0.02, 0.98)
            };
            // past points without an answer
            let next = [part, 0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95]
                .into_iter()
                .find_map(|part| look(below.at + part * (above.at - below.at)))?;
            if next.error > 0.0 {
                above = next;
            } else {
                below = next;
            }
        }
        let nearer = if -below.error < above.error {
            below
        } else {
            above
        };
        Some(nearer.state)
    }

    /// Newton's method from either of two states of two phases.
    fn by_newton(&self, looks: &[&Look], sought: Sought) -> Option<EquilibriumState> {
        looks.iter().find_map(|look| {
            let Phases::Two {
                liquid,
                vapor,
                vapor_fraction,
            } = &look.state.phases
            else {
                return None;
            };
            let start = Split {
                vapor_fraction: *vapor_fraction,
                pair: PhasePair {
                    temperature: look.state.temperature,
                    pressure: look.state.pressure,
                    liquid: liquid.x,
                    vapor: vapor.x,
                    liquid_density: liquid.density,
                    vapor_density: vapor.density,
                    steps: 0,
                    residual: f64::INFINITY,
                },
            };
            let found = split(self.mixture, self.z, sought, &start)?;
            let state = self.two(&found);
            self.held_against_rivals(state).ok()
        })
    }
}

/// Two points with the one sought between them.
fn bracket(
    look: &impl Fn(f64) -> Option<Look>,
    looks: u32,
    (low, first): (f64, Option<Look>),
    (high, mut last): (f64, Option<Look>),
) -> Option<(Look, Look)> {
    // places without an answer next before the first with one and next after the last too low
    let mut before = first.is_none().then_some(low);
    let mut after = None;
    let mut below = first;
    for k in 1..=looks {
        let at = low + (high - low) * f64::from(k) / f64::from(looks);
        let here = if k == looks { last.take() } else { look(at) };
        match here {
            Some(above) if above.error > 0.0 => {
                let below =
                    below.or_else(|| edge(look, above.at, before?, |look| look.error <= 0.0))?;
                return Some((below, above));
            }
            Some(look) => (below, after) = (Some(look), None),
            None if below.is_none() => before = Some(at),
            None => after = after.or(Some(at)),
        }
    }
    let below = below?;
    let above = edge(look, below.at, after?, |look| look.error > 0.0)?;
    Some((below, above))
}

/// A point that is wanted between one with an answer and one without.
fn edge(
    look: impl Fn(f64) -> Option<Look>,
    mut answered: f64,
    mut unanswered: f64,
    wanted: impl Fn(&Look) -> bool,
) -> Option<Look> {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (answered + unanswered);
        match look(middle) {
            Some(look) if wanted(&look) => return Some(look),
            Some(_) => answered = middle,
            None => unanswered = middle,
        }
    }
    None
}
