//! Lays the parts of a document out on panels.

use super::element::{Element, Picture};
use super::flow::{Flow, LEADING};
use super::{picture, table};
use crate::Result;
use crate::chart::plot::Plot;
use crate::output::drawing::Drawing;
use crate::output::is_said;
use crate::page::{Block, Table};

impl Flow<'_> {
    /// Lays out all parts.
    pub(super) fn lay(&mut self, blocks: &[Block]) -> Result<()> {
        for block in blocks {
            match block {
                Block::Title(title) => self.heading(title)?,
                Block::Table(rows) => table::lay(self, rows)?,
                Block::Pairs(pairs) => table::lay(self, &as_table(pairs))?,
                Block::Lines(lines) | Block::Hazards(lines) => {
                    for line in lines {
                        self.paragraph(line)?;
                    }
                    self.skip(self.sizes.words * 0.5);
                }
                Block::Picture(plot) => self.picture(plot, blocks)?,
                Block::Logo(_) => self.sign(),
                Block::Paper(_)
                | Block::About(_)
                | Block::Face(_)
                | Block::Code(_)
                | Block::Blank(_) => {}
            }
        }
        Ok(())
    }

    fn picture(&mut self, plot: &Plot, blocks: &[Block]) -> Result<()> {
        let drawing = Drawing::new(plot, self.told, 2.0);
        picture::check(&drawing, self.faces)?;
        // What is said below it stays on its panel where that lies on its long side.
        let scale = picture::scale(&drawing, (self.width, 0.66 * self.height))?;
        let high = scale * drawing.height() as f32;
        // A title stays with its picture.
        if self.used > 0.0 && self.left_over() < high + 2.0 * LEADING * self.sizes.title {
            self.next_panel();
        }
        if !is_said(blocks, &plot.title) {
            self.heading(&plot.title)?;
        }
        let notes = drawing.notes.clone();
        self.push(Element::Picture(Box::new(Picture {
            left: 0.0,
            top: self.used,
            scale,
            description: drawing.description.clone(),
            drawing,
        })));
        self.skip(high);
        for note in notes.iter().filter(|note| !is_said(blocks, note)) {
            self.paragraph(note)?;
        }
        self.skip(self.sizes.words * 0.5);
        Ok(())
    }
}

/// Names with their values as a table of two columns of words.
fn as_table(pairs: &[(String, String)]) -> Table {
    Table {
        groups: Vec::new(),
        heads: vec![String::new(), String::new()],
        rows: pairs
            .iter()
            .map(|(name, value)| vec![name.clone(), value.clone()])
            .collect(),
        words: 2,
        ..Table::default()
    }
}
