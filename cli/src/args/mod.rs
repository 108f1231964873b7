//! The arguments as typed: groups that several verbs share.

pub(crate) mod choices;
pub(crate) mod given;
pub(crate) mod meant;
pub(crate) mod reading;
pub(crate) mod signs;

use std::path::PathBuf;

use choices::choice;
use clap::ValueEnum;

use zeotrope::catalogue::Basis;
use zeotrope::chart::picture::Plane;
use zeotrope::page::{Detail, Footer, Style};
use zeotrope::service::sheet::Decimal;
use zeotrope::units::{Atmosphere, DateOrder, UnitSet};

/// Where an answer goes, and in which format.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Output")]
pub(crate) struct OutputArgs {
    /// text, markdown, csv, json, html, svg or pdf; without it by the ending of --output, else text
    #[arg(long, value_name = "FORMAT")]
    pub(crate) format: Option<String>,
    /// Write to a file in place of standard output
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Replace the file if it exists
    #[arg(long)]
    pub(crate) force: bool,
    /// The figures and the hazards that apply, without notes and sources
    #[arg(long, conflicts_with = "sources")]
    pub(crate) brief: bool,
    /// Every equation and pair with its source
    #[arg(long)]
    pub(crate) sources: bool,
}

impl OutputArgs {
    /// How much of an answer is shown.
    pub(crate) const fn detail(&self) -> Detail {
        match (self.brief, self.sources) {
            (true, _) => Detail::Brief,
            (_, true) => Detail::Sources,
            _ => Detail::Usual,
        }
    }

    /// The style of an answer.
    pub(crate) fn style(&self, units: UnitSet, site: Atmosphere) -> Style {
        Style {
            detail: self.detail(),
            ..Style::new(units, site)
        }
    }
}

/// A system of display units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum System {
    /// °F, psi, Btu, lb
    Ip,
    /// °C, bar, kJ, kg
    Si,
}

/// The units of an answer; without any, those of the question.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Units")]
pub(crate) struct UnitArgs {
    /// Display units
    #[arg(long, value_name = "SYSTEM")]
    pub(crate) units: Option<System>,
    /// C, F or K
    #[arg(long, value_name = "UNIT")]
    pub(crate) temperature_unit: Option<String>,
    /// psig, psia, barg, bara, kPag, kPaa, MPag or MPaa
    #[arg(long, value_name = "UNIT")]
    pub(crate) pressure_unit: Option<String>,
}

/// The air that gauges read against; sea level if nothing is said.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Site")]
pub(crate) struct SiteArgs {
    /// Elevation of the site, for example 1600m or 5280ft
    #[arg(long, value_name = "HEIGHT")]
    pub(crate) elevation: Option<String>,
    /// Barometer reading at the site, not reduced to sea level, for example 24.6inHga
    #[arg(long, value_name = "PRESSURE")]
    pub(crate) station_pressure: Option<String>,
}

/// Where facts come from.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Refrigerants")]
pub(crate) struct DataArgs {
    /// Folder with your own pure/, pairs/, departures/ and blends.yaml
    #[arg(long, value_name = "DIR")]
    pub(crate) data: Option<PathBuf>,
}

/// How compositions are read.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Refrigerants")]
pub(crate) struct BasisArgs {
    #[command(flatten)]
    pub(crate) data: DataArgs,
    /// Read compositions such as "R-32/R-125 (70/30)" as mole % in place of mass %
    #[arg(long)]
    pub(crate) mole: bool,
    /// Parameters of pairs that were refitted to measured bubble points; without it refitted
    #[arg(long, value_name = "PARAMETERS")]
    pub(crate) pairs: Option<PairsArg>,
}

impl BasisArgs {
    /// What amounts count.
    pub(crate) const fn basis(&self) -> Basis {
        if self.mole { Basis::Mole } else { Basis::Mass }
    }
}

/// What any question about a refrigerant may be asked with.
#[derive(Debug, Clone, Default, clap::Args)]
pub(crate) struct AskedArgs {
    #[command(flatten)]
    pub(crate) basis: BasisArgs,
    #[command(flatten)]
    pub(crate) units: UnitArgs,
    #[command(flatten)]
    pub(crate) site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

/// Which parameters of a refitted pair are used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum PairsArg {
    /// Those of the refit
    Refitted,
    /// Those of the paper
    Published,
}

/// Rows of a file in place of one question.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Rows of a file")]
pub(crate) struct RowArgs {
    /// Answer every row of a CSV file, - for standard input; column headers name quantity and unit, for
    /// example temperature_C or suction_pressure_psig; answers are in SI
    #[arg(
        long,
        value_name = "FILE",
        conflicts_with_all = ["units", "temperature_unit", "pressure_unit"]
    )]
    pub(crate) csv: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) columns: ColumnArgs,
}

/// What the columns of a file are, and how it is written.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Rows of a file")]
pub(crate) struct SheetArgs {
    /// NAME=HEADER or NAME=HEADER:UNIT says what a column is, for example
    /// suction_pressure=PT101:psig; may be given again. HEADER alone chooses where several fit
    #[arg(long, value_name = "COLUMN")]
    pub(crate) column: Vec<String>,
    /// A YAML file of such columns, a line each: 'suction_pressure: PT101:psig'
    #[arg(long, value_name = "FILE")]
    pub(crate) columns_file: Option<PathBuf>,
    /// Which number of a date such as 11/12/2026 is the month
    #[arg(value_parser = choice::<DateOrder>(), long, value_name = "ORDER")]
    pub(crate) date_order: Option<DateOrder>,
    /// Decimal sign of the file, where its cells do not decide
    #[arg(value_parser = choice::<Decimal>(), long, value_name = "SIGN")]
    pub(crate) decimal: Option<Decimal>,
}

/// What the columns of a file are, and which answers are written.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Rows of a file")]
pub(crate) struct ColumnArgs {
    #[command(flatten)]
    pub(crate) sheet: SheetArgs,
    /// Answers to write, each in the unit of its name: dew_temperature_F,glide_F; without it all, in
    /// SI
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(crate) answers: Vec<String>,
}

/// A simple rule shown next to the real answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ModelArg {
    /// Raoult's law with each component's own saturation pressure
    Ideal,
}

/// What helps to teach and to learn.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Teaching")]
pub(crate) struct TeachingArgs {
    /// A simple rule to show next to the answer
    #[arg(long, value_name = "MODEL")]
    pub(crate) model: Option<ModelArg>,
    /// The working, step by step
    #[arg(long)]
    pub(crate) explain: bool,
}

/// What a chart shows and how finely.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Chart")]
pub(crate) struct LookArgs {
    /// Largest rounding error when reading a cell; sets the number of digits. 0.1K, on cards 0.5K, if not given
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) resolution: Option<String>,
    /// uniform (one number of decimals a column) or each (as many as a cell needs); on paper and in
    /// HTML uniform
    #[arg(long, value_name = "KIND")]
    pub(crate) digits: Option<Digits>,
    /// Lines of a blend: bubble, dew, mean, separated by commas
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(crate) columns: Vec<String>,
    /// One column where the glide stays below this; 0.5K if not given
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) one_column_below: Option<String>,
    /// The same cells in a second unit of pressure, or of temperature where rows are pressures
    #[arg(long, value_name = "UNIT")]
    pub(crate) also: Option<String>,
    /// Figures with a decimal comma
    #[arg(long)]
    pub(crate) decimal_comma: bool,
    /// A picture in place of the table, as SVG, HTML or PDF: curves, lens, triangle, coil or dome;
    /// --format svg alone draws curves
    #[arg(long, value_name = "KIND")]
    pub(crate) picture: Option<String>,
    /// An exercise: the cells left blank, the full table behind it
    #[arg(long)]
    pub(crate) blank: bool,
}

/// What a picture shows.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Picture")]
pub(crate) struct PictureArgs {
    /// Plane of a dome: ph (pressure, enthalpy) or ts (temperature, entropy)
    #[arg(value_parser = choice::<Plane>(), long, value_name = "PLANE")]
    pub(crate) plane: Option<Plane>,
    /// Lines on a dome: temperature, pressure, enthalpy, entropy, quality, density, by commas
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(crate) isolines: Vec<String>,
    /// Liquid before the expansion device: a coil from its inlet
    #[arg(long, value_name = "TEMPERATURE")]
    pub(crate) liquid: Option<String>,
    /// Air beside a coil, entering and leaving: 27C,15C
    #[arg(long, value_name = "FROM,TO", conflicts_with = "water")]
    pub(crate) air: Option<String>,
    /// Water beside a coil, entering and leaving: 12C,7C
    #[arg(long, value_name = "FROM,TO")]
    pub(crate) water: Option<String>,
}

/// How many digits cells have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Digits {
    /// One number of decimals a column
    Uniform,
    /// As many as a cell needs
    Each,
}

/// How a chart is printed.
#[derive(Debug, Clone, Default, clap::Args)]
#[command(next_help_heading = "Print")]
pub(crate) struct PrintArgs {
    /// wall, folded (A6 or half Letter), wallet (85.6 x 54 mm), strip (for a gauge or hose) or
    /// sheet (eight cards with cut marks), as PDF where no format is named
    #[arg(long, value_name = "FORM")]
    pub(crate) form: Option<String>,
    /// a4, letter, a3 or tabloid
    #[arg(long, value_name = "PAPER")]
    pub(crate) paper: Option<String>,
    /// Size of a wallet card, or of the cards of a sheet: 3.5x2in, 85x55mm
    #[arg(long, value_name = "SIZE")]
    pub(crate) size: Option<String>,
    /// Rows and paper chosen so that a wall chart is read from this distance: 2m, 6ft
    #[arg(long, value_name = "DISTANCE")]
    pub(crate) legible_at: Option<String>,
    /// What a print shop cuts off around the page, with cut marks and trim box: 3mm
    #[arg(long, value_name = "LENGTH")]
    pub(crate) bleed: Option<String>,
    /// Bands of the table in one light hue: blue, green, yellow, red, violet, grey or #rrggbb
    #[arg(long, value_name = "COLOR")]
    pub(crate) tint: Option<String>,
    /// short (one line of papers) or full; short on cards and on walls of more than 4 refrigerants
    #[arg(value_parser = choice::<Footer>(), long, value_name = "KIND")]
    pub(crate) footer: Option<Footer>,
    /// A name for a mixture of your own, in place of its composition
    #[arg(long, value_name = "TEXT")]
    pub(crate) name: Option<String>,
    /// A box for the target superheat, blank where no value is given: 10F
    #[arg(long, value_name = "VALUE", num_args = 0..=1, require_equals = true, default_missing_value = "")]
    pub(crate) target_superheat: Option<String>,
    /// A box for the target subcooling, blank where no value is given
    #[arg(long, value_name = "VALUE", num_args = 0..=1, require_equals = true, default_missing_value = "")]
    pub(crate) target_subcooling: Option<String>,
    /// Lines below the table to write on
    #[arg(long, value_name = "COUNT", default_value_t = 0, value_parser = clap::value_parser!(u8).range(0..=20), hide_default_value = true)]
    pub(crate) writing_lines: u8,
    /// A QR code of this text; 'recipe' for the command that makes the card again
    #[arg(long, value_name = "TEXT")]
    pub(crate) qr: Option<String>,
    /// A last page that lists the cards
    #[arg(long)]
    pub(crate) contents: bool,
    /// Wall chart on the long side of the paper
    #[arg(long)]
    pub(crate) landscape: bool,
    /// A title of your own, above the usual one
    #[arg(long, value_name = "TEXT")]
    pub(crate) title: Option<String>,
    /// A line of your own below the table; may be given again
    #[arg(long, value_name = "TEXT")]
    pub(crate) note: Vec<String>,
    /// The shop's own line, above the title
    #[arg(long, value_name = "TEXT")]
    pub(crate) shop: Option<String>,
    /// The shop's logo, a PNG picture or an SVG document; on HTML and PDF
    #[arg(long, value_name = "FILE")]
    pub(crate) logo: Option<PathBuf>,
    /// Date of the print, 2026-05-31; without it SOURCE_DATE_EPOCH, on HTML and PDF today
    #[arg(long, value_name = "DATE")]
    pub(crate) date: Option<String>,
    /// Words of another language: a YAML file of 'name: text', as 'zeotrope words' prints it
    #[arg(long, value_name = "FILE")]
    pub(crate) words: Option<PathBuf>,
    /// Notes, hazards and footers as '#' lines above the column headers of CSV
    #[arg(long)]
    pub(crate) csv_header: bool,
    /// Every refrigerant included, a file each, into this folder
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["refrigerants", "recipe", "output"])]
    pub(crate) all: Option<PathBuf>,
    /// A YAML file: 'refrigerants: [R-454B, R-32]', then any of these options without hyphens, such
    /// as 'form: wallet', a line each
    #[arg(long, value_name = "FILE")]
    pub(crate) recipe: Option<PathBuf>,
}
