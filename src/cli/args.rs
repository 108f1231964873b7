//! The arguments as typed.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

use super::args_reading::{MeasureArgs, ReadingArgs};
use super::at_rest::AtRestArgs;
use super::cylinder::CylinderArgs;
use super::evacuation::EvacuationArgs;
use super::exposure::ExposureArgs;
use super::moist_air::MoistAirArgs;
use super::pressure_test::PressureTestArgs;
use super::target_superheat::TargetSuperheatArgs;

/// Refrigerant properties and blend behaviour from published equations of state, and
/// the charts made from them.
#[derive(Debug, Parser)]
#[command(
    name = "zeotrope",
    version,
    term_width = 92,
    arg_required_else_help = false,
    disable_help_subcommand = true,
    after_help = "Each verb's --help has examples. A value carries its unit: 5C, 41F, 70psig, 6.8bara.\n\
                  Arithmetic, no verdict: local codes, the maker's instructions and licensed people decide."
)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) verb: Verb,
}

/// What is asked.
#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Name the refrigerants that are carried
    List(ListArgs),
    /// Tell what is known about one refrigerant, with sources
    Show(ShowArgs),
    /// Convert pressures and temperatures at a site
    Convert(ConvertArgs),
    /// Bubble and dew point at a temperature or a pressure
    Saturation(SaturationArgs),
    /// Glide at a pressure, the inlet and the means of a coil, and what changes along it
    Glide(GlideArgs),
    /// All properties of one state, from two of them
    State(StateArgs),
    /// A suction line's temperature above the dew temperature, and how sure it is
    #[command(
        after_help = "Examples:\n  zeotrope superheat R-407C --pressure 65psig --line 52F\n  \
                      zeotrope superheat R-410A --pressure 118psig --line 50F \\\n    \
                      --gauge-accuracy 1%span --gauge-span 500psi --clamp-accuracy 1F --target 10F --band 5F\n  \
                      zeotrope superheat R-134a --pressure 18.4psig --wanted 10F --elevation 5280ft\n  \
                      zeotrope superheat R-290 --pressure 3.2barg --line 4C \\\n    \
                      --gauge sealed --zeroed factory --elevation 1600m"
    )]
    Superheat(MeasureArgs),
    /// A liquid line's temperature below the bubble temperature, and how sure it is
    #[command(
        after_help = "Examples:\n  zeotrope subcooling R-407C --pressure 265psig --line 101F\n  \
                      zeotrope subcooling R-410A --pressure 340psig --line 96.5F \\\n    \
                      --target 10F --band 3F --gauge-accuracy 2%span --gauge-span 500psi\n  \
                      zeotrope subcooling R-454B --pressure 21barg --wanted 5K --format json"
    )]
    Subcooling(MeasureArgs),
    /// Both sides of a machine at once, or a log of them
    Reading(ReadingArgs),
    /// Pressure-temperature chart of one refrigerant or of many side by side
    Chart(Box<ChartArgs>),
    /// Moist air from two readings; the heat between two states
    MoistAir(MoistAirArgs),
    /// Target superheat for a fixed orifice: an estimate, or from the plate's chart
    TargetSuperheat(TargetSuperheatArgs),
    /// A vessel at rest against what it is said to hold; a gauge against a vessel
    AtRest(AtRestArgs),
    /// Pressure of a nitrogen test, corrected for temperature
    PressureTest(PressureTestArgs),
    /// A vacuum against water and ice; the shape of a rise test
    Evacuation(EvacuationArgs),
    /// Three figures for filling a cylinder, and what warmth does to it
    Cylinder(CylinderArgs),
    /// LFL, RCL and GWP figures in other units, with their source
    Exposure(ExposureArgs),
    /// Compare the engine with published values, source by source
    Validate(ValidateArgs),
    /// Completions for a shell
    Completions(CompletionsArgs),
    /// The manual page, for man(1)
    #[command(after_help = "Examples:\n  zeotrope man")]
    Man,
}

/// Where an answer goes, and in which format.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Output")]
pub(super) struct OutputArgs {
    /// text, markdown, csv, json, html, svg or pdf; without it by the ending of --output, else text
    #[arg(long, value_name = "FORMAT")]
    pub(super) format: Option<String>,
    /// Write to a file in place of standard output
    #[arg(long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Replace the file if it exists
    #[arg(long)]
    pub(super) force: bool,
}

/// A system of display units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum System {
    /// °F, psi, Btu, lb
    Ip,
    /// °C, bar, kJ, kg
    Si,
}

/// The units of an answer; without any, those of the question.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Units")]
pub(super) struct UnitArgs {
    /// Display units
    #[arg(long, value_name = "SYSTEM")]
    pub(super) units: Option<System>,
    /// C, F or K
    #[arg(long, value_name = "UNIT")]
    pub(super) temperature_unit: Option<String>,
    /// psig, psia, barg, bara, kPag, kPaa, MPag or MPaa
    #[arg(long, value_name = "UNIT")]
    pub(super) pressure_unit: Option<String>,
}

/// The air that gauges read against; sea level if nothing is said.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Site")]
pub(super) struct SiteArgs {
    /// Elevation of the site, for example 1600m or 5280ft
    #[arg(long, value_name = "HEIGHT")]
    pub(super) elevation: Option<String>,
    /// Barometer reading at the site, not reduced to sea level, for example 24.6inHga
    #[arg(long, value_name = "PRESSURE")]
    pub(super) station_pressure: Option<String>,
}

/// Where facts come from.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Refrigerants")]
pub(super) struct DataArgs {
    /// Folder with your own pure/, pairs/, departures/ and blends.yaml
    #[arg(long, value_name = "DIR")]
    pub(super) data: Option<PathBuf>,
}

/// How compositions are read.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Refrigerants")]
pub(super) struct BasisArgs {
    #[command(flatten)]
    pub(super) data: DataArgs,
    /// Read compositions such as "R-32/R-125 (70/30)" as mole % in place of mass %
    #[arg(long)]
    pub(super) mole: bool,
    /// Parameters of pairs that were refitted to measured bubble points; without it refitted
    #[arg(long, value_name = "PARAMETERS")]
    pub(super) pairs: Option<PairsArg>,
}

/// Which parameters of a refitted pair are used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PairsArg {
    /// Those of the refit
    Refitted,
    /// Those of the paper
    Published,
}

/// A zero of enthalpy and entropy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ZeroArg {
    /// 200 kJ/kg and 1 kJ/kg/K for liquid at its bubble point at 0 °C
    Iir,
    /// 0 for liquid at its bubble point at -40 °C
    Ashrae,
    /// 0 for liquid at its bubble point at 101.325 kPa
    BoilingPoint,
    /// 0 for the ideal gas at 298.15 K and 101.325 kPa
    IdealGas,
}

/// Rows of a file in place of one question.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Rows of a file")]
pub(super) struct RowArgs {
    /// Answer every row of a CSV file, - for standard input; heads say quantity and unit, for
    /// example temperature_C or suction_pressure_psig; answers are in SI
    #[arg(
        long,
        value_name = "FILE",
        conflicts_with_all = ["units", "temperature_unit", "pressure_unit"]
    )]
    pub(super) csv: Option<PathBuf>,
    /// Which column to read where several fit; two for a state, separated by a comma
    #[arg(long, value_name = "HEAD", value_delimiter = ',')]
    pub(super) column: Vec<String>,
}

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope list\n  zeotrope list A2L\n  zeotrope list propane --format json"
)]
pub(super) struct ListArgs {
    /// Words that must all occur in the line: part of a name, a class, pure or blend
    #[arg(value_name = "WORD")]
    pub(super) words: Vec<String>,
    #[command(flatten)]
    pub(super) data: DataArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope show R-134a\n  zeotrope show propane --units ip\n  zeotrope show R-744 --format json"
)]
pub(super) struct ShowArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(super) refrigerant: String,
    #[command(flatten)]
    pub(super) basis: BasisArgs,
    #[command(flatten)]
    pub(super) units: UnitArgs,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope convert 70psig --to bara\n  zeotrope convert -40C --to F\n  \
                  zeotrope convert 12.4inHgvac --to psia --elevation 5280ft\n  zeotrope convert 500micron"
)]
pub(super) struct ConvertArgs {
    /// Pressures or temperatures with their units
    #[arg(value_name = "VALUE", required = true)]
    pub(super) values: Vec<String>,
    /// Unit to convert to; without it, to every unit of the kind
    #[arg(long, value_name = "UNIT")]
    pub(super) to: Option<String>,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("at").required(true).args(["temperature", "pressure", "csv"]),
    after_help = "Examples:\n  zeotrope saturation R-134a --temperature 5C\n  \
                  zeotrope saturation R-290 --pressure 70psig\n  \
                  zeotrope saturation R-717 --temperature -28F --format json\n  \
                  zeotrope saturation R-455A --temperature 40F --tolerance\n  \
                  zeotrope saturation R-407C --temperature 25C --model ideal --explain"
)]
pub(super) struct SaturationArgs {
    /// Designation, chemical name or composition; one or several
    #[arg(value_name = "REFRIGERANT", required = true)]
    pub(super) refrigerants: Vec<String>,
    /// Temperature, for example 5C or 41F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(super) temperature: Option<String>,
    /// Pressure, for example 70psig, 5.8barg or 681kPaa
    #[arg(long, value_name = "PRESSURE")]
    pub(super) pressure: Option<String>,
    #[command(flatten)]
    pub(super) rows: RowArgs,
    /// Zero of enthalpy and entropy; without it iir, else the first that there is
    #[arg(long, value_name = "ZERO")]
    pub(super) zero: Option<ZeroArg>,
    /// Solve the equation for every question, instead of reading curves built from it where there
    /// are many; a single question always is solved
    #[arg(long)]
    pub(super) exact: bool,
    /// Band of bubble and dew within the published tolerances of the contents
    #[arg(long)]
    pub(super) tolerance: bool,
    #[command(flatten)]
    pub(super) teaching: TeachingArgs,
    #[command(flatten)]
    pub(super) basis: BasisArgs,
    #[command(flatten)]
    pub(super) units: UnitArgs,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

/// Which coil a pressure belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum CoilArg {
    /// From its inlet, or bubble, to dew
    Evaporator,
    /// From dew to bubble
    Condenser,
}

/// A simple rule shown beside the real answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ModelArg {
    /// Raoult's law with each component's own saturation pressure
    Ideal,
}

/// What helps to teach and to learn.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Teaching")]
pub(super) struct TeachingArgs {
    /// A simple rule to show beside the answer
    #[arg(long, value_name = "MODEL")]
    pub(super) model: Option<ModelArg>,
    /// The working, step by step
    #[arg(long)]
    pub(super) explain: bool,
}

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope glide R-455A --pressure 64.7psig --liquid 100F\n  \
                  zeotrope glide R-407C --pressure 16barg --coil condenser\n  \
                  zeotrope glide R-454C --pressure 4.1barg --liquid 38C --explain\n  \
                  zeotrope glide R-744 --pressure 30barg --liquid 35C --liquid-pressure 90barg"
)]
pub(super) struct GlideArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(super) refrigerant: String,
    /// Pressure of the coil, for example 64.7psig or 4.5barg
    #[arg(long, value_name = "PRESSURE")]
    pub(super) pressure: String,
    /// Temperature of the liquid before the expansion device, for example 100F
    #[arg(long, value_name = "TEMPERATURE")]
    pub(super) liquid: Option<String>,
    /// Pressure of that liquid; without it its bubble pressure
    #[arg(long, value_name = "PRESSURE", requires = "liquid")]
    pub(super) liquid_pressure: Option<String>,
    /// Which coil has that pressure; with --liquid an evaporator, else both are shown
    #[arg(long, value_name = "COIL")]
    pub(super) coil: Option<CoilArg>,
    /// Zero of enthalpy; without it iir, else the first that there is
    #[arg(long, value_name = "ZERO")]
    pub(super) zero: Option<ZeroArg>,
    #[command(flatten)]
    pub(super) teaching: TeachingArgs,
    #[command(flatten)]
    pub(super) basis: BasisArgs,
    #[command(flatten)]
    pub(super) units: UnitArgs,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

/// Which of two states is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum PhaseArg {
    Liquid,
    Vapor,
    Supercritical,
    TwoPhase,
}

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("given")
        .multiple(true)
        .args(["temperature", "pressure", "density", "enthalpy", "entropy", "quality"])
        .conflicts_with("csv"),
    after_help = "Examples:\n  zeotrope state R-134a --temperature 25C --pressure 300kPa\n  \
                  zeotrope state R-290 --pressure 70psig --quality 0.25\n  \
                  zeotrope state R-744 --temperature 40C --density 600kg/m3 --format json"
)]
pub(super) struct StateArgs {
    /// Designation, chemical name or composition
    #[arg(value_name = "REFRIGERANT")]
    pub(super) refrigerant: String,
    /// Temperature, for example 25C
    #[arg(long, value_name = "TEMPERATURE")]
    pub(super) temperature: Option<String>,
    /// Pressure, for example 300kPa (absolute) or 70psig
    #[arg(long, value_name = "PRESSURE")]
    pub(super) pressure: Option<String>,
    /// Density, for example 1200kg/m3 or 12.5mol/L
    #[arg(long, value_name = "DENSITY")]
    pub(super) density: Option<String>,
    /// Enthalpy, for example 250kJ/kg or 110Btu/lb
    #[arg(long, value_name = "ENTHALPY")]
    pub(super) enthalpy: Option<String>,
    /// Entropy, for example 1.2kJ/kg/K
    #[arg(long, value_name = "ENTROPY")]
    pub(super) entropy: Option<String>,
    /// Vapour's share by mass, 0 to 1
    #[arg(long, value_name = "QUALITY")]
    pub(super) quality: Option<String>,
    #[command(flatten)]
    pub(super) rows: RowArgs,
    /// Which state, where two answer
    #[arg(long, value_name = "PHASE")]
    pub(super) phase: Option<PhaseArg>,
    /// Zero of enthalpy and entropy; without it iir, else the first that there is
    #[arg(long, value_name = "ZERO")]
    pub(super) zero: Option<ZeroArg>,
    #[command(flatten)]
    pub(super) basis: BasisArgs,
    #[command(flatten)]
    pub(super) units: UnitArgs,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope chart R-134a R-290 R-744 --from -40C --to 60C --step 5C\n  \
                  zeotrope chart R-134a --from -40F --to 150F --step 5F --elevation 5280ft\n  \
                  zeotrope chart R-717 --from 0psig --to 200psig --step 10psi\n  \
                  zeotrope chart R-290 --pressures 20psig,40psig,60psig --format csv\n  \
                  zeotrope chart R-455A --from 0F --to 120F --step 20F --tolerance\n  \
                  zeotrope chart R-454B --form wallet --output card.pdf\n  \
                  zeotrope chart R-454B R-32 --form sheet --paper letter --output cards.pdf\n  \
                  zeotrope chart R-410A --resolution 0.2F --columns bubble,dew\n  \
                  zeotrope chart R-454B --picture lens --pressures 5bara,10bara --output lens.svg\n  \
                  zeotrope chart R-290 --picture dome --from -40C --to 110C --output dome.svg\n  zeotrope chart R-32 R-454B --picture curves --form wall --landscape --output curves.pdf\n  \
                  zeotrope chart R-454B --form nodes --resolution 0.05K --format csv\n  \
                  zeotrope chart --all charts --format html"
)]
pub(super) struct ChartArgs {
    /// Designations, chemical names or compositions
    #[arg(value_name = "REFRIGERANT", required_unless_present_any = ["all", "recipe"])]
    pub(super) refrigerants: Vec<String>,
    /// First row: a temperature such as -40F, or a pressure such as 0psig
    #[arg(long, value_name = "VALUE")]
    pub(super) from: Option<String>,
    /// Last row
    #[arg(long, value_name = "VALUE")]
    pub(super) to: Option<String>,
    /// Step between rows: 5F, 2C, or 10psi where rows are pressures
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) step: Option<String>,
    /// Rows at these temperatures, separated by commas
    #[arg(
        long,
        value_name = "LIST",
        value_delimiter = ',',
        conflicts_with_all = ["from", "to", "step"]
    )]
    pub(super) temperatures: Vec<String>,
    /// Rows at these pressures, separated by commas; beside rows of temperatures, both on one sheet
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(super) pressures: Vec<String>,
    /// Lowest and highest value within the published tolerances of a blend's contents
    #[arg(long)]
    pub(super) tolerance: bool,
    #[command(flatten)]
    pub(super) look: LookArgs,
    #[command(flatten)]
    pub(super) print: PrintArgs,
    #[command(flatten)]
    pub(super) basis: BasisArgs,
    #[command(flatten)]
    pub(super) units: UnitArgs,
    #[command(flatten)]
    pub(super) site: SiteArgs,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

/// What a chart shows and how finely.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Chart")]
pub(super) struct LookArgs {
    /// What reading a cell back may miss by; digits follow. 0.1K, on cards 0.5K, if not said
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) resolution: Option<String>,
    /// As many digits in all cells of a column as its neediest has
    #[arg(long)]
    pub(super) uniform_digits: bool,
    /// Lines of a blend: bubble, dew, mean, separated by commas
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(super) columns: Vec<String>,
    /// One column where the glide stays below this; 0.5K if not said
    #[arg(long, value_name = "DIFFERENCE")]
    pub(super) one_column_below: Option<String>,
    /// The same cells in a second unit of pressure, or of temperature where rows are pressures
    #[arg(long, value_name = "UNIT")]
    pub(super) also: Option<String>,
    /// Figures with a decimal comma
    #[arg(long)]
    pub(super) decimal_comma: bool,
    /// A picture in place of the table, as SVG, HTML or PDF: curves, lens, coil or dome; --format
    /// svg alone draws curves
    #[arg(long, value_name = "KIND")]
    pub(super) picture: Option<String>,
    /// An exercise: the cells left blank, the full table behind it
    #[arg(long)]
    pub(super) blank: bool,
}

/// How a chart is printed.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Print")]
pub(super) struct PrintArgs {
    /// wall, folded (A6 or half Letter), wallet (85.6 x 54 mm), strip (for a gauge or hose) or
    /// sheet (eight cards with cut marks), as PDF where no format is named; or nodes, a table for
    /// instruments
    #[arg(long, value_name = "FORM")]
    pub(super) form: Option<String>,
    /// a4 or letter
    #[arg(long, value_name = "PAPER")]
    pub(super) paper: Option<String>,
    /// Wall chart on the long side of the paper
    #[arg(long)]
    pub(super) landscape: bool,
    /// A title of your own, above the usual one
    #[arg(long, value_name = "TEXT")]
    pub(super) title: Option<String>,
    /// A line of your own below the table; may be given again
    #[arg(long, value_name = "TEXT")]
    pub(super) note: Vec<String>,
    /// The shop's own line, above the title
    #[arg(long, value_name = "TEXT")]
    pub(super) shop: Option<String>,
    /// The shop's own sign, a PNG picture or an SVG document; on HTML and PDF
    #[arg(long, value_name = "FILE")]
    pub(super) logo: Option<PathBuf>,
    /// Date of the print, 2026-05-31; without it SOURCE_DATE_EPOCH, on HTML and PDF today
    #[arg(long, value_name = "DATE")]
    pub(super) date: Option<String>,
    /// Words of another language: a file of 'our words: your words'
    #[arg(long, value_name = "FILE")]
    pub(super) words: Option<PathBuf>,
    /// Notes and footers as '#' lines at the head of a CSV sheet
    #[arg(long)]
    pub(super) csv_header: bool,
    /// Every refrigerant carried, a file each, into this folder
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["refrigerants", "recipe", "output"])]
    pub(super) all: Option<PathBuf>,
    /// A YAML file: 'refrigerants: [R-454B, R-32]', then any of these options without hyphens, such
    /// as 'form: wallet', a line each
    #[arg(long, value_name = "FILE")]
    pub(super) recipe: Option<PathBuf>,
}

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope validate\n  zeotrope validate --format json\n  \
                  zeotrope validate --pairs published\n  \
                  zeotrope validate --random 40 --seed 1"
)]
pub(super) struct ValidateArgs {
    #[command(flatten)]
    pub(super) data: DataArgs,
    /// Parameters of pairs that were refitted to measured bubble points; without it refitted
    #[arg(long, value_name = "PARAMETERS", help_heading = "Refrigerants")]
    pub(super) pairs: Option<PairsArg>,
    /// Ask this many random questions instead and check every answer by its stability
    #[arg(long, value_name = "COUNT", help_heading = "Random questions")]
    pub(super) random: Option<usize>,
    /// Which random questions; without it 1
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "random",
        help_heading = "Random questions"
    )]
    pub(super) seed: Option<u64>,
    #[command(flatten)]
    pub(super) output: OutputArgs,
}

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  zeotrope completions bash\n  zeotrope completions fish")]
pub(super) struct CompletionsArgs {
    /// The shell
    #[arg(value_name = "SHELL")]
    pub(super) shell: clap_complete::Shell,
}
