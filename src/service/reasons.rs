//! What reasons of the arithmetic around a service call are called.

use crate::phrase::Phrase;

phrases! {
    REASON_NO_LIQUID = "no liquid at {temperature}";
    REASON_NO_STATE_OF_FILLING = "no state at this temperature and filling";
    WARNING_RETURN_AIR = "return air of {found} is colder than the {least} that the method needs";
    WARNING_OUTDOOR_AIR = "outdoor air of {found} is colder than the {least} that the method needs";
    TARGET_CELL_NEGATIVE = "the chart has a superheat below zero at {wet_bulb} wet bulb and {outdoor} outdoors";
    TARGET_CELL_RISES = "the chart does not rise with the wet bulb at {wet_bulb} wet bulb and {outdoor} outdoors";
    TARGET_CELL_FALLS = "the chart does not fall with the outdoor dry bulb at {wet_bulb} wet bulb and {outdoor} outdoors";
    AT_REST_NONE = "no included refrigerant is at rest with liquid at this reading";
    GAUGE_CHECK_TOO_LOW = "the vessel's pressure is too little above local atmospheric pressure to separate a span error from the gauge's class";
    GAUGE_CHECK_NOT_PURE = "{refrigerant} is neither a pure fluid nor an azeotrope: its pressure depends on how full the vessel is";
    GAUGE_CHECK_ZERO = "the gauge's zero is off by {off}, more than twice its class of {class}";
    GAUGE_CHECK_SPAN = "the gauge's span is off by {off}, more than twice its class of {class}";
    CYLINDER_NO_CAPACITY = "the cylinder's capacity is not above zero";
    CYLINDER_NO_MASS = "no rule gives a mass for the cylinder";
    CYLINDER_RATIO_OUTSIDE = "a filling ratio of {ratio} kg/L is not above 0 and up to 2.5 kg/L";
    REASON_DOES_NOT_FIT = "{filling} do not fit as liquid even at {temperature}";
    NITROGEN_NO_STATE = "nitrogen has no such state";
    TEST_NOT_ABOVE = "the start is not above local atmospheric pressure: that is not a pressure test";
    TEST_OTHER_AIR = "the air's pressure is {start} at the start and {end} at the end, more than weather does: the test was not ended where it was started";
    TEST_OTHER_PLACE = "the elevations are {start} m and {end} m: the test was not ended where it was started";
    VACUUM_BELOW_ICE = "this vacuum is deeper than the equation for ice goes (50 K)";
    VACUUM_NONE = "this pressure is not below local atmospheric pressure: it is not a vacuum";
    VACUUM_ABOVE = "this pressure is above the local atmospheric pressure: there is no vacuum";
    STATE_NONE_LIQUID = "no liquid state has these two properties";
    STATE_NONE_VAPOR = "no vapor state has these two properties";
    STATE_NONE_SUPERCRITICAL = "no supercritical state has these two properties";
    STATE_NONE_TWO_PHASE = "no two-phase state has these two properties";
    REASON_LIMITS_REACH = "the limits of the gauge reach {pressure}, where this line has no saturation temperature";
    SUBCOOLING_ABOVE_CRITICAL = "above the critical pressure of {refrigerant}, {critical}, there is no subcooling";
    AIR_HUMIDITY_OUTSIDE = "a relative humidity lies between 0 and 100 %";
    AIR_DEW_ABOVE = "the dew point lies above the dry bulb";
    AIR_WET_BULB_ABOVE = "the wet bulb lies above the dry bulb";
    AIR_WET_BULB_BELOW = "the wet bulb lies below that of dry air at this dry bulb and pressure";
    AIR_NO_WET_BULB = "this air has no wet bulb from -100 °C to its dry bulb";
    AIR_TOO_MOIST = "water vapor of {vapor} does not fit into air of {air}";
    TARGET_CELL_EMPTY = "a cell of the chart around these bulbs is empty: it forbids charging there";
    TARGET_CHART_SMALL = "a chart needs at least two rows and two columns";
    TARGET_CHART_ROWS = "the chart's rows are not of one length";
    TARGET_CHART_RISES = "the chart's dry bulbs (rows) and wet bulbs (columns) do not rise";
    TARGET_OUTSIDE_ESTIMATE = "{wet_bulb} wet bulb and {outdoor} outdoors lie outside the charts that the estimate replaces (50 to 76 °F wet bulb, 55 to 115 °F outdoors)";
    TARGET_FORBIDDEN = "at {wet_bulb} wet bulb and {outdoor} outdoors printed charts forbid charging by superheat";
    TARGET_BELOW_LEAST = "the estimate is {estimate} °F, below the 5 °F from which it is valid";
    TARGET_OUTSIDE_CHART = "{wet_bulb} wet bulb and {outdoor} outdoors lie outside the chart";
}
