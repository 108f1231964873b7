//! Files appear whole or not at all.

use crate::folder::Folder;
use crate::program::{answer, zeotrope};

const CHART: [&str; 6] = ["chart", "R-134a", "--from", "0C", "--to", "5C"];

fn chart(more: &[&str]) -> crate::program::Run {
    zeotrope(&CHART.iter().chain(more).copied().collect::<Vec<_>>())
}

#[test]
fn the_ending_names_the_format() {
    let folder = Folder::new("endings");
    for (name, format) in [
        ("a.txt", "text"),
        ("a.md", "markdown"),
        ("a.csv", "csv"),
        ("a.json", "json"),
        ("-40.csv", "csv"),
    ] {
        let file = folder.file(name);
        let run = chart(&["--output", &file]);
        assert_eq!((run.code, run.out.as_str()), (0, ""), "{}", run.err);
        let mut arguments = CHART.to_vec();
        arguments.extend(["--format", format]);
        assert_eq!(
            std::fs::read_to_string(&file).unwrap(),
            answer(&arguments),
            "{name}"
        );
    }
    assert_eq!(folder.names().len(), 5, "{:?}", folder.names());
}

#[test]
fn an_existing_file_needs_force() {
    let folder = Folder::new("force");
    let file = folder.file("chart.csv");
    std::fs::write(&file, "mine").unwrap();
    let run = chart(&["--output", &file]);
    assert_eq!(run.code, 1);
    assert!(run.err.contains("--force"), "{}", run.err);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
    assert_eq!(chart(&["--output", &file, "--force"]).code, 0);
    assert!(
        std::fs::read_to_string(&file)
            .unwrap()
            .starts_with("temperature_C,")
    );
}

#[test]
fn a_failure_leaves_nothing_behind() {
    let folder = Folder::new("failure");
    let file = folder.file("chart.csv");
    for slip in [
        &["chart", "R-134", "--from", "0C", "--to", "5C"][..],
        &["chart", "R-744", "--from", "40C", "--to", "50C"],
        &[
            "chart", "R-134a", "--from", "0C", "--to", "5C", "--step", "0C",
        ],
    ] {
        let mut arguments = slip.to_vec();
        arguments.extend(["--output", &file]);
        assert_ne!(zeotrope(&arguments).code, 0);
    }
    // A folder is no file, with or without force.
    assert_eq!(
        chart(&["--output", &folder.file(""), "--format", "csv", "--force"]).code,
        1
    );
    assert!(folder.names().is_empty(), "{:?}", folder.names());
}
