//! `words`: every phrase of a print by name, to translate.

use crate::cli::errors::Failure;
use crate::page::words;

/// Names with their English text as YAML, for `chart --words`.
pub(crate) fn answer() -> Result<String, Failure> {
    let named = |name: &str, text: &str| (name.to_owned().into(), text.to_owned().into());
    let all = words::all_phrases();
    let phrases = all.iter().map(|one| named(&one.name(), one.english()));
    let first = std::iter::once(named("language", "en"));
    let mapping: serde_yaml::Mapping = first.chain(phrases).collect();
    serde_yaml::to_string(&mapping).map_err(|problem| {
        Failure::no_answer(
            format!("the words could not be written: {problem}"),
            "report it",
        )
    })
}
