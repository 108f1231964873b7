//! `evacuation`: a vacuum against water and ice; the shape of a rise test.

use std::path::PathBuf;

use crate::args::meant::{self, value_of};
use crate::args::{DataArgs, OutputArgs, SheetArgs, SiteArgs, UnitArgs};
use crate::errors::Failure;
use crate::io::rows;
use zeotrope::Refrigerant;
use zeotrope::catalogue::Basis;
use zeotrope::page::{self, Document};
use zeotrope::service::vessel::evacuation::{Evacuation, EvacuationQuestion};
use zeotrope::service::vessel::rise::{Hold, Resolution};
use zeotrope::service::vessel::rise_file::rise_readings;
use zeotrope::units::{BareUnit, parse_duration, parse_temperature, parse_vacuum};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("vacuum").required(true).multiple(true).args(["pressure", "rise", "temperature"]),
    after_help = "Examples:\n  zeotrope evacuation --pressure 500micron\n  \
                  zeotrope evacuation --pressure 5000micron --temperature 70F\n  \
                  zeotrope evacuation --temperature 10C\n\n\
                  A rise test's CSV: columns time_s, time_min, time_h or time, and pressure_micron, \
                  pressure_Pa, pressure_mbar or pressure_torr, from when the pump was shut off; \
                  --column says which they are in a file of other headers."
)]
pub(crate) struct EvacuationArgs {
    /// Vacuum reached, for example 500micron, 67Pa, 0.67mbar or 0.5torr
    #[arg(long, value_name = "PRESSURE")]
    pressure: Option<String>,
    /// Temperature of the coldest part, for example 70F
    #[arg(long, value_name = "TEMPERATURE")]
    temperature: Option<String>,
    /// Readings of a rise test, as CSV
    #[arg(long, value_name = "FILE")]
    rise: Option<PathBuf>,
    /// Pressure below which the rise test is to stay, for example 500micron, with --hold
    #[arg(long, value_name = "PRESSURE", requires_all = ["rise", "hold"])]
    limit: Option<String>,
    /// For how long it is to stay below --limit, for example 10min
    #[arg(long, value_name = "TIME", requires = "limit")]
    hold: Option<String>,
    /// Smallest step that the gauge of the rise test shows; without it their last digit
    #[arg(long, value_name = "PRESSURE", requires = "rise")]
    resolution: Option<String>,
    #[command(flatten)]
    sheet: SheetArgs,
    #[command(flatten)]
    data: DataArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &EvacuationArgs) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let at = value_of!(args.temperature, parse_temperature)?;
    let vacuum = |text: &str| parse_vacuum(text, &site);
    let pressure = value_of!(args.pressure, vacuum)?;
    let limit = value_of!(args.limit, vacuum)?;
    let given = value_of!(args.resolution, vacuum)?;
    let hold = value_of!(args.hold, parse_duration)?;
    let (scale, unit) = (at.map(|typed| typed.unit), pressure.map(|typed| typed.unit));
    let style = (args.output).style(meant::units(&args.units, scale, unit)?, site);
    if args.rise.is_none() {
        rows::check_alone(&args.sheet, "--rise")?;
    }
    let open = |path: &PathBuf| rows::open(path, &args.sheet, BareUnit::Absolute);
    let file = args.rise.as_ref().map(open).transpose()?;
    let rise = file.map(|file| rise_readings(file, &site)).transpose()?;
    let (readings, written) = rise.unzip();
    let asked = EvacuationQuestion {
        vacuum: pressure.map(|typed| typed.value),
        temperature: at.map(|typed| typed.value),
        resolution: given
            .map(|typed| Resolution::Given(typed.value))
            .or(written),
        rise: readings,
        hold: limit.zip(hold).map(|(limit, time)| Hold {
            limit: limit.value,
            time,
        }),
        site,
    };
    let catalogue = meant::catalogue(&args.data)?;
    let water = Refrigerant::from_catalogue(&catalogue, "R-718", Basis::Mass)?;
    let found = Evacuation::new(&water, &asked).map_err(|error| match (error, &args.rise) {
        (zeotrope::Error::NoAnswer { reason, hint }, Some(path)) => {
            Failure::no_answer(format!("{}: {reason}", path.display()), hint)
        }
        (other, _) => Failure::in_style(other, &style),
    })?;
    Ok(page::evacuation(&found, warnings, &style))
}
