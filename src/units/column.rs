//! Columns of a sheet: the head says what is measured and in which unit, the cells are bare numbers.

use super::parsing::{
    parse_quality, pressure_of, resolve_pressure_unit, split, temperature_of, temperature_unit,
    wrong,
};
use super::parsing_thermal::density_of;
use super::{
    Atmosphere, BareUnit, Density, DensityUnit, EnthalpyUnit, EntropyUnit, Pressure, PressureUnit,
    Temperature, TemperatureUnit,
};
use crate::Result;

/// What a column measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)] // each variant is a quantity by its own name
pub enum ColumnQuantity {
    Temperature,
    Pressure,
    Density,
    Enthalpy,
    Entropy,
    Quality,
}

impl ColumnQuantity {
    /// Every quantity.
    pub const ALL: &'static [ColumnQuantity] = &[
        Self::Temperature,
        Self::Pressure,
        Self::Density,
        Self::Enthalpy,
        Self::Entropy,
        Self::Quality,
    ];

    /// The word for it, as in the header of a column.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Temperature => "temperature",
            Self::Pressure => "pressure",
            Self::Density => "density",
            Self::Enthalpy => "enthalpy",
            Self::Entropy => "entropy",
            Self::Quality => "quality",
        }
    }

    /// The ends that the header of a column of this quantity may have, for a hint.
    const fn ends(self) -> &'static [&'static str] {
        match self {
            Self::Temperature => &["_C", "_F", "_K"],
            Self::Pressure => &["_psig", "_psia", "_barg", "_bara", "_kPaa", "_Pa"],
            Self::Density => &["_kg_m3", "_mol_L", "_lb_ft3"],
            Self::Enthalpy => &["_J_kg", "_kJ_kg", "_Btu_lb"],
            Self::Entropy => &["_J_kg_K", "_kJ_kg_K", "_Btu_lb_F"],
            Self::Quality => &[""],
        }
    }
}

/// A cell's value, SI inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CellValue {
    /// A temperature.
    Temperature(Temperature),
    /// An absolute pressure.
    Pressure(Pressure),
    /// A density by mass or by amount of substance.
    Density(Density),
    /// An enthalpy, J/kg.
    Enthalpy(f64),
    /// An entropy, J/(kg K).
    Entropy(f64),
    /// The vapor's share by mass.
    Quality(f64),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Temperature(TemperatureUnit),
    Pressure(PressureUnit),
    Density(DensityUnit),
    Enthalpy(EnthalpyUnit),
    Entropy(EntropyUnit),
    Quality,
}

/// The header of a column that says a quantity: what is measured, and in which unit.
///
/// # Example
/// ```
/// use zeotrope::units::{Atmosphere, BareUnit, ColumnHeader, CellValue, Pressure};
/// let column = ColumnHeader::named("suction_pressure_psig", BareUnit::Refused).unwrap()?;
/// assert_eq!(column.meaning(), "suction_pressure");
/// let CellValue::Pressure(pressure) = column.read("70", &Atmosphere::SEA_LEVEL)? else {
///     panic!("a pressure was asked for");
/// };
/// assert!((pressure.in_psia() - 84.696).abs() < 0.001);
/// assert!(ColumnHeader::named("time", BareUnit::Refused).is_none());
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColumnHeader {
    meaning: String,
    unit: Unit,
}

impl ColumnHeader {
    /// Reads the header of a column: NAME_UNIT, of which NAME ends in the word for the quantity.
    ///
    /// `line_temperature_F`, `pressure_Pa`, `enthalpy_kJ_kg` and `quality`, in any case of the
    /// name; blanks and brackets part words as `_` does, so that `Suction pressure (psig)` is
    /// read too. `None` where no quantity is named.
    ///
    /// # Errors
    /// [`crate::Error::Value`] where a quantity is named and its unit is missing, unknown, or
    /// does not say gauge or absolute (see [`BareUnit`]).
    pub fn named(head: &str, bare: BareUnit) -> Option<Result<Self>> {
        let words: Vec<&str> = head
            .split(['_', ' ', '(', ')', '[', ']', ','])
            .filter(|word| !word.is_empty())
            .collect();
        let (place, quantity) = words.iter().enumerate().rev().find_map(|(place, word)| {
            let is = |quantity: &ColumnQuantity| quantity.name().eq_ignore_ascii_case(word);
            Some((place, ColumnQuantity::ALL.iter().copied().find(is)?))
        })?;
        let meaning = words[..=place].join("_").to_lowercase();
        Some(Self::with_unit(
            head,
            meaning,
            quantity,
            &words[place + 1..].join("/"),
            bare,
        ))
    }

    fn with_unit(
        head: &str,
        meaning: String,
        quantity: ColumnQuantity,
        unit: &str,
        bare: BareUnit,
    ) -> Result<Self> {
        const COLUMN: &str = "column";
        let ends: Vec<String> = quantity
            .ends()
            .iter()
            .map(|end| format!("{meaning}{end}"))
            .collect();
        let hint = || format!("name it {}", ends.join(" or "));
        if unit.is_empty() && quantity != ColumnQuantity::Quality {
            return Err(wrong(COLUMN, head, "has no unit", hint()));
        }
        let known = match quantity {
            ColumnQuantity::Temperature => temperature_unit(unit).map(Unit::Temperature),
            ColumnQuantity::Pressure => {
                let prefix = format!("{meaning}_");
                let unit = resolve_pressure_unit(COLUMN, head, &prefix, unit, bare)?;
                Some(Unit::Pressure(unit))
            }
            ColumnQuantity::Density => DensityUnit::from_typed(unit).map(Unit::Density),
            ColumnQuantity::Enthalpy => EnthalpyUnit::from_typed(unit).map(Unit::Enthalpy),
            ColumnQuantity::Entropy => EntropyUnit::from_typed(unit).map(Unit::Entropy),
            ColumnQuantity::Quality => unit.is_empty().then_some(Unit::Quality),
        };
        let unit = known.ok_or_else(|| {
            let name = quantity.name();
            let problem = format!("'{unit}' is not a unit of {name}");
            wrong(COLUMN, head, problem, hint())
        })?;
        Ok(Self { meaning, unit })
    }

    /// What is measured, without the unit, in small letters: `suction_pressure`.
    pub fn meaning(&self) -> &str {
        &self.meaning
    }

    /// The quantity.
    pub fn quantity(&self) -> ColumnQuantity {
        match self.unit {
            Unit::Temperature(_) => ColumnQuantity::Temperature,
            Unit::Pressure(_) => ColumnQuantity::Pressure,
            Unit::Density(_) => ColumnQuantity::Density,
            Unit::Enthalpy(_) => ColumnQuantity::Enthalpy,
            Unit::Entropy(_) => ColumnQuantity::Entropy,
            Unit::Quality => ColumnQuantity::Quality,
        }
    }

    /// The unit, where the column holds temperatures.
    pub fn temperature_unit(&self) -> Option<TemperatureUnit> {
        match self.unit {
            Unit::Temperature(unit) => Some(unit),
            _ => None,
        }
    }

    /// The unit, where the column holds pressures.
    pub fn pressure_unit(&self) -> Option<PressureUnit> {
        match self.unit {
            Unit::Pressure(unit) => Some(unit),
            _ => None,
        }
    }

    /// Reads a cell of the column: a bare number.
    ///
    /// # Errors
    /// [`crate::Error::Value`] where the cell is empty, no finite number, bears a unit, or is no
    /// value of the quantity: a temperature below absolute zero, a pressure below a perfect
    /// vacuum, a density not above zero, a quality outside 0 to 1.
    pub fn read(&self, cell: &str, site: &Atmosphere) -> Result<CellValue> {
        let name = self.quantity().name();
        let number = || -> Result<f64> {
            let hint = "write a bare number; the column header says the unit";
            if cell.trim().is_empty() {
                return Err(wrong(name, cell, "is empty", hint));
            }
            // Most cells are plain numbers; what this refuses, or reads by a word, is read below.
            let plain = cell.trim_ascii();
            let is_plain = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-');
            if plain.as_bytes().iter().all(is_plain)
                && let Ok(number) = plain.parse::<f64>()
                && number.is_finite()
            {
                return Ok(number);
            }
            let (number, rest) = split(name, cell, "12.5")?;
            match rest.as_str() {
                "" => Ok(number),
                _ => Err(wrong(name, cell, "is not a bare number", hint)),
            }
        };
        Ok(match self.unit {
            Unit::Temperature(unit) => {
                CellValue::Temperature(temperature_of(number()?, unit, cell)?)
            }
            Unit::Pressure(unit) => CellValue::Pressure(pressure_of(number()?, unit, site, cell)?),
            Unit::Density(unit) => CellValue::Density(density_of(number()?, unit, cell)?),
            Unit::Enthalpy(unit) => CellValue::Enthalpy(number()? * unit.joule_per_kg()),
            Unit::Entropy(unit) => CellValue::Entropy(number()? * unit.joule_per_kg_k()),
            Unit::Quality => {
                number()?;
                CellValue::Quality(parse_quality(cell)?)
            }
        })
    }
}
