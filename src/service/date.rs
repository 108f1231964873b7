//! Days as ISO 8601 writes them.

/// Reads a day of the Gregorian calendar from 1970 on, such as `2026-10-01`.
///
/// For the date of a print, of a gauge's check or of a row in a log. Year, month and day; `None`
/// where the calendar has no such day or the figures are not four, two and two.
///
/// # Example
/// ```
/// use zeotrope::service::date::parse_date;
/// assert_eq!(parse_date("2028-02-29"), Some((2028, 2, 29)));
/// assert_eq!(parse_date("2026-02-29"), None);
/// ```
pub fn parse_date(text: &str) -> Option<(u16, u8, u8)> {
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
    let (year, month, day): (u16, u8, u8) =
        (year.parse().ok()?, month.parse().ok()?, day.parse().ok()?);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let last = match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    (year >= 1970 && (1..=12).contains(&month) && (1..=last).contains(&day))
        .then_some((year, month, day))
}

/// The day of the Gregorian calendar at so many seconds since 1970, up to the year 9999.
///
/// Counted in eras of 400 years that begin on the first of March.
///
/// # Example
/// ```
/// use zeotrope::service::date::{day_at, written};
/// assert_eq!(day_at(951_782_400).map(written), Some("2000-02-29".into()));
/// ```
pub fn day_at(seconds: u64) -> Option<(u16, u8, u8)> {
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
    Some((year, month as u8, day as u8)).filter(|(year, _, _)| *year <= 9999)
}

/// A day as ISO 8601 writes it.
pub fn written((year, month, day): (u16, u8, u8)) -> String {
    format!("{year:04}-{month:02}-{day:02}")
}
