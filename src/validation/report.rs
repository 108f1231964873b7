//! All comparisons together.

use serde::{Serialize, Serializer};

use super::{
    AllVapors, AzeotropeDistance, BlendDeviation, CheckOutcome, CheckedRow, DewDistance,
    PairDistance, SourceSummary, TernaryDistance, VaporDistance, all_vapors, blend_distances,
    by_source, measured_azeotropes, measured_bubble_points, measured_dew_points,
    measured_ternaries, measured_vapors, published_values,
};
use crate::Branch;
use crate::catalogue::Catalogue;
use crate::error::Result;

/// The engine beside published values and measured bubble points.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// Every published value.
    pub comparisons: Vec<CheckedRow>,
    /// The same by source.
    pub sources: Vec<SourceSummary>,
    /// Listed blends at 101.325 kPa, each with what may be behind a large deviation.
    pub blends: Vec<(BlendDeviation, String)>,
    /// Pairs beside measured bubble points.
    pub pairs: Vec<PairDistance>,
    /// Pairs beside measured vapors.
    pub vapors: Vec<VaporDistance>,
    /// Azeotropes beside measured ones.
    pub azeotropes: Vec<AzeotropeDistance>,
    /// Measured mixtures of three.
    pub ternaries: Vec<TernaryDistance>,
    /// Pairs beside measured dew points.
    pub dew_points: Vec<DewDistance>,
}

impl Report {
    /// Compares the engine and the facts of a catalogue with all of it.
    ///
    /// # Errors
    /// [`crate::Error::File`] for a table that cannot be read.
    pub fn new(catalogue: &Catalogue) -> Result<Self> {
        let comparisons = published_values(catalogue)?;
        Ok(Self {
            sources: by_source(&comparisons),
            comparisons,
            blends: blend_distances(catalogue)?,
            pairs: measured_bubble_points(catalogue)?,
            vapors: measured_vapors(catalogue)?,
            azeotropes: measured_azeotropes(catalogue)?,
            ternaries: measured_ternaries(catalogue)?,
            dew_points: measured_dew_points(catalogue)?,
        })
    }

    /// The values outside their tolerance without a reason on record.
    pub fn outside(&self) -> impl Iterator<Item = &CheckedRow> {
        let all = self.comparisons.iter();
        all.filter(|one| one.verdict == CheckOutcome::Outside)
    }

    /// All measured vapors together.
    pub fn vapors(&self) -> AllVapors {
        all_vapors(&self.vapors)
    }

    /// How many values are quoted from memory.
    pub fn from_memory(&self) -> usize {
        let all = self.comparisons.iter();
        all.filter(|one| one.row.note.contains("from memory"))
            .count()
    }

    /// Of the blends whose saturation tables the handbook prints to hundredths of a degree: points
    /// and the largest deviation, K.
    pub fn handbook_tables(&self) -> (usize, f64) {
        let deviations = self.comparisons.iter().filter_map(|one| {
            let source = &one.row.source;
            let is_one = source.contains("Handbook Fundamentals, saturation table");
            is_one.then_some((one.computed.as_ref().ok()? - one.row.value).abs())
        });
        deviations.fold((0, 0.0), |(count, most), one| (count + 1, one.max(most)))
    }
}

impl Serialize for Report {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Blend<'a> {
            refrigerant: &'a str,
            side: Branch,
            #[serde(rename = "published_C")]
            published: f64,
            source: &'a str,
            #[serde(rename = "computed_C")]
            computed: Option<f64>,
            fitted_to_these_values: bool,
            problem: Option<&'a String>,
            what_may_be_behind: &'a str,
        }
        #[derive(Serialize)]
        struct Keys<'a> {
            rows: usize,
            outside: usize,
            sources: &'a [SourceSummary],
            not_within: Vec<&'a CheckedRow>,
            blends: Vec<Blend<'a>>,
            measured_bubble_points: &'a [PairDistance],
            measured_vapors: &'a [VaporDistance],
            all_measured_vapors: AllVapors,
            measured_azeotropes: &'a [AzeotropeDistance],
            measured_ternaries: &'a [TernaryDistance],
            measured_dew_points: &'a [DewDistance],
        }
        let blends = self.blends.iter().map(|(blend, reason)| Blend {
            refrigerant: &blend.designation,
            side: blend.branch,
            published: blend.published,
            source: &blend.source,
            computed: blend.computed.as_ref().ok().copied(),
            fitted_to_these_values: blend.fitted_to_these_values,
            problem: blend.computed.as_ref().err(),
            what_may_be_behind: reason,
        });
        let not_within = self.comparisons.iter();
        Keys {
            rows: self.comparisons.len(),
            outside: self.outside().count(),
            sources: &self.sources,
            not_within: not_within
                .filter(|one| one.verdict != CheckOutcome::Within)
                .collect(),
            blends: blends.collect(),
            measured_bubble_points: &self.pairs,
            measured_vapors: &self.vapors,
            all_measured_vapors: self.vapors(),
            measured_azeotropes: &self.azeotropes,
            measured_ternaries: &self.ternaries,
            measured_dew_points: &self.dew_points,
        }
        .serialize(serializer)
    }
}

impl Serialize for CheckedRow {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Keys<'a> {
            row: String,
            source: &'a str,
            published: f64,
            unit: &'a str,
            computed: Option<f64>,
            of_tolerance: f64,
            verdict: &'a str,
            reason: Option<&'a str>,
            problem: Option<&'a String>,
        }
        let (verdict, reason) = match self.verdict {
            CheckOutcome::Within => ("within", None),
            CheckOutcome::Excepted(reason) => ("excepted", Some(reason)),
            CheckOutcome::Listed(reason) => ("listed", Some(reason)),
            CheckOutcome::Outside => ("outside", None),
        };
        Keys {
            row: self.row.name(),
            source: &self.row.source,
            published: self.row.value,
            unit: &self.row.unit,
            computed: self.computed.as_ref().ok().copied(),
            of_tolerance: self.deviation,
            verdict,
            reason,
            problem: self.computed.as_ref().err(),
        }
        .serialize(serializer)
    }
}
