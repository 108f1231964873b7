//! Files appear whole or not at all; pipes and terminals are minded.

use std::path::PathBuf;
use std::process::{Command, Stdio};

use crate::program::{answer, zeotrope};

/// A folder of its own for each test, removed at its end.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("zeotrope-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    pub(crate) fn file(&self, name: &str) -> String {
        self.0.join(name).to_str().unwrap().to_owned()
    }

    pub(crate) fn write(&self, name: &str, text: &str) -> String {
        let file = self.file(name);
        std::fs::write(&file, text).unwrap();
        file
    }

    pub(crate) fn names(&self) -> Vec<String> {
        std::fs::read_dir(&self.0)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        std::fs::remove_dir_all(&self.0).unwrap();
    }
}

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

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_zeotrope"));
    command.env_remove("NO_COLOR");
    command
}

/// A reader that stops early is no error.
#[test]
fn a_closed_pipe_ends_quietly() {
    let mut child = program()
        .args([
            "chart", "R-134a", "--from", "0C", "--to", "50C", "--step", "0.01C",
        ])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let ended = child.wait_with_output().unwrap();
    assert_eq!(ended.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
}

/// Off a terminal nothing is coloured; exit codes reach the shell.
#[test]
fn codes_and_streams_of_the_process() {
    for (arguments, code) in [
        (&["saturation", "R-134a", "--temperature", "5C"][..], 0),
        (&["saturation", "R-134", "--temperature", "5C"], 1),
        (&["saturation", "R-134a", "--temperature", "5"], 2),
    ] {
        let ended = program().args(arguments).output().unwrap();
        assert_eq!(ended.status.code(), Some(code), "{arguments:?}");
        assert_eq!(ended.stdout.is_empty(), code != 0);
        assert_eq!(ended.stderr.is_empty(), code == 0);
        assert!(!ended.stderr.contains(&0x1b));
    }
}

/// Arguments that are no text at all are wrong usage, not a crash.
#[cfg(unix)]
#[test]
fn arguments_that_are_no_text() {
    use std::os::unix::ffi::OsStrExt;
    let strange = std::ffi::OsStr::from_bytes(b"R-\xff\xfe");
    let ended = program().arg("show").arg(strange).output().unwrap();
    assert_eq!(ended.status.code(), Some(2), "{ended:?}");
    assert!(String::from_utf8_lossy(&ended.stderr).starts_with("error: "));
}
