//! Arguments of `chart`.

use crate::args::given::Given;
use crate::args::{AskedArgs, LookArgs, PictureArgs, PrintArgs};

#[derive(Debug, Clone, Default, clap::Args)]
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
                  zeotrope chart --all charts --format html"
)]
pub(crate) struct ChartArgs {
    /// Designations, chemical names or compositions
    #[arg(value_name = "REFRIGERANT", required_unless_present_any = ["all", "recipe"])]
    pub(crate) refrigerants: Vec<String>,
    /// First row: a temperature such as -40F, or a pressure such as 0psig
    #[arg(long, value_name = "VALUE")]
    pub(crate) from: Option<String>,
    /// Last row
    #[arg(long, value_name = "VALUE")]
    pub(crate) to: Option<String>,
    /// Step between rows: 5F, 2C, or 10psi where rows are pressures
    #[arg(long, value_name = "DIFFERENCE")]
    pub(crate) step: Option<String>,
    /// Rows at these temperatures, separated by commas
    #[arg(
        long,
        value_name = "LIST",
        value_delimiter = ',',
        conflicts_with_all = ["from", "to", "step"]
    )]
    pub(crate) temperatures: Vec<String>,
    /// Rows at these pressures, separated by commas; with rows of temperatures, both in one answer
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    pub(crate) pressures: Vec<String>,
    /// Lowest and highest value within the published tolerances of a blend's composition
    #[arg(long)]
    pub(crate) tolerance: bool,
    #[command(flatten)]
    pub(crate) look: LookArgs,
    #[command(flatten)]
    pub(crate) drawn: PictureArgs,
    #[command(flatten)]
    pub(crate) print: PrintArgs,
    #[command(flatten)]
    pub(crate) asked: AskedArgs,
    #[arg(skip)]
    pub(crate) given: Given,
}
