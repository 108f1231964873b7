//! The kit as meant: what options say of it, for the rest what its file says.

use std::path::Path;

use crate::args::UnitArgs;
use crate::args::meant::value_of;
use crate::args::reading::{
    AccuracyArgs, GaugeAccuracyArgs, GaugeArgs, SideArg, SideArgs, VesselAccuracyArgs,
    VesselKitArgs,
};
use crate::errors::Failure;
use zeotrope::page::Style;
use zeotrope::service::measurement::accuracy::{GaugeAccuracy, parse_span};
use zeotrope::service::measurement::kit::{
    Instrument, Kit, gauge_of, parse_clamp, parse_kind, parse_site, parse_zeroed,
};

/// Readings in the unit in which they were typed, where no other was asked for.
pub(crate) fn as_typed(style: Style, asked: &UnitArgs) -> Style {
    Style {
        as_typed: asked.units.is_none() && asked.pressure_unit.is_none(),
        ..style
    }
}

/// What is said of a gauge.
fn said(gauge: &GaugeArgs, accuracy: &GaugeAccuracyArgs) -> Result<Instrument, Failure> {
    let kind = value_of!(gauge.gauge, parse_kind)?;
    let zeroed = value_of!(gauge.zeroed, parse_zeroed)?;
    Ok(Instrument {
        gauge: gauge_of(kind, zeroed),
        accuracy: value_of!(accuracy.gauge_accuracy, GaugeAccuracy::parse)?,
        span: value_of!(accuracy.gauge_span, parse_span)?,
        correction: None,
    })
}

/// The gauge at a vessel, and the limit of its thermometer, K.
pub(crate) fn at_vessel(args: &VesselAccuracyArgs) -> Result<(Instrument, Option<f64>), Failure> {
    let instrument = said(&GaugeArgs::default(), &args.gauge)?;
    Ok((
        instrument,
        value_of!(args.thermometer_accuracy, parse_clamp)?,
    ))
}

/// The kit of a file, if one was named.
fn kit_of_file(path: Option<&Path>) -> zeotrope::Result<Kit> {
    path.map_or_else(|| Ok(Kit::default()), Kit::read)
}

/// The kit at a vessel, whose thermometer is the kit's clamp, and the one of its gauges that is
/// used there.
pub(crate) fn kit_at_vessel(args: &VesselKitArgs) -> Result<(Kit, Instrument), Failure> {
    let kit = kit_of_file(args.kit.as_deref())?;
    let of_kit = match args.side {
        Some(SideArg::Low) => Some(&kit.low),
        Some(SideArg::High) => Some(&kit.high),
        None => kit.only_gauge(),
    };
    let of_kit = of_kit.ok_or_else(|| {
        Failure::usage(
            "the kit's two gauges differ, and which one is at the vessel was not said",
            "add --side low or --side high",
        )
    })?;
    let (said, accuracy) = (said(&args.gauge, &args.accuracy.gauge)?, &args.accuracy);
    let instrument = said.clone().or(of_kit);
    let all = Kit {
        low: said.clone(),
        high: said,
        clamp: value_of!(accuracy.thermometer_accuracy, parse_clamp)?,
        ..Kit::default()
    };
    Ok((all.or(&kit), instrument))
}

/// The kit of a file, if one was named, and what was said beside it.
pub(crate) fn kit(gauge: &GaugeArgs, accuracy: &AccuracyArgs) -> Result<Kit, Failure> {
    Ok(kit_of_sides(gauge, accuracy, &SideArgs::default())?.0)
}

/// As [`kit`], for gauges of two sides that may differ, and the limit of the air thermometers.
pub(crate) fn kit_of_sides(
    gauge: &GaugeArgs,
    accuracy: &AccuracyArgs,
    sides: &SideArgs,
) -> Result<(Kit, Option<f64>), Failure> {
    let file = kit_of_file(accuracy.kit.as_deref())?;
    let both = said(gauge, &accuracy.gauge)?;
    let low = Instrument {
        accuracy: value_of!(sides.low_accuracy, GaugeAccuracy::parse)?,
        span: value_of!(sides.low_span, parse_span)?,
        ..Instrument::default()
    };
    let high = Instrument {
        accuracy: value_of!(sides.high_accuracy, GaugeAccuracy::parse)?,
        span: value_of!(sides.high_span, parse_span)?,
        ..Instrument::default()
    };
    let said = Kit {
        low: low.or(&both),
        high: high.or(&both),
        clamp: value_of!(accuracy.clamp_accuracy, parse_clamp)?,
        contact: value_of!(accuracy.clamp_contact, parse_clamp)?,
        site: value_of!(accuracy.site_accuracy, parse_site)?,
        ..Kit::default()
    };
    let air = value_of!(sides.air_accuracy, parse_clamp)?;
    Ok((said.or(&file), air))
}
