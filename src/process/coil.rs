//! Along the coil: where a refrigerant enters an evaporator or condenser, how its temperature
//! runs from there, and what "the" temperature of the coil may mean.
//!
//! Nothing is lost to friction here: the whole coil has one pressure. Nothing is gained or lost in
//! the expansion device either, neither heat nor work, so that the enthalpy before it is that
//! behind it (steady-flow energy balance; kinetic energy left out):
//!
//! ```text
//! h_liquid(T_liquid) = h(p, inlet)        T_inlet = T(p, h)
//! glide = T_dew - T_bubble                effective glide = T_dew - T_inlet
//! mean by enthalpy = 1/(h_end - h_start) * integral of T dh
//! ```
//!
//! The mean by enthalpy is that of a coil whose every part takes up heat at its own temperature.
//! The other means are rules of thumb in common use, without a source.

use crate::Warning;
use crate::error::{RangeUnit, Reason, reasons};
use crate::phrase::Phrase;
use crate::process;
use crate::refrigerant::{
    Given, PhaseProperties, ReferenceState, Refrigerant, SaturationPoint, State,
};
use crate::service::reading::both_sides::{BothSides, ReadSide};
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Phase, Result};

/// Steps of equal enthalpy along a coil at which it is told: 0, 10 ... 100 %.
const SHOWN: usize = 10;
/// Steps between two of those, for the integral.
const FINER: usize = 4;
/// Part of the latent heat within which an inlet counts as at the bubble point.
const ROUNDING: f64 = 1e-9;

/// What a coil does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoilKind {
    /// Takes up heat: from what the expansion device lets in to the dew point.
    Evaporator,
    /// Gives off heat: from the dew point to the bubble point.
    Condenser,
}

/// The liquid before the expansion device.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiquidFeed {
    /// Its temperature.
    pub temperature: Temperature,
    /// Its pressure; where it is not known the bubble pressure at its temperature is taken, on
    /// which the enthalpy of a liquid hardly depends.
    pub pressure: Option<Pressure>,
}

/// What enters an evaporator.
#[derive(Debug, Clone, PartialEq)]
pub struct Inlet {
    /// Temperature before the expansion device.
    pub liquid_temperature: Temperature,
    /// Pressure before the expansion device, as given or taken.
    pub liquid_pressure: Pressure,
    /// Whether that pressure was given.
    pub pressure_given: bool,
    /// Temperature behind the expansion device.
    pub temperature: Temperature,
    /// Vapor's share of the mass there.
    pub quality: f64,
    /// Dew minus inlet temperature.
    pub effective_glide: TemperatureDifference,
}

/// A place along a coil.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// Share of the coil's heat that has been exchanged, 0 where the refrigerant enters.
    pub position: f64,
    /// Temperature.
    pub temperature: Temperature,
    /// Enthalpy of both phases together, J/kg, from the coil's reference state.
    pub enthalpy: f64,
    /// Vapor's share of the mass.
    pub quality: f64,
    /// The liquid.
    pub liquid: PhaseProperties,
    /// The vapor.
    pub vapor: PhaseProperties,
}

/// What the mean or mid-point temperature of a coil may mean.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CoilMeans {
    /// (bubble + dew)/2.
    #[serde(rename = "bubble_and_dew_K")]
    pub bubble_and_dew: Temperature,
    /// (inlet + dew)/2, of an evaporator whose inlet is known.
    #[serde(rename = "inlet_and_dew_K")]
    pub inlet_and_dew: Option<Temperature>,
    /// By enthalpy, from where the refrigerant enters to where it leaves.
    #[serde(rename = "by_enthalpy_K")]
    pub by_enthalpy: Temperature,
    /// 40 % bubble + 60 % dew, a rule for evaporators (common practice, no source).
    #[serde(rename = "bubble_40_dew_60_K")]
    pub forty_sixty: Option<Temperature>,
}

/// An evaporator or condenser at one pressure.
#[derive(Debug, Clone, PartialEq)]
pub struct Coil {
    /// What it does.
    pub kind: CoilKind,
    /// Its pressure.
    pub pressure: Pressure,
    /// The bubble point at that pressure.
    pub bubble: SaturationPoint,
    /// The dew point at that pressure.
    pub dew: SaturationPoint,
    /// Dew minus bubble temperature; 0 for a pure refrigerant.
    pub glide: TemperatureDifference,
    /// What enters, where the liquid before the expansion device is known.
    pub inlet: Option<Inlet>,
    /// What its temperature may mean.
    pub means: CoilMeans,
    /// Eleven places in equal steps of enthalpy, from where the refrigerant enters.
    pub stations: Vec<Station>,
    /// The reference state of enthalpy used.
    pub zero: ReferenceState,
    /// What to know about this answer.
    pub warnings: Vec<Warning>,
}

impl Coil {
    /// An evaporator at a pressure, from its inlet, or from the bubble point where no liquid is
    /// given, to the dew point.
    ///
    /// For the effective glide, the inlet quality and what a mid-point means. See the
    /// [module](self) for the equations.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a pressure without a bubble or without a dew point, and for a
    /// liquid colder than the coil's bubble point (it would not boil on entering) or hotter than
    /// its own (vapor before the expansion device, whose share no thermometer tells);
    /// [`Error::NoState`] for a liquid so hot that all of it evaporates on expansion;
    /// [`Error::ReferenceState`] for a zero that does not exist.
    ///
    /// # Example
    /// ```
    /// use zeotrope::process::coil::{Coil, LiquidFeed};
    /// use zeotrope::units::{Pressure, Temperature};
    /// use zeotrope::{Refrigerant, ReferenceState};
    /// let r454c = Refrigerant::named("R-454C")?;
    /// let liquid = LiquidFeed { temperature: Temperature::fahrenheit(100.0), pressure: None };
    /// let pressure = r454c.dew_pressure(Temperature::fahrenheit(40.0))?;
    /// let coil = Coil::evaporator(&r454c, pressure, Some(liquid), ReferenceState::Usual)?;
    /// let inlet = coil.inlet.unwrap();
    /// // a general-purpose open library gives 10.2 of 14.9 °F
    /// assert!((inlet.effective_glide.in_fahrenheit_degrees() - 10.2).abs() < 0.1);
    /// assert!((coil.glide.in_fahrenheit_degrees() - 14.9).abs() < 0.1);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn evaporator(
        refrigerant: &Refrigerant,
        pressure: Pressure,
        liquid: Option<LiquidFeed>,
        zero: ReferenceState,
    ) -> Result<Self> {
        let ends = Ends::at_pressure(refrigerant, pressure, zero)?;
        let dew = ends.station(1.0);
        let Some(liquid) = liquid else {
            let bubble = ends.station(0.0);
            return ends.coil(CoilKind::Evaporator, bubble, dew, None);
        };
        let (before, at) = ends.liquid(liquid)?;
        let entering = ends.inlet(before)?;
        let inlet = Inlet {
            liquid_temperature: liquid.temperature,
            liquid_pressure: at,
            pressure_given: liquid.pressure.is_some(),
            temperature: entering.temperature,
            quality: entering.quality,
            effective_glide: dew.temperature - entering.temperature,
        };
        ends.coil(CoilKind::Evaporator, entering, dew, Some(inlet))
    }

    /// A condenser at a pressure, from the dew point to the bubble point.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a pressure without a bubble or without a dew point;
    /// [`Error::ReferenceState`] for a zero that does not exist.
    ///
    /// # Example
    /// ```
    /// use zeotrope::process::coil::Coil;
    /// use zeotrope::{Refrigerant, ReferenceState, units::Pressure};
    /// let r407c = Refrigerant::named("R-407C")?;
    /// let coil = Coil::condenser(&r407c, Pressure::bar(16.0), ReferenceState::Usual)?;
    /// assert_eq!(coil.stations[0].quality, 1.0);
    /// assert!(coil.stations[10].temperature < coil.stations[0].temperature);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn condenser(
        refrigerant: &Refrigerant,
        pressure: Pressure,
        zero: ReferenceState,
    ) -> Result<Self> {
        let ends = Ends::at_pressure(refrigerant, pressure, zero)?;
        let (dew, bubble) = (ends.station(1.0), ends.station(0.0));
        ends.coil(CoilKind::Condenser, dew, bubble, None)
    }
}

impl Coil {
    /// The mean by enthalpy of the stations alone, by Simpson's rule; `means` has it from four
    /// times as many places.
    pub fn mean_of_stations(&self) -> Temperature {
        let stations = self.stations.iter();
        let kelvin: Vec<f64> = stations.map(|one| one.temperature.in_kelvin()).collect();
        Temperature::kelvin(simpson(&kelvin))
    }
}

impl BothSides {
    /// Finds the mean of inlet and dew temperature in the evaporator, where the suction pressure and
    /// the liquid line were read and such a coil can be.
    pub fn find_inlet_mean(&mut self, refrigerant: &Refrigerant) {
        let mean = |low: &ReadSide, high: &ReadSide| {
            let liquid = LiquidFeed {
                temperature: high.line?,
                pressure: Some(high.pressure),
            };
            let zero = ReferenceState::Usual;
            let coil = Coil::evaporator(refrigerant, low.pressure, Some(liquid), zero);
            coil.ok()?.means.inlet_and_dew
        };
        let sides = self
            .machine
            .suction
            .as_ref()
            .zip(self.machine.liquid.as_ref());
        self.inlet_mean = sides.and_then(|(low, high)| mean(low, high));
    }
}

/// The two ends of the two-phase region at a pressure.
struct Ends<'a> {
    refrigerant: &'a Refrigerant,
    pressure: Pressure,
    bubble: SaturationPoint,
    dew: SaturationPoint,
    zero: ReferenceState,
    warnings: Vec<Warning>,
}

impl<'a> Ends<'a> {
    fn at_pressure(
        refrigerant: &'a Refrigerant,
        pressure: Pressure,
        zero: ReferenceState,
    ) -> Result<Self> {
        let found = refrigerant.saturation_at_pressure(pressure, zero);
        match found {
            Ok(found) => {
                if let (Some(bubble), Some(dew)) = (found.bubble, found.dew) {
                    return Ok(Self {
                        refrigerant,
                        pressure,
                        bubble,
                        dew,
                        zero: found.zero,
                        warnings: found.warnings,
                    });
                }
                // The missing branch says why it is missing.
                let missing = refrigerant.bubble_temperature(pressure).err();
                Err(beyond(refrigerant, pressure)
                    .or(missing)
                    .or_else(|| refrigerant.dew_temperature(pressure).err())
                    .unwrap_or_else(|| no_coil(process::reasons::COIL_NO_ENDS)))
            }
            Err(error @ Error::ReferenceState { .. }) => Err(error),
            Err(error) => Err(beyond(refrigerant, pressure).unwrap_or(error)),
        }
    }

    fn station(&self, quality: f64) -> Station {
        let point = if quality == 0.0 {
            &self.bubble
        } else {
            &self.dew
        };
        let own = if quality == 0.0 {
            &point.liquid
        } else {
            &point.vapor
        };
        Station {
            position: 0.0,
            temperature: point.temperature,
            enthalpy: own.enthalpy,
            quality,
            liquid: point.liquid.clone(),
            vapor: point.vapor.clone(),
        }
    }

    /// The one state of a pair of properties.
    fn state(&self, given: Given) -> Result<State> {
        let mut states = self.refrigerant.state(given, self.zero)?;
        states
            .pop()
            .ok_or_else(|| no_coil(process::reasons::COIL_NO_STATE))
    }

    /// The liquid before the expansion device and its pressure.
    fn liquid(&self, liquid: LiquidFeed) -> Result<(PhaseProperties, Pressure)> {
        let outside = |high: Temperature| Error::OutOfRange {
            quantity: "liquid temperature",
            value: liquid.temperature.in_kelvin(),
            low: self.bubble.temperature.in_kelvin(),
            high: high.in_kelvin(),
            unit: RangeUnit::Kelvin,
            range: reasons::RANGE_LIQUID_OF_COIL.into(),
        };
        let cold = liquid.temperature < self.bubble.temperature;
        let Some(pressure) = liquid.pressure else {
            let hottest = || self.refrigerant.critical_point().map(|at| at.temperature);
            if cold {
                let high = hottest().unwrap_or(self.refrigerant.limits().temperature_max);
                return Err(outside(high));
            }
            let found = self
                .refrigerant
                .saturation_at_temperature(liquid.temperature, self.zero);
            return match (found.map(|found| found.bubble), hottest) {
                (Ok(Some(point)), _) => Ok((point.liquid, point.pressure)),
                (Err(error @ Error::ReferenceState { .. }), _) => Err(error),
                (Err(error), hottest) => match hottest() {
                    Some(high) if liquid.temperature >= high => Err(outside(high)),
                    _ => Err(error),
                },
                (Ok(None), hottest) => {
                    Err(hottest()
                        .map_or_else(|| no_coil(process::reasons::COIL_NO_LIQUID), outside))
                }
            };
        };
        if pressure <= self.pressure {
            return Err(no_coil(process::reasons::COIL_LIQUID_NOT_ABOVE));
        }
        // Above its critical pressure nothing boils before the device, however hot.
        let own = self.refrigerant.bubble_temperature(pressure).ok();
        let high = own.unwrap_or(self.refrigerant.limits().temperature_max);
        if cold || liquid.temperature > high {
            return Err(outside(high));
        }
        if own == Some(liquid.temperature) {
            let point = self
                .refrigerant
                .saturation_at_pressure(pressure, self.zero)?
                .bubble;
            let point = point.ok_or_else(|| no_coil(process::reasons::COIL_NO_BUBBLE_POINT))?;
            return Ok((point.liquid, pressure));
        }
        let given = Given::TemperaturePressure(liquid.temperature, pressure);
        let state = self.state(given)?;
        match state.phase {
            Phase::Liquid | Phase::Supercritical => Ok((state.properties, pressure)),
            _ => Err(no_coil(process::reasons::COIL_NOT_LIQUID_AHEAD)),
        }
    }

    /// Behind the expansion device: the same enthalpy at the coil's pressure.
    fn inlet(&self, before: PhaseProperties) -> Result<Station> {
        let (low, high) = (self.bubble.liquid.enthalpy, self.dew.vapor.enthalpy);
        let share = (before.enthalpy - low) / (high - low);
        if share.abs() <= ROUNDING {
            return Ok(self.station(0.0));
        }
        if share < 0.0 {
            return Err(no_coil(process::reasons::COIL_NOTHING_FLASHES));
        }
        if share >= 1.0 - ROUNDING {
            return Err(no_coil(process::reasons::COIL_ALL_EVAPORATES));
        }
        self.inside(before.enthalpy)
    }

    /// Between the ends, by enthalpy.
    fn inside(&self, enthalpy: f64) -> Result<Station> {
        let state = self.state(Given::PressureEnthalpy(self.pressure, enthalpy))?;
        match (state.quality, state.liquid, state.vapor) {
            (Some(quality), Some(liquid), Some(vapor)) => Ok(Station {
                position: 0.0,
                temperature: state.properties.temperature,
                enthalpy,
                quality,
                liquid,
                vapor,
            }),
            _ => Err(no_coil(process::reasons::COIL_ONE_PHASE)),
        }
    }

    fn coil(
        self,
        kind: CoilKind,
        first: Station,
        last: Station,
        inlet: Option<Inlet>,
    ) -> Result<Coil> {
        let fine = SHOWN * FINER;
        let (start, end) = (first.enthalpy, last.enthalpy);
        let mut all = Vec::with_capacity(fine + 1);
        all.push(first);
        for k in 1..fine {
            let position = k as f64 / fine as f64;
            let mut station = self.inside(start + position * (end - start))?;
            station.position = position;
            all.push(station);
        }
        all.push(Station {
            position: 1.0,
            ..last
        });
        let temperatures: Vec<f64> = all.iter().map(|one| one.temperature.in_kelvin()).collect();
        let (bubble, dew) = (self.bubble.temperature, self.dew.temperature);
        let glide = dew - bubble;
        let evaporator = kind == CoilKind::Evaporator;
        Ok(Coil {
            kind,
            pressure: self.pressure,
            glide,
            means: CoilMeans {
                bubble_and_dew: part_way(bubble, dew, 0.5),
                inlet_and_dew: inlet
                    .as_ref()
                    .map(|inlet| part_way(inlet.temperature, dew, 0.5)),
                by_enthalpy: Temperature::kelvin(simpson(&temperatures)),
                forty_sixty: evaporator.then(|| part_way(bubble, dew, 0.6)),
            },
            bubble: self.bubble,
            dew: self.dew,
            inlet,
            stations: all.into_iter().step_by(FINER).collect(),
            zero: self.zero,
            warnings: self.warnings,
        })
    }
}

fn part_way(from: Temperature, to: Temperature, part: f64) -> Temperature {
    from + TemperatureDifference::kelvin(part * (to - from).in_kelvin())
}

/// The mean of values at an odd number of equal steps, by Simpson's rule:
/// (f0 + 4 f1 + 2 f2 + ... + 4 f(n-1) + fn) / (3 n).
fn simpson(values: &[f64]) -> f64 {
    let last = values.len().saturating_sub(1);
    let sum: f64 = values
        .iter()
        .enumerate()
        .map(|(k, value)| match k {
            0 => *value,
            k if k == last => *value,
            k if k % 2 == 1 => 4.0 * value,
            _ => 2.0 * value,
        })
        .sum();
    sum / (3 * last.max(1)) as f64
}

/// A pressure at which two phases do not run from a bubble to a dew point, told with the range
/// in which they do.
fn beyond(refrigerant: &Refrigerant, pressure: Pressure) -> Option<Error> {
    let critical = refrigerant.critical_point()?;
    (pressure >= critical.pressure).then(|| Error::OutOfRange {
        quantity: "pressure",
        value: pressure.in_pascal(),
        low: refrigerant
            .bubble_pressure(refrigerant.limits().temperature_min)
            .map_or(0.0, Pressure::in_pascal),
        high: critical.pressure.in_pascal(),
        unit: RangeUnit::Pascal,
        range: Reason::of(
            reasons::RANGE_TWO_PHASES,
            "refrigerant",
            refrigerant.designation(),
        ),
    })
}

fn no_coil(reason: Phrase) -> Error {
    Error::NoState {
        reason: reason.into(),
        hint: "give the pressure of the coil, and the temperature of the liquid before the \
               expansion device"
            .into(),
    }
}
