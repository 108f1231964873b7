//! A picture as SVG: black on white, each curve named beside it, with a title and a description
//! for those who do not see it.

use super::labels::{Field, Rect};
use super::minus::true_minus;
use super::{Answer, Block, Exporter};
use crate::chart::plot::{Plot, Stroke};
use crate::{Error, Result};

pub(super) struct Svg;

impl Exporter for Svg {
    fn export(&self, answer: &Answer) -> Result<Vec<u8>> {
        let plot = answer.blocks.iter().find_map(|block| match block {
            Block::Picture(plot) => Some(plot),
            _ => None,
        });
        let Some(plot) = plot else {
            return Err(Error::File {
                file: "SVG".into(),
                problem: "this answer is no picture".into(),
                hint: "'zeotrope chart' draws; choose another --format here".into(),
            });
        };
        Ok(draw(plot).into_bytes())
    }
}

/// Size of the picture and of what stands around its field, in px.
const WIDTH: f64 = 760.0;
const FIELD_HEIGHT: f64 = 440.0;
const LEFT: f64 = 70.0;
const RIGHT: f64 = 24.0;
const BOTTOM: f64 = 52.0;
/// Size of type and height of a line below the field, in px.
const TYPE: f64 = 14.0;
const LINE: f64 = 18.0;

/// The picture as one SVG document.
///
/// # Example
/// ```
/// use zeotrope::chart::plot::{Axis, Curve, Plot, Stroke};
/// let plot = Plot {
///     title: "A line".into(),
///     x: Axis::around("°C", [-40.0, 60.0]),
///     y: Axis::logarithmic_around("bara", [1.0, 20.0]),
///     curves: vec![Curve {
///         label: "R-1".into(),
///         points: vec![(-40.0, 1.0), (60.0, 20.0)],
///         stroke: Stroke::Solid,
///     }],
///     marks: Vec::new(),
///     notes: Vec::new(),
/// };
/// let svg = zeotrope::output::svg::draw(&plot);
/// assert!(svg.starts_with("<svg ") && svg.contains(">\u{2212}40</text>"));
/// ```
pub fn draw(plot: &Plot) -> String {
    let title_lines = wrapped(&plot.title, 72);
    let notes: Vec<String> = plot
        .notes
        .iter()
        .flat_map(|note| wrapped(note, 108))
        .collect();
    let top = 20.0 + title_lines.len() as f64 * 22.0;
    let field = Rect {
        left: LEFT,
        top,
        right: WIDTH - RIGHT,
        bottom: top + FIELD_HEIGHT,
    };
    let height = field.bottom + BOTTOM + notes.len() as f64 * LINE + 12.0;
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" \
         width=\"{WIDTH}\" height=\"{height}\" role=\"img\" \
         font-family=\"'Roboto Condensed','Liberation Sans Narrow',Arial,sans-serif\" \
         font-size=\"{TYPE}\" fill=\"black\">\n<title>{}</title>\n<desc>{}</desc>\n\
         <rect width=\"{WIDTH}\" height=\"{height}\" fill=\"white\"/>\n",
        escaped(&plot.title),
        escaped(&description(plot)),
    );
    for (index, line) in title_lines.iter().enumerate() {
        let y = 26.0 + index as f64 * 22.0;
        text(
            &mut out,
            (LEFT, y),
            "start",
            " font-size=\"17\" font-weight=\"bold\"",
            line,
        );
    }
    grid(&mut out, plot, &field);
    let drawn = curves(&mut out, plot, &field);
    names(&mut out, plot, &field, &drawn);
    for (index, line) in notes.iter().enumerate() {
        let y = field.bottom + BOTTOM + (index as f64 + 0.6) * LINE;
        text(&mut out, (LEFT, y), "start", " font-size=\"13\"", line);
    }
    out.push_str("</svg>\n");
    out
}

fn description(plot: &Plot) -> String {
    let names: Vec<&str> = plot
        .curves
        .iter()
        .map(|curve| curve.label.as_str())
        .filter(|label| !label.is_empty())
        .collect();
    format!(
        "{} against {}. Curves: {}. {}",
        plot.y.label,
        plot.x.label,
        names.join(", "),
        plot.notes.join(" ")
    )
}

/// The frame, the ticks with a line across the field each, and the names of the axes.
fn grid(out: &mut String, plot: &Plot, field: &Rect) {
    out.push_str("<g stroke=\"#c8c8c8\" stroke-width=\"0.7\">\n");
    let mut texts = String::new();
    for tick in plot.x.ticks(10) {
        let Some(share) = plot.x.place(tick.at) else {
            continue;
        };
        let x = field.left + share * (field.right - field.left);
        line(out, (x, field.top), (x, field.bottom));
        text(
            &mut texts,
            (x, field.bottom + 18.0),
            "middle",
            "",
            &tick.text,
        );
    }
    for tick in plot.y.ticks(12) {
        let Some(share) = plot.y.place(tick.at) else {
            continue;
        };
        let y = field.bottom - share * (field.bottom - field.top);
        line(out, (field.left, y), (field.right, y));
        text(
            &mut texts,
            (field.left - 7.0, y + 4.5),
            "end",
            "",
            &tick.text,
        );
    }
    out.push_str("</g>\n");
    out.push_str(&texts);
    out.push_str(&format!(
        "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"none\" \
         stroke=\"black\"/>\n",
        field.left,
        field.top,
        field.right - field.left,
        field.bottom - field.top
    ));
    let middle = (field.left + field.right) / 2.0;
    text(
        out,
        (middle, field.bottom + 40.0),
        "middle",
        "",
        &plot.x.label,
    );
    let height = (field.top + field.bottom) / 2.0;
    let turned = format!(" transform=\"rotate(-90 18 {height:.1})\"");
    text(out, (18.0, height), "middle", &turned, &plot.y.label);
}

/// Draws the curves and gives their points on the page.
fn curves(out: &mut String, plot: &Plot, field: &Rect) -> Vec<Vec<(f64, f64)>> {
    out.push_str(&format!(
        "<clipPath id=\"field\"><rect x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" \
         height=\"{:.1}\"/></clipPath>\n<g fill=\"none\" stroke=\"black\" \
         stroke-linejoin=\"round\" clip-path=\"url(#field)\">\n",
        field.left,
        field.top,
        field.right - field.left,
        field.bottom - field.top
    ));
    let mut all = Vec::new();
    for curve in &plot.curves {
        let points: Vec<(f64, f64)> = curve
            .points
            .iter()
            .filter_map(|point| on_page(plot, field, *point))
            .collect();
        let style = match curve.stroke {
            Stroke::Solid => "stroke-width=\"1.7\"",
            Stroke::Dashed => "stroke-width=\"1.7\" stroke-dasharray=\"7 4\"",
            Stroke::Dotted => "stroke-width=\"1.7\" stroke-dasharray=\"1.6 3.2\"",
            Stroke::Faint => "stroke=\"#707070\" stroke-width=\"0.8\"",
        };
        let path: Vec<String> = points
            .iter()
            .map(|(x, y)| format!("{x:.2},{y:.2}"))
            .collect();
        out.push_str(&format!(
            "<polyline {style} points=\"{}\"/>\n",
            path.join(" ")
        ));
        all.push(points);
    }
    out.push_str("</g>\n");
    all
}

fn on_page(plot: &Plot, field: &Rect, (x, y): (f64, f64)) -> Option<(f64, f64)> {
    let (x, y) = (plot.x.place(x)?, plot.y.place(y)?);
    Some((
        field.left + x * (field.right - field.left),
        field.bottom - y * (field.bottom - field.top),
    ))
}

/// Writes each name beside its curve or point, clear of all curves and other names.
fn names(out: &mut String, plot: &Plot, field: &Rect, drawn: &[Vec<(f64, f64)>]) {
    let mut places = Field::new(*field, drawn);
    let mut named = Vec::new();
    for mark in &plot.marks {
        if let Some(at) = on_page(plot, field, mark.at) {
            dot(out, at, 3.6);
            places.keep_clear(Rect::around(at, 5.0, 5.0));
            named.push((vec![at], 0..drawn.len(), mark.label.as_str(), TYPE));
        }
    }
    for (index, curve) in plot.curves.iter().enumerate() {
        // A curve without a name belongs to the one before it.
        let more = plot.curves[index + 1..]
            .iter()
            .take_while(|next| next.label.is_empty())
            .count();
        let size = match curve.stroke {
            Stroke::Faint => TYPE - 2.0,
            _ => TYPE,
        };
        let own = index..index + 1 + more;
        named.push((drawn[index].clone(), own, curve.label.as_str(), size));
    }
    for (points, own, label, size) in named {
        if label.is_empty() {
            continue;
        }
        // Wide enough for an ordinary sans where the condensed one is not at hand.
        let width = label.chars().count() as f64 * size * 0.56;
        let Some(place) = places.place(&points, own, width, size) else {
            continue;
        };
        if let Some((from, to)) = place.leader {
            out.push_str("<g stroke=\"black\" stroke-width=\"0.7\">");
            line(out, from, to);
            out.push_str("</g>\n");
            dot(out, from, 2.0);
        }
        let middle = (place.rect.left + place.rect.right) / 2.0;
        let style = format!(
            " font-size=\"{size}\" stroke=\"white\" stroke-width=\"3\" paint-order=\"stroke\""
        );
        let baseline = place.rect.bottom - 0.25 * size;
        text(out, (middle, baseline), "middle", &style, label);
    }
}

fn dot(out: &mut String, at: (f64, f64), radius: f64) {
    out.push_str(&format!(
        "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{radius}\"/>\n",
        at.0, at.1
    ));
}

fn line(out: &mut String, from: (f64, f64), to: (f64, f64)) {
    out.push_str(&format!(
        "<line x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\"/>\n",
        from.0, from.1, to.0, to.1
    ));
}

fn text(out: &mut String, at: (f64, f64), anchor: &str, style: &str, words: &str) {
    out.push_str(&format!(
        "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\"{style}>{}</text>\n",
        at.0,
        at.1,
        escaped(&true_minus(words))
    ));
}

/// Keeps a text from being read as mark-up.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            control if control.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// A text in lines of at most about so many characters, broken at blanks, inside a word where
/// it must be.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let mut rest: Vec<char> = word.chars().collect();
        while !rest.is_empty() {
            let used = lines.last().map_or(0, |line| line.chars().count());
            let part: String = rest.drain(..rest.len().min(most)).collect();
            if used > 0 && used + 1 + part.chars().count() > most {
                lines.push(part);
            } else if let Some(line) = lines.last_mut() {
                if used > 0 {
                    line.push(' ');
                }
                line.push_str(&part);
            }
        }
    }
    lines
}
