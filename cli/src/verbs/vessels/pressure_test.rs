//! `pressure-test`: a standing test with nitrogen, corrected for temperature.

use crate::args::meant::{self, value_of};
use crate::args::reading::VesselAccuracyArgs;
use crate::args::{DataArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::errors::{Failure, OrFailure};
use crate::verbs::readings::instruments;
use zeotrope::Refrigerant;
use zeotrope::catalogue::Basis;
use zeotrope::page::{self, Document};
use zeotrope::service::measurement::gauge_reading::GaugeReading;
use zeotrope::service::measurement::site::parse_station_pressure;
use zeotrope::service::vessel::pressure_test::{
    PressureTest, PressureTestQuestion, TestReading, one_place,
};
use zeotrope::units::{Atmosphere, TemperatureDifference, parse_elevation, parse_temperature};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope pressure-test --start-pressure 150psig --start-temperature 95F \\\n      \
                  --end-temperature 75F\n  \
                  zeotrope pressure-test --start-pressure 500psig --start-temperature 85F \\\n      \
                  --end-pressure 470psig --end-temperature 60F --gauge-accuracy 1psi \\\n      \
                  --thermometer-accuracy 1F"
)]
pub(crate) struct PressureTestArgs {
    /// Gauge reading at the start, for example 150psig or 10barg
    #[arg(long, value_name = "PRESSURE")]
    start_pressure: String,
    /// Temperature of the nitrogen at the start
    #[arg(long, value_name = "TEMPERATURE")]
    start_temperature: String,
    /// Gauge reading at the end
    #[arg(long, value_name = "PRESSURE")]
    end_pressure: Option<String>,
    /// Temperature of the nitrogen at the end
    #[arg(long, value_name = "TEMPERATURE")]
    end_temperature: String,
    /// Elevation where the end was read; a test does not change its place
    #[arg(long, value_name = "HEIGHT")]
    end_elevation: Option<String>,
    /// Barometer reading at the end, where the weather has changed
    #[arg(long, value_name = "PRESSURE")]
    end_station_pressure: Option<String>,
    #[command(flatten)]
    accuracy: VesselAccuracyArgs,
    #[command(flatten)]
    data: DataArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &PressureTestArgs) -> Result<Document, Failure> {
    let (site, warnings) = meant::site(&args.site)?;
    let end_site = end_site(args, &site)?;
    let begun_at = value_of!(args.start_temperature, parse_temperature)?;
    let ended_at = value_of!(args.end_temperature, parse_temperature)?;
    let (gauge, thermometer) = instruments::at_vessel(&args.accuracy)?;
    let at_start = |text: &str| GaugeReading::parse(text, &gauge, &site);
    let at_end = |text: &str| GaugeReading::parse(text, &gauge, &end_site);
    let start = value_of!(args.start_pressure, at_start)?;
    let end = value_of!(args.end_pressure, at_end)?;
    let units = meant::units(&args.units, Some(begun_at.unit), Some(start.unit))?;
    let style = args.output.style(units, site);
    // A class may allow more at one end than at the other: the larger counts for both.
    let limit = [Some(&start), end.as_ref()]
        .into_iter()
        .flatten()
        .filter_map(|read| read.limit)
        .max_by(f64::total_cmp);
    let asked = PressureTestQuestion {
        begun: TestReading {
            pressure: start.pressure,
            temperature: begun_at.value,
        },
        end_temperature: ended_at.value,
        ended: end.map(|read| read.pressure),
        gauge: limit,
        thermometer: thermometer.map(TemperatureDifference::kelvin),
        site,
        end_site,
    };
    let catalogue = meant::catalogue(&args.data)?;
    let nitrogen = Refrigerant::from_catalogue(&catalogue, "R-728", Basis::Mass)?;
    let found = PressureTest::new(&nitrogen, asked).in_style(&style)?;
    Ok(page::pressure_test(&found, &nitrogen, warnings, &style))
}

/// The air at the end: that of the start, unless the weather has changed.
fn end_site(args: &PressureTestArgs, site: &Atmosphere) -> Result<Atmosphere, Failure> {
    if let Some(end) = value_of!(args.end_elevation, parse_elevation)? {
        let start = value_of!(args.site.elevation, parse_elevation)?.ok_or_else(|| {
            Failure::usage(
                "an elevation was given for the end and none for the start",
                "add --elevation for the start",
            )
        })?;
        one_place(start, end)?;
    }
    let air = |text: &str| Atmosphere::from_station_pressure(parse_station_pressure(text)?);
    Ok(value_of!(args.end_station_pressure, air)?.unwrap_or(*site))
}
