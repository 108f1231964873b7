//! The kit as meant: what each gauge is relative to and how accurate it and the clamps are.

use std::path::Path;

use crate::Result;
use crate::cli::args::UnitArgs;
use crate::cli::args::meant::option;
use crate::cli::args::reading::{
    AccuracyArgs, GaugeAccuracyArgs, GaugeArgs, SideArg, SideArgs, VesselAccuracyArgs,
    VesselKitArgs,
};
use crate::cli::errors::Failure;
use crate::page::Style;
use crate::service::measurement::accuracy::{GaugeAccuracy, parse_span};
pub(crate) use crate::service::measurement::gauge_reading::GaugeReading as Read;
use crate::service::measurement::kit::{
    Instrument, Kit, gauge_of, parse_clamp, parse_kind, parse_site, parse_zeroed,
};
use crate::units::Atmosphere;

/// Readings in the unit in which they were typed, where no other was asked for.
pub(crate) fn as_typed(style: Style, asked: &UnitArgs) -> Style {
    Style {
        as_typed: asked.units.is_none() && asked.pressure_unit.is_none(),
        ..style
    }
}

/// A gauge of which its accuracy alone was said.
fn with_accuracy(args: &GaugeAccuracyArgs) -> std::result::Result<Instrument, Failure> {
    Ok(Instrument {
        accuracy: option(
            "--gauge-accuracy",
            args.gauge_accuracy.as_deref(),
            GaugeAccuracy::parse,
        )?,
        span: option("--gauge-span", args.gauge_span.as_deref(), parse_span)?,
        ..Instrument::default()
    })
}

/// The gauge at a vessel, and the limit of its thermometer, K.
pub(crate) fn at_vessel(
    args: &VesselAccuracyArgs,
) -> std::result::Result<(Instrument, Option<f64>), Failure> {
    Ok((with_accuracy(&args.gauge)?, thermometer(args)?))
}

fn thermometer(args: &VesselAccuracyArgs) -> std::result::Result<Option<f64>, Failure> {
    option(
        "--thermometer-accuracy",
        args.thermometer_accuracy.as_deref(),
        parse_clamp,
    )
}

/// The kit of a file, if one was named.
fn kit_of_file(path: Option<&Path>) -> Result<Kit> {
    path.map_or_else(|| Ok(Kit::default()), Kit::read)
}

/// Puts what was said of the gauges in the place of what the kit says.
fn say_of_gauges(
    kit: &mut Kit,
    gauge: &GaugeArgs,
    accuracy: &GaugeAccuracyArgs,
) -> std::result::Result<(), Failure> {
    let kind = option("--gauge", gauge.gauge.as_deref(), parse_kind)?;
    let zeroed = option("--zeroed", gauge.zeroed.as_deref(), parse_zeroed)?;
    let said = with_accuracy(accuracy)?;
    for side in [&mut kit.low, &mut kit.high] {
        side.gauge = gauge_of(kind, zeroed).or(side.gauge);
        side.accuracy = said.accuracy.or(side.accuracy);
        side.span = said.span.or(side.span);
    }
    Ok(())
}

/// The kit at a vessel, whose thermometer is the kit's clamp, and the one of its gauges that is
/// used there.
pub(crate) fn kit_at_vessel(
    args: &VesselKitArgs,
) -> std::result::Result<(Kit, Instrument), Failure> {
    let mut kit = kit_of_file(args.kit.as_deref())?;
    let nothing = Instrument::default();
    let side = match args.side {
        Some(side) => side,
        None if kit.high == nothing || kit.low == kit.high => SideArg::Low,
        None if kit.low == nothing => SideArg::High,
        None => {
            return Err(Failure::usage(
                "the kit's two gauges differ, and which one is at the vessel was not said",
                "add --side low or --side high",
            ));
        }
    };
    say_of_gauges(&mut kit, &args.gauge, &args.accuracy.gauge)?;
    kit.clamp = thermometer(&args.accuracy)?.or(kit.clamp);
    let instrument = match side {
        SideArg::Low => kit.low.clone(),
        SideArg::High => kit.high.clone(),
    };
    Ok((kit, instrument))
}

/// The kit of a file, if one was named, with what was said beside it put in its place.
pub(crate) fn kit(gauge: &GaugeArgs, accuracy: &AccuracyArgs) -> std::result::Result<Kit, Failure> {
    let mut kit = kit_of_file(accuracy.kit.as_deref())?;
    say_of_gauges(&mut kit, gauge, &accuracy.gauge)?;
    let clamp = option(
        "--clamp-accuracy",
        accuracy.clamp_accuracy.as_deref(),
        parse_clamp,
    )?;
    let contact = option(
        "--clamp-contact",
        accuracy.clamp_contact.as_deref(),
        parse_clamp,
    )?;
    let site = option(
        "--site-accuracy",
        accuracy.site_accuracy.as_deref(),
        parse_site,
    )?;
    kit.clamp = clamp.or(kit.clamp);
    kit.contact = contact.or(kit.contact);
    kit.site = site.or(kit.site);
    Ok(kit)
}

/// As [`kit`], for gauges of two sides that may differ, and the limit of the air thermometers.
pub(crate) fn kit_of_sides(
    gauge: &GaugeArgs,
    accuracy: &AccuracyArgs,
    sides: &SideArgs,
) -> std::result::Result<(Kit, Option<f64>), Failure> {
    let mut kit = kit(gauge, accuracy)?;
    let own = [
        (&mut kit.low, "--low", &sides.low_accuracy, &sides.low_span),
        (
            &mut kit.high,
            "--high",
            &sides.high_accuracy,
            &sides.high_span,
        ),
    ];
    for (side, name, accuracy, span) in own {
        let accuracy = option(
            &format!("{name}-accuracy"),
            accuracy.as_deref(),
            GaugeAccuracy::parse,
        )?;
        let span = option(&format!("{name}-span"), span.as_deref(), parse_span)?;
        side.accuracy = accuracy.or(side.accuracy);
        side.span = span.or(side.span);
    }
    let air = option("--air-accuracy", sides.air_accuracy.as_deref(), parse_clamp)?;
    Ok((kit, air))
}

/// Reads a pressure as typed with a gauge at a site.
pub(crate) fn read(text: &str, instrument: &Instrument, site: &Atmosphere) -> Result<Read> {
    Read::parse(text, instrument, site)
}
