//! The table of published values, read.

use flate2::read::GzDecoder;
use serde::{Deserialize, Serialize};

use crate::error::{Error, Result};

/// A table of `tests/data/`, packed by `build.rs`.
pub(super) struct Table {
    pub(super) file: &'static str,
    pub(super) packed: &'static [u8],
}

/// A table by its file's name.
macro_rules! table {
    ($file:literal) => {
        $crate::validation::rows::Table {
            file: $file,
            packed: include_bytes!(concat!(env!("OUT_DIR"), "/", $file, ".gz")),
        }
    };
}
pub(super) use table;

/// Published values, a value a row; `tests/data/README.md` tells what they are.
const TABLE: Table = table!("published_values.csv");

/// How near a source is to the equations carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Tier {
    /// Printed from the very equation carried, or from an older one where the note says so.
    A,
    /// An independent equation or correlation.
    B,
    /// A handbook, textbook or standard.
    C,
}

impl Tier {
    /// The tier's letter.
    pub fn name(self) -> &'static str {
        match self {
            Tier::A => "A",
            Tier::B => "B",
            Tier::C => "C",
        }
    }
}

/// A published value.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct PublishedRow {
    /// Number of the row, for example `O0001`.
    pub id: String,
    /// How near its source is to the equations carried.
    pub tier: Tier,
    /// Refrigerant.
    pub refrigerant: String,
    /// A blend's composition, `mass:` or `mole:` first; empty for a pure refrigerant.
    pub composition: String,
    /// Property.
    pub property: String,
    /// Temperature, K.
    #[serde(rename = "T_K")]
    pub temperature: Option<f64>,
    /// Pressure, Pa.
    #[serde(rename = "p_Pa")]
    pub pressure: Option<f64>,
    /// Density, mol/L.
    #[serde(rename = "rho_mol_per_L")]
    pub molar_density: Option<f64>,
    /// Density, kg/m3.
    #[serde(rename = "rho_kg_per_m3")]
    pub density: Option<f64>,
    /// Quality, 0 or 1.
    pub quality: Option<f64>,
    /// The published value, in `unit`.
    pub value: f64,
    /// Unit of the value.
    pub unit: String,
    /// Relative tolerance.
    pub rtol: Option<f64>,
    /// Tolerance of a temperature, K.
    #[serde(rename = "atol_K")]
    pub atol: Option<f64>,
    /// Where it was published.
    pub source: String,
    /// What to know about it.
    pub note: String,
}

impl PublishedRow {
    /// Number, refrigerant, property and temperature, to find the row by.
    pub fn name(&self) -> String {
        let mut name = format!("{} {} {}", self.id, self.refrigerant, self.property);
        if let Some(temperature) = self.temperature {
            name.push_str(&format!(" {temperature} K"));
        } else if let Some(pressure) = self.pressure {
            name.push_str(&format!(" {} kPa", pressure / 1e3));
        }
        name
    }
}

/// Every published value.
///
/// # Errors
/// [`Error::File`] for a row that does not say a value.
pub(super) fn published() -> Result<Vec<PublishedRow>> {
    let mut rows: Vec<PublishedRow> = read(&TABLE)?;
    for row in &mut rows {
        // the paper is the source; whose program evaluated it is told in the table
        if let Some((paper, _)) = row.source.split_once(" as coded in ") {
            row.source = format!("{paper}, as evaluated by a general-purpose open library");
        }
    }
    Ok(rows)
}

/// The rows of a table with a head line.
pub(super) fn read<T: for<'a> Deserialize<'a>>(table: &Table) -> Result<Vec<T>> {
    csv::Reader::from_reader(GzDecoder::new(table.packed))
        .deserialize()
        .collect::<std::result::Result<_, _>>()
        .map_err(|problem| Error::File {
            file: table.file.into(),
            problem: problem.to_string(),
            hint: "tests/data/README.md describes every column".into(),
        })
}
