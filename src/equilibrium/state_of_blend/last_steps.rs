//! The last steps between two states that are close: Newton's method for the phases that there are.

use super::BlendSolver;
use crate::equilibrium::bubble_dew::PhasePair;
use crate::equilibrium::flash::{self, Found};
use crate::equilibrium::split::{Sought, Split, split};
use crate::equilibrium::stability::rival_of;
use crate::equilibrium::three_phases::ThreePhases;
use crate::equilibrium::{EquilibriumState, Phases};
use crate::error::Result;

/// Moles of vapor a mole of blend from which Newton's method starts there.
const A_LITTLE: f64 = 0.1;
/// How far from one state towards the other, in ln T or ln p, its phases have the third for a rival.
const BEYOND_A_JUMP: f64 = 1e-3;

impl BlendSolver<'_> {
    /// Newton's method for three phases between two states, of which one is a vapor over a liquid: where the
    /// other is, these have the third phase for a rival. Of two components all three are at one temperature
    /// of a pressure, and what is sought changes there at once.
    pub(super) fn at_a_jump(
        &self,
        states: [&EquilibriumState; 2],
        sought: Sought,
    ) -> Option<EquilibriumState> {
        let [a, b] = states;
        [(a, b), (b, a)].into_iter().find_map(|(two, other)| {
            let apart = |of: fn(&EquilibriumState) -> f64| (of(other) / of(two)).ln();
            let (t, p) = (apart(|one| one.temperature), apart(|one| one.pressure));
            let there = BEYOND_A_JUMP / t.abs().max(p.abs());
            let place = (
                two.temperature * (there * t).exp(),
                two.pressure * (there * p).exp(),
            );
            let both = Sought::TemperaturePressure(place.0, place.1);
            let two = split(self.mixture, self.z, both, &of_state(two)?)?;
            let rival = rival_of(self.mixture, &two.pair)?;
            let phases = [
                (two.pair.vapor, two.pair.vapor_density),
                (two.pair.liquid, two.pair.liquid_density),
                (rival.x, rival.density),
            ];
            let near = ThreePhases::start(place, phases, (two.vapor_fraction, 0.5));
            let found = near.settled(self.mixture, self.z, sought)?;
            self.within(self.three(&found))
        })
    }

    /// Three phases from those of a bubble point over two liquids.
    pub(super) fn over_both_liquids(
        &self,
        bubble: &PhasePair,
        sought: Sought,
    ) -> Option<EquilibriumState> {
        let mut near = ThreePhases::at_bubble_point(bubble)?;
        near.vapor_fraction = A_LITTLE;
        let found = near.settled(self.mixture, self.z, sought)?;
        self.within(self.three(&found)).filter(|held| !held.parted)
    }

    /// Both liquids of a bubble point, with a vapor or without.
    pub(super) fn with_both_liquids(
        &self,
        bubble: &PhasePair,
        sought: Sought,
    ) -> Option<EquilibriumState> {
        self.over_both_liquids(bubble, sought).or_else(|| {
            let start = ThreePhases::at_bubble_point(bubble)?.liquids();
            let found = split(self.mixture, self.z, sought, &start)?;
            match flash::two(self.mixture, found) {
                Found::TwoLiquids(found) => self.within(self.liquids(&found)),
                _ => None,
            }
        })
    }

    /// A state that Newton's method has come to, where it lies within the limits and stands.
    fn within(&self, state: EquilibriumState) -> Option<EquilibriumState> {
        self.check_temperature(state.temperature).ok()?;
        self.check_pressure(state.pressure).ok()?;
        self.held_if_proving(state).ok()
    }

    pub(super) fn held_if_proving(&self, state: EquilibriumState) -> Result<EquilibriumState> {
        if self.proves.get() {
            self.held_against_rivals(state)
        } else {
            Ok(state)
        }
    }

    /// Newton's method from either of two states of two phases.
    pub(super) fn by_newton(
        &self,
        states: [&EquilibriumState; 2],
        sought: Sought,
    ) -> Option<EquilibriumState> {
        states.into_iter().find_map(|state| {
            if let Phases::Three {
                liquids: [a, b],
                vapor,
                vapor_fraction,
                share,
            } = &state.phases
            {
                let place = (state.temperature, state.pressure);
                let phases = [vapor, a, b].map(|phase| (phase.x, phase.density));
                let near = ThreePhases::start(place, phases, (*vapor_fraction, *share));
                let found = near.settled(self.mixture, self.z, sought)?;
                return self.within(self.three(&found));
            }
            let start = of_state(state)?;
            let found = split(self.mixture, self.z, sought, &start)?;
            // next to the top a vapor may be as dense as a liquid
            let names = |split: &Split| flash::two(self.mixture, *split);
            let was_told = matches!(state.phases, Phases::Liquids { .. })
                || matches!(names(&start), Found::Two(_));
            self.within(match names(&found) {
                Found::TwoLiquids(found) if was_told => self.liquids(&found),
                _ => self.two(&found),
            })
        })
    }
}

/// The phases of a state where they are two.
fn of_state(state: &EquilibriumState) -> Option<Split> {
    let (liquid, vapor, vapor_fraction) = match &state.phases {
        Phases::Two {
            liquid,
            vapor,
            vapor_fraction,
        } => (liquid, vapor, *vapor_fraction),
        Phases::Liquids {
            liquids: [a, b],
            share,
        } => (a, b, *share),
        _ => return None,
    };
    Some(Split {
        vapor_fraction,
        pair: PhasePair {
            temperature: state.temperature,
            pressure: state.pressure,
            liquid: liquid.x,
            vapor: vapor.x,
            liquid_density: liquid.density,
            vapor_density: vapor.density,
            liquids: None,
            steps: 0,
            residual: f64::INFINITY,
        },
    })
}
