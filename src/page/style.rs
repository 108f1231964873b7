//! How a document is made: units, site, words, decimal sign, detail, day.

use super::words::{Phrase, Words};
use crate::service::date::Day;
use crate::units::{
    Atmosphere, Pressure, PressureUnit, Temperature, TemperatureDifference, UnitSet, fixed,
};

/// How much of an answer is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Detail {
    /// The figures and the hazards that apply.
    Brief,
    /// Figures, notes, hazards, and what they rest on in short.
    #[default]
    Usual,
    /// All of it, every source in full.
    Sources,
}

/// How a document is made.
#[derive(Debug, Clone, PartialEq)]
pub struct Style {
    /// The units that people read.
    pub units: UnitSet,
    /// The air that gauges read against.
    pub site: Atmosphere,
    /// Local air, where the gauges of this answer read against other air.
    pub local: Option<Atmosphere>,
    /// Whether a reading is told in the unit in which it was typed.
    pub as_typed: bool,
    /// Labels and sentences, in English or as translated.
    pub words: Words,
    /// Whether figures have a decimal comma.
    pub decimal_comma: bool,
    /// How much is shown.
    pub detail: Detail,
    /// Year, month and day of the document, where they are to be shown.
    pub day: Option<Day>,
}

impl Style {
    /// A style in English with the usual detail.
    pub fn new(units: UnitSet, site: Atmosphere) -> Self {
        Self {
            units,
            site,
            local: None,
            as_typed: false,
            words: Words::default(),
            decimal_comma: false,
            detail: Detail::Usual,
            day: None,
        }
    }

    /// The style of an answer whose gauge reads against other air than the local one, so that all
    /// gauge pressures of the answer have one reference.
    pub fn of_gauge(&self, air: Option<Atmosphere>) -> Self {
        match air {
            Some(air) if air != self.site => Self {
                site: air,
                local: Some(self.site),
                ..self.clone()
            },
            _ => self.clone(),
        }
    }

    /// The style of a reading typed in a unit.
    pub fn of_reading(&self, unit: PressureUnit) -> Self {
        match self.as_typed {
            true => Self {
                units: self.units.with_pressure(unit),
                ..self.clone()
            },
            false => self.clone(),
        }
    }

    /// A label or sentence without blanks to fill.
    // Asked at some thousand places: once in the program, as what it is made of.
    #[inline(never)]
    pub fn word(&self, phrase: Phrase) -> String {
        self.words.text(phrase).to_owned()
    }

    /// A sentence, each `{name}` in it filled with the text given for that name.
    #[inline(never)]
    pub fn say(&self, phrase: Phrase, blanks: &[(&str, &str)]) -> String {
        self.words.fill(phrase, blanks)
    }

    /// A number with a count of decimals.
    #[inline(never)]
    pub fn fixed(&self, value: f64, decimals: usize) -> String {
        self.sign(fixed(value, decimals))
    }

    /// A figure's text with the style's decimal sign.
    #[inline(never)]
    pub fn sign(&self, text: String) -> String {
        if self.decimal_comma {
            text.replace('.', ",")
        } else {
            text
        }
    }

    /// A temperature with two decimals and its unit.
    #[inline(never)]
    pub fn temperature(&self, value: Temperature) -> String {
        let unit = self.units.temperature;
        format!("{} {}", self.fixed(unit.read(value), 2), unit.symbol())
    }

    /// A difference of temperatures in K with a count of decimals and its unit.
    pub fn degrees(&self, kelvin: f64, decimals: usize) -> String {
        let unit = self.units.temperature;
        let value = unit.read_difference(TemperatureDifference::kelvin(kelvin));
        format!(
            "{} {}",
            self.fixed(value, decimals),
            unit.difference_symbol()
        )
    }

    /// A pressure to five digits of its absolute value, with its unit; a vacuum in words.
    pub fn pressure(&self, value: Pressure, unit: PressureUnit) -> String {
        let figure = unit.read(value, &self.site);
        if unit == PressureUnit::PsiGauge && figure < -0.005 {
            let vacuum = PressureUnit::InchesOfMercuryVacuum.read(value, &self.site);
            let inches = self.fixed(vacuum, 2);
            return self.say(super::words::INHG_VACUUM, &[("figure", &inches)]);
        }
        let absolute = value.in_pascal() / unit.pascal();
        let magnitude = absolute.abs().max(1e-12).log10().floor() as i32;
        let decimals = (DIGITS - 1 - magnitude).clamp(0, 9) as usize;
        format!("{} {}", self.fixed(figure, decimals), unit.words())
    }

    /// A pressure in the gauge's unit.
    pub fn gauge(&self, value: Pressure) -> String {
        self.pressure(value, self.units.gauge)
    }

    /// A size of pressure in Pa, to what a good gauge resolves.
    pub fn pressure_size(&self, pascal: f64) -> String {
        let unit = self.units.gauge;
        let figure = self.fixed(pascal / unit.pascal(), unit.difference_decimals());
        format!("{figure} {}", unit.difference_symbol())
    }

    /// As [`Style::pressure_size`], with its sign.
    pub fn pressure_difference(&self, pascal: f64) -> String {
        let sign = if pascal < 0.0 { "" } else { "+" };
        format!("{sign}{}", self.pressure_size(pascal))
    }
}

/// Significant digits of a pressure's absolute value on a page; JSON has them all.
const DIGITS: i32 = 5;
