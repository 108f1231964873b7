//! The pictures that go with a chart, with their names.

use super::print::{Print, signature};
use super::warning::told;
use super::words::charts::*;
use super::words::refrigerants::REFERENCE_STATE;
use super::{Block, Document, Style, cautions, face, parts};
use crate::Warning;
use crate::chart::picture::{Name, Picture, PictureSubject};
use crate::chart::plot::{Mark, Plot, PlotCurve};
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, short};

/// The page of a picture of some refrigerants. Alone, as SVG, it has the own words below it.
pub fn picture(
    answer: &Picture,
    refrigerants: &[Refrigerant],
    print: &Print,
    is_alone: bool,
    warnings: Vec<Warning>,
    style: &Style,
) -> Document {
    let refrigerants: Vec<&Refrigerant> = refrigerants.iter().collect();
    let mut document = Document {
        warnings: told(&warnings, style),
        cautions: cautions(&refrigerants, None, style),
        ..Document::default()
    };
    let mut plot = plot(answer, style);
    let usual = plot.title.clone();
    if let Some(title) = &print.title {
        plot.title.clone_from(title);
    }
    if is_alone {
        let own = print.notes.iter().chain(&print.shop).cloned();
        plot.notes.splice(0..0, own);
        document.blocks.push(Block::Picture(plot));
    } else {
        print.head(&mut document);
        let each: Vec<_> = refrigerants.iter().copied().zip(&answer.facts).collect();
        let unit = match &answer.subject {
            PictureSubject::Curves { .. } | PictureSubject::Dome { .. } => {
                answer.pressure_unit.absolute()
            }
            _ => answer.pressure_unit,
        };
        let pressures = (unit, &answer.site);
        let shown = (usual, units(answer));
        let face = face::of_picture(&each, shown, pressures, print, style);
        document.blocks.push(Block::Face(Box::new(face)));
        document.blocks.push(Block::Picture(plot));
        document.lines(print.notes.clone());
        document.hazards();
    }
    document.blocks.push(print.about(style));
    document
}

/// The unit of a picture's figures, and that of what they are by: axes have absolute pressures,
/// other pressures stand in the unit that they were given in.
fn units(answer: &Picture) -> [&str; 2] {
    let absolute = answer.pressure_unit.absolute().typed();
    let temperature = answer.temperature_unit.symbol();
    match &answer.subject {
        PictureSubject::Curves { .. } | PictureSubject::Dome { .. } => [absolute, temperature],
        PictureSubject::Lens { .. }
        | PictureSubject::Triangle { .. }
        | PictureSubject::Coil { .. } => [temperature, answer.pressure_unit.typed()],
    }
}

/// A picture with its words.
fn plot(answer: &Picture, style: &Style) -> Plot {
    let at = |pressure: Pressure| {
        let unit = answer.pressure_unit;
        let value = style.sign(short(unit.read(pressure, &answer.site), 4));
        format!("{value} {}", unit.typed())
    };
    let name = |name: &Name| match name {
        Name::None => String::new(),
        Name::Refrigerant(name) => name.clone(),
        Name::At(pressure) => at(*pressure),
        Name::RefrigerantAt(name, pressure) => {
            let blanks = [("refrigerant", name.as_str()), ("pressure", &at(*pressure))];
            style.say(PICTURE_NAME_AT, &blanks)
        }
        Name::Difference(value) => {
            let unit = answer.temperature_unit.difference_symbol();
            format!("{} {unit}", style.sign(short(*value, 4)))
        }
        Name::Isotherm(value) => {
            let unit = answer.temperature_unit.symbol();
            format!("{} {unit}", style.sign(short(*value, 4)))
        }
        Name::Bubble => style.word(COLUMN_BUBBLE),
        Name::Dew => style.word(COLUMN_DEW),
        Name::CriticalPoint => style.word(PICTURE_CRITICAL),
    };
    let (title, across, up, mut notes) = subject(answer, at, style);
    let classes = answer.facts.iter().map(|facts| {
        let class = parts::class(facts, style);
        format!("{} {class}", facts.identity.refrigerant)
    });
    let classes = classes.collect::<Vec<_>>().join(", ");
    notes.push(style.say(PICTURE_CLASS, &[("classes", &classes)]));
    notes.push(format!("{}.", signature(style)));
    let (mut x, mut y) = (answer.x.clone(), answer.y.clone());
    (x.label, y.label) = (across, up);
    let curves = answer.curves.iter().map(|curve| PlotCurve {
        label: name(&curve.name),
        points: curve.points.clone(),
        stroke: curve.stroke,
    });
    let marks = answer.marks.iter().map(|(mark, at)| Mark {
        label: name(mark),
        at: *at,
    });
    Plot {
        title,
        x,
        y,
        curves: curves.collect(),
        marks: marks.collect(),
        notes,
    }
}

/// The title, the labels of both axes and the notes of a picture's subject; `at` words a pressure.
fn subject(
    answer: &Picture,
    at: impl Fn(Pressure) -> String,
    style: &Style,
) -> (String, String, String, Vec<String>) {
    let temperature = style.say(
        AXIS_TEMPERATURE,
        &[("unit", answer.temperature_unit.symbol())],
    );
    let absolute = answer.pressure_unit.absolute().typed();
    let pressure = style.say(AXIS_PRESSURE, &[("unit", absolute)]);
    match &answer.subject {
        PictureSubject::Curves { has_blend } => {
            let strokes = has_blend.then(|| style.word(PICTURE_CURVES_STROKES));
            let notes = strokes.into_iter().chain([style.word(PICTURE_ABSOLUTE)]);
            let title = style.word(PICTURE_CURVES);
            (title, temperature, pressure, notes.collect())
        }
        PictureSubject::Lens { first, second } => {
            let blanks = [("first", first.as_str()), ("second", second)];
            let notes = [PICTURE_LENS_STROKES, PICTURE_TIE_LINE, PICTURE_LENS_CLASS];
            (
                style.say(PICTURE_LENS, &blanks),
                style.say(PICTURE_LENS_AXIS, &blanks),
                temperature,
                notes.map(|note| style.word(note)).to_vec(),
            )
        }
        PictureSubject::Triangle {
            first,
            second,
            third,
            pressure,
        } => {
            let at = at(*pressure);
            let blanks = [
                ("first", first.as_str()),
                ("second", second),
                ("third", third),
                ("pressure", &at),
            ];
            let axis = |one: &str| style.say(PICTURE_LENS_AXIS, &[("first", one)]);
            let notes = [PICTURE_TRIANGLE_LINES, PICTURE_TIE_LINE, PICTURE_LENS_CLASS];
            (
                style.say(PICTURE_TRIANGLE, &blanks),
                axis(first),
                axis(second),
                notes.map(|note| style.say(note, &blanks)).to_vec(),
            )
        }
        PictureSubject::Coil { pressure } => {
            let title = match pressure {
                Some(pressure) => style.say(PICTURE_COIL_AT, &[("pressure", &at(*pressure))]),
                None => style.word(PICTURE_COIL),
            };
            let notes = vec![style.word(PICTURE_COIL_NOTE)];
            (title, style.word(PICTURE_COIL_AXIS), temperature, notes)
        }
        PictureSubject::Dome {
            refrigerant,
            unit,
            zero,
        } => {
            let state = parts::reference_state(*zero, style);
            let notes = vec![
                style.word(PICTURE_DOME_STROKES),
                style.word(PICTURE_ABSOLUTE),
                style.say(REFERENCE_STATE, &[("state", &state)]),
            ];
            let title = style.say(PICTURE_DOME, &[("refrigerant", refrigerant)]);
            let across = style.say(AXIS_ENTHALPY, &[("unit", unit.typed())]);
            (title, across, pressure, notes)
        }
    }
}
