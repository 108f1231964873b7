//! The shop's own sign: a PNG picture, or an SVG document drawn as paths.
//!
//! A sign is printed whole or not at all. What is not drawn here (texts, whose typeface is not at
//! hand; pictures inside; effects that a renderer would turn into pixels) is refused by name.

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Size, Transform};
use krilla::image::Image;
use krilla::num::NormalizedF32;
use krilla::paint::{
    Fill, FillRule, LineCap, LineJoin, LinearGradient, Paint, RadialGradient, SpreadMethod, Stop,
    Stroke, StrokeDash,
};
use krilla::surface::Surface;
use usvg::roxmltree;
use usvg::tiny_skia_path::PathSegment;

use crate::page::Logo;
use crate::{Error, Result};

/// A sign, ready to be drawn.
pub(super) enum Sign {
    Picture(Image),
    Paths(Box<usvg::Tree>),
}

/// The elements of SVG that show something and are not drawn here.
const NOT_DRAWN: [(&str, &str); 6] = [
    ("text", "text"),
    ("image", "a picture inside"),
    ("foreignObject", "a foreign object"),
    ("mask", "a mask"),
    ("filter", "a filter"),
    ("pattern", "a pattern"),
];

/// A document of more nodes is no sign.
const MOST_NODES: u32 = 200_000;
/// A longer one would be less than a point wide in print.
const MOST_RATIO: f32 = 40.0;

impl Sign {
    pub(super) fn read(logo: &Logo) -> Result<Self> {
        let sign = if logo.is_svg {
            Self::Paths(Box::new(paths(&logo.bytes)?))
        } else {
            let image = Image::from_png(logo.bytes.to_vec().into(), true)
                .map_err(|_| wrong("is not a whole PNG picture", "save it anew"))?;
            Self::Picture(image)
        };
        let (width, height) = sign.size();
        if width > MOST_RATIO * height || height > MOST_RATIO * width {
            return Err(wrong(
                "is more than 40 times as long as it is wide",
                "cut it to a shape that can be seen in print",
            ));
        }
        Ok(sign)
    }

    /// Width and height, in whatever unit.
    pub(super) fn size(&self) -> (f32, f32) {
        match self {
            Self::Picture(image) => (image.size().0 as f32, image.size().1 as f32),
            Self::Paths(tree) => (tree.size().width(), tree.size().height()),
        }
    }

    /// Draws it with its upper left corner at the origin.
    pub(super) fn draw(&self, surface: &mut Surface<'_>, size: Size) {
        let tree = match self {
            Self::Picture(image) => return surface.draw_image(image.clone(), size),
            Self::Paths(tree) => tree,
        };
        let (wide, high) = self.size();
        surface.push_transform(&Transform::from_scale(
            size.width() / wide,
            size.height() / high,
        ));
        let mut frame = PathBuilder::new();
        if let Some(rect) = krilla::geom::Rect::from_xywh(0.0, 0.0, wide, high) {
            frame.push_rect(rect);
        }
        let frame = frame.finish();
        if let Some(frame) = &frame {
            surface.push_clip_path(frame, &FillRule::NonZero);
        }
        draw_group(surface, tree.root());
        if frame.is_some() {
            surface.pop();
        }
        surface.pop();
    }
}

fn wrong(problem: impl Into<String>, hint: &str) -> Error {
    Error::File {
        file: "logo".into(),
        problem: problem.into(),
        hint: hint.into(),
    }
}

/// A document read and looked through: nothing in it is lost in print, and nothing outside it is
/// read (links to files and to the net lead nowhere, scripts are not run).
fn paths(bytes: &[u8]) -> Result<usvg::Tree> {
    let broken = |problem: String| wrong(problem, "save it anew as plain SVG, or give a PNG");
    let text = std::str::from_utf8(bytes).map_err(|_| broken("is not in UTF-8".into()))?;
    let reading = roxmltree::ParsingOptions {
        // Programs that draw write entities into the head of a document.
        allow_dtd: true,
        nodes_limit: MOST_NODES,
        ..Default::default()
    };
    let unread = |problem: roxmltree::Error| match problem {
        roxmltree::Error::NodesLimitReached => broken("has too many parts".into()),
        other => broken(format!("is not a whole SVG document: {other}")),
    };
    let document = roxmltree::Document::parse_with_options(text, reading).map_err(unread)?;
    for node in document.descendants().filter(|node| node.is_element()) {
        let name = node.tag_name();
        // What stands in no namespace is drawn as SVG too.
        let is_svg = name
            .namespace()
            .is_none_or(|space| space == "http://www.w3.org/2000/svg");
        if let Some((_, words)) = NOT_DRAWN
            .iter()
            .find(|(not_drawn, _)| is_svg && *not_drawn == name.name())
        {
            return Err(not_drawn(words));
        }
    }
    let options = usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..Default::default()
    };
    let tree = usvg::Tree::from_xmltree(&document, &options).map_err(|problem| match problem {
        usvg::Error::ParsingFailed(problem) => unread(problem),
        usvg::Error::ElementsLimitReached => unread(roxmltree::Error::NodesLimitReached),
        usvg::Error::InvalidSize => {
            broken("has no size: neither width and height nor viewBox".into())
        }
        _ => broken("is not a whole SVG document".into()),
    })?;
    if !check(tree.root())? {
        return Err(broken("shows nothing".into()));
    }
    Ok(tree)
}

fn not_drawn(words: &str) -> Error {
    wrong(
        format!("holds {words}, which is not drawn on PDF"),
        "turn texts and effects into plain paths in the program that drew it, or give a PNG",
    )
}

/// Whether a group shows anything; an error where it holds what is not drawn.
fn check(group: &usvg::Group) -> Result<bool> {
    if group.blend_mode() != usvg::BlendMode::Normal {
        return Err(not_drawn("a blend of colours"));
    }
    let mut clip = group.clip_path();
    while let Some(path) = clip {
        if clipping(path).is_none() {
            return Err(not_drawn("a clip path of several shapes"));
        }
        clip = path.clip_path();
    }
    let mut shows = false;
    for node in group.children() {
        shows |= match node {
            usvg::Node::Group(inner) => check(inner)?,
            usvg::Node::Path(path) => path.is_visible(),
            usvg::Node::Image(_) => return Err(not_drawn("a picture inside")),
            usvg::Node::Text(_) => return Err(not_drawn("text")),
        };
    }
    Ok(shows)
}

fn draw_group(surface: &mut Surface<'_>, group: &usvg::Group) {
    let mut pushed = 1;
    surface.push_transform(&transform(group.transform()));
    let mut clip = group.clip_path();
    while let Some(path) = clip {
        if let Some((shape, rule)) = clipping(path) {
            surface.push_clip_path(&shape, &rule);
            pushed += 1;
        }
        clip = path.clip_path();
    }
    if group.opacity() != usvg::Opacity::ONE {
        surface.push_opacity(share(group.opacity()));
        surface.push_isolated();
        pushed += 2;
    }
    for node in group.children() {
        match node {
            usvg::Node::Group(inner) => draw_group(surface, inner),
            usvg::Node::Path(path) if path.is_visible() => draw_path(surface, path),
            _ => {}
        }
    }
    for _ in 0..pushed {
        surface.pop();
    }
}

fn draw_path(surface: &mut Surface<'_>, path: &usvg::Path) {
    let Some(shape) = shape(path.data(), usvg::Transform::identity()) else {
        return;
    };
    let (fill, stroke) = (path.fill().and_then(fill), path.stroke().and_then(stroke));
    let passes = match path.paint_order() {
        usvg::PaintOrder::FillAndStroke => vec![(fill, stroke)],
        usvg::PaintOrder::StrokeAndFill => vec![(None, stroke), (fill, None)],
    };
    for (fill, stroke) in passes {
        // Without both the surface would fill in black.
        if fill.is_some() || stroke.is_some() {
            surface.set_fill(fill);
            surface.set_stroke(stroke);
            surface.draw_path(&shape);
        }
    }
}

/// The one shape of a clip path; none where there are several, whose union is no single path, or
/// where a part is clipped itself. A clip path without a shape hides everything.
fn clipping(clip: &usvg::ClipPath) -> Option<(Path, FillRule)> {
    let mut found = Vec::new();
    let mut groups = vec![(clip.root(), clip.transform())];
    while let Some((group, outer)) = groups.pop() {
        if group.clip_path().is_some() {
            return None;
        }
        let here = outer.pre_concat(group.transform());
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => groups.push((inner, here)),
                usvg::Node::Path(path) if path.is_visible() => found.push((path, here)),
                _ => {}
            }
        }
    }
    match found.as_slice() {
        [] => {
            let mut point = PathBuilder::new();
            point.move_to(0.0, 0.0);
            point.line_to(0.0, 0.0);
            Some((point.finish()?, FillRule::NonZero))
        }
        [(path, here)] => {
            let rule = path
                .fill()
                .map_or(FillRule::NonZero, |fill| rule(fill.rule()));
            Some((shape(path.data(), *here)?, rule))
        }
        _ => None,
    }
}

fn shape(data: &usvg::tiny_skia_path::Path, by: usvg::Transform) -> Option<Path> {
    let data = data.clone().transform(by)?;
    let mut path = PathBuilder::new();
    for segment in data.segments() {
        match segment {
            PathSegment::MoveTo(to) => path.move_to(to.x, to.y),
            PathSegment::LineTo(to) => path.line_to(to.x, to.y),
            PathSegment::QuadTo(over, to) => path.quad_to(over.x, over.y, to.x, to.y),
            PathSegment::CubicTo(first, second, to) => {
                path.cubic_to(first.x, first.y, second.x, second.y, to.x, to.y);
            }
            PathSegment::Close => path.close(),
        }
    }
    path.finish()
}

fn transform(of: usvg::Transform) -> Transform {
    Transform::from_row(of.sx, of.ky, of.kx, of.sy, of.tx, of.ty)
}

fn share(of: usvg::NormalizedF32) -> NormalizedF32 {
    NormalizedF32::new(of.get()).unwrap_or(NormalizedF32::ONE)
}

const fn rule(of: usvg::FillRule) -> FillRule {
    match of {
        usvg::FillRule::NonZero => FillRule::NonZero,
        usvg::FillRule::EvenOdd => FillRule::EvenOdd,
    }
}

fn fill(of: &usvg::Fill) -> Option<Fill> {
    Some(Fill {
        paint: paint(of.paint())?,
        opacity: share(of.opacity()),
        rule: rule(of.rule()),
    })
}

fn stroke(of: &usvg::Stroke) -> Option<Stroke> {
    Some(Stroke {
        paint: paint(of.paint())?,
        width: of.width().get(),
        miter_limit: of.miterlimit().get(),
        line_cap: match of.linecap() {
            usvg::LineCap::Butt => LineCap::Butt,
            usvg::LineCap::Round => LineCap::Round,
            usvg::LineCap::Square => LineCap::Square,
        },
        line_join: match of.linejoin() {
            // PDF knows no clipped mitre; both differ only beyond the limit.
            usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => LineJoin::Miter,
            usvg::LineJoin::Round => LineJoin::Round,
            usvg::LineJoin::Bevel => LineJoin::Bevel,
        },
        opacity: share(of.opacity()),
        dash: of.dasharray().map(|array| StrokeDash {
            array: array.to_vec(),
            offset: of.dashoffset(),
        }),
    })
}

fn colour(of: usvg::Color) -> rgb::Color {
    rgb::Color::new(of.red, of.green, of.blue)
}

fn paint(of: &usvg::Paint) -> Option<Paint> {
    let stops = |of: &usvg::BaseGradient| -> Vec<Stop> {
        of.stops()
            .iter()
            .map(|stop| Stop {
                offset: share(stop.offset()),
                color: colour(stop.color()).into(),
                opacity: share(stop.opacity()),
            })
            .collect()
    };
    let spread = |of: &usvg::BaseGradient| match of.spread_method() {
        usvg::SpreadMethod::Pad => SpreadMethod::Pad,
        usvg::SpreadMethod::Reflect => SpreadMethod::Reflect,
        usvg::SpreadMethod::Repeat => SpreadMethod::Repeat,
    };
    Some(match of {
        usvg::Paint::Color(of) => colour(*of).into(),
        usvg::Paint::LinearGradient(of) => LinearGradient {
            x1: of.x1(),
            y1: of.y1(),
            x2: of.x2(),
            y2: of.y2(),
            transform: transform(of.transform()),
            spread_method: spread(of),
            stops: stops(of),
            anti_alias: false,
        }
        .into(),
        usvg::Paint::RadialGradient(of) => RadialGradient {
            fx: of.fx(),
            fy: of.fy(),
            fr: of.fr().get(),
            cx: of.cx(),
            cy: of.cy(),
            cr: of.r().get(),
            transform: transform(of.transform()),
            spread_method: spread(of),
            stops: stops(of),
            anti_alias: false,
        }
        .into(),
        usvg::Paint::Pattern(_) => return None,
    })
}
