//! Runs the program inside the test, so that a test starts no process.

use zeotrope_cli::{Streams, run};

/// What a run gave.
pub(crate) struct Run {
    pub(crate) code: u8,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs the program with arguments, the program's own name left out.
pub(crate) fn zeotrope(arguments: &[&str]) -> Run {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let exit = run(
        std::iter::once(&"zeotrope").chain(arguments).copied(),
        Streams {
            out: &mut out,
            err: &mut err,
            colour: false,
        },
    );
    Run {
        code: exit.code(),
        // A PDF is no text.
        out: String::from_utf8_lossy(&out).into_owned(),
        err: String::from_utf8(err).unwrap(),
    }
}

/// Runs the program and gives its answer; fails where there is none.
pub(crate) fn answer(arguments: &[&str]) -> String {
    let run = zeotrope(arguments);
    assert_eq!(run.code, 0, "{arguments:?}: {}", run.err);
    run.out
}

/// The answer in JSON.
pub(crate) fn json(arguments: &[&str]) -> serde_json::Value {
    let arguments: Vec<&str> = arguments
        .iter()
        .chain(&["--format", "json"])
        .copied()
        .collect();
    serde_json::from_str(&answer(&arguments)).unwrap()
}

/// Splits a command line at blanks outside quotation marks.
pub(crate) fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for character in line.trim().chars() {
        match character {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().unwrap().push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}
