//! A vessel at rest that holds liquid: its pressure against bubble and dew, and a gauge against it.

use crate::catalogue::{Basis, Catalogue};
use crate::service::measurement::significance::{Limit, Significance};
use crate::units::{Atmosphere, PASCAL_PER_PSI, Pressure, Temperature, TemperatureDifference};
use crate::{Error, Refrigerant, Result};

/// Limits of error at a vessel; what is not known is zero and not counted.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct VesselLimits {
    /// Of the gauge, Pa.
    pub gauge: f64,
    /// Of the air of the site that its figure counts from, Pa.
    pub site: f64,
    /// Of the thermometer.
    pub thermometer: TemperatureDifference,
    /// Of its contact with the vessel.
    pub contact: TemperatureDifference,
}

impl VesselLimits {
    /// What all of them make of a reading less a line of a slope in Pa/K.
    fn together(&self, slope: f64) -> Limit {
        let [thermometer, contact] =
            [self.thermometer, self.contact].map(|limit| slope * limit.in_kelvin());
        Limit::of(&[self.gauge, self.site, thermometer, contact])
    }

    /// The same without the gauge: what is not known of the pressure that it should show.
    fn without_gauge(&self, slope: f64) -> Limit {
        Self {
            gauge: 0.0,
            ..*self
        }
        .together(slope)
    }
}

/// A reading above or below a saturation line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Excess {
    /// Pressure of the line at the temperature.
    pub line: Pressure,
    /// Read less line, Pa.
    pub excess: f64,
    /// What the instruments make of it, Pa, where their limits are known.
    pub limit: Option<Limit>,
}

impl Excess {
    /// Whether the instruments explain it; `None` where their limits are not known.
    pub fn significance(&self) -> Option<Significance> {
        self.limit.map(|limit| limit.judge(self.excess))
    }
}

/// Where a reading at rest lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AtRest {
    /// Above the bubble line.
    Above,
    /// Between the lines of a zeotrope.
    Between,
    /// On a line, as far as the instruments tell.
    AtSaturation,
    /// Below the dew line.
    Below,
}

impl AtRest {
    /// Where the reading lies, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Above => "above the bubble line",
            Self::Between => "between dew and bubble line",
            Self::AtSaturation => "at saturation, as far as the instruments tell",
            Self::Below => "below the dew line",
        }
    }

    /// What common practice thinks of, once the difference is significant.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Above => "another gas beside the refrigerant, or another fluid",
            Self::Between | Self::AtSaturation => {
                "consistent with a vessel that holds liquid; it says nothing more"
            }
            Self::Below => "no liquid left, or another fluid",
        }
    }

    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Above => "above",
            Self::Between => "between",
            Self::AtSaturation => "at_saturation",
            Self::Below => "below",
        }
    }
}

/// A reading at rest against both lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Against the bubble line.
    pub bubble: Excess,
    /// Against the dew line.
    pub dew: Excess,
    /// Where it lies.
    pub place: AtRest,
}

/// Degrees over which the slope of a line is taken.
const STEP: TemperatureDifference = TemperatureDifference::kelvin(0.05);

/// A line's pressure at a temperature and its slope there, Pa/K.
fn line_and_slope(
    line: impl Fn(Temperature) -> Result<Pressure>,
    at: Temperature,
) -> Result<(Pressure, f64)> {
    let here = line(at)?;
    // At the end of a line one side has to do.
    let (low, high) = match (line(at - STEP), line(at + STEP)) {
        (Ok(low), Ok(high)) => ((at - STEP, low), (at + STEP, high)),
        (Ok(low), Err(_)) => ((at - STEP, low), (at, here)),
        (Err(_), high) => ((at, here), (at + STEP, high?)),
    };
    let slope = (high.1.in_pascal() - low.1.in_pascal()) / (high.0 - low.0).in_kelvin();
    Ok((here, slope))
}

/// Compares the pressure of a vessel at rest, its temperature even for hours, with the lines of
/// what it is said to hold.
///
/// The limits of the thermometer and its contact count by the line's slope dp/dT.
///
/// # Errors
/// [`Error::OutOfRange`] where the refrigerant has no bubble or dew point at the temperature.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::vessel::at_rest::{AtRest, VesselLimits, at_rest};
/// use zeotrope::units::{
///     Atmosphere, PASCAL_PER_PSI, PressureUnit, Temperature, TemperatureDifference,
/// };
/// let limits = VesselLimits {
///     gauge: 1.25 * PASCAL_PER_PSI,
///     thermometer: TemperatureDifference::fahrenheit_degrees(1.0),
///     ..VesselLimits::default()
/// };
/// let read = PressureUnit::PsiGauge.write(96.0, &Atmosphere::SEA_LEVEL);
/// let r134a = Refrigerant::named("R-134a")?;
/// let found = at_rest(&r134a, read, Temperature::fahrenheit(80.0), Some(limits))?;
/// // Computed with a general-purpose open library, a cross-check: +9.3 ± 2.1 psi.
/// assert!((found.bubble.excess / PASCAL_PER_PSI - 9.3).abs() < 0.05);
/// assert!((found.bubble.limit.unwrap().usual / PASCAL_PER_PSI - 2.1).abs() < 0.05);
/// assert_eq!(found.place, AtRest::Above);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn at_rest(
    refrigerant: &Refrigerant,
    read: Pressure,
    at: Temperature,
    limits: Option<VesselLimits>,
) -> Result<Found> {
    let against = |line: &dyn Fn(Temperature) -> Result<Pressure>| -> Result<Excess> {
        let (pressure, slope) = line_and_slope(line, at)?;
        Ok(Excess {
            line: pressure,
            excess: read.in_pascal() - pressure.in_pascal(),
            limit: limits.map(|limits| limits.together(slope)),
        })
    };
    let bubble = against(&|at| refrigerant.bubble_pressure(at))?;
    let dew = match refrigerant.is_pure() {
        true => bubble,
        false => against(&|at| refrigerant.dew_pressure(at))?,
    };
    let explained = |excess: &Excess| excess.significance() == Some(Significance::NotSignificant);
    let place = if explained(&bubble) || explained(&dew) {
        AtRest::AtSaturation
    } else if bubble.excess > 0.0 {
        AtRest::Above
    } else if dew.excess < 0.0 {
        AtRest::Below
    } else {
        AtRest::Between
    };
    Ok(Found { bubble, dew, place })
}

/// Classes from the most hazardous: what burns before what does not, and what is poisonous before
/// what is not. This order is the program's own; a class that is not assigned comes first.
const ORDER: [&str; 8] = ["B3", "A3", "B2", "A2", "B2L", "B1", "A2L", "A1"];

/// A refrigerant that a reading would fit.
#[derive(Debug, Clone)]
pub struct Candidate {
    /// The refrigerant.
    pub refrigerant: Refrigerant,
    /// Its class, where one is assigned.
    pub class: Option<String>,
    /// Dew and bubble pressure at the temperature.
    pub lines: (Pressure, Pressure),
}

/// Refrigerants of a catalogue with whose liquid a reading at rest would be consistent, the most
/// hazardous class first. Never an identification.
///
/// One fits where any pressure and temperature within the limits lie from its dew to its
/// bubble line.
///
/// # Errors
/// Those of reading the catalogue.
pub fn candidates(
    catalogue: &Catalogue,
    read: Pressure,
    at: Temperature,
    limits: VesselLimits,
) -> Result<Vec<Candidate>> {
    let names = catalogue
        .pure_designations()
        .into_iter()
        .chain(catalogue.blend_designations());
    let mut found = Vec::new();
    for name in names {
        let refrigerant = Refrigerant::from_catalogue(catalogue, &name, Basis::Mass)?;
        // One without a line at this temperature holds no liquid there.
        if let Some(lines) = fits(&refrigerant, read, at, limits) {
            found.push(Candidate {
                class: refrigerant.safety_class(),
                refrigerant,
                lines,
            });
        }
    }
    let rank = |class: &Option<String>| {
        class
            .as_ref()
            .and_then(|class| ORDER.iter().position(|known| known == class))
            .map_or(0, |place| place + 1)
    };
    found.sort_by_key(|candidate| rank(&candidate.class));
    Ok(found)
}

/// Dew and bubble pressure of a refrigerant where a reading would fit it.
fn fits(
    refrigerant: &Refrigerant,
    read: Pressure,
    at: Temperature,
    limits: VesselLimits,
) -> Option<(Pressure, Pressure)> {
    let pascal = limits.gauge + limits.site;
    let degrees =
        TemperatureDifference::kelvin(limits.thermometer.in_kelvin() + limits.contact.in_kelvin());
    let dew = refrigerant.dew_pressure(at).ok()?;
    // Just above the end of a line the line itself has to do.
    let lowest = refrigerant.dew_pressure(at - degrees).unwrap_or(dew);
    if read.in_pascal() + pascal < lowest.in_pascal() {
        return None;
    }
    let bubble = refrigerant.bubble_pressure(at).ok()?;
    let highest = refrigerant.bubble_pressure(at + degrees).unwrap_or(bubble);
    (read.in_pascal() - pascal <= highest.in_pascal()).then_some((dew, bubble))
}

/// A correction of one gauge, from one vessel on one day. Not a calibration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeCheck {
    /// What the gauge shows open to air, Pa; to be taken off every reading first.
    pub zero_offset: f64,
    /// What a reading without its offset is to be multiplied with.
    pub span_factor: f64,
    /// Gauge pressure that the vessel should show, Pa.
    pub expected: f64,
    /// Read less expected after the offset is taken off, Pa.
    pub error: f64,
    /// What thermometer, its contact and the air of the site make of the expected pressure, Pa.
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
/// gauge shows, in Pa above the air of the site, without any earlier correction; its class is
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
/// use zeotrope::service::vessel::at_rest::{VesselLimits, gauge_check};
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
            reason: format!(
                "{} is no pure fluid and no azeotrope: its pressure at rest hangs on how much \
                 liquid is left",
                refrigerant.designation()
            ),
            hint: "check the gauge on a vessel of a certain pure fluid, such as R-134a".into(),
        });
    }
    let (line, slope) = line_and_slope(|at| refrigerant.bubble_pressure(at), at)?;
    let expected = site.gauge_pascal(line);
    if expected < 5.0 * limits.gauge {
        return Err(Error::NoAnswer {
            reason: "the vessel's pressure stands too little above the air to tell a span from \
                     the gauge's class"
                .into(),
            hint: "take a fluid of higher pressure, or a warmer vessel".into(),
        });
    }
    let error = read - open - expected;
    for (what, off) in [("zero", open), ("span", error)] {
        if off.abs() > 2.0 * limits.gauge {
            return Err(Error::NoAnswer {
                reason: format!(
                    "the gauge's {what} is off by {:.1} kPa ({:.2} psi), more than twice its class \
                     of {:.1} kPa ({:.2} psi)",
                    off / 1e3,
                    off / PASCAL_PER_PSI,
                    limits.gauge / 1e3,
                    limits.gauge / PASCAL_PER_PSI
                ),
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
