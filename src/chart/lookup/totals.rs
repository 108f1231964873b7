//! What several lookups have in common, and what the composition's tolerance makes of one.

use super::Lookup;
use crate::equilibrium::bubble_dew::Branch;
use crate::refrigerant::{Band, Refrigerant};
use crate::units::{Pressure, Temperature};

/// What is counted over several lookups.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Totals {
    /// Bytes of all entries.
    pub bytes: usize,
    /// Inputs read.
    pub inputs: u64,
    /// Every how manieth input was read at the widest; 1 for all.
    pub every: u32,
}

impl Totals {
    /// Those of some lookups.
    pub fn of(all: &[Lookup]) -> Self {
        let checks = || all.iter().flat_map(|one| &one.entries);
        Self {
            bytes: all.iter().map(|one| one.bytes).sum(),
            inputs: checks().map(|one| one.check.inputs).sum(),
            every: checks().map(|one| one.check.every).max().unwrap_or(1),
        }
    }
}

/// Dew temperatures that the composition's tolerance leaves open, at a whole pressure in Pa near the
/// dew pressure in the middle of the range; `None` where no tolerance is on record.
pub(super) fn middle_band(
    refrigerant: &Refrigerant,
    (from, to): (f64, f64),
) -> Option<(Pressure, Band<Temperature>)> {
    let middle = Temperature::kelvin((from + to) / 2.0);
    let pressure = refrigerant.dew_pressure(middle).ok()?;
    let pressure = Pressure::pascal(pressure.in_pascal().round());
    let band = refrigerant.temperature_band(Branch::Dew, pressure).ok()??;
    Some((pressure, band))
}
