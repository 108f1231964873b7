//! A set of units in which one answer is written.

use super::{DensityUnit, EnthalpyUnit, EntropyUnit, PressureUnit, TemperatureUnit};

/// The units of one answer.
///
/// # Example
/// ```
/// use zeotrope::units::{PressureUnit, UnitSet};
/// assert_eq!(UnitSet::INCH_POUND.gauge, PressureUnit::PsiGauge);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UnitSet {
    /// Temperatures.
    pub temperature: TemperatureUnit,
    /// Pressures, where one unit is shown.
    pub pressure: PressureUnit,
    /// Pressures counted from the site's air.
    pub gauge: PressureUnit,
    /// Pressures counted from zero.
    pub absolute: PressureUnit,
    /// Densities.
    pub density: DensityUnit,
    /// Enthalpies, internal energies, latent heats.
    pub enthalpy: EnthalpyUnit,
    /// Entropies and heat capacities.
    pub entropy: EntropyUnit,
    /// True where lengths are feet.
    pub feet: bool,
}

impl UnitSet {
    /// °C, bar, kJ, kg.
    pub const SI: UnitSet = UnitSet {
        temperature: TemperatureUnit::Celsius,
        pressure: PressureUnit::BarGauge,
        gauge: PressureUnit::BarGauge,
        absolute: PressureUnit::BarAbsolute,
        density: DensityUnit::KilogramPerCubicMetre,
        enthalpy: EnthalpyUnit::KilojoulePerKilogram,
        entropy: EntropyUnit::KilojoulePerKilogramKelvin,
        feet: false,
    };

    /// °F, psi, Btu, lb.
    pub const INCH_POUND: UnitSet = UnitSet {
        temperature: TemperatureUnit::Fahrenheit,
        pressure: PressureUnit::PsiGauge,
        gauge: PressureUnit::PsiGauge,
        absolute: PressureUnit::PsiAbsolute,
        density: DensityUnit::PoundPerCubicFoot,
        enthalpy: EnthalpyUnit::BtuPerPound,
        entropy: EntropyUnit::BtuPerPoundFahrenheit,
        feet: true,
    };

    /// The units of an answer to a question that was typed in some units: that of its temperature
    /// decides the system, else that of its pressure; without either SI.
    ///
    /// # Example
    /// ```
    /// use zeotrope::units::{PressureUnit, TemperatureUnit, UnitSet};
    /// let bar = Some(PressureUnit::BarGauge);
    /// let found = UnitSet::of_question(Some(TemperatureUnit::Fahrenheit), bar);
    /// assert!(found.feet);
    /// assert_eq!(found.absolute, PressureUnit::BarAbsolute);
    /// ```
    pub fn of_question(
        temperature: Option<TemperatureUnit>,
        pressure: Option<PressureUnit>,
    ) -> Self {
        let is_inch_pound = match temperature {
            Some(unit) => unit == TemperatureUnit::Fahrenheit,
            None => pressure.is_some_and(PressureUnit::is_inch_pound),
        };
        let mut set = if is_inch_pound {
            Self::INCH_POUND
        } else {
            Self::SI
        };
        if let Some(unit) = temperature {
            set = set.with_temperature(unit);
        }
        if let Some(unit) = pressure {
            set = set.with_pressure(unit);
        }
        set
    }

    /// The same set with temperatures in another unit.
    pub const fn with_temperature(mut self, unit: TemperatureUnit) -> Self {
        self.temperature = unit;
        self
    }

    /// The same set with pressures in another unit, and its twin of the other kind.
    pub const fn with_pressure(mut self, unit: PressureUnit) -> Self {
        self.pressure = unit;
        let (gauge, absolute) = match unit {
            PressureUnit::PsiGauge | PressureUnit::PsiAbsolute => {
                (PressureUnit::PsiGauge, PressureUnit::PsiAbsolute)
            }
            PressureUnit::BarGauge | PressureUnit::BarAbsolute => {
                (PressureUnit::BarGauge, PressureUnit::BarAbsolute)
            }
            PressureUnit::KilopascalGauge | PressureUnit::KilopascalAbsolute => (
                PressureUnit::KilopascalGauge,
                PressureUnit::KilopascalAbsolute,
            ),
            PressureUnit::MegapascalGauge | PressureUnit::MegapascalAbsolute => (
                PressureUnit::MegapascalGauge,
                PressureUnit::MegapascalAbsolute,
            ),
            PressureUnit::InchesOfMercuryAbsolute | PressureUnit::InchesOfMercuryVacuum => (
                PressureUnit::PsiGauge,
                PressureUnit::InchesOfMercuryAbsolute,
            ),
            PressureUnit::Pascal => (PressureUnit::KilopascalGauge, unit),
            PressureUnit::Micron | PressureUnit::Torr | PressureUnit::Millibar => {
                (self.gauge, unit)
            }
        };
        self.gauge = gauge;
        self.absolute = absolute;
        self
    }
}
