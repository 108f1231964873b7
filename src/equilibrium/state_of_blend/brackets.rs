//! Where nothing quicker leads to a state: from temperature and pressure alone.
//!
//! The phases at a temperature and pressure are settled by stability. On an
//! isobar enthalpy and entropy rise with temperature, on an isotherm entropy falls and density
//! rises with pressure, and at constant entropy enthalpy rises with temperature, in one phase and
//! in two: between two answered points on either side the one sought is closed in, past points
//! that have no answer. In two phases the last steps are Newton's.

use std::cell::Cell;

use super::{BlendSolver, SLACK};
use crate::equilibrium::one_phase::{rises_between, thin};
use crate::equilibrium::split::{Fixed, Sought};
use crate::equilibrium::{EquilibriumState, MolarGiven, Phases, Property};
use crate::numeric::bracketed_root;
use crate::state::SinglePhase;

/// Points of a line that are looked at before it is closed in.
const LOOKS: u32 = 12;
/// Halvings towards the end of what has an answer.
const HALVINGS: u32 = 12;
/// Most points looked at in closing in.
const MOST: u32 = 90;
/// Relative width at which closing in ends.
const CLOSED: f64 = 1e-14;
/// Relative width below which two phases are handed to Newton's method.
const NEWTONS: f64 = 0.3;
/// What the last steps may leave of the difference between two states.
const LEFT: f64 = 1e-6;
/// Relative width at which three phases are sought between two states.
const A_JUMP: f64 = 1e-5;
/// The longest step of ln rho towards an entropy, and one that is the last.
const FAR: f64 = 0.5;
const SHORT: f64 = 1e-6;
/// Lowest pressure that is looked at, Pa.
const LOWEST: f64 = 1e-2;

/// A point of the line: the place on it, the state there, and how far its property is off.
#[derive(Clone, Copy)]
pub(super) struct Look {
    pub(super) at: f64,
    pub(super) state: EquilibriumState,
    pub(super) error: f64,
}

impl Look {
    pub(super) fn of(
        at: f64,
        state: EquilibriumState,
        error: impl Fn(&EquilibriumState) -> f64,
    ) -> Option<Self> {
        let error = error(&state);
        error.is_finite().then_some(Self { at, state, error })
    }
}

/// Temperature, K, and pressure, Pa, at a place of an isobar (-K) or an isotherm (ln Pa).
fn temperature_and_pressure(fixed: Fixed, at: f64) -> (f64, f64) {
    match fixed {
        Fixed::Pressure(pressure) => (-at, pressure),
        Fixed::Temperature(temperature) => (temperature, at.exp()),
    }
}

/// One of the places of a line that are looked at before it is closed in.
fn place((low, high): (f64, f64), k: u32) -> f64 {
    low + (high - low) * f64::from(k) / f64::from(LOOKS)
}

/// The phase of a state of one in equilibrium.
pub(super) fn one_of(state: &EquilibriumState) -> Option<&SinglePhase> {
    match &state.phases {
        Phases::Single(phase, _) if !state.parted => Some(phase),
        _ => None,
    }
}

/// Which states a line is followed through.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Looks {
    /// Those in equilibrium.
    InEquilibrium,
    /// These and liquids that part, each marked.
    Marked,
    /// The blend as one liquid, which may part.
    OneLiquid,
}

impl BlendSolver<'_> {
    /// The state of a pair of properties from brackets; `None` where nothing closes. One that is in
    /// equilibrium comes before a liquid that parts.
    pub(super) fn by_brackets(&self, given: MolarGiven) -> Option<EquilibriumState> {
        let find = |looks| self.by_brackets_of(given, looks);
        let marked = || find(Looks::Marked);
        let is_met = |found: &EquilibriumState| given.is_met(found);
        self.quickly(|| self.in_equilibrium(given), is_met)
            .or_else(|| find(Looks::OneLiquid))
            .or_else(|| self.quickly(marked, is_met))
    }

    /// What a search leads to: at first of looks that are not held against rivals, all but what it
    /// leads to.
    pub(super) fn quickly(
        &self,
        find: impl Fn() -> Option<EquilibriumState>,
        is_met: impl Fn(&EquilibriumState) -> bool,
    ) -> Option<EquilibriumState> {
        self.proves.set(false);
        let found = find();
        self.proves.set(true);
        let held = found.and_then(|found| self.held_against_rivals(found).ok());
        let held = held.filter(|held| !held.parted && is_met(held));
        held.or_else(find)
    }

    /// As [`BlendSolver::by_brackets`], of states that are in equilibrium.
    pub(super) fn in_equilibrium(&self, given: MolarGiven) -> Option<EquilibriumState> {
        self.by_brackets_of(given, Looks::InEquilibrium)
    }

    fn by_brackets_of(&self, given: MolarGiven, looks: Looks) -> Option<EquilibriumState> {
        use MolarGiven::*;
        let by = |fixed, property, target| self.bracketed_of(looks, fixed, property, target);
        let (h, s, rho) = (Property::Enthalpy, Property::Entropy, Property::Density);
        let found = match given {
            PressureEnthalpy(p, value) => by(Fixed::Pressure(p), h, value),
            PressureEntropy(p, value) => by(Fixed::Pressure(p), s, value),
            PressureDensity(p, value) => by(Fixed::Pressure(p), rho, value),
            TemperatureEntropy(t, value) => by(Fixed::Temperature(t), s, value),
            TemperatureDensity(t, value) => by(Fixed::Temperature(t), rho, value),
            EnthalpyEntropy(enthalpy, entropy) => {
                self.bracketed_at_entropy(looks, enthalpy, entropy)
            }
            TemperatureQuality(t, q) => self.bracketed_quality_of(looks, Fixed::Temperature(t), q),
            PressureQuality(p, q) => self.bracketed_quality_of(looks, Fixed::Pressure(p), q),
            _ => None,
        }?;
        match looks {
            Looks::OneLiquid => self
                .held_against_rivals(found)
                .ok()
                .filter(|held| held.parted && given.is_met(held)),
            _ => Some(found),
        }
    }

    /// By a property along an isobar or an isotherm.
    pub(super) fn bracketed(
        &self,
        fixed: Fixed,
        property: Property,
        target: f64,
    ) -> Option<EquilibriumState> {
        let find = || self.bracketed_of(Looks::Marked, fixed, property, target);
        self.quickly(find, |found| property.is_met(found, target))
    }

    fn bracketed_of(
        &self,
        looks: Looks,
        fixed: Fixed,
        property: Property,
        target: f64,
    ) -> Option<EquilibriumState> {
        // from hot to cold only density rises, with pressure only entropy falls
        let rises = match fixed {
            Fixed::Pressure(_) => property == Property::Density,
            Fixed::Temperature(_) => property != Property::Entropy,
        };
        let sign = if rises { 1.0 } else { -1.0 };
        let error = |state: &EquilibriumState| sign * (property.of(state) - target);
        let is_met = |found: &EquilibriumState| property.is_met(found, target);
        let look = |at: f64| Look::of(at, self.along(looks, fixed, at)?, error);
        let as_one = |at: f64, dense| Look::of(at, self.as_one(fixed, at, dense)?, error);
        let extent = self.extent(fixed);
        let mut first = 0;
        if looks != Looks::OneLiquid {
            // that a gas is stable costs most to say: past it as far as the gas alone tells
            let is_before =
                |k: &u32| as_one(place(extent, *k), false).is_some_and(|gas| gas.error <= 0.0);
            let passed = (0..=LOOKS).take_while(is_before).last().unwrap_or(0);
            let is_below = |k: &u32| look(place(extent, *k)).is_some_and(|look| look.error <= 0.0);
            first = (0..=passed).rev().find(is_below).unwrap_or(0);
        }
        let ends = bracket(&look, extent, first)?;
        let between_like_ones = || {
            let [below, above] = [&ends.0, &ends.1].map(|end| self.is_dense_one(&end.state));
            let dense = below.filter(|_| below == above)?;
            let error = |at| {
                as_one(at, dense)
                    .map(|look| look.error)
                    .ok_or_else(|| self.nothing())
            };
            let (low, high) = (ends.0.at.min(ends.1.at), ends.0.at.max(ends.1.at));
            let at = bracketed_root(error, low, high, CLOSED).ok()?;
            let found = look(at)?.state;
            (self.is_dense_one(&found) == below && is_met(&found)).then_some(found)
        };
        // from what is thin to what is dense a hot isotherm has no end
        let on_one_branch = || {
            let Fixed::Temperature(temperature) = fixed else {
                return None;
            };
            let densities = [&ends.0, &ends.1].map(|end| Some(one_of(&end.state)?.density));
            let [Some(a), Some(b)] = densities else {
                return None;
            };
            let (low, high) = (a.min(b), a.max(b));
            if !rises_between(&self.fixed.isotherm(temperature), low, high) {
                return None;
            }
            let one = |log: f64| self.single(temperature, log.exp(), true);
            let off = |log| Ok(error(&one(log)));
            let log = bracketed_root(off, low.ln(), high.ln(), CLOSED).ok()?;
            let found = look(one(log).pressure.ln())?.state;
            (one_of(&found).is_some() && is_met(&found)).then_some(found)
        };
        let sought = fixed.with_property(property, target);
        between_like_ones()
            .or_else(on_one_branch)
            .or_else(|| self.closed(&look, &error, ends, sought))
            .filter(is_met)
    }

    /// The state at a place of an isobar or an isotherm as one gas or as what is dense, stable or not.
    pub(super) fn as_one(&self, fixed: Fixed, at: f64, dense: bool) -> Option<EquilibriumState> {
        let (temperature, pressure) = temperature_and_pressure(fixed, at);
        let isotherm = self.fixed.isotherm(temperature);
        let density = if dense {
            self.compressed(&isotherm, temperature, pressure).ok()?
        } else {
            thin(&isotherm, self.fixed.reducing_density, pressure)?
        };
        Some(self.single(temperature, density, dense))
    }

    /// Whether a state of one phase is dense; none of two phases.
    fn is_dense_one(&self, state: &EquilibriumState) -> Option<bool> {
        Some(one_of(state)?.density > self.fixed.reducing_density)
    }

    /// What is looked for at a place of an isobar or an isotherm.
    pub(super) fn along(&self, looks: Looks, fixed: Fixed, at: f64) -> Option<EquilibriumState> {
        if looks == Looks::OneLiquid {
            return self.as_one(fixed, at, true);
        }
        let (temperature, pressure) = temperature_and_pressure(fixed, at);
        let state = self.by_stability(temperature, pressure).ok()?;
        (looks == Looks::Marked || !state.parted).then_some(state)
    }

    /// The ends of an isobar or an isotherm, the one where the blend is a gas first: there a look costs
    /// least.
    pub(super) fn extent(&self, fixed: Fixed) -> (f64, f64) {
        match fixed {
            Fixed::Pressure(_) => (
                -self.limits.hottest * (1.0 + 0.5 * SLACK),
                -self.limits.coldest * (1.0 - 0.5 * SLACK),
            ),
            Fixed::Temperature(_) => {
                let highest = self.limits.highest_pressure * (1.0 + 0.5 * SLACK);
                (LOWEST.ln(), highest.ln())
            }
        }
    }

    /// At constant entropy enthalpy rises with temperature, dh = T ds + v dp; each isotherm has
    /// the entropy at one pressure.
    fn bracketed_at_entropy(
        &self,
        looks: Looks,
        enthalpy: f64,
        entropy: f64,
    ) -> Option<EquilibriumState> {
        let error = |state: &EquilibriumState| state.enthalpy() - enthalpy;
        let sought = Sought::EnthalpyEntropy(enthalpy, entropy);
        let by_brackets = |fixed| self.bracketed_of(looks, fixed, Property::Entropy, entropy);
        let is_met = |found: &EquilibriumState| Property::Enthalpy.is_met(found, enthalpy);
        if looks == Looks::OneLiquid {
            // a liquid has the entropy at every pressure, but not at every temperature; dh = v dp
            let at = |log: f64| by_brackets(Fixed::Pressure(log.exp()));
            let extent = self.extent(Fixed::Temperature(self.limits.hottest));
            return self.close_in(at, error, extent, sought).filter(is_met);
        }
        // lines that were not found at one temperature are not sought at all the others
        let has_lines = Cell::new(true);
        let by_lines = |temperature: f64| {
            let lines = self.all_lines(temperature);
            has_lines.set(lines.is_some());
            let by = Property::Entropy;
            self.on_isotherm_of(&lines?, temperature, entropy, by)
                .and_then(|state| self.held_if_proving(state))
                .ok()
                .filter(|state| by.is_met(state, entropy))
                .filter(|state| looks == Looks::Marked || !state.parted)
        };
        let at = |at: f64| {
            let found = has_lines.get().then(|| by_lines(-at)).flatten();
            found.or_else(|| by_brackets(Fixed::Temperature(-at)))
        };
        let extent = self.extent(Fixed::Pressure(self.limits.highest_pressure));
        let falls = |state: &EquilibriumState| -error(state);
        let look = |place: f64| Look::of(place, at(place)?, falls);
        // past hot ones as far as the blend as one phase tells: at the highest pressure it still has more of
        // the entropy, or where it has that too much enthalpy
        let highest = self.limits.highest_pressure.ln();
        let is_too_hot = |k: &u32| {
            let temperature = -place(extent, *k);
            let densest = self.as_one(Fixed::Temperature(temperature), highest, true);
            densest.is_some_and(|densest| densest.entropy() > entropy)
                || self
                    .one_of_entropy(temperature, entropy)
                    .is_some_and(|one| falls(&one) <= 0.0)
        };
        let passed = (0..=LOOKS).take_while(is_too_hot).last().unwrap_or(0);
        let is_below = |k: &u32| look(place(extent, *k)).is_none_or(|look| look.error <= 0.0);
        let first = (0..=passed).rev().find(is_below).unwrap_or(0);
        let all = || (first > 0).then(|| bracket(&look, extent, 0)).flatten();
        let ends = bracket(&look, extent, first).or_else(all)?;
        self.closed(&look, &falls, ends, sought).filter(is_met)
    }

    /// The blend as one phase of a temperature, K, and an entropy, J/(mol K), from a gas or from a liquid,
    /// stable or not; `None` where neither leads there.
    fn one_of_entropy(&self, temperature: f64, entropy: f64) -> Option<EquilibriumState> {
        let rt = self.fixed.gas_constant * temperature;
        let starts = [Some(1.0 / rt), self.as_dense(temperature)];
        starts.into_iter().flatten().find_map(|mut density| {
            for _ in 0..MOST {
                let phase = SinglePhase::at_density(&self.fixed, temperature, density);
                if phase.pressure_by_density.is_nan() || phase.pressure_by_density <= 0.0 {
                    return None;
                }
                // ds = -dp/dT / rho^2 drho
                let slope = phase.pressure_by_temperature / density;
                let step = (phase.entropy - entropy) / slope;
                density *= step.clamp(-FAR, FAR).exp();
                if step.abs() < SHORT {
                    return Some(self.single(temperature, density, false));
                }
            }
            None
        })
    }

    /// Where an error that rises along a line is nought.
    fn close_in(
        &self,
        state: impl Fn(f64) -> Option<EquilibriumState>,
        error: impl Fn(&EquilibriumState) -> f64,
        (low, high): (f64, f64),
        sought: Sought,
    ) -> Option<EquilibriumState> {
        let look = |at: f64| Look::of(at, state(at)?, &error);
        let ends = bracket(&look, (low, high), 0)?;
        self.closed(&look, &error, ends, sought)
    }

    /// Between a point that is too low and one that is too high.
    pub(super) fn closed(
        &self,
        look: &impl Fn(f64) -> Option<Look>,
        error: &impl Fn(&EquilibriumState) -> f64,
        (mut below, mut above): (Look, Look),
        sought: Sought,
    ) -> Option<EquilibriumState> {
        let mut is_tried = false;
        for step in 0..MOST {
            if below.error == 0.0 {
                return Some(below.state);
            }
            let width = (above.at - below.at).abs() / above.at.abs().max(below.at.abs());
            if width < CLOSED {
                break;
            }
            // where a third phase belongs beside two that Newton's method has come to, it is another state
            let most = LEFT * (above.error - below.error);
            let is_it = |found: &EquilibriumState| error(found).abs() <= most;
            if width < NEWTONS
                && let Some(found) = self.by_newton([&below.state, &above.state], sought)
                && is_it(&found)
            {
                return Some(found);
            }
            if width < A_JUMP && !is_tried {
                is_tried = true;
                let found = self.at_a_jump([&below.state, &above.state], sought);
                if let Some(found) = found.filter(is_it) {
                    return Some(found);
                }
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
}

/// Two points with the one sought between them, from the place of a number on.
fn bracket(
    look: &impl Fn(f64) -> Option<Look>,
    extent: (f64, f64),
    first: u32,
) -> Option<(Look, Look)> {
    // places without an answer next before the first with one and next after the last too low
    let (mut before, mut after) = (None, None);
    let mut below = None;
    for k in first..=LOOKS {
        let at = place(extent, k);
        match look(at) {
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
pub(super) fn edge(
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
