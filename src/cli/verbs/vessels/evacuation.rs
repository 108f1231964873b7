//! `evacuation`: a vacuum against water and ice; the shape of a rise test.

use std::path::{Path, PathBuf};

use crate::Refrigerant;
use crate::catalogue::Basis;
use crate::cli::args::meant;
use crate::cli::args::meant::option;
use crate::cli::args::{DataArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::io::csv_in;
use crate::cli::verbs::air::moist_air::temperature;
use crate::page::{self, Document};
use crate::service::sheet::Clock;
use crate::service::vessel::evacuation::{Evacuation, EvacuationQuestion};
use crate::service::vessel::rise::{Hold, Resolution};
use crate::units::{
    Atmosphere, BareUnit, Pressure, PressureUnit, Typed, parse_duration, parse_pressure,
};

#[derive(Debug, clap::Args)]
#[command(
    group = clap::ArgGroup::new("vacuum").required(true).multiple(true).args(["pressure", "rise", "temperature"]),
    after_help = "Examples:\n  zeotrope evacuation --pressure 500micron\n  \
                  zeotrope evacuation --pressure 5000micron --temperature 70F\n  \
                  zeotrope evacuation --temperature 10C\n\n\
                  A rise test's CSV: columns time_s, time_min or time_h, and pressure_micron, \
                  pressure_Pa, pressure_mbar or pressure_torr, from when the pump was shut off."
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
    let at = args
        .temperature
        .as_deref()
        .map(|text| temperature("--temperature", text))
        .transpose()?;
    let vacuum = |name: &str, text: &Option<String>| {
        option(name, text.as_deref(), |text| vacuum(text, &site))
    };
    let pressure = vacuum("--pressure", &args.pressure)?;
    let limit = vacuum("--limit", &args.limit)?;
    let hold = option("--hold", args.hold.as_deref(), parse_duration)?;
    let units = meant::units(
        &args.units,
        at.map(|typed| typed.unit),
        pressure.map(|typed| typed.unit),
    )?;
    let rise = args.rise.as_deref();
    let given = vacuum("--resolution", &args.resolution)?;
    let found = rise.map(|path| readings(path, &site)).transpose()?;
    let (readings, written) = found.unzip();
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
    let found = Evacuation::new(&water, &asked).map_err(|error| match (error, rise) {
        (crate::Error::NoAnswer { reason, hint }, Some(path)) => {
            Failure::no_answer(format!("{}: {reason}", path.display()), hint)
        }
        (other, _) => Failure::in_units(other, &units, &site),
    })?;
    let style = args.output.style(units, site);
    Ok(page::evacuation(&found, warnings, &style))
}

/// A vacuum as typed. A bare number on a vacuum gauge is micron far more often than psi.
fn vacuum(text: &str, site: &Atmosphere) -> crate::Result<Typed<Pressure, PressureUnit>> {
    parse_pressure(text, BareUnit::Absolute, site).map_err(|error| {
        match text.trim().parse::<f64>() {
            Ok(_) => meant::hinted(error, &bare_vacuum(text.trim())),
            Err(_) => error,
        }
    })
}

/// The units of a vacuum that a number may have meant.
fn bare_vacuum(number: &str) -> String {
    let [first, middle @ .., last] =
        PressureUnit::OF_VACUUM.map(|unit| format!("{number}{}", unit.typed()));
    format!("write {first}, {} or {last}", middle.join(", "))
}

/// Time in s and pressure, and the last digit of the pressures as they are written.
type Readings = (Vec<(f64, Pressure)>, Resolution);

/// The readings of a rise test.
fn readings(path: &Path, site: &Atmosphere) -> Result<Readings, Failure> {
    let rows = csv_in::rows(path)?;
    let wrong = |problem: String| {
        Failure::no_answer(
            format!("{}: {problem}", path.display()),
            "'zeotrope evacuation --help' tells how a rise test is written",
        )
    };
    let Some((heads, body)) = rows.split_first() else {
        return Err(wrong("holds no readings".into()));
    };
    let mut places = heads.iter().enumerate();
    let clock = places
        .clone()
        .find_map(|(column, head)| Some((column, Clock::named(head)?)));
    let Some((time_column, clock)) = clock else {
        return Err(wrong("has no column time_s, time_min or time_h".into()));
    };
    let pressure =
        places.find_map(|(column, head)| Some((column, head.strip_prefix("pressure_")?)));
    let Some((pressure_column, unit)) = pressure else {
        return Err(wrong(
            "has no column pressure_micron, pressure_Pa, pressure_mbar or pressure_torr".into(),
        ));
    };
    let unit = PressureUnit::named(unit).map_err(|error| wrong(error.to_string()))?;
    let (mut found, mut decimals) = (Vec::new(), 0);
    for (row, cells) in body.iter().enumerate() {
        let cell = |column: usize| cells.get(column).map_or("", String::as_str);
        let shown = csv_in::number(path, cell(pressure_column), row + 2, pressure_column + 1)?;
        let written = cell(pressure_column).split_once('.');
        decimals = decimals.max(written.map_or(0, |(_, after)| after.len()));
        let time = clock
            .seconds(cell(time_column))
            .map_err(|error| wrong(format!("row {}: {error}", row + 2)))?;
        found.push((time, unit.write(shown, site)));
    }
    let step = unit.pascal() * 10f64.powi(-(decimals.min(12) as i32));
    Ok((found, Resolution::Written(Pressure::pascal(step))))
}
