//! A table measured once at a type of one point and set at any size: columns as wide as they must
//! be, refrigerants side by side, rows in blocks, decimal signs below each other.

use super::element::{Element, Head, Rule, Run};
use super::face::Faces;
use crate::Result;
use crate::chart::plot::Stroke;
use crate::output::true_minus;
use crate::page::Table;

/// Distance of lines of a head, in sizes of type.
const LINE: f32 = 1.12;
/// Rows in a band.
pub(super) const BAND: usize = 5;
/// Room between two bands, in sizes of type.
const BAND_GAP: f32 = 0.2;
/// How far a band reaches out on both sides of its columns, in sizes of type.
const OVERHANG: f32 = 0.3;
/// Room between the columns of one name, as a share of that between names.
const INNER: f32 = 0.7;
/// Most lines of a name over its columns.
const NAME_LINES: usize = 3;

/// A column at a type of one point.
#[derive(Clone, Copy, Default)]
struct Column {
    /// Width of its widest content.
    wide: f32,
    /// How much of that stands right of the decimal sign.
    decimals: f32,
    /// Whether it is set from the left.
    is_words: bool,
}

/// Columns that stay together, under a name.
#[derive(Clone)]
struct Group {
    name: Vec<String>,
    columns: std::ops::Range<usize>,
}

/// How large and how far apart a table is set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    /// Size of type.
    pub(super) size: f32,
    /// Height of a row, in sizes of type.
    pub(super) row: f32,
    /// Room between columns, in sizes of type.
    pub(super) gap: f32,
    /// Room between blocks, in sizes of type.
    pub(super) block_gap: f32,
}

/// A table, measured.
#[derive(Clone)]
pub(super) struct Grid<'a> {
    faces: &'a Faces,
    texts: Vec<Vec<String>>,
    heads: Vec<Vec<String>>,
    strokes: &'a [Option<Stroke>],
    columns: Vec<Column>,
    labels: usize,
    label_name: Vec<String>,
    groups: Vec<Group>,
    has_names: bool,
    has_heads: bool,
}

impl<'a> Grid<'a> {
    pub(super) fn new(faces: &'a Faces, table: &'a Table) -> Result<Self> {
        let names = table.groups.iter().map(|group| &group.0);
        for text in names.chain(&table.heads).chain(table.rows.iter().flatten()) {
            faces.check(text)?;
        }
        let spans: Vec<(&str, usize)> = match table.groups.as_slice() {
            [] => {
                let labels = table.words.max(1).min(table.heads.len());
                vec![("", labels), ("", table.heads.len() - labels)]
            }
            groups => groups.iter().map(|one| (one.0.as_str(), one.1)).collect(),
        };
        let texts: Vec<Vec<String>> = table
            .rows
            .iter()
            .map(|row| row.iter().map(|cell| true_minus(cell)).collect())
            .collect();
        let labels = spans.first().map_or(0, |span| span.1);
        let mut grid = Self {
            faces,
            heads: table.heads.iter().map(|head| head_lines(head)).collect(),
            strokes: &table.strokes,
            columns: Vec::new(),
            labels,
            label_name: lines_of(spans.first().map_or("", |span| span.0)),
            groups: Vec::new(),
            has_names: spans.iter().any(|span| !span.0.is_empty()),
            has_heads: table.heads.iter().any(|head| !head.is_empty()),
            texts,
        };
        for column in 0..table.heads.len() {
            let found = grid.measured(column, column < table.words);
            grid.columns.push(found);
        }
        let mut from = 0;
        let several = spans.len() > 2;
        for (place, (name, span)) in spans.into_iter().enumerate() {
            let columns = from..from + span;
            from += span;
            let name = grid.room_for(name, &columns, if several { 0.6 } else { 0.9 });
            if place > 0 && !columns.is_empty() {
                grid.groups.push(Group { name, columns });
            }
        }
        // Where one class stands below its designation, all do.
        if grid.groups.iter().any(|group| group.name.len() > 1) {
            for group in &mut grid.groups {
                if let [name] = group.name.as_slice() {
                    group.name = head_lines(name);
                }
            }
        }
        Ok(grid)
    }

    /// How many rows there are.
    pub(super) fn rows(&self) -> usize {
        self.texts.len()
    }

    /// How many refrigerants stand side by side.
    pub(super) fn groups(&self) -> usize {
        self.groups.len().max(1)
    }

    /// The name over a group, if it has one, and how many columns it has.
    pub(super) fn named(&self, group: usize) -> (Option<String>, usize) {
        let found = self.groups.get(group);
        let name = found.map(|group| group.name.join(" \u{b7} "));
        let count = found.map_or(0, |group| group.columns.len());
        (name.filter(|name| !name.is_empty()), count)
    }

    /// How many columns of a group stand beside those of the rows in a width.
    pub(super) fn first_columns(&self, group: usize, scale: &Scale, width: f32) -> usize {
        let inner = self.inner(scale.gap);
        let labels = self.wide(&(0..self.labels), inner) + 2.0 * OVERHANG;
        let mut used = labels + scale.gap - inner;
        let columns = self
            .groups
            .get(group)
            .map_or(0..0, |one| one.columns.clone());
        let fits = |column: &usize| {
            used += self.columns[*column].wide + inner;
            used * scale.size <= width
        };
        columns.take_while(fits).count()
    }

    /// The same table with every so manieth row.
    pub(super) fn thinned(&self, every: usize) -> Self {
        let texts = self.texts.iter().step_by(every.max(1)).cloned().collect();
        Self {
            texts,
            ..self.clone()
        }
    }

    fn measured(&self, column: usize, is_words: bool) -> Column {
        let face = self.faces.weight(column == 0);
        let (mut before, mut after, mut word) = (0.0_f32, 0.0_f32, 0.0_f32);
        let mut marks = 0.0_f32;
        for row in &self.texts {
            match split(&row[column]) {
                Some((whole, decimals, mark)) if !is_words => {
                    before = before.max(face.width(whole, 1.0));
                    after = after.max(face.width(decimals, 1.0));
                    marks = marks.max(face.width(mark, 1.0));
                }
                _ => word = word.max(face.width(&row[column], 1.0)),
            }
        }
        let head = self.heads[column].iter();
        let head = head.map(|line| self.faces.bold.width(line, 1.0));
        // A mark stands in the room between columns, all of it right of the last.
        let is_last = column + 1 == self.heads.len();
        after += if is_last { marks } else { marks / 2.0 };
        Column {
            wide: (before + after).max(word).max(head.fold(0.0, f32::max)),
            decimals: after,
            is_words,
        }
    }

    /// Room between the columns of one name, where that between names is given.
    fn inner(&self, gap: f32) -> f32 {
        match self.groups.len() {
            0 | 1 => gap,
            _ => INNER * gap,
        }
    }

    fn wide(&self, columns: &std::ops::Range<usize>, gap: f32) -> f32 {
        let each = self.columns[columns.clone()].iter();
        each.map(|column| column.wide).sum::<f32>() + gap * columns.len().saturating_sub(1) as f32
    }

    /// Breaks a name into a few lines over its columns; widens them where it must.
    fn room_for(&mut self, name: &str, columns: &std::ops::Range<usize>, gap: f32) -> Vec<String> {
        if name.is_empty() || columns.is_empty() {
            return Vec::new();
        }
        let bold = &self.faces.bold;
        let has = self.wide(columns, gap);
        if bold.width(name, 1.0) <= has {
            return vec![name.to_owned()];
        }
        let parted = head_lines(name);
        let mut needs = has.max(1.0);
        loop {
            let mut lines = Vec::new();
            for part in &parted {
                lines.extend(bold.wrapped(part, 1.0, needs + 1e-3));
            }
            let words = name.split_inclusive([' ', '/']).map(str::trim_end);
            let whole = words.map(|word| bold.width(word, 1.0)).fold(0.0, f32::max);
            if lines.len() <= NAME_LINES && whole <= needs + 1e-3 || needs > 60.0 {
                self.columns[columns.end - 1].wide += needs - has;
                return lines;
            }
            needs += 0.25;
        }
    }

    /// The groups in as many parts as asked, as even as they can be.
    pub(super) fn parts(&self, count: usize) -> Vec<std::ops::Range<usize>> {
        let each = self.groups.len().div_ceil(count.max(1)).max(1);
        let starts = (0..self.groups.len().max(1)).step_by(each);
        let ends = |from: usize| (from + each).min(self.groups.len());
        starts.map(|from| from..ends(from)).collect()
    }

    /// Width of a block of one part.
    pub(super) fn block_width(&self, part: &std::ops::Range<usize>, scale: &Scale) -> f32 {
        let inner = self.inner(scale.gap);
        let labels = self.wide(&(0..self.labels), inner);
        let groups = self.groups[part.clone()].iter();
        let groups = groups.map(|group| self.wide(&group.columns, inner) + scale.gap);
        (labels + groups.sum::<f32>() + 2.0 * OVERHANG) * scale.size
    }

    /// Width of so many blocks of one part.
    pub(super) fn width(&self, part: &std::ops::Range<usize>, blocks: usize, scale: &Scale) -> f32 {
        let between = blocks.saturating_sub(1) as f32;
        blocks as f32 * self.block_width(part, scale) + between * scale.block_gap * scale.size
    }

    /// Height of the heads over a part.
    pub(super) fn head_height(&self, part: &std::ops::Range<usize>, scale: &Scale) -> f32 {
        let mut used = 0.0;
        if self.has_names {
            used += self.name_lines(part) as f32 * LINE + 0.12;
        }
        if self.has_heads {
            used += self.head_lines() as f32 * LINE;
        }
        (used + 0.3) * scale.size
    }

    fn name_lines(&self, part: &std::ops::Range<usize>) -> usize {
        let names = self.groups[part.clone()]
            .iter()
            .map(|group| group.name.len());
        names.chain([self.label_name.len()]).max().unwrap_or(0)
    }

    fn head_lines(&self) -> usize {
        self.heads.iter().map(Vec::len).max().unwrap_or(0)
    }

    /// Height of so many rows.
    pub(super) fn rows_height(rows: usize, scale: &Scale) -> f32 {
        let bands = rows.saturating_sub(1) / BAND;
        (rows as f32 * scale.row + bands as f32 * BAND_GAP) * scale.size
    }

    /// How many rows stand in a height.
    pub(super) fn rows_in(height: f32, scale: &Scale) -> usize {
        let one = BAND as f32 * scale.row + BAND_GAP;
        let bands = (height / scale.size / one).floor().max(0.0);
        let rest = (height / scale.size - bands * one) / scale.row;
        (bands as usize) * BAND + (rest + 1e-3).floor().max(0.0) as usize
    }

    /// Sets some rows of a part in blocks of `each` side by side.
    pub(super) fn set(
        &self,
        part: &std::ops::Range<usize>,
        (left, top): (f32, f32),
        rows: std::ops::Range<usize>,
        each: usize,
        scale: &Scale,
    ) -> Vec<Element> {
        let blocks = rows.len().div_ceil(each.max(1));
        let step = self.block_width(part, scale) + scale.block_gap * scale.size;
        let mut found = Vec::new();
        for block in 0..blocks {
            let from = rows.start + block * each;
            let to = (from + each).min(rows.end);
            if from < to {
                let corner = (left + block as f32 * step, top);
                found.push(self.block(part, corner, from..to, scale));
            }
        }
        found
    }

    /// Every column of a part with its left edge.
    fn edges(&self, part: &std::ops::Range<usize>, left: f32, scale: &Scale) -> Vec<(usize, f32)> {
        let groups = self.groups[part.clone()].iter();
        let names =
            std::iter::once(0..self.labels).chain(groups.map(|group| group.columns.clone()));
        let mut x = left + OVERHANG * scale.size;
        let mut found = Vec::new();
        for columns in names {
            for column in columns.clone() {
                found.push((column, x));
                let gap = match column + 1 == columns.end {
                    true => scale.gap,
                    false => self.inner(scale.gap),
                };
                x += (self.columns[column].wide + gap) * scale.size;
            }
        }
        found
    }

    fn block(
        &self,
        part: &std::ops::Range<usize>,
        (left, top): (f32, f32),
        rows: std::ops::Range<usize>,
        scale: &Scale,
    ) -> Element {
        let size = scale.size;
        let edges = self.edges(part, left, scale);
        let wide = self.block_width(part, scale);
        let mut rules = Vec::new();
        let heads = self.heads_of(part, &edges, top, scale, &mut rules);
        let first = top + self.head_height(part, scale);
        let (mut out, mut bands) = (Vec::new(), Vec::new());
        let count = rows.len();
        for (index, row) in self.texts[rows].iter().enumerate() {
            let y = first
                + Self::rows_height(index, scale)
                + if index > 0 && index % BAND == 0 {
                    BAND_GAP * size
                } else {
                    0.0
                };
            if index % (2 * BAND) == 0 {
                let rows = BAND.min(count - index) as f32;
                let high = rows * scale.row * size;
                bands.push([left, y, wide, high]);
            }
            // Capitals and figures are 0.71 of the size high: they stand in the row's middle.
            let baseline = y + (scale.row + 0.71) / 2.0 * size;
            let cell = |(column, x): &(usize, f32)| Run {
                left: x + self.offset(*column, &row[*column], size),
                baseline,
                size,
                bold: *column == 0,
                text: row[*column].clone(),
            };
            out.push(edges.iter().map(cell).collect());
        }
        let last = first + Self::rows_height(count, scale) + 0.1 * size;
        for (y, width) in [(first - 0.08 * size, 0.055), (last, 0.055)] {
            rules.push(Rule {
                from: (left, y),
                to: (left + wide, y),
                width: (width * size).clamp(0.5, 1.6),
                dashed: false,
            });
        }
        Element::Table {
            heads,
            rows: out,
            rules,
            bands,
        }
    }

    /// How far right of a column's edge a text begins.
    fn offset(&self, column: usize, text: &str, size: f32) -> f32 {
        let own = self.columns[column];
        if own.is_words {
            return 0.0;
        }
        let face = self.faces.weight(column == 0);
        match split(text) {
            Some((whole, _, _)) => own.wide * size - own.decimals * size - face.width(whole, size),
            None => own.wide * size - face.width(text, size),
        }
    }

    /// The heads, with the rules that tie the columns of a name and tell bubble from dew.
    fn heads_of(
        &self,
        part: &std::ops::Range<usize>,
        edges: &[(usize, f32)],
        top: f32,
        scale: &Scale,
        rules: &mut Vec<Rule>,
    ) -> Vec<Vec<Head>> {
        let size = scale.size;
        let line = LINE * size;
        let edge = |column: usize| {
            let found = edges.iter().find(|(one, _)| *one == column);
            found.map_or(0.0, |(_, x)| *x)
        };
        let set = |lines: &[String], x: f32, wide: f32, share: f32, bottom: f32| -> Vec<Run> {
            let count = lines.len() as f32;
            let each = lines.iter().enumerate().map(|(index, text)| Run {
                left: x + share * (wide - self.faces.bold.width(text, size)),
                baseline: bottom - (count - 1.0 - index as f32) * line - 0.2 * size,
                size,
                bold: true,
                text: text.clone(),
            });
            each.collect()
        };
        let mut found = Vec::new();
        let mut y = top;
        if self.has_names {
            y += self.name_lines(part) as f32 * line;
            let mut level = Vec::new();
            if self.labels > 0 {
                let wide = self.wide(&(0..self.labels), self.inner(scale.gap)) * size;
                level.push(Head {
                    lines: set(&self.label_name, edge(0), wide, 1.0, y),
                    span: self.labels,
                });
            }
            for group in &self.groups[part.clone()] {
                let (x, wide) = (
                    edge(group.columns.start),
                    self.wide(&group.columns, self.inner(scale.gap)) * size,
                );
                let several = group.columns.len() > 1;
                level.push(Head {
                    lines: set(&group.name, x, wide, if several { 0.5 } else { 1.0 }, y),
                    span: group.columns.len(),
                });
                if several && self.has_heads {
                    rules.push(Rule {
                        from: (x, y + 0.04 * size),
                        to: (x + wide, y + 0.04 * size),
                        width: (0.03 * size).clamp(0.3, 0.8),
                        dashed: false,
                    });
                }
            }
            found.push(level);
            y += 0.12 * size;
        }
        if self.has_heads {
            y += self.head_lines() as f32 * line;
            let mut level = Vec::new();
            for (column, x) in edges {
                let own = self.columns[*column];
                let wide = own.wide * size;
                let share = if own.is_words { 0.0 } else { 1.0 };
                level.push(Head {
                    lines: set(&self.heads[*column], *x, wide, share, y),
                    span: 1,
                });
                let stroke = self.strokes.get(*column).copied().flatten();
                if let Some(stroke) = stroke {
                    rules.push(Rule {
                        from: (*x, y + 0.02 * size),
                        to: (x + wide, y + 0.02 * size),
                        width: (0.07 * size).clamp(0.7, 2.4),
                        dashed: stroke == Stroke::Dashed,
                    });
                }
            }
            found.push(level);
        }
        found
    }
}

/// A head in lines: the class below the designation, a word each.
fn head_lines(head: &str) -> Vec<String> {
    match head.split_once(" \u{b7} ") {
        Some((name, class)) => vec![name.to_owned(), class.to_owned()],
        None => lines_of(head),
    }
}

fn lines_of(head: &str) -> Vec<String> {
    match head {
        "" => Vec::new(),
        text => vec![text.to_owned()],
    }
}

/// A figure's part before its decimal sign, that from it on, and a short mark behind it.
fn split(text: &str) -> Option<(&str, &str, &str)> {
    let (figure, mark) = match text.find(' ') {
        Some(at) if text.len() - at <= 4 => text.split_at(at),
        _ => (text, ""),
    };
    if matches!(figure, "\u{2013}" | "-") {
        return Some((figure, "", mark));
    }
    let bare = figure.strip_prefix('\u{2212}').unwrap_or(figure);
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    match bare.find(['.', ',']) {
        Some(at) if digits(&bare[..at]) && digits(&bare[at + 1..]) => {
            let (whole, decimals) = figure.split_at(at + figure.len() - bare.len());
            Some((whole, decimals, mark))
        }
        None if !bare.is_empty() && digits(bare) => Some((figure, "", mark)),
        _ => None,
    }
}
