//! Lays an answer's parts out on panels of one size. Places are in points from a panel's upper left
//! corner; nothing is drawn here.

use super::code::Matrix;
use super::face::Faces;
use super::header::{self, HeaderSizes};
use super::picture::{self, Picture};
use super::prose::{self, Columns, Paragraph, Rest};
use super::sign::Sign;
use super::table;
use crate::Result;
use crate::chart::plot::Plot;
use crate::output::drawing::{BOTTOM, Drawing, WIDTH};
use crate::output::{is_said, true_minus};
use crate::page::words::Words;
use crate::page::{Block, Face, Symbol, Table};

/// A text on one line.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub(super) left: f32,
    pub(super) baseline: f32,
    pub(super) size: f32,
    pub(super) bold: bool,
    pub(super) text: String,
}

/// A straight line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rule {
    pub(super) from: (f32, f32),
    pub(super) to: (f32, f32),
    pub(super) width: f32,
    pub(super) dashed: bool,
}

/// A head of a table, over one column or several.
#[derive(Debug, Clone)]
pub(super) struct Head {
    pub(super) lines: Vec<Run>,
    pub(super) span: usize,
}

/// A part of a panel.
#[derive(Debug, Clone)]
pub(super) enum Element {
    Heading(Vec<Run>),
    Paragraph(Vec<Run>),
    Table {
        heads: Vec<Vec<Head>>,
        rows: Vec<Vec<Run>>,
        rules: Vec<Rule>,
        /// Bands behind rows: left, top, width, height.
        bands: Vec<[f32; 4]>,
    },
    /// Lines that mean nothing to who hears the page: boxes, lines to write on.
    Rules(Vec<Rule>),
    /// A hazard's drawing: left, top, side.
    Symbol(Symbol, f32, f32, f32),
    /// A QR code: left, top, side.
    Code(Matrix, f32, f32, f32),
    Picture(Box<Picture>),
    /// The shop's sign: left, top, width, height.
    Sign(f32, f32, f32, f32),
}

impl Element {
    /// The same lines of text at another place.
    pub(super) fn moved(mut self, right: f32, down: f32) -> Self {
        if let Element::Heading(runs) | Element::Paragraph(runs) = &mut self {
            for run in runs {
                run.left += right;
                run.baseline += down;
            }
        }
        self
    }
}

/// What stands on one panel.
pub(super) type Panel = Vec<Element>;

/// Sizes of type of one layout.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sizes {
    pub(super) title: f32,
    pub(super) table: f32,
    pub(super) words: f32,
}

/// Fills panels, one after the other.
pub(super) struct Flow<'a> {
    pub(super) faces: &'a Faces,
    sign: Option<&'a Sign>,
    told: &'a Words,
    pub(super) width: f32,
    pub(super) height: f32,
    pub(super) sizes: Sizes,
    pub(super) panels: Vec<Panel>,
    /// How far the last panel is filled.
    pub(super) used: f32,
    /// Room at the upper right corner of the first panel that the sign takes.
    beside: (f32, f32),
    /// Tables of which only a few rows stand on a further panel.
    pub(super) scraps: usize,
}

/// The field of a picture with a face is never lower, in px of its drawing.
const LEAST_FIELD: f64 = 265.0;
/// Distance of baselines, in sizes of type.
pub(super) const LEADING: f32 = 1.2;

impl<'a> Flow<'a> {
    pub(super) fn new(
        faces: &'a Faces,
        (sign, told): (Option<&'a Sign>, &'a Words),
        (width, height): (f32, f32),
        sizes: Sizes,
    ) -> Self {
        Self {
            faces,
            sign,
            told,
            width,
            height,
            sizes,
            panels: vec![Vec::new()],
            used: 0.0,
            beside: (0.0, 0.0),
            scraps: 0,
        }
    }

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

    pub(super) fn left_over(&self) -> f32 {
        self.height - self.used
    }

    pub(super) fn next_panel(&mut self) {
        self.panels.push(Vec::new());
        self.used = 0.0;
        self.beside = (0.0, 0.0);
    }

    pub(super) fn push(&mut self, element: Element) {
        if let Some(panel) = self.panels.last_mut() {
            panel.push(element);
        }
    }

    pub(super) fn skip(&mut self, height: f32) {
        self.used = (self.used + height).min(self.height);
    }

    fn sign(&mut self) {
        let Some(sign) = self.sign else {
            return;
        };
        // A seventh of the panel's height at most, a third of its width.
        let (wide, high) = sign.size();
        let scale = (self.width / 3.0 / wide).min((self.height / 7.0).min(40.0) / high);
        let (wide, high) = (wide * scale, high * scale);
        self.push(Element::Sign(self.width - wide, self.used, wide, high));
        self.beside = (wide + 6.0, self.used + high);
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
            let columns = Columns::of(width, size);
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

    fn heading(&mut self, title: &str) -> Result<()> {
        let size = self.sizes.title;
        // A heading stays with the heads and the first rows of its table.
        let wanted = size * LEADING + 10.0 * LEADING * self.sizes.table;
        if self.used > self.beside.1 && self.left_over() < wanted && wanted <= self.height {
            self.next_panel();
        }
        let runs = self.text(title, size, true)?;
        for lines in runs {
            self.push(Element::Heading(lines));
        }
        self.used = self.used.max(self.beside.1);
        self.skip(size * 0.35);
        Ok(())
    }

    fn paragraph(&mut self, line: &str) -> Result<()> {
        for lines in self.text(line, self.sizes.words, false)? {
            self.push(Element::Paragraph(lines));
        }
        self.skip(self.sizes.words * 0.3);
        Ok(())
    }

    /// A text broken into lines and over panels: its lines on each panel that it meets.
    fn text(&mut self, text: &str, size: f32, bold: bool) -> Result<Vec<Vec<Run>>> {
        self.faces.check(text)?;
        let beside = if self.used < self.beside.1 {
            self.beside.0
        } else {
            0.0
        };
        let weight = self.faces.weight(bold);
        let wrapped = weight.wrapped(&true_minus(text), size, self.width - beside);
        // What would stand whole on the next panel is not torn apart.
        let needs = wrapped.len() as f32 * size * LEADING;
        if self.used > 0.0 && self.left_over() < needs && needs <= self.height {
            self.next_panel();
        }
        let mut parts = Vec::new();
        let mut here = Vec::new();
        for text in wrapped {
            if self.left_over() < size * LEADING {
                if !here.is_empty() {
                    // What is on this panel is handed over before the next begins.
                    let done: Vec<Run> = std::mem::take(&mut here);
                    self.push(if bold {
                        Element::Heading(done)
                    } else {
                        Element::Paragraph(done)
                    });
                }
                self.next_panel();
            }
            here.push(Run {
                left: 0.0,
                baseline: self.used + size * 0.95,
                size,
                bold,
                text,
            });
            self.used += size * LEADING;
        }
        if !here.is_empty() {
            parts.push(here);
        }
        Ok(parts)
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
