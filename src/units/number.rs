//! Numbers as text, rounded once.

/// A number with a fixed count of decimals; what rounds to zero bears no sign.
///
/// # Example
/// ```
/// use zeotrope::units::fixed;
/// assert_eq!(fixed(-0.04, 1), "0.0");
/// assert_eq!(fixed(-12.34, 1), "-12.3");
/// ```
pub fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

/// A number to at most a count of significant digits, without zeros at its end.
///
/// # Example
/// ```
/// use zeotrope::units::short;
/// assert_eq!(short(70.000_000_000_1, 6), "70");
/// assert_eq!(short(-0.000_000_000_1, 6), "0");
/// ```
pub fn short(value: f64, digits: usize) -> String {
    // Below this lies the noise of a conversion there and back.
    let value = if value.abs() < 1e-9 { 0.0 } else { value };
    let text = significant(value, digits);
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A number with a count of significant digits, written without an exponent
/// from 1e-6 up to 1e9.
///
/// # Example
/// ```
/// use zeotrope::units::significant;
/// assert_eq!(significant(1225.337, 5), "1225.3");
/// assert_eq!(significant(0.003_456_78, 3), "0.00346");
/// assert_eq!(significant(123_456.7, 5), "123457");
/// ```
pub fn significant(value: f64, digits: usize) -> String {
    let digits = digits.max(1);
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    // The exponent after rounding, so that 9.9999 becomes 10.00 and not 10.000.
    let scientific = format!("{value:.precision$e}", precision = digits - 1);
    let exponent = scientific
        .split_once('e')
        .and_then(|(_, exponent)| exponent.parse::<i32>().ok())
        .unwrap_or(0);
    if !(-6..9).contains(&exponent) {
        return scientific;
    }
    let decimals = (digits as i32 - 1 - exponent).max(0) as usize;
    format!("{value:.decimals$}")
}
