//! The refrigerants of a catalogue, a line each.

use serde::Serialize;

use crate::catalogue::Catalogue;
use crate::error::Result;
use crate::units::short;

/// What a refrigerant is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum RefrigerantKind {
    /// One component.
    Pure,
    /// Several.
    Blend,
}

impl RefrigerantKind {
    /// `pure` or `blend`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pure => "pure",
            Self::Blend => "blend",
        }
    }
}

/// One refrigerant of a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ListEntry {
    /// Its designation.
    #[serde(rename = "refrigerant")]
    pub designation: String,
    /// Its safety class, where one is on record.
    pub safety_class: Option<String>,
    /// What it is.
    pub kind: RefrigerantKind,
    /// Its chemical name; a blend's composition by mass.
    pub name: String,
}

impl ListEntry {
    /// Whether a word occurs: a class or a kind as a whole, anything else as a part.
    pub fn has(&self, word: &str) -> bool {
        let word = word.to_lowercase();
        let class = self.safety_class.as_deref().unwrap_or_default();
        (!class.is_empty() && class.to_lowercase() == word)
            || self.kind.name() == word
            || self.designation.to_lowercase().contains(&word)
            || self.name.to_lowercase().contains(&word)
    }
}

/// The refrigerants of a catalogue that have all of some words: pure ones, then blends.
///
/// # Errors
/// [`crate::Error::Catalogue`] for a broken file.
///
/// # Example
/// ```
/// use zeotrope::catalogue::Catalogue;
/// use zeotrope::service::listing::list;
/// let found = list(&Catalogue::embedded(), &["propane", "A3"])?;
/// assert!(found.iter().any(|one| one.designation == "R-290"));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn list(catalogue: &Catalogue, words: &[impl AsRef<str>]) -> Result<Vec<ListEntry>> {
    let mut entries = Vec::new();
    for designation in catalogue.pure_designations() {
        let record = catalogue.pure(&designation)?;
        let class = record.safety_class.as_ref();
        entries.push(ListEntry {
            designation,
            safety_class: class.map(|class| class.value.clone()),
            kind: RefrigerantKind::Pure,
            name: record.name.clone(),
        });
    }
    for designation in catalogue.blend_designations() {
        let record = catalogue.blend(&designation)?;
        let components = record.components.iter();
        let (names, amounts): (Vec<&str>, Vec<String>) = components
            .map(|one| (one.refrigerant.as_str(), short(one.mass_percent, 5)))
            .unzip();
        let class = record.safety_class.as_ref();
        entries.push(ListEntry {
            designation,
            safety_class: class.map(|class| class.value.clone()),
            kind: RefrigerantKind::Blend,
            name: format!("{} ({})", names.join("/"), amounts.join("/")),
        });
    }
    entries.retain(|entry| words.iter().all(|word| entry.has(word.as_ref())));
    Ok(entries)
}
