//! What rows of a file have no room for.

use super::words::sheet::*;
use super::{Style, Wrong};
use crate::service::sheet::Tally;

/// Why a file has no answer in any of its rows, and what to do; `None` where one has.
pub fn no_rows(tally: &Tally, file: &str, style: &Style) -> Option<Wrong> {
    if tally.rows == 0 {
        return Some(Wrong {
            message: style.say(SHEET_EMPTY, &[("file", file)]),
            hint: style.word(SHEET_EMPTY_HINT),
        });
    }
    let (row, error) = tally.first_error.as_ref()?;
    let (all, row) = (tally.rows.to_string(), row.to_string());
    let blanks = [("all", all.as_str()), ("row", &row), ("error", error)];
    (tally.answered == 0).then(|| Wrong {
        message: style.say(SHEET_NONE, &blanks),
        hint: style.word(SHEET_NONE_HINT),
    })
}

/// What to know about the rows, a line each, with its short name for programs.
pub fn row_notes(tally: &Tally, file: &str, style: &Style) -> Vec<String> {
    let mut notes = Vec::new();
    if tally.slips.count > 0 {
        let count = tally.slips.count.to_string();
        let rows = match tally.slips.count {
            1 => style.word(SHEET_ROW),
            _ => style.say(SHEET_ROWS, &[("count", &count)]),
        };
        let line = tally.slips.first_line.to_string();
        let blanks = [("file", file), ("line", &line), ("rows", &rows)];
        notes.push(style.say(SHEET_MARK, &blanks));
    }
    for (warning, rows, first) in &tally.warnings {
        let phrase = match *rows {
            rows if rows == tally.rows => SHEET_WARNING,
            1 => SHEET_WARNING_ONE,
            _ => SHEET_WARNING_SOME,
        };
        let (text, count, first) = (warning.to_string(), rows.to_string(), first.to_string());
        let blanks = [
            ("text", text.as_str()),
            ("code", warning.code()),
            ("count", &count),
            ("first", &first),
        ];
        notes.push(style.say(phrase, &blanks));
    }
    if let Some((row, error)) = tally.first_error.as_ref().filter(|_| tally.answered > 0) {
        let lack = lack(tally, style);
        let row = row.to_string();
        let blanks = [("lack", lack.as_str()), ("row", &row), ("error", error)];
        notes.push(style.say(SHEET_UNANSWERED, &blanks));
    }
    notes
}

/// How many rows lack an answer, and how many a part of it.
fn lack(tally: &Tally, style: &Style) -> String {
    let all = tally.rows.to_string();
    let of = |count: u64, one, several| {
        let phrase = if count == 1 { one } else { several };
        style.say(phrase, &[("count", &count.to_string()), ("all", &all)])
    };
    match (tally.unanswered(), tally.in_part()) {
        (0, partial) if partial > 0 => of(partial, SHEET_LACKS_PART, SHEET_LACK_PART),
        (without, 0) => of(without, SHEET_LACKS_ANSWER, SHEET_LACK_ANSWER),
        (without, partial) => {
            let lack = of(without, SHEET_LACKS_ANSWER, SHEET_LACK_ANSWER);
            let count = partial.to_string();
            style.say(SHEET_AND_PART, &[("lack", &lack), ("count", &count)])
        }
    }
}
