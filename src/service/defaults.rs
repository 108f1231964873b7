//! A file of a site's or a person's own defaults, `zeotrope.yaml`: what is not asked for each time.
//!
//! ```yaml
//! elevation: 1600m          # or station_pressure: 24.6inHga, read at the site
//! units: ip                 # or si; temperature_unit and pressure_unit override it
//! temperature_unit: F
//! pressure_unit: psig
//! kit: van3.yaml            # the gauges and the clamp; beside this file, or a full path
//! words: es.yaml            # phrases of another language, for charts
//! shop: Example Refrigeration
//! logo: logo.svg
//! ```
//!
//! All may be left out. An unknown key is refused.

use serde::{Deserialize, Serialize};

use crate::error::{Error, Reason, Result};
use crate::service::measurement::site;
use crate::service::reasons;
use crate::units::{PressureUnit, TemperatureUnit, parse_elevation};

/// A site's or a person's own defaults, as written.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Defaults {
    /// Elevation of the site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub elevation: Option<String>,
    /// Absolute pressure of the air at the site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station_pressure: Option<String>,
    /// `ip` or `si`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub units: Option<String>,
    /// Unit of temperatures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_unit: Option<String>,
    /// Unit of pressures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_unit: Option<String>,
    /// File of the gauges and the clamp.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// File of phrases in another language.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
    /// The shop's own line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<String>,
    /// File of the shop's logo.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub logo: Option<String>,
}

/// What stands for one thing: where one of a group was given, none of it is a default.
const TOGETHER: [&[&str]; 3] = [
    &["elevation", "station_pressure"],
    &["units", "temperature_unit", "pressure_unit", "csv"],
    &["gauge_accuracy", "kit"],
];

/// Values of a print alone.
const PRINTED: [&str; 3] = ["words", "shop", "logo"];

impl Defaults {
    /// What is asked for each key.
    pub const QUESTIONS: &'static [&'static str] = &[
        "Elevation of the site (5280ft, 1600m)",
        "Barometer reading at the site, not reduced to sea level (24.6inHga)",
        "Units (ip, si)",
        "Unit of temperatures (F, C, K)",
        "Unit of pressures (psig, barg, kPag ...)",
        "File of the gauges and the clamp",
        "File of phrases in another language",
        "The shop's own line on charts",
        "File of the shop's logo",
    ];

    /// Every key.
    pub const KEYS: &'static [&'static str] = &[
        "elevation",
        "station_pressure",
        "units",
        "temperature_unit",
        "pressure_unit",
        "kit",
        "words",
        "shop",
        "logo",
    ];

    /// Reads the text of a file.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where it is no such file; [`Error::Value`] where a value cannot be read.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::defaults::Defaults;
    /// let found = Defaults::parse("elevation: 5280ft\nunits: ip\n")?;
    /// assert_eq!(found.get("elevation"), Some("5280ft"));
    /// assert!(Defaults::parse("elevations: 5280ft\n").is_err());
    /// assert!(Defaults::parse("elevation: high\n").is_err());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self> {
        if text.trim().is_empty() {
            return Ok(Self::default());
        }
        let found: Self = serde_yaml::from_str(text).map_err(|problem| Error::NoAnswer {
            reason: Reason::of(reasons::DEFAULTS_PROBLEM, "problem", &problem.to_string()),
            hint: format!("write a line for each of: {}", Self::KEYS.join(", ")),
        })?;
        for key in Self::KEYS {
            if let Some(value) = found.get(key) {
                check(key, value)?;
            }
        }
        Ok(found)
    }

    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&str> {
        match key {
            "elevation" => self.elevation.as_deref(),
            "station_pressure" => self.station_pressure.as_deref(),
            "units" => self.units.as_deref(),
            "temperature_unit" => self.temperature_unit.as_deref(),
            "pressure_unit" => self.pressure_unit.as_deref(),
            "kit" => self.kit.as_deref(),
            "words" => self.words.as_deref(),
            "shop" => self.shop.as_deref(),
            "logo" => self.logo.as_deref(),
            _ => None,
        }
    }

    /// The keys with their values that count beside options that were given, named as the keys are:
    /// of what stands for one thing none counts where one was given, and what is for a print alone
    /// counts for a print.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::defaults::Defaults;
    /// let found = Defaults::parse("elevation: 5280ft\nunits: ip\nshop: Mine\n")?;
    /// let counted: Vec<_> = found.counted(|key| key == "station_pressure", false).collect();
    /// assert_eq!(counted, [("units", "ip")]);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn counted(
        &self,
        is_given: impl Fn(&str) -> bool,
        is_print: bool,
    ) -> impl Iterator<Item = (&'static str, &str)> {
        Self::KEYS.iter().copied().filter_map(move |key| {
            let value = self.get(key)?;
            let group = TOGETHER.iter().find(|group| group.contains(&key));
            let given =
                is_given(key) || group.is_some_and(|group| group.iter().any(|one| is_given(one)));
            let is_idle = PRINTED.contains(&key) && !is_print;
            (!given && !is_idle).then_some((key, value))
        })
    }

    /// Sets the value of a key; an empty one leaves it out.
    ///
    /// # Errors
    /// [`Error::Value`] where the value cannot be read.
    pub fn set(&mut self, key: &str, value: &str) -> Result<()> {
        let value = value.trim();
        let value = (!value.is_empty()).then(|| value.to_owned());
        if let Some(value) = &value {
            check(key, value)?;
        }
        let place = match key {
            "elevation" => &mut self.elevation,
            "station_pressure" => &mut self.station_pressure,
            "units" => &mut self.units,
            "temperature_unit" => &mut self.temperature_unit,
            "pressure_unit" => &mut self.pressure_unit,
            "kit" => &mut self.kit,
            "words" => &mut self.words,
            "shop" => &mut self.shop,
            _ => &mut self.logo,
        };
        *place = value;
        Ok(())
    }

    /// The text of a file.
    pub fn text(&self) -> String {
        let lines = Self::KEYS.iter().filter_map(|key| {
            let value = serde_json::to_string(self.get(key)?).ok()?;
            Some(format!("{key}: {value}\n"))
        });
        lines.collect()
    }
}

/// Whether a value can be read.
fn check(key: &str, value: &str) -> Result<()> {
    let wrong = |hint: &str| Error::Value {
        quantity: "default",
        text: value.to_owned(),
        problem: format!("is no value of {key}"),
        hint: hint.into(),
    };
    match key {
        "elevation" => site::atmosphere(Some(parse_elevation(value)?), None).map(|_| ()),
        "station_pressure" => site::parse_station_pressure(value).map(|_| ()),
        "units" if !matches!(value, "ip" | "si") => Err(wrong("write ip or si")),
        "temperature_unit" => TemperatureUnit::named(value).map(|_| ()),
        "pressure_unit" => PressureUnit::named(value).map(|_| ()),
        _ => Ok(()),
    }
}
