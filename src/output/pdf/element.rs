//! Parts of a panel: texts, lines, tables and pictures with their places, in points from its upper left
//! corner.

use super::code::Matrix;
use crate::output::drawing::Drawing;
use crate::page::Symbol;

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

/// A picture on a panel.
#[derive(Debug, Clone)]
pub(super) struct Picture {
    pub(super) left: f32,
    pub(super) top: f32,
    pub(super) scale: f32,
    pub(super) drawing: Drawing,
    /// What it shows, for those who do not see it.
    pub(super) description: String,
}
