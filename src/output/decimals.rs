//! The decimals of a figure in a cell, by which a column is aligned.

/// How many figures stand behind the decimal sign; none for a word.
pub(super) fn decimals(text: &str) -> Option<usize> {
    let figure = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = match figure.find(['.', ',']) {
        Some(at) => (&figure[..at], &figure[at + 1..]),
        None => (figure, ""),
    };
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    (!figure.is_empty() && digits(whole) && digits(part)).then_some(part.len())
}
