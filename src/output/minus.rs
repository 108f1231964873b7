//! The true minus sign, for formats that people read and no program parses.

/// A text with the hyphen before a number made a minus sign, U+2212; hyphens inside words,
/// designations and ranges stay.
///
/// # Example
/// ```
/// use zeotrope::output::true_minus;
/// assert_eq!(true_minus("R-134a: -40 °C, pp. 657-729"), "R-134a: \u{2212}40 °C, pp. 657-729");
/// ```
pub fn true_minus(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    let mut before = ' ';
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        let starts = before.is_whitespace() || matches!(before, '(' | '/' | ',');
        let number = characters
            .peek()
            .is_some_and(|next| next.is_ascii_digit() || *next == '.');
        out.push(match character {
            '-' if starts && number => '\u{2212}',
            other => other,
        });
        before = character;
    }
    out
}
