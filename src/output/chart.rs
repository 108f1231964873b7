//! A chart as an answer: every format takes the cells' own texts.

use serde_json::{Value, json};

use super::number;
use crate::chart::{Cell, Chart, Column, Line, Within};
use crate::page::{Block, Document, Sheet, Table};

impl From<&Chart> for Document {
    fn from(chart: &Chart) -> Self {
        let mut blocks = vec![Block::Title(title(chart)), Block::Table(table(chart))];
        for lines in [&chart.notes, &chart.footers, &chart.cautions] {
            if !lines.is_empty() {
                blocks.push(Block::Lines(lines.clone()));
            }
        }
        Document {
            blocks,
            sheet: sheet(chart),
            json: json(chart),
            warnings: Vec::new(),
            ..Document::default()
        }
    }
}

fn title(chart: &Chart) -> String {
    let pressure = chart.pressure_unit.typed();
    let temperature = chart.temperature_unit.symbol();
    if chart.by_temperature {
        format!("Saturation pressure in {pressure} at a temperature in {temperature}")
    } else {
        format!("Saturation temperature in {temperature} at a pressure in {pressure}")
    }
}

fn table(chart: &Chart) -> Table {
    let has_lines = chart
        .columns
        .iter()
        .any(|column| column.line != Line::Saturation);
    let label = if chart.by_temperature {
        chart.temperature_unit.symbol()
    } else {
        chart.pressure_unit.typed()
    };
    let mut groups: Vec<(String, usize)> = vec![(String::new(), 1)];
    let mut heads = vec![label.to_owned()];
    let mut first = None;
    for column in &chart.columns {
        // Further columns stand under the name of the first, until it comes again.
        let is_further = first.is_some_and(|first: &Column| {
            first.refrigerant == column.refrigerant && first != column
        });
        match groups.last_mut() {
            Some((_, span)) if is_further => *span += 1,
            _ => {
                groups.push((column.refrigerant.clone(), 1));
                first = Some(column);
            }
        }
        heads.push(match column.within {
            Within::Nominal => column.line.word().to_owned(),
            edge => format!("{} {}", column.line.word(), edge.word()),
        });
    }
    if !has_lines {
        let names = chart
            .columns
            .iter()
            .map(|column| column.refrigerant.clone());
        heads = std::iter::once(label.to_owned()).chain(names).collect();
        groups.clear();
    }
    Table {
        groups,
        heads,
        rows: chart.rows.iter().map(texts).collect(),
        words: 0,
    }
}

fn texts(row: &crate::chart::Row) -> Vec<String> {
    std::iter::once(&row.label)
        .chain(&row.cells)
        .map(|cell| cell.text.clone())
        .collect()
}

fn sheet(chart: &Chart) -> Sheet {
    let temperature = chart.temperature_unit.typed();
    let pressure = chart.pressure_unit.typed();
    let (label, unit) = if chart.by_temperature {
        (format!("temperature_{temperature}"), pressure)
    } else {
        (format!("pressure_{pressure}"), temperature)
    };
    let heads = chart.columns.iter().map(|column| {
        let words = [
            column.refrigerant.as_str(),
            column.line.word(),
            column.within.word(),
            unit,
        ];
        let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
        words.join("_")
    });
    Sheet {
        heads: std::iter::once(label).chain(heads).collect(),
        rows: chart.rows.iter().map(texts).collect(),
    }
}

fn json(chart: &Chart) -> Value {
    let (row_key, cell_key) = if chart.by_temperature {
        ("temperature_K", "pressure_Pa")
    } else {
        ("pressure_Pa", "temperature_K")
    };
    let cell = |cell: &Cell, key: &str| {
        let mut object = serde_json::Map::new();
        object.insert("text".into(), cell.text.clone().into());
        object.insert(key.into(), cell.value.map_or(Value::Null, number));
        Value::Object(object)
    };
    let columns: Vec<Value> = chart.columns.iter().map(column_json).collect();
    let rows: Vec<Value> = chart
        .rows
        .iter()
        .map(|row| {
            let mut object = serde_json::Map::new();
            object.insert("row".into(), cell(&row.label, row_key));
            let cells = row.cells.iter().map(|one| cell(one, cell_key));
            object.insert("cells".into(), Value::Array(cells.collect()));
            Value::Object(object)
        })
        .collect();
    let refrigerants: Vec<Value> = chart
        .refrigerants
        .iter()
        .map(|(refrigerant, facts)| {
            let mut object = super::identity(refrigerant);
            let class = facts.safety_class.as_ref().map(|class| class.value.clone());
            object.insert("safety_class".into(), class.into());
            object.insert("model".into(), super::model(facts));
            object.insert("warnings".into(), super::warnings(&refrigerant.warnings()));
            Value::Object(object)
        })
        .collect();
    json!({
        "refrigerants": refrigerants,
        "atmosphere_Pa": number(chart.site.pressure().in_pascal()),
        "temperature_unit": chart.temperature_unit.typed(),
        "pressure_unit": chart.pressure_unit.typed(),
        "columns": columns,
        "rows": rows,
        "largest_error_K": chart.errors.cell.as_ref().map(|(error, _)| number(*error)),
        "largest_error_between_rows_K":
            chart.errors.between.as_ref().map(|(error, _)| number(*error)),
        "notes": chart.notes,
        "footers": chart.footers,
        "cautions": chart.cautions,
    })
}

fn column_json(column: &Column) -> Value {
    let mut object = serde_json::Map::new();
    object.insert("refrigerant".into(), column.refrigerant.as_str().into());
    let line = match column.line {
        Line::Saturation => "saturation",
        line => line.word(),
    };
    object.insert("line".into(), line.into());
    if column.within != Within::Nominal {
        object.insert("within_tolerance".into(), column.within.word().into());
    }
    Value::Object(object)
}
