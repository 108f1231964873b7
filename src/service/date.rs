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
