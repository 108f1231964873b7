//! Absolute pressure and the sizes of the units in which people read it.

/// Pascal in a pound-force per square inch.
///
/// From the exact pound (0.453 592 37 kg), inch (0.0254 m) and standard gravity
/// (9.806 65 m/s2).
pub const PASCAL_PER_PSI: f64 = 0.453_592_37 * 9.806_65 / (0.025_4 * 0.025_4);

/// Pascal in a conventional inch of mercury (0 °C, standard gravity).
///
/// 25.4 conventional millimetres of mercury, whose density is set to 13 595.1 kg/m3.
pub const PASCAL_PER_INCH_OF_MERCURY: f64 = 13_595.1 * 9.806_65 * 0.025_4;

/// Pascal in a micron, a conventional thousandth of a millimetre of mercury.
pub const PASCAL_PER_MICRON: f64 = 13_595.1 * 9.806_65 * 1e-6;

/// Pascal in a torr, by definition 1/760 of a standard atmosphere.
pub const PASCAL_PER_TORR: f64 = Pressure::ATMOSPHERE.in_pascal() / 760.0;

/// An absolute pressure.
///
/// # Units
/// Pascal inside, always absolute; a gauge reading needs an
/// [`Atmosphere`](super::Atmosphere).
///
/// # Example
/// ```
/// use zeotrope::units::Pressure;
/// assert!((Pressure::psia(14.695_949).in_pascal() - 101_325.0).abs() < 0.01);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
#[serde(transparent)]
pub struct Pressure(f64);

impl Pressure {
    /// The standard atmosphere, 101 325 Pa (ISO 2533).
    pub const ATMOSPHERE: Self = Self(101_325.0);

    /// From pascal, absolute.
    pub const fn pascal(value: f64) -> Self {
        Self(value)
    }
    /// From bar, absolute.
    pub const fn bar(value: f64) -> Self {
        Self(value * 1e5)
    }
    /// From kilopascal, absolute.
    pub const fn kilopascal(value: f64) -> Self {
        Self(value * 1e3)
    }
    /// From pounds per square inch, absolute.
    pub const fn psia(value: f64) -> Self {
        Self(value * PASCAL_PER_PSI)
    }
    /// In pascal, absolute.
    pub const fn in_pascal(self) -> f64 {
        self.0
    }
    /// In bar, absolute.
    pub const fn in_bar(self) -> f64 {
        self.0 / 1e5
    }
    /// In kilopascal, absolute.
    pub const fn in_kilopascal(self) -> f64 {
        self.0 / 1e3
    }
    /// In pounds per square inch, absolute.
    pub const fn in_psia(self) -> f64 {
        self.0 / PASCAL_PER_PSI
    }
}
