//! The pressure-temperature chart: tables, why cells have no number, hazards, what it rests on.

use super::print::{Print, signature};
use super::warning::told;
use super::words::charts::*;
use super::{Block, Detail, Document, Figures, Sheet, Style, Table, cautions, chart_foot, parts};
use crate::Warning;
use crate::chart::{Also, Beside, Cell, Chart, Gap, Line, Within};

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
    all.blocks.push(print.about(style));
    all
}

fn card(chart: &Chart, print: &Print, warnings: &[Warning], style: &Style) -> Document {
    let refrigerants: Vec<_> = chart.subjects.iter().map(|one| &one.refrigerant).collect();
    let hazards = cautions(&refrigerants, None, style);
    let mut document = Document::new(chart, told(warnings, style), hazards);
    let usual = |chart: &Chart| {
        let phrase = match chart.by_temperature {
            true => CHART_PRESSURES,
            false => CHART_TEMPERATURES,
        };
        let blanks = [
            ("pressure", chart.pressure_unit.typed()),
            ("temperature", chart.temperature_unit.symbol()),
        ];
        style.say(phrase, &blanks)
    };
    let first = print
        .card_title(chart, style)
        .unwrap_or_else(|| usual(chart));
    print.head(&mut document);
    print.titled(&mut document, first.clone());
    let tables: Vec<&Chart> = [Some(chart), chart.second.as_deref()]
        .into_iter()
        .flatten()
        .collect();
    for (place, one) in tables.iter().enumerate() {
        if place > 0 {
            document.title(usual(one));
        }
        let cells = Cells {
            chart: one,
            is_blank: print.blank,
            style,
        };
        document.blocks.push(Block::Table(cells.table()));
        if place == 0 {
            document.figures = cells.figures().0;
        }
        join(&mut document.sheet, cells.sheet());
    }
    document.lines(print.notes.clone());
    let notes = tables.iter().map(|one| chart_foot::reasons(one, style));
    let [reasons, second] = both(notes.collect());
    let all = [&reasons[..], &second].concat();
    let foots = tables.iter().map(|one| chart_foot::lines(one, style));
    let [mut foot, second_foot] = both(foots.collect());
    let told = second_foot.iter();
    foot.extend(told.map(|line| style.say(CHART_SECOND, &[("text", line)])));
    foot.push(signature(style));
    document.json.add("", "notes", all.clone());
    document.json.add("", "footers", foot.clone());
    if let Some(second) = tables.get(1) {
        let reasons = chart_foot::reasons(second, style);
        document.json.add("", "second_notes", reasons);
    }
    document.lines(all);
    parts::warnings(&mut document, style);
    document.hazards();
    if style.detail != Detail::Brief {
        document.lines(foot);
    }
    if print.blank {
        // On paper the key has a page of its own, so that it can be kept back.
        document.blocks.extend(print.form.map(Block::Paper));
        document.title(style.word(CHART_KEY));
        document.lines(vec![first]);
        for chart in tables {
            let cells = Cells {
                chart,
                is_blank: false,
                style,
            };
            document.blocks.push(Block::Table(cells.table()));
        }
    }
    document
}

/// The lines of a first and of a second table, without those of the second that the first has.
fn both(mut lists: Vec<Vec<String>>) -> [Vec<String>; 2] {
    let mut second = lists.drain(1..).next().unwrap_or_default();
    let first = lists.pop().unwrap_or_default();
    second.retain(|line| !first.contains(line));
    [first, second]
}

/// Puts a second table's columns right of the first's and its rows below, so that each column keeps
/// one meaning.
fn join(sheet: &mut Sheet, more: Sheet) {
    let (left, right) = (sheet.heads.len(), more.heads.len());
    sheet.heads.extend(more.heads);
    for row in &mut sheet.rows {
        row.resize(left + right, String::new());
    }
    for row in more.rows {
        let mut whole = vec![String::new(); left];
        whole.extend(row);
        sheet.rows.push(whole);
    }
}

/// One table with its texts as they are shown.
struct Cells<'a> {
    chart: &'a Chart,
    is_blank: bool,
    style: &'a Style,
}

impl Cells<'_> {
    fn text(&self, cell: &Cell) -> String {
        match cell.gap {
            Some(gap) => gap_in_words(gap, self.style),
            None if self.is_blank => self.style.word(CHART_BLANK),
            None => cell.text.clone(),
        }
    }

    /// The same cells in a second unit.
    fn other(&self) -> Option<&Chart> {
        match &self.chart.also {
            Some((_, Beside::Cells(other))) => Some(other),
            _ => None,
        }
    }

    /// The rows in a second unit.
    fn labels(&self) -> Option<(Also, &[String])> {
        match &self.chart.also {
            Some((unit, Beside::Rows(texts))) => Some((*unit, texts)),
            _ => None,
        }
    }

    fn rows(&self) -> Vec<Vec<String>> {
        let row = |(place, row): (usize, &crate::chart::Row)| {
            let mut texts = vec![row.label.text.clone()];
            if let Some((_, labels)) = self.labels() {
                texts.extend(labels.get(place).cloned());
            }
            for (column, cell) in row.cells.iter().enumerate() {
                texts.push(self.text(cell));
                let other = self.other().map(|other| &other.rows[place].cells[column]);
                texts.extend(other.map(|other| self.text(other)));
            }
            texts
        };
        self.chart.rows.iter().enumerate().map(row).collect()
    }

    /// The units of the cells, one or two.
    fn units(&self) -> Vec<&'static str> {
        let unit = |chart: &Chart, is_typed: bool| match (chart.by_temperature, is_typed) {
            (true, _) => chart.pressure_unit.typed(),
            (false, true) => chart.temperature_unit.typed(),
            (false, false) => chart.temperature_unit.symbol(),
        };
        let each = std::iter::once(self.chart).chain(self.other());
        each.map(|chart| unit(chart, false)).collect()
    }

    fn table(&self) -> Table {
        let chart = self.chart;
        let mut heads = vec![if chart.by_temperature {
            chart.temperature_unit.symbol().to_owned()
        } else {
            chart.pressure_unit.typed().to_owned()
        }];
        heads.extend(self.labels().map(|(unit, _)| match unit {
            Also::Pressure(unit) => unit.typed().to_owned(),
            Also::Temperature(unit) => unit.symbol().to_owned(),
        }));
        let mut groups = vec![(String::new(), heads.len())];
        let units = self.units();
        let has_lines = chart.columns.iter().any(|one| one.line != Line::Saturation);
        let is_grouped = has_lines || units.len() > 1;
        let mut first = None;
        for column in &chart.columns {
            // Further columns stand under the name of the first, until it comes again.
            let is_further = first.is_some_and(|first: &crate::chart::Column| {
                first.refrigerant == column.refrigerant && first != column
            });
            match groups.last_mut() {
                Some((_, span)) if is_further => *span += units.len(),
                _ => {
                    groups.push((column.refrigerant.clone(), units.len()));
                    first = Some(column);
                }
            }
            let words = [
                column_in_words(column.line, self.style),
                within_in_words(column.within, self.style),
            ];
            let head = words.join(" ");
            match units.as_slice() {
                [_] if is_grouped => heads.push(head.trim().to_owned()),
                [_] => heads.push(column.refrigerant.clone()),
                _ => {
                    let named = units.iter().map(|unit| format!("{} {unit}", head.trim()));
                    heads.extend(named.map(|head| head.trim().to_owned()));
                }
            }
        }
        Table {
            groups: if is_grouped { groups } else { Vec::new() },
            heads,
            rows: self.rows(),
            words: 0,
        }
    }

    /// The columns' names say quantity and unit.
    fn sheet(&self) -> Sheet {
        let chart = self.chart;
        let mut heads = vec![if chart.by_temperature {
            format!("temperature_{}", chart.temperature_unit.typed())
        } else {
            format!("pressure_{}", chart.pressure_unit.typed())
        }];
        heads.extend(self.labels().map(|(unit, _)| match unit {
            Also::Pressure(unit) => format!("pressure_{}", unit.typed()),
            Also::Temperature(unit) => format!("temperature_{}", unit.typed()),
        }));
        for column in &chart.columns {
            for one in std::iter::once(chart).chain(self.other()) {
                let mut words = vec![column.refrigerant.as_str()];
                if column.line != Line::Saturation {
                    words.push(column.line.name());
                }
                if column.within != Within::Nominal {
                    words.push(column.within.name());
                }
                words.push(if one.by_temperature {
                    one.pressure_unit.typed()
                } else {
                    one.temperature_unit.typed()
                });
                heads.push(words.join("_"));
            }
        }
        Sheet {
            heads,
            rows: self.rows(),
        }
    }

    /// Every cell of the first table with its field.
    fn figures(&self) -> Figures {
        let (row_key, cell_key) = match self.chart.by_temperature {
            true => ("temperature_K", "pressure_Pa"),
            false => ("pressure_Pa", "temperature_K"),
        };
        let mut figures = Figures::default();
        for (place, row) in self.chart.rows.iter().enumerate() {
            let field = format!("rows/{place}/row/{row_key}");
            figures.add("", self.text(&row.label), field, row.label.value);
            for (column, cell) in row.cells.iter().enumerate() {
                let field = format!("rows/{place}/cells/{column}/{cell_key}");
                figures.add("", self.text(cell), field, cell.value);
            }
        }
        figures
    }
}

/// The word in place of a number.
pub(super) fn gap_in_words(gap: Gap, style: &Style) -> String {
    style.word(match gap {
        Gap::AboveCritical => GAP_ABOVE_CRITICAL,
        Gap::BelowRange => GAP_BELOW_RANGE,
        Gap::AboveRange => GAP_ABOVE_RANGE,
        Gap::NotKnown => GAP_NOT_KNOWN,
        Gap::NoAnswer => GAP_NO_ANSWER,
    })
}

/// The word over a column; empty for a pure refrigerant.
pub(super) fn column_in_words(line: Line, style: &Style) -> String {
    match line {
        Line::Saturation => String::new(),
        Line::Bubble => style.word(COLUMN_BUBBLE),
        Line::Dew => style.word(COLUMN_DEW),
        Line::Mean => style.word(COLUMN_MEAN),
    }
}

fn within_in_words(within: Within, style: &Style) -> String {
    match within {
        Within::Nominal => String::new(),
        Within::Lowest => style.word(COLUMN_LOWEST),
        Within::Highest => style.word(COLUMN_HIGHEST),
    }
}
