//! Cycles drawn on pressure and enthalpy or on temperature and entropy.

use super::super::picture::{Behind, estimated, ink_of};
use super::super::words::cycle::*;
use super::super::{Document, Style};
use crate::chart::picture::cycle::{behind, legs};
use crate::chart::picture::{Isoline, Part, Plane, PlanePoint};
use crate::chart::plot::{Axis, Ink, Mark, Plot, PlotCurve, Stroke, Tick};
use crate::process::cycle::{CycleAnswer, Entry, Place};
use crate::refrigerant::Refrigerant;
use crate::service::facts::estimates;
use crate::units::Temperature;

/// What is drawn, in a style's units.
struct Drawing<'a> {
    plane: Plane,
    style: &'a Style,
    curves: Vec<PlotCurve>,
    marks: Vec<Mark>,
    /// What each curve is of, and which line it is.
    lines: Vec<(String, &'static str)>,
}

/// The picture of the cycles that were found, and for each of its curves what it is of and which line.
pub(in crate::page) fn plot<'a>(
    plane: Plane,
    entries: impl Iterator<Item = (&'a Entry, &'a Refrigerant)>,
    names: &str,
    style: &Style,
) -> (Plot, Vec<(String, &'static str)>) {
    let strokes = [Stroke::Solid, Stroke::Dashed, Stroke::Dotted];
    let entries: Vec<_> = entries.collect();
    let is_one = entries.len() == 1;
    let mut drawing = Drawing {
        plane,
        style,
        curves: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
    };
    let looks = strokes
        .into_iter()
        .cycle()
        .zip(Ink::ALL.iter().copied().cycle());
    for ((entry, refrigerant), look) in entries.iter().zip(looks) {
        if let Ok(found) = &entry.found {
            drawing.behind(refrigerant, found, is_one);
            let name = entry.identity.refrigerant.as_str();
            drawing.legs(refrigerant, found, (name, look));
            if is_one {
                drawing.points(found);
            }
        }
    }
    let (title, x, y) = drawing.frame();
    let lines = match (is_one, plane) {
        (false, _) => style.word(CYCLE_PICTURE_DOMES),
        (true, Plane::PressureEnthalpy) => {
            let unit = style.units.entropy.typed();
            style.say(CYCLE_PICTURE_LINES, &[("unit", unit)])
        }
        (true, Plane::TemperatureEntropy) => style.word(CYCLE_PICTURE_QUALITIES),
    };
    let mut notes = vec![lines];
    for (_, refrigerant) in &entries {
        for told in estimated(&estimates(refrigerant), style) {
            if !notes.contains(&told) {
                notes.push(told);
            }
        }
    }
    let plot = Plot {
        title: style.say(title, &[("refrigerants", names)]),
        x,
        y,
        curves: drawing.curves,
        marks: drawing.marks,
        notes,
    };
    (plot, drawing.lines)
}

/// Adds the numbers behind a picture of cycles to a document.
pub(in crate::page) fn numbers(
    plane: Plane,
    (plot, lines): (&Plot, &[(String, &'static str)]),
    document: &mut Document,
    style: &Style,
) {
    let units = &style.units;
    let (keys, si): (_, &dyn Fn((f64, f64)) -> [f64; 2]) = match plane {
        Plane::PressureEnthalpy => (["enthalpy_J_kg", "pressure_Pa"], &|(x, y)| {
            [
                x * units.enthalpy.joule_per_kg(),
                y * units.absolute.pascal(),
            ]
        }),
        Plane::TemperatureEntropy => (["entropy_J_kg_K", "temperature_K"], &|(x, y)| {
            let kelvin = units.temperature.write(y).in_kelvin();
            [x * units.entropy.joule_per_kg_k(), kelvin]
        }),
    };
    Behind { keys, si, lines }.add(plot, document);
}

impl Drawing<'_> {
    /// Where a state lies, in the style's units.
    fn on(&self, at: PlanePoint) -> (f64, f64) {
        let units = &self.style.units;
        let (x, y) = at.on(self.plane);
        match self.plane {
            Plane::PressureEnthalpy => (
                x / units.enthalpy.joule_per_kg(),
                y / units.absolute.pascal(),
            ),
            Plane::TemperatureEntropy => (
                x / units.entropy.joule_per_kg_k(),
                units.temperature.read(Temperature::kelvin(y)),
            ),
        }
    }

    fn curve(&mut self, points: Vec<PlanePoint>, label: &str, (stroke, ink): (Stroke, Ink)) {
        let points = points.into_iter().map(|at| self.on(at)).collect();
        self.curves.push(PlotCurve {
            label: label.to_owned(),
            points,
            stroke,
            ink,
        });
    }

    /// The dome, and where one cycle is drawn alone the lines of its plane.
    fn behind(&mut self, refrigerant: &Refrigerant, found: &CycleAnswer, is_one: bool) {
        let kinds: &[Isoline] = match (is_one, self.plane) {
            (false, _) => &[],
            (true, Plane::PressureEnthalpy) => {
                &[Isoline::Quality, Isoline::Temperature, Isoline::Entropy]
            }
            (true, Plane::TemperatureEntropy) => &[Isoline::Quality],
        };
        let wanted = (kinds, &self.style.units);
        let Some(behind) = behind(refrigerant, &found.points, self.plane, wanted) else {
            return;
        };
        let name = refrigerant.designation();
        for (kind, (tick, line)) in behind.lines {
            let label = self.label(kind, tick);
            self.curve(line, &label, (Stroke::Faint, ink_of(kind)));
            self.lines.push((format!("{name}, {label}"), kind.name()));
        }
        let stroke = if is_one {
            Stroke::Dashed
        } else {
            Stroke::Faint
        };
        for (line, part) in behind.outline.into_iter().zip([Part::Bubble, Part::Dew]) {
            self.curve(line, "", (stroke, Ink::Black));
            self.lines.push((name.to_owned(), part.name()));
        }
    }

    fn label(&self, kind: Isoline, tick: Tick) -> String {
        let style = self.style;
        let text = style.sign(tick.text);
        match kind {
            Isoline::Quality => style.say(CYCLE_QUALITY_LINE, &[("quality", &text)]),
            Isoline::Temperature => format!("{text} {}", style.units.temperature.symbol()),
            _ => style.say(CYCLE_ENTROPY_LINE, &[("entropy", &text)]),
        }
    }

    /// The legs of a cycle under one name.
    fn legs(
        &mut self,
        refrigerant: &Refrigerant,
        found: &CycleAnswer,
        (name, look): (&str, (Stroke, Ink)),
    ) {
        let mut label = name;
        for leg in legs(refrigerant, &found.points) {
            self.curve(leg, label, look);
            self.lines.push((name.to_owned(), "cycle"));
            label = "";
        }
    }

    /// Names at the states of a cycle, but for the ideal ones.
    fn points(&mut self, found: &CycleAnswer) {
        let is_real =
            |place: Place| !matches!(place, Place::IdealDischarge | Place::IdealHighDischarge);
        let real = found.points.iter().filter(|point| is_real(point.place));
        let marks = real.map(|point| Mark {
            label: point.place.name().to_owned(),
            at: self.on(PlanePoint::point(point)),
        });
        let marks: Vec<Mark> = marks.collect();
        self.marks.extend(marks);
    }

    /// Title and axes around all that is drawn.
    fn frame(&self) -> (super::super::words::Phrase, Axis, Axis) {
        let (style, units) = (self.style, &self.style.units);
        let all = || self.curves.iter().flat_map(|curve| &curve.points);
        let (xs, ys) = (all().map(|at| at.0), all().map(|at| at.1));
        match self.plane {
            Plane::PressureEnthalpy => {
                let x = style.say(CYCLE_AXIS_ENTHALPY, &[("unit", units.enthalpy.typed())]);
                let y = style.say(CYCLE_AXIS_PRESSURE, &[("unit", units.absolute.words())]);
                let (x, y) = (Axis::spanning(x, xs), Axis::logarithmic_around(y, ys));
                (CYCLE_PICTURE_PH, x, y)
            }
            Plane::TemperatureEntropy => {
                let x = style.say(CYCLE_AXIS_ENTROPY, &[("unit", units.entropy.typed())]);
                let y = [("unit", units.temperature.symbol())];
                let y = style.say(CYCLE_AXIS_TEMPERATURE, &y);
                (
                    CYCLE_PICTURE_TS,
                    Axis::spanning(x, xs),
                    Axis::spanning(y, ys),
                )
            }
        }
    }
}
