//! Compression in two stages: an open flash intercooler, or an economizer.

use super::answer::{Place, Point};
use super::level::{error, point, saturated};
use super::question::{Cycle, Stages, refused};
use super::single::{Compressed, High, Low};
use crate::error::RangeUnit;
use crate::process::reasons;
use crate::refrigerant::{Given, Refrigerant};
use crate::units::Pressure;
use crate::{Error, Result};

/// Glide above which vapor and liquid of an open vessel are no longer of one composition, K: twice
/// that of R-410A, which is handled as an azeotrope (common practice, no source).
const GLIDE: f64 = 0.2;

/// What leaves the intermediate pressure.
struct Flashed {
    seven: Point,
    eight: Point,
    nine: Point,
}

impl Cycle {
    fn intermediate(&self, high: &High, at_outlet: Pressure) -> Result<Pressure> {
        let (low, high) = (at_outlet.in_pascal(), high.pressure.in_pascal());
        let given = match self.stages {
            Stages::OpenFlash { intermediate } | Stages::Economizer { intermediate, .. } => {
                intermediate
            }
            Stages::One => None,
        };
        let pascal = given.map_or((low * high).sqrt(), Pressure::in_pascal);
        if pascal > low && pascal < high {
            return Ok(Pressure::pascal(pascal));
        }
        let cause = Error::OutOfRange {
            quantity: "intermediate pressure",
            value: pascal,
            low,
            high,
            unit: RangeUnit::Pascal,
            range: reasons::RANGE_BETWEEN_LEVELS.into(),
        };
        Err(error(Place::IntermediateInlet, cause, None))
    }

    /// Enthalpy of the liquid that leaves the intermediate pressure for the evaporator.
    pub(super) fn liquid_between(
        &self,
        refrigerant: &Refrigerant,
        high: &High,
        at_outlet: Pressure,
    ) -> Result<f64> {
        Ok(self.flashed(refrigerant, high, at_outlet)?.eight.enthalpy)
    }

    fn flashed(
        &self,
        refrigerant: &Refrigerant,
        high: &High,
        at_outlet: Pressure,
    ) -> Result<Flashed> {
        let intermediate = self.intermediate(high, at_outlet)?;
        let three = &high.three;
        let ends = saturated(refrigerant, Place::IntermediateVapor, intermediate)?;
        let nine = ends.dew;
        let given = Given::PressureEnthalpy(intermediate, three.enthalpy);
        let seven = point(refrigerant, Place::IntermediateInlet, given)?;
        if seven.quality.is_none() {
            return Err(refused(
                reasons::CYCLE_NOTHING_FLASHES,
                "lower or raise the intermediate pressure",
            ));
        }
        let eight = match self.stages {
            Stages::Economizer { approach, .. } => {
                let temperature = seven.temperature + approach;
                if temperature >= three.temperature {
                    return Err(refused(
                        reasons::CYCLE_ECONOMIZER_CANNOT,
                        "give a smaller approach or a lower intermediate pressure",
                    ));
                }
                let given = Given::TemperaturePressure(temperature, three.pressure);
                point(refrigerant, Place::IntermediateLiquid, given)?
            }
            _ => {
                if ends.glide().in_kelvin() > GLIDE {
                    return Err(refused(
                        reasons::CYCLE_INTERCOOLER_OF_GLIDE,
                        "use an economizer, which evaporates its part of the blend completely",
                    ));
                }
                Point {
                    place: Place::IntermediateLiquid,
                    ..ends.bubble
                }
            }
        };
        Ok(Flashed { seven, eight, nine })
    }

    pub(super) fn in_two_stages(
        &self,
        refrigerant: &Refrigerant,
        high: &High,
        low: &Low,
    ) -> Result<Compressed> {
        let Flashed { seven, eight, nine } = self.flashed(refrigerant, high, low.pressure)?;
        let intermediate = seven.pressure;
        let places = (Place::IdealDischarge, Place::Discharge);
        let (ideal, two) = self.compress(refrigerant, &low.one, intermediate, places)?;
        let h3 = high.three.enthalpy;
        let (ratio, five) = if let Stages::Economizer { .. } = self.stages {
            let injected = (h3 - eight.enthalpy) / (nine.enthalpy - h3);
            let mixed = (two.enthalpy + injected * nine.enthalpy) / (1.0 + injected);
            let given = Given::PressureEnthalpy(intermediate, mixed);
            let five = point(refrigerant, Place::HighSuction, given)?;
            (1.0 + injected, five)
        } else {
            let ratio = (two.enthalpy - eight.enthalpy) / (nine.enthalpy - h3);
            let five = Point {
                place: Place::HighSuction,
                ..nine
            };
            (ratio, five)
        };
        let places = (Place::IdealHighDischarge, Place::HighDischarge);
        let (ideal_high, six) = self.compress(refrigerant, &five, high.pressure, places)?;
        let work = (two.enthalpy - low.one.enthalpy) + ratio * (six.enthalpy - five.enthalpy);
        Ok(Compressed {
            ratio,
            work,
            intermediate: Some(intermediate),
            high_volume: Some(1.0 / five.density),
            last: six,
            points: vec![low.one, ideal, two, five, ideal_high, six],
            between: vec![seven, eight, nine],
        })
    }
}
