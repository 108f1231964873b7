//! The cells of a chart as they are shown: a table for people, a sheet, a figure each.

use super::chart_words::{column_in_words, gap_in_words, gap_mark, within_in_words};
use super::face::name;
use super::print::Print;
use super::words::charts::CHART_BLANK;
use super::words::print::VACUUM_MARK;
use super::{Figures, Sheet, Style, Table};
use crate::chart::plot::Stroke;
use crate::chart::{Also, Beside, Cell, Chart, ColumnLine, VACUUM, Within};

/// Puts a second table's columns right of the first's and its rows below, so that each column keeps
/// one meaning.
pub(super) fn join(sheet: &mut Sheet, more: Sheet) {
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
pub(super) struct Cells<'a> {
    pub(super) chart: &'a Chart,
    pub(super) is_blank: bool,
    pub(super) print: &'a Print,
    pub(super) style: &'a Style,
}

impl Cells<'_> {
    fn text(&self, cell: &Cell) -> String {
        match cell.gap {
            Some(gap) if self.print.compact => gap_mark(gap, self.style),
            Some(gap) => gap_in_words(gap, self.style),
            None => self.label(if self.is_blank {
                None
            } else {
                Some(&cell.text)
            }),
        }
    }

    /// A figure's text, its vacuum by a short mark where it is explained below; a blank for none.
    fn label(&self, text: Option<&String>) -> String {
        let Some(text) = text else {
            return self.style.word(CHART_BLANK);
        };
        match text.strip_suffix(VACUUM) {
            Some(figure) if self.print.compact => {
                format!("{figure} {}", self.style.word(VACUUM_MARK))
            }
            _ => text.clone(),
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
        let row = |(place, row): (usize, &crate::chart::ChartRow)| {
            let mut texts = vec![self.label(Some(&row.label.text))];
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
        let is_shown = |(_, row): &(usize, &crate::chart::ChartRow)| {
            !self.print.compact || row.cells.iter().any(|cell| cell.value.is_some())
        };
        let each = self.chart.rows.iter().enumerate();
        each.filter(is_shown).map(row).collect()
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

    pub(super) fn table(&self) -> Table {
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
        let labels = heads.len();
        let mut groups = vec![(String::new(), labels)];
        let mut strokes = vec![None; labels];
        let units = self.units();
        let compact = self.print.compact;
        let has_lines = chart
            .columns
            .iter()
            .any(|one| one.line != ColumnLine::Saturation);
        let is_grouped = has_lines || units.len() > 1 || (compact && chart.subjects.len() > 1);
        let mut first = None;
        let mut subjects = chart.subjects.iter();
        for column in &chart.columns {
            // Further columns stand under the name of the first, until it comes again.
            let is_further = first.is_some_and(|first: &crate::chart::Column| {
                first.refrigerant == column.refrigerant && first != column
            });
            match groups.last_mut() {
                Some((_, span)) if is_further => *span += units.len(),
                _ => {
                    let subject = subjects.next().filter(|_| compact);
                    let named = subject
                        .map(|one| name(&one.refrigerant, &one.facts, self.print, self.style));
                    let named = named.unwrap_or_else(|| column.refrigerant.clone());
                    groups.push((named, units.len()));
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
                // On a print its name stands above the table.
                [unit] if compact => heads.push((*unit).to_owned()),
                [_] => heads.push(column.refrigerant.clone()),
                _ => {
                    let named = units.iter().map(|unit| format!("{} {unit}", head.trim()));
                    heads.extend(named.map(|head| head.trim().to_owned()));
                }
            }
            let stroke = match column.line {
                ColumnLine::Bubble => Some(Stroke::Solid),
                ColumnLine::Dew => Some(Stroke::Dashed),
                ColumnLine::Saturation | ColumnLine::Mean => None,
            };
            strokes.extend(units.iter().map(|_| stroke));
        }
        if compact && is_grouped && heads[labels..].iter().all(String::is_empty) {
            // One line of heads, the unit of the rows in it.
            groups.splice(..1, heads[..labels].iter().map(|head| (head.clone(), 1)));
            heads.iter_mut().for_each(String::clear);
        }
        let is_alone = compact && chart.subjects.len() == 1;
        Table {
            groups: match is_grouped && !is_alone {
                true => groups,
                false => Vec::new(),
            },
            heads,
            rows: self.rows(),
            words: 0,
            strokes,
        }
    }

    /// The columns' names say quantity and unit.
    pub(super) fn sheet(&self) -> Sheet {
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
                if column.line != ColumnLine::Saturation {
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
    pub(super) fn figures(&self) -> Figures {
        let (row_key, cell_key) = match self.chart.by_temperature {
            true => ("temperature_K", "pressure_Pa"),
            false => ("pressure_Pa", "temperature_K"),
        };
        let mut figures = Figures::default();
        for (place, row) in self.chart.rows.iter().enumerate() {
            let field = format!("rows/{place}/row/{row_key}");
            figures.add(
                "",
                self.label(Some(&row.label.text)),
                field,
                row.label.value,
            );
            for (column, cell) in row.cells.iter().enumerate() {
                let field = format!("rows/{place}/cells/{column}/{cell_key}");
                figures.add("", self.text(cell), field, cell.value);
            }
        }
        figures
    }
}
