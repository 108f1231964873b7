//! `evacuation`: a vacuum against water and ice; the shape of a rise test.

use std::path::{Path, PathBuf};

use crate::Refrigerant;
use crate::catalogue::Basis;
use crate::cli::args::meant;
use crate::cli::args::meant::option;
use crate::cli::args::{DataArgs, OutputArgs, SheetArgs, SiteArgs, UnitArgs};
use crate::cli::errors::Failure;
use crate::cli::io::rows::{self, CsvRows};
use crate::cli::verbs::air::moist_air::temperature;
use crate::page::{self, Document};
use crate::service::vessel::evacuation::{Evacuation, EvacuationQuestion};
use crate::service::vessel::rise::{Hold, Resolution};
use crate::units::{
    Atmosphere, BareUnit, CellValue, Pressure, PressureUnit, Typed, parse_duration, parse_pressure,
};

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
    if rise.is_none() {
        rows::check_alone(&args.sheet, "--rise")?;
    }
    let given = vacuum("--resolution", &args.resolution)?;
    let found = rise
        .map(|path| readings(path, &args.sheet, &site))
        .transpose()?;
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
fn readings(path: &Path, args: &SheetArgs, site: &Atmosphere) -> Result<Readings, Failure> {
    let lacks = |what: &str| {
        Failure::no_answer(
            format!("{}: has no column {what}", path.display()),
            "name them time_min and pressure_micron, or say which they are: \
             --column time=HEADER --column pressure=HEADER:micron",
        )
    };
    let file = CsvRows::open(path, args, BareUnit::Absolute)?;
    file.dates(args)?;
    let (times, clock) = file
        .clock()
        .ok_or_else(|| lacks("time_s, time_min, time_h or time"))?;
    let place = file.heads.meaning(&["pressure"]).map_err(|error| {
        let hint = error.hint().unwrap_or_default();
        Failure::no_answer(format!("{}: {error}", path.display()), hint)
    })?;
    let unit = place
        .as_ref()
        .and_then(|place| place.column.pressure_unit());
    let (Some(place), Some(unit)) = (place, unit) else {
        return Err(lacks(
            "pressure_micron, pressure_Pa, pressure_mbar or pressure_torr",
        ));
    };
    let dialect = file.dialect;
    let (mut found, mut decimals) = (Vec::new(), 0);
    file.each(|row| {
        let wrong = |error: crate::Error| {
            let place = format!("{}, line {}", path.display(), row.line());
            Failure::no_answer(
                format!("{place}: {error}"),
                error.hint().unwrap_or_default(),
            )
        };
        let is_blank = row.iter().all(|cell| cell.trim_ascii().is_empty());
        if is_blank || row.get(0).is_some_and(|cell| cell.starts_with(b"#")) {
            return Ok(());
        }
        if let CellValue::Pressure(pressure) = dialect.read(&place, row, site).map_err(wrong)? {
            let time = String::from_utf8_lossy(row.get(times).unwrap_or_default());
            let time = dialect.plain(&time);
            found.push((clock.seconds(&time).map_err(wrong)?, pressure));
            let cell = String::from_utf8_lossy(row.get(place.index).unwrap_or_default());
            decimals = decimals.max(dialect.decimals(&cell));
        }
        Ok(())
    })?;
    let step = unit.pascal() * 10f64.powi(-(decimals.min(12) as i32));
    Ok((found, Resolution::Written(Pressure::pascal(step))))
}
