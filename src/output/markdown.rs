//! Markdown tables, for a document.

use super::{Exporter, Part};
use crate::Result;
use crate::page::{Document, Table};

pub(super) struct Markdown;

impl Exporter for Markdown {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        Ok(super::paragraphs(answer, |out, part| match part {
            Part::Title(title) => out.push_str(&format!("**{}**\n", escaped(title))),
            Part::Table(table) => write_table(out, table),
            Part::Pairs(pairs) => {
                for (name, value) in pairs {
                    out.push_str(&format!("- {}: {}\n", escaped(name), escaped(value)));
                }
            }
            Part::Lines(lines) => {
                for line in lines {
                    out.push_str(&format!("- {}\n", escaped(line)));
                }
            }
        }))
    }
}

/// Keeps a text from being read as mark-up.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        if matches!(
            character,
            '\\' | '|' | '*' | '_' | '`' | '<' | '>' | '#' | '[' | ']'
        ) {
            out.push('\\');
        }
        out.push(character);
    }
    out
}

fn write_row(out: &mut String, cells: impl Iterator<Item = String>) {
    out.push('|');
    for cell in cells {
        out.push(' ');
        out.push_str(&cell);
        out.push_str(" |");
    }
    out.push('\n');
}

fn write_table(out: &mut String, table: &Table) {
    // Markdown knows one row of heads: a group's name stands before each of its own.
    let mut names = Vec::new();
    for (name, span) in &table.groups {
        names.extend(std::iter::repeat_n(name.as_str(), *span));
    }
    names.resize(table.heads.len(), "");
    write_row(
        out,
        names.iter().zip(&table.heads).map(|(name, head)| {
            let both = format!("{name} {head}");
            escaped(both.trim())
        }),
    );
    write_row(
        out,
        (0..table.heads.len()).map(|index| {
            let mark = if index < table.words { ":--" } else { "--:" };
            mark.to_owned()
        }),
    );
    for row in &table.rows {
        write_row(out, row.iter().map(|cell| escaped(cell)));
    }
}
