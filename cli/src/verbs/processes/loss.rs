//! `leak` and `draw`: from arguments to a question, from the question to a page.

use crate::args::choices::choice;
use crate::args::meant::{self, value_of};
use crate::args::{AskedArgs, PrintArgs};
use crate::errors::{Failure, OrFailure};
use crate::verbs::charts::print;
use zeotrope::chart::{Chart, Request};
use zeotrope::output::Format;
use zeotrope::page::{self, Document, Form, ShiftPicture, Style};
use zeotrope::process::shift::{Leaving, LossQuestion, Refill, Until, loss};
use zeotrope::service::hazard::hazards::Work;
use zeotrope::units::{
    BareUnit, parse_count, parse_mass, parse_percent, parse_pressure, parse_temperature,
};

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
    #[arg(value_parser = choice::<Leaving>(), long, value_name = "PHASE")]
    phase: Option<Leaving>,
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
    #[arg(value_parser = choice::<ShiftPicture>(), long, value_name = "PICTURE", help_heading = "Print")]
    picture: Option<ShiftPicture>,
    /// An exercise with blanks, its key on a page of its own
    #[arg(long, help_heading = "Print", conflicts_with = "picture")]
    blank: bool,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
}

/// Answers a leak, which ends at the site's pressure, or a draw by a machine.
pub(crate) fn answer(args: &LossArgs, is_draw: bool) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let temperature = value_of!(args.temperature, parse_temperature)?;
    let pressure = |text: &str| parse_pressure(text, BareUnit::Refused, &site);
    let suction = value_of!(args.suction_pressure, pressure)?;
    let liquid = value_of!(args.liquid_pressure, pressure)?;
    let unit = suction.as_ref().or(liquid.as_ref()).map(|typed| typed.unit);
    let form = print::form(&printed(args))?;
    let format = format(args, form)?;
    let style = Style {
        day: print::day(args.date.as_deref(), format)?,
        ..args.asked.style(Some(temperature.unit), unit, site)?
    };
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let catalogue = meant::with_pairs(&catalogue, args.asked.basis.pairs);
    let named = |text: &str| meant::refrigerant(&catalogue, text, &args.asked.basis);
    let listed = named(&args.refrigerant)?;
    let count = |text: &str| {
        parse_count(
            "number of rounds",
            text,
            1..=MOST_ROUNDS,
            "give for example 5",
        )
    };
    let rounds = value_of!(args.rounds, count)?.unwrap_or(USUAL_ROUNDS);
    let refill = args.refill.as_deref().map(|text| {
        let refill = Refill::new(&catalogue, &listed, named(text)?, rounds)?;
        Ok::<Refill, Failure>(refill)
    });
    let share = |text: &str| parse_percent("share", text);
    let mut question = LossQuestion::vapor(temperature.value);
    question.leaving = args.phase.unwrap_or(match is_draw {
        true => Leaving::Liquid,
        false => Leaving::Vapor,
    });
    question.until = match is_draw {
        true => Until::Drawn,
        false => Until::SitePressure(site.pressure()),
    };
    question.filled = value_of!(args.filled, share)?;
    question.lost = value_of!(args.lost, share)?;
    question.mass = value_of!(args.mass, parse_mass)?;
    question.suction = suction.map(|typed| typed.value);
    question.liquid = liquid.map(|typed| typed.value);
    question.refill = refill.transpose()?;
    question.tolerance = args.tolerance;
    let marked = args.picture.map(|kind| {
        let (more, marked) = question.for_picture();
        question = more;
        (kind, marked)
    });
    let found = loss(&listed, &question).in_style(&style)?;
    let warnings = page::shift_warnings(&listed, question.refill.as_ref(), &site_warnings);
    let work = if is_draw { Work::Draw } else { Work::Loss };
    if let Some((kind, marked)) = marked {
        let (answer, print) = ((&found, kind), (work, form));
        let drawn = page::shift_picture(answer, &listed, &marked, print, &warnings, &style);
        return Ok(drawn?);
    }
    if args.form.is_some() {
        let (left, was) = found.left(&question, &catalogue)?;
        let chart = Chart::new(&Request::of_card(left, &style.units, style.site)?)?;
        let print = print::meant(&printed(args), false, format, form, 1)?;
        let card = page::shift_card(&found, (&chart, was), &print, &warnings, &style);
        return Ok(card);
    }
    let whole = page::shift(&found, &listed, &question, work, warnings, &style);
    Ok(match args.blank {
        true => page::shift_exercise(&found, whole, work, form, &style),
        false => whole,
    })
}

/// How a card of what is left is printed.
fn printed(args: &LossArgs) -> PrintArgs {
    PrintArgs {
        form: args.form.clone(),
        paper: args.paper.clone(),
        date: args.date.clone(),
        ..PrintArgs::default()
    }
}

/// The format, which a form or a picture may not be put in.
fn format(args: &LossArgs, form: Option<Form>) -> Result<Format, Failure> {
    let format = meant::format(&args.asked.output)?;
    if form.is_some() && format != Format::Pdf {
        let hint = "add --output card.pdf";
        return Err(Failure::usage("--form and --paper are for PDF", hint));
    }
    if args.picture.is_some() && matches!(format, Format::Text | Format::Markdown) {
        let hint = "add --output picture.svg";
        let what = "a picture comes as SVG, HTML or PDF, its numbers as CSV or JSON";
        return Err(Failure::usage(what, hint));
    }
    Ok(format)
}
