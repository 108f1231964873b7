//! Phrases in another language.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::error::{Error, Result};
use crate::phrase::{Phrase, blanks, filled};

/// The words of a document: English, or another language's where they are given.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Words {
    /// Language as BCP 47 writes it; English where empty.
    pub language: String,
    /// Whether figures have a decimal comma by that language's custom.
    pub decimal_comma: bool,
    /// The system of units by its custom, `ip` or `si`; that of the question where empty.
    pub units: String,
    translated: Arc<BTreeMap<String, String>>,
}

impl Words {
    /// Words from translations by the phrases' names; `language` names the language itself,
    /// `decimal_sign` and `units` its customs.
    ///
    /// # Errors
    /// [`Error::File`] for a name that no phrase has, for a decimal sign other than point and comma,
    /// units other than ip and si, and for a translation whose blanks are not
    /// those of its phrase.
    ///
    /// # Example
    /// ```
    /// use zeotrope::page::words::Words;
    /// let vacuum = ("inhg_vacuum".to_owned(), "{figure} inHg Vakuum".to_owned());
    /// assert!(Words::translated([vacuum].into()).is_ok());
    /// let unknown = ("no_such_name".to_owned(), String::new());
    /// assert!(Words::translated([unknown].into()).is_err());
    /// ```
    pub fn translated(mut given: BTreeMap<String, String>) -> Result<Self> {
        let language = given.remove("language").unwrap_or_default();
        let known: BTreeMap<String, Phrase> = super::all_phrases()
            .into_iter()
            .map(|one| (one.name(), one))
            .collect();
        let wrong = |problem: String, hint: String| Error::File {
            file: "words".into(),
            problem,
            hint,
        };
        let decimal_comma = match given.remove("decimal_sign").as_deref() {
            None | Some(".") => false,
            Some(",") => true,
            Some(other) => {
                let hint = "write decimal_sign: \",\" or \".\"";
                return Err(wrong(format!("'{other}' is no decimal sign"), hint.into()));
            }
        };
        let units = given.remove("units").unwrap_or_default();
        if !matches!(units.as_str(), "" | "ip" | "si") {
            let hint = "write units: ip or units: si";
            return Err(wrong(
                format!("'{units}' is no system of units"),
                hint.into(),
            ));
        }
        for (name, text) in &given {
            let Some(phrase) = known.get(name) else {
                return Err(wrong(
                    format!("no phrase is called '{name}'"),
                    "the list of words names every phrase".into(),
                ));
            };
            if blanks(text) != phrase.blanks() {
                return Err(wrong(
                    format!("'{name}' has other blanks than its phrase"),
                    format!("the phrase is '{}'", phrase.english),
                ));
            }
        }
        Ok(Self {
            language,
            decimal_comma,
            units,
            translated: Arc::new(given),
        })
    }

    /// As [`Words::translated`], of a YAML text of `name: text`.
    ///
    /// # Errors
    /// As [`Words::translated`], and [`Error::File`] where it is no such text.
    pub fn parse(yaml: &str) -> Result<Self> {
        let given = serde_yaml::from_str(yaml).map_err(|problem| Error::File {
            file: "words".into(),
            problem: problem.to_string(),
            hint: "a file of words is YAML: 'language: de', then lines such as \
                   'column_bubble: Siede'"
                .into(),
        })?;
        Self::translated(given)
    }

    /// A phrase's text.
    pub fn text(&self, phrase: Phrase) -> &str {
        if self.translated.is_empty() {
            return phrase.english;
        }
        self.translated
            .get(&phrase.name())
            .map_or(phrase.english, String::as_str)
    }

    /// A phrase's text, each `{name}` in it filled with the text given for that name.
    pub fn fill(&self, phrase: Phrase, blanks: &[(&str, &str)]) -> String {
        filled(self.text(phrase), blanks)
    }
}
