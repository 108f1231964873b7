//! What stands below a chart: the air it counts from and the equations it rests on.

use super::columns::Found;
use super::digits::{Errors, comma};
use super::{Line, Request, Row, Rows};
use crate::catalogue::records::PairKind;
use crate::page::Style;
use crate::page::parts::deviations;
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{PressureUnit, Temperature, TemperatureDifference, UnitSet, fixed};

pub(super) fn footers(
    request: &Request,
    subjects: &[(&Refrigerant, &Facts)],
    columns: &[(usize, Line)],
    rows: &[Row],
    found: &Found,
) -> Vec<String> {
    let mut lines = vec![counts_from(request, rows)];
    let shows = |wanted: &[Line]| columns.iter().any(|(_, line)| wanted.contains(line));
    if shows(&[Line::Bubble, Line::Dew]) {
        lines.push(
            "bubble (liquid): read subcooling there; dew (vapour): read superheat there.".into(),
        );
    }
    // Where one column stands for a narrow glide, the line about that glide says so.
    let is_chosen =
        |(which, line): &(usize, Line)| *line == Line::Mean && found.one_column[*which].is_none();
    if columns.iter().any(is_chosen) {
        lines.push(
            "mean: halfway between bubble and dew; superheat counts from dew, subcooling from \
             bubble."
                .into(),
        );
    }
    if request.choices.tolerance {
        lines.push(
            "lowest, highest: within the published tolerances of the blend's contents, over their \
             corners."
                .into(),
        );
    }
    lines.extend(errors(request, &found.errors));
    for (index, (refrigerant, facts)) in subjects.iter().enumerate() {
        lines.push(about(request, refrigerant, facts));
        lines.extend(glide(request, refrigerant, found.one_column[index]));
        lines.extend(wide_band(request, refrigerant, found.band[index]));
        lines.extend(extrapolated(request, index, columns, rows));
        for warning in refrigerant.warnings() {
            lines.push(format!("{}: {}", refrigerant.designation(), warning.text));
        }
    }
    lines.push(signature(&request.choices));
    lines
}

/// Which program made it, and when.
pub(super) fn signature(choices: &super::Choices) -> String {
    let version = concat!("zeotrope ", env!("CARGO_PKG_VERSION"));
    match &choices.date {
        Some(date) => format!("{version}, {date}"),
        None => version.to_owned(),
    }
}

/// What the print leaves in error: the digits chosen, a cell read back, a value between rows.
fn errors(request: &Request, errors: &Errors) -> Option<String> {
    let degrees = |kelvin: f64, digits: usize| {
        let difference = TemperatureDifference::kelvin(kelvin);
        let value = request.temperature_unit.read_difference(difference);
        let figure = comma(fixed(value, digits), &request.choices);
        format!("{figure} {}", request.temperature_unit.difference_symbol())
    };
    let (cell, place) = errors.cell.as_ref()?;
    let resolution = degrees(request.choices.resolution.in_kelvin(), 2);
    let mut line = format!(
        "Digits chosen for {resolution}; a cell read back misses by at most {} ({place})",
        degrees(*cell, 3)
    );
    if let Some((between, place)) = &errors.between {
        line.push_str(&format!(
            ", one read linearly halfway between rows by {} ({place})",
            degrees(*between, 3)
        ));
    }
    line.push_str("; the equation's own error comes on top.");
    if !errors.kept {
        line.push_str(" Not every cell keeps to that resolution.");
    }
    Some(line)
}

/// The glide of a blend at a stated pressure, and whether one column stands for two lines.
fn glide(request: &Request, refrigerant: &Refrigerant, one_column: Option<f64>) -> Option<String> {
    if refrigerant.is_pure() {
        return None;
    }
    let name = refrigerant.designation();
    let degrees = |kelvin: f64| {
        let difference = TemperatureDifference::kelvin(kelvin);
        let value = request.temperature_unit.read_difference(difference);
        let figure = comma(fixed(value, 1), &request.choices);
        format!("{figure} {}", request.temperature_unit.difference_symbol())
    };
    // The pressure at which the last liquid boils off at 5 °C, a common evaporator; where the
    // blend is gone by then, at the air of the sea.
    let usual = refrigerant.dew_pressure(Temperature::celsius(5.0)).ok();
    let pressure = usual.unwrap_or(crate::units::Pressure::pascal(101_325.0));
    let bubble = refrigerant.bubble_temperature(pressure).ok()?;
    let dew = refrigerant.dew_temperature(pressure).ok()?;
    let at = request.pressure_unit.text(pressure, &request.site);
    let mut line = format!(
        "{name}: glide {} at {}",
        degrees(dew.in_kelvin() - bubble.in_kelvin()),
        comma(at, &request.choices)
    );
    if let Some(most) = one_column {
        line.push_str(&format!(
            "; one column, halfway between bubble and dew, since the glide here stays within \
             {}; half of it counts in the error above",
            degrees(most)
        ));
    }
    Some(line + ".")
}

/// Says where the contents may vary by more than the digits show.
fn wide_band(request: &Request, refrigerant: &Refrigerant, band: Option<f64>) -> Option<String> {
    let resolution = request.choices.resolution;
    let band = TemperatureDifference::kelvin(band?);
    if band.in_kelvin() <= resolution.in_kelvin() {
        return None;
    }
    let degrees = |difference: TemperatureDifference| {
        let value = request.temperature_unit.read_difference(difference);
        let figure = comma(fixed(value, 2), &request.choices);
        format!("{figure} {}", request.temperature_unit.difference_symbol())
    };
    Some(format!(
        "{}: within the tolerances of its contents a reading may differ by {}, more than the {} \
         that the digits are chosen for.",
        refrigerant.designation(),
        degrees(band),
        degrees(resolution)
    ))
}

/// Marks a blend whose chart goes below the range of a component's own equation.
fn extrapolated(
    request: &Request,
    index: usize,
    columns: &[(usize, Line)],
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
                .filter(|((which, _), _)| *which == index)
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
                comma(
                    fixed(request.temperature_unit.read(limit), 1),
                    &request.choices
                ),
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
        comma(request.site.in_words(), &request.choices)
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

fn about(request: &Request, refrigerant: &Refrigerant, facts: &Facts) -> String {
    let name = refrigerant.designation();
    let mut line = format!("{name}: class {}", facts.class_text());
    if refrigerant.is_pure() {
        if let Some(equation) = facts.model.equations.first() {
            line.push_str(&format!("; equation {}", equation.source));
        }
        return line + ".";
    }
    let composition: Vec<String> = refrigerant
        .components()
        .iter()
        .map(|component| {
            let percent = crate::units::short(component.mass_fraction * 100.0, 4);
            let percent = comma(percent, &request.choices);
            format!("{percent} % {}", component.designation)
        })
        .collect();
    line.push_str(&format!("; {} by mass", composition.join(", ")));
    let count = |kind: PairKind| {
        facts
            .model
            .pairs
            .iter()
            .filter(|pair| pair.kind == kind)
            .count()
    };
    let kinds: Vec<String> = [
        (PairKind::Departure, "fitted with a departure function"),
        (PairKind::Reducing, "with fitted reducing parameters"),
        (PairKind::Estimated, "estimated"),
    ]
    .into_iter()
    .filter(|(kind, _)| count(*kind) > 0)
    .map(|(kind, words)| format!("{} {words}", count(kind)))
    .collect();
    line.push_str(&format!("; pairs: {}", kinds.join(", ")));
    let refitted = facts.model.pairs.iter().filter(|pair| pair.refit.is_some());
    match refitted.count() {
        0 => {}
        count => line.push_str(&format!(", {count} refitted to measured bubble points")),
    }
    if let Some(distance) = deviations(
        &facts.model.deviations,
        &Style::new(UnitSet::SI, request.site),
    ) {
        line.push_str(&format!("; {}", comma(distance, &request.choices)));
    }
    line + "."
}
