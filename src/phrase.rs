//! Labels and sentences by name, with blanks to fill.

use std::fmt::{Display, Formatter};

use serde::{Serialize, Serializer};

/// A label or a sentence, by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Phrase {
    pub(crate) constant: &'static str,
    pub(crate) english: &'static str,
}

/// Defines phrases as constants, and `ALL` of them.
macro_rules! phrases {
    ($($name:ident = $text:expr;)*) => {
        $(pub(crate) const $name: Phrase = Phrase { constant: stringify!($name), english: $text };)*
        pub(crate) const ALL: &[Phrase] = &[$($name),*];
    };
}

impl Phrase {
    /// The name by which it is translated.
    pub fn name(self) -> String {
        self.constant.to_lowercase()
    }

    /// The English text.
    pub const fn english(self) -> &'static str {
        self.english
    }

    /// The names of its blanks, in order.
    pub fn blanks(self) -> Vec<&'static str> {
        blanks(self.english)
    }
}

/// In English, blanks unfilled.
impl Serialize for Phrase {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.english)
    }
}

/// In English, blanks unfilled.
impl Display for Phrase {
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.english)
    }
}

/// The names of a text's blanks, in order.
pub(crate) fn blanks(text: &str) -> Vec<&str> {
    let parts = text.split('{').skip(1);
    let mut names: Vec<&str> = parts
        .filter_map(|part| Some(part.split_once('}')?.0))
        .collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// A text, each `{name}` in it filled with what is given for that name.
pub(crate) fn filled(mut text: &str, blanks: &[(&str, &str)]) -> String {
    let mut filled = String::with_capacity(text.len() + 16);
    while let Some((before, after)) = text.split_once('{') {
        filled.push_str(before);
        let Some((name, behind)) = after.split_once('}') else {
            break;
        };
        let given = blanks.iter().find(|(blank, _)| *blank == name);
        filled.push_str(given.map_or("", |(_, text)| text));
        text = behind;
    }
    filled.push_str(text);
    filled
}
