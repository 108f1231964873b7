//! `convert`: pressures and temperatures at a site.

use serde_json::{Value, json};

use crate::cli::args::meant;
use crate::cli::args::{OutputArgs, SiteArgs};
use crate::cli::errors::Failure;
use crate::output::{number, number_cell};
use crate::page::{Block, Document, Sheet};
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Temperature, TemperatureUnit, parse_pressure,
    parse_temperature, short,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope convert 70psig --to bara\n  zeotrope convert -40C --to F\n  \
                  zeotrope convert 12.4inHgvac --to psia --elevation 5280ft\n  zeotrope convert 500micron"
)]
pub(crate) struct ConvertArgs {
    /// Pressures or temperatures with their units
    #[arg(value_name = "VALUE", required = true)]
    pub(crate) values: Vec<String>,
    /// Unit to convert to; without it, to every unit of the kind
    #[arg(long, value_name = "UNIT")]
    pub(crate) to: Option<String>,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// Digits of a converted figure: more than any gauge has, fewer than would be noise.
const DIGITS: usize = 6;

/// What was typed.
enum Quantity {
    Temperature(Temperature, TemperatureUnit),
    Pressure(Pressure, PressureUnit),
}

pub(crate) fn answer(args: &ConvertArgs) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, warnings) = meant::site(&args.site)?;
    let mut lines = Vec::new();
    let mut sheet = Sheet {
        heads: ["value", "to", "result"].map(str::to_owned).to_vec(),
        rows: Vec::new(),
    };
    let mut results = Vec::new();
    let mut counted_from_air = false;
    for text in &args.values {
        let quantity = quantity(text, &site)?;
        for one in conversions(&quantity, args.to.as_deref(), &site)? {
            counted_from_air |= one.gauge;
            lines.push(format!("{} = {}", shown(text), one.text));
            sheet.rows.push(vec![
                shown(text),
                one.unit.to_owned(),
                number_cell(Some(one.value)),
            ]);
            results.push(result_json(text, &quantity, &one));
        }
    }
    let mut blocks = vec![Block::Lines(lines)];
    if counted_from_air {
        blocks.push(Block::Lines(vec![format!(
            "Gauge pressures and vacuum count from {}.",
            site.in_words()
        )]));
    }
    for warning in &warnings {
        blocks.push(Block::Lines(vec![format!("warning: {}.", warning.text)]));
    }
    let results = match results.len() {
        1 => results.remove(0),
        _ => Value::Array(results),
    };
    Ok(Document {
        blocks,
        sheet,
        json: json!({
            "conversion": results,
            "atmosphere_Pa": number(site.pressure().in_pascal()),
            "warnings": crate::output::warnings(&warnings),
        }),
        warnings,
        ..Document::default()
    })
}

/// A value as typed, its minus sign in ASCII.
fn shown(text: &str) -> String {
    text.trim().replace('\u{2212}', "-")
}

fn quantity(text: &str, site: &Atmosphere) -> Result<Quantity, Failure> {
    let temperature = parse_temperature(text);
    if let Ok(typed) = temperature {
        return Ok(Quantity::Temperature(typed.value, typed.unit));
    }
    match (temperature, parse_pressure(text, BareUnit::Refused, site)) {
        (_, Ok(typed)) => Ok(Quantity::Pressure(typed.value, typed.unit)),
        (Err(temperature), Err(pressure)) => {
            let bare = text
                .trim_end()
                .ends_with(|character: char| character.is_ascii_digit());
            if bare {
                return Err(Failure::usage(
                    format!("value '{}': has no unit", shown(text)),
                    format!(
                        "write the unit behind the number, for example {0}C, {0}F, {0}psig or {0}bara",
                        shown(text)
                    ),
                ));
            }
            let about = if meant::pressure_like(text) {
                pressure
            } else {
                temperature
            };
            Err(about.into())
        }
        (Ok(typed), _) => Ok(Quantity::Temperature(typed.value, typed.unit)),
    }
}

/// Why a unit does not fit: not known, or known for another kind of quantity.
fn other_kind<Unit>(
    error: crate::Error,
    other: crate::Result<Unit>,
    kind: &'static str,
) -> Failure {
    match (other, error.hint()) {
        (Ok(_), Some(hint)) => Failure::usage(format!("--to: a {kind} has no such unit"), hint),
        _ => Failure::from(error).of_option("--to"),
    }
}

/// One converted figure.
struct Converted {
    unit: &'static str,
    value: f64,
    text: String,
    /// Whether the site's air enters on either side.
    gauge: bool,
}

fn conversions(
    quantity: &Quantity,
    to: Option<&str>,
    site: &Atmosphere,
) -> Result<Vec<Converted>, Failure> {
    match quantity {
        Quantity::Temperature(temperature, typed) => {
            let units = match to {
                Some(name) => vec![TemperatureUnit::named(name).map_err(|error| {
                    other_kind(error, PressureUnit::named(name), "temperature")
                })?],
                None => [
                    TemperatureUnit::Celsius,
                    TemperatureUnit::Fahrenheit,
                    TemperatureUnit::Kelvin,
                ]
                .into_iter()
                .filter(|unit| unit != typed)
                .collect(),
            };
            Ok(units
                .into_iter()
                .map(|unit| {
                    let value = unit.read(*temperature);
                    Converted {
                        unit: unit.typed(),
                        value,
                        text: format!("{} {}", short(value, DIGITS), unit.symbol()),
                        gauge: false,
                    }
                })
                .collect())
        }
        Quantity::Pressure(pressure, typed) => {
            let units = match to {
                Some(name) => vec![PressureUnit::named(name).map_err(|error| {
                    other_kind(error, TemperatureUnit::named(name), "pressure")
                })?],
                None => PressureUnit::ALL
                    .into_iter()
                    .filter(|unit| unit != typed)
                    .filter(|unit| {
                        // A vacuum above the air of the site is none.
                        *unit != PressureUnit::InchesOfMercuryVacuum
                            || pressure.in_pascal() <= site.pressure().in_pascal()
                    })
                    .collect(),
            };
            units
                .into_iter()
                .map(|unit| pressure_in(*pressure, *typed, unit, site))
                .collect()
        }
    }
}

fn pressure_in(
    pressure: Pressure,
    typed: PressureUnit,
    unit: PressureUnit,
    site: &Atmosphere,
) -> Result<Converted, Failure> {
    let value = unit.read(pressure, site);
    let text = if unit == PressureUnit::InchesOfMercuryVacuum {
        // Rounding in the sum may leave a trace below zero.
        if value < -1e-9 {
            return Err(Failure::no_answer(
                "this pressure lies above the air of the site: there is no vacuum",
                "convert it to psig, psia, barg or bara",
            ));
        }
        format!("{} inHg vacuum", short(value.max(0.0), DIGITS))
    } else {
        format!("{} {}", short(value, DIGITS), unit.typed())
    };
    Ok(Converted {
        unit: unit.typed(),
        value,
        text,
        gauge: unit.is_gauge() || typed.is_gauge(),
    })
}

fn result_json(text: &str, quantity: &Quantity, one: &Converted) -> Value {
    let (key, value) = match quantity {
        Quantity::Temperature(temperature, _) => ("temperature_K", temperature.in_kelvin()),
        Quantity::Pressure(pressure, _) => ("pressure_Pa", pressure.in_pascal()),
    };
    json!({
        "value": shown(text),
        key: number(value),
        "to": one.unit,
        "result": number(one.value),
    })
}
