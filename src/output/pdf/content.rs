//! What stands on a card or wall, and how it is tried.

use super::code::Matrix;
use super::face::Faces;
use super::grid::{Grid, Scale};
use super::place::Type;
use super::prose::Paragraph;
use super::sign::Sign;
use crate::page::{Face, Form};

/// Fewer rows than these stand on no panel alone.
pub(super) const FEW: usize = 4;

/// A table under a heading of its own, or under the face.
#[derive(Clone)]
pub(super) struct Part<'a> {
    pub(super) heading: Option<&'a str>,
    pub(super) grid: Grid<'a>,
}

/// What stands on one card or wall.
#[derive(Clone)]
pub(super) struct Content<'a> {
    pub(super) faces: &'a Faces,
    pub(super) sign: Option<&'a Sign>,
    pub(super) form: &'a Form,
    pub(super) face: &'a Face,
    pub(super) parts: Vec<Part<'a>>,
    pub(super) prose: Vec<Paragraph>,
    pub(super) code: Option<Matrix>,
    pub(super) writing: usize,
    pub(super) limits: Type,
}

/// What is tried.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting {
    pub(super) scale: Scale,
    /// Parts of refrigerants below each other.
    pub(super) parts: usize,
    /// Blocks of rows side by side.
    pub(super) blocks: usize,
    /// Whether a table may go on with a few rows on a further panel, where nothing else fits.
    pub(super) is_loose: bool,
    /// Whether blocks end where a band of rows ends, as far as they can.
    pub(super) in_bands: bool,
    /// Whether paragraphs of small print are whole in their columns.
    pub(super) unbroken: bool,
    /// Whether these stand below the blocks of the table, where there are as many columns.
    pub(super) aligned: bool,
}
