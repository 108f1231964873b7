//! Bubble and dew line of two components against composition, with points where they bend, up to
//! where they meet: in a pure component, or in a critical point of a mixture.

use super::super::compositions::{Compositions, Ends, Steps};
use super::super::smooth::curve;
use super::{Basis, STEPS};
use crate::equilibrium::bubble_dew::{Branch, PhasePair};
use crate::process::azeotrope::AzeotropeAt;
use crate::refrigerant::Refrigerant;

/// Parts nearer to each other than this are one composition.
const SAME: f64 = 1e-9;

/// A composition, as a part of the way from the second component to the first in the axis' own
/// amounts, and a value: K at a pressure, Pa at a temperature.
pub(super) type Point = (f64, f64);

/// Both lines at a pressure or a temperature, each in the runs between compositions without an
/// answer.
pub(super) struct Lines {
    pub(super) bubble: Vec<Vec<Point>>,
    pub(super) dew: Vec<Vec<Point>>,
    /// Where both lines end in a critical point of a mixture, at the side of the second and of the
    /// first component.
    pub(super) tips: [Option<Point>; 2],
    /// Whether the lines may touch one another before their ends, in an azeotrope.
    pub(super) may_touch: bool,
}

/// Both lines beyond the compositions that neighbors lead to.
struct Beyond {
    /// The parts of bubble and dew line from which on these are theirs.
    from: [f64; 2],
    /// Points of bubble and dew line, outwards.
    lines: [Vec<Point>; 2],
    /// The critical point in which they end, where they do.
    tip: Option<Point>,
    /// ln((y1/x1)/(y2/x2)) of each tie line.
    volatilities: Vec<f64>,
}

impl Beyond {
    fn of(&self, branch: Branch) -> (f64, &Vec<Point>) {
        (self.from[branch.place()], &self.lines[branch.place()])
    }
}

/// What lines are drawn of.
pub(super) struct Pair<'a> {
    pub(super) mixtures: &'a Compositions<'a>,
    pub(super) pure: &'a [Refrigerant; 2],
    pub(super) basis: Basis,
    pub(super) at: AzeotropeAt,
}

impl Pair<'_> {
    /// Where a pure component boils; none where it does not.
    pub(super) fn alone(&self, one: &Refrigerant) -> Option<f64> {
        match self.at {
            AzeotropeAt::Pressure(at) => Some(one.bubble_temperature(at).ok()?.in_kelvin()),
            AzeotropeAt::Temperature(at) => Some(one.bubble_pressure(at).ok()?.in_pascal()),
        }
    }

    pub(super) fn value(&self, found: &PhasePair) -> f64 {
        self.value_of(found.temperature, found.pressure)
    }

    /// Of a temperature in K and a pressure in Pa the one that lines are drawn over.
    fn value_of(&self, temperature: f64, pressure: f64) -> f64 {
        match self.at {
            AzeotropeAt::Pressure(_) => temperature,
            AzeotropeAt::Temperature(_) => pressure,
        }
    }

    /// Mass fractions at a part of the way in the axis' amounts.
    pub(super) fn masses(&self, part: f64) -> [f64; 2] {
        match self.basis {
            Basis::Mass => [part, 1.0 - part],
            Basis::Mole => {
                let masses = self.mixtures.masses_of(&[part, 1.0 - part]);
                [masses[0], masses[1]]
            }
        }
    }

    /// The axis' amounts of mole fractions.
    pub(super) fn part(&self, moles: &[f64]) -> f64 {
        match self.basis {
            Basis::Mass => self.mixtures.masses_of(moles)[0],
            Basis::Mole => moles[0],
        }
    }

    /// Both lines.
    pub(super) fn lines(&self) -> Lines {
        let all: Vec<Steps> = (1..STEPS).map(|step| vec![step, STEPS - step]).collect();
        let mut ends = self.mixtures.followed(&all, self.at);
        let alone = [&self.pure[1], &self.pure[0]].map(|one| self.alone(one));
        // where neighbors lead nowhere: the middle, else next to a component that boils
        let outermost = [(alone[0], 0), (alone[1], all.len() - 1)];
        let outermost = outermost.into_iter().filter(|(alone, _)| alone.is_some());
        for place in std::iter::once(all.len() / 2).chain(outermost.map(|(_, place)| place)) {
            if answered(&ends).is_none() {
                self.complete(&all, &mut ends, place);
            }
        }
        let of_sides =
            |is_shared| [0, 1].map(|side| self.beyond(&ends, (side, alone[side]), is_shared));
        let shared = of_sides(true);
        let beyond = match shared.iter().all(Option::is_some) {
            true => shared,
            false => of_sides(false),
        };
        let (lowest, highest) = answered(&ends).unwrap_or((all.len(), 0));
        for place in 0..all.len() {
            let is_left = place < lowest && beyond[0].is_none();
            let is_right = place > highest && beyond[1].is_none();
            if is_left || is_right || (lowest..=highest).contains(&place) {
                self.complete(&all, &mut ends, place);
            }
        }
        let may_touch = self.may_touch(&ends, &beyond);
        let parts = all.iter().map(|steps| {
            let share = steps[0] as f64 / STEPS as f64;
            self.part(&self.mixtures.moles(&[share, 1.0 - share]))
        });
        let [mut bubbles, mut dews]: [Vec<(f64, Option<PhasePair>)>; 2] = Default::default();
        for (part, [bubble, dew]) in parts.zip(ends) {
            bubbles.push((part, bubble));
            dews.push((part, dew));
        }
        let [bubble, dew] =
            [(Branch::Bubble, bubbles), (Branch::Dew, dews)].map(|(branch, known)| {
                let beyond = beyond.each_ref();
                let beyond = beyond.map(|one| one.as_ref().map(|one| one.of(branch)));
                self.whole_line(branch, known, alone, beyond)
            });
        Lines {
            bubble,
            dew,
            tips: beyond.map(|beyond| beyond?.tip),
            may_touch,
        }
    }

    /// Whether vapor and liquid change sides somewhere: whether ln((y1/x1)/(y2/x2)) has both signs, on
    /// the straight line through the last two compositions up to a pure component too.
    fn may_touch(&self, ends: &[Ends], beyond: &[Option<Beyond>; 2]) -> bool {
        let lines = [0, 1].map(|line| {
            let own = ends.iter().map(|ends| ends[line].as_ref());
            own.map(|pair| pair.map(|pair| self.volatility(pair)))
                .collect::<Vec<Option<f64>>>()
        });
        let is_traced = [0, 1].map(|side| beyond[side].is_some());
        let mut all: Vec<f64> = lines.iter().flatten().copied().flatten().collect();
        all.extend(beyond.iter().flatten().flat_map(|one| &one.volatilities));
        for line in &lines {
            let pure = [(0, [0, 1]), (1, [line.len() - 1, line.len() - 2])];
            for (_, [last, next]) in pure.into_iter().filter(|(side, _)| !is_traced[*side]) {
                match (line[last], line[next]) {
                    (Some(last), Some(next)) => all.push(2.0 * last - next),
                    _ => return true,
                }
            }
        }
        !(all.iter().all(|one| *one > 0.0) || all.iter().all(|one| *one < 0.0))
    }

    /// ln((y1/x1)/(y2/x2)), the logarithm of the relative volatility.
    fn volatility(&self, pair: &PhasePair) -> f64 {
        let [x, y] = [&pair.liquid, &pair.vapor].map(|phase| self.mixtures.in_order(phase));
        (y[0] * x[1] / (x[0] * y[1])).ln()
    }

    fn complete(&self, all: &[Steps], ends: &mut [Ends], place: usize) {
        let own = std::mem::take(&mut ends[place]);
        ends[place] = self.mixtures.completed(&all[place], own, self.at);
    }

    /// Both lines beyond the last composition that neighbors lead to, at the side of the second (0) or
    /// of the first component (1), by tie lines, from one for both sides where `is_shared`; `None` where
    /// neighbors lead to the side's end, or where tie lines lead nowhere.
    fn beyond(
        &self,
        ends: &[Ends],
        (side, alone): (usize, Option<f64>),
        is_shared: bool,
    ) -> Option<Beyond> {
        let (lowest, highest) = answered(ends)?;
        let (last, end) = match side {
            1 => (highest, ends.len() - 1),
            _ => (lowest, 0),
        };
        if last == end && alone.is_some() {
            return None;
        }
        let parts = |found: &PhasePair| {
            let phases = [&found.liquid, &found.vapor];
            phases.map(|phase| self.part(&self.mixtures.in_order(phase)))
        };
        let [bubble, dew] = ends[last].each_ref().map(Option::as_ref);
        let (bubble, dew) = (bubble?, dew?);
        let far = |found: &PhasePair| parts(found).iter().sum::<f64>();
        // of both points the tie line that lies less far on this side, or one for both sides where they
        // start from one composition
        let is_one = is_shared && lowest == highest;
        let is_bubble = !is_one && (far(bubble) < far(dew)) == (side == 1);
        let from = if is_bubble { bubble } else { dew };
        let traced = self.mixtures.tie_lines(from, self.at, 1 - side)?;
        let mut lines: [Vec<Point>; 2] = Default::default();
        for pair in std::iter::once(from).chain(&traced.pairs) {
            let value = self.value_of(pair.temperature, pair.pressure);
            for (line, phase) in lines.iter_mut().zip([&pair.liquid, &pair.vapor]) {
                line.push((self.part(&self.mixtures.in_order(phase)), value));
            }
        }
        let tip = traced.critical.map(|critical| {
            let part = self.part(&self.mixtures.in_order(&critical.x));
            (part, self.value_of(critical.temperature, critical.pressure))
        });
        let last = match (tip, alone) {
            (Some(tip), None) => tip,
            (None, Some(alone)) => (side as f64, alone),
            // a gap, with other lines behind it up to the component
            _ => return None,
        };
        lines.iter_mut().for_each(|line| line.push(last));
        Some(Beyond {
            from: parts(from),
            lines,
            tip,
            volatilities: traced
                .pairs
                .iter()
                .map(|pair| self.volatility(pair))
                .collect(),
        })
    }

    /// A line from end to end in its runs.
    fn whole_line(
        &self,
        branch: Branch,
        mut known: Vec<(f64, Option<PhasePair>)>,
        alone: [Option<f64>; 2],
        beyond: [Option<(f64, &Vec<Point>)>; 2],
    ) -> Vec<Vec<Point>> {
        // what lies beside the tie lines is theirs
        let [low, high] = beyond.map(|beyond| beyond.map(|(from, _)| from));
        known.retain(|(part, _)| {
            low.is_none_or(|low| *part > low + SAME) && high.is_none_or(|high| *part < high - SAME)
        });
        let mut line = self.line(branch, &known, alone, beyond.map(|one| one.is_some()));
        if let [Some((_, first)), _] = beyond {
            line.splice(0..0, first.iter().rev().copied());
        }
        if let [_, Some((_, last))] = beyond {
            line.extend(last);
        }
        line.dedup_by(|a, b| (a.0 - b.0).abs() < SAME && a.1 == b.1);
        runs(&line, &known, alone)
    }

    /// One line between its ends, points closer where it bends; `is_traced` says at which sides it
    /// ends before the pure component.
    fn line(
        &self,
        branch: Branch,
        known: &[(f64, Option<PhasePair>)],
        alone: [Option<f64>; 2],
        is_traced: [bool; 2],
    ) -> Vec<Point> {
        let values = known.iter().filter_map(|(_, found)| found.as_ref());
        let values = values.map(|found| self.value(found));
        let all = values.chain(alone.into_iter().flatten());
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(one), high.max(one))
        });
        let height = (high - low).max(1e-9);
        let mut grid: Vec<f64> = known.iter().map(|(part, _)| *part).collect();
        if !is_traced[0] {
            grid.insert(0, 0.0);
        }
        if !is_traced[1] {
            grid.push(1.0);
        }
        let solved = |part: f64| -> Option<f64> {
            if part == 0.0 || part == 1.0 {
                return alone[part as usize];
            }
            let right = known.partition_point(|(own, _)| *own < part);
            if let Some((own, found)) = known.get(right)
                && *own == part
            {
                return found.as_ref().map(|found| self.value(found));
            }
            let masses = self.masses(part);
            let ends = right.checked_sub(1).and_then(|left| known.get(left));
            let ends = ends.zip(known.get(right));
            let found = match ends {
                Some(((a, Some(left)), (b, Some(right)))) => {
                    let share = (part - a) / (b - a);
                    self.mixtures
                        .between(&masses, (branch, self.at), (left, right, share))
                }
                _ => self.mixtures.by_refrigerant(&masses, branch, self.at),
            };
            found.map(|found| self.value(&found))
        };
        let at = |part: f64| Some((part, solved(part)?));
        curve(&grid, at, |(part, value)| (*part, (value - low) / height))
    }
}

/// The first and the last composition with both points.
fn answered(ends: &[Ends]) -> Option<(usize, usize)> {
    let has_both = |ends: &Ends| ends.iter().all(Option::is_some);
    Some((
        ends.iter().position(has_both)?,
        ends.iter().rposition(has_both)?,
    ))
}

/// A line in the parts that no composition without an answer lies between.
fn runs(
    line: &[Point],
    known: &[(f64, Option<PhasePair>)],
    alone: [Option<f64>; 2],
) -> Vec<Vec<Point>> {
    let answered = |(part, found): &(f64, Option<PhasePair>)| found.is_some().then_some(*part);
    let pure = [alone[0].map(|_| 0.0), alone[1].map(|_| 1.0)];
    let first = pure[0].or_else(|| known.iter().find_map(answered));
    let last = pure[1].or_else(|| known.iter().rev().find_map(answered));
    // beyond the last answer the line ends in a tip
    let is_within =
        |part: f64| first.is_some_and(|low| part > low) && last.is_some_and(|high| part < high);
    let gaps: Vec<f64> = known
        .iter()
        .filter(|(part, found)| found.is_none() && is_within(*part))
        .map(|(part, _)| *part)
        .collect();
    line.chunk_by(|a, b| !gaps.iter().any(|gap| a.0 < *gap && *gap < b.0))
        .filter(|run| run.len() > 1)
        .map(<[Point]>::to_vec)
        .collect()
}
