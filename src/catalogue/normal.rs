//! The normal form of a spelling, in which designations and names are compared.
//!
//! The build script compiles this file too, so that the index of the embedded
//! files is written with the very rules that a question is read with.

/// Prefixes of a designation that say no more than the number does; longest first.
const PREFIXES: [&str; 11] = [
    "HCFO", "HCFC", "HFO", "HFC", "HCC", "CFC", "PFC", "HC", "FC", "HE", "R",
];

/// A spelling in normal form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Normal {
    /// Upper case, without prefix and separators.
    pub(crate) key: String,
    /// Whether it began with `R` or another prefix of a designation.
    pub(crate) prefixed: bool,
}

/// Brings a spelling to its normal form.
///
/// Letter case and separators (blank, hyphen, underscore) are dropped. Between
/// two digits they remain, as one hyphen: R-31-10 is not R-3110, nor R-1-1 R-11.
pub(crate) fn normal(spelling: &str) -> Normal {
    let mut key = String::with_capacity(spelling.len());
    let mut separated = false;
    for character in spelling.chars() {
        if is_separator(character) {
            separated = !key.is_empty();
            continue;
        }
        if separated && character.is_ascii_digit() && key.ends_with(|c: char| c.is_ascii_digit()) {
            key.push('-');
        }
        separated = false;
        key.extend(character.to_uppercase());
    }
    for prefix in PREFIXES {
        if let Some(rest) = key.strip_prefix(prefix)
            && is_number(rest)
        {
            return Normal {
                key: rest.to_owned(),
                prefixed: true,
            };
        }
    }
    Normal {
        key,
        prefixed: false,
    }
}

/// The spellings that a chemical name gives: `2-methylpropane (isobutane)` also
/// each of its two parts.
pub(crate) fn names_in(name: &str) -> Vec<&str> {
    let mut names = vec![name];
    if let Some((long, short)) = name
        .strip_suffix(')')
        .and_then(|open| open.split_once(" ("))
    {
        names.extend([long, short]);
    }
    names
}

/// Blank, hyphen in its several typographic forms, underscore.
fn is_separator(character: char) -> bool {
    character.is_whitespace()
        || matches!(character, '-' | '_' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// Whether the rest of a designation begins as a number does: `134a`, `C318`, `E170`.
fn is_number(rest: &str) -> bool {
    rest.trim_start_matches(['C', 'E'])
        .starts_with(|c: char| c.is_ascii_digit())
        && rest.chars().take_while(char::is_ascii_alphabetic).count() <= 1
}

/// Sorts designations as the standard lists them, R-13I1, R-22, R-134a.
pub(crate) fn natural_order(designation: &str) -> (u8, u32, String) {
    let key = normal(designation).key;
    let digits: String = key
        .chars()
        .skip_while(char::is_ascii_alphabetic)
        .take_while(char::is_ascii_digit)
        .collect();
    // A designation that begins with several letters (FK-5-1-12) stands last.
    let lettered = u8::from(key.chars().take_while(char::is_ascii_alphabetic).count() > 1);
    (lettered, digits.parse().unwrap_or(u32::MAX), key)
}
