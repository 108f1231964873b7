//! Pipes and terminals are minded.

use std::process::{Command, Stdio};

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
