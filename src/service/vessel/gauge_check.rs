//! A gauge against a vessel at rest whose contents are certain.

use crate::error::{Blank, Reason};
use crate::service::reasons;
use serde::{Serialize, Serializer};

use super::at_rest::{Vessel, VesselLimits, line_and_slope};
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::significance::Limit;
use crate::units::{Atmosphere, Pressure, PressureUnit, Temperature, fixed};
use crate::{Error, Refrigerant, Result};

/// A correction of one gauge, from one vessel on one day. Not a calibration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeCheck {
    /// What the gauge shows open to air, Pa; to be taken off every reading first.
    pub zero_offset: f64,
    /// What a reading without its offset is to be multiplied with.
    pub span_factor: f64,
    /// Gauge pressure that the vessel should show, Pa.
    pub expected: f64,
    /// Read minus expected after the offset is taken off, Pa.
    pub error: f64,
    /// What thermometer, its contact and local atmospheric pressure make of the expected pressure, Pa.
    pub expected_limit: Limit,
}

impl GaugeCheck {
    /// Whether the error of the span lies within what is not known of the expected pressure; the
    /// factor is then best left at 1.
    pub fn span_explained(&self) -> bool {
        self.error.abs() <= self.expected_limit.worst
    }
}

/// Checks a gauge: its zero open to air, its span on a vessel of a pure fluid or an azeotrope that
/// is known for certain.
///
/// corrected = (reading - `zero_offset`) x `span_factor`, gauge. `open` and `read` are what the
/// gauge shows, in Pa above local atmospheric pressure, without any earlier correction; its class is
/// `limits.gauge`.
///
/// # Errors
/// [`Error::NoAnswer`] for a zeotrope, whose pressure at rest is not one; for an expected pressure
/// that is less than five times the class above the air, with which a span cannot be told; and
/// where zero or span are off by more than twice the class: such a gauge is faulty, or the vessel
/// is not what it is said to be. [`Error::OutOfRange`] off the saturation line.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::vessel::at_rest::VesselLimits;
/// use zeotrope::service::vessel::gauge_check::gauge_check;
/// use zeotrope::units::{Atmosphere, PASCAL_PER_PSI, Temperature, TemperatureDifference};
/// let limits = VesselLimits {
///     gauge: 1.25 * PASCAL_PER_PSI,
///     thermometer: TemperatureDifference::fahrenheit_degrees(1.0),
///     ..VesselLimits::default()
/// };
/// // R-134a at 80 °F saturates at 86.7 psig (computed with a general-purpose open library, a
/// // cross-check); by hand 86.7/(88.9 - 1.0) = 0.986.
/// let found = gauge_check(
///     &Refrigerant::named("R-134a")?,
///     1.0 * PASCAL_PER_PSI,
///     88.9 * PASCAL_PER_PSI,
///     Temperature::fahrenheit(80.0),
///     &Atmosphere::SEA_LEVEL,
///     limits,
/// )?;
/// assert!((found.span_factor - 0.986).abs() < 0.001);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn gauge_check(
    refrigerant: &Refrigerant,
    open: f64,
    read: f64,
    at: Temperature,
    site: &Atmosphere,
    limits: VesselLimits,
) -> Result<GaugeCheck> {
    // The standard numbers azeotropes from R-500.
    let azeotrope = refrigerant
        .blend()
        .is_some_and(|blend| blend.is_azeotrope());
    if !refrigerant.is_pure() && !azeotrope {
        return Err(Error::NoAnswer {
            reason: Reason::of(
                reasons::GAUGE_CHECK_NOT_PURE,
                "refrigerant",
                refrigerant.designation(),
            ),
            hint: "check the gauge on a vessel of a certain pure fluid, such as R-134a".into(),
        });
    }
    let (line, slope) = line_and_slope(|at| refrigerant.bubble_pressure(at), at)?;
    let expected = site.gauge_pascal(line);
    if expected < 5.0 * limits.gauge {
        return Err(Error::NoAnswer {
            reason: reasons::GAUGE_CHECK_TOO_LOW.into(),
            hint: "take a fluid of higher pressure, or a warmer vessel".into(),
        });
    }
    let error = read - open - expected;
    for (what, off) in [
        (reasons::GAUGE_CHECK_ZERO, open),
        (reasons::GAUGE_CHECK_SPAN, error),
    ] {
        if off.abs() > 2.0 * limits.gauge {
            return Err(Error::NoAnswer {
                reason: Reason::with(what, "off", Blank::PressureSize(off))
                    .and("class", Blank::PressureSize(limits.gauge)),
                hint: "no correction is given: have the gauge calibrated, and make sure what the \
                       vessel holds"
                    .into(),
            });
        }
    }
    Ok(GaugeCheck {
        zero_offset: open,
        span_factor: expected / (read - open),
        expected,
        error,
        expected_limit: limits.without_gauge(slope),
    })
}

/// A gauge to check on a vessel.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeCheckQuestion {
    /// The vessel, read without an earlier correction.
    pub vessel: Vessel,
    /// The instruments' limits.
    pub limits: VesselLimits,
    /// What the gauge shows open to air, Pa.
    pub open: f64,
    /// Date of the check, YYYY-MM-DD.
    pub date: String,
    /// The gauge unit of the kit file's entry.
    pub unit: PressureUnit,
}

/// A gauge checked on a vessel.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeChecked {
    /// What the refrigerant is called and made of.
    pub identity: Identity,
    /// The question.
    pub asked: GaugeCheckQuestion,
    /// What the check found.
    pub check: GaugeCheck,
    /// What the numbers rest on.
    pub model: Model,
}

impl GaugeChecked {
    /// Checks a gauge.
    ///
    /// # Errors
    /// As [`gauge_check`].
    pub fn new(refrigerant: &Refrigerant, asked: GaugeCheckQuestion) -> Result<Self> {
        let vessel = &asked.vessel;
        let (read, at) = (vessel.read.shown, vessel.temperature);
        let check = gauge_check(
            refrigerant,
            asked.open,
            read,
            at,
            &vessel.site,
            asked.limits,
        )?;
        let facts = Facts::of_refrigerant(refrigerant);
        Ok(Self {
            identity: facts.identity,
            asked,
            check,
            model: facts.model,
        })
    }

    /// What the vessel should show.
    pub fn expected(&self) -> Pressure {
        self.asked
            .vessel
            .site
            .from_gauge_pascal(self.check.expected)
    }

    /// The entry that a kit file takes over.
    pub fn kit_entry(&self) -> String {
        let unit = self.asked.unit;
        let offset = fixed(
            self.check.zero_offset / unit.pascal(),
            unit.difference_decimals(),
        );
        let factor = if self.check.span_explained() {
            "1".to_owned()
        } else {
            fixed(self.check.span_factor, 4)
        };
        let (symbol, date) = (unit.difference_symbol(), &self.asked.date);
        format!("zero_offset: {offset}{symbol}, span_factor: {factor}, checked: {date}")
    }
}

impl Serialize for GaugeChecked {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            date: &'a str,
            #[serde(flatten)]
            vessel: &'a Vessel,
            expected_gauge_Pa: f64,
            expected_limit_Pa: f64,
            zero_offset_Pa: f64,
            span_error_Pa: f64,
            span_factor: f64,
            kit_entry: String,
            calibration: bool,
            span_explained: bool,
            atmosphere_Pa: Pressure,
            model: &'a Model,
        }
        let (asked, check) = (&self.asked, &self.check);
        Keys {
            identity: &self.identity,
            date: &asked.date,
            vessel: &asked.vessel,
            expected_gauge_Pa: check.expected,
            expected_limit_Pa: check.expected_limit.worst,
            zero_offset_Pa: check.zero_offset,
            span_error_Pa: check.error,
            span_factor: check.span_factor,
            kit_entry: self.kit_entry(),
            calibration: false,
            span_explained: check.span_explained(),
            atmosphere_Pa: asked.vessel.site.pressure(),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
