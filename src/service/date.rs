//! Days of the Gregorian calendar.

use std::fmt;

use crate::{Error, Result};

/// A day of the Gregorian calendar, written as ISO 8601 does.
///
/// For the date of a print, of a gauge's check or of a row in a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u16,
    month: u8,
    day: u8,
}

impl Day {
    /// A day; `None` where the calendar has none such.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let leap =
            year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let last = match month {
            2 if leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            1..=12 => 31,
            _ => return None,
        };
        (1..=last)
            .contains(&day)
            .then_some(Self { year, month, day })
    }

    /// Reads a day from 1970 on, such as `2026-10-01`; `None` where the calendar has no such day or
    /// the figures are not four, two and two.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::date::Day;
    /// assert_eq!(Day::parse("2028-02-29"), Day::new(2028, 2, 29));
    /// assert_eq!(Day::parse("2026-02-29"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Self> {
        let parts: Vec<&str> = text.split('-').collect();
        let [year, month, day] = parts.as_slice() else {
            return None;
        };
        let digits = |part: &str, count: usize| {
            part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit())
        };
        if !(digits(year, 4) && digits(month, 2) && digits(day, 2)) {
            return None;
        }
        let day = Self::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)?;
        (day.year >= 1970).then_some(day)
    }

    /// As [`Day::parse`], for a day that has to be one.
    ///
    /// # Errors
    /// [`Error::Value`] where it is none.
    pub fn read(text: &str) -> Result<Self> {
        Self::parse(text).ok_or_else(|| Error::Value {
            quantity: "day",
            text: text.to_owned(),
            problem: "is not a date".into(),
            hint: "write year, month and day, for example 2026-05-31".into(),
        })
    }

    /// The day at so many seconds since 1970, up to the year 9999.
    ///
    /// Counted in eras of 400 years that begin on the first of March.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::date::Day;
    /// assert_eq!(Day::at_seconds(951_782_400).unwrap().to_string(), "2000-02-29");
    /// ```
    pub fn at_seconds(seconds: u64) -> Option<Self> {
        let days = seconds / 86_400 + 719_468;
        let (era, of_era) = (days / 146_097, days % 146_097);
        let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let month = (5 * of_year + 2) / 153;
        let day = of_year - (153 * month + 2) / 5 + 1;
        let (month, later) = if month < 10 {
            (month + 3, 0)
        } else {
            (month - 9, 1)
        };
        let year = u16::try_from(era * 400 + year_of_era + later).ok()?;
        Self::new(year, month as u8, day as u8).filter(|day| day.year <= 9999)
    }

    /// Days since 1 March of year 0.
    ///
    /// A year begun in March has its leap day last, so that days before a month are
    /// floor((153 m + 2)/5), m counted from March.
    pub fn number(self) -> i64 {
        let (year, month) = (i64::from(self.year), i64::from(self.month));
        let (year, month) = if month > 2 {
            (year, month - 3)
        } else {
            (year - 1, month + 9)
        };
        let leap = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        365 * year + leap + (153 * month + 2) / 5 + i64::from(self.day) - 1
    }

    /// The year.
    pub const fn year(self) -> u16 {
        self.year
    }

    /// The month, from 1.
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from 1.
    pub const fn day(self) -> u8 {
        self.day
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}
