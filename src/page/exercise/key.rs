//! The key of each task: answers, and what is accepted of them.

use super::super::cycle::plot as cycle_plot;
use super::super::{Block, Document, Figures, Sheet, Style, picture};
use super::{Rows, TABLE, shown};
use crate::chart::exercise::{CoilTask, CycleTask, LensTask, READ_OFF, ReadingTask, Task};
use crate::chart::picture::{Picture, Plane};
use crate::page::words::Phrase;
use crate::page::words::exercise::*;
use crate::process::cycle::Place;
use crate::service::measurement::decision::Verdict;
use crate::service::reading::superheat_subcooling::Measure;

pub(super) fn task(document: &mut Document, (place, task): (usize, &Task), style: &Style) {
    let field = |name: &str| format!("tasks/{place}/{name}");
    let rows = Rows {
        style,
        rows: Vec::new(),
        figures: Figures::default(),
    };
    match task {
        Task::Reading(task) => reading(document, task, (rows, &field)),
        Task::Lens(task) => lens(document, task, (rows, &field)),
        Task::Coil(task) => coil(document, task, (rows, &field)),
        Task::Cycle(task) => cycle(document, task, rows),
    }
}

/// Rows of a key, and the path of a field of its task.
type Key<'a, 'f> = (Rows<'a>, &'f dyn Fn(&str) -> String);

fn reading(document: &mut Document, task: &ReadingTask, (mut rows, field): Key<'_, '_>) {
    let style = rows.style;
    let (phrase, name, hint) = match task.reading.measure {
        Measure::Superheat => (
            EXERCISE_RESULT_SUPERHEAT,
            "superheat_K",
            EXERCISE_BRANCH_DEW,
        ),
        Measure::Subcooling => (
            EXERCISE_RESULT_SUBCOOLING,
            "subcooling_K",
            EXERCISE_BRANCH_BUBBLE,
        ),
    };
    let table = format!("±{}", style.degrees(TABLE, 1));
    let degrees = |kelvin: f64| style.degrees(kelvin, 1);
    rows.add(
        style.word(EXERCISE_SATURATION),
        style.temperature(task.reading.saturation),
        table.clone(),
        (field("saturation_temperature_K"), task.reading.saturation),
    );
    let value = match task.half() {
        Some(half) => format!("{} ± {}", degrees(task.reading.value), degrees(half)),
        None => degrees(task.reading.value),
    };
    rows.add(
        style.word(phrase),
        value,
        table.clone(),
        (field(name), task.reading.value),
    );
    if let Some(wrong) = task.wrong {
        rows.add(
            style.word(EXERCISE_OTHER),
            degrees(wrong),
            table.clone(),
            (field("wrong_branch_K"), wrong),
        );
        let off = degrees(wrong - task.reading.value);
        rows.rows.push(vec![style.word(EXERCISE_OFF), off, table]);
    }
    if task.target.is_some() {
        let verdict = style.word(match task.verdict {
            Some(Verdict::Within) => EXERCISE_WITHIN,
            Some(Verdict::Outside) => EXERCISE_OUTSIDE,
            Some(Verdict::NotDecidable) => EXERCISE_NOT_DECIDABLE,
            None => EXERCISE_VERDICT_UNKNOWN,
        });
        rows.rows
            .push(vec![style.word(EXERCISE_VERDICT), verdict, String::new()]);
    }
    if let Some(drawn) = task.drawn {
        rows.add(
            style.word(EXERCISE_DRAWN),
            degrees(drawn),
            String::new(),
            (field("drawn_K"), drawn),
        );
    }
    rows.into(document);
    document.lines(vec![style.word(hint)]);
}

/// What is accepted of a temperature read from a picture.
fn of_axis(picture: &Picture, style: &Style) -> String {
    let unit = style.units.temperature;
    let size = READ_OFF * (picture.y.to - picture.y.from);
    format!("±{} {}", style.fixed(size, 1), unit.difference_symbol())
}

fn lens(document: &mut Document, task: &LensTask, (mut rows, field): Key<'_, '_>) {
    let style = rows.style;
    let accept = of_axis(&task.solved, style);
    let (bubble, dew) = (&task.found.bubble, &task.found.dew);
    let ends = [
        (EXERCISE_BUBBLE, "bubble_temperature_K", bubble),
        (EXERCISE_DEW, "dew_temperature_K", dew),
    ];
    for (phrase, name, point) in ends {
        if let Some(point) = point {
            rows.add(
                style.word(phrase),
                style.temperature(point.temperature),
                accept.clone(),
                (field(name), point.temperature),
            );
        }
    }
    if let Some(glide) = task.found.glide {
        rows.add(
            style.word(EXERCISE_GLIDE),
            style.degrees(glide, 2),
            accept,
            (field("glide_K"), glide),
        );
    }
    let shares = [
        (
            EXERCISE_FIRST_VAPOR,
            "first_vapor_mass_fractions/0",
            bubble.as_ref().map(|point| &point.vapor),
        ),
        (
            EXERCISE_LAST_LIQUID,
            "last_liquid_mass_fractions/0",
            dew.as_ref().map(|point| &point.liquid),
        ),
    ];
    for (phrase, name, phase) in shares {
        if let Some(share) = phase.and_then(|phase| phase.mass_fractions.first()) {
            rows.add(
                style.word(phrase),
                style.fixed(100.0 * share, 1),
                format!("±{}", style.fixed(100.0 * READ_OFF, 0)),
                (field(name), *share),
            );
        }
    }
    rows.into(document);
    let plot = picture::plot(&task.solved, style);
    let title = plot.title.clone();
    document.blocks.push(shown(plot, &title));
}

fn coil(document: &mut Document, task: &CoilTask, (mut rows, field): Key<'_, '_>) {
    let style = rows.style;
    let accept = format!("±{}", style.degrees(TABLE, 1));
    for (at, station) in task.coil.stations.iter().enumerate().step_by(2) {
        let share = style.fixed(100.0 * station.position, 0);
        rows.add(
            format!("{share} {}", style.word(EXERCISE_SHARE_OF_HEAT)),
            style.temperature(station.temperature),
            accept.clone(),
            (field(&format!("along/{at}/1")), station.temperature),
        );
    }
    if let Some(inlet) = &task.coil.inlet {
        rows.add(
            style.word(EXERCISE_QUALITY),
            style.fixed(inlet.quality, 3),
            format!("±{}", style.fixed(READ_OFF, 2)),
            (field("inlet_quality"), inlet.quality),
        );
    }
    rows.into(document);
    let why: Phrase = match task.coil.glide.in_kelvin() > 0.0 {
        true => EXERCISE_COIL_BECAUSE,
        false => EXERCISE_COIL_PURE,
    };
    document.lines(vec![style.word(why)]);
    let plot = picture::plot(&task.solved, style);
    let title = plot.title.clone();
    document.blocks.push(shown(plot, &title));
}

fn cycle(document: &mut Document, task: &CycleTask, mut rows: Rows<'_>) {
    let style = rows.style;
    let Some(entry) = task.solved.entries.first() else {
        return;
    };
    let Ok(found) = &entry.found else { return };
    let unit = style.units.enthalpy;
    let read = |joule: f64| joule / unit.joule_per_kg();
    let size = read(
        READ_OFF
            * (task.asked.across.si(task.asked.x.to) - task.asked.across.si(task.asked.x.from)),
    );
    let accept = format!("±{} {}", style.fixed(size, 0), unit.typed());
    let of = |joule: f64| format!("{} {}", style.fixed(read(joule), 1), unit.typed());
    let places = [
        ("1", Place::Suction),
        ("2", Place::Discharge),
        ("4", Place::EvaporatorInlet),
    ];
    for (number, place) in places {
        if let Some(point) = found.points.iter().find(|point| point.place == place) {
            let label = style.say(EXERCISE_ENTHALPY_AT, &[("point", number)]);
            rows.rows
                .push(vec![label, of(point.enthalpy), accept.clone()]);
        }
    }
    for (phrase, value) in [(EXERCISE_EFFECT, found.effect), (EXERCISE_WORK, found.work)] {
        rows.rows
            .push(vec![style.word(phrase), of(value), accept.clone()]);
    }
    let off = found.cop_cooling * (size / read(found.work) + size / read(found.effect));
    rows.rows.push(vec![
        style.word(EXERCISE_COP),
        style.fixed(found.cop_cooling, 2),
        format!("±{}", style.fixed(off, 2)),
    ]);
    rows.into(document);
    let name = task.refrigerant.designation();
    let drawn = std::iter::once((entry, &task.refrigerant));
    let plot = cycle_plot(Plane::PressureEnthalpy, drawn, name, style).0;
    document.blocks.push(Block::Picture(plot));
}

/// The rows of all keys for a spreadsheet.
pub(super) fn sheet(document: &Document) -> Sheet {
    let row = |figure: &super::super::Figure| {
        vec![
            figure.field.clone(),
            figure.label.clone(),
            figure.datum.cell(),
        ]
    };
    Sheet {
        heads: ["field", "quantity", "value"].map(str::to_owned).to_vec(),
        rows: document.figures.iter().map(row).collect(),
    }
}
