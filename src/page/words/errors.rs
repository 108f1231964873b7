//! Why there is no answer.

use super::Phrase;

phrases! {
    OUT_OF_RANGE = "{quantity} {value} {unit} is outside {low} to {high} {unit} ({range})";
    GIVE_WITHIN = "give a {quantity} from {low} to {high} {unit}";
    QUANTITY_TEMPERATURE = "temperature";
    QUANTITY_PRESSURE = "pressure";
    ABOVE_RANGE = "the bubble point at {temperature} lies above the pressure range, which ends at {pressure}";
    BUBBLE_BELOW_RANGE = "the bubble point at {pressure} lies below the temperature range, which begins at {temperature}";
    DEW_BELOW_RANGE = "the dew point at {pressure} lies below the temperature range, which begins at {temperature}";
    CYCLE_POINT_FAILS = "point {point} ({place}): {cause}";
    NO_SUCH_STATE = "no such state: {reason}";
    NO_SOLUTION = "{question}: no solution found after {steps} steps";
}
