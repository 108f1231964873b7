//! Fills panels of one size. Places are in points from a panel's upper left corner; nothing is drawn
//! here.

use super::element::{Element, Panel, Run};
use super::face::Faces;
use super::sign::Sign;
use crate::Result;
use crate::output::true_minus;
use crate::page::words::Words;

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
    pub(super) sign: Option<&'a Sign>,
    pub(super) told: &'a Words,
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

    /// A panel filled as far as this one, or not at all, to try what fits.
    pub(super) fn trial(&self, is_fresh: bool) -> Flow<'a> {
        let around = (self.sign, self.told);
        let mut trial = Flow::new(self.faces, around, (self.width, self.height), self.sizes);
        if !is_fresh {
            trial.used = self.used;
            trial.beside = self.beside;
        }
        trial
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

    pub(super) fn sign(&mut self) {
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

    pub(super) fn heading(&mut self, title: &str) -> Result<()> {
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

    pub(super) fn paragraph(&mut self, line: &str) -> Result<()> {
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
