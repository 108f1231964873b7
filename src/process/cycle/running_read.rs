//! From both sides as read to the cycle that runs.

use super::{RunningCycle, RunningLimits, RunningRead, running_cycle};
use crate::Result;
use crate::refrigerant::Refrigerant;
use crate::service::reading::both_sides::BothSidesQuestion;
use crate::units::Temperature;

impl BothSidesQuestion {
    /// The cycle that runs, with the discharge line read too; `None` where a pressure or line of
    /// either side was not read.
    pub fn running(
        &self,
        refrigerant: &Refrigerant,
        discharge_line: Temperature,
    ) -> Option<Result<RunningCycle>> {
        let (suction, liquid) = (self.suction.as_ref()?, self.liquid.as_ref()?);
        let read = RunningRead {
            suction_pressure: suction.read.pressure,
            suction_line: suction.line?,
            liquid_pressure: liquid.read.pressure,
            liquid_line: liquid.line?,
            discharge_line,
        };
        let [low, high] = [suction, liquid].map(|side| side.read.limits(&self.kit));
        let limits = RunningLimits {
            suction_pressure: low.pressure,
            liquid_pressure: high.pressure,
            site: low.site.or(high.site),
            clamp: low.clamp,
            contact: low.contact,
        };
        Some(running_cycle(refrigerant, read, limits))
    }
}
