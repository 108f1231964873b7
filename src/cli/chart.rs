//! `chart`: the pressure-temperature chart.

use std::io::Write;

use super::args::ChartArgs;
use super::failure::Failure;
use super::{deliver, print, request};
use crate::chart::picture::Kind;
use crate::chart::plot::Plot;
use crate::chart::{Chart, Choices, Request, Rows, steps};
use crate::output::{Answer, Block, Form, Format, Shape};
use crate::refrigerant::Refrigerant;
use crate::units::{
    Atmosphere, BareUnit, PressureUnit, TemperatureUnit, UnitSet, parse_pressure,
    parse_pressure_difference, parse_temperature, parse_temperature_difference,
};

/// Rows of a chart where none are asked for: what shops carry, in each system of units.
const USUAL_FAHRENHEIT: (f64, f64, f64) = (-40.0, 150.0, 5.0);
const USUAL_CELSIUS: (f64, f64, f64) = (-40.0, 65.0, 5.0);

pub(super) fn run(
    args: &ChartArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let form = print::form(&args.print)?;
    let format = match (&args.output.format, &args.output.output, form) {
        (None, None, Some(_)) => Format::Pdf,
        _ => request::format(&args.output)?,
    };
    if form.is_some() && format != Format::Pdf {
        return Err(Failure::usage(
            "--form, --paper and --landscape are for PDF",
            "add --format pdf or --output chart.pdf",
        ));
    }
    if let Some(path) = &args.output.output {
        deliver::check_target(path, args.output.force)?;
    }
    let found = answer(args, format, form.unwrap_or_default())?;
    deliver::in_format(&found, format, &args.output, out, err)
}

fn answer(args: &ChartArgs, format: Format, form: Form) -> Result<Answer, Failure> {
    let (site, warnings) = request::site(&args.site)?;
    let (rows, units) = rows(args, &site)?;
    let catalogue = request::catalogue(&args.basis.data)?;
    let refrigerants = args
        .refrigerants
        .iter()
        .map(|text| request::refrigerant(&catalogue, text, &args.basis))
        .collect::<Result<Vec<_>, _>>()?;
    let asked = Request {
        refrigerants,
        rows,
        temperature_unit: units.temperature,
        pressure_unit: units.pressure,
        site,
        choices: Choices::default(),
    };
    if format == Format::Svg {
        let plot = Plot::new(Kind::Curves, &asked)?;
        return Ok(Answer {
            blocks: vec![Block::Picture(plot)],
            warnings,
            ..Answer::default()
        });
    }
    let mut answer = Answer::default();
    // A sheet holds a card for each refrigerant.
    let each: Vec<Request> = if form.shape == Shape::Sheet {
        let alone = |one: &Refrigerant| Request {
            refrigerants: vec![one.clone()],
            ..asked.clone()
        };
        asked.refrigerants.iter().map(alone).collect()
    } else {
        vec![asked]
    };
    for asked in each {
        let mut chart = Chart::new(&asked)?;
        for warning in &warnings {
            chart.footers.push(format!("warning: {}.", warning.text));
        }
        let mut one = Answer::from(&chart);
        if format == Format::Pdf {
            one.blocks.insert(0, Block::Paper(form));
        }
        answer.blocks.append(&mut one.blocks);
        answer.sheet = one.sheet;
        answer.json = one.json;
    }
    answer.warnings = warnings;
    Ok(answer)
}

/// What the rows are, and the units that follow from how they were typed.
fn rows(args: &ChartArgs, site: &Atmosphere) -> Result<(Rows, UnitSet), Failure> {
    if !args.pressures.is_empty() {
        let typed = args
            .pressures
            .iter()
            .map(|text| parse_pressure(text, BareUnit::Refused, site))
            .collect::<Result<Vec<_>, _>>()
            .map_err(|error| Failure::from(error).of_option("--pressures"))?;
        let first = typed.first().map(|one| one.unit);
        let units = request::units(&args.units, None, first)?;
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
    match (parse_temperature(from), request::pressure_like(from)) {
        (Err(_), true) => by_pressure(args, from, to, site),
        (typed, _) => {
            let first = typed.map_err(|error| Failure::from(error).of_option("--from"))?;
            let last =
                parse_temperature(to).map_err(|error| Failure::from(error).of_option("--to"))?;
            let units = request::units(&args.units, Some(first.unit), None)?;
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
            let values = steps(
                end(from, first.unit, first.value),
                end(to, last.unit, last.value),
                step,
            )?;
            Ok((Rows::Temperatures(values), units))
        }
    }
}

fn usual_rows(args: &ChartArgs) -> Result<(Rows, UnitSet), Failure> {
    let typed = match &args.step {
        Some(text) => {
            let typed = parse_temperature_difference(text)
                .map_err(|error| Failure::from(error).of_option("--step"))?;
            Some(typed.unit)
        }
        None => Some(TemperatureUnit::Fahrenheit).filter(|_| args.units.units.is_none()),
    };
    let units = request::units(&args.units, typed, None)?;
    let (from, to, _) = match units.temperature {
        TemperatureUnit::Fahrenheit => USUAL_FAHRENHEIT,
        TemperatureUnit::Celsius => USUAL_CELSIUS,
        TemperatureUnit::Kelvin => (235.0, 335.0, 5.0),
    };
    let step = temperature_step(args, units.temperature)?;
    Ok((Rows::Temperatures(steps(from, to, step)?), units))
}

fn temperature_step(args: &ChartArgs, scale: TemperatureUnit) -> Result<f64, Failure> {
    let Some(text) = &args.step else {
        return Ok(5.0);
    };
    let typed = parse_temperature_difference(text)
        .map_err(|error| Failure::from(error).of_option("--step"))?;
    let same =
        (typed.unit == TemperatureUnit::Fahrenheit) == (scale == TemperatureUnit::Fahrenheit);
    let exact = leading_number(text).filter(|_| same);
    Ok(exact.unwrap_or_else(|| scale.read_difference(typed.value)))
}

fn by_pressure(
    args: &ChartArgs,
    from: &str,
    to: &str,
    site: &Atmosphere,
) -> Result<(Rows, UnitSet), Failure> {
    let first = parse_pressure(from, BareUnit::Refused, site)
        .map_err(|error| Failure::from(error).of_option("--from"))?;
    let last = parse_pressure(to, BareUnit::Refused, site)
        .map_err(|error| Failure::from(error).of_option("--to"))?;
    let units = request::units(&args.units, None, Some(first.unit))?;
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
    let step = parse_pressure_difference(step_text)
        .map_err(|error| Failure::from(error).of_option("--step"))?
        / unit.pascal();
    let values = steps(
        unit.read(first.value, site),
        unit.read(last.value, site),
        step,
    )?;
    Ok((Rows::Pressures(values), units))
}

/// The number at the head of a value that has been read already.
fn leading_number(text: &str) -> Option<f64> {
    let clean = text.trim().replace('\u{2212}', "-");
    let end = clean
        .find(|character: char| !matches!(character, '0'..='9' | '.' | '-' | '+'))
        .unwrap_or(clean.len());
    // An exponent, rare in a row of a chart, goes the way through kelvin.
    match clean[end..].chars().next() {
        Some('e' | 'E') => None,
        _ => clean[..end].parse().ok(),
    }
}
