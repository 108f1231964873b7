//! The embedded typeface: which glyph a character has, and how wide a text is.
//!
//! Kerning and ligatures are left out of the subset, so that a text is as wide as the sum of its
//! characters and reads back as it was written.

use std::ops::Range;

use krilla::text::{Font, GlyphId, KrillaGlyph};

use crate::{Error, Result};

const REGULAR: &[u8] = include_bytes!("font/RobotoCondensed-Regular.ttf");
const BOLD: &[u8] = include_bytes!("font/RobotoCondensed-Bold.ttf");

/// One weight.
pub(super) struct Weight {
    face: ttf_parser::Face<'static>,
    pub(super) font: Font,
}

/// Both weights.
pub(super) struct Faces {
    pub(super) regular: Weight,
    pub(super) bold: Weight,
}

impl Faces {
    pub(super) fn new() -> Result<Self> {
        Ok(Self {
            regular: Weight::new(REGULAR)?,
            bold: Weight::new(BOLD)?,
        })
    }

    pub(super) fn weight(&self, bold: bool) -> &Weight {
        if bold { &self.bold } else { &self.regular }
    }

    /// Refuses a text with a character that the typeface does not have.
    pub(super) fn check(&self, text: &str) -> Result<()> {
        let missing = text.chars().find(|character| {
            !character.is_whitespace() && self.regular.glyph(*character).is_none()
        });
        match missing {
            None => Ok(()),
            Some(character) => Err(Error::Value {
                quantity: "text",
                text: text.chars().take(40).collect(),
                problem: format!("the typeface of the PDF has no '{character}'"),
                hint: "write it in Latin, Greek or Cyrillic letters, or choose HTML".into(),
            }),
        }
    }
}

fn broken() -> Error {
    Error::File {
        file: "typeface".into(),
        problem: "cannot be read".into(),
        hint: "choose another format".into(),
    }
}

impl Weight {
    fn new(bytes: &'static [u8]) -> Result<Self> {
        Ok(Self {
            face: ttf_parser::Face::parse(bytes, 0).map_err(|_| broken())?,
            font: Font::new(bytes.to_vec().into(), 0).ok_or_else(broken)?,
        })
    }

    fn glyph(&self, character: char) -> Option<ttf_parser::GlyphId> {
        // Any blank is a blank.
        let character = if character.is_whitespace() {
            ' '
        } else {
            character
        };
        self.face.glyph_index(character)
    }

    fn advance(&self, character: char) -> f32 {
        let glyph = self.glyph(character).unwrap_or(ttf_parser::GlyphId(0));
        let units = self.face.glyph_hor_advance(glyph).unwrap_or(0);
        f32::from(units) / f32::from(self.face.units_per_em())
    }

    /// Width of a text, in the unit of its size.
    pub(super) fn width(&self, text: &str, size: f32) -> f32 {
        text.chars().map(|one| self.advance(one)).sum::<f32>() * size
    }

    /// A text as glyphs, one for each character.
    pub(super) fn glyphs(&self, text: &str) -> Vec<KrillaGlyph> {
        text.char_indices()
            .map(|(start, character)| {
                let glyph = self.glyph(character).unwrap_or(ttf_parser::GlyphId(0));
                let range: Range<usize> = start..start + character.len_utf8();
                KrillaGlyph::new(
                    GlyphId::new(u32::from(glyph.0)),
                    self.advance(character),
                    0.0,
                    0.0,
                    0.0,
                    range,
                    None,
                )
            })
            .collect()
    }

    /// A text in lines of at most a width: broken at blanks, after a slash, and inside a word
    /// where it must be.
    pub(super) fn wrapped(&self, text: &str, size: f32, most: f32) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        let mut line = String::new();
        for part in parts(text) {
            if !line.is_empty() && self.width(&format!("{line}{}", part.trim_end()), size) > most {
                lines.push(std::mem::take(&mut line).trim_end().to_owned());
            }
            line.push_str(part);
            while self.width(line.trim_end(), size) > most && line.trim_end().chars().count() > 1 {
                let mut fits = 0;
                for (at, character) in line.char_indices() {
                    let next = at + character.len_utf8();
                    if at > 0 && self.width(&line[..next], size) > most {
                        break;
                    }
                    fits = next;
                }
                let rest = line.split_off(fits);
                lines.push(std::mem::replace(&mut line, rest));
            }
        }
        lines.push(line.trim_end().to_owned());
        lines
    }
}

/// Parts after each of which a line may break; a figure stays with its unit of temperature.
fn parts(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut from = 0;
    for (at, character) in text.char_indices() {
        let next = at + character.len_utf8();
        let is_unit = |rest: &str| {
            let end = rest.find(|one: char| one != '\u{b0}' && !one.is_alphanumeric());
            ["\u{b0}C", "\u{b0}F", "K"].contains(&&rest[..end.unwrap_or(rest.len())])
        };
        if matches!(character, ' ' | '/') && !is_unit(&text[next..]) {
            found.push(&text[from..next]);
            from = next;
        }
    }
    found.push(&text[from..]);
    found
}
