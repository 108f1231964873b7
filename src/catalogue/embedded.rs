//! The tables that the build script writes from `fluids/`.

use std::io::Read;
use std::sync::OnceLock;

use flate2::read::GzDecoder;

/// The texts of a folder, unpacked when the first of them is asked for.
#[derive(Debug)]
struct Shelf {
    packed: &'static [u8],
    text: OnceLock<String>,
}

impl Shelf {
    fn text(&'static self) -> &'static str {
        self.text.get_or_init(|| {
            let mut text = String::new();
            // what the build packed is unpacked; a text that were not would be read as broken
            let _ = GzDecoder::new(self.packed).read_to_string(&mut text);
            text
        })
    }
}

/// A shelf of what the build packed under a name.
macro_rules! shelf {
    ($name:literal) => {
        Shelf {
            packed: include_bytes!(concat!(env!("OUT_DIR"), "/", $name, ".gz")),
            text: OnceLock::new(),
        }
    };
}

static PURE: Shelf = shelf!("pure");
static PAIR: Shelf = shelf!("pairs");
static DEPARTURE: Shelf = shelf!("departures");
static BLEND: Shelf = shelf!("blends");

/// A text on a shelf.
#[derive(Debug, Clone, Copy)]
pub(super) struct Text {
    shelf: &'static Shelf,
    begin: usize,
    end: usize,
}

impl Text {
    /// The text itself.
    pub(super) fn get(self) -> &'static str {
        self.shelf.text().get(self.begin..self.end).unwrap_or("")
    }
}

/// An embedded file.
#[derive(Debug, Clone, Copy)]
pub(super) struct File {
    /// Name as shown in an error, for example `fluids/pure/R-134a.yaml`.
    pub(super) name: &'static str,
    /// The whole text.
    pub(super) text: Text,
}

/// An entry of `fluids/blends.yaml`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    /// Line of the file on which it begins, counted from 1.
    pub(super) line: usize,
    /// Its text, a list of one.
    pub(super) text: Text,
    /// Whether it says why it is not carried.
    pub(super) refused: bool,
    /// Designations of its components, sorted.
    pub(super) components: &'static [&'static str],
}

/// What a spelling means.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spelling {
    /// The designation meant.
    pub(super) designation: &'static str,
    /// Whether that is a blend.
    pub(super) blend: bool,
}

include!(concat!(env!("OUT_DIR"), "/embedded_index.rs"));

/// Looks a key up in one of the sorted tables.
pub(super) fn look_up<Key: Ord, Row: Copy>(table: &[(Key, Row)], key: &Key) -> Option<Row> {
    table
        .binary_search_by(|(other, _)| other.cmp(key))
        .ok()
        .map(|found| table[found].1)
}
