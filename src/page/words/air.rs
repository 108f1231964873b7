//! Moist air and target superheat.

use super::Phrase;

phrases! {
    MOIST_AIR = "Moist air";
    MOIST_AIR_TWO = "Moist air, entering and leaving";
    ENTERING = "entering";
    LEAVING = "leaving";
    DRY_BULB = "dry bulb";
    WET_BULB = "wet bulb";
    FROZEN_WET_BULB = "wet bulb, frozen wick";
    DEW_POINT = "dew point";
    NO_DEW_POINT = "none";
    RELATIVE_HUMIDITY = "relative humidity";
    HUMIDITY_RATIO = "humidity ratio";
    AIR_ENTHALPY = "enthalpy of air";
    SPECIFIC_VOLUME = "specific volume";
    DRY_AIR = "dry air";
    WATER_OUT = "water removed";
    CAPACITY = "capacity";
    SENSIBLE = "of which sensible";
    LATENT = "of which latent";
    AT_SEA_LEVEL = "same readings at sea level";
    ALTITUDE_PART = "difference by altitude";
    CAPACITY_RULE = "Capacity = flow x (h1 - h2) / v1, the flow measured where the air enters; condensate enthalpy is not subtracted. Below zero: the air takes up heat.";
    RULE_OF_THUMB = "The rule-of-thumb factors 4.5 and 1.08 (Btu/h per cfm; common practice, no source) are for sea-level air of 0.075 lb/ft3; this air has {share} times that density, so {capacity} and {sensible}.";
    AIR_PRESSURE = "Air pressure {site}.";
    PER_DRY_AIR = "Humidity ratio, enthalpy and specific volume are per mass of dry air; enthalpy is relative to dry air at {reference} and liquid water at 0 °C. Relative humidity, dew point and wet bulb below 0 °C are those over ice.";
    AIR_SOURCE = "Source: {source}.";
}
