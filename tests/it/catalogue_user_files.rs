//! A user's data files: what is read, and what is refused with file, line and key path.

use zeotrope::Error;
use zeotrope::catalogue::records::PairKind;
use zeotrope::catalogue::{Basis, Catalogue, CompositionNote, SpellingMeaning};

use crate::catalogue_samples::{BLENDS, DEPARTURE, Directory, PAIR, PURE, complete, second_pure};

/// Line, path and problem of the refusal of a directory; its file must end as said.
fn refusal(directory: &Directory, file_ending: &str) -> (usize, String, String) {
    match Catalogue::with_directory(directory.path()) {
        Err(Error::Catalogue {
            file,
            line,
            path,
            problem,
        }) => {
            assert!(file.ends_with(file_ending), "{file}");
            (line, path, problem)
        }
        other => panic!("not refused by its file: {other:?}"),
    }
}

/// The refusal of a pure file in which one text was replaced by another.
fn refused_pure(before: &str, after: &str) -> (usize, String, String) {
    assert!(PURE.contains(before), "the sample has no '{before}'");
    let text = PURE.replacen(before, after, 1);
    refusal(
        &Directory::new().with("pure/one.yaml", &text),
        "pure/one.yaml",
    )
}

#[test]
fn a_complete_directory_is_read() {
    let directory = complete();
    let catalogue = Catalogue::with_directory(directory.path()).unwrap();
    assert_eq!(
        catalogue.find("r9001").unwrap(),
        SpellingMeaning::Pure("R-9001".into())
    );
    assert_eq!(
        catalogue.find("Test Fluid-One").unwrap(),
        SpellingMeaning::Pure("R-9001".into())
    );
    assert_eq!(
        catalogue.find("9401a").unwrap(),
        SpellingMeaning::Blend("R-9401A".into())
    );
    assert_eq!(catalogue.pure("R-9002").unwrap().molar_mass_kg_mol, 0.05);
    let (pair, swapped) = catalogue.pair("R-9002", "R-9001").unwrap().unwrap();
    assert!(swapped);
    assert_eq!(pair.kind, PairKind::Departure);
    assert_eq!(pair.reducing.beta_t, 1.01);
    assert!(!catalogue.pair("R-9001", "R-9002").unwrap().unwrap().1);
    assert!(catalogue.pair("R-9001", "R-9001").unwrap().is_none());
    let departure = catalogue.departure("invented").unwrap();
    assert_eq!(departure.residual.exponential.as_ref().unwrap().n.len(), 2);
    assert!(catalogue.departure("nothing").is_err());
    let blends = catalogue.blend_designations();
    assert!(blends.contains(&"R-9401A".to_owned()));
    assert!(!blends.contains(&"R-9402B".to_owned()));
    assert!(
        catalogue
            .refused_designations()
            .contains(&"R-9402B".to_owned())
    );
}

#[test]
fn a_blend_is_resolved_by_mass_and_mole() {
    let directory = complete();
    let catalogue = Catalogue::with_directory(directory.path()).unwrap();
    let blend = catalogue.resolve("r-9401a", Basis::Mass).unwrap();
    assert_eq!(blend.label(), "R-9401A");
    // By hand: 0.6/0.1 = 6 and 0.4/0.05 = 8 mol, so 6/14 and 8/14; 1 kg / 14 mol.
    approx::assert_relative_eq!(blend.components()[0].mole_fraction, 6.0 / 14.0);
    approx::assert_relative_eq!(blend.components()[1].mole_fraction, 8.0 / 14.0);
    approx::assert_relative_eq!(blend.molar_mass(), 1.0 / 14.0);
    // By hand: equal moles of 0.1 and 0.05 kg/mol are 2/3 and 1/3 by mass.
    let own = catalogue
        .resolve("R-9001/R-9002 (50/50)", Basis::Mole)
        .unwrap();
    approx::assert_relative_eq!(own.components()[0].mass_fraction, 2.0 / 3.0);
    approx::assert_relative_eq!(own.components()[0].mole_fraction, 0.5);
    assert_eq!(own.label(), "R-9001/R-9002 (66.6667/33.3333)");
    assert_eq!(own.designation(), None);
    assert_eq!(own.notes()[0], CompositionNote::ReadAsMole);
    // By hand: 1 mol of the blend weighs 1/14 kg (0.6 and 0.4 of it), 1 mol of R-9002 0.05 kg.
    let nested = catalogue
        .resolve("R-9401A/R-9002 (50/50)", Basis::Mole)
        .unwrap();
    approx::assert_relative_eq!(
        nested.components()[0].mass_fraction,
        (0.6 / 14.0) / (1.0 / 14.0 + 0.05),
        max_relative = 1e-14
    );
}

#[test]
fn a_blend_that_is_not_carried_is_refused_with_the_reason() {
    let directory = complete();
    let catalogue = Catalogue::with_directory(directory.path()).unwrap();
    assert!(catalogue.blend("R-9402B").is_ok());
    for text in [
        "R-9402B",
        "r9402b",
        "R-9402B/R-9001 (50/50)",
        "R-9002/R-9001 (50/50)",
    ] {
        let error = catalogue.resolve(text, Basis::Mass).unwrap_err();
        let Error::Refused {
            designation,
            reason,
        } = error
        else {
            panic!("{text}: {error:?}");
        };
        assert_eq!(
            (designation.as_str(), reason.as_str()),
            ("R-9402B", "it is invented")
        );
    }
}

#[test]
fn a_users_file_wins_over_an_embedded_one() {
    let own = PURE
        .replace("R-9001", "R-134a")
        .replace("molar_mass_kg_mol: 0.1", "molar_mass_kg_mol: 0.123");
    let directory = Directory::new().with("pure/own.yaml", &own);
    let catalogue = Catalogue::with_directory(directory.path()).unwrap();
    let resolved = catalogue.resolve("134A", Basis::Mass).unwrap();
    assert_eq!(resolved.components()[0].molar_mass, 0.123);
    let listed = catalogue.pure_designations();
    assert_eq!(listed.iter().filter(|name| *name == "R-134a").count(), 1);
}

#[test]
fn unknown_and_missing_keys_are_refused() {
    // A key without its unit: the nearest key is proposed.
    let (line, path, problem) = refused_pure("molar_mass_kg_mol", "molar_mass");
    assert_eq!((line, path.as_str()), (6, "molar_mass"));
    assert!(
        problem.contains("did you mean molar_mass_kg_mol?"),
        "{problem}"
    );
    let (line, path, problem) = refused_pure("temperature_max_K", "temperature_max_C");
    assert_eq!((line, path.as_str()), (16, "range.temperature_max_C"));
    assert!(problem.contains("temperature_max_K"), "{problem}");
    let range =
        "range:\n  temperature_min_K: 200\n  temperature_max_K: 400\n  pressure_max_Pa: 5.0e7\n";
    let (_, _, problem) = refused_pure(range, "");
    assert_eq!(problem, "the key 'range' is missing");
    let (line, path, problem) = refused_pure("  pressure_max_Pa: 5.0e7\n", "");
    assert_eq!((line, path.as_str()), (15, "range"));
    assert_eq!(problem, "the key 'pressure_max_Pa' is missing");
    // The same key twice.
    let (line, _, problem) = refused_pure("cas: none", "cas: none\ncas: none");
    assert!(line <= 6, "{line}");
    assert!(problem.contains("duplicate"), "{problem}");
}

#[test]
fn impossible_numbers_are_refused() {
    for (before, after, line, path) in [
        (
            "molar_mass_kg_mol: 0.1",
            "molar_mass_kg_mol: .nan",
            6,
            "molar_mass_kg_mol",
        ),
        (
            "molar_mass_kg_mol: 0.1",
            "molar_mass_kg_mol: -0.1",
            6,
            "molar_mass_kg_mol",
        ),
        (
            "molar_mass_kg_mol: 0.1",
            "molar_mass_kg_mol: 0",
            6,
            "molar_mass_kg_mol",
        ),
        (
            "molar_mass_kg_mol: 0.1",
            "molar_mass_kg_mol: 102.03",
            6,
            "molar_mass_kg_mol",
        ),
        (
            "molar_mass_kg_mol: 0.1",
            "molar_mass_kg_mol: heavy",
            6,
            "molar_mass_kg_mol",
        ),
        ("8.314462618", "1.987", 7, "gas_constant_J_mol_K"),
        (
            "temperature_min_K: 200",
            "temperature_min_K: 400",
            15,
            "range.temperature_min_K",
        ),
        (
            "pressure_max_Pa: 5.0e7",
            "pressure_max_Pa: .inf",
            17,
            "range.pressure_max_Pa",
        ),
        (
            "    density_mol_m3: 5000",
            "    density_mol_m3: -1",
            12,
            "critical_point.published.density_mol_m3",
        ),
        (
            "    n: [1, -1]",
            "    n: [1, .nan]",
            30,
            "residual.power.n[1]",
        ),
        ("    n: [1, -1]", "    n: [1]", 31, "residual.power.t"),
        ("    l: [1]", "    l: [1, 2]", 37, "residual.exponential.l"),
        (
            "    theta: [3, 4]",
            "    theta: [3, 0]",
            27,
            "ideal_gas.planck_einstein.theta[1]",
        ),
        (
            "    theta: [3, 4]",
            "    theta: [3]",
            27,
            "ideal_gas.planck_einstein.theta",
        ),
        (
            "{scale: 5000, n: [2]",
            "{scale: 5000, n: []",
            41,
            "ancillary.liquid_density.n",
        ),
    ] {
        let (found_line, found_path, problem) = refused_pure(before, after);
        assert_eq!(
            (found_line, found_path.as_str()),
            (line, path),
            "{after}: {problem}"
        );
    }
    // Beyond the largest double: refused, whether as text or as infinity.
    let (line, _, _) = refused_pure("log_tau: 3", "log_tau: 1e999");
    assert_eq!(line, 24);
}

#[test]
fn a_residual_part_without_terms_is_refused() {
    let (start, end) = (
        PURE.find("residual:").unwrap(),
        PURE.find("ancillary:").unwrap(),
    );
    let (line, path, _) = refused_pure(&PURE[start..end], "residual: {}\n");
    assert_eq!((line, path.as_str()), (28, "residual"));
}

#[test]
fn empty_and_broken_files_are_refused() {
    for text in ["", "\n\n", "# only a remark\n", "---\n"] {
        let directory = Directory::new().with("pure/one.yaml", text);
        let (line, _, problem) = refusal(&directory, "pure/one.yaml");
        assert_eq!((line, problem.as_str()), (1, "the file is empty"));
    }
    for (text, line) in [
        ("designation: R-1\nname: x: y", 2),
        ("designation: R-1\n\tname: x", 2),
        ("just words", 1),
        ("- a list", 1),
    ] {
        let directory = Directory::new().with("pure/one.yaml", text);
        let (found, _, problem) = refusal(&directory, "pure/one.yaml");
        assert_eq!(found, line, "{text}: {problem}");
    }
    let directory = Directory::new().with("pure/one.yml", PURE);
    let error = Catalogue::with_directory(directory.path()).unwrap_err();
    assert!(error.hint().unwrap().contains(".yaml"), "{error}");
    for path in [
        directory.path().join("missing"),
        Directory::new().path().to_owned(),
    ] {
        let error = Catalogue::with_directory(&path).unwrap_err();
        assert!(error.hint().unwrap().contains("pure/"), "{error}");
    }
}

#[test]
fn pairs_and_departures_are_checked() {
    let with = |pair: &str| {
        Directory::new()
            .with("pure/one.yaml", PURE)
            .with("pure/two.yaml", &second_pure())
            .with("departures/invented.yaml", DEPARTURE)
            .with("pairs/a.yaml", pair)
    };
    for (before, after, line, path) in [
        ("second: R-9002", "second: R-9001", 2, "second"),
        ("second: R-9002", "second: R-9009", 2, "second"),
        ("gamma_t: 0.99", "gamma_t: 0", 4, "reducing.gamma_t"),
        ("kind: departure", "kind: reducing", 5, "departure"),
        ("kind: departure", "kind: guessed", 3, "kind"),
        ("departure: invented\n", "", 3, "kind"),
        ("departure: invented", "departure: missing", 5, "departure"),
        ("departure_factor: 0.5\n", "", 3, "departure_factor"),
    ] {
        assert!(PAIR.contains(before));
        let directory = with(&PAIR.replacen(before, after, 1));
        let (found_line, found_path, problem) = refusal(&directory, "pairs/a.yaml");
        assert_eq!(found_path, path, "{after}: {problem}");
        // A key that is not there has no line of its own.
        if path != "departure_factor" {
            assert_eq!(found_line, line, "{after}: {problem}");
        }
    }
    for (block, path) in [
        (
            "refitted: {beta_t: 1, gamma_t: 0.9, papers: [], points: 30, rms_before_percent: 5, \
             rms_after_percent: 1}",
            "refitted.papers",
        ),
        (
            "measured: {points: 0, papers: 1, bias_percent: 1, rms_percent: 1, bias_K: 1, rms_K: 1}",
            "measured.points",
        ),
    ] {
        let directory = with(&format!("{PAIR}{block}\n"));
        let (line, found_path, problem) = refusal(&directory, "pairs/a.yaml");
        assert_eq!((line, found_path.as_str()), (8, path), "{problem}");
    }
    let turned = PAIR
        .replace("first: R-9001", "first: R-9002")
        .replace("second: R-9002", "second: R-9001");
    let directory = with(PAIR).with("pairs/b.yaml", &turned);
    refusal(&directory, "pairs/b.yaml");
    let uneven = DEPARTURE.replace("l: [1, 1]", "l: [1]");
    let directory = Directory::new().with("departures/a.yaml", &uneven);
    let (line, path, _) = refusal(&directory, "departures/a.yaml");
    assert_eq!((line, path.as_str()), (3, "residual.exponential.l"));
}

#[test]
fn blends_are_checked() {
    let with = |blends: &str| {
        Directory::new()
            .with("pure/one.yaml", PURE)
            .with("pure/two.yaml", &second_pure())
            .with("blends.yaml", blends)
    };
    for (before, after, line, path) in [
        (
            "mass_percent: 60",
            "mass_percent: 59.9",
            3,
            "[0].components",
        ),
        (
            "mass_percent: 60",
            "mass_percent: .inf",
            4,
            "[0].components[0].mass_percent",
        ),
        (
            "mass_percent: 40",
            "mass_percent: 0",
            5,
            "[0].components[1].mass_percent",
        ),
        (
            "R-9002, mass",
            "R-9001, mass",
            5,
            "[0].components[1].refrigerant",
        ),
        (
            "R-9002, mass",
            "R-9009, mass",
            5,
            "[0].components[1].refrigerant",
        ),
        // Absurd tolerances: above 2.5 %, below zero, and corners off 100.
        (
            "60, tolerance_mass_percent: [1, 1]",
            "60, tolerance_mass_percent: [1, 2.6]",
            4,
            "[0].components[0].tolerance_mass_percent",
        ),
        (
            "60, tolerance_mass_percent: [1, 1]",
            "60, tolerance_mass_percent: [-1, 1]",
            4,
            "[0].components[0].tolerance_mass_percent",
        ),
        (
            "40, tolerance_mass_percent: [1, 1]",
            "40, tolerance_mass_percent: [0, 0]",
            4,
            "[0].components[0].tolerance_mass_percent",
        ),
        (
            "60, tolerance_mass_percent: [1, 1]",
            "60.04, tolerance_mass_percent: [0, 1]",
            3,
            "[0].components",
        ),
        (
            "bubble_C: {value: -30",
            "bubble_F: {value: -30",
            6,
            "[0].bubble_F",
        ),
        (
            "designation: R-9402B",
            "designation: R-9401A",
            8,
            "[1].designation",
        ),
        (
            "      mass_percent: 50\n    - refrigerant: R-9002",
            "      mass_percent: 51\n    - refrigerant: R-9002",
            9,
            "[1].components",
        ),
        ("refused: it is invented", "refused: ' '", 14, "[1].refused"),
    ] {
        assert!(BLENDS.contains(before), "{before}");
        let mut text = BLENDS.replacen(before, after, 1);
        if after.contains("60.04") {
            text = text.replacen(
                "40, tolerance_mass_percent: [1, 1]",
                "40, tolerance_mass_percent: [0, 1]",
                1,
            );
        }
        let (found_line, found_path, problem) = refusal(&with(&text), "blends.yaml");
        assert_eq!(
            (found_line, found_path.as_str()),
            (line, path),
            "{after}: {problem}"
        );
    }
    let rule =
        "  sum_rule: {refrigerants: [R-9001, R-32], tolerance_mass_percent: [1, 1]}\n  bubble_C:";
    let text = BLENDS.replacen("  bubble_C:", rule, 1);
    let (_, path, _) = refusal(&with(&text), "blends.yaml");
    assert_eq!(path, "[0].sum_rule.refrigerants");
}

#[test]
fn a_name_is_no_composition_and_a_designation_is_written_as_embedded() {
    for (before, after, path) in [
        ("R-9001", "R-9001/2", "designation"),
        ("R-9001", "R-9001 (50)", "designation"),
        ("test fluid one", "one/two", "spellings[1]"),
        ("R-9001", "r134A", "designation"),
    ] {
        let (_, found, problem) = refused_pure(before, after);
        assert_eq!(found, path, "{after}: {problem}");
    }
}

#[test]
fn one_spelling_has_one_meaning() {
    let both = second_pure().replace("'1,1-inventene'", "R 9001");
    let directory = Directory::new()
        .with("pure/one.yaml", PURE)
        .with("pure/two.yaml", &both);
    let (_, _, problem) = refusal(&directory, "pure/two.yaml");
    assert!(problem.contains("already means R-9001"), "{problem}");
}
