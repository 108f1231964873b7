//! Tasks as the student sees them: what is given, and blanks.

use super::super::words::charts::CHART_BLANK;
use super::super::{Block, Document, Style, Table, picture};
use super::{blanks, pressure, share_of, shown, table, temperature, written};
use crate::chart::exercise::{CoilTask, CycleTask, Exercise, LensTask, ReadingTask, Task};
use crate::page::parts::composition;
use crate::page::words::exercise::*;
use crate::process::cycle::CycleAnswer;
use crate::service::reading::superheat_subcooling::Measure;
use crate::units::{Pressure, TemperatureDifference};

pub(super) fn task(document: &mut Document, task: &Task, all: &Exercise, style: &Style) {
    match task {
        Task::Reading(task) => reading(document, task, style),
        Task::Lens(task) => lens(document, task, all, style),
        Task::Coil(task) => coil(document, task, style),
        Task::Cycle(task) => cycle(document, task, style),
    }
}

fn reading(document: &mut Document, task: &ReadingTask, style: &Style) {
    let (question, result) = match task.reading.measure {
        Measure::Superheat => (EXERCISE_SUPERHEAT, EXERCISE_RESULT_SUPERHEAT),
        Measure::Subcooling => (EXERCISE_SUBCOOLING, EXERCISE_RESULT_SUBCOOLING),
    };
    let pressure = shown_pressure(task.reading.pressure, style);
    let line = temperature(task.reading.line, 1, style);
    let given = [
        ("refrigerant", task.refrigerant.as_str()),
        ("pressure", &pressure),
        ("line", &line),
    ];
    let mut lines = vec![style.say(question, &given)];
    let mut names = vec![EXERCISE_SATURATION, result];
    if task.asks_wrong {
        lines.push(style.word(EXERCISE_WRONG));
        names.extend([EXERCISE_OTHER, EXERCISE_OFF]);
    }
    if let Some(target) = &task.target {
        let (value, band) = (
            style.degrees(target.value, 1),
            style.degrees(target.band, 1),
        );
        let given = [("target", value.as_str()), ("band", &band)];
        lines.push(style.say(EXERCISE_BAND, &given));
        names.push(EXERCISE_VERDICT);
    }
    document.lines(lines);
    let names = names.into_iter().map(|name| style.word(name));
    blanks(document, names.collect(), style);
}

/// A pressure as a gauge shows it.
fn shown_pressure(pressure: Pressure, style: &Style) -> String {
    let unit = style.units.gauge;
    let least = if style.units.feet { 1 } else { 2 };
    let value = written(unit.read(pressure, &style.site), least, style);
    format!("{value} {}", unit.words())
}

fn lens(document: &mut Document, task: &LensTask, all: &Exercise, style: &Style) {
    let pressure = pressure(task.pressure.value, task.pressure.unit, style);
    let mut all = all.refrigerants.iter();
    let mixture = all.find(|one| one.designation() == task.refrigerant);
    let composition = mixture.map(|one| composition(one, style));
    let given = [
        ("refrigerant", task.refrigerant.as_str()),
        ("composition", composition.as_deref().unwrap_or_default()),
        ("pressure", &pressure),
    ];
    document.lines(vec![style.say(EXERCISE_LENS, &given)]);
    let plot = picture::plot(&task.asked, style);
    let title = plot.title.clone();
    document.blocks.push(shown(plot, &title));
    let points = [EXERCISE_BUBBLE, EXERCISE_DEW, EXERCISE_GLIDE].map(|name| style.word(name));
    let phases =
        [EXERCISE_FIRST_VAPOR, EXERCISE_LAST_LIQUID].map(|name| share_of(name, &task.asked, style));
    blanks(document, points.into_iter().chain(phases).collect(), style);
}

fn coil(document: &mut Document, task: &CoilTask, style: &Style) {
    let pressure = pressure(task.coil.pressure, task.pressure_unit, style);
    let from = task.coil.inlet.as_ref().map(|inlet| {
        let liquid = temperature(inlet.liquid_temperature, 0, style);
        style.say(EXERCISE_COIL_INLET, &[("liquid", &liquid)])
    });
    let given = [
        ("refrigerant", task.refrigerant.as_str()),
        ("pressure", &pressure),
        ("from", from.as_deref().unwrap_or_default()),
    ];
    document.lines(vec![
        style.say(EXERCISE_COIL, &given),
        style.word(EXERCISE_COIL_WHY),
    ]);
    document.blocks.extend(table::boiling(task, style));
    let unit = style.units.temperature.symbol();
    let stations = task.coil.stations.iter().step_by(2);
    let rows = stations.map(|station| {
        let share = style.fixed(100.0 * station.position, 0);
        vec![share, style.word(CHART_BLANK)]
    });
    document.blocks.push(Block::Table(Table {
        heads: vec![style.word(EXERCISE_SHARE_OF_HEAT), unit.to_owned()],
        rows: rows.collect(),
        ..Table::default()
    }));
    let plot = picture::blank(&picture::plot(&task.solved, style), style);
    let title = plot.title.clone();
    document.blocks.push(shown(plot, &title));
}

fn cycle(document: &mut Document, task: &CycleTask, style: &Style) {
    let unit = style.units.temperature;
    let degrees = |value: TemperatureDifference| {
        let value = written(unit.read_difference(value), 0, style);
        format!("{value} {}", unit.difference_symbol())
    };
    let [evaporating, condensing] = task.levels.map(|at| temperature(at, 0, style));
    let found = task.solved.entries.first();
    let found = found.and_then(|entry| entry.found.as_ref().ok());
    let at = |read: fn(&CycleAnswer) -> Pressure| {
        let pressure = found.map(|found| style.pressure(read(found), style.units.absolute));
        pressure.unwrap_or_default()
    };
    let [low, high] = [
        at(|found| found.evaporating_pressure),
        at(|found| found.condensing_pressure),
    ];
    let [superheat, subcooling] = task.differences.map(degrees);
    let compression = match task.efficiency {
        1.0 => style.word(EXERCISE_ISENTROPIC),
        other => {
            let efficiency = written(other, 0, style);
            style.say(EXERCISE_EFFICIENCY, &[("efficiency", &efficiency)])
        }
    };
    let given = [
        ("refrigerant", task.refrigerant.designation()),
        ("evaporating", &evaporating),
        ("condensing", &condensing),
        ("superheat", &superheat),
        ("subcooling", &subcooling),
        ("low", &low),
        ("high", &high),
        ("compression", &compression),
    ];
    document.lines(vec![style.say(EXERCISE_CYCLE, &given)]);
    let plot = picture::plot(&task.asked, style);
    let title = plot.title.clone();
    document.blocks.push(shown(plot, &title));
    let point = |number: &str| style.say(EXERCISE_ENTHALPY_AT, &[("point", number)]);
    let results = [EXERCISE_EFFECT, EXERCISE_WORK, EXERCISE_COP].map(|name| style.word(name));
    let names = ["1", "2", "4"].map(point).into_iter().chain(results);
    blanks(document, names.collect(), style);
}
