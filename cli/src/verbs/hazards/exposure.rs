//! `exposure`: flammability, concentration and warming figures in other units; no verdict.

use crate::args::meant::value_of;
use crate::args::{BasisArgs, OutputArgs};
use crate::errors::Failure;
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::service::hazard::exposure::{ExposureQuestion, LimitKind, exposure};
use zeotrope::units::{Atmosphere, UnitSet, parse_bare, parse_concentration, parse_mass};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope exposure R-32\n  zeotrope exposure R-410A --mass 12lb\n  \
                  zeotrope exposure R-454B --rcl 19000ppm --source \"data sheet of the manufacturer, 2024\""
)]
pub(crate) struct ExposureArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Lower flammability limit that you have: 14.4%, 0.307kg/m3, 19lb/1000ft3
    #[arg(long, value_name = "CONCENTRATION", requires = "source")]
    lfl: Option<String>,
    /// Refrigerant concentration limit that you have: 36000ppm, 77g/m3, 4.8lb/1000ft3 or lb/Mcf
    #[arg(long, value_name = "CONCENTRATION", requires = "source")]
    rcl: Option<String>,
    /// Global warming potential that you have, a bare number
    #[arg(long, value_name = "NUMBER", requires = "source")]
    gwp: Option<String>,
    /// Where your figures come from, with the edition
    #[arg(long, value_name = "TEXT")]
    source: Option<String>,
    /// Mass of refrigerant, for its carbon dioxide equivalent, for example 10kg
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &ExposureArgs) -> Result<Document, Failure> {
    let refrigerant = args.basis.refrigerant(&args.refrigerant)?;
    let source = args.source.as_deref().unwrap_or_default();
    if args.source.is_some() && source.trim().is_empty() {
        return Err(Failure::usage(
            "--source names nothing",
            "name the paper, standard or data sheet and its edition",
        ));
    }
    let lfl = value_of!(args.lfl, parse_concentration)?;
    let rcl = value_of!(args.rcl, parse_concentration)?;
    let limits = [(LimitKind::Lfl, lfl), (LimitKind::Rcl, rcl)];
    let known = limits
        .into_iter()
        .filter_map(|(kind, value)| value.map(|value| (kind, value)));
    let what = "give the potential relative to carbon dioxide, a bare number";
    let given = ExposureQuestion {
        limits: known.collect(),
        gwp: value_of!(args.gwp, |text| parse_bare("GWP", text, what))?,
        source: source.to_owned(),
        mass: value_of!(args.mass, parse_mass)?,
    };
    let Some(found) = exposure(&refrigerant, &given) else {
        return Err(Failure::no_answer(
            format!(
                "no flammability limit and no GWP of {} is on record here",
                refrigerant.designation()
            ),
            "give your own: --lfl, --rcl or --gwp with --source",
        ));
    };
    let warnings = all_warnings(&refrigerant, &[], &[]);
    let style = args.output.style(UnitSet::SI, Atmosphere::SEA_LEVEL);
    Ok(page::exposure(&found, &refrigerant, warnings, &style))
}
