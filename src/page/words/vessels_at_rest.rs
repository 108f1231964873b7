//! Vessels at rest: against their lines, what would fit, a gauge check.

use super::Phrase;

phrases! {
    REST_TITLE = "{refrigerant}, at rest";
    REST_READING = "reading";
    REST_SHOWN = "as shown";
    REST_BUBBLE_THERE = "bubble pressure there";
    REST_DEW_THERE = "dew pressure there";
    REST_SATURATION_THERE = "saturation pressure there";
    REST_MINUS_BUBBLE = "reading minus bubble";
    REST_MINUS_DEW = "reading minus dew";
    REST_MINUS_SATURATION = "reading minus saturation";
    REST_EXCESS = "{excess} ± {usual} (root-sum-square), ± {worst} worst case; {significance}";
    REST_EXCESS_OPEN = "{excess}; significance not decidable without the instruments' accuracy";
    REST_SIGNIFICANT = "significant";
    REST_BARELY = "barely significant: the worst case would explain it";
    REST_NOT_SIGNIFICANT = "not significant: the instruments explain it";
    REST_PLACE = "the reading is";
    REST_ABOVE = "above the bubble line";
    REST_BETWEEN = "between dew and bubble line";
    REST_AT_SATURATION = "at saturation, within the accuracy of the instruments";
    REST_BELOW = "below the dew line";
    REST_OTHER_GAS = "Common practice: non-condensable gas mixed in, or a different fluid.";
    REST_WITH_LIQUID = "Common practice: consistent with a vessel that holds liquid; it shows nothing more.";
    REST_NO_LIQUID = "Common practice: no liquid left, or a different fluid.";
    REST_APPLIES = "For a vessel that holds liquid and whose temperature has been steady for hours. One reading cannot separate a zero error from a span error.";

    REST_FIT_TITLE = "Would fit a vessel at rest that holds liquid";
    REST_LIMITS = "limits of error";
    REST_REFRIGERANT = "refrigerant";
    REST_DEW = "dew there";
    REST_BUBBLE = "bubble there";
    REST_FIT_COUNT = "{count} refrigerants would fit, and so would mixtures without a designation. Listed from the most hazardous class: not assigned, B3, A3, B2, A2, B2L, B1, A2L, A1 (an order of this program's own).";
    REST_FIT_COUNT_ONE = "1 refrigerant would fit, and so would mixtures without a designation.";
    REST_MOST_HAZARDOUS = "Treat the contents as the most hazardous refrigerant that fits.";

    REST_CHECK_TITLE = "Gauge check on {refrigerant}";
    REST_DATE = "date";
    REST_SHOULD_SHOW = "should show";
    REST_WITHIN = "within";
    REST_ZERO_OFFSET = "zero offset";
    REST_SPAN_ERROR = "span error there";
    REST_SPAN_FACTOR = "span factor";
    REST_KIT_ENTRY = "for a kit file";
    REST_CORRECTED = "corrected = (reading - zero offset) x span factor, gauge. In a kit file the entry goes under low or high, in place of an earlier one.";
    REST_NO_CALIBRATION = "Not a calibration: one point, at {temperature} and on {date}, on a vessel assumed to hold {refrigerant}.";
    REST_SPAN_EXPLAINED = "The uncertainty of the pressure it should show explains the span error: leave the factor at 1.";
    REST_GAUGE_CHANGES = "A gauge changes with temperature and use.";
}
