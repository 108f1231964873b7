//! Which answers of a row are written, and in which unit.

use crate::units::{Atmosphere, PressureUnit, TemperatureUnit};
use crate::{Error, Result};

/// What an answer holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Value {
    /// Nothing: an empty cell.
    #[default]
    None,
    /// A number in the unit that its key names.
    Number(f64),
    /// A word.
    Word(String),
    /// A word that is known beforehand.
    Name(&'static str),
}

impl Value {
    /// Its text in a sheet: a number as the shortest that reads back, nothing where there is none.
    pub fn text(&self) -> String {
        match self {
            Self::Number(value) => serde_json::to_string(value).unwrap_or_default(),
            Self::Word(word) => word.clone(),
            Self::Name(word) => (*word).to_owned(),
            Self::None => String::new(),
        }
    }
}

impl From<Option<f64>> for Value {
    fn from(value: Option<f64>) -> Self {
        match value {
            Some(value) if value.is_finite() => Self::Number(value),
            _ => Self::None,
        }
    }
}

impl From<f64> for Value {
    fn from(value: f64) -> Self {
        Some(value).into()
    }
}

/// How a number in SI becomes one in the unit asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Unit {
    Si,
    Temperature(TemperatureUnit),
    Times(f64),
    Pressure(PressureUnit),
}

/// The answers to write.
#[derive(Debug, Clone, PartialEq)]
pub struct Answers {
    heads: Vec<String>,
    picks: Vec<(usize, Unit)>,
    site: Atmosphere,
}

/// Names in `_K` of which the value is a temperature, not a difference.
fn is_temperature(name: &str) -> bool {
    name.ends_with("temperature")
}

impl Answers {
    /// All answers, in SI, under their own keys.
    pub fn all(keys: &[&str], site: Atmosphere) -> Self {
        Self {
            heads: keys.iter().map(|key| (*key).to_owned()).collect(),
            picks: (0..keys.len()).map(|at| (at, Unit::Si)).collect(),
            site,
        }
    }

    /// Those named, each as NAME_UNIT: `dew_temperature_F`, `glide_K`, `bubble_pressure_psig`.
    ///
    /// # Errors
    /// [`Error::Columns`] for a name that is none of the answers, or a unit that is not one of its
    /// quantity.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::sheet::{Answers, Value};
    /// use zeotrope::units::Atmosphere;
    /// let keys = ["dew_temperature_K", "glide_K"];
    /// let asked = ["glide_F".to_owned(), "dew_temperature_F".to_owned()];
    /// let answers = Answers::named(&asked, &keys, Atmosphere::SEA_LEVEL)?;
    /// let mut line = Vec::new();
    /// answers.write(&[Value::Number(288.15), Value::Number(5.0)], b',', false, &mut line);
    /// assert_eq!(line, b",9.0,59.0");
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn named(asked: &[String], keys: &[&str], site: Atmosphere) -> Result<Self> {
        let mut answers = Self {
            heads: Vec::new(),
            picks: Vec::new(),
            site,
        };
        for name in asked {
            let name = name.trim();
            let found = keys.iter().enumerate().find_map(|(at, key)| {
                let unit = unit_of(key, name)?;
                Some((at, unit))
            });
            let pick = found.ok_or_else(|| Error::Columns {
                problem: format!("'{name}' is not an answer here, or not in a unit of it"),
                hint: format!(
                    "name them by quantity and unit; there are: {}",
                    keys.join(", ")
                ),
                choice: Vec::new(),
            })?;
            answers.heads.push(name.to_owned());
            answers.picks.push(pick);
        }
        Ok(answers)
    }

    /// The headers of their columns.
    pub fn heads(&self) -> impl Iterator<Item = &str> {
        self.heads.iter().map(String::as_str)
    }

    /// The places, among the keys, of what is written.
    pub fn places(&self) -> impl Iterator<Item = usize> {
        self.picks.iter().map(|(at, _)| *at)
    }

    /// Writes the answers of a row, each behind a separator; empty cells where there are no values.
    pub fn write(&self, values: &[Value], separator: u8, has_commas: bool, out: &mut Vec<u8>) {
        for (at, unit) in &self.picks {
            out.push(separator);
            match values.get(*at) {
                Some(Value::Number(value)) => {
                    let begun = out.len();
                    let value = unit.in_unit(*value, &self.site);
                    // Writing to memory does not fail; what is no number is an empty cell.
                    if value.is_finite() && serde_json::to_writer(&mut *out, &value).is_err() {
                        out.truncate(begun);
                    }
                    if has_commas {
                        let point = out[begun..].iter_mut().find(|byte| **byte == b'.');
                        if let Some(point) = point {
                            *point = b',';
                        }
                        if separator == b',' {
                            out.insert(begun, b'"');
                            out.push(b'"');
                        }
                    }
                }
                Some(Value::Word(word)) => {
                    super::record::write_cell(word.as_bytes(), separator, out)
                }
                Some(Value::Name(word)) => {
                    super::record::write_cell(word.as_bytes(), separator, out)
                }
                Some(Value::None) | None => (),
            }
        }
    }
}

impl Unit {
    fn in_unit(self, value: f64, site: &Atmosphere) -> f64 {
        match self {
            Self::Si => value,
            Self::Times(factor) => value * factor,
            Self::Temperature(unit) => {
                let figure = unit.read(crate::units::Temperature::kelvin(value));
                // Kelvin to Celsius and Fahrenheit leaves dust in the last digits.
                (figure * 1e10).round() / 1e10
            }
            Self::Pressure(unit) => unit.read(crate::units::Pressure::pascal(value), site),
        }
    }
}

/// The unit in which `name` asks for the answer of a key; `None` where it asks for another.
fn unit_of(key: &str, name: &str) -> Option<Unit> {
    if key == name {
        return Some(Unit::Si);
    }
    let (base, si) = ["_J_kg_K", "_J_kg", "_kg_m3", "_K", "_Pa", "_m_s"]
        .iter()
        .find_map(|si| Some((key.strip_suffix(si)?, *si)))?;
    let unit = name.strip_prefix(base)?.strip_prefix('_')?;
    let psi = 1.0 / crate::units::PASCAL_PER_PSI;
    match (si, unit) {
        ("_K", _) if is_temperature(base) => {
            TemperatureUnit::named(unit).ok().map(Unit::Temperature)
        }
        ("_K", "F") => Some(Unit::Times(1.8)),
        ("_K", "C") => Some(Unit::Si),
        ("_Pa", "psi") if base.ends_with("error") => Some(Unit::Times(psi)),
        ("_Pa", _) => PressureUnit::named(unit).ok().map(Unit::Pressure),
        ("_J_kg", "kJ_kg") | ("_J_kg_K", "kJ_kg_K") => Some(Unit::Times(1e-3)),
        ("_J_kg", "Btu_lb") => Some(Unit::Times(1.0 / 2326.0)),
        ("_J_kg_K", "Btu_lb_F") => Some(Unit::Times(1.0 / 4186.8)),
        ("_kg_m3", "lb_ft3") => Some(Unit::Times(
            crate::units::M3_PER_CUBIC_FOOT / crate::units::KG_PER_POUND,
        )),
        _ => None,
    }
}
