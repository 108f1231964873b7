//! `at-rest`: a vessel that has stood for hours against what it is said to hold.

use crate::args::AskedArgs;
use crate::args::meant::{self, value_of};
use crate::args::reading::VesselKitArgs;
use crate::errors::{Failure, OrFailure};
use crate::verbs::readings::instruments;
use zeotrope::page::{self, Document, all_warnings};
use zeotrope::service::date::Day;
use zeotrope::service::measurement::gauge_reading::GaugeReading;
use zeotrope::service::measurement::kit::Kit;
use zeotrope::service::vessel::at_rest::{Against, Vessel, VesselLimits, WouldFit};
use zeotrope::service::vessel::gauge_check::{GaugeCheckQuestion, GaugeChecked};
use zeotrope::units::parse_temperature;

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
    pub(crate) asked: AskedArgs,
}

pub(crate) fn answer(args: &AtRestArgs) -> Result<Document, Failure> {
    let (site, site_warnings) = meant::site(&args.asked.site)?;
    let at = value_of!(args.temperature, parse_temperature)?;
    let (kit, mut instrument) = instruments::kit_at_vessel(&args.kit)?;
    if args.open_reading.is_some() {
        // A check looks for the gauge's own error: an earlier correction is set aside.
        instrument.correction = None;
    }
    let read = |text: &str| GaugeReading::parse(text, &instrument, &site);
    let read = value_of!(args.pressure, read)?;
    let limits = limits(&kit, &read)?;
    let style = args.asked.style(Some(at.unit), Some(read.unit), site)?;
    let style = style.of_gauge(read.other_air());
    let vessel = Vessel {
        read,
        temperature: at.value,
        kit,
        instrument,
        site,
    };
    let Some(name) = &args.refrigerant else {
        return would_fit(args, vessel, limits)
            .map(|found| page::would_fit(&found, site_warnings, &style));
    };
    let refrigerant = args.asked.basis.refrigerant(name)?;
    let warnings = all_warnings(&refrigerant, &[], &site_warnings);
    let open = value_of!(args.open_reading, |text| vessel.open_reading(text))?;
    let Some((open, date)) = open.zip(value_of!(args.date, Day::read)?) else {
        let found = Against::new(&refrigerant, vessel, limits).in_style(&style)?;
        return Ok(page::at_rest(&found, &refrigerant, warnings, &style));
    };
    let limits = limits.ok_or_else(|| {
        Failure::usage(
            "a gauge check needs the gauge's class and the thermometer's accuracy",
            "add --gauge-accuracy 1.25psi and --thermometer-accuracy 1F, or a --kit that has both",
        )
    })?;
    let asked = GaugeCheckQuestion {
        vessel,
        limits,
        open,
        date: date.to_string(),
        unit: style.units.gauge,
    };
    let found = GaugeChecked::new(&refrigerant, asked).in_style(&style)?;
    Ok(page::gauge_check(&found, &refrigerant, warnings, &style))
}

/// Every refrigerant that would fit a vessel of unknown contents.
fn would_fit(
    args: &AtRestArgs,
    vessel: Vessel,
    limits: Option<VesselLimits>,
) -> Result<WouldFit, Failure> {
    if args.open_reading.is_some() {
        return Err(Failure::usage(
            "a gauge is checked on a vessel whose contents are certain, and none was named",
            "name the refrigerant, for example 'zeotrope at-rest R-134a ...'",
        ));
    }
    let limits = limits.ok_or_else(|| {
        Failure::usage(
            "without the instruments' accuracy any refrigerant nearby would fit",
            "add --gauge-accuracy 3psi and --thermometer-accuracy 2F or a --kit that has both, or \
             name a refrigerant",
        )
    })?;
    let catalogue = meant::catalogue(&args.asked.basis.data)?;
    let catalogue = meant::with_pairs(&catalogue, args.asked.basis.pairs);
    Ok(WouldFit::new(&catalogue, vessel, limits)?)
}

/// The limits of error, where gauge and thermometer both have one.
fn limits(kit: &Kit, read: &GaugeReading) -> Result<Option<VesselLimits>, Failure> {
    let known = read.limits(kit);
    if known.pressure.is_some() != known.clamp.is_some() {
        return Err(Failure::usage(
            "one of the two limits of error is missing",
            "give both --gauge-accuracy 1.25psi and --thermometer-accuracy 1F, or neither",
        ));
    }
    Ok(VesselLimits::of_reading(&known))
}
