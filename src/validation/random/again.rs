//! One question, asked again.

use super::question::{Class, Drawn};
use super::{Asked, RandomReport};
use crate::catalogue::{Basis, Catalogue};
use crate::error::Result;
use crate::refrigerant::Refrigerant;

/// A question that may be asked again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Question {
    /// Bubble and dew point at a temperature, K.
    Temperature(f64),
    /// Bubble and dew point at a pressure, Pa.
    Pressure(f64),
    /// The state at a temperature, K, and a pressure, Pa, and then the same by the pair of properties
    /// of this number (0 none, 1 and 2 by quality, 8 by enthalpy and entropy).
    State(f64, f64, usize),
}

/// Asks one question about a user's blend, by mole, and judges what is answered.
///
/// # Errors
/// Those of the blend's text.
pub fn ask_again(catalogue: &Catalogue, blend: &str, question: Question) -> Result<RandomReport> {
    let composition = catalogue.resolve(blend, Basis::Mole)?;
    let refrigerant = Refrigerant::from_composition(catalogue, composition)?;
    let drawn = Drawn {
        class: Class::of(&refrigerant),
        name: blend.into(),
        refrigerant,
    };
    let mut report = RandomReport::default();
    let mut asked = Asked::new(&drawn, &mut report);
    asked.counts().questions += 1;
    match question {
        Question::Temperature(kelvin) => asked.by_temperature(kelvin),
        Question::Pressure(pascal) => asked.by_pressure(pascal),
        Question::State(kelvin, pascal, pair) => asked.by_two(kelvin, pascal, pair),
    }
    Ok(report)
}
