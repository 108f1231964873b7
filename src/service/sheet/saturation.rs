//! Bubble and dew of rows of a sheet.

use super::answers::Value;
use crate::Warning;
use crate::refrigerant::{ReferenceState, Refrigerant, Saturation, SaturationPoint};
use crate::units::{CellValue, Pressure, Temperature};
use crate::{Branch, Error, Result};

type Column = (&'static str, fn(&SaturationPoint) -> f64);

const COLUMNS: [Column; 9] = [
    ("temperature_K", |point| point.temperature.in_kelvin()),
    ("pressure_Pa", |point| point.pressure.in_pascal()),
    ("liquid_density_kg_m3", |point| point.liquid.density),
    ("vapor_density_kg_m3", |point| point.vapor.density),
    ("liquid_enthalpy_J_kg", |point| point.liquid.enthalpy),
    ("vapor_enthalpy_J_kg", |point| point.vapor.enthalpy),
    ("liquid_entropy_J_kg_K", |point| point.liquid.entropy),
    ("vapor_entropy_J_kg_K", |point| point.vapor.entropy),
    ("latent_heat_J_kg", |point| point.latent_heat),
];

/// Places of temperature and pressure among [`COLUMNS`].
const LINE: usize = 2;

/// The keys of a bubble and a dew point in a row.
pub fn saturation_keys() -> Vec<String> {
    let of = |branch| COLUMNS.map(|(name, _)| format!("{branch}_{name}"));
    let mut heads = [of("bubble"), of("dew")].concat();
    heads.extend(["glide_K", "reference"].map(str::to_owned));
    heads
}

/// A row under [`saturation_keys`].
pub fn saturation_values(found: &Saturation, values: &mut Vec<Value>) {
    for point in [&found.bubble, &found.dew] {
        let of = |value: fn(&SaturationPoint) -> f64| point.as_ref().map(value);
        values.extend(COLUMNS.map(|(_, value)| Value::from(of(value))));
    }
    values.push(found.glide.into());
    values.push(Value::Name(found.zero.name()));
}

/// Answers rows of temperatures or pressures of one refrigerant.
#[derive(Debug, Clone)]
pub struct SaturationRows {
    refrigerant: Refrigerant,
    reference: ReferenceState,
    standing: Vec<Warning>,
    /// Which of bubble and dew are wanted, where nothing but their temperatures, pressures and the
    /// glide is.
    lines: Option<[bool; 2]>,
    /// Temperatures between which nothing has to be known about a bubble or dew point.
    plain: Option<(Temperature, Temperature)>,
}

impl SaturationRows {
    /// Answers in which the keys at some places are wanted; `standing` is what to know about every
    /// row.
    pub fn new(
        refrigerant: Refrigerant,
        reference: ReferenceState,
        standing: Vec<Warning>,
        places: impl IntoIterator<Item = usize>,
    ) -> Self {
        let mut lines = Some([false; 2]);
        for place in places {
            let branch = place / COLUMNS.len();
            lines = match lines {
                Some(_) if place == 2 * COLUMNS.len() => Some([true; 2]),
                Some(mut lines) if branch < 2 && place % COLUMNS.len() < LINE => {
                    lines[branch] = true;
                    Some(lines)
                }
                _ => None,
            };
        }
        Self {
            plain: lines.and_then(|_| plain(&refrigerant)),
            refrigerant,
            reference,
            standing,
            lines,
        }
    }

    /// Answers a row into values under [`saturation_keys`] and warnings; what is missing is given
    /// back.
    ///
    /// # Errors
    /// As [`Refrigerant::saturation_at_pressure`] and [`Refrigerant::saturation_at_temperature`].
    pub fn answer(
        &self,
        at: CellValue,
        values: &mut Vec<Value>,
        warnings: &mut Vec<Warning>,
    ) -> Result<Option<(Branch, Error)>> {
        if self.quick(at, values) {
            warnings.extend_from_slice(&self.standing);
            return Ok(None);
        }
        let found = match at {
            CellValue::Pressure(pressure) => self
                .refrigerant
                .saturation_at_pressure(pressure, self.reference),
            CellValue::Temperature(temperature) => self
                .refrigerant
                .saturation_at_temperature(temperature, self.reference),
            _ => return Ok(None),
        }?;
        saturation_values(&found, values);
        warnings.extend_from_slice(&self.standing);
        let mut missing = None;
        for warning in found.warnings {
            match warning {
                // A branch that is missing is told in its row, not among the warnings.
                Warning::NoBranch(branch, error) => missing = Some((branch, error)),
                other if warnings.contains(&other) => (),
                other => warnings.push(other),
            }
        }
        Ok(missing)
    }

    /// The lines alone, from the curves; `false` where they do not do.
    fn quick(&self, at: CellValue, values: &mut Vec<Value>) -> bool {
        let Some((lines, (low, high))) = self.lines.zip(self.plain) else {
            return false;
        };
        let refrigerant = &self.refrigerant;
        let mut found = [None; 2];
        for (at_branch, (found, is_wanted)) in found.iter_mut().zip(lines).enumerate() {
            if !is_wanted {
                continue;
            }
            let point: Result<(Temperature, Pressure)> = match (at, at_branch) {
                (CellValue::Pressure(p), 0) => refrigerant.bubble_temperature(p).map(|t| (t, p)),
                (CellValue::Pressure(p), _) => refrigerant.dew_temperature(p).map(|t| (t, p)),
                (CellValue::Temperature(t), 0) => refrigerant.bubble_pressure(t).map(|p| (t, p)),
                (CellValue::Temperature(t), _) => refrigerant.dew_pressure(t).map(|p| (t, p)),
                _ => return false,
            };
            match point {
                Ok(point) if low <= point.0 && point.0 <= high => *found = Some(point),
                _ => return false,
            }
        }
        values.resize(2 * COLUMNS.len() + 1, Value::None);
        for (branch, point) in found.iter().enumerate() {
            if let Some((temperature, pressure)) = point {
                values[branch * COLUMNS.len()] = temperature.in_kelvin().into();
                values[branch * COLUMNS.len() + 1] = pressure.in_pascal().into();
            }
        }
        if let ([Some(bubble), Some(dew)], CellValue::Pressure(_)) = (found, at) {
            values[2 * COLUMNS.len()] = (dew.0 - bubble.0).in_kelvin().into();
        }
        true
    }
}

/// The longest stretch of temperatures, among samples of the whole line, without a warning or a
/// missing branch.
fn plain(refrigerant: &Refrigerant) -> Option<(Temperature, Temperature)> {
    const SAMPLES: usize = 48;
    let critical = refrigerant.critical_point()?.temperature.in_kelvin();
    let (low, high) = (200.0_f64.min(0.6 * critical), 0.95 * critical);
    let at = |sample: usize| low + (high - low) * sample as f64 / SAMPLES as f64;
    let is_plain = |sample: usize| {
        let temperature = Temperature::kelvin(at(sample));
        let found = refrigerant.saturation_at_temperature(temperature, ReferenceState::IdealGas);
        found.is_ok_and(|found| found.warnings == refrigerant.warnings())
    };
    let (mut best, mut begun) = (None::<(usize, usize)>, None);
    for sample in 0..=SAMPLES {
        begun = match is_plain(sample) {
            true => begun.or(Some(sample)),
            false => None,
        };
        if let Some(begun) = begun
            && best.is_none_or(|(from, to)| sample - begun > to - from)
        {
            best = Some((begun, sample));
        }
    }
    let (from, to) = best.filter(|(from, to)| to > from)?;
    Some((Temperature::kelvin(at(from)), Temperature::kelvin(at(to))))
}
