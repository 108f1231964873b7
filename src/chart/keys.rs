//! A chart as programs read it.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::{Beside, Cell, Chart, ChartRow, Column, Subject, Within};
use crate::Warning;
use crate::service::facts::{Identity, Model};
use crate::units::Pressure;

impl Serialize for Chart {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        map.serialize_entry("refrigerants", &self.subjects)?;
        map.serialize_entry("atmosphere_Pa", &Pressure::in_pascal(self.site.pressure()))?;
        map.serialize_entry("temperature_unit", self.temperature_unit.typed())?;
        map.serialize_entry("pressure_unit", self.pressure_unit.typed())?;
        map.serialize_entry("columns", &self.columns)?;
        map.serialize_entry("rows", &RowKeys::from_chart(self))?;
        let error = |worst: &Option<(f64, super::Spot)>| worst.as_ref().map(|(error, _)| *error);
        map.serialize_entry("largest_error_K", &error(&self.errors.cell))?;
        map.serialize_entry("largest_error_between_rows_K", &error(&self.errors.between))?;
        also(self, "", &mut map)?;
        if let Some(second) = &self.second {
            map.serialize_entry("second_columns", &second.columns)?;
            map.serialize_entry("second_rows", &RowKeys::from_chart(second))?;
            also(second, "second_", &mut map)?;
        }
        map.end()
    }
}

fn also<M: SerializeMap>(chart: &Chart, before: &str, map: &mut M) -> Result<(), M::Error> {
    let Some((unit, beside)) = &chart.also else {
        return Ok(());
    };
    if let Beside::Cells(other) = beside {
        map.serialize_entry(&format!("{before}also_rows"), &RowKeys::from_chart(other))?;
    }
    if before.is_empty() {
        map.serialize_entry("also_unit", unit.typed())?;
    }
    Ok(())
}

impl Serialize for Subject {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            safety_class: Option<&'a str>,
            model: &'a Model,
            warnings: Vec<Warning>,
        }
        let class = self.facts.safety_class.as_ref();
        Keys {
            identity: &self.facts.identity,
            safety_class: class.map(|class| class.value.as_str()),
            model: &self.facts.model,
            warnings: self.refrigerant.warnings(),
        }
        .serialize(serializer)
    }
}

impl Serialize for Column {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            refrigerant: &'a str,
            line: &'a str,
            #[serde(skip_serializing_if = "Option::is_none")]
            within_tolerance: Option<&'a str>,
        }
        Keys {
            refrigerant: &self.refrigerant,
            line: self.line.name(),
            within_tolerance: (self.within != Within::Nominal).then(|| self.within.name()),
        }
        .serialize(serializer)
    }
}

/// A row with the quantities of its figures.
#[derive(Serialize)]
struct RowKeys<'a> {
    row: CellKeys<'a>,
    cells: Vec<CellKeys<'a>>,
}

/// A cell's text and its value.
#[derive(Default, Serialize)]
struct CellKeys<'a> {
    text: &'a str,
    #[serde(rename = "temperature_K", skip_serializing_if = "Option::is_none")]
    temperature: Option<Option<f64>>,
    #[serde(rename = "pressure_Pa", skip_serializing_if = "Option::is_none")]
    pressure: Option<Option<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    also: Option<&'a str>,
}

impl<'a> CellKeys<'a> {
    fn from_cell(cell: &'a Cell, is_temperature: bool) -> Self {
        let mut keys = Self {
            text: &cell.text,
            ..Self::default()
        };
        if is_temperature {
            keys.temperature = Some(cell.value);
        } else {
            keys.pressure = Some(cell.value);
        }
        keys
    }
}

impl<'a> RowKeys<'a> {
    fn from_chart(chart: &'a Chart) -> Vec<Self> {
        let by_temperature = chart.by_temperature;
        let texts = match &chart.also {
            Some((_, Beside::Rows(texts))) => texts.as_slice(),
            _ => &[],
        };
        let keys = |(place, row): (usize, &'a ChartRow)| {
            let cells = row.cells.iter();
            let mut label = CellKeys::from_cell(&row.label, by_temperature);
            label.also = texts.get(place).map(String::as_str);
            Self {
                row: label,
                cells: cells
                    .map(|one| CellKeys::from_cell(one, !by_temperature))
                    .collect(),
            }
        };
        chart.rows.iter().enumerate().map(keys).collect()
    }
}
