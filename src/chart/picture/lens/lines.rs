//! Bubble and dew line of two components against composition, with points where they bend, up to
//! where they meet: in a pure component, or in a critical point of a mixture.

use super::super::compositions::{Compositions, Found, Steps};
use super::super::smooth::curve;
use super::{Basis, STEPS};
use crate::chart::reasons;
use crate::equilibrium::bubble_dew::Branch;
use crate::numeric::bracketed_root;
use crate::process::azeotrope::AzeotropeAt;
use crate::refrigerant::Refrigerant;

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

    pub(super) fn value(&self, found: &Found) -> f64 {
        match self.at {
            AzeotropeAt::Pressure(_) => found.temperature,
            AzeotropeAt::Temperature(_) => found.pressure,
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
        let between: Vec<Steps> = (1..STEPS).map(|step| vec![step, STEPS - step]).collect();
        let mixed = self.mixtures.ends(&between, self.at);
        let [mut bubbles, mut dews]: [Vec<(f64, Option<Found>)>; 2] = Default::default();
        for (steps, [bubble, dew]) in between.iter().zip(mixed) {
            let share = steps[0] as f64 / STEPS as f64;
            let part = self.part(&self.mixtures.moles(&[share, 1.0 - share]));
            bubbles.push((part, bubble));
            dews.push((part, dew));
        }
        let alone = [&self.pure[1], &self.pure[0]].map(|one| self.alone(one));
        let tips = [0, 1].map(|side| match alone[side] {
            None => self.tip(&bubbles, &dews, side == 1),
            Some(_) => None,
        });
        let limits = tips.map(|tip| tip.map(|tip| tip.0));
        let [mut bubble, mut dew] = [(Branch::Bubble, &bubbles), (Branch::Dew, &dews)]
            .map(|(branch, known)| self.line(branch, known, alone, limits));
        for (side, tip) in tips.iter().enumerate() {
            if let Some(tip) = tip {
                let around = self.lines_around_tip(*tip, side == 1, [&bubble, &dew]);
                close(&mut bubble, around[0].clone(), *tip, side == 1);
                close(&mut dew, around[1].clone(), *tip, side == 1);
            }
        }
        Lines {
            bubble: runs(&bubble, &bubbles, alone),
            dew: runs(&dew, &dews, alone),
            tips,
        }
    }

    /// One line between its ends, points closer where it bends.
    fn line(
        &self,
        branch: Branch,
        known: &[(f64, Option<Found>)],
        alone: [Option<f64>; 2],
        limits: [Option<f64>; 2],
    ) -> Vec<Point> {
        let values = known.iter().filter_map(|(_, found)| found.as_ref());
        let values = values.map(|found| self.value(found));
        let all = values.chain(alone.into_iter().flatten());
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(one), high.max(one))
        });
        let height = (high - low).max(1e-9);
        let mut grid: Vec<f64> = known.iter().map(|(part, _)| *part).collect();
        grid.insert(0, 0.0);
        grid.push(1.0);
        let solved = |part: f64| -> Option<f64> {
            if part == 0.0 || part == 1.0 {
                return alone[part as usize];
            }
            let is_beyond = limits[0].is_some_and(|low| part < low)
                || limits[1].is_some_and(|high| part > high);
            let right = known.partition_point(|(own, _)| *own < part);
            if let Some((own, found)) = known.get(right)
                && *own == part
            {
                return found.as_ref().map(|found| self.value(found));
            }
            if is_beyond {
                return None;
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
                _ => self.mixtures.azeotrope_of(&masses, branch, self.at),
            };
            found.map(|found| self.value(&found))
        };
        let at = |part: f64| Some((part, solved(part)?));
        curve(&grid, at, |(part, value)| (*part, (value - low) / height))
    }

    /// The critical point of a mixture in which both lines end, beyond the last composition that
    /// has both.
    fn tip(
        &self,
        bubbles: &[(f64, Option<Found>)],
        dews: &[(f64, Option<Found>)],
        is_first: bool,
    ) -> Option<Point> {
        let has_both = |place: &usize| bubbles[*place].1.is_some() && dews[*place].1.is_some();
        let count = bubbles.len();
        let inside = match is_first {
            true => (0..count).rev().find(has_both),
            false => (0..count).find(has_both),
        }?;
        let inside = bubbles[inside].0;
        // A mixture's critical pressure or temperature minus that of the picture.
        let error = |part: f64| {
            let one = match part {
                0.0 => self.pure[1].clone(),
                1.0 => self.pure[0].clone(),
                _ => self.mixtures.refrigerant(&self.masses(part))?,
            };
            let critical = one
                .critical_point()
                .ok_or_else(|| super::nothing(reasons::DRAWN_NOTHING_OF_LENS))?;
            Ok(match self.at {
                AzeotropeAt::Pressure(at) => (critical.pressure.in_pascal() / at.in_pascal()).ln(),
                AzeotropeAt::Temperature(at) => {
                    critical.temperature.in_kelvin() / at.in_kelvin() - 1.0
                }
            })
        };
        let end = if is_first { 1.0 } else { 0.0 };
        let part = bracketed_root(error, inside, end, 1e-5).ok()?;
        let one = self.mixtures.refrigerant(&self.masses(part)).ok()?;
        let critical = one.critical_point()?;
        Some(match self.at {
            AzeotropeAt::Pressure(_) => (part, critical.temperature.in_kelvin()),
            AzeotropeAt::Temperature(_) => (part, critical.pressure.in_pascal()),
        })
    }

    /// Points next to a tip: of each line the phase in equilibrium with points of the other, which
    /// lie on it where compositions are no longer reached one by one.
    fn lines_around_tip(
        &self,
        tip: Point,
        is_first: bool,
        lines: [&Vec<Point>; 2],
    ) -> [Vec<Point>; 2] {
        let mut found: [Vec<Point>; 2] = Default::default();
        for (own, branch) in [Branch::Bubble, Branch::Dew].into_iter().enumerate() {
            let line = lines[own];
            let near = match is_first {
                true => line.iter().rev().take(NEAR).collect::<Vec<_>>(),
                false => line.iter().take(NEAR).collect(),
            };
            for (part, _) in near {
                if *part == 0.0 || *part == 1.0 {
                    continue;
                }
                let masses = self.masses(*part);
                if let Some(point) = self.mixtures.azeotrope_of(&masses, branch, self.at) {
                    let other = self.part(&point.other);
                    // Phases that are alike are the critical point itself.
                    if (other - part).abs() > 1e-6 && (other - tip.0).abs() < CLOSE {
                        found[1 - own].push((other, self.value(&point)));
                    }
                }
            }
        }
        found
    }
}

/// A line in the parts that no composition without an answer lies between.
fn runs(
    line: &[Point],
    known: &[(f64, Option<Found>)],
    alone: [Option<f64>; 2],
) -> Vec<Vec<Point>> {
    let answered = |(part, found): &(f64, Option<Found>)| found.is_some().then_some(*part);
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

/// How many points of a line next to a tip are asked for the phase they are in equilibrium with.
const NEAR: usize = 30;
/// How far from the tip such a phase is taken.
const CLOSE: f64 = 0.1;

/// Ends a line in the tip, by way of the points around it that lie beyond its own end.
fn close(line: &mut Vec<Point>, around: Vec<Point>, tip: Point, is_first: bool) {
    if !is_first {
        line.reverse();
    }
    if let Some((_, last)) = line.last().copied() {
        let toward = (tip.1 - last).signum();
        let mut beyond: Vec<Point> = around
            .into_iter()
            .filter(|(_, value)| toward * (value - last) > 0.0 && toward * (tip.1 - value) > 0.0)
            .collect();
        beyond.sort_by(|a, b| (toward * a.1).total_cmp(&(toward * b.1)));
        line.extend(beyond);
    }
    line.push(tip);
    if !is_first {
        line.reverse();
    }
}
