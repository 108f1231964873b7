//! A user's own directory of data files, read and checked as a whole.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::de::DeserializeOwned;

use super::SpellingMeaning;
use super::normal::{names_in, normal};
use super::reading::SourceText;
use super::records::{BlendRecord, DepartureRecord, PairRecord, PureRecord};
use super::{blend_checks, checks};
use crate::{Error, Result};

/// What a user's directory says.
#[derive(Debug, Default)]
pub(super) struct UserRecords {
    pub(super) pures: BTreeMap<String, Arc<PureRecord>>,
    pub(super) pairs: BTreeMap<(String, String), Arc<PairRecord>>,
    pub(super) departures: BTreeMap<String, Arc<DepartureRecord>>,
    pub(super) blends: BTreeMap<String, Arc<BlendRecord>>,
    /// Normal form -> what is meant.
    pub(super) spellings: BTreeMap<String, SpellingMeaning>,
}

/// Whether the embedded facts know a name, asked while references are checked.
pub(super) struct Known {
    pub(super) pure: fn(&str) -> bool,
    pub(super) departure: fn(&str) -> bool,
    /// How an embedded file writes a designation.
    pub(super) written: fn(&str) -> Option<&'static str>,
}

/// A file's shown name and text.
struct Text {
    name: String,
    text: String,
}

/// The texts of data files, by what they hold.
#[derive(Default)]
struct Texts {
    pures: Vec<Text>,
    departures: Vec<Text>,
    pairs: Vec<Text>,
    blends: Option<Text>,
}

impl Texts {
    fn in_directory(directory: &Path) -> Result<Self> {
        let parts = ["pure", "pairs", "departures", "blends.yaml"];
        if !parts.iter().any(|part| directory.join(part).exists()) {
            return Err(Error::File {
                file: directory.display().to_string(),
                problem: "this is no directory of data files".into(),
                hint: "give a directory that holds pure/, pairs/, departures/ or blends.yaml"
                    .into(),
            });
        }
        let blends = directory.join("blends.yaml");
        Ok(Self {
            pures: texts(&directory.join("pure"))?,
            departures: texts(&directory.join("departures"))?,
            pairs: texts(&directory.join("pairs"))?,
            blends: match blends.exists() {
                true => Some(text_of(&blends)?),
                false => None,
            },
        })
    }

    fn named(given: &[(&str, &str)]) -> Result<Self> {
        let mut texts = Self::default();
        for (name, text) in given {
            let text = Text {
                name: (*name).to_owned(),
                text: (*text).to_owned(),
            };
            match name.split_once('/') {
                Some(("pure", _)) => texts.pures.push(text),
                Some(("departures", _)) => texts.departures.push(text),
                Some(("pairs", _)) => texts.pairs.push(text),
                None if *name == "blends.yaml" && texts.blends.is_none() => {
                    texts.blends = Some(text);
                }
                _ => {
                    return Err(Error::File {
                        file: text.name,
                        problem: "the name does not say what the text holds".into(),
                        hint: "name it pure/..., pairs/..., departures/... or, once, blends.yaml"
                            .into(),
                    });
                }
            }
        }
        Ok(texts)
    }
}

impl UserRecords {
    /// Reads `pure/`, `pairs/`, `departures/` and `blends.yaml` of a directory.
    pub(super) fn read(directory: &Path, known: &Known) -> Result<Self> {
        Self::checked(Texts::in_directory(directory)?, known)
    }

    /// Reads texts named as files of such a directory would be.
    pub(super) fn from_texts(texts: &[(&str, &str)], known: &Known) -> Result<Self> {
        Self::checked(Texts::named(texts)?, known)
    }

    fn checked(texts: Texts, known: &Known) -> Result<Self> {
        let mut records = Self::default();
        for text in texts.pures {
            let (source, record) = read::<PureRecord>(&text)?;
            checks::pure(&source, &record)?;
            if let Some(embedded) = (known.written)(&record.designation)
                && embedded != record.designation
            {
                let problem = format!("pairs and blends know it as '{embedded}'; write it so");
                return Err(source.error("designation", problem));
            }
            let names = names_in(&record.name)
                .into_iter()
                .map(|name| ("name", name));
            let further = record
                .spellings
                .iter()
                .map(|text| ("spellings", text.as_str()));
            let own = [("designation", record.designation.as_str())];
            for (path, spelling) in own.into_iter().chain(names).chain(further) {
                let meant = SpellingMeaning::Pure(record.designation.clone());
                records.spelling(&source, path, spelling, meant)?;
            }
            let key = record.designation.clone();
            once(&source, "designation", &mut records.pures, key, record)?;
        }
        for text in texts.departures {
            let (source, record) = read::<DepartureRecord>(&text)?;
            checks::departure(&source, &record)?;
            let key = record.name.clone();
            once(&source, "name", &mut records.departures, key, record)?;
        }
        for text in texts.pairs {
            let (source, record) = read::<PairRecord>(&text)?;
            checks::pair(&source, &record)?;
            records.pair(&source, record, known)?;
        }
        if let Some(blends) = texts.blends {
            records.blends(&blends, known)?;
        }
        Ok(records)
    }

    fn pair(&mut self, source: &SourceText<'_>, record: PairRecord, known: &Known) -> Result<()> {
        for (path, name) in [("first", &record.first), ("second", &record.second)] {
            self.must_be_pure(source, path, name, known)?;
        }
        if let Some(name) = &record.departure
            && !self.departures.contains_key(name)
            && !(known.departure)(name)
        {
            let problem = format!("there is no departure function '{name}'");
            return Err(source.error("departure", problem));
        }
        let turned = (record.second.clone(), record.first.clone());
        if self.pairs.contains_key(&turned) {
            return Err(source.error("first", "the pair stands in another file too"));
        }
        let key = (record.first.clone(), record.second.clone());
        once(source, "first", &mut self.pairs, key, record)
    }

    fn blends(&mut self, text: &Text, known: &Known) -> Result<()> {
        let (source, list) = read::<Vec<BlendRecord>>(text)?;
        for (number, record) in list.into_iter().enumerate() {
            let at = format!("[{number}]");
            blend_checks::blend(&source, &at, &record)?;
            if record.refused.is_none() {
                for (place, component) in record.components.iter().enumerate() {
                    let path = format!("{at}.components[{place}].refrigerant");
                    self.must_be_pure(&source, &path, &component.refrigerant, known)?;
                }
            }
            let path = format!("{at}.designation");
            let meant = SpellingMeaning::Blend(record.designation.clone());
            self.spelling(&source, &path, &record.designation, meant)?;
            let key = record.designation.clone();
            once(&source, &path, &mut self.blends, key, record)?;
        }
        Ok(())
    }

    fn must_be_pure(
        &self,
        source: &SourceText<'_>,
        path: &str,
        name: &str,
        known: &Known,
    ) -> Result<()> {
        if self.pures.contains_key(name) || (known.pure)(name) {
            Ok(())
        } else {
            let problem = format!(
                "there is no pure refrigerant '{name}'; write its designation as its file does"
            );
            Err(source.error(path, problem))
        }
    }

    fn spelling(
        &mut self,
        source: &SourceText<'_>,
        path: &str,
        spelling: &str,
        meant: SpellingMeaning,
    ) -> Result<()> {
        let key = normal(spelling).key;
        if key.is_empty() {
            return Err(source.error(path, format!("'{spelling}' is no spelling")));
        }
        match self.spellings.get(&key) {
            Some(other) if *other != meant => {
                let problem = format!(
                    "the spelling '{spelling}' already means {}",
                    other.designation()
                );
                Err(source.error(path, problem))
            }
            _ => {
                self.spellings.insert(key, meant);
                Ok(())
            }
        }
    }
}

fn once<Key: Ord, Record>(
    source: &SourceText<'_>,
    path: &str,
    map: &mut BTreeMap<Key, Arc<Record>>,
    key: Key,
    record: Record,
) -> Result<()> {
    if map.insert(key, Arc::new(record)).is_some() {
        return Err(source.error(path, "another file or entry says the same"));
    }
    Ok(())
}

fn read<Record: DeserializeOwned>(text: &Text) -> Result<(SourceText<'_>, Record)> {
    let source = SourceText::file(&text.name, &text.text);
    let record = source.read()?;
    Ok((source, record))
}

/// The YAML files of a folder in order of their names; none where there is no folder.
fn texts(folder: &Path) -> Result<Vec<Text>> {
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let mut files: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(folder).map_err(|error| unreadable(folder, &error))? {
        let path = entry.map_err(|error| unreadable(folder, &error))?.path();
        match path.extension().and_then(|ending| ending.to_str()) {
            Some("yaml") => files.push(path),
            Some("yml") => {
                return Err(Error::File {
                    file: path.display().to_string(),
                    problem: "the file would not be read".into(),
                    hint: "let its name end in .yaml".into(),
                });
            }
            _ => {}
        }
    }
    files.sort();
    files.iter().map(|path| text_of(path)).collect()
}

fn text_of(path: &Path) -> Result<Text> {
    Ok(Text {
        name: path.display().to_string(),
        text: fs::read_to_string(path).map_err(|error| unreadable(path, &error))?,
    })
}

fn unreadable(path: &Path, error: &std::io::Error) -> Error {
    Error::File {
        file: path.display().to_string(),
        problem: error.to_string(),
        hint: "check that the file is UTF-8 text and that you may read it".into(),
    }
}
