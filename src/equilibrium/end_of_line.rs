//! What is said of a question beyond the end of a blend's line.

use super::BlendLimits;
use super::bubble_dew::{self, Branch};
use super::envelope::Envelope;
use crate::error::{Error, RangeUnit, reasons};
use crate::helmholtz::Mixture;

/// The highest pressure of a branch, Pa.
pub(super) fn highest_pressure(envelope: &Envelope, branch: Branch) -> f64 {
    match branch {
        Branch::Bubble => envelope.cricondenbar.pressure,
        Branch::Dew => envelope.critical.pressure,
    }
}

/// A pressure in Pa above a branch.
pub(super) fn too_high(envelope: &Envelope, branch: Branch, pressure: f64) -> Error {
    Error::OutOfRange {
        quantity: "pressure",
        value: pressure,
        low: 0.0,
        high: highest_pressure(envelope, branch),
        unit: RangeUnit::Pascal,
        range: match branch {
            Branch::Bubble => reasons::RANGE_BUBBLE_LINE.into(),
            Branch::Dew => reasons::RANGE_DEW_LINE.into(),
        },
    }
}

/// A temperature in K at which a branch has no point, above its end or not.
pub(super) fn too_hot(
    envelope: &Envelope,
    mixture: &Mixture,
    branch: Branch,
    temperature: f64,
) -> Error {
    let high = match branch {
        Branch::Bubble => envelope.critical.temperature,
        Branch::Dew => envelope.cricondentherm.temperature,
    };
    if temperature <= high {
        return bubble_dew::not_found(branch, "temperature");
    }
    Error::OutOfRange {
        quantity: "temperature",
        value: temperature,
        low: BlendLimits::of(mixture).coldest,
        high,
        unit: RangeUnit::Kelvin,
        range: match branch {
            Branch::Bubble => reasons::RANGE_BUBBLE_LINE_TO_CRITICAL.into(),
            Branch::Dew => reasons::RANGE_DEW_LINE.into(),
        },
    }
}
