//! Cycles, one refrigerant beside another.

mod assumed;
mod figures;
mod picture;
mod working;
mod worksheet;

pub(super) use picture::plot;

use super::warning::told;
use super::words::cycle::*;
use super::{Block, Document, Figures, Sheet, Style, cautions, parts, reason::reason};
use crate::Warning;
use crate::chart::picture::Plane;
use crate::process::cycle::{Comparison, CycleAnswer, Entry};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;

/// What a page of cycles is made with, next to its answer.
#[derive(Debug, Clone, Copy)]
pub struct CycleParts<'a> {
    /// The refrigerants in the order asked.
    pub refrigerants: &'a [Refrigerant],
    /// What to know about the site.
    pub site: &'a [Warning],
    /// Whether the working is shown.
    pub explain: bool,
    /// Whether blanks to fill in stand ahead of the answer, which is then their key.
    pub worksheet: bool,
    /// Whether conditions are rows of one table; else each has a table of its own.
    pub as_rows: bool,
    /// The picture that is shown.
    pub picture: Option<Plane>,
}

/// The page of cycles.
pub fn cycle(answer: &Comparison, with: CycleParts<'_>, style: &Style) -> Document {
    let all: Vec<&Refrigerant> = with.refrigerants.iter().collect();
    let mut document = Document::new(
        answer,
        told(&warnings(answer, with), style),
        cautions(&all, None, style),
    );
    let names = names(with.refrigerants);
    if with.as_rows {
        document.title(style.say(CYCLE_SWEEP, &[("refrigerants", &names)]));
        assumed(&mut document, answer, with.as_rows, style);
        document.rows(1, figures::rows(answer, style));
    } else {
        for (at, group) in answer.entries.chunks(answer.refrigerants).enumerate() {
            condition(
                &mut document,
                (at * answer.refrigerants, group),
                &names,
                style,
            );
            if at == 0 {
                assumed(&mut document, answer, with.as_rows, style);
                if with.worksheet {
                    worksheet::add(&mut document, answer, style);
                }
            }
            tables(&mut document, at * answer.refrigerants, group, style);
        }
    }
    remarks(&mut document, answer, style);
    let drawn = with.picture.map(|plane| {
        let first = answer.entries.iter().take(answer.refrigerants);
        let drawn = first.zip(with.refrigerants);
        (plane, picture::plot(plane, drawn, &names, style))
    });
    if let Some((_, (plot, _))) = &drawn {
        document.blocks.push(Block::Picture(plot.clone()));
    }
    if style.detail != super::Detail::Brief {
        points(&mut document, answer, style);
    }
    if with.explain {
        for (at, entry) in answer.entries.iter().enumerate().take(answer.refrigerants) {
            let Ok(found) = &entry.found else { continue };
            let name = entry.identity.refrigerant.as_str();
            document.title(style.say(CYCLE_WORKING, &[("refrigerant", name)]));
            let lines = working::lines(found, &entry.cycle, style);
            document.working(&format!("/results/{at}"), lines);
        }
    }
    foot(&mut document, answer, with, style);
    document.sheet = sheet(answer);
    if let Some((plane, (plot, lines))) = &drawn {
        picture::numbers(*plane, (plot, lines), &mut document, style);
    }
    document
}

fn names(refrigerants: &[Refrigerant]) -> String {
    let names = refrigerants.iter().map(Refrigerant::designation);
    names.collect::<Vec<_>>().join(", ")
}

fn warnings(answer: &Comparison, with: CycleParts<'_>) -> Vec<Warning> {
    let mut all: Vec<Warning> = Vec::new();
    for (at, refrigerant) in with.refrigerants.iter().enumerate() {
        let own = answer.entries.iter().skip(at).step_by(answer.refrigerants);
        let own = own.filter_map(|entry| entry.found.as_ref().ok());
        let own: Vec<Warning> = own.flat_map(|found| found.warnings.clone()).collect();
        for warning in parts::all_warnings(refrigerant, &own, with.site) {
            if !all.contains(&warning) {
                all.push(warning);
            }
        }
    }
    all
}

/// The title of a condition.
fn condition(document: &mut Document, (_, group): (usize, &[Entry]), names: &str, style: &Style) {
    let Some(entry) = group.first() else { return };
    let (low, high) = assumed::levels(&entry.cycle, style);
    let blanks = [
        ("refrigerants", names),
        ("evaporating", &low),
        ("condensing", &high),
        ("outlet", &high),
    ];
    document.title(match assumed::is_gas(&entry.cycle) {
        true => style.say(CYCLE_TITLE_GAS, &blanks),
        false => style.say(CYCLE_TITLE, &blanks),
    });
}

fn assumed(document: &mut Document, answer: &Comparison, as_rows: bool, style: &Style) {
    if let Some(entry) = answer.entries.first() {
        let list = assumed::list(&entry.cycle, as_rows, style);
        let mut lines = vec![style.say(CYCLE_ASSUMED, &[("list", &list)])];
        let group = answer.entries.iter().take(answer.refrigerants);
        let others =
            group.filter(|one| assumed::is_gas(&one.cycle) != assumed::is_gas(&entry.cycle));
        lines.extend(others.map(|one| assumed::other(one, style)));
        document.lines(lines);
    }
}

/// The figures of a condition: a column a refrigerant, then each relative to the first.
fn tables(document: &mut Document, from: usize, group: &[Entry], style: &Style) {
    let solved = || {
        let places = group.iter().enumerate();
        places.filter_map(|(at, entry)| Some((from + at, entry, entry.found.as_ref().ok()?)))
    };
    let high = figures::high_pressure(group);
    let column = |(at, entry, found): (usize, &Entry, &CycleAnswer)| {
        let path = format!("results/{at}/");
        let name = entry.identity.refrigerant.clone();
        (name, figures::column(&path, high, found, style))
    };
    let columns: Vec<(String, Figures)> = solved().map(column).collect();
    match <[_; 1]>::try_from(columns) {
        Ok([(_, figures)]) => document.pairs(figures),
        Err(columns) => document.columns(Vec::new(), columns),
    }
    let capacity = solved().find_map(|(.., found)| found.capacity);
    if let Some(capacity) = capacity {
        let watt = figures::watts(capacity.capacity, style);
        document.title(style.say(CYCLE_FOR_CAPACITY, &[("capacity", &watt)]));
        let columns = solved().filter_map(|(at, entry, found)| {
            let figures = figures::capacity(&format!("results/{at}/"), found, style)?;
            Some((entry.identity.refrigerant.clone(), figures))
        });
        match <[_; 1]>::try_from(columns.collect::<Vec<_>>()) {
            Ok([(_, figures)]) => document.pairs(figures),
            Err(columns) => document.columns(Vec::new(), columns),
        }
    }
    let related: Vec<(String, Figures)> = solved()
        .skip(1)
        .filter_map(|(at, entry, _)| {
            let path = format!("results/{at}/relative/");
            let figures = figures::relative(&path, entry.relative.as_ref()?, style);
            Some((entry.identity.refrigerant.clone(), figures))
        })
        .collect();
    if let (Some(first), false) = (group.first(), related.is_empty()) {
        let name = first.identity.refrigerant.as_str();
        document.title(style.say(CYCLE_RELATIVE, &[("refrigerant", name)]));
        document.columns(Vec::new(), related);
    }
}

/// What belongs to the figures: cycles that fail or pass through two phases, what was stated.
fn remarks(document: &mut Document, answer: &Comparison, style: &Style) {
    let mut lines = Vec::new();
    for entry in &answer.entries {
        let name = entry.identity.refrigerant.as_str();
        match &entry.found {
            Err(error) => {
                let reason = reason(error, style);
                let (low, high) = assumed::levels(&entry.cycle, style);
                let blanks = [
                    ("refrigerant", name),
                    ("evaporating", &low),
                    ("condensing", &high),
                    ("reason", &reason),
                ];
                let several = answer.entries.len() > answer.refrigerants;
                lines.push(match several {
                    true => style.say(CYCLE_NONE_AT, &blanks),
                    false => style.say(CYCLE_NONE, &blanks),
                });
            }
            Ok(found) => {
                if let Some(wet) = found.wet_compression {
                    lines.push(match wet.dry_superheat {
                        Some(by) => {
                            let by = style.degrees(by.in_kelvin(), 1);
                            let blanks = [("refrigerant", name), ("superheat", by.as_str())];
                            style.say(CYCLE_WET, &blanks)
                        }
                        None => style.say(CYCLE_WET_ALWAYS, &[("refrigerant", name)]),
                    });
                }
                lines.extend(stated(name, found, answer, style));
            }
        }
    }
    let mut known: Vec<String> = Vec::new();
    for line in lines {
        if !known.contains(&line) {
            known.push(line);
        }
    }
    document.lines(known);
}

/// A cycle against what was stated about the system.
fn stated(name: &str, found: &CycleAnswer, answer: &Comparison, style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(limit) = answer.stated.discharge_limit {
        let phrase = match found.discharge_temperature > limit {
            true => CYCLE_ABOVE_LIMIT,
            false => CYCLE_NOT_ABOVE_LIMIT,
        };
        let (at, limit) = (found.discharge_temperature, style.temperature(limit));
        let at = style.temperature(at);
        let blanks = [
            ("refrigerant", name),
            ("temperature", &at),
            ("limit", &limit),
        ];
        lines.push(style.say(phrase, &blanks));
    }
    if let Some(rating) = answer.stated.pressure_rating {
        let phrase = match found.condensing_pressure > rating {
            true => CYCLE_ABOVE_RATING,
            false => CYCLE_NOT_ABOVE_RATING,
        };
        let unit = style.units.pressure;
        let at = style.pressure(found.condensing_pressure, unit);
        let rating = style.pressure(rating, unit);
        let blanks = [
            ("refrigerant", name),
            ("pressure", &at),
            ("rating", &rating),
        ];
        lines.push(style.say(phrase, &blanks));
    }
    lines
}

/// Every point of every cycle, with its condition where there are several.
fn points(document: &mut Document, answer: &Comparison, style: &Style) {
    let several = answer.entries.len() > answer.refrigerants;
    for (at, entry) in answer.entries.iter().enumerate() {
        let Ok(found) = &entry.found else { continue };
        let (low, high) = assumed::levels(&entry.cycle, style);
        let blanks = [
            ("refrigerant", entry.identity.refrigerant.as_str()),
            ("evaporating", &low),
            ("condensing", &high),
            ("outlet", &high),
        ];
        document.title(match (several, assumed::is_gas(&entry.cycle)) {
            (false, _) => style.say(CYCLE_POINTS, &blanks[..1]),
            (true, false) => style.say(CYCLE_POINTS_AT, &blanks[..3]),
            (true, true) => style.say(CYCLE_POINTS_AT_GAS, &blanks),
        });
        let path = format!("results/{at}/points");
        document.rows(2, figures::points(&path, found, style));
    }
}

fn foot(document: &mut Document, answer: &Comparison, with: CycleParts<'_>, style: &Style) {
    let facts: Vec<Facts> = with
        .refrigerants
        .iter()
        .map(Facts::of_refrigerant)
        .collect();
    parts::warnings(document, style);
    let mut notes = Vec::new();
    if answer.stated != Default::default() {
        notes.push(style.word(CYCLE_STATED));
    }
    if with.refrigerants.iter().any(|one| !one.is_pure()) {
        notes.push(style.word(CYCLE_KINDS));
    }
    notes.push(style.word(CYCLE_THEORY));
    notes.push(style.word(CYCLE_RATIO_POSITIVE));
    notes.push(parts::gauge_reference(&style.site, style));
    let mut states: Vec<String> = Vec::new();
    for found in answer
        .entries
        .iter()
        .filter_map(|entry| entry.found.as_ref().ok())
    {
        let state = parts::reference_state(found.reference, style);
        if !states.contains(&state) {
            states.push(state);
        }
    }
    let state = states.join("; ");
    notes.push(style.say(
        super::words::refrigerants::REFERENCE_STATE,
        &[("state", &state)],
    ));
    for (one, refrigerant) in facts.iter().zip(with.refrigerants) {
        let class = parts::class(one, style);
        let blanks = [
            ("refrigerant", refrigerant.designation()),
            ("class", &class),
        ];
        notes.push(style.say(CYCLE_CLASSES, &blanks));
    }
    parts::notes(document, notes, style);
    document.hazards();
    let mut sources: Vec<String> = Vec::new();
    for line in facts
        .iter()
        .flat_map(|one| parts::sources_in_short(one, style))
    {
        if !sources.contains(&line) {
            sources.push(line);
        }
    }
    parts::notes(document, sources, style);
}

/// A row a cycle.
fn sheet(answer: &Comparison) -> Sheet {
    let entries = answer.entries.iter();
    let rows: Vec<Figures> = entries.map(figures::cells).collect();
    Sheet::of_rows(rows.iter().map(Figures::as_slice))
}
