//! The nodes of saturation lines, for an instrument to read between.

use super::print::Print;
use super::words::charts::*;
use super::{Document, Figures, Sheet, Style, cautions, chart};
use crate::Warning;
use crate::chart::{Line, NodeLine, NodeTable};
use crate::refrigerant::Refrigerant;

/// The page of nodes.
pub fn nodes(
    answer: &NodeTable,
    refrigerants: &[Refrigerant],
    print: &Print,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let refrigerants: Vec<&Refrigerant> = refrigerants.iter().collect();
    let hazards = cautions(&refrigerants, None, style);
    let mut document = Document::new(answer, super::told(&warnings, style), hazards);
    document.title(style.word(NODES_TITLE));
    let mut rows = Vec::new();
    let mut lines = vec![style.word(NODES_BETWEEN)];
    let high = answer.to.in_kelvin();
    for line in &answer.lines {
        for node in &line.nodes {
            let (kelvin, pascal) = (node.temperature.in_kelvin(), node.pressure.in_pascal());
            let field = |key: &str| format!("nodes/{}/{key}", rows.len());
            let mut row = Figures::default();
            row.plain(field("refrigerant"), line.refrigerant.as_str());
            row.plain(field("line"), line.line.name());
            row.plain(field("temperature_K"), kelvin);
            row.plain(field("pressure_Pa"), pascal);
            row.remark("ln_pressure", format!("{:.7}", pascal.ln()));
            row.plain(field("largest_error_K"), node.largest_error);
            rows.push(row);
        }
        lines.extend(as_told(line, answer.from.in_kelvin(), high, style));
    }
    lines.push(style.word(CHART_EQUATION_ERROR));
    document.rows(2, rows);
    if let Some(super::Block::Table(table)) = document.blocks.last() {
        document.sheet = Sheet {
            heads: table.heads.clone(),
            rows: table.rows.clone(),
        };
    }
    document.json.add("", "notes", lines.clone());
    document.lines(lines);
    document.hazards();
    document.blocks.push(print.about(style));
    document
}

fn as_told(line: &NodeLine, low: f64, high: f64, style: &Style) -> Vec<String> {
    let worst = line.nodes.iter().map(|node| node.largest_error);
    let worst = worst.fold(0.0, f64::max);
    let end = line.nodes.last();
    let end = end.map_or(high, |node| node.temperature.in_kelvin());
    let word = match line.line {
        Line::Saturation => style.word(LINE_SATURATION),
        line => chart::column_in_words(line, style),
    };
    let named = [("refrigerant", line.refrigerant.as_str()), ("line", &word)];
    let figures = [
        ("count", line.nodes.len().to_string()),
        ("from", style.fixed(low, 2)),
        ("to", style.fixed(end, 2)),
        ("error", style.fixed(worst, 4)),
    ];
    let figures = figures
        .each_ref()
        .map(|(name, text)| (*name, text.as_str()));
    let mut lines = vec![style.say(NODES_OF, &[&named[..], &figures].concat())];
    if end < high - 1e-6 {
        let to = style.fixed(high, 2);
        lines.push(style.say(NODES_END, &[&named[..], &[("to", &to)]].concat()));
    }
    lines
}
