//! Draws a picture of curves: the same lines and names as SVG has, as paths and selectable text.

use krilla::color::{luma, rgb};
use krilla::geom::{PathBuilder, Rect, Transform};
use krilla::paint::{Fill, FillRule, Stroke, StrokeDash};
use krilla::tagging::{ContentTag, Tag, TagGroup};

use super::draw::Pen;
use super::element::{Picture, Run};
use super::face::Faces;
use crate::output::drawing::{Anchor, Drawing, Line, Point, Text};
use crate::output::true_minus;
use crate::{Error, Result};

/// Type of names and figures in print is never smaller, in points.
const LEAST: f32 = 6.5;

/// How much smaller than on a screen a drawing becomes, so that it is no wider and no higher than
/// given; refused where its names would be too small to read.
pub(super) fn scale(drawing: &Drawing, (width, height): (f32, f32)) -> Result<f32> {
    use crate::output::drawing::{SMALLEST, WIDTH};
    let scale = (width / WIDTH as f32).min(height / drawing.height() as f32);
    if scale * (SMALLEST as f32) < LEAST {
        return Err(Error::Value {
            quantity: "form",
            text: "picture".into(),
            problem: "is too small a panel for a picture".into(),
            hint: "print it as a wall chart".into(),
        });
    }
    Ok(scale)
}

/// Refuses a name with a character that the typeface does not have.
pub(super) fn check(drawing: &Drawing, faces: &Faces) -> Result<()> {
    let mut texts = drawing.texts.iter().chain(&drawing.names);
    texts.try_for_each(|text| faces.check(&text.words))
}

impl Pen<'_, '_> {
    pub(super) fn picture(&mut self, picture: &Picture) -> TagGroup {
        let mut group = TagGroup::new(Tag::Figure(Some(picture.description.clone())));
        group.push(self.surface.start_tagged(ContentTag::Other));
        self.surface.push_transform(&Transform::from_row(
            picture.scale,
            0.0,
            0.0,
            picture.scale,
            picture.left,
            picture.top,
        ));
        let drawing = &picture.drawing;
        let thin = |(from, to): &(Point, Point), grey: u8| Line {
            points: vec![*from, *to],
            width: 0.7,
            dashes: &[],
            color: [grey; 3],
        };
        for ends in &drawing.grid {
            self.line(&thin(ends, 0xc8));
        }
        for text in &drawing.texts {
            self.text(text);
        }
        let field = &drawing.field;
        let frame = Rect::from_ltrb(
            field.left as f32,
            field.top as f32,
            field.right as f32,
            field.bottom as f32,
        );
        let mut path = PathBuilder::new();
        if let Some(frame) = frame {
            path.push_rect(frame);
        }
        let frame = path.finish();
        if let Some(frame) = &frame {
            self.surface.set_fill(None);
            self.surface.set_stroke(Some(stroke(1.0, [0; 3], &[])));
            self.surface.draw_path(frame);
            self.surface.push_clip_path(frame, &FillRule::NonZero);
        }
        for curve in &drawing.curves {
            self.line(curve);
        }
        if frame.is_some() {
            self.surface.pop();
        }
        for ends in &drawing.leaders {
            self.line(&thin(ends, 0));
        }
        for ((x, y), radius) in &drawing.dots {
            // A point with a round pen is a dot.
            self.line(&Line {
                points: vec![(*x, *y), (*x + 1e-3, *y)],
                width: 2.0 * radius,
                dashes: &[],
                color: [0; 3],
            });
        }
        for name in &drawing.names {
            self.ground(name);
            self.text(name);
        }
        self.surface.pop();
        self.surface.end_tagged();
        group
    }

    fn line(&mut self, line: &Line) {
        let mut path = PathBuilder::new();
        for (index, (x, y)) in line.points.iter().enumerate() {
            let (x, y) = (*x as f32, *y as f32);
            if index == 0 {
                path.move_to(x, y);
            } else {
                path.line_to(x, y);
            }
        }
        let Some(path) = path.finish() else {
            return;
        };
        self.surface.set_fill(None);
        let pen = stroke(line.width as f32, line.color, line.dashes);
        self.surface.set_stroke(Some(pen));
        self.surface.draw_path(&path);
    }

    /// White under a name, so that no line of the grid passes through it.
    fn ground(&mut self, name: &Text) {
        let size = name.size as f32;
        let wide = self.faces.regular.width(&true_minus(&name.words), size);
        let (x, y) = (name.at.0 as f32, name.at.1 as f32);
        let place = Rect::from_xywh(x - wide / 2.0 - 1.5, y - 0.8 * size, wide + 3.0, size);
        let Some(place) = place else {
            return;
        };
        let mut path = PathBuilder::new();
        path.push_rect(place);
        if let Some(path) = path.finish() {
            self.surface.set_stroke(None);
            self.surface.set_fill(Some(Fill {
                paint: luma::Color::white().into(),
                ..Fill::default()
            }));
            self.surface.draw_path(&path);
        }
    }

    fn text(&mut self, text: &Text) {
        let words = true_minus(&text.words);
        let size = text.size as f32;
        let share = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5,
            Anchor::End => 1.0,
        };
        let left = -share * self.faces.regular.width(&words, size);
        let (x, y) = (text.at.0 as f32, text.at.1 as f32);
        self.surface.push_transform(&if text.turned {
            // A quarter turn against the clock.
            Transform::from_row(0.0, -1.0, 1.0, 0.0, x, y)
        } else {
            Transform::from_translate(x, y)
        });
        self.letters(&Run {
            left,
            baseline: 0.0,
            size,
            bold: false,
            text: words,
        });
        self.surface.pop();
    }
}

fn stroke(width: f32, color: [u8; 3], dashes: &[f64]) -> Stroke {
    let [red, green, blue] = color;
    let is_grey = red == green && green == blue;
    let round = dashes.is_empty() && width > 2.0;
    Stroke {
        paint: match is_grey {
            true => luma::Color::new(red).into(),
            false => rgb::Color::new(red, green, blue).into(),
        },
        width,
        line_cap: if round {
            krilla::paint::LineCap::Round
        } else {
            krilla::paint::LineCap::Butt
        },
        line_join: krilla::paint::LineJoin::Round,
        dash: (!dashes.is_empty()).then(|| StrokeDash {
            array: dashes.iter().map(|length| *length as f32).collect(),
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}
