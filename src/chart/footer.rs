//! What stands below a chart: the air it counts from and the equations it rests on.

use super::{Line, Request, Row, Rows, Within};
use crate::refrigerant::Refrigerant;
use crate::service::distance::in_short;
use crate::service::facts::Facts;
use crate::units::{PressureUnit, Temperature, fixed};

pub(super) fn footers(
    request: &Request,
    subjects: &[(&Refrigerant, &Facts)],
    columns: &[(usize, Line, Within)],
    rows: &[Row],
) -> Vec<String> {
    let mut lines = vec![counts_from(request, rows)];
    if subjects
        .iter()
        .any(|(refrigerant, _)| !refrigerant.is_pure())
    {
        lines.push(
            "bubble (liquid): read subcooling there; dew (vapour): read superheat there.".into(),
        );
    }
    if request.tolerance {
        lines.push(
            "lowest, highest: within the published tolerances of the blend's contents, over their \
             corners."
                .into(),
        );
    }
    for (index, (refrigerant, facts)) in subjects.iter().enumerate() {
        lines.push(about(refrigerant, facts));
        lines.extend(extrapolated(request, index, columns, rows));
        for warning in refrigerant.warnings() {
            lines.push(format!("{}: {}", refrigerant.designation(), warning.text));
        }
    }
    lines.push(format!("zeotrope {}", env!("CARGO_PKG_VERSION")));
    lines
}

/// Marks a blend whose chart goes below the range of a component's own equation.
fn extrapolated(
    request: &Request,
    index: usize,
    columns: &[(usize, Line, Within)],
    rows: &[Row],
) -> Vec<String> {
    let refrigerant = &request.refrigerants[index];
    if refrigerant.is_pure() {
        return Vec::new();
    }
    let by_temperature = matches!(request.rows, Rows::Temperatures(_));
    let coldest = rows
        .iter()
        .flat_map(|row| {
            columns
                .iter()
                .zip(&row.cells)
                .filter(|((which, ..), _)| *which == index)
                .filter_map(move |(_, cell)| {
                    let kelvin = if by_temperature {
                        row.label.value
                    } else {
                        cell.value
                    };
                    cell.value.and(kelvin)
                })
        })
        .fold(f64::INFINITY, f64::min);
    refrigerant
        .records()
        .iter()
        .filter(|record| coldest < record.range.temperature_min_k)
        .map(|record| {
            let limit = Temperature::kelvin(record.range.temperature_min_k);
            format!(
                "{}: below {} {} the equation of {} is extrapolated.",
                refrigerant.designation(),
                fixed(request.temperature_unit.read(limit), 1),
                request.temperature_unit.symbol(),
                record.designation
            )
        })
        .collect()
}

fn counts_from(request: &Request, rows: &[Row]) -> String {
    let unit = request.pressure_unit;
    if !unit.is_gauge() {
        return format!("Pressures in {} are absolute.", unit.typed());
    }
    let mut line = format!(
        "Pressures in {} are gauge pressures and count from {}.",
        unit.typed(),
        request.site.in_words()
    );
    let has_vacuum = rows.iter().any(|row| {
        std::iter::once(&row.label)
            .chain(&row.cells)
            .any(|cell| cell.text.ends_with("inHg vac"))
    });
    if unit == PressureUnit::PsiGauge && has_vacuum {
        line.push_str(" inHg vac: inches of mercury (0 °C) of vacuum below that.");
    }
    line
}

fn about(refrigerant: &Refrigerant, facts: &Facts) -> String {
    let name = refrigerant.designation();
    let mut line = format!("{name}: class {}", facts.class_text());
    if refrigerant.is_pure() {
        if let Some(equation) = facts.equations.first() {
            line.push_str(&format!("; equation {}", equation.source));
        }
        return line + ".";
    }
    let composition: Vec<String> = refrigerant
        .components()
        .iter()
        .map(|component| {
            let percent = crate::units::short(component.mass_fraction * 100.0, 4);
            format!("{percent} % {}", component.designation)
        })
        .collect();
    line.push_str(&format!("; {} by mass", composition.join(", ")));
    let count = |kind: &str| facts.pairs.iter().filter(|pair| pair.kind == kind).count();
    let kinds: Vec<String> = [
        ("departure", "fitted with a departure function"),
        ("reducing", "with fitted reducing parameters"),
        ("estimated", "estimated"),
    ]
    .into_iter()
    .filter(|(kind, _)| count(kind) > 0)
    .map(|(kind, words)| format!("{} {words}", count(kind)))
    .collect();
    line.push_str(&format!("; pairs: {}", kinds.join(", ")));
    let refitted = facts.pairs.iter().filter(|pair| pair.refit.is_some());
    match refitted.count() {
        0 => {}
        count => line.push_str(&format!(", {count} refitted to measured bubble points")),
    }
    if let Some(distance) = in_short(&facts.distances) {
        line.push_str(&format!("; {distance}"));
    }
    line + "."
}
