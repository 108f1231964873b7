//! Both sides of a system read at once.

use super::warning::told;
use super::words::{Phrase, readings::*};
use super::{Datum, Document, Figures, Sheet, Style, cautions, parts, readings};
use crate::Warning;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::service::measurement::kit::Instrument;
use crate::service::measurement::uncertainty::Uncertainty;
use crate::service::reading::both_sides::{BothSides, Doubt, Machine, Mode, SideFound};
use crate::service::reading::log::LogRow;
use crate::service::reading::superheat_subcooling::ReadingMeaning;
use crate::service::sheet::Value;

/// A side's name, key, measure's key and words.
struct Side<'a> {
    found: &'a SideFound,
    instrument: &'a Instrument,
    key: &'static str,
    name: Phrase,
    pressure: Phrase,
    checked: Phrase,
    uncertainty: Phrase,
}

fn sides(answer: &BothSides) -> Vec<Side<'_>> {
    let suction = answer.suction.as_ref().map(|found| Side {
        found,
        instrument: &answer.kit.low,
        key: "suction",
        name: SUCTION,
        pressure: SUCTION_PRESSURE,
        checked: SUCTION_CHECKED,
        uncertainty: UNCERTAINTY_SUCTION,
    });
    let liquid = answer.liquid.as_ref().map(|found| Side {
        found,
        instrument: &answer.kit.high,
        key: "liquid",
        name: LIQUID_SIDE,
        pressure: LIQUID_PRESSURE,
        checked: LIQUID_CHECKED,
        uncertainty: UNCERTAINTY_LIQUID,
    });
    suction.into_iter().chain(liquid).collect()
}

/// The page of both sides.
pub fn both_sides(
    answer: &BothSides,
    refrigerant: &Refrigerant,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let mut warnings = told(&warnings, style);
    let sides = sides(answer);
    for one in &sides {
        let measure = one.found.side.reading.as_ref().map(|one| one.measure);
        if let (Some(error), Some(measure)) = (&one.found.unbounded, measure) {
            warnings.push(readings::unbounded(measure, error, style));
        }
    }
    let mut document = Document::new(answer, warnings, cautions(&[refrigerant], None, style));
    let name = answer.identity.refrigerant.as_str();
    document.title(style.say(BOTH_TITLE, &[("refrigerant", name)]));
    let (mut verdicts, mut lines) = (Vec::new(), Vec::new());
    for one in &sides {
        let (found, reading) = (one.found, one.found.side.reading.as_ref());
        let pair = found.decision.as_ref().zip(reading);
        let told = pair.map(|(decision, reading)| {
            readings::decision(decision, reading, found.uncertainty.as_ref(), style)
        });
        let mut told = told.unwrap_or_default().into_iter();
        verdicts.extend(told.next());
        lines.extend(told);
    }
    for one in &sides {
        let Some(reading) = &one.found.side.reading else {
            continue;
        };
        let expanded = one.found.expanded();
        let is_usual = reading.meaning(expanded) == ReadingMeaning::OnePhase;
        let meaning = readings::meaning(reading, expanded, style);
        if is_usual { &mut lines } else { &mut verdicts }.push(meaning);
    }
    let marks = answer.marks();
    let marks = marks.iter().map(|mark| {
        let mark = style.word(match mark {
            Doubt::PressuresNotApart => MARK_PRESSURES_NOT_APART,
            Doubt::LinesSwapped => MARK_LINES_SWAPPED,
            Doubt::SuctionTooCold => MARK_SUCTION_TOO_COLD,
            Doubt::LiquidTooHot => MARK_LIQUID_TOO_HOT,
            Doubt::CondensingBelowAir => MARK_CONDENSING_BELOW_AIR,
            Doubt::EvaporatingAboveAir => MARK_EVAPORATING_ABOVE_AIR,
        });
        style.say(CHECK_AGAIN, &[("mark", &mark)])
    });
    let is_supercritical = sides.iter().any(|one| one.found.side.is_supercritical);
    let above = is_supercritical.then(|| style.say(GAS_COOLER_SIDE, &[("refrigerant", name)]));
    let mode = match (answer.looks_like_heating, answer.machine.mode) {
        (true, _) => Some(style.word(LOOKS_LIKE_HEATING)),
        (false, Mode::Heating) => Some(style.word(COILS_HEATING)),
        (false, Mode::Cooling) => None,
    };
    verdicts.extend(above.into_iter().chain(marks).chain(mode));
    document.lines(verdicts);
    let columns = sides
        .iter()
        .map(|one| (style.word(one.name), column(one, style)));
    document.columns(Vec::new(), columns.collect());
    document.pairs(figures(answer, &sides, style));
    document.lines(lines);
    for one in &sides {
        if let Some(found) = &one.found.uncertainty {
            parts::notes(&mut document, vec![style.word(one.uncertainty)], style);
            readings::uncertainty(&mut document, found, &format!("{}/", one.key), style);
        }
    }
    let facts = Facts::of_refrigerant(refrigerant);
    let other = sides.iter().find_map(|one| one.found.read.other_air());
    let foot = style.of_gauge(other);
    parts::foot(&mut document, &facts, None, Vec::new(), &foot);
    let found = [&answer.suction, &answer.liquid]
        .map(|side| side.as_ref().and_then(|side| side.uncertainty.as_ref()));
    let mut row = Figures::default();
    row.cell("refrigerant", name);
    for (head, datum) in cells(&answer.machine, found, &answer.marks()) {
        row.cell(head, datum);
    }
    document.sheet = Sheet::of_rows([row.as_slice()]);
    document
}

fn column(one: &Side<'_>, style: &Style) -> Figures {
    let side = &one.found.side;
    let reading = side.reading.as_ref();
    let field = |key: &str| format!("{}/{key}", one.key);
    let mut figures = Figures::default();
    let label = style.word(SUPERHEAT_SUBCOOLING);
    match reading {
        Some(reading) => figures.add(
            label,
            readings::value(reading.value, one.found.uncertainty.as_ref(), style),
            field(&format!("{}_K", reading.measure.word())),
            reading.value,
        ),
        None => figures.remark(label, "-"),
    }
    figures.named(
        style,
        PRESSURE_ABSOLUTE_READ,
        style.pressure(
            side.pressure,
            style.of_reading(one.found.read.unit).units.absolute,
        ),
        field("pressure_Pa"),
        side.pressure,
    );
    for (label, key, value) in [
        (BUBBLE_TEMPERATURE, "bubble_temperature_K", side.bubble),
        (DEW_TEMPERATURE, "dew_temperature_K", side.dew),
        (MEAN, "mean_temperature_K", side.mean()),
        (LINE, "line_temperature_K", side.line),
    ] {
        figures.temperature(style, label, field(key), value);
    }
    figures
}

fn figures(answer: &BothSides, sides: &[Side<'_>], style: &Style) -> Figures {
    let machine = &answer.machine;
    let mut figures = Figures::default();
    for one in sides {
        let read = &one.found.read;
        let sum = readings::sum(read, one.instrument, None, read.pressure, style);
        let field = format!("{}/pressure_Pa", one.key);
        figures.named(style, one.pressure, sum, field, read.pressure);
    }
    if let Some(ratio) = machine.pressure_ratio() {
        let mut text = style.fixed(ratio, 2);
        if let Some(expanded) = answer.ratio_expanded {
            text = format!("{text} ± {}", style.fixed(expanded, 2));
        }
        figures.named(style, PRESSURE_RATIO, text, "pressure_ratio", ratio);
    }
    if let Some(mean) = answer.inlet_mean {
        figures.temperature(style, INLET_MEAN, "evaporating_inlet_dew_mean_K", mean);
    }
    let [condenser, evaporator, difference, gas_cooler] = match machine.mode {
        Mode::Cooling => [
            (OVER_AMBIENT, "condensing_over_ambient_K"),
            (OVER_EVAPORATING, "air_over_evaporating_K"),
            (AIR_DIFFERENCE, "air_difference_K"),
            (GAS_COOLER_APPROACH, "gas_cooler_approach_K"),
        ],
        Mode::Heating => [
            (CONDENSING_OVER_RETURN, "condensing_over_return_air_K"),
            (AMBIENT_OVER_EVAPORATING, "ambient_over_evaporating_K"),
            (AIR_WARMED, "air_difference_K"),
            (GAS_COOLER_APPROACH_HEATING, "gas_cooler_approach_K"),
        ],
    };
    if let Some(outlet) = machine.gas_cooler_outlet() {
        let field = "liquid/gas_cooler_outlet_temperature_K";
        figures.temperature(style, GAS_COOLER_OUTLET, field, outlet);
    }
    let wet_bulb = (OVER_WET_BULB, "condensing_over_wet_bulb_K");
    for ((label, key), value, found) in [
        (wet_bulb, machine.condensing_over_wet_bulb(), &None),
        (condenser, machine.condensing_over_air(), &answer.over_air),
        (gas_cooler, machine.gas_cooler_approach(), &None),
        (
            evaporator,
            machine.air_over_evaporating(),
            &answer.over_evaporating,
        ),
        (difference, machine.air_difference(), &None),
    ] {
        let Some(value) = value else { continue };
        let mut text = style.degrees(value, 1);
        if let Some(found) = found {
            text = format!("{text}, {}", readings::sides(found.expanded, style));
        }
        figures.named(style, label, text, key, value);
    }
    if !answer.kit.name.is_empty() {
        let mut text = answer.kit.name.clone();
        for one in sides {
            if let Some(correction) = &one.instrument.correction {
                text.push_str(&style.say(one.checked, &[("date", &correction.checked)]));
            }
        }
        figures.remark(style.word(KIT), text);
    }
    figures
}

/// Names of the columns that a row of a log adds, with their units.
pub fn log_heads() -> [&'static str; 24] {
    cells(&Machine::default(), [None; 2], &[]).map(|(head, _)| head)
}

/// The values of a row of a log, under the names of [`log_heads`].
pub fn log_values(row: &LogRow) -> impl Iterator<Item = Value> {
    let sure = row.uncertainty.each_ref().map(Option::as_ref);
    let cells = cells(&row.machine, sure, &row.marks());
    cells.into_iter().map(|(_, datum)| datum.into())
}

/// What a spreadsheet has of both sides: names of the columns and their values.
pub(crate) fn cells(
    machine: &Machine,
    found: [Option<&Uncertainty>; 2],
    marks: &[Doubt],
) -> [(&'static str, Datum); 24] {
    let sides = [&machine.suction, &machine.liquid].map(Option::as_ref);
    let [low, high] = found;
    let half = |found: Option<&Uncertainty>| Datum::from(found.map(Uncertainty::expanded_half));
    let worst = |found: Option<&Uncertainty>| Datum::from(found.map(Uncertainty::worst_case));
    let standard = |found: Option<&Uncertainty>| Datum::from(found.map(|one| one.standard));
    let [bubble, other_bubble] = sides.map(|side| Datum::from(side.and_then(|one| one.bubble)));
    let [dew, other_dew] = sides.map(|side| Datum::from(side.and_then(|one| one.dew)));
    let cooling = |value: Option<f64>| value.filter(|_| machine.mode == Mode::Cooling).into();
    let heating = |value: Option<f64>| value.filter(|_| machine.mode == Mode::Heating).into();
    let (over_air, air_over) = (
        machine.condensing_over_air(),
        machine.air_over_evaporating(),
    );
    let [evaporating, condensing] = sides.map(|side| Datum::from(side.and_then(|one| one.mean())));
    [
        ("suction_bubble_temperature_K", bubble),
        ("suction_dew_temperature_K", dew),
        ("superheat_K", machine.superheat().into()),
        ("superheat_standard_uncertainty_K", standard(low)),
        ("superheat_expanded_uncertainty_K", half(low)),
        ("superheat_worst_case_K", worst(low)),
        ("liquid_bubble_temperature_K", other_bubble),
        ("liquid_dew_temperature_K", other_dew),
        ("subcooling_K", machine.subcooling().into()),
        ("subcooling_standard_uncertainty_K", standard(high)),
        ("subcooling_expanded_uncertainty_K", half(high)),
        ("subcooling_worst_case_K", worst(high)),
        ("evaporating_mean_temperature_K", evaporating),
        ("condensing_mean_temperature_K", condensing),
        ("pressure_ratio", machine.pressure_ratio().into()),
        ("condensing_over_ambient_K", cooling(over_air)),
        ("condensing_over_return_air_K", heating(over_air)),
        ("air_over_evaporating_K", cooling(air_over)),
        ("ambient_over_evaporating_K", heating(air_over)),
        (
            "gas_cooler_outlet_temperature_K",
            machine.gas_cooler_outlet().into(),
        ),
        (
            "gas_cooler_approach_K",
            machine.gas_cooler_approach().into(),
        ),
        (
            "condensing_over_wet_bulb_K",
            machine.condensing_over_wet_bulb().into(),
        ),
        ("air_difference_K", machine.air_difference().into()),
        (
            "marks",
            marks
                .iter()
                .map(|one| one.name())
                .collect::<Vec<_>>()
                .join("; ")
                .into(),
        ),
    ]
}
