//! States of a refrigerant from two of its properties.

use super::answers::{PhaseProperties, State};
use super::reference_state::{ReferenceState, Shift};
use super::{Refrigerant, Way};
use crate::Warning;
use crate::equilibrium::state_of_blend::BlendSolver;
use crate::equilibrium::state_of_pure::states_beside_line;
use crate::equilibrium::{self, BlendLimits, EquilibriumState, KnownLines, Phases};
use crate::error::RangeUnit;
use crate::error::{Error, Result, finite};
use crate::state::SinglePhase;
use crate::units::{Pressure, Temperature};

/// The two properties a state is asked by.
///
/// # Units
/// Density kg/m3, enthalpy J/kg, entropy J/(kg K), from the zero named in the question; quality
/// the vapour's share of the mass.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs)] // each variant names its two properties
pub enum Given {
    TemperaturePressure(Temperature, Pressure),
    TemperatureDensity(Temperature, f64),
    TemperatureEnthalpy(Temperature, f64),
    TemperatureEntropy(Temperature, f64),
    TemperatureQuality(Temperature, f64),
    PressureDensity(Pressure, f64),
    PressureEnthalpy(Pressure, f64),
    PressureEntropy(Pressure, f64),
    PressureQuality(Pressure, f64),
    DensityEnthalpy(f64, f64),
    DensityEntropy(f64, f64),
    DensityQuality(f64, f64),
    EnthalpyEntropy(f64, f64),
    EnthalpyQuality(f64, f64),
    EntropyQuality(f64, f64),
}

impl Given {
    /// The two numbers and what they are.
    fn numbers(&self) -> [(&'static str, f64); 2] {
        use Given::*;
        let (t, p) = (
            |t: Temperature| ("temperature", t.in_kelvin()),
            |p: Pressure| ("pressure", p.in_pascal()),
        );
        let (rho, h) = (|value| ("density", value), |value| ("enthalpy", value));
        let (s, q) = (|value| ("entropy", value), |value| ("quality", value));
        match *self {
            TemperaturePressure(a, b) => [t(a), p(b)],
            TemperatureDensity(a, b) => [t(a), rho(b)],
            TemperatureEnthalpy(a, b) => [t(a), h(b)],
            TemperatureEntropy(a, b) => [t(a), s(b)],
            TemperatureQuality(a, b) => [t(a), q(b)],
            PressureDensity(a, b) => [p(a), rho(b)],
            PressureEnthalpy(a, b) => [p(a), h(b)],
            PressureEntropy(a, b) => [p(a), s(b)],
            PressureQuality(a, b) => [p(a), q(b)],
            DensityEnthalpy(a, b) => [rho(a), h(b)],
            DensityEntropy(a, b) => [rho(a), s(b)],
            DensityQuality(a, b) => [rho(a), q(b)],
            EnthalpyEntropy(a, b) => [h(a), s(b)],
            EnthalpyQuality(a, b) => [h(a), q(b)],
            EntropyQuality(a, b) => [s(a), q(b)],
        }
    }

    /// Refuses what is not finite.
    pub(super) fn check(&self) -> Result<()> {
        for (quantity, value) in self.numbers() {
            finite(quantity, value)?;
        }
        Ok(())
    }

    fn molar(&self, molar_mass: f64, shift: &Shift) -> equilibrium::MolarGiven {
        use Given::*;
        use equilibrium::MolarGiven as Molar;
        let rho = |density: f64| density / molar_mass;
        let h = |enthalpy: f64| (enthalpy - shift.enthalpy) * molar_mass;
        let s = |entropy: f64| (entropy - shift.entropy) * molar_mass;
        let (t, p) = (Temperature::in_kelvin, Pressure::in_pascal);
        match *self {
            TemperaturePressure(a, b) => Molar::TemperaturePressure(t(a), p(b)),
            TemperatureDensity(a, b) => Molar::TemperatureDensity(t(a), rho(b)),
            TemperatureEnthalpy(a, b) => Molar::TemperatureEnthalpy(t(a), h(b)),
            TemperatureEntropy(a, b) => Molar::TemperatureEntropy(t(a), s(b)),
            TemperatureQuality(a, b) => Molar::TemperatureQuality(t(a), b),
            PressureDensity(a, b) => Molar::PressureDensity(p(a), rho(b)),
            PressureEnthalpy(a, b) => Molar::PressureEnthalpy(p(a), h(b)),
            PressureEntropy(a, b) => Molar::PressureEntropy(p(a), s(b)),
            PressureQuality(a, b) => Molar::PressureQuality(p(a), b),
            DensityEnthalpy(a, b) => Molar::DensityEnthalpy(rho(a), h(b)),
            DensityEntropy(a, b) => Molar::DensityEntropy(rho(a), s(b)),
            DensityQuality(a, b) => Molar::DensityQuality(rho(a), b),
            EnthalpyEntropy(a, b) => Molar::EnthalpyEntropy(h(a), s(b)),
            EnthalpyQuality(a, b) => Molar::EnthalpyQuality(h(a), b),
            EntropyQuality(a, b) => Molar::EntropyQuality(s(a), b),
        }
    }
}

impl Refrigerant {
    /// The states that have the two given properties; more than one where two answer.
    ///
    /// # Errors
    /// [`Error::NotFinite`] for NaN or an infinity; [`Error::OutOfRange`] for a given value outside
    /// the range; [`Error::NoState`] where nothing in the range has both; [`Error::ReferenceState`] for a zero that does not exist.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Given, Refrigerant, ReferenceState, units::{Pressure, Temperature}};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let given = Given::TemperaturePressure(Temperature::kelvin(300.0), Pressure::bar(1.0));
    /// let state = &r134a.state(given, ReferenceState::Iir)?[0];
    /// assert_eq!(state.phase.name(), "vapor");
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn state(&self, given: Given, zero: ReferenceState) -> Result<Vec<State>> {
        given.check()?;
        let shift = self.shift(zero)?;
        let molar = given.molar(self.0.molar_mass, &shift);
        let known: Option<&dyn KnownLines> = (self.1 == Way::Curve).then_some(self as _);
        let states = if self.is_pure() {
            states_beside_line(&self.fixed(), molar, known).map_err(|error| self.by_mass(error))?
        } else {
            let limits = BlendLimits::of(&self.0.mixture);
            let inner = &self.0;
            let solver = BlendSolver::new(&inner.mixture, &inner.x, &inner.line, limits, known);
            vec![solver.state(molar).map_err(|error| self.by_mass(error))?]
        };
        Ok(states
            .iter()
            .map(|state| self.answer(state, &shift))
            .collect())
    }

    /// A molar density in an error message, by mass.
    fn by_mass(&self, error: Error) -> Error {
        match error {
            Error::OutOfRange {
                quantity,
                value,
                low,
                high,
                unit: RangeUnit::MolePerCubicMetre,
                range,
            } => Error::OutOfRange {
                quantity,
                value: value * self.0.molar_mass,
                low: low * self.0.molar_mass,
                high: high * self.0.molar_mass,
                unit: RangeUnit::KilogramPerCubicMetre,
                range,
            },
            other => other,
        }
    }

    fn answer(&self, state: &EquilibriumState, shift: &Shift) -> State {
        let mut warnings: Vec<Warning> = self.warnings();
        warnings.dedup();
        if state.parted {
            let at = Temperature::kelvin(state.temperature);
            warnings.push(Warning::UnstableLiquid(at));
        }
        let of = |phase| PhaseProperties {
            pressure: Pressure::pascal(state.pressure),
            ..self.phase_properties(phase, shift)
        };
        match &state.phases {
            Phases::Single(phase, name) => State {
                phase: *name,
                molar_mass: self.0.molar_mass,
                properties: self.phase_properties(phase, shift),
                quality: None,
                liquid: None,
                liquids: None,
                vapor: None,
                zero: shift.zero,
                warnings,
            },
            Phases::Two {
                liquid,
                vapor,
                vapor_fraction,
            } => {
                let (molar_l, molar_v) = (liquid.molar_mass, vapor.molar_mass);
                let beta = *vapor_fraction;
                let quality = beta * molar_v / (beta * molar_v + (1.0 - beta) * molar_l);
                let (liquid, vapor) = (of(liquid), of(vapor));
                State {
                    phase: equilibrium::Phase::TwoPhase,
                    molar_mass: self.0.molar_mass,
                    properties: self.both(&liquid, &vapor, quality),
                    quality: Some(quality),
                    liquid: Some(liquid),
                    liquids: None,
                    vapor: Some(vapor),
                    zero: shift.zero,
                    warnings,
                }
            }
            Phases::Liquids {
                liquids: [a, b],
                share,
            } => {
                let (both, liquids) = self.liquids((a, b), *share, state.pressure, shift);
                warnings.push(Warning::TwoLiquids(both.temperature));
                State {
                    phase: equilibrium::Phase::Liquid,
                    molar_mass: self.0.molar_mass,
                    properties: both,
                    quality: None,
                    liquid: None,
                    liquids: Some(liquids),
                    vapor: None,
                    zero: shift.zero,
                    warnings,
                }
            }
            Phases::Three {
                liquids: [a, b],
                vapor,
                share,
                ..
            } => {
                let (liquid, liquids) = self.liquids((a, b), *share, state.pressure, shift);
                let vapor = of(vapor);
                let quality = state.quality();
                warnings.push(Warning::TwoLiquids(liquid.temperature));
                State {
                    phase: equilibrium::Phase::TwoPhase,
                    molar_mass: self.0.molar_mass,
                    properties: self.both(&liquid, &vapor, quality),
                    quality: Some(quality),
                    liquid: Some(liquid),
                    liquids: Some(liquids),
                    vapor: Some(vapor),
                    zero: shift.zero,
                    warnings,
                }
            }
        }
    }

    /// Two liquids of a pressure in Pa together, a share of the moles being the second, and each by itself.
    pub(super) fn liquids(
        &self,
        (a, b): (&SinglePhase, &SinglePhase),
        share: f64,
        pressure: f64,
        shift: &Shift,
    ) -> (PhaseProperties, Box<[PhaseProperties; 2]>) {
        let second = share * b.molar_mass;
        let second = second / (second + (1.0 - share) * a.molar_mass);
        let each = [a, b].map(|phase| PhaseProperties {
            pressure: Pressure::pascal(pressure),
            ..self.phase_properties(phase, shift)
        });
        let [a, b] = &each;
        let mean = |of: fn(&PhaseProperties) -> &Vec<f64>, part: f64| {
            let both = of(a).iter().zip(of(b));
            both.map(|(a, b)| (1.0 - part) * a + part * b).collect()
        };
        let together = PhaseProperties {
            mole_fractions: mean(|phase| &phase.mole_fractions, share),
            mass_fractions: mean(|phase| &phase.mass_fractions, second),
            ..self.both(a, b, second)
        };
        (together, Box::new(each))
    }

    /// Two phases together; at quality exactly 0 or 1 that phase's cp, cv and w are repeated.
    fn both(
        &self,
        liquid: &PhaseProperties,
        vapor: &PhaseProperties,
        quality: f64,
    ) -> PhaseProperties {
        let mean = |l: f64, v: f64| (1.0 - quality) * l + quality * v;
        let edge = if quality == 0.0 {
            Some(liquid)
        } else if quality == 1.0 {
            Some(vapor)
        } else {
            None
        };
        let density = 1.0 / mean(1.0 / liquid.density, 1.0 / vapor.density);
        let enthalpy = mean(liquid.enthalpy, vapor.enthalpy);
        PhaseProperties {
            temperature: liquid.temperature,
            pressure: vapor.pressure,
            density,
            enthalpy,
            entropy: mean(liquid.entropy, vapor.entropy),
            internal_energy: enthalpy - vapor.pressure.in_pascal() / density,
            cp: edge.and_then(|phase| phase.cp),
            cv: edge.and_then(|phase| phase.cv),
            speed_of_sound: edge.and_then(|phase| phase.speed_of_sound),
            compressibility_factor: edge.and_then(|phase| phase.compressibility_factor),
            joule_thomson: edge.and_then(|phase| phase.joule_thomson),
            derived: edge.map(|phase| phase.derived).unwrap_or_default(),
            fugacity_coefficients: edge
                .map(|phase| phase.fugacity_coefficients.clone())
                .unwrap_or_default(),
            mole_fractions: self.components().iter().map(|c| c.mole_fraction).collect(),
            mass_fractions: self.components().iter().map(|c| c.mass_fraction).collect(),
        }
    }
}
