//! `glide`: bubble, dew and glide at a pressure, and what they make of a coil.

use crate::cli::args::meant;
use crate::cli::args::{BasisArgs, CoilArg, OutputArgs, SiteArgs, TeachingArgs, UnitArgs, ZeroArg};
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::verbs::charts::idle;
use crate::page::{self, Document};
use crate::process::coil::{CoilKind, LiquidFeed};
use crate::process::glide::{GlideQuestion, glide};
use crate::service::facts::Facts;
use crate::units::{Atmosphere, BareUnit, TemperatureUnit, parse_pressure, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope glide R-455A --pressure 64.7psig --liquid 100F\n  \
                  zeotrope glide R-407C --pressure 16barg --coil condenser\n  \
                  zeotrope glide R-454C --pressure 4.1barg --liquid 38C --explain\n  \
                  zeotrope glide R-744 --pressure 30barg --liquid 35C --liquid-pressure 90barg"
)]
pub(crate) struct GlideArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(crate) refrigerant: String,
    /// Pressure of the coil, for example 64.7psig or 4.5barg
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) pressure: String,
    /// Temperature of the liquid before the expansion device, for example 100F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) liquid: Option<String>,
    /// Pressure of that liquid; without it its bubble pressure
    #[arg(long, value_name = "PRESSURE", requires = "liquid")]
    pub(crate) liquid_pressure: Option<String>,
    /// Which coil has that pressure; with --liquid an evaporator, else both are shown
    #[arg(long, value_name = "COIL")]
    pub(crate) coil: Option<CoilArg>,
    /// Reference state of enthalpy; without it iir, or the first one available
    #[arg(long, alias = "zero", value_name = "STATE")]
    pub(crate) reference_state: Option<ZeroArg>,
    #[command(flatten)]
    pub(crate) teaching: TeachingArgs,
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &GlideArgs) -> Result<Document, Failure> {
    idle::check_teaching(&args.teaching, &args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let pressure =
        parse_pressure(&args.pressure, BareUnit::Refused, &site).of_option("--pressure")?;
    let (liquid, temperature_unit) = liquid(args, &site)?;
    let question = GlideQuestion {
        pressure,
        liquid,
        coils: kinds(args.coil, liquid.is_some())?,
        reference: meant::zero(args.reference_state),
        ideal: args.teaching.model.is_some(),
        atmosphere: site,
    };
    let units = meant::units(&args.units, temperature_unit, Some(pressure.unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let refrigerant = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let facts = Facts::of(&refrigerant);
    let found = glide(&refrigerant, &facts, &question).in_units(&units, &site)?;
    let style = args.output.style(units, site);
    let subject = (&refrigerant, &facts);
    let explain = args.teaching.explain;
    Ok(page::glide(
        &found,
        subject,
        &site_warnings,
        explain,
        &style,
    ))
}

/// The liquid before the expansion device as typed, with the unit of its temperature.
fn liquid(
    args: &GlideArgs,
    site: &Atmosphere,
) -> Result<(Option<LiquidFeed>, Option<TemperatureUnit>), Failure> {
    let Some(text) = &args.liquid else {
        return Ok((None, None));
    };
    let temperature = parse_temperature(text).of_option("--liquid")?;
    let pressure = args
        .liquid_pressure
        .as_deref()
        .map(|text| parse_pressure(text, BareUnit::Refused, site))
        .transpose()
        .of_option("--liquid-pressure")?;
    let liquid = LiquidFeed {
        temperature: temperature.value,
        pressure: pressure.map(|typed| typed.value),
    };
    Ok((Some(liquid), Some(temperature.unit)))
}

/// A liquid before an expansion device belongs to an evaporator; without it both are shown.
fn kinds(asked: Option<CoilArg>, has_liquid: bool) -> Result<Vec<CoilKind>, Failure> {
    match (asked, has_liquid) {
        (Some(CoilArg::Condenser), true) => Err(Failure::usage(
            "--liquid is what enters an evaporator; a condenser runs from dew to bubble",
            "leave --liquid out, or ask for --coil evaporator at the evaporator's pressure",
        )),
        (Some(CoilArg::Condenser), false) => Ok(vec![CoilKind::Condenser]),
        (Some(CoilArg::Evaporator), _) | (None, true) => Ok(vec![CoilKind::Evaporator]),
        (None, false) => Ok(vec![CoilKind::Evaporator, CoilKind::Condenser]),
    }
}
