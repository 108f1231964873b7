//! A vessel at rest that holds liquid: its pressure against bubble and dew.

use crate::service::reasons;
use serde::{Serialize, Serializer};

use crate::Refrigerant;
use crate::catalogue::{Basis, Catalogue};
use crate::error::{Error, Result, finite};
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::gauge::Added;
use crate::service::measurement::gauge_reading::GaugeReading;
use crate::service::measurement::kit::{Instrument, Kit};
use crate::service::measurement::significance::{Limit, Significance};
use crate::service::measurement::uncertainty::ErrorLimits;
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference};

/// A vessel as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Vessel {
    /// The pressure.
    pub read: GaugeReading,
    /// The temperature.
    pub temperature: Temperature,
    /// The kit it was read with.
    pub kit: Kit,
    /// The gauge of the kit that is at the vessel.
    pub instrument: Instrument,
    /// The local atmosphere.
    pub site: Atmosphere,
}

impl Vessel {
    /// What the gauge at the vessel shows open to air as written, Pa, for a check of it.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no pressure, or where it or the vessel's is not relative to
    /// local atmospheric pressure.
    pub fn open_reading(&self, text: &str) -> Result<f64> {
        let unlimited = Instrument {
            gauge: self.instrument.gauge,
            ..Instrument::default()
        };
        let open = GaugeReading::parse(text, &unlimited, &self.site)?;
        let of_site = |read: &GaugeReading| matches!(read.added, Added::Site(_));
        if of_site(&self.read) && of_site(&open) {
            return Ok(open.shown);
        }
        Err(Error::Value {
            quantity: "gauge check",
            text: text.to_owned(),
            problem: "needs figures that are relative to local atmospheric pressure".into(),
            hint: "zero the gauge here and give both in a gauge unit, for example 88psig and \
                   0.5psig"
                .into(),
        })
    }
}

impl Serialize for Vessel {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            pressure_Pa: Pressure,
            shown_Pa: f64,
            temperature_K: Temperature,
            kit: Option<&'a str>,
            checked: Option<&'a str>,
        }
        Keys {
            pressure_Pa: self.read.pressure,
            shown_Pa: self.read.shown,
            temperature_K: self.temperature,
            kit: self.kit_name(),
            checked: self.checked(),
        }
        .serialize(serializer)
    }
}

impl Vessel {
    /// The kit's name, where it has one.
    pub fn kit_name(&self) -> Option<&str> {
        let name = self.kit.name.as_str();
        (!name.is_empty()).then_some(name)
    }

    /// The date on which zero and span of the gauge were checked, where they were.
    pub fn checked(&self) -> Option<&str> {
        let correction = self.instrument.correction.as_ref();
        correction.map(|one| one.checked.as_str())
    }
}

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
    /// Those of a reading at a vessel, where gauge and thermometer both have one.
    pub fn of_reading(limits: &ErrorLimits) -> Option<Self> {
        let contact = limits.contact.unwrap_or(0.0);
        Some(Self {
            gauge: limits.pressure?,
            site: limits.site.unwrap_or(0.0),
            thermometer: TemperatureDifference::kelvin(limits.clamp?),
            contact: TemperatureDifference::kelvin(contact),
        })
    }

    /// Of the pressure: gauge and site, Pa.
    pub fn pressure(&self) -> f64 {
        self.gauge + self.site
    }

    /// Of the temperature: thermometer and contact.
    pub const fn temperature(&self) -> TemperatureDifference {
        TemperatureDifference::kelvin(self.thermometer.in_kelvin() + self.contact.in_kelvin())
    }

    /// What all of them make of a reading less a line of a slope in Pa/K.
    fn together(&self, slope: f64) -> Limit {
        let [thermometer, contact] =
            [self.thermometer, self.contact].map(|limit| slope * limit.in_kelvin());
        Limit::from_effects(&[self.gauge, self.site, thermometer, contact])
    }

    /// The same without the gauge: what is not known of the pressure that it should show.
    pub(super) fn without_gauge(&self, slope: f64) -> Limit {
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

impl Serialize for Excess {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys {
            pressure_Pa: Pressure,
            excess_Pa: f64,
            root_sum_square_Pa: Option<f64>,
            worst_case_Pa: Option<f64>,
            significance: Option<&'static str>,
        }
        Keys {
            pressure_Pa: self.line,
            excess_Pa: self.excess,
            root_sum_square_Pa: self.limit.map(|limit| limit.usual),
            worst_case_Pa: self.limit.map(|limit| limit.worst),
            significance: self.significance().map(Significance::name),
        }
        .serialize(serializer)
    }
}

/// Where a reading at rest lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
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
    /// What common practice thinks of.
    pub const fn meaning(self) -> AtRestMeaning {
        match self {
            Self::Above => AtRestMeaning::NonCondensableOrOtherFluid,
            Self::Between | Self::AtSaturation => AtRestMeaning::ConsistentWithLiquid,
            Self::Below => AtRestMeaning::NoLiquidOrOtherFluid,
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

/// What a reading at rest commonly points to (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AtRestMeaning {
    /// Non-condensable gas mixed in, or a different fluid.
    NonCondensableOrOtherFluid,
    /// Consistent with a vessel that holds liquid.
    ConsistentWithLiquid,
    /// No liquid left, or a different fluid.
    NoLiquidOrOtherFluid,
}

/// A reading at rest against both lines.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingAtRest {
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
pub(super) fn line_and_slope(
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
) -> Result<ReadingAtRest> {
    finite("pressure", read.in_pascal())?;
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
    Ok(ReadingAtRest { bubble, dew, place })
}

/// A vessel against the lines of what it is said to hold.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Against {
    /// What the refrigerant is called and made of.
    #[serde(flatten)]
    pub identity: Identity,
    /// The vessel.
    #[serde(flatten)]
    pub vessel: Vessel,
    /// Where the reading lies.
    pub place: AtRest,
    /// What that commonly points to, where the instruments' limits are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meaning: Option<AtRestMeaning>,
    /// Against the bubble line.
    pub bubble: Excess,
    /// Against the dew line.
    pub dew: Excess,
    /// Local atmospheric pressure.
    #[serde(rename = "atmosphere_Pa")]
    pub atmosphere: Pressure,
    /// What the numbers rest on.
    pub model: Model,
}

impl Against {
    /// Compares a vessel with what it is said to hold.
    ///
    /// # Errors
    /// As [`at_rest`].
    pub fn new(
        refrigerant: &Refrigerant,
        vessel: Vessel,
        limits: Option<VesselLimits>,
    ) -> Result<Self> {
        let found = at_rest(
            refrigerant,
            vessel.read.pressure,
            vessel.temperature,
            limits,
        )?;
        let facts = Facts::of_refrigerant(refrigerant);
        Ok(Self {
            identity: facts.identity,
            atmosphere: vessel.site.pressure(),
            vessel,
            place: found.place,
            meaning: limits.map(|_| found.place.meaning()),
            bubble: found.bubble,
            dew: found.dew,
            model: facts.model,
        })
    }
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
    /// Dew pressure at the temperature.
    pub dew: Pressure,
    /// Bubble pressure at the temperature.
    pub bubble: Pressure,
}

impl Serialize for Candidate {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            refrigerant: &'a str,
            safety_class: Option<&'a str>,
            dew_pressure_Pa: Pressure,
            bubble_pressure_Pa: Pressure,
        }
        Keys {
            refrigerant: self.refrigerant.designation(),
            safety_class: self.class.as_deref(),
            dew_pressure_Pa: self.dew,
            bubble_pressure_Pa: self.bubble,
        }
        .serialize(serializer)
    }
}

/// What would fit a vessel.
#[derive(Debug, Clone, Serialize)]
pub struct WouldFit {
    /// The vessel.
    #[serde(flatten)]
    pub vessel: Vessel,
    /// The instruments' limits.
    #[serde(skip)]
    pub limits: VesselLimits,
    /// What would fit, the most hazardous class first.
    #[serde(rename = "would_fit")]
    pub candidates: Vec<Candidate>,
    /// Local atmospheric pressure.
    #[serde(rename = "atmosphere_Pa")]
    pub atmosphere: Pressure,
}

impl WouldFit {
    /// Looks for what would fit a vessel.
    ///
    /// # Errors
    /// As [`candidates`]; [`Error::NoAnswer`] where nothing fits.
    pub fn new(catalogue: &Catalogue, vessel: Vessel, limits: VesselLimits) -> Result<Self> {
        let found = candidates(catalogue, vessel.read.pressure, vessel.temperature, limits)?;
        if found.is_empty() {
            return Err(Error::NoAnswer {
                reason: reasons::AT_REST_NONE.into(),
                hint: "check gauge, thermometer and site; a vessel without liquid shows less"
                    .into(),
            });
        }
        Ok(Self {
            atmosphere: vessel.site.pressure(),
            vessel,
            limits,
            candidates: found,
        })
    }
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
    finite("pressure", read.in_pascal())?;
    finite("temperature", at.in_kelvin())?;
    let names = catalogue
        .pure_designations()
        .into_iter()
        .chain(catalogue.blend_designations());
    let mut found = Vec::new();
    for name in names {
        let refrigerant = Refrigerant::from_catalogue(catalogue, &name, Basis::Mass)?;
        // One without a line at this temperature holds no liquid there.
        if let Some((dew, bubble)) = fits(&refrigerant, read, at, limits) {
            found.push(Candidate {
                class: refrigerant.safety_class(),
                refrigerant,
                dew,
                bubble,
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
    let (pascal, degrees) = (limits.pressure(), limits.temperature());
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
