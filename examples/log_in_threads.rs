//! Dew temperatures of a logged suction pressure, answered as columns on all cores.
//!
//! ```text
//! cargo run --release --example log_in_threads
//! ```
#![allow(clippy::print_stdout)]

use zeotrope::refrigerant::{By, Wanted};
use zeotrope::units::Atmosphere;
use zeotrope::{ReferenceState, Refrigerant, Result};

fn main() -> Result<()> {
    let r407c = Refrigerant::named("R-407C")?;
    let site = Atmosphere::SEA_LEVEL.pressure().in_pascal();
    // an invented log: gauge pressures in Pa that swing around 4.3 bar, one of them lost
    let mut gauge: Vec<f64> = (0..100_000)
        .map(|row| 4.3e5 + 3e4 * (f64::from(row) * 1e-3).sin())
        .collect();
    gauge[500] = f64::NAN;
    let pressures: Vec<f64> = gauge.iter().map(|gauge| gauge + site).collect();

    let mut temperatures = vec![0.0; pressures.len()];
    let unanswered = r407c.dew_temperatures(&pressures, &mut temperatures)?;
    for row in &unanswered {
        println!("row {}: {}", row.row, row.reason);
    }
    assert_eq!(unanswered.len(), 1);

    // the vapor in the suction line, 8 K hotter
    let line: Vec<f64> = temperatures.iter().map(|kelvin| kelvin + 8.0).collect();
    let mut densities = vec![0.0; line.len()];
    let by = By::TemperaturePressure;
    let zero = ReferenceState::Iir;
    r407c.numbers(
        Wanted::Density,
        by,
        (&line, &pressures),
        zero,
        &mut densities,
    )?;
    println!(
        "first row: {:.2} K, {:.3} kg/m3",
        temperatures[0], densities[0]
    );
    Ok(())
}
