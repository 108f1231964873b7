//! Single numbers for loops: answered from curves and one Newton iteration where that can be, else
//! by the way of [`Refrigerant::state`].

use super::Refrigerant;
use super::answers::LinePoint;
use super::reference_state::ReferenceState;
use super::state::Given;
use crate::curve::Side;
use crate::equilibrium::bubble_dew::Branch;
use crate::error::Result;
use crate::helmholtz::FixedComposition;
use crate::numeric::exp;
use crate::state::{ByPressure, Caloric, SinglePhase, by_pressure, density_near};
use crate::units::{Pressure, Temperature};

/// One phase without what a loop seldom asks for; SI by mass, from the zero of the question.
pub(crate) struct QuickPhase {
    pub(crate) temperature: Temperature,
    pub(crate) pressure: Pressure,
    pub(crate) density: f64,
    pub(crate) enthalpy: f64,
    pub(crate) entropy: f64,
}

impl Refrigerant {
    /// One phase of a blend from pressure and temperature, enthalpy or entropy, where the curves
    /// say that it is one; `None` where they do not, between the lines, out of range, and for a
    /// pure refrigerant, whose states are quick anyway.
    ///
    /// Of an entropy the vapor alone: compression begins and ends there.
    pub(crate) fn quick_phase(&self, given: Given, zero: ReferenceState) -> Option<QuickPhase> {
        if self.is_pure() {
            return None;
        }
        let shift = self.shift(zero).ok()?;
        let mass = self.0.molar_mass;
        let (pressure, found) = match given {
            Given::TemperaturePressure(temperature, pressure) => {
                let (kelvin, pascal) = (temperature.in_kelvin(), pressure.in_pascal());
                let limits = &self.0.limits;
                if temperature < limits.temperature_min || temperature > limits.temperature_max {
                    return None;
                }
                let density = self.quick_density(kelvin, pascal)?;
                let phase = SinglePhase::at(&self.fixed(), kelvin, density);
                let found = ByPressure {
                    temperature: kelvin,
                    density,
                    enthalpy: phase.enthalpy,
                    entropy: phase.entropy,
                    steps: 0,
                };
                (pressure, found)
            }
            Given::PressureEnthalpy(pressure, enthalpy) => {
                let molar = (enthalpy - shift.enthalpy) * mass;
                (
                    pressure,
                    self.quick_by_enthalpy(pressure.in_pascal(), molar)?,
                )
            }
            Given::PressureEntropy(pressure, entropy) => {
                let molar = (entropy - shift.entropy) * mass;
                (
                    pressure,
                    self.quick_vapor_by_entropy(pressure.in_pascal(), molar)?,
                )
            }
            _ => return None,
        };
        Some(QuickPhase {
            temperature: Temperature::kelvin(found.temperature),
            pressure,
            density: found.density * mass,
            enthalpy: found.enthalpy / mass + shift.enthalpy,
            entropy: found.entropy / mass + shift.entropy,
        })
    }

    /// Molar; `None` below the dew entropy and where the curve does not say it.
    fn quick_vapor_by_entropy(&self, pressure: f64, entropy: f64) -> Option<ByPressure> {
        let curve = self.wanted(Branch::Dew)?;
        let (_, dew) = curve.sides_at_pressure(pressure, || self.line(Branch::Dew))?;
        if entropy < dew.entropy {
            return None;
        }
        let fixed = self.fixed();
        let (_, capacity) = fixed.ideal_enthalpy(dew.temperature);
        // ds = cp dT/T; the real heat capacity next to the dew line lies above the ideal gas's.
        let hotter = exp(((entropy - dew.entropy) / capacity).min(0.5));
        let start = (dew.temperature * hotter, dew.density / hotter);
        let hottest = self.0.limits.temperature_max.in_kelvin();
        by_pressure(&fixed, pressure, Caloric::Entropy(entropy), start).filter(|found| {
            found.temperature >= dew.temperature * (1.0 - 1e-9)
                && found.temperature <= hottest
                && found.density <= dew.density * (1.0 + 1e-9)
        })
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
        let quick = self.quick_density(temperature.in_kelvin(), pressure.in_pascal());
        if let Some(density) = quick {
            return Ok(density * self.0.molar_mass);
        }
        let given = Given::TemperaturePressure(temperature, pressure);
        Ok(self.state(given, ReferenceState::IdealGas)?[0]
            .properties
            .density)
    }

    /// mol/m3; `None` between the lines, above their end and out of range.
    fn quick_density(&self, temperature: f64, pressure: f64) -> Option<f64> {
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
                .filter(|density| *density <= dew.2 * (1.0 + 1e-9));
        }
        if pressure >= bubble.0 {
            let start = self
                .wanted(Branch::Bubble)?
                .near_liquid(temperature, pressure, || self.line(Branch::Bubble))?;
            return density_near(&isotherm, pressure, start)
                .filter(|density| *density >= bubble.1 * (1.0 - 1e-9));
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
        let shift = self.shift(zero)?;
        let molar = (enthalpy - shift.enthalpy) * self.0.molar_mass;
        if let Some(found) = self.quick_by_enthalpy(pressure.in_pascal(), molar) {
            return Ok(Temperature::kelvin(found.temperature));
        }
        let given = Given::PressureEnthalpy(pressure, enthalpy);
        Ok(self.state(given, zero)?[0].properties.temperature)
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
        let shift = self.shift(zero)?;
        let molar = (enthalpy - shift.enthalpy) * self.0.molar_mass;
        if let Some(found) = self.quick_by_enthalpy(pressure.in_pascal(), molar) {
            return Ok(found.entropy / self.0.molar_mass + shift.entropy);
        }
        let given = Given::PressureEnthalpy(pressure, enthalpy);
        Ok(self.state(given, zero)?[0].properties.entropy)
    }

    /// Molar; `None` where the curves do not say the phase, between a blend's lines and out of
    /// range.
    fn quick_by_enthalpy(&self, pressure: f64, enthalpy: f64) -> Option<ByPressure> {
        let at = |branch| {
            self.wanted(branch)?
                .sides_at_pressure(pressure, || self.line(branch))
        };
        let (liquid, mut vapor) = at(Branch::Bubble)?;
        if !self.is_pure() {
            vapor = at(Branch::Dew)?.1;
        }
        let limits = &self.0.limits;
        let (coldest, hottest) = (
            limits.temperature_min.in_kelvin(),
            limits.temperature_max.in_kelvin(),
        );
        let fixed = self.fixed();
        let newton =
            |start: (f64, f64)| by_pressure(&fixed, pressure, Caloric::Enthalpy(enthalpy), start);
        let from = |side: &Side| newton((side.temperature, side.density));
        if enthalpy >= vapor.enthalpy {
            let start = superheated(&fixed, pressure, enthalpy, &vapor);
            return newton(start).or_else(|| from(&vapor)).filter(|found| {
                found.temperature >= vapor.temperature * (1.0 - 1e-9)
                    && found.temperature <= hottest
                    && found.density <= vapor.density * (1.0 + 1e-9)
            });
        }
        if enthalpy <= liquid.enthalpy {
            return self
                .subcooled(pressure, enthalpy, &liquid)
                .and_then(newton)
                .or_else(|| from(&liquid))
                .filter(|found| {
                    found.temperature <= liquid.temperature * (1.0 + 1e-9)
                        && found.temperature >= coldest
                        && found.density > vapor.density
                });
        }
        if !self.is_pure() {
            return None;
        }
        let quality = (enthalpy - liquid.enthalpy) / (vapor.enthalpy - liquid.enthalpy);
        let mean = |l: f64, v: f64| l + quality * (v - l);
        Some(ByPressure {
            temperature: liquid.temperature,
            density: 1.0 / mean(1.0 / liquid.density, 1.0 / vapor.density),
            enthalpy,
            entropy: mean(liquid.entropy, vapor.entropy),
            steps: 0,
        })
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
        // the heat capacity along the line, over a step of usual size
        let colder = 0.97 * bubble.temperature;
        let (_, there) = curve.liquid_enthalpy(colder, line)?;
        let capacity = (bubble.enthalpy - there) / (bubble.temperature - colder);
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
