//! Look-up by the spellings in use. What each means is common practice, no source.

use proptest::prelude::*;
use zeotrope::Error;
use zeotrope::catalogue::{Basis, Catalogue};

fn found(spelling: &str) -> String {
    Catalogue::embedded()
        .find(spelling)
        .unwrap_or_else(|error| panic!("{spelling}: {error}"))
        .into_designation()
}

fn nearest(spelling: &str) -> Vec<String> {
    match Catalogue::embedded().find(spelling) {
        Err(Error::UnknownRefrigerant { name, nearest }) => {
            assert_eq!(name, spelling);
            nearest
        }
        other => panic!("{spelling}: {other:?}"),
    }
}

#[test]
fn usual_spellings_are_found() {
    for (spelling, designation) in [
        ("R-134a", "R-134a"),
        ("r134a", "R-134a"),
        ("R 134A", "R-134a"),
        ("134a", "R-134a"),
        ("HFC-134a", "R-134a"),
        ("hfc_134a", "R-134a"),
        ("R\u{2011}134a", "R-134a"),
        ("HC-290", "R-290"),
        ("r290", "R-290"),
        ("Propane", "R-290"),
        ("CO2", "R-744"),
        ("carbon dioxide", "R-744"),
        ("Carbon-Dioxide", "R-744"),
        ("R-744", "R-744"),
        ("ammonia", "R-717"),
        ("isobutane", "R-600a"),
        ("R1234ze(E)", "R-1234ze(E)"),
        ("HFO-1234yf", "R-1234yf"),
        ("HCFC-22", "R-22"),
        ("R-22", "R-22"),
        ("R32", "R-32"),
        ("R-40", "R-40"),
        ("cfc-12", "R-12"),
        ("HCFO-1233zd(E)", "R-1233zd(E)"),
        ("RC318", "R-C318"),
        ("R-E170", "R-E170"),
        ("dimethyl ether", "R-E170"),
        ("R-31-10", "R-31-10"),
        ("  R-32 ", "R-32"),
    ] {
        assert_eq!(found(spelling), designation, "{spelling}");
    }
}

#[test]
fn usual_spellings_of_blends_are_found() {
    for (spelling, designation) in [
        ("R-410A", "R-410A"),
        ("r410a", "R-410A"),
        ("R410A", "R-410A"),
        ("410A", "R-410A"),
        ("404a", "R-404A"),
        ("R-407c", "R-407C"),
        ("454b", "R-454B"),
        ("22", "R-22"),
        ("32", "R-32"),
        ("R-513A", "R-513A"),
    ] {
        assert_eq!(found(spelling), designation, "{spelling}");
    }
}

#[test]
fn what_is_no_spelling_is_answered_with_the_nearest() {
    for (spelling, best) in [
        ("R-134", "R-134a"),
        ("r1234zee", "R-1234ze(E)"),
        ("R-1-1", "R-11"),
        ("R-320", "R-32"),
        ("propan", "R-290"),
        ("amonia", "R-717"),
    ] {
        let nearest = nearest(spelling);
        assert!(nearest.len() <= 3, "{spelling}: {nearest:?}");
        assert!(
            nearest.iter().any(|name| name == best),
            "{spelling}: {nearest:?}"
        );
    }
    assert_eq!(nearest("R-134")[0], "R-134a");
    assert_eq!(nearest("r1234zee")[0], "R-1234ze(E)");
    assert_eq!(nearest("R-1234ze"), ["R-1234ze(E)", "R-1234ze(Z)"]);
    for nothing in ["", " ", "R", "-", "R-", "refrigerant", "\u{1F9CA}", "xyzzy"] {
        assert!(nearest(nothing).is_empty(), "{nothing}");
    }
    assert!(nearest(&"9".repeat(100_000)).is_empty());
}

#[test]
fn a_designation_is_found_in_any_dress() {
    let catalogue = Catalogue::embedded();
    let mut all = catalogue.pure_designations();
    all.extend(catalogue.blend_designations());
    all.extend(catalogue.refused_designations());
    for designation in all {
        for dress in [
            designation.clone(),
            designation.to_lowercase(),
            designation.to_uppercase(),
            designation.replacen("R-", "R", 1),
            designation.replacen('-', " ", 1),
        ] {
            assert_eq!(found(&dress), designation, "{dress}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Any text is answered or refused, in finite time and without a panic.
    #[test]
    fn no_text_panics(text in "\\PC{0,40}", any in any::<String>()) {
        let catalogue = Catalogue::embedded();
        for text in [&text, &any] {
            let _ = catalogue.find(text);
            let _ = catalogue.resolve(text, Basis::Mass);
            let _ = catalogue.pure(text);
            let _ = catalogue.blend(text);
            let _ = catalogue.pair(text, "R-32");
            let _ = catalogue.departure(text);
        }
    }

    /// Texts that look like compositions, with slips.
    #[test]
    fn no_composition_panics(text in "(R-?(32|125|134a|410A|9)/?){0,9} ?\\(?([0-9.e/%+-]{0,6}/?){0,9}\\)?") {
        let catalogue = Catalogue::embedded();
        for basis in [Basis::Mass, Basis::Mole] {
            if let Ok(composition) = catalogue.resolve(&text, basis) {
                let masses: f64 = composition.components().iter().map(|c| c.mass_fraction).sum();
                let moles: f64 = composition.components().iter().map(|c| c.mole_fraction).sum();
                prop_assert!((masses - 1.0).abs() < 1e-12);
                prop_assert!((moles - 1.0).abs() < 1e-12);
            }
        }
    }
}
