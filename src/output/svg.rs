//! A picture as SVG: black on white, each curve named beside it, with a title and a description
//! for those who do not see it.

use std::fmt::Write;

use super::Exporter;
use super::drawing::{Anchor, Drawing, LEFT, Point, TYPE, Text, WIDTH};
use super::minus::true_minus;
use crate::chart::plot::Plot;
use crate::page::words::Words;
use crate::page::{Block, Document};
use crate::{Error, Result};

pub(super) struct Svg;

impl Exporter for Svg {
    fn export(&self, answer: &Document) -> Result<Vec<u8>> {
        let plot = answer.blocks.iter().find_map(|block| match block {
            Block::Picture(plot) => Some(plot),
            _ => None,
        });
        let Some(plot) = plot else {
            return Err(Error::File {
                file: "SVG".into(),
                problem: "this result cannot be drawn as SVG".into(),
                hint: "choose another format; charts have pictures".into(),
            });
        };
        // A picture alone has its hazards below it.
        let mut plot = plot.clone();
        plot.notes.extend(answer.cautions.iter().cloned());
        Ok(with_words(&plot, &answer.about().words).into_bytes())
    }
}

/// Height of a line below the field, in px.
const LINE: f64 = 18.0;

/// The picture as one SVG document.
///
/// # Example
/// ```
/// use zeotrope::chart::plot::{Axis, PlotCurve, Ink, Plot, Stroke};
/// let plot = Plot {
///     title: "A line".into(),
///     x: Axis::spanning("°C", [-40.0, 60.0]),
///     y: Axis::logarithmic_around("bara", [1.0, 20.0]),
///     curves: vec![PlotCurve {
///         label: "R-1".into(),
///         points: vec![(-40.0, 1.0), (60.0, 20.0)],
///         stroke: Stroke::Solid,
///         ink: Ink::Black,
///     }],
///     marks: Vec::new(),
///     notes: Vec::new(),
/// };
/// let svg = zeotrope::output::svg::draw(&plot);
/// assert!(svg.starts_with("<svg ") && svg.contains(">\u{2212}40</text>"));
/// ```
pub fn draw(plot: &Plot) -> String {
    with_words(plot, &Words::default())
}

fn with_words(plot: &Plot, words: &Words) -> String {
    let title_lines = wrapped(&plot.title, 62);
    let drawing = Drawing::new(plot, words, 20.0 + title_lines.len() as f64 * 22.0);
    let notes: Vec<String> = drawing
        .notes
        .iter()
        .flat_map(|note| wrapped(note, 92))
        .collect();
    let height = drawing.height() + notes.len() as f64 * LINE + 12.0;
    let mut out = head(plot, &drawing, height);
    let line_of = |y: f64, size: f64, words: &str| Text {
        at: (LEFT, y),
        anchor: Anchor::Start,
        size,
        turned: false,
        words: words.to_owned(),
    };
    for (index, line) in title_lines.iter().enumerate() {
        let title = line_of(26.0 + index as f64 * 22.0, 17.0, line);
        text(&mut out, &title, " font-weight=\"bold\"");
    }
    body(&mut out, &drawing);
    for (index, line) in notes.iter().enumerate() {
        let y = drawing.height() + (index as f64 + 0.6) * LINE;
        text(&mut out, &line_of(y, 13.0, line), "");
    }
    out.push_str("</svg>\n");
    out
}

/// The picture without its title and notes, for a page that says both in its own type.
pub(super) fn bare(plot: &Plot, drawing: &Drawing) -> String {
    let mut out = head(plot, drawing, drawing.height());
    body(&mut out, drawing);
    out.push_str("</svg>\n");
    out
}

fn head(plot: &Plot, drawing: &Drawing, height: f64) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" \
         width=\"{WIDTH}\" height=\"{height}\" role=\"img\" \
         font-family=\"'Roboto Condensed','Liberation Sans Narrow',Arial,sans-serif\" \
         font-size=\"{TYPE}\" fill=\"black\">\n<title>{}</title>\n<desc>{}</desc>\n\
         <rect width=\"{WIDTH}\" height=\"{height}\" fill=\"white\"/>\n",
        escaped(&plot.title),
        escaped(&drawing.description),
    )
}

fn body(out: &mut String, drawing: &Drawing) {
    out.push_str("<g stroke=\"#c8c8c8\" stroke-width=\"0.7\">\n");
    for ends in &drawing.grid {
        line(out, *ends);
    }
    out.push_str("</g>\n");
    for one in &drawing.texts {
        text(out, one, "");
    }
    let field = &drawing.field;
    let frame = format!(
        "x=\"{:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\"",
        field.left,
        field.top,
        field.right - field.left,
        field.bottom - field.top
    );
    out.push_str(&format!(
        "<rect {frame} fill=\"none\" stroke=\"black\"/>\n<clipPath id=\"field\"><rect \
         {frame}/></clipPath>\n<g fill=\"none\" stroke=\"black\" stroke-linejoin=\"round\" \
         clip-path=\"url(#field)\">\n"
    ));
    for curve in &drawing.curves {
        let mut style = format!("stroke-width=\"{}\"", curve.width);
        let [red, green, blue] = curve.color;
        if curve.color != [0; 3] {
            style.push_str(&format!(" stroke=\"#{red:02x}{green:02x}{blue:02x}\""));
        }
        if !curve.dashes.is_empty() {
            let dashes: Vec<String> = curve.dashes.iter().map(f64::to_string).collect();
            style.push_str(&format!(" stroke-dasharray=\"{}\"", dashes.join(" ")));
        }
        out.push_str(&format!("<polyline {style} points=\""));
        for (place, (x, y)) in curve.points.iter().enumerate() {
            out.push_str(if place > 0 { " " } else { "" });
            hundredths(out, *x);
            out.push(',');
            hundredths(out, *y);
        }
        out.push_str("\"/>\n");
    }
    out.push_str("</g>\n");
    if !drawing.leaders.is_empty() {
        out.push_str("<g stroke=\"black\" stroke-width=\"0.7\">\n");
        for ends in &drawing.leaders {
            line(out, *ends);
        }
        out.push_str("</g>\n");
    }
    for ((x, y), radius) in &drawing.dots {
        out.push_str(&format!(
            "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{radius}\"/>\n"
        ));
    }
    for name in &drawing.names {
        let style = " stroke=\"white\" stroke-width=\"3\" paint-order=\"stroke\"";
        text(out, name, style);
    }
}

/// A length with two decimals, as `{:.2}` writes it, and quicker: a curve has hundreds.
fn hundredths(out: &mut String, length: f64) {
    let scaled = length * 100.0;
    let nearest = scaled.round();
    // next to a half the product's own rounding could decide
    let is_half = ((scaled - nearest).abs() - 0.5).abs() < 1e-3;
    let is_plain = length.is_sign_positive() && scaled < 1e9 && !is_half;
    let written = match is_plain {
        true => {
            let count = nearest as u64;
            write!(out, "{}.{:02}", count / 100, count % 100)
        }
        false => write!(out, "{length:.2}"),
    };
    debug_assert!(written.is_ok(), "a text takes all that is written");
}

fn line(out: &mut String, (from, to): (Point, Point)) {
    out.push_str(&format!(
        "<line x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\"/>\n",
        from.0, from.1, to.0, to.1
    ));
}

fn text(out: &mut String, text: &Text, style: &str) {
    let (x, y) = text.at;
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let turned = if text.turned {
        format!(" transform=\"rotate(-90 {x} {y:.1})\"")
    } else {
        String::new()
    };
    out.push_str(&format!(
        "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" font-size=\"{}\"{style}{turned}>{}</text>\n",
        text.size,
        escaped(&true_minus(&text.words))
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

#[cfg(test)]
mod tests {
    use super::hundredths;

    /// Also at and next to halves of the last decimal, below nothing, and where there is no number.
    #[test]
    fn two_decimals_are_those_of_the_format() {
        let grid = (0..40_000).map(|k| f64::from(k) * 0.005);
        let beside = grid.flat_map(|at| [at.next_down(), at, at.next_up(), at + 1e-7, -at]);
        let odd = [
            -0.0,
            1e7,
            1e8 / 3.0,
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
        ];
        for length in beside.chain(odd) {
            let mut out = String::new();
            hundredths(&mut out, length);
            assert_eq!(out, format!("{length:.2}"));
        }
    }
}
