//! Sets the parts of a card or wall at one setting, panel after panel.

use super::content::{Content, FEW, Part, Setting};
use super::element::{Element, Panel, Rule, Run};
use super::grid::{BAND, Grid, Scale};
use super::header;
use super::prose::{self, Columns, Rest};
use crate::page::{Face, Shape};

/// What goes on on a further panel is no shorter than this part of what stands before it.
const REST: usize = 3;
/// Small print stands beside a table in a place of this width, in sizes of its type.
const NARROWEST: f32 = 16.0;
/// Height of a line to write on, points.
const WRITING: f32 = 20.0;

/// A place on a panel: which, its upper left corner, its width and height.
type Room = (usize, (f32, f32), (f32, f32));

/// Fills panels, one after the other.
pub(super) struct Pen<'a, 'b> {
    content: &'b Content<'a>,
    pub(super) panels: Vec<Panel>,
    pub(super) used: f32,
    most: usize,
    /// How far the head of the last panel reaches.
    begun: f32,
    /// Places right of tables: panel, corner, size.
    beside: Vec<Room>,
    /// Panels whose last table goes on on the next.
    continued: Vec<usize>,
    /// The blocks of the last table: how many, width of each, distance of their left edges.
    blocks: (usize, f32, f32),
}

impl<'a, 'b> Pen<'a, 'b> {
    /// A pen at the top of the first of so many panels.
    pub(super) fn new(content: &'b Content<'a>, most: usize) -> Self {
        Self {
            content,
            panels: vec![Vec::new()],
            used: 0.0,
            most,
            begun: 0.0,
            beside: Vec::new(),
            continued: Vec::new(),
            blocks: (0, 0.0, 0.0),
        }
    }

    pub(super) fn push(&mut self, elements: Vec<Element>) {
        if let Some(panel) = self.panels.last_mut() {
            panel.extend(elements);
        }
    }

    /// Whether the panel holds no more than its head.
    fn is_fresh(&self) -> bool {
        self.used <= self.begun + 0.01
    }

    fn left(&self) -> f32 {
        self.content.form.panel().1 - self.used
    }

    fn next(&mut self, size: f32) -> Option<()> {
        if self.panels.len() >= self.most {
            return None;
        }
        self.panels.push(Vec::new());
        self.used = 0.0;
        let content = self.content;
        let mut sizes = content.header_sizes(size);
        // What is cut apart has the name on each piece; else one line says whose figures follow.
        if content.form.shape != Shape::Strip {
            sizes.name = sizes.words;
        }
        let face = Face {
            boxes: Vec::new(),
            shop: None,
            ..content.face.clone()
        };
        let panel = content.form.panel();
        let (elements, high) = match content.form.shape {
            Shape::Strip => header::set(content.faces, &face, None, panel, sizes, false),
            _ => header::running(content.faces, &face, panel, sizes.words),
        };
        self.push(elements);
        self.used = high;
        self.begun = high;
        Some(())
    }

    /// A table, its refrigerants in parts, its rows in blocks.
    pub(super) fn part(&mut self, part: &Part<'_>, place: usize, setting: &Setting) -> Option<()> {
        let scale = &setting.scale;
        let size = scale.size;
        let (width, _) = self.content.form.panel();
        let grid = &part.grid;
        let most_blocks = self.content.blocks(grid, setting);
        if place > 0 && self.beside_another(part, scale).is_some() {
            return Some(());
        }
        for groups in grid.parts(setting.parts) {
            let head = grid.head_height(&groups, scale);
            let caption = match part.heading {
                Some(text) => self.heading(text, (0.0, 0.0), width, size).1,
                None => 0.0,
            };
            let mut first = 0;
            while first < grid.rows() {
                let left = grid.rows() - first;
                let room = self.left() - head - caption - 0.3 * size;
                let here = Grid::rows_in(room, scale) * most_blocks;
                if here == 0 || (here < left && here < FEW * most_blocks) {
                    if self.is_fresh() {
                        return None;
                    }
                    self.next(size)?;
                    continue;
                }
                if first == 0
                    && let Some(text) = part.heading
                {
                    self.caption(text, size);
                }
                let mut taken = left.min(here);
                let whole = here / most_blocks / BAND * BAND;
                if setting.in_bands && taken < left && whole > 0 {
                    taken = whole * most_blocks;
                }
                let after = left - taken;
                if after > 0 && REST * after < taken && !setting.is_loose {
                    return None;
                }
                let blocks = most_blocks.min(taken.div_ceil(FEW)).max(1);
                let mut each = taken.div_ceil(blocks);
                let whole = each.div_ceil(BAND) * BAND;
                let last = taken.saturating_sub(whole * (blocks - 1));
                if setting.in_bands
                    && whole <= Grid::rows_in(room, scale)
                    && (blocks == 1 || REST * last >= whole)
                {
                    each = whole.min(taken);
                }
                let blocks = taken.div_ceil(each);
                let rows = first..first + taken;
                let top = self.used;
                let elements = grid.set(&groups, (0.0, top), rows, each, scale);
                self.push(elements);
                let high = head + Grid::rows_height(each, scale) + 0.3 * size;
                let wide = grid.width(&groups, blocks, scale);
                let block = grid.block_width(&groups, scale);
                self.blocks = (blocks, block, block + scale.block_gap * size);
                self.used += high;
                let free = width - wide - 1.8 * size;
                if free > 5.0 * size {
                    let corner = (width - free, top);
                    self.beside
                        .push((self.panels.len() - 1, corner, (free, high)));
                }
                first += taken;
                if first < grid.rows() {
                    self.continued.push(self.panels.len() - 1);
                }
            }
            self.used += size
                * if place + 1 < self.content.parts.len() {
                    0.7
                } else {
                    0.3
                };
        }
        Some(())
    }

    fn caption(&mut self, text: &str, size: f32) {
        let (width, _) = self.content.form.panel();
        let (runs, high) = self.heading(text, (0.0, self.used), width, size);
        self.push(vec![Element::Heading(runs)]);
        self.used += high;
    }

    /// A heading in lines, and their height.
    fn heading(
        &self,
        text: &str,
        (left, top): (f32, f32),
        width: f32,
        size: f32,
    ) -> (Vec<Run>, f32) {
        let lines = self.content.faces.bold.wrapped(text, size, width);
        let high = lines.len() as f32 * 1.16 * size + 0.34 * size;
        let runs = lines.into_iter().enumerate().map(|(index, text)| Run {
            left,
            baseline: top + (index as f32 * 1.16 + 1.0) * size,
            size,
            bold: true,
            text,
        });
        (runs.collect(), high)
    }

    /// Sets a small table right of the one before it, where there is room.
    fn beside_another(&mut self, part: &Part<'_>, scale: &Scale) -> Option<()> {
        let (panel, (left, top), (wide, high)) = self.beside.last().copied()?;
        let [groups] = &part.grid.parts(1)[..] else {
            return None;
        };
        let rows = part.grid.rows();
        let (heading, under) = match part.heading {
            Some(text) => self.heading(text, (left, top), wide, scale.size),
            None => (Vec::new(), 0.0),
        };
        let needs = under + part.grid.head_height(groups, scale) + Grid::rows_height(rows, scale);
        let is_here = panel + 1 == self.panels.len();
        if !is_here || part.grid.width(groups, 1, scale) > wide || needs + scale.size > high {
            return None;
        }
        self.push(vec![Element::Heading(heading)]);
        let elements = part
            .grid
            .set(groups, (left, top + under), 0..rows, rows, scale);
        self.push(elements);
        self.beside.pop();
        let below = needs + scale.size;
        self.beside
            .push((panel, (left, top + below), (wide, high - below)));
        Some(())
    }

    /// Lines to write on.
    pub(super) fn writing(&mut self, size: f32) -> Option<()> {
        let count = self.content.writing;
        if count == 0 {
            return Some(());
        }
        let (width, _) = self.content.form.panel();
        let step = WRITING.min(size * 2.2).max(11.0);
        if self.left() < count as f32 * step {
            self.next(size)?;
        }
        let rules = (1..=count).map(|line| {
            let y = self.used + line as f32 * step;
            Rule {
                from: (0.0, y),
                to: (width, y),
                width: 0.4,
                dashed: false,
            }
        });
        let rules = rules.collect();
        self.push(vec![Element::Rules(rules)]);
        self.used += count as f32 * step + 0.5 * size;
        Some(())
    }

    /// Small print: beside the tables where there is room, then below, then on further panels.
    pub(super) fn prose(&mut self, size: f32, setting: &Setting) -> Option<()> {
        let content = self.content;
        let (width, height) = content.form.panel();
        let faces = content.faces;
        let whole = Rest {
            paragraphs: &content.prose,
        };
        let mut rest = whole;
        let code = content.code.as_ref().map(|code| (code, code.side(height)));
        let is_wall = content.form.shape == Shape::Wall;
        let beside = std::mem::take(&mut self.beside);
        for (at, (panel, corner, mut place)) in beside.iter().copied().enumerate() {
            // Nothing stands below the last table of a panel that others follow.
            let is_last_here = beside.get(at + 1).is_none_or(|next| next.0 != panel);
            if is_last_here && panel + 1 < self.panels.len() && self.continued.contains(&panel) {
                place.1 = height - corner.1;
            }
            let is_narrow = place.0 < NARROWEST * size || place.1 < 5.0 * size;
            if is_narrow || (code.is_some() && panel + 1 == self.panels.len()) {
                continue;
            }
            let columns = Columns::for_width(place.0, size);
            let (elements, _) = prose::pour(
                faces,
                &mut rest,
                corner,
                (columns, place.1),
                (size, setting.unbroken),
            );
            self.panels[panel].extend(elements);
        }
        let mut code = code;
        while !rest.paragraphs.is_empty() || code.is_some() {
            let side = code.map_or(0.0, |(_, side)| side);
            let room = self.left();
            let before = rest.paragraphs.len();
            if side <= room {
                let free = width - if side > 0.0 { side + size } else { 0.0 };
                let mut trial = rest;
                // Columns stand below the blocks of the table where there are as many.
                let mut columns = Columns::for_width(free, size);
                let (blocks, measure, step) = self.blocks;
                if setting.aligned && blocks == columns.count && code.is_none() {
                    if measure < 0.7 * columns.measure {
                        return None;
                    }
                    (columns.measure, columns.step) = (measure, step);
                }
                let place = (columns, room);
                let (elements, high) = prose::pour(
                    faces,
                    &mut trial,
                    (0.0, 0.0),
                    place,
                    (size, setting.unbroken),
                );
                let is_last = trial.paragraphs.is_empty();
                if is_last || self.panels.len() < self.most {
                    // On a wall small print stands at the foot of the paper.
                    let high = high.max(side);
                    let drop = if is_wall && is_last { room - high } else { 0.0 };
                    let top = self.used + drop;
                    rest = trial;
                    let elements = elements.into_iter().map(|one| one.moved(0.0, top));
                    let elements: Vec<Element> = elements.collect();
                    self.push(elements);
                    if let Some((matrix, side)) = code.take() {
                        let right = width - side;
                        self.push(vec![Element::Code(matrix.clone(), right, top, side)]);
                    }
                    self.used = top + high;
                }
            }
            if rest.paragraphs.is_empty() && code.is_none() {
                break;
            }
            if rest.paragraphs.len() == before && self.is_fresh() {
                return None;
            }
            self.next(size)?;
        }
        Some(())
    }
}
