//! The program: as typed, then as meant, then the answer, then the page.

mod also;
mod args;
mod args_reading;
mod at_rest;
mod beside;
mod bounded;
mod chart;
mod chart_rows;
mod completions;
mod convert;
mod csv_in;
mod cylinder;
mod deliver;
mod evacuation;
mod exposure;
mod failure;
mod figures;
mod glide;
mod ideal;
mod idle;
mod instruments;
mod list;
mod man;
mod measure;
mod minus;
mod moist_air;
mod nodes;
mod page;
mod pressure_test;
mod print;
mod progress;
mod reading;
mod reading_log;
mod recipe;
mod request;
mod rows;
mod saturation;
mod show;
mod state;
mod subcooling;
mod superheat;
mod target_superheat;
mod tolerance;
mod uncertain;
mod validate;
mod words;
mod working;

use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use clap::{CommandFactory, Parser};

use args::{Args, Verb};
use failure::Failure;

/// How a run of the program ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// The answer was given.
    Done,
    /// There is no answer to the question.
    NoAnswer,
    /// The question was put wrongly.
    WrongUsage,
}

impl Exit {
    /// The code handed to the shell: 0, 1 or 2.
    pub const fn code(self) -> u8 {
        match self {
            Exit::Done => 0,
            Exit::NoAnswer => 1,
            Exit::WrongUsage => 2,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        ExitCode::from(exit.code())
    }
}

/// Where a run of the program writes.
pub struct Streams<'a> {
    /// Answers.
    pub out: &'a mut dyn Write,
    /// Words: errors, hints, warnings.
    pub err: &'a mut dyn Write,
    /// Whether `err` may be coloured.
    pub colour: bool,
}

/// Runs the program with its arguments, the program's own name first.
///
/// Nothing is written to `out` unless there is an answer. A reader of `out` that has
/// closed its end is no error.
///
/// # Example
/// ```
/// use zeotrope::cli::{Exit, Streams, run};
/// let (mut out, mut err) = (Vec::new(), Vec::new());
/// let streams = Streams { out: &mut out, err: &mut err, colour: false };
/// assert_eq!(run(["zeotrope", "convert", "-40C", "--to", "F"], streams), Exit::Done);
/// assert_eq!(String::from_utf8_lossy(&out), "-40C = -40 °F\n");
/// ```
pub fn run<Argument: Into<OsString> + Clone>(
    arguments: impl IntoIterator<Item = Argument>,
    streams: Streams<'_>,
) -> Exit {
    let Streams { out, err, colour } = streams;
    let arguments = arguments.into_iter().map(Into::into);
    let failure = match Args::try_parse_from(minus::signs(arguments)) {
        Ok(args) => match answer(&args, out, err) {
            Ok(()) => return Exit::Done,
            Err(failure) => failure,
        },
        Err(error) if error.exit_code() == 0 => {
            // Help and version are answers; one that nobody reads to its end is too.
            return match deliver::write_out(out, error.render().to_string().as_bytes()) {
                Ok(()) => Exit::Done,
                Err(failure) => failure.exit(),
            };
        }
        Err(error) => words::failure(&error),
    };
    failure.tell(err, colour)
}

fn answer(args: &Args, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Failure> {
    match &args.verb {
        Verb::List(args) => deliver::answer(&list::answer(args)?, &args.output, out, err),
        Verb::Show(args) => deliver::answer(&show::answer(args)?, &args.output, out, err),
        Verb::Convert(args) => deliver::answer(&convert::answer(args)?, &args.output, out, err),
        Verb::Saturation(args) if args.rows.csv.is_some() => saturation::rows(args, out, err),
        Verb::Saturation(args) => {
            deliver::answer(&saturation::answer(args)?, &args.output, out, err)
        }
        Verb::State(args) if args.rows.csv.is_some() => state::rows(args, out, err),
        Verb::Glide(args) => deliver::answer(&glide::answer(args)?, &args.output, out, err),
        Verb::State(args) => deliver::answer(&state::answer(args)?, &args.output, out, err),
        Verb::Superheat(args) => deliver::answer(&superheat::answer(args)?, &args.output, out, err),
        Verb::Subcooling(args) => {
            deliver::answer(&subcooling::answer(args)?, &args.output, out, err)
        }
        Verb::Reading(args) if args.csv.is_some() => reading_log::answer(args, out, err),
        Verb::Reading(args) => deliver::answer(&reading::answer(args)?, &args.output, out, err),
        Verb::Chart(args) => chart::run(args, out, err),
        Verb::MoistAir(args) => deliver::answer(&moist_air::answer(args)?, &args.output, out, err),
        Verb::TargetSuperheat(args) => {
            deliver::answer(&target_superheat::answer(args)?, &args.output, out, err)
        }
        Verb::AtRest(args) => deliver::answer(&at_rest::answer(args)?, &args.output, out, err),
        Verb::PressureTest(args) => {
            deliver::answer(&pressure_test::answer(args)?, &args.output, out, err)
        }
        Verb::Evacuation(args) => {
            deliver::answer(&evacuation::answer(args)?, &args.output, out, err)
        }
        Verb::Cylinder(args) => deliver::answer(&cylinder::answer(args)?, &args.output, out, err),
        Verb::Exposure(args) => deliver::answer(&exposure::answer(args)?, &args.output, out, err),
        Verb::Validate(args) => {
            let (found, unexplained) = validate::answer(args)?;
            deliver::answer(&found, &args.output, out, err)?;
            match unexplained {
                true => Err(validate::outside()),
                false => Ok(()),
            }
        }
        Verb::Completions(args) => deliver::write_out(out, completions::answer(args).as_bytes()),
        Verb::Man => deliver::write_out(out, man::answer()?.as_bytes()),
    }
}

/// The program's arguments as clap knows them, for help, completions and the man page.
pub fn command() -> clap::Command {
    Args::command()
}
