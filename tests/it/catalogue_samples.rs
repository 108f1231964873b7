//! Data files for tests of the reader: invented fluids and blends, not real ones.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// A user's directory, removed when it is dropped.
pub(crate) struct Directory(PathBuf);

impl Directory {
    pub(crate) fn new() -> Self {
        static NUMBER: AtomicUsize = AtomicUsize::new(0);
        let number = NUMBER.fetch_add(1, Ordering::Relaxed);
        let name = format!("zeotrope-test-{}-{number}", std::process::id());
        let path = std::env::temp_dir().join(name);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    /// Adds a file, for example `pure/R-9001.yaml`.
    pub(crate) fn with(self, name: &str, text: &str) -> Self {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
        self
    }

    pub(crate) fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for Directory {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// A pure fluid that passes every check, 0.1 kg/mol. `range:` stands on line 14.
pub(crate) const PURE: &str = "\
designation: R-9001
name: inventane
spellings: ['1,1-inventane', test fluid one]
formula: In
cas: none
molar_mass_kg_mol: 0.1
gas_constant_J_mol_K: 8.314462618
critical_point:
  published:
    temperature_K: 350
    pressure_Pa: 4.0e6
    density_mol_m3: 5000
# What follows is as invented as the rest.
range:
  temperature_min_K: 200
  temperature_max_K: 400
  pressure_max_Pa: 5.0e7
reducing:
  temperature_K: 350
  density_mol_m3: 5000
ideal_gas:
  constant: 0
  linear: 0
  log_tau: 3
  planck_einstein:
    n: [1, 2]
    theta: [3, 4]
residual:
  power:
    n: [1, -1]
    t: [0.25, 1]
    d: [1, 1]
  exponential:
    n: [0.1]
    t: [2]
    d: [1]
    l: [1]
ancillary:
  temperature_K: 350
  pressure: {scale: 4.0e6, n: [-7], t: [1]}
  liquid_density: {scale: 5000, n: [2], t: [0.33]}
  vapor_density: {scale: 5000, n: [-3], t: [0.33]}
  largest_error: [0.01, 0.01, 0.01]
reference: {authors: Nobody, journal: Nowhere, year: 2000}
";

/// A second pure fluid, 0.05 kg/mol.
pub(crate) fn second_pure() -> String {
    PURE.replace("R-9001", "R-9002")
        .replace("inventane", "inventene")
        .replace("fluid one", "fluid two")
        .replace("molar_mass_kg_mol: 0.1", "molar_mass_kg_mol: 0.05")
}

/// A pair of the two with a departure function.
pub(crate) const PAIR: &str = "\
first: R-9001
second: R-9002
kind: departure
reducing: {beta_t: 1.01, gamma_t: 0.99, beta_v: 1, gamma_v: 1}
departure: invented
departure_factor: 0.5
source: Nowhere
";

/// A departure function.
pub(crate) const DEPARTURE: &str = "\
name: invented
residual:
  exponential: {n: [0.01, 0.02], t: [1, 2], d: [1, 2], l: [1, 1]}
source: Nowhere
";

/// Two blends, the second one not carried. The second begins on line 8.
pub(crate) const BLENDS: &str = "\
# Invented blends.
- designation: R-9401A
  components:
    - {refrigerant: R-9001, mass_percent: 60, tolerance_mass_percent: [1, 1]}
    - {refrigerant: R-9002, mass_percent: 40, tolerance_mass_percent: [1, 1]}
  bubble_C: {value: -30, source: Nowhere}

- designation: R-9402B
  components:
    - refrigerant: R-9001
      mass_percent: 50
    - refrigerant: R-9002
      mass_percent: 50
  refused: it is invented
";

/// Both fluids, their pair and their blends.
pub(crate) fn complete() -> Directory {
    Directory::new()
        .with("pure/one.yaml", PURE)
        .with("pure/two.yaml", &second_pure())
        .with("pairs/one_two.yaml", PAIR)
        .with("departures/invented.yaml", DEPARTURE)
        .with("blends.yaml", BLENDS)
}
