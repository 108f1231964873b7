//! The tables that the build script writes from `fluids/`.

/// An embedded file.
#[derive(Debug, Clone, Copy)]
pub(super) struct File {
    /// Name as shown in an error, for example `fluids/pure/R-134a.yaml`.
    pub(super) name: &'static str,
    /// The whole text.
    pub(super) text: &'static str,
}

/// An entry of `fluids/blends.yaml`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    /// Line of the file on which it begins, counted from 1.
    pub(super) line: usize,
    /// Its text, a list of one.
    pub(super) text: &'static str,
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
