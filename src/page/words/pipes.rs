//! Pipes and columns of liquid.

use super::Phrase;

phrases! {
    PIPE_TITLE = "{refrigerant}, flow in the {line}";
    PIPE_SUCTION = "suction line";
    PIPE_DISCHARGE = "discharge line";
    PIPE_LIQUID = "liquid line";
    PIPE_VELOCITY = "velocity";
    PIPE_MASS_FLOW = "mass flow";
    PIPE_VOLUME_FLOW = "volume flow";
    PIPE_DENSITY = "density in the line";
    PIPE_TEMPERATURE = "temperature in the line";
    PIPE_PRESSURE = "pressure in the line";
    PIPE_EFFECT = "enthalpy, suction minus liquid";
    PIPE_METHOD = "Mass flow = capacity / (enthalpy of the suction line minus that of the liquid line): all superheat is counted as taken up in the evaporator. Evaporating means dew, condensing bubble. Pressure drop needs a viscosity, which this program does not have.";

    RISER_TITLE = "{refrigerant}, static head of a liquid column";
    RISER_HEAD = "static head";
    RISER_GRADIENT = "static head per height";
    RISER_DENSITY = "density of the liquid";
    RISER_TOP = "pressure at the top";
    RISER_BOTTOM_SUBCOOLING = "subcooling at the bottom";
    RISER_TOP_SUBCOOLING = "subcooling at the top";
    RISER_FLASHES = "Below its bubble point at the top: the liquid holds flash gas there.";
    RISER_SATURATED = "No pressure was given: the density is that of liquid at its bubble point.";
    RISER_METHOD = "Static head = density x 9.80665 m/s2 x height; friction and a change of temperature on the way are not counted.";
}
