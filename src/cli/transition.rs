//! Hazards of the verbs whose pages are still made in the verb.

use crate::page::words::{Phrase, hazards};

const fn english(phrase: Phrase) -> &'static str {
    phrase.english()
}

pub(crate) const NO_VERDICT: &str = english(hazards::HAZARD_END);
pub(crate) const PRESSURE_TEST: [&str; 1] = [english(hazards::HAZARD_PRESSURE_TEST)];
pub(crate) const VACUUM: [&str; 1] = [english(hazards::HAZARD_EVACUATION)];
