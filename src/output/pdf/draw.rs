//! Draws panels onto pages and tells what each part is, so that a reader who hears the page is
//! told heads and cells apart.

use std::num::{NonZeroU16, NonZeroU32};

use krilla::Document;
use krilla::color::{luma, rgb};
use krilla::geom::{PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, Paint, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagTree,
};

use super::code::Matrix;
use super::element::{Element, Panel, Rule, Run};
use super::face::Faces;
use super::sign::Sign;
use crate::output::symbol::{self, Step};
use crate::page::words::{Words, charts::LOGO, print::CODE_MEANS};
use crate::page::{About, Symbol};
use crate::{Error, Result};

/// One side of a sheet.
#[derive(Default)]
pub(super) struct Side {
    /// Panels with the place of their upper left corner.
    pub(super) panels: Vec<(f32, f32, Panel)>,
    /// Where to cut and fold.
    pub(super) marks: Vec<Rule>,
    /// A page number and other lines outside of all panels.
    pub(super) furniture: Vec<Run>,
    /// Width and height of the paper.
    pub(super) page: (f32, f32),
    /// What a print shop cuts off around, and how far out its marks stand; 0 where it does not.
    pub(super) bleed: f32,
}

/// Length of the marks around a bleed, points.
const CROP: f32 = 14.0;
/// Grey of a band, where it has no tint: 8 % of black, which a copier keeps.
const BAND: u8 = 235;

/// All that is printed.
pub(super) struct Print<'a> {
    pub(super) faces: &'a Faces,
    pub(super) sign: Option<&'a Sign>,
    pub(super) tint: Option<[u8; 3]>,
    pub(super) sides: Vec<Side>,
    pub(super) title: String,
    pub(super) about: About,
}

pub(super) fn write(print: Print<'_>) -> Result<Vec<u8>> {
    let mut document = Document::new();
    let mut tree = TagTree::new();
    for side in &print.sides {
        let (wide, high) = side.page;
        // Around the trimmed page lie the bleed and the marks.
        let around = if side.bleed > 0.0 {
            side.bleed + CROP
        } else {
            0.0
        };
        let media = (wide + 2.0 * around, high + 2.0 * around);
        let mut settings = PageSettings::from_wh(media.0, media.1).ok_or_else(failed)?;
        if around > 0.0 {
            let trim = Rect::from_xywh(around, around, wide, high);
            let (to_bleed, bled) = (around - side.bleed, 2.0 * side.bleed);
            let bleed = Rect::from_xywh(to_bleed, to_bleed, wide + bled, high + bled);
            settings = settings.with_trim_box(trim).with_bleed_box(bleed);
        }
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        surface.push_transform(&Transform::from_translate(around, around));
        let mut pen = Pen {
            surface: &mut surface,
            faces: print.faces,
            sign: print.sign,
            tint: print.tint,
            words: &print.about.words,
        };
        for (left, top, panel) in &side.panels {
            pen.surface
                .push_transform(&Transform::from_translate(*left, *top));
            for element in panel {
                tree.push(pen.element(element)?);
            }
            pen.surface.pop();
        }
        let crops = crops(side);
        if !(side.marks.is_empty() && side.furniture.is_empty() && crops.is_empty()) {
            let artifact = Artifact::with_kind(ArtifactType::Page);
            pen.surface.start_tagged(ContentTag::Artifact(artifact));
            pen.rules(&side.marks);
            pen.rules(&crops);
            for run in &side.furniture {
                pen.letters(run);
            }
            pen.surface.end_tagged();
        }
        pen.surface.pop();
        surface.finish();
        page.finish();
    }
    document.set_tag_tree(tree);
    document.set_metadata(metadata(&print));
    document.finish().map_err(|_| failed())
}

/// Marks at the corners of a page with a bleed, outside of it.
fn crops(side: &Side) -> Vec<Rule> {
    let (wide, high) = side.page;
    let mut found = Vec::new();
    if side.bleed <= 0.0 {
        return found;
    }
    let (near, far) = (side.bleed + 1.0, side.bleed + CROP - 1.0);
    for (x, right) in [(0.0, -1.0), (wide, 1.0)] {
        for (y, down) in [(0.0, -1.0), (high, 1.0)] {
            let mark = |from: (f32, f32), to: (f32, f32)| Rule {
                from,
                to,
                width: 0.4,
                dashed: false,
            };
            found.push(mark((x + right * near, y), (x + right * far, y)));
            found.push(mark((x, y + down * near), (x, y + down * far)));
        }
    }
    found
}

fn failed() -> Error {
    Error::File {
        file: "PDF".into(),
        problem: "could not be made".into(),
        hint: "choose another format".into(),
    }
}

fn metadata(print: &Print<'_>) -> Metadata {
    let program = concat!("zeotrope ", env!("CARGO_PKG_VERSION"));
    let language = match print.about.words.language.as_str() {
        "" => "en",
        named => named,
    };
    let data = Metadata::new()
        .title(print.title.chars().take(200).collect())
        .language(language.to_owned())
        .creator(program.to_owned())
        .producer(program.to_owned());
    match print.about.date {
        Some(date) => {
            let date = DateTime::new(date.year())
                .month(date.month())
                .day(date.day());
            data.creation_date(date)
        }
        None => data,
    }
}

pub(super) struct Pen<'a, 'b> {
    pub(super) surface: &'a mut Surface<'b>,
    pub(super) faces: &'a Faces,
    sign: Option<&'a Sign>,
    tint: Option<[u8; 3]>,
    words: &'a Words,
}

impl Pen<'_, '_> {
    fn element(&mut self, element: &Element) -> Result<TagGroup> {
        match element {
            Element::Heading(runs) => {
                let mut group = TagGroup::new(Tag::Hn(NonZeroU16::MIN, None));
                for run in runs {
                    group.push(self.run(run));
                }
                Ok(group)
            }
            Element::Paragraph(runs) => {
                let mut group = TagGroup::new(Tag::P);
                for run in runs {
                    group.push(self.run(run));
                }
                Ok(group)
            }
            Element::Table {
                heads,
                rows,
                rules,
                bands,
            } => {
                self.layout(bands, rules);
                Ok(self.table(heads, rows))
            }
            Element::Rules(rules) => {
                self.layout(&[], rules);
                Ok(TagGroup::new(Tag::NonStruct))
            }
            Element::Symbol(symbol, left, top, side) => {
                Ok(self.symbol(*symbol, (*left, *top), *side))
            }
            Element::Code(matrix, left, top, side) => Ok(self.code(matrix, (*left, *top), *side)),
            Element::Picture(picture) => Ok(self.picture(picture)),
            Element::Sign(left, top, wide, high) => self.sign((*left, *top), (*wide, *high)),
        }
    }

    /// What is only seen: bands and lines.
    fn layout(&mut self, bands: &[[f32; 4]], rules: &[Rule]) {
        let artifact = Artifact::with_kind(ArtifactType::Layout);
        self.surface.start_tagged(ContentTag::Artifact(artifact));
        let paint: Paint = match self.tint {
            Some([red, green, blue]) => rgb::Color::new(red, green, blue).into(),
            None => luma::Color::new(BAND).into(),
        };
        for [left, top, wide, high] in bands {
            self.fill(Rect::from_xywh(*left, *top, *wide, *high), paint.clone());
        }
        self.rules(rules);
        self.surface.end_tagged();
    }

    fn fill(&mut self, rect: Option<Rect>, paint: Paint) {
        let mut path = PathBuilder::new();
        if let Some(rect) = rect {
            path.push_rect(rect);
        }
        if let Some(path) = path.finish() {
            self.surface.set_stroke(None);
            self.surface.set_fill(Some(Fill {
                paint,
                ..Fill::default()
            }));
            self.surface.draw_path(&path);
        }
    }

    /// A hazard's drawing.
    fn symbol(&mut self, symbol: Symbol, (left, top): (f32, f32), side: f32) -> TagGroup {
        let alternative = self.words.text(symbol::phrase(symbol)).to_owned();
        let mut group = TagGroup::new(Tag::Figure(Some(alternative)));
        group.push(self.surface.start_tagged(ContentTag::Other));
        let scale = side / 100.0;
        let place = Transform::from_row(scale, 0.0, 0.0, scale, left, top);
        self.surface.push_transform(&place);
        for text in symbol::paths(symbol) {
            let mut path = PathBuilder::new();
            for step in symbol::steps(text) {
                match step {
                    Step::Move([x, y]) => path.move_to(x, y),
                    Step::Line([x, y]) => path.line_to(x, y),
                    Step::Curve([a, b, c, d, x, y]) => path.cubic_to(a, b, c, d, x, y),
                    Step::Close => path.close(),
                }
            }
            if let Some(path) = path.finish() {
                self.surface.set_stroke(None);
                self.surface.set_fill(Some(Fill {
                    rule: FillRule::EvenOdd,
                    ..Fill::default()
                }));
                self.surface.draw_path(&path);
            }
        }
        self.surface.pop();
        self.surface.end_tagged();
        group
    }

    fn code(&mut self, matrix: &Matrix, (left, top): (f32, f32), side: f32) -> TagGroup {
        let alternative = self.words.fill(CODE_MEANS, &[("text", &matrix.text)]);
        let mut group = TagGroup::new(Tag::Figure(Some(alternative)));
        group.push(self.surface.start_tagged(ContentTag::Other));
        let mut path = PathBuilder::new();
        for (x, y, wide) in matrix.runs() {
            let high = matrix.module() * side;
            let run = Rect::from_xywh(left + x * side, top + y * side, wide * side, high);
            if let Some(run) = run {
                path.push_rect(run);
            }
        }
        if let Some(path) = path.finish() {
            self.surface.set_stroke(None);
            self.surface.set_fill(Some(Fill::default()));
            self.surface.draw_path(&path);
        }
        self.surface.end_tagged();
        group
    }

    fn table(&mut self, heads: &[Vec<super::element::Head>], rows: &[Vec<Run>]) -> TagGroup {
        let mut table = TagGroup::new(Tag::Table);
        let mut top = TagGroup::new(Tag::THead);
        for level in heads {
            let mut line = TagGroup::new(Tag::TR);
            for head in level {
                let span = u32::try_from(head.span).ok().and_then(NonZeroU32::new);
                let mut cell = TagGroup::new(
                    Tag::TH(TableHeaderScope::Column).with_col_span(span.filter(|n| n.get() > 1)),
                );
                for run in &head.lines {
                    cell.push(self.run(run));
                }
                line.push(cell);
            }
            top.push(line);
        }
        table.push(top);
        let mut body = TagGroup::new(Tag::TBody);
        for row in rows {
            let mut line = TagGroup::new(Tag::TR);
            for (index, run) in row.iter().enumerate() {
                let mut cell = if index == 0 {
                    TagGroup::new(Tag::TH(TableHeaderScope::Row))
                } else {
                    TagGroup::new(Tag::TD)
                };
                cell.push(self.run(run));
                line.push(cell);
            }
            body.push(line);
        }
        table.push(body);
        table
    }

    fn sign(&mut self, (left, top): (f32, f32), (wide, high): (f32, f32)) -> Result<TagGroup> {
        let size = Size::from_wh(wide, high).ok_or_else(failed)?;
        let mut group = TagGroup::new(Tag::Figure(Some(self.words.text(LOGO).to_owned())));
        group.push(self.surface.start_tagged(ContentTag::Other));
        self.surface
            .push_transform(&Transform::from_translate(left, top));
        if let Some(sign) = self.sign {
            sign.draw(self.surface, size);
        }
        self.surface.pop();
        self.surface.end_tagged();
        Ok(group)
    }

    fn run(&mut self, run: &Run) -> Identifier {
        let id = self
            .surface
            .start_tagged(ContentTag::Span(SpanTag::empty()));
        self.letters(run);
        self.surface.end_tagged();
        id
    }

    pub(super) fn letters(&mut self, run: &Run) {
        let weight = self.faces.weight(run.bold);
        self.surface.set_stroke(None);
        self.surface.set_fill(Some(Fill::default()));
        self.surface.draw_glyphs(
            Point::from_xy(run.left, run.baseline),
            &weight.glyphs(&run.text),
            weight.font.clone(),
            &run.text,
            run.size,
            false,
        );
    }

    fn rules(&mut self, rules: &[Rule]) {
        for rule in rules {
            let mut path = PathBuilder::new();
            path.move_to(rule.from.0, rule.from.1);
            path.line_to(rule.to.0, rule.to.1);
            let Some(path) = path.finish() else {
                continue;
            };
            self.surface.set_fill(None);
            self.surface.set_stroke(Some(Stroke {
                paint: luma::Color::black().into(),
                width: rule.width,
                dash: rule.dashed.then(|| StrokeDash {
                    array: vec![2.4 * rule.width.max(0.8), 1.6 * rule.width.max(0.8)],
                    offset: 0.0,
                }),
                ..Stroke::default()
            }));
            self.surface.draw_path(&path);
        }
    }
}
