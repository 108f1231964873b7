//! Velocity and flow of a refrigerant in a pipe, for a capacity.
//!
//! ```text
//! m = Q / (h_suction - h_liquid)      V = m / rho      w = V / (pi d^2 / 4)
//! ```
//!
//! The evaporator is taken to end at the suction line's temperature: all superheat is useful.
//! Pressure drop needs a viscosity, which is out of scope here.

use crate::process::reasons;
use serde::{Serialize, Serializer};

use crate::refrigerant::{Given, ReferenceState, Refrigerant};
use crate::service::facts::{Facts, Identity, Model};
use crate::units::{Pressure, Temperature};
use crate::{Error, Phase, Result};

/// A line of a system.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PipeLine {
    /// From the evaporator to the compressor.
    Suction,
    /// From the compressor to the condenser.
    Discharge,
    /// From the condenser to the expansion device.
    Liquid,
}

/// What flows, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipeQuestion {
    /// Which line.
    pub line: PipeLine,
    /// Refrigerating capacity, W.
    pub capacity: f64,
    /// Inside diameter, m.
    pub diameter: f64,
    /// Pressure of the suction side.
    pub low: Pressure,
    /// Pressure of the high side.
    pub high: Pressure,
    /// Temperature of the suction line.
    pub suction: Temperature,
    /// Temperature of the liquid line.
    pub liquid: Temperature,
    /// Temperature of the discharge line, which is needed for that line alone.
    pub discharge: Option<Temperature>,
}

/// Flow and velocity in a pipe.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct PipeFlow {
    /// What the refrigerant is called and made of.
    pub identity: Identity,
    /// The question.
    pub asked: PipeQuestion,
    /// Temperature in the line.
    pub temperature: Temperature,
    /// Pressure in the line.
    pub pressure: Pressure,
    /// Density there, kg/m3.
    pub density: f64,
    /// Enthalpy of the suction line minus that of the liquid line, J/kg.
    pub effect: f64,
    /// Mass flow, kg/s.
    pub mass_flow: f64,
    /// Volume flow, m3/s.
    pub volume_flow: f64,
    /// Velocity, m/s.
    pub velocity: f64,
    /// What the numbers rest on.
    pub model: Model,
}

/// Finds flow and velocity in a pipe.
///
/// # Errors
/// [`Error::NoState`] where the suction or discharge line holds no vapor, the liquid line no liquid,
/// or the discharge line's temperature is not known; as [`Refrigerant::state`].
pub fn pipe_flow(refrigerant: &Refrigerant, asked: PipeQuestion) -> Result<PipeFlow> {
    let at = |temperature, pressure, liquid: bool| -> Result<(f64, f64)> {
        let given = Given::TemperaturePressure(temperature, pressure);
        let found = refrigerant.state(given, ReferenceState::IdealGas)?;
        let state = found.first().filter(|state| match state.phase {
            Phase::Supercritical => true,
            phase => (phase == Phase::Liquid) == liquid && phase != Phase::TwoPhase,
        });
        let state = state.ok_or_else(|| Error::NoState {
            reason: match liquid {
                true => reasons::PIPE_NOT_LIQUID.into(),
                false => reasons::PIPE_NOT_VAPOR.into(),
            },
            hint: "check pressures, superheat and subcooling".into(),
        })?;
        Ok((state.properties.enthalpy, state.properties.density))
    };
    let suction = at(asked.suction, asked.low, false)?;
    let liquid = at(asked.liquid, asked.high, true)?;
    let (temperature, pressure, density) = match asked.line {
        PipeLine::Suction => (asked.suction, asked.low, suction.1),
        PipeLine::Liquid => (asked.liquid, asked.high, liquid.1),
        PipeLine::Discharge => {
            let temperature = asked.discharge.ok_or_else(|| Error::NoState {
                reason: reasons::PIPE_NO_DISCHARGE.into(),
                hint: "give the temperature of the discharge line".into(),
            })?;
            (
                temperature,
                asked.high,
                at(temperature, asked.high, false)?.1,
            )
        }
    };
    let effect = suction.0 - liquid.0;
    let mass_flow = asked.capacity / effect;
    let volume_flow = mass_flow / density;
    let area = std::f64::consts::PI * asked.diameter.powi(2) / 4.0;
    let facts = Facts::of_refrigerant(refrigerant);
    Ok(PipeFlow {
        identity: facts.identity,
        asked,
        temperature,
        pressure,
        density,
        effect,
        mass_flow,
        volume_flow,
        velocity: volume_flow / area,
        model: facts.model,
    })
}

impl Serialize for PipeFlow {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            line: PipeLine,
            capacity_W: f64,
            diameter_m: f64,
            temperature_K: Temperature,
            pressure_Pa: Pressure,
            density_kg_m3: f64,
            refrigerating_effect_J_kg: f64,
            mass_flow_kg_s: f64,
            volume_flow_m3_s: f64,
            velocity_m_s: f64,
            model: &'a Model,
        }
        Keys {
            identity: &self.identity,
            line: self.asked.line,
            capacity_W: self.asked.capacity,
            diameter_m: self.asked.diameter,
            temperature_K: self.temperature,
            pressure_Pa: self.pressure,
            density_kg_m3: self.density,
            refrigerating_effect_J_kg: self.effect,
            mass_flow_kg_s: self.mass_flow,
            volume_flow_m3_s: self.volume_flow,
            velocity_m_s: self.velocity,
            model: &self.model,
        }
        .serialize(serializer)
    }
}
