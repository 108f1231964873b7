//! A kit file: the gauges and the clamp somebody carries, how accurate they are, and what a check
//! of them found.
//!
//! ```yaml
//! name: van 3                    # named in the answer
//! low:                           # the gauge of the suction side
//!   kind: vented                 # vented, sealed or absolute; vented if left out
//!   zeroed: here                 # here, factory or an elevation such as 1600m
//!   span: 500psi
//!   accuracy: 0.25%span          # or 3.5psi, 1%reading, B40.100 2A, EN 837-1 class 1.0
//!   zero_offset: 0.4psi          # what it shows when open to the air; taken off
//!   span_factor: 1.002           # what the figure is multiplied by after that
//!   checked: 2026-10-01          # needed with either of the two
//! high: {span: 800psi, accuracy: 1%span}
//! clamp: {accuracy: 1.0F, contact: 1.0F}
//! site: {accuracy: 0.5kPa}       # of the barometer or of the elevation's standard atmosphere
//! ```
//!
//! All but `name` may be left out. An unknown key is refused with its line.

use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::catalogue::reading::SourceText;
use crate::service::date::Day;
use crate::service::measurement::accuracy::{GaugeAccuracy, parse_span};
use crate::service::measurement::gauge::{Correction, Gauge, GaugeKind, Zeroed};
use crate::units::{parse_elevation, parse_pressure_difference, parse_temperature_difference};
use crate::{Error, Result};

/// A kit, SI inside.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Kit {
    /// Its name.
    pub name: String,
    /// The gauge of the suction side.
    pub low: Instrument,
    /// The gauge of the liquid side.
    pub high: Instrument,
    /// Limit of the clamp thermometers, K.
    pub clamp: Option<f64>,
    /// Limit of their contact with a line, K.
    pub contact: Option<f64>,
    /// Limit of the air of the site, Pa.
    pub site: Option<f64>,
}

/// One gauge of a kit.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Instrument {
    /// What its figure counts from; `None` where nothing was said.
    pub gauge: Option<Gauge>,
    /// Its whole scale, Pa.
    pub span: Option<f64>,
    /// Its limits of error.
    pub accuracy: Option<GaugeAccuracy>,
    /// What a check found.
    pub correction: Option<Correction>,
}

impl Instrument {
    /// What is said of a gauge, and for what is not the rest of another.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::kit::Instrument;
    /// let own = Instrument { span: Some(3.5e6), ..Instrument::default() };
    /// assert_eq!(Instrument::default().or(&own), own);
    /// ```
    pub fn or(self, other: &Self) -> Self {
        Self {
            gauge: self.gauge.or(other.gauge),
            span: self.span.or(other.span),
            accuracy: self.accuracy.or(other.accuracy),
            correction: self.correction.or_else(|| other.correction.clone()),
        }
    }
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KitRecord {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    low: Option<GaugeRecord>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    high: Option<GaugeRecord>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    clamp: Option<ClampRecord>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    site: Option<SiteRecord>,
}

#[derive(Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct GaugeRecord {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    kind: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    zeroed: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    span: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    accuracy: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    zero_offset: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    span_factor: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    checked: Option<String>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ClampRecord {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    accuracy: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    contact: Option<String>,
}

#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SiteRecord {
    accuracy: String,
}

/// Reads a kind of gauge by its word.
///
/// # Errors
/// [`Error::Value`] where it is none.
pub fn parse_kind(text: &str) -> Result<GaugeKind> {
    [GaugeKind::Vented, GaugeKind::Sealed, GaugeKind::Absolute]
        .into_iter()
        .find(|kind| kind.word() == text.trim().to_lowercase())
        .ok_or_else(|| Error::Value {
            quantity: "gauge",
            text: text.chars().take(40).collect(),
            problem: "is not a kind of gauge".into(),
            hint: "use vented, sealed or absolute".into(),
        })
}

/// Reads where a gauge was zeroed: `here`, `factory` or an elevation.
///
/// # Errors
/// [`Error::Value`] where it is none of them.
///
/// # Example
/// ```
/// use zeotrope::service::measurement::gauge::Zeroed;
/// use zeotrope::service::measurement::kit::parse_zeroed;
/// assert_eq!(parse_zeroed("1600m")?, Zeroed::Elevation(1600.0));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_zeroed(text: &str) -> Result<Zeroed> {
    match text.trim().to_lowercase().as_str() {
        "here" => Ok(Zeroed::Here),
        "factory" => Ok(Zeroed::Factory),
        _ => parse_elevation(text)
            .map(Zeroed::Elevation)
            .map_err(|error| Error::Value {
                quantity: "zeroed",
                text: text.chars().take(40).collect(),
                problem: match error {
                    Error::Value { problem, .. } => problem,
                    other => other.to_string(),
                },
                hint: "use here, factory or an elevation such as 1600m or 5280ft".into(),
            }),
    }
}

/// Reads a limit of a thermometer such as `1F`, in K.
///
/// # Errors
/// [`Error::Value`] where it is no difference of temperatures or not above zero.
pub fn parse_clamp(text: &str) -> Result<f64> {
    let limit = parse_temperature_difference(text)?.value.in_kelvin();
    above_zero("thermometer accuracy", text, limit)
}

/// Reads a limit of the air of the site such as `0.5kPa`, in Pa.
///
/// # Errors
/// [`Error::Value`] where it is no difference of pressures or not above zero.
pub fn parse_site(text: &str) -> Result<f64> {
    above_zero("site accuracy", text, parse_pressure_difference(text)?)
}

fn above_zero(quantity: &'static str, text: &str, limit: f64) -> Result<f64> {
    if limit > 0.0 {
        return Ok(limit);
    }
    Err(Error::Value {
        quantity,
        text: text.to_owned(),
        problem: "is not above zero".into(),
        hint: "leave it out where the accuracy is not known".into(),
    })
}

/// What a gauge is when only one of the two words was said: a vented one needs no place, a sealed
/// or absolute one is as it left the factory.
pub fn gauge_of(kind: Option<GaugeKind>, zeroed: Option<Zeroed>) -> Option<Gauge> {
    match (kind, zeroed) {
        (None, None) => None,
        (kind, Some(zeroed)) => Some(Gauge {
            kind: kind.unwrap_or(GaugeKind::Vented),
            zeroed,
        }),
        (Some(kind), None) => Some(Gauge {
            kind,
            zeroed: match kind {
                GaugeKind::Vented => Zeroed::Here,
                _ => Zeroed::Factory,
            },
        }),
    }
}

impl Kit {
    /// What is said of a kit, and for what is not the rest of another; the name is the other's.
    pub fn or(self, other: &Self) -> Self {
        Self {
            name: other.name.clone(),
            low: self.low.or(&other.low),
            high: self.high.or(&other.high),
            clamp: self.clamp.or(other.clamp),
            contact: self.contact.or(other.contact),
            site: self.site.or(other.site),
        }
    }

    /// The one gauge that is meant where no side is named: either where both are alike, that of
    /// which something is known; `None` where they differ.
    pub fn only_gauge(&self) -> Option<&Instrument> {
        let nothing = Instrument::default();
        match (&self.low, &self.high) {
            (low, high) if *high == nothing || low == high => Some(low),
            (low, high) if *low == nothing => Some(high),
            _ => None,
        }
    }

    /// Reads a kit file.
    ///
    /// # Errors
    /// [`Error::File`] with the line where a key is unknown or missing, or a value is not one.
    pub fn read(path: &Path) -> Result<Self> {
        let name = path.display().to_string();
        let text = std::fs::read_to_string(path).map_err(|problem| Error::File {
            file: name.clone(),
            problem: problem.to_string(),
            hint: "give the name of a kit file that can be read".into(),
        })?;
        Self::parse(&name, &text)
    }

    /// As [`Kit::read`], from a text; `file` names it in errors.
    ///
    /// # Errors
    /// As [`Kit::read`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::kit::Kit;
    /// let kit = Kit::parse("kit.yaml", "name: van 3\nclamp: {accuracy: 0.9F}\n")?;
    /// assert!((kit.clamp.unwrap() - 0.5).abs() < 1e-12);
    /// let error = Kit::parse("kit.yaml", "name: van 3\nclamps: {}\n").unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "kit.yaml:2: clamps: unknown key 'clamps', did you mean clamp?"
    /// );
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(file: &str, text: &str) -> Result<Self> {
        let source = SourceText::file(file, text);
        let kit = || -> Result<Self> {
            let record: KitRecord = source.read()?;
            source.all_finite("", &record)?;
            let within = |path: &str, error: Error| source.error(path, error.to_string());
            let limit = |path: &str, text: &Option<String>| -> Result<Option<f64>> {
                let found = text.as_deref().map(parse_clamp).transpose();
                found.map_err(|error| within(path, error))
            };
            let clamp = record.clamp.as_ref();
            Ok(Self {
                low: instrument(&source, "low", record.low.unwrap_or_default())?,
                high: instrument(&source, "high", record.high.unwrap_or_default())?,
                clamp: match clamp {
                    Some(clamp) => limit("clamp.accuracy", &clamp.accuracy)?,
                    None => None,
                },
                contact: match clamp {
                    Some(clamp) => limit("clamp.contact", &clamp.contact)?,
                    None => None,
                },
                site: match &record.site {
                    Some(site) => Some(
                        parse_site(&site.accuracy)
                            .map_err(|error| within("site.accuracy", error))?,
                    ),
                    None => None,
                },
                name: record.name,
            })
        };
        kit().map_err(as_kit_error)
    }
}

fn instrument(source: &SourceText<'_>, at: &str, record: GaugeRecord) -> Result<Instrument> {
    fn value<Value>(
        source: &SourceText<'_>,
        path: String,
        text: &Option<String>,
        parse: impl Fn(&str) -> Result<Value>,
    ) -> Result<Option<Value>> {
        let found = text.as_deref().map(parse).transpose();
        found.map_err(|error| source.error(&path, error.to_string()))
    }
    let path = |key: &str| format!("{at}.{key}");
    let kind = value(source, path("kind"), &record.kind, parse_kind)?;
    let zeroed = value(source, path("zeroed"), &record.zeroed, parse_zeroed)?;
    let offset = value(
        source,
        path("zero_offset"),
        &record.zero_offset,
        parse_pressure_difference,
    )?;
    if let Some(factor) = record.span_factor
        && !(0.5..=2.0).contains(&factor)
    {
        return Err(source.error(
            &path("span_factor"),
            format!("{factor} is no factor of a gauge's span (0.5 to 2)"),
        ));
    }
    let correction = match (offset, record.span_factor, record.checked) {
        (None, None, None) => None,
        (None, None, Some(_)) => {
            return Err(source.error(
                &path("checked"),
                "there is neither a zero_offset nor a span_factor that the date belongs to",
            ));
        }
        (_, _, None) => {
            return Err(source.error(
                at,
                "a zero_offset or span_factor needs the date of its check, for example \
                 checked: 2026-10-01",
            ));
        }
        (offset, factor, Some(checked)) => {
            if Day::parse(&checked).is_none() {
                let problem = format!("'{checked}' is no date such as 2026-10-01");
                return Err(source.error(&path("checked"), problem));
            }
            Some(Correction {
                zero_offset: offset.unwrap_or(0.0),
                span_factor: factor.unwrap_or(1.0),
                checked,
            })
        }
    };
    Ok(Instrument {
        gauge: gauge_of(kind, zeroed),
        span: value(source, path("span"), &record.span, parse_span)?,
        accuracy: value(
            source,
            path("accuracy"),
            &record.accuracy,
            GaugeAccuracy::parse,
        )?,
        correction,
    })
}

/// A broken file of facts has another hint than a broken kit.
fn as_kit_error(error: Error) -> Error {
    match error {
        Error::Catalogue {
            file,
            line,
            path,
            problem,
        } => Error::File {
            file: format!("{file}:{line}"),
            problem: format!("{path}: {problem}"),
            hint: "a kit file has name, low, high (kind, zeroed, span, accuracy, zero_offset, \
                   span_factor, checked), clamp (accuracy, contact) and site (accuracy)"
                .into(),
        },
        other => other,
    }
}
