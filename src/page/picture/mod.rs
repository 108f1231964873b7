//! The pictures that go with a chart, with their names.

mod names;
mod numbers;
mod subject;

use super::print::{Print, signature};
use super::warning::told;
use super::words::charts::CHART_KEY;
use super::words::pictures::*;
use super::{Block, Document, Style, cautions, face, parts};
use crate::Warning;
use crate::chart::picture::{AxisQuantity, Name, Part, Picture, Trace};
use crate::chart::plot::{Ink, Mark, Plot, PlotCurve, Stroke};
use crate::refrigerant::Refrigerant;
use crate::service::facts::PairEstimate;
use crate::units::PressureUnit;
use names::Names;
pub(super) use names::ink_of;
pub(super) use numbers::Behind;

/// The page of a picture of some refrigerants. Alone, as SVG, it has the own words below it; with
/// blanks, its axes alone stand first, and the whole picture on a page behind them.
pub fn picture(
    answer: &Picture,
    refrigerants: &[Refrigerant],
    print: &Print,
    is_alone: bool,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let refrigerants: Vec<&Refrigerant> = refrigerants.iter().collect();
    let mut document = Document::new(
        answer,
        told(&warnings, style),
        cautions(&refrigerants, None, style),
    );
    document.sheet = numbers::sheet(answer, style);
    let mut plot = plot(answer, style);
    let usual = plot.title.clone();
    if let Some(title) = &print.title {
        plot.title.clone_from(title);
    }
    let first = match print.blank {
        true => blank(&plot, style),
        false => plot.clone(),
    };
    if is_alone {
        let own = print.notes.iter().chain(&print.shop).cloned();
        let mut first = first;
        first.notes.splice(0..0, own);
        document.blocks.push(Block::Picture(first));
    } else {
        print.head(&mut document);
        let each: Vec<_> = refrigerants.iter().copied().zip(&answer.facts).collect();
        let (units, unit) = units(answer);
        let face = face::of_picture(&each, (usual, units), (unit, &answer.site), print, style);
        document.blocks.push(Block::Face(Box::new(face)));
        document.blocks.push(Block::Picture(first));
        document.lines(print.notes.clone());
        document.hazards();
        if print.blank {
            // On paper the key has a page of its own, so that it can be kept back.
            document.blocks.extend(print.form.map(Block::Paper));
            document.title(style.word(CHART_KEY));
            document.blocks.push(Block::Picture(plot));
        }
    }
    document.blocks.push(print.about(style));
    document
}

/// The unit of a picture's figures and that of what they are by, and the unit of its pressures: axes
/// have absolute ones, other pressures stand in the unit that they were given in.
fn units(answer: &Picture) -> ([&str; 2], PressureUnit) {
    let temperature = answer.temperature_unit.symbol();
    let is_axis = |axis: &AxisQuantity| matches!(axis, AxisQuantity::Pressure(_));
    if is_axis(&answer.up) || is_axis(&answer.across) {
        let absolute = answer.pressure_unit.absolute();
        ([absolute.typed(), temperature], absolute)
    } else {
        let unit = answer.pressure_unit;
        ([temperature, unit.typed()], unit)
    }
}

/// The axes of a picture alone, to draw on.
pub(super) fn blank(plot: &Plot, style: &Style) -> Plot {
    Plot {
        curves: Vec::new(),
        marks: Vec::new(),
        notes: vec![style.word(PICTURE_BLANK)],
        ..plot.clone()
    }
}

/// A picture with its words.
pub(super) fn plot(answer: &Picture, style: &Style) -> Plot {
    let names = Names { answer, style };
    let mut said = subject::said(&names);
    let notes = &mut said.notes;
    notes.extend(estimated(&answer.estimates, style));
    let classes = answer.facts.iter().map(|facts| {
        let class = parts::class(facts, style);
        format!("{} {class}", facts.identity.refrigerant)
    });
    let classes = classes.collect::<Vec<_>>().join(", ");
    notes.push(style.say(PICTURE_CLASS, &[("classes", &classes)]));
    notes.push(format!("{}.", signature(style)));
    let (mut x, mut y) = (answer.x.clone(), answer.y.clone());
    (x.label, y.label) = (said.across, said.up);
    let marks = answer.marks.iter().map(|(mark, at)| Mark {
        label: names.text_of(mark),
        at: *at,
    });
    Plot {
        title: said.title,
        x,
        y,
        marks: marks.collect(),
        curves: curves(answer, &names),
        notes: said.notes,
    }
}

/// Each estimated pair with how far off it may be.
pub(super) fn estimated(estimates: &[PairEstimate], style: &Style) -> Vec<String> {
    let told = estimates.iter().map(|one| {
        let rms = one.rms.map(|kelvin| style.degrees(kelvin, 1));
        let blanks = [
            ("first", one.first.as_str()),
            ("second", &one.second),
            ("rms", rms.as_deref().unwrap_or_default()),
        ];
        match rms.is_some() {
            true => style.say(PICTURE_ESTIMATED_MEASURED, &blanks),
            false => style.say(PICTURE_ESTIMATED, &blanks[..2]),
        }
    });
    told.collect()
}

/// The curves with their names and colors: one color a group of lines where there are several, else
/// one a line.
fn curves(answer: &Picture, names: &Names<'_>) -> Vec<PlotCurve> {
    let begins = |curve: &&Trace| curve.stroke != Stroke::Faint && is_group(curve);
    let several = answer.curves.iter().filter(begins).count() > 1;
    let mut group = 0;
    let mut seen = false;
    let each = answer.curves.iter().map(|curve| {
        if begins(&curve) {
            group += usize::from(seen);
            seen = true;
        }
        let ink = match (curve.part, several) {
            (Part::Isoline(_), true) => Ink::ALL[group % Ink::ALL.len()],
            (Part::Isoline(kind), false) => names::ink_of(kind),
            (Part::EqualGlide, _) => Ink::Blue,
            _ if curve.stroke == Stroke::Faint => Ink::Black,
            (Part::Edge, _) => Ink::Black,
            (_, true) => Ink::ALL[group % Ink::ALL.len()],
            (Part::Bubble, false) => Ink::Blue,
            (Part::Dew, false) => Ink::Red,
            _ => Ink::Black,
        };
        PlotCurve {
            label: names.text_of(&curve.name),
            points: curve.points.clone(),
            stroke: curve.stroke,
            ink,
        }
    });
    each.collect()
}

/// Whether a curve begins a group: it has a name that is not that of one of two lines.
const fn is_group(curve: &Trace) -> bool {
    !matches!(curve.name, Name::None | Name::Bubble | Name::Dew)
}
