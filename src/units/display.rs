//! The units in which answers are written.

use super::{
    Atmosphere, PASCAL_PER_INCH_OF_MERCURY, PASCAL_PER_MICRON, PASCAL_PER_PSI, PASCAL_PER_TORR,
    Pressure, Temperature, TemperatureDifference,
};

/// A unit of temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TemperatureUnit {
    /// Kelvin.
    Kelvin,
    /// Degree Celsius.
    Celsius,
    /// Degree Fahrenheit.
    Fahrenheit,
}

impl TemperatureUnit {
    /// The sign people read, for example `°C`.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kelvin => "K",
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
        }
    }

    /// The letter used when typing and in the names of columns, for example `C`.
    pub const fn typed(self) -> &'static str {
        match self {
            Self::Kelvin => "K",
            Self::Celsius => "C",
            Self::Fahrenheit => "F",
        }
    }

    /// A temperature as a number in this unit.
    pub const fn read(self, temperature: Temperature) -> f64 {
        match self {
            Self::Kelvin => temperature.in_kelvin(),
            Self::Celsius => temperature.in_celsius(),
            Self::Fahrenheit => temperature.in_fahrenheit(),
        }
    }

    /// The temperature that a number in this unit says.
    pub const fn write(self, value: f64) -> Temperature {
        match self {
            Self::Kelvin => Temperature::kelvin(value),
            Self::Celsius => Temperature::celsius(value),
            Self::Fahrenheit => Temperature::fahrenheit(value),
        }
    }

    /// A difference as a number of this unit's degrees.
    pub const fn read_difference(self, difference: TemperatureDifference) -> f64 {
        match self {
            Self::Kelvin | Self::Celsius => difference.in_kelvin(),
            Self::Fahrenheit => difference.in_fahrenheit_degrees(),
        }
    }

    /// The unit's sign for a difference: kelvin for both kelvin and Celsius.
    pub const fn difference_symbol(self) -> &'static str {
        match self {
            Self::Kelvin | Self::Celsius => "K",
            Self::Fahrenheit => "°F",
        }
    }
}

/// A unit of pressure that says whether it is absolute or relative to the air around.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PressureUnit {
    /// Pounds per square inch, gauge.
    PsiGauge,
    /// Pounds per square inch, absolute.
    PsiAbsolute,
    /// Bar, gauge.
    BarGauge,
    /// Bar, absolute.
    BarAbsolute,
    /// Kilopascal, gauge.
    KilopascalGauge,
    /// Kilopascal, absolute.
    KilopascalAbsolute,
    /// Megapascal, gauge.
    MegapascalGauge,
    /// Megapascal, absolute.
    MegapascalAbsolute,
    /// Pascal, absolute.
    Pascal,
    /// Inches of mercury at 0 °C, absolute.
    InchesOfMercuryAbsolute,
    /// Inches of mercury at 0 °C below the site's air.
    InchesOfMercuryVacuum,
    /// Micron of mercury, absolute.
    Micron,
    /// Millibar, absolute.
    Millibar,
    /// Torr, absolute.
    Torr,
}

impl PressureUnit {
    /// The unit's sign for a difference, without what a pressure is relative to.
    pub const fn difference_symbol(self) -> &'static str {
        match self {
            Self::PsiGauge | Self::PsiAbsolute => "psi",
            Self::BarGauge | Self::BarAbsolute => "bar",
            Self::KilopascalGauge | Self::KilopascalAbsolute => "kPa",
            Self::MegapascalGauge | Self::MegapascalAbsolute => "MPa",
            Self::InchesOfMercuryAbsolute | Self::InchesOfMercuryVacuum => "inHg",
            _ => self.typed(),
        }
    }

    /// Decimals of a difference to what a good gauge resolves: 0.01 psi, 0.001 bar, 0.1 kPa.
    pub const fn difference_decimals(self) -> usize {
        match self.pascal() {
            size if size > 5e5 => 4,
            size if size > 5e4 => 3,
            size if size > 2e3 => 2,
            _ => 1,
        }
    }

    /// The units in which a vacuum is told.
    pub const OF_VACUUM: &'static [PressureUnit] =
        &[Self::Micron, Self::Pascal, Self::Millibar, Self::Torr];

    /// Every unit, in the order in which a hint names them.
    pub const ALL: &'static [PressureUnit] = &[
        Self::PsiGauge,
        Self::PsiAbsolute,
        Self::BarGauge,
        Self::BarAbsolute,
        Self::KilopascalGauge,
        Self::KilopascalAbsolute,
        Self::MegapascalGauge,
        Self::MegapascalAbsolute,
        Self::Pascal,
        Self::InchesOfMercuryAbsolute,
        Self::InchesOfMercuryVacuum,
        Self::Micron,
        Self::Millibar,
        Self::Torr,
    ];

    /// The unit as it is typed, and as answers repeat it.
    pub const fn typed(self) -> &'static str {
        match self {
            Self::PsiGauge => "psig",
            Self::PsiAbsolute => "psia",
            Self::BarGauge => "barg",
            Self::BarAbsolute => "bara",
            Self::KilopascalGauge => "kPag",
            Self::KilopascalAbsolute => "kPaa",
            Self::MegapascalGauge => "MPag",
            Self::MegapascalAbsolute => "MPaa",
            Self::Pascal => "Pa",
            Self::InchesOfMercuryAbsolute => "inHga",
            Self::InchesOfMercuryVacuum => "inHgvac",
            Self::Micron => "micron",
            Self::Millibar => "mbar",
            Self::Torr => "torr",
        }
    }

    /// The unit as it is read in a sentence, for example `inHg vacuum`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::InchesOfMercuryVacuum => "inHg vacuum",
            other => other.typed(),
        }
    }

    /// True where the unit is relative to local atmospheric pressure.
    pub const fn is_gauge(self) -> bool {
        matches!(
            self,
            Self::PsiGauge
                | Self::BarGauge
                | Self::KilopascalGauge
                | Self::MegapascalGauge
                | Self::InchesOfMercuryVacuum
        )
    }

    /// True for units of the inch-pound system, and for those of vacuum gauges read with it.
    pub(crate) const fn is_inch_pound(self) -> bool {
        matches!(
            self,
            Self::PsiGauge
                | Self::PsiAbsolute
                | Self::InchesOfMercuryAbsolute
                | Self::InchesOfMercuryVacuum
                | Self::Micron
        )
    }

    /// The absolute unit of the same size.
    pub const fn absolute(self) -> PressureUnit {
        match self {
            Self::PsiGauge => Self::PsiAbsolute,
            Self::BarGauge => Self::BarAbsolute,
            Self::KilopascalGauge => Self::KilopascalAbsolute,
            Self::MegapascalGauge => Self::MegapascalAbsolute,
            Self::InchesOfMercuryVacuum => Self::InchesOfMercuryAbsolute,
            other => other,
        }
    }

    /// Pascal in one of this unit, gauge or absolute.
    pub const fn pascal(self) -> f64 {
        match self {
            Self::PsiGauge | Self::PsiAbsolute => PASCAL_PER_PSI,
            Self::BarGauge | Self::BarAbsolute => 1e5,
            Self::KilopascalGauge | Self::KilopascalAbsolute => 1e3,
            Self::MegapascalGauge | Self::MegapascalAbsolute => 1e6,
            Self::Pascal => 1.0,
            Self::InchesOfMercuryAbsolute | Self::InchesOfMercuryVacuum => {
                PASCAL_PER_INCH_OF_MERCURY
            }
            Self::Micron => PASCAL_PER_MICRON,
            Self::Millibar => 100.0,
            Self::Torr => PASCAL_PER_TORR,
        }
    }

    /// A pressure as a number in this unit at a site; negative where a gauge is in vacuum.
    pub fn read(self, pressure: Pressure, site: &Atmosphere) -> f64 {
        if self == Self::InchesOfMercuryVacuum {
            site.vacuum_inches_of_mercury(pressure)
        } else if self.is_gauge() {
            site.gauge_pascal(pressure) / self.pascal()
        } else {
            pressure.in_pascal() / self.pascal()
        }
    }

    /// The pressure that a number in this unit says at a site.
    pub fn write(self, value: f64, site: &Atmosphere) -> Pressure {
        if self == Self::InchesOfMercuryVacuum {
            site.from_gauge_pascal(-value * self.pascal())
        } else if self.is_gauge() {
            site.from_gauge_pascal(value * self.pascal())
        } else {
            Pressure::pascal(value * self.pascal())
        }
    }

    /// A pressure as a person reads it, with its unit: rounded to the digits of a
    /// chart, and below the site's air as a vacuum in words where the unit is psig.
    ///
    /// # Example
    /// ```
    /// use zeotrope::units::{Atmosphere, Pressure, PressureUnit};
    /// let (site, unit) = (Atmosphere::SEA_LEVEL, PressureUnit::PsiGauge);
    /// assert_eq!(unit.text(Pressure::psia(84.696), &site), "70.0 psig");
    /// assert_eq!(unit.text(Pressure::pascal(51_200.0), &site), "14.8 inHg vacuum");
    /// ```
    pub fn text(self, pressure: Pressure, site: &Atmosphere) -> String {
        let in_vacuum = self == Self::PsiGauge && self.cell(pressure, site).1;
        match self {
            _ if in_vacuum => format!(
                "{} inHg vacuum",
                super::fixed(Self::InchesOfMercuryVacuum.read(pressure, site), 1)
            ),
            Self::InchesOfMercuryVacuum => {
                format!("{} inHg vacuum", self.cell(pressure, site).0)
            }
            _ => format!("{} {}", self.cell(pressure, site).0, self.typed()),
        }
    }

    /// The figure of [`PressureUnit::text`] alone, and whether it counts inches of
    /// mercury below the site's air instead of this unit.
    pub fn cell(self, pressure: Pressure, site: &Atmosphere) -> (String, bool) {
        let value = self.read(pressure, site);
        if self == Self::PsiGauge && value < 0.0 {
            let vacuum = super::fixed(Self::InchesOfMercuryVacuum.read(pressure, site), 1);
            // What rounds to no vacuum at all is no vacuum.
            if vacuum != "0.0" {
                return (vacuum, true);
            }
        }
        let decimals = match self {
            Self::Pascal | Self::Micron => 0,
            Self::BarGauge | Self::BarAbsolute => 3,
            Self::MegapascalGauge | Self::MegapascalAbsolute => 4,
            Self::InchesOfMercuryAbsolute => 2,
            _ => 1,
        };
        let magnitude = value.abs();
        if !self.is_gauge() && magnitude > 0.0 && magnitude < 100.0 / 10f64.powi(decimals) {
            // An absolute figure near zero would lose its digits: three stay.
            return (super::significant(value, 3), false);
        }
        (super::fixed(value, decimals as usize), false)
    }
}
