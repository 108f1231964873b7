//! What only the started program shows: pipes, threads, signals. What it answers is tested in
//! `tests/it` of the package beside, in one process.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[allow(dead_code)] // a part is asked by those other tests
#[path = "../../../tests/it/folder.rs"]
mod folder;
mod interrupted;
mod pipes;
#[allow(dead_code)]
#[path = "../../../tests/it/sheet.rs"]
mod sheet;
mod streams;
