//! An exercise: the student's pages, and the key on pages of its own.

mod key;
mod table;
mod tasks;

use super::picture;
use super::warning::told;
use super::words::Phrase;
use super::words::exercise::*;
use super::{About, Block, Document, Figures, Form, Style, Table, cautions};
use crate::Warning;
use crate::chart::exercise::{Exercise, Task};
use crate::chart::picture::{AxisQuantity, Picture};
use crate::chart::plot::Plot;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, PressureUnit, Temperature};

/// What a printed table of saturation may be off by, K: half of its last digit and a reading.
const TABLE: f64 = 0.3;
/// Decimals of what a recipe gives, at most: one in another unit has no end.
const MOST_WRITTEN: usize = 3;

/// The pages of an exercise on a paper; the key begins on one of its own.
pub fn exercise(
    answer: &Exercise,
    site: &[Warning],
    form: Option<Form>,
    style: &Style,
) -> Document {
    let refrigerants: Vec<&Refrigerant> = answer.refrigerants.iter().collect();
    let mut all: Vec<Warning> = site.to_vec();
    for warning in refrigerants.iter().flat_map(|one| one.warnings()) {
        if !all.contains(&warning) {
            all.push(warning);
        }
    }
    let hazards = cautions(&refrigerants, None, style);
    let mut document = Document::new(answer, told(&all, style), hazards);
    let title = answer.title.clone();
    let title = title.unwrap_or_else(|| style.word(EXERCISE));
    document.blocks.extend(form.map(Block::Paper));
    document.title(title.clone());
    document.lines(vec![style.word(EXERCISE_NAME)]);
    document.lines(given(answer, style));
    for (place, task) in answer.tasks.iter().enumerate() {
        heading(&mut document, place, style);
        tasks::task(&mut document, task, answer, style);
    }
    document.blocks.extend(
        answer
            .table
            .as_ref()
            .into_iter()
            .flat_map(|one| table::pressures(one, style)),
    );
    document.hazards();
    // On paper the key has a page of its own, so that it can be kept back.
    document.blocks.extend(form.map(Block::Paper));
    document.title(style.say(EXERCISE_KEY, &[("title", &title)]));
    for (place, task) in answer.tasks.iter().enumerate() {
        heading(&mut document, place, style);
        key::task(&mut document, (place, task), style);
    }
    document.lines(foot(answer, style));
    document.sheet = key::sheet(&document);
    document.blocks.push(Block::About(About {
        words: style.words.clone(),
        date: style.day,
        csv_header: false,
    }));
    document
}

fn heading(document: &mut Document, place: usize, style: &Style) {
    let number = (place + 1).to_string();
    document.title(style.say(EXERCISE_TASK, &[("number", &number)]));
}

/// What holds for all tasks.
fn given(answer: &Exercise, style: &Style) -> Vec<String> {
    let has_reading = answer
        .tasks
        .iter()
        .any(|task| matches!(task, Task::Reading(_)));
    let mut lines = Vec::new();
    let gauge = answer.limits[0].map(|pascal| style.pressure_size(pascal));
    let clamp = answer.limits[1].map(|kelvin| style.degrees(kelvin, 1));
    lines.extend(match (&gauge, &clamp) {
        (Some(gauge), Some(clamp)) if has_reading => {
            let blanks = [("gauge", gauge.as_str()), ("clamp", clamp)];
            Some(style.say(EXERCISE_LIMITS, &blanks))
        }
        (Some(gauge), None) if has_reading => Some(style.say(EXERCISE_GAUGE, &[("gauge", gauge)])),
        _ => None,
    });
    let air = super::parts::air(&style.site, style);
    lines.push(style.say(EXERCISE_SITE, &[("air", &air)]));
    lines
}

/// What stands below the key.
fn foot(answer: &Exercise, style: &Style) -> Vec<String> {
    let table = style.degrees(TABLE, 1);
    let mut lines = vec![style.say(EXERCISE_ACCEPT_READ, &[("table", &table)])];
    if !answer.estimates.is_empty() {
        lines.push(style.word(EXERCISE_ESTIMATED));
        lines.extend(picture::estimated(&answer.estimates, style));
    }
    let seed = answer.seed.to_string();
    lines.push(style.say(EXERCISE_SEED, &[("seed", &seed)]));
    lines.push(format!("{}.", super::print::signature(style)));
    lines
}

/// As it was written down: the fewest decimals, `least` at least, that read back to it.
fn written(value: f64, least: usize, style: &Style) -> String {
    let rounded = |decimals: &usize| crate::page::working::rounded(value, *decimals);
    let needed = (least..MOST_WRITTEN)
        .find(|decimals| (rounded(decimals) - value).abs() < 1e-9 * value.abs().max(1.0));
    style.fixed(value, needed.unwrap_or(MOST_WRITTEN))
}

/// A temperature of a recipe.
fn temperature(value: Temperature, least: usize, style: &Style) -> String {
    let unit = style.units.temperature;
    format!(
        "{} {}",
        written(unit.read(value), least, style),
        unit.symbol()
    )
}

/// A pressure of a recipe in the unit it has there.
fn pressure(value: Pressure, unit: PressureUnit, style: &Style) -> String {
    let value = unit.read(value, &style.site);
    format!("{} {}", written(value, 0, style), unit.words())
}

/// A picture without what stands below it on its own page: class and version stand elsewhere.
fn shown(mut plot: Plot, title: &str) -> Block {
    title.clone_into(&mut plot.title);
    Block::Picture(plot)
}

/// The label of a phase's share, by the component that the axis of its lens counts.
fn share_of(phrase: Phrase, lens: &Picture, style: &Style) -> String {
    let refrigerant = match &lens.across {
        AxisQuantity::MassFraction(refrigerant) => refrigerant.as_str(),
        _ => "",
    };
    style.say(phrase, &[("refrigerant", refrigerant)])
}

/// Blanks to write in, a row a quantity.
fn blanks(document: &mut Document, names: Vec<String>, style: &Style) {
    let rows = names
        .into_iter()
        .map(|name| vec![name, style.word(EXERCISE_BLANK)]);
    document.blocks.push(Block::Table(Table {
        heads: [EXERCISE_QUANTITY, EXERCISE_ANSWER]
            .map(|head| style.word(head))
            .to_vec(),
        rows: rows.collect(),
        words: 1,
        ..Table::default()
    }));
}

/// Rows of a key: quantity, answer, what is accepted.
struct Rows<'a> {
    style: &'a Style,
    rows: Vec<Vec<String>>,
    figures: Figures,
}

impl Rows<'_> {
    fn add(
        &mut self,
        label: String,
        text: String,
        accept: String,
        field: (String, impl Into<super::Datum>),
    ) {
        self.rows.push(vec![label.clone(), text.clone(), accept]);
        self.figures.add(label, text, field.0, field.1);
    }

    fn into(self, document: &mut Document) {
        let heads = [EXERCISE_QUANTITY, EXERCISE_ANSWER, EXERCISE_ACCEPT];
        document.blocks.push(Block::Table(Table {
            heads: heads.map(|head| self.style.word(head)).to_vec(),
            rows: self.rows,
            words: 1,
            ..Table::default()
        }));
        document.figures.extend(self.figures.0);
    }
}
