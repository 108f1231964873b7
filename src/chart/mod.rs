//! The pressure-temperature chart: numbers first, then each cell turned to text once.

mod cell;
mod columns;
mod digits;
mod footer;
#[cfg(feature = "cli")]
pub mod lookup;
mod nodes;
pub mod picture;
pub mod plot;
mod rows;

pub use cell::Cell;
pub use digits::Errors;
pub use nodes::{Node, nodes};
pub use rows::{MOST_CELLS, Rows, steps};

use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{Atmosphere, PressureUnit, TemperatureDifference, TemperatureUnit};
use crate::{Error, Result};

/// Which line of a refrigerant a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// The one line of a pure refrigerant.
    Saturation,
    /// The first vapour: read for liquid and subcooling.
    Bubble,
    /// The last liquid: read for vapour and superheat.
    Dew,
    /// Halfway between bubble and dew.
    Mean,
}

impl Line {
    /// The word at the head of the column; empty for a pure refrigerant.
    pub const fn word(self) -> &'static str {
        match self {
            Line::Saturation => "",
            Line::Bubble => "bubble",
            Line::Dew => "dew",
            Line::Mean => "mean",
        }
    }
}

/// Which value within the tolerances of a blend's contents a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Within {
    /// That of the nominal contents.
    Nominal,
    /// The lowest within the tolerances.
    Lowest,
    /// The highest within the tolerances.
    Highest,
}

impl Within {
    /// The word at the head of the column; empty for the nominal contents.
    pub const fn word(self) -> &'static str {
        match self {
            Within::Nominal => "",
            Within::Lowest => "lowest",
            Within::Highest => "highest",
        }
    }
}

/// How a chart is made, beside what it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Choices {
    /// What a reader may miss by when reading a cell back: digits follow from it.
    pub resolution: TemperatureDifference,
    /// Whether all cells of a column have the digits of its neediest.
    pub uniform_digits: bool,
    /// Whether figures have a decimal comma.
    pub decimal_comma: bool,
    /// The lines of a blend, in order; where empty, bubble and dew, or one for both where
    /// the glide stays below `one_column_below`.
    pub lines: Vec<Line>,
    /// The glide below which a blend has one column, halfway between bubble and dew.
    pub one_column_below: TemperatureDifference,
    /// Whether the band within the tolerances of a blend's contents is shown.
    pub tolerance: bool,
    /// The date of the print, as it stands in the footer.
    pub date: Option<String>,
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            resolution: TemperatureDifference::kelvin(0.1),
            uniform_digits: false,
            decimal_comma: false,
            lines: Vec::new(),
            one_column_below: TemperatureDifference::kelvin(0.5),
            tolerance: false,
            date: None,
        }
    }
}

/// What a chart is to show.
#[derive(Clone)]
pub struct Request {
    /// The refrigerants, side by side in this order.
    pub refrigerants: Vec<Refrigerant>,
    /// What the rows are.
    pub rows: Rows,
    /// Unit of the temperatures.
    pub temperature_unit: TemperatureUnit,
    /// Unit of the pressures.
    pub pressure_unit: PressureUnit,
    /// The air from which gauge pressures count.
    pub site: Atmosphere,
    /// How it is made.
    pub choices: Choices,
}

/// A column of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Designation of the refrigerant.
    pub refrigerant: String,
    /// Which of its lines.
    pub line: Line,
    /// Which value within the tolerances of its contents.
    pub within: Within,
}

/// A row of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The temperature or pressure that the row stands for.
    pub label: Cell,
    /// A cell for each column.
    pub cells: Vec<Cell>,
}

/// A chart, computed and turned to text.
#[derive(Debug, Clone)]
pub struct Chart {
    /// The refrigerants, with what is known about each.
    pub refrigerants: Vec<(Refrigerant, Facts)>,
    /// The air from which gauge pressures count.
    pub site: Atmosphere,
    /// True where rows are temperatures and cells pressures; else the other way round.
    pub by_temperature: bool,
    /// Unit of the temperatures.
    pub temperature_unit: TemperatureUnit,
    /// Unit of the pressures.
    pub pressure_unit: PressureUnit,
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Row>,
    /// What the print leaves in error.
    pub errors: Errors,
    /// Why cells hold a word in place of a number, a line each.
    pub notes: Vec<String>,
    /// What the chart counts from and rests on, a line each.
    pub footers: Vec<String>,
    /// Words of care.
    pub cautions: Vec<String>,
}

impl Chart {
    /// Computes a chart.
    ///
    /// # Errors
    /// [`Error::Value`] where it would hold no cell or more than [`MOST_CELLS`];
    /// [`Error::NoState`] where no cell at all has an answer.
    pub fn new(request: &Request) -> Result<Self> {
        let count = request.rows.count();
        rows::check_size(count, request.refrigerants.len())?;
        let labels: Vec<(Cell, rows::At)> = (0..count)
            .map(|index| request.rows.at(index, request))
            .collect();
        let mut notes = cell::Notes::default();
        let found = columns::compute(request, &labels, &mut notes);
        let columns: Vec<(usize, Line)> = found
            .columns
            .iter()
            .map(|column| (column.refrigerant, column.line))
            .collect();
        rows::check_size(count, columns.len())?;
        let rows: Vec<Row> = labels
            .into_iter()
            .enumerate()
            .map(|(index, (label, _))| Row {
                label,
                cells: found
                    .columns
                    .iter()
                    .map(|column| column.cells[index].clone())
                    .collect(),
            })
            .collect();
        let answered = |row: &Row| row.cells.iter().any(|cell| cell.value.is_some());
        if !rows.iter().any(answered) {
            return Err(Error::NoState {
                reason: "no cell of this chart lies on a saturation line".into(),
                hint: notes.first().unwrap_or_else(|| "choose other rows".into()),
            });
        }

        let facts: Vec<Facts> = request.refrigerants.iter().map(Facts::of).collect();
        let subjects: Vec<_> = request.refrigerants.iter().zip(&facts).collect();
        Ok(Self {
            refrigerants: request
                .refrigerants
                .iter()
                .cloned()
                .zip(facts.clone())
                .collect(),
            site: request.site,
            by_temperature: matches!(request.rows, Rows::Temperatures(_)),
            temperature_unit: request.temperature_unit,
            pressure_unit: request.pressure_unit,
            columns: found
                .columns
                .iter()
                .map(|column| Column {
                    refrigerant: request.refrigerants[column.refrigerant]
                        .designation()
                        .to_owned(),
                    line: column.line,
                    within: column.within,
                })
                .collect(),
            footers: footer::footers(request, &subjects, &columns, &rows, &found),
            cautions: crate::page::cautions(
                &subjects.iter().map(|one| one.0).collect::<Vec<_>>(),
                None,
                &crate::page::Style::new(crate::units::UnitSet::SI, request.site),
            ),
            notes: notes.into_lines(),
            errors: found.errors,
            rows,
        })
    }
}
