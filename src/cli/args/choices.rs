//! The words for the choices of the library's enums, with their help.

use clap::ValueEnum;
use clap::builder::PossibleValue;

use crate::Phase;
use crate::chart::lookup::{Arithmetic, LookupQuantity};
use crate::chart::picture::Plane;
use crate::page::code::Language;
use crate::page::{Footer, ShiftPicture};
use crate::process::coil::CoilKind;
use crate::process::cycle::CoilTemperature;
use crate::process::pipe::PipeLine;
use crate::process::shift::Leaving;
use crate::refrigerant::ReferenceState;
use crate::service::reading::both_sides::Mode;
use crate::service::sheet::Decimal;
use crate::units::DateOrder;

/// Which values of an enum may be chosen, and by which words.
macro_rules! choices {
    ($kind:ty { $($value:ident: $word:literal $($help:literal)?,)* }) => {
        impl ValueEnum for $kind {
            fn value_variants<'a>() -> &'a [Self] {
                &[$(Self::$value),*]
            }

            fn to_possible_value(&self) -> Option<PossibleValue> {
                // of some enums not every value can be chosen
                #[allow(unreachable_patterns)]
                match self {
                    $(Self::$value => Some(PossibleValue::new($word)$(.help($help))?),)*
                    _ => None,
                }
            }
        }
    };
}

choices!(ReferenceState {
    Iir: "iir" "200 kJ/kg and 1 kJ/kg/K for liquid at its bubble point at 0 °C",
    Ashrae: "ashrae" "0 for liquid at its bubble point at -40 °C",
    BoilingPoint: "boiling-point" "0 for liquid at its bubble point at 101.325 kPa",
    IdealGas: "ideal-gas" "0 for the ideal gas at 298.15 K and 101.325 kPa",
});

choices!(DateOrder {
    MonthFirst: "month-first" "11/12 is November 12",
    DayFirst: "day-first" "11/12 is December 11",
});

choices!(Decimal {
    Point: "point" "1,234 is more than a thousand",
    Comma: "comma" "1,234 is little more than one",
});

choices!(CoilKind {
    Evaporator: "evaporator" "From its inlet, or bubble, to dew",
    Condenser: "condenser" "From dew to bubble",
});

choices!(CoilTemperature {
    InletMean: "inlet-mean" "(inlet + dew)/2 of an evaporator",
    Mean: "mean" "(bubble + dew)/2",
    Dew: "dew" "Dew point",
    Bubble: "bubble" "Bubble point",
});

choices!(Phase {
    Liquid: "liquid",
    Vapor: "vapor",
    Supercritical: "supercritical",
    TwoPhase: "two-phase",
});

choices!(Plane {
    PressureEnthalpy: "ph" "Pressure against enthalpy",
    TemperatureEntropy: "ts" "Temperature against entropy",
});

choices!(Footer {
    Short: "short" "One line of papers",
    Full: "full" "All of it",
});

choices!(Mode {
    Cooling: "cooling" "The indoor coil evaporates",
    Heating: "heating" "The indoor coil condenses",
});

choices!(PipeLine {
    Suction: "suction",
    Discharge: "discharge",
    Liquid: "liquid",
});

choices!(Leaving {
    Vapor: "vapor" "Vapor",
    Liquid: "liquid" "Liquid, and vapor once no liquid is left",
    Circulating: "circulating" "Both, in the composition of the whole, as a running system circulates it",
});

choices!(ShiftPicture {
    Composition: "composition" "Composition of what is left and of what leaves",
    Lines: "lines" "Bubble and dew pressure of what is left",
    Path: "path" "The path of the loss among compositions",
});

choices!(Language {
    C: "c",
    Rust: "rust",
    Csv: "csv",
});

choices!(Arithmetic {
    F32: "f32",
    Integer: "integer",
});

choices!(LookupQuantity {
    DewTemperature: "dew_temperature",
    BubbleTemperature: "bubble_temperature",
    DewPressure: "dew_pressure",
    BubblePressure: "bubble_pressure",
});
