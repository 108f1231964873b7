//! Rows of a CSV file through pipes, on any number of threads.

use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::time::Duration;

use crate::sheet::Sheet;

fn program(threads: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_zeotrope"));
    command
        .args(["saturation", "R-134a", "--csv", "-"])
        .env("RAYON_NUM_THREADS", threads)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    command
}

/// Twenty thousand rows, each seventh without an answer.
fn many() -> String {
    let mut text = String::from("row,temperature_C\n");
    for row in 0..20_000 {
        let temperature = if row % 7 == 0 { 200 } else { row % 130 - 30 };
        text.push_str(&format!("{row},{temperature}\n"));
    }
    text
}

#[test]
fn standard_input_on_any_number_of_threads() {
    let run = |threads| {
        let mut child = program(threads).spawn().unwrap();
        let mut input = child.stdin.take().unwrap();
        let writing = std::thread::spawn(move || input.write_all(many().as_bytes()).unwrap());
        let ended = child.wait_with_output().unwrap();
        writing.join().unwrap();
        assert_eq!(ended.status.code(), Some(0));
        (String::from_utf8(ended.stdout).unwrap(), ended.stderr)
    };
    let one = run("1");
    assert_eq!(one, run("3"));
    let sheet = Sheet::of(&one.0);
    assert_eq!(sheet.rows.len(), 20_000);
    for (row, (found, error)) in sheet
        .column("row")
        .iter()
        .zip(sheet.column("error"))
        .enumerate()
    {
        assert_eq!(*found, row.to_string());
        assert_eq!(error.is_empty(), row % 7 != 0, "row {row}: {error}");
    }
    let words = String::from_utf8(one.1).unwrap();
    assert!(words.contains("2858 of 20000 rows"), "{words}");
    assert!(!words.contains('\r'), "off a terminal no progress is shown");
}

/// A logger sends a row now and then and is answered at once.
#[test]
fn rows_that_come_one_by_one_are_not_kept_waiting() {
    for (start, end) in [("", "\n"), ("\u{feff}", "\r\n")] {
        let mut child = program("2").spawn().unwrap();
        let mut input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let (send, lines) = std::sync::mpsc::channel();
        let reading = std::thread::spawn(move || {
            for line in output.lines() {
                send.send(line.unwrap()).unwrap();
            }
        });
        let next = || {
            lines
                .recv_timeout(Duration::from_secs(60))
                .expect("a line in a minute")
        };
        write!(input, "{start}row,temperature_C{end}").unwrap();
        assert!(next().starts_with("row,temperature_C,"));
        for row in 1..4 {
            write!(input, "{row},5{end}").unwrap();
            let line = next();
            assert!(line.starts_with(&format!("{row},5,278.15,")), "{line}");
        }
        drop(input);
        reading.join().unwrap();
        assert_eq!(child.wait().unwrap().code(), Some(0));
    }
}

/// A reader that stops early is no error.
#[test]
fn a_closed_pipe_ends_quietly() {
    let mut child = program("2").spawn().unwrap();
    drop(child.stdout.take());
    let mut input = child.stdin.take().unwrap();
    // the program may be gone before all is written
    let writing = std::thread::spawn(move || input.write_all(many().as_bytes()).is_ok());
    let ended = child.wait_with_output().unwrap();
    let _ = writing.join().unwrap();
    assert_eq!(ended.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
}
