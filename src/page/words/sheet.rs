//! Rows of a file: what stands beside them.

use super::Phrase;

phrases! {
    SHEET_MARK = "{file}, line {line}: a quotation mark is not closed, or text follows it; it was read as a character ({rows}) (quotation_mark)";
    SHEET_ROW = "1 row";
    SHEET_ROWS = "{count} rows";
    SHEET_WARNING = "{text} ({code})";
    SHEET_WARNING_ONE = "{text} ({code}, row {first})";
    SHEET_WARNING_SOME = "{text} ({code}, {count} rows, the first {first})";
    SHEET_LACKS_ANSWER = "{count} of {all} rows lacks an answer";
    SHEET_LACK_ANSWER = "{count} of {all} rows lack an answer";
    SHEET_LACKS_PART = "{count} of {all} rows lacks a part of it";
    SHEET_LACK_PART = "{count} of {all} rows lack a part of it";
    SHEET_AND_PART = "{lack}, {count} a part of it";
    SHEET_UNANSWERED = "{lack}, see column 'error'; row {row}: {error} (unanswered)";
    SHEET_EMPTY = "{file} has column headers and no rows";
    SHEET_EMPTY_HINT = "rows belong below the line that names the columns";
    SHEET_NONE = "none of {all} rows has an answer; row {row}: {error}";
    SHEET_NONE_HINT = "the column 'error' says why of each row";
}
