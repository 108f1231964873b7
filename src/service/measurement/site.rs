//! Which air a gauge reads against at the site.

use crate::units::{Atmosphere, BareUnit, Pressure, parse_pressure};
use crate::{Error, Result, Warning};

/// Share of the standard atmosphere beyond which a barometer reading is doubted.
const DOUBTED: f64 = 0.05;

/// The air at the site, from what was said about it.
///
/// A station pressure outranks an elevation. The second value is a warning where both
/// are given and differ by more than 5 %: the reading may be a weather report's
/// figure, which is reduced to sea level.
///
/// # Units
/// The elevation in metres.
///
/// # Errors
/// [`Error::Value`] where the elevation lies outside -500 m to
/// 11 000 m or the pressure is no air's.
///
/// # Example
/// ```
/// use zeotrope::service::measurement::site::atmosphere;
/// use zeotrope::units::Pressure;
/// let (air, warning) = atmosphere(Some(1600.0), Some(Pressure::pascal(101_325.0)))?;
/// assert_eq!(air.pressure().in_pascal(), 101_325.0);
/// assert_eq!(warning.unwrap().code(), "station_pressure");
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn atmosphere(
    elevation: Option<f64>,
    station: Option<Pressure>,
) -> Result<(Atmosphere, Option<Warning>)> {
    let standard = elevation
        .map(Atmosphere::standard_at_elevation)
        .transpose()?;
    let Some(station) = station else {
        return Ok((standard.unwrap_or(Atmosphere::SEA_LEVEL), None));
    };
    let air = Atmosphere::from_station_pressure(station)?;
    let warning = standard.and_then(|standard| {
        let standard = standard.pressure();
        let share = station.in_pascal() / standard.in_pascal() - 1.0;
        (share.abs() > DOUBTED).then_some(Warning::StationPressure {
            given: station,
            standard,
        })
    });
    Ok((air, warning))
}

/// What a barometer's reading looks like.
const BAROMETER: &str = "give the absolute pressure read at the site, for example 24.6inHga, \
                         833mbar or 83.3kPaa";

/// Reads the pressure of the air at a site, as its barometer shows it.
///
/// # Errors
/// [`Error::Value`] where it is no pressure, or relative to that very air.
///
/// # Example
/// ```
/// use zeotrope::service::measurement::site::parse_station_pressure;
/// assert_eq!(parse_station_pressure("833mbar")?.in_pascal(), 83_300.0);
/// assert!(parse_station_pressure("3psig").is_err());
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn parse_station_pressure(text: &str) -> Result<Pressure> {
    let typed = parse_pressure(text, BareUnit::Absolute, &Atmosphere::SEA_LEVEL)
        .map_err(|error| error.with_value_hint(BAROMETER))?;
    if typed.unit.is_gauge() {
        return Err(Error::Value {
            quantity: "station pressure",
            text: text.to_owned(),
            problem: "is relative to the very air that it has to state".into(),
            hint: BAROMETER.into(),
        });
    }
    Ok(typed.value)
}
