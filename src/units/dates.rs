//! Which number of a date is its month.

/// The order of day and month in dates such as 11/12/2026.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum DateOrder {
    /// Not known: such a date has two readings.
    #[default]
    Unknown,
    /// Month, day, year.
    MonthFirst,
    /// Day, month, year.
    DayFirst,
}
