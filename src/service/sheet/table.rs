//! A small table that a person wrote: all of it in memory.

use super::{Decimal, Dialect, Reader, Record};

/// The rows of a text: its separator is recognised, cells are trimmed, decimal commas become points;
/// blank rows and rows that begin with `#` are left out.
///
/// # Example
/// ```
/// use zeotrope::service::sheet::table;
/// let rows = table("\u{feff}# by hand\nF; 60\n80;10,5\n".as_bytes());
/// assert_eq!(rows, [["F", "60"], ["80", "10.5"]]);
/// ```
pub fn table(text: &[u8]) -> Vec<Vec<String>> {
    let lines = text.split(|byte| matches!(byte, b'\n' | b'\r'));
    let mut lines = lines.map(|line| line.strip_prefix(b"\xef\xbb\xbf").unwrap_or(line));
    let is_row = |line: &&[u8]| !line.trim_ascii().is_empty() && !line.starts_with(b"#");
    let separator = Dialect::separator_of(lines.find(is_row).unwrap_or_default());
    let mut reader = Reader::new(text, separator);
    let (mut rows, mut row) = (Vec::new(), Record::default());
    // What stands in memory is read without an error.
    while let Ok(true) = reader.read(&mut row) {
        let cells = row.iter().map(|cell| {
            let cell = String::from_utf8_lossy(cell);
            cell.trim_start_matches('\u{feff}').trim().to_owned()
        });
        let cells: Vec<String> = cells.collect();
        let is_comment = cells.first().is_some_and(|cell| cell.starts_with('#'));
        if !is_comment && cells.iter().any(|cell| !cell.is_empty()) {
            rows.push(cells);
        }
    }
    let has_commas = |cell: &String| cell.contains(',');
    if separator != b',' && rows.iter().flatten().any(has_commas) {
        let cells = rows.iter().flatten().map(String::as_str);
        let decimal = Decimal::from_cells(cells).unwrap_or(Decimal::Comma);
        for cell in rows.iter_mut().flatten() {
            *cell = decimal.plain(cell).unwrap_or_else(|| cell.clone());
        }
    }
    rows
}
