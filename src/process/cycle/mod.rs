//! A single-stage vapor-compression cycle without pressure drops.
//!
//! ```text
//! T0 = T_dew(p_e) + useful superheat      T1 = T0 + other superheat
//! h2 = h1 + (h2s - h1)/eta                T3 = T_bubble(p_c) - subcooling       h4 = h3
//! COP = (h0 - h4)/(h2 - h1)
//! ```

use serde::Serialize;

use crate::refrigerant::{Given, PhaseProperties, Refrigerant, Zero};
use crate::units::{Pressure, Temperature};
use crate::{Error, Result};

/// Which temperature of a coil is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// (inlet + dew)/2, of an evaporator alone.
    InletMean,
    /// (bubble + dew)/2.
    Mean,
    /// The dew point.
    Dew,
    /// The bubble point.
    Bubble,
}

/// The question: a single-stage cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// Evaporating temperature and which one it is.
    pub evaporating: (Temperature, Kind),
    /// Condensing temperature and which one it is.
    pub condensing: (Temperature, Kind),
    /// Superheat inside the evaporator, K.
    pub useful_superheat: f64,
    /// Superheat of the suction line, K.
    pub other_superheat: f64,
    /// Subcooling, K.
    pub subcooling: f64,
    /// Isentropic efficiency, 0 to 1.
    pub efficiency: f64,
}

/// One point of a cycle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Point {
    /// Its name.
    pub name: &'static str,
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    /// Enthalpy, J/kg.
    #[serde(rename = "enthalpy_J_kg")]
    pub enthalpy: f64,
    /// Entropy, J/(kg K).
    #[serde(rename = "entropy_J_kg_K")]
    pub entropy: f64,
    /// Density, kg/m3.
    #[serde(rename = "density_kg_m3")]
    pub density: f64,
    /// The vapor's share of the mass in two phases.
    pub quality: Option<f64>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CycleAnswer {
    /// Evaporating pressure.
    #[serde(rename = "evaporating_pressure_Pa")]
    pub evaporating_pressure: Pressure,
    /// Condensing pressure.
    #[serde(rename = "condensing_pressure_Pa")]
    pub condensing_pressure: Pressure,
    /// Condensing by evaporating pressure.
    pub pressure_ratio: f64,
    /// Refrigerating effect, J/kg.
    #[serde(rename = "refrigerating_effect_J_kg")]
    pub effect: f64,
    /// Specific volume at suction, m3/kg.
    #[serde(rename = "suction_volume_m3_kg")]
    pub suction_volume: f64,
    /// Effect per suction volume, J/m3.
    #[serde(rename = "volumetric_capacity_J_m3")]
    pub volumetric_capacity: f64,
    /// Discharge temperature.
    #[serde(rename = "discharge_temperature_K")]
    pub discharge_temperature: Temperature,
    /// Effect by work.
    pub cop_cooling: f64,
    /// Heat of the condenser by work.
    pub cop_heating: f64,
    /// Points 0, 1, 2s, 2, 3, 4.
    pub points: Vec<Point>,
}

impl Cycle {
    /// A cycle without superheat or subcooling, compressed isentropically.
    pub fn between(evaporating: (Temperature, Kind), condensing: (Temperature, Kind)) -> Self {
        Self {
            evaporating,
            condensing,
            useful_superheat: 0.0,
            other_superheat: 0.0,
            subcooling: 0.0,
            efficiency: 1.0,
        }
    }

    /// Solves the cycle for a refrigerant.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] naming the point that has no state and why; an efficiency outside
    /// 0 to 1, a negative superheat or subcooling, or an inlet mean for a condenser.
    pub fn of(&self, refrigerant: &Refrigerant) -> Result<CycleAnswer> {
        let amounts = [self.useful_superheat, self.other_superheat, self.subcooling];
        if !(self.efficiency > 0.0 && self.efficiency <= 1.0)
            || !amounts.iter().all(|amount| *amount >= 0.0)
        {
            return Err(refused(
                "efficiency is above 0 up to 1, superheat and subcooling are not negative",
            ));
        }
        let (t_c, kind) = self.condensing;
        if kind == Kind::InletMean {
            return Err(refused("an inlet mean belongs to an evaporator"));
        }
        let at_c = at("condenser", pressure(refrigerant, t_c, kind, None))?;
        let ends = at("3", refrigerant.saturation_at_pressure(at_c, Zero::Usual))?;
        let bubble = ends.bubble.ok_or_else(|| missing("3"))?;
        let three = if self.subcooling > 0.0 {
            let cold = Temperature::kelvin(bubble.temperature.in_kelvin() - self.subcooling);
            state(refrigerant, "3", Given::TemperaturePressure(cold, at_c))?
        } else {
            point("3", &bubble.liquid, None)
        };
        let (t_e, kind) = self.evaporating;
        let at_e = at(
            "evaporator",
            pressure(refrigerant, t_e, kind, Some(three.enthalpy)),
        )?;
        let ends = at("0", refrigerant.saturation_at_pressure(at_e, Zero::Usual))?;
        let dew = ends.dew.ok_or_else(|| missing("0"))?;
        let warm = |name, by: f64| {
            if by == 0.0 {
                return Ok(point(name, &dew.vapor, None));
            }
            let hot = Temperature::kelvin(dew.temperature.in_kelvin() + by);
            state(refrigerant, name, Given::TemperaturePressure(hot, at_e))
        };
        let zero = warm("0", self.useful_superheat)?;
        let one = warm("1", self.useful_superheat + self.other_superheat)?;
        let ideal = state(refrigerant, "2s", Given::PressureEntropy(at_c, one.entropy))?;
        let h2 = one.enthalpy + (ideal.enthalpy - one.enthalpy) / self.efficiency;
        let two = state(refrigerant, "2", Given::PressureEnthalpy(at_c, h2))?;
        let four = state(
            refrigerant,
            "4",
            Given::PressureEnthalpy(at_e, three.enthalpy),
        )?;
        let (work, effect) = (h2 - one.enthalpy, zero.enthalpy - four.enthalpy);
        Ok(CycleAnswer {
            evaporating_pressure: at_e,
            condensing_pressure: at_c,
            pressure_ratio: at_c.in_pascal() / at_e.in_pascal(),
            effect,
            suction_volume: 1.0 / one.density,
            volumetric_capacity: effect * one.density,
            discharge_temperature: two.temperature,
            cop_cooling: effect / work,
            cop_heating: (h2 - three.enthalpy) / work,
            points: vec![zero, one, ideal, two, three, four],
        })
    }
}

/// The pressure at which a coil has a temperature of a kind; bisection of ln p for the means.
fn pressure(r: &Refrigerant, t: Temperature, kind: Kind, h: Option<f64>) -> Result<Pressure> {
    let (bubble, dew) = (r.bubble_pressure(t), r.dew_pressure(t));
    match kind {
        Kind::Dew => return dew,
        Kind::Bubble => return bubble,
        _ => {}
    }
    if r.is_pure() {
        return dew;
    }
    let (mut low, mut high) = (dew?.in_pascal().ln(), bubble?.in_pascal().ln());
    for _ in 0..50 {
        let p = Pressure::pascal(((low + high) / 2.0).exp());
        let first = match (kind, h) {
            (Kind::InletMean, Some(h)) => state(r, "4", Given::PressureEnthalpy(p, h))?.temperature,
            _ => r.bubble_temperature(p)?,
        };
        let mean = (first.in_kelvin() + r.dew_temperature(p)?.in_kelvin()) / 2.0;
        if mean < t.in_kelvin() {
            low = (low + high) / 2.0;
        } else {
            high = (low + high) / 2.0;
        }
        if high - low < 1e-12 {
            break;
        }
    }
    Ok(Pressure::pascal(((low + high) / 2.0).exp()))
}

fn point(name: &'static str, of: &PhaseProperties, quality: Option<f64>) -> Point {
    Point {
        name,
        temperature: of.temperature,
        pressure: of.pressure,
        enthalpy: of.enthalpy,
        entropy: of.entropy,
        density: of.density,
        quality,
    }
}

fn state(r: &Refrigerant, name: &'static str, given: Given) -> Result<Point> {
    let found = at(name, r.state(given, Zero::Usual))?;
    let one = found.first().ok_or_else(|| missing(name))?;
    Ok(point(name, &one.properties, one.quality))
}

fn at<T>(name: &str, found: Result<T>) -> Result<T> {
    found.map_err(|error| Error::NoAnswer {
        reason: format!("the cycle has no point {name}: {error}"),
        hint: error.hint().unwrap_or_default(),
    })
}

fn missing(name: &str) -> Error {
    refused(&format!(
        "the cycle has no point {name}: no state was found"
    ))
}

fn refused(reason: &str) -> Error {
    Error::NoAnswer {
        reason: reason.into(),
        hint: "change the temperatures or the options of the cycle".into(),
    }
}
