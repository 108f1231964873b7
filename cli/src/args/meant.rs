//! The arguments as meant: SI, resolved refrigerants, a site, a format.

use std::borrow::Cow;

use crate::args::{
    AskedArgs, BasisArgs, DataArgs, OutputArgs, PairsArg, SiteArgs, System, UnitArgs,
};
use crate::errors::Failure;
use zeotrope::Result as Parsed;
use zeotrope::Warning;
use zeotrope::catalogue::Catalogue;
use zeotrope::output::Format;
use zeotrope::page::Style;
use zeotrope::refrigerant::Refrigerant;
use zeotrope::service::measurement::decision::Target;
use zeotrope::service::measurement::site;
use zeotrope::units::{
    Atmosphere, PressureUnit, TemperatureDifference, TemperatureUnit, Typed, UnitSet,
    parse_elevation,
};

/// The format asked for: by name, else by the ending of the file, else text.
pub(crate) fn format(args: &OutputArgs) -> Result<Format, Failure> {
    let is_ending = |name: &str| ["txt", "htm"].contains(&name.to_lowercase().as_str());
    match (&args.format, &args.output) {
        (Some(name), _) => Format::named(name)
            .filter(|_| !is_ending(name))
            .ok_or_else(|| {
                let names: Vec<_> = Format::ALL.iter().map(|format| format.name()).collect();
                let hint = format!("use {}", names.join(", "));
                Failure::usage(format!("'{name}' is not a format"), hint)
            }),
        (None, None) => Ok(Format::Text),
        (None, Some(path)) => {
            let ending = path.extension().map(|ending| ending.to_string_lossy());
            Format::named(&ending.unwrap_or_default()).ok_or_else(|| {
                Failure::usage(
                    format!("the ending of {} names no format", path.display()),
                    "end the name in .txt, .md, .csv, .json, .html, .svg or .pdf, or add --format text",
                )
            })
        }
    }
}

/// The facts to answer from.
pub(crate) fn catalogue(args: &DataArgs) -> Result<Catalogue, Failure> {
    match &args.data {
        Some(directory) => Ok(Catalogue::with_directory(directory)?),
        None => Ok(Catalogue::embedded()),
    }
}

/// A refrigerant as named.
pub(crate) fn refrigerant(
    catalogue: &Catalogue,
    text: &str,
    args: &BasisArgs,
) -> Result<Refrigerant, Failure> {
    let catalogue = with_pairs(catalogue, args.pairs);
    Ok(Refrigerant::kept(&catalogue, text, args.basis())?)
}

/// A catalogue with the parameters of refitted pairs that were asked for.
pub(crate) fn with_pairs(catalogue: &Catalogue, asked: Option<PairsArg>) -> Cow<'_, Catalogue> {
    match asked {
        Some(PairsArg::Published) => Cow::Owned(catalogue.with_published_pairs()),
        Some(PairsArg::Refitted) | None => Cow::Borrowed(catalogue),
    }
}

/// What was typed for an option: once, perhaps once, or several times.
pub(crate) trait Texts {
    /// As many values.
    type Values<V>;
    /// Reads each.
    fn read<V>(&self, parse: impl Fn(&str) -> Parsed<V>) -> Parsed<Self::Values<V>>;
}

impl Texts for String {
    type Values<V> = V;
    fn read<V>(&self, parse: impl Fn(&str) -> Parsed<V>) -> Parsed<V> {
        parse(self)
    }
}

impl Texts for Option<String> {
    type Values<V> = Option<V>;
    fn read<V>(&self, parse: impl Fn(&str) -> Parsed<V>) -> Parsed<Option<V>> {
        self.as_deref().map(parse).transpose()
    }
}

impl Texts for Vec<String> {
    type Values<V> = Vec<V>;
    fn read<V>(&self, parse: impl Fn(&str) -> Parsed<V>) -> Parsed<Vec<V>> {
        self.iter().map(|text| parse(text)).collect()
    }
}

/// The value of an option, told as that option's where it is wrong: `value_of!(args.line, parse)`.
///
/// The option's name is that of the field.
macro_rules! value_of {
    ($args:ident $(.$field:ident)+, $parse:expr) => {
        $crate::errors::OrFailure::of_field(
            $crate::args::meant::Texts::read(&$args $(.$field)+, $parse),
            stringify!($args $(.$field)+),
        )
    };
}
pub(crate) use value_of;

/// A target and its band, as two options that need each other.
pub(crate) fn target(
    target: Option<Typed<TemperatureDifference, TemperatureUnit>>,
    band: Option<Typed<TemperatureDifference, TemperatureUnit>>,
) -> Option<Target> {
    target.zip(band).map(|(target, band)| Target {
        value: target.value.in_kelvin(),
        band: band.value.in_kelvin(),
    })
}

/// The air at the site, with a warning where what was said about it does not agree.
pub(crate) fn site(args: &SiteArgs) -> Result<(Atmosphere, Vec<Warning>), Failure> {
    let elevation = value_of!(args.elevation, parse_elevation)?;
    let station = value_of!(args.station_pressure, site::parse_station_pressure)?;
    let (air, warning) = site::atmosphere(elevation, station)?;
    Ok((air, warning.into_iter().collect()))
}

/// The units of the answer: those asked for, else those of the question.
pub(crate) fn units(
    args: &UnitArgs,
    temperature: Option<TemperatureUnit>,
    pressure: Option<PressureUnit>,
) -> Result<UnitSet, Failure> {
    let mut set = match args.units {
        Some(System::Ip) => UnitSet::INCH_POUND,
        Some(System::Si) => UnitSet::SI,
        None => UnitSet::of_question(temperature, pressure),
    };
    if let Some(text) = &args.temperature_unit {
        set = set.with_temperature(TemperatureUnit::named(text)?);
    }
    if let Some(text) = &args.pressure_unit {
        set = set.with_pressure(PressureUnit::named(text)?);
    }
    Ok(set)
}

impl BasisArgs {
    /// A refrigerant as named.
    pub(crate) fn refrigerant(&self, text: &str) -> Result<Refrigerant, Failure> {
        refrigerant(&catalogue(&self.data)?, text, self)
    }
}

impl AskedArgs {
    /// The style of an answer at a site, by the units in which the question was typed.
    pub(crate) fn style(
        &self,
        temperature: Option<TemperatureUnit>,
        pressure: Option<PressureUnit>,
        site: Atmosphere,
    ) -> Result<Style, Failure> {
        let units = units(&self.units, temperature, pressure)?;
        Ok(self.output.style(units, site))
    }
}
