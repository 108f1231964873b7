//! The rows of a chart as typed, and the units that follow from them.

use crate::chart::{Rows, steps};
use crate::cli::args::{meant, signs};
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::verbs::charts::chart_args::ChartArgs;
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, TemperatureDifference, TemperatureUnit, Typed,
    UnitSet, parse_pressure, parse_pressure_difference, parse_temperature,
    parse_temperature_difference,
};

/// What the rows are, and the units that follow from how they were typed.
pub(crate) fn rows(args: &ChartArgs, site: &Atmosphere) -> Result<(Rows, UnitSet), Failure> {
    if !args.temperatures.is_empty() {
        let typed = args
            .temperatures
            .iter()
            .map(|text| parse_temperature(text))
            .collect::<Result<Vec<_>, _>>()
            .of_option("--temperatures")?;
        let units = meant::units(&args.units, typed.first().map(|one| one.unit), None)?;
        let scale = units.temperature;
        let values = typed.iter().zip(&args.temperatures).map(|(one, text)| {
            let exact = leading_number(text).filter(|_| one.unit == scale);
            exact.unwrap_or_else(|| scale.read(one.value))
        });
        return Ok((Rows::Temperatures(values.collect()), units));
    }
    if !args.pressures.is_empty() && args.from.is_none() && args.to.is_none() {
        let typed = listed_pressures(args, site)?;
        let first = typed.first().map(|one| one.unit);
        let units = meant::units(&args.units, None, first)?;
        let values = typed.iter().map(|one| units.pressure.read(one.value, site));
        return Ok((Rows::Pressures(values.collect()), units));
    }
    let (Some(from), Some(to)) = (&args.from, &args.to) else {
        return match (&args.from, &args.to) {
            (None, None) => usual_rows(args),
            _ => Err(Failure::usage(
                "--from and --to go together",
                "give both, for example --from -40F --to 150F --step 5F",
            )),
        };
    };
    match (parse_temperature(from), meant::pressure_like(from)) {
        (Err(_), true) => by_pressure(args, from, to, site),
        (typed, _) => {
            let first = typed.of_option("--from")?;
            let last = parse_temperature(to).of_option("--to")?;
            let units = meant::units(&args.units, Some(first.unit), None)?;
            let scale = units.temperature;
            let step = temperature_step(args, scale)?;
            // A whole number typed stays whole: no way through kelvin where none is needed.
            let end = |text: &str, unit: TemperatureUnit, value| {
                if unit == scale {
                    leading_number(text).unwrap_or_else(|| scale.read(value))
                } else {
                    scale.read(value)
                }
            };
            let rows = of_rows(Rows::temperatures(
                end(from, first.unit, first.value),
                end(to, last.unit, last.value),
                step,
            ))?;
            Ok((rows, units))
        }
    }
}

fn usual_rows(args: &ChartArgs) -> Result<(Rows, UnitSet), Failure> {
    let typed = match typed_step(args)? {
        Some((typed, _)) => Some(typed.unit),
        None => Some(TemperatureUnit::Fahrenheit).filter(|_| args.units.units.is_none()),
    };
    let units = meant::units(&args.units, typed, None)?;
    let step = temperature_step(args, units.temperature)?;
    let rows = of_rows(Rows::usual(units.temperature, step))?;
    Ok((rows, units))
}

type Step<'a> = (Typed<TemperatureDifference, TemperatureUnit>, &'a str);

fn typed_step(args: &ChartArgs) -> Result<Option<Step<'_>>, Failure> {
    let Some(text) = &args.step else {
        return Ok(None);
    };
    let typed = parse_temperature_difference(text).of_option("--step")?;
    Ok(Some((typed, text)))
}

fn temperature_step(args: &ChartArgs, scale: TemperatureUnit) -> Result<Option<f64>, Failure> {
    Ok(typed_step(args)?.map(|(typed, text)| {
        let is_fahrenheit = |unit| unit == TemperatureUnit::Fahrenheit;
        let same = is_fahrenheit(typed.unit) == is_fahrenheit(scale);
        let exact = leading_number(text).filter(|_| same);
        exact.unwrap_or_else(|| scale.read_difference(typed.value))
    }))
}

/// Rows that cannot be, with the options' names.
fn of_rows<Value>(found: crate::Result<Value>) -> Result<Value, Failure> {
    found.map_err(|error| match error {
        crate::Error::Value {
            quantity: "from",
            text,
            ..
        } => Failure::usage(
            format!("--from {text} lies above --to"),
            "give the lower end as --from and the upper end as --to",
        ),
        other => other.into(),
    })
}

fn by_pressure(
    args: &ChartArgs,
    from: &str,
    to: &str,
    site: &Atmosphere,
) -> Result<(Rows, UnitSet), Failure> {
    let first = parse_pressure(from, BareUnit::Absolute, site).of_option("--from")?;
    let last = parse_pressure(to, BareUnit::Absolute, site).of_option("--to")?;
    let units = meant::units(&args.units, None, Some(first.unit))?;
    let unit = units.pressure;
    if unit == PressureUnit::InchesOfMercuryVacuum {
        return Err(Failure::usage(
            "rows in inches of mercury vacuum would count downwards",
            "give the rows in psig, psia or inHga",
        ));
    }
    let Some(step_text) = &args.step else {
        return Err(Failure::usage(
            "rows by pressure need a --step",
            "give it as a difference of pressures, for example --step 10psi or --step 0.5bar",
        ));
    };
    let step = parse_pressure_difference(step_text).of_option("--step")? / unit.pascal();
    let values = of_rows(steps(
        unit.read(first.value, site),
        unit.read(last.value, site),
        step,
    ))?;
    Ok((Rows::Pressures(values), units))
}

/// The number at the head of a value that has been read already.
fn leading_number(text: &str) -> Option<f64> {
    let clean = signs::in_ascii(text);
    let end = clean
        .find(|character: char| !matches!(character, '0'..='9' | '.' | '-' | '+'))
        .unwrap_or(clean.len());
    // An exponent, rare in a row of a chart, goes the way through kelvin.
    match clean[end..].chars().next() {
        Some('e' | 'E') => None,
        _ => clean[..end].parse().ok(),
    }
}

fn listed_pressures(
    args: &ChartArgs,
    site: &Atmosphere,
) -> Result<Vec<Typed<Pressure, PressureUnit>>, Failure> {
    args.pressures
        .iter()
        .map(|text| parse_pressure(text, BareUnit::Absolute, site))
        .collect::<Result<Vec<_>, _>>()
        .of_option("--pressures")
}

/// The rows of a second table, by pressure, where both kinds are asked for.
pub(crate) fn second(
    args: &ChartArgs,
    rows: &Rows,
    unit: PressureUnit,
    site: &Atmosphere,
) -> Result<Option<Rows>, Failure> {
    if matches!(rows, Rows::Pressures(_)) || args.pressures.is_empty() {
        return Ok(None);
    }
    let typed = listed_pressures(args, site)?;
    let values = typed.iter().map(|one| unit.read(one.value, site));
    Ok(Some(Rows::Pressures(values.collect())))
}
