//! The pressure-temperature chart: numbers first, then each cell turned to text once.

mod cell;
mod columns;
mod digits;
pub mod exercise;
mod gas_cooler;
mod keys;
pub mod lookup;
pub mod picture;
pub mod plot;
pub(crate) mod reasons;
pub(crate) mod recipe;
mod rows;
mod subject;
mod typed_rows;

pub use cell::{Cell, Gap, Reason, RowAt, VACUUM};
pub use digits::{Errors, Spot};
pub use gas_cooler::GasCooler;
pub use recipe::{ROW_CHOICES, Recipe, RecipeChoice, broken as broken_recipe};
pub use rows::{MOST_CELLS, Rows, steps};
pub use subject::{GlideAt, Subject};
pub use typed_rows::{RowsError, RowsPart, TypedRows};

use crate::refrigerant::Refrigerant;
use crate::units::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, TemperatureUnit,
    UnitSet,
};
use crate::{Error, Result};

/// Which line of a refrigerant a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColumnLine {
    /// The one line of a pure refrigerant.
    Saturation,
    /// The first vapour: read for liquid and subcooling.
    Bubble,
    /// The last liquid: read for vapour and superheat.
    Dew,
    /// Halfway between bubble and dew.
    Mean,
}

impl ColumnLine {
    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            ColumnLine::Saturation => "saturation",
            ColumnLine::Bubble => "bubble",
            ColumnLine::Dew => "dew",
            ColumnLine::Mean => "mean",
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
    /// The name by which programs know it.
    pub const fn name(self) -> &'static str {
        match self {
            Within::Nominal => "nominal",
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
    /// The lines of a blend, in order; where empty, bubble and dew, or one for both where
    /// the glide stays below `one_column_below`.
    pub lines: Vec<ColumnLine>,
    /// The glide below which a blend has one column, halfway between bubble and dew.
    pub one_column_below: TemperatureDifference,
    /// Whether the band within the tolerances of a blend's contents is shown.
    pub tolerance: bool,
    /// A second unit for the cells, or for the rows.
    pub also: Option<Also>,
    /// Rows of a second table, below the first.
    pub second: Option<Rows>,
    /// Whether pressures of best COP of a gas cooler are shown for a refrigerant that rejects its
    /// heat above the critical point on a warm day.
    pub gas_cooler: bool,
    /// What a picture is to show.
    pub picture: picture::PictureChoices,
}

/// Reads lines by name.
///
/// # Errors
/// [`Error::Value`] with a name that is none of bubble, dew and mean.
pub fn parse_lines(names: &[String]) -> Result<Vec<ColumnLine>> {
    let line = |name: &String| {
        [ColumnLine::Bubble, ColumnLine::Dew, ColumnLine::Mean]
            .into_iter()
            .find(|line| line.name().eq_ignore_ascii_case(name.trim()))
            .ok_or_else(|| Error::Value {
                quantity: "column",
                text: name.clone(),
                problem: "is not known".into(),
                hint: "use bubble, dew, mean, separated by commas".into(),
            })
    };
    names.iter().map(line).collect()
}

impl Default for Choices {
    fn default() -> Self {
        Self {
            resolution: TemperatureDifference::kelvin(0.1),
            uniform_digits: false,
            lines: Vec::new(),
            one_column_below: TemperatureDifference::kelvin(0.5),
            tolerance: false,
            also: None,
            second: None,
            gas_cooler: false,
            picture: picture::PictureChoices::default(),
        }
    }
}

impl Also {
    /// A second unit by name, of pressures or of temperatures.
    ///
    /// # Errors
    /// As [`PressureUnit::named`].
    pub fn named(name: &str) -> Result<Self> {
        match (PressureUnit::named(name), TemperatureUnit::named(name)) {
            (Ok(unit), _) => Ok(Self::Pressure(unit)),
            (_, Ok(unit)) => Ok(Self::Temperature(unit)),
            (Err(error), _) => Err(error),
        }
    }
}

/// A second unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Also {
    /// For pressures.
    Pressure(PressureUnit),
    /// For temperatures.
    Temperature(TemperatureUnit),
}

impl Also {
    /// Its name.
    pub const fn typed(self) -> &'static str {
        match self {
            Also::Pressure(unit) => unit.typed(),
            Also::Temperature(unit) => unit.typed(),
        }
    }
}

/// The same chart in a second unit.
#[derive(Debug, Clone)]
pub enum Beside {
    /// The cells.
    Cells(Box<Chart>),
    /// The rows' own figures, a text each.
    Rows(Vec<String>),
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

/// Every how many rows one is kept, where fewer of them are asked for.
const KEPT: [usize; 4] = [1, 2, 4, 5];

impl Request {
    /// The chart, and the same with fewer and fewer of its rows, each computed when it is asked for;
    /// those that have no answer are left out.
    pub fn with_fewer_rows(&self) -> impl Iterator<Item = Chart> {
        KEPT.into_iter().filter_map(|every| {
            let rows = self.rows.thinned(every);
            let fewer = Request {
                rows,
                ..self.clone()
            };
            Chart::new(&fewer).ok()
        })
    }

    /// One refrigerant over the usual rows, with the digits that a card has room for (0.5 K).
    ///
    /// # Errors
    /// As [`Rows::usual`].
    pub fn of_card(refrigerant: Refrigerant, units: &UnitSet, site: Atmosphere) -> Result<Self> {
        Ok(Self {
            refrigerants: vec![refrigerant],
            rows: Rows::usual(units.temperature, None)?,
            temperature_unit: units.temperature,
            pressure_unit: units.pressure,
            site,
            choices: Choices {
                resolution: TemperatureDifference::kelvin(0.5),
                uniform_digits: true,
                ..Choices::default()
            },
        })
    }
}

/// A column of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Designation of the refrigerant.
    pub refrigerant: String,
    /// Which of its lines.
    pub line: ColumnLine,
    /// Which value within the tolerances of its contents.
    pub within: Within,
}

/// A row of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct ChartRow {
    /// The temperature or pressure that the row stands for.
    pub label: Cell,
    /// A cell for each column.
    pub cells: Vec<Cell>,
}

/// A chart, computed and turned to text. In JSON each cell has its text and its SI value.
#[derive(Debug, Clone)]
pub struct Chart {
    /// The refrigerants, with what is known about each.
    pub subjects: Vec<Subject>,
    /// The local atmospheric pressure that gauge pressures are relative to.
    pub site: Atmosphere,
    /// True where rows are temperatures and cells pressures; else the other way round.
    pub by_temperature: bool,
    /// Unit of the temperatures.
    pub temperature_unit: TemperatureUnit,
    /// Unit of the pressures.
    pub pressure_unit: PressureUnit,
    /// How it is made.
    pub choices: Choices,
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<ChartRow>,
    /// What the print leaves in error.
    pub errors: Errors,
    /// Why cells have no number, each reason once.
    pub notes: Vec<Reason>,
    /// The same in a second unit.
    pub also: Option<(Also, Beside)>,
    /// A second table with rows of the other kind.
    pub second: Option<Box<Chart>>,
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
        let labels: Vec<(Cell, RowAt)> = (0..count)
            .map(|index| request.rows.label_and_condition(index, request))
            .collect();
        let mut notes = cell::Notes::default();
        let found = columns::compute(request, &labels, &mut notes);
        rows::check_size(count, found.columns.len())?;
        let rows: Vec<ChartRow> = labels
            .into_iter()
            .enumerate()
            .map(|(index, (label, _))| ChartRow {
                label,
                cells: found
                    .columns
                    .iter()
                    .map(|column| column.cells[index].clone())
                    .collect(),
            })
            .collect();
        let answered = |row: &ChartRow| row.cells.iter().any(|cell| cell.value.is_some());
        if !rows.iter().any(answered) {
            let first = notes.0.first();
            return Err(Error::NoState {
                reason: reasons::CELLS_ALL_EMPTY.into(),
                hint: first.map_or_else(|| "choose other rows".into(), |one| one.hint(request)),
            });
        }
        let by_temperature = matches!(request.rows, Rows::Temperatures(_));
        let also = match request.choices.also {
            Some(unit) => Some((unit, column_in_other_unit(request, unit, &rows)?)),
            None => None,
        };
        let second = match &request.choices.second {
            Some(rows) => {
                let mut asked = request.clone();
                asked.rows = rows.clone();
                asked.choices.second = None;
                Some(Box::new(Self::new(&asked)?))
            }
            None => None,
        };
        Ok(Self {
            subjects: subject::subjects(request, &found, &rows),
            site: request.site,
            by_temperature,
            temperature_unit: request.temperature_unit,
            pressure_unit: request.pressure_unit,
            choices: request.choices.clone(),
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
            notes: notes.0,
            errors: found.errors,
            rows,
            also,
            second,
        })
    }

    /// The same chart with the text of every figure changed, as by a decimal comma; words stay.
    pub fn with_texts(mut self, change: &dyn Fn(String) -> String) -> Self {
        for row in &mut self.rows {
            let cells = row.cells.iter_mut().chain([&mut row.label]);
            for cell in cells.filter(|cell| cell.gap.is_none()) {
                cell.text = change(std::mem::take(&mut cell.text));
            }
        }
        self.also = self.also.map(|(unit, beside)| match beside {
            Beside::Cells(chart) => {
                let chart = Box::new(chart.with_texts(change));
                (unit, Beside::Cells(chart))
            }
            Beside::Rows(texts) => {
                let texts = texts.into_iter().map(change).collect();
                (unit, Beside::Rows(texts))
            }
        });
        self.second = self.second.map(|one| Box::new(one.with_texts(change)));
        self
    }

    /// Whether a figure counts below the local atmospheric pressure.
    pub fn has_vacuum(&self) -> bool {
        let cells = |row: &'_ ChartRow| row.cells.iter().any(|cell| cell.text.ends_with(VACUUM));
        let label = |row: &'_ ChartRow| row.label.text.ends_with(VACUUM);
        self.rows.iter().any(|row| cells(row) || label(row))
    }
}

/// The same in a second unit: the cells where it is one of theirs, else the rows.
fn column_in_other_unit(request: &Request, unit: Also, rows: &[ChartRow]) -> Result<Beside> {
    let by_temperature = matches!(request.rows, Rows::Temperatures(_));
    let mut other = request.clone();
    match unit {
        Also::Pressure(unit) => other.pressure_unit = unit,
        Also::Temperature(unit) => other.temperature_unit = unit,
    }
    if by_temperature == matches!(unit, Also::Pressure(_)) {
        other.choices.also = None;
        other.choices.second = None;
        return Chart::new(&other).map(|chart| Beside::Cells(Box::new(chart)));
    }
    let text = |row: &ChartRow| {
        row.label.value.map_or_else(String::new, |value| {
            if by_temperature {
                let temperature = Temperature::kelvin(value);
                crate::units::fixed(other.temperature_unit.read(temperature), 1)
            } else {
                let pressure = Pressure::pascal(value);
                other.pressure_unit.cell(pressure, &other.site).0
            }
        })
    };
    Ok(Beside::Rows(rows.iter().map(text).collect()))
}
