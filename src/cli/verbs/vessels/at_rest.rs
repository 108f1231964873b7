//! `at-rest`: a vessel that has stood for hours against what it is said to hold.

use crate::cli::args::meant;
use crate::cli::args::reading::VesselKitArgs;
use crate::cli::args::{BasisArgs, OutputArgs, SiteArgs, UnitArgs};
use crate::cli::errors::{Failure, OrFailure};
use crate::cli::verbs::air::moist_air::temperature;
use crate::cli::verbs::readings::instruments::{self, Read};
use crate::page::parts::all_warnings;
use crate::page::{self, Document};
use crate::service::date::Day;
use crate::service::measurement::gauge::Added;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::vessel::at_rest::{Against, Vessel, VesselLimits, WouldFit};
use crate::service::vessel::gauge_check::{GaugeCheckQuestion, GaugeChecked};
use crate::units::TemperatureDifference;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  zeotrope at-rest R-134a --pressure 96psig --temperature 80F \\\n      \
                  --gauge-accuracy 1.25psi --thermometer-accuracy 1F\n  \
                  zeotrope at-rest --pressure 132psig --temperature 75F --gauge-accuracy 3psi \\\n      \
                  --thermometer-accuracy 2F\n  \
                  zeotrope at-rest R-134a --pressure 88psig --temperature 80F --open-reading 0.5psig \\\n      \
                  --date 2026-11-25 --gauge-accuracy 1.25psi --thermometer-accuracy 1F"
)]
pub(crate) struct AtRestArgs {
    /// What the vessel is said to hold; without it, every refrigerant that would fit
    #[arg(value_name = "REFRIGERANT")]
    refrigerant: Option<String>,
    /// Gauge reading of the vessel, for example 96psig or 6.6barg
    #[arg(long, value_name = "PRESSURE")]
    pressure: String,
    /// Temperature of the vessel, steady for hours, for example 80F
    #[arg(long, value_name = "TEMPERATURE")]
    temperature: String,
    /// What the gauge shows open to air: checks the gauge on a vessel of certain contents
    #[arg(long, value_name = "PRESSURE", requires = "date")]
    open_reading: Option<String>,
    /// Date of the gauge check, YYYY-MM-DD
    #[arg(long, value_name = "DATE", requires = "open_reading")]
    date: Option<String>,
    #[command(flatten)]
    kit: VesselKitArgs,
    #[command(flatten)]
    basis: BasisArgs,
    #[command(flatten)]
    units: UnitArgs,
    #[command(flatten)]
    site: SiteArgs,
    #[command(flatten)]
    pub(crate) output: OutputArgs,
}

pub(crate) fn answer(args: &AtRestArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.site)?;
    let at = temperature("--temperature", &args.temperature)?;
    let (kit, instrument) = instruments::kit_at_vessel(&args.kit)?;
    // A check looks for the gauge's own error: an earlier correction is set aside.
    let instrument = Instrument {
        correction: instrument
            .correction
            .filter(|_| args.open_reading.is_none()),
        ..instrument
    };
    let read = instruments::read(&args.pressure, &instrument, &site).of_option("--pressure")?;
    let units = meant::units(&args.units, Some(at.unit), Some(read.unit))?;
    let catalogue = meant::catalogue(&args.basis.data)?;
    let limits = limits(&kit, &read)?;
    let style = args.output.style(units, site).of_gauge(read.other_air());
    let in_units = |error| Failure::in_units(error, &units, &site);
    let vessel = Vessel {
        read,
        temperature: at.value,
        kit,
        instrument,
        site,
    };
    let Some(name) = &args.refrigerant else {
        if args.open_reading.is_some() {
            return Err(Failure::usage(
                "a gauge is checked on a vessel whose contents are certain, and none was named",
                "name the refrigerant, for example 'zeotrope at-rest R-134a ...'",
            ));
        }
        let limits = limits.ok_or_else(|| {
            Failure::usage(
                "without the instruments' accuracy any refrigerant nearby would fit",
                "add --gauge-accuracy 3psi and --thermometer-accuracy 2F or a --kit that has \
                 both, or name a refrigerant",
            )
        })?;
        let found = WouldFit::new(&catalogue, vessel, limits)?;
        return Ok(page::would_fit(&found, site_warnings, &style));
    };
    let refrigerant = meant::refrigerant(&catalogue, name, &args.basis)?;
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    let (Some(open), Some(date)) = (&args.open_reading, &args.date) else {
        let found = Against::new(&refrigerant, vessel, limits).map_err(in_units)?;
        return Ok(page::at_rest(&found, &refrigerant, warnings, &style));
    };
    let date = date_of(date)?.to_owned();
    let limits = limits.ok_or_else(|| {
        Failure::usage(
            "a gauge check needs the gauge's class and the thermometer's accuracy",
            "add --gauge-accuracy 1.25psi and --thermometer-accuracy 1F, or a --kit that has both",
        )
    })?;
    let open = open_reading(open, &vessel)?;
    let asked = GaugeCheckQuestion {
        vessel,
        limits,
        open,
        date,
        unit: units.gauge,
    };
    let found = GaugeChecked::new(&refrigerant, asked).map_err(in_units)?;
    Ok(page::gauge_check(&found, &refrigerant, warnings, &style))
}

/// What the gauge at a vessel shows open to air, Pa.
fn open_reading(text: &str, vessel: &Vessel) -> Result<f64, Failure> {
    let unlimited = Instrument {
        gauge: vessel.instrument.gauge,
        ..Instrument::default()
    };
    let open = instruments::read(text, &unlimited, &vessel.site).of_option("--open-reading")?;
    let of_site = |read: &Read| matches!(read.added, Added::Site(_));
    if of_site(&vessel.read) && of_site(&open) {
        return Ok(open.shown);
    }
    Err(Failure::usage(
        "a gauge check needs figures that are relative to local atmospheric pressure",
        "zero the gauge here and give both in a gauge unit, for example 88psig and 0.5psig",
    ))
}

/// The limits of error, where gauge and thermometer both have one.
fn limits(kit: &Kit, read: &Read) -> Result<Option<VesselLimits>, Failure> {
    let known = read.limits(kit);
    match (known.pressure, known.clamp) {
        (None, None) => Ok(None),
        (Some(gauge), Some(thermometer)) => Ok(Some(VesselLimits {
            gauge,
            site: known.site.unwrap_or(0.0),
            thermometer: TemperatureDifference::kelvin(thermometer),
            contact: TemperatureDifference::kelvin(known.contact.unwrap_or(0.0)),
        })),
        _ => Err(Failure::usage(
            "one of the two limits of error is missing",
            "give both --gauge-accuracy 1.25psi and --thermometer-accuracy 1F, or neither",
        )),
    }
}

/// A date as the calendar has it.
fn date_of(text: &str) -> Result<&str, Failure> {
    Day::parse(text).map(|_| text).ok_or_else(|| {
        Failure::usage(
            format!("--date: '{text}' is not a date"),
            "write year, month and day, for example 2026-11-25",
        )
    })
}
