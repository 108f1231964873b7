//! A fluid of one's own from texts in memory, as a program without files would add it.
//!
//! The text is that of a fluid of the catalogue under another name; `fluids/README.md` explains each
//! key.
//!
//! ```text
//! cargo run --release --example own_fluid
//! ```
#![allow(clippy::print_stdout)]

use zeotrope::catalogue::Catalogue;
use zeotrope::units::Temperature;
use zeotrope::{Basis, Refrigerant, Result};

const PROPANE: &str = include_str!("../fluids/pure/R-290.yaml");

fn main() -> Result<()> {
    let own = PROPANE
        .replace("designation: R-290", "designation: R-9001")
        .replace("name: propane", "name: invented")
        .replace("spellings:", "#");
    let blends = "
- designation: R-9002A
  components:
    - {refrigerant: R-9001, mass_percent: 60}
    - {refrigerant: R-600a, mass_percent: 40}
";
    let texts = [("pure/R-9001.yaml", own.as_str()), ("blends.yaml", blends)];
    let catalogue = Catalogue::with_texts(&texts)?;
    let blend = Refrigerant::from_catalogue(&catalogue, "R-9002A", Basis::Mass)?;
    let at = Temperature::celsius(20.0);
    println!("bubble {:.3} bar", blend.bubble_pressure(at)?.in_bar());
    // nothing is known of the pair, and the answer says so
    for warning in blend.warnings() {
        println!("{warning}");
    }
    Ok(())
}
