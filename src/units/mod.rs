//! Quantities with their units: what a person types becomes SI here, and nowhere else.

mod amounts;
mod atmosphere;
mod column;
mod dates;
mod display;
mod heads;
mod number;
mod parsing;
mod parsing_amounts;
mod parsing_levels;
mod parsing_thermal;
mod pressure;
mod system;
mod temperature;
mod text;

pub use amounts::{Amount, AmountKind, AmountUnit, amount, is_unit_word, parse_length};
pub use atmosphere::{Atmosphere, AtmosphereSource};
pub use column::{CellValue, ColumnHeader, ColumnQuantity};
pub use dates::DateOrder;
pub use display::{PressureUnit, TemperatureUnit};
pub use heads::{Heads, ReadColumn};
pub use number::{fixed, short, significant};
pub use parsing::{
    BareUnit, Typed, parse_elevation, parse_pressure, parse_pressure_difference, parse_quality,
    parse_temperature, parse_temperature_difference,
};
pub use parsing_amounts::{
    InAir, KG_PER_POUND, M3_PER_CUBIC_FOOT, WATT_PER_BTU_PER_HOUR, parse_concentration,
    parse_duration, parse_heat_flow, parse_mass, parse_percent, parse_volume, parse_volume_flow,
};
pub(crate) use parsing_levels::is_pressure_like;
pub use parsing_levels::{
    TypedLevel, parse_band, parse_bare, parse_count, parse_level, parse_resolution, parse_vacuum,
};
pub use parsing_thermal::{
    Density, DensityUnit, EnthalpyUnit, EntropyUnit, parse_density, parse_enthalpy, parse_entropy,
};
pub use pressure::{
    PASCAL_PER_INCH_OF_MERCURY, PASCAL_PER_MICRON, PASCAL_PER_PSI, PASCAL_PER_TORR, Pressure,
};
pub use system::UnitSet;
pub use temperature::{Temperature, TemperatureDifference};
pub use text::GaugePressure;
