//! The same question through curves, as who asks many gets it answered: what is read from a curve must be
//! what the solver says alone.

use super::{Asked, CLOSED, Fault, Found, points};
use crate::error::Result;
use crate::refrigerant::{Refrigerant, Saturation, SaturationPoint, State};

impl Asked<'_> {
    /// What the solver answers, held against what curves do.
    pub(super) fn ask_both<T>(
        &mut self,
        question: &str,
        ask: impl Fn(&Refrigerant) -> Result<T>,
        apart: impl FnOnce(&T, &T) -> Option<String>,
        found: &mut Found,
    ) -> Result<T> {
        let solved = self.timed(question, &ask);
        let drawn = self.drawn;
        let question = format!("{question} through curves");
        let read = self.timed(&question, |_| ask(&drawn.refrigerant));
        let what = match (&read, &solved) {
            (Ok(read), Ok(solved)) => apart(read, solved),
            (Err(error), Ok(_)) => Some(error.to_string()),
            (Ok(_), Err(error)) => Some(format!("answered where the solver says: {error}")),
            (Err(_), Err(_)) => None,
        };
        found.extend(what.map(|what| (Fault::Unlike, format!("through curves: {what}"))));
        solved
    }
}

/// Two numbers that are not one.
pub(super) fn differ(read: f64, solved: f64) -> Option<String> {
    let is_one = (read / solved - 1.0).abs() < CLOSED;
    (!is_one).then(|| format!("{read} for {solved}"))
}

/// How the points of a line read from a curve are not those solved for.
pub(super) fn are_apart(read: &Saturation, solved: &Saturation) -> Option<String> {
    let [read, solved] = [points(read), points(solved)];
    let names = |points: &[(&'static str, _, _)]| points.iter().map(|point| point.0).collect();
    let [own, other]: [Vec<&str>; 2] = [names(&read), names(&solved)];
    if own != other {
        return Some(format!("{} for {}", own.join(", "), other.join(", ")));
    }
    let mut both = read.iter().zip(&solved);
    both.find_map(|((name, a, _), (_, b, _))| {
        let place =
            |point: &SaturationPoint| [point.temperature.in_kelvin(), point.pressure.in_pascal()];
        let mut places = place(a).into_iter().zip(place(b));
        let what = places.find_map(|(a, b)| differ(a, b));
        let liquids = [a, b].map(|point| point.liquids.is_some());
        what.or_else(|| differ_in_liquids(liquids))
            .map(|what| format!("{name} {what}"))
    })
}

/// Whether one of two answers has two liquids.
fn differ_in_liquids([read, solved]: [bool; 2]) -> Option<String> {
    (read != solved).then(|| format!("two liquids {read} for {solved}"))
}

/// How states started from curves are not those that the solver finds alone.
pub(super) fn are_states_apart(read: &[State], solved: &[State]) -> Option<String> {
    let place = |states: &[State]| {
        let own = &states[0].properties;
        [
            own.temperature.in_kelvin(),
            own.pressure.in_pascal(),
            own.density,
        ]
    };
    let mut places = place(read).into_iter().zip(place(solved));
    let what = places.find_map(|(a, b)| differ(a, b));
    let liquids = [read, solved].map(|states| states[0].liquids.is_some());
    let phases = [read, solved].map(|states| states[0].phase.name());
    what.or_else(|| differ_in_liquids(liquids))
        .or_else(|| (phases[0] != phases[1]).then(|| phases.join(" for ")))
}
