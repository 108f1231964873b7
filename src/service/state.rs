//! States from two properties, as they are asked for.

use crate::service::reasons;
use serde::Serialize;

use crate::Phase;
use crate::error::{Error, Result, reasons::REASON_SEVERAL};
use crate::refrigerant::{Given, ReferenceState, Refrigerant, State};
use crate::service::facts::{Facts, Identity, Model};
use crate::units::{
    CellValue, Density, DensityUnit, EnthalpyUnit, EntropyUnit, Pressure, PressureUnit,
    Temperature, TemperatureUnit, Typed,
};

/// The properties that were given.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Properties {
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// Pressure.
    pub pressure: Option<Pressure>,
    /// Density, by mass or by mole.
    pub density: Option<Density>,
    /// Enthalpy, J/kg.
    pub enthalpy: Option<f64>,
    /// Entropy, J/(kg K).
    pub entropy: Option<f64>,
    /// Vapor's share of the mass.
    pub quality: Option<f64>,
}

impl Properties {
    /// Takes a measured value.
    pub fn set(&mut self, value: CellValue) {
        match value {
            CellValue::Temperature(value) => self.temperature = Some(value),
            CellValue::Pressure(value) => self.pressure = Some(value),
            CellValue::Density(value) => self.density = Some(value),
            CellValue::Enthalpy(value) => self.enthalpy = Some(value),
            CellValue::Entropy(value) => self.entropy = Some(value),
            CellValue::Quality(value) => self.quality = Some(value),
        }
    }

    /// How many were given.
    pub fn count(&self) -> usize {
        [
            self.temperature.is_some(),
            self.pressure.is_some(),
            self.density.is_some(),
            self.enthalpy.is_some(),
            self.entropy.is_some(),
            self.quality.is_some(),
        ]
        .into_iter()
        .filter(|given| *given)
        .count()
    }

    /// The first two of them, for a refrigerant of a molar mass in kg/mol; `None` where there are
    /// fewer.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Given, service::state::Properties, units::{Pressure, Temperature}};
    /// let (t, p) = (Temperature::celsius(25.0), Pressure::bar(3.0));
    /// let both = Properties { temperature: Some(t), pressure: Some(p), ..Properties::default() };
    /// assert_eq!(both.given(0.102), Some(Given::TemperaturePressure(t, p)));
    /// assert_eq!(Properties::default().given(0.102), None);
    /// ```
    pub fn given(&self, molar_mass: f64) -> Option<Given> {
        use Given::*;
        let Self {
            temperature: t,
            pressure: p,
            enthalpy: h,
            entropy: s,
            quality: q,
            ..
        } = *self;
        let d = self.density.map(|density| density.in_kg_per_m3(molar_mass));
        Some(match (t, p, d, h, s, q) {
            (Some(t), Some(p), ..) => TemperaturePressure(t, p),
            (Some(t), _, Some(d), ..) => TemperatureDensity(t, d),
            (Some(t), _, _, Some(h), ..) => TemperatureEnthalpy(t, h),
            (Some(t), _, _, _, Some(s), _) => TemperatureEntropy(t, s),
            (Some(t), _, _, _, _, Some(q)) => TemperatureQuality(t, q),
            (_, Some(p), Some(d), ..) => PressureDensity(p, d),
            (_, Some(p), _, Some(h), ..) => PressureEnthalpy(p, h),
            (_, Some(p), _, _, Some(s), _) => PressureEntropy(p, s),
            (_, Some(p), _, _, _, Some(q)) => PressureQuality(p, q),
            (_, _, Some(d), Some(h), ..) => DensityEnthalpy(d, h),
            (_, _, Some(d), _, Some(s), _) => DensityEntropy(d, s),
            (_, _, Some(d), _, _, Some(q)) => DensityQuality(d, q),
            (_, _, _, Some(h), Some(s), _) => EnthalpyEntropy(h, s),
            (_, _, _, Some(h), _, Some(q)) => EnthalpyQuality(h, q),
            (_, _, _, _, Some(s), Some(q)) => EntropyQuality(s, q),
            _ => return None,
        })
    }
}

/// The properties as they were written, with their units.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct TypedProperties {
    /// Temperature.
    pub temperature: Option<Typed<Temperature, TemperatureUnit>>,
    /// Pressure.
    pub pressure: Option<Typed<Pressure, PressureUnit>>,
    /// Density, by mass or by mole.
    pub density: Option<Typed<Density, DensityUnit>>,
    /// Enthalpy, J/kg.
    pub enthalpy: Option<Typed<f64, EnthalpyUnit>>,
    /// Entropy, J/(kg K).
    pub entropy: Option<Typed<f64, EntropyUnit>>,
    /// Vapor's share of the mass.
    pub quality: Option<f64>,
}

impl TypedProperties {
    /// Without their units.
    pub fn properties(&self) -> Properties {
        Properties {
            temperature: self.temperature.map(|typed| typed.value),
            pressure: self.pressure.map(|typed| typed.value),
            density: self.density.map(|typed| typed.value),
            enthalpy: self.enthalpy.map(|typed| typed.value),
            entropy: self.entropy.map(|typed| typed.value),
            quality: self.quality,
        }
    }

    /// The units that an answer follows. Where neither temperature nor pressure is given, an enthalpy,
    /// entropy or density in inch-pound units asks for its kin.
    pub fn units(&self) -> (Option<TemperatureUnit>, Option<PressureUnit>) {
        let is_inch_pound = self
            .density
            .is_some_and(|typed| typed.unit == DensityUnit::PoundPerCubicFoot)
            || self
                .enthalpy
                .is_some_and(|typed| typed.unit == EnthalpyUnit::BtuPerPound)
            || self
                .entropy
                .is_some_and(|typed| typed.unit == EntropyUnit::BtuPerPoundFahrenheit);
        let neither = self.temperature.is_none() && self.pressure.is_none();
        let assumed = (neither && is_inch_pound).then_some(TemperatureUnit::Fahrenheit);
        (
            self.temperature.map(|typed| typed.unit).or(assumed),
            self.pressure.map(|typed| typed.unit),
        )
    }
}

/// The states that have two given properties, of a phase where one is asked for.
///
/// # Errors
/// As [`Refrigerant::state`]; [`Error::NoAnswer`] where no state is of that phase.
///
/// # Example
/// ```
/// use zeotrope::{Given, Phase, Refrigerant, ReferenceState, service::state::states};
/// use zeotrope::units::{Pressure, Temperature};
/// let given = Given::TemperaturePressure(Temperature::celsius(25.0), Pressure::bar(3.0));
/// let r134a = Refrigerant::named("R-134a")?;
/// assert_eq!(states(&r134a, given, ReferenceState::Usual, Some(Phase::Vapor))?.len(), 1);
/// assert!(states(&r134a, given, ReferenceState::Usual, Some(Phase::Liquid)).is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn states(
    refrigerant: &Refrigerant,
    given: Given,
    reference: ReferenceState,
    phase: Option<Phase>,
) -> Result<Vec<State>> {
    let mut states = refrigerant.state(given, reference)?;
    let Some(wanted) = phase else {
        return Ok(states);
    };
    let found: Vec<_> = states.iter().map(|state| state.phase.name()).collect();
    let hint = format!("these properties have: {}", found.join(", "));
    states.retain(|state| state.phase == wanted);
    if states.is_empty() {
        return Err(Error::NoAnswer {
            reason: match wanted {
                Phase::Liquid => reasons::STATE_NONE_LIQUID,
                Phase::Vapor => reasons::STATE_NONE_VAPOR,
                Phase::Supercritical => reasons::STATE_NONE_SUPERCRITICAL,
                Phase::TwoPhase => reasons::STATE_NONE_TWO_PHASE,
            }
            .into(),
            hint,
        });
    }
    Ok(states)
}

/// The one state that has two properties.
///
/// # Errors
/// As [`states`]; [`Error::NoState`] where several have them.
pub fn one_state(
    refrigerant: &Refrigerant,
    given: Given,
    reference: ReferenceState,
    phase: Option<Phase>,
) -> Result<State> {
    let mut states = states(refrigerant, given, reference, phase)?.into_iter();
    match (states.next(), states.next()) {
        (Some(state), None) => Ok(state),
        _ => Err(Error::NoState {
            reason: REASON_SEVERAL.into(),
            hint: "name the phase, or give another pair of properties".into(),
        }),
    }
}

/// A state and what it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StateAnswer {
    /// What it is called and made of.
    #[serde(flatten)]
    pub identity: Identity,
    /// The state.
    #[serde(flatten)]
    pub state: State,
    /// What its numbers rest on.
    pub model: Model,
}

impl StateAnswer {
    /// A state of the refrigerant that the facts are about.
    pub fn new(state: State, facts: &Facts) -> Self {
        Self {
            identity: facts.identity.clone(),
            state,
            model: facts.model.clone(),
        }
    }
}
