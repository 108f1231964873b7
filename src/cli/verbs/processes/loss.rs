//! What `leak` and `draw` share: from arguments to a question, from the question to a page.

use crate::chart::{Chart, Request};
use crate::cli::args::{BasisArgs, OutputArgs, PrintArgs, SiteArgs, UnitArgs, meant};
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::verbs::charts::print;
use crate::output::Format;
use crate::page::{self, Document, Form, ShiftPicture, Style, parts};
use crate::process::shift::{Leaving, LossQuestion, Refill, Until, loss};
use crate::service::hazard::hazards::Work;
use crate::units::{BareUnit, parse_mass, parse_percent, parse_pressure, parse_temperature};
use crate::{Refrigerant, Warning};

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

/// What is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum LossPicture {
    /// Composition of what is left and of what leaves
    Composition,
    /// Bubble and dew pressure of what is left
    Lines,
    /// The path of the loss among compositions
    Path,
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
    /// Print a card of what is left after the largest loss, or after the top-ups: wall, folded,
    /// wallet, strip or sheet, as PDF
    #[arg(long, value_name = "FORM", help_heading = "Print", conflicts_with_all = ["picture", "blank"])]
    form: Option<String>,
    /// a4 or letter
    #[arg(long, value_name = "PAPER", help_heading = "Print")]
    paper: Option<String>,
    /// Date of the print, 2026-05-31; without it SOURCE_DATE_EPOCH or today
    #[arg(long, value_name = "DATE", help_heading = "Print")]
    date: Option<String>,
    /// Draw it, as SVG, HTML or PDF: composition or bubble and dew against the share lost, or its
    /// path in the lens of two or the triangle of three components
    #[arg(long, value_name = "PICTURE", help_heading = "Print")]
    picture: Option<LossPicture>,
    /// An exercise with blanks, its key on a page of its own
    #[arg(long, help_heading = "Print", conflicts_with = "picture")]
    blank: bool,
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
    let (site, site_warnings) = meant::site(&args.site)?;
    let temperature = parse_temperature(&args.temperature).of_option("--temperature")?;
    let pressure = |option: &str, text: &Option<String>| {
        meant::option(option, text.as_deref(), |text| {
            parse_pressure(text, BareUnit::Refused, &site)
        })
    };
    let suction = pressure("--suction-pressure", &args.suction_pressure)?;
    let liquid = pressure("--liquid-pressure", &args.liquid_pressure)?;
    let unit = suction.as_ref().or(liquid.as_ref()).map(|typed| typed.unit);
    let units = meant::units(&args.units, Some(temperature.unit), unit)?;
    let share = |option: &str, text: &str| parse_percent("share", text).of_option(option);
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
    let mut question = LossQuestion::vapor(temperature.value);
    question.leaving = leaving(args.phase, is_draw);
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
    let print = PrintArgs {
        form: args.form.clone(),
        paper: args.paper.clone(),
        date: args.date.clone(),
        ..PrintArgs::default()
    };
    let form = print::form(&print)?;
    let format = format(args, form)?;
    let marked = args.picture.map(|_| {
        let (more, marked) = question.for_picture();
        question = more;
        marked
    });
    let found = loss(&listed, &question).in_units(&units, &site)?;
    let warnings = of_both(&listed, question.refill.as_ref(), &site_warnings);
    let style = Style {
        day: print::day(&print, format)?,
        ..args.output.style(units, site)
    };
    let work = if is_draw { Work::Draw } else { Work::Loss };
    if let (Some(picture), Some(marked)) = (args.picture, marked) {
        let kind = match picture {
            LossPicture::Composition => ShiftPicture::Composition,
            LossPicture::Lines => ShiftPicture::Lines,
            LossPicture::Path => ShiftPicture::Path,
        };
        let (answer, print) = ((&found, kind), (work, form));
        let drawn = page::shift_picture(answer, &listed, &marked, print, &warnings, &style);
        return Ok(drawn?);
    }
    if args.form.is_some() {
        let (left, was) = found.left(&question, &catalogue)?;
        let chart = Chart::new(&Request::of_card(left, &style.units, style.site)?)?;
        let print = print::meant(&print, false, format, form, 1)?;
        return Ok(page::shift_card(
            &found,
            (&chart, was),
            &print,
            &warnings,
            &style,
        ));
    }
    let whole = page::shift(&found, &listed, &question, work, warnings, &style);
    Ok(match args.blank {
        true => page::shift_exercise(&found, whole, work, form, &style),
        false => whole,
    })
}

/// Which phase is lost: vapor by a leak and liquid by a draw, where nothing is said.
const fn leaving(phase: Option<LossPhase>, is_draw: bool) -> Leaving {
    match (phase, is_draw) {
        (Some(LossPhase::Vapor), _) | (None, false) => Leaving::Vapor,
        (Some(LossPhase::Liquid), _) | (None, true) => Leaving::Liquid,
        (Some(LossPhase::Circulating), _) => Leaving::Circulating,
    }
}

/// The warnings of what is lost and of what is filled up, each once.
fn of_both(listed: &Refrigerant, refill: Option<&Refill>, site: &[Warning]) -> Vec<Warning> {
    let mut warnings = parts::all_warnings(listed, &[], site);
    if let Some(refill) = refill {
        for warning in parts::all_warnings(&refill.refrigerant, &[], &[]) {
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
        }
    }
    warnings
}

/// The format, which a form or a picture may not be put in.
fn format(args: &LossArgs, form: Option<Form>) -> Result<Format, Failure> {
    let format = meant::format(&args.output)?;
    if form.is_some() && format != Format::Pdf {
        return Err(Failure::usage(
            "--form and --paper are for PDF",
            "add --output card.pdf",
        ));
    }
    if args.picture.is_some() && matches!(format, Format::Text | Format::Markdown) {
        return Err(Failure::usage(
            "a picture comes as SVG, HTML or PDF, its numbers as CSV or JSON",
            "add --output picture.svg",
        ));
    }
    Ok(format)
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
