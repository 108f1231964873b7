//! Densities, enthalpies and entropies as people type them.

use super::Typed;
use super::parsing::{split, wrong};
use crate::Result;

/// Joule per kilogram in a British thermal unit (International Table) per pound, by definition.
const JOULE_PER_KG_IN_BTU_PER_LB: f64 = 2326.0;

/// Joule per kilogram and kelvin in a Btu (International Table) per pound and °F, by definition.
const JOULE_PER_KG_K_IN_BTU_PER_LB_F: f64 = 4186.8;

/// Kilogram per cubic metre in a pound per cubic foot, from the exact pound and foot.
const KG_PER_M3_IN_LB_PER_FT3: f64 = 0.453_592_37 / (0.304_8 * 0.304_8 * 0.304_8);

/// A density by mass or by amount of substance; the latter needs a molar mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Density {
    /// Kilogram per cubic metre.
    Mass(f64),
    /// Mole per cubic metre.
    Molar(f64),
}

impl Density {
    /// In kilogram per cubic metre, given the molar mass in kg/mol.
    ///
    /// # Example
    /// ```
    /// use zeotrope::units::Density;
    /// assert_eq!(Density::Molar(1000.0).in_kg_per_m3(0.1), 100.0);
    /// ```
    pub fn in_kg_per_m3(self, molar_mass: f64) -> f64 {
        match self {
            Self::Mass(value) => value,
            Self::Molar(value) => value * molar_mass,
        }
    }
}

/// A unit of density.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DensityUnit {
    /// kg/m3.
    KilogramPerCubicMetre,
    /// mol/L.
    MolePerLitre,
    /// lb/ft3.
    PoundPerCubicFoot,
}

impl DensityUnit {
    /// The unit of a name as typed.
    pub(super) fn from_typed(text: &str) -> Option<Self> {
        match text.to_ascii_lowercase().as_str() {
            "kg/m3" | "kg/m³" => Some(Self::KilogramPerCubicMetre),
            "mol/l" => Some(Self::MolePerLitre),
            "lb/ft3" => Some(Self::PoundPerCubicFoot),
            _ => None,
        }
    }

    /// The unit as typed and as written.
    pub const fn typed(self) -> &'static str {
        match self {
            Self::KilogramPerCubicMetre => "kg/m3",
            Self::MolePerLitre => "mol/L",
            Self::PoundPerCubicFoot => "lb/ft3",
        }
    }

    /// A density in kg/m3 as a number in this unit, given the molar mass in kg/mol.
    pub fn read(self, kg_per_m3: f64, molar_mass: f64) -> f64 {
        match self {
            Self::KilogramPerCubicMetre => kg_per_m3,
            Self::MolePerLitre => kg_per_m3 / molar_mass / 1e3,
            Self::PoundPerCubicFoot => kg_per_m3 / KG_PER_M3_IN_LB_PER_FT3,
        }
    }
}

/// A unit of specific enthalpy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EnthalpyUnit {
    /// kJ/kg.
    KilojoulePerKilogram,
    /// J/kg.
    JoulePerKilogram,
    /// Btu/lb, International Table.
    BtuPerPound,
}

impl EnthalpyUnit {
    /// The unit of a name as typed.
    pub(super) fn from_typed(text: &str) -> Option<Self> {
        match text.to_ascii_lowercase().as_str() {
            "kj/kg" => Some(Self::KilojoulePerKilogram),
            "j/kg" => Some(Self::JoulePerKilogram),
            "btu/lb" => Some(Self::BtuPerPound),
            _ => None,
        }
    }

    /// The unit as typed and as written.
    pub const fn typed(self) -> &'static str {
        match self {
            Self::KilojoulePerKilogram => "kJ/kg",
            Self::JoulePerKilogram => "J/kg",
            Self::BtuPerPound => "Btu/lb",
        }
    }

    /// Joule per kilogram in one of this unit.
    pub const fn joule_per_kg(self) -> f64 {
        match self {
            Self::KilojoulePerKilogram => 1e3,
            Self::JoulePerKilogram => 1.0,
            Self::BtuPerPound => JOULE_PER_KG_IN_BTU_PER_LB,
        }
    }
}

/// A unit of specific entropy or heat capacity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntropyUnit {
    /// kJ/kg/K.
    KilojoulePerKilogramKelvin,
    /// J/kg/K.
    JoulePerKilogramKelvin,
    /// Btu/lb/F, International Table.
    BtuPerPoundFahrenheit,
}

impl EntropyUnit {
    /// The unit of a name as typed.
    pub(super) fn from_typed(text: &str) -> Option<Self> {
        match text.to_ascii_lowercase().as_str() {
            "kj/kg/k" => Some(Self::KilojoulePerKilogramKelvin),
            "j/kg/k" => Some(Self::JoulePerKilogramKelvin),
            "btu/lb/f" => Some(Self::BtuPerPoundFahrenheit),
            _ => None,
        }
    }

    /// The unit as typed and as written.
    pub const fn typed(self) -> &'static str {
        match self {
            Self::KilojoulePerKilogramKelvin => "kJ/kg/K",
            Self::JoulePerKilogramKelvin => "J/kg/K",
            Self::BtuPerPoundFahrenheit => "Btu/lb/F",
        }
    }

    /// Joule per kilogram and kelvin in one of this unit.
    pub const fn joule_per_kg_k(self) -> f64 {
        match self {
            Self::KilojoulePerKilogramKelvin => 1e3,
            Self::JoulePerKilogramKelvin => 1.0,
            Self::BtuPerPoundFahrenheit => JOULE_PER_KG_K_IN_BTU_PER_LB_F,
        }
    }
}

/// The part of an error that every unit here shares.
fn unit_problem(unit: &str, quantity: &str) -> String {
    if unit.is_empty() {
        "has no unit".to_owned()
    } else {
        format!("'{unit}' is not a unit of {quantity}")
    }
}

/// Reads a density such as `1200kg/m3`, `12.5mol/L` or `75lb/ft3`.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number or no unit, or the
/// number is not finite or not above zero.
///
/// # Example
/// ```
/// use zeotrope::units::{Density, parse_density};
/// assert_eq!(parse_density("12.5mol/L")?.value, Density::Molar(12_500.0));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_density(text: &str) -> Result<Typed<Density, DensityUnit>> {
    const QUANTITY: &str = "density";
    let (number, unit_text) = split(QUANTITY, text, "1200kg/m3 or 12.5mol/L")?;
    let unit = DensityUnit::from_typed(&unit_text).ok_or_else(|| {
        wrong(
            QUANTITY,
            text,
            unit_problem(&unit_text, QUANTITY),
            format!("write {number}kg/m3, {number}mol/L or {number}lb/ft3"),
        )
    })?;
    let value = density_of(number, unit, text)?;
    Ok(Typed { value, unit })
}

/// The density of a number with its unit, typed as `text`.
pub(super) fn density_of(number: f64, unit: DensityUnit, text: &str) -> Result<Density> {
    if number <= 0.0 {
        return Err(wrong(
            "density",
            text,
            "is not above zero",
            "a density is a positive number",
        ));
    }
    Ok(match unit {
        DensityUnit::KilogramPerCubicMetre => Density::Mass(number),
        DensityUnit::MolePerLitre => Density::Molar(number * 1e3),
        DensityUnit::PoundPerCubicFoot => Density::Mass(number * KG_PER_M3_IN_LB_PER_FT3),
    })
}

/// Reads a specific enthalpy such as `250kJ/kg` or `110Btu/lb`, in J/kg.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number or no unit, or the
/// number is not finite.
///
/// # Example
/// ```
/// use zeotrope::units::parse_enthalpy;
/// assert_eq!(parse_enthalpy("100Btu/lb")?.value, 232_600.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_enthalpy(text: &str) -> Result<Typed<f64, EnthalpyUnit>> {
    const QUANTITY: &str = "enthalpy";
    let (number, unit_text) = split(QUANTITY, text, "250kJ/kg or 110Btu/lb")?;
    let unit = EnthalpyUnit::from_typed(&unit_text).ok_or_else(|| {
        wrong(
            QUANTITY,
            text,
            unit_problem(&unit_text, QUANTITY),
            format!("write {number}kJ/kg or {number}Btu/lb"),
        )
    })?;
    Ok(Typed {
        value: number * unit.joule_per_kg(),
        unit,
    })
}

/// Reads a specific entropy such as `1.2kJ/kg/K` or `0.28Btu/lb/F`, in J/kg/K.
///
/// # Errors
/// [`Error::Value`](crate::Error::Value) where there is no number or no unit, or the
/// number is not finite.
///
/// # Example
/// ```
/// use zeotrope::units::parse_entropy;
/// assert_eq!(parse_entropy("1.2kJ/kg/K")?.value, 1200.0);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_entropy(text: &str) -> Result<Typed<f64, EntropyUnit>> {
    const QUANTITY: &str = "entropy";
    let (number, unit_text) = split(QUANTITY, text, "1.2kJ/kg/K or 0.28Btu/lb/F")?;
    let unit = EntropyUnit::from_typed(&unit_text).ok_or_else(|| {
        wrong(
            QUANTITY,
            text,
            unit_problem(&unit_text, QUANTITY),
            format!("write {number}kJ/kg/K or {number}Btu/lb/F"),
        )
    })?;
    Ok(Typed {
        value: number * unit.joule_per_kg_k(),
        unit,
    })
}
