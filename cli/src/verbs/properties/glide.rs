//! `glide`: bubble, dew and glide at a pressure, and what they make of a coil.

use crate::args::choices::choice;
use crate::args::meant::{self, value_of};
use crate::args::{AskedArgs, TeachingArgs};
use crate::errors::{Failure, OrFailure};
use crate::verbs::charts::idle;
use zeotrope::page::{self, Document};
use zeotrope::process::coil::{CoilKind, LiquidFeed};
use zeotrope::process::glide::{GlideQuestion, glide};
use zeotrope::refrigerant::ReferenceState;
use zeotrope::service::facts::Facts;
use zeotrope::units::{BareUnit, parse_pressure, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope glide R-455A --pressure 64.7psig --liquid 100F\n  \
                  zeotrope glide R-407C --pressure 16barg --coil condenser\n  \
                  zeotrope glide R-454C --pressure 4.1barg --liquid 38C --explain\n  \
                  zeotrope glide R-744 --pressure 30barg --liquid 35C --liquid-pressure 90barg")]
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
    #[arg(value_parser = choice::<CoilKind>(), long, value_name = "COIL")]
    pub(crate) coil: Option<CoilKind>,
    /// Reference state of enthalpy; without it iir, or the first one available
    #[arg(value_parser = choice::<ReferenceState>(), long, alias = "zero", value_name = "STATE")]
    pub(crate) reference_state: Option<ReferenceState>,
    #[command(flatten)]
    pub(crate) teaching: TeachingArgs,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &GlideArgs) -> Result<Document, Failure> {
    idle::check_teaching(&args.teaching, &args.asked.output)?;
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let pressure = |text: &str| parse_pressure(text, BareUnit::Refused, &site);
    let of_liquid = value_of!(args.liquid_pressure, pressure)?;
    let pressure = value_of!(args.pressure, pressure)?;
    let liquid = value_of!(args.liquid, parse_temperature)?;
    let question = GlideQuestion {
        pressure,
        liquid: liquid.map(|typed| LiquidFeed {
            temperature: typed.value,
            pressure: of_liquid.map(|typed| typed.value),
        }),
        coils: kinds(args.coil, liquid.is_some())?,
        reference: args.reference_state.unwrap_or(ReferenceState::Usual),
        ideal: args.teaching.model.is_some(),
        atmosphere: site,
    };
    let unit = liquid.map(|typed| typed.unit);
    let style = args.asked.style(unit, Some(pressure.unit), site)?;
    let refrigerant = args.asked.basis.refrigerant(&args.refrigerant)?;
    let facts = Facts::of_refrigerant(&refrigerant);
    let found = glide(&refrigerant, &facts, &question).in_style(&style)?;
    let (subject, explain) = ((&refrigerant, &facts), args.teaching.explain);
    Ok(page::glide(
        &found,
        subject,
        &site_warnings,
        explain,
        &style,
    ))
}

/// A liquid before an expansion device belongs to an evaporator; without it both are shown.
fn kinds(asked: Option<CoilKind>, has_liquid: bool) -> Result<Vec<CoilKind>, Failure> {
    match (asked, has_liquid) {
        (Some(CoilKind::Condenser), true) => Err(Failure::usage(
            "--liquid is what enters an evaporator; a condenser runs from dew to bubble",
            "leave --liquid out, or ask for --coil evaporator at the evaporator's pressure",
        )),
        (Some(kind), _) => Ok(vec![kind]),
        (None, true) => Ok(vec![CoilKind::Evaporator]),
        (None, false) => Ok(vec![CoilKind::Evaporator, CoilKind::Condenser]),
    }
}
