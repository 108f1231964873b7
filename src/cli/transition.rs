//! Hazards of the verbs whose pages are still made in the verb.

use crate::page::words::{Phrase, hazards};
use crate::page::{Style, cautions as sentences};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{Atmosphere, UnitSet};

const fn english(phrase: Phrase) -> &'static str {
    phrase.english()
}

pub(crate) const NO_VERDICT: &str = english(hazards::HAZARD_END);
pub(crate) const NOT_IDENTIFIED: &str = english(hazards::HAZARD_IDENTIFICATION);
pub(crate) const PRESSURE_TEST: [&str; 1] = [english(hazards::HAZARD_PRESSURE_TEST)];
pub(crate) const VACUUM: [&str; 1] = [english(hazards::HAZARD_EVACUATION)];

pub(crate) fn cautions(subjects: &[(&Refrigerant, &Facts)]) -> Vec<String> {
    let refrigerants: Vec<&Refrigerant> = subjects.iter().map(|one| one.0).collect();
    let style = Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL);
    sentences(&refrigerants, None, &style)
}
