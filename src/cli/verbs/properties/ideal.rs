//! `--model ideal`: Raoult's law beside the real lines, for teaching.

use serde_json::{Value, json};

use crate::Error;
use crate::cli::errors::Failure;
use crate::cli::page;
use crate::equilibrium::bubble_dew::Branch;
use crate::output::{number, optional};
use crate::page::{Block, Table};
use crate::refrigerant::{IdealPoint, Refrigerant, Warning};
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference, UnitSet, fixed};

/// Where the real line lies, for the difference; none where it has no such point.
pub(crate) type Real = Option<(Temperature, Pressure)>;

/// What is held fixed between the ideal and the real point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum At {
    Temperature(Temperature),
    Pressure(Pressure),
}

/// Bubble and dew by Raoult's law, or why there is none.
pub(crate) struct Ideal {
    points: [(&'static str, Result<IdealPoint, Error>); 2],
    by_pressure: bool,
}

impl Ideal {
    pub(crate) fn at(refrigerant: &Refrigerant, at: At) -> Self {
        let point = |branch| match at {
            At::Temperature(temperature) => refrigerant.ideal_at_temperature(branch, temperature),
            At::Pressure(pressure) => refrigerant.ideal_at_pressure(branch, pressure),
        };
        Self {
            points: [
                ("bubble", point(Branch::Bubble)),
                ("dew", point(Branch::Dew)),
            ],
            by_pressure: matches!(at, At::Pressure(_)),
        }
    }

    /// Why there is no ideal value, a warning each reason.
    pub(crate) fn warnings(&self, units: &UnitSet, site: &Atmosphere) -> Vec<Warning> {
        let mut found: Vec<Warning> = Vec::new();
        for (_, point) in &self.points {
            if let Err(error) = point {
                let reason = Failure::in_units(error.clone(), units, site);
                let warning = Warning {
                    code: "no_ideal_value",
                    text: format!("Raoult's law has no value here: {}", reason.message()),
                };
                if !found.contains(&warning) {
                    found.push(warning);
                }
            }
        }
        found
    }

    /// The table beside the real one; `real` holds its bubble and dew point.
    pub(crate) fn blocks(
        &self,
        refrigerant: &Refrigerant,
        real: [Real; 2],
        units: &UnitSet,
        site: &Atmosphere,
    ) -> Vec<Block> {
        let title = Block::Title(format!(
            "{}, Raoult's law beside it, for teaching: an ideal solution under an ideal gas",
            refrigerant.designation()
        ));
        if refrigerant.is_pure() {
            return vec![
                title,
                Block::Lines(vec![
                    "A pure refrigerant needs no mixing rule: Raoult's law gives its own line."
                        .into(),
                ]),
            ];
        }
        let mut heads = vec![String::new()];
        let mut rows: Vec<Vec<String>> = Vec::new();
        for ((name, point), real) in self.points.iter().zip(real) {
            let Ok(point) = point else {
                continue;
            };
            heads.push((*name).to_owned());
            let column = self.column(refrigerant, point, real, units, site);
            for (index, (name, text)) in column.into_iter().enumerate() {
                match rows.get_mut(index) {
                    Some(row) => row.push(text),
                    None => rows.push(vec![name, text]),
                }
            }
        }
        if rows.is_empty() {
            return vec![
                title,
                Block::Lines(vec![
                    "There is no ideal value here; the warnings say why.".into(),
                ]),
            ];
        }
        vec![
            title,
            Block::Table(Table {
                groups: Vec::new(),
                heads,
                rows,
                words: 1,
            }),
        ]
    }

    fn column(
        &self,
        refrigerant: &Refrigerant,
        point: &IdealPoint,
        real: Real,
        units: &UnitSet,
        site: &Atmosphere,
    ) -> Vec<(String, String)> {
        let mut rows: Vec<(String, String)> =
            page::place((point.temperature, point.pressure), units, site)
                .into_iter()
                .map(|(name, text)| (name.to_owned(), text))
                .collect();
        let difference = real.map(|(temperature, pressure)| {
            if self.by_pressure {
                let difference: TemperatureDifference = point.temperature - temperature;
                let figure = fixed(units.temperature.read_difference(difference), 2);
                signed(&figure, units.temperature.difference_symbol())
            } else {
                let ratio = point.pressure.in_pascal() / pressure.in_pascal();
                signed(&fixed(100.0 * (ratio - 1.0), 1), "% of pressure")
            }
        });
        rows.push((
            "ideal less real".into(),
            difference.unwrap_or_else(|| "-".into()),
        ));
        let components = refrigerant.components().iter();
        for (component, pressure) in components.zip(&point.component_pressures) {
            rows.push((
                format!("{} alone saturates at", component.designation),
                page::pressure(*pressure, units.absolute, site),
            ));
        }
        let other = &point.other_mass_fractions;
        for (component, share) in refrigerant.components().iter().zip(other) {
            rows.push((
                format!("{}, % by mass of the other phase", component.designation),
                fixed(100.0 * share, 3),
            ));
        }
        rows
    }

    /// The sums, for `--explain`.
    pub(crate) fn working(&self, refrigerant: &Refrigerant, units: &UnitSet) -> Vec<String> {
        if refrigerant.is_pure() {
            return Vec::new();
        }
        let (unit, size) = (units.absolute.typed(), units.absolute.pascal());
        let read = |pressure: &Pressure| pressure.in_pascal() / size;
        let mut lines = Vec::new();
        for (name, point) in &self.points {
            let Ok(point) = point else {
                continue;
            };
            let bubble = *name == "bubble";
            let sign = if bubble { "x" } else { "/" };
            let terms: Vec<String> = refrigerant
                .components()
                .iter()
                .zip(&point.component_pressures)
                .map(|(component, pressure)| {
                    format!(
                        "{} {sign} {}",
                        fixed(component.mole_fraction, 5),
                        fixed(read(pressure), 4)
                    )
                })
                .collect();
            let at = page::temperature(point.temperature, units);
            let sum = terms.join(" + ");
            let pressure = fixed(read(&point.pressure), 4);
            lines.push(if bubble {
                format!(
                    "Raoult's law, bubble at {at}: p = sum of mole fraction x saturation pressure \
                     of the component alone = {sum} = {pressure} {unit}."
                )
            } else {
                format!(
                    "Raoult's law, dew at {at}: 1/p = sum of mole fraction / saturation pressure \
                     of the component alone = {sum}; p = {pressure} {unit}."
                )
            });
        }
        lines
    }

    pub(crate) fn json(&self) -> Value {
        let list = |values: &[f64]| -> Value { values.iter().copied().map(number).collect() };
        let point = |(_, point): &(&str, Result<IdealPoint, Error>)| match point {
            Err(_) => Value::Null,
            Ok(point) => {
                let pressures: Vec<f64> = point
                    .component_pressures
                    .iter()
                    .map(|pressure| pressure.in_pascal())
                    .collect();
                json!({
                    "temperature_K": number(point.temperature.in_kelvin()),
                    "pressure_Pa": number(point.pressure.in_pascal()),
                    "component_pressures_Pa": list(&pressures),
                    "other_phase_mole_fractions": list(&point.other_mole_fractions),
                    "other_phase_mass_fractions": list(&point.other_mass_fractions),
                })
            }
        };
        let glide = match &self.points {
            [(_, Ok(bubble)), (_, Ok(dew))] if self.by_pressure => {
                Some((dew.temperature - bubble.temperature).in_kelvin())
            }
            _ => None,
        };
        json!({
            "rule": "Raoult's law",
            "bubble": point(&self.points[0]),
            "dew": point(&self.points[1]),
            "glide_K": optional(glide),
        })
    }
}

fn signed(figure: &str, unit: &str) -> String {
    let sign = if figure.starts_with('-') { "" } else { "+" };
    format!("{sign}{figure} {unit}")
}
