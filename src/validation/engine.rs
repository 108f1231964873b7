//! What the engine gives for a published row.

use std::collections::HashMap;

use super::reasons;
use super::rows::PublishedRow;
use crate::catalogue::{Basis, Catalogue, Composition, normalized};
use crate::error::{Blank, Error, RangeUnit, Reason, Result};
use crate::refrigerant::{Given, PhaseProperties, ReferenceState, Refrigerant, SaturationPoint};
use crate::state::{SinglePhase, density_between, highest_density};
use crate::units::{Pressure, Temperature};

/// Density that stands for zero in rows of the ideal gas, mol/m3: its residual part is below
/// 1e-9 of any property.
const NEARLY_NO_DENSITY: f64 = 1e-6;

/// Fraction of the critical temperature at which the distance of two zeros is read.
const MIDDLE_OF_LINE: f64 = 0.8;

/// Refrigerants already built.
pub(super) struct Engine {
    catalogue: Catalogue,
    known: HashMap<String, Refrigerant>,
}

/// The properties of one phase by mass, from the row's zero.
struct Phase {
    pressure: f64,
    density: f64,
    enthalpy: f64,
    entropy: f64,
    cp: f64,
    cv: f64,
    speed_of_sound: f64,
}

impl Engine {
    pub(super) fn new(catalogue: &Catalogue) -> Self {
        Self {
            catalogue: catalogue.clone(),
            known: HashMap::new(),
        }
    }

    /// The value in the row's unit; a sentence where there is none.
    pub(super) fn value(&mut self, row: &PublishedRow) -> std::result::Result<f64, String> {
        let refrigerant = self
            .refrigerant(row)
            .map_err(|problem| problem.to_string())?;
        let value = value_in_si(&self.catalogue, &refrigerant, row)
            .map_err(|problem| problem.to_string())?;
        in_unit(value, &row.unit)
            .ok_or_else(|| format!("unit '{}' is not one of the table's", row.unit))
    }

    fn refrigerant(&mut self, row: &PublishedRow) -> Result<Refrigerant> {
        let key = format!("{} {}", row.refrigerant, row.composition);
        if let Some(known) = self.known.get(&key) {
            return Ok(known.clone());
        }
        let found = if let Some(amounts) = row.composition.strip_prefix("mole: ") {
            let composition = self.composition(&row.refrigerant, amounts, Basis::Mole)?;
            Refrigerant::from_composition(&self.catalogue, composition)?
        } else {
            let found =
                Refrigerant::from_catalogue(&self.catalogue, &row.refrigerant, Basis::Mass)?;
            if let Some(printed) = row.composition.strip_prefix("mass: ") {
                self.same_composition(&found, printed)?;
            }
            found
        };
        self.known.insert(key, found.clone());
        Ok(found)
    }

    /// Names and amounts as the table has them, each list with a slash between.
    fn composition(&self, names: &str, amounts: &str, basis: Basis) -> Result<Composition> {
        let amounts = amounts
            .split('/')
            .map(|text| text.parse().unwrap_or(f64::NAN));
        let parts: Vec<(&str, f64)> = names.split('/').zip(amounts).collect();
        self.catalogue.compose(&normalized(&parts)?, basis)
    }

    /// A value of one composition says nothing about another.
    fn same_composition(&self, found: &Refrigerant, printed: &str) -> Result<()> {
        let (names, amounts) = printed.split_once(' ').unwrap_or((printed, ""));
        let printed = self.composition(names, amounts, Basis::Mass)?;
        let differs = printed.components().len() != found.components().len()
            || printed.components().iter().any(|component| {
                !found.components().iter().any(|own| {
                    own.designation == component.designation
                        && (own.mass_fraction - component.mass_fraction).abs() < 1e-9
                })
            });
        if differs {
            return Err(Error::Composition {
                literal: printed.label().to_owned(),
                problem: format!("not the composition of {}", found.designation()),
                hint: "compare the table with fluids/blends.yaml".into(),
            });
        }
        Ok(())
    }
}

fn value_in_si(
    catalogue: &Catalogue,
    refrigerant: &Refrigerant,
    row: &PublishedRow,
) -> Result<f64> {
    let mass = refrigerant.molar_mass();
    match row.property.as_str() {
        "molar_mass" => return Ok(mass),
        "critical_temperature" | "critical_pressure" => {
            let (temperature, pressure) = critical_point(catalogue, refrigerant)?;
            return Ok(match row.property.as_str() {
                "critical_temperature" => temperature,
                _ => pressure,
            });
        }
        "alpha_r (residual Helmholtz / RT)" => {
            let (temperature, density) = (needed(row.temperature)?, given_density(row, mass)?);
            let (mixture, x) = refrigerant.model();
            return Ok(mixture.at_composition(x).residual(temperature, density).a);
        }
        "bubble_temperature" | "normal_boiling_temperature" | "saturation_temperature" => {
            let pressure = Pressure::pascal(needed(row.pressure)?);
            return Ok(refrigerant.bubble_temperature(pressure)?.in_kelvin());
        }
        "dew_temperature" => {
            let pressure = Pressure::pascal(needed(row.pressure)?);
            return Ok(refrigerant.dew_temperature(pressure)?.in_kelvin());
        }
        "bubble_pressure" | "saturation_pressure" => {
            let temperature = Temperature::kelvin(needed(row.temperature)?);
            return Ok(refrigerant.bubble_pressure(temperature)?.in_pascal());
        }
        "dew_pressure" => {
            let temperature = Temperature::kelvin(needed(row.temperature)?);
            return Ok(refrigerant.dew_pressure(temperature)?.in_pascal());
        }
        "enthalpy_of_vaporization" | "molar_enthalpy_of_vaporization" => {
            return Ok(saturated(refrigerant, row, 0.0)?.latent_heat * per_mole(row, mass));
        }
        "entropy_of_vaporization" => {
            let point = saturated(refrigerant, row, 0.0)?;
            return Ok(point.vapor.entropy - point.liquid.entropy);
        }
        _ => {}
    }
    let phase = phase(refrigerant, row)?;
    let molar = |by_mass: f64| by_mass * mass;
    Ok(match row.property.as_str() {
        "pressure" => phase.pressure,
        "density" | "saturated_liquid_density" | "saturated_vapor_density" => phase.density,
        "molar_density" | "saturated_liquid_molar_density" | "saturated_vapor_molar_density" => {
            phase.density / mass
        }
        "saturated_liquid_specific_volume" | "saturated_vapor_specific_volume" => {
            1.0 / phase.density
        }
        "cp" => phase.cp,
        "cv" => phase.cv,
        "enthalpy" => phase.enthalpy,
        "entropy" => phase.entropy,
        "cp_molar" => molar(phase.cp),
        "cv_molar" => molar(phase.cv),
        "molar_enthalpy" => molar(phase.enthalpy),
        "molar_entropy" => molar(phase.entropy),
        "speed_of_sound" => phase.speed_of_sound,
        other => {
            return Err(Error::NoState {
                reason: Reason::of(reasons::TABLE_NO_PROPERTY, "property", other),
                hint: "name it in the comparison".into(),
            });
        }
    })
}

/// Temperature and pressure of the critical point: a pure refrigerant's published constants as the
/// record has them (the equation's own point may lie apart), a blend's from its envelope.
fn critical_point(catalogue: &Catalogue, refrigerant: &Refrigerant) -> Result<(f64, f64)> {
    if refrigerant.is_pure() {
        let record = catalogue.pure(refrigerant.designation())?;
        let point = &record.critical_point.published;
        return Ok((point.temperature_k, point.pressure_pa));
    }
    let point = refrigerant.critical_point().ok_or_else(|| Error::NoState {
        reason: reasons::TABLE_NO_ENVELOPE.into(),
        hint: "ask for bubble and dew points".into(),
    })?;
    Ok((point.temperature.in_kelvin(), point.pressure.in_pascal()))
}

/// Mass of a mole where a value by mass is to be one by mole.
fn per_mole(row: &PublishedRow, mass: f64) -> f64 {
    if row.unit.ends_with("/mol") {
        mass
    } else {
        1.0
    }
}

fn phase(refrigerant: &Refrigerant, row: &PublishedRow) -> Result<Phase> {
    if let Some(quality) = row.quality {
        let point = saturated(refrigerant, row, quality)?;
        return Ok(by_mass(if quality < 0.5 {
            &point.liquid
        } else {
            &point.vapor
        }));
    }
    let temperature = needed(row.temperature)?;
    if row.density.is_some() || row.molar_density.is_some() {
        let density = given_density(row, refrigerant.molar_mass())?;
        return at_density(refrigerant, row, temperature, density);
    }
    let given = Given::TemperaturePressure(
        Temperature::kelvin(temperature),
        Pressure::pascal(needed(row.pressure)?),
    );
    match refrigerant.state(given, zero(row)).as_deref() {
        Ok([state]) => Ok(by_mass(&state.properties)),
        Err(Error::OutOfRange { .. }) => beyond_range(refrigerant, row, temperature),
        Err(problem) => Err(problem.clone()),
        Ok(states) => Err(Error::NoState {
            reason: Reason::with(
                reasons::TABLE_SEVERAL_STATES,
                "count",
                Blank::Quantity(states.len() as f64, RangeUnit::None),
            ),
            hint: "a printed state is one".into(),
        }),
    }
}

/// Some check values are printed beyond the range that the record gives. Above the critical
/// temperature, where a pressure has one density, the equation is asked all the same.
fn beyond_range(refrigerant: &Refrigerant, row: &PublishedRow, temperature: f64) -> Result<Phase> {
    let pressure = needed(row.pressure)?;
    let (mixture, x) = refrigerant.model();
    let fixed = mixture.at_composition(x);
    let isotherm = fixed.isotherm(temperature);
    let low = NEARLY_NO_DENSITY;
    let high = highest_density(&fixed, &isotherm, pressure, low);
    let high = match high {
        Some(high) if temperature > critical_temperature(refrigerant)? => high,
        _ => {
            return Err(Error::NoState {
                reason: reasons::TABLE_BEYOND_RANGE.into(),
                hint: "ask within its range".into(),
            });
        }
    };
    let start = pressure / isotherm.rt;
    let density = density_between(&isotherm, pressure, low, high, start)?.density;
    at_density(refrigerant, row, temperature, density)
}

/// Values printed at temperature and density are the equation's, even between the phases.
fn at_density(
    refrigerant: &Refrigerant,
    row: &PublishedRow,
    temperature: f64,
    density: f64,
) -> Result<Phase> {
    let mass = refrigerant.molar_mass();
    let density = density.max(NEARLY_NO_DENSITY);
    let (mixture, x) = refrigerant.model();
    let phase = SinglePhase::at_density(&mixture.at_composition(x), temperature, density);
    let (enthalpy, entropy) = shift(refrigerant, zero(row))?;
    Ok(Phase {
        pressure: phase.pressure,
        density: phase.density * mass,
        enthalpy: phase.enthalpy / mass + enthalpy,
        entropy: phase.entropy / mass + entropy,
        cp: phase.cp / mass,
        cv: phase.cv / mass,
        speed_of_sound: phase.speed_of_sound,
    })
}

/// Critical temperature of a pure refrigerant's equation, K.
fn critical_temperature(refrigerant: &Refrigerant) -> Result<f64> {
    let critical = match refrigerant.is_pure() {
        true => refrigerant.critical_point(),
        false => None,
    };
    critical
        .map(|critical| critical.temperature.in_kelvin())
        .ok_or_else(|| Error::NoState {
            reason: reasons::TABLE_NO_SUCH_ROW.into(),
            hint: "give it by saturation".into(),
        })
}

/// What a zero adds to enthalpy and entropy by mass, read from a saturated liquid.
fn shift(refrigerant: &Refrigerant, zero: ReferenceState) -> Result<(f64, f64)> {
    if zero == ReferenceState::IdealGas {
        return Ok((0.0, 0.0));
    }
    let critical = critical_temperature(refrigerant)?;
    let middle = Temperature::kelvin(MIDDLE_OF_LINE * critical);
    let liquid = |zero| -> Result<PhaseProperties> {
        let saturation = refrigerant.saturation_at_temperature(middle, zero)?;
        Ok(side(saturation.bubble)?.liquid)
    };
    let (there, here) = (liquid(zero)?, liquid(ReferenceState::IdealGas)?);
    Ok((there.enthalpy - here.enthalpy, there.entropy - here.entropy))
}

fn saturated(
    refrigerant: &Refrigerant,
    row: &PublishedRow,
    quality: f64,
) -> Result<SaturationPoint> {
    let saturation = match (row.temperature, row.pressure) {
        (Some(temperature), _) => {
            let temperature = Temperature::kelvin(on_line(refrigerant, temperature));
            refrigerant.saturation_at_temperature(temperature, zero(row))?
        }
        (None, pressure) => {
            refrigerant.saturation_at_pressure(Pressure::pascal(needed(pressure)?), zero(row))?
        }
    };
    side(if quality < 0.5 {
        saturation.bubble
    } else {
        saturation.dew
    })
}

/// A printed temperature may be the line's cold end, rounded to the millikelvin and by that just
/// below it.
fn on_line(refrigerant: &Refrigerant, temperature: f64) -> f64 {
    let end = refrigerant.limits().temperature_min.in_kelvin();
    if temperature < end && end - temperature < 1e-3 {
        end
    } else {
        temperature
    }
}

fn side(point: Option<SaturationPoint>) -> Result<SaturationPoint> {
    point.ok_or_else(|| Error::NoState {
        reason: reasons::TABLE_NO_SIDE.into(),
        hint: "ask for the other side".into(),
    })
}

fn by_mass(phase: &PhaseProperties) -> Phase {
    Phase {
        pressure: phase.pressure.in_pascal(),
        density: phase.density,
        enthalpy: phase.enthalpy,
        entropy: phase.entropy,
        cp: phase.cp.unwrap_or(f64::NAN),
        cv: phase.cv.unwrap_or(f64::NAN),
        speed_of_sound: phase.speed_of_sound.unwrap_or(f64::NAN),
    }
}

/// The zero of enthalpy and entropy that the row's note names.
fn zero(row: &PublishedRow) -> ReferenceState {
    let names = |zero: &str| row.note.contains(&format!("reference state: {zero}"));
    if names("IIR") {
        ReferenceState::Iir
    } else if names("NBP") {
        ReferenceState::BoilingPoint
    } else if names("the paper's own") {
        ReferenceState::Published
    } else {
        ReferenceState::IdealGas
    }
}

/// Density of the row's state, mol/m3.
fn given_density(row: &PublishedRow, mass: f64) -> Result<f64> {
    match row.density {
        // printed by mass; the molar one beside it was converted
        Some(density) => Ok(density / mass),
        None => Ok(needed(row.molar_density)? * 1e3),
    }
}

fn needed(value: Option<f64>) -> Result<f64> {
    value.ok_or_else(|| Error::NoState {
        reason: reasons::TABLE_NO_STATE.into(),
        hint: "tests/data/README.md describes every column".into(),
    })
}

/// An SI value in a unit of the table.
fn in_unit(value: f64, unit: &str) -> Option<f64> {
    Some(match unit {
        "MPa" => value / 1e6,
        "bar" => value / 1e5,
        "kPa" | "kJ/kg" | "kJ/(kg K)" | "kJ/mol" | "kJ/(mol K)" | "mol/L" => value / 1e3,
        "g/mol" => value * 1e3,
        "degC" => value - 273.15,
        "-" | "Pa" | "J/kg" | "J/mol" | "J/(mol K)" | "kg/m3" | "m3/kg" | "m/s" | "K" => value,
        _ => return None,
    })
}
