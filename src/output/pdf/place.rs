//! Where things lie on the paper of a form. Lengths in points, 1/72 inch.

use crate::page::{Form, Paper, Shape};

/// Points in a millimetre.
const MM: f32 = 72.0 / 25.4;

/// A rectangle on one side of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    pub(super) side: usize,
    pub(super) left: f32,
    pub(super) top: f32,
}

/// Sizes of type, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Type {
    pub(super) largest: f32,
    pub(super) smallest: f32,
    /// Never smaller, whatever it is.
    pub(super) least: f32,
}

/// Card of ISO/IEC 7810, ID-1, and the width of a strip.
const CARD: (f32, f32) = (85.6 * MM, 54.0 * MM);
const CARD_MARGIN: f32 = 3.0 * MM;
/// Room between cards, so that each keeps a sealed edge when laminated after cutting.
const LAMINATION: f32 = 6.0 * MM;
const STRIP: f32 = 32.0 * MM;
const STRIP_MARGIN: f32 = 2.0 * MM;
const PAGE_MARGIN: f32 = 12.0 * MM;

impl Form {
    /// Width and height of a page.
    pub(super) fn page(&self) -> (f32, f32) {
        let (width, height) = match self.paper {
            Paper::A4 => (210.0 * MM, 297.0 * MM),
            Paper::Letter => (612.0, 792.0),
        };
        match self.shape {
            Shape::Wall if self.landscape => (height, width),
            Shape::Wall | Shape::Strip | Shape::Sheet => (width, height),
            Shape::Wallet => CARD,
            Shape::Folded => match self.paper {
                Paper::A4 => (210.0 * MM, 148.0 * MM),
                Paper::Letter => (height, width),
            },
        }
    }

    /// Width and height of what stands together: a page, a panel, a side of a card.
    pub(super) fn panel(&self) -> (f32, f32) {
        let (width, height) = self.page();
        match self.shape {
            Shape::Wall => (width - 2.0 * PAGE_MARGIN, height - 2.0 * PAGE_MARGIN),
            Shape::Wallet | Shape::Sheet => {
                (CARD.0 - 2.0 * CARD_MARGIN, CARD.1 - 2.0 * CARD_MARGIN)
            }
            Shape::Strip => (STRIP - 2.0 * STRIP_MARGIN, height - 2.0 * PAGE_MARGIN),
            Shape::Folded => (width / 2.0 - 2.0 * 8.0 * MM, height - 2.0 * 8.0 * MM),
        }
    }

    /// Where the panels of one sheet lie, in the order in which they are read.
    pub(super) fn places(&self) -> Vec<Place> {
        let (width, _) = self.page();
        match self.shape {
            Shape::Wall => vec![Place {
                side: 0,
                left: PAGE_MARGIN,
                top: PAGE_MARGIN,
            }],
            Shape::Wallet => vec![Place {
                side: 0,
                left: CARD_MARGIN,
                top: CARD_MARGIN,
            }],
            Shape::Strip => (0..self.strips())
                .map(|index| Place {
                    side: 0,
                    left: self.first_strip() + index as f32 * STRIP + STRIP_MARGIN,
                    top: PAGE_MARGIN,
                })
                .collect(),
            // Folded once: the front is the right half of the first side.
            Shape::Folded => [(0, 0.5), (1, 0.0), (1, 0.5), (0, 0.0)]
                .map(|(side, share)| Place {
                    side,
                    left: share * width + 8.0 * MM,
                    top: 8.0 * MM,
                })
                .to_vec(),
            Shape::Sheet => (0..8)
                .map(|index| {
                    let (left, top) = self.card(index);
                    Place {
                        side: 0,
                        left: left + CARD_MARGIN,
                        top: top + CARD_MARGIN,
                    }
                })
                .collect(),
        }
    }

    /// How many strips a page holds.
    pub(super) fn strips(&self) -> usize {
        ((self.page().0 - 2.0 * 5.0 * MM) / STRIP).floor() as usize
    }

    /// Left edge of the first strip.
    pub(super) fn first_strip(&self) -> f32 {
        (self.page().0 - self.strips() as f32 * STRIP) / 2.0
    }

    /// Width of a strip.
    pub(super) const fn strip(&self) -> f32 {
        STRIP
    }

    /// Left and upper edge of one of eight cards.
    pub(super) fn card(&self, index: usize) -> (f32, f32) {
        let (width, height) = self.page();
        let (column, row) = ((index % 2) as f32, (index / 2) as f32);
        let left = (width - 2.0 * CARD.0 - LAMINATION) / 2.0;
        let top = (height - 4.0 * CARD.1 - 3.0 * LAMINATION) / 2.0;
        (
            left + column * (CARD.0 + LAMINATION),
            top + row * (CARD.1 + LAMINATION),
        )
    }

    /// Width and height of one of eight cards.
    pub(super) const fn card_size(&self) -> (f32, f32) {
        CARD
    }

    /// The sizes of type that are tried.
    pub(super) const fn sizes(&self) -> Type {
        let (largest, smallest, least) = match self.shape {
            Shape::Wall => (14.0, 8.0, 7.5),
            Shape::Folded => (10.0, 7.0, 6.5),
            Shape::Wallet | Shape::Sheet => (8.0, 6.5, 6.5),
            Shape::Strip => (8.0, 8.0, 8.0),
        };
        Type {
            largest,
            smallest,
            least,
        }
    }

    /// How many panels a good print has, and how many are the most before it is refused.
    pub(super) fn panels(&self) -> (usize, usize) {
        match self.shape {
            Shape::Wall => (1, 2000),
            Shape::Folded => (4, 4),
            Shape::Wallet | Shape::Sheet => (2, 8),
            Shape::Strip => (self.strips(), 4 * self.strips()),
        }
    }
}
