//! A log of readings: extremes, mean and trend of what was read, one value at a time, so that a
//! log of any length needs no memory.
//!
//! Mean and sums of squares are updated as in Welford, Technometrics 4 (1962) 419; the trend is the
//! slope of the straight line of least squares.

use crate::service::date::parse_date;
use crate::{Error, Result};

/// Extremes, mean and trend of a quantity over time.
///
/// # Units
/// Of the quantity; the trend per second where times are in seconds.
///
/// # Example
/// ```
/// use zeotrope::service::reading::log::Statistics;
/// let mut seen = Statistics::default();
/// for (time, value) in [(0.0, 4.0), (60.0, 5.0), (120.0, 6.0)] {
///     seen.add(time, value);
/// }
/// assert_eq!((seen.min(), seen.max(), seen.mean()), (Some(4.0), Some(6.0), Some(5.0)));
/// assert!((seen.trend().unwrap() - 1.0 / 60.0).abs() < 1e-15);
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Statistics {
    count: u64,
    min: f64,
    max: f64,
    mean: f64,
    mean_time: f64,
    /// Sum of (t - mean t)^2.
    spread: f64,
    /// Sum of (t - mean t)(v - mean v).
    together: f64,
}

impl Statistics {
    /// Takes in a value at a time.
    pub fn add(&mut self, time: f64, value: f64) {
        if self.count == 0 {
            (self.min, self.max) = (value, value);
        }
        self.count += 1;
        self.min = self.min.min(value);
        self.max = self.max.max(value);
        let count = self.count as f64;
        let off_time = time - self.mean_time;
        self.mean_time += off_time / count;
        self.mean += (value - self.mean) / count;
        self.spread += off_time * (time - self.mean_time);
        self.together += off_time * (value - self.mean);
    }

    /// How many values there were.
    pub const fn count(&self) -> u64 {
        self.count
    }

    /// The lowest.
    pub fn min(&self) -> Option<f64> {
        (self.count > 0).then_some(self.min)
    }

    /// The highest.
    pub fn max(&self) -> Option<f64> {
        (self.count > 0).then_some(self.max)
    }

    /// The mean of the values, each counting alike.
    pub fn mean(&self) -> Option<f64> {
        (self.count > 0).then_some(self.mean)
    }

    /// The slope of the straight line of least squares; `None` where all times are one.
    pub fn trend(&self) -> Option<f64> {
        (self.count > 1 && self.spread > 0.0).then(|| self.together / self.spread)
    }
}

/// Points of a curve for a picture, of which at most a given number is kept: every second one is
/// dropped whenever there are too many, so that those left stay evenly spread.
#[derive(Debug, Clone, PartialEq)]
pub struct Thinned {
    most: usize,
    every: u64,
    seen: u64,
    points: Vec<(f64, f64)>,
}

impl Thinned {
    /// Keeps at most `most` points, of two or more.
    pub fn new(most: usize) -> Self {
        Self {
            most: most.max(2),
            every: 1,
            seen: 0,
            points: Vec::new(),
        }
    }

    /// Takes in a point.
    pub fn add(&mut self, x: f64, y: f64) {
        if self.seen.is_multiple_of(self.every) {
            self.points.push((x, y));
            if self.points.len() > self.most {
                let mut place = 0;
                self.points.retain(|_| {
                    place += 1;
                    place % 2 == 1
                });
                self.every *= 2;
            }
        }
        self.seen += 1;
    }

    /// The points kept.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Of how many points one was kept.
    pub const fn every(&self) -> u64 {
        self.every
    }
}

/// How a column of times is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Clock {
    /// Numbers, each of so many seconds.
    Seconds(f64),
    /// Date and time as ISO 8601 has them, or a time of day.
    Written,
}

impl Clock {
    /// The clock of a column's head: `time_s`, `time_min`, `time_h`, or `time` and `timestamp`;
    /// `None` where it is no column of times.
    pub fn named(head: &str) -> Option<Self> {
        match head.trim().to_lowercase().as_str() {
            "time_s" | "time (s)" => Some(Self::Seconds(1.0)),
            "time_min" | "time (min)" => Some(Self::Seconds(60.0)),
            "time_h" | "time (h)" => Some(Self::Seconds(3600.0)),
            "time" | "timestamp" | "date_time" | "datetime" => Some(Self::Written),
            _ => None,
        }
    }

    /// The time of a cell, in seconds from wherever the column counts.
    ///
    /// `2026-10-01T12:30:00`, a blank in place of the T, seconds or not, with or without a zone's
    /// `Z` or offset; `12:30` and `12:30:15` as times of one day.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no time.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::reading::log::Clock;
    /// let at = |text| Clock::Written.seconds(text).unwrap();
    /// assert_eq!(at("2026-03-01T00:00:30") - at("2026-02-28 23:59"), 90.0);
    /// assert_eq!(at("2026-03-01T02:00:00+02:00"), at("2026-03-01T00:00Z"));
    /// ```
    pub fn seconds(self, cell: &str) -> Result<f64> {
        let wrong = || Error::Value {
            quantity: "time",
            text: cell.chars().take(40).collect(),
            problem: "is no time".into(),
            hint: "write 2026-10-01T12:30:00 or 12:30:00 in a column 'time', or numbers in a \
                   column time_s, time_min or time_h"
                .into(),
        };
        match self {
            Self::Seconds(size) => cell
                .trim()
                .parse::<f64>()
                .ok()
                .filter(|number| number.is_finite())
                .map(|number| number * size)
                .ok_or_else(wrong),
            Self::Written => written(cell.trim()).ok_or_else(wrong),
        }
    }
}

fn written(text: &str) -> Option<f64> {
    match text.split_once(['T', ' ']) {
        Some((date, rest)) => {
            let (clock, zone) = split_zone(rest)?;
            Some(days(date)? * 86_400.0 + of_day(clock)? - zone)
        }
        None => of_day(text),
    }
}

/// A time of day without its zone, and the zone's seconds east.
fn split_zone(text: &str) -> Option<(&str, f64)> {
    if let Some(clock) = text.strip_suffix('Z') {
        return Some((clock, 0.0));
    }
    match text.find(['+', '-']) {
        Some(at) => {
            let sign = if text.as_bytes()[at] == b'-' {
                -1.0
            } else {
                1.0
            };
            Some((&text[..at], sign * of_day(&text[at + 1..])?))
        }
        None => Some((text, 0.0)),
    }
}

/// Seconds of a time of day, `12:30` or `12:30:15.5`.
fn of_day(text: &str) -> Option<f64> {
    let mut parts = text.split(':');
    let mut next = |most: f64| {
        parts
            .next()
            .filter(|part| part.bytes().all(|b| b.is_ascii_digit() || b == b'.'))
            .and_then(|part| part.parse::<f64>().ok())
            .filter(|number| *number < most)
    };
    let hours = next(24.0)?;
    let minutes = next(60.0)?;
    let rest: Vec<&str> = parts.collect();
    let seconds = match rest.as_slice() {
        [] => 0.0,
        [only] => only
            .parse::<f64>()
            .ok()
            .filter(|s| (0.0..61.0).contains(s))?,
        _ => return None,
    };
    Some(hours * 3600.0 + minutes * 60.0 + seconds)
}

/// Days of a date of the Gregorian calendar since 1 March of year 0.
///
/// A year begun in March has its leap day last, so that days before a month are
/// floor((153 m + 2)/5), m counted from March.
fn days(date: &str) -> Option<f64> {
    let (year, month, day) = parse_date(date)?;
    let (year, month, day) = (i64::from(year), i64::from(month), i64::from(day));
    let (year, month) = if month > 2 {
        (year, month - 3)
    } else {
        (year - 1, month + 9)
    };
    let leap = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    Some((365 * year + leap + (153 * month + 2) / 5 + day - 1) as f64)
}
