//! Saturation, states, glide, conversions.

use super::Phrase;

phrases! {
    OUTSIDE = "{quantity} {value} {unit} is outside {low} to {high} {unit} ({range})";
    GIVE_WITHIN = "give a {quantity} from {low} to {high} {unit}";
    CONVERTED = "{value} = {result}";
    TEMPERATURE = "temperature";
    PRESSURE_GAUGE = "pressure, gauge";
    PRESSURE_ABSOLUTE = "pressure, absolute";
    DENSITY = "density";
    ENTHALPY = "enthalpy";
    ENTROPY = "entropy";
    INTERNAL_ENERGY = "internal energy";
    CP = "cp";
    CV = "cv";
    SPEED_OF_SOUND = "speed of sound";
    COMPRESSIBILITY_FACTOR = "compressibility factor";
    JOULE_THOMSON = "Joule-Thomson coefficient";
    SHARE_BY_MASS = "{component}, % by mass";
}
