//! The cycle that runs, from what is read of it.
//!
//! With suction 1, discharge 2, liquid 3 and the isentropic discharge 2s at the liquid's pressure:
//! eta = (h2s - h1)/(h2 - h1), effect h1 - h3, COP (h1 - h3)/(h2 - h1). A limit of error a of an
//! input counts as u = a/sqrt(3), times the slope of the result (JCGM 100:2008, the GUM, 4.3.7 and
//! eq. 10); inputs count as independent, each clamp too.

use crate::process::reasons;
use serde::{Serialize, Serializer};

use super::level::point;
use super::question::refused;
use super::{Cycle, CycleAnswer, GasCoolerPressure, Level, Place, Point};
use crate::Result;
use crate::refrigerant::{Given, Refrigerant};
use crate::units::{Pressure, Temperature};

/// What is read of a system that runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunningRead {
    /// Pressure of the suction line.
    pub suction_pressure: Pressure,
    /// Temperature of the suction line at the compressor.
    pub suction_line: Temperature,
    /// Pressure of the liquid line, taken as that of the discharge.
    pub liquid_pressure: Pressure,
    /// Temperature of the liquid line.
    pub liquid_line: Temperature,
    /// Temperature of the discharge line at the compressor.
    pub discharge_line: Temperature,
}

/// Limits of error of what is read; `None` is not known and not counted.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct RunningLimits {
    /// Of the suction pressure, Pa.
    pub suction_pressure: Option<f64>,
    /// Of the liquid pressure, Pa.
    pub liquid_pressure: Option<f64>,
    /// Of the local atmospheric pressure in both of them, Pa.
    pub site: Option<f64>,
    /// Of each thermometer, K.
    pub clamp: Option<f64>,
    /// Of its contact with the line, K.
    pub contact: Option<f64>,
}

/// An input whose error counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum RunningSource {
    /// The suction pressure.
    SuctionPressure,
    /// The liquid pressure.
    LiquidPressure,
    /// Local atmospheric pressure.
    Site,
    /// Temperature of the suction line.
    SuctionLine,
    /// Temperature of the liquid line.
    LiquidLine,
    /// Temperature of the discharge line.
    DischargeLine,
}

/// A result with what the limits of its inputs make of it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
#[non_exhaustive]
pub struct Estimate {
    /// The result.
    pub value: f64,
    /// Standard uncertainty; `None` where no limit is known, or one reaches beyond every state.
    pub standard: Option<f64>,
    /// Twice the standard uncertainty, capped at the worst case.
    pub expanded: Option<f64>,
    /// All limits reached at once, each in the worse direction.
    pub worst: Option<f64>,
}

/// The standard uncertainties that one input makes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[non_exhaustive]
pub struct RunningContribution {
    /// The input.
    pub source: RunningSource,
    /// Of the isentropic efficiency.
    pub isentropic_efficiency: f64,
    /// Of the COP.
    pub cop_cooling: f64,
    /// Of the refrigerating effect, J/kg.
    #[serde(rename = "refrigerating_effect_J_kg")]
    pub effect: f64,
}

/// The cycle that runs.
///
/// It is counted that the compressor's shell loses no heat. One that does makes the vapor leave
/// colder: efficiency and COP are then too high by this reckoning.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct RunningCycle {
    /// Isentropic efficiency of the compression.
    pub efficiency: Estimate,
    /// Heat taken up between liquid and suction line by the work of compression.
    pub cop: Estimate,
    /// Heat taken up per kg, J/kg.
    pub effect: Estimate,
    /// Which input makes how much of it; empty where no limit is known.
    pub contributions: Vec<RunningContribution>,
    /// The cycle between these readings.
    pub cycle: CycleAnswer,
}

/// The cycle that runs, with the uncertainty of its inputs.
///
/// # Errors
/// [`Error::CyclePoint`](crate::Error::CyclePoint) for a reading without a state, among them a
/// suction line in two phases and a liquid line that is not liquid; [`Error::NoAnswer`](crate::Error::NoAnswer)
/// where the discharge line is colder than an isentropic compression would make it.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::process::cycle::{RunningLimits, RunningRead, running_cycle};
/// use zeotrope::units::{Pressure, Temperature};
/// let read = RunningRead {
///     suction_pressure: Pressure::pascal(349_658.608),
///     suction_line: Temperature::celsius(15.0),
///     liquid_pressure: Pressure::pascal(1_491_514.09),
///     liquid_line: Temperature::celsius(50.0),
///     discharge_line: Temperature::kelvin(354.120537),
/// };
/// let found = running_cycle(&Refrigerant::named("R-134a")?, read, RunningLimits::default())?;
/// // a general-purpose open library's cycle of 70 % between these pressures
/// assert!((found.efficiency.value - 0.7).abs() < 1e-5);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn running_cycle(
    refrigerant: &Refrigerant,
    read: RunningRead,
    limits: RunningLimits,
) -> Result<RunningCycle> {
    let dew = refrigerant.dew_temperature(read.suction_pressure)?;
    if read.suction_line <= dew {
        return Err(refused(
            reasons::RUNNING_SUCTION_NOT_DRY,
            "read it where the vapor is superheated",
        ));
    }
    let [efficiency, cop, effect] = figures(refrigerant, &read)?;
    if efficiency > 1.0 {
        return Err(refused(
            reasons::RUNNING_COLDER_THAN_IDEAL,
            "check the clamp on the discharge line, and that all was read at one time while the \
             system ran steadily; a compressor whose shell loses much heat has no such figure",
        ));
    }
    let cycle = cycle(refrigerant, &read)
        .superheat(read.suction_line - dew)
        .efficiency(efficiency)
        .solve(refrigerant)?;
    // Where a limit reaches beyond every state, nothing bounds the results.
    let contributions: Vec<_> = sources(limits)
        .into_iter()
        .map(|(source, limit, squares)| {
            let slopes = slopes(refrigerant, &read, source, limit)?;
            Ok((source, limit, squares, slopes))
        })
        .collect::<Result<_>>()
        .unwrap_or_default();
    let estimate = |place: usize, value: f64| {
        if contributions.is_empty() {
            return Estimate {
                value,
                ..Estimate::default()
            };
        }
        let each = contributions.iter();
        let squares: f64 = each
            .clone()
            .map(|(_, _, squares, slopes)| squares * slopes[place].powi(2) / 3.0)
            .sum();
        let worst: f64 = each
            .map(|(_, limit, _, slopes)| limit * slopes[place].abs())
            .sum();
        let standard = squares.sqrt();
        Estimate {
            value,
            standard: Some(standard),
            expanded: Some(worst.min(2.0 * standard)),
            worst: Some(worst),
        }
    };
    Ok(RunningCycle {
        efficiency: estimate(0, efficiency),
        cop: estimate(1, cop),
        effect: estimate(2, effect),
        contributions: contributions
            .iter()
            .map(|(source, _, squares, slopes)| {
                let of = |place: usize| slopes[place].abs() * (squares / 3.0).sqrt();
                RunningContribution {
                    source: *source,
                    isentropic_efficiency: of(0),
                    cop_cooling: of(1),
                    effect: of(2),
                }
            })
            .collect(),
        cycle,
    })
}

/// The cycle between the pressures read, with a gas cooler above the critical pressure.
fn cycle(refrigerant: &Refrigerant, read: &RunningRead) -> Cycle {
    let low = Level::Pressure(read.suction_pressure);
    let critical = refrigerant.critical_point();
    if critical.is_some_and(|critical| read.liquid_pressure >= critical.pressure) {
        let pressure = GasCoolerPressure::At(read.liquid_pressure);
        return Cycle::transcritical(low, pressure, read.liquid_line);
    }
    Cycle::between(low, Level::Pressure(read.liquid_pressure)).liquid_temperature(read.liquid_line)
}

/// Isentropic efficiency, COP and effect.
fn figures(refrigerant: &Refrigerant, read: &RunningRead) -> Result<[f64; 3]> {
    let state = |place, temperature, pressure| -> Result<Point> {
        point(
            refrigerant,
            place,
            Given::TemperaturePressure(temperature, pressure),
        )
    };
    let one = state(Place::Suction, read.suction_line, read.suction_pressure)?;
    let two = state(Place::Discharge, read.discharge_line, read.liquid_pressure)?;
    let three = state(Place::LiquidLine, read.liquid_line, read.liquid_pressure)?;
    let given = Given::PressureEntropy(read.liquid_pressure, one.entropy);
    let ideal = point(refrigerant, Place::IdealDischarge, given)?;
    let work = two.enthalpy - one.enthalpy;
    if work <= 0.0 || read.liquid_pressure <= read.suction_pressure {
        return Err(refused(
            reasons::RUNNING_NO_COMPRESSION,
            "check which line is which, and that all was read while the system ran",
        ));
    }
    let effect = one.enthalpy - three.enthalpy;
    Ok([
        (ideal.enthalpy - one.enthalpy) / work,
        effect / work,
        effect,
    ])
}

/// Inputs with a limit: the limit, and the sum of the squares of what it consists of.
fn sources(limits: RunningLimits) -> Vec<(RunningSource, f64, f64)> {
    let parts = [limits.clamp, limits.contact];
    let known = parts.iter().flatten();
    let (sum, squares): (f64, f64) = (known.clone().sum(), known.map(|one| one * one).sum());
    let line = (sum > 0.0).then_some((sum, squares));
    let alone = |limit: Option<f64>| limit.map(|limit| (limit, limit * limit));
    [
        (
            RunningSource::SuctionPressure,
            alone(limits.suction_pressure),
        ),
        (RunningSource::LiquidPressure, alone(limits.liquid_pressure)),
        (RunningSource::Site, alone(limits.site)),
        (RunningSource::SuctionLine, line),
        (RunningSource::LiquidLine, line),
        (RunningSource::DischargeLine, line),
    ]
    .into_iter()
    .filter_map(|(source, limit)| limit.map(|(limit, squares)| (source, limit, squares)))
    .collect()
}

/// How the figures change per unit of an input, over its limit or the side of it that has states.
fn slopes(
    refrigerant: &Refrigerant,
    read: &RunningRead,
    source: RunningSource,
    limit: f64,
) -> Result<[f64; 3]> {
    let moved = |by: f64| {
        let mut moved = *read;
        let shift = |pressure: &mut Pressure| {
            *pressure = Pressure::pascal(pressure.in_pascal() + by);
        };
        let warm = |line: &mut Temperature| *line = Temperature::kelvin(line.in_kelvin() + by);
        match source {
            RunningSource::SuctionPressure => shift(&mut moved.suction_pressure),
            RunningSource::LiquidPressure => shift(&mut moved.liquid_pressure),
            RunningSource::Site => {
                shift(&mut moved.suction_pressure);
                shift(&mut moved.liquid_pressure);
            }
            RunningSource::SuctionLine => warm(&mut moved.suction_line),
            RunningSource::LiquidLine => warm(&mut moved.liquid_line),
            RunningSource::DischargeLine => warm(&mut moved.discharge_line),
        }
        figures(refrigerant, &moved)
    };
    let middle = figures(refrigerant, read)?;
    let (low, high, width) = match (moved(-limit), moved(limit)) {
        (Ok(low), Ok(high)) => (low, high, 2.0 * limit),
        (Ok(low), Err(_)) => (low, middle, limit),
        (Err(_), Ok(high)) => (middle, high, limit),
        (Err(error), Err(_)) => return Err(error),
    };
    Ok(std::array::from_fn(|k| (high[k] - low[k]) / width))
}

impl Serialize for RunningCycle {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            isentropic_efficiency: f64,
            isentropic_efficiency_standard_uncertainty: Option<f64>,
            isentropic_efficiency_expanded_uncertainty: Option<f64>,
            isentropic_efficiency_worst_case: Option<f64>,
            cop_cooling_standard_uncertainty: Option<f64>,
            cop_cooling_expanded_uncertainty: Option<f64>,
            cop_cooling_worst_case: Option<f64>,
            refrigerating_effect_standard_uncertainty_J_kg: Option<f64>,
            refrigerating_effect_expanded_uncertainty_J_kg: Option<f64>,
            refrigerating_effect_worst_case_J_kg: Option<f64>,
            contributions: &'a [RunningContribution],
            #[serde(flatten)]
            cycle: &'a CycleAnswer,
        }
        Keys {
            isentropic_efficiency: self.efficiency.value,
            isentropic_efficiency_standard_uncertainty: self.efficiency.standard,
            isentropic_efficiency_expanded_uncertainty: self.efficiency.expanded,
            isentropic_efficiency_worst_case: self.efficiency.worst,
            cop_cooling_standard_uncertainty: self.cop.standard,
            cop_cooling_expanded_uncertainty: self.cop.expanded,
            cop_cooling_worst_case: self.cop.worst,
            refrigerating_effect_standard_uncertainty_J_kg: self.effect.standard,
            refrigerating_effect_expanded_uncertainty_J_kg: self.effect.expanded,
            refrigerating_effect_worst_case_J_kg: self.effect.worst,
            contributions: &self.contributions,
            cycle: &self.cycle,
        }
        .serialize(serializer)
    }
}
