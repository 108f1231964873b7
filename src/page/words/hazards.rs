//! Hazards, exposure and warming.

use super::Phrase;

phrases! {
    HAZARD_ALWAYS = "Refrigerants are pressurized, can freeze skin, displace air, and form toxic gases in a flame. Liquid trapped between closed valves can burst lines and vessels. Wear goggles and gloves; ventilate.";
    HAZARD_FLAMMABLE = "{names} is flammable: use a recovery machine, pump and leak detector rated for it, ventilate, and remove ignition sources.";
    HAZARD_FLAMMABLE_SEVERAL = "{names} are flammable: use a recovery machine, pump and leak detector rated for them, ventilate, and remove ignition sources.";
    HAZARD_TOXIC = "{names} is toxic: only trained people with the right protective equipment.";
    HAZARD_TOXIC_SEVERAL = "{names} are toxic: only trained people with the right protective equipment.";
    HAZARD_HIGH_PRESSURE = "Pressures exceed ordinary gauge and hose ratings.";
    HAZARD_HIGH_PRESSURE_OF = "Pressures of {names} exceed ordinary gauge and hose ratings.";
    HAZARD_OXIDIZING = "{names} feeds fire: keep oil and grease away.";
    HAZARD_OXIDIZING_SEVERAL = "{names} feed fire: keep oil and grease away.";
    HAZARD_NO_CLASS = "No safety class on record for {names}: treat as flammable and toxic.";
    HAZARD_UNLISTED = "No safety class assigned: treat as flammable and toxic. Nothing here is a charging instruction.";
    HAZARD_ZEOTROPE = "A zeotropic blend changes composition when drawn or lost as vapor. After a leak, what remains may no longer match the listed composition.";
    HAZARD_NO_SUBSTITUTE = "Similar pressure does not make one refrigerant a substitute for another.";
    HAZARD_PRESSURE_TEST = "Dry nitrogen only, never oxygen, compressed air or acetylene: oxygen and oil can explode. Use a regulator and a relief device. Take the test pressure from nameplate and code, do not exceed the low-side limit; this program proposes none. Raise in steps, stay clear, wear eye protection, vent outdoors: nitrogen displaces air.";
    HAZARD_EVACUATION = "Never run a compressor in a vacuum or test its winding insulation under it. For a flammable refrigerant use a pump rated for it, outdoors or ventilated.";
    HAZARD_CYLINDER = "Check test date and service pressure; contents are limited by mass, not by level or pressure; never fill one of unknown capacity, never refill a non-refillable one; oil counts as contents. A liquid-full cylinder can burst when it warms. Only people authorized to do so may fill.";
    HAZARD_IDENTIFICATION = "Pressure and temperature cannot identify a refrigerant: use an analyzer.";
    HAZARD_TARGET_SUPERHEAT = "If any condition is not met, this method does not apply: follow the manufacturer's charging procedure.";
    HAZARD_LOSS = "What is left after a loss is not {refrigerant}: no safety class is assigned to it; treat it as flammable and toxic. Nothing here is a charging instruction.";
    HAZARD_END = "These are calculations, not a judgement of the equipment. Local codes, the manufacturer's instructions and licensed people decide.";

    EXPOSURE_TITLE = "{refrigerant}, figures in other units";
    EXPOSURE_NO_VERDICT = "Nothing here says whether a room, a charge or a leak is permitted or safe.";
    EXPOSURE_BASIS = "Shares by volume are those of an ideal gas at 25 °C and 101.325 kPa. No concentration limit is on record here; one is shown only where you give it.";
    LFL = "lower flammability limit";
    RCL = "concentration limit (RCL)";
    LIMIT_ON_RECORD = "{limit}: {source}, on record here.";
    LIMIT_GIVEN = "{limit}: {source}, as given.";
    PERCENT_BY_VOLUME = "% by volume";
    PPM_BY_VOLUME = "ppm by volume";
    GWP = "GWP";
    GWP_HORIZON = "horizon";
    GWP_SUMMED = "The GWP of the blend is the sum over its components by mass.";
    SOURCE = "source";
    YEARS = "{years} years";
    NOT_GIVEN = "not given";
    AT_LEAST = "at least {figure}";
    AT_MOST = "at most {figure}";
    CO2_KG = "kg of CO2";
    CO2_T = "t of CO2";
}
