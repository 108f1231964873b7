//! What the curves, points and axes of a picture stand for.

use super::coil::FluidKind;
use super::isolines::Isoline;
use crate::units::{
    EnthalpyUnit, EntropyUnit, Pressure, PressureUnit, Temperature, TemperatureUnit,
};

/// What a curve or a point is called.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Name {
    /// Nothing of its own: it belongs to the curve before it.
    None,
    /// A refrigerant.
    Refrigerant(String),
    /// A pressure.
    At(Pressure),
    /// A temperature, in the picture's unit.
    AtTemperature(f64),
    /// A refrigerant at a pressure.
    RefrigerantAt(String, Pressure),
    /// A difference of temperatures, in the picture's unit.
    Difference(f64),
    /// A line of one value, in the picture's unit.
    Isoline(Isoline, f64),
    /// The same of one refrigerant among several.
    IsolineOf(String, Isoline, f64),
    /// The bubble line.
    Bubble,
    /// The dew line.
    Dew,
    /// The critical point.
    CriticalPoint,
    /// A refrigerant's point on the bubble or dew line, with its value on the vertical axis.
    Point(String, Part, f64),
    /// The distance from the bubble to the dew point of a blend, in the unit of the vertical axis.
    Glide(f64),
    /// Percent of the first component in the liquid (bubble) or the vapor (dew).
    Share(Part, f64),
    /// An azeotrope: percent of the first component, value on the vertical axis.
    Azeotrope(f64, f64),
    /// The fluid on the other side of a coil.
    Fluid(FluidKind),
    /// The approach of two fluids, in the picture's unit of temperature differences.
    Approach(f64),
}

/// Which line of a picture a curve is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Part {
    /// The bubble line.
    Bubble,
    /// The dew line.
    Dew,
    /// The bubble line of an ideal mixture.
    IdealBubble,
    /// The dew line of an ideal mixture.
    IdealDew,
    /// A tie line.
    Tie,
    /// From the bubble to the dew point of a blend.
    Glide,
    /// A line of equal glide.
    EqualGlide,
    /// The third side of a triangle.
    Edge,
    /// A line of one value of a property.
    Isoline(Isoline),
    /// A refrigerant along a coil.
    Coil,
    /// The fluid on its other side.
    Fluid,
    /// Where both come nearest.
    Approach,
}

impl Part {
    /// Its name, for programs.
    pub const fn name(self) -> &'static str {
        match self {
            Part::Bubble => "bubble",
            Part::Dew => "dew",
            Part::IdealBubble => "ideal_bubble",
            Part::IdealDew => "ideal_dew",
            Part::Tie => "tie_line",
            Part::Glide => "glide",
            Part::EqualGlide => "equal_glide",
            Part::Edge => "edge",
            Part::Isoline(kind) => kind.name(),
            Part::Coil => "refrigerant",
            Part::Fluid => "second_fluid",
            Part::Approach => "approach",
        }
    }
}

/// What an axis counts, and in which unit.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum AxisQuantity {
    /// A temperature.
    Temperature(TemperatureUnit),
    /// An absolute pressure.
    Pressure(PressureUnit),
    /// An enthalpy.
    Enthalpy(EnthalpyUnit),
    /// An entropy.
    Entropy(EntropyUnit),
    /// Percent of a component by mass.
    MassFraction(String),
    /// Percent of a component by mole.
    MoleFraction(String),
    /// Percent of a coil's heat.
    HeatShare,
}

impl AxisQuantity {
    /// Its key for programs, with the SI unit.
    pub fn key(&self) -> String {
        match self {
            AxisQuantity::Temperature(_) => "temperature_K".into(),
            AxisQuantity::Pressure(_) => "pressure_Pa".into(),
            AxisQuantity::Enthalpy(_) => "enthalpy_J_kg".into(),
            AxisQuantity::Entropy(_) => "entropy_J_kg_K".into(),
            AxisQuantity::MassFraction(name) => format!("mass_fraction_{name}"),
            AxisQuantity::MoleFraction(name) => format!("mole_fraction_{name}"),
            AxisQuantity::HeatShare => "heat_share".into(),
        }
    }

    /// A number of the axis in SI.
    pub fn si(&self, read: f64) -> f64 {
        match self {
            AxisQuantity::Temperature(unit) => unit.write(read).in_kelvin(),
            AxisQuantity::Pressure(unit) => read * unit.pascal(),
            AxisQuantity::Enthalpy(unit) => read * unit.joule_per_kg(),
            AxisQuantity::Entropy(unit) => read * unit.joule_per_kg_k(),
            AxisQuantity::MassFraction(_)
            | AxisQuantity::MoleFraction(_)
            | AxisQuantity::HeatShare => read / 100.0,
        }
    }

    /// A number in SI on the axis.
    pub fn read(&self, si: f64) -> f64 {
        match self {
            AxisQuantity::Temperature(unit) => unit.read(Temperature::kelvin(si)),
            AxisQuantity::Pressure(unit) => si / unit.pascal(),
            AxisQuantity::Enthalpy(unit) => si / unit.joule_per_kg(),
            AxisQuantity::Entropy(unit) => si / unit.joule_per_kg_k(),
            AxisQuantity::MassFraction(_)
            | AxisQuantity::MoleFraction(_)
            | AxisQuantity::HeatShare => si * 100.0,
        }
    }
}
