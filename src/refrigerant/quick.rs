//! Single numbers for loops: answered from curves and one Newton iteration where that can be, else
//! by the way of [`Refrigerant::state`].

use super::Refrigerant;
use super::answers::LinePoint;
use super::reference_state::{ReferenceState, Shift};
use super::row::StateRow;
use super::state::Given;
use crate::curve::Side;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::split::{Sought, Split, between_lines, split};
use crate::equilibrium::{KnownLines, Phase, Property};
use crate::error::{Error, Result};
use crate::helmholtz::FixedComposition;
use crate::numeric::exp;
use crate::state::{ByPressure, Caloric, SinglePhase, by_pressure, density_near};
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
        let mut found = self.state(given, zero)?;
        if let Some(phase) = phase {
            found.retain(|state| state.phase == phase);
        }
        match found.as_slice() {
            [state] => Ok(state.into()),
            [] => Err(Error::NoState {
                reason: "none of the phase asked for has these two properties".into(),
                hint: "ask for another phase".into(),
            }),
            _ => Err(Error::NoState {
                reason: "more than one state has these two properties".into(),
                hint: "name the phase, or give another pair of properties".into(),
            }),
        }
    }

    /// A row with what [`Quick`] leaves out, which is of one phase alone.
    fn filled(&self, quick: &Quick) -> StateRow {
        let mass = self.0.molar_mass;
        let mut row = StateRow {
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
            let phase = SinglePhase::at(&fixed, quick.temperature, quick.density / mass);
            row.cp = phase.cp / mass;
            row.cv = phase.cv / mass;
            row.speed_of_sound = phase.speed_of_sound;
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
    fn sides_at_pressure(&self, branch: Branch, pressure: f64) -> Option<(Side, Side)> {
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
        let phase = SinglePhase::at(&self.fixed(), temperature, density);
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

    /// Two phases of a blend, sought from `weight` of the way between the lines.
    fn between_lines(&self, sought: Sought, weight: f64) -> Option<Molar> {
        let known = |branch| match sought {
            Sought::TemperatureQuality(t, _) => self.at_temperature(branch, t),
            Sought::PressureQuality(p, _) | Sought::PressureProperty(p, ..) => {
                self.at_pressure(branch, p)
            }
            _ => None,
        };
        let (bubble, dew) = (known(Branch::Bubble)?, known(Branch::Dew)?);
        let start = between_lines(&self.0.x, &bubble, &dew, weight);
        let found = split(&self.0.mixture, &self.0.x, sought, &start)?;
        Some(self.both_phases(&found))
    }

    fn both_phases(&self, split: &Split) -> Molar {
        let (pair, mixture) = (&split.pair, &self.0.mixture);
        let phase =
            |x, density| SinglePhase::at(&mixture.at_composition(x), pair.temperature, density);
        let liquid = phase(&pair.liquid, pair.liquid_density);
        let vapor = phase(&pair.vapor, pair.vapor_density);
        let beta = split.vapor_fraction;
        let mean = |l: f64, v: f64| (1.0 - beta) * l + beta * v;
        let vapors = beta * vapor.molar_mass;
        Molar {
            found: ByPressure {
                temperature: pair.temperature,
                density: 1.0 / mean(1.0 / liquid.density, 1.0 / vapor.density),
                enthalpy: mean(liquid.enthalpy, vapor.enthalpy),
                entropy: mean(liquid.entropy, vapor.entropy),
                steps: pair.steps,
            },
            pressure: pair.pressure,
            quality: Some(vapors / (vapors + (1.0 - beta) * liquid.molar_mass)),
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

    /// mol/m3, and whether it is the liquid's; `None` between the lines, above their end and out of
    /// range.
    fn quick_density(&self, temperature: f64, pressure: f64) -> Option<(f64, bool)> {
        let limits = &self.0.limits;
        if !(pressure > 0.0 && pressure <= limits.pressure_max.in_pascal()) {
            return None;
        }
        let at = |branch| {
            self.wanted(branch)?
                .densities(temperature, || self.line(branch))
        };
        let bubble = at(Branch::Bubble)?;
        let dew = if self.is_pure() {
            bubble
        } else {
            at(Branch::Dew)?
        };
        let fixed = self.fixed();
        let isotherm = fixed.isotherm(temperature);
        if pressure <= dew.0 {
            let saturated = dew.0 / (dew.2 * isotherm.rt);
            let z = 1.0 - below_saturation(1.0 - saturated, pressure / dew.0);
            let start = pressure / (isotherm.rt * z);
            return density_near(&isotherm, pressure, start)
                .filter(|density| *density <= dew.2 * (1.0 + 1e-9))
                .map(|density| (density, false));
        }
        if pressure >= bubble.0 {
            let start = self
                .wanted(Branch::Bubble)?
                .near_liquid(temperature, pressure, || self.line(Branch::Bubble))?;
            return density_near(&isotherm, pressure, start)
                .filter(|density| *density >= bubble.1 * (1.0 - 1e-9))
                .map(|density| (density, true));
        }
        None
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
        let (liquid, mut vapor) = self.sides_at_pressure(Branch::Bubble, pressure)?;
        if !self.is_pure() {
            vapor = self.sides_at_pressure(Branch::Dew, pressure)?.1;
        }
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
            return self.between_lines(Sought::PressureProperty(pressure, property, value), weight);
        }
        Some(Molar {
            found: lever(&liquid, &vapor, weight),
            pressure,
            quality: Some(weight),
            dense: false,
        })
    }

    /// A vapor hotter than its dew point.
    fn beyond_dew(&self, pressure: f64, caloric: Caloric, dew: &Side) -> Option<ByPressure> {
        let fixed = self.fixed();
        let newton = |start: (f64, f64)| by_pressure(&fixed, pressure, caloric, start);
        let start = match caloric {
            Caloric::Enthalpy(enthalpy) => superheated(&fixed, pressure, enthalpy, dew),
            Caloric::Entropy(entropy) => {
                let (_, capacity) = fixed.ideal_enthalpy(dew.temperature);
                // ds = cp dT/T; the real heat capacity next to the dew line lies above the ideal
                // gas's
                let hotter = exp(((entropy - dew.entropy) / capacity).min(0.5));
                (dew.temperature * hotter, dew.density / hotter)
            }
        };
        let hottest = self.0.limits.temperature_max.in_kelvin();
        newton(start)
            .or_else(|| newton((dew.temperature, dew.density)))
            .filter(|found| {
                found.temperature >= dew.temperature * (1.0 - 1e-9)
                    && found.temperature <= hottest
                    && found.density <= dew.density * (1.0 + 1e-9)
            })
    }

    /// A liquid colder than its bubble point.
    fn before_bubble(&self, pressure: f64, caloric: Caloric, bubble: &Side) -> Option<ByPressure> {
        let fixed = self.fixed();
        let newton = |start: (f64, f64)| by_pressure(&fixed, pressure, caloric, start);
        let enthalpy = match caloric {
            Caloric::Enthalpy(enthalpy) => enthalpy,
            // ds = dh/T on an isobar, T falling nearly in proportion
            Caloric::Entropy(entropy) => {
                let missing = bubble.entropy - entropy;
                let colder = missing * bubble.temperature / self.liquid_capacity(bubble)?;
                let mean = bubble.temperature - 0.5 * colder;
                bubble.enthalpy - missing * mean
            }
        };
        let coldest = self.0.limits.temperature_min.in_kelvin();
        self.subcooled(pressure, enthalpy, bubble)
            .and_then(newton)
            .or_else(|| newton((bubble.temperature, bubble.density)))
            .filter(|found| {
                found.temperature <= bubble.temperature * (1.0 + 1e-9)
                    && found.temperature >= coldest
            })
    }

    /// The heat capacity of the liquid along its line, J/(mol K), over a step of usual size.
    fn liquid_capacity(&self, bubble: &Side) -> Option<f64> {
        let curve = self.wanted(Branch::Bubble)?;
        let colder = 0.97 * bubble.temperature;
        let (_, there) = curve.liquid_enthalpy(colder, || self.line(Branch::Bubble))?;
        Some((bubble.enthalpy - there) / (bubble.temperature - colder))
    }

    /// Temperature, K, and density, mol/m3, near those of a liquid colder than its bubble point.
    ///
    /// From the saturated liquid at the same temperature, dh = (1 - alpha T) / rho dp, alpha the
    /// mean expansivity on the isobar from there to the bubble point; then by the mean heat
    /// capacity on that isobar.
    fn subcooled(&self, pressure: f64, enthalpy: f64, bubble: &Side) -> Option<(f64, f64)> {
        let curve = self.wanted(Branch::Bubble)?;
        let line = || self.line(Branch::Bubble);
        let missing = bubble.enthalpy - enthalpy;
        let capacity = self.liquid_capacity(bubble)?;
        let mut start = (bubble.temperature - missing / capacity, bubble.density);
        // the second time the mean heat capacity is that of the right interval
        for _ in 0..2 {
            let (temperature, _) = start;
            let cooled = bubble.temperature - temperature;
            if cooled < 1e-6 * temperature {
                return None;
            }
            let (saturated, there, density) = curve.beside_liquid(temperature, pressure, line)?;
            let expansivity = (density / bubble.density - 1.0) / cooled;
            let rise = (pressure - saturated) * (1.0 - expansivity * temperature) / density;
            let found = bubble.temperature - missing * cooled / (bubble.enthalpy - there - rise);
            start = (found, density * (1.0 + expansivity * (temperature - found)));
        }
        Some(start)
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

/// 1 - Z of a vapour at a part of its saturation pressure, from that of the saturated vapour: a
/// start and no more.
///
/// In proportion to the pressure, less what bends it; fitted by `tools/starts.py` to 13 refrigerants
/// from 0.6 to 0.97 of the critical temperature, half of which it meets to 2e-4 of Z.
fn below_saturation(saturated: f64, part: f64) -> f64 {
    let bend = 0.98 + saturated * (-0.24 - part * (1.02 - 3.80 * part));
    saturated * part * (1.0 - (1.0 - part) * saturated * bend)
}

/// Temperature, K, and density, mol/m3, near those of a vapour hotter than its dew point: a start
/// and no more.
///
/// What parts enthalpy and compressibility factor from those of the ideal gas falls with a power of
/// temperature on an isobar. With B as T^(-m) the ratio r of the two at the dew point, in units of
/// R T and of 1, is 1 + m, and the powers are r - 1 and r; the figures here are fitted by
/// `tools/starts.py` to 13 refrigerants, up to a third above dew points from 0.6 to 0.95 of the
/// critical temperature, to 0.13 and 0.12.
fn superheated(
    fixed: &FixedComposition<'_>,
    pressure: f64,
    enthalpy: f64,
    dew: &Side,
) -> (f64, f64) {
    let rt = fixed.gas_constant * dew.temperature;
    let (ideal, capacity) = fixed.ideal_enthalpy(dew.temperature);
    let departure = ideal - dew.enthalpy;
    let x = 1.0 - pressure / (dew.density * rt);
    let r = departure / (rt * x);
    let of_enthalpy =
        |hotter: f64| 1.771 * r - 3.73 + 6.41 * x + hotter * (7.51 - 2.02 * r - 15.8 * x);
    let of_volume =
        |hotter: f64| 1.131 * r - 0.67 + 6.24 * x + hotter * (5.43 - 1.42 * r - 11.9 * x);
    let capacity = capacity + of_enthalpy(0.0) * departure / dew.temperature;
    let first = dew.temperature + (enthalpy - dew.enthalpy) / capacity;
    let hotter = (first / dew.temperature - 1.0).min(0.5);
    let log = (first / dew.temperature).ln();
    let power = of_enthalpy(hotter);
    let there = departure * exp(-power * log);
    let (ideal, capacity) = fixed.ideal_enthalpy(first);
    let found = first + (enthalpy - ideal + there) / (capacity + power * there / first);
    let log = (found / dew.temperature).ln();
    let z = 1.0 - x * exp(-of_volume(hotter) * log);
    (found, pressure / (fixed.gas_constant * found * z))
}
