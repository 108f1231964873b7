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

/// Columns of one width side by side.
#[derive(Clone, Copy)]
pub(super) struct Columns {
    pub(super) count: usize,
    /// Width of each.
    pub(super) measure: f32,
    /// Distance of their left edges.
    pub(super) step: f32,
}

impl Columns {
    /// As many as a width holds well, over all of it.
    pub(super) fn for_width(width: f32, size: f32) -> Self {
        let count = ((width / (MEASURE * size)).round() as usize).clamp(1, 4);
        let measure = (width - (count - 1) as f32 * GUTTER * size) / count as f32;
        Self {
            count,
            measure,
            step: measure + GUTTER * size,
        }
    }
}

/// Pours as many whole paragraphs as fit into a place, `unbroken` over its columns; what they take of
/// its height.
pub(super) fn pour(
    faces: &Faces,
    rest: &mut Rest<'_>,
    (left, top): (f32, f32),
    (columns, height): (Columns, f32),
    (size, unbroken): (f32, bool),
) -> (Vec<Element>, f32) {
    let Columns {
        count,
        measure,
        step,
    } = columns;
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
    let Some((taken, places)) = most(&lines, count, height / size, unbroken) else {
        return (Vec::new(), 0.0);
    };
    let mut found = Vec::new();
    let mut used = 0.0_f32;
    for (at, paragraph) in lines[..taken].iter().enumerate() {
        let runs = paragraph
            .iter()
            .zip(&places[at])
            .map(|(text, (column, y))| {
                used = used.max(y + LINE);
                Run {
                    left: left + *column as f32 * step,
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

/// Each line's column and its height in that, in sizes of type, paragraph after paragraph.
type Places = Vec<Vec<(usize, f32)>>;

/// How many of the paragraphs stand in a height, and where these stand in the least height.
fn most(
    lines: &[Vec<String>],
    columns: usize,
    height: f32,
    unbroken: bool,
) -> Option<(usize, Places)> {
    let mut taken = lines.len();
    while taken > 0 && placed(&lines[..taken], columns, height, unbroken).is_none() {
        taken -= 1;
    }
    if taken == 0 {
        return None;
    }
    let lines = &lines[..taken];
    let all: usize = lines.iter().map(Vec::len).sum();
    let least = (all.div_ceil(columns) as f32 * LINE).min(height);
    let steps = ((height - least) / 0.25).ceil().max(0.0) as usize;
    let mut heights = (0..=steps).map(|step| (least + 0.25 * step as f32).min(height));
    let places = heights.find_map(|high| placed(lines, columns, high, unbroken))?;
    Some((taken, places))
}

/// Where each line stands; none where they do not fit. `unbroken` parts no paragraph over columns.
fn placed(lines: &[Vec<String>], columns: usize, height: f32, unbroken: bool) -> Option<Places> {
    let (mut column, mut y) = (0, 0.0);
    let mut found = Vec::with_capacity(lines.len());
    for paragraph in lines {
        let needs = paragraph.len() as f32 * LINE;
        if unbroken && y > 0.0 && y + needs > height + 1e-3 {
            column += 1;
            y = 0.0;
        }
        let mut own = Vec::with_capacity(paragraph.len());
        for _ in paragraph {
            if y + LINE > height + 1e-3 {
                column += 1;
                y = 0.0;
                if unbroken || LINE > height + 1e-3 {
                    return None;
                }
            }
            if column >= columns {
                return None;
            }
            own.push((column, y));
            y += LINE;
        }
        y += AFTER;
        found.push(own);
    }
    Some(found)
}
