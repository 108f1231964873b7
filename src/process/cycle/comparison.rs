//! Cycles of several refrigerants beside each other, at one condition or at several.

use crate::process::reasons;
use serde::{Serialize, Serializer};

use super::{
    CoilTemperature, Cycle, CycleAnswer, Discharge, GasCoolerPressure, Level, Liquid, Stages,
    Suction,
};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Identity;
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result};

/// What is stated about a system and compared with what was found.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Stated {
    /// Highest discharge temperature.
    pub discharge_limit: Option<Temperature>,
    /// Pressure rating of the high side.
    pub pressure_rating: Option<Pressure>,
}

/// A cycle against that of the first refrigerant at the same condition: its value divided by the
/// first one's.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Relative {
    /// Evaporating pressure.
    pub evaporating_pressure: f64,
    /// Condensing pressure.
    pub condensing_pressure: f64,
    /// Volumetric capacity: the capacity of one displacement.
    pub volumetric_capacity: f64,
    /// Mass flow at one capacity.
    pub mass_flow: f64,
    /// COP for cooling.
    pub cop_cooling: f64,
    /// COP for heating.
    pub cop_heating: f64,
    /// Discharge temperature minus the first one's.
    #[serde(rename = "discharge_temperature_difference_K")]
    pub discharge: TemperatureDifference,
}

impl Relative {
    /// A cycle against another.
    pub fn of(one: &CycleAnswer, first: &CycleAnswer) -> Self {
        let pressure = |a: Pressure, b: Pressure| a.in_pascal() / b.in_pascal();
        Self {
            evaporating_pressure: pressure(one.evaporating_pressure, first.evaporating_pressure),
            condensing_pressure: pressure(one.condensing_pressure, first.condensing_pressure),
            volumetric_capacity: one.volumetric_capacity / first.volumetric_capacity,
            mass_flow: first.effect / one.effect,
            cop_cooling: one.cop_cooling / first.cop_cooling,
            cop_heating: one.cop_heating / first.cop_heating,
            discharge: one.discharge_temperature - first.discharge_temperature,
        }
    }
}

/// One refrigerant at one condition.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// What it is called and made of.
    pub identity: Identity,
    /// The cycle asked for, with condenser or gas cooler as the refrigerant needs it.
    pub cycle: Cycle,
    /// The cycle found, or why there is none.
    pub found: Result<CycleAnswer>,
    /// Against the first refrigerant; `None` for one alone, and where either has no cycle.
    pub relative: Option<Relative>,
}

/// Cycles beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Condition by condition, in each the refrigerants in the order asked.
    pub entries: Vec<Entry>,
    /// How many refrigerants there are.
    pub refrigerants: usize,
    /// What was stated about the system.
    pub stated: Stated,
}

/// Solves cycles for refrigerants, each against the first.
///
/// # Errors
/// That of the first cycle where none is solved ([`Cycle::solve`]); [`Error::NoAnswer`] without a
/// refrigerant or without a cycle.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::process::cycle::{Cycle, Level, Stated, compare};
/// use zeotrope::units::Temperature;
/// let pair = [Refrigerant::named("R-22")?, Refrigerant::named("R-290")?];
/// let evaporating = Level::inlet_mean(Temperature::fahrenheit(20.0));
/// let cycle = Cycle::between(evaporating, Level::mean(Temperature::celsius(30.0)));
/// let found = compare(&pair, &[cycle], Stated::default())?;
/// let relative = found.entries[1].relative.unwrap();
/// // ASHRAE Handbook Fundamentals 2021, chapter 29, table 8: COP 6.105 and 5.987
/// assert!((relative.cop_cooling - 5.987 / 6.105).abs() < 0.002);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn compare(
    refrigerants: &[Refrigerant],
    cycles: &[Cycle],
    stated: Stated,
) -> Result<Comparison> {
    let identities: Vec<Identity> = refrigerants.iter().map(Identity::of_refrigerant).collect();
    let mut entries: Vec<Entry> = Vec::new();
    for cycle in cycles {
        let first = entries.len();
        for (refrigerant, identity) in refrigerants.iter().zip(&identities) {
            let found = cycle.solve(refrigerant);
            let relative = match (entries.get(first).map(|first| &first.found), &found) {
                (Some(Ok(first)), Ok(one)) => Some(Relative::of(one, first)),
                (None, Ok(one)) if refrigerants.len() > 1 => Some(Relative::of(one, one)),
                _ => None,
            };
            entries.push(Entry {
                identity: identity.clone(),
                cycle: cycle.settled(refrigerant),
                found,
                relative,
            });
        }
    }
    match entries.first() {
        None => Err(super::question::refused(
            reasons::CYCLE_NOTHING_TO_COMPARE,
            "name a refrigerant",
        )),
        Some(Entry {
            found: Err(error), ..
        }) if entries.iter().all(|entry| entry.found.is_err()) => Err(error.clone()),
        Some(_) => Ok(Comparison {
            entries,
            refrigerants: refrigerants.len(),
            stated,
        }),
    }
}

impl Serialize for Comparison {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            assumptions: Option<Assumptions>,
            discharge_limit_K: Option<Temperature>,
            pressure_rating_Pa: Option<Pressure>,
            results: &'a [Entry],
        }
        Keys {
            assumptions: self.entries.first().map(|entry| Assumptions(entry.cycle)),
            discharge_limit_K: self.stated.discharge_limit,
            pressure_rating_Pa: self.stated.pressure_rating,
            results: &self.entries,
        }
        .serialize(serializer)
    }
}

impl Serialize for Entry {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            evaporating_temperature_K: Option<Temperature>,
            evaporating_at: Option<CoilTemperature>,
            condensing_temperature_K: Option<Temperature>,
            condensing_at: Option<CoilTemperature>,
            gas_cooler_outlet_K: Option<Temperature>,
            #[serde(flatten)]
            found: Option<&'a CycleAnswer>,
            relative: Option<Relative>,
            error: Option<String>,
        }
        let of = |level: Level| match level {
            Level::Temperature(temperature, kind) => (Some(temperature), Some(kind)),
            Level::Pressure(_) => (None, None),
        };
        let low = of(self.cycle.evaporating);
        let (high, outlet) = match self.cycle.discharge {
            Discharge::Condenser(level) => (of(level), None),
            Discharge::GasCooler { outlet, .. } => ((None, None), Some(outlet)),
        };
        Keys {
            identity: &self.identity,
            evaporating_temperature_K: low.0,
            evaporating_at: low.1,
            condensing_temperature_K: high.0,
            condensing_at: high.1,
            gas_cooler_outlet_K: outlet,
            found: self.found.as_ref().ok(),
            relative: self.relative,
            error: self.found.as_ref().err().map(Error::to_string),
        }
        .serialize(serializer)
    }
}

/// What all cycles of an answer have in common.
struct Assumptions(Cycle);

impl Serialize for Assumptions {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys {
            useful_superheat_K: TemperatureDifference,
            suction_superheat_K: Option<TemperatureDifference>,
            suction_temperature_K: Option<Temperature>,
            subcooling_K: Option<TemperatureDifference>,
            liquid_temperature_K: Option<Temperature>,
            isentropic_efficiency: f64,
            suction_line_effectiveness: Option<f64>,
            evaporator_drop_Pa: f64,
            condenser_drop_Pa: f64,
            gas_cooler_pressure_Pa: Option<Pressure>,
            best_gas_cooler_pressure: bool,
            stages: &'static str,
            intermediate_pressure_Pa: Option<Pressure>,
            economizer_approach_K: Option<TemperatureDifference>,
        }
        let cycle = &self.0;
        let suction = match (cycle.suction, cycle.exchanger) {
            (Some(Suction::Temperature(given)), _) => (None, Some(given)),
            (Some(Suction::Superheat(by)), _) => (Some(by), None),
            (None, Some(_)) => (None, None),
            (None, None) => (Some(cycle.useful()), None),
        };
        let is_gas = matches!(cycle.discharge, Discharge::GasCooler { .. });
        let liquid = match cycle.liquid {
            Some(Liquid::Temperature(given)) => (None, Some(given)),
            Some(Liquid::Subcooling(by)) => (Some(by), None),
            None if is_gas => (None, None),
            None => (Some(TemperatureDifference::kelvin(0.0)), None),
        };
        let gas = match cycle.discharge {
            Discharge::GasCooler { pressure, .. } => Some(pressure),
            Discharge::Condenser(_) => cycle.beyond.map(|(pressure, _)| pressure),
        };
        let (stages, intermediate, approach) = match cycle.stages {
            Stages::One => ("one", None, None),
            Stages::OpenFlash { intermediate } => ("open_flash", intermediate, None),
            Stages::Economizer {
                intermediate,
                approach,
            } => ("economizer", intermediate, Some(approach)),
        };
        Keys {
            useful_superheat_K: cycle.useful(),
            suction_superheat_K: suction.0,
            suction_temperature_K: suction.1,
            subcooling_K: liquid.0,
            liquid_temperature_K: liquid.1,
            isentropic_efficiency: cycle.efficiency,
            suction_line_effectiveness: cycle.exchanger,
            evaporator_drop_Pa: cycle.evaporator_drop,
            condenser_drop_Pa: cycle.condenser_drop,
            gas_cooler_pressure_Pa: match gas {
                Some(GasCoolerPressure::At(given)) => Some(given),
                _ => None,
            },
            best_gas_cooler_pressure: gas == Some(GasCoolerPressure::Best),
            stages,
            intermediate_pressure_Pa: intermediate,
            economizer_approach_K: approach,
        }
        .serialize(serializer)
    }
}
