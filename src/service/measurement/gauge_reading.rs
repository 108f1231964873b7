//! A pressure as a gauge shows it, and the absolute pressure behind it.

use super::gauge::{self, Added};
use super::kit::{Instrument, Kit};
use super::uncertainty::ErrorLimits;
use crate::units::{Atmosphere, BareUnit, Pressure, PressureUnit, Typed, parse_pressure};
use crate::{Error, Result};

/// A pressure as read, and how it was taken.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeReading {
    /// Absolute, corrected.
    pub pressure: Pressure,
    /// The unit in which it was typed.
    pub unit: PressureUnit,
    /// As shown, Pa from the gauge's own zero.
    pub shown: f64,
    /// After the correction of the kit, Pa.
    pub corrected: f64,
    /// What was added.
    pub added: Added,
    /// Limit of error, Pa.
    pub limit: Option<f64>,
}

impl GaugeReading {
    /// Reads a pressure as typed with a gauge at a site.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no pressure, is at or below a perfect vacuum, or is in an
    /// absolute unit of a gauge that shows none.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::gauge_reading::GaugeReading;
    /// use zeotrope::service::measurement::kit::Instrument;
    /// use zeotrope::units::Atmosphere;
    /// let vented = Instrument::default();
    /// let read = GaugeReading::parse("5barg", &vented, &Atmosphere::SEA_LEVEL)?;
    /// assert_eq!(read.pressure.in_pascal(), 601_325.0);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(text: &str, instrument: &Instrument, site: &Atmosphere) -> Result<Self> {
        let (typed, added) = typed(text, instrument, site)?;
        Self::taken(typed.value, typed.unit, added, instrument)
    }

    /// A pressure as read, its gauge units relative to what was `added`.
    ///
    /// # Errors
    /// As [`gauge::pressure`]; as the accuracy's limit, where it needs a span.
    pub fn taken(
        value: Pressure,
        unit: PressureUnit,
        added: Added,
        instrument: &Instrument,
    ) -> Result<Self> {
        let shown = match added {
            Added::Site(air) | Added::Other(air) if unit.is_gauge() => air.gauge_pascal(value),
            // An absolute unit, also on a cell that was zeroed in air and is relative to it.
            _ => value.in_pascal(),
        };
        let corrected = match &instrument.correction {
            Some(correction) => correction.applied(shown),
            None => shown,
        };
        let limit = match instrument.accuracy {
            Some(accuracy) => Some(accuracy.limit(shown, instrument.span)?),
            None => None,
        };
        Ok(Self {
            pressure: gauge::pressure(corrected, &added)?,
            unit,
            shown,
            corrected,
            added,
            limit,
        })
    }

    /// The limits of error of this reading with a kit.
    pub fn limits(&self, kit: &Kit) -> ErrorLimits {
        ErrorLimits {
            pressure: self.limit,
            site: match self.added {
                Added::Site(_) => kit.site,
                _ => None,
            },
            clamp: kit.clamp,
            contact: kit.contact,
            ..ErrorLimits::default()
        }
    }

    /// The air that its gauge units are relative to, where that is not the local one.
    pub const fn other_air(&self) -> Option<Atmosphere> {
        match self.added {
            Added::Other(air) => Some(air),
            Added::Site(_) | Added::Nothing => None,
        }
    }

    /// The pressure at the clamp, a drop in Pa on the way taken off.
    ///
    /// # Errors
    /// [`Error::Value`] where the drop leaves nothing of the pressure read.
    pub fn at_clamp(&self, drop: Option<f64>) -> Result<Pressure> {
        let pascal = self.pressure.in_pascal() - drop.unwrap_or(0.0);
        if pascal > 0.0 {
            return Ok(Pressure::pascal(pascal));
        }
        Err(Error::Value {
            quantity: "pressure drop",
            text: format!("{:.1} kPa", drop.unwrap_or(0.0) / 1e3),
            problem: "leaves nothing of the pressure read".into(),
            hint: "give by how much the pressure at the clamp is lower than at the tap".into(),
        })
    }
}

/// What is added to a figure in a unit.
///
/// # Errors
/// As [`gauge::Gauge::added`].
pub fn added(instrument: &Instrument, unit: PressureUnit, site: &Atmosphere) -> Result<Added> {
    match instrument.gauge {
        Some(gauge) => gauge.added(!unit.is_gauge(), site),
        None if unit.is_gauge() => Ok(Added::Site(*site)),
        None => Ok(Added::Nothing),
    }
}

/// The air that gauge units of a figure are relative to.
pub const fn air(added: &Added, site: &Atmosphere) -> Atmosphere {
    match added {
        Added::Site(air) | Added::Other(air) => *air,
        Added::Nothing => *site,
    }
}

/// The value as typed, its gauge units relative to what the gauge is relative to.
fn typed(
    text: &str,
    instrument: &Instrument,
    site: &Atmosphere,
) -> Result<(Typed<Pressure, PressureUnit>, Added)> {
    let at = |air: &Atmosphere| parse_pressure(text, BareUnit::Refused, air);
    // A sealed gauge may show a vacuum deeper than local atmospheric pressure.
    let first = at(site);
    let unit = match &first {
        Ok(typed) => typed.unit,
        Err(error) => match at(&Atmosphere::SEA_LEVEL) {
            Ok(typed) => typed.unit,
            Err(_) => return Err(error.clone()),
        },
    };
    let added = added(instrument, unit, site)?;
    let typed = match (&added, unit.is_gauge()) {
        (Added::Site(air) | Added::Other(air), true) => at(air)?,
        _ => first?,
    };
    Ok((typed, added))
}
