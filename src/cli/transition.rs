//! Words that pages still made in verbs need.

use crate::page::{Style, cautions as sentences};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{Atmosphere, UnitSet};

pub(crate) const NO_VERDICT: &str = "These are calculations, not a judgement of the equipment. Local codes, the manufacturer's instructions and licensed people decide.";
pub(crate) const NOT_IDENTIFIED: &str =
    "Pressure and temperature cannot identify a refrigerant: use an analyzer.";
pub(crate) const CHARGING: [&str; 1] = [
    "If any condition is not met, this method does not apply: follow the manufacturer's charging procedure.",
];
pub(crate) const PRESSURE_TEST: [&str; 1] = ["Dry nitrogen only."];
pub(crate) const VACUUM: [&str; 1] = ["Never run a compressor in a vacuum."];
pub(crate) const CYLINDER: [&str; 1] = ["Check test date and service pressure."];

pub(crate) fn cautions(subjects: &[(&Refrigerant, &Facts)]) -> Vec<String> {
    let refrigerants: Vec<&Refrigerant> = subjects.iter().map(|one| one.0).collect();
    sentences(
        &refrigerants,
        None,
        &Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL),
    )
}
