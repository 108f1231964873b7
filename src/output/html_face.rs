//! What is read first, on a page for a browser.

use super::svg::escaped;
use super::{symbol, true_minus};
use crate::page::words::Words;
use crate::page::{Face, Symbol, Table};

/// More names than these are no heading.
const NAMES: usize = 3;
/// Ems of a gap between columns.
const GAP: f32 = 1.1;
/// Ems of a character of a narrow typeface.
const CHARACTER: f32 = 0.5;
/// Millimetres of a point, 25.4/72.
const MM_PER_POINT: f32 = 0.352_778;
/// Ems of a printed row, with its share of the space behind five of them.
const ROW: f32 = 1.32;
/// Rows that a table's head is as high as.
pub(super) const ROWS_OF_HEAD: usize = 4;

pub(super) fn write(out: &mut String, face: &Face, words: &Words) {
    out.push_str("<header class=\"face\">\n");
    if let Some([red, green, blue]) = face.tint {
        out.push_str(&format!(
            "<style>@media not (prefers-color-scheme:dark){{:root{{--band:rgb({red},{green},\
             {blue})}}}}@media print{{:root{{--band:rgb({red},{green},{blue})}}}}</style>\n"
        ));
    }
    if let Some(shop) = &face.shop {
        out.push_str(&format!("<p>{}</p>\n", sentence(shop)));
    }
    // A class stays with its designation.
    let names = face
        .names
        .join(", ")
        .replace(" \u{b7} ", "\u{a0}\u{b7}\u{a0}");
    match &face.title {
        Some(title) => {
            out.push_str(&format!("<h1>{}</h1>\n", sentence(title)));
            out.push_str(&format!("<p><strong>{}</strong></p>\n", sentence(&names)));
        }
        None if face.names.len() <= NAMES => {
            out.push_str(&format!("<h1>{}</h1>\n", sentence(&names)));
        }
        None => {
            out.push_str(&format!("<h1>{}</h1>\n", sentence(&face.usual)));
            out.push_str(&format!("<p><strong>{}</strong></p>\n", sentence(&names)));
        }
    }
    out.push_str("<p class=\"first\">");
    let mut drawn: Vec<Symbol> = Vec::new();
    for (symbols, text) in &face.hazards {
        out.push_str("<span class=\"hazard\">");
        for one in symbols {
            if !drawn.contains(one) {
                drawn.push(*one);
                out.push_str(&drawing(*one, words));
            }
        }
        out.push_str(&format!("{}</span> ", shown(text)));
    }
    out.push_str(&format!("<span>{}</span></p>\n", sentence(&face.reference)));
    for remark in &face.remarks {
        out.push_str(&format!("<p><strong>{}</strong></p>\n", sentence(remark)));
    }
    if !face.boxes.is_empty() {
        out.push_str("<p>");
        for (label, value) in &face.boxes {
            let value = if value.is_empty() { "\u{a0}" } else { value };
            out.push_str(&format!(
                "{}<span class=\"box\">{}</span>",
                shown(label),
                sentence(value)
            ));
        }
        out.push_str("</p>\n");
    }
    if face.title.is_some() || face.names.len() <= NAMES {
        out.push_str(&format!("<p>{}</p>\n", sentence(&face.usual)));
    }
    out.push_str("</header>\n");
}

/// A name over its columns, its class below it.
pub(super) fn head(name: &str) -> String {
    // A designation does not break at its hyphen; a composition may.
    let whole = |name: &str| match name.chars().count() {
        0..=24 => format!("<span class=\"name\">{}</span>", shown(name)),
        _ => shown(name),
    };
    match name.split_once(" \u{b7} ") {
        Some((name, class)) => format!("{}<br>{}", whole(name), shown(class)),
        None => whole(name),
    }
}

/// A hazard's drawing in the color of the text.
fn drawing(one: Symbol, words: &Words) -> String {
    let paths: String = symbol::paths(one)
        .iter()
        .map(|path| format!("<path fill-rule=\"evenodd\" d=\"{path}\"/>"))
        .collect();
    format!(
        "<svg viewBox=\"0 0 100 100\" role=\"img\" aria-label=\"{}\">{paths}</svg>",
        shown(words.text(symbol::phrase(one)))
    )
}

/// About how many ems a table is wide, from which its type is sized to the page.
pub(super) fn ems(table: &Table) -> usize {
    let widest = |column: usize| {
        let cells = table.rows.iter().map(|row| row[column].chars().count());
        cells
            .chain([table.heads[column].chars().count()])
            .max()
            .unwrap_or(0)
    };
    let columns = (0..table.heads.len()).map(widest);
    let inside: f32 = columns.map(|count| count as f32 * CHARACTER + GAP).sum();
    let names = table
        .groups
        .iter()
        .map(|(name, _)| name.split(" \u{b7} ").next().unwrap_or_default())
        .map(|name| name.chars().count() as f32 * CHARACTER + GAP);
    inside.max(names.sum()).ceil().max(8.0) as usize
}

/// How a chart is set on paper: type of its small print, pt, and how high that stands, mm.
///
/// A sheet of letter or a4 with margins of 12 mm leaves 186 mm by 255 mm, of which three columns hold
/// small print. A character of the wide typefaces that browsers fall back on is .6 of its size.
pub(super) fn on_paper(table: &Table, face: &Face, notes: &[&str]) -> (f32, f32) {
    let lines_above = face.remarks.len() + usize::from(!face.boxes.is_empty());
    let room = 225.0 - 5.0 * lines_above as f32;
    let height = |size: f32| {
        let em = size * MM_PER_POINT;
        let characters = (57.0 / (0.6 * em)).floor() as usize;
        let lines: usize = notes
            .iter()
            .map(|one| one.chars().count().div_ceil(characters))
            .sum();
        // a column may end a paragraph short
        (lines as f32 * 1.28 * em + notes.len() as f32 * 0.15 * em) / 3.0 + 2.0 * em
    };
    let sizes = [7.5, 7.0, 6.5, 6.0];
    let rows = (table.rows.len() + ROWS_OF_HEAD) as f32;
    let leaves_room = |size: &f32| (room - height(*size)) / (rows * ROW) >= 7.5 * MM_PER_POINT;
    let size = sizes.into_iter().find(leaves_room).unwrap_or(6.0);
    (size, height(size) + 5.0 * lines_above as f32)
}

/// A figure with its short mark hanging behind it, so that decimal signs stay below each other.
pub(super) fn marked(cell: &str) -> Option<(&str, &str)> {
    let (figure, mark) = cell.split_once(' ')?;
    let is_mark = mark.chars().count() <= 3 && !mark.is_empty();
    (is_mark && super::decimals::decimals(figure).is_some()).then_some((figure, mark))
}

/// A text with what HTML would read as its own marked.
pub(super) fn shown(text: &str) -> String {
    escaped(&true_minus(text))
}

/// A sentence; a figure stays on one line with its unit of temperature.
pub(super) fn sentence(text: &str) -> String {
    shown(text).replace(" \u{b0}", "\u{a0}\u{b0}")
}
