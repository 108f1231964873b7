//! The program: as typed, then as meant, then the answer, then the page.

mod args;
mod errors;
mod io;
mod verbs;

use std::cell::RefCell;
use std::ffi::OsString;
use std::io::Write;
use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches};

use io::config::Config;
use verbs::Args;
use zeotrope::page::Document;

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
/// use zeotrope_cli::{Exit, Streams, run};
/// let (mut out, mut err) = (Vec::new(), Vec::new());
/// let streams = Streams { out: &mut out, err: &mut err, colour: false };
/// assert_eq!(run(["zeotrope", "convert", "-40C", "--to", "F"], streams), Exit::Done);
/// assert_eq!(String::from_utf8_lossy(&out), "-40C = -40 °F\n");
/// ```
pub fn run<Argument: Into<OsString> + Clone>(
    arguments: impl IntoIterator<Item = Argument>,
    streams: Streams<'_>,
) -> Exit {
    run_with("", arguments.into_iter().map(Into::into), streams)
}

/// As [`run`], with the defaults of the file `zeotrope.yaml` of the current folder, or of the
/// configuration folder, or that the variable `ZEOTROPE_CONFIG` names; what arguments say comes
/// first, and `--no-config` leaves the file out.
pub fn run_with_config(
    arguments: impl IntoIterator<Item = OsString>,
    streams: Streams<'_>,
) -> Exit {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    if arguments.iter().any(|word| word == "--no-config") {
        return run_with("", arguments.into_iter(), streams);
    }
    match Config::find() {
        Ok(Some(config)) => {
            let (joined, added) = config.join(arguments, &command());
            let told = match added.is_empty() {
                true => String::new(),
                false => config.told(&added),
            };
            run_with(&told, joined.into_iter(), streams)
        }
        Ok(None) => run_with("", arguments.into_iter(), streams),
        Err(failure) => failure.tell(streams.err, streams.colour),
    }
}

fn run_with(
    defaults: &str,
    arguments: impl Iterator<Item = OsString>,
    streams: Streams<'_>,
) -> Exit {
    let Streams { out, err, colour } = streams;
    let failure = match parsed(arguments) {
        Ok(Ok(args)) => match verbs::run(&args, defaults, out, err) {
            Ok(()) => return Exit::Done,
            Err(failure) => failure,
        },
        Ok(Err(failure)) => failure,
        Err(error) if error.exit_code() == 0 => {
            // Help and version are answers; one that nobody reads to its end is too.
            return match io::deliver::write_out(out, error.render().to_string().as_bytes()) {
                Ok(()) => Exit::Done,
                Err(failure) => failure.exit(),
            };
        }
        Err(error) => errors::usage::failure(&error),
    };
    failure.tell(err, colour)
}

/// Reads arguments, those of a recipe among them.
fn parsed(
    arguments: impl Iterator<Item = OsString>,
) -> Result<Result<Args, errors::Failure>, clap::Error> {
    let typed: Vec<OsString> = args::signs::signs(arguments).collect();
    let args = alone(&typed)?;
    Ok(match verbs::charts::recipe::joined(&args, &typed) {
        Ok(Some(joined)) => Ok(alone(&joined)?),
        Ok(None) => Ok(args),
        Err(failure) => Err(failure),
    })
}

thread_local! {
    /// The arguments as clap knows them, with the program's name in what it says of them. Made once:
    /// that takes longer than reading any of them, and a page asks again and again.
    static KNOWN: RefCell<Option<(OsString, clap::Command)>> = const { RefCell::new(None) };
}

/// What clap reads of typed words, the program's name first.
fn matches(typed: &[OsString]) -> Result<clap::ArgMatches, clap::Error> {
    let name = typed.first().cloned().unwrap_or_default();
    KNOWN.with_borrow_mut(|known| {
        known.take_if(|known| known.0 != name);
        known
            .get_or_insert_with(|| (name, command()))
            .1
            .try_get_matches_from_mut(typed)
    })
}

/// Reads arguments as they are; a chart and a setup remember which of them were given.
fn alone(typed: &[OsString]) -> Result<Args, clap::Error> {
    let matches = matches(typed)?;
    let mut args = Args::from_arg_matches(&matches)?;
    let given = |(_, own)| args::given::given(own);
    let given = matches.subcommand().map(given).unwrap_or_default();
    match &mut args.verb {
        verbs::Verb::Chart(chart) => chart.given = given,
        verbs::Verb::Setup(setup) => setup.given = given,
        _ => (),
    }
    Ok(args)
}

/// The document that arguments ask for, before any format; `None` where they ask for none, for
/// several, or are refused.
pub fn document<Argument: Into<OsString> + Clone>(
    arguments: impl IntoIterator<Item = Argument>,
) -> Option<Document> {
    let arguments = arguments.into_iter().map(Into::into);
    let args = parsed(arguments).ok()?.ok()?;
    match &args.verb {
        verbs::Verb::Chart(args) => verbs::charts::chart::document(args).ok(),
        verbs::Verb::Lookup(args) => verbs::instruments::lookup::document(args).ok(),
        verb => verbs::document(verb)?.0.ok(),
    }
}

/// Writes to `out` what a recipe of a chart stands for: the program's arguments without its name, an
/// end of line between two. For a face that has the text of the file and no file.
///
/// # Example
/// ```
/// use zeotrope_cli::{Exit, Streams, recipe};
/// let (mut out, mut err) = (Vec::new(), Vec::new());
/// let streams = Streams { out: &mut out, err: &mut err, colour: false };
/// let text = "refrigerants: [R-32]\nform: wallet";
/// assert_eq!(recipe("van.yaml", text, streams), Exit::Done);
/// assert_eq!(String::from_utf8_lossy(&out), "chart\n--form=wallet\nR-32");
/// ```
pub fn recipe(name: &str, text: &str, streams: Streams<'_>) -> Exit {
    let found = verbs::charts::recipe::arguments(name, text, &[], &[])
        .and_then(|found| io::deliver::write_out(streams.out, found.join("\n").as_bytes()));
    match found {
        Ok(()) => Exit::Done,
        Err(failure) => failure.tell(streams.err, streams.colour),
    }
}

/// The program's arguments as clap knows them: for this package's own forms and tests, and no part
/// of its face.
#[doc(hidden)]
pub fn command() -> clap::Command {
    Args::command()
}
