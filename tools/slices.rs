//! The crate's own loop over slices, timed for `tools/python_speed.py`: a line of standard input
//! names a question, a refrigerant and a count of rows; the line answered holds the nanoseconds.

use std::collections::HashMap;
use std::hint::black_box;
use std::io::{BufRead, Write};
use std::time::Instant;

use zeotrope::refrigerant::StateRow;
use zeotrope::units::Pressure;
use zeotrope::{Given, ReferenceState, Refrigerant};

/// Values from one to another, in an order without a pattern.
fn values(rows: usize, low: f64, high: f64, seed: u64) -> Vec<f64> {
    // a linear congruential generator (Knuth, MMIX)
    let mut state = seed;
    let next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    std::iter::repeat_with(next).take(rows).collect()
}

fn main() -> std::io::Result<()> {
    let mut known: HashMap<String, Refrigerant> = HashMap::new();
    let mut out = std::io::stdout().lock();
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let words: Vec<&str> = line.split_whitespace().collect();
        let [question, name, rows] = words[..] else {
            continue;
        };
        let rows = rows.parse().map_err(std::io::Error::other)?;
        if !known.contains_key(name) {
            let found = Refrigerant::named(name).map_err(std::io::Error::other)?;
            known.insert(name.to_owned(), found);
        }
        let refrigerant = &known[name];
        let begun;
        if question == "state" {
            let enthalpies = values(rows, 250e3, 450e3, 1);
            let given = values(rows, 2e5, 2e6, 2 << 40).into_iter().zip(enthalpies);
            let given: Vec<Given> = given
                .map(|(p, h)| Given::PressureEnthalpy(Pressure::pascal(p), h))
                .collect();
            begun = Instant::now();
            let mut states = vec![StateRow::NONE; rows];
            let told = refrigerant.states(&given, ReferenceState::Usual, None, &mut states);
            black_box((told, states)).0.map_err(std::io::Error::other)?;
        } else {
            let temperatures = values(rows, 230.0, 340.0, 1);
            begun = Instant::now();
            let mut pressures = vec![0.0; rows];
            let told = refrigerant.dew_pressures(&temperatures, &mut pressures);
            black_box((told, pressures))
                .0
                .map_err(std::io::Error::other)?;
        }
        writeln!(out, "{}", begun.elapsed().as_nanos())?;
        out.flush()?;
    }
    Ok(())
}
