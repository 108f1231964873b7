//! The table of saturation pressures that a student looks readings up in.

use super::Task;
use crate::Branch;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, UnitSet};

/// With more steps than this the page's type would shrink.
const MOST_ROWS: f64 = 8.0;

/// One line of one refrigerant.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct TableColumn {
    /// The refrigerant.
    pub refrigerant: String,
    /// The line; none where both are one.
    pub branch: Option<Branch>,
    /// The pressure of each row, none where the line has none.
    pub pressures: Vec<Option<Pressure>>,
}

/// Saturation pressures at even steps around all readings of an exercise, so that its page can be
/// solved without another.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct PressureTable {
    /// Temperatures in the exercise's unit.
    pub rows: Vec<f64>,
    /// A line each.
    pub columns: Vec<TableColumn>,
}

impl PressureTable {
    /// The table for the readings among tasks.
    pub(super) fn of(tasks: &[Task], all: &[Refrigerant], units: &UnitSet) -> Option<Self> {
        let readings = || {
            tasks.iter().filter_map(|task| match task {
                Task::Reading(task) => Some(task),
                _ => None,
            })
        };
        let unit = units.temperature;
        let asked = readings().flat_map(|task| {
            let wrong = task.reading.other.filter(|_| task.asks_wrong);
            [Some(task.reading.saturation), wrong]
        });
        let read: Vec<f64> = asked.flatten().map(|at| unit.read(at)).collect();
        let lowest = read.iter().copied().fold(f64::INFINITY, f64::min);
        let highest = read.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        // A straight line between rows misses by less than 0.05 °F, in coarse steps by 0.25 °F (the
        // slope of a saturation line changes by 2 % a degree).
        let [fine, coarse] = if units.feet { [5.0, 10.0] } else { [2.0, 5.0] };
        let step = match highest - lowest > MOST_ROWS * fine {
            true => coarse,
            false => fine,
        };
        let [from, to] = [
            (lowest / step).floor() * step - step,
            (highest / step).ceil() * step + step,
        ];
        let count = ((to - from) / step).round();
        if !count.is_finite() {
            return None;
        }
        let rows: Vec<f64> = (0..=count as usize)
            .map(|at| from + step * at as f64)
            .collect();
        let is_read = |one: &&Refrigerant| {
            let name = one.designation();
            readings().any(|task| task.refrigerant == name)
        };
        let columns = all.iter().filter(is_read).flat_map(|one| {
            let branches = match one.is_pure() {
                true => vec![None],
                false => vec![Some(Branch::Bubble), Some(Branch::Dew)],
            };
            branches.into_iter().map(|branch| {
                let at = |row: &f64| {
                    let temperature = unit.write(*row);
                    match branch {
                        Some(Branch::Bubble) => one.bubble_pressure(temperature),
                        _ => one.dew_pressure(temperature),
                    }
                };
                TableColumn {
                    refrigerant: one.designation().to_owned(),
                    branch,
                    pressures: rows.iter().map(|row| at(row).ok()).collect(),
                }
            })
        });
        let columns = columns.collect();
        Some(Self { rows, columns })
    }
}
