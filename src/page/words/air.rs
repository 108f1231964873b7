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
    TARGET_SUPERHEAT = "Target superheat, fixed orifice";
    INDOOR_WET_BULB = "indoor wet bulb";
    INDOOR_WET_BULB_CALCULATED = "indoor wet bulb, calculated";
    OUTDOOR_DRY_BULB = "outdoor dry bulb";
    TARGET_ESTIMATED = "target superheat, an estimate";
    TARGET_FROM_CHART = "target superheat, from the chart";
    PER_WET_BULB = "change per degree of wet bulb";
    PER_OUTDOOR = "change per degree outdoors";
    THERMOMETERS_ROOT_SUM_SQUARE = "thermometers, root-sum-square";
    THERMOMETERS_WORST_CASE = "thermometers, worst case";
    TARGET_CONDITIONS = "Conditions (common practice, no source): {conditions}.";
    CONDITION_AIRFLOW = "airflow set, filters and coils clean";
    CONDITION_STEADY = "running steadily in cooling for about 15 minutes";
    CONDITION_OUTDOOR = "outdoor air at least {temperature}";
    CONDITION_RETURN = "return air at least {temperature}";
    CHARTS_DIFFER_BY = "An estimate: printed charts differ from it by {least} to {most} (common practice, no source). The manufacturer's chart outranks it.";
    HYGROMETER_ERROR = "The error of the hygrometer is additional to that of the thermometers.";
    TARGET_FORMULA = "Source: (3 WB - 80 - DB)/2 in °F, WB the indoor wet bulb, DB the outdoor dry bulb; common practice, no source.";
    TARGET_CHART_SOURCE = "Source: the chart given, linear between its cells and never beyond them.";
}
