//! A picture as lines, dots and texts on a page, before a format writes it. Lengths in px, y grows
//! downwards.

use super::labels::{Field, Named, Place, Rect};
use crate::chart::plot::{Ink, Plot, PlotCurve, Stroke};
use crate::page::words::{
    Words,
    pictures::{PICTURE_DESCRIPTION, PICTURE_UNNAMED},
};

/// A place on the page.
pub(super) type Point = (f64, f64);

/// Size of the field that the curves stand in, and of what stands around it.
pub(super) const WIDTH: f64 = 760.0;
pub(super) const LEFT: f64 = 70.0;
pub(super) const BOTTOM: f64 = 52.0;
const RIGHT: f64 = 24.0;
const FIELD_HEIGHT: f64 = 440.0;
/// Size of type.
pub(super) const TYPE: f64 = 14.0;
/// The smallest: beside faint curves.
pub(super) const SMALLEST: f64 = TYPE - 2.0;

/// Which part of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// A text on one line.
#[derive(Debug, Clone)]
pub(super) struct Text {
    /// Its anchor, on the baseline.
    pub(super) at: Point,
    pub(super) anchor: Anchor,
    pub(super) size: f64,
    /// Whether it reads upwards.
    pub(super) turned: bool,
    pub(super) words: String,
}

/// A curve with the look of its stroke.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) points: Vec<Point>,
    pub(super) width: f64,
    /// Lengths of dashes and gaps; a full line where empty.
    pub(super) dashes: &'static [f64],
    /// Red, green, blue.
    pub(super) color: [u8; 3],
}

/// A picture on a page, in the order in which it is drawn.
#[derive(Debug, Clone)]
pub(super) struct Drawing {
    /// The frame; curves end there.
    pub(super) field: Rect,
    /// Lines across the field, a thin grey one at each tick.
    pub(super) grid: Vec<(Point, Point)>,
    /// Figures at the ticks and names of the axes.
    pub(super) texts: Vec<Text>,
    pub(super) curves: Vec<Line>,
    /// Thin lines from names to what they name.
    pub(super) leaders: Vec<(Point, Point)>,
    /// Middles and radii.
    pub(super) dots: Vec<(Point, f64)>,
    /// Names beside curves and dots, on white.
    pub(super) names: Vec<Text>,
    /// What is said below.
    pub(super) notes: Vec<String>,
    /// What it shows, in words for those who do not see it.
    pub(super) description: String,
}

impl Drawing {
    /// A picture whose field begins so far below the top.
    pub(super) fn new(plot: &Plot, words: &Words, top: f64) -> Self {
        Self::with_field(plot, words, top, FIELD_HEIGHT)
    }

    /// A picture whose field begins so far below the top and is so high.
    pub(super) fn with_field(plot: &Plot, words: &Words, top: f64, high: f64) -> Self {
        let field = Rect {
            left: LEFT,
            top,
            right: WIDTH - RIGHT,
            bottom: top + high,
        };
        let mut drawing = Self {
            field,
            grid: Vec::new(),
            texts: Vec::new(),
            curves: Vec::new(),
            leaders: Vec::new(),
            dots: Vec::new(),
            names: Vec::new(),
            notes: plot.notes.clone(),
            description: String::new(),
        };
        drawing.axes(plot);
        for curve in &plot.curves {
            drawing.curve(plot, curve);
        }
        drawing.names(plot, words);
        drawing.description = description(plot, &drawing.notes, words);
        drawing
    }

    /// How far it reaches down, notes left out.
    pub(super) fn height(&self) -> f64 {
        self.field.bottom + BOTTOM
    }

    fn axes(&mut self, plot: &Plot) {
        let field = self.field;
        let mut text = |at: Point, anchor: Anchor, turned: bool, words: &str| {
            self.texts.push(Text {
                at,
                anchor,
                size: TYPE,
                turned,
                words: words.to_owned(),
            });
        };
        for tick in plot.x.ticks(10) {
            let Some(share) = plot.x.share_along(tick.at) else {
                continue;
            };
            let x = field.left + share * (field.right - field.left);
            self.grid.push(((x, field.top), (x, field.bottom)));
            text((x, field.bottom + 18.0), Anchor::Middle, false, &tick.text);
        }
        for tick in plot.y.ticks(12) {
            let Some(share) = plot.y.share_along(tick.at) else {
                continue;
            };
            let y = field.bottom - share * (field.bottom - field.top);
            self.grid.push(((field.left, y), (field.right, y)));
            text((field.left - 7.0, y + 4.5), Anchor::End, false, &tick.text);
        }
        let across = (field.left + field.right) / 2.0;
        let below = (across, field.bottom + 40.0);
        text(below, Anchor::Middle, false, &plot.x.label);
        let beside = (18.0, (field.top + field.bottom) / 2.0);
        text(beside, Anchor::Middle, true, &plot.y.label);
    }

    fn curve(&mut self, plot: &Plot, curve: &PlotCurve) {
        let (width, dashes): (f64, &[f64]) = match curve.stroke {
            Stroke::Solid => (1.7, &[]),
            Stroke::Dashed => (1.7, &[7.0, 4.0]),
            Stroke::Dotted => (1.7, &[1.6, 3.2]),
            Stroke::Faint => (0.8, &[]),
        };
        let color = match (curve.stroke, curve.ink) {
            (Stroke::Faint, Ink::Black) => [0x70; 3],
            (_, ink) => ink.rgb(),
        };
        let points = curve.points.iter();
        self.curves.push(Line {
            points: points
                .filter_map(|at| self.point_on_paper(plot, *at))
                .collect(),
            width,
            dashes,
            color,
        });
    }

    fn point_on_paper(&self, plot: &Plot, (x, y): Point) -> Option<Point> {
        let (x, y) = (plot.x.share_along(x)?, plot.y.share_along(y)?);
        let field = &self.field;
        Some((
            field.left + x * (field.right - field.left),
            field.bottom - y * (field.bottom - field.top),
        ))
    }

    /// Writes each name beside its curve or point, clear of all curves and other names. Where some have
    /// no room it is tried again with these first and with more room between points that crowd; those
    /// that have none at last stand in a note.
    fn names(&mut self, plot: &Plot, words: &Words) {
        let drawn: Vec<Vec<Point>> = self.curves.iter().map(|line| line.points.clone()).collect();
        let dots: Vec<Point> = plot
            .marks
            .iter()
            .filter_map(|mark| self.point_on_paper(plot, mark.at))
            .collect();
        self.dots.extend(dots.iter().map(|at| (*at, 3.6)));
        let named = self.named(plot, &drawn, &dots);
        let mut order: Vec<usize> = (0..named.len()).collect();
        let mut best: Option<Vec<Option<Place>>> = None;
        let count = |places: &[Option<Place>]| places.iter().flatten().count();
        for least in SPREADS {
            let mut field = Field::new(self.field, &drawn, &dots);
            let mut places: Vec<Option<Place>> = named.iter().map(|_| None).collect();
            for index in &order {
                places[*index] = field.place_label(&named[*index], least);
            }
            order.sort_by_key(|index| places[*index].is_some());
            let is_whole = count(&places) == named.len();
            if best
                .as_ref()
                .is_none_or(|best| count(best) < count(&places))
            {
                best = Some(places);
            }
            if is_whole {
                break;
            }
        }
        let mut left_out = Vec::new();
        for (one, place) in named.iter().zip(best.into_iter().flatten()) {
            let Some(place) = place else {
                left_out.push(one.label);
                continue;
            };
            if let Some((from, to)) = place.leader {
                self.leaders.push((from, to));
                self.dots.push((from, 2.0));
            }
            let middle = (place.rect.left + place.rect.right) / 2.0;
            self.names.push(Text {
                at: (middle, place.rect.bottom - 0.25 * one.size.1),
                anchor: Anchor::Middle,
                size: one.size.1,
                turned: false,
                words: one.label.to_owned(),
            });
        }
        if !left_out.is_empty() {
            let names = left_out.join(", ");
            self.notes
                .insert(0, words.fill(PICTURE_UNNAMED, &[("names", &names)]));
        }
    }

    /// What has a name: points, then curves.
    fn named<'a>(&self, plot: &'a Plot, drawn: &[Vec<Point>], dots: &[Point]) -> Vec<Named<'a>> {
        let mut named = Vec::new();
        let mut add = |points: Vec<Point>, own, label: &'a str, size: f64| {
            if label.is_empty() {
                return;
            }
            let is_near = |other: &Point| {
                let far = |at: &Point| (at.0 - other.0).hypot(at.1 - other.1) > CROWD;
                !points.iter().any(far)
            };
            named.push(Named {
                // Wide enough for an ordinary sans where the condensed one is not at hand.
                size: (label.chars().count() as f64 * size * 0.56, size),
                is_on: size == SMALLEST && points.len() > 1,
                is_crowded: dots.iter().filter(|dot| is_near(dot)).count() > 1,
                points,
                own,
                label,
            });
        };
        for mark in &plot.marks {
            if let Some(at) = self.point_on_paper(plot, mark.at) {
                add(vec![at], 0..drawn.len(), &mark.label, TYPE);
            }
        }
        for (index, curve) in plot.curves.iter().enumerate() {
            // A curve without a name belongs to the one before it.
            let more = plot.curves[index + 1..]
                .iter()
                .take_while(|next| next.label.is_empty())
                .count();
            let size = match curve.stroke {
                Stroke::Faint => SMALLEST,
                _ => TYPE,
            };
            let own = index..index + 1 + more;
            add(drawn[index].clone(), own, &curve.label, size);
        }
        named
    }
}

/// How near other points crowd a name, px; how far off names of crowded points are tried at the
/// least, one try after the other.
const CROWD: f64 = 40.0;
const SPREADS: [f64; 6] = [0.0, 0.0, 16.0, 34.0, 66.0, 0.0];

fn description(plot: &Plot, notes: &[String], words: &Words) -> String {
    let names: Vec<&str> = plot
        .curves
        .iter()
        .map(|curve| curve.label.as_str())
        .filter(|label| !label.is_empty())
        .collect();
    let (names, notes) = (names.join(", "), notes.join(" "));
    let blanks = [
        ("vertical", plot.y.label.as_str()),
        ("horizontal", &plot.x.label),
        ("curves", &names),
        ("notes", &notes),
    ];
    words.fill(PICTURE_DESCRIPTION, &blanks)
}
