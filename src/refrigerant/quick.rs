//! Single numbers for loops: answered from curves and one Newton iteration where that can be, else
//! by the way of [`Refrigerant::state`].

use super::Refrigerant;
use super::answers::LinePoint;
use super::reference_state::{ReferenceState, Shift};
use super::row::StateRow;
use super::state::Given;
use crate::curve::{LineEnd, Side};
use crate::equilibrium::bubble_dew::{Branch, PhasePair};
use crate::equilibrium::split::{Filled, Sought, Split, between_lines, filled_along};
use crate::equilibrium::{KnownLines, Phase, Property};
use crate::error::{Error, Result, reasons};
use crate::helmholtz::MoleFractions;
use crate::state::{ByPressure, Caloric, SinglePhase};
use crate::units::{Pressure, Temperature};

/// A number of a state, for [`Refrigerant::number`] and [`Refrigerant::numbers`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Wanted {
    /// Temperature, K.
    Temperature,
    /// Pressure, Pa.
    Pressure,
    /// Density, kg/m3.
    Density,
    /// Enthalpy, J/kg.
    Enthalpy,
    /// Entropy, J/(kg K).
    Entropy,
    /// The vapor's share of the mass; NaN in one phase.
    Quality,
}

impl Wanted {
    fn of(self, row: &Quick) -> f64 {
        match self {
            Wanted::Temperature => row.temperature,
            Wanted::Pressure => row.pressure,
            Wanted::Density => row.density,
            Wanted::Enthalpy => row.enthalpy,
            Wanted::Entropy => row.entropy,
            Wanted::Quality => row.quality,
        }
    }
}

/// A state without what a loop seldom asks for; SI by mass, from the zero of the question.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Quick {
    /// K.
    pub(crate) temperature: f64,
    /// Pa.
    pub(crate) pressure: f64,
    /// kg/m3.
    pub(crate) density: f64,
    /// J/kg.
    pub(crate) enthalpy: f64,
    /// J/(kg K).
    pub(crate) entropy: f64,
    /// The vapor's share of the mass; NaN in one phase.
    pub(crate) quality: f64,
    pub(crate) phase: Phase,
}

/// The same, molar and from the engine's own zero.
struct Molar {
    found: ByPressure,
    pressure: f64,
    /// `None` in one phase.
    quality: Option<f64>,
    /// Whether one phase lies beside the liquid.
    dense: bool,
}

impl Refrigerant {
    /// One number of the state with two given properties, without the heap.
    ///
    /// Between the lines as well as beside them, of pures and of blends; what curves do not cover
    /// is answered as by [`Refrigerant::state`].
    ///
    /// # Units
    /// As [`Wanted`] names them; enthalpy and entropy from `zero`.
    ///
    /// # Errors
    /// As [`Refrigerant::state`]; [`Error::NoState`] where two states have the given properties.
    ///
    /// # Example
    /// ```
    /// use zeotrope::refrigerant::Wanted;
    /// use zeotrope::{Given, ReferenceState, Refrigerant, units::Pressure};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let half = Given::PressureQuality(Pressure::bar(3.4966), 0.5);
    /// let temperature = r134a.number(Wanted::Temperature, half, ReferenceState::Iir)?;
    /// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    /// assert!((temperature - 278.15).abs() < 1e-3);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn number(&self, wanted: Wanted, given: Given, zero: ReferenceState) -> Result<f64> {
        given.check()?;
        if let Some(quick) = self.quick(given, zero) {
            return Ok(wanted.of(&quick));
        }
        let row = self.one_state(given, zero, None)?;
        Ok(match wanted {
            Wanted::Temperature => row.temperature.in_kelvin(),
            Wanted::Pressure => row.pressure.in_pascal(),
            Wanted::Density => row.density,
            Wanted::Enthalpy => row.enthalpy,
            Wanted::Entropy => row.entropy,
            Wanted::Quality => row.quality,
        })
    }

    /// A state as a row: by curves where they say it, else as [`Refrigerant::state`].
    pub(super) fn row(
        &self,
        given: Given,
        zero: ReferenceState,
        phase: Option<Phase>,
    ) -> Result<StateRow> {
        given.check()?;
        match self.quick(given, zero) {
            Some(quick) if phase.is_none_or(|phase| phase == quick.phase) => {
                Ok(self.filled(&quick))
            }
            _ => self.one_state(given, zero, phase),
        }
    }

    /// The one state with the given properties, of a phase where that is named.
    fn one_state(
        &self,
        given: Given,
        zero: ReferenceState,
        phase: Option<Phase>,
    ) -> Result<StateRow> {
        if let Some(error) = self.beyond_isobar(given, zero) {
            return Err(error);
        }
        let mut found = self.state(given, zero)?;
        if let Some(phase) = phase {
            found.retain(|state| state.phase == phase);
        }
        match found.as_slice() {
            [state] => Ok(state.into()),
            [] => Err(Error::NoState {
                reason: reasons::REASON_NONE_OF_PHASE.into(),
                hint: "ask for another phase".into(),
            }),
            _ => Err(Error::NoState {
                reason: reasons::REASON_SEVERAL.into(),
                hint: "name the phase, or give another pair of properties".into(),
            }),
        }
    }

    /// A row with what [`Quick`] leaves out, which is of one phase alone.
    fn filled(&self, quick: &Quick) -> StateRow {
        let mass = self.0.molar_mass;
        let row = StateRow {
            phase: Some(quick.phase),
            temperature: Temperature::kelvin(quick.temperature),
            pressure: Pressure::pascal(quick.pressure),
            density: quick.density,
            enthalpy: quick.enthalpy,
            entropy: quick.entropy,
            internal_energy: quick.enthalpy - quick.pressure / quick.density,
            quality: quick.quality,
            ..StateRow::NONE
        };
        // at the ends of two phases that phase's are repeated
        if quick.phase != Phase::TwoPhase || quick.quality == 0.0 || quick.quality == 1.0 {
            let fixed = self.fixed();
            let phase = SinglePhase::at_density(&fixed, quick.temperature, quick.density / mass);
            return row.with(&phase);
        }
        row
    }

    /// A state from curves; `None` where they do not say which phase it is, and for pairs that
    /// are not asked for in loops.
    pub(crate) fn quick(&self, given: Given, zero: ReferenceState) -> Option<Quick> {
        let shift = self.shift(zero).ok()?;
        let mass = self.0.molar_mass;
        let at = match given {
            Given::TemperaturePressure(temperature, pressure) => {
                self.quick_by_temperature(temperature.in_kelvin(), pressure.in_pascal())
            }
            Given::PressureEnthalpy(pressure, enthalpy) => {
                let molar = (enthalpy - shift.enthalpy) * mass;
                self.quick_by_caloric(pressure.in_pascal(), Caloric::Enthalpy(molar))
            }
            Given::PressureEntropy(pressure, entropy) => {
                let molar = (entropy - shift.entropy) * mass;
                self.quick_by_caloric(pressure.in_pascal(), Caloric::Entropy(molar))
            }
            Given::TemperatureQuality(temperature, quality) => {
                let temperature = temperature.in_kelvin();
                let ends = [Branch::Bubble, Branch::Dew]
                    .map(|branch| self.sides_at_temperature(branch, temperature));
                self.quick_by_quality(ends, quality, |q| {
                    Sought::TemperatureQuality(temperature, q)
                })
            }
            Given::PressureQuality(pressure, quality) => {
                let pressure = pressure.in_pascal();
                let ends = [Branch::Bubble, Branch::Dew]
                    .map(|branch| Some((pressure, self.sides_at_pressure(branch, pressure)?)));
                self.quick_by_quality(ends, quality, |q| Sought::PressureQuality(pressure, q))
            }
            _ => None,
        }?;
        Some(self.by_mass_from(&at, &shift))
    }

    /// Two phases found at a pressure, Pa.
    pub(super) fn quick_split(&self, found: &Filled, pressure: f64, shift: &Shift) -> Quick {
        let molar = Molar {
            pressure,
            ..self.both_phases(found)
        };
        self.by_mass_from(&molar, shift)
    }

    fn by_mass_from(&self, at: &Molar, shift: &Shift) -> Quick {
        let mass = self.0.molar_mass;
        let found = &at.found;
        Quick {
            temperature: found.temperature,
            pressure: at.pressure,
            density: found.density * mass,
            enthalpy: found.enthalpy / mass + shift.enthalpy,
            entropy: found.entropy / mass + shift.entropy,
            quality: at.quality.unwrap_or(f64::NAN),
            phase: match at.quality {
                Some(_) => Phase::TwoPhase,
                None => self.phase_name(found.temperature, at.pressure, at.dense),
            },
        }
    }

    /// What one phase is called: by the critical point, else by the line that it lies beside.
    fn phase_name(&self, temperature: f64, pressure: f64, dense: bool) -> Phase {
        let Some(critical) = self.critical_point() else {
            return if dense { Phase::Liquid } else { Phase::Vapor };
        };
        let hot = temperature > critical.temperature.in_kelvin();
        let high = pressure > critical.pressure.in_pascal();
        match (hot, high) {
            (true, true) => Phase::Supercritical,
            (true, false) => Phase::Vapor,
            (false, true) => Phase::Liquid,
            (false, false) if dense => Phase::Liquid,
            (false, false) => Phase::Vapor,
        }
    }

    /// Liquid and vapor of a branch at a pressure, Pa.
    pub(super) fn sides_at_pressure(&self, branch: Branch, pressure: f64) -> Option<(Side, Side)> {
        self.wanted(branch)?
            .sides_at_pressure(pressure, || self.line(branch))
    }

    /// Pressure, Pa, liquid and vapor of a branch at a temperature, K.
    fn sides_at_temperature(
        &self,
        branch: Branch,
        temperature: f64,
    ) -> Option<(f64, (Side, Side))> {
        self.wanted(branch)?
            .sides(temperature, || self.line(branch))
    }

    fn quick_by_temperature(&self, temperature: f64, pressure: f64) -> Option<Molar> {
        let limits = &self.0.limits;
        let (low, high) = (limits.temperature_min, limits.temperature_max);
        if temperature < low.in_kelvin() || temperature > high.in_kelvin() {
            return None;
        }
        let (density, dense) = self.quick_density(temperature, pressure)?;
        let phase = SinglePhase::at_density(&self.fixed(), temperature, density);
        Some(Molar {
            found: ByPressure {
                temperature,
                density,
                enthalpy: phase.enthalpy,
                entropy: phase.entropy,
                steps: 0,
            },
            pressure,
            quality: None,
            dense,
        })
    }

    /// By the vapor's share of the mass, from the pressures and sides of bubble and dew.
    fn quick_by_quality(
        &self,
        [bubble, dew]: [Option<(f64, (Side, Side))>; 2],
        quality: f64,
        sought: impl Fn(f64) -> Sought,
    ) -> Option<Molar> {
        if !(0.0..=1.0).contains(&quality) {
            return None;
        }
        let ((low, (liquid, vapor)), (high, (_, last))) = (bubble?, dew?);
        let end = |side: &Side, pressure| Molar {
            found: ByPressure {
                temperature: side.temperature,
                density: side.density,
                enthalpy: side.enthalpy,
                entropy: side.entropy,
                steps: 0,
            },
            pressure,
            quality: Some(quality),
            dense: false,
        };
        if self.is_pure() {
            let found = lever(&liquid, &vapor, quality);
            return Some(Molar {
                found,
                ..end(&liquid, low)
            });
        }
        if quality == 0.0 {
            return Some(end(&liquid, low));
        }
        if quality == 1.0 {
            return Some(end(&last, high));
        }
        self.between_lines(sought(quality), quality)
    }

    /// Two phases of a blend by quality, sought from that far between the lines.
    fn between_lines(&self, sought: Sought, quality: f64) -> Option<Molar> {
        let known = |branch| match sought {
            Sought::TemperatureQuality(t, _) => self.at_temperature(branch, t),
            Sought::PressureQuality(p, _) => self.at_pressure(branch, p),
            _ => None,
        };
        let (bubble, dew) = (known(Branch::Bubble)?, known(Branch::Dew)?);
        let start = between_lines(&self.0.x, &bubble, &dew, quality);
        let along = |_: f64| Some(sought);
        let found = filled_along(&self.0.mixture, &self.0.x, along, &start)?;
        Some(self.both_phases(&found))
    }

    /// Two phases of a blend at a pressure, Pa, by a property of both together, from the phases on
    /// the lines.
    fn by_property(
        &self,
        pressure: f64,
        (property, value): (Property, f64),
        [bubble, dew]: [(Side, Side); 2],
    ) -> Option<Molar> {
        let ends = [
            self.line_end(Branch::Bubble, pressure, bubble.0)?,
            self.line_end(Branch::Dew, pressure, dew.1)?,
        ];
        let start = self.start_between(&ends, (property, value));
        let x = &self.0.x;
        let along = |_: f64| Some(Sought::PressureProperty(pressure, property, value));
        let found = filled_along(&self.0.mixture, x, along, &start)?;
        Some(self.both_phases(&found))
    }

    /// An end of a line at a pressure, Pa, where the phase that is the whole blend is known.
    fn line_end(&self, branch: Branch, pressure: f64, whole: Side) -> Option<LineEnd> {
        let pair = self.at_temperature(branch, whole.temperature)?;
        Some(LineEnd {
            pair: PhasePair { pressure, ..pair },
            enthalpy: whole.enthalpy,
            entropy: whole.entropy,
        })
    }

    /// Both ends of the lines at a pressure, Pa.
    pub(super) fn line_ends(&self, pressure: f64) -> Option<[LineEnd; 2]> {
        let (liquid, _) = self.sides_at_pressure(Branch::Bubble, pressure)?;
        let (_, vapor) = self.sides_at_pressure(Branch::Dew, pressure)?;
        Some([
            self.line_end(Branch::Bubble, pressure, liquid)?,
            self.line_end(Branch::Dew, pressure, vapor)?,
        ])
    }

    /// Two phases near those that have a property together, J/mol or J/(mol K), between two ends.
    pub(super) fn start_between(&self, ends: &[LineEnd; 2], wanted: (Property, f64)) -> Split {
        let model = (&self.0.mixture, &self.0.x);
        let solved = |pressure| self.line_ends(pressure);
        self.0.between.start(model, ends.each_ref(), wanted, solved)
    }

    fn both_phases(&self, found: &Filled) -> Molar {
        let (pair, mixture) = (&found.split.pair, &self.0.mixture);
        let beta = found.split.vapor_fraction;
        let mean = |l: f64, v: f64| (1.0 - beta) * l + beta * v;
        let mass = |x: &MoleFractions| -> f64 {
            let parts = mixture.components().iter().zip(x.iter());
            parts.map(|(one, x)| one.record.molar_mass_kg_mol * x).sum()
        };
        let (liquids, vapors) = ((1.0 - beta) * mass(&pair.liquid), beta * mass(&pair.vapor));
        Molar {
            found: ByPressure {
                temperature: pair.temperature,
                density: 1.0 / mean(1.0 / pair.liquid_density, 1.0 / pair.vapor_density),
                enthalpy: found.enthalpy,
                entropy: found.entropy,
                steps: pair.steps,
            },
            pressure: pair.pressure,
            quality: Some(vapors / (vapors + liquids)),
            dense: false,
        }
    }

    /// The bubble point at a temperature: its pressure and both densities.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressure`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Refrigerant, units::Temperature};
    /// let point = Refrigerant::named("R-134a")?.bubble_point(Temperature::celsius(25.0))?;
    /// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 1206.7 kg/m3
    /// assert!((point.liquid_density - 1206.7).abs() < 0.1);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn bubble_point(&self, temperature: Temperature) -> Result<LinePoint> {
        self.line_point(Branch::Bubble, temperature)
    }

    /// The dew point at a temperature: its pressure and both densities.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressure`].
    pub fn dew_point(&self, temperature: Temperature) -> Result<LinePoint> {
        self.line_point(Branch::Dew, temperature)
    }

    fn line_point(&self, branch: Branch, temperature: Temperature) -> Result<LinePoint> {
        if self.is_pure()
            && let Some(curve) = self.wanted(branch)
            && let Some((pressure, liquid, vapor)) =
                curve.densities(temperature.in_kelvin(), || self.line(branch))
        {
            return Ok(LinePoint {
                temperature,
                pressure: Pressure::pascal(pressure),
                liquid_density: liquid * self.0.molar_mass,
                vapor_density: vapor * self.0.molar_mass,
            });
        }
        let pair = self.pair_at_temperature(branch, temperature)?;
        let components = self.0.mixture.components();
        let mass = |x: &[f64]| -> f64 {
            let parts = components.iter().zip(x);
            parts.map(|(c, x)| c.record.molar_mass_kg_mol * x).sum()
        };
        Ok(LinePoint {
            temperature,
            pressure: Pressure::pascal(pair.pressure),
            liquid_density: pair.liquid_density * mass(&pair.liquid),
            vapor_density: pair.vapor_density * mass(&pair.vapor),
        })
    }

    /// Density at a temperature and a pressure, kg/m3, of whichever phase is there.
    ///
    /// # Errors
    /// As [`Refrigerant::state`] for these two.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Refrigerant, units::{Pressure, Temperature}};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let density = r134a.density(Temperature::kelvin(300.0), Pressure::bar(10.0))?;
    /// // computed with CoolProp 8.0.0, a cross-check
    /// assert!((density - 1202.0).abs() < 1.0);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn density(&self, temperature: Temperature, pressure: Pressure) -> Result<f64> {
        let given = Given::TemperaturePressure(temperature, pressure);
        given.check()?;
        let quick = self.quick_density(temperature.in_kelvin(), pressure.in_pascal());
        if let Some((density, _)) = quick {
            return Ok(density * self.0.molar_mass);
        }
        Ok(self.state(given, ReferenceState::IdealGas)?[0]
            .properties
            .density)
    }

    /// Temperature at a pressure and an enthalpy in J/kg from a zero.
    ///
    /// # Errors
    /// As [`Refrigerant::state`] for these two.
    pub fn temperature_at_enthalpy(
        &self,
        pressure: Pressure,
        enthalpy: f64,
        zero: ReferenceState,
    ) -> Result<Temperature> {
        let given = Given::PressureEnthalpy(pressure, enthalpy);
        self.number(Wanted::Temperature, given, zero)
            .map(Temperature::kelvin)
    }

    /// Entropy in J/(kg K) at a pressure and an enthalpy in J/kg, both from a zero.
    ///
    /// # Errors
    /// As [`Refrigerant::state`] for these two.
    pub fn entropy_at_enthalpy(
        &self,
        pressure: Pressure,
        enthalpy: f64,
        zero: ReferenceState,
    ) -> Result<f64> {
        let given = Given::PressureEnthalpy(pressure, enthalpy);
        self.number(Wanted::Entropy, given, zero)
    }

    /// `None` where the curves do not say the phase, and out of range.
    fn quick_by_caloric(&self, pressure: f64, caloric: Caloric) -> Option<Molar> {
        let bubble = self.sides_at_pressure(Branch::Bubble, pressure)?;
        let dew = if self.is_pure() {
            bubble
        } else {
            self.sides_at_pressure(Branch::Dew, pressure)?
        };
        let (liquid, vapor) = (bubble.0, dew.1);
        let (value, at_bubble, at_dew) = match caloric {
            Caloric::Enthalpy(h) => (h, liquid.enthalpy, vapor.enthalpy),
            Caloric::Entropy(s) => (s, liquid.entropy, vapor.entropy),
        };
        let one_phase = |found: Option<ByPressure>, dense| {
            Some(Molar {
                found: found?,
                pressure,
                quality: None,
                dense,
            })
        };
        if value >= at_dew {
            return one_phase(self.beyond_dew(pressure, caloric, &vapor), false);
        }
        if value <= at_bubble {
            let found = self.before_bubble(pressure, caloric, &liquid);
            return one_phase(found.filter(|found| found.density > vapor.density), true);
        }
        let weight = (value - at_bubble) / (at_dew - at_bubble);
        if !self.is_pure() {
            let property = match caloric {
                Caloric::Enthalpy(_) => Property::Enthalpy,
                Caloric::Entropy(_) => Property::Entropy,
            };
            return self.by_property(pressure, (property, value), [bubble, dew]);
        }
        Some(Molar {
            found: lever(&liquid, &vapor, weight),
            pressure,
            quality: Some(weight),
            dense: false,
        })
    }
}

/// Two phases of a pure refrigerant, `weight` of the way from liquid to vapor, by mass and by mole.
fn lever(liquid: &Side, vapor: &Side, weight: f64) -> ByPressure {
    let mean = |l: f64, v: f64| l + weight * (v - l);
    ByPressure {
        temperature: liquid.temperature,
        density: 1.0 / mean(1.0 / liquid.density, 1.0 / vapor.density),
        enthalpy: mean(liquid.enthalpy, vapor.enthalpy),
        entropy: mean(liquid.entropy, vapor.entropy),
        steps: 0,
    }
}
