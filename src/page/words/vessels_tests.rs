//! Tests of a vessel: under nitrogen, and in a vacuum.

use super::Phrase;

phrases! {
    NITROGEN_TITLE = "Pressure test with nitrogen";
    NITROGEN_START = "start";
    NITROGEN_START_AT = "{pressure} at {temperature}";
    NITROGEN_END_TEMPERATURE = "end temperature";
    NITROGEN_EXPECTED = "expected if tight, real nitrogen";
    NITROGEN_IDEAL = "expected if tight, ideal gas";
    NITROGEN_END = "end";
    NITROGEN_EXCESS = "end minus expected";
    NITROGEN_INSTRUMENTS = "instruments' part";
    NITROGEN_LIMITS = "± {usual} (root-sum-square), ± {worst} worst case";
    NITROGEN_SIGNIFICANCE = "difference";
    NITROGEN_HALF_LIMITS = "Significance needs the accuracy of both gauge and thermometer.";
    NITROGEN_INDEPENDENT = "The errors at start and end count as independent; with one gauge that stays connected their effect is smaller.";
    NITROGEN_END_SITE = "At the end from {site}.";
    NITROGEN_METHOD = "The nitrogen keeps its density; the temperature meant is that of the gas, and of metal and gas alike after hours. The vessel's stretch, moisture and refrigerant left inside are not counted. Ideal gas: p2 = p1 T2/T1, absolute.";

    VACUUM_TITLE = "Evacuation";
    VACUUM = "vacuum";
    VACUUM_WATER_BOILS = "water boils above";
    VACUUM_ICE_SUBLIMES = "ice turns to vapor above";
    VACUUM_WATER_THERE = "water at rest there";
    VACUUM_LIQUID = "liquid";
    VACUUM_ICE = "ice: liquid water cannot exist below {pressure}";
    VACUUM_TEMPERATURE = "temperature";
    VACUUM_WATER_SATURATION = "water's saturation there";
    VACUUM_ICE_SATURATION = "ice's saturation there";
    VACUUM_OVER_SATURATION = "vacuum over saturation";
    VACUUM_WATER_LEAVES = "{ratio}, below: water there turns to vapor";
    VACUUM_WATER_STAYS = "{ratio}, not below: water there stays";
    VACUUM_INCHES = "Half an inch of mercury is {micron} micron: a gauge in inHg of vacuum cannot show this; a perfect vacuum is {perfect} inHg vacuum at this site.";
    VACUUM_SOURCE = "Source: {source}.";

    RISE_FIRST = "rise test, first reading";
    RISE_LAST = "rise test, last reading";
    RISE_AFTER = "{pressure} after {minutes} min";
    RISE_FIRST_SLOPE = "slope in the first third";
    RISE_LAST_SLOPE = "slope in the last third";
    RISE_OVER_SATURATION = "last reading over water's saturation";
    RISE_SHAPE = "shape";
    RISE_STRAIGHT = "rises in a nearly straight line: commonly points to a leak (common practice)";
    RISE_LEVELS_AT_WATER = "levels off near the saturation of water: commonly points to moisture (common practice)";
    RISE_LEVELS = "levels off away from the saturation of water, or without a temperature to compare with: commonly points to refrigerant leaving oil, or moisture (common practice)";
    RISE_BETWEEN = "neither straight nor levelling off: watch it for longer";
    RISE_NONE = "does not rise";
    RISE_TOO_LITTLE = "too little rise to have a shape: not evidence of a leak, of moisture or of tightness by itself";
    RISE_TOO_FEW = "too few readings to have a shape: give at least 6, at even intervals";
    RISE_TOTAL = "rise";
    RISE_AND_RATE = "{rise} micron, {rate} micron per h";
    RISE_RESOLUTION = "gauge resolution";
    RISE_RESOLUTION_GIVEN = "{step} micron, as given";
    RISE_RESOLUTION_WRITTEN = "{step} micron, the last digit of the readings as written";
    HOLD = "limit";
    HOLD_BELOW = "held: no reading above {limit} in {hold} min";
    HOLD_PASSED = "not held: above {limit} after {at} min of {hold} min";
    HOLD_TOO_SHORT = "not decided: the readings end after {at} min of {hold} min, none above {limit}";
    RISE_BOUNDS = "The shape is common practice, no source: an indication, not a finding. Straight: last slope above 0.7 of the first; levelling off: below 0.3; near water: 0.7 to 1.1 of its saturation; too little: a rise below a tenth of the first reading or below 30 steps of the gauge. These bounds are this program's own. A rate says nothing about the size of a leak without the volume.";
}
