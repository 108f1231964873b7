//! Glide at a pressure, and what it makes of a coil.

use serde::{Serialize, Serializer};

use super::coil::{Coil, CoilKind, CoilMeans, Inlet, LiquidFeed, Station};
use crate::Warning;
use crate::error::Result;
use crate::refrigerant::{ReferenceState, Refrigerant, SaturationPoint};
use crate::service::facts::{Facts, Identity, Model};
use crate::service::saturation::{IdealSaturation, SaturationAt};
use crate::units::{Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, Typed};

/// What is asked of a refrigerant.
#[derive(Debug, Clone, PartialEq)]
pub struct GlideQuestion {
    /// Pressure of the coil, in the unit of the question.
    pub pressure: Typed<Pressure, PressureUnit>,
    /// The liquid before the expansion device, where it is known.
    pub liquid: Option<LiquidFeed>,
    /// Which coils are shown, one at least.
    pub coils: Vec<CoilKind>,
    /// The reference state of enthalpy.
    pub reference: ReferenceState,
    /// Whether Raoult's law is asked for.
    pub ideal: bool,
    /// The air that gauges read against.
    pub atmosphere: Atmosphere,
}

/// Bubble, dew and glide at a pressure, and the coils.
#[derive(Debug, Clone, PartialEq)]
pub struct Glide {
    /// What it is called and made of.
    pub identity: Identity,
    /// Pressure of the coils, in the unit of the question.
    pub pressure: Typed<Pressure, PressureUnit>,
    /// Bubble temperature at that pressure.
    pub bubble: Temperature,
    /// Dew temperature at that pressure.
    pub dew: Temperature,
    /// Dew minus bubble temperature.
    pub glide: TemperatureDifference,
    /// Each component of a blend, why there is a glide; none of a pure refrigerant.
    pub components: Vec<Share>,
    /// The coils asked for.
    pub coils: Vec<Coil>,
    /// Raoult's law, where asked for.
    pub ideal: Option<IdealSaturation>,
    /// The air that gauges read against.
    pub atmosphere: Pressure,
    /// The reference state used.
    pub reference: ReferenceState,
    /// What its numbers rest on.
    pub model: Model,
    /// What to know about this answer.
    pub warnings: Vec<Warning>,
}

/// What a component has to do with a glide.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Share {
    /// Its designation.
    pub refrigerant: String,
    /// Where it boils alone at that pressure; `None` where it does not.
    #[serde(rename = "boiling_temperature_K")]
    pub alone: Option<Temperature>,
    /// Its mole fraction in the first vapor, over that in the liquid, at the bubble point: y/x.
    pub k_value: f64,
}

/// The components of a blend at its bubble point.
fn shares(refrigerant: &Refrigerant, bubble: &SaturationPoint) -> Vec<Share> {
    if refrigerant.is_pure() {
        return Vec::new();
    }
    let fractions = bubble.vapor.mole_fractions.iter();
    let k_values = fractions.zip(&bubble.liquid.mole_fractions);
    let components = refrigerant.components().iter().zip(k_values).enumerate();
    components
        .map(|(place, (component, (vapor, liquid)))| Share {
            refrigerant: component.designation.clone(),
            alone: refrigerant
                .component_boiling_temperature(place, bubble.pressure)
                .ok(),
            k_value: vapor / liquid,
        })
        .collect()
}

/// Answers a question about glide.
///
/// # Errors
/// As [`Coil::evaporator`] and [`Coil::condenser`].
///
/// # Example
/// ```
/// use zeotrope::process::{coil::CoilKind, glide::{GlideQuestion, glide}};
/// use zeotrope::units::{Atmosphere, BareUnit, parse_pressure};
/// use zeotrope::{Refrigerant, ReferenceState, service::facts::Facts};
/// let r454c = Refrigerant::named("R-454C")?;
/// let site = Atmosphere::SEA_LEVEL;
/// let question = GlideQuestion {
///     pressure: parse_pressure("4.78bara", BareUnit::Refused, &site)?,
///     liquid: None,
///     coils: vec![CoilKind::Evaporator],
///     reference: ReferenceState::Usual,
///     ideal: false,
///     atmosphere: site,
/// };
/// let found = glide(&r454c, &Facts::of_refrigerant(&r454c), &question)?;
/// assert!(found.glide == found.dew - found.bubble && found.glide.in_kelvin() > 6.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn glide(refrigerant: &Refrigerant, facts: &Facts, question: &GlideQuestion) -> Result<Glide> {
    let (pressure, reference) = (question.pressure, question.reference);
    let of = |kind: &CoilKind| match kind {
        CoilKind::Evaporator => {
            Coil::evaporator(refrigerant, pressure.value, question.liquid, reference)
        }
        CoilKind::Condenser => Coil::condenser(refrigerant, pressure.value, reference),
    };
    let first = of(question.coils.first().unwrap_or(&CoilKind::Evaporator))?;
    let real = [&first.bubble, &first.dew].map(|at| Some((at.temperature, at.pressure)));
    let ideal =
        || IdealSaturation::saturation_at(refrigerant, SaturationAt::Pressure(pressure), real);
    let mut found = Glide {
        identity: facts.identity.clone(),
        pressure,
        bubble: first.bubble.temperature,
        dew: first.dew.temperature,
        glide: first.glide,
        components: shares(refrigerant, &first.bubble),
        ideal: question.ideal.then(ideal),
        atmosphere: question.atmosphere.pressure(),
        reference: first.zero,
        model: facts.model.clone(),
        warnings: first.warnings.clone(),
        coils: vec![first],
    };
    for kind in question.coils.iter().skip(1) {
        found.coils.push(of(kind)?);
    }
    Ok(found)
}

impl Serialize for Glide {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            pressure_Pa: Pressure,
            bubble_temperature_K: Temperature,
            dew_temperature_K: Temperature,
            glide_K: TemperatureDifference,
            #[serde(skip_serializing_if = "<[Share]>::is_empty")]
            components: &'a [Share],
            evaporator: Option<&'a Coil>,
            condenser: Option<&'a Coil>,
            #[serde(skip_serializing_if = "Option::is_none")]
            ideal: Option<&'a IdealSaturation>,
            atmosphere_Pa: Pressure,
            reference: ReferenceState,
            model: &'a Model,
        }
        let of = |kind| self.coils.iter().find(|coil| coil.kind == kind);
        Keys {
            identity: &self.identity,
            pressure_Pa: self.pressure.value,
            bubble_temperature_K: self.bubble,
            dew_temperature_K: self.dew,
            glide_K: self.glide,
            components: &self.components,
            evaporator: of(CoilKind::Evaporator),
            condenser: of(CoilKind::Condenser),
            ideal: self.ideal.as_ref(),
            atmosphere_Pa: self.atmosphere,
            reference: self.reference,
            model: &self.model,
        }
        .serialize(serializer)
    }
}

impl Serialize for Coil {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Entering {
            liquid_temperature_K: Option<Temperature>,
            liquid_pressure_Pa: Option<Pressure>,
            inlet_temperature_K: Option<Temperature>,
            inlet_quality: Option<f64>,
            effective_glide_K: Option<TemperatureDifference>,
            liquid_pressure_given: Option<bool>,
        }
        #[derive(Serialize)]
        struct Keys<'a> {
            #[serde(flatten)]
            entering: Option<Entering>,
            means: &'a CoilMeans,
            along: &'a [Station],
        }
        let inlet = self.inlet.as_ref();
        let entering = || Entering {
            liquid_temperature_K: inlet.map(|inlet| inlet.liquid_temperature),
            liquid_pressure_Pa: inlet.map(|inlet| inlet.liquid_pressure),
            inlet_temperature_K: inlet.map(|inlet| inlet.temperature),
            inlet_quality: inlet.map(|inlet| inlet.quality),
            effective_glide_K: inlet.map(|inlet| inlet.effective_glide),
            liquid_pressure_given: inlet.map(|inlet: &Inlet| inlet.pressure_given),
        };
        Keys {
            entering: (self.kind == CoilKind::Evaporator).then(entering),
            means: &self.means,
            along: &self.stations,
        }
        .serialize(serializer)
    }
}

impl Serialize for Station {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)] // the keys as programs read them
        struct Keys<'a> {
            position: f64,
            temperature_K: Temperature,
            enthalpy_J_kg: f64,
            quality: f64,
            liquid_mass_fractions: &'a [f64],
            liquid_mole_fractions: &'a [f64],
            vapor_mass_fractions: &'a [f64],
            vapor_mole_fractions: &'a [f64],
        }
        Keys {
            position: self.position,
            temperature_K: self.temperature,
            enthalpy_J_kg: self.enthalpy,
            quality: self.quality,
            liquid_mass_fractions: &self.liquid.mass_fractions,
            liquid_mole_fractions: &self.liquid.mole_fractions,
            vapor_mass_fractions: &self.vapor.mass_fractions,
            vapor_mole_fractions: &self.vapor.mole_fractions,
        }
        .serialize(serializer)
    }
}
