//! How the time of a batch grows with its rows: `cargo bench --bench growth`.
//!
//! Prints a row a size: median of three runs, and the time a row takes. The number of threads is
//! set with `RAYON_NUM_THREADS`.
#![allow(
    missing_docs,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::expect_used
)]

use std::time::{Duration, Instant};

use zeotrope::Refrigerant;
use zeotrope::units::{Pressure, Temperature};

/// Sizes larger than this take a minute where a row takes a tenth of a millisecond.
const LONGEST: Duration = Duration::from_secs(20);

fn main() {
    println!("| refrigerant | rows | whole | a row |\n|---|---|---|---|");
    for name in ["R-134a", "R-407C"] {
        let refrigerant = Refrigerant::named(name).expect("carried");
        let mut pressures = Vec::new();
        for power in 0..=6 {
            let rows = 10_usize.pow(power);
            let at: Vec<Temperature> = (0..rows)
                .map(|row| Temperature::kelvin(250.0 + 60.0 * (row as f64 / rows as f64)))
                .collect();
            pressures.resize(rows, Pressure::pascal(0.0));
            let mut run = || {
                let start = Instant::now();
                let unanswered = refrigerant
                    .bubble_pressures(&at, &mut pressures)
                    .expect("lengths");
                assert!(unanswered.is_empty());
                start.elapsed()
            };
            let mut times = [run(), run(), run()];
            times.sort();
            let each = times[1] / rows as u32;
            println!("| {name} | {rows} | {:.3?} | {each:.3?} |", times[1]);
            if 30 * times[1] > LONGEST {
                break;
            }
        }
    }
}
