//! What the record of a designated blend must fulfil beyond its shape.

use super::checks::{no_literal, not_blank};
use super::composition::{MOST_COMPONENTS, SUM_TOLERANCE};
use super::reading::SourceText;
use super::records::BlendRecord;
use crate::Result;

/// Largest tolerance believed, mass %: ANSI/ASHRAE 34 and ISO 817 assign at most 2 (from memory).
const LARGEST_TOLERANCE: f64 = 2.5;

/// Rounding allowed where decimal percentages are summed, mass %.
const ROUNDING: f64 = 1e-9;

/// Checks a blend; `at` is the record's own path in the file, for example `[3]`.
pub(super) fn blend(source: &SourceText<'_>, at: &str, record: &BlendRecord) -> Result<()> {
    let path = |key: &str| {
        if at.is_empty() {
            key.to_owned()
        } else {
            format!("{at}.{key}")
        }
    };
    source.all_finite(at, record)?;
    not_blank(source, &path("designation"), &record.designation)?;
    no_literal(source, &path("designation"), &record.designation)?;
    if let Some(reason) = &record.refused {
        not_blank(source, &path("refused"), reason)?;
    }
    components(source, &path("components"), record)?;
    tolerances(source, &path("components"), record)?;
    sum_rule(source, &path("sum_rule"), record)
}

fn components(source: &SourceText<'_>, at: &str, record: &BlendRecord) -> Result<()> {
    let components = &record.components;
    if !(2..=MOST_COMPONENTS).contains(&components.len()) {
        let problem = format!(
            "a blend has 2 to {MOST_COMPONENTS} components, not {}",
            components.len()
        );
        return Err(source.error(at, problem));
    }
    for (number, component) in components.iter().enumerate() {
        let path = format!("{at}[{number}]");
        not_blank(
            source,
            &format!("{path}.refrigerant"),
            &component.refrigerant,
        )?;
        if components[..number]
            .iter()
            .any(|other| other.refrigerant == component.refrigerant)
        {
            let problem = format!("{} stands twice", component.refrigerant);
            return Err(source.error(&format!("{path}.refrigerant"), problem));
        }
        if component.mass_percent <= 0.0 {
            let problem = format!("{} is not above zero", component.mass_percent);
            return Err(source.error(&format!("{path}.mass_percent"), problem));
        }
    }
    let sum: f64 = components.iter().map(|c| c.mass_percent).sum();
    if (sum - 100.0).abs() > SUM_TOLERANCE {
        let problem = format!("the components sum to {sum:.4} %, not to 100");
        return Err(source.error(at, problem));
    }
    Ok(())
}

fn tolerances(source: &SourceText<'_>, at: &str, record: &BlendRecord) -> Result<()> {
    let mut lowest = 0.0;
    let mut highest = 0.0;
    let mut published = 0;
    for (number, component) in record.components.iter().enumerate() {
        let Some([below, above]) = component.tolerance_mass_percent else {
            continue;
        };
        let path = format!("{at}[{number}].tolerance_mass_percent");
        believable(source, &path, [below, above])?;
        lowest += (component.mass_percent - below).max(0.0);
        highest += component.mass_percent + above;
        published += 1;
    }
    if published < record.components.len() {
        return Ok(());
    }
    // Corners are the ends of the set {each within its tolerance, sum exactly 100}.
    if lowest > 100.0 + ROUNDING || highest < 100.0 - ROUNDING {
        let problem = format!(
            "no composition within the tolerances sums to 100: they span {lowest:.4} to {highest:.4}"
        );
        return Err(source.error(at, problem));
    }
    // What one component may gain the others must be able to lose, and the other way round.
    for (number, component) in record.components.iter().enumerate() {
        let Some([below, above]) = component.tolerance_mass_percent else {
            continue;
        };
        let others_lose = 100.0 - (lowest - (component.mass_percent - below).max(0.0));
        let others_gain = 100.0 - (highest - (component.mass_percent + above));
        let moves = above.min(others_lose - component.mass_percent)
            + below.min(component.mass_percent - others_gain);
        if above + below > ROUNDING && moves <= ROUNDING {
            let problem = format!(
                "no corner sums to 100: nothing takes up what {} may gain or lose",
                component.refrigerant
            );
            let path = format!("{at}[{number}].tolerance_mass_percent");
            return Err(source.error(&path, problem));
        }
    }
    Ok(())
}

fn sum_rule(source: &SourceText<'_>, at: &str, record: &BlendRecord) -> Result<()> {
    let Some(rule) = &record.sum_rule else {
        return Ok(());
    };
    believable(
        source,
        &format!("{at}.tolerance_mass_percent"),
        rule.tolerance_mass_percent,
    )?;
    if rule.refrigerants.len() < 2 {
        return Err(source.error(
            &format!("{at}.refrigerants"),
            "a sum has at least two components",
        ));
    }
    for (number, name) in rule.refrigerants.iter().enumerate() {
        let known = record.components.iter().any(|c| c.refrigerant == *name);
        if !known || rule.refrigerants[..number].contains(name) {
            let problem = if known {
                format!("{name} stands twice")
            } else {
                format!("{name} is no component of {}", record.designation)
            };
            return Err(source.error(&format!("{at}.refrigerants"), problem));
        }
    }
    Ok(())
}

fn believable(source: &SourceText<'_>, path: &str, tolerance: [f64; 2]) -> Result<()> {
    if tolerance
        .iter()
        .all(|side| (0.0..=LARGEST_TOLERANCE).contains(side))
    {
        Ok(())
    } else {
        let problem = format!(
            "[below, above] are both 0 to {LARGEST_TOLERANCE} mass %, not {} and {}",
            tolerance[0], tolerance[1]
        );
        Err(source.error(path, problem))
    }
}
