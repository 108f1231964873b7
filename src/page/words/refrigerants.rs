//! Lists and what is known of a refrigerant; sources.

use super::Phrase;

phrases! {
    WARNING = "warning: {text} ({code})";
    GAUGE_REFERENCE = "Gauge pressures and vacuum are relative to {site}.";
    REFERENCE_STATE = "Reference state of enthalpy and entropy: {state}.";
    STATE_USUAL = "the usual one";
    STATE_PUBLISHED = "published, as the paper of the equation has it";
    STATE_IIR = "iir, 200 kJ/kg and 1 kJ/kg/K for liquid at its bubble point at 0 °C";
    STATE_ASHRAE = "ashrae, 0 for liquid at its bubble point at -40 °C";
    STATE_BOILING_POINT = "boiling-point, 0 for liquid at its bubble point at 101.325 kPa";
    STATE_IDEAL_GAS = "ideal-gas, 0 for the ideal gas at 298.15 K and 101.325 kPa";
    CLASS = "Class: {class}.";
    CLASS_NONE = "not assigned here";
    CLASS_UNLISTED = "not assigned";
    EQUATION_OF = "Equation of {refrigerant}: {source}.";
    PAIR_OF = "Pair {first} + {second}: {known}.";
    PAIR_DEPARTURE = "departure function; {source}";
    PAIR_REDUCING = "fitted reducing parameters; {source}";
    PAIR_ESTIMATED = "estimated: {source}";
    PAIR_REFIT = "; refitted to measured bubble points (doi {papers}), rms before {before} %";
    MEASURED_ONE_PAPER = "measured: {points} points, {papers} paper, rms {percent} % ({kelvin} K)";
    MEASURED_PAPERS = "measured: {points} points, {papers} papers, rms {percent} % ({kelvin} K)";
}
