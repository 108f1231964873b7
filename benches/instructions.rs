//! Asks one question so many times and nothing else, for a counter of instructions to look at:
//! `tools/instructions.py` runs it and does the sum.
//!
//! Without a number it lists the questions.
#![allow(
    missing_docs,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::expect_used
)]

use std::hint::black_box;

mod questions;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let numbers: Vec<usize> = words.iter().filter_map(|word| word.parse().ok()).collect();
    let all = questions::questions().expect("every question can be put");
    if let [place, times] = numbers[..] {
        for index in 0..times {
            black_box((all[place].ask)(black_box(index)).expect("every question has an answer"));
        }
        return;
    }
    for (place, one) in all.iter().enumerate() {
        println!("{place}\t{}\t{}", one.layer, one.name);
    }
}
