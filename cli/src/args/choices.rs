//! The words for the choices of the library's enums, with their help.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use zeotrope::Phase;
use zeotrope::chart::lookup::{Arithmetic, LookupQuantity};
use zeotrope::chart::picture::Plane;
use zeotrope::page::code::Language;
use zeotrope::page::{Footer, ShiftPicture};
use zeotrope::process::coil::CoilKind;
use zeotrope::process::cycle::CoilTemperature;
use zeotrope::process::pipe::PipeLine;
use zeotrope::process::shift::Leaving;
use zeotrope::refrigerant::ReferenceState;
use zeotrope::service::reading::both_sides::Mode;
use zeotrope::service::sheet::Decimal;
use zeotrope::units::DateOrder;

/// An enum of the library whose values are chosen by words.
pub(crate) trait Choice: Copy + Send + Sync + 'static {
    /// Those that may be chosen, their words and the help.
    const WORDS: &'static [(Self, &'static str, &'static str)];
}

/// Reads one of the words for the values of an enum.
pub(crate) fn choice<T: Choice>() -> impl TypedValueParser<Value = T> {
    let values = T::WORDS.iter().map(|&(_, word, help)| match help {
        "" => PossibleValue::new(word),
        _ => PossibleValue::new(word).help(help),
    });
    PossibleValuesParser::new(values).try_map(|typed| {
        let found = T::WORDS.iter().find(|(_, word, _)| *word == typed);
        found.map(|(value, ..)| *value).ok_or("is no choice")
    })
}

/// Which values of an enum may be chosen, and by which words.
macro_rules! choices {
    ($kind:ty { $($value:ident: $word:literal $($help:literal)?,)* }) => {
        impl Choice for $kind {
            const WORDS: &'static [(Self, &'static str, &'static str)] =
                &[$((Self::$value, $word, concat!($($help)?))),*];
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
