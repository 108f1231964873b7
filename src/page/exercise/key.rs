//! The key of each task: answers, and what is accepted of them.

use super::super::cycle::plot as cycle_plot;
use super::super::{Block, Document, Figures, Sheet, Style, picture};
use super::{Rows, TABLE, share_of, shown};
use crate::chart::exercise::{CoilTask, CycleTask, LensTask, READ_OFF, ReadingTask, Task};
use crate::chart::picture::{Part, Picture, Plane};
use crate::page::words::Phrase;
use crate::page::words::exercise::*;
use crate::page::working::rounded;
use crate::process::cycle::Place;
use crate::service::measurement::decision::Verdict;
use crate::service::reading::superheat_subcooling::Measure;
use crate::units::TemperatureDifference;

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
    let unit = style.units.temperature;
    rows.add(
        style.word(EXERCISE_SATURATION),
        format!(
            "{} {}",
            style.fixed(unit.read(task.reading.saturation), 1),
            unit.symbol()
        ),
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
        // The difference of the two as they are printed.
        let [wrong, right] = [wrong, task.reading.value].map(|kelvin| {
            let size = unit.read_difference(TemperatureDifference::kelvin(kelvin));
            rounded(size, 1)
        });
        let off = format!(
            "{} {}",
            style.fixed(wrong - right, 1),
            unit.difference_symbol()
        );
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

/// What a reading of an axis may be off by: its first digit sets the decimals of answers.
#[derive(Clone, Copy)]
struct Accepted {
    size: f64,
    decimals: usize,
}

impl Accepted {
    fn new(size: f64) -> Self {
        let decimals = (-size.log10().floor()).clamp(0.0, 6.0) as usize;
        Self { size, decimals }
    }

    /// So many decimals that the answers as printed lead on to what is printed of them.
    fn closing(mut self, leads: impl Fn(usize) -> bool) -> Self {
        let most = self.decimals + 3;
        self.decimals = (self.decimals..most)
            .find(|decimals| leads(*decimals))
            .unwrap_or(most);
        self
    }

    /// Of a difference of two readings.
    fn of_two(self) -> Self {
        Self {
            size: std::f64::consts::SQRT_2 * self.size,
            ..self
        }
    }

    fn text(self, unit: &str, style: &Style) -> String {
        let decimals = self.decimals.min(Self::new(self.size).decimals + 1);
        let scale = 10f64.powi(decimals as i32);
        let up = (self.size * scale - 1e-6).ceil() / scale;
        format!("±{} {unit}", style.fixed(up, decimals))
            .trim_end()
            .to_owned()
    }
}

/// Whether a difference of figures as printed is the printed difference.
fn leads(from: f64, to: f64, decimals: usize) -> bool {
    let printed = rounded(to, decimals) - rounded(from, decimals);
    (printed - rounded(to - from, decimals)).abs() < 1e-9
}

/// How far a composition moves along a line of a lens while the temperature that it is read at stays
/// within what it may be off by: far where the line lies level, as at an azeotrope.
fn along(lens: &Picture, part: Part, (share, temperature): (f64, f64), size: f64) -> f64 {
    let lines = || lens.curves.iter().filter(|curve| curve.part == part);
    let points = || lines().flat_map(|curve| curve.points.iter().copied());
    let mut right: Vec<(f64, f64)> = points().filter(|point| point.0 > share).collect();
    let mut left: Vec<(f64, f64)> = points().filter(|point| point.0 < share).collect();
    right.sort_by(|a, b| a.0.total_cmp(&b.0));
    left.sort_by(|a, b| b.0.total_cmp(&a.0));
    let reach = |side: Vec<(f64, f64)>| {
        let mut last = (share, temperature);
        for point in side {
            if (point.1 - temperature).abs() > size {
                let bound = temperature + size.copysign(point.1 - temperature);
                let part = (bound - last.1) / (point.1 - last.1);
                return (last.0 + part * (point.0 - last.0) - share).abs();
            }
            last = point;
        }
        (last.0 - share).abs()
    };
    reach(right).max(reach(left))
}

fn lens(document: &mut Document, task: &LensTask, (mut rows, field): Key<'_, '_>) {
    let style = rows.style;
    let (bubble, dew) = (&task.found.bubble, &task.found.dew);
    let unit = style.units.temperature;
    let accept = Accepted::new(READ_OFF * (task.solved.y.to - task.solved.y.from));
    let accept = accept.closing(|decimals| match (bubble, dew) {
        (Some(bubble), Some(dew)) => leads(
            unit.read(bubble.temperature),
            unit.read(dew.temperature),
            decimals,
        ),
        _ => true,
    });
    let degrees = unit.difference_symbol();
    let ends = [
        (EXERCISE_BUBBLE, "bubble_temperature_K", bubble),
        (EXERCISE_DEW, "dew_temperature_K", dew),
    ];
    for (phrase, name, point) in ends {
        if let Some(point) = point {
            rows.add(
                style.word(phrase),
                format!(
                    "{} {}",
                    style.fixed(unit.read(point.temperature), accept.decimals),
                    unit.symbol()
                ),
                accept.text(degrees, style),
                (field(name), point.temperature),
            );
        }
    }
    if let Some(glide) = task.found.glide {
        rows.add(
            style.word(EXERCISE_GLIDE),
            style.degrees(glide, accept.decimals),
            accept.of_two().text(degrees, style),
            (field("glide_K"), glide),
        );
    }
    let shares = [
        (
            EXERCISE_FIRST_VAPOR,
            "first_vapor_mass_fractions/0",
            bubble
                .as_ref()
                .map(|point| (point.temperature, &point.vapor)),
            Part::Dew,
        ),
        (
            EXERCISE_LAST_LIQUID,
            "last_liquid_mass_fractions/0",
            dew.as_ref().map(|point| (point.temperature, &point.liquid)),
            Part::Bubble,
        ),
    ];
    for (phrase, name, point, line) in shares {
        let Some((temperature, phase)) = point else {
            continue;
        };
        if let Some(share) = phase.mass_fractions.first() {
            let across = 100.0 * READ_OFF;
            let at = (100.0 * share, unit.read(temperature));
            let size = across.hypot(along(&task.solved, line, at, accept.size));
            rows.add(
                share_of(phrase, &task.solved, style),
                style.fixed(100.0 * share, Accepted::new(across).decimals),
                Accepted::new(size).text("", style),
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
    let unit = style.units.temperature;
    for (at, station) in task.coil.stations.iter().enumerate().step_by(2) {
        let share = style.fixed(100.0 * station.position, 0);
        rows.add(
            format!("{share} {}", style.word(EXERCISE_SHARE_OF_HEAT)),
            format!(
                "{} {}",
                style.fixed(unit.read(station.temperature), 1),
                unit.symbol()
            ),
            accept.clone(),
            (field(&format!("along/{at}/1")), station.temperature),
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
    let cop = found.cop_cooling;
    let both = std::f64::consts::SQRT_2 * size;
    let cop_read = cop * (both / read(found.work)).hypot(both / read(found.effect));
    let cop_read = Accepted {
        size: cop_read,
        decimals: Accepted::new(cop_read).decimals.max(1),
    };
    let enthalpy = |place: Place| {
        let point = found.points.iter().find(|point| point.place == place);
        point.map_or(f64::NAN, |point| read(point.enthalpy))
    };
    let [h1, h2, h4] = [Place::Suction, Place::Discharge, Place::EvaporatorInlet].map(enthalpy);
    let accept = Accepted::new(size).closing(|decimals| {
        let quotient = rounded(h1 - h4, decimals) / rounded(h2 - h1, decimals);
        leads(h4, h1, decimals)
            && leads(h1, h2, decimals)
            && rounded(quotient, cop_read.decimals) == rounded(cop, cop_read.decimals)
    });
    let of = |value: f64| format!("{} {}", style.fixed(value, accept.decimals), unit.typed());
    for (number, value) in [("1", h1), ("2", h2), ("4", h4)] {
        let label = style.say(EXERCISE_ENTHALPY_AT, &[("point", number)]);
        let accepted = accept.text(unit.typed(), style);
        rows.rows.push(vec![label, of(value), accepted]);
    }
    for (phrase, value) in [(EXERCISE_EFFECT, h1 - h4), (EXERCISE_WORK, h2 - h1)] {
        let accepted = accept.of_two().text(unit.typed(), style);
        rows.rows
            .push(vec![style.word(phrase), of(value), accepted]);
    }
    rows.rows.push(vec![
        style.word(EXERCISE_COP),
        style.fixed(cop, cop_read.decimals),
        cop_read.text("", style),
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
