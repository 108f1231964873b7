//! What reasons of processes are called, and the points of a cycle.

use crate::phrase::Phrase;

phrases! {
    CYCLE_PRESSURES_EXCHANGED = "the condensing pressure is not above the evaporating pressure";
    CYCLE_DROP_AS_LARGE = "the pressure drop of the condenser is as large as its pressure";
    CYCLE_NO_GAS_COOLER_PRESSURE = "the gas cooler has no pressure";
    CYCLE_OUTLET_BELOW_CRITICAL = "the gas cooler's outlet lies below the critical pressure";
    CYCLE_LIQUID_NOT_WARMER = "the liquid is not warmer than the vapor in the suction-line heat exchanger";
    CYCLE_NO_EFFECT = "there is no refrigerating effect: what enters the evaporator has more enthalpy than its vapor";
    CYCLE_NEGATIVE = "superheat, subcooling, pressure drops and approach are not negative";
    CYCLE_EFFICIENCY_OUTSIDE = "the isentropic efficiency is not above 0 up to 100 %";
    CYCLE_CAPACITY_NOT_ABOVE = "the capacity is not above 0";
    CYCLE_EFFECTIVENESS_OUTSIDE = "the effectiveness of the suction-line heat exchanger is not from 0 to 100 %";
    CYCLE_EXCHANGER_SETS_SUCTION = "a suction-line heat exchanger sets the suction temperature itself";
    CYCLE_EXCHANGER_OF_ONE_STAGE = "a suction-line heat exchanger is calculated for one stage alone";
    CYCLE_SUPERHEAT_BELOW_USEFUL = "the superheat at the suction is smaller than its useful part";
    CYCLE_INLET_MEAN_OF_CONDENSER = "an inlet mean belongs to an evaporator";
    RUNNING_SUCTION_NOT_DRY = "the suction line is not above its dew temperature: what enters the compressor is not known from pressure and temperature";
    RUNNING_COLDER_THAN_IDEAL = "the discharge line is colder than an isentropic compression would make it";
    RUNNING_NO_COMPRESSION = "discharge and suction line are not those of a compressor that runs";
    CYCLE_NOTHING_FLASHES = "nothing flashes, or everything does, at the intermediate pressure";
    CYCLE_ECONOMIZER_CANNOT = "the economizer cannot cool the liquid: its approach reaches the liquid's own temperature";
    CYCLE_INTERCOOLER_OF_GLIDE = "an open flash intercooler is not calculated for a blend with glide: vapor and liquid of its vessel differ in composition";
    CYCLE_NOTHING_TO_COMPARE = "there is nothing to compare";
    CYCLE_BEST_WITHOUT_CRITICAL = "the critical point was not found, from which the pressures begin";
    CYCLE_BEST_NONE = "no pressure of the gas cooler gives a refrigerating effect";
    CYCLE_BEST_ABOVE = "the COP still rises at the highest pressure looked at, three times the critical pressure or the end of the equation";
    CYCLE_BEST_BELOW = "the COP falls from the critical pressure on: the best pressure lies below it, where the refrigerant condenses";
    CYCLE_END_MISSING = "bubble or dew point is missing";
    LOSS_NOT_SAID = "which loss is meant is not said, or the loss ends before it";
    LOSS_NOTHING_LEAKS = "the pressure in the vessel is not above that of the site: nothing leaks out";
    LOSS_SHARE_OF_LIQUID = "the liquid's share of the volume is not between 0 and 100 %";
    LOSS_SHARE_LOST = "a share lost is not between 0 and 100 %";
    PIPE_NOT_LIQUID = "the liquid line does not hold liquid alone";
    PIPE_NOT_VAPOR = "the suction or discharge line does not hold vapor alone";
    PIPE_NO_DISCHARGE = "the temperature of the discharge line is not known";
    LOSS_OF_PURE = "{refrigerant} has one component: its composition stays";
    AZEOTROPE_COMPONENTS = "azeotropes of {count} components are not sought";
    CYCLE_AT_EVAPORATOR_OUTLET = "evaporator outlet";
    CYCLE_AT_SUCTION = "compressor suction";
    CYCLE_AT_IDEAL_DISCHARGE = "isentropic discharge";
    CYCLE_AT_DISCHARGE = "compressor discharge";
    CYCLE_AT_LIQUID_LINE = "condenser or gas cooler outlet";
    CYCLE_AT_SUBCOOLED_LIQUID = "liquid behind the suction-line heat exchanger";
    CYCLE_AT_EVAPORATOR_INLET = "evaporator inlet";
    CYCLE_AT_HIGH_SUCTION = "high-stage suction";
    CYCLE_AT_IDEAL_HIGH_DISCHARGE = "isentropic high-stage discharge";
    CYCLE_AT_HIGH_DISCHARGE = "high-stage discharge";
    CYCLE_AT_INTERMEDIATE_INLET = "inlet at the intermediate pressure";
    CYCLE_AT_INTERMEDIATE_LIQUID = "liquid leaving the intermediate stage";
    CYCLE_AT_INTERMEDIATE_VAPOR = "vapor leaving the intermediate stage";
}
