//! Short words of care that go on what is answered and printed, by class and by refrigerant.

use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;

/// Refrigerants whose pressures stand far above ordinary gauges and hoses.
const HIGH_PRESSURE: [&str; 4] = ["R-744", "R-23", "R-508A", "R-508B"];

/// What stands under every answer.
pub const NO_VERDICT: &str =
    "Arithmetic, no verdict: local codes, the maker's instructions and licensed people decide.";

/// What stands under an answer about a vessel whose contents are not known for certain.
pub const NOT_IDENTIFIED: &str = "A refrigerant is never identified from pressure and temperature: \
                                  an analyser decides. Similar pressures do not make a substitute.";

/// Charging by superheat or subcooling.
pub const CHARGING: [&str; 2] = [
    "Refrigerants are under pressure, freeze skin, displace air and break down in a flame to toxic \
     gases: goggles, gloves, ventilation. Flammable ones: no ignition source.",
    "The maker's plate and chart outrank every estimate; only people allowed to charge.",
];

/// Pressure tests.
pub const PRESSURE_TEST: [&str; 3] = [
    "Dry nitrogen only, never oxygen, compressed air or acetylene: oxygen and oil explode.",
    "Regulator and relief device; the test pressure comes from plate and code, mind the low side. \
     None is proposed here.",
    "Raise the pressure in steps, keep clear, vent outdoors.",
];

/// Evacuation.
pub const VACUUM: [&str; 1] =
    ["Never run a compressor in a vacuum, nor test its winding's insulation in one."];

/// Filling a cylinder.
pub const CYLINDER: [&str; 3] = [
    "Never refill a non-refillable cylinder. Look at test date and service pressure; fill on a \
     scale; oil counts as contents; only people allowed to.",
    "A cylinder full of liquid bursts when it warms: none of these figures says that a filling is \
     permitted.",
    "Nothing is vented.",
];

/// One refrigerant with what is known about it.
pub type Subject<'a> = (&'a Refrigerant, &'a Facts);

/// The cautions for an answer about some refrigerants, most general first.
pub fn cautions(subjects: &[Subject<'_>]) -> Vec<String> {
    let mut lines = vec![
        "Refrigerants are under pressure, freeze skin, displace air and break down in a flame \
         to toxic gases: goggles, gloves, ventilation."
            .to_owned(),
    ];
    let names = |wanted: &dyn Fn(&Subject<'_>) -> bool| -> Vec<&str> {
        subjects
            .iter()
            .filter(|subject| wanted(subject))
            .map(|(refrigerant, _)| refrigerant.designation())
            .collect()
    };
    let class = |subject: &Subject<'_>| -> String {
        subject
            .1
            .safety_class
            .as_ref()
            .map(|class| class.value.clone())
            .unwrap_or_default()
    };

    let flammable = names(&|subject| {
        let class = class(subject);
        class.ends_with("2L") || class.ends_with('2') || class.ends_with('3')
    });
    if !flammable.is_empty() {
        lines.push(format!(
            "Flammable ({}): rated recovery machine, pump and detector, ventilation, no \
             ignition source.",
            flammable.join(", ")
        ));
    }
    let toxic = names(&|subject| class(subject).starts_with('B'));
    if !toxic.is_empty() {
        lines.push(format!(
            "Toxic ({}): trained and equipped people only.",
            toxic.join(", ")
        ));
    }
    let high = names(&|(refrigerant, _)| HIGH_PRESSURE.contains(&refrigerant.designation()));
    if !high.is_empty() {
        lines.push(format!(
            "Far above ordinary gauge and hose ratings ({}): trapped liquid bursts.",
            high.join(", ")
        ));
    }
    let unclassified = names(&|subject| subject.1.listed && subject.1.safety_class.is_none());
    if !unclassified.is_empty() {
        lines.push(format!(
            "Class not assigned here ({}): look it up before use.",
            unclassified.join(", ")
        ));
    }
    let own = names(&|(_, facts)| !facts.listed);
    if !own.is_empty() {
        let which = match subjects {
            [_] => String::new(),
            _ => format!(" ({})", own.join(", ")),
        };
        lines.push(format!(
            "Class not assigned{which}: treat as flammable and toxic until classified; no \
             charging instruction."
        ));
    }
    // The standard numbers azeotropes from R-500.
    let blends = names(&|(refrigerant, facts)| {
        !refrigerant.is_pure() && facts.listed && !refrigerant.designation().starts_with("R-5")
    });
    if !blends.is_empty() {
        lines.push(
            "Charge zeotropes as liquid, metered into a running suction side. After a leak a \
             zeotrope may no longer be the listed blend."
                .to_owned(),
        );
    }
    if subjects.len() > 1 {
        lines.push(
            "Similar pressures do not make a substitute: nothing here says that one \
             refrigerant may replace, top up or mix with another."
                .to_owned(),
        );
    }
    lines.push(NO_VERDICT.to_owned());
    lines
}
