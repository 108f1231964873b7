//! `state`: all properties of one state, from two of them.

use std::io::Write;
use std::path::Path;

use crate::Phase;
use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, OutputArgs, PhaseArg, RowArgs, SiteArgs, UnitArgs, ZeroArg};
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::io::rows::{self, CsvRows};
use crate::page::{self, Document, STATE_COLUMNS, StateColumn, parts};
use crate::service::facts::Facts;
use crate::service::sheet::{Record, Reply};
use crate::service::state::{Properties, StateAnswer, states};
use crate::units::{
    Atmosphere, BareUnit, ColumnQuantity, DensityUnit, EnthalpyUnit, EntropyUnit, TemperatureUnit,
    UnitSet, parse_density, parse_enthalpy, parse_entropy, parse_pressure, parse_quality,
    parse_temperature,
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
    #[arg(long, value_name = "PHASE")]
    pub(crate) phase: Option<PhaseArg>,
    /// Reference state of enthalpy and entropy; without it iir, or the first one available
    #[arg(long, alias = "zero", value_name = "STATE")]
    pub(crate) reference_state: Option<ZeroArg>,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &StateArgs) -> Result<Document, Failure> {
    rows::check_alone(&args.rows.columns.sheet, "--csv")?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let (properties, units) = given(args, &site)?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    // what builds a curve takes longer than one answer
    let named = args.refrigerant.as_deref().unwrap_or_default();
    let refrigerant = meant::refrigerant(&catalogue, named, &args.basis)?.exact();
    let given = properties.given(refrigerant.molar_mass()).ok_or_else(two)?;
    let reference = meant::zero(args.reference_state);
    let found = states(&refrigerant, given, reference, args.phase.map(Phase::from))
        .in_units(&units, &site)?;
    let facts = Facts::of(&refrigerant);
    let answers = found.into_iter().map(|one| StateAnswer::new(one, &facts));
    let answers: Vec<StateAnswer> = answers.collect();
    let style = args.output.style(units, site);
    let subject = (&refrigerant, &facts);
    Ok(page::state(&answers, subject, &site_warnings, &style))
}

fn two() -> Failure {
    Failure::usage(
        "a state is given by two properties",
        "give two of --temperature --pressure --density --enthalpy --entropy --quality",
    )
}

/// The properties that were typed, and the units of the answer.
fn given(args: &StateArgs, site: &Atmosphere) -> Result<(Properties, UnitSet), Failure> {
    let temperature = args.temperature.as_deref().map(parse_temperature);
    let temperature = temperature.transpose()?;
    let pressure = |text: &str| parse_pressure(text, BareUnit::Absolute, site);
    let pressure = args.pressure.as_deref().map(pressure).transpose()?;
    let density = args.density.as_deref().map(parse_density).transpose()?;
    let enthalpy = args.enthalpy.as_deref().map(parse_enthalpy).transpose()?;
    let entropy = args.entropy.as_deref().map(parse_entropy).transpose()?;
    let properties = Properties {
        temperature: temperature.map(|typed| typed.value),
        pressure: pressure.map(|typed| typed.value),
        density: density.map(|typed| typed.value),
        enthalpy: enthalpy.map(|typed| typed.value),
        entropy: entropy.map(|typed| typed.value),
        quality: args.quality.as_deref().map(parse_quality).transpose()?,
    };
    let count = properties.count();
    if count != 2 {
        return Err(Failure::usage(
            format!("a state is given by two properties, not {count}"),
            "give two of --temperature --pressure --density --enthalpy --entropy --quality",
        ));
    }
    // Where neither is given, an enthalpy or density in inch-pound units asks for its kin.
    let inch_pound = density.is_some_and(|typed| typed.unit == DensityUnit::PoundPerCubicFoot)
        || enthalpy.is_some_and(|typed| typed.unit == EnthalpyUnit::BtuPerPound)
        || entropy.is_some_and(|typed| typed.unit == EntropyUnit::BtuPerPoundFahrenheit);
    let neither = temperature.is_none() && pressure.is_none();
    let assumed = (neither && inch_pound).then_some(TemperatureUnit::Fahrenheit);
    let unit = temperature.map(|typed| typed.unit).or(assumed);
    let units = meant::units(&args.units, unit, pressure.map(|typed| typed.unit))?;
    Ok((properties, units))
}

impl From<PhaseArg> for Phase {
    fn from(asked: PhaseArg) -> Self {
        match asked {
            PhaseArg::Liquid => Self::Liquid,
            PhaseArg::Vapor => Self::Vapor,
            PhaseArg::Supercritical => Self::Supercritical,
            PhaseArg::TwoPhase => Self::TwoPhase,
        }
    }
}

/// Answers every row of a file.
pub(crate) fn rows(
    args: &StateArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    rows::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let phase = args.phase.map(Phase::from);
    let reference = meant::zero(args.reference_state);
    let catalogue = meant::catalogue(&args.basis.data)?;
    let columns = &args.rows.columns;
    let path = args.rows.csv.as_deref().unwrap_or(Path::new("-"));
    let file = CsvRows::open(path, &columns.sheet, BareUnit::Absolute)?;
    let places = file
        .heads
        .choose(&ColumnQuantity::ALL, 2, &rows::chosen(columns))?;
    if let [first, second] = places.as_slice()
        && first.column.quantity() == second.column.quantity()
    {
        return Err(Failure::usage(
            format!("'{}' and '{}' are one property", first.head, second.head),
            "a state is given by two different properties; --column names them",
        ));
    }
    let units = meant::units(
        &args.units,
        places
            .iter()
            .find_map(|place| place.column.temperature_unit()),
        places.iter().find_map(|place| place.column.pressure_unit()),
    )?;
    // A property that is given under the very name of the answer is not written twice.
    let figures: Vec<&StateColumn> = STATE_COLUMNS
        .iter()
        .filter(|(head, _)| places.iter().all(|place| place.head != *head))
        .collect();
    let keys: Vec<&str> = figures.iter().map(|(head, _)| *head).collect();
    let answers = file.answers(&keys, columns, site)?;
    let named: Vec<String> = args.refrigerant.iter().cloned().collect();
    let of = |text: &str| meant::refrigerant(&catalogue, text, &args.basis);
    let subjects = rows::subjects(&file.heads, &named, of)?;
    let dialect = file.dialect;
    let answer = |row: &Record, reply: &mut Reply| -> Result<(), String> {
        let in_units = |error| Failure::in_units(error, &units, &site).message().to_owned();
        let refrigerant = subjects.of_row(row)?;
        let mut given = Properties::default();
        for place in &places {
            given.set(dialect.read(place, row, &site).map_err(in_units)?);
        }
        let given = given.given(refrigerant.molar_mass());
        let given = given.ok_or_else(|| two().message().to_owned())?;
        let states = states(&refrigerant, given, reference, phase).map_err(in_units)?;
        let [state] = states.as_slice() else {
            let phases: Vec<_> = states.iter().map(|state| state.phase.name()).collect();
            return Err(format!(
                "more than one state has these two properties: {}; --phase chooses",
                phases.join(", ")
            ));
        };
        reply
            .values
            .extend(figures.iter().map(|(_, figure)| figure(state)));
        reply.warnings = parts::all_warnings(&refrigerant, &state.warnings, &site_warnings);
        Ok(())
    };
    let one = |row: &Record, reply: &mut Reply| -> Option<()> {
        if let Err(error) = answer(row, reply) {
            reply.none(error);
        }
        None
    };
    file.answer(&answers, &args.output, (out, err), one, |_| ())
}
