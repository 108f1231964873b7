//! `saturation`: bubble and dew point at a temperature or a pressure.

use std::io::Write;

use crate::args::choices::choice;
use crate::args::meant::{self, Texts};
use crate::args::{AskedArgs, RowArgs, TeachingArgs};
use crate::errors::{Failure, OrFailure};
use crate::io::rows::{self, RowsAsked};
use crate::verbs::charts::idle;
use zeotrope::Warning;
use zeotrope::page::{self, Document, SaturationParts, Style, all_warnings};
use zeotrope::refrigerant::ReferenceState;
use zeotrope::service::facts::Facts;
use zeotrope::service::saturation::{SaturationAt, SaturationQuestion, saturation};
use zeotrope::service::sheet::{Record, Reply, SaturationRows, saturation_keys};
use zeotrope::units::{Atmosphere, BareUnit, ColumnQuantity, parse_pressure, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("at").required(true).args(["temperature", "pressure", "csv"]),
    after_help = "Examples:\n  zeotrope saturation R-134a --temperature 5C\n  \
                  zeotrope saturation R-290 --pressure 70psig\n  \
                  zeotrope saturation R-717 --temperature -28F --format json\n  \
                  zeotrope saturation R-455A --temperature 40F --tolerance\n  \
                  zeotrope saturation R-407C --temperature 25C --model ideal --explain"
)]
pub(crate) struct SaturationArgs {
    /// Designation, chemical name or composition; one or several
    #[arg(value_name = "REFRIGERANT", required_unless_present = "csv")]
    pub(crate) refrigerants: Vec<String>,
    /// Temperature, for example 5C or 41F
    #[arg(short, long, value_name = "TEMPERATURE")]
    pub(crate) temperature: Option<String>,
    /// Pressure, for example 70psig, 5.8barg or 681kPaa
    #[arg(short, long, value_name = "PRESSURE")]
    pub(crate) pressure: Option<String>,
    #[command(flatten)]
    pub(crate) rows: RowArgs,
    /// Reference state of enthalpy and entropy; without it iir, or the first one available
    #[arg(value_parser = choice::<ReferenceState>(), long, alias = "zero", value_name = "STATE")]
    pub(crate) reference_state: Option<ReferenceState>,
    /// Solve the equation for every question, instead of reading curves built from it where there
    /// are many; a single question always is solved
    #[arg(long)]
    pub(crate) exact: bool,
    /// Band of bubble and dew within the published tolerances of the composition
    #[arg(long)]
    pub(crate) tolerance: bool,
    #[command(flatten)]
    pub(crate) teaching: TeachingArgs,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &SaturationArgs) -> Result<Document, Failure> {
    idle::check_teaching(&args.teaching, &args.asked.output)?;
    rows::check_alone(&args.rows.columns.sheet, "--csv")?;
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let (at, style) = given(args, site)?;
    let question = SaturationQuestion {
        at,
        reference: args.reference_state.unwrap_or(ReferenceState::Usual),
        tolerance: args.tolerance,
        ideal: args.teaching.model.is_some(),
    };
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let mut pages = Vec::new();
    for text in &args.refrigerants {
        // what builds a curve takes longer than one answer
        let refrigerant = meant::refrigerant(&catalogue, text, &args.asked.basis)?.exact();
        let facts = Facts::of_refrigerant(&refrigerant);
        let found = saturation(&refrigerant, &facts, &question).in_style(&style)?;
        let with = SaturationParts {
            subject: (&refrigerant, &facts),
            site: &site_warnings,
            explain: args.teaching.explain,
            is_one_of_several: args.refrigerants.len() > 1,
        };
        pages.push(page::saturation(&found, with, &style));
    }
    Ok(Document::joined(pages))
}

/// Where it was asked, and the style of the answer.
fn given(args: &SaturationArgs, site: Atmosphere) -> Result<(SaturationAt, Style), Failure> {
    if let Some(typed) = args.temperature.read(parse_temperature)? {
        let style = args.asked.style(Some(typed.unit), None, site)?;
        return Ok((SaturationAt::Temperature(typed), style));
    }
    let pressure = |text: &str| parse_pressure(text, BareUnit::Absolute, &site);
    let typed = args.pressure.read(pressure)?.ok_or_else(|| {
        Failure::usage(
            "neither a temperature nor a pressure was given",
            "add --temperature 5C or --pressure 70psig",
        )
    })?;
    let style = args.asked.style(None, Some(typed.unit), site)?;
    Ok((SaturationAt::Pressure(typed), style))
}

/// Answers every row of a file.
pub(crate) fn rows(
    args: &SaturationArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    rows::check_output(&args.asked.output)?;
    if args.tolerance || args.teaching.explain || args.teaching.model.is_some() {
        return Err(Failure::usage(
            "rows of a file are answered without --tolerance, --model and --explain",
            "ask for one temperature or pressure to see them",
        ));
    }
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let wanted = [ColumnQuantity::Temperature, ColumnQuantity::Pressure];
    let RowsAsked {
        file,
        places,
        style,
    } = rows::asked(&args.rows, &args.asked, (&wanted, 1), site)?;
    let keys = saturation_keys();
    let keys: Vec<&str> = keys.iter().map(String::as_str).collect();
    let answers = file.answers(&args.rows.columns.answers, &keys, site)?;
    let reference = args.reference_state.unwrap_or(ReferenceState::Usual);
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let of = |text: &str| -> Result<SaturationRows, Failure> {
        let mut refrigerant = meant::refrigerant(&catalogue, text, &args.asked.basis)?;
        if args.exact {
            refrigerant = refrigerant.exact();
        }
        let standing = all_warnings(&refrigerant, &[], &site_warnings);
        let places = answers.places();
        Ok(SaturationRows::new(
            refrigerant,
            reference,
            standing,
            places,
        ))
    };
    let subjects = rows::subjects(&file.heads, &args.refrigerants, of)?;
    let dialect = file.dialect;
    let one = |row: &Record, reply: &mut Reply| -> Option<()> {
        let subject = subjects
            .of_row(row)
            .map_err(|error| reply.none(error))
            .ok()?;
        let found = dialect
            .read(&places[0], row, &site)
            .and_then(|at| subject.answer(at, &mut reply.values, &mut reply.warnings));
        match found {
            Ok(None) => (),
            Ok(Some((branch, error))) => {
                let missing = page::told(&[Warning::NoBranch(branch, error)], &style);
                reply.error = missing.into_iter().map(|one| one.text).collect();
            }
            Err(error) => reply.none(rows::error(error, &style)),
        }
        None
    };
    let output = &args.asked.output;
    rows::answer(file, &answers, output, (out, err), &style, one, |_| ())
}
