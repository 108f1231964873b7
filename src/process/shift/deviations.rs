//! How far the deviation of each pair's vapor moves the amounts along a loss, to first order.
//!
//! With u = ln N, f of `trace` and f(epsilon) the same with a pair's volatility off (`tilt`):
//!
//! ```text
//! d(du)/dt = J du + f(epsilon) - f                     J = df/du
//! ```

use super::tilt::Tilt;
use super::trace::{Trace, time_at};
use super::vessel::Amounts;
use crate::equilibrium::at_volume::InVolume;
use crate::error::Result;
use crate::helmholtz::MAX_COMPONENTS;

/// The step of u by which derivatives are found: one step of Newton's method answers it.
pub(super) const SMALL: f64 = 3e-8;
/// Longest step of t in which deviations are followed.
const LONGEST: f64 = 0.1;

/// Where derivatives are known.
struct Node {
    t: f64,
    /// J by columns.
    by_amount: [Amounts; MAX_COMPONENTS],
    /// f(epsilon) - f of each pair.
    by_pair: Vec<Amounts>,
    /// du of each pair.
    off: Vec<Amounts>,
}

/// How far each pair moves the amounts along a loss.
pub(super) struct Deviations {
    nodes: Vec<Node>,
}

impl Deviations {
    /// From deviations at the beginning.
    pub(super) fn along(trace: &Trace<'_>, tilts: &[Tilt], begun: Vec<Amounts>) -> Result<Self> {
        let mut nodes: Vec<Node> = Vec::new();
        for (t, amounts, contents) in trace.known()? {
            let slope = trace.slope(&contents, &amounts);
            let mut by_amount = [[0.0; MAX_COMPONENTS]; MAX_COMPONENTS];
            for (k, column) in by_amount.iter_mut().enumerate() {
                if let Some((more, there)) = more_of(trace, k, &amounts, &contents)? {
                    let moved = trace.slope(&there, &more);
                    *column = combined(&moved, &slope, |moved, slope| (moved - slope) / SMALL);
                }
            }
            let by_pair = tilts.iter().map(|tilt| {
                let (liquid, vapor) = tilt.phases(&contents);
                let moved = trace.slope_of(&liquid, &vapor, &amounts);
                combined(&moved, &slope, |moved, slope| moved - slope)
            });
            let mut node = Node {
                t,
                by_amount,
                by_pair: by_pair.collect(),
                off: Vec::new(),
            };
            node.off = match nodes.last() {
                Some(before) => before.off_at(&node, t),
                None => begun.clone(),
            };
            nodes.push(node);
        }
        Ok(Self { nodes })
    }

    /// At a share lost; vapor alone keeps what it has.
    pub(super) fn at_share_lost(&self, lost: f64) -> Vec<Amounts> {
        let t = time_at(lost);
        let after = self.nodes.partition_point(|node| node.t < t).max(1);
        match (self.nodes.get(after - 1), self.nodes.get(after)) {
            (Some(before), Some(after)) => before.off_at(after, t),
            (Some(last), None) => last.off.clone(),
            _ => Vec::new(),
        }
    }
}

impl Node {
    /// du of each pair at t between this node and the next, derivatives in proportion between
    /// them; by the classical method of the fourth order.
    fn off_at(&self, next: &Self, t: f64) -> Vec<Amounts> {
        let steps = ((t - self.t) / LONGEST).ceil().max(1.0);
        let length = (t - self.t) / steps;
        let pairs = self.off.iter().enumerate();
        pairs
            .map(|(pair, off)| {
                let change = |t: f64, off: &Amounts| {
                    let share = (t - self.t) / (next.t - self.t);
                    let mean = |a: f64, b: f64| a + share * (b - a);
                    let mut change = combined(&self.by_pair[pair], &next.by_pair[pair], mean);
                    let columns = self.by_amount.iter().zip(&next.by_amount).zip(off);
                    for ((a, b), off) in columns {
                        let column = combined(a, b, mean);
                        change = combined(&change, &column, |sum, own| sum + own * off);
                    }
                    change
                };
                let mut off = *off;
                for step in 0..steps as usize {
                    let t = self.t + step as f64 * length;
                    let ahead = |by: f64, slope: &Amounts| {
                        combined(&off, slope, |off, slope| off + by * length * slope)
                    };
                    let a = change(t, &off);
                    let b = change(t + 0.5 * length, &ahead(0.5, &a));
                    let c = change(t + 0.5 * length, &ahead(0.5, &b));
                    let d = change(t + length, &ahead(1.0, &c));
                    let ends = combined(&a, &d, |a, d| a + d);
                    let middle = combined(&b, &c, |b, c| b + c);
                    let all = combined(&ends, &middle, |ends, middle| ends + 2.0 * middle);
                    off = ahead(1.0 / 6.0, &all);
                }
                off
            })
            .collect()
    }
}

pub(super) fn combined(a: &Amounts, b: &Amounts, of: impl Fn(f64, f64) -> f64) -> Amounts {
    std::array::from_fn(|k| of(a[k], b[k]))
}

/// A little more of a component, and what then stands in the vessel; none of what is not there.
pub(super) fn more_of(
    trace: &Trace<'_>,
    place: usize,
    amounts: &Amounts,
    contents: &InVolume,
) -> Result<Option<(Amounts, InVolume)>> {
    if amounts[place] <= 0.0 {
        return Ok(None);
    }
    let mut more = *amounts;
    more[place] *= SMALL.exp();
    let there = trace.vessel.contents(&more, Some(contents))?;
    Ok(Some((more, there)))
}
