//! What is read: facts about pure refrigerants, pairs and blends, and the words that name them.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use serde::de::DeserializeOwned;

use crate::{Error, Result};

mod blend_checks;
mod checks;
mod composition;
mod corners;
mod embedded;
mod literal;
mod normal;
pub(crate) mod reading;
pub mod records;
mod spelling;
mod user;

pub use composition::{
    Basis, Component, Composition, CompositionNote, MOST_COMPONENTS, normalized,
};
pub use corners::corners;

use embedded::{Entry, File, look_up};
use normal::{natural_order, normal};
use reading::SourceText;
use records::{BlendRecord, DepartureRecord, PairRecord, PureRecord};
use user::{Known, UserRecords};

/// Digits below which a bare number is no refrigerant.
const SHORTEST_BARE_NUMBER: usize = 2;

/// The facts about refrigerants: those embedded, and a user's own before them.
///
/// Cheap to clone and to share between threads. An embedded file is parsed when
/// it is first asked for and kept; a user's files are all read at the start.
///
/// # Example
/// ```
/// use zeotrope::catalogue::Catalogue;
/// let catalogue = Catalogue::embedded();
/// let record = catalogue.pure("R-134a")?;
/// assert_eq!(record.critical_point.published.temperature_k, 374.21);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone)]
pub struct Catalogue {
    inner: Arc<Inner>,
    parameters: Parameters,
}

/// Which parameters of a pair are handed out where some were refitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Parameters {
    /// Those of the refit.
    Refitted,
    /// Those of the paper.
    Published,
}

#[derive(Debug, Default)]
struct Inner {
    user: UserRecords,
    pures: Kept<PureRecord>,
    pairs: Kept<PairRecord>,
    departures: Kept<DepartureRecord>,
    blends: Kept<BlendRecord>,
}

/// What a spelling means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SpellingMeaning {
    /// The pure refrigerant of this designation.
    Pure(String),
    /// The listed blend of this designation.
    Blend(String),
}

impl SpellingMeaning {
    /// The designation.
    pub fn designation(&self) -> &str {
        match self {
            SpellingMeaning::Pure(designation) | SpellingMeaning::Blend(designation) => designation,
        }
    }

    /// The designation, taken out.
    pub fn into_designation(self) -> String {
        match self {
            SpellingMeaning::Pure(designation) | SpellingMeaning::Blend(designation) => designation,
        }
    }
}

impl Catalogue {
    fn refitted(inner: Inner) -> Self {
        Self {
            inner: Arc::new(inner),
            parameters: Parameters::Refitted,
        }
    }

    /// The facts that come with this library; every call shares one set.
    pub fn embedded() -> Self {
        static SHARED: OnceLock<Catalogue> = OnceLock::new();
        SHARED
            .get_or_init(|| Self::refitted(Inner::default()))
            .clone()
    }

    /// Which parameters are handed out where all facts are the embedded ones; else none.
    pub(crate) fn embedded_alone(&self) -> Option<Parameters> {
        Arc::ptr_eq(&self.inner, &Self::embedded().inner).then_some(self.parameters)
    }

    /// The embedded facts with a user's own before them.
    ///
    /// Reads `pure/*.yaml`, `pairs/*.yaml`, `departures/*.yaml` and `blends.yaml` of
    /// the directory, as far as they are there. What stands there wins over embedded
    /// facts of the same designation, pair or name.
    ///
    /// # Errors
    /// - [`Error::File`] where the directory holds none of these, or a file in it cannot be read;
    /// - [`Error::Catalogue`] with file, line and key path where a file is empty, is
    ///   no YAML, has an unknown key or lacks one, holds a number that is not finite
    ///   or not possible there, lists of unequal length, a composition or tolerance
    ///   that cannot be, or names a refrigerant or departure function that is nowhere.
    pub fn with_directory(directory: &Path) -> Result<Self> {
        Ok(Self::with(UserRecords::read(directory, &Self::known())?))
    }

    /// As [`Catalogue::with_directory`], from texts in memory: for programs without files.
    ///
    /// Each text is named as its file in such a directory would be, for example
    /// `pure/R-9001.yaml` or `blends.yaml`; messages show that name.
    ///
    /// # Errors
    /// As [`Catalogue::with_directory`], and [`Error::File`] where a name does not say what the text
    /// holds.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Basis, Refrigerant, catalogue::Catalogue};
    /// let blends = "
    /// - designation: R-9402
    ///   components:
    ///     - {refrigerant: R-32, mass_percent: 60}
    ///     - {refrigerant: R-1234yf, mass_percent: 40}
    /// ";
    /// let catalogue = Catalogue::with_texts(&[("blends.yaml", blends)])?;
    /// let blend = Refrigerant::from_catalogue(&catalogue, "R-9402", Basis::Mass)?;
    /// assert_eq!(blend.components()[1].mass_fraction, 0.4);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn with_texts(texts: &[(&str, &str)]) -> Result<Self> {
        Ok(Self::with(UserRecords::from_texts(texts, &Self::known())?))
    }

    fn with(user: UserRecords) -> Self {
        let inner = Inner {
            user,
            ..Inner::default()
        };
        Self::refitted(inner)
    }

    fn known() -> Known {
        Known {
            pure: |name| look_up(embedded::PURES, &name).is_some(),
            departure: |name| look_up(embedded::DEPARTURES, &name).is_some(),
            written: |name| {
                let key = normal(name).key;
                let found = look_up(embedded::SPELLINGS, &key.as_str())?;
                (normal(found.designation).key == key).then_some(found.designation)
            },
        }
    }

    /// The same facts with the published parameters of every pair, also of those that were
    /// refitted to measured bubble points.
    ///
    /// # Example
    /// ```
    /// use zeotrope::catalogue::Catalogue;
    /// let catalogue = Catalogue::embedded().with_published_pairs();
    /// let (pair, _) = catalogue.pair("R-134a", "R-717")?.unwrap();
    /// assert!(pair.refitted.is_none());
    /// // Bell, J. Chem. Eng. Data (2025), doi 10.1021/acs.jced.4c00699
    /// assert_eq!(pair.reducing.gamma_t, 0.912635);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn with_published_pairs(&self) -> Self {
        Self {
            inner: self.inner.clone(),
            parameters: Parameters::Published,
        }
    }

    /// The record of a pure refrigerant, by its designation as the file writes it.
    ///
    /// # Errors
    /// [`Error::UnknownRefrigerant`] where there is none; [`Error::Catalogue`] where
    /// its file is broken.
    pub fn pure(&self, designation: &str) -> Result<Arc<PureRecord>> {
        if let Some(record) = self.inner.user.pures.get(designation) {
            return Ok(record.clone());
        }
        match look_up(embedded::PURES, &designation) {
            Some(file) => self.inner.pures.file(designation, file, checks::pure),
            None => Err(self.unknown(designation)),
        }
    }

    /// The record of a listed blend, by its designation; also of one that is not carried.
    ///
    /// # Errors
    /// [`Error::UnknownRefrigerant`] where there is none; [`Error::Catalogue`] where
    /// its entry is broken.
    pub fn blend(&self, designation: &str) -> Result<Arc<BlendRecord>> {
        if let Some(record) = self.inner.user.blends.get(designation) {
            return Ok(record.clone());
        }
        match look_up(embedded::BLENDS, &designation) {
            Some(entry) => self.inner.blends.entry(designation, entry),
            None => Err(self.unknown(designation)),
        }
    }

    /// The record of a pair in either order, and whether it was found turned round:
    /// then its `first` is the second asked for.
    ///
    /// `None` where nothing is known of the pair, and for two equal components.
    ///
    /// # Errors
    /// [`Error::Catalogue`] where its file is broken.
    pub fn pair(&self, first: &str, second: &str) -> Result<Option<(Arc<PairRecord>, bool)>> {
        let orders = [(first, second, false), (second, first, true)];
        for (one, other, swapped) in orders {
            let key = (one.to_owned(), other.to_owned());
            if let Some(record) = self.inner.user.pairs.get(&key) {
                return Ok(Some((self.as_chosen(record.clone()), swapped)));
            }
        }
        for (one, other, swapped) in orders {
            if let Some(file) = look_up(embedded::PAIRS, &(one, other)) {
                let key = format!("{one}/{other}");
                let record = self.inner.pairs.file(&key, file, checks::pair)?;
                return Ok(Some((self.as_chosen(record), swapped)));
            }
        }
        Ok(None)
    }

    /// A pair's record as it is; of published parameters without the refit and, since that was
    /// found with the refit, without the distance from measured points.
    fn as_chosen(&self, record: Arc<PairRecord>) -> Arc<PairRecord> {
        if self.parameters == Parameters::Refitted || record.refitted.is_none() {
            return record;
        }
        Arc::new(PairRecord {
            refitted: None,
            measured: None,
            measured_vapors: None,
            ..(*record).clone()
        })
    }

    /// The record of a departure function, by its name.
    ///
    /// # Errors
    /// [`Error::Catalogue`] where there is none or its file is broken.
    pub fn departure(&self, name: &str) -> Result<Arc<DepartureRecord>> {
        if let Some(record) = self.inner.user.departures.get(name) {
            return Ok(record.clone());
        }
        match look_up(embedded::DEPARTURES, &name) {
            Some(file) => self.inner.departures.file(name, file, checks::departure),
            None => Err(Error::Catalogue {
                file: "fluids/departures".into(),
                line: 0,
                path: name.to_owned(),
                problem: "there is no departure function of this name".into(),
            }),
        }
    }

    /// Finds what a spelling means: a designation with or without `R-`, hyphens,
    /// blanks and letter case (R-410A, r410a, 410A, HFC-134a), or a chemical name.
    ///
    /// A blend is found also where it is not carried; a bare number of one or two
    /// digits is not (`40` may be a temperature, `R-40` is not).
    ///
    /// # Errors
    /// [`Error::UnknownRefrigerant`] with the nearest designations where nothing
    /// has such a spelling.
    ///
    /// # Example
    /// ```
    /// use zeotrope::catalogue::{Catalogue, SpellingMeaning};
    /// let catalogue = Catalogue::embedded();
    /// assert_eq!(catalogue.find("hfc-134A")?, SpellingMeaning::Pure("R-134a".into()));
    /// assert_eq!(
    ///     catalogue.find("R-134").unwrap_err().hint().as_deref(),
    ///     Some("did you mean R-134a?")
    /// );
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn find(&self, spelling: &str) -> Result<SpellingMeaning> {
        let asked = normal(spelling);
        let bare = !asked.prefixed && asked.key.chars().all(|c| c.is_ascii_digit());
        if asked.key.is_empty() || (bare && asked.key.len() < SHORTEST_BARE_NUMBER) {
            return Err(self.unknown(spelling));
        }
        if let Some(found) = self.inner.user.spellings.get(&asked.key) {
            return Ok(found.clone());
        }
        match look_up(embedded::SPELLINGS, &asked.key.as_str()) {
            Some(found) if found.blend => Ok(SpellingMeaning::Blend(found.designation.to_owned())),
            Some(found) => Ok(SpellingMeaning::Pure(found.designation.to_owned())),
            None => Err(self.unknown(spelling)),
        }
    }

    /// Designations of all pure refrigerants, in the standard's order.
    pub fn pure_designations(&self) -> Vec<String> {
        merged(embedded::PURES_IN_ORDER, self.inner.user.pures.keys())
    }

    /// Designations of all listed blends that are carried, in the standard's order.
    pub fn blend_designations(&self) -> Vec<String> {
        self.blends_where(false)
    }

    /// Designations of the listed blends that are not carried, in the standard's
    /// order; [`Catalogue::blend`] has the reason.
    pub fn refused_designations(&self) -> Vec<String> {
        self.blends_where(true)
    }

    /// Every pair on record, first and second designation, in the order of the files.
    pub fn pairs(&self) -> Vec<(String, String)> {
        let mut all: BTreeSet<(String, String)> = self.inner.user.pairs.keys().cloned().collect();
        for ((first, second), _) in embedded::PAIRS {
            if !all.contains(&((*second).to_owned(), (*first).to_owned())) {
                all.insert(((*first).to_owned(), (*second).to_owned()));
            }
        }
        all.into_iter().collect()
    }

    /// Names of all departure functions, sorted.
    pub fn departure_names(&self) -> Vec<String> {
        let embedded = embedded::DEPARTURES.iter().map(|(name, _)| *name);
        let user = self.inner.user.departures.keys().map(String::as_str);
        let all: BTreeSet<&str> = embedded.chain(user).collect();
        all.into_iter().map(str::to_owned).collect()
    }

    fn blends_where(&self, refused: bool) -> Vec<String> {
        let all = merged(embedded::BLENDS_IN_ORDER, self.inner.user.blends.keys());
        all.into_iter()
            .filter(|designation| {
                let is_refused = match self.inner.user.blends.get(designation) {
                    Some(record) => record.refused.is_some(),
                    None => look_up(embedded::BLENDS, &designation.as_str())
                        .is_some_and(|entry| entry.refused),
                };
                is_refused == refused
            })
            .collect()
    }

    /// The listed blends of just these components, which are sorted by name; a user's first.
    fn blends_of(&self, components: &[&str]) -> Result<Vec<Arc<BlendRecord>>> {
        let user = &self.inner.user.blends;
        let mut records: Vec<Arc<BlendRecord>> = user.values().cloned().collect();
        // Only the entries in question are parsed.
        for designation in embedded::BLENDS_IN_ORDER {
            let alike = look_up(embedded::BLENDS, designation)
                .is_some_and(|entry| entry.components == components);
            if alike && !user.contains_key(*designation) {
                records.push(self.blend(designation)?);
            }
        }
        Ok(records)
    }

    fn unknown(&self, name: &str) -> Error {
        let user = &self.inner.user.spellings;
        let embedded = embedded::SPELLINGS
            .iter()
            .map(|(key, spelling)| (*key, spelling.designation));
        let known = user
            .iter()
            .map(|(key, found)| (key.as_str(), found.designation()))
            .chain(embedded);
        Error::UnknownRefrigerant {
            name: name.to_owned(),
            nearest: spelling::nearest(name, known),
        }
    }
}

/// Embedded and user's designations in the standard's order.
fn merged<'a>(embedded: &[&str], user: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut all: Vec<String> = embedded.iter().map(|name| (*name).to_owned()).collect();
    let before = all.len();
    all.extend(
        user.filter(|name| !embedded.contains(&name.as_str()))
            .cloned(),
    );
    if all.len() > before {
        all.sort_by_cached_key(|designation| natural_order(designation));
    }
    all
}

/// Records parsed so far.
#[derive(Debug)]
struct Kept<Record>(Mutex<BTreeMap<String, Arc<Record>>>);

impl<Record> Default for Kept<Record> {
    fn default() -> Self {
        Self(Mutex::new(BTreeMap::new()))
    }
}

impl<Record: DeserializeOwned> Kept<Record> {
    fn file(
        &self,
        key: &str,
        file: File,
        check: fn(&SourceText<'_>, &Record) -> Result<()>,
    ) -> Result<Arc<Record>> {
        self.get(key, || {
            let source = SourceText::file(file.name, file.text.get());
            let record = source.read()?;
            check(&source, &record)?;
            Ok(record)
        })
    }

    fn get(&self, key: &str, read: impl FnOnce() -> Result<Record>) -> Result<Arc<Record>> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(record) = kept.get(key) {
            return Ok(record.clone());
        }
        let record = Arc::new(read()?);
        kept.insert(key.to_owned(), record.clone());
        Ok(record)
    }
}

impl Kept<BlendRecord> {
    fn entry(&self, key: &str, entry: Entry) -> Result<Arc<BlendRecord>> {
        self.get(key, || {
            let source = SourceText {
                file: "fluids/blends.yaml",
                text: entry.text.get(),
                first_line: entry.line,
            };
            let mut list: Vec<BlendRecord> = source.read()?;
            let record = list
                .pop()
                .filter(|_| list.is_empty())
                .ok_or_else(|| source.error("", "an entry is one blend"))?;
            blend_checks::blend(&source, "[0]", &record)?;
            Ok(record)
        })
    }
}
