//! Small print: paragraphs poured into columns of one height.

use super::element::{Element, Run};
use super::face::Faces;
use crate::Result;
use crate::output::true_minus;

/// Distance of lines, in sizes of type.
pub(super) const LINE: f32 = 1.16;
/// Room after a paragraph, in sizes of type.
const AFTER: f32 = 0.28;
/// A measure that is read with ease, in sizes of type of this narrow typeface.
const MEASURE: f32 = 34.0;
/// Room between columns, in sizes of type.
const GUTTER: f32 = 1.8;

/// A paragraph.
#[derive(Debug, Clone)]
pub(super) struct Paragraph {
    pub(super) text: String,
    /// Whether it says a hazard: set bold.
    pub(super) bold: bool,
}

/// Paragraphs that are still to be set.
#[derive(Clone, Copy)]
pub(super) struct Rest<'a> {
    pub(super) paragraphs: &'a [Paragraph],
}

pub(super) fn check(faces: &Faces, paragraphs: &[Paragraph]) -> Result<()> {
    paragraphs.iter().try_for_each(|one| faces.check(&one.text))
}

/// How many columns a width holds.
fn columns(width: f32, size: f32) -> usize {
    ((width / (MEASURE * size)).round() as usize).clamp(1, 4)
}

/// Pours as many whole paragraphs as fit into a place; what they take of its height.
pub(super) fn pour(
    faces: &Faces,
    rest: &mut Rest<'_>,
    (left, top): (f32, f32),
    (width, height): (f32, f32),
    size: f32,
) -> (Vec<Element>, f32) {
    let count = columns(width, size);
    let measure = (width - (count - 1) as f32 * GUTTER * size) / count as f32;
    if rest.paragraphs.is_empty() || measure < 8.0 * size || height < LINE * size {
        return (Vec::new(), 0.0);
    }
    let lines: Vec<Vec<String>> = rest
        .paragraphs
        .iter()
        .map(|one| {
            let face = faces.weight(one.bold);
            face.wrapped(&true_minus(&one.text), size, measure)
        })
        .collect();
    let Some((taken, high)) = most(&lines, count, height / size) else {
        return (Vec::new(), 0.0);
    };
    let places = placed(&lines[..taken], count, high).unwrap_or_default();
    let mut found = Vec::new();
    let mut used = 0.0_f32;
    for (at, paragraph) in lines[..taken].iter().enumerate() {
        let runs = paragraph
            .iter()
            .zip(&places[at])
            .map(|(text, (column, y))| {
                used = used.max(y + LINE);
                Run {
                    left: left + *column as f32 * (measure + GUTTER * size),
                    baseline: top + (y + 0.92) * size,
                    size,
                    bold: rest.paragraphs[at].bold,
                    text: text.clone(),
                }
            });
        found.push(Element::Paragraph(runs.collect()));
    }
    rest.paragraphs = &rest.paragraphs[taken..];
    (found, used * size)
}

/// How many of the paragraphs stand in a height, and the least height in which these do.
fn most(lines: &[Vec<String>], columns: usize, height: f32) -> Option<(usize, f32)> {
    let mut taken = lines.len();
    while taken > 0 && placed(&lines[..taken], columns, height).is_none() {
        taken -= 1;
    }
    if taken == 0 {
        return None;
    }
    let all: usize = lines[..taken].iter().map(Vec::len).sum();
    let mut high = (all.div_ceil(columns) as f32 * LINE).min(height);
    while high < height && placed(&lines[..taken], columns, high).is_none() {
        high += 0.25;
    }
    Some((taken, high.min(height)))
}

/// Each line's column and its height in that, in sizes of type; none where they do not fit.
fn placed(lines: &[Vec<String>], columns: usize, height: f32) -> Option<Vec<Vec<(usize, f32)>>> {
    let (mut column, mut y) = (0, 0.0);
    let mut found = Vec::with_capacity(lines.len());
    for paragraph in lines {
        let mut own = Vec::with_capacity(paragraph.len());
        for _ in paragraph {
            if y + LINE > height + 1e-3 {
                column += 1;
                y = 0.0;
                if column >= columns || LINE > height + 1e-3 {
                    return None;
                }
            }
            own.push((column, y));
            y += LINE;
        }
        y += AFTER;
        found.push(own);
    }
    Some(found)
}
