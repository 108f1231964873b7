//! Composition shift: leak, draw and top-up.

use super::Phrase;

phrases! {
    SHIFT_TITLE_VAPOR = "{refrigerant} after a loss of vapor at {temperature}";
    SHIFT_TITLE_LIQUID = "{refrigerant} after a loss of liquid at {temperature}";
    SHIFT_TITLE_CIRCULATING = "{refrigerant} after a loss at the circulating composition at {temperature}";
    SHIFT_TITLE_DRAWN_VAPOR = "{refrigerant} drawn as vapor at {temperature}";
    SHIFT_TITLE_DRAWN_LIQUID = "{refrigerant} drawn as liquid at {temperature}";
    SHIFT_TITLE_DRAWN_CIRCULATING = "{refrigerant} drawn in the composition of the whole at {temperature}";
    SHIFT_LOST = "lost, % by mass";
    SHIFT_LEFT_MASS = "left, {unit}";
    SHIFT_PRESSURE = "pressure";
    SHIFT_LIQUID = "liquid";
    SHIFT_VAPOR = "vapor";
    SHIFT_LEAVING = "leaving";
    SHIFT_REMAINING = "left";
    SHIFT_SHARES = "Composition, % by mass: {components}";
    SHIFT_LINES = "Bubble and dew of what is left, and readings by the card of {refrigerant}";
    SHIFT_BUBBLE = "bubble at {temperature}";
    SHIFT_DEW = "dew at {temperature}";
    SHIFT_GLIDE = "glide";
    SHIFT_SUPERHEAT = "superheat, read minus true";
    SHIFT_SUBCOOLING = "subcooling, read minus true";
    SHIFT_FLAMMABLE = "Share of flammable components, % by mass: {components}";
    SHIFT_NONE_FLAMMABLE = "No component is flammable by the classes on record.";
    SHIFT_UNCLASSED = "Without a class on record and counted as flammable: {components}.";
    SHIFT_PEAK = "Largest flammable share: vapor {vapor} % (at {at_vapor} % lost), leaving {leaving} % (at {at_leaving} % lost), left {left} % (at {at_left} % lost).";
    SHIFT_PEAK_LIMITS = "At the temperature and fill asked; a standard prescribes its own, and a class is assigned by its committee alone.";
    SHIFT_ROUNDS = "After each top-up with {refill}, {lost} % lost before it";
    SHIFT_ROUND = "top-up";
    SHIFT_LIMIT = "limit";
    SHIFT_CORNERS = "Over {corners} corners of the published tolerances";
    SHIFT_TO = "{lowest} to {highest}";
    SHIFT_VAPOR_FLAMMABLE = "flammable in the vapor, %";
    SHIFT_LEFT_FLAMMABLE = "flammable in what is left, %";
    SHIFT_NO_TOLERANCE = "No tolerance is published for this composition.";
    SHIFT_NO_SPACE = "No vapor space: liquid is all there is, and what leaves is in equilibrium with all of it. Give the fill for a rigid vessel.";
    SHIFT_LIQUID_STAYS = "Without vapor space a loss of liquid changes nothing.";
    SHIFT_FILLED = "Rigid vessel, liquid in {filled} % of its volume at the start; the whole then has the listed composition.";
    SHIFT_DRY = "The last liquid goes at {lost} % lost; from there on the composition stays.";
    SHIFT_END_SITE = "Nothing leaks out from {lost} % lost on: the pressure is that of the site.";
    SHIFT_END_SHARE = "Followed to {lost} % lost.";
    SHIFT_BEYOND = "Beyond that end and not shown: {lost} % lost.";
    SHIFT_USABLE = "What leaves stays within the published tolerances up to {lost} % lost.";
    SHIFT_NOT_USABLE = "What leaves is outside the published tolerances from the start.";
    SHIFT_SIGN = "Read minus true, for a reading by the card of {refrigerant}: superheat at {suction}, subcooling at {liquid}. Positive: there is less than read.";
    SHIFT_SLOW = "Slow loss: liquid and vapor in equilibrium at one temperature throughout. A running system loses what circulates in it, which is nearer to the whole composition: little shift (common practice).";
    SHIFT_CIRCULATING = "Loss in the composition of the whole, as from where a running system circulates liquid or vapor alone (common practice): the composition stays. What coils and receiver hold back is not counted.";
    SHIFT_UNCERTAIN = "Standard uncertainty from the measured deviation of the pairs' vapors, % by mass";
    SHIFT_SUPERHEAT_ERROR = "superheat error";
    SHIFT_SUBCOOLING_ERROR = "subcooling error";
    SHIFT_PAIRS_MEASURED = "Counted by their measured vapors: {pairs}. The deviation of each is laid on its relative volatility and the loss followed anew; squares are added.";
    SHIFT_PAIRS_NOT_MEASURED = "Without a measured vapor on record and not counted in the uncertainty: {pairs}.";
    SHIFT_NO_LEAK_MEASURED = "No measured leak of a blend is on record here.";
}
