//! Static head of a liquid column: dp = rho g h.

use serde::{Serialize, Serializer};

use crate::phrase::Phrase;
use crate::process::reasons;
use crate::refrigerant::Refrigerant;
use crate::service::facts::{Facts, Identity, Model};
use crate::units::{Pressure, Temperature};
use crate::{Error, Result};

/// Standard acceleration of gravity, m/s2, by definition.
pub const GRAVITY: f64 = 9.806_65;

/// A column of liquid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RiserQuestion {
    /// Temperature of the liquid.
    pub liquid: Temperature,
    /// Pressure at the bottom; where it is not known the bubble pressure at that temperature.
    pub pressure: Option<Pressure>,
    /// Height, m.
    pub height: f64,
}

/// The static head of a column of liquid.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Riser {
    /// What the refrigerant is called and made of.
    pub identity: Identity,
    /// The question.
    pub asked: RiserQuestion,
    /// Density of the liquid, kg/m3.
    pub density: f64,
    /// Static head, Pa.
    pub head: f64,
    /// Pressure at the top, where that at the bottom is known.
    pub top: Option<Pressure>,
    /// Subcooling at the bottom and at the top, K, where the pressure is known.
    pub subcooling: Option<[f64; 2]>,
    /// What the numbers rest on.
    pub model: Model,
}

/// Finds the static head of a column of liquid; friction is not counted.
///
/// # Errors
/// [`Error::NoState`] where what is given is no liquid, or the head leaves no pressure at the top;
/// as [`Refrigerant::bubble_point`].
pub fn riser(refrigerant: &Refrigerant, asked: RiserQuestion) -> Result<Riser> {
    let no_liquid = |reason: Phrase| Error::NoState {
        reason: reason.into(),
        hint: "check pressure, temperature and height".into(),
    };
    let subcooling = |pressure| -> Result<f64> {
        let bubble = refrigerant.bubble_temperature(pressure)?;
        Ok((bubble - asked.liquid).in_kelvin())
    };
    let density = match asked.pressure {
        Some(pressure) if subcooling(pressure)? < 0.0 => {
            return Err(no_liquid(reasons::RISER_NOT_LIQUID));
        }
        Some(pressure) => refrigerant.density(asked.liquid, pressure)?,
        None => refrigerant.bubble_point(asked.liquid)?.liquid_density,
    };
    let head = density * GRAVITY * asked.height;
    let top = asked.pressure.map(|pressure| pressure.in_pascal() - head);
    if top.is_some_and(|top| top <= 0.0) {
        return Err(no_liquid(reasons::RISER_HEAD_TOO_LARGE));
    }
    let top = top.map(Pressure::pascal);
    let ends = asked.pressure.zip(top);
    let subcooling =
        ends.map(|(bottom, top)| Ok::<_, Error>([subcooling(bottom)?, subcooling(top)?]));
    let facts = Facts::of_refrigerant(refrigerant);
    Ok(Riser {
        identity: facts.identity,
        asked,
        density,
        head,
        top,
        subcooling: subcooling.transpose()?,
        model: facts.model,
    })
}

impl Riser {
    /// Static head per length, Pa/m.
    pub fn gradient(&self) -> f64 {
        self.density * GRAVITY
    }
}

impl Serialize for Riser {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            liquid_temperature_K: Temperature,
            pressure_Pa: Option<Pressure>,
            height_m: f64,
            density_kg_m3: f64,
            static_head_Pa: f64,
            static_head_Pa_m: f64,
            top_pressure_Pa: Option<Pressure>,
            bottom_subcooling_K: Option<f64>,
            top_subcooling_K: Option<f64>,
            model: &'a Model,
        }
        Keys {
            identity: &self.identity,
            liquid_temperature_K: self.asked.liquid,
            pressure_Pa: self.asked.pressure,
            height_m: self.asked.height,
            density_kg_m3: self.density,
            static_head_Pa: self.head,
            static_head_Pa_m: self.gradient(),
            top_pressure_Pa: self.top,
            bottom_subcooling_K: self.subcooling.map(|[bottom, _]| bottom),
            top_subcooling_K: self.subcooling.map(|[_, top]| top),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
