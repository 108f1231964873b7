//! Which air a gauge reads against at the site.

use crate::Result;
use crate::units::{Atmosphere, Pressure};

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
/// [`Error::Value`](crate::Error::Value) where the elevation lies outside -500 m to
/// 11 000 m or the pressure is no air's.
///
/// # Example
/// ```
/// use zeotrope::service::measurement::site::atmosphere;
/// use zeotrope::units::Pressure;
/// let (air, warning) = atmosphere(Some(1600.0), Some(Pressure::pascal(101_325.0)))?;
/// assert_eq!(air.pressure().in_pascal(), 101_325.0);
/// assert!(warning.unwrap().contains("sea level"));
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn atmosphere(
    elevation: Option<f64>,
    station: Option<Pressure>,
) -> Result<(Atmosphere, Option<String>)> {
    let standard = elevation
        .map(Atmosphere::standard_at_elevation)
        .transpose()?;
    let Some(station) = station else {
        return Ok((standard.unwrap_or(Atmosphere::SEA_LEVEL), None));
    };
    let air = Atmosphere::from_station_pressure(station)?;
    let warning = standard.and_then(|standard| {
        let expected = standard.pressure().in_kilopascal();
        let given = station.in_kilopascal();
        ((given / expected - 1.0).abs() > DOUBTED).then(|| {
            format!(
                "the station pressure {given:.1} kPa is more than 5 % from the standard \
                 atmosphere of that elevation, {expected:.1} kPa; a weather report's figure \
                 is reduced to sea level and is not meant"
            )
        })
    });
    Ok((air, warning))
}
