//! `zeotrope.Document`: an answer as a notebook shows it and as a file holds it.

use std::io::Write;
use std::path::{Path, PathBuf};

use pyo3::exceptions::{PyFileExistsError, PyOSError};
use pyo3::prelude::*;
use zeotrope::output::Format;
use zeotrope::page;
use zeotrope::units::{Atmosphere, Pressure, PressureUnit, TemperatureUnit, UnitSet};

use crate::failure::{raised, wrong_value};
use crate::json;

/// Makes the page for a format.
pub(crate) type Make = dyn Fn(Format) -> zeotrope::Result<page::Document> + Send + Sync;

/// An answer as people read it: a chart, a cycle, a leak.
///
/// A notebook shows it as it is. `print(document)` writes it as text, `document.data` holds the
/// numbers in SI under the keys of the program's JSON, and `document.save("card.pdf")` writes a file
/// in the format of its ending: txt, md, csv, json, html, svg or pdf. The hazards that apply stand in
/// every format that people read.
#[pyclass(frozen, module = "zeotrope", name = "Document")]
pub(crate) struct Document {
    make: Box<Make>,
    has_picture: bool,
}

impl Document {
    pub(crate) fn new(
        has_picture: bool,
        make: impl Fn(Format) -> zeotrope::Result<page::Document> + Send + Sync + 'static,
    ) -> Self {
        Self {
            make: Box::new(make),
            has_picture,
        }
    }

    fn bytes(&self, py: Python<'_>, format: Format) -> PyResult<Vec<u8>> {
        py.detach(|| (self.make)(format)?.write(format))
            .map_err(|error| raised(py, &error, None))
    }

    fn text_in(&self, py: Python<'_>, format: Format) -> PyResult<String> {
        let text = String::from_utf8(self.bytes(py, format)?);
        text.map_err(|_| wrong_value("the document is not a text"))
    }
}

#[pymethods]
impl Document {
    /// As text, for a terminal.
    fn __str__(&self, py: Python<'_>) -> PyResult<String> {
        self.text_in(py, Format::Text)
    }

    /// As Markdown.
    fn markdown(&self, py: Python<'_>) -> PyResult<String> {
        self.text_in(py, Format::Markdown)
    }

    /// As CSV: a table of figures.
    fn csv(&self, py: Python<'_>) -> PyResult<String> {
        self.text_in(py, Format::Csv)
    }

    /// As a whole page of HTML, which needs no other file.
    fn html(&self, py: Python<'_>) -> PyResult<String> {
        self.text_in(py, Format::Html)
    }

    /// As a picture. Raises: Error where the answer cannot be drawn.
    fn svg(&self, py: Python<'_>) -> PyResult<String> {
        self.text_in(py, Format::Svg)
    }

    /// The numbers in SI, warnings and cautions, under the keys of the program's JSON.
    #[getter]
    fn data<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let value = serde_json::from_slice(&self.bytes(py, Format::Json)?);
        let value = value.map_err(|error| wrong_value(error.to_string()))?;
        json::object(py, &value)
    }

    /// Writes a file in the format of its ending; it appears whole or not at all.
    ///
    /// Raises: FileExistsError where the file exists and `overwrite` is not True; ValueError for an
    /// ending that is no format; Error where the format cannot express the answer.
    #[pyo3(signature = (path, *, overwrite = false))]
    fn save(&self, py: Python<'_>, path: PathBuf, overwrite: bool) -> PyResult<()> {
        let ending = path.extension().and_then(|ending| ending.to_str());
        let ending = ending.unwrap_or_default();
        let Some(format) = Format::named(ending) else {
            let endings: Vec<_> = Format::ALL.iter().map(|format| format.ending()).collect();
            let endings = endings.join(", ");
            return Err(wrong_value(format!(
                "the ending '{ending}' is none of {endings}"
            )));
        };
        if !overwrite && path.exists() {
            return Err(exists(&path));
        }
        let bytes = self.bytes(py, format)?;
        let written = py.detach(|| write(&path, &bytes, overwrite));
        written.map_err(|problem| match problem.kind() {
            std::io::ErrorKind::AlreadyExists => exists(&path),
            _ => PyOSError::new_err(format!("{}: {problem}", path.display())),
        })
    }

    fn _repr_html_(&self, py: Python<'_>) -> PyResult<String> {
        Ok(part_of_page(&self.text_in(py, Format::Html)?))
    }

    fn _repr_svg_(&self, py: Python<'_>) -> PyResult<Option<String>> {
        self.has_picture
            .then(|| self.text_in(py, Format::Svg))
            .transpose()
    }

    fn _repr_markdown_(&self, py: Python<'_>) -> PyResult<String> {
        self.markdown(py)
    }
}

fn exists(path: &Path) -> PyErr {
    let text = format!("{} exists; overwrite=True replaces it", path.display());
    PyFileExistsError::new_err(text)
}

/// Through a file beside it, so that no half is ever seen under the name itself.
fn write(path: &Path, bytes: &[u8], overwrite: bool) -> std::io::Result<()> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let beside = path.with_file_name(format!(".{name}.{}", std::process::id()));
    let whole = || {
        let mut file = std::fs::File::create(&beside)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        if overwrite {
            return std::fs::rename(&beside, path);
        }
        // a link fails where the name has come to exist meanwhile; a rename would replace it
        match std::fs::hard_link(&beside, path) {
            Err(problem) if problem.kind() != std::io::ErrorKind::AlreadyExists => {
                // no links on this file system
                std::fs::rename(&beside, path)
            }
            linked => linked,
        }
    };
    let written = whole();
    let _ = std::fs::remove_file(&beside);
    written
}

/// The page's body in an element of its own, its style held to that element by nesting.
fn part_of_page(page: &str) -> String {
    // an element may have attributes
    let inside = |begin: &str, end: &str| {
        let opened = page
            .split_once(begin)
            .and_then(|(_, rest)| rest.split_once('>'));
        let closed = opened.and_then(|(_, rest)| rest.split_once(end));
        closed.map_or("", |(inner, _)| inner)
    };
    let style = inside("<style", "</style>")
        .replace(":root{", "&{")
        .replace("body{", "&{");
    let main = inside("<main", "</main>");
    format!("<div class=\"zeotrope\"><style>.zeotrope{{{style}}}</style>{main}</div>")
}

/// The units and the air that a page is written in.
pub(crate) struct Reading {
    pub(crate) units: UnitSet,
    pub(crate) site: Atmosphere,
}

impl Reading {
    /// From the names of units, and the local atmospheric pressure in Pa.
    pub(crate) fn new(
        py: Python<'_>,
        units: &str,
        temperature_unit: Option<&str>,
        pressure_unit: Option<&str>,
        atmosphere: Option<f64>,
    ) -> PyResult<Self> {
        let mut set = match units {
            "si" => UnitSet::SI,
            "ip" => UnitSet::INCH_POUND,
            other => return Err(wrong_value(format!("units is 'si' or 'ip', not '{other}'"))),
        };
        let told = |error| raised(py, &error, None);
        if let Some(name) = temperature_unit {
            set = set.with_temperature(TemperatureUnit::named(name).map_err(told)?);
        }
        if let Some(name) = pressure_unit {
            set = set.with_pressure(PressureUnit::named(name).map_err(told)?);
        }
        let site = match atmosphere {
            None => Atmosphere::SEA_LEVEL,
            Some(pascal) => {
                Atmosphere::from_station_pressure(Pressure::pascal(pascal)).map_err(told)?
            }
        };
        Ok(Self { units: set, site })
    }

    /// The style of a page.
    pub(crate) fn style(&self) -> page::Style {
        page::Style::new(self.units, self.site)
    }
}
