//! What is read first on a print, and what a shop adds to it.

use super::Phrase;

phrases! {
    FACE_NAME = "{refrigerant} · {class}";
    FACE_NO_CLASS = "no class";
    FACE_GAUGE_SEA_LEVEL = "{cells} at {rows}, gauge zeroed at sea level";
    FACE_GAUGE_ELEVATION = "{cells} at {rows}, gauge zeroed at {elevation}";
    FACE_GAUGE_STATION = "{cells} at {rows}, gauge zeroed at {pressure} of air";
    FACE_ABSOLUTE = "{cells} at {rows}, pressures absolute";
    FACE_FLAMMABLE = "flammable";
    FACE_TOXIC = "toxic";
    FACE_HIGH_PRESSURE = "high pressure";
    FACE_OXIDIZING = "feeds fire";
    FACE_NO_CLASS_HAZARD = "no class: treat as flammable and toxic";
    FACE_OF = "{hazard}: {names}";
    FACE_ESTIMATED = "estimated pairs: {count}, about ±3 K";
    FACE_ESTIMATED_FITTED = "estimated pairs fitted to measurements: {count}, ±{difference}";
    FACE_UNLISTED = "composition not listed: {composition}";
    FACE_NOT_FIXED = "composition not fixed by the standard";
    FACE_EXTRAPOLATED = "below {limit} extrapolated";
    FACE_CRITICAL = "critical point {temperature}, {pressure}";
    FACE_SYMBOL_FLAMMABLE = "warning triangle with a flame, drawn after ISO 7010";
    FACE_SYMBOL_TOXIC = "warning triangle with a skull and bones, drawn after ISO 7010";
    BOX_SUPERHEAT = "target superheat";
    BOX_SUBCOOLING = "target subcooling";
    GAP_MARK = "–";
    VACUUM_MARK = "v";
    VACUUM_MARK_MEANS = "v: inches of mercury (0 °C) of vacuum below that.";
    REASON_TABLE_ENDS = "The table ends at the critical point of {refrigerant}, {temperature}, {pressure}.";
    REASON_TABLE_BEGINS = "The table begins where the saturation line of {refrigerant} begins, at {limit}.";
    GAS_COOLER = "Gas cooler: pressure of best COP";
    CARD_OUTLET = "outlet {unit}";
    GAS_COOLER_BASIS = "Gas cooler pressures of best COP: evaporating at {evaporating}, superheat {superheat}, isentropic efficiency {percent} %, one stage, without pressure drop or suction-line heat exchanger. Never above what the system is rated for.";
    SOURCES_LINE = "Equations: {papers}; all: zeotrope show {names}, version {version}.";
    SOURCES_OF_MANY = "Equations: {papers}; all: zeotrope show NAME, version {version}.";
    LEGIBLE = "legible to {distance} m";
    TURN_OVER = "Print on both sides, turn over the long edge; cut along the marks.";
    CODE_MEANS = "QR code: {text}";
    CONTENTS = "Cards of this set";
    CONTENTS_COMPOSITION = "composition, % by mass";
    CONTENTS_HAZARD = "hazard";
}
