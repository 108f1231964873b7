//! One file a format; every format writes the same answer from the same texts.

mod csv;
mod decimals;
mod drawing;
mod html;
mod html_face;
mod json;
mod labels;
mod markdown;
mod minus;
#[cfg(feature = "pdf")]
mod pdf;
pub mod svg;
mod symbol;
mod text;

pub use minus::true_minus;

use crate::Result;
use crate::page::{Block, Document, Logo, Table};

/// What a format of text alone can show of a document.
enum Part<'a> {
    Title(&'a str),
    Table(&'a Table),
    Pairs(&'a [(String, String)]),
    Lines(&'a [String]),
}

/// The parts of a document that are text, an empty line between them.
fn paragraphs(answer: &Document, mut write: impl FnMut(&mut String, Part<'_>)) -> Vec<u8> {
    let mut out = String::new();
    for block in &answer.plain() {
        let part = match block {
            Block::Title(title) => Part::Title(title),
            Block::Table(table) => Part::Table(table),
            Block::Pairs(pairs) => Part::Pairs(pairs),
            Block::Lines(lines) | Block::Hazards(lines) => Part::Lines(lines),
            _ => continue,
        };
        if !out.is_empty() {
            out.push('\n');
        }
        write(&mut out, part);
    }
    out.into_bytes()
}

/// A format in which an answer can be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
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
    pub const ALL: &'static [Format] = &[
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

    /// The format of a name, such as `html`, or of the ending of a file, such as `htm`.
    ///
    /// # Example
    /// ```
    /// use zeotrope::output::Format;
    /// assert_eq!(Format::named("MD"), Some(Format::Markdown));
    /// assert_eq!(Format::named("docx"), None);
    /// ```
    pub fn named(name: &str) -> Option<Self> {
        let lower = name.to_lowercase();
        let is_meant = |format: &Self| [format.name(), format.ending()].contains(&&*lower);
        match lower.as_str() {
            "htm" => Some(Format::Html),
            _ => Self::ALL.iter().copied().find(is_meant),
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

/// Whether a title or a line among the parts says it: what stands beside a picture is not said twice
/// on a page.
fn is_said(blocks: &[Block], text: &str) -> bool {
    blocks.iter().any(|block| match block {
        Block::Title(title) => title == text,
        Block::Face(face) => face.title.as_deref() == Some(text) || face.usual == text,
        Block::Lines(lines) | Block::Hazards(lines) => lines.iter().any(|line| line == text),
        _ => false,
    })
}

/// Writes answers in one format.
trait Exporter {
    /// The whole of an answer; a text ends with a line end.
    fn export(&self, answer: &Document) -> Result<Vec<u8>>;
}

impl Document {
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
                    hint: "write HTML and print it from a browser".into(),
                });
            }
        };
        exporter.export(self)
    }
}

impl Document {
    /// From how far off the figures of its charts are read in print, m: they are then seen under
    /// 16 minutes of arc (DIN 1450 and ISO 9241-303, from memory); none without a chart on paper.
    ///
    /// # Errors
    /// As [`Document::write`] as PDF.
    pub fn legible_to(&self) -> Result<Option<f64>> {
        #[cfg(feature = "pdf")]
        return pdf::legible_to(self);
        #[cfg(not(feature = "pdf"))]
        Ok(None)
    }
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
    /// use zeotrope::{output::Format, page::Logo};
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
