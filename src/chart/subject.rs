//! What a chart knows of each refrigerant beside its cells.

use super::columns::Found;
use super::gas_cooler::GasCooler;
use super::{ChartRow, Request, Rows};
use crate::refrigerant::Refrigerant;
use crate::service::facts::Facts;
use crate::units::{Pressure, Temperature, TemperatureDifference};

/// A refrigerant of a chart.
#[derive(Debug, Clone)]
pub struct Subject {
    /// The refrigerant itself.
    pub refrigerant: Refrigerant,
    /// What is on record about it.
    pub facts: Facts,
    /// A blend's glide at a usual pressure, where both lines have a point there.
    pub glide: Option<GlideAt>,
    /// The largest glide in the chart where one column stands for bubble and dew.
    pub one_column: Option<TemperatureDifference>,
    /// How far apart the ends of its band of tolerance lie at most, where that is more than the
    /// resolution.
    pub wide_band: Option<TemperatureDifference>,
    /// Components whose equation is used below its range, with the limit.
    pub extrapolated: Vec<(String, Temperature)>,
    /// Pressures of a gas cooler, where they are asked for and mean something.
    pub gas_cooler: Option<GasCooler>,
}

/// A glide at a pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GlideAt {
    /// Dew minus bubble temperature.
    pub glide: TemperatureDifference,
    /// The pressure: that of the dew point at 5 °C, a common evaporator, or 101.325 kPa where
    /// there is none.
    pub pressure: Pressure,
}

pub(super) fn subjects(request: &Request, found: &Found, rows: &[ChartRow]) -> Vec<Subject> {
    let resolution = request.choices.resolution.in_kelvin();
    let each = request.refrigerants.iter().enumerate();
    each.map(|(index, refrigerant)| Subject {
        facts: Facts::of_refrigerant(refrigerant),
        glide: glide(refrigerant),
        one_column: found.one_column[index].map(TemperatureDifference::kelvin),
        wide_band: found.band[index]
            .filter(|band| *band > resolution)
            .map(TemperatureDifference::kelvin),
        extrapolated: extrapolated(request, index, found, rows),
        gas_cooler: (request.choices.gas_cooler)
            .then(|| GasCooler::for_refrigerant(refrigerant, request.temperature_unit))
            .flatten(),
        refrigerant: refrigerant.clone(),
    })
    .collect()
}

fn glide(refrigerant: &Refrigerant) -> Option<GlideAt> {
    if refrigerant.is_pure() {
        return None;
    }
    let usual = refrigerant.dew_pressure(Temperature::celsius(5.0)).ok();
    let pressure = usual.unwrap_or(Pressure::ATMOSPHERE);
    let bubble = refrigerant.bubble_temperature(pressure).ok()?.in_kelvin();
    let dew = refrigerant.dew_temperature(pressure).ok()?.in_kelvin();
    Some(GlideAt {
        glide: TemperatureDifference::kelvin(dew - bubble),
        pressure,
    })
}

/// The components below whose own range the chart of a blend goes.
fn extrapolated(
    request: &Request,
    index: usize,
    found: &Found,
    rows: &[ChartRow],
) -> Vec<(String, Temperature)> {
    let refrigerant = &request.refrigerants[index];
    if refrigerant.is_pure() {
        return Vec::new();
    }
    let by_temperature = matches!(request.rows, Rows::Temperatures(_));
    let own = found.columns.iter().enumerate();
    let own: Vec<usize> = own
        .filter(|(_, column)| column.refrigerant == index)
        .map(|(place, _)| place)
        .collect();
    let kelvin = |row: &ChartRow, place: usize| {
        let value = row.cells[place].value;
        let kelvin = if by_temperature {
            row.label.value
        } else {
            value
        };
        value.and(kelvin)
    };
    let coldest = rows
        .iter()
        .flat_map(|row| own.iter().filter_map(|place| kelvin(row, *place)))
        .fold(f64::INFINITY, f64::min);
    let records = refrigerant.records();
    let below = records
        .iter()
        .filter(|record| coldest < record.range.temperature_min_k);
    below
        .map(|record| {
            let limit = Temperature::kelvin(record.range.temperature_min_k);
            (record.designation.clone(), limit)
        })
        .collect()
}
