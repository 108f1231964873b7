//! What a gauge's figure counts from: by its kind, and by where it was zeroed.
//!
//! | kind | zeroed here | zeroed at the factory or at an elevation |
//! |---|---|---|
//! | vented | shown + air of the site | shown + air of the site |
//! | sealed | shown + air of the site | shown + air sealed in: 101 325 Pa, or the standard atmosphere of that elevation |
//! | absolute | shown + air of the site | shown in an absolute unit: nothing is added; else as sealed |
//!
//! A vented cell reads against the air around it wherever it is. A sealed or absolute one that was
//! zeroed open to the air of the site behaves there as a vented one.

use crate::units::{Atmosphere, Pressure};
use crate::{Error, Result};

/// What stands on the other side of a gauge's cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GaugeKind {
    /// The air around.
    Vented,
    /// Air sealed in when it was made.
    Sealed,
    /// A vacuum.
    Absolute,
}

impl GaugeKind {
    /// The word it is asked for by.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Vented => "vented",
            Self::Sealed => "sealed",
            Self::Absolute => "absolute",
        }
    }
}

/// Where a gauge was set to show zero while open to the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Zeroed {
    /// At the site, today.
    Here,
    /// Where it was made, taken as sea level.
    Factory,
    /// At an elevation, in metres.
    Elevation(f64),
}

/// A gauge, as far as it matters for what its figure counts from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    /// Its kind.
    pub kind: GaugeKind,
    /// Where it was zeroed.
    pub zeroed: Zeroed,
}

impl Default for Gauge {
    /// A vented gauge.
    fn default() -> Self {
        Self {
            kind: GaugeKind::Vented,
            zeroed: Zeroed::Here,
        }
    }
}

/// What is added to the figure shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Added {
    /// The air of the site.
    Site(Atmosphere),
    /// Other air: sealed in, or that in which the gauge was zeroed.
    Other(Atmosphere),
    /// Nothing: the figure is absolute.
    Nothing,
}

impl Added {
    /// The pressure that is added, Pa.
    pub fn pascal(&self) -> f64 {
        match self {
            Self::Site(air) | Self::Other(air) => air.pressure().in_pascal(),
            Self::Nothing => 0.0,
        }
    }
}

impl Gauge {
    /// What is added to a figure of this gauge; `absolute_unit` says whether it is shown in a unit
    /// that counts from zero, such as psia.
    ///
    /// # Errors
    /// [`Error::Value`] where a vented or sealed gauge is said to show an absolute pressure, or the
    /// elevation lies outside -500 m to 11 000 m.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::gauge::{Gauge, GaugeKind, Zeroed};
    /// use zeotrope::units::Atmosphere;
    /// let site = Atmosphere::standard_at_elevation(1609.344)?; // 5280 ft, 12.100 psia
    /// let sealed = |zeroed| Gauge { kind: GaugeKind::Sealed, zeroed };
    /// assert_eq!(sealed(Zeroed::Factory).added(false, &site)?.pascal(), 101_325.0);
    /// assert_eq!(sealed(Zeroed::Here).added(false, &site)?.pascal(), site.pressure().in_pascal());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn added(&self, absolute_unit: bool, site: &Atmosphere) -> Result<Added> {
        if absolute_unit && self.kind != GaugeKind::Absolute {
            return Err(Error::Value {
                quantity: "gauge",
                text: self.kind.word().into(),
                problem: "shows no absolute pressure".into(),
                hint:
                    "give its reading in a gauge unit, for example psig or barg, or say that the \
                       gauge is absolute"
                        .into(),
            });
        }
        Ok(match (self.kind, self.zeroed) {
            (GaugeKind::Vented, _) | (_, Zeroed::Here) => Added::Site(*site),
            (_, Zeroed::Elevation(metres)) => {
                Added::Other(Atmosphere::standard_at_elevation(metres)?)
            }
            (GaugeKind::Absolute, Zeroed::Factory) if absolute_unit => Added::Nothing,
            (_, Zeroed::Factory) => Added::Other(Atmosphere::SEA_LEVEL),
        })
    }
}

/// A gauge found to err, when, and by how much.
///
/// true = `span_factor` (shown - `zero_offset`)
#[derive(Debug, Clone, PartialEq)]
pub struct Correction {
    /// What it showed when open to the air, Pa.
    pub zero_offset: f64,
    /// By what its figure is multiplied, its offset taken off.
    pub span_factor: f64,
    /// Date of the check, as written.
    pub checked: String,
}

impl Correction {
    /// The figure in pascal that a true gauge would have shown.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::measurement::gauge::Correction;
    /// let found = Correction { zero_offset: 3000.0, span_factor: 1.01, checked: "2026-10-01".into() };
    /// assert_eq!(found.applied(103_000.0), 101_000.0);
    /// ```
    pub fn applied(&self, shown: f64) -> f64 {
        self.span_factor * (shown - self.zero_offset)
    }
}

/// The absolute pressure behind a figure.
///
/// # Units
/// `shown` in Pa from the gauge's own zero, negative in a vacuum.
///
/// # Errors
/// [`Error::Value`] where it would lie at or below a perfect vacuum.
///
/// # Example
/// ```
/// use zeotrope::service::measurement::gauge::{Added, pressure};
/// use zeotrope::units::Atmosphere;
/// let added = Added::Site(Atmosphere::SEA_LEVEL);
/// assert_eq!(pressure(500_000.0, &added)?.in_pascal(), 601_325.0);
/// assert!(pressure(-101_325.0, &added).is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn pressure(shown: f64, added: &Added) -> Result<Pressure> {
    let pascal = shown + added.pascal();
    if pascal > 0.0 {
        return Ok(Pressure::pascal(pascal));
    }
    let limit = added.pascal();
    Err(Error::Value {
        quantity: "pressure",
        text: format!("{:.2} kPa", shown / 1e3),
        problem: "lies at or below a perfect vacuum".into(),
        hint: format!(
            "a perfect vacuum is {:.2} kPa ({:.2} inHg) below the air that this gauge counts from",
            limit / 1e3,
            limit / crate::units::PASCAL_PER_INCH_OF_MERCURY
        ),
    })
}
