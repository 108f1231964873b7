//! What is left of a file that was not finished: nothing, or nothing for long.
#![cfg(unix)]

use std::io::Write;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::folder::Folder;

/// Names in a folder that end as unfinished files do.
fn unfinished(folder: &Folder) -> Vec<String> {
    let mut names = folder.names();
    names.retain(|name| name.ends_with(".part"));
    names
}

/// Waits until something is so, at most ten seconds.
fn until(what: &str, mut is_so: impl FnMut() -> bool) {
    let begin = Instant::now();
    while !is_so() {
        assert!(begin.elapsed() < Duration::from_secs(10), "{what}");
        std::thread::sleep(Duration::from_millis(5));
    }
}

/// A run that has begun its file, beside what lay there, and waits for more rows.
fn begun(folder: &Folder) -> Child {
    let before = unfinished(folder);
    let mut child = Command::new(env!("CARGO_BIN_EXE_zeotrope"))
        .args(["saturation", "R-134a", "--csv", "-", "--output"])
        .arg(folder.file("answers.csv"))
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let rows = child.stdin.as_mut().unwrap();
    rows.write_all(b"temperature_K\n280\n281\n").unwrap();
    rows.flush().unwrap();
    until("the file is begun", || {
        unfinished(folder).iter().any(|name| !before.contains(name))
    });
    child
}

fn send(signal: &str, child: &Child) {
    let sent = Command::new("kill")
        .args([signal, &child.id().to_string()])
        .status();
    assert!(sent.unwrap().success());
}

#[test]
fn signals_leave_nothing_behind() {
    for (signal, code) in [("-INT", 130), ("-TERM", 143), ("-HUP", 129)] {
        let folder = Folder::new("interrupted");
        let mut child = begun(&folder);
        // held: waiting closes it, and the end of the rows would come before the signal
        let rows = child.stdin.take();
        send(signal, &child);
        // 128 + the signal's number, as shells have it
        assert_eq!(child.wait().unwrap().code(), Some(code), "{signal}");
        drop(rows);
        assert_eq!(unfinished(&folder), [] as [String; 0], "{signal}");
        assert!(!folder.names().contains(&"answers.csv".to_owned()));
    }
}

#[test]
fn what_a_kill_left_goes_with_the_next_writing_unless_it_is_held() {
    let folder = Folder::new("killed");
    let mut killed = begun(&folder);
    send("-KILL", &killed);
    killed.wait().unwrap();
    assert_eq!(unfinished(&folder).len(), 1, "nothing could remove it");

    // another run of the same target: the abandoned file goes, its own stays
    let mut running = begun(&folder);
    let own = format!(".answers.csv.{}.part", running.id());
    until("the abandoned file is gone", || {
        unfinished(&folder) == [own.clone()]
    });
    // a third one leaves the file that is still held
    let answered = Command::new(env!("CARGO_BIN_EXE_zeotrope"))
        .args(["saturation", "R-134a", "--temperature", "5C", "--output"])
        .arg(folder.file("answers.csv"))
        .status()
        .unwrap();
    assert!(answered.success());
    assert_eq!(unfinished(&folder), [own]);
    send("-TERM", &running);
    running.wait().unwrap();
    assert_eq!(unfinished(&folder), [] as [String; 0]);
    assert!(folder.names().contains(&"answers.csv".to_owned()));
}

/// A limit of 1 block (512 bytes or 1 KiB) of file size.
#[test]
fn a_limit_of_size_is_told_and_leaves_nothing() {
    let folder = Folder::new("limited");
    let command = format!(
        "ulimit -f 1; exec '{}' chart R-134a R-290 R-32 --output '{}'",
        env!("CARGO_BIN_EXE_zeotrope"),
        folder.file("chart.html")
    );
    let out = Command::new("sh").args(["-c", &command]).output().unwrap();
    assert_eq!(out.status.code(), Some(1), "{out:?}");
    let told = String::from_utf8(out.stderr).unwrap();
    assert!(told.contains("could not be written"), "{told}");
    assert_eq!(unfinished(&folder), [] as [String; 0]);
    assert!(!folder.names().contains(&"chart.html".to_owned()));
}
