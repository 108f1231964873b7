//! Which hazards apply to refrigerants and to the work in hand, decided by facts.

use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature};

/// Bubble pressure at 25 °C from which ordinary gauges and hoses do not suffice (our own limit).
const ORDINARY_PRESSURE: Pressure = Pressure::bar(25.0);
/// Where that pressure is looked at.
const ROOM: Temperature = Temperature::celsius(25.0);
/// A critical temperature below this means the same (our own limit).
const WARM: Temperature = Temperature::celsius(50.0);
/// What feeds a fire: oxygen and nitrous oxide.
const OXIDIZING: [&str; 2] = ["R-732", "R-744A"];

/// The work that brings hazards of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Work {
    /// A pressure test with nitrogen.
    PressureTest,
    /// Evacuation.
    Evacuation,
    /// Filling a cylinder.
    Cylinder,
    /// A vessel whose contents are not known for certain.
    Identification,
    /// Charging to a target superheat.
    TargetSuperheat,
    /// A blend after a loss.
    Loss,
    /// Drawing from a cylinder: the hazards of a cylinder and of a loss.
    Draw,
}

/// A hazard with the designations that it applies to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Hazard {
    /// Pressure, cold, lack of air, toxic gases of a flame: always.
    Always,
    /// Class 2L, 2 or 3.
    Flammable(Vec<String>),
    /// Class B.
    Toxic(Vec<String>),
    /// Pressures above ordinary gauges and hoses.
    HighPressure(Vec<String>),
    /// A component feeds fire.
    Oxidizing(Vec<String>),
    /// A listed refrigerant without a class on record.
    NoClass(Vec<String>),
    /// A composition that no standard lists.
    Unlisted,
    /// A blend whose composition changes with a leak.
    Zeotrope,
    /// More than one refrigerant beside each other.
    NoSubstitute,
    /// The work's own.
    Of(Work),
    /// Calculations, and who decides: last of all.
    End,
}

/// The hazards of some refrigerants and of the work in hand, most general first.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::hazard::hazards::{Hazard, hazards};
/// let found = hazards(&[&Refrigerant::named("R-290")?], None);
/// // ASHRAE 34 lists propane as A3
/// assert!(found.contains(&Hazard::Flammable(vec!["R-290".into()])));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn hazards(refrigerants: &[&Refrigerant], work: Option<Work>) -> Vec<Hazard> {
    let names = |applies: &dyn Fn(&Refrigerant) -> bool| -> Option<Vec<String>> {
        let found: Vec<String> = refrigerants
            .iter()
            .filter(|one| applies(one))
            .map(|one| one.designation().to_owned())
            .collect();
        (!found.is_empty()).then_some(found)
    };
    let any = |applies: &dyn Fn(&Refrigerant) -> bool| refrigerants.iter().any(|one| applies(one));
    let class = |one: &Refrigerant| one.safety_class().unwrap_or_default();
    let listed = |one: &Refrigerant| one.composition().designation().is_some();
    let mut found = vec![Hazard::Always];
    found.extend(names(&|one| class(one).contains(['2', '3'])).map(Hazard::Flammable));
    found.extend(names(&|one| class(one).starts_with('B')).map(Hazard::Toxic));
    found.extend(names(&is_of_high_pressure).map(Hazard::HighPressure));
    found.extend(names(&is_oxidizing).map(Hazard::Oxidizing));
    found.extend(names(&|one| listed(one) && class(one).is_empty()).map(Hazard::NoClass));
    if any(&|one| !listed(one)) {
        found.push(Hazard::Unlisted);
    }
    if any(&is_zeotrope) {
        found.push(Hazard::Zeotrope);
    }
    if refrigerants.len() > 1 {
        found.push(Hazard::NoSubstitute);
    }
    match work {
        Some(Work::Draw) => found.extend([Work::Cylinder, Work::Loss].map(Hazard::Of)),
        work => found.extend(work.map(Hazard::Of)),
    }
    found.push(Hazard::End);
    found
}

/// Whether a refrigerant is a blend that the standard does not list as an azeotrope.
pub fn is_zeotrope(refrigerant: &Refrigerant) -> bool {
    !refrigerant.is_pure()
        && !refrigerant
            .blend()
            .is_some_and(|blend| blend.is_azeotrope())
}

/// Whether its pressures exceed ordinary gauge and hose ratings: bubble pressure at 25 °C above
/// 25 bar, or no bubble point there, or a critical temperature below 50 °C.
pub fn is_of_high_pressure(refrigerant: &Refrigerant) -> bool {
    let solved = refrigerant.exact();
    match solved.bubble_pressure(ROOM) {
        Ok(pressure) if pressure <= ORDINARY_PRESSURE => {
            // a bubble line ends at the critical temperature
            solved.bubble_pressure(WARM).is_err()
        }
        _ => true,
    }
}

fn is_oxidizing(refrigerant: &Refrigerant) -> bool {
    let components = refrigerant.components().iter();
    components
        .into_iter()
        .any(|one| OXIDIZING.contains(&one.designation.as_str()))
}
