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
    /// Figures are never larger.
    pub(super) largest: f32,
    /// No further panel is begun for figures of this size or more.
    pub(super) good: f32,
    /// Figures are never smaller.
    pub(super) smallest: f32,
    /// Size of small print as a share of that of figures, between two limits.
    pub(super) share: f32,
    /// Small print is never smaller.
    pub(super) least: f32,
    /// Small print is never larger.
    pub(super) most: f32,
    /// Smallest and largest name of a refrigerant.
    pub(super) name: [f32; 2],
    /// Smallest and largest words of hazards and gauge.
    pub(super) face: [f32; 2],
}

/// Inside the trim of a card.
const CARD_MARGIN: f32 = 3.0 * MM;
/// Room between cards, so that each keeps a sealed edge when laminated after cutting.
const LAMINATION: f32 = 6.0 * MM;
const STRIP: f32 = 32.0 * MM;
const STRIP_MARGIN: f32 = 2.0 * MM;
const PAGE_MARGIN: f32 = 11.0 * MM;

impl Form {
    /// Width and height of a page.
    pub(super) fn page(&self) -> (f32, f32) {
        let (width, height) = self.paper.points();
        match self.shape {
            Shape::Wall if self.landscape => (height, width),
            Shape::Wall | Shape::Strip | Shape::Sheet => (width, height),
            Shape::Wallet => self.card_points(),
            Shape::Folded => match self.paper {
                Paper::A4 => (210.0 * MM, 148.0 * MM),
                Paper::A3 | Paper::Letter | Paper::Tabloid => (height, width),
            },
        }
    }

    /// Width and height of what stands together: a page, a panel, a side of a card.
    pub(super) fn panel(&self) -> (f32, f32) {
        let (width, height) = self.page();
        match self.shape {
            Shape::Wall => (width - 2.0 * PAGE_MARGIN, height - 2.0 * PAGE_MARGIN),
            Shape::Wallet | Shape::Sheet => {
                let (wide, high) = self.card_points();
                (wide - 2.0 * CARD_MARGIN, high - 2.0 * CARD_MARGIN)
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
            Shape::Sheet => (0..self.cards_on_a_sheet())
                .map(|index| {
                    let (left, top) = self.card_corner(index);
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

    /// Columns and rows of cards on a sheet.
    pub(super) fn card_grid(&self) -> (usize, usize) {
        let (width, height) = self.page();
        let (wide, high) = self.card_points();
        let count = |room: f32, one: f32| {
            ((room - 2.0 * 5.0 * MM + LAMINATION) / (one + LAMINATION)).floor() as usize
        };
        (count(width, wide), count(height, high))
    }

    /// How many cards a sheet holds: eight of the usual size.
    pub(super) fn cards_on_a_sheet(&self) -> usize {
        let (columns, rows) = self.card_grid();
        columns * rows
    }

    /// Left and upper edge of a card on a sheet.
    pub(super) fn card_corner(&self, index: usize) -> (f32, f32) {
        let (width, height) = self.page();
        let (wide, high) = self.card_points();
        let (columns, rows) = self.card_grid();
        let (column, row) = (
            (index % columns.max(1)) as f32,
            (index / columns.max(1)) as f32,
        );
        let edge = |room: f32, one: f32, count: usize| {
            (room - count as f32 * (one + LAMINATION) + LAMINATION) / 2.0
        };
        (
            edge(width, wide, columns) + column * (wide + LAMINATION),
            edge(height, high, rows) + row * (high + LAMINATION),
        )
    }

    /// The sizes of type that are tried.
    pub(super) const fn sizes(&self) -> Type {
        match self.shape {
            Shape::Wall => Type {
                largest: 72.0,
                good: 11.0,
                smallest: 7.5,
                share: 0.5,
                least: 7.0,
                most: 12.0,
                name: [20.0, 66.0],
                face: [9.5, 26.0],
            },
            Shape::Folded => Type {
                largest: 16.0,
                good: 14.0,
                smallest: 7.0,
                share: 0.7,
                least: 6.5,
                most: 8.5,
                name: [13.0, 26.0],
                face: [8.0, 11.0],
            },
            Shape::Wallet | Shape::Sheet => Type {
                largest: 11.0,
                good: 8.5,
                smallest: 5.5,
                share: 0.82,
                least: 5.0,
                most: 6.6,
                name: [9.5, 15.0],
                face: [6.0, 7.5],
            },
            Shape::Strip => Type {
                largest: 10.0,
                good: 8.0,
                smallest: 8.0,
                share: 0.8,
                least: 6.5,
                most: 7.5,
                name: [11.0, 16.0],
                face: [8.0, 8.5],
            },
        }
    }

    /// How many panels a good print has, and how many are the most before it is refused.
    pub(super) fn panels(&self) -> (usize, usize) {
        match self.shape {
            Shape::Wall => (2000, 2000),
            Shape::Folded => (4, 4),
            Shape::Wallet | Shape::Sheet => (2, 2),
            Shape::Strip => (4 * self.strips(), 4 * self.strips()),
        }
    }
}
