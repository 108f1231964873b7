//! Temperatures and differences of temperatures, two types, so that 32 °F is never added to a step.

use std::ops::{Add, Sub};

/// A number in hundredths, where it was written with at most two decimals.
const fn whole_hundredths(value: f64) -> Option<f64> {
    let hundredths = value * 100.0;
    let whole = hundredths.round();
    // Far below any thermometer, far above the rounding of the product.
    if (hundredths - whole).abs() < 1e-9 {
        Some(whole)
    } else {
        None
    }
}

/// A thermodynamic temperature.
///
/// # Units
/// Kelvin inside; constructors and readers are named by unit.
///
/// # Example
/// ```
/// use zeotrope::units::Temperature;
/// assert_eq!(Temperature::celsius(5.0).in_kelvin(), 278.15);
/// assert!((Temperature::celsius(5.0).in_fahrenheit() - 41.0).abs() < 1e-12);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
#[serde(transparent)]
pub struct Temperature(f64);

impl Temperature {
    /// From kelvin.
    pub const fn kelvin(value: f64) -> Self {
        Self(value)
    }
    /// From degrees Celsius.
    pub const fn celsius(value: f64) -> Self {
        // Whole hundredths stay whole: -60 °C is 213.15 K to the last bit, as limits are written.
        Self(match whole_hundredths(value) {
            Some(hundredths) => (hundredths + 27_315.0) / 100.0,
            None => value + 273.15,
        })
    }
    /// From degrees Fahrenheit.
    pub const fn fahrenheit(value: f64) -> Self {
        Self((value + 459.67) / 1.8)
    }
    /// In kelvin.
    pub const fn in_kelvin(self) -> f64 {
        self.0
    }
    /// In degrees Celsius.
    pub const fn in_celsius(self) -> f64 {
        match whole_hundredths(self.0) {
            Some(hundredths) => (hundredths - 27_315.0) / 100.0,
            None => self.0 - 273.15,
        }
    }
    /// In degrees Fahrenheit.
    pub const fn in_fahrenheit(self) -> f64 {
        self.0 * 1.8 - 459.67
    }
}

/// A difference between two temperatures: a step, a superheat, a glide.
///
/// It converts by the size of the degree alone; the 32 °F offset of a thermometer
/// never enters.
///
/// # Units
/// Kelvin inside; constructors and readers are named by unit.
///
/// # Example
/// ```
/// use zeotrope::units::TemperatureDifference;
/// assert!((TemperatureDifference::fahrenheit_degrees(9.0).in_kelvin() - 5.0).abs() < 1e-12);
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq, PartialOrd, serde::Serialize)]
#[serde(transparent)]
pub struct TemperatureDifference(f64);

impl TemperatureDifference {
    /// From kelvin, which is the Celsius degree.
    pub const fn kelvin(value: f64) -> Self {
        Self(value)
    }
    /// From Fahrenheit degrees.
    pub const fn fahrenheit_degrees(value: f64) -> Self {
        Self(value / 1.8)
    }
    /// In kelvin, which is the Celsius degree.
    pub const fn in_kelvin(self) -> f64 {
        self.0
    }
    /// In Fahrenheit degrees.
    pub const fn in_fahrenheit_degrees(self) -> f64 {
        self.0 * 1.8
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}

impl Add<TemperatureDifference> for Temperature {
    type Output = Temperature;
    fn add(self, difference: TemperatureDifference) -> Temperature {
        Temperature(self.0 + difference.0)
    }
}

impl Sub<TemperatureDifference> for Temperature {
    type Output = Temperature;
    fn sub(self, difference: TemperatureDifference) -> Temperature {
        Temperature(self.0 - difference.0)
    }
}
