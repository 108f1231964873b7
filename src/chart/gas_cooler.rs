//! Gas-cooler pressures of best COP, for a refrigerant whose critical point lies below a warm day.

use crate::process::cycle::{Cycle, GasCoolerPressure, Level};
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature, TemperatureDifference, TemperatureUnit};

/// Critical temperatures between which heat is rejected above the critical point on a warm day and
/// the evaporator still works below it (our own limits; R-744 has 31 °C).
const WARM: [Temperature; 2] = [Temperature::celsius(25.0), Temperature::celsius(45.0)];
/// Isentropic efficiency of the compression (our own assumption; shown with the figures).
const EFFICIENCY: f64 = 0.7;

/// Pressures of a gas cooler at which the COP for cooling is highest, with what they rest on.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct GasCooler {
    /// Evaporating temperature.
    pub evaporating: Temperature,
    /// Superheat at the compressor's suction.
    pub superheat: TemperatureDifference,
    /// Isentropic efficiency of the compression.
    pub efficiency: f64,
    /// Temperature that leaves the gas cooler, pressure of the highest COP.
    pub rows: Vec<(Temperature, Pressure)>,
}

impl GasCooler {
    /// The pressures at a few outlet temperatures, round in a unit; none for a refrigerant that is
    /// not used so, a blend, or where no outlet has a best pressure.
    pub(super) fn for_refrigerant(
        refrigerant: &Refrigerant,
        unit: TemperatureUnit,
    ) -> Option<Self> {
        let critical = refrigerant.critical_point()?.temperature.in_kelvin();
        let [low, high] = WARM.map(Temperature::in_kelvin);
        if !refrigerant.is_pure() || !(low..high).contains(&critical) {
            return None;
        }
        let (evaporating, superheat, outlets) = match unit {
            TemperatureUnit::Fahrenheit => (
                Temperature::fahrenheit(20.0),
                TemperatureDifference::kelvin(10.0 / 1.8),
                [90.0, 95.0, 100.0, 105.0, 110.0].map(Temperature::fahrenheit),
            ),
            _ => (
                Temperature::celsius(-10.0),
                TemperatureDifference::kelvin(5.0),
                [32.0, 35.0, 38.0, 41.0, 44.0].map(Temperature::celsius),
            ),
        };
        let best = |outlet: Temperature| {
            let evaporator = Level::dew(evaporating);
            let cycle = Cycle::transcritical(evaporator, GasCoolerPressure::Best, outlet)
                .superheat(superheat)
                .efficiency(EFFICIENCY);
            let found = cycle.solve(refrigerant).ok()?;
            Some((outlet, found.condensing_pressure))
        };
        let rows: Vec<_> = outlets.into_iter().filter_map(best).collect();
        (!rows.is_empty()).then_some(Self {
            evaporating,
            superheat,
            efficiency: EFFICIENCY,
            rows,
        })
    }
}
