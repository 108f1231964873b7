//! A rise test: how far and how fast the pressure rises after the pump is shut off, whether it
//! stays below a limit, and the shape of the rise where there is enough of it.

use serde::Serialize;

use crate::phrase::Phrase;
use crate::service::reading::log::Statistics;
use crate::service::reasons;
use crate::units::Pressure;
use crate::{Error, Result};

/// The shape of a rise after the pump is shut off.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum RiseShape {
    /// As steep at the end as at the beginning.
    Straight,
    /// Levels off near the saturation of water.
    LevelsAtWater,
    /// Levels off elsewhere, or nothing is known to compare with.
    Levels,
    /// Neither.
    Between,
    /// No rise.
    None,
    /// Too little rise to have a shape.
    TooLittle,
    /// Too few readings to have a shape.
    TooFew,
}

impl RiseShape {
    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Straight => "straight",
            Self::LevelsAtWater => "levels_at_water",
            Self::Levels => "levels",
            Self::Between => "between",
            Self::None => "none",
            Self::TooLittle => "too_little",
            Self::TooFew => "too_few_readings",
        }
    }
}

/// A limit below which a rise is to stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// The limit.
    pub limit: Pressure,
    /// For how long, s.
    pub time: f64,
}

/// What a gauge resolves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Resolution {
    /// As given.
    Given(Pressure),
    /// The last digit of its readings as they are written.
    Written(Pressure),
}

impl Resolution {
    /// The smallest step that it shows.
    pub const fn step(self) -> Pressure {
        match self {
            Self::Given(step) | Self::Written(step) => step,
        }
    }
}

/// Whether a rise stayed below its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Held {
    /// No reading of the time asked for lies above the limit.
    Below,
    /// A reading lies above the limit: so many seconds after the first one.
    Passed(f64),
    /// None lies above the limit, and the readings end before the time asked for.
    TooShort,
}

impl Held {
    /// For programs.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Below => "below",
            Self::Passed(_) => "passed",
            Self::TooShort => "too_short",
        }
    }
}

/// How fast a pressure rises, Pa/s.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct RiseSlopes {
    /// Over the first third of the time.
    pub first: f64,
    /// Over the last third.
    pub last: f64,
}

/// A rise test in figures.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Rise {
    /// Pressure at the first reading.
    pub first: Pressure,
    /// Pressure at the last reading.
    pub last: Pressure,
    /// Time from the first to the last reading, s.
    pub duration: f64,
    /// What the gauge resolves, where that is known.
    pub resolution: Option<Resolution>,
    /// The limit and how it was held, where one was asked for.
    pub hold: Option<(Hold, Held)>,
    /// Rise over the first and over the last third of the time; none with too few readings.
    pub slopes: Option<RiseSlopes>,
    /// Last pressure over the saturation of water, where that is known.
    pub share_of_water: Option<f64>,
    /// The shape.
    pub shape: RiseShape,
}

impl Rise {
    /// By how much the pressure rose, Pa.
    pub fn total(&self) -> f64 {
        self.last.in_pascal() - self.first.in_pascal()
    }

    /// The rise over the time it took, Pa/s.
    pub fn rate(&self) -> f64 {
        self.total() / self.duration
    }
}

/// Fewest readings of a rise with a shape.
const FEWEST: usize = 6;

/// A rise below so many steps of the gauge has no shape: a third of it must show more than 10
/// steps, so that half a step at either end of a third bends its slope by less than a tenth.
const STEPS: f64 = 30.0;

/// A rise below this part of the first reading has no shape: gauges for vacuum are seldom
/// accurate to more (common practice, no source).
const PART: f64 = 0.1;

/// Describes a rise test: readings of time in s and pressure, from when the pump was shut off, and
/// the pressure of water's vapor at the temperature of the coldest part where that is known.
///
/// The slopes are fitted by least squares over the first and the last third of the time. A last
/// slope above 0.7 of the first is called straight, one below 0.3 levelling off; 0.7 to 1.1 of
/// water's saturation is called near it. A rise below a tenth of the first reading, or below 30
/// steps of the gauge, is too little to have a shape, and fewer than 6 readings, or than 2 in the first
/// or last third, are too few. These bounds are this program's own.
///
/// `resolution` is the gauge's step, where it is known. `hold` asks whether the rise stayed below a limit.
///
/// # Errors
/// [`Error::NoAnswer`] with fewer than 2 readings, times that do not rise, or a pressure that is not
/// above zero.
///
/// # Example
/// ```
/// use zeotrope::service::vessel::rise::{RiseShape, rise};
/// use zeotrope::units::Pressure;
/// let steady: Vec<_> = (0..10)
///     .map(|minute| (60.0 * f64::from(minute), Pressure::pascal(50.0 + f64::from(minute))))
///     .collect();
/// let found = rise(&steady, None, None, None)?;
/// assert_eq!(found.shape, RiseShape::Straight);
/// assert!((found.slopes.unwrap().first - 1.0 / 60.0).abs() < 1e-12);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn rise(
    readings: &[(f64, Pressure)],
    water: Option<Pressure>,
    resolution: Option<Resolution>,
    hold: Option<Hold>,
) -> Result<Rise> {
    check(readings)?;
    let (&[(begun, first), ..], &[.., (ended, last)]) = (readings, readings) else {
        return Err(wrong(reasons::RISE_NO_READINGS, "give at least 2 readings"));
    };
    let duration = ended - begun;
    let third = |from: f64, to: f64| -> Option<f64> {
        let mut inside = Statistics::default();
        for (time, pressure) in readings {
            let time = time - begun;
            if time >= from * duration && time <= to * duration {
                inside.add(time, pressure.in_pascal());
            }
        }
        inside.trend()
    };
    let slopes = third(0.0, 1.0 / 3.0).zip(third(2.0 / 3.0, 1.0));
    let slopes = slopes.map(|(first, last)| RiseSlopes { first, last });
    let slopes = slopes.filter(|_| readings.len() >= FEWEST);
    let share_of_water = water.map(|water| last.in_pascal() / water.in_pascal());
    let near_water = share_of_water.is_some_and(|share| (0.7..=1.1).contains(&share));
    let total = last.in_pascal() - first.in_pascal();
    let step = resolution.map_or(0.0, |resolution| resolution.step().in_pascal());
    let too_little = total < PART * first.in_pascal() || total < STEPS * step;
    let shape = match slopes {
        _ if total <= 0.0 => RiseShape::None,
        _ if too_little => RiseShape::TooLittle,
        None => RiseShape::TooFew,
        Some(RiseSlopes { first, .. }) if first <= 0.0 => RiseShape::Between,
        Some(RiseSlopes { first, last }) if last > 0.7 * first => RiseShape::Straight,
        Some(RiseSlopes { first, last }) if last >= 0.3 * first => RiseShape::Between,
        Some(_) if near_water => RiseShape::LevelsAtWater,
        Some(_) => RiseShape::Levels,
    };
    Ok(Rise {
        first,
        last,
        duration,
        resolution,
        hold: hold.map(|hold| (hold, held(readings, hold))),
        slopes,
        share_of_water,
        shape,
    })
}

/// What a rise test must be.
fn check(readings: &[(f64, Pressure)]) -> Result<()> {
    if readings.len() < 2 {
        return Err(wrong(
            reasons::RISE_READINGS_TOO_FEW,
            "give at least 2 readings, 6 for a shape",
        ));
    }
    if !readings.is_sorted_by(|(one, _), (next, _)| one < next) {
        return Err(wrong(
            reasons::RISE_TIMES,
            "give the readings in order of time, each time once",
        ));
    }
    if readings
        .iter()
        .any(|(_, pressure)| pressure.in_pascal() <= 0.0)
    {
        return Err(wrong(
            reasons::RISE_PRESSURE,
            "a vacuum gauge shows the absolute pressure, which is positive",
        ));
    }
    Ok(())
}

fn wrong(reason: Phrase, hint: &str) -> Error {
    Error::NoAnswer {
        reason: reason.into(),
        hint: hint.into(),
    }
}

fn held(readings: &[(f64, Pressure)], hold: Hold) -> Held {
    let begun = readings.first().map_or(0.0, |(time, _)| *time);
    let mut inside = readings
        .iter()
        .map(|(time, pressure)| (time - begun, pressure));
    let passed = inside.find(|(time, pressure)| *time <= hold.time && **pressure > hold.limit);
    let last = readings.last().map_or(0.0, |(time, _)| time - begun);
    match passed {
        Some((time, _)) => Held::Passed(time),
        None if last >= hold.time => Held::Below,
        None => Held::TooShort,
    }
}

/// A rise test for programs.
#[derive(Serialize)]
#[allow(non_snake_case)]
pub(super) struct Rising {
    first_pressure_Pa: Pressure,
    last_pressure_Pa: Pressure,
    duration_s: f64,
    rise_Pa: f64,
    rise_rate_Pa_s: f64,
    resolution_Pa: Option<Pressure>,
    first_slope_Pa_s: Option<f64>,
    last_slope_Pa_s: Option<f64>,
    last_over_saturation: Option<f64>,
    shape: &'static str,
    limit_Pa: Option<Pressure>,
    hold_s: Option<f64>,
    held: Option<&'static str>,
    passed_after_s: Option<f64>,
}

impl From<&Rise> for Rising {
    fn from(rise: &Rise) -> Self {
        Self {
            first_pressure_Pa: rise.first,
            last_pressure_Pa: rise.last,
            duration_s: rise.duration,
            rise_Pa: rise.total(),
            rise_rate_Pa_s: rise.rate(),
            resolution_Pa: rise.resolution.map(Resolution::step),
            first_slope_Pa_s: rise.slopes.map(|slopes| slopes.first),
            last_slope_Pa_s: rise.slopes.map(|slopes| slopes.last),
            last_over_saturation: rise.share_of_water,
            shape: rise.shape.name(),
            limit_Pa: rise.hold.map(|(hold, _)| hold.limit),
            hold_s: rise.hold.map(|(hold, _)| hold.time),
            held: rise.hold.map(|(_, held)| held.name()),
            passed_after_s: rise.hold.and_then(|(_, held)| match held {
                Held::Passed(time) => Some(time),
                _ => None,
            }),
        }
    }
}
