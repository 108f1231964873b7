//! A cylinder: masses by rule, and what warmth does to one.

use super::Phrase;

phrases! {
    CYLINDER_TITLE = "{refrigerant} in a cylinder";
    CYLINDER_GUIDELINE = "80 % liquid at 25 °C (AHRI Guideline K)";
    CYLINDER_FULL_AT_55C = "just full of liquid at 55 °C";
    CYLINDER_RATIO = "filling ratio {ratio} kg/L, as given";
    CYLINDER_FIGURE = "figure";
    CYLINDER_MASS = "mass";
    CYLINDER_FULL = "full of liquid at";
    CYLINDER_WARMED = "pressure at 55 °C";
    CYLINDER_WITHOUT = "refused";
    CYLINDER_DOES_NOT_FIT = "does not fit";
    CYLINDER_NEVER_FULL = "never below the critical temperature";
    CYLINDER_BEYOND = "beyond the equation";
    CYLINDER_AND_FULL = "{pressure}, full of liquid";
    CYLINDER_CAPACITY = "water capacity";
    CYLINDER_OF_WATER = "{mass} of water, {volume}";
    CYLINDER_SMALLEST = "smallest figure";
    CYLINDER_SMALLEST_OF = "{mass}, {rule}";
    CYLINDER_NONE = "none";
    CYLINDER_CONTENTS_GIVEN = "contents, as given";
    CYLINDER_CONTENTS_ASSUMED = "contents, assumed for the table";
    CYLINDER_TEMPERATURE = "temperature";
    CYLINDER_PRESSURE = "pressure";
    CYLINDER_LIQUID = "liquid, %";
    CYLINDER_SPACE = "free space, %";
    CYLINDER_PICTURE = "Free space above {mass} of {refrigerant} in {capacity}";
    CYLINDER_AXIS = "free space, % of the volume";
    CYLINDER_FULL_MARK = "full of liquid at {temperature}";
    CYLINDER_REFUSED = "Refused, {rule}: {reason}.";
    CYLINDER_NO_FIGURE = "no figure for {refrigerant}: {reasons}";
    CYLINDER_REASON = "{rule}: {reason}";
    CYLINDER_NO_CLASS = "its class is not assigned: the guideline cannot be applied";
    CYLINDER_NOT_HALOCARBON = "not all of it is a halocarbon: the guideline does not cover it";
    CYLINDER_CLASS = "class {class}: the guideline is applied here only to recovered halocarbons of class A1";
    CYLINDER_CRITICAL = "its critical temperature, {critical} °C, is not above 65 °C: near it liquid expands out of all proportion";
    CYLINDER_NO_CRITICAL = "its critical point is not known here";
    CYLINDER_NO_VERDICT = "None of these figures says that a filling is permitted. 80 % is not safe for every refrigerant: see at what temperature the cylinder is full of liquid.";
    CYLINDER_SOURCES = "80 %: AHRI Guideline K, for recovered nonflammable halocarbons. 55 °C: common practice, no source.";
    CYLINDER_ASSUMED = "Above the temperature at which it is full, the pressure is that of liquid in a vessel that does not stretch. 1 kg of water capacity is taken as 1 L.";
}
