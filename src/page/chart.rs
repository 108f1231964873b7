//! The pressure-temperature chart: tables, why cells have no number, hazards, what it rests on.

use super::chart_cells::{Cells, join};
use super::face::{face, hazard_words, name};
use super::print::{Footer, Print, signature};
use super::warning::told;
use super::words::charts::*;
use super::words::print::{
    CARD_OUTLET, CONTENTS, CONTENTS_COMPOSITION, CONTENTS_HAZARD, GAS_COOLER, GAS_COOLER_BASIS,
};
use super::words::refrigerants::{DESIGNATION, SAFETY_CLASS};
use super::{Block, Detail, Document, Face, Form, Style, Table, cautions, chart_foot, parts};
use crate::Warning;
use crate::chart::{Chart, Subject};

/// The page of charts, a card for each; where there are several, they are cards on one sheet of
/// paper.
pub fn chart(charts: &[Chart], print: &Print, warnings: &[Warning], style: &Style) -> Document {
    let mut all = Document::default();
    for chart in charts {
        // Every format shows the same text of a cell.
        let mut one = if style.decimal_comma {
            let shown = chart.clone().with_texts(&|text| style.sign(text));
            card(&shown, print, warnings, style)
        } else {
            card(chart, print, warnings, style)
        };
        let mut blocks = std::mem::take(&mut all.blocks);
        blocks.append(&mut one.blocks);
        one.blocks = blocks;
        all = one;
    }
    if print.contents {
        contents(&mut all, charts, print, style);
    }
    all.blocks.push(print.about(style));
    all
}

fn card(chart: &Chart, print: &Print, warnings: &[Warning], style: &Style) -> Document {
    let refrigerants: Vec<_> = chart.subjects.iter().map(|one| &one.refrigerant).collect();
    let hazards = cautions(&refrigerants, None, style);
    let mut document = Document::new(chart, told(warnings, style), hazards);
    print.head(&mut document);
    let face = face(chart, usual(chart, style), print, style);
    let mut key_face = face.clone();
    document.blocks.push(Block::Face(Box::new(face)));
    let tables: Vec<&Chart> = [Some(chart), chart.second.as_deref()]
        .into_iter()
        .flatten()
        .collect();
    let cells = |chart, is_blank| Cells {
        chart,
        is_blank,
        print,
        style,
    };
    for (place, one) in tables.iter().enumerate() {
        if place > 0 {
            document.title(usual(one, style));
        }
        let cells = cells(one, print.blank);
        document.blocks.push(Block::Table(cells.table()));
        if place == 0 {
            document.figures = cells.figures().0;
        }
        join(&mut document.sheet, cells.sheet());
    }
    let mut gas_cooler_basis = Vec::new();
    for subject in &chart.subjects {
        gas_cooler_basis.extend(gas_cooler(&mut document, chart, subject, style));
    }
    document
        .blocks
        .extend((print.writing_lines > 0).then_some(Block::Blank(print.writing_lines)));
    document.lines(print.notes.clone());
    let foot = Foot::from_charts(&tables, style);
    document.json.add("", "notes", foot.reasons.clone());
    document.json.add("", "footers", foot.lines.clone());
    if let Some(second) = tables.get(1) {
        let reasons = chart_foot::reasons(second, style);
        document.json.add("", "second_notes", reasons);
    }
    let first = match print.compact {
        true => chart_foot::compact(&tables, style),
        false => foot.reasons.clone(),
    };
    // What an exercise asks for stands on its key.
    let solutions: Vec<String> = match print.blank {
        true => tables
            .iter()
            .flat_map(|one| chart_foot::solutions(one, style))
            .collect(),
        false => Vec::new(),
    };
    let (solved, asked): (Vec<_>, Vec<_>) = [first.clone(), gas_cooler_basis]
        .concat()
        .into_iter()
        .partition(|line| solutions.contains(line));
    document.lines(asked);
    parts::warnings(&mut document, style);
    document.hazards();
    let mut key_lines = solved;
    if style.detail != Detail::Brief {
        let lines = match (print.compact, print.footer) {
            (true, Footer::Short) => chart_foot::short(chart, style),
            (true, Footer::Full) => chart_foot::without(foot.lines, &first, style),
            _ => foot.lines,
        };
        let (solved, asked): (Vec<_>, Vec<_>) =
            lines.into_iter().partition(|line| solutions.contains(line));
        key_lines.extend(solved);
        document.lines(asked);
    }
    document
        .blocks
        .extend(print.code_of(chart).map(Block::Code));
    if print.blank {
        // On paper the key has a page of its own, so that it can be kept back.
        document.blocks.extend(print.form.map(Block::Paper));
        key_face.title = Some(style.word(CHART_KEY));
        document.blocks.push(Block::Face(Box::new(key_face)));
        for chart in tables {
            let table = cells(chart, false).table();
            document.blocks.push(Block::Table(table));
        }
        document.lines(key_lines);
    }
    document
}

/// What a chart shows, with its units.
fn usual(chart: &Chart, style: &Style) -> String {
    let phrase = match chart.by_temperature {
        true => CHART_PRESSURES,
        false => CHART_TEMPERATURES,
    };
    let blanks = [
        ("pressure", chart.pressure_unit.typed()),
        ("temperature", chart.temperature_unit.symbol()),
    ];
    style.say(phrase, &blanks)
}

/// What stands below the tables, those of a second one without what the first says already.
struct Foot {
    reasons: Vec<String>,
    lines: Vec<String>,
}

impl Foot {
    fn from_charts(tables: &[&Chart], style: &Style) -> Self {
        let notes = tables.iter().map(|one| chart_foot::reasons(one, style));
        let [reasons, second] = both(notes.collect());
        let foots = tables.iter().map(|one| chart_foot::lines(one, style));
        let [mut lines, second_lines] = both(foots.collect());
        let told = second_lines.iter();
        lines.extend(told.map(|line| style.say(CHART_SECOND, &[("text", line)])));
        lines.push(signature(style));
        Self {
            reasons: [reasons, second].concat(),
            lines,
        }
    }
}

/// The lines of a first and of a second table, without those of the second that the first has.
fn both(mut lists: Vec<Vec<String>>) -> [Vec<String>; 2] {
    let mut second = lists.drain(1..).next().unwrap_or_default();
    let first = lists.pop().unwrap_or_default();
    second.retain(|line| !first.contains(line));
    [first, second]
}

/// A table of gas-cooler pressures, and what they rest on.
fn gas_cooler(
    document: &mut Document,
    chart: &Chart,
    subject: &Subject,
    style: &Style,
) -> Option<String> {
    let found = subject.gas_cooler.as_ref()?;
    let degrees = |at: crate::units::Temperature| style.fixed(chart.temperature_unit.read(at), 0);
    let unit = chart.temperature_unit.symbol();
    document.title(style.word(GAS_COOLER));
    let rows = found.rows.iter().map(|(outlet, best)| {
        let pressure = chart.pressure_unit.read(*best, &chart.site);
        let decimals = usize::from(pressure < 500.0);
        vec![degrees(*outlet), style.fixed(pressure, decimals)]
    });
    document.blocks.push(Block::Table(Table {
        heads: vec![
            style.say(CARD_OUTLET, &[("unit", unit)]),
            chart.pressure_unit.typed().to_owned(),
        ],
        rows: rows.collect(),
        ..Table::default()
    }));
    let evaporating = format!("{} {unit}", degrees(found.evaporating));
    let superheat = style.degrees(found.superheat.in_kelvin(), 0);
    let blanks = [
        ("evaporating", evaporating.as_str()),
        ("superheat", &superheat),
        ("percent", &style.fixed(found.efficiency * 100.0, 0)),
    ];
    Some(style.say(GAS_COOLER_BASIS, &blanks))
}

/// A last page that lists the cards.
fn contents(document: &mut Document, charts: &[Chart], print: &Print, style: &Style) {
    let paper = print.form.map(|form| Form {
        shape: super::Shape::Wall,
        landscape: false,
        ..form
    });
    document.blocks.extend(paper.map(Block::Paper));
    let face = Face {
        title: Some(style.word(CONTENTS)),
        shop: print.shop.clone(),
        ..Face::default()
    };
    document.blocks.push(Block::Face(Box::new(face)));
    let subjects = charts.iter().flat_map(|chart| &chart.subjects);
    let row = |subject: &Subject| {
        let words = hazard_words(&[&subject.refrigerant], style);
        let words: Vec<String> = words.into_iter().map(|(_, words)| words).collect();
        let name = name(&subject.refrigerant, &subject.facts, print, style);
        let (name, class) = name.rsplit_once(" \u{b7} ").unwrap_or((&name, ""));
        vec![
            name.to_owned(),
            class.to_owned(),
            words.join(", "),
            match subject.refrigerant.is_pure() {
                true => String::new(),
                false => parts::composition(&subject.refrigerant, style),
            },
        ]
    };
    let heads = [
        DESIGNATION,
        SAFETY_CLASS,
        CONTENTS_HAZARD,
        CONTENTS_COMPOSITION,
    ];
    document.blocks.push(Block::Table(Table {
        heads: heads.map(|head| style.word(head)).to_vec(),
        rows: subjects.map(row).collect(),
        words: 4,
        ..Table::default()
    }));
}
