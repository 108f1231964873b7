//! A page for a browser: one file that needs no other, readable on a telephone and by ear, with a
//! style of its own for paper.

use super::decimals::decimals;
use super::drawing::Drawing;
use super::svg::{bare, escaped};
use super::{Exporter, is_said, true_minus};
use crate::Result;
use crate::chart::plot::Plot;
use crate::page::words::{Words, charts::LOGO};
use crate::page::{Block, Document, Logo, Table};

pub(super) struct Html;

const STYLE: &str = "\
:root{color-scheme:light}\
body{margin:0 auto;padding:12px;max-width:1100px;color:#000;background:#fff;\
font:16px/1.4 'Roboto Condensed','Liberation Sans Narrow',Arial,sans-serif}\
h1,h2{font-size:1.3em;margin:.4em 0}\
h2{font-size:1.15em}\
.wide{overflow-x:auto;margin:.6em 0}\
table{border-collapse:collapse;font-variant-numeric:tabular-nums}\
th,td{padding:.12em .55em;text-align:right;white-space:nowrap}\
th.word,td.word{text-align:left;white-space:normal}\
thead th{border-bottom:2px solid #000;vertical-align:bottom}\
thead tr:not(:last-child) th{border-bottom:0}\
thead tr:not(:last-child) th.over{text-align:center;border-bottom:1px solid #000}\
tbody th{position:sticky;left:0;background:#fff;border-right:1px solid #000}\
tbody tr:nth-child(5n) td,tbody tr:nth-child(5n) th{border-bottom:1px solid #000}\
tbody tr:last-child td,tbody tr:last-child th{border-bottom:2px solid #000}\
p{margin:.3em 0;max-width:75ch}\
dl{display:grid;grid-template-columns:minmax(8em,max-content) 1fr;gap:.2em 1em}\
dd{margin:0;overflow-wrap:anywhere}\
h1,h2,p,th{overflow-wrap:anywhere}\
svg{max-width:100%;min-width:600px;height:auto}\
img.logo{float:right;max-width:30%;max-height:70px;margin:0 0 6px 12px}\
@media(max-width:420px){body{padding:8px;font-size:15px}th,td{padding:.1em .35em}}\
@media print{body{max-width:none;padding:0;font-size:10pt}.wide{overflow:visible}\
thead{display:table-header-group}tr{break-inside:avoid}p{font-size:8pt;margin:.2em 0}\
tbody th{position:static}}\
";

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
            if let Block::Title(words) = block {
                title = words;
            }
        }
        let mut out = format!(
            "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
             <title>{}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n",
            escaped(language),
            escaped(title),
        );
        let mut caption = title;
        for block in &answer.blocks {
            match block {
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
                Block::Face(_)
                | Block::Paper(_)
                | Block::Code(_)
                | Block::Blank(_)
                | Block::About(_) => {}
            }
        }
        out.push_str("</main>\n</body>\n</html>\n");
        Ok(out.into_bytes())
    }
}

fn shown(text: &str) -> String {
    escaped(&true_minus(text))
}

/// A sentence; a figure stays on one line with its unit of temperature.
fn sentence(text: &str) -> String {
    shown(text).replace(" \u{b0}", "\u{a0}\u{b0}")
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
        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{}\">\n<table>\n<thead>\n",
        shown(caption)
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
                shown(name)
            ));
        }
        out.push_str("</tr>\n");
    }
    if table.heads.iter().any(|head| !head.is_empty()) {
        out.push_str("<tr>");
        for (column, head) in table.heads.iter().enumerate() {
            out.push_str(&format!(
                "<th scope=\"col\"{}>{}</th>",
                kind(column),
                shown(head)
            ));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</thead>\n<tbody>\n");
    let decimals: Vec<usize> = (0..table.heads.len())
        .map(|column| {
            let cells = table.rows.iter().map(|row| decimals(&row[column]));
            cells.flatten().max().unwrap_or(0)
        })
        .collect();
    for row in &table.rows {
        out.push_str("<tr>");
        for (column, cell) in row.iter().enumerate() {
            // Decimal signs stand below each other: a figure's place and half a sign's width each.
            let short = self::decimals(cell).map_or(0, |own| decimals[column] - own);
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
            let mark = if column < label { "th" } else { "td" };
            let scope = if column < label { " scope=\"row\"" } else { "" };
            out.push_str(&format!(
                "<{mark}{scope}{}{pad}>{}</{mark}>",
                kind(column),
                shown(cell)
            ));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table>\n</div>\n");
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
