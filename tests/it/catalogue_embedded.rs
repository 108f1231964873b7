//! The embedded facts as a whole: every file is read, and everything named is there.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::Instant;

use zeotrope::catalogue::{Basis, Catalogue};

use crate::catalogue_samples::{Directory, PURE};

fn fluids() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fluids")
}

fn count(folder: &str) -> usize {
    fs::read_dir(fluids().join(folder))
        .map(|entries| {
            entries
                .filter(|entry| {
                    let path = entry.as_ref().unwrap().path();
                    path.extension().is_some_and(|ending| ending == "yaml")
                })
                .count()
        })
        .unwrap_or(0)
}

#[test]
fn every_embedded_file_is_read() {
    let catalogue = Catalogue::embedded();
    let pures = catalogue.pure_designations();
    assert_eq!(pures.len(), count("pure"));
    assert!(pures.len() > 50, "{}", pures.len());
    for designation in &pures {
        assert_eq!(
            &catalogue.pure(designation).unwrap().designation,
            designation
        );
    }
    let pairs = catalogue.pairs();
    assert_eq!(pairs.len(), count("pairs"));
    for (first, second) in &pairs {
        let (record, swapped) = catalogue.pair(first, second).unwrap().unwrap();
        assert!(!swapped);
        assert!(pures.contains(&record.first), "{}", record.first);
        assert!(pures.contains(&record.second), "{}", record.second);
        if let Some(name) = &record.departure {
            catalogue.departure(name).unwrap();
        }
    }
    let departures = catalogue.departure_names();
    assert_eq!(departures.len(), count("departures"));
    for name in &departures {
        catalogue.departure(name).unwrap();
    }
    let blends = fs::read_to_string(fluids().join("blends.yaml")).unwrap();
    assert_eq!(
        catalogue.blend_designations().len() + catalogue.refused_designations().len(),
        blends.matches("\n- designation: ").count()
    );
    for designation in catalogue.blend_designations() {
        let composition = catalogue.resolve(&designation, Basis::Mass).unwrap();
        assert_eq!(composition.label(), designation);
        let sum: f64 = composition
            .components()
            .iter()
            .map(|c| c.mass_fraction)
            .sum();
        assert!((sum - 1.0).abs() < 1e-14, "{designation}: {sum}");
    }
    for designation in catalogue.refused_designations() {
        assert!(catalogue.blend(&designation).unwrap().refused.is_some());
        assert!(catalogue.resolve(&designation, Basis::Mass).is_err());
    }
}

/// The embedded files, put into a user's directory, pass the reader of users' files too:
/// it checks every reference between them.
#[test]
fn the_embedded_files_pass_as_a_users_directory() {
    let own = Catalogue::with_directory(&fluids()).unwrap();
    let embedded = Catalogue::embedded();
    assert_eq!(own.pure_designations(), embedded.pure_designations());
    assert_eq!(own.blend_designations(), embedded.blend_designations());
    assert_eq!(own.pairs(), embedded.pairs());
}

/// A file bears its designation as its name, so that a listing shows what is there.
#[test]
fn files_are_named_as_what_they_hold() {
    let embedded = Catalogue::embedded();
    let mut expected: BTreeSet<String> = embedded
        .pure_designations()
        .iter()
        .map(|name| format!("{name}.yaml"))
        .collect();
    for entry in fs::read_dir(fluids().join("pure")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(expected.remove(&name), "{name}");
    }
    assert!(expected.is_empty(), "{expected:?}");
}

#[test]
fn lists_stand_in_the_standards_order() {
    let pures = Catalogue::embedded().pure_designations();
    let place = |name: &str| pures.iter().position(|other| other == name).unwrap();
    // The order of numbers in ANSI/ASHRAE 34, from memory.
    for names in [
        ["R-11", "R-12", "R-13"],
        ["R-13", "R-13I1", "R-14"],
        ["R-32", "R-125", "R-134a"],
        ["R-290", "R-600", "R-600a"],
        ["R-744", "R-1150", "R-1234yf"],
        ["R-1234yf", "R-1234ze(E)", "R-1234ze(Z)"],
    ] {
        assert!(place(names[0]) < place(names[1]), "{names:?}");
        assert!(place(names[1]) < place(names[2]), "{names:?}");
    }
}

/// A cold look-up parses only the files it needs: reading everything takes far longer.
#[test]
fn a_cold_look_up_is_quick() {
    // The fastest of several, since other tests run beside this one.
    let fastest = (0..20)
        .map(|_| {
            let start = Instant::now();
            let directory = Directory::new().with("pure/own.yaml", PURE);
            let catalogue = Catalogue::with_directory(directory.path()).unwrap();
            catalogue.resolve("r410a", Basis::Mass).unwrap();
            start.elapsed()
        })
        .min()
        .unwrap();
    assert!(fastest.as_micros() < 5_000, "{fastest:?}");
}
