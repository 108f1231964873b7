//! Words of a chart for its gaps and columns.

use super::Style;
use super::words::charts::*;
use super::words::print::GAP_MARK;
use crate::chart::{ColumnLine, Gap, Within};

/// The word in place of a number.
pub(super) fn gap_in_words(gap: Gap, style: &Style) -> String {
    style.word(match gap {
        Gap::AboveCritical => GAP_ABOVE_CRITICAL,
        Gap::BelowRange => GAP_BELOW_RANGE,
        Gap::AboveRange => GAP_ABOVE_RANGE,
        Gap::NotKnown => GAP_NOT_KNOWN,
        Gap::NoAnswer => GAP_NO_ANSWER,
    })
}

/// The short mark in place of a number, explained below the table.
pub(super) fn gap_mark(gap: Gap, style: &Style) -> String {
    match gap {
        Gap::AboveCritical | Gap::BelowRange | Gap::AboveRange => style.word(GAP_MARK),
        other => gap_in_words(other, style),
    }
}

/// The word over a column; empty for a pure refrigerant.
pub(super) fn column_in_words(line: ColumnLine, style: &Style) -> String {
    match line {
        ColumnLine::Saturation => String::new(),
        ColumnLine::Bubble => style.word(COLUMN_BUBBLE),
        ColumnLine::Dew => style.word(COLUMN_DEW),
        ColumnLine::Mean => style.word(COLUMN_MEAN),
    }
}

pub(super) fn within_in_words(within: Within, style: &Style) -> String {
    match within {
        Within::Nominal => String::new(),
        Within::Lowest => style.word(COLUMN_LOWEST),
        Within::Highest => style.word(COLUMN_HIGHEST),
    }
}
