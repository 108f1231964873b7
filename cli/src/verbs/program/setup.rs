//! `setup`: asks for own defaults and writes their file.

use std::io::{BufRead, Write};
use std::path::PathBuf;

use crate::args::given::Given;
use crate::errors::{Failure, OrFailure};
use crate::io::{config, deliver};
use zeotrope::service::defaults::Defaults;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope setup --elevation 5280ft --units ip --output zeotrope.yaml\n  \
                  zeotrope setup --station-pressure 833mbar --units si --output van3.yaml\n\n\
                  Without any of the values it asks for each; an empty line leaves it out. The file \
                  is read from the current folder, else from the configuration folder of the system, \
                  or where ZEOTROPE_CONFIG says; --no-config leaves it out."
)]
pub(crate) struct SetupArgs {
    /// Elevation of the site, for example 1600m or 5280ft
    #[arg(long, value_name = "HEIGHT")]
    elevation: Option<String>,
    /// Barometer reading at the site, not reduced to sea level, for example 24.6inHga
    #[arg(long, value_name = "PRESSURE")]
    station_pressure: Option<String>,
    /// ip or si
    #[arg(long, value_name = "SYSTEM")]
    units: Option<String>,
    /// C, F or K
    #[arg(long, value_name = "UNIT")]
    temperature_unit: Option<String>,
    /// psig, psia, barg, bara, kPag, kPaa, MPag or MPaa
    #[arg(long, value_name = "UNIT")]
    pressure_unit: Option<String>,
    /// File with the gauges and the clamp
    #[arg(long, value_name = "FILE")]
    kit: Option<String>,
    /// File of phrases in another language
    #[arg(long, value_name = "FILE")]
    words: Option<String>,
    /// The shop's own line, for charts
    #[arg(long, value_name = "TEXT")]
    shop: Option<String>,
    /// The shop's logo, for charts
    #[arg(long, value_name = "FILE")]
    logo: Option<String>,
    /// The file to write; zeotrope.yaml in the current folder if not given
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
    #[arg(skip)]
    pub(crate) given: Given,
}

pub(crate) fn run(
    args: &SetupArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let path = args.output.clone().unwrap_or_else(|| config::NAME.into());
    deliver::check_target(&path, args.force)?;
    let mut defaults = Defaults::default();
    let option = |key: &str| key.replace('_', "-");
    let given = Defaults::KEYS.iter().filter_map(|key| {
        let texts = args.given.get(&option(key))?;
        Some((*key, texts.last()?))
    });
    for (key, value) in given.clone() {
        let set = defaults.set(key, value);
        set.of_option(&format!("--{}", option(key)))?;
    }
    if given.count() == 0 {
        ask(&mut defaults, err)?;
    }
    let text = defaults.text();
    if text.is_empty() {
        return Err(Failure::no_answer(
            "no default was given, so no file was written",
            "give one, for example --elevation 5280ft --units ip",
        ));
    }
    deliver::write_file(&path, text.as_bytes(), args.force)?;
    deliver::write_out(out, format!("{}:\n{text}", path.display()).as_bytes())
}

/// Asks for each value until it can be read; an empty line, or the end of the input, leaves it out.
fn ask(defaults: &mut Defaults, err: &mut dyn Write) -> Result<(), Failure> {
    let mut lines = std::io::stdin().lock().lines();
    for (key, question) in Defaults::KEYS.iter().zip(Defaults::QUESTIONS) {
        loop {
            let _ = write!(err, "{question}, empty for none: ").and_then(|()| err.flush());
            let Some(line) = lines.next() else { break };
            let line = line.map_err(|problem| {
                Failure::no_answer(
                    format!("standard input could not be read: {problem}"),
                    "give the values as options",
                )
            })?;
            match defaults.set(key, &line) {
                Ok(()) => break,
                Err(error) => {
                    let _ = writeln!(err, "{error}; {}", error.hint().unwrap_or_default());
                }
            }
        }
    }
    Ok(())
}
