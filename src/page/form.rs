//! Paper and forms: what a printed chart is cut, folded and hung as.

use crate::{Error, Result};

/// A size of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 mm x 297 mm.
    #[default]
    A4,
    /// 8.5 in x 11 in.
    Letter,
    /// 297 mm x 420 mm.
    A3,
    /// 11 in x 17 in.
    Tabloid,
}

/// Points in a millimetre: a point is 1/72 inch.
const POINTS: f32 = 72.0 / 25.4;

impl Paper {
    /// Every paper there is, the smaller ones first.
    pub const ALL: &'static [Paper] = &[Paper::A4, Paper::Letter, Paper::A3, Paper::Tabloid];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
            Paper::A3 => "a3",
            Paper::Tabloid => "tabloid",
        }
    }

    /// Width and height in points.
    pub(crate) const fn points(self) -> (f32, f32) {
        match self {
            Paper::A4 => (210.0 * POINTS, 297.0 * POINTS),
            Paper::Letter => (612.0, 792.0),
            Paper::A3 => (297.0 * POINTS, 420.0 * POINTS),
            Paper::Tabloid => (792.0, 1224.0),
        }
    }

    /// The paper of a name.
    ///
    /// # Errors
    /// [`Error::Value`] for a name that no paper has.
    ///
    /// # Example
    /// ```
    /// use zeotrope::page::Paper;
    /// assert_eq!(Paper::named("A3")?, Paper::A3);
    /// assert!(Paper::named("foolscap").is_err());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn named(name: &str) -> Result<Self> {
        let lower = name.to_lowercase();
        let found = Self::ALL.iter().find(|paper| paper.name() == lower);
        let names = || Self::ALL.iter().map(|paper| paper.name());
        found
            .copied()
            .ok_or_else(|| unknown("paper", name, names()))
    }

    /// The next larger paper of its kind.
    pub const fn larger(self) -> Option<Paper> {
        match self {
            Paper::A4 => Some(Paper::A3),
            Paper::Letter => Some(Paper::Tabloid),
            Paper::A3 | Paper::Tabloid => None,
        }
    }
}

/// What a printed chart becomes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shape {
    /// Whole pages for the wall.
    #[default]
    Wall,
    /// Four panels on two sides, folded once: A6 from A5, half Letter from Letter.
    Folded,
    /// A card of 85.6 mm x 54 mm where no size is given, a page for each side.
    Wallet,
    /// Narrow strips for a gauge or a hose, cut from a page.
    Strip,
    /// Eight cards on a page with cut marks and room to laminate.
    Sheet,
}

impl Shape {
    /// Every shape there is.
    pub const ALL: &'static [Shape] = &[
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

    /// The shape of a name.
    ///
    /// # Errors
    /// [`Error::Value`] for a name that no shape has.
    ///
    /// # Example
    /// ```
    /// use zeotrope::page::Shape;
    /// assert_eq!(Shape::named("wallet")?, Shape::Wallet);
    /// assert!(Shape::named("poster").is_err());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn named(name: &str) -> Result<Self> {
        let lower = name.to_lowercase();
        let found = Self::ALL.iter().find(|shape| shape.name() == lower);
        let names = || Self::ALL.iter().map(|shape| shape.name());
        found.copied().ok_or_else(|| unknown("form", name, names()))
    }

    /// Whether each refrigerant has a piece of its own, to be cut out.
    pub const fn is_of_pieces(self) -> bool {
        matches!(self, Shape::Strip | Shape::Sheet)
    }

    /// Whether it is carried: read at arm's length, with less room for digits.
    pub const fn is_card(self) -> bool {
        !matches!(self, Shape::Wall)
    }
}

/// A shape on a paper.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Form {
    /// What the print becomes.
    pub shape: Shape,
    /// What it is printed on.
    pub paper: Paper,
    /// Whether a wall chart lies on its long side.
    pub landscape: bool,
    /// Width and height of a card in mm, where it is not that of ISO/IEC 7810, ID-1.
    pub card: Option<(f32, f32)>,
    /// What a print shop cuts off around the page, mm; with it come cut marks and a trim box.
    pub bleed: f32,
}

/// Width and height of the card of ISO/IEC 7810, ID-1, mm.
const ID_1: (f32, f32) = (85.6, 54.0);

impl Form {
    /// Width and height of a card in points.
    pub(crate) fn card_points(&self) -> (f32, f32) {
        let (wide, high) = self.card.unwrap_or(ID_1);
        (wide * POINTS, high * POINTS)
    }

    /// The bleed in points.
    pub(crate) const fn bleed_points(&self) -> f32 {
        self.bleed * POINTS
    }
}

/// Width and height of a card in mm, of a text such as `3.5x2in` or `85x55mm`.
///
/// # Errors
/// [`Error::Value`] where it does not say two lengths in mm, cm or in, and for a card narrower than
/// 50 mm, lower than 30 mm or longer than 300 mm.
///
/// # Example
/// ```
/// use zeotrope::page::card_size;
/// // an inch is 25.4 mm
/// assert_eq!(card_size("3.5x2in")?, (88.9, 50.8));
/// assert!(card_size("3.5x2").is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn card_size(text: &str) -> Result<(f32, f32)> {
    let clean = text.to_lowercase().replace(' ', "").replace('\u{d7}', "x");
    let units = [("mm", 1.0), ("cm", 10.0), ("in", 25.4), ("\"", 25.4)];
    let found = units.into_iter().find_map(|(unit, millimetres)| {
        let (wide, high) = clean.strip_suffix(unit)?.split_once('x')?;
        let wide = wide.strip_suffix(unit).unwrap_or(wide);
        let length = |text: &str| text.parse::<f32>().ok().map(|one| one * millimetres);
        Some((length(wide)?, length(high)?))
    });
    let wrong = |problem: &str| Error::Value {
        quantity: "card size",
        text: text.into(),
        problem: problem.into(),
        hint: "write width and height with their unit, for example 3.5x2in or 85x55mm".into(),
    };
    let (wide, high) = found.ok_or_else(|| wrong("is not a width and a height"))?;
    match (50.0..=300.0).contains(&wide) && (30.0..=300.0).contains(&high) {
        true => Ok((wide, high)),
        false => Err(wrong("is not from 50 x 30 mm to 300 x 300 mm")),
    }
}

/// A length of a bleed in mm, of a text such as `3mm` or `0.125in`.
///
/// # Errors
/// [`Error::Value`] where it does not say a length from above 0 to 10 mm.
///
/// # Example
/// ```
/// assert_eq!(zeotrope::page::bleed("3mm")?, 3.0);
/// assert!(zeotrope::page::bleed("3").is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn bleed(text: &str) -> Result<f32> {
    let clean = text.to_lowercase().replace(' ', "");
    let units = [("mm", 1.0), ("cm", 10.0), ("in", 25.4)];
    let found = units.into_iter().find_map(|(unit, millimetres)| {
        let length: f32 = clean.strip_suffix(unit)?.parse().ok()?;
        Some(length * millimetres)
    });
    found
        .filter(|length| *length > 0.0 && *length <= 10.0)
        .ok_or_else(|| Error::Value {
            quantity: "bleed",
            text: text.into(),
            problem: "is not a length from above 0 to 10 mm".into(),
            hint: "print shops ask for 2 or 3 mm: 3mm or 0.125in".into(),
        })
}

/// The hues a tint is named by, light enough for black figures.
const HUES: [(&str, [u8; 3]); 6] = [
    ("grey", [235, 235, 235]),
    ("blue", [222, 234, 246]),
    ("green", [223, 240, 224]),
    ("yellow", [250, 240, 205]),
    ("red", [249, 226, 222]),
    ("violet", [236, 226, 244]),
];

/// A light tint by the name of its hue or as `#rrggbb`; a dark colour is lightened until black
/// figures stand out from it.
///
/// # Errors
/// [`Error::Value`] for a name that no hue has and for what is no colour.
///
/// # Example
/// ```
/// use zeotrope::page::tint;
/// assert_eq!(tint("#e0f0ff")?, [0xe0, 0xf0, 0xff]);
/// // a shop's dark blue: a light one of the same hue
/// assert!(tint("#003366")?.iter().all(|part| *part > 200));
/// assert!(tint("bleu").is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn tint(text: &str) -> Result<[u8; 3]> {
    let lower = text.trim().to_lowercase();
    if let Some((_, colour)) = HUES.into_iter().find(|(name, _)| *name == lower) {
        return Ok(colour);
    }
    let digits = lower.strip_prefix('#').unwrap_or(&lower);
    let parts: Option<Vec<u8>> = (digits.len() == 6 && digits.is_ascii())
        .then(|| {
            let each = (0..3).map(|place| u8::from_str_radix(&digits[2 * place..][..2], 16).ok());
            each.collect()
        })
        .flatten();
    let Some(&[red, green, blue]) = parts.as_deref() else {
        let names = HUES.map(|(name, _)| name);
        return Err(unknown("tint", text, names.into_iter().chain(["#rrggbb"])));
    };
    // Mixed with white until the darkest part is light.
    let darkest = red.min(green).min(blue);
    let least = 205.0_f32;
    let share = match f32::from(darkest) < least {
        true => (255.0 - least) / (255.0 - f32::from(darkest)),
        false => 1.0,
    };
    Ok([red, green, blue].map(|part| (255.0 - share * (255.0 - f32::from(part))).round() as u8))
}

/// The error for a name that is none of a list.
fn unknown(quantity: &'static str, text: &str, names: impl Iterator<Item = &'static str>) -> Error {
    let names: Vec<&str> = names.collect();
    Error::Value {
        quantity,
        text: text.into(),
        problem: "is not known".into(),
        hint: format!("use {}", names.join(", ")),
    }
}
