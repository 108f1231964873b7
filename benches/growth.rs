//! How the time of a batch grows with its rows: `cargo bench --bench growth`.
//!
//! Prints a line a size: the median of three runs by the clock, and what a row takes of processor
//! time, which on a shared machine says more. `RAYON_NUM_THREADS` sets the number of threads.
#![allow(
    missing_docs,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic
)]

use std::time::{Duration, Instant};

use zeotrope::Refrigerant;

/// No larger size is tried where it would take longer than this.
const LONGEST: Duration = Duration::from_secs(30);

fn main() {
    println!("| refrigerant | rows | whole, clock | a row, processor |\n|---|---|---|---|");
    for name in ["R-134a", "R-407C"] {
        let refrigerant = Refrigerant::named(name).expect("carried");
        for power in 0..=6 {
            let rows = 10_usize.pow(power);
            let at: Vec<f64> = (0..rows)
                .map(|row| 250.0 + 60.0 * (row as f64 / rows as f64))
                .collect();
            let mut pressures = vec![0.0; rows];
            let mut run = || {
                let (start, before) = (Instant::now(), processor_time());
                let unanswered = refrigerant.bubble_pressures(&at, &mut pressures);
                assert!(unanswered.expect("one length").is_empty());
                (start.elapsed(), processor_time().zip(before))
            };
            let mut runs = [run(), run(), run()];
            runs.sort_by_key(|run| run.0);
            let (clock, processor) = runs[1];
            // the system counts a run shorter than its own step as none
            let counted = processor.filter(|(after, before)| after > before);
            let row = counted.map_or("-".to_owned(), |(after, before)| {
                format!("{:.2?}", (after - before) / rows as u32)
            });
            println!("| {name} | {rows} | {clock:.2?} | {row} |");
            if 30 * clock > LONGEST {
                break;
            }
        }
    }
}

/// Time that all threads were on a processor, as Linux keeps it; nothing elsewhere.
fn processor_time() -> Option<Duration> {
    let mut nanoseconds = 0;
    for thread in std::fs::read_dir("/proc/self/task").ok()? {
        let path = thread.ok()?.path().join("schedstat");
        let text = std::fs::read_to_string(path).ok()?;
        nanoseconds += text.split_whitespace().next()?.parse::<u64>().ok()?;
    }
    Some(Duration::from_nanos(nanoseconds))
}
