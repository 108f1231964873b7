//! The engine beside published values.

use super::Phrase;

phrases! {
    RANDOM_QUESTIONS = "{questions} random questions, seed {seed}";
    RANDOM_CLASS = "class ";
    RANDOM_ASKED = "questions";
    RANDOM_ANSWERED = "answered";
    RANDOM_TWO_LIQUIDS = "two liquids";
    RANDOM_REFUSALS = "refused";
    RANDOM_REFUSED = "Refused, by reason";
    RANDOM_REASON = "{class}: {count} refused: {reason}";
    RANDOM_FAULTS = "Faults, the first of each kind";
    BY_SOURCE = "Published values, by source";
    ROWS = "{rows} rows; 'worst' is the largest deviation as a fraction of the row's tolerance.";
    TIERS = "A: printed from the same equation; B: independent equations and correlations; C: handbooks, textbooks and standards. {rows} rows are quoted from memory, unverified.";
    TOLERANCES = "The tolerances of B and C were set after seeing what a general-purpose open library gives: passing means no farther off than it.";
    PSEUDO_PURE = "Pseudo-pure tables: {reason}.";
    NOT_JUDGED = "Outside or not judged, and why";
    OUTSIDE_VALUES = "Outside without a reason";
    BLENDS = "Listed blends at 101.325 kPa, model minus published";
    HANDBOOK = "R-404A, R-407C, R-410A, R-507A in the saturation tables of the handbook: {points} points, largest deviation {kelvin} K.";
    MEASURED = "Measured bubble points, model minus measured, % of pressure and K";
    FITTED = "Many pairs were fitted to such points, 'refitted' ones by this project to these very points: a small deviation is not a prediction. 'suspect' points disagree with other papers and are in no figure; 'unanswered' ones lie where the model has no bubble point.";
    KELVIN = "K: the deviation in pressure as temperature on the bubble line, to first order.";
    TIER = "tier";
    SOURCE_OF = "source ";
    WORST_ROW = "worst row";
    ROW_COUNT = "rows";
    WORST = "worst";
    EXCEPTED = "excepted";
    LISTED_ROWS = "listed";
    OUTSIDE_COUNT = "outside";
    REFITTED = "{pair}, refitted";
    PAIR = "pair";
    POINTS = "points";
    PAPERS = "papers";
    BIAS_PERCENT = "bias %";
    RMS_PERCENT = "rms %";
    BIAS_K = "bias K";
    RMS_K = "rms K";
    UNANSWERED = "unanswered";
    SUSPECT = "suspect";
    COMPUTED = "computed {value}, {share} of the tolerance";
    NOT_ANSWERED = "not answered: {problem}";
    COMPARED = "{row}: published {value} {unit}, {known}";
    REASON_OUTSIDE = "outside: {reason}.";
    REASON_NOT_JUDGED = "not judged: {reason}.";
    NONE = "none";
    BLENDS_FREE = "not fitted to these values: {points} points, median deviation {median} K; from {far} K on, or not answered:";
    BLENDS_FITTED = "fitted to these values, not a check: {points} points, median deviation {median} K; from {far} K on, or not answered:";
    AZEOTROPES_LINE = "Azeotropes: {reason}.";
    BLEND_LINE = "- {blend} {line}: published {published} °C, {known}";
}
