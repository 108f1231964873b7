//! Lays the parts of a document out on panels.

use super::element::{Element, Picture};
use super::flow::{Flow, LEADING};
use super::header::{self, HeaderSizes};
use super::prose::{self, Columns, Paragraph, Rest};
use super::{picture, table};
use crate::Result;
use crate::chart::plot::Plot;
use crate::output::drawing::{BOTTOM, Drawing, WIDTH};
use crate::output::is_said;
use crate::page::{Block, Face, Table};

/// The field of a picture with a face is never lower, in px of its drawing.
const LEAST_FIELD: f64 = 265.0;

impl Flow<'_> {
    /// Lays out all parts.
    pub(super) fn lay(&mut self, blocks: &[Block]) -> Result<()> {
        let face = blocks.iter().find_map(|block| match block {
            Block::Face(face) => Some(face),
            _ => None,
        });
        let plot = blocks.iter().find_map(|block| match block {
            Block::Picture(plot) => Some(plot),
            _ => None,
        });
        if let (Some(face), Some(plot)) = (face, plot) {
            return self.poster(face, plot, blocks);
        }
        for (place, block) in blocks.iter().enumerate() {
            if matches!(block, Block::Title(_)) && self.is_torn(&blocks[place..], blocks)? {
                self.next_panel();
            }
            self.block(block, blocks)?;
        }
        Ok(())
    }

    fn block(&mut self, block: &Block, all: &[Block]) -> Result<()> {
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
            Block::Picture(plot) => self.picture(plot, all)?,
            Block::Logo(_) => self.sign(),
            Block::Paper(_)
            | Block::About(_)
            | Block::Face(_)
            | Block::Code(_)
            | Block::Blank(_) => {}
        }
        Ok(())
    }

    /// Whether titles and lines would stand here and the table or picture that they are of on the
    /// next panel, though that holds all of them.
    fn is_torn(&self, blocks: &[Block], all: &[Block]) -> Result<bool> {
        let is_said = |block: &&Block| matches!(block, Block::Title(_) | Block::Lines(_));
        let said = blocks.iter().take_while(is_said).count();
        let is_shown = matches!(
            blocks.get(said),
            Some(Block::Table(_) | Block::Pairs(_) | Block::Picture(_))
        );
        if self.used == 0.0 || !is_shown {
            return Ok(false);
        }
        let begins_elsewhere = |is_fresh: bool| -> Result<bool> {
            let mut trial = self.trial(is_fresh);
            for block in &blocks[..=said] {
                trial.block(block, all)?;
            }
            let is_shown =
                |one: &Element| matches!(one, Element::Table { .. } | Element::Picture(_));
            Ok(trial.panels.len() > 1
                && !trial.panels[0].is_empty()
                && !trial.panels[0].iter().any(is_shown))
        };
        Ok(begins_elsewhere(false)? && !begins_elsewhere(true)?)
    }

    /// A picture with a face: what is read first, the picture over the paper that is left, up to a
    /// little more than a square, then what is said below it, in columns.
    fn poster(&mut self, face: &Face, plot: &Plot, blocks: &[Block]) -> Result<()> {
        header::check(self.faces, face)?;
        let has_logo = blocks.iter().any(|one| matches!(one, Block::Logo(_)));
        let sign = self.sign.filter(|_| has_logo);
        let sizes = HeaderSizes {
            name: (self.sizes.table * 1.9).max(20.0),
            words: (self.sizes.table * 0.8).max(9.5),
        };
        let panel = (self.width, self.height);
        let (elements, high) = header::set(self.faces, face, sign, panel, sizes, true);
        elements.into_iter().for_each(|one| self.push(one));
        self.skip(high);
        // With more names it heads the page.
        if (1..=header::NAMES).contains(&face.names.len()) {
            self.heading(&face.usual)?;
        }
        let usual = Drawing::new(plot, self.told, 2.0);
        let mut paragraphs = paragraphs(blocks, &usual.notes);
        prose::check(self.faces, &paragraphs)?;
        let size = self.sizes.words;
        let (faces, width) = (self.faces, self.width);
        let pour = |paragraphs: &[Paragraph], room: f32| {
            let columns = Columns::for_width(width, size);
            let mut rest = Rest { paragraphs };
            let found = prose::pour(faces, &mut rest, (0.0, 0.0), (columns, room), (size, true));
            rest.paragraphs.is_empty().then_some(found)
        };
        let below = pour(&paragraphs, self.left_over()).map_or(f32::MAX, |found| found.1);
        let room = self.left_over() - below - size;
        let field = f64::from(room) * WIDTH / f64::from(self.width) - BOTTOM - 4.0;
        let field = field.clamp(LEAST_FIELD, 0.95 * WIDTH);
        let drawing = Drawing::with_field(plot, self.told, 2.0, field);
        picture::check(&drawing, self.faces)?;
        let scale = picture::scale(&drawing, (self.width, room.max(0.5 * self.height)))?;
        let high = scale * drawing.height() as f32;
        // Names that found no room in this one are told below it.
        paragraphs = self::paragraphs(blocks, &drawing.notes);
        let description = drawing.description.clone();
        let top = self.used;
        self.push(Element::Picture(Box::new(Picture {
            left: 0.0,
            top,
            scale,
            description,
            drawing,
        })));
        self.skip(high + 0.5 * size);
        if pour(&paragraphs, self.left_over()).is_none() {
            self.next_panel();
        }
        let top = self.used;
        for element in pour(&paragraphs, self.left_over()).map_or_else(Vec::new, |found| found.0) {
            self.push(element.moved(0.0, top));
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

/// What is said below a picture: its notes, then what the page says, hazards bold.
fn paragraphs(blocks: &[Block], notes: &[String]) -> Vec<Paragraph> {
    let said = |lines: &[String], bold: bool| -> Vec<Paragraph> {
        let each = lines.iter().map(|text| Paragraph {
            text: text.clone(),
            bold,
        });
        each.collect()
    };
    let more = blocks.iter().flat_map(|block| match block {
        Block::Lines(lines) => said(lines, false),
        Block::Hazards(lines) => said(lines, true),
        _ => Vec::new(),
    });
    said(notes, false).into_iter().chain(more).collect()
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
