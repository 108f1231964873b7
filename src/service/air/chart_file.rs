//! A manufacturer's chart of target superheats as a person writes it in a spreadsheet.

use std::path::Path;

use super::target_superheat::SuperheatChart;
use crate::error::{Blank, Error, RangeUnit, Reason, Result};
use crate::service::reasons;
use crate::service::sheet::{not_read, table};
use crate::units::{TemperatureDifference, TemperatureUnit};

/// A chart from the text of a spreadsheet: its first cell says the unit, `outdoor_dry_bulb_F` or
/// `outdoor_dry_bulb_C`, then come the indoor wet bulbs; below, a row for each outdoor dry bulb.
/// Separators, decimal commas and comments after `#` are those of [`table`].
///
/// # Errors
/// [`Error::NoAnswer`] where there is no chart, another first cell, or a cell that is no number, and
/// as [`SuperheatChart::new`].
///
/// # Example
/// ```
/// use zeotrope::service::air::chart_file::superheat_chart;
/// assert!(superheat_chart(b"outdoor_dry_bulb_F;60;62\n80;10,5;12\n85;8;9\n").is_ok());
/// assert!(superheat_chart(b"outdoor_dry_bulb_F,60,62\n80,10,x\n85,8,9\n").is_err());
/// ```
pub fn superheat_chart(text: &[u8]) -> Result<SuperheatChart> {
    let rows = table(text);
    let wrong = |reason: Reason, hint: &str| Error::NoAnswer {
        reason,
        hint: hint.into(),
    };
    let layout = "begin with outdoor_dry_bulb_F or outdoor_dry_bulb_C and the wet bulbs; below, a \
                  row for each outdoor dry bulb";
    let Some((heads, body)) = rows.split_first() else {
        return Err(wrong(reasons::TARGET_FILE_EMPTY.into(), layout));
    };
    let first = heads.first().map_or("", String::as_str);
    let unit = match first {
        "outdoor_dry_bulb_F" => TemperatureUnit::Fahrenheit,
        "outdoor_dry_bulb_C" => TemperatureUnit::Celsius,
        other => {
            let reason = Reason::of(reasons::TARGET_FILE_FIRST_CELL, "cell", other);
            return Err(wrong(reason, layout));
        }
    };
    let number = |text: &str, row: usize, column: usize| {
        let found = text.replace('\u{2212}', "-").parse::<f64>().ok();
        found.filter(|value| value.is_finite()).ok_or_else(|| {
            let count = |number: usize| Blank::Quantity(number as f64, RangeUnit::None);
            let reason = Reason::of(reasons::TARGET_FILE_CELL, "cell", text)
                .and("row", count(row))
                .and("column", count(column + 1));
            wrong(reason, "write bare numbers")
        })
    };
    let difference = |value: f64| match unit {
        TemperatureUnit::Fahrenheit => TemperatureDifference::fahrenheit_degrees(value),
        _ => TemperatureDifference::kelvin(value),
    };
    let mut wet_bulb = Vec::new();
    for (column, text) in heads.iter().enumerate().skip(1) {
        wet_bulb.push(unit.write(number(text, 1, column)?));
    }
    let (mut outdoor, mut cells) = (Vec::new(), Vec::new());
    for (row, texts) in body.iter().enumerate() {
        let mut line = Vec::new();
        for (column, text) in texts.iter().enumerate() {
            let value = || number(text, row + 2, column);
            match (column, text.is_empty()) {
                (0, _) => outdoor.push(unit.write(value()?)),
                (_, true) => line.push(None),
                (_, false) => line.push(Some(difference(value()?))),
            }
        }
        cells.push(line);
    }
    SuperheatChart::new(outdoor, wet_bulb, cells)
}

/// As [`superheat_chart`], of a file.
///
/// # Errors
/// [`Error::NoAnswer`] with the file's name where it cannot be read as a chart, and those of
/// [`SuperheatChart::new`](super::target_superheat::SuperheatChart::new).
pub fn read_superheat_chart(path: &Path) -> Result<SuperheatChart> {
    let name = path.display().to_string();
    let text = std::fs::read(path).map_err(|problem| Error::NoAnswer {
        reason: not_read(&name, &problem),
        hint: "give the name of a CSV file".into(),
    })?;
    superheat_chart(&text).map_err(|error| Error::NoAnswer {
        hint: error.hint().unwrap_or_default(),
        reason: Reason::of(reasons::FILE_PROBLEM, "file", &name)
            .and("problem", Blank::Problem(Box::new(error))),
    })
}
