//! Lookups of several refrigerants: their files, and the page of their figures.

use super::{Language, Lookups, Maker, files, index, lookups};
use crate::chart::lookup::{Lookup, Totals};
use crate::page::{Document, Style, cautions};
use crate::refrigerant::Refrigerant;

/// Lookups that were made, before any of their files is written.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Fleet {
    /// The lookups.
    pub lookups: Vec<Lookup>,
    /// Names and texts of their files.
    pub files: Vec<(String, String)>,
    subjects: Vec<Refrigerant>,
    unanswered: Vec<(String, String)>,
}

impl Fleet {
    /// Whether a refrigerant has a lookup already.
    pub fn has(&self, designation: &str) -> bool {
        let mut all = self.lookups.iter();
        all.any(|one| one.refrigerant == designation)
    }

    /// Takes a lookup in.
    pub fn add(
        &mut self,
        found: Lookup,
        refrigerant: Refrigerant,
        language: Language,
        maker: &Maker,
        style: &Style,
    ) {
        let files = files(&found, &refrigerant, language, maker, style);
        self.files.extend(files);
        self.lookups.push(found);
        self.subjects.push(refrigerant);
    }

    /// Notes why a refrigerant has no lookup.
    pub fn miss(&mut self, name: &str, reason: String) {
        self.unanswered.push((name.to_owned(), reason));
    }

    /// Adds what lists all of them.
    pub fn finish(&mut self, language: Language) {
        self.files.extend(index(&self.lookups, language));
    }

    /// The page of the figures.
    pub fn document(self, style: &Style) -> Document {
        let subjects: Vec<&Refrigerant> = self.subjects.iter().collect();
        let all = Lookups {
            lookups: &self.lookups,
            bytes: Totals::of(&self.lookups).bytes,
            unanswered: self.unanswered,
        };
        lookups(&all, cautions(&subjects, None, style), style)
    }
}
