//! Tables that a page is solved with, so that no other is needed.

use super::super::{Block, Style, Table};
use crate::Branch;
use crate::chart::exercise::{CoilTask, PressureTable};
use crate::page::words::charts::{COLUMN_BUBBLE, COLUMN_DEW};
use crate::page::words::exercise::*;

/// Saturation pressures that readings are looked up in.
pub(super) fn pressures(table: &PressureTable, style: &Style) -> [Block; 2] {
    let unit = style.units.gauge;
    let mut heads = vec![style.units.temperature.symbol().to_owned()];
    heads.extend(table.columns.iter().map(|column| {
        let line = match column.branch {
            Some(Branch::Bubble) => style.word(COLUMN_BUBBLE),
            Some(Branch::Dew) => style.word(COLUMN_DEW),
            None => String::new(),
        };
        format!("{} {line}", column.refrigerant).trim().to_owned()
    }));
    let decimals = if style.units.feet { 1 } else { 2 };
    let rows = table.rows.iter().enumerate().map(|(at, temperature)| {
        let cells = table.columns.iter().map(|column| {
            let pressure = column.pressures.get(at).copied().flatten();
            pressure.map_or_else(String::new, |pressure| {
                style.fixed(unit.read(pressure, &style.site), decimals)
            })
        });
        std::iter::once(style.fixed(*temperature, 0))
            .chain(cells)
            .collect()
    });
    [
        Block::Lines(vec![style.say(EXERCISE_TABLE, &[("unit", unit.words())])]),
        Block::Table(Table {
            heads,
            rows: rows.collect(),
            ..Table::default()
        }),
    ]
}

/// Enthalpies that a coil is filled in from.
pub(super) fn boiling(task: &CoilTask, style: &Style) -> [Block; 2] {
    let unit = style.units.enthalpy;
    let decimals = if style.units.feet { 2 } else { 1 };
    let figure = |joule: f64| style.fixed(joule / unit.joule_per_kg(), decimals);
    let mut lines = vec![style.word(EXERCISE_COIL_TABLE)];
    if let (Some(_), Some(first)) = (&task.coil.inlet, task.coil.stations.first()) {
        let enthalpy = format!("{} {}", figure(first.enthalpy), unit.typed());
        lines.push(style.say(EXERCISE_COIL_LIQUID, &[("enthalpy", &enthalpy)]));
    }
    // One substance has one temperature: its two ends are all there is to tell.
    let every = match task.boiling.glide.in_kelvin() > 0.0 {
        true => 2,
        false => task.boiling.stations.len().saturating_sub(1).max(1),
    };
    let degrees = style.units.temperature;
    let rows = task.boiling.stations.iter().step_by(every).map(|station| {
        vec![
            style.fixed(degrees.read(station.temperature), 2),
            figure(station.enthalpy),
        ]
    });
    let table = Table {
        heads: vec![
            degrees.symbol().to_owned(),
            style.say(EXERCISE_ENTHALPY, &[("unit", unit.typed())]),
        ],
        rows: rows.collect(),
        ..Table::default()
    };
    [Block::Lines(lines), Block::Table(table)]
}
