//! The arguments as meant: SI, resolved refrigerants, a site, a format.

use std::borrow::Cow;

use crate::Warning;
use crate::catalogue::Catalogue;
use crate::cli::args::{
    BasisArgs, DataArgs, OutputArgs, PairsArg, SiteArgs, System, UnitArgs, ZeroArg,
};
use crate::cli::errors::{Failure, OrFailure};
use crate::output::Format;
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::service::measurement::decision::Target;
use crate::service::measurement::site;
use crate::units::{
    Atmosphere, BareUnit, PressureUnit, TemperatureUnit, UnitSet, parse_band, parse_elevation,
    parse_pressure, parse_temperature_difference,
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

/// A bare number of an option, from zero up.
pub(crate) fn bare_number(option: &str, text: &str, what: &str) -> Result<f64, Failure> {
    text.trim()
        .parse()
        .ok()
        .filter(|value: &f64| value.is_finite() && *value >= 0.0)
        .ok_or_else(|| {
            Failure::usage(
                format!("{option}: '{text}' is not a number from zero up"),
                format!("give {what}, a bare number"),
            )
        })
}

/// What a barometer's reading looks like.
const BAROMETER: &str = "give the absolute pressure read at the site, for example 24.6inHga, \
                         833mbar or 83.3kPaa";

/// An option's value, told as that option's where it is wrong.
pub(crate) fn option<Value>(
    name: &str,
    text: Option<&str>,
    parse: impl Fn(&str) -> crate::Result<Value>,
) -> Result<Option<Value>, Failure> {
    text.map(parse).transpose().of_option(name)
}

/// A target and its band, as two options that need each other.
pub(crate) fn target(
    [target_name, band_name]: [&str; 2],
    target: Option<&str>,
    band: Option<&str>,
) -> Result<Option<Target>, Failure> {
    let target = option(target_name, target, parse_temperature_difference)?;
    let band = option(band_name, band, parse_band)?;
    let both = target.zip(band).map(|(target, band)| Target {
        value: target.value.in_kelvin(),
        band: band.value.in_kelvin(),
    });
    if both.is_some_and(|target| target.band <= 0.0) {
        return Err(Failure::usage(
            format!("{band_name}: a band is wider than nothing"),
            "give how far from the target is still within, for example 3F",
        ));
    }
    Ok(both)
}

/// A value's error with the hint of the place where it was typed.
pub(crate) fn hinted(error: crate::Error, hint: &str) -> crate::Error {
    match error {
        crate::Error::Value {
            quantity,
            text,
            problem,
            ..
        } => crate::Error::Value {
            quantity,
            text,
            problem,
            hint: hint.into(),
        },
        other => other,
    }
}

/// The air at the site, with a warning where what was said about it does not agree.
pub(crate) fn site(args: &SiteArgs) -> Result<(Atmosphere, Vec<Warning>), Failure> {
    let elevation = args
        .elevation
        .as_deref()
        .map(parse_elevation)
        .transpose()
        .of_option("--elevation")?;
    let station = args
        .station_pressure
        .as_deref()
        .map(|text| {
            let typed = parse_pressure(text, BareUnit::Absolute, &Atmosphere::SEA_LEVEL)?;
            if typed.unit.is_gauge() {
                return Err(crate::Error::Value {
                    quantity: "station pressure",
                    text: text.to_owned(),
                    problem: "is relative to the very air that it has to state".into(),
                    hint: BAROMETER.into(),
                });
            }
            Ok(typed.value)
        })
        .transpose()
        .map_err(|error| Failure::from(hinted(error, BAROMETER)).of_option("--station-pressure"))?;
    let (air, warning) = site::atmosphere(elevation, station)?;
    Ok((air, warning.into_iter().collect()))
}

/// The reference state asked for, or the usual one.
pub(crate) fn zero(asked: Option<ZeroArg>) -> ReferenceState {
    match asked {
        None => ReferenceState::Usual,
        Some(ZeroArg::Iir) => ReferenceState::Iir,
        Some(ZeroArg::Ashrae) => ReferenceState::Ashrae,
        Some(ZeroArg::BoilingPoint) => ReferenceState::BoilingPoint,
        Some(ZeroArg::IdealGas) => ReferenceState::IdealGas,
    }
}

/// The units of the answer: those asked for, else those of the question.
pub(crate) fn units(
    args: &UnitArgs,
    temperature: Option<TemperatureUnit>,
    pressure: Option<PressureUnit>,
) -> Result<UnitSet, Failure> {
    let inch_pound = temperature == Some(TemperatureUnit::Fahrenheit)
        || (temperature.is_none() && pressure.is_some_and(is_inch_pound));
    let mut set = match args.units {
        Some(System::Ip) => UnitSet::INCH_POUND,
        Some(System::Si) => UnitSet::SI,
        None if inch_pound => UnitSet::INCH_POUND,
        None => UnitSet::SI,
    };
    if args.units.is_none() {
        if let Some(unit) = temperature {
            set = set.with_temperature(unit);
        }
        if let Some(unit) = pressure {
            set = set.with_pressure(unit);
        }
    }
    if let Some(text) = &args.temperature_unit {
        set = set.with_temperature(TemperatureUnit::named(text)?);
    }
    if let Some(text) = &args.pressure_unit {
        set = set.with_pressure(PressureUnit::named(text)?);
    }
    Ok(set)
}

fn is_inch_pound(unit: PressureUnit) -> bool {
    matches!(
        unit,
        PressureUnit::PsiGauge
            | PressureUnit::PsiAbsolute
            | PressureUnit::InchesOfMercuryAbsolute
            | PressureUnit::InchesOfMercuryVacuum
            | PressureUnit::Micron
    )
}

/// Whether a text means a pressure, so that what is wrong with it is told as such.
pub(crate) fn pressure_like(text: &str) -> bool {
    let unit: String = text
        .chars()
        .filter(char::is_ascii_alphabetic)
        .collect::<String>()
        .to_lowercase();
    ["psi", "bar", "pa", "hg", "micron", "torr"]
        .iter()
        .any(|part| unit.contains(part))
}
