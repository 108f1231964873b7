//! Plain text, for a terminal.

use super::decimals::decimals;
use super::{Exporter, Part};
use crate::Result;
use crate::page::{Document, Table};

/// Column at which a paragraph is broken.
const WIDTH: usize = 88;

pub(super) struct Text;

impl Exporter for Text {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        Ok(super::paragraphs(answer, |out, part| match part {
            Part::Title(title) => {
                out.push_str(title);
                out.push('\n');
            }
            Part::Table(table) => write_table(out, table),
            Part::Pairs(pairs) => write_pairs(out, pairs),
            Part::Lines(lines) => lines.iter().for_each(|line| write_paragraph(out, line)),
        }))
    }
}

fn width(text: &str) -> usize {
    text.chars().count()
}

fn padded(text: &str, to: usize, right: bool) -> String {
    let space = " ".repeat(to.saturating_sub(width(text)));
    if right {
        format!("{space}{text}")
    } else {
        format!("{text}{space}")
    }
}

fn push_line(out: &mut String, cells: &[String]) {
    out.push_str(cells.join("  ").trim_end());
    out.push('\n');
}

/// The table with blanks behind figures, so that decimal signs stand below each other.
fn aligned(table: &Table) -> Table {
    let mut table = table.clone();
    for column in table.words.max(1)..table.heads.len() {
        let found = table.rows.iter().filter_map(|row| decimals(&row[column]));
        let most = found.max().unwrap_or(0);
        for row in &mut table.rows {
            if let Some(own) = decimals(&row[column]) {
                // The sign itself takes a place too.
                let sign = usize::from(own == 0 && most > 0);
                row[column].push_str(&" ".repeat(most - own + sign));
            }
        }
    }
    table
}

fn write_table(out: &mut String, table: &Table) {
    let table = &aligned(table);
    let mut widths: Vec<usize> = table.heads.iter().map(|head| width(head)).collect();
    for row in &table.rows {
        for (index, cell) in row.iter().enumerate() {
            widths[index] = widths[index].max(width(cell));
        }
    }
    // A group's name may be wider than its columns: the last of them gives way.
    let mut first = 0;
    for (name, span) in &table.groups {
        let inside: usize = widths[first..first + span].iter().sum::<usize>() + 2 * (span - 1);
        if width(name) > inside {
            widths[first + span - 1] += width(name) - inside;
        }
        first += span;
    }
    if !table.groups.is_empty() {
        let mut first = 0;
        let mut cells = Vec::new();
        for (name, span) in &table.groups {
            let inside: usize = widths[first..first + span].iter().sum::<usize>() + 2 * (span - 1);
            cells.push(padded(name, inside, first >= table.words));
            first += span;
        }
        push_line(out, &cells);
    }
    let line = |row: &[String]| -> Vec<String> {
        row.iter()
            .enumerate()
            .map(|(index, cell)| padded(cell, widths[index], index >= table.words))
            .collect()
    };
    if table.heads.iter().any(|head| !head.is_empty()) {
        push_line(out, &line(&table.heads));
    }
    let total = widths.iter().sum::<usize>() + 2 * widths.len().saturating_sub(1);
    out.push_str(&"-".repeat(total));
    out.push('\n');
    for row in &table.rows {
        push_line(out, &line(row));
    }
}

fn write_pairs(out: &mut String, pairs: &[(String, String)]) {
    let left = pairs.iter().map(|(name, _)| width(name)).max().unwrap_or(0);
    for (name, value) in pairs {
        let mut rest = String::new();
        write_wrapped(&mut rest, value, WIDTH.saturating_sub(left + 2), left + 2);
        out.push_str(&padded(name, left + 2, false));
        out.push_str(rest.trim_start());
    }
}

fn write_paragraph(out: &mut String, line: &str) {
    write_wrapped(out, line, WIDTH, 2);
}

/// Breaks a paragraph at blanks; lines after the first are set in.
fn write_wrapped(out: &mut String, line: &str, limit: usize, indent: usize) {
    let mut used = 0;
    for word in line.split(' ') {
        if used > 0 && used + 1 + width(word) > limit {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            used = 0;
        } else if used > 0 {
            out.push(' ');
            used += 1;
        }
        out.push_str(word);
        used += width(word);
    }
    out.push('\n');
}
