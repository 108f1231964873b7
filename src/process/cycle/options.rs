//! What may be said of a cycle beside its levels.

use super::question::{Cycle, Stages};
use crate::units::{Temperature, TemperatureDifference};

/// What may be said of a cycle; what is not is left as [`Cycle::between`] has it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct CycleOptions {
    /// As [`Cycle::superheat`].
    pub superheat: Option<TemperatureDifference>,
    /// As [`Cycle::suction_temperature`].
    pub suction_temperature: Option<Temperature>,
    /// As [`Cycle::useful_superheat`].
    pub useful_superheat: Option<TemperatureDifference>,
    /// As [`Cycle::subcooling`].
    pub subcooling: Option<TemperatureDifference>,
    /// As [`Cycle::liquid_temperature`].
    pub liquid_temperature: Option<Temperature>,
    /// As [`Cycle::efficiency`].
    pub efficiency: Option<f64>,
    /// As [`Cycle::suction_line_exchanger`].
    pub suction_line_exchanger: Option<f64>,
    /// As [`Cycle::evaporator_drop`], Pa.
    pub evaporator_drop: Option<f64>,
    /// As [`Cycle::condenser_drop`], Pa.
    pub condenser_drop: Option<f64>,
    /// As [`Cycle::capacity`], W.
    pub capacity: Option<f64>,
    /// As [`Cycle::stages`].
    pub stages: Option<Stages>,
}

impl Cycle {
    /// The cycle with what is said of it.
    pub fn with_options(self, options: &CycleOptions) -> Self {
        fn set<V>(cycle: Cycle, value: Option<V>, with: impl Fn(Cycle, V) -> Cycle) -> Cycle {
            match value {
                Some(value) => with(cycle, value),
                None => cycle,
            }
        }
        let cycle = set(self, options.superheat, Cycle::superheat);
        let cycle = set(
            cycle,
            options.suction_temperature,
            Cycle::suction_temperature,
        );
        let cycle = set(cycle, options.useful_superheat, Cycle::useful_superheat);
        let cycle = set(cycle, options.subcooling, Cycle::subcooling);
        let cycle = set(cycle, options.liquid_temperature, Cycle::liquid_temperature);
        let cycle = set(cycle, options.efficiency, Cycle::efficiency);
        let cycle = set(
            cycle,
            options.suction_line_exchanger,
            Cycle::suction_line_exchanger,
        );
        let cycle = set(cycle, options.evaporator_drop, Cycle::evaporator_drop);
        let cycle = set(cycle, options.condenser_drop, Cycle::condenser_drop);
        let cycle = set(cycle, options.capacity, Cycle::capacity);
        set(cycle, options.stages, Cycle::stages)
    }
}
