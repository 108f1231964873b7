//! Exercises and their keys.

use super::Phrase;

phrases! {
    EXERCISE = "Exercise";
    EXERCISE_KEY = "Answer key: {title}";
    EXERCISE_NAME = "Name: ____________________    Date: ____________";
    EXERCISE_SEED = "Seed {seed}: the same seed gives the same figures.";
    EXERCISE_LIMITS = "Gauge ±{gauge}, thermometer ±{clamp}.";
    EXERCISE_GAUGE = "Gauge ±{gauge}.";
    EXERCISE_SITE = "Gauge pressures are relative to {air}.";
    EXERCISE_TASK = "Task {number}";
    EXERCISE_SUPERHEAT = "{refrigerant}: the suction gauge shows {pressure}, the suction line has {line}. Find the saturation temperature on the right line and the superheat.";
    EXERCISE_SUBCOOLING = "{refrigerant}: the liquid gauge shows {pressure}, the liquid line has {line}. Find the saturation temperature on the right line and the subcooling.";
    EXERCISE_WRONG = "What would the other line have led to, and by how much is that off?";
    EXERCISE_BAND = "The target is {target}, ±{band}. With the instruments named above: within, outside, or not decidable?";
    EXERCISE_SATURATION = "saturation temperature";
    EXERCISE_RESULT_SUPERHEAT = "superheat";
    EXERCISE_RESULT_SUBCOOLING = "subcooling";
    EXERCISE_OTHER = "if taken from the other line";
    EXERCISE_OFF = "off by";
    EXERCISE_VERDICT = "verdict";
    EXERCISE_WITHIN = "within";
    EXERCISE_OUTSIDE = "outside";
    EXERCISE_NOT_DECIDABLE = "not decidable";
    EXERCISE_VERDICT_UNKNOWN = "not decidable: no accuracy was given";
    EXERCISE_DRAWN = "before the errors of the instruments were drawn";
    EXERCISE_BRANCH_DEW = "Superheat is read from dew (vapor): line minus dew.";
    EXERCISE_BRANCH_BUBBLE = "Subcooling is read from bubble (liquid): bubble minus line.";
    EXERCISE_LENS = "{refrigerant} at {pressure}: read from the picture the bubble and the dew temperature, the glide, and what the first vapor and the last liquid consist of.";
    EXERCISE_COIL = "{refrigerant} boils at {pressure}{from}. Fill in the temperatures along the coil and draw them.";
    EXERCISE_COIL_INLET = ", liquid of {liquid} ahead of the expansion device";
    EXERCISE_COIL_WHY = "Why does the temperature rise although the pressure stays the same?";
    EXERCISE_COIL_BECAUSE = "The more volatile components boil off first; what is left boils higher.";
    EXERCISE_COIL_PURE = "It does not rise: one substance boils at one temperature at one pressure.";
    EXERCISE_CYCLE = "Draw the cycle of {refrigerant}: dew {evaporating} in the evaporator, bubble {condensing} in the condenser, superheat {superheat}, subcooling {subcooling}, isentropic efficiency {efficiency}. Read h1, h2 and h4; find the effect h1 - h4, the work h2 - h1, and the COP.";
    EXERCISE_SHARE_OF_HEAT = "% of heat";
    EXERCISE_FIRST_VAPOR = "first vapor, % by mass";
    EXERCISE_LAST_LIQUID = "last liquid, % by mass";
    EXERCISE_BUBBLE = "bubble temperature";
    EXERCISE_DEW = "dew temperature";
    EXERCISE_GLIDE = "glide";
    EXERCISE_QUALITY = "inlet quality by mass";
    EXERCISE_EFFECT = "effect, h1 - h4";
    EXERCISE_WORK = "work, h2 - h1";
    EXERCISE_COP = "COP";
    EXERCISE_BLANK = "__________";
    EXERCISE_QUANTITY = "quantity";
    EXERCISE_ANSWER = "answer";
    EXERCISE_ACCEPT = "accept";
    EXERCISE_ACCEPT_READ = "Accept of what is read from a picture: one part in a hundred of its axis. Of a reading: what a printed table may be off by, {table}; ± in the answer is what the instruments leave open (k = 2).";
    EXERCISE_ESTIMATED = "Add ±3 K where an estimated pair is named below.";
    EXERCISE_ENTHALPY_AT = "h{point}";
}
