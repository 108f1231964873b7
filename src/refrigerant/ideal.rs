//! Raoult's law beside the real lines, for teaching: the blend as an ideal solution under an
//! ideal gas.
//!
//! Each component evaporates as if alone, in proportion to its moles (Raoult, Compt. Rend. 104
//! (1887) 1430, from memory):
//!
//! ```text
//! bubble   p = sum x_i p_i(T)           y_i = x_i p_i / p
//! dew      p = 1 / sum y_i / p_i(T)     x_i = y_i p / p_i
//! ```
//!
//! with p_i from the component's own equation of state. It holds for like molecules at low
//! pressure; no azeotrope and no departure between unlike molecules comes of it.

use std::sync::Arc;

use super::Refrigerant;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::pure;
use crate::error::{Blank, Error, RangeUnit, Reason, Result, reasons};
use crate::helmholtz::{Mixture, MoleFractions};
use crate::numeric::bracketed_root;
use crate::units::{Pressure, Temperature};

/// A bubble or dew point by Raoult's law; lists stand in the order of the components.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct IdealPoint {
    /// Temperature.
    #[serde(rename = "temperature_K")]
    pub temperature: Temperature,
    /// Pressure.
    #[serde(rename = "pressure_Pa")]
    pub pressure: Pressure,
    /// Saturation pressure of each component alone.
    #[serde(rename = "component_pressures_Pa")]
    pub component_pressures: Vec<Pressure>,
    /// Mole fractions of the other phase: of the vapor at a bubble point, of the liquid at a dew
    /// point.
    #[serde(rename = "other_phase_mole_fractions")]
    pub other_mole_fractions: Vec<f64>,
    /// The same as mass fractions.
    #[serde(rename = "other_phase_mass_fractions")]
    pub other_mass_fractions: Vec<f64>,
}

impl Refrigerant {
    /// The bubble or dew point at a temperature by Raoult's law, to be shown beside the real one.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where a component has no saturation pressure at that temperature, as
    /// above its critical temperature: then there is no ideal value.
    ///
    /// # Example
    /// ```
    /// use zeotrope::equilibrium::bubble_dew::Branch;
    /// use zeotrope::{Refrigerant, units::Temperature};
    /// let blend = Refrigerant::named("R-290/R-600a (50/50)")?;
    /// let at = Temperature::celsius(20.0);
    /// let ideal = blend.ideal_at_temperature(Branch::Bubble, at)?;
    /// // 8.365 and 3.022 bar alone, 56.9 % of the moles propane: 6.06 bar
    /// assert!((ideal.pressure.in_bar() - 6.06).abs() < 0.01);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn ideal_at_temperature(
        &self,
        branch: Branch,
        temperature: Temperature,
    ) -> Result<IdealPoint> {
        Alone::of(self)?.at_temperature(branch, temperature.in_kelvin())
    }

    /// The bubble or dew point at a pressure by Raoult's law, to be shown beside the real one.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where no temperature at which all components have a saturation
    /// pressure leads to that pressure: then there is no ideal value.
    pub fn ideal_at_pressure(&self, branch: Branch, pressure: Pressure) -> Result<IdealPoint> {
        Alone::of(self)?.at_pressure(branch, pressure.in_pascal())
    }
}

impl Refrigerant {
    /// Where a component boils alone at a pressure, counted from 0 in the user's order.
    ///
    /// For the reason of a glide: components that boil far apart part on boiling.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where it has no boiling point there, as above its critical pressure;
    /// [`Error::NoState`] where there is no such component.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Refrigerant, units::Pressure};
    /// let blend = Refrigerant::named("R-410A")?;
    /// let alone = blend.component_boiling_temperature(0, Pressure::bar(1.01325))?;
    /// // R-32: -51.65 °C, normal boiling point, from memory
    /// assert!((alone.in_celsius() + 51.65).abs() < 0.05);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn component_boiling_temperature(
        &self,
        place: usize,
        pressure: Pressure,
    ) -> Result<Temperature> {
        let own = self.0.places.get(place).ok_or_else(|| Error::NoState {
            reason: Reason::of(reasons::NO_COMPONENT, "refrigerant", self.designation())
                .and("number", Blank::Quantity(place as f64, RangeUnit::None)),
            hint: "count its components from 0".into(),
        })?;
        let component = Arc::clone(&self.0.mixture.components()[*own]);
        let mixture = Mixture::new(vec![component], &[])?;
        let fixed = mixture.at_composition(&MoleFractions::new(&[1.0]));
        let found = pure::saturation_at_pressure(&fixed, pressure.in_pascal(), None)?;
        Ok(Temperature::kelvin(found.temperature))
    }
}

/// The components, each by itself, in the user's order.
struct Alone {
    mixtures: Vec<Mixture>,
    fractions: Vec<f64>,
    molar_masses: Vec<f64>,
}

impl Alone {
    fn of(refrigerant: &Refrigerant) -> Result<Self> {
        let inner = &refrigerant.0;
        let components = inner.mixture.components();
        let mixtures = inner
            .places
            .iter()
            .map(|&place| Mixture::new(vec![Arc::clone(&components[place])], &[]))
            .collect::<Result<_>>()?;
        Ok(Self {
            mixtures,
            fractions: inner.places.iter().map(|&place| inner.x[place]).collect(),
            molar_masses: refrigerant
                .components()
                .iter()
                .map(|component| component.molar_mass)
                .collect(),
        })
    }

    fn at_temperature(&self, branch: Branch, kelvin: f64) -> Result<IdealPoint> {
        let mut alone = Vec::with_capacity(self.mixtures.len());
        for mixture in &self.mixtures {
            let fixed = mixture.at_composition(&MoleFractions::new(&[1.0]));
            alone.push(pure::saturation_at_temperature(&fixed, kelvin, None)?.pressure);
        }
        let pairs = || self.fractions.iter().zip(&alone);
        let pressure = match branch {
            Branch::Bubble => pairs().map(|(x, p)| x * p).sum::<f64>(),
            Branch::Dew => 1.0 / pairs().map(|(y, p)| y / p).sum::<f64>(),
        };
        let other: Vec<f64> = match branch {
            Branch::Bubble => pairs().map(|(x, p)| x * p / pressure).collect(),
            Branch::Dew => pairs().map(|(y, p)| y * pressure / p).collect(),
        };
        let masses = other.iter().zip(&self.molar_masses).map(|(x, m)| x * m);
        let mass: f64 = masses.clone().sum();
        Ok(IdealPoint {
            temperature: Temperature::kelvin(kelvin),
            pressure: Pressure::pascal(pressure),
            component_pressures: alone.into_iter().map(Pressure::pascal).collect(),
            other_mass_fractions: masses.map(|one| one / mass).collect(),
            other_mole_fractions: other,
        })
    }

    fn at_pressure(&self, branch: Branch, pascal: f64) -> Result<IdealPoint> {
        let equations = || self.mixtures.iter().map(|mixture| &mixture.components()[0]);
        let coldest = equations()
            .map(|one| one.record.range.temperature_min_k)
            .fold(0.0, f64::max);
        let (mut hottest, mut first) = (f64::INFINITY, "");
        for one in equations() {
            if one.critical.temperature < hottest {
                hottest = one.critical.temperature;
                first = &one.record.designation;
            }
        }
        let out_of_range = |low: f64, high: f64| Error::OutOfRange {
            quantity: "pressure",
            value: pascal,
            low,
            high,
            unit: RangeUnit::Pascal,
            range: Reason::of(reasons::RANGE_RAOULT, "first", first),
        };
        if hottest <= coldest {
            return Err(out_of_range(f64::NAN, f64::NAN));
        }
        let at = |kelvin: f64| self.at_temperature(branch, kelvin);
        let (low, high) = (
            at(coldest)?.pressure.in_pascal(),
            at(hottest)?.pressure.in_pascal(),
        );
        if !(pascal >= low && pascal <= high) {
            return Err(out_of_range(low, high));
        }
        // ln p is nearly straight in 1/T
        let error = |inverse: f64| Ok((at(1.0 / inverse)?.pressure.in_pascal() / pascal).ln());
        let root = bracketed_root(error, 1.0 / hottest, 1.0 / coldest, 1e-13)?;
        at((1.0 / root).clamp(coldest, hottest))
    }
}
