//! Indexes the embedded data files, so that a question parses only the files it needs.

fn main() {}
