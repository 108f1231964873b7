//! The numbers behind a picture: a row a point, and what programs read, in SI.

use serde::{Serialize, Serializer};
use serde_json::json;

use super::super::figure::number_cell;
use super::super::{Document, Sheet, Style};
use super::names::Names;
use crate::chart::picture::{Name, Picture, PictureSubject};
use crate::chart::plot::Plot;
use crate::service::facts::{Identity, PairEstimate};

/// A row a point: its curve's name and kind, and both numbers under their keys.
pub(super) fn sheet(answer: &Picture, style: &Style) -> Sheet {
    let names = Names { answer, style };
    let keys = [answer.across.key(), answer.up.key()];
    let row = |name: &str, line: &str, (x, y): (f64, f64)| {
        let cell = |value| number_cell(Some(value));
        let (x, y) = (cell(answer.across.si(x)), cell(answer.up.si(y)));
        vec![name.to_owned(), line.to_owned(), x, y]
    };
    let mut rows = Vec::new();
    let mut group = String::new();
    for curve in &answer.curves {
        match &curve.name {
            Name::None => {}
            Name::IsolineOf(name, ..) => group = format!("{name}, {}", names.text_of(&curve.name)),
            own => group = names.text_of(own),
        }
        let points = curve.points.iter();
        rows.extend(points.map(|at| row(&group, curve.part.name(), *at)));
    }
    let marks = answer.marks.iter();
    rows.extend(marks.map(|(name, at)| row(&names.text_of(name), "point", *at)));
    let [across, up] = keys;
    Sheet {
        heads: vec!["curve".into(), "line".into(), across, up],
        rows,
    }
}

// The JSON of a picture.

#[derive(Serialize)]
struct Axes {
    across: String,
    up: String,
}

#[derive(Serialize)]
struct Line {
    line: &'static str,
    /// What it stands for, where that is a number or a refrigerant.
    #[serde(skip_serializing_if = "Option::is_none")]
    refrigerant: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    points: Vec<[f64; 2]>,
}

#[derive(Serialize)]
struct Mark {
    point: &'static str,
    at: [f64; 2],
}

#[derive(Serialize)]
struct Lever {
    halfway: f64,
    liquid_fraction: f64,
    blend_fraction: f64,
    vapor_fraction: f64,
    vapor_share: f64,
}

#[derive(Serialize)]
#[allow(non_snake_case)] // the keys as programs read them
struct Approach<'a> {
    refrigerant: &'a str,
    least_K: f64,
    heat_share: f64,
}

#[derive(Serialize)]
struct Keys<'a> {
    picture: &'static str,
    refrigerants: Vec<&'a Identity>,
    axes: Axes,
    curves: Vec<Line>,
    marks: Vec<Mark>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    levers: Vec<Lever>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    approaches: Vec<Approach<'a>>,
    estimated_pairs: &'a [PairEstimate],
}

impl Serialize for Picture {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let si = |(x, y): &(f64, f64)| [self.across.si(*x), self.up.si(*y)];
        let (levers, approaches): (&[_], &[_]) = match &self.subject {
            PictureSubject::Lens { levers, .. } => (levers, &[]),
            PictureSubject::Coil { approaches, .. } => (&[], approaches),
            _ => (&[], &[]),
        };
        let mut group = None;
        let curves = self.curves.iter().map(|curve| {
            if curve.name != Name::None {
                group = refrigerant(&curve.name);
            }
            Line {
                line: curve.part.name(),
                refrigerant: group.clone(),
                value: value(&curve.name),
                points: curve.points.iter().map(si).collect(),
            }
        });
        let marks = self.marks.iter().map(|(name, at)| Mark {
            point: match name {
                Name::Azeotrope(..) => "azeotrope",
                Name::Point(_, part, _) => part.name(),
                Name::Share(..) => "tie_line",
                Name::Refrigerant(_) => "refrigerant",
                _ => "critical",
            },
            at: si(at),
        });
        let levers = levers.iter().map(|lever| Lever {
            halfway: self.up.si(lever.halfway),
            liquid_fraction: lever.liquid / 100.0,
            blend_fraction: lever.blend / 100.0,
            vapor_fraction: lever.vapor / 100.0,
            vapor_share: lever.share,
        });
        let approaches = approaches.iter().map(|one| Approach {
            refrigerant: &one.refrigerant,
            least_K: one.least.in_kelvin(),
            heat_share: one.share,
        });
        Keys {
            picture: self.kind.name(),
            refrigerants: self.facts.iter().map(|facts| &facts.identity).collect(),
            axes: Axes {
                across: self.across.key(),
                up: self.up.key(),
            },
            curves: curves.collect(),
            marks: marks.collect(),
            levers: levers.collect(),
            approaches: approaches.collect(),
            estimated_pairs: &self.estimates,
        }
        .serialize(serializer)
    }
}

fn refrigerant(name: &Name) -> Option<String> {
    match name {
        Name::Refrigerant(name)
        | Name::RefrigerantAt(name, _)
        | Name::IsolineOf(name, ..)
        | Name::Point(name, ..) => Some(name.clone()),
        _ => None,
    }
}

/// The number that a line is drawn for: Pa of a pressure, else in the picture's own unit.
fn value(name: &Name) -> Option<f64> {
    match name {
        Name::At(pressure) | Name::RefrigerantAt(_, pressure) => Some(pressure.in_pascal()),
        Name::AtTemperature(value)
        | Name::Difference(value)
        | Name::Isoline(_, value)
        | Name::IsolineOf(_, _, value) => Some(*value),
        _ => None,
    }
}

/// What a picture of another answer is drawn from.
pub(in crate::page) struct Behind<'a> {
    /// The keys of both axes, with their SI units.
    pub(in crate::page) keys: [&'a str; 2],
    /// A point of the axes in SI.
    pub(in crate::page) si: &'a dyn Fn((f64, f64)) -> [f64; 2],
    /// What each curve is of, and which line it is.
    pub(in crate::page) lines: &'a [(String, &'static str)],
}

impl Behind<'_> {
    /// Adds the points of a picture's curves to a document: a row each for a spreadsheet, and a
    /// field `picture` for programs.
    pub(in crate::page) fn add(&self, plot: &Plot, document: &mut Document) {
        let points = |points: &[(f64, f64)]| -> Vec<[f64; 2]> {
            points.iter().map(|at| (self.si)(*at)).collect()
        };
        let mut curves = Vec::new();
        let mut rows = Vec::new();
        let mut row = |name: &str, line: &str, [x, y]: [f64; 2]| {
            let cell = |value| number_cell(Some(value));
            rows.push(vec![name.to_owned(), line.to_owned(), cell(x), cell(y)]);
        };
        for (curve, (name, line)) in plot.curves.iter().zip(self.lines) {
            let points = points(&curve.points);
            points.iter().for_each(|at| row(name, line, *at));
            curves.push(json!({"curve": name, "line": line, "points": points}));
        }
        let mut marks = Vec::new();
        for mark in &plot.marks {
            let at = (self.si)(mark.at);
            row(&mark.label, "point", at);
            marks.push(json!({"point": mark.label, "at": at}));
        }
        let [across, up] = self.keys;
        let axes = json!({"across": across, "up": up});
        let whole = json!({"axes": axes, "curves": curves, "marks": marks});
        document.json.set("picture", whole);
        document.sheet = Sheet {
            heads: ["curve", "line", across, up].map(String::from).to_vec(),
            rows,
        };
    }
}
