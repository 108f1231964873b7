//! Whether a compression passes through two phases, and the superheat with which it does not.
//!
//! A compression is followed as one of the same isentropic efficiency to every pressure on the
//! way: h(p) = h1 + (h_s(p) - h1)/eta.

use super::answer::{Place, Point, WetCompression};
use super::level::{point, saturated_vapor};
use super::question::{Cycle, Stages};
use super::single::Solved;
use crate::Result;
use crate::numeric::bracketed_root;
use crate::refrigerant::{Given, Refrigerant};
use crate::units::{Pressure, Temperature, TemperatureDifference};

/// Pressures at which the compression is looked at.
const LOOKS: u32 = 8;
/// First step of the search, K.
const FIRST: f64 = 1.0;
/// Superheat up to which a dry compression is looked for, K.
const MOST: f64 = 200.0;
/// Dry by less than this is rounding, in parts of the latent heat's order, J/kg.
const ROUNDING: f64 = 1e-3;

impl Cycle {
    /// Of the first stage: behind an intercooler the second begins at saturation by intention.
    pub(super) fn wet_compression(
        &self,
        refrigerant: &Refrigerant,
        solved: &Solved,
    ) -> Result<Option<WetCompression>> {
        let (low, one) = (&solved.low, &solved.low.one);
        let end = match self.stages {
            Stages::One => solved.high.pressure,
            _ => solved
                .compressed
                .intermediate
                .unwrap_or(solved.high.pressure),
        };
        let Some(middle) = saturated_vapor(refrigerant, mean(low.pressure, end)) else {
            return Ok(None);
        };
        // A dew line whose entropy falls with pressure is never met by a compression from it.
        let last_is_wet =
            solved.compressed.points.iter().any(|point| {
                point.place == Place::Discharge && point.quality.is_some_and(|q| q < 1.0)
            });
        let leans = middle.entropy > low.dew_entropy;
        if !leans && !last_is_wet {
            return Ok(None);
        }
        let vapors: Vec<Point> = (1..=LOOKS)
            .filter_map(|k| {
                let share = f64::from(k) / f64::from(LOOKS);
                let (a, b) = (low.pressure.in_pascal().ln(), end.in_pascal().ln());
                saturated_vapor(refrigerant, Pressure::pascal((a + share * (b - a)).exp()))
            })
            .collect();
        let dryness = |superheat: f64| -> Result<f64> {
            let start = if superheat == one.temperature.in_kelvin() - low.dew.in_kelvin() {
                (one.enthalpy, one.entropy)
            } else {
                let temperature = low.dew + TemperatureDifference::kelvin(superheat);
                self.start(refrigerant, temperature, low.pressure)?
            };
            let mut least = f64::INFINITY;
            for vapor in &vapors {
                let given = Given::PressureEntropy(vapor.pressure, start.1);
                let ideal = point(refrigerant, Place::IdealDischarge, given)?.enthalpy;
                let real = start.0 + (ideal - start.0) / self.efficiency;
                least = least.min(real - vapor.enthalpy);
            }
            Ok(least)
        };
        let superheat = one.temperature.in_kelvin() - low.dew.in_kelvin();
        let is_dry = dryness(superheat)? > -ROUNDING;
        if is_dry {
            return Ok(None);
        }
        // In widening steps, since a compression from far above may end beyond the equation.
        let (mut under, mut step, mut dry) = (superheat, FIRST, None);
        while under - superheat < MOST {
            match dryness(under + step) {
                Ok(over) if over > 0.0 => {
                    dry = bracketed_root(dryness, under, under + step, 1e-12).ok();
                    break;
                }
                Ok(_) => (under, step) = (under + step, 2.0 * step),
                Err(_) => break,
            }
        }
        Ok(Some(WetCompression {
            dry_superheat: dry.map(TemperatureDifference::kelvin),
        }))
    }

    fn start(
        &self,
        refrigerant: &Refrigerant,
        temperature: Temperature,
        pressure: Pressure,
    ) -> Result<(f64, f64)> {
        let given = Given::TemperaturePressure(temperature, pressure);
        let one = point(refrigerant, Place::Suction, given)?;
        Ok((one.enthalpy, one.entropy))
    }
}

fn mean(a: Pressure, b: Pressure) -> Pressure {
    Pressure::pascal((a.in_pascal() * b.in_pascal()).sqrt())
}
