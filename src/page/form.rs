//! Paper and forms: what a printed chart is cut, folded and hung as.

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 mm x 297 mm.
    #[default]
    A4,
    /// 8.5 in x 11 in.
    Letter,
}

/// What a printed chart becomes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shape {
    /// Whole pages for the wall.
    #[default]
    Wall,
    /// Four panels on two sides, folded once: A6 from A5, half Letter from Letter.
    Folded,
    /// A card of 85.6 mm x 54 mm, a page for each side.
    Wallet,
    /// Narrow strips for a gauge or a hose, cut from a page.
    Strip,
    /// Eight cards on a page with cut marks and room to laminate.
    Sheet,
}

impl Shape {
    /// Every shape there is.
    pub const ALL: [Shape; 5] = [
        Shape::Wall,
        Shape::Folded,
        Shape::Wallet,
        Shape::Strip,
        Shape::Sheet,
    ];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Shape::Wall => "wall",
            Shape::Folded => "folded",
            Shape::Wallet => "wallet",
            Shape::Strip => "strip",
            Shape::Sheet => "sheet",
        }
    }

    /// Whether it is carried: read at arm's length, with less room for digits.
    pub const fn is_card(self) -> bool {
        !matches!(self, Shape::Wall)
    }
}

/// A shape on a paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Form {
    /// What the print becomes.
    pub shape: Shape,
    /// What it is printed on.
    pub paper: Paper,
    /// Whether a wall chart lies on its long side.
    pub landscape: bool,
}
