//! A vapor-compression cycle from single states: four points, the effect, the work and the COP.
//!
//! [`zeotrope::process::cycle`] answers the same in one call.
//!
//! ```text
//! cargo run --release --example cycle_by_hand
//! ```
#![allow(clippy::print_stdout)]

use zeotrope::refrigerant::Wanted;
use zeotrope::units::Temperature;
use zeotrope::{Given, ReferenceState, Refrigerant, Result};

fn main() -> Result<()> {
    let r134a = Refrigerant::named("R-134a")?;
    let zero = ReferenceState::Iir;
    let number = |wanted, given| r134a.number(wanted, given, zero);
    let low = r134a.dew_pressure(Temperature::celsius(-10.0))?;
    let high = r134a.bubble_pressure(Temperature::celsius(40.0))?;

    // 1: saturated vapor; 2s: the same entropy at the high pressure; 3: saturated liquid
    let suction = Given::PressureQuality(low, 1.0);
    let (h1, s1) = (
        number(Wanted::Enthalpy, suction)?,
        number(Wanted::Entropy, suction)?,
    );
    let h2s = number(Wanted::Enthalpy, Given::PressureEntropy(high, s1))?;
    let h3 = number(Wanted::Enthalpy, Given::PressureQuality(high, 0.0))?;
    // a compressor of an isentropic efficiency of 70 %
    let h2 = h1 + (h2s - h1) / 0.7;
    let discharge = r134a.temperature_at_enthalpy(high, h2, zero)?;

    let (effect, work) = (h1 - h3, h2 - h1);
    println!(
        "effect {:.1} kJ/kg, work {:.1} kJ/kg",
        effect / 1e3,
        work / 1e3
    );
    println!(
        "discharge {:.1} °C, COP {:.2}",
        discharge.in_celsius(),
        effect / work
    );
    Ok(())
}
