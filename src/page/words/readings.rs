//! Superheat, subcooling, both sides, logs.

use super::Phrase;

phrases! {
    SUPERHEAT = "superheat";
    SUBCOOLING = "subcooling";
    MEASURED_TITLE = "{refrigerant}, {measure} at the clamp";
    WANTED_TITLE = "{refrigerant}, line temperature for a {measure}";
    MEASURE_WANTED = "{measure} wanted";
    LINE = "line";
    DEW_TEMPERATURE = "dew temperature";
    BUBBLE_TEMPERATURE = "bubble temperature";
    PRESSURE = "pressure";
    GAUGE_LIMITS = "limits of the gauge";
    WRONG_FROM_BUBBLE = "if wrongly taken from bubble";
    WRONG_FROM_DEW = "if wrongly taken from dew";
    WRONG_LINE = "a line at {temperature}";
    KIT = "kit";
    KIT_CHECKED = "{name}: zero and span as checked {date}, not a calibration";

    SHOWN = "{figure} shown";
    SHOWN_CORRECTED = "{factor} x ({figure} shown - {offset} zero offset)";
    ADDED_SITE = " + {figure} (local atmospheric pressure)";
    ADDED_OTHER = " + {figure} (air that the gauge was zeroed or sealed in)";
    DROP_TAKEN_OFF = " - {figure} from tap to clamp";
    SUM_ABSOLUTE = "{sum} = {figure} absolute";

    ONE_PHASE_SUPERHEAT = "The vapor at the clamp is {value} above its dew temperature: superheat at the clamp, assuming the pressure at the clamp equals the pressure read.";
    ONE_PHASE_SUBCOOLING = "The liquid at the clamp is {value} below its bubble temperature: subcooling at the clamp, assuming the pressure at the clamp equals the pressure read.";
    AT_SATURATION = "Zero within the uncertainty: at saturation at the clamp, assuming the pressure at the clamp equals the pressure read.";
    TWO_PHASE_SUPERHEAT = "{value} below the dew temperature: two phases at the clamp.";
    TWO_PHASE_SUBCOOLING = "{value} above the bubble temperature: two phases at the clamp.";
    NOT_POSSIBLE_SUPERHEAT = "{value} below the dew temperature: not possible at equilibrium for a vapor line. Check zero and kind of the gauge, the site, the refrigerant, the contact of the clamp, and whether tap and clamp are in different places.";
    NOT_POSSIBLE_SUBCOOLING = "{value} above the bubble temperature: not possible at equilibrium for a liquid line. Check zero and kind of the gauge, the site, the refrigerant, the contact of the clamp, and whether tap and clamp are in different places.";

    UNCERTAINTY_FROM = "uncertainty from";
    LIMITS = "limits";
    STANDARD = "standard";
    SOURCE_PRESSURE = "pressure";
    SOURCE_SITE = "site";
    SOURCE_CLAMP = "clamp";
    SOURCE_CONTACT = "contact";
    SOURCE_EQUATION = "equation";
    SOURCE_COMPOSITION = "composition";
    TOGETHER = "together";
    NOT_COUNTED = "not counted";
    AT_WORST = "{sides} worst case";
    EXPANDED_SQUARES = "Expanded uncertainty {sides}: twice the standard uncertainty, capped at the worst case (GUM, JCGM 100:2008).";
    EXPANDED_DRAWS = "Expanded uncertainty {sides}: the sides differ, so this is the interval that contains 95 % of {draws} draws with seed {seed} (GUM Supplement 1, JCGM 101:2008).";
    UNCERTAINTY_UNKNOWN = "Uncertainty unknown: no gauge or clamp accuracy was given.";
    UNCERTAINTY_UNBOUNDED = "no uncertainty of the {measure}: {error}";

    AGAINST = "{measure} {value} against {target} ± {band}";
    WITHIN = "{against}: within (JCGM 106:2012; uncertainty {sides}).";
    OUTSIDE = "{against}: outside (JCGM 106:2012; uncertainty {sides}).";
    NOT_DECIDABLE = "{against}: not decidable with this kit (JCGM 106:2012; uncertainty {sides}).";
    UNKNOWN_INSIDE = "{against}: not decidable, the accuracy of the gauge is not known. The figure alone lies inside the band.";
    UNKNOWN_OUTSIDE = "{against}: not decidable, the accuracy of the gauge is not known. The figure alone lies outside the band.";
    ACCURACY_NOT_GIVEN = "Not counted, because its accuracy was not given: {sources}.";
    GAUGE_DECIDES = "a gauge accurate to ±{limit} {unit}";
    GAUGE_DECIDES_SPAN = "a gauge accurate to ±{limit} {unit} ({percent} % of this span)";
    CLAMP_DECIDES = "a clamp accurate to ±{limit} {unit}, contact included";
    BOTH_DECIDE = "a gauge and a clamp with {percent} % of their limits";
    OR = "; or ";
    DECIDES = "At this reading {ways} would settle it.";
    NOTHING_DECIDES = "No gauge or clamp would settle it: the figure is too near the edge of the band, or the remaining uncertainty is too large by itself.";
    HIGH_SUPERHEAT = "Usual causes of high superheat (common practice): a starved evaporator (metering device, restriction, little refrigerant), or more heat than usual.";
    LOW_SUPERHEAT = "Usual causes of low superheat (common practice): little air or heat at the evaporator, a metering device that feeds too much, much refrigerant.";
    HIGH_SUBCOOLING = "Usual causes of high subcooling (common practice): liquid held back by a restriction or metering device, cold air at the condenser, much refrigerant.";
    LOW_SUBCOOLING = "Usual causes of low subcooling (common practice): little refrigerant, little air or hot air at the condenser, a metering device that feeds too much.";

    BOTH_TITLE = "{refrigerant}, both sides";
    SUCTION = "suction";
    LIQUID_SIDE = "liquid";
    PRESSURE_ABSOLUTE_READ = "pressure, absolute";
    MEAN = "(bubble + dew)/2";
    SUPERHEAT_SUBCOOLING = "superheat, subcooling";
    SUCTION_PRESSURE = "suction pressure";
    LIQUID_PRESSURE = "liquid pressure";
    PRESSURE_RATIO = "pressure ratio";
    INLET_MEAN = "evaporator, (inlet + dew)/2";
    OVER_AMBIENT = "condenser (bubble + dew)/2 minus ambient";
    OVER_EVAPORATING = "return air minus evaporator (bubble + dew)/2";
    AIR_DIFFERENCE = "return air minus supply air";
    SUCTION_CHECKED = "; zero and span of the suction gauge as checked {date}, not a calibration";
    LIQUID_CHECKED = "; zero and span of the liquid gauge as checked {date}, not a calibration";
    MARK_PRESSURES_NOT_APART = "liquid pressure not above suction pressure: gauges swapped, or at rest";
    MARK_LINES_SWAPPED = "suction line hotter than liquid line: clamps swapped?";
    MARK_SUCTION_TOO_COLD = "suction line colder than its bubble temperature: not possible";
    MARK_LIQUID_TOO_HOT = "liquid line hotter than its dew temperature: not possible";
    MARK_CONDENSING_BELOW_AIR = "condensing below the air that cools it: not possible while it runs";
    MARK_EVAPORATING_ABOVE_AIR = "evaporating above the air that heats it: not possible while it runs";
    CHECK_AGAIN = "Check again: {mark}.";
    UNCERTAINTY_SUCTION = "Uncertainty of the suction side:";
    UNCERTAINTY_LIQUID = "Uncertainty of the liquid side:";

    LOG_TITLE = "{refrigerant}, a log of {rows} rows";
    LOG_TITLE_ONE = "{refrigerant}, a log of 1 row";
    LOG_COUNTS = "Rows answered: {answered}; without a result: {unanswered}; physically impossible: {marked}. Rows without a result or physically impossible are marked in the CSV and excluded above. In rows a blend has its nominal composition.";
    UNIT = "unit";
    LOWEST = "lowest";
    HIGHEST = "highest";
    LOG_MEAN = "mean";
    TREND_PER_HOUR = "trend per hour";
    TREND_PER_ROW = "trend per row";
    SUCTION_DEW = "suction dew temperature";
    LIQUID_BUBBLE = "liquid bubble temperature";
    EVAPORATOR_MEAN = "evaporator (bubble + dew)/2";
    CONDENSER_MEAN = "condenser (bubble + dew)/2";
    ROW = "row";
    TIME = "time, {unit}";
    DIFFERENCE = "difference, {unit}";
    LINE_BRIDGES = "A line bridges rows left out.";
    ROWS_DRAWN = "One of {count} rows is drawn.";
}
