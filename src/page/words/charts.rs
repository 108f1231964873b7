//! Charts, cards and pictures.

use super::Phrase;

phrases! {
    CHART_PRESSURES = "Saturation pressure ({pressure}) by temperature ({temperature})";
    CHART_TEMPERATURES = "Saturation temperature ({temperature}) by pressure ({pressure})";
    CHART_KEY = "Answer key";
    CHART_BLANK = "______";
    COLUMN_BUBBLE = "bubble";
    COLUMN_DEW = "dew";
    COLUMN_MEAN = "mean";
    COLUMN_LOWEST = "lowest";
    COLUMN_HIGHEST = "highest";
    GAP_ABOVE_CRITICAL = "above critical";
    GAP_BELOW_RANGE = "below range";
    GAP_ABOVE_RANGE = "above range";
    GAP_NOT_KNOWN = "not known";
    GAP_NO_ANSWER = "no answer";
    REASON_ABOVE_CRITICAL = "{gap}: beyond the critical point of {refrigerant}, {temperature}, {pressure}.";
    REASON_BEGINS = "{gap}: the saturation line of {refrigerant} begins at {limit}.";
    REASON_ENDS = "{gap}: the saturation line of {refrigerant} ends at {limit}.";
    REASON_NO_TOLERANCE = "{gap}: no tolerance of the composition of {refrigerant} is on record.";
    REASON_ABOVE_PRESSURES = "{gap}: the bubble line of {refrigerant} lies above {pressure} there, up to which \
                              pressures are calculated.";
    REASON_BELOW_TEMPERATURES = "{gap}: the line of {refrigerant} lies below {temperature} there, from which on \
                                 temperatures are calculated.";
    REASON_NOT_FOUND = "{gap}: {refrigerant}: no point of its saturation line was found there; a blend's lines end near its critical point.";
    REASON_FAILED = "{gap}: {refrigerant}: {problem}.";
    CHART_ABSOLUTE = "Pressures in {unit} are absolute.";
    CHART_GAUGE = "Pressures in {unit} are gauge pressures, relative to {site}.";
    CHART_VACUUM = "inHg vac: inches of mercury (0 °C) of vacuum below that.";
    CHART_LINES = "bubble (liquid): read subcooling there; dew (vapor): read superheat there.";
    CHART_MEAN = "mean: halfway between bubble and dew; superheat is relative to dew, subcooling to bubble.";
    CHART_TOLERANCE = "lowest, highest: within the published tolerances of the blend's composition, over their corners.";
    CHART_ROUNDED = "Rounded for {resolution}. Largest error of a printed value: {error} ({place}).";
    CHART_ROUNDED_BETWEEN = "Rounded for {resolution}. Largest error of a printed value: {error} ({place}); of linear interpolation between rows: {between} ({rows}).";
    CHART_EQUATION_ERROR = "The equation's own error is additional.";
    CHART_NOT_KEPT = "Not every cell keeps to that resolution.";
    CHART_PLACE = "{column} at {row} {unit}";
    CHART_PLACE_BETWEEN = "{column} at {row} to {next} {unit}";
    CHART_PURE = "{refrigerant}: class {class}; equation {source}.";
    CHART_BLEND = "{refrigerant}: class {class}; {composition} by mass; binary pairs: {pairs}.";
    CHART_BLEND_PUBLISHED = "{refrigerant}: class {class}; {composition} by mass; binary pairs: {pairs}; {published}.";
    CHART_COMPOSITION = "{refrigerant}: {composition} by mass.";
    CHART_COMPOSITION_GLIDE = "{refrigerant}: {composition} by mass; glide {glide} at {pressure}.";
    CHART_SHARE = "{percent} % {component}";
    CHART_GLIDE = "{refrigerant}: glide {glide} at {pressure}.";
    CHART_ONE_COLUMN = "{refrigerant}: glide {glide} at {pressure}; one column, halfway between bubble and dew, since the glide here stays within {most}; half of it is counted in the error above.";
    CHART_WIDE_BAND = "{refrigerant}: within the tolerances of its composition a reading may differ by {band}, more than the {resolution} that the figures are rounded for.";
    CHART_EXTRAPOLATED = "{refrigerant}: below {limit} the equation of {component} is extrapolated.";
    CHART_VAPORS = "{refrigerant}: {text}";
    CHART_WARNING = "{refrigerant}: {text}";
    CHART_SECOND = "Second table: {text}";
    PAGE_OF = "page {page} of {count}";
    LOGO = "logo of the shop";
}
