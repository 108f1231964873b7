//! `state`: all properties of one state, from two of them.

use std::io::Write;

use crate::args::choices::choice;
use crate::args::meant::{self, Texts};
use crate::args::{AskedArgs, RowArgs};
use crate::errors::{Failure, OrFailure};
use crate::io::rows::{self, RowsAsked};
use zeotrope::Phase;
use zeotrope::page::{self, Document, STATE_COLUMNS, StateColumn, Style, all_warnings};
use zeotrope::refrigerant::ReferenceState;
use zeotrope::service::facts::Facts;
use zeotrope::service::sheet::{Record, Reply, StateRows};
use zeotrope::service::state::{Properties, StateAnswer, TypedProperties, states};
use zeotrope::units::{
    Atmosphere, BareUnit, ColumnQuantity, parse_density, parse_enthalpy, parse_entropy,
    parse_pressure, parse_quality, parse_temperature,
};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("given")
        .multiple(true)
        .args(["temperature", "pressure", "density", "enthalpy", "entropy", "quality"])
        .conflicts_with("csv"),
    after_help = "Examples:\n  zeotrope state R-134a --temperature 25C --pressure 300kPa\n  \
                  zeotrope state R-290 --pressure 70psig --quality 0.25\n  \
                  zeotrope state R-744 --temperature 40C --density 600kg/m3 --format json"
)]
pub(crate) struct StateArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT", required_unless_present = "csv")]
    pub(crate) refrigerant: Option<String>,
    /// Temperature, for example 25C
    #[arg(short, long, value_name = "TEMPERATURE")]
    pub(crate) temperature: Option<String>,
    /// Pressure, for example 300kPa (absolute) or 70psig
    #[arg(short, long, value_name = "PRESSURE")]
    pub(crate) pressure: Option<String>,
    /// Density, for example 1200kg/m3 or 12.5mol/L
    #[arg(long, value_name = "DENSITY")]
    pub(crate) density: Option<String>,
    /// Enthalpy, for example 250kJ/kg or 110Btu/lb
    #[arg(long, value_name = "ENTHALPY")]
    pub(crate) enthalpy: Option<String>,
    /// Entropy, for example 1.2kJ/kg/K
    #[arg(long, value_name = "ENTROPY")]
    pub(crate) entropy: Option<String>,
    /// Vapor's share by mass, 0 to 1
    #[arg(long, value_name = "QUALITY")]
    pub(crate) quality: Option<String>,
    #[command(flatten)]
    pub(crate) rows: RowArgs,
    /// Which state, where two answer
    #[arg(value_parser = choice::<Phase>(), long, value_name = "PHASE")]
    pub(crate) phase: Option<Phase>,
    /// Reference state of enthalpy and entropy; without it iir, or the first one available
    #[arg(value_parser = choice::<ReferenceState>(), long, alias = "zero", value_name = "STATE")]
    pub(crate) reference_state: Option<ReferenceState>,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &StateArgs) -> Result<Document, Failure> {
    rows::check_alone(&args.rows.columns.sheet, "--csv")?;
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let (properties, style) = given(args, site)?;
    // what builds a curve takes longer than one answer
    let named = args.refrigerant.as_deref().unwrap_or_default();
    let refrigerant = args.asked.basis.refrigerant(named)?.exact();
    let given = properties
        .given(refrigerant.molar_mass())
        .ok_or_else(|| two(""))?;
    let reference = args.reference_state.unwrap_or(ReferenceState::Usual);
    let found = states(&refrigerant, given, reference, args.phase).in_style(&style)?;
    let facts = Facts::of_refrigerant(&refrigerant);
    let answers = found.into_iter().map(|one| StateAnswer::new(one, &facts));
    let answers: Vec<StateAnswer> = answers.collect();
    let subject = (&refrigerant, &facts);
    Ok(page::state(&answers, subject, &site_warnings, &style))
}

fn two(but: &str) -> Failure {
    Failure::usage(
        format!("a state is given by two properties{but}"),
        "give two of --temperature --pressure --density --enthalpy --entropy --quality",
    )
}

/// The properties that were typed, and the style of the answer.
fn given(args: &StateArgs, site: Atmosphere) -> Result<(Properties, Style), Failure> {
    let pressure = |text: &str| parse_pressure(text, BareUnit::Absolute, &site);
    let typed = TypedProperties {
        temperature: args.temperature.read(parse_temperature)?,
        pressure: args.pressure.read(pressure)?,
        density: args.density.read(parse_density)?,
        enthalpy: args.enthalpy.read(parse_enthalpy)?,
        entropy: args.entropy.read(parse_entropy)?,
        quality: args.quality.read(parse_quality)?,
    };
    let properties = typed.properties();
    let count = properties.count();
    if count != 2 {
        return Err(two(&format!(", not {count}")));
    }
    let (scale, unit) = typed.units();
    Ok((properties, args.asked.style(scale, unit, site)?))
}

/// Answers every row of a file.
pub(crate) fn rows(
    args: &StateArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    rows::check_output(&args.asked.output)?;
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let RowsAsked {
        file,
        places,
        style,
    } = rows::asked(&args.rows, &args.asked, (ColumnQuantity::ALL, 2), site)?;
    StateRows::check(&places)?;
    // A property that is given under the very name of the answer is not written twice.
    let is_new = |(head, _): &&StateColumn| places.iter().all(|place| place.head != *head);
    let figures: Vec<&StateColumn> = STATE_COLUMNS.iter().filter(is_new).collect();
    let keys: Vec<&str> = figures.iter().map(|(head, _)| *head).collect();
    let answers = file.answers(&args.rows.columns.answers, &keys, site)?;
    let named: Vec<String> = args.refrigerant.iter().cloned().collect();
    let of = |text: &str| meant::refrigerant(&catalogue, text, &args.asked.basis);
    let subjects = rows::subjects(&file.heads, &named, of)?;
    let asked = StateRows {
        places,
        dialect: file.dialect,
        site,
        reference: args.reference_state.unwrap_or(ReferenceState::Usual),
        phase: args.phase,
    };
    let answer = |row: &Record, reply: &mut Reply| -> Result<(), String> {
        let refrigerant = subjects.of_row(row)?;
        let found = asked.answer(&refrigerant, row);
        let state = found.map_err(|error| rows::error(error, &style))?;
        let values = figures.iter().map(|(_, figure)| figure(&state));
        reply.values.extend(values);
        reply.warnings = all_warnings(&refrigerant, &state.warnings, &site_warnings);
        Ok(())
    };
    let one = |row: &Record, reply: &mut Reply| -> Option<()> {
        answer(row, reply).unwrap_or_else(|error| reply.none(error));
        None
    };
    let output = &args.asked.output;
    rows::answer(file, &answers, output, (out, err), &style, one, |_| ())
}
