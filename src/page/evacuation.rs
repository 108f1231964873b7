//! A vacuum, a temperature or a rise test against water and ice.

use super::warning::told;
use super::words::vessels_tests::*;
use super::{Document, Figures, Style, cautions, parts};
use crate::Warning;
use crate::service::hazard::hazards::Work;
use crate::service::vessel::evacuation::{Evacuation, SOURCE, TRIPLE_PRESSURE, Water, WaterPoint};
use crate::service::vessel::rise::{Held, Resolution, Rise, RiseShape};
use crate::units::{Pressure, PressureUnit, significant};

/// The page of an evacuation.
pub fn evacuation(answer: &Evacuation, warnings: Vec<Warning>, style: &Style) -> Document {
    let hazards = cautions(&[], Some(Work::Evacuation), style);
    let mut document = Document::new(answer, told(&warnings, style), hazards);
    document.title(style.word(VACUUM_TITLE));
    let mut list = Figures::default();
    if let Some(vacuum) = answer.vacuum {
        of_vacuum(&mut list, vacuum, style);
    }
    if let Some(water) = answer.water {
        of_water(&mut list, water, answer.over_saturation(), style);
    }
    if let Some(rise) = &answer.rise {
        of_rise(&mut list, rise, style);
    }
    document.pairs(list);
    document.sheet_of_figures();
    parts::warnings(&mut document, style);
    let mut notes = Vec::new();
    // One inch of mercury absolute: above it a gauge in inHg still tells something.
    let inch = PressureUnit::InchesOfMercuryAbsolute.pascal();
    if answer
        .vacuum
        .is_some_and(|vacuum| vacuum.pressure.in_pascal() < inch)
    {
        let inches = PressureUnit::InchesOfMercuryVacuum;
        let micron = 0.5 * inches.pascal() / PressureUnit::Micron.pascal();
        let perfect = inches.read(Pressure::pascal(0.0), &style.site);
        let blanks = [
            ("micron", style.fixed(micron, 0)),
            ("perfect", style.fixed(perfect, 2)),
        ];
        let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
        notes.push(style.say(VACUUM_INCHES, &blanks));
    }
    if answer.rise.is_some() {
        notes.push(style.word(RISE_BOUNDS));
    }
    parts::notes(&mut document, notes, style);
    document.hazards();
    let source = style.say(VACUUM_SOURCE, &[("source", SOURCE)]);
    parts::notes(&mut document, vec![source], style);
    document
}

fn of_vacuum(list: &mut Figures, point: WaterPoint, style: &Style) {
    let text = everywhere(point.pressure, style);
    list.named(style, VACUUM, text, "pressure_Pa", point.pressure);
    let (label, text) = match point.water {
        Water::Liquid => (VACUUM_WATER_BOILS, style.word(VACUUM_LIQUID)),
        Water::Ice => {
            let triple = everywhere(TRIPLE_PRESSURE, style);
            let text = style.say(VACUUM_ICE, &[("pressure", &triple)]);
            (VACUUM_ICE_SUBLIMES, text)
        }
    };
    list.temperature(
        style,
        label,
        "water_saturation_temperature_K",
        point.temperature,
    );
    list.named(style, VACUUM_WATER_THERE, text, "water", point.water.name());
}

fn of_water(list: &mut Figures, point: WaterPoint, over_saturation: Option<f64>, style: &Style) {
    list.temperature(
        style,
        VACUUM_TEMPERATURE,
        "temperature_K",
        point.temperature,
    );
    let label = style.word(match point.water {
        Water::Liquid => VACUUM_WATER_SATURATION,
        Water::Ice => VACUUM_ICE_SATURATION,
    });
    let (text, field) = (
        everywhere(point.pressure, style),
        "water_saturation_pressure_Pa",
    );
    list.add(label, text, field, point.pressure);
    let (label, field) = (VACUUM_OVER_SATURATION, "vacuum_over_saturation");
    list.known(style, label, field, over_saturation, |ratio| {
        let phrase = if ratio < 1.0 {
            VACUUM_WATER_LEAVES
        } else {
            VACUUM_WATER_STAYS
        };
        let ratio = style.sign(significant(ratio, 3));
        style.say(phrase, &[("ratio", &ratio)])
    });
}

fn of_rise(list: &mut Figures, rise: &Rise, style: &Style) {
    let micron = |pressure| vacuum(pressure, PressureUnit::Micron, style);
    of_hold(list, rise, style);
    let shape = style.word(match rise.shape {
        RiseShape::Straight => RISE_STRAIGHT,
        RiseShape::LevelsAtWater => RISE_LEVELS_AT_WATER,
        RiseShape::Levels => RISE_LEVELS,
        RiseShape::Between => RISE_BETWEEN,
        RiseShape::None => RISE_NONE,
        RiseShape::TooLittle => RISE_TOO_LITTLE,
        RiseShape::TooFew => RISE_TOO_FEW,
    });
    list.named(style, RISE_SHAPE, shape, "shape", rise.shape.name());
    let (first, last) = (rise.first, rise.last);
    let label = style.word(RISE_FIRST);
    list.add(label, micron(first), "first_pressure_Pa", first);
    let minutes = style.sign(significant(rise.duration / 60.0, 3));
    let blanks = [("pressure", micron(last)), ("minutes", minutes)];
    let blanks = blanks.each_ref().map(|(name, text)| (*name, text.as_str()));
    let text = style.say(RISE_AFTER, &blanks);
    list.named(style, RISE_LAST, text, "last_pressure_Pa", last);
    list.cell("duration_s", rise.duration);
    let micron_of =
        |pascal: f64| style.sign(significant(pascal / PressureUnit::Micron.pascal(), 3));
    let texts = [rise.total(), rise.rate() * 3600.0].map(micron_of);
    let blanks = [("rise", texts[0].as_str()), ("rate", &texts[1])];
    let label = style.word(RISE_TOTAL);
    list.add(
        label,
        style.say(RISE_AND_RATE, &blanks),
        "rise_Pa",
        rise.total(),
    );
    list.cell("rise_rate_Pa_s", rise.rate());
    match rise.resolution {
        Some(resolution) => {
            let phrase = match resolution {
                Resolution::Given(_) => RISE_RESOLUTION_GIVEN,
                Resolution::Written(_) => RISE_RESOLUTION_WRITTEN,
            };
            let step = micron_of(resolution.step().in_pascal());
            let text = style.say(phrase, &[("step", &step)]);
            let label = style.word(RISE_RESOLUTION);
            list.add(label, text, "resolution_Pa", resolution.step());
        }
        None => list.cell("resolution_Pa", None::<f64>),
    }
    let first = rise.slopes.map(|slopes| slopes.first);
    let last = rise.slopes.map(|slopes| slopes.last);
    for (label, field, slope) in [
        (RISE_FIRST_SLOPE, "first_slope_Pa_s", first),
        (RISE_LAST_SLOPE, "last_slope_Pa_s", last),
    ] {
        list.known(style, label, field, slope, |slope| {
            let figure = slope * 60.0 / PressureUnit::Micron.pascal();
            format!("{} micron/min", style.sign(significant(figure, 3)))
        });
    }
    let (label, field) = (RISE_OVER_SATURATION, "last_over_saturation");
    list.known(style, label, field, rise.share_of_water, |share| {
        style.sign(significant(share, 3))
    });
}

/// Whether the rise stayed below its limit.
fn of_hold(list: &mut Figures, rise: &Rise, style: &Style) {
    let Some((hold, held)) = rise.hold else {
        return;
    };
    let minutes = |seconds: f64| style.sign(significant(seconds / 60.0, 3));
    let passed = match held {
        Held::Passed(time) => Some(time),
        _ => None,
    };
    let texts = [
        vacuum(hold.limit, PressureUnit::Micron, style),
        minutes(hold.time),
        minutes(passed.unwrap_or(rise.duration)),
    ];
    let [limit, time, at] = texts.each_ref().map(String::as_str);
    let blanks = [("limit", limit), ("hold", time), ("at", at)];
    let phrase = match held {
        Held::Below => HOLD_BELOW,
        Held::Passed(_) => HOLD_PASSED,
        Held::TooShort => HOLD_TOO_SHORT,
    };
    list.named(style, HOLD, style.say(phrase, &blanks), "held", held.name());
    list.cell("limit_Pa", hold.limit);
    list.cell("hold_s", hold.time);
    list.cell("passed_after_s", passed);
}

/// A vacuum in one unit, to four digits.
fn vacuum(pressure: Pressure, unit: PressureUnit, style: &Style) -> String {
    let figure = significant(unit.read(pressure, &style.site), 4);
    format!("{} {}", style.sign(figure), unit.typed())
}

/// A vacuum in every unit in which one is told, in one line.
fn everywhere(pressure: Pressure, style: &Style) -> String {
    let texts = PressureUnit::OF_VACUUM.iter();
    let texts: Vec<String> = texts.map(|unit| vacuum(pressure, *unit, style)).collect();
    texts.join(", ")
}
