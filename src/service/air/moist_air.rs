//! Moist air from its dry bulb and one more reading; what a stream of it gives up over a coil.
//!
//! Equations of the ASHRAE Handbook Fundamentals (2017), chapter 1, for a mixture of ideal gases.
//! Like the chapter's own, they leave out the enhancement of saturation by the air (up to 0.5 %).
//! Temperatures t in them are in °C, enthalpies in kJ per kg of dry air from dry air and liquid
//! water at 0 °C.

use crate::error::{Blank, Reason};
use crate::phrase::Phrase;
use crate::service::reasons;
use serde::Serialize;

use crate::error::RangeUnit;
use crate::error::{Error, Result, finite};
use crate::numeric::bracketed_root;
use crate::units::{
    Atmosphere, AtmosphereSource, KG_PER_POUND, M3_PER_CUBIC_FOOT, Pressure, Temperature,
    parse_percent, parse_temperature,
};

/// Ratio of the molar masses of water and dry air.
const MASS_RATIO: f64 = 0.621_945;

/// Gas constant of dry air, J/(kg K).
const DRY_AIR: f64 = 287.042;

/// Where the saturation equation over ice gives way to that over water.
const FREEZING: f64 = 273.15;

/// Ends of the saturation equations, K.
const RANGE: (f64, f64) = (173.15, 473.15);

/// What is known of the moisture beside the dry bulb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Humidity {
    /// The wet bulb; below 0 °C its wick is taken as frozen.
    WetBulb(Temperature),
    /// The relative humidity, 0 to 1; below 0 °C it counts from saturation over ice.
    Relative(f64),
    /// The dew point; below 0 °C the frost point.
    DewPoint(Temperature),
}

impl Humidity {
    /// Reads a wet bulb such as `67F`.
    ///
    /// # Errors
    /// As [`parse_temperature`].
    pub fn parse_wet_bulb(text: &str) -> Result<Self> {
        parse_temperature(text).map(|typed| Self::WetBulb(typed.value))
    }

    /// Reads a relative humidity such as `50%`.
    ///
    /// # Errors
    /// As [`parse_percent`].
    pub fn parse_relative(text: &str) -> Result<Self> {
        parse_percent("relative humidity", text).map(Self::Relative)
    }

    /// Reads a dew point such as `55F`.
    ///
    /// # Errors
    /// As [`parse_temperature`].
    pub fn parse_dew_point(text: &str) -> Result<Self> {
        parse_temperature(text).map(|typed| Self::DewPoint(typed.value))
    }
}

/// Moist air, complete.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MoistAir {
    /// Dry bulb.
    #[serde(rename = "dry_bulb_K")]
    pub dry_bulb: Temperature,
    /// Wet bulb.
    #[serde(rename = "wet_bulb_K")]
    pub wet_bulb: Temperature,
    /// A second, frozen wet bulb: just below freezing some air has both.
    #[serde(rename = "frozen_wet_bulb_K")]
    pub frozen_wet_bulb: Option<Temperature>,
    /// Dew point, below 0 °C the frost point; none in dry air or below -100 °C.
    #[serde(rename = "dew_point_K")]
    pub dew_point: Option<Temperature>,
    /// Relative humidity, 0 to 1.
    pub relative_humidity: f64,
    /// Water by mass of dry air, kg/kg.
    pub humidity_ratio: f64,
    /// Enthalpy, J per kg of dry air, from dry air and liquid water at 0 °C.
    #[serde(rename = "enthalpy_J_kg_dry_air")]
    pub enthalpy: f64,
    /// Volume, m3 per kg of dry air.
    #[serde(rename = "specific_volume_m3_kg_dry_air")]
    pub specific_volume: f64,
    /// Pressure of the air.
    #[serde(skip)]
    pub pressure: Pressure,
}

/// Saturation pressure of water in moist air: over ice below 0 °C, over liquid from there.
///
/// ln p = C1/T + C2 + C3 T + C4 T^2 + C5 T^3 + C6 T^4 + C7 ln T, p in Pa, T in K; ASHRAE
/// Fundamentals 2017, chapter 1, equations 5 and 6 (Hyland & Wexler 1983).
///
/// # Errors
/// [`Error::OutOfRange`] outside -100 to 200 °C.
///
/// # Example
/// ```
/// use zeotrope::{service::air::moist_air::saturation_pressure, units::Temperature};
/// // ASHRAE Fundamentals 2017, chapter 1, Table 3, prints 3169.7 Pa at 25 °C.
/// let pressure = saturation_pressure(Temperature::celsius(25.0))?.in_pascal();
/// assert!((pressure / 3169.7 - 1.0).abs() < 2.5e-4);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn saturation_pressure(temperature: Temperature) -> Result<Pressure> {
    let t = temperature.in_kelvin();
    if !(RANGE.0..=RANGE.1).contains(&t) {
        return Err(Error::OutOfRange {
            quantity: "temperature",
            value: t,
            low: RANGE.0,
            high: RANGE.1,
            unit: RangeUnit::Kelvin,
            range: reasons::RANGE_ICE_AND_WATER.into(),
        });
    }
    let ln = if t < FREEZING {
        -5.674_535_9e3 / t
            + 6.392_524_7
            + t * (-9.677_843_0e-3
                + t * (6.221_570_1e-7 + t * (2.074_782_5e-9 + t * -9.484_024_0e-13)))
            + 4.163_501_9 * t.ln()
    } else {
        -5.800_220_6e3 / t
            + 1.391_499_3
            + t * (-4.864_023_9e-2 + t * (4.176_476_8e-5 + t * -1.445_209_3e-8))
            + 6.545_967_3 * t.ln()
    };
    Ok(Pressure::pascal(ln.exp()))
}

/// W = 0.621945 p_w / (p - p_w); ASHRAE Fundamentals 2017, chapter 1, equation 20.
fn humidity_ratio(vapor: f64, pressure: f64) -> Result<f64> {
    if vapor >= pressure {
        return Err(Error::NoAnswer {
            reason: Reason::with(reasons::AIR_TOO_MOIST, "vapor", Blank::PressureSize(vapor))
                .and("air", Blank::PressureSize(pressure)),
            hint: "this moisture boils at the pressure of the site; check the temperatures".into(),
        });
    }
    Ok(MASS_RATIO * vapor / (pressure - vapor))
}

/// Humidity ratio from dry and wet bulb, the wick wet or frozen.
///
/// Wet, equation 33: W = [(2501 - 2.326 t*) Ws* - 1.006 (t - t*)] / (2501 + 1.86 t - 4.186 t*).
/// Frozen, equation 35: W = [(2830 - 0.24 t*) Ws* - 1.006 (t - t*)] / (2830 + 1.86 t - 2.1 t*).
/// ASHRAE Fundamentals 2017, chapter 1.
fn ratio_of_wet_bulb(dry: f64, wet: f64, frozen: bool, pressure: f64) -> Result<f64> {
    let vapor = saturation_pressure(Temperature::kelvin(wet))?.in_pascal();
    let saturated = humidity_ratio(vapor, pressure)?;
    let (t, wet) = (dry - FREEZING, wet - FREEZING);
    Ok(if frozen {
        ((2830.0 - 0.24 * wet) * saturated - 1.006 * (t - wet)) / (2830.0 + 1.86 * t - 2.1 * wet)
    } else {
        ((2501.0 - 2.326 * wet) * saturated - 1.006 * (t - wet)) / (2501.0 + 1.86 * t - 4.186 * wet)
    })
}

impl MoistAir {
    /// Moist air from its dry bulb, one more reading and its pressure.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where the wet bulb or dew point lies above the dry bulb, the relative
    /// humidity outside 0 to 1, the wet bulb below that of dry air, or where the vapour would
    /// exceed the air's pressure; [`Error::OutOfRange`] outside -100 to 200 °C.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::air::moist_air::{Humidity, MoistAir};
    /// use zeotrope::units::{Pressure, Temperature};
    /// // ASHRAE Fundamentals, chapter 1, reads W = 6.5 g/kg and 14 % from its chart, to 2 %.
    /// let air = MoistAir::new(
    ///     Temperature::celsius(40.0),
    ///     Humidity::WetBulb(Temperature::celsius(20.0)),
    ///     Pressure::kilopascal(101.325),
    /// )?;
    /// assert!((air.humidity_ratio / 0.0065 - 1.0).abs() < 0.02);
    /// assert!((air.relative_humidity / 0.14 - 1.0).abs() < 0.02);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn new(dry_bulb: Temperature, humidity: Humidity, pressure: Pressure) -> Result<Self> {
        finite("pressure", pressure.in_pascal())?;
        match humidity {
            Humidity::Relative(share) => finite("relative humidity", share)?,
            Humidity::WetBulb(wet) => finite("wet-bulb temperature", wet.in_kelvin())?,
            Humidity::DewPoint(dew) => finite("dew-point temperature", dew.in_kelvin())?,
        };
        let saturation = saturation_pressure(dry_bulb)?.in_pascal();
        let (dry, p) = (dry_bulb.in_kelvin(), pressure.in_pascal());
        let none = |reason: Phrase, hint: &str| {
            Err(Error::NoAnswer {
                reason: reason.into(),
                hint: hint.into(),
            })
        };
        let vapor = match humidity {
            Humidity::Relative(share) if !(0.0..=1.0).contains(&share) => {
                return none(reasons::AIR_HUMIDITY_OUTSIDE, "check the reading");
            }
            Humidity::Relative(share) => share * saturation,
            Humidity::DewPoint(dew) if dew > dry_bulb => {
                return none(
                    reasons::AIR_DEW_ABOVE,
                    "the two may be swapped; a dew point is at most the dry bulb",
                );
            }
            Humidity::DewPoint(dew) => saturation_pressure(dew)?.in_pascal(),
            Humidity::WetBulb(wet) if wet > dry_bulb => {
                return none(
                    reasons::AIR_WET_BULB_ABOVE,
                    "the two may be swapped; a wet bulb is at most the dry bulb",
                );
            }
            Humidity::WetBulb(wet) => {
                let wet = wet.in_kelvin();
                let ratio = ratio_of_wet_bulb(dry, wet, wet < FREEZING, p)?;
                if ratio < 0.0 {
                    return none(
                        reasons::AIR_WET_BULB_BELOW,
                        "check both thermometers and the wick",
                    );
                }
                ratio * p / (MASS_RATIO + ratio)
            }
        };
        let ratio = humidity_ratio(vapor, p)?;
        let (wet_bulb, frozen_wet_bulb) = match humidity {
            Humidity::WetBulb(wet) => (wet, None),
            _ => wet_bulbs(dry, ratio, p)?,
        };
        let t = dry - FREEZING;
        Ok(Self {
            dry_bulb,
            pressure,
            humidity_ratio: ratio,
            relative_humidity: vapor / saturation,
            wet_bulb,
            frozen_wet_bulb,
            dew_point: match humidity {
                Humidity::DewPoint(dew) => Some(dew),
                _ => dew_point(vapor, dry)?,
            },
            // h = 1.006 t + W (2501 + 1.86 t); equation 30.
            enthalpy: 1e3 * (1.006 * t + ratio * (2501.0 + 1.86 * t)),
            // v = 0.287042 (t + 273.15) (1 + 1.607858 W) / p; equation 26.
            specific_volume: DRY_AIR * dry * (1.0 + 1.607_858 * ratio) / p,
        })
    }
}

/// The temperature at which a vapour pressure saturates, up to the dry bulb.
fn dew_point(vapor: f64, dry: f64) -> Result<Option<Temperature>> {
    let excess = |t: f64| Ok(saturation_pressure(Temperature::kelvin(t))?.in_pascal() - vapor);
    if excess(RANGE.0)? > 0.0 {
        return Ok(None);
    }
    // Rounding may leave saturated air a trace above itself.
    if excess(dry)? <= 0.0 {
        return Ok(Some(Temperature::kelvin(dry)));
    }
    let found = bracketed_root(excess, RANGE.0, dry, 1e-12)?;
    Ok(Some(Temperature::kelvin(found)))
}

/// The wet bulb of air, and the frozen one beside it where there are two.
///
/// From ice to water at 0 °C the ratio that a wet bulb stands for steps down, since ice takes the
/// more heat to turn to vapour. Air between the two has one wet bulb on either side.
fn wet_bulbs(dry: f64, ratio: f64, pressure: f64) -> Result<(Temperature, Option<Temperature>)> {
    let search = |low: f64, high: f64, frozen: bool| -> Result<Option<f64>> {
        let excess = |wet: f64| Ok(ratio_of_wet_bulb(dry, wet, frozen, pressure)? - ratio);
        if high <= low || excess(low)? > 0.0 {
            return Ok(None);
        }
        let at_high = excess(high)?;
        if at_high < 0.0 {
            // Saturated air is its own wet bulb, a trace of rounding aside.
            let saturated = high == dry && at_high > -1e-9 * ratio.max(1e-9);
            return Ok(saturated.then_some(high));
        }
        bracketed_root(excess, low, high, 1e-12).map(Some)
    };
    // The hottest wet bulb that does not boil at this pressure.
    let hottest = boiling(pressure)?.min(dry);
    let frozen = search(RANGE.0, hottest.min(FREEZING - 1e-9), true)?.map(Temperature::kelvin);
    let wet = search(FREEZING, hottest, false)?.map(Temperature::kelvin);
    match (wet, frozen) {
        (Some(wet), frozen) => Ok((wet, frozen)),
        (None, Some(frozen)) => Ok((frozen, None)),
        (None, None) => Err(Error::NoAnswer {
            reason: reasons::AIR_NO_WET_BULB.into(),
            hint: "check the readings".into(),
        }),
    }
}

/// Just below the temperature at which water's saturation reaches a pressure.
fn boiling(pressure: f64) -> Result<f64> {
    let excess = |t: f64| Ok(saturation_pressure(Temperature::kelvin(t))?.in_pascal() - pressure);
    if excess(RANGE.1)? < 0.0 {
        return Ok(RANGE.1);
    }
    Ok(bracketed_root(excess, RANGE.0, RANGE.1, 1e-12)? - 1e-6)
}

/// Heat that a stream of air gives up from one state to another.
///
/// # Units
/// kg/s of dry air, kg/s of water, W. Positive where the air is cooled and dried.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AirSide {
    /// Dry air.
    #[serde(rename = "dry_air_kg_s")]
    pub dry_air: f64,
    /// Water that leaves the air.
    #[serde(rename = "water_kg_s")]
    pub water: f64,
    /// Heat in all, from the enthalpies.
    #[serde(rename = "capacity_W")]
    pub total: f64,
    /// The part that changes the dry bulb, taken at the leaving humidity ratio.
    #[serde(rename = "sensible_W")]
    pub sensible: f64,
    /// The part that changes the humidity ratio, taken at the entering dry bulb.
    #[serde(rename = "latent_W")]
    pub latent: f64,
}

/// The heat that a volume flow of air, measured where it enters, gives up.
///
/// Q = V (h1 - h2) / v1, per kg of dry air; the heat that condensate carries away (about 1 %) is not
/// subtracted. ASHRAE Fundamentals 2017, chapter 1, moist air cooling and dehumidification.
///
/// # Units
/// Flow in m3/s.
///
/// # Example
/// ```
/// use zeotrope::service::air::moist_air::{Humidity, MoistAir, air_side};
/// use zeotrope::units::{Pressure, Temperature};
/// let air = |dry: f64, share: f64| {
///     let pressure = Pressure::kilopascal(101.325);
///     MoistAir::new(Temperature::fahrenheit(dry), Humidity::Relative(share), pressure)
/// };
/// // Dry standard air, 70 °F, from the rule of thumb 1.08 Btu/h per cfm and °F (common practice):
/// let found = air_side(&air(70.0, 0.0)?, &air(50.0, 0.0)?, 1000.0 * 0.3048_f64.powi(3) / 60.0);
/// assert!((found.sensible * 3.412_142 / (1.08 * 1000.0 * 20.0) - 1.0).abs() < 0.01);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn air_side(entering: &MoistAir, leaving: &MoistAir, flow: f64) -> AirSide {
    let dry_air = flow / entering.specific_volume;
    let (t1, t2) = (
        entering.dry_bulb.in_celsius(),
        leaving.dry_bulb.in_celsius(),
    );
    let (w1, w2) = (entering.humidity_ratio, leaving.humidity_ratio);
    AirSide {
        dry_air,
        water: dry_air * (w1 - w2),
        total: dry_air * (entering.enthalpy - leaving.enthalpy),
        sensible: dry_air * 1e3 * (1.006 + 1.86 * w2) * (t1 - t2),
        latent: dry_air * 1e3 * (w1 - w2) * (2501.0 + 1.86 * t1),
    }
}

/// Density of the air for which the rule-of-thumb factors stand, kg/m3: 0.075 lb/ft3.
const STANDARD_DENSITY: f64 = 0.075 * KG_PER_POUND / M3_PER_CUBIC_FOOT;

/// Where the equations of moist air come from.
pub const SOURCE: &str = "ASHRAE Handbook Fundamentals 2017, chapter 1: saturation by its equations 5 \
                          and 6 (over ice below 0 °C), mixture of ideal gases, enhancement left out";

/// Moist air with what it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OneState {
    /// The air.
    #[serde(flatten)]
    pub air: MoistAir,
    /// Local atmospheric pressure.
    #[serde(rename = "atmosphere_Pa")]
    pub atmosphere: Pressure,
    /// Where the equations come from.
    pub source: &'static str,
}

impl OneState {
    /// The air from its readings.
    ///
    /// # Errors
    /// As [`MoistAir::new`].
    pub fn new((dry, humidity): (Temperature, Humidity), site: &Atmosphere) -> Result<Self> {
        Ok(Self {
            air: MoistAir::new(dry, humidity, site.pressure())?,
            atmosphere: site.pressure(),
            source: SOURCE,
        })
    }
}

/// Air that enters and leaves a coil, and the heat between.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TwoStates {
    /// The air that enters.
    pub entering: MoistAir,
    /// The air that leaves.
    pub leaving: MoistAir,
    /// Flow measured where the air enters, m3/s.
    #[serde(rename = "flow_m3_s")]
    pub flow: f64,
    /// The heat.
    #[serde(flatten)]
    pub side: AirSide,
    /// Capacity that the same readings and flow would give at sea level, W; none at sea level.
    #[serde(rename = "sea_level_capacity_W")]
    pub sea_level_capacity: Option<f64>,
    /// Capacity minus that at sea level, W.
    #[serde(rename = "altitude_part_W", skip_serializing_if = "Option::is_none")]
    pub altitude_part: Option<f64>,
    /// Density of the entering dry air over that of the rule-of-thumb factors.
    pub density_over_standard_air: f64,
    /// Local atmospheric pressure.
    #[serde(rename = "atmosphere_Pa")]
    pub atmosphere: Pressure,
    /// Where the equations come from.
    pub source: &'static str,
}

impl TwoStates {
    /// The heat between two states from their readings and a flow in m3/s.
    ///
    /// # Errors
    /// As [`MoistAir::new`].
    pub fn new(
        entering: (Temperature, Humidity),
        leaving: (Temperature, Humidity),
        flow: f64,
        site: &Atmosphere,
    ) -> Result<Self> {
        finite("flow", flow)?;
        let side = |air: &Atmosphere| {
            let of = |(dry, humidity)| MoistAir::new(dry, humidity, air.pressure());
            let (entering, leaving) = (of(entering)?, of(leaving)?);
            Ok((entering, leaving, air_side(&entering, &leaving, flow)))
        };
        let (entering, leaving, found) = side(site)?;
        let sea = match site.source() {
            AtmosphereSource::SeaLevel => None,
            _ => Some(side(&Atmosphere::SEA_LEVEL)?.2.total),
        };
        Ok(Self {
            entering,
            leaving,
            flow,
            side: found,
            sea_level_capacity: sea,
            altitude_part: sea.map(|sea| found.total - sea),
            density_over_standard_air: 1.0 / entering.specific_volume / STANDARD_DENSITY,
            atmosphere: site.pressure(),
            source: SOURCE,
        })
    }
}
