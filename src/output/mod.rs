//! One file a format; every format writes the same answer from the same texts.

mod chart;
mod common;
mod csv;
mod drawing;
mod form;
mod html;
mod json;
mod labels;
mod markdown;
mod minus;
#[cfg(feature = "pdf")]
mod pdf;
pub mod svg;
mod text;

pub use common::{identity, model, optional, phase, warnings};
pub use form::{Form, Paper, Shape};
pub use minus::true_minus;

use std::sync::Arc;

use serde_json::Value;

use crate::Result;
use crate::chart::plot::Plot;
use crate::refrigerant::Warning;

/// A format in which an answer can be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// For reading on a terminal.
    Text,
    /// Tables for a document in Markdown.
    Markdown,
    /// Comma-separated values, for a spreadsheet.
    Csv,
    /// JSON, SI units, for programs.
    Json,
    /// A page for a browser, all of it in one file.
    Html,
    /// A picture, where the answer is one.
    Svg,
    /// Pages and cards for printing.
    Pdf,
}

impl Format {
    /// Every format there is.
    pub const ALL: [Format; 7] = [
        Format::Text,
        Format::Markdown,
        Format::Csv,
        Format::Json,
        Format::Html,
        Format::Svg,
        Format::Pdf,
    ];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Format::Text => "text",
            Format::Markdown => "markdown",
            Format::Csv => "csv",
            Format::Json => "json",
            Format::Html => "html",
            Format::Svg => "svg",
            Format::Pdf => "pdf",
        }
    }

    /// The usual ending of a file in it.
    pub const fn ending(self) -> &'static str {
        match self {
            Format::Text => "txt",
            Format::Markdown => "md",
            other => other.name(),
        }
    }
}

/// A table whose cells are texts already.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Table {
    /// Heads above the column heads: text, number of columns it spans.
    pub groups: Vec<(String, usize)>,
    /// Heads of the columns.
    pub heads: Vec<String>,
    /// Rows of as many cells as there are heads.
    pub rows: Vec<Vec<String>>,
    /// How many columns at the left are words and not figures.
    pub words: usize,
}

/// A part of an answer as people read it.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A title.
    Title(String),
    /// A table.
    Table(Table),
    /// Names with their values.
    Pairs(Vec<(String, String)>),
    /// Paragraphs, a line each.
    Lines(Vec<String>),
    /// A picture; left out by formats that cannot draw.
    Picture(Plot),
    /// The paper for what follows; left out by formats that are not printed.
    Paper(Form),
    /// The shop's own sign; left out by formats that cannot show it.
    Logo(Logo),
    /// What a file says about itself; left out by formats that say nothing.
    About(About),
}

/// Whether a title or a line among the parts says it: what stands beside a picture is not said twice
/// on a page.
fn is_said(blocks: &[Block], text: &str) -> bool {
    blocks.iter().any(|block| match block {
        Block::Title(title) => title == text,
        Block::Lines(lines) => lines.iter().any(|line| line == text),
        _ => false,
    })
}

/// A picture of the user's own.
#[derive(Debug, Clone, PartialEq)]
pub struct Logo {
    /// The file as it was read.
    pub bytes: Arc<[u8]>,
    /// Whether it is an SVG document; else it is a PNG picture.
    pub is_svg: bool,
}

impl Logo {
    /// Looks whether all of it can be drawn in a format, before anything is written.
    ///
    /// # Errors
    /// [`Error::File`](crate::Error::File) for PDF: where it is no whole picture, shows nothing,
    /// or holds texts, pictures, masks, filters, patterns, blends of colours or clip paths of
    /// several shapes.
    ///
    /// # Example
    /// ```
    /// use zeotrope::output::{Format, Logo};
    /// let svg = br#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>"#;
    /// let empty = Logo { bytes: svg[..].into(), is_svg: true };
    /// assert!(empty.check(Format::Html).is_ok());
    /// # #[cfg(feature = "pdf")]
    /// assert!(empty.check(Format::Pdf).is_err());
    /// ```
    pub fn check(&self, format: Format) -> Result<()> {
        match format {
            #[cfg(feature = "pdf")]
            Format::Pdf => pdf::check(self),
            _ => Ok(()),
        }
    }
}

/// What a file says about itself.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct About {
    /// Language of its words, as BCP 47 writes it; English where empty.
    pub language: String,
    /// Year, month and day on which it was made, where that is to be told.
    pub date: Option<(u16, u8, u8)>,
    /// Whether a CSV sheet begins with what stands around the table, each line after a '#'.
    pub csv_header: bool,
}

/// The flat rows of an answer, for CSV.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sheet {
    /// Names of the columns.
    pub heads: Vec<String>,
    /// Rows of as many cells as there are heads.
    pub rows: Vec<Vec<String>>,
}

/// An answer, ready for every format.
#[derive(Debug, Clone, Default)]
pub struct Answer {
    /// As people read it.
    pub blocks: Vec<Block>,
    /// As a spreadsheet reads it.
    pub sheet: Sheet,
    /// As a program reads it.
    pub json: Value,
    /// What must be said where a format has no room for it.
    pub warnings: Vec<Warning>,
}

/// Writes answers in one format.
trait Exporter {
    /// The whole of an answer; a text ends with a line end.
    fn export(&self, answer: &Answer) -> Result<Vec<u8>>;
}

impl Answer {
    /// The answer in a format; a text ends with a line end.
    ///
    /// # Errors
    /// [`Error::File`](crate::Error::File) where the format cannot express the answer.
    pub fn write(&self, format: Format) -> Result<Vec<u8>> {
        let exporter: &dyn Exporter = match format {
            Format::Text => &text::Text,
            Format::Markdown => &markdown::Markdown,
            Format::Csv => &csv::Csv,
            Format::Json => &json::Json,
            Format::Html => &html::Html,
            Format::Svg => &svg::Svg,
            #[cfg(feature = "pdf")]
            Format::Pdf => &pdf::Pdf,
            #[cfg(not(feature = "pdf"))]
            Format::Pdf => {
                return Err(crate::Error::File {
                    file: "PDF".into(),
                    problem: "this program was built without its feature `pdf`".into(),
                    hint: "use --format html and print it from a browser".into(),
                });
            }
        };
        exporter.export(self)
    }
}

/// A number to the shortest text that reads back to the same number; null where there is none.
pub fn number(value: f64) -> Value {
    serde_json::Number::from_f64(value).map_or(Value::Null, Value::Number)
}

/// A number for a cell of a sheet, as in JSON; empty where there is none.
pub fn number_cell(value: Option<f64>) -> String {
    match value.map(number) {
        Some(Value::Number(number)) => number.to_string(),
        _ => String::new(),
    }
}
