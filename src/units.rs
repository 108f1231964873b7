//! Quantities with their units: what a person types becomes SI here, and nowhere else.

/// A thermodynamic temperature.
///
/// # Units
/// Kelvin inside; constructors and readers are named by unit.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// From kelvin.
    pub const fn kelvin(value: f64) -> Self {
        Self(value)
    }
    /// From degrees Celsius.
    pub const fn celsius(value: f64) -> Self {
        Self(value + 273.15)
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
        self.0 - 273.15
    }
    /// In degrees Fahrenheit.
    pub const fn in_fahrenheit(self) -> f64 {
        self.0 * 1.8 - 459.67
    }
}

/// An absolute pressure.
///
/// # Units
/// Pascal inside, always absolute; a gauge reading needs an atmosphere.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pressure(f64);

impl Pressure {
    /// From pascal, absolute.
    pub const fn pascal(value: f64) -> Self {
        Self(value)
    }
    /// From bar, absolute.
    pub const fn bar(value: f64) -> Self {
        Self(value * 1e5)
    }
    /// In pascal, absolute.
    pub const fn in_pascal(self) -> f64 {
        self.0
    }
    /// In bar, absolute.
    pub const fn in_bar(self) -> f64 {
        self.0 / 1e5
    }
}
