//! `chart --form nodes`: the fewest nodes of a saturation line, for an instrument to read between.

use serde_json::json;

use crate::chart::{Line, Request, Rows, nodes};
use crate::cli::errors::Failure;
use crate::output::{number, number_cell};
use crate::page::{Block, Document, Sheet, Table};
use crate::units::Temperature;

pub(crate) fn answer(asked: &Request) -> Result<Document, Failure> {
    let Rows::Temperatures(values) = &asked.rows else {
        return Err(Failure::usage(
            "nodes lie between two temperatures",
            "give them, for example --from -40C --to 60C",
        ));
    };
    let kelvin = values
        .iter()
        .map(|value| asked.temperature_unit.write(*value).in_kelvin());
    let (low, high) = kelvin.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    let heads = [
        "refrigerant",
        "line",
        "temperature_K",
        "pressure_Pa",
        "ln_pressure",
        "largest_error_K",
    ];
    let mut sheet = Sheet {
        heads: heads.map(str::to_owned).to_vec(),
        rows: Vec::new(),
    };
    let mut lines = vec![
        "Between two nodes temperature is linear in the natural logarithm of the absolute \
         pressure in Pa."
            .to_owned(),
    ];
    let mut json_rows = Vec::new();
    for refrigerant in &asked.refrigerants {
        let chosen: &[Line] = if refrigerant.is_pure() {
            &[Line::Saturation]
        } else {
            &[Line::Bubble, Line::Dew]
        };
        for line in chosen {
            let (from, to) = (Temperature::kelvin(low), Temperature::kelvin(high));
            let found = nodes(refrigerant, *line, from, to, asked.choices.resolution)?;
            let word = match line {
                Line::Saturation => "saturation",
                line => line.word(),
            };
            let name = refrigerant.designation();
            for node in &found {
                let (kelvin, pascal) = (node.temperature.in_kelvin(), node.pressure.in_pascal());
                // A temperature on the raster of the scan, without the noise of its sums.
                let kelvin = (kelvin * 1e6).round() / 1e6;
                let error = (node.largest_error * 1e6).ceil() / 1e6;
                sheet.rows.push(vec![
                    name.to_owned(),
                    word.to_owned(),
                    number_cell(Some(kelvin)),
                    number_cell(Some(pascal)),
                    format!("{:.7}", pascal.ln()),
                    number_cell(Some(error)),
                ]);
                json_rows.push(json!({
                    "refrigerant": name,
                    "line": word,
                    "temperature_K": number(kelvin),
                    "pressure_Pa": number(pascal),
                    "largest_error_K": number(error),
                }));
            }
            let worst = found
                .iter()
                .map(|node| node.largest_error)
                .fold(0.0, f64::max);
            let end = found
                .last()
                .map_or(high, |node| node.temperature.in_kelvin());
            lines.push(format!(
                "{name} {word}: {} nodes from {low:.2} K to {end:.2} K; largest error on a dense \
                 scan {worst:.4} K.",
                found.len()
            ));
            if end < high - 1e-6 {
                lines.push(format!("{name} {word}: the line ends before {high:.2} K."));
            }
        }
    }
    lines.push("The equation's own error comes on top.".to_owned());
    Ok(Document {
        blocks: vec![
            Block::Title("Nodes of saturation lines".to_owned()),
            Block::Table(Table {
                groups: Vec::new(),
                heads: sheet.heads.clone(),
                rows: sheet.rows.clone(),
                words: 2,
            }),
            Block::Lines(lines.clone()),
        ],
        json: json!({"nodes": json_rows, "notes": lines}),
        sheet,
        warnings: Vec::new(),
        ..Document::default()
    })
}
