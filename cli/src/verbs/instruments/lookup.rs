//! `lookup`: entries and code for an instrument, every input checked.

use std::io::Write;
use std::path::PathBuf;

use crate::args::choices::choice;
use crate::args::meant::{self, value_of};
use crate::args::{BasisArgs, OutputArgs, signs};
use crate::errors::Failure;
use crate::io::deliver;
use crate::io::progress::Progress;
use zeotrope::chart::lookup::{Arithmetic, LookupQuantity, LookupQuestion, lookup};
use zeotrope::page::code::{Fleet, Language, Maker};
use zeotrope::page::{Document, Style};
use zeotrope::service::date::Day;
use zeotrope::units::{
    Atmosphere, TemperatureUnit, UnitSet, parse_temperature, parse_temperature_difference,
};

/// Every how manieth input of a whole fleet is checked without `--check`, a prime.
const SPARSE: u32 = 1009;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope lookup R-407C --resolution 0.05K --from -40C --to 60C\n  \
                  zeotrope lookup R-134a R-744 --for c --output lookups"
)]
pub(crate) struct LookupArgs {
    /// Designations, chemical names or compositions
    #[arg(value_name = "REFRIGERANT", required_unless_present = "all")]
    refrigerants: Vec<String>,
    /// All blends of the catalogue
    #[arg(long, conflicts_with = "refrigerants")]
    all: bool,
    /// Language of the files
    #[arg(value_parser = choice::<Language>(), long = "for", value_name = "LANGUAGE", default_value = "c")]
    language: Language,
    /// Largest error wanted
    #[arg(long, value_name = "DIFFERENCE", default_value = "0.05K")]
    resolution: String,
    /// Lower end of the range
    #[arg(long, value_name = "TEMPERATURE", default_value = "-40C", allow_hyphen_values = true)]
    from: String,
    /// Upper end of the range
    #[arg(long, value_name = "TEMPERATURE", default_value = "60C", allow_hyphen_values = true)]
    to: String,
    /// Numbers of the instrument: Pa and K, or Pa and mK
    #[arg(value_parser = choice::<Arithmetic>(), long, value_name = "NUMBERS", default_value = "f32")]
    arithmetic: Arithmetic,
    /// What is given; without it dew and bubble temperature, of a pure refrigerant the one
    #[arg(value_parser = choice::<LookupQuantity>(), long, value_name = "QUANTITIES", value_delimiter = ',')]
    of: Vec<LookupQuantity>,
    /// Check every input of --all too; without it every 1009th there
    #[arg(long)]
    check: bool,
    /// Check every so manieth input in place of all
    #[arg(long, value_name = "COUNT", conflicts_with = "check",
          value_parser = clap::value_parser!(u32).range(1..=4096))]
    every: Option<u32>,
    /// Make lookups of lines that rest on estimated pairs too
    #[arg(long)]
    accept_estimated: bool,
    /// Date in the head of the files: 2026-05-31
    #[arg(long, value_name = "DATE")]
    date: Option<String>,
    /// Folder in which the files are written; without it only the figures are shown
    #[arg(long, value_name = "FOLDER")]
    output: Option<PathBuf>,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
    /// text, markdown, csv, json or html: how the figures are shown
    #[arg(long, value_name = "FORMAT")]
    format: Option<String>,
    #[command(flatten)]
    basis: BasisArgs,
}

impl LookupArgs {
    /// The question, and the unit in which its temperatures are typed.
    fn question(&self) -> Result<(LookupQuestion, TemperatureUnit), Failure> {
        let from = value_of!(self.from, parse_temperature)?;
        let to = value_of!(self.to, parse_temperature)?;
        let resolution = value_of!(self.resolution, parse_temperature_difference)?;
        if from.value >= to.value {
            return Err(Failure::usage(
                signs::in_ascii(&format!(
                    "--from {} is not below --to {}",
                    self.from, self.to
                )),
                "exchange them, or give for example --from -40C --to 60C",
            ));
        }
        let mut of: Vec<LookupQuantity> = Vec::new();
        for one in &self.of {
            if !of.contains(one) {
                of.push(*one);
            }
        }
        let question = LookupQuestion {
            resolution: resolution.value,
            range: (from.value, to.value),
            of,
            arithmetic: self.arithmetic,
            every: self.every(),
            accept_estimated: self.accept_estimated,
        };
        Ok((question, from.unit))
    }

    fn every(&self) -> u32 {
        let without = if self.all && !self.check { SPARSE } else { 1 };
        self.every.unwrap_or(without)
    }

    fn recipe(&self, designation: &str) -> String {
        let mut text = format!(
            "lookup \"{designation}\" --resolution {} --from {} --to {} --arithmetic {}",
            self.resolution,
            self.from,
            self.to,
            match self.arithmetic {
                Arithmetic::F32 => "f32",
                Arithmetic::Integer => "integer",
            }
        );
        if !self.of.is_empty() {
            let of: Vec<&str> = self.of.iter().map(|one| one.name()).collect();
            text.push_str(&format!(" --of {}", of.join(",")));
        }
        if self.every() != 1 {
            text.push_str(&format!(" --every {}", self.every()));
        }
        if self.accept_estimated {
            text.push_str(" --accept-estimated");
        }
        text
    }
}

fn style() -> Style {
    Style::new(UnitSet::SI, Atmosphere::SEA_LEVEL)
}

/// The figures of the lookups; no file is written.
pub(crate) fn document(args: &LookupArgs) -> Result<Document, Failure> {
    Ok(make(args, &mut std::io::sink())?.document(&style()))
}

/// Makes the lookups, writes their files and shows their figures.
pub(crate) fn run(
    args: &LookupArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let shown = OutputArgs {
        format: args.format.clone(),
        ..OutputArgs::default()
    };
    deliver::check_output(&shown)?;
    let start = std::time::Instant::now();
    let made = make(args, err)?;
    if let Some(folder) = &args.output {
        deliver::write_files(folder, &made.files, args.force)?;
    }
    if args.all {
        let seconds = start.elapsed().as_secs_f64();
        let _ = writeln!(
            err,
            "note: {} lookups in {seconds:.1} s",
            made.lookups.len()
        );
    }
    deliver::answer(&made.document(&style()), &shown, out, err)
}

fn make(args: &LookupArgs, err: &mut dyn Write) -> Result<Fleet, Failure> {
    let catalogue = meant::catalogue(&args.basis.data)?;
    let (asked, temperature) = args.question()?;
    let typed = Style::new(
        UnitSet::SI.with_temperature(temperature),
        Atmosphere::SEA_LEVEL,
    );
    value_of!(args.date, Day::read)?;
    let names = match args.all {
        true => catalogue.blend_designations(),
        false => args.refrigerants.clone(),
    };
    let style = style();
    let mut made = Fleet::default();
    let mut progress = Progress::new(args.output.is_some());
    for (at, name) in names.iter().enumerate() {
        progress.show_if_due(err, || format!("{name}: {at} of {} done", names.len()));
        let refrigerant = meant::refrigerant(&catalogue, name, &args.basis)?;
        let found = match lookup(&refrigerant, &asked) {
            Ok(found) => found,
            Err(problem) if args.all => {
                progress.end(err);
                let _ = writeln!(err, "warning: {name}: {problem}");
                made.miss(name, problem.to_string());
                continue;
            }
            Err(problem) => return Err(Failure::in_style(problem, &typed)),
        };
        if made.has(&found.refrigerant) {
            return Err(Failure::usage(
                format!("{} is named twice", found.refrigerant),
                "name each refrigerant once: a file each is written",
            ));
        }
        let maker = Maker {
            recipe: format!("zeotrope {}", args.recipe(&found.refrigerant)),
            date: args.date.clone(),
        };
        made.add(found, refrigerant, args.language, &maker, &style);
    }
    progress.end(err);
    made.finish(args.language);
    Ok(made)
}
