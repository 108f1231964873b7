//! `convert`: pressures and temperatures at a site, and other amounts.

use crate::cli::args::{OutputArgs, SiteArgs, meant, signs};
use crate::cli::errors::Failure;
use crate::page::{self, Document};
use crate::service::conversion::{ConvertedQuantity, Unit, convert};
use crate::units::{
    AmountUnit, Atmosphere, BareUnit, PressureUnit, TemperatureUnit, UnitSet, amount,
    parse_pressure, parse_temperature,
};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope convert 70psig --to bara\n  zeotrope convert -40C --to F\n  \
                  zeotrope convert 12.4inHgvac --to psia --elevation 5280ft\n  zeotrope convert 500micron\n  zeotrope convert 3tons --to kW"
)]
pub(crate) struct ConvertArgs {
    /// Pressures, temperatures, capacities, flows, masses, volumes, lengths or velocities with their
    /// units
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

pub(crate) fn answer(args: &ConvertArgs) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let mut given = Vec::new();
    let mut to = None;
    for text in &args.values {
        let quantity = quantity(text, &site)?;
        if let Some(name) = &args.to {
            to = Some(unit(name, &quantity)?);
        }
        given.push((signs::in_ascii(text), quantity));
    }
    let found = convert(given, to, site)?;
    let style = args.output.style(UnitSet::SI, site);
    Ok(page::conversion(&found, warnings, &style))
}

fn quantity(text: &str, site: &Atmosphere) -> Result<ConvertedQuantity, Failure> {
    let temperature = match parse_temperature(text) {
        Ok(typed) => return Ok(ConvertedQuantity::Temperature(typed)),
        Err(error) => error,
    };
    let pressure = match parse_pressure(text, BareUnit::Refused, site) {
        Ok(typed) => return Ok(ConvertedQuantity::Pressure(typed)),
        Err(error) => error,
    };
    if let Ok(found) = amount(text) {
        return Ok(ConvertedQuantity::Amount(found));
    }
    if text
        .trim_end()
        .ends_with(|last: char| last.is_ascii_digit())
    {
        return Err(Failure::usage(
            format!("value '{}' has no unit", signs::in_ascii(text)),
            format!(
                "write the unit after the number, for example {0}C, {0}F, {0}psig or {0}bara",
                signs::in_ascii(text)
            ),
        ));
    }
    Err(match meant::pressure_like(text) {
        true => pressure.into(),
        false => temperature.into(),
    })
}

/// The unit of `--to`; one that is known for the other kind alone is told as such.
fn unit(name: &str, quantity: &ConvertedQuantity) -> Result<Unit, Failure> {
    if let ConvertedQuantity::Amount(amount) = quantity {
        let kind = amount.unit.kind;
        let found = AmountUnit::named(name).filter(|unit| unit.kind == kind);
        return found.map(Unit::Amount).ok_or_else(|| {
            let names: Vec<&str> = kind.units().map(|unit| unit.name).collect();
            Failure::usage(
                format!("--to: '{name}' is not a unit of {}", kind.name()),
                format!("use one of {}", names.join(" ")),
            )
        });
    }
    let temperature = TemperatureUnit::named(name);
    let pressure = PressureUnit::named(name);
    let (error, has_other, kind) = match (quantity, temperature, pressure) {
        (ConvertedQuantity::Temperature(_), Ok(unit), _) => return Ok(Unit::Temperature(unit)),
        (ConvertedQuantity::Pressure(_), _, Ok(unit)) => return Ok(Unit::Pressure(unit)),
        (ConvertedQuantity::Temperature(_), Err(error), other) => {
            (error, other.is_ok(), "temperature")
        }
        (_, other, Err(error)) => (error, other.is_ok(), "pressure"),
        (ConvertedQuantity::Amount(_), _, Ok(unit)) => return Ok(Unit::Pressure(unit)),
    };
    match error.hint() {
        Some(hint) if has_other => Err(Failure::usage(
            format!("--to: a {kind} has no such unit"),
            hint,
        )),
        _ => Err(Failure::from(error).of_option("--to")),
    }
}
