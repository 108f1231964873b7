//! Compositions in the standard's notation, over the embedded facts.

use proptest::prelude::*;
use zeotrope::Error;
use zeotrope::catalogue::{Basis, Catalogue, Composition, CompositionNote};

fn resolved(text: &str) -> Composition {
    Catalogue::embedded()
        .resolve(text, Basis::Mass)
        .unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn masses(composition: &Composition) -> Vec<(&str, f64)> {
    composition
        .components()
        .iter()
        .map(|c| (c.designation.as_str(), c.mass_fraction))
        .collect()
}

/// Problem and hint of a refused notation.
fn refused(text: &str) -> (String, String) {
    match Catalogue::embedded().resolve(text, Basis::Mass) {
        Err(Error::Composition {
            literal,
            problem,
            hint,
        }) => {
            assert_eq!(literal, text);
            (problem, hint)
        }
        other => panic!("{text}: {other:?}"),
    }
}

#[test]
fn the_notation_is_read_in_its_forms() {
    for text in [
        "R-32/R-125/R-134a (20/25/55)",
        "R-32/125/134a (20/25/55)",
        "r32 / r125 / HFC-134a ( 20 / 25 / 55 )",
        "R-32/R-125/R-134a(20/25/55)",
        "R-32/R-125/R-134a (20%/25%/55%)",
        "R-32/R-125/R-134a (20.00/25/5.5e1)",
    ] {
        let composition = resolved(text);
        assert_eq!(
            masses(&composition),
            [("R-32", 0.2), ("R-125", 0.25), ("R-134a", 0.55)],
            "{text}"
        );
        assert_eq!(composition.label(), "R-32/R-125/R-134a (20/25/55)");
        assert_eq!(composition.designation(), None);
        assert!(composition.notes().is_empty(), "{:?}", composition.notes());
    }
    // The short form allows R-32 to lose its R too.
    assert_eq!(
        masses(&resolved("R-125/32 (60/40)")),
        [("R-125", 0.6), ("R-32", 0.4)]
    );
}

#[test]
fn a_bracket_without_amounts_is_part_of_a_name() {
    let composition = resolved("R-1234ze(E)/R-1234yf (40/60)");
    assert_eq!(
        masses(&composition),
        [("R-1234ze(E)", 0.4), ("R-1234yf", 0.6)]
    );
    assert_eq!(resolved("R-1234ze(E)").label(), "R-1234ze(E)");
    assert_eq!(resolved("R-1234ze(E) (100)").label(), "R-1234ze(E)");
}

#[test]
fn listed_refrigerants_are_recognised() {
    // Compositions of ANSI/ASHRAE 34, from memory: R-410A 50/50, R-407C 23/25/52.
    for (text, designation) in [
        ("R-32/R-125 (50/50)", "R-410A"),
        ("R-125/R-32 (50/50)", "R-410A"),
        ("R-134a/R-125/R-32 (52/25/23)", "R-407C"),
        ("R-134a (100)", "R-134a"),
        ("R-32/R-125/R-134a (0/0/100)", "R-134a"),
        ("R-410A (100)", "R-410A"),
        ("R-410A/R-407C (0/100)", "R-407C"),
        ("R-410A/R-32/R-125 (90/5/5)", "R-410A"),
    ] {
        let composition = resolved(text);
        assert_eq!(composition.designation(), Some(designation), "{text}");
        assert_eq!(composition.label(), designation, "{text}");
    }
    // The order asked for stays.
    assert_eq!(
        masses(&resolved("R-125/R-32 (50/50)")),
        [("R-125", 0.5), ("R-32", 0.5)]
    );
    assert_eq!(resolved("R-32/R-125 (50.01/49.99)").designation(), None);
}

#[test]
fn mole_percent_of_a_listed_blend_is_recognised() {
    let blend = resolved("R-410A");
    let text = format!(
        "R-32/R-125 ({}/{})",
        100.0 * blend.components()[0].mole_fraction,
        100.0 * blend.components()[1].mole_fraction
    );
    let again = Catalogue::embedded().resolve(&text, Basis::Mole).unwrap();
    assert_eq!(again.designation(), Some("R-410A"));
    // By hand: (50/52.024) / (50/52.024 + 50/120.0214), molar masses as printed in the
    // papers of the two equations (Tillner-Roth 1997, Lemmon & Jacobsen 2005).
    approx::assert_relative_eq!(
        blend.components()[0].mole_fraction,
        0.69761,
        max_relative = 1e-4
    );
}

#[test]
fn a_blend_inside_is_expanded_and_equal_components_are_merged() {
    let composition = resolved("R-410A/R-32 (90/10)");
    assert_eq!(composition.components().len(), 2);
    approx::assert_relative_eq!(
        composition.components()[0].mass_fraction,
        0.55,
        max_relative = 1e-14
    );
    assert_eq!(composition.label(), "R-32/R-125 (55/45)");
    assert!(
        composition
            .notes()
            .iter()
            .any(|note| *note == CompositionNote::Expanded("R-410A".into())),
        "{:?}",
        composition.notes()
    );
}

#[test]
fn sums_beside_100_are_scaled_and_said_or_refused() {
    let composition = resolved("R-32/R-125 (40/59.96)");
    approx::assert_relative_eq!(composition.components()[0].mass_fraction, 40.0 / 99.96);
    assert!(composition.notes()[0] == CompositionNote::Scaled("99.96".into()));
    assert!(
        resolved("R-32/R-125 (40/60.05)").notes()[0] == CompositionNote::Scaled("100.05".into())
    );
    let (problem, hint) = refused("R-32/R-125 (40/59.9)");
    assert!(problem.contains("99.9 %"), "{problem}");
    assert!(hint.contains("100"), "{hint}");
    refused("R-32/R-125 (40/60.06)");
    refused("R-32/R-125 (0.4/0.6)");
    refused("R-32/R-125 (0/0)");
    refused("R-134a (0)");
    let dropped = resolved("R-32/R-125/R-134a (40/60/0)");
    assert_eq!(dropped.components().len(), 2);
    assert!(dropped.notes()[0] == CompositionNote::Dropped("R-134a".into()));
}

#[test]
fn slips_are_refused_with_a_hint() {
    for text in [
        "R-32/R-125",
        "R-32/R-125 (50)",
        "R-32/R-125 (50/50/0)",
        "R-32/R-125 50/50",
        "R-32/R-125 (50/50",
        "R-32//R-125 (50/25/25)",
        "/ (50/50)",
        "/",
        "R-32/R-125 ()",
        "R-32/R-125 (/)",
        "R-32/R-125 (110/-10)",
        "R-32/R-125 (-0.5/100.5)",
        "R-32/R-125 (nan/50)",
        "R-32/R-125 (inf/50)",
        "R-32/R-125 (1e999/50)",
        "R-32/R-125 (49,5/50,5)",
        "R-32/R-125 (half/half)",
        "R-32/R-1234ze(E)",
        "(50/50)",
        "R-32 ()",
    ] {
        let (problem, hint) = refused(text);
        assert!(!problem.is_empty() && !hint.is_empty(), "{text}");
    }
    let error = Catalogue::embedded()
        .resolve("R-32/R-134 (50/50)", Basis::Mass)
        .unwrap_err();
    assert_eq!(error.hint().as_deref(), Some("did you mean R-134a?"));
}

#[test]
fn at_most_eight_components() {
    let eight = "R-32/R-125/R-134a/R-143a/R-152a/R-22/R-23/R-290";
    let amounts = ["12.5"; 8].join("/");
    assert_eq!(
        resolved(&format!("{eight} ({amounts})")).components().len(),
        8
    );
    let nine = format!("{eight}/R-600a (10/10/10/10/10/10/10/10/20)");
    assert!(refused(&nine).0.contains("9 different"));
    // Twenty of two kinds are two.
    let names = ["R-32/R-125"; 10].join("/");
    let amounts = ["4/6"; 10].join("/");
    assert_eq!(
        resolved(&format!("{names} ({amounts})")).label(),
        "R-32/R-125 (40/60)"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Mass to mole and back, over any composition of four.
    #[test]
    fn mass_and_mole_agree(parts in prop::array::uniform4(0.1..100.0_f64)) {
        let catalogue = Catalogue::embedded();
        let sum: f64 = parts.iter().sum();
        let shares: Vec<String> = parts.iter().map(|p| (100.0 * p / sum).to_string()).collect();
        let names = "R-32/R-125/R-134a/R-1234yf";
        let by_mass = catalogue
            .resolve(&format!("{names} ({})", shares.join("/")), Basis::Mass)
            .unwrap();
        let moles: Vec<String> = by_mass.components()
            .iter()
            .map(|c| (100.0 * c.mole_fraction).to_string())
            .collect();
        let by_mole = catalogue
            .resolve(&format!("{names} ({})", moles.join("/")), Basis::Mole)
            .unwrap();
        for (one, other) in by_mass.components().iter().zip(by_mole.components()) {
            prop_assert!((one.mass_fraction - other.mass_fraction).abs() < 1e-12);
            prop_assert!((one.mole_fraction - other.mole_fraction).abs() < 1e-12);
        }
    }
}
