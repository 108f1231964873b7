//! What reasons, ranges and questions of errors are called.

use crate::phrase::Phrase;

phrases! {
    RANGE_SATURATION_LINE = "saturation line of {refrigerant}";
    RANGE_LINE = "line of {refrigerant} from {from}";
    RANGE_REFRIGERANT = "range of {refrigerant}";
    RANGE_EQUATION = "equation of {refrigerant}";
    RANGE_COMMON = "common range of the components' equations";
    RANGE_BUBBLE_LINE = "bubble line";
    RANGE_BUBBLE_LINE_TO_CRITICAL = "bubble line, up to the critical point";
    RANGE_DEW_LINE = "dew line";
    RANGE_RAOULT = "Raoult's law, where every component has a saturation pressure of its own; {first} \
                    reaches its critical temperature first";
    RANGE_TWO_PHASES = "{refrigerant} boils and condenses up to its critical point";
    RANGE_LIQUID_OF_COIL = "from the coil's bubble point to the liquid's own; below: no flashing at the \
                            inlet; above: vapor ahead of the expansion device";
    QUESTION_BUBBLE_BY_TEMPERATURE = "bubble point at given temperature";
    QUESTION_BUBBLE_BY_PRESSURE = "bubble point at given pressure";
    QUESTION_DEW_BY_TEMPERATURE = "dew point at given temperature";
    QUESTION_DEW_BY_PRESSURE = "dew point at given pressure";
    QUESTION_SATURATION_BY_TEMPERATURE = "saturation at given temperature";
    QUESTION_SATURATION_BY_PRESSURE = "saturation at given pressure";
    QUESTION_CRITICAL_OF_EQUATION = "critical point of the equation";
    QUESTION_CRITICAL_OF_BLEND = "critical point of the blend";
    QUESTION_ENVELOPE = "phase envelope";
    QUESTION_ENVELOPE_POINT = "point of the phase envelope";
    QUESTION_TWO_PHASES = "two phases of a blend";
    QUESTION_WHAT_IS_LEFT = "liquid and vapor of what is left";
    QUESTION_DENSITY = "density at given temperature and pressure";
    QUESTION_ROOT = "root between two points";
    REASON_NO_TWO_PHASES = "no pressure was found at which there are two phases at this temperature";
    REASON_NO_SUCH_LIQUID = "the equation of a component has no liquid at this temperature";
    REASON_NOT_ALL_LIQUIDS = "the liquid parts at {pressure}, and not all of the liquids were found";
    REASON_GAS_OVER_LIQUIDS = "two liquids lie under a gas at {pressure}, and the three phases were not found";
    REASON_NO_SUCH_FLUID = "the equation has no fluid of {pressure} at this temperature";
    REASON_NOTHING_WITHIN_RANGE = "nothing within the range of {refrigerant} has these two properties";
    REASON_NOTHING_OF_BLEND = "nothing within the range of this blend has these two properties";
    REASON_NO_STATE_OF_ENTHALPY = "no state of this enthalpy at this pressure";
    REASON_PURE_ALONE = "this pair of properties is answered for pure refrigerants alone";
    REASON_NONE_OF_PHASE = "none of the phase asked for has these two properties";
    REASON_SEVERAL = "more than one state has these two properties";
    REASON_NONE = "none has these two properties";
    REASON_NO_TOLERANCE_ON_RECORD = "no tolerance is on record";
    NO_COMPONENT = "{refrigerant} has no component of number {number}";
    NO_PUBLISHED_ZERO = "a blend has no published zero";
    ANOTHER_ERROR = "{problem}";
}
