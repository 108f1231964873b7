//! What to know about an answer.

use super::Phrase;

phrases! {
    WARNING_ESTIMATED = "no published parameters for {pairs}: estimated, about ±3 K";
    WARNING_ESTIMATED_FITTED = "no published parameters for {pairs}: estimated";
    WARNING_SCALED = "the amounts sum to {sum} % and were scaled to 100 %";
    WARNING_DROPPED = "{name} at 0 % was dropped";
    WARNING_EXPANDED = "{name} was expanded into its components";
    WARNING_MOLE = "the amounts were read as mole %; the notation shows mass %";
    WARNING_NO_BUBBLE = "no bubble point: {reason}";
    WARNING_NO_DEW = "no dew point: {reason}";
    WARNING_NEAR_CRITICAL = "within {percent} % of the critical temperature, where an equation of state is least certain";
    WARNING_TWO_LIQUIDS = "at {temperature} and this pressure the model predicts two liquids: the liquid's values are of both together";
    WARNING_UNSTABLE_LIQUID = "at {temperature} and this pressure the model predicts another liquid next to what is shown: the values are not those of a stable state";
    WARNING_EXTRAPOLATED = "below {from} the equation of {name} is extrapolated";
    WARNING_STATION_PRESSURE = "the station pressure {given} kPa is more than 5 % from the standard atmosphere of that elevation, {standard} kPa; a weather report's figure is reduced to sea level and is not meant";
}
