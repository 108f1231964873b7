//! The same cells in a second unit, beside the first.

use crate::chart::{Chart, Request};
use crate::cli::errors::Failure;
use crate::page::{Block, Document, Table};
use crate::units::{PressureUnit, Temperature, TemperatureUnit, fixed};

/// Adds the second unit: a column beside each where it is one of the cells, else beside the rows.
/// How many columns name a row then.
pub(crate) fn add(
    answer: &mut Document,
    chart: &Chart,
    asked: &Request,
    unit: &str,
) -> Result<usize, Failure> {
    let mut second = asked.clone();
    let is_cells = match (PressureUnit::named(unit), TemperatureUnit::named(unit)) {
        (Ok(unit), _) => {
            second.pressure_unit = unit;
            chart.by_temperature
        }
        (_, Ok(unit)) => {
            second.temperature_unit = unit;
            !chart.by_temperature
        }
        (Err(error), _) => return Err(Failure::from(error).of_option("--also")),
    };
    if !is_cells {
        rows(answer, chart, &second);
        answer.json["also_unit"] = unit.into();
        return Ok(2);
    }
    let other = Chart::new(&second)?;
    let more = Document::from(&other);
    let tables = |answer: &Document| {
        answer.blocks.iter().find_map(|block| match block {
            Block::Table(table) => Some(table.clone()),
            _ => None,
        })
    };
    if let (Some(first), Some(second)) = (tables(answer), tables(&more)) {
        let units = if chart.by_temperature {
            [chart.pressure_unit.typed(), other.pressure_unit.typed()]
        } else {
            [
                chart.temperature_unit.symbol(),
                other.temperature_unit.symbol(),
            ]
        };
        let merged = merged(&first, &second, units);
        if let Some(Block::Table(table)) = answer
            .blocks
            .iter_mut()
            .find(|block| matches!(block, Block::Table(_)))
        {
            *table = merged;
        }
    }
    // Vacuum and gauge of the second unit are explained like those of the first.
    let told = other
        .footers
        .first()
        .filter(|line| !chart.footers.contains(line));
    if let (Some(line), Some(Block::Lines(lines))) = (
        told,
        answer.blocks.iter_mut().find(
            |block| matches!(block, Block::Lines(lines) if lines.first() == chart.footers.first()),
        ),
    ) {
        lines.insert(1, line.clone());
    }
    interleave(&mut answer.sheet.heads, &more.sheet.heads, 1);
    for (row, other) in answer.sheet.rows.iter_mut().zip(&more.sheet.rows) {
        interleave(row, other, 1);
    }
    if let Some(object) = answer.json.as_object_mut() {
        object.insert("also_rows".into(), more.json["rows"].clone());
        object.insert("also_unit".into(), unit.into());
    }
    Ok(1)
}

/// A second figure beside each row's own.
fn rows(answer: &mut Document, chart: &Chart, second: &Request) {
    let texts: Vec<String> = chart
        .rows
        .iter()
        .map(|row| match row.label.value {
            Some(kelvin) if chart.by_temperature => {
                let value = second.temperature_unit.read(Temperature::kelvin(kelvin));
                fixed(value, 1)
            }
            Some(pascal) => {
                let pressure = crate::units::Pressure::pascal(pascal);
                second.pressure_unit.cell(pressure, &second.site).0
            }
            None => String::new(),
        })
        .map(|text| {
            if second.choices.decimal_comma {
                text.replace('.', ",")
            } else {
                text
            }
        })
        .collect();
    let (head, key) = if chart.by_temperature {
        let unit = second.temperature_unit;
        (unit.symbol(), format!("temperature_{}", unit.typed()))
    } else {
        let unit = second.pressure_unit;
        (unit.typed(), format!("pressure_{}", unit.typed()))
    };
    for block in &mut answer.blocks {
        if let Block::Table(table) = block {
            table.heads.insert(1, head.to_owned());
            if let Some((_, span)) = table.groups.first_mut() {
                *span += 1;
            }
            for (row, text) in table.rows.iter_mut().zip(&texts) {
                row.insert(1, text.clone());
            }
        }
    }
    answer.sheet.heads.insert(1, key);
    if let Some(json_rows) = answer.json["rows"].as_array_mut() {
        for (row, text) in json_rows.iter_mut().zip(&texts) {
            row["row"]["also"] = text.as_str().into();
        }
    }
    for (row, text) in answer.sheet.rows.iter_mut().zip(&texts) {
        row.insert(1, text.clone());
    }
}

/// Two tables of the same cells as one, the units under each name.
fn merged(first: &Table, second: &Table, units: [&str; 2]) -> Table {
    let mut table = first.clone();
    if table.groups.is_empty() {
        table.groups = first
            .heads
            .iter()
            .skip(1)
            .map(|name| (name.clone(), 1))
            .collect();
        table.groups.insert(0, (String::new(), 1));
        table.heads.iter_mut().skip(1).for_each(String::clear);
    }
    for (_, span) in table.groups.iter_mut().skip(1) {
        *span *= 2;
    }
    let mut heads: Vec<String> = table.heads.iter().take(1).cloned().collect();
    for head in table.heads.iter().skip(1) {
        for unit in units {
            heads.push(format!("{head} {unit}").trim().to_owned());
        }
    }
    table.heads = heads;
    for (row, other) in table.rows.iter_mut().zip(&second.rows) {
        interleave(row, other, 1);
    }
    table
}

/// Puts each item of a second list behind its own of the first, from a place on.
fn interleave(first: &mut Vec<String>, second: &[String], from: usize) {
    let mut all: Vec<String> = first.iter().take(from).cloned().collect();
    for (one, other) in first.iter().zip(second).skip(from) {
        all.extend([one.clone(), other.clone()]);
    }
    *first = all;
}
