//! Lookups for an instrument and the head of their generated files.

use super::Phrase;

phrases! {
    LOOKUP_TITLE = "Lookups for an instrument, resolution {resolution} K, {arithmetic}";
    LOOKUP_REFRIGERANT = "refrigerant";
    LOOKUP_QUANTITY = "quantity";
    LOOKUP_BYTES = "bytes";
    LOOKUP_OPERATIONS = "operations";
    LOOKUP_INTERVALS = "intervals";
    LOOKUP_LARGEST = "largest error, K";
    LOOKUP_MEAN = "mean error, K";
    LOOKUP_INPUTS = "inputs checked";
    LOOKUP_MONOTONIC = "monotonic";
    LOOKUP_LINEAR = "linear";
    LOOKUP_QUADRATIC = "quadratic";
    LOOKUP_YES = "yes";
    LOOKUP_NO = "no";
    LOOKUP_TOTAL = "{bytes} bytes of entries in all.";
    LOOKUP_AT = "at, Pa or K";
    LOOKUP_ROUND_TRIP = "round trip, K";
    LOOKUP_ALL_INPUTS = "Largest error over all {inputs} inputs of the ranges.";
    LOOKUP_SOME_INPUTS = "Largest error over {inputs} inputs, every {every}th of the ranges.";
    LOOKUP_ROUND_TRIP_OF = "Round trip: the pressure p(T(p)) minus p, as a temperature; calculated where the pressure is asked for too.";
    LOOKUP_NUMERICAL = "Errors are relative to the curve of the equation, and more than twice the curve's own 1e-10 is added, or 1e-7 near its end and where there is only the equation: numerical, not accuracy against measurement.";
    LOOKUP_ENDS_EARLY = "{refrigerant}: the range ends at {to} K; the critical temperature is {critical} K.";

    HEAD_SUBJECT = "{refrigerant}: saturation lines from {from} K to {to} K for an instrument.";
    HEAD_ENDS = "The range ends at {to} K, below what was asked: the critical temperature is {critical} K, and a line serves up to there, or until its pressure stops rising or no table of it holds the resolution.";
    HEAD_COMPOSITION = "Composition by mass: {shares}.";
    HEAD_CLASS = "Class: {class}.";
    HEAD_ESTIMATED = "Rests on estimated pairs, about +-3 K; accepted by whoever made this file.";
    HEAD_ABSOLUTE = "Pressures are absolute, Pa: a gauge's reading plus the atmospheric pressure at the gauge.";
    HEAD_BAND = "Within the blend's composition tolerances the dew temperature at {pascal} Pa lies from {low} K to {high} K.";
    HEAD_NO_BAND = "No composition tolerance applies or is on record.";
    HEAD_VERSION = "Made by zeotrope {version}: {recipe}";
    HEAD_DATE = "Date: {date}.";
    HEAD_LICENCE = "The licence of this file is its user's own choice.";
    HEAD_CARE = "These are calculations, not a judgement of the equipment. Local codes, the manufacturer's instructions and licensed people decide.";
    HEAD_CHECK_ALL = "{quantity}: largest error over all {inputs} inputs {largest} K, at {at}; mean {mean} K; {monotonic}.";
    HEAD_CHECK_PART = "{quantity}: largest error over {inputs} inputs, every {every}th, {largest} K, at {at}; mean {mean} K; {monotonic}.";
    HEAD_MONOTONIC = "monotonic";
    HEAD_NOT_MONOTONIC = "not monotonic";
    HEAD_ROUND_TRIP = "{quantity}: round trip p(T(p)): within {kelvin} K of the pressure it began with.";
    HEAD_NO_ROUND_TRIP = "{quantity}: round trip p(T(p)) not calculated: this file has no pressure at a temperature on that line.";
    HEAD_SIZE = "{bytes} bytes of entries, {operations} operations a reading, {intervals} {form} intervals.";
    HEAD_FUSED = "The larger error with and without a fused multiply-add is stated; the last product is exact, so the two agree.";
}
