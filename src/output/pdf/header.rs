//! What is read first, at the top of the first panel: whose figures, which hazard, which gauge.

use super::element::{Element, Rule, Run};
use super::face::Faces;
use super::sign::Sign;
use crate::Result;
use crate::output::true_minus;
use crate::page::{Face, Symbol};

/// Distance of lines, in sizes of type.
const LINE: f32 = 1.16;
/// Side of a hazard's drawing, in sizes of the words beside it.
const SYMBOL: f32 = 2.0;
/// Width and height of a box to write in, in sizes of the words beside it.
const BOX: (f32, f32) = (5.0, 1.7);
/// More names than these stand over the columns only.
pub(super) const NAMES: usize = 3;

/// Sizes of type of a header.
#[derive(Debug, Clone, Copy)]
pub(super) struct HeaderSizes {
    /// Names of refrigerants, titles.
    pub(super) name: f32,
    /// Hazards and the gauge.
    pub(super) words: f32,
}

/// Fills a panel's width from its top.
struct Header<'a> {
    faces: &'a Faces,
    width: f32,
    y: f32,
    elements: Vec<Element>,
    /// Room at the right that a logo takes: width, down to where.
    beside: (f32, f32),
}

pub(super) fn check(faces: &Faces, face: &Face) -> Result<()> {
    let texts = face.shop.iter().chain(&face.title).chain(&face.names);
    let texts = texts
        .chain([&face.usual, &face.reference])
        .chain(&face.remarks);
    let boxes = face.boxes.iter().flat_map(|(label, value)| [label, value]);
    let hazards = face.hazards.iter().map(|(_, words)| words);
    texts
        .chain(boxes)
        .chain(hazards)
        .try_for_each(|text| faces.check(text))
}

/// Sets a face; its elements and how high they are. `all_names` where the names do not all stand
/// over the columns of this panel.
pub(super) fn set(
    faces: &Faces,
    face: &Face,
    sign: Option<&Sign>,
    (width, height): (f32, f32),
    sizes: HeaderSizes,
    all_names: bool,
) -> (Vec<Element>, f32) {
    let mut header = Header {
        faces,
        width,
        y: 0.0,
        elements: Vec::new(),
        beside: (0.0, 0.0),
    };
    if let Some(sign) = sign {
        let (wide, high) = sign.size();
        let scale = (width / 3.0 / wide).min((height / 7.0).min(2.6 * sizes.name) / high);
        let (wide, high) = (wide * scale, high * scale);
        header
            .elements
            .push(Element::Sign(width - wide, 0.0, wide, high));
        header.beside = (wide + 6.0, high);
    }
    if let Some(shop) = &face.shop {
        header.lines(shop, sizes.words, false);
        header.y += sizes.words * 0.25;
    }
    let names = face.names.join(", ");
    let few = face.names.len() <= NAMES;
    match &face.title {
        Some(title) => {
            header.heading(title, (sizes.name, sizes.words));
            if few && !names.is_empty() {
                header.y += sizes.words * 0.25;
                header.lines(&names, (sizes.name * 0.8).max(sizes.words), true);
            }
        }
        None if few && !names.is_empty() => header.heading(&names, (sizes.name, sizes.words)),
        None => header.heading(&face.usual, (sizes.name * 0.8, sizes.words)),
    }
    if !few && all_names {
        header.lines(&names, sizes.words, true);
    }
    header.y += sizes.words * 0.15;
    header.hazards(face, sizes.words);
    for remark in &face.remarks {
        header.lines(remark, sizes.words, true);
    }
    header.boxes(&face.boxes, sizes.words);
    let high = header.y.max(header.beside.1);
    (header.elements, high + sizes.words * 0.5)
}

/// One line at the top of a further panel: whose figures go on, which hazard, which gauge.
pub(super) fn running(
    faces: &Faces,
    face: &Face,
    (width, _): (f32, f32),
    size: f32,
) -> (Vec<Element>, f32) {
    let mut header = Header {
        faces,
        width,
        y: 0.0,
        elements: Vec::new(),
        beside: (0.0, 0.0),
    };
    let names = match face.names.len() {
        0..=NAMES => face.names.join(", "),
        _ => String::new(),
    };
    let first = face
        .title
        .iter()
        .chain(Some(&names))
        .find(|text| !text.is_empty());
    let hazards = face.hazards.iter().map(|(_, words)| words);
    let bold: Vec<&str> = first
        .into_iter()
        .chain(hazards)
        .map(String::as_str)
        .collect();
    let rest: Vec<&str> = std::iter::once(&face.reference)
        .chain(&face.remarks)
        .map(String::as_str)
        .filter(|text| !text.is_empty())
        .collect();
    let (bold, rest) = (bold.join(" \u{b7} "), rest.join(" \u{b7} "));
    let wide = faces.bold.width(&bold, size) + size;
    if wide + faces.regular.width(&rest, size) <= width {
        let run = |left: f32, bold: bool, text: &str| Run {
            left,
            baseline: 0.92 * size,
            size,
            bold,
            text: true_minus(text),
        };
        let line = vec![run(0.0, true, &bold), run(wide, false, &rest)];
        header.elements.push(Element::Paragraph(line));
        header.y = LINE * size;
    } else {
        for (text, bold) in [(&bold, true), (&rest, false)] {
            if !text.is_empty() {
                header.lines(text, size, bold);
            }
        }
    }
    (header.elements, header.y + 0.4 * size)
}

impl Header<'_> {
    fn room(&self) -> f32 {
        match self.y < self.beside.1 {
            true => self.width - self.beside.0,
            false => self.width,
        }
    }

    fn runs(&mut self, text: &str, size: f32, bold: bool) -> Vec<Run> {
        let face = self.faces.weight(bold);
        let lines = face.wrapped(&true_minus(text), size, self.room());
        let each = lines.into_iter().enumerate().map(|(index, text)| Run {
            left: 0.0,
            baseline: self.y + (index as f32 * LINE + 0.92) * size,
            size,
            bold,
            text,
        });
        let runs: Vec<Run> = each.collect();
        self.y += runs.len() as f32 * LINE * size;
        runs
    }

    /// A heading on one line where a type down to two thirds of the size allows it; a long one in
    /// a smaller type, down to that of the words below it.
    fn heading(&mut self, text: &str, (size, least): (f32, f32)) {
        let whole = self.faces.bold.width(&true_minus(text), size);
        let mut size = (size * self.room() / whole).clamp(size * 0.66, size);
        while size > least && self.faces.bold.width(text, size) > 2.6 * self.room() {
            size = (size * 0.9).max(least);
        }
        let runs = self.runs(text, size, true);
        self.elements.push(Element::Heading(runs));
    }

    fn lines(&mut self, text: &str, size: f32, bold: bool) {
        let runs = self.runs(text, size, bold);
        self.elements.push(Element::Paragraph(runs));
    }

    /// Hazards with their drawings and the gauge, side by side as far as they fit.
    fn hazards(&mut self, face: &Face, size: f32) {
        let side = SYMBOL * size;
        let gap = 1.1 * size;
        let mut x = 0.0;
        let mut high = 0.0_f32;
        let mut drawn: Vec<Symbol> = Vec::new();
        let hazards = face.hazards.iter();
        let hazards = hazards.map(|(symbols, words)| (symbols.as_slice(), words, true));
        let reference = Some(&face.reference).filter(|text| !text.is_empty());
        let all = hazards.chain(reference.map(|text| (&[] as &[Symbol], text, false)));
        for (symbols, words, bold) in all {
            // A drawing stands once, whatever it warns of.
            let fresh: Vec<Symbol> = symbols
                .iter()
                .copied()
                .filter(|one| !drawn.contains(one))
                .collect();
            drawn.extend(&fresh);
            let words = true_minus(words);
            let face = self.faces.weight(bold);
            let wide = face.width(&words, size) + fresh.len() as f32 * (side + 0.2 * size);
            if x > 0.0 && x + wide > self.room() {
                self.y += high;
                (x, high) = (0.0, 0.0);
            }
            let tall = if fresh.is_empty() { LINE * size } else { side };
            high = high.max(tall + 0.1 * size);
            for symbol in &fresh {
                self.elements
                    .push(Element::Symbol(*symbol, x, self.y, side));
                x += side + 0.2 * size;
            }
            let room = (self.room() - x).max(4.0 * size);
            let lines = face.wrapped(&words, size, room + 0.01);
            let drop = (tall.max(high) - 0.1 * size - lines.len() as f32 * LINE * size).max(0.0);
            let runs = lines.iter().enumerate().map(|(index, text)| Run {
                left: x,
                baseline: self.y + drop / 2.0 + (index as f32 * LINE + 0.92) * size,
                size,
                bold,
                text: text.clone(),
            });
            self.elements.push(Element::Paragraph(runs.collect()));
            high = high.max(lines.len() as f32 * LINE * size);
            x += if lines.len() > 1 {
                room
            } else {
                face.width(&words, size)
            } + gap;
        }
        self.y += high;
    }

    /// Boxes with their labels, a row or more.
    fn boxes(&mut self, boxes: &[(String, String)], size: f32) {
        let mut x = 0.0;
        let (wide, high) = (BOX.0 * size, BOX.1 * size);
        for (place, (label, value)) in boxes.iter().enumerate() {
            let words = self.faces.regular.width(label, size) + 0.4 * size;
            let wide = wide.max(self.faces.bold.width(value, size) + 0.8 * size);
            if place == 0 {
                self.y += 0.2 * size;
            } else if x + words + wide > self.room() {
                self.y += high + 0.3 * size;
                x = 0.0;
            }
            let baseline = self.y + high / 2.0 + 0.35 * size;
            let run = |left: f32, bold: bool, text: &str| Run {
                left,
                baseline,
                size,
                bold,
                text: true_minus(text),
            };
            let mut runs = vec![run(x, false, label)];
            x += words;
            if !value.is_empty() {
                runs.push(run(x + 0.4 * size, true, value));
            }
            self.elements.push(Element::Paragraph(runs));
            let corners = [
                (x, self.y),
                (x + wide, self.y),
                (x + wide, self.y + high),
                (x, self.y + high),
            ];
            let sides = (0..4).map(|side| Rule {
                from: corners[side],
                to: corners[(side + 1) % 4],
                width: 0.6,
                dashed: false,
            });
            self.elements.push(Element::Rules(sides.collect()));
            x += wide + size;
        }
        if !boxes.is_empty() {
            self.y += high + 0.2 * size;
        }
    }
}
