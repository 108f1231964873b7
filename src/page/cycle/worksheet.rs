//! A cycle to work out by hand: the points and results as blanks, ahead of their key.

use super::super::words::cycle::*;
use super::super::{Block, Document, Figures, Style, Table};
use super::figures;
use crate::process::cycle::Comparison;

/// Columns of a point that stay: its name and place.
const NAMED: usize = 2;

/// Blanks for the points and results of each refrigerant, then the heading of the key.
pub(super) fn add(document: &mut Document, answer: &Comparison, style: &Style) {
    for entry in answer.entries.iter().take(answer.refrigerants) {
        let Ok(found) = &entry.found else { continue };
        let name = entry.identity.refrigerant.as_str();
        document.title(style.say(CYCLE_WORKSHEET, &[("refrigerant", name)]));
        document.lines(vec![style.word(CYCLE_WORKSHEET_HOW)]);
        let blank = || style.word(CYCLE_BLANK);
        let points = figures::points("", found, style);
        let heads = points.first().map_or_else(Vec::new, |first| {
            let labels = first.pairs().into_iter().map(|(label, _)| label);
            labels.collect()
        });
        let row = |figures: &Figures| -> Vec<String> {
            let cells = figures.pairs().into_iter().enumerate();
            cells
                .map(|(at, (_, text))| if at < NAMED { text } else { blank() })
                .collect()
        };
        document.blocks.push(Block::Table(Table {
            groups: Vec::new(),
            heads,
            rows: points.iter().map(row).collect(),
            words: NAMED,
            strokes: Vec::new(),
        }));
        let results = figures::column(
            "",
            figures::high_pressure(std::slice::from_ref(entry)),
            found,
            style,
        )
        .pairs();
        let results = results.into_iter().map(|(label, _)| (label, blank()));
        document.blocks.push(Block::Pairs(results.collect()));
    }
    document.title(style.word(CYCLE_KEY));
}
