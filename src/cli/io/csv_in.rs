//! Tables that a person hands in as CSV.

use std::path::Path;

use crate::cli::errors::Failure;

/// The rows of a file, cells trimmed, empty lines and lines begun by `#` left out.
pub(crate) fn rows(path: &Path) -> Result<Vec<Vec<String>>, Failure> {
    let shown = path.display();
    let text = std::fs::read_to_string(path).map_err(|problem| {
        Failure::no_answer(
            format!("{shown} could not be read: {problem}"),
            "give the name of a CSV file in UTF-8",
        )
    })?;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|problem| {
            Failure::no_answer(
                format!("{shown} is not CSV: {problem}"),
                "separate cells by commas",
            )
        })?;
        if record.iter().any(|cell| !cell.is_empty()) {
            rows.push(record.iter().map(str::to_owned).collect());
        }
    }
    Ok(rows)
}

/// A number in a cell; rows and columns are counted from 1 as a person counts them.
pub(crate) fn number(path: &Path, text: &str, row: usize, column: usize) -> Result<f64, Failure> {
    let clean = text.replace('\u{2212}', "-");
    match clean.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err(Failure::no_answer(
            format!(
                "{}: row {row}, column {column}: '{text}' is not a number",
                path.display()
            ),
            "write bare numbers with a point as decimal sign",
        )),
    }
}
