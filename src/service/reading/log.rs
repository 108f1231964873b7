//! A log of readings: extremes, mean and trend of what was read, one value at a time, so that a
//! log of any length needs no memory.
//!
//! Mean and sums of squares are updated as in Welford, Technometrics 4 (1962) 419; the trend is the
//! slope of the straight line of least squares.

use serde::ser::{Serialize, SerializeStruct, Serializer};

use crate::refrigerant::Refrigerant;
use crate::service::date::parse_date;
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::uncertainty::Uncertainty;
use crate::service::reading::both_sides::{Doubt, Machine, Side};
use crate::units::{Atmosphere, Pressure, Temperature};
use crate::{Error, Result};

/// Extremes, mean and trend of a quantity over time.
///
/// # Units
/// Of the quantity; the trend per second where times are in seconds.
///
/// # Example
/// ```
/// use zeotrope::service::reading::log::Statistics;
/// let mut seen = Statistics::default();
/// for (time, value) in [(0.0, 4.0), (60.0, 5.0), (120.0, 6.0)] {
///     seen.add(time, value);
/// }
/// assert_eq!((seen.min(), seen.max(), seen.mean()), (Some(4.0), Some(6.0), Some(5.0)));
/// assert!((seen.trend().unwrap() - 1.0 / 60.0).abs() < 1e-15);
/// ```
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Statistics {
    count: u64,
    min: f64,
    max: f64,
    mean: f64,
    mean_time: f64,
    /// Sum of (t - mean t)^2.
    spread: f64,
    /// Sum of (t - mean t)(v - mean v).
    together: f64,
}

impl Statistics {
    /// Takes in a value at a time.
    pub fn add(&mut self, time: f64, value: f64) {
        if self.count == 0 {
            (self.min, self.max) = (value, value);
        }
        self.count += 1;
        self.min = self.min.min(value);
        self.max = self.max.max(value);
        let count = self.count as f64;
        let off_time = time - self.mean_time;
        self.mean_time += off_time / count;
        self.mean += (value - self.mean) / count;
        self.spread += off_time * (time - self.mean_time);
        self.together += off_time * (value - self.mean);
    }

    /// How many values there were.
    pub const fn count(&self) -> u64 {
        self.count
    }

    /// The lowest.
    pub fn min(&self) -> Option<f64> {
        (self.count > 0).then_some(self.min)
    }

    /// The highest.
    pub fn max(&self) -> Option<f64> {
        (self.count > 0).then_some(self.max)
    }

    /// The mean of the values, each counting alike.
    pub fn mean(&self) -> Option<f64> {
        (self.count > 0).then_some(self.mean)
    }

    /// The slope of the straight line of least squares; `None` where all times are one.
    pub fn trend(&self) -> Option<f64> {
        (self.count > 1 && self.spread > 0.0).then(|| self.together / self.spread)
    }
}

/// Points of a curve for a picture, of which at most a given number is kept: every second one is
/// dropped whenever there are too many, so that those left stay evenly spread.
#[derive(Debug, Clone, PartialEq)]
pub struct Thinned {
    most: usize,
    every: u64,
    seen: u64,
    points: Vec<(f64, f64)>,
}

impl Thinned {
    /// Keeps at most `most` points, of two or more.
    pub fn new(most: usize) -> Self {
        Self {
            most: most.max(2),
            every: 1,
            seen: 0,
            points: Vec::new(),
        }
    }

    /// Takes in a point.
    pub fn add(&mut self, x: f64, y: f64) {
        if self.seen.is_multiple_of(self.every) {
            self.points.push((x, y));
            if self.points.len() > self.most {
                let mut place = 0;
                self.points.retain(|_| {
                    place += 1;
                    place % 2 == 1
                });
                self.every *= 2;
            }
        }
        self.seen += 1;
    }

    /// The points kept.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Of how many points one was kept.
    pub const fn every(&self) -> u64 {
        self.every
    }
}

/// How a column of times is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Clock {
    /// Numbers, each of so many seconds.
    Seconds(f64),
    /// Date and time as ISO 8601 has them, or a time of day.
    Written,
}

impl Clock {
    /// The clock of a column's head: `time_s`, `time_min`, `time_h`, or `time` and `timestamp`;
    /// `None` where it is no column of times.
    pub fn named(head: &str) -> Option<Self> {
        match head.trim().to_lowercase().as_str() {
            "time_s" | "time (s)" => Some(Self::Seconds(1.0)),
            "time_min" | "time (min)" => Some(Self::Seconds(60.0)),
            "time_h" | "time (h)" => Some(Self::Seconds(3600.0)),
            "time" | "timestamp" | "date_time" | "datetime" => Some(Self::Written),
            _ => None,
        }
    }

    /// The time of a cell, in seconds from wherever the column counts.
    ///
    /// `2026-10-01T12:30:00`, a blank in place of the T, seconds or not, with or without a zone's
    /// `Z` or offset; `12:30` and `12:30:15` as times of one day.
    ///
    /// # Errors
    /// [`Error::Value`] where it is no time.
    ///
    /// # Example
    /// ```
    /// use zeotrope::service::reading::log::Clock;
    /// let at = |text| Clock::Written.seconds(text).unwrap();
    /// assert_eq!(at("2026-03-01T00:00:30") - at("2026-02-28 23:59"), 90.0);
    /// assert_eq!(at("2026-03-01T02:00:00+02:00"), at("2026-03-01T00:00Z"));
    /// ```
    pub fn seconds(self, cell: &str) -> Result<f64> {
        let wrong = || Error::Value {
            quantity: "time",
            text: cell.chars().take(40).collect(),
            problem: "is not a time".into(),
            hint: "write 2026-10-01T12:30:00 or 12:30:00 in a column 'time', or numbers in a \
                   column time_s, time_min or time_h"
                .into(),
        };
        match self {
            Self::Seconds(size) => cell
                .trim()
                .parse::<f64>()
                .ok()
                .filter(|number| number.is_finite())
                .map(|number| number * size)
                .ok_or_else(wrong),
            Self::Written => written(cell.trim()).ok_or_else(wrong),
        }
    }
}

fn written(text: &str) -> Option<f64> {
    match text.split_once(['T', ' ']) {
        Some((date, rest)) => {
            let (clock, zone) = split_zone(rest)?;
            Some(days(date)? * 86_400.0 + of_day(clock)? - zone)
        }
        None => of_day(text),
    }
}

/// A time of day without its zone, and the zone's seconds east.
fn split_zone(text: &str) -> Option<(&str, f64)> {
    if let Some(clock) = text.strip_suffix('Z') {
        return Some((clock, 0.0));
    }
    match text.find(['+', '-']) {
        Some(at) => {
            let sign = if text.as_bytes()[at] == b'-' {
                -1.0
            } else {
                1.0
            };
            Some((&text[..at], sign * of_day(&text[at + 1..])?))
        }
        None => Some((text, 0.0)),
    }
}

/// Seconds of a time of day, `12:30` or `12:30:15.5`.
fn of_day(text: &str) -> Option<f64> {
    let mut parts = text.split(':');
    let mut next = |most: f64| {
        parts
            .next()
            .filter(|part| part.bytes().all(|b| b.is_ascii_digit() || b == b'.'))
            .and_then(|part| part.parse::<f64>().ok())
            .filter(|number| *number < most)
    };
    let hours = next(24.0)?;
    let minutes = next(60.0)?;
    let rest: Vec<&str> = parts.collect();
    let seconds = match rest.as_slice() {
        [] => 0.0,
        [only] => only
            .parse::<f64>()
            .ok()
            .filter(|s| (0.0..61.0).contains(s))?,
        _ => return None,
    };
    Some(hours * 3600.0 + minutes * 60.0 + seconds)
}

/// Days of a date of the Gregorian calendar since 1 March of year 0.
///
/// A year begun in March has its leap day last, so that days before a month are
/// floor((153 m + 2)/5), m counted from March.
fn days(date: &str) -> Option<f64> {
    let (year, month, day) = parse_date(date)?;
    let (year, month, day) = (i64::from(year), i64::from(month), i64::from(day));
    let (year, month) = if month > 2 {
        (year, month - 3)
    } else {
        (year - 1, month + 9)
    };
    let leap = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    Some((365 * year + leap + (153 * month + 2) / 5 + day - 1) as f64)
}

/// A row of a log, answered.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Row {
    /// Its time as the column has it, s, where that can be read.
    pub time: Option<f64>,
    /// The sides and the air.
    pub machine: Machine,
    /// The uncertainty of superheat and subcooling.
    pub uncertainty: [Option<Uncertainty>; 2],
}

impl Row {
    /// What makes no sense for a system that runs.
    pub fn marks(&self) -> Vec<Doubt> {
        let [low, high] = &self.uncertainty;
        let expanded = |found: &Option<Uncertainty>| found.as_ref().map(|one| one.expanded);
        self.machine.marks(expanded(low), expanded(high))
    }
}

/// A quantity of the rows of which there are statistics.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogQuantity {
    /// Dew temperature of the suction side.
    SuctionDew,
    /// Superheat.
    Superheat,
    /// Bubble temperature of the liquid side.
    LiquidBubble,
    /// Subcooling.
    Subcooling,
    /// (bubble + dew)/2 of the evaporator.
    EvaporatingMean,
    /// (bubble + dew)/2 of the condenser.
    CondensingMean,
    /// Pressure ratio.
    PressureRatio,
    /// The condenser's mean minus ambient.
    OverAmbient,
    /// Return air minus the evaporator's mean.
    OverEvaporating,
}

impl LogQuantity {
    /// All of them, in their order.
    pub const ALL: [Self; 9] = [
        Self::SuctionDew,
        Self::Superheat,
        Self::LiquidBubble,
        Self::Subcooling,
        Self::EvaporatingMean,
        Self::CondensingMean,
        Self::PressureRatio,
        Self::OverAmbient,
        Self::OverEvaporating,
    ];

    /// Its name in the statistics.
    pub const fn key(self) -> &'static str {
        match self {
            Self::SuctionDew => "suction_dew_temperature_K",
            Self::Superheat => "superheat_K",
            Self::LiquidBubble => "liquid_bubble_temperature_K",
            Self::Subcooling => "subcooling_K",
            Self::EvaporatingMean => "evaporating_mean_temperature_K",
            Self::CondensingMean => "condensing_mean_temperature_K",
            Self::PressureRatio => "pressure_ratio",
            Self::OverAmbient => "condensing_over_ambient_K",
            Self::OverEvaporating => "air_over_evaporating_K",
        }
    }

    /// Its value in a row: K, or the ratio.
    pub fn of(self, machine: &Machine) -> Option<f64> {
        let (suction, liquid) = (machine.suction.as_ref(), machine.liquid.as_ref());
        let kelvin = |value: Option<Temperature>| value.map(Temperature::in_kelvin);
        match self {
            Self::SuctionDew => kelvin(suction?.dew),
            Self::Superheat => machine.superheat(),
            Self::LiquidBubble => kelvin(liquid?.bubble),
            Self::Subcooling => machine.subcooling(),
            Self::EvaporatingMean => kelvin(suction.and_then(Side::mean)),
            Self::CondensingMean => kelvin(liquid.and_then(Side::mean)),
            Self::PressureRatio => machine.pressure_ratio(),
            Self::OverAmbient => machine.condensing_over_ambient(),
            Self::OverEvaporating => machine.air_over_evaporating(),
        }
    }
}

/// Points of a curve kept for a picture.
const POINTS: usize = 2000;

/// What the rows of a log add up to.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::reading::both_sides::{Machine, Side, SideRead};
/// use zeotrope::service::reading::log::{Log, LogQuantity, Row};
/// use zeotrope::service::reading::superheat_subcooling::Measure;
/// use zeotrope::units::{Atmosphere, Pressure, Temperature};
/// let r134a = Refrigerant::named("R-134a")?;
/// let mut log = Log::new(&r134a, None, Atmosphere::SEA_LEVEL);
/// for celsius in [12.0, 13.0] {
///     let read = SideRead {
///         pressure: Pressure::bar(3.4966),
///         line: Some(Temperature::celsius(celsius)),
///     };
///     let suction = Some(Side::new(&r134a, Measure::Superheat, read)?);
///     let machine = Machine { suction, ..Machine::default() };
///     log.add(Some(&Row { machine, ..Row::default() }));
/// }
/// log.add(None);
/// assert_eq!((log.rows, log.answered), (3, 2));
/// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
/// assert!((log.statistics(LogQuantity::Superheat).mean().unwrap() - 7.5).abs() < 0.01);
/// # Ok::<(), zeotrope::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Log {
    /// What the refrigerant is called and made of.
    pub identity: Identity,
    /// How many rows there are.
    pub rows: u64,
    /// How many have an answer.
    pub answered: u64,
    /// How many of those make no sense for a system that runs.
    pub marked: u64,
    /// The air of the site.
    pub site: Atmosphere,
    /// What the numbers rest on.
    pub model: Model,
    clock: Option<Clock>,
    begun: Option<f64>,
    /// The latest time, and the midnights that times of day have passed, in s.
    latest: f64,
    midnights: f64,
    seen: [Statistics; LogQuantity::ALL.len()],
    curves: [Thinned; 2],
}

impl Log {
    /// A log without rows; `clock` is that of its column of times, if it has one.
    pub fn new(refrigerant: &Refrigerant, clock: Option<Clock>, site: Atmosphere) -> Self {
        let facts = Facts::of(refrigerant);
        Self {
            identity: facts.identity,
            rows: 0,
            answered: 0,
            marked: 0,
            site,
            model: facts.model,
            clock,
            begun: None,
            latest: 0.0,
            midnights: 0.0,
            seen: Default::default(),
            curves: [Thinned::new(POINTS), Thinned::new(POINTS)],
        }
    }

    /// Takes in the next row, `None` where it has no answer; one that is marked or has no time is
    /// only counted.
    pub fn add(&mut self, row: Option<&Row>) {
        self.rows += 1;
        let Some(row) = row else { return };
        self.answered += 1;
        if !row.marks().is_empty() {
            self.marked += 1;
            return;
        }
        let time = match self.clock {
            None => Some((self.rows - 1) as f64),
            Some(Clock::Written) => row.time.map(|time| self.past_midnight(time)),
            Some(Clock::Seconds(_)) => row.time,
        };
        let Some(time) = time else { return };
        let time = time - *self.begun.get_or_insert(time);
        for (statistics, quantity) in self.seen.iter_mut().zip(LogQuantity::ALL) {
            if let Some(value) = quantity.of(&row.machine) {
                statistics.add(time, value);
            }
        }
        let values = [row.machine.superheat(), row.machine.subcooling()];
        for (curve, value) in self.curves.iter_mut().zip(values) {
            if let Some(value) = value {
                curve.add(time, value);
            }
        }
    }

    /// A time of day that lies half a day or more before the latest is one of the next day; times
    /// with a date lie beyond any first day.
    fn past_midnight(&mut self, time: f64) -> f64 {
        const DAY: f64 = 86_400.0;
        if time < DAY && time + self.midnights < self.latest - 0.5 * DAY {
            self.midnights += DAY;
        }
        let midnights = if time < DAY { self.midnights } else { 0.0 };
        self.latest = time + midnights;
        self.latest
    }

    /// Whether the rows have times; else they are counted.
    pub const fn has_times(&self) -> bool {
        self.clock.is_some()
    }

    /// Extremes, mean and trend of a quantity.
    pub const fn statistics(&self, quantity: LogQuantity) -> &Statistics {
        &self.seen[quantity as usize]
    }

    /// The trend of a quantity per hour, or per row without times.
    pub fn trend(&self, quantity: LogQuantity) -> Option<f64> {
        let scale = if self.has_times() { 3600.0 } else { 1.0 };
        let slope = self.statistics(quantity).trend();
        slope.map(|slope| slope * scale)
    }

    /// Superheat and subcooling, K, over the time since the first row, s, or over the row.
    pub const fn curves(&self) -> &[Thinned; 2] {
        &self.curves
    }
}

/// The statistics of one quantity, under keys.
struct OfQuantity<'a>(&'a Log, LogQuantity);

impl Serialize for OfQuantity<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        let seen = self.0.statistics(self.1);
        let mut keys = serializer.serialize_struct("statistics", 5)?;
        keys.serialize_field("count", &seen.count())?;
        keys.serialize_field("min", &seen.min())?;
        keys.serialize_field("max", &seen.max())?;
        keys.serialize_field("mean", &seen.mean())?;
        let trend = self.0.trend(self.1);
        match self.0.has_times() {
            true => keys.serialize_field("trend_per_h", &trend)?,
            false => keys.serialize_field("trend_per_row", &trend)?,
        }
        keys.end()
    }
}

/// The statistics of all quantities.
struct OfAll<'a>(&'a Log);

impl Serialize for OfAll<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        let all = LogQuantity::ALL.into_iter();
        serializer.collect_map(all.map(|one| (one.key(), OfQuantity(self.0, one))))
    }
}

impl Serialize for Log {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(serde::Serialize)]
        #[allow(non_snake_case)]
        struct Keys<'a> {
            #[serde(flatten)]
            identity: &'a Identity,
            rows: u64,
            rows_answered: u64,
            rows_marked: u64,
            statistics: OfAll<'a>,
            atmosphere_Pa: Pressure,
            model: &'a Model,
        }
        Keys {
            identity: &self.identity,
            rows: self.rows,
            rows_answered: self.answered,
            rows_marked: self.marked,
            statistics: OfAll(self),
            atmosphere_Pa: self.site.pressure(),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
