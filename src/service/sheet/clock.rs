//! Times of a log as loggers write them.

use crate::service::date::Day;
use crate::units::DateOrder;
use crate::{Error, Result};

/// How a column of times is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Clock {
    /// Numbers, each of so many seconds.
    Seconds(f64),
    /// Date and time, or a time of day; which of two numbers of a date such as 11/12/2026 is the
    /// month.
    Written(DateOrder),
}

impl Clock {
    /// The clock of a column's head: `time_s`, `time_min`, `time_h`, or `time`, `timestamp`,
    /// `date_time`; `None` where it is no column of times.
    pub fn named(head: &str) -> Option<Self> {
        let head = head.trim().to_lowercase().replace([' ', '-'], "_");
        match head.as_str() {
            "time_s" | "time_(s)" => Some(Self::Seconds(1.0)),
            "time_min" | "time_(min)" => Some(Self::Seconds(60.0)),
            "time_h" | "time_(h)" => Some(Self::Seconds(3600.0)),
            "time" | "timestamp" | "date_time" | "datetime" | "date/time" => {
                Some(Self::Written(DateOrder::Unknown))
            }
            _ => None,
        }
    }

    /// The same clock, dates with two readings read in an order.
    pub const fn in_order(self, order: DateOrder) -> Self {
        match self {
            Self::Written(_) => Self::Written(order),
            seconds => seconds,
        }
    }

    /// The time of a cell, in seconds from wherever the column counts.
    ///
    /// `2026-10-01T12:30:00`, a blank in place of the T, seconds or not, with or without a zone's
    /// `Z` or offset (`+02:00`, `+0200`, `+02`); `11/28/2026 12:03 AM`, `28.11.2026 00:03`,
    /// `28-Nov-2026 12:30`; `12:30`, `12:30:15` and `12:30 PM` as times of one day.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no time, or a date with two readings whose order is unknown.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::sheet::Clock;
    /// use zeotrope::units::DateOrder;
    /// let at = |text| Clock::Written(DateOrder::Unknown).seconds(text).unwrap();
    /// assert_eq!(at("2026-03-01T00:00:30") - at("2026-02-28 23:59"), 90.0);
    /// assert_eq!(at("2026-03-01T02:00:00+0200"), at("2026-03-01T00:00Z"));
    /// assert_eq!(at("11/28/2026 12:03 AM"), at("28.11.2026 00:03"));
    /// ```
    pub fn seconds(self, cell: &str) -> Result<f64> {
        let wrong = |problem: &str, hint: &str| Error::Value {
            quantity: "time",
            text: cell.chars().take(40).collect(),
            problem: problem.into(),
            hint: hint.into(),
        };
        const WRITE: &str = "write 2026-10-01T12:30:00 or 12:30:00 in a column 'time', or numbers \
                             in a column time_s, time_min or time_h";
        let cell = cell.trim();
        match self {
            Self::Seconds(size) => cell
                .parse::<f64>()
                .ok()
                .filter(|number| number.is_finite())
                .map(|number| number * size)
                .ok_or_else(|| wrong("is not a time", WRITE)),
            Self::Written(order) => match written(cell, order) {
                Some(time) => Ok(time),
                None if order == DateOrder::Unknown && two_readings(cell) => Err(wrong(
                    "has two readings: month first or day first",
                    "say which, or write the year first: 2026-11-28",
                )),
                None => Err(wrong("is not a time", WRITE)),
            },
        }
    }

    /// What a cell says about the order of day and month, if anything.
    pub fn order_of(cell: &str) -> DateOrder {
        let (date, _) = parted(cell.trim());
        match (
            written(date, DateOrder::MonthFirst).is_some() && numbers(date).is_some(),
            written(date, DateOrder::DayFirst).is_some(),
        ) {
            (true, false) => DateOrder::MonthFirst,
            (false, true) if numbers(date).is_some() => DateOrder::DayFirst,
            _ => DateOrder::Unknown,
        }
    }
}

/// Whether a date can be read month first and day first.
pub fn two_readings(cell: &str) -> bool {
    let (date, _) = parted(cell.trim());
    let read = |order| written(date, order);
    let both = read(DateOrder::MonthFirst).zip(read(DateOrder::DayFirst));
    numbers(date).is_some() && both.is_some_and(|(month, day)| month != day)
}

/// A date and the time of day behind it.
fn parted(text: &str) -> (&str, &str) {
    // The time of day begins at the word that holds the first colon.
    let Some(colon) = text.find(':') else {
        return (text, "");
    };
    match text[..colon].rfind(['T', ' ']) {
        Some(at) => (text[..at].trim_end_matches([' ', ',']), &text[at + 1..]),
        None => ("", text),
    }
}

fn written(text: &str, order: DateOrder) -> Option<f64> {
    let (date, clock) = parted(text);
    let day = match date {
        "" => 0.0,
        date => day(date, order)?.number() as f64 * 86_400.0,
    };
    if clock.is_empty() {
        return (!date.is_empty()).then_some(day);
    }
    let (clock, zone) = split_zone(clock)?;
    Some(day + of_day(clock)? - zone)
}

/// A time of day without its zone, and the zone's seconds east.
fn split_zone(text: &str) -> Option<(&str, f64)> {
    if let Some(clock) = text.strip_suffix('Z') {
        return Some((clock, 0.0));
    }
    let Some(at) = text.find(['+', '-']) else {
        return Some((text, 0.0));
    };
    let sign = match text.as_bytes()[at] {
        b'-' => -1.0,
        _ => 1.0,
    };
    let offset = &text[at + 1..];
    let (hours, minutes) = match (offset.len(), offset.split_once(':')) {
        (_, Some((hours, minutes))) => (hours, minutes),
        (4, None) if offset.is_ascii() => offset.split_at(2),
        (1 | 2, None) => (offset, "0"),
        _ => return None,
    };
    let (hours, minutes) = (whole(hours, 24)?, whole(minutes, 60)?);
    Some((
        text[..at].trim_end(),
        sign * (hours * 3600.0 + minutes * 60.0),
    ))
}

/// A whole number of one or two digits below some number.
fn whole(text: &str, below: u32) -> Option<f64> {
    let is_digits = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    let number: u32 = is_digits.then(|| text.parse().ok()).flatten()?;
    (number < below).then_some(f64::from(number))
}

/// Seconds of a time of day, `12:30`, `12:30:15.5` or `12:30 PM`.
fn of_day(text: &str) -> Option<f64> {
    let text = text.trim();
    let lower = text.to_ascii_lowercase().replace(['.', ' '], "");
    let half = ["am", "pm"].iter().position(|half| lower.ends_with(half));
    let figures = match half {
        Some(_) => text.trim_end_matches(|last: char| !last.is_ascii_digit()),
        None => text,
    };
    let mut parts = figures.split(':');
    let hours = whole(parts.next()?, 24)?;
    let minutes = whole(parts.next()?, 60)?;
    let seconds = match (parts.next(), parts.next()) {
        (None, None) => 0.0,
        (Some(only), None) => only
            .replace(',', ".")
            .parse::<f64>()
            .ok()
            .filter(|seconds| (0.0..61.0).contains(seconds))?,
        _ => return None,
    };
    let hours = match half {
        None => hours,
        // 12:03 AM is three minutes past midnight.
        Some(half) if (1.0..=12.0).contains(&hours) => hours % 12.0 + 12.0 * half as f64,
        Some(_) => return None,
    };
    Some(hours * 3600.0 + minutes * 60.0 + seconds)
}

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];

/// The three numbers of a date whose year does not come first, where their order has to be known:
/// dates with points have the day first (common practice, no source).
fn numbers(date: &str) -> Option<[u32; 3]> {
    let parts: Vec<&str> = date.split(['/', '-']).collect();
    let [first, second, year] = parts.as_slice() else {
        return None;
    };
    if first.len() > 2 || second.len() > 2 || !matches!(year.len(), 2 | 4) {
        return None;
    }
    let number = |text: &str| text.parse::<u32>().ok();
    Some([number(first)?, number(second)?, number(year)?])
}

/// The day as written.
fn day(date: &str, order: DateOrder) -> Option<Day> {
    let (year, month, day) = figures(date, order)?;
    Day::new(
        year.try_into().ok()?,
        month.try_into().ok()?,
        day.try_into().ok()?,
    )
}

/// Year, month and day as written.
fn figures(date: &str, order: DateOrder) -> Option<(u32, u32, u32)> {
    // A year of two digits is one of this century.
    let full = |year: u32| if year < 100 { 2000 + year } else { year };
    if let Some([first, second, year]) = numbers(date) {
        return match order {
            DateOrder::MonthFirst => Some((full(year), first, second)),
            DateOrder::DayFirst => Some((full(year), second, first)),
            DateOrder::Unknown if first == second || second > 12 => {
                Some((full(year), first, second))
            }
            DateOrder::Unknown if first > 12 => Some((full(year), second, first)),
            DateOrder::Unknown => None,
        };
    }
    let parts: Vec<&str> = date
        .split(['/', '-', '.', ' ', ','])
        .filter(|part| !part.is_empty())
        .collect();
    let [a, b, c] = parts.as_slice() else {
        return None;
    };
    let number = |text: &str| {
        let is_digits = text.bytes().all(|byte| byte.is_ascii_digit());
        is_digits.then(|| text.parse::<u32>().ok()).flatten()
    };
    let month = |text: &str| {
        let start = text.get(..3)?.to_lowercase();
        let at = MONTHS.iter().position(|name| *name == start)?;
        Some(at as u32 + 1)
    };
    let is_year = |text: &str| text.len() == 4;
    match (number(a), number(b), number(c)) {
        (Some(year), Some(month), Some(day)) if is_year(a) => Some((year, month, day)),
        (Some(day), Some(month), Some(year)) if date.contains('.') => {
            Some((full(year), month, day))
        }
        (Some(day), None, Some(year)) => Some((full(year), month(b)?, day)),
        (None, Some(day), Some(year)) if is_year(c) => Some((year, month(a)?, day)),
        _ => None,
    }
}
