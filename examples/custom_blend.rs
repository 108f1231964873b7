//! A blend of one's own from numbers: its lines, its glide, and how its pairs are known.
//!
//! ```text
//! cargo run --release --example custom_blend
//! ```
#![allow(clippy::print_stdout)]

use zeotrope::catalogue::normalized;
use zeotrope::units::Pressure;
use zeotrope::{Basis, Refrigerant, Result};

fn main() -> Result<()> {
    // weighed into an invented cylinder, kg
    let weighed = [("R-32", 4.2), ("R-1234yf", 5.6), ("R-744", 0.2)];
    let blend = Refrigerant::from_fractions(&normalized(&weighed)?, Basis::Mass)?;
    println!("{}", blend.designation());

    let pressure = Pressure::bar(8.0);
    let bubble = blend.bubble_temperature(pressure)?;
    let dew = blend.dew_temperature(pressure)?;
    println!(
        "at 8 bar absolute: bubble {:.2} °C, dew {:.2} °C, glide {:.2} K",
        bubble.in_celsius(),
        dew.in_celsius(),
        (dew - bubble).in_kelvin()
    );
    for pair in blend.pairs() {
        println!("{} + {}: {:?}", pair.first, pair.second, pair.kind);
    }
    for warning in blend.warnings() {
        println!("{warning}");
    }
    Ok(())
}
