//! A page for a browser: one file that needs no other, readable on a telephone and by ear, with a
//! style of its own for paper.

use super::decimals::decimals;
use super::drawing::Drawing;
use super::html_face::{self, sentence, shown};
use super::svg::{bare, escaped};
use super::{Exporter, is_said};
use crate::Result;
use crate::chart::plot::Plot;
use crate::chart::plot::Stroke;
use crate::page::words::{Words, charts::LOGO};
use crate::page::{Block, Document, Face, Logo, Table};

pub(super) struct Html;

const STYLE: &str = include_str!("html.css");

impl Exporter for Html {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        let mut title = match answer.blocks.iter().find(|block| is_picture(block)) {
            Some(Block::Picture(plot)) => plot.title.as_str(),
            _ => "zeotrope",
        };
        let about = answer.about();
        let language = match about.words.language.as_str() {
            "" => "en",
            own => own,
        };
        for block in answer.blocks.iter().rev() {
            match block {
                Block::Title(words) => title = words,
                Block::Face(face) if !answer.blocks.iter().any(is_picture) => title = heading(face),
                _ => {}
            }
        }
        let mut out = format!(
            "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
             <title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main{}>\n",
            escaped(language),
            escaped(title),
            if answer.has_face() {
                " class=\"chart\""
            } else {
                ""
            },
        );
        let mut caption = title;
        // Small print of a chart stands beside its tables where the window is wide.
        let mut place = Place::Whole;
        let mut face = None;
        for (index, block) in answer.blocks.iter().enumerate() {
            place.before((block, &answer.blocks[index + 1..]), face, &mut out);
            match block {
                Block::Face(own) => {
                    face = Some(&**own);
                    caption = heading(own);
                    html_face::write(&mut out, own, &about.words);
                }
                Block::Title(words) => {
                    caption = words;
                    out.push_str(&format!("<h1>{}</h1>\n", sentence(words)));
                }
                Block::Table(table) => write_table(&mut out, table, caption),
                Block::Pairs(pairs) => {
                    out.push_str("<dl>\n");
                    for (name, value) in pairs {
                        out.push_str(&format!(
                            "<dt>{}</dt><dd>{}</dd>\n",
                            shown(name),
                            shown(value)
                        ));
                    }
                    out.push_str("</dl>\n");
                }
                Block::Lines(lines) | Block::Hazards(lines) => {
                    for line in lines {
                        out.push_str(&format!("<p>{}</p>\n", sentence(line)));
                    }
                }
                Block::Picture(plot) => write_picture(&mut out, plot, answer, &about.words),
                Block::Logo(logo) => write_logo(&mut out, logo, &about.words),
                Block::Paper(_) | Block::Code(_) | Block::Blank(_) | Block::About(_) => {}
            }
        }
        place.end(&mut out);
        out.push_str("</main>\n</body>\n</html>\n");
        Ok(out.into_bytes())
    }
}

/// Where the parts of a page go.
#[derive(Clone, Copy, PartialEq)]
enum Place {
    /// Below each other.
    Whole,
    /// Tables below a face.
    Tables,
    /// What is said beside them.
    Notes,
}

impl Place {
    /// Opens and closes what a part stands in.
    fn before(
        &mut self,
        (block, behind): (&Block, &[Block]),
        face: Option<&Face>,
        out: &mut String,
    ) {
        match (*self, block, face) {
            (_, Block::Face(_), _) => self.end(out),
            (Place::Whole, Block::Table(table), Some(face)) => {
                let own = behind
                    .iter()
                    .take_while(|one| !matches!(one, Block::Face(_)));
                let notes: Vec<&str> = own
                    .filter_map(|one| match one {
                        Block::Lines(lines) | Block::Hazards(lines) => Some(lines),
                        _ => None,
                    })
                    .flatten()
                    .map(String::as_str)
                    .collect();
                let (size, height) = html_face::on_paper(table, face, &notes);
                out.push_str(&format!(
                    "<div class=\"sheet\" style=\"--small:{size:.1}pt;--notes:{height:.0}mm\">\n\
                     <div class=\"tables\">\n"
                ));
                *self = Place::Tables;
            }
            (Place::Tables, Block::Lines(_) | Block::Hazards(_), _) => {
                out.push_str("</div>\n<div class=\"notes\">\n");
                *self = Place::Notes;
            }
            _ => {}
        }
    }

    fn end(&mut self, out: &mut String) {
        if *self != Place::Whole {
            out.push_str("</div>\n</div>\n");
            *self = Place::Whole;
        }
    }
}

/// What a page with a face is called.
fn heading(face: &Face) -> &str {
    match (&face.title, face.names.as_slice()) {
        (Some(title), _) => title,
        (None, [name]) => name,
        _ => &face.usual,
    }
}

fn is_picture(block: &Block) -> bool {
    matches!(block, Block::Picture(_))
}

/// A picture keeps its width where the page is narrow, so that its type stays legible.
fn write_picture(out: &mut String, plot: &Plot, answer: &Document, words: &Words) {
    let blocks = &answer.blocks;
    let drawing = Drawing::new(plot, words, 2.0);
    if !is_said(blocks, &plot.title) {
        let is_titled = blocks.iter().any(|block| matches!(block, Block::Title(_)));
        let mark = if is_titled { "h2" } else { "h1" };
        let words = sentence(&plot.title);
        out.push_str(&format!("<{mark}>{words}</{mark}>\n"));
    }
    out.push_str(&format!(
        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{}\">\n{}</div>\n",
        shown(&plot.title),
        bare(plot, &drawing)
    ));
    for note in drawing.notes.iter().filter(|note| !is_said(blocks, note)) {
        out.push_str(&format!("<p>{}</p>\n", sentence(note)));
    }
}

fn write_table(out: &mut String, table: &Table, caption: &str) {
    out.push_str(&format!(
        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{}\">\n\
         <table style=\"--ems:{};--rows:{}\">\n<thead>\n",
        shown(caption),
        html_face::ems(table),
        table.rows.len() + html_face::ROWS_OF_HEAD,
    ));
    let label = table.words.max(1);
    let kind = |column: usize| {
        if column < table.words {
            " class=\"word\""
        } else {
            ""
        }
    };
    if !table.groups.is_empty() {
        out.push_str("<tr>");
        for (name, span) in &table.groups {
            out.push_str(&format!(
                "<th scope=\"colgroup\" colspan=\"{span}\"{}>{}</th>",
                if *span > 1 { " class=\"over\"" } else { "" },
                html_face::head(name)
            ));
        }
        out.push_str("</tr>\n");
    }
    if table.heads.iter().any(|head| !head.is_empty()) {
        out.push_str("<tr>");
        for (column, head) in table.heads.iter().enumerate() {
            let stroke = table.strokes.get(column).copied().flatten();
            let text = match stroke {
                None => shown(head),
                Some(Stroke::Dashed) => {
                    format!("<span class=\"line dashed\">{}</span>", shown(head))
                }
                Some(_) => format!("<span class=\"line\">{}</span>", shown(head)),
            };
            out.push_str(&format!("<th scope=\"col\"{}>{text}</th>", kind(column)));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</thead>\n<tbody>\n");
    let decimals: Vec<usize> = (0..table.heads.len())
        .map(|column| {
            let cells = table
                .rows
                .iter()
                .map(|row| decimals(figure(&row[column]).0));
            cells.flatten().max().unwrap_or(0)
        })
        .collect();
    for row in &table.rows {
        out.push_str("<tr>");
        for (column, cell) in row.iter().enumerate() {
            // Decimal signs stand below each other: a figure's place and half a sign's width each.
            let (text, mark) = figure(cell);
            let short = self::decimals(text).map_or(0, |own| decimals[column] - own);
            let sign = short > 0 && short == decimals[column];
            let pad = if short > 0 && column >= table.words {
                let sign = if sign { 0.45 } else { 0.0 };
                format!(
                    " style=\"padding-right:calc(.55em + {}ch)\"",
                    short as f64 + sign
                )
            } else {
                String::new()
            };
            let tag = if column < label { "th" } else { "td" };
            let scope = if column < label { " scope=\"row\"" } else { "" };
            out.push_str(&format!(
                "<{tag}{scope}{}{pad}>{}{mark}</{tag}>",
                kind(column),
                shown(text)
            ));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
}

/// A cell's figure and its mark as it is written.
fn figure(cell: &str) -> (&str, String) {
    match html_face::marked(cell) {
        Some((figure, mark)) => (
            figure,
            format!("<span class=\"mark\">\u{a0}{}</span>", escaped(mark)),
        ),
        None => (cell, String::new()),
    }
}

fn write_logo(out: &mut String, logo: &Logo, words: &Words) {
    let kind = if logo.is_svg { "svg+xml" } else { "png" };
    out.push_str(&format!(
        "<img class=\"logo\" alt=\"{}\" src=\"data:image/{kind};base64,{}\">\n",
        escaped(words.text(LOGO)),
        base64(&logo.bytes)
    ));
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for part in bytes.chunks(3) {
        let group = part.iter().enumerate().fold(0u32, |sum, (index, byte)| {
            sum | u32::from(*byte) << (16 - 8 * index)
        });
        for index in 0..4 {
            let sign = SIGNS[(group >> (18 - 6 * index) & 63) as usize];
            out.push(if index <= part.len() {
                char::from(sign)
            } else {
                '='
            });
        }
    }
    out
}
