//! `zeotrope.chart`: pressure-temperature charts, cards and pictures.

#![allow(non_snake_case)] // the unit in every name

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use zeotrope::catalogue::Catalogue;
use zeotrope::chart::picture::{Picture, PictureKind};
use zeotrope::chart::{Chart, Choices, Request, Rows};
use zeotrope::output::Format;
use zeotrope::page::{self, Form, Paper, Print, Shape};
use zeotrope::units::{Pressure, Temperature, TemperatureDifference};

use crate::ask::Whose;
use crate::document::{Document, Reading};
use crate::failure::{raised, wrong_value};

/// Refrigerants by name or as objects.
pub(crate) fn refrigerants(
    py: Python<'_>,
    given: &Bound<'_, PyTuple>,
) -> PyResult<Vec<zeotrope::Refrigerant>> {
    if given.is_empty() {
        return Err(wrong_value("name at least one refrigerant"));
    }
    given.iter().map(|one| refrigerant(py, &one)).collect()
}

/// A refrigerant by name or as an object.
pub(crate) fn refrigerant(
    py: Python<'_>,
    given: &Bound<'_, PyAny>,
) -> PyResult<zeotrope::Refrigerant> {
    match Whose::read(given)? {
        Whose::One(Ok(one)) => Ok(one),
        Whose::One(Err(error)) => Err(raised(py, &error, None)),
        Whose::Column(..) => Err(wrong_value("a document takes a name or a Refrigerant")),
    }
}

fn form(form: Option<&str>, paper: &str, landscape: bool) -> PyResult<Option<Form>> {
    let shape = match form {
        None => Shape::default(),
        Some(name) => {
            let found = Shape::ALL.iter().find(|shape| shape.name() == name);
            let names: Vec<&str> = Shape::ALL.iter().map(|shape| shape.name()).collect();
            let names = names.join(", ");
            *found.ok_or_else(|| wrong_value(format!("form is one of {names}, not '{name}'")))?
        }
    };
    let paper = match paper.to_lowercase().as_str() {
        "a4" => Paper::A4,
        "letter" => Paper::Letter,
        other => {
            return Err(wrong_value(format!(
                "paper is 'a4' or 'letter', not '{other}'"
            )));
        }
    };
    if landscape && shape != Shape::Wall {
        return Err(wrong_value("landscape turns a wall chart alone"));
    }
    Ok(Some(Form {
        shape,
        paper,
        landscape,
        ..Form::default()
    }))
}

/// Pressure-temperature chart of one or more refrigerants, as a Document.
///
/// Rows are the usual temperatures in the unit of the chart, or `from_K` to `to_K` by `step_K`, or
/// `temperatures_K`, or `pressures_Pa` (absolute); cells are gauge pressures relative to
/// `atmosphere_Pa` (sea level without it). `units`: 'si' or 'ip'; `temperature_unit`: C, F or K;
/// `pressure_unit`: psig, psia, barg, bara, kPag, kPaa, MPag or MPaa. `form`: what a PDF becomes:
/// wall, folded, wallet, strip or sheet; `paper`: a4 or letter. `picture`: curves, lens, coil or
/// dome in place of the table. `tolerance` adds the lowest and highest value within the published
/// tolerances of a blend's composition.
///
/// Raises: UnknownRefrigerant and the like; NoState where no cell has an answer.
///
/// >>> zeotrope.chart("R-454B", units="ip").save("card.pdf")
#[pyfunction]
#[pyo3(signature = (
    *refrigerants, from_K=None, to_K=None, step_K=None, temperatures_K=None, pressures_Pa=None,
    units="si", temperature_unit=None, pressure_unit=None, atmosphere_Pa=None, form=None,
    paper="a4", landscape=false, picture=None, tolerance=false, title=None, notes=None
))]
#[allow(clippy::too_many_arguments)] // what a chart can be
pub(crate) fn chart(
    py: Python<'_>,
    refrigerants: &Bound<'_, PyTuple>,
    from_K: Option<f64>,
    to_K: Option<f64>,
    step_K: Option<f64>,
    temperatures_K: Option<Vec<f64>>,
    pressures_Pa: Option<Vec<f64>>,
    units: &str,
    temperature_unit: Option<&str>,
    pressure_unit: Option<&str>,
    atmosphere_Pa: Option<f64>,
    form: Option<&str>,
    paper: &str,
    landscape: bool,
    picture: Option<&str>,
    tolerance: bool,
    title: Option<String>,
    notes: Option<Vec<String>>,
) -> PyResult<Document> {
    let reading = Reading::new(py, units, temperature_unit, pressure_unit, atmosphere_Pa)?;
    let rows = rows(
        py,
        &reading,
        (from_K, to_K, step_K),
        (temperatures_K, pressures_Pa),
    )?;
    let form = self::form(form, paper, landscape)?;
    let kind = match picture {
        None => None,
        Some(name) => {
            let found = PictureKind::ALL.iter().find(|kind| kind.name() == name);
            let names: Vec<&str> = PictureKind::ALL.iter().map(|kind| kind.name()).collect();
            let names = names.join(", ");
            let wrong = || wrong_value(format!("picture is one of {names}, not '{name}'"));
            Some(*found.ok_or_else(wrong)?)
        }
    };
    let is_card = form.is_some_and(|form| form.shape.is_card());
    let made = Made {
        asked: Request {
            refrigerants: self::refrigerants(py, refrigerants)?,
            rows,
            temperature_unit: reading.units.temperature,
            pressure_unit: reading.units.pressure,
            site: reading.site,
            choices: Choices {
                tolerance,
                ..Choices::default()
            },
        },
        kind,
        is_card,
        print: Print {
            title,
            notes: notes.unwrap_or_default(),
            form,
            ..Print::default()
        },
        reading,
    };
    // what is wrong is told at once and not when it is shown
    py.detach(|| made.document(Format::Text))
        .map_err(|error| raised(py, &error, None))?;
    Ok(Document::new(true, move |format| made.document(format)))
}

fn rows(
    py: Python<'_>,
    reading: &Reading,
    (from, to, step): (Option<f64>, Option<f64>, Option<f64>),
    (temperatures, pressures): (Option<Vec<f64>>, Option<Vec<f64>>),
) -> PyResult<Rows> {
    let scale = reading.units.temperature;
    // to what a row of a chart shows, so that -40 °C is not -39.999 999 999 97
    let shown = |kelvin: f64| (scale.read(Temperature::kelvin(kelvin)) * 1e6).round() / 1e6;
    let step = step.map(|step| {
        let step = scale.read_difference(TemperatureDifference::kelvin(step));
        (step * 1e9).round() / 1e9
    });
    match (from, to, temperatures, pressures) {
        (None, None, None, None) => Rows::usual(scale, step),
        (Some(from), Some(to), None, None) => Rows::temperatures(shown(from), shown(to), step),
        (None, None, Some(all), None) if step.is_none() => {
            Ok(Rows::Temperatures(all.into_iter().map(shown).collect()))
        }
        (None, None, None, Some(all)) if step.is_none() => {
            let unit = reading.units.pressure;
            let read = |pascal| unit.read(Pressure::pascal(pascal), &reading.site);
            Ok(Rows::Pressures(all.into_iter().map(read).collect()))
        }
        _ => {
            return Err(wrong_value(
                "give from_K and to_K, or temperatures_K, or pressures_Pa",
            ));
        }
    }
    .map_err(|error| raised(py, &error, None))
}

/// A chart as it was asked for.
struct Made {
    asked: Request,
    kind: Option<PictureKind>,
    is_card: bool,
    print: Print,
    reading: Reading,
}

impl Made {
    fn document(&self, format: Format) -> zeotrope::Result<page::Document> {
        let style = self.reading.style();
        let mut asked = self.asked.clone();
        let mut print = self.print.clone();
        if format != Format::Pdf {
            print.form = None;
        } else if self.is_card {
            asked.choices.resolution = TemperatureDifference::kelvin(0.5);
        }
        let is_drawn = format == Format::Svg
            || self.kind.is_some() && matches!(format, Format::Html | Format::Pdf);
        if is_drawn {
            let kind = self.kind.unwrap_or(PictureKind::Curves);
            let found = Picture::new(kind, &asked, &Catalogue::embedded())?;
            let is_alone = format == Format::Svg;
            let named = &asked.refrigerants;
            return Ok(page::picture(
                &found,
                named,
                &print,
                is_alone,
                Vec::new(),
                &style,
            ));
        }
        let is_sheet = print.form.is_some_and(|form| form.shape.is_of_pieces());
        let charts = if is_sheet {
            let alone = |one: &zeotrope::Refrigerant| Request {
                refrigerants: vec![one.clone()],
                ..asked.clone()
            };
            let each = asked.refrigerants.iter().map(|one| Chart::new(&alone(one)));
            each.collect::<zeotrope::Result<Vec<_>>>()?
        } else {
            vec![Chart::new(&asked)?]
        };
        Ok(page::chart(&charts, &print, &[], &style))
    }
}
