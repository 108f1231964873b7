//! Strict reading of a data file: what is wrong is said with file, line and key path.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::spelling::distance;
use crate::{Error, Result};

/// A text to be read, and where it stands.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SourceText<'a> {
    /// The file's name as shown in an error.
    pub(crate) file: &'a str,
    /// The text.
    pub(crate) text: &'a str,
    /// Line of the file on which the text begins, counted from 1.
    pub(crate) first_line: usize,
}

impl<'a> SourceText<'a> {
    /// A whole file.
    pub(crate) fn file(file: &'a str, text: &'a str) -> Self {
        Self {
            file,
            text,
            first_line: 1,
        }
    }

    /// An error at a key path, with the line on which the path stands.
    pub(crate) fn error(&self, path: &str, problem: impl Into<String>) -> Error {
        self.error_at(self.line_of(path), path, problem)
    }

    fn error_at(&self, line: usize, path: &str, problem: impl Into<String>) -> Error {
        Error::Catalogue {
            file: self.file.to_owned(),
            line: line + self.first_line - 1,
            path: if path.is_empty() { "(top)" } else { path }.to_owned(),
            problem: problem.into(),
        }
    }

    /// Reads the text as a record, refusing unknown and missing keys.
    pub(crate) fn read<Record: DeserializeOwned>(&self) -> Result<Record> {
        let says_nothing = |line: &str| {
            let line = line.trim();
            line.is_empty() || line.starts_with('#') || line == "---"
        };
        if self.text.lines().all(says_nothing) {
            return Err(self.error_at(1, "", "the file is empty"));
        }
        serde_yaml::from_str(self.text).map_err(|error| self.broken(&error))
    }

    /// Says a reader's error in words of ours.
    fn broken(&self, error: &serde_yaml::Error) -> Error {
        let line = error.location().map_or(1, |place| place.line());
        let message = error.to_string();
        let message = message
            .rsplit_once(" at line ")
            .map_or(message.as_str(), |(before, _)| before);
        let (path, problem) = match message.split_once(": ") {
            // The path of a list's item begins with a dot: `.[0].name`.
            Some((path, rest)) if is_path(path) => (path.trim_start_matches('.'), rest),
            _ => ("", message),
        };
        if let Some((key, rest)) = quoted_after(problem, "unknown field `") {
            let nearest = nearest_key(key, rest);
            let problem = match nearest {
                Some(nearest) => format!("unknown key '{key}', did you mean {nearest}?"),
                None => format!("unknown key '{key}'"),
            };
            // The reader appends the key to the path or not, by its own rules.
            let path = match path {
                "" => key.to_owned(),
                path if path == key || path.ends_with(&format!(".{key}")) => path.to_owned(),
                path => format!("{path}.{key}"),
            };
            return self.error_at(line, &path, problem);
        }
        if let Some((key, _)) = quoted_after(problem, "missing field `") {
            return self.error_at(line, path, format!("the key '{key}' is missing"));
        }
        self.error_at(line, path, problem.to_owned())
    }

    /// Refuses numbers that are not finite, wherever they stand.
    ///
    /// `at` is the record's own path in the file, empty where it is the file.
    pub(crate) fn all_finite(&self, at: &str, record: &impl Serialize) -> Result<()> {
        // JSON has no word for them: they become null, which absent keys never do,
        // since every optional key of a record is left out when it is absent.
        let value = serde_json::to_value(record)
            .map_err(|error| self.error_at(1, "", error.to_string()))?;
        match null_inside(&value) {
            Some(path) => Err(self.error(
                format!("{at}{path}").trim_start_matches('.'),
                "the number is not finite, or is too large",
            )),
            None => Ok(()),
        }
    }

    /// The line, counted from 1 in this text, on which a key path stands; the last
    /// part of the path that can be found, where a part is written in flow style.
    pub(crate) fn line_of(&self, path: &str) -> usize {
        let lines: Vec<&str> = self.text.lines().collect();
        let mut at = 0;
        let mut end = lines.len();
        let mut found = 1;
        for part in path.split('.').flat_map(parts) {
            let hit = match part {
                Part::Key(key) => (at..end).find(|&line| key_of(lines[line]) == Some(key)),
                Part::Item(number) => {
                    let mut dashes =
                        (at..end).filter(|&line| lines[line].trim_start().starts_with('-'));
                    // Items of this list stand as deep as its first; deeper ones are of others.
                    let depth = dashes.clone().next().map(|line| indentation(lines[line]));
                    dashes
                        .by_ref()
                        .filter(|&line| Some(indentation(lines[line])) == depth)
                        .nth(number)
                }
            };
            let Some(hit) = hit else { break };
            found = hit + 1;
            let depth = indentation(lines[hit]);
            at = match part {
                Part::Key(_) => hit + 1,
                // The first key of an item stands on the item's own line.
                Part::Item(_) => hit,
            };
            end = (hit + 1..end)
                .find(|&line| {
                    let text = lines[line].trim_start();
                    let inner = indentation(lines[line]) > depth
                        || (matches!(part, Part::Key(_)) && text.starts_with('-'))
                        || text.is_empty()
                        || text.starts_with('#');
                    !inner
                })
                .unwrap_or(end);
        }
        found
    }
}

/// A part of a key path.
#[derive(Clone, Copy)]
enum Part<'a> {
    Key(&'a str),
    Item(usize),
}

/// `n[3]` is the key `n` and its item 3.
fn parts(text: &str) -> Vec<Part<'_>> {
    let mut pieces = text.split('[');
    let mut parts = Vec::new();
    if let Some(key) = pieces.next().filter(|key| !key.is_empty()) {
        parts.push(Part::Key(key));
    }
    parts.extend(
        pieces.filter_map(|piece| piece.trim_end_matches(']').parse().ok().map(Part::Item)),
    );
    parts
}

/// The key with which a line begins, after the dash of a list item.
fn key_of(line: &str) -> Option<&str> {
    let line = line.trim_start().trim_start_matches("- ").trim_start();
    line.split_once(':').map(|(key, _)| key.trim())
}

fn indentation(line: &str) -> usize {
    line.len() - line.trim_start().len()
}

/// Whether a text is a key path of the reader, such as `residual.power` or `[0].name`.
fn is_path(text: &str) -> bool {
    !text.is_empty()
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || matches!(c, '.' | '_' | '[' | ']' | '?'))
}

/// The quoted word after an opening, and what follows it.
fn quoted_after<'a>(text: &'a str, opening: &str) -> Option<(&'a str, &'a str)> {
    text.strip_prefix(opening)?.split_once('`')
}

/// The key most like an unknown one: one that begins alike, else one few letters away.
fn nearest_key<'a>(key: &str, expected: &'a str) -> Option<&'a str> {
    let lower = key.to_lowercase();
    expected
        .split('`')
        .skip(1)
        .step_by(2)
        .map(|candidate| {
            let other = candidate.to_lowercase();
            let alike = !key.is_empty() && (other.starts_with(&lower) || lower.starts_with(&other));
            let away = if alike { 0 } else { distance(&lower, &other) };
            (away, candidate)
        })
        .filter(|(away, _)| *away <= 1 + key.len() / 4)
        .min_by_key(|(away, _)| *away)
        .map(|(_, candidate)| candidate)
}

/// The path of the first null in a value, begun with a dot.
fn null_inside(value: &serde_json::Value) -> Option<String> {
    match value {
        serde_json::Value::Null => Some(String::new()),
        serde_json::Value::Array(items) => items
            .iter()
            .enumerate()
            .find_map(|(number, item)| Some(format!("[{number}]{}", null_inside(item)?))),
        serde_json::Value::Object(map) => map
            .iter()
            .find_map(|(key, item)| Some(format!(".{key}{}", null_inside(item)?))),
        _ => None,
    }
}
