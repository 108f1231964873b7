//! A loss drawn: composition or lines against the share lost, and its path among compositions.

use super::{names, title};
use crate::Warning;
use crate::chart::plot::{Axis, Ink, Mark, Plot, PlotCurve, Scale, Stroke};
use crate::error::{Blank, Error, RangeUnit, Reason, Result};
use crate::page::picture::Behind;
use crate::page::print::signature;
use crate::page::warning::told;
use crate::page::words::Phrase;
use crate::page::words::charts::{COLUMN_BUBBLE, COLUMN_DEW};
use crate::page::words::pictures::AXIS_PRESSURE;
use crate::page::words::shift::*;
use crate::page::{Block, Document, Form, Style, cautions};
use crate::process::shift::{Row, Shift, lens};
use crate::refrigerant::Refrigerant;
use crate::service::facts::estimates;
use crate::service::hazard::hazards::Work;
use crate::units::Pressure;

/// What of a loss is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShiftPicture {
    /// Composition of what is left and of what leaves against the share lost.
    Composition,
    /// Bubble and dew pressure of what is left against the share lost.
    Lines,
    /// The way among compositions: in the lens of two components, in the triangle of three.
    Path,
}

/// A picture of a loss with many rows; `marked` are the shares lost that are named on a path.
///
/// # Errors
/// [`Error::NoAnswer`] for a path of more than three components.
pub fn picture(
    (answer, kind): (&Shift, ShiftPicture),
    listed: &Refrigerant,
    marked: &[f64],
    (work, form): (Work, Option<Form>),
    warnings: &[Warning],
    style: &Style,
) -> Result<Document> {
    let drawn = Drawn {
        answer,
        marked,
        style,
    };
    let mut plot = match (kind, answer.identity.composition.len()) {
        (ShiftPicture::Composition, _) => drawn.composition(),
        (ShiftPicture::Lines, _) => drawn.lines(),
        (ShiftPicture::Path, 2) => drawn.in_lens(listed),
        (ShiftPicture::Path, 3) => drawn.in_triangle(),
        (ShiftPicture::Path, count) => {
            return Err(Error::NoAnswer {
                reason: Reason::with(
                    SHIFT_PATH_NOT_DRAWN,
                    "count",
                    Blank::Quantity(count as f64, RangeUnit::None),
                ),
                hint: "ask for the composition instead, or about two or three components".into(),
            });
        }
    };
    plot.title = title(answer, work, style);
    if answer.filled_volume_fraction.is_none() {
        plot.notes.push(style.word(SHIFT_PICTURE_NO_SPACE));
    }
    let estimated = crate::page::picture::estimated(&estimates(listed), style);
    plot.notes.extend(estimated);
    plot.notes.push(format!("{}.", signature(style)));
    let mut document = Document::new(
        answer,
        told(warnings, style),
        cautions(&[listed], Some(work), style),
    );
    document.blocks.extend(form.map(Block::Paper));
    drawn.numbers(kind, &plot, &mut document);
    document.blocks.push(Block::Picture(plot));
    document.hazards();
    Ok(document)
}

/// Which line a curve is of.
type Lines = Vec<(String, &'static str)>;

struct Drawn<'a> {
    answer: &'a Shift,
    marked: &'a [f64],
    style: &'a Style,
}

impl Drawn<'_> {
    /// Adds the numbers behind the picture.
    fn numbers(&self, kind: ShiftPicture, plot: &Plot, document: &mut Document) {
        let names = names(self.answer);
        let whole = &self.answer.identity.refrigerant;
        let of_whole = |lines: &[&'static str]| -> Lines {
            let each = lines.iter().map(|line| (whole.clone(), *line));
            each.collect()
        };
        let share = |at: usize| format!("mass_fraction_{}", names[at]);
        let lost = || "lost_mass_fraction".to_owned();
        let pascal = self.style.units.absolute.pascal();
        let (across, up, scale, lines) = match kind {
            ShiftPicture::Composition => {
                let each = names.iter().flat_map(|name| {
                    let line = |line| ((*name).to_owned(), line);
                    [line("remaining"), line("leaving")]
                });
                (lost(), "mass_fraction".to_owned(), 0.01, each.collect())
            }
            ShiftPicture::Lines => {
                let lines = of_whole(&["bubble", "dew"]);
                (lost(), "pressure_Pa".to_owned(), pascal, lines)
            }
            ShiftPicture::Path if names.len() == 2 => {
                let ties = plot.curves.len().saturating_sub(2);
                let ties = std::iter::repeat_n("tie_line", ties);
                let lines: Vec<_> = ["bubble", "dew"].into_iter().chain(ties).collect();
                (share(0), "pressure_Pa".to_owned(), pascal, of_whole(&lines))
            }
            ShiftPicture::Path => {
                let lines = of_whole(&["edge", "remaining", "leaving"]);
                (share(0), share(1), 0.01, lines)
            }
        };
        let behind = Behind {
            keys: [&across, &up],
            si: &|(x, y)| [0.01 * x, scale * y],
            lines: &lines,
        };
        behind.add(plot, document);
    }

    fn curve(
        &self,
        label: String,
        (stroke, ink): (Stroke, Ink),
        point: impl Fn(&Row) -> Option<(f64, f64)>,
    ) -> PlotCurve {
        PlotCurve {
            label,
            points: self.answer.rows.iter().filter_map(point).collect(),
            stroke,
            ink,
        }
    }

    fn plot(&self, x: Axis, y: Axis, curves: Vec<PlotCurve>, notes: &[Phrase]) -> Plot {
        Plot {
            title: String::new(),
            x,
            y,
            curves,
            marks: Vec::new(),
            notes: notes.iter().map(|note| self.style.word(*note)).collect(),
        }
    }

    fn lost_axis(&self) -> Axis {
        percent_axis(self.style.word(SHIFT_LOST))
    }

    fn pressure(&self, value: Pressure) -> f64 {
        value.in_pascal() / self.style.units.absolute.pascal()
    }

    fn pressure_axis(&self, curves: &[PlotCurve]) -> Axis {
        let unit = self.style.units.absolute.typed();
        let label = self.style.say(AXIS_PRESSURE, &[("unit", unit)]);
        let points = curves.iter().flat_map(|curve| &curve.points);
        Axis::spanning(label, points.map(|point| point.1))
    }

    fn composition(&self) -> Plot {
        let mut curves = Vec::new();
        for (at, name) in names(self.answer).into_iter().enumerate() {
            let left = |row: &Row| Some((lost(row), row.remaining_mass_fractions[at] * 100.0));
            let leaving = |row: &Row| Some((lost(row), row.leaving_mass_fractions[at] * 100.0));
            let ink = Ink::ALL[at % Ink::ALL.len()];
            curves.push(self.curve(name.to_owned(), (Stroke::Solid, ink), left));
            curves.push(self.curve(String::new(), (Stroke::Dashed, ink), leaving));
        }
        let most = curves
            .iter()
            .flat_map(|curve| &curve.points)
            .fold(0.0, |most: f64, point| most.max(point.1));
        let y = Axis {
            label: self.style.word(SHIFT_PICTURE_SHARE),
            from: 0.0,
            to: (most / 10.0).ceil() * 10.0,
            scale: Scale::Linear,
        };
        self.plot(self.lost_axis(), y, curves, &[SHIFT_PICTURE_STROKES])
    }

    fn lines(&self) -> Plot {
        let bubble = |row: &Row| Some((lost(row), self.pressure(row.bubble_pressure?)));
        let dew = |row: &Row| Some((lost(row), self.pressure(row.dew_pressure?)));
        let curves = vec![
            self.curve(self.style.word(COLUMN_BUBBLE), BUBBLE, bubble),
            self.curve(self.style.word(COLUMN_DEW), DEW, dew),
        ];
        let y = self.pressure_axis(&curves);
        self.plot(self.lost_axis(), y, curves, &[SHIFT_PICTURE_LINES])
    }

    fn marks(&self, point: impl Fn(&Row) -> Option<(f64, f64)>) -> Vec<Mark> {
        let rows = self.answer.rows.iter();
        let rows = rows.filter(|row| self.marked.contains(&row.lost_mass_fraction));
        rows.filter_map(|row| {
            let share = self.style.sign(crate::units::short(lost(row), 4));
            Some(Mark {
                label: format!("{share} %"),
                at: point(row)?,
            })
        })
        .collect()
    }

    /// Pressure against the mass share of the first at the temperature; ties between liquid and
    /// vapor of the marked rows.
    fn in_lens(&self, listed: &Refrigerant) -> Plot {
        let lens = lens(listed, self.answer.temperature);
        let line = |label: Phrase, (stroke, ink), which: usize| PlotCurve {
            label: self.style.word(label),
            points: lens
                .iter()
                .map(|(share, ends)| (share * 100.0, self.pressure(ends[which])))
                .collect(),
            stroke,
            ink,
        };
        let mut curves = vec![line(COLUMN_BUBBLE, BUBBLE, 0), line(COLUMN_DEW, DEW, 1)];
        let at = |row: &Row, shares: &[f64]| (shares[0] * 100.0, self.pressure(row.pressure));
        let marked = self.answer.rows.iter();
        for row in marked.filter(|row| self.marked.contains(&row.lost_mass_fraction)) {
            if let Some(liquid) = &row.liquid_mass_fractions {
                curves.push(PlotCurve {
                    label: String::new(),
                    points: vec![at(row, liquid), at(row, &row.vapor_mass_fractions)],
                    stroke: Stroke::Faint,
                    ink: Ink::Black,
                });
            }
        }
        let x = percent_axis(self.share_of(names(self.answer)[0]));
        let y = self.pressure_axis(&curves);
        let mut plot = self.plot(x, y, curves, &[SHIFT_PICTURE_LENS]);
        plot.marks = self.marks(|row| Some(at(row, row.liquid_mass_fractions.as_deref()?)));
        plot
    }

    fn share_of(&self, name: &str) -> String {
        self.style
            .say(SHIFT_PICTURE_SHARE_OF, &[("refrigerant", name)])
    }

    /// Two shares on axes at right angles, the third what is missing to 100 %.
    fn in_triangle(&self) -> Plot {
        let names = names(self.answer);
        let at = |shares: &[f64]| (shares[0] * 100.0, shares[1] * 100.0);
        let without = self
            .style
            .say(SHIFT_PICTURE_WITHOUT, &[("refrigerant", names[2])]);
        let edge = PlotCurve {
            label: without,
            points: vec![(100.0, 0.0), (50.0, 50.0), (0.0, 100.0)],
            stroke: Stroke::Faint,
            ink: Ink::Black,
        };
        let curves = vec![
            edge,
            self.curve(self.style.word(SHIFT_REMAINING), BUBBLE, |row| {
                Some(at(&row.remaining_mass_fractions))
            }),
            self.curve(self.style.word(SHIFT_LEAVING), DEW, |row| {
                Some(at(&row.leaving_mass_fractions))
            }),
        ];
        let [x, y] = [names[0], names[1]].map(|name| percent_axis(self.share_of(name)));
        let mut plot = self.plot(x, y, curves, &[]);
        let note = self
            .style
            .say(SHIFT_PICTURE_TRIANGLE, &[("refrigerant", names[2])]);
        plot.notes.push(note);
        plot.marks = self.marks(|row| Some(at(&row.remaining_mass_fractions)));
        plot
    }
}

/// Strokes and inks of liquid and vapor, as in every other picture.
const BUBBLE: (Stroke, Ink) = (Stroke::Solid, Ink::Blue);
const DEW: (Stroke, Ink) = (Stroke::Dashed, Ink::Red);

fn lost(row: &Row) -> f64 {
    row.lost_mass_fraction * 100.0
}

fn percent_axis(label: String) -> Axis {
    Axis {
        label,
        from: 0.0,
        to: 100.0,
        scale: Scale::Linear,
    }
}
