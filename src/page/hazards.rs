//! Hazards as sentences.

use super::Style;
use super::words::{self, Phrase};
use crate::refrigerant::Refrigerant;
use crate::service::hazard::hazards::{Hazard, Work, hazards};

/// The hazards of some refrigerants and of the work in hand, a sentence each.
pub fn cautions(refrigerants: &[&Refrigerant], work: Option<Work>, style: &Style) -> Vec<String> {
    let found = hazards(refrigerants, work);
    found
        .iter()
        .map(|hazard| sentence(hazard, refrigerants, style))
        .collect()
}

fn sentence(hazard: &Hazard, refrigerants: &[&Refrigerant], style: &Style) -> String {
    use words::hazards::*;
    let named = |names: &[String], one: Phrase, several: Phrase| {
        let phrase = if names.len() > 1 { several } else { one };
        style.say(phrase, &[("names", &names.join(", "))])
    };
    match hazard {
        Hazard::Always => style.word(HAZARD_ALWAYS),
        Hazard::Flammable(names) => named(names, HAZARD_FLAMMABLE, HAZARD_FLAMMABLE_SEVERAL),
        Hazard::Toxic(names) => named(names, HAZARD_TOXIC, HAZARD_TOXIC_SEVERAL),
        Hazard::HighPressure(_) if refrigerants.len() == 1 => style.word(HAZARD_HIGH_PRESSURE),
        Hazard::HighPressure(names) => {
            named(names, HAZARD_HIGH_PRESSURE_OF, HAZARD_HIGH_PRESSURE_OF)
        }
        Hazard::Oxidizing(names) => named(names, HAZARD_OXIDIZING, HAZARD_OXIDIZING_SEVERAL),
        Hazard::NoClass(names) => named(names, HAZARD_NO_CLASS, HAZARD_NO_CLASS),
        Hazard::Unlisted => style.word(HAZARD_UNLISTED),
        Hazard::Zeotrope => style.word(HAZARD_ZEOTROPE),
        Hazard::NoSubstitute => style.word(HAZARD_NO_SUBSTITUTE),
        Hazard::Of(Work::Loss) => {
            let name = refrigerants.first().map_or("", |one| one.designation());
            style.say(HAZARD_LOSS, &[("refrigerant", name)])
        }
        Hazard::Of(work) => style.word(match work {
            Work::PressureTest => HAZARD_PRESSURE_TEST,
            Work::Evacuation => HAZARD_EVACUATION,
            Work::Cylinder | Work::Draw | Work::Loss => HAZARD_CYLINDER,
            Work::Identification => HAZARD_IDENTIFICATION,
            Work::TargetSuperheat => HAZARD_TARGET_SUPERHEAT,
        }),
        Hazard::End => style.word(HAZARD_END),
    }
}
