//! What `leak` and `draw` share: from arguments to a question, from the question to a page.

use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs, meant};
use crate::cli::errors::Failure;
use crate::page::{self, Document, parts};
use crate::process::shift::{Leaving, Question, Refill, Until, loss};
use crate::service::hazard::hazards::Work;
use crate::units::{BareUnit, parse_mass, parse_percent, parse_pressure, parse_temperature};

/// The phase that leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum LossPhase {
    /// Vapor
    Vapor,
    /// Liquid, and vapor once no liquid is left
    Liquid,
    /// Both, in the composition of the whole, as a running system circulates it
    Circulating,
}

/// Rounds where a top-up is asked for and no number.
const USUAL_ROUNDS: usize = 5;
const MOST_ROUNDS: usize = 100;

/// What both verbs take.
#[derive(Debug, clap::Args)]
pub(crate) struct LossArgs {
    /// Designation or composition of a blend
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: String,
    /// Temperature of the vessel, which stays, for example 75F
    #[arg(long, value_name = "TEMPERATURE")]
    temperature: String,
    /// Phase that leaves
    #[arg(long, value_name = "PHASE")]
    phase: Option<LossPhase>,
    /// Shares of the mass lost, for example 10%,30%; without it every tenth
    #[arg(long, value_name = "SHARES", value_delimiter = ',')]
    lost: Vec<String>,
    /// Liquid's share of a rigid vessel's volume at the start, for example 80%; without it no
    /// vapor space
    #[arg(long, value_name = "SHARE")]
    filled: Option<String>,
    /// Top-up with this refrigerant after the largest loss, back to the mass at the start
    #[arg(long, value_name = "REFRIGERANT")]
    refill: Option<String>,
    /// How many times loss and top-up follow each other; 5 if not said
    #[arg(long, value_name = "NUMBER", requires = "refill")]
    rounds: Option<String>,
    /// Mass at the start, for example 30lb
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// Where glide and superheat are looked at; without it the listed dew pressure at 40F
    #[arg(long, value_name = "PRESSURE")]
    suction_pressure: Option<String>,
    /// Where subcooling is looked at; without it the listed bubble pressure at 110F
    #[arg(long, value_name = "PRESSURE")]
    liquid_pressure: Option<String>,
    /// Also from the corners of the published tolerances
    #[arg(long)]
    tolerance: bool,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// Answers a leak, which ends at the site's pressure, or a draw by a machine.
pub(super) fn answer(args: &LossArgs, is_draw: bool) -> Result<Document, Failure> {
    meant::check_output(&args.output)?;
    let (site, site_warnings) = meant::site(&args.site)?;
    let temperature = parse_temperature(&args.temperature)
        .map_err(|error| Failure::from(error).of_option("--temperature"))?;
    let pressure = |option: &str, text: &Option<String>| {
        meant::option(option, text.as_deref(), |text| {
            parse_pressure(text, BareUnit::Refused, &site)
        })
    };
    let suction = pressure("--suction-pressure", &args.suction_pressure)?;
    let liquid = pressure("--liquid-pressure", &args.liquid_pressure)?;
    let unit = suction.as_ref().or(liquid.as_ref()).map(|typed| typed.unit);
    let units = meant::units(&args.units, Some(temperature.unit), unit)?;
    let share = |option: &str, text: &str| {
        parse_percent("share", text).map_err(|error| Failure::from(error).of_option(option))
    };
    let lost = args.lost.iter().map(|text| share("--lost", text));
    let catalogue = meant::catalogue(&args.basis.data)?;
    let catalogue = meant::with_pairs(&catalogue, args.basis.pairs);
    let listed = meant::refrigerant(&catalogue, &args.refrigerant, &args.basis)?;
    let refill = args
        .refill
        .as_deref()
        .map(|text| -> Result<Refill, Failure> {
            let refrigerant = meant::refrigerant(&catalogue, text, &args.basis)?;
            let rounds = rounds(args.rounds.as_deref())?;
            Ok(Refill::new(&catalogue, &listed, refrigerant, rounds)?)
        });
    let mut question = Question::vapor(temperature.value);
    question.leaving = match (args.phase, is_draw) {
        (Some(LossPhase::Vapor), _) | (None, false) => Leaving::Vapor,
        (Some(LossPhase::Liquid), _) | (None, true) => Leaving::Liquid,
        (Some(LossPhase::Circulating), _) => Leaving::Circulating,
    };
    question.until = if is_draw {
        Until::Drawn
    } else {
        Until::SitePressure(site.pressure())
    };
    question.filled = args
        .filled
        .as_deref()
        .map(|text| share("--filled", text))
        .transpose()?;
    question.lost = lost.collect::<Result<_, _>>()?;
    question.mass = meant::option("--mass", args.mass.as_deref(), parse_mass)?;
    question.suction = suction.map(|typed| typed.value);
    question.liquid = liquid.map(|typed| typed.value);
    question.refill = refill.transpose()?;
    question.tolerance = args.tolerance;
    let found =
        loss(&listed, &question).map_err(|error| Failure::in_units(error, &units, &site))?;
    let mut warnings = parts::all_warnings(&listed, &[], &site_warnings);
    if let Some(refill) = &question.refill {
        for warning in parts::all_warnings(&refill.refrigerant, &[], &[]) {
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
        }
    }
    let style = args.output.style(units, site);
    let work = if is_draw { Work::Draw } else { Work::Loss };
    Ok(page::shift(
        &found, &listed, &question, work, warnings, &style,
    ))
}

fn rounds(text: Option<&str>) -> Result<usize, Failure> {
    let Some(text) = text else {
        return Ok(USUAL_ROUNDS);
    };
    let number = text.trim().parse().ok();
    number
        .filter(|number| (1..=MOST_ROUNDS).contains(number))
        .ok_or_else(|| {
            Failure::usage(
                format!("--rounds: '{text}' is not a whole number from 1 to {MOST_ROUNDS}"),
                "give a number of rounds, for example 5",
            )
        })
}
