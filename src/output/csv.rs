//! Comma-separated values, for a spreadsheet.

use super::Exporter;
use crate::Result;
use crate::page::{Block, Document};

pub(super) struct Csv;

impl Exporter for Csv {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        let mut out = String::new();
        if answer.about().csv_header {
            for block in &answer.plain() {
                match block {
                    Block::Title(title) => out.push_str(&format!("# {}\n", one_line(title))),
                    Block::Lines(lines) | Block::Hazards(lines) => {
                        for line in lines {
                            out.push_str(&format!("# {}\n", one_line(line)));
                        }
                    }
                    _ => {}
                }
            }
        }
        for row in std::iter::once(&answer.sheet.heads).chain(&answer.sheet.rows) {
            let cells: Vec<String> = row.iter().map(|cell| quoted(cell)).collect();
            out.push_str(&cells.join(","));
            out.push('\n');
        }
        Ok(out.into_bytes())
    }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A cell by RFC 4180: in quotation marks where it holds a comma, a mark or a line end.
fn quoted(cell: &str) -> String {
    if cell.contains(['"', ',', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
