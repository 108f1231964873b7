//! Draws panels onto pages and tells what each part is, so that a reader who hears the page is
//! told heads and cells apart.

use std::num::{NonZeroU16, NonZeroU32};

use krilla::Document;
use krilla::color::luma;
use krilla::geom::{PathBuilder, Point, Size, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagTree,
};

use super::face::Faces;
use super::flow::{Element, Panel, Rule, Run};
use super::sign::Sign;
use crate::page::About;
use crate::{Error, Result};

/// One side of a sheet.
#[derive(Default)]
pub(super) struct Side {
    /// Panels with the place of their upper left corner.
    pub(super) panels: Vec<(f32, f32, Panel)>,
    /// Where to cut and fold.
    pub(super) marks: Vec<Rule>,
    /// A page number.
    pub(super) furniture: Option<Run>,
}

/// All that is printed.
pub(super) struct Print<'a> {
    pub(super) faces: &'a Faces,
    pub(super) sign: Option<&'a Sign>,
    pub(super) page: (f32, f32),
    pub(super) sides: Vec<Side>,
    pub(super) title: &'a str,
    pub(super) about: About,
}

pub(super) fn write(print: Print<'_>) -> Result<Vec<u8>> {
    let mut document = Document::new();
    let mut tree = TagTree::new();
    for side in &print.sides {
        let settings = PageSettings::from_wh(print.page.0, print.page.1).ok_or_else(failed)?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        let mut pen = Pen {
            surface: &mut surface,
            faces: print.faces,
            sign: print.sign,
        };
        for (left, top, panel) in &side.panels {
            pen.surface
                .push_transform(&Transform::from_translate(*left, *top));
            for element in panel {
                tree.push(pen.element(element)?);
            }
            pen.surface.pop();
        }
        if !side.marks.is_empty() || side.furniture.is_some() {
            let artifact = Artifact::with_kind(ArtifactType::Page);
            pen.surface.start_tagged(ContentTag::Artifact(artifact));
            pen.rules(&side.marks);
            if let Some(run) = &side.furniture {
                pen.letters(run);
            }
            pen.surface.end_tagged();
        }
        surface.finish();
        page.finish();
    }
    document.set_tag_tree(tree);
    document.set_metadata(metadata(&print));
    document.finish().map_err(|_| failed())
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
        Some((year, month, day)) => data.creation_date(DateTime::new(year).month(month).day(day)),
        None => data,
    }
}

pub(super) struct Pen<'a, 'b> {
    pub(super) surface: &'a mut Surface<'b>,
    pub(super) faces: &'a Faces,
    sign: Option<&'a Sign>,
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
            Element::Table { heads, rows, rules } => {
                let artifact = Artifact::with_kind(ArtifactType::Layout);
                self.surface.start_tagged(ContentTag::Artifact(artifact));
                self.rules(rules);
                self.surface.end_tagged();
                Ok(self.table(heads, rows))
            }
            Element::Picture(picture) => Ok(self.picture(picture)),
            Element::Sign(left, top, wide, high) => self.sign((*left, *top), (*wide, *high)),
        }
    }

    fn table(&mut self, heads: &[Vec<super::flow::Head>], rows: &[Vec<Run>]) -> TagGroup {
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
        let mut group = TagGroup::new(Tag::Figure(Some("sign of the shop".into())));
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
                    array: vec![2.0, 2.0],
                    offset: 0.0,
                }),
                ..Stroke::default()
            }));
            self.surface.draw_path(&path);
        }
    }
}
