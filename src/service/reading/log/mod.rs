//! A log of readings: extremes, mean, trend and swing of what was read, one row at a time, so that
//! a log of any length needs no memory.

mod columns;
mod statistics;

pub use columns::{LogColumns, LogReader};
pub use statistics::{BandShare, Statistics, Swing, Thinned};

use serde::ser::{Serialize, SerializeStruct, Serializer};

use crate::refrigerant::Refrigerant;
use crate::service::facts::{Facts, Identity, Model};
use crate::service::measurement::decision::Target;
use crate::service::measurement::uncertainty::Uncertainty;
use crate::service::reading::both_sides::{Doubt, Machine, Mode, ReadSide};
use crate::service::sheet::Clock;
use crate::units::{Atmosphere, Pressure, Temperature};

/// A row of a log, answered.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LogRow {
    /// Its time as the column has it, s, where that can be read.
    pub time: Option<f64>,
    /// The sides and the air.
    pub machine: Machine,
    /// The uncertainty of superheat and subcooling.
    pub uncertainty: [Option<Uncertainty>; 2],
    /// Whether a part of it has no answer.
    pub is_partial: bool,
}

impl LogRow {
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
    /// The condenser's mean minus ambient, in heating minus return air.
    OverAmbient,
    /// Return air, in heating ambient, minus the evaporator's mean.
    OverEvaporating,
    /// A gas cooler's outlet minus the air that enters it.
    GasCoolerApproach,
}

impl LogQuantity {
    /// All of them, in their order.
    pub const ALL: &'static [Self] = &[
        Self::SuctionDew,
        Self::Superheat,
        Self::LiquidBubble,
        Self::Subcooling,
        Self::EvaporatingMean,
        Self::CondensingMean,
        Self::PressureRatio,
        Self::OverAmbient,
        Self::OverEvaporating,
        Self::GasCoolerApproach,
    ];

    /// Its name in the statistics.
    pub const fn key(self, mode: Mode) -> &'static str {
        match (self, mode) {
            (Self::OverAmbient, Mode::Heating) => "condensing_over_return_air_K",
            (Self::OverEvaporating, Mode::Heating) => "ambient_over_evaporating_K",
            _ => self.key_in_cooling(),
        }
    }

    const fn key_in_cooling(self) -> &'static str {
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
            Self::GasCoolerApproach => "gas_cooler_approach_K",
        }
    }

    /// Its value in a row: K, or the ratio.
    pub fn value_in(self, machine: &Machine) -> Option<f64> {
        let (suction, liquid) = (machine.suction.as_ref(), machine.liquid.as_ref());
        let kelvin = |value: Option<Temperature>| value.map(Temperature::in_kelvin);
        match self {
            Self::SuctionDew => kelvin(suction?.dew),
            Self::Superheat => machine.superheat(),
            Self::LiquidBubble => kelvin(liquid?.bubble),
            Self::Subcooling => machine.subcooling(),
            Self::EvaporatingMean => kelvin(suction.and_then(ReadSide::mean)),
            Self::CondensingMean => kelvin(liquid.and_then(ReadSide::mean)),
            Self::PressureRatio => machine.pressure_ratio(),
            Self::OverAmbient => machine.condensing_over_air(),
            Self::OverEvaporating => machine.air_over_evaporating(),
            Self::GasCoolerApproach => machine.gas_cooler_approach(),
        }
    }
}

/// Points of a curve kept for a picture.
const POINTS: usize = 2000;

/// Seconds of an hour.
const HOUR: f64 = 3600.0;

/// From how far a superheat or subcooling has to come back for a turn to count, K: 2 °F, which is
/// this program's own figure.
const TURN: f64 = 2.0 / 1.8;

/// What the rows of a log add up to.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::service::reading::both_sides::{Machine, ReadSide, SideRead};
/// use zeotrope::service::reading::log::{Log, LogQuantity, LogRow};
/// use zeotrope::service::reading::superheat_subcooling::Measure;
/// use zeotrope::units::{Atmosphere, Pressure, Temperature};
/// let r134a = Refrigerant::named("R-134a")?;
/// let mut log = Log::new(&r134a, None, Atmosphere::SEA_LEVEL);
/// for celsius in [12.0, 13.0] {
///     let read = SideRead {
///         pressure: Pressure::bar(3.4966),
///         line: Some(Temperature::celsius(celsius)),
///     };
///     let suction = Some(ReadSide::new(&r134a, Measure::Superheat, read)?);
///     let machine = Machine { suction, ..Machine::default() };
///     log.add(Some(&LogRow { machine, ..LogRow::default() }));
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
    /// How many have an answer, all of it, that makes sense.
    pub answered: u64,
    /// How many have a part of an answer, which makes sense.
    pub partial: u64,
    /// How many have an answer, or a part of it, that makes no sense for a system that runs.
    pub marked: u64,
    /// Of how many the indoor coil warms its air though cooling was taken for granted.
    pub heated: u64,
    /// Which way heat is pumped; cooling where it was not said.
    pub mode: Option<Mode>,
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
    swings: [Swing; 2],
    shares: [Option<BandShare>; 2],
}

impl Log {
    /// A log without rows; `clock` is that of its column of times, if it has one.
    pub fn new(refrigerant: &Refrigerant, clock: Option<Clock>, site: Atmosphere) -> Self {
        let facts = Facts::of_refrigerant(refrigerant);
        Self {
            identity: facts.identity,
            rows: 0,
            answered: 0,
            partial: 0,
            marked: 0,
            heated: 0,
            mode: None,
            site,
            model: facts.model,
            clock,
            begun: None,
            latest: 0.0,
            midnights: 0.0,
            seen: Default::default(),
            curves: [Thinned::new(POINTS), Thinned::new(POINTS)],
            swings: [Swing::new(TURN); 2],
            shares: [None; 2],
        }
    }

    /// The same log, which also counts how long superheat and subcooling lie within a band.
    pub fn with_targets(mut self, targets: [Option<Target>; 2]) -> Self {
        self.shares = targets.map(|target| target.map(BandShare::new));
        self
    }

    /// Takes in the next row, `None` where it has no answer; one that is marked or has no time is
    /// only counted.
    pub fn add(&mut self, row: Option<&LogRow>) {
        self.rows += 1;
        let counted = row.and_then(|row| {
            let is_marked = !row.marks().is_empty();
            match (is_marked, row.is_partial) {
                (true, _) => self.marked += 1,
                (false, true) => self.partial += 1,
                (false, false) => self.answered += 1,
            }
            self.heated += u64::from(self.mode.is_none() && row.machine.air_is_heated());
            (!is_marked).then_some(row)
        });
        let timed = counted.and_then(|row| Some((row, self.time_of(row)?)));
        let Some((row, time)) = timed else {
            self.shares.iter_mut().flatten().for_each(BandShare::gap);
            return;
        };
        let time = time - *self.begun.get_or_insert(time);
        for (statistics, quantity) in self.seen.iter_mut().zip(LogQuantity::ALL) {
            if let Some(value) = quantity.value_in(&row.machine) {
                statistics.add(time, value);
            }
        }
        let has_times = self.has_times();
        let values = [row.machine.superheat(), row.machine.subcooling()];
        for (at, value) in values.into_iter().enumerate() {
            let share = self.shares[at].as_mut();
            match (value, share) {
                (Some(value), Some(share)) => share.add(time, value, has_times),
                (None, Some(share)) => share.gap(),
                (_, None) => (),
            }
            if let Some(value) = value {
                self.curves[at].add(time, value);
                self.swings[at].add(time, value);
            }
        }
    }

    /// When a row was read, s, or its place without times.
    fn time_of(&mut self, row: &LogRow) -> Option<f64> {
        match self.clock {
            None => Some((self.rows - 1) as f64),
            Some(Clock::Written(_)) => row.time.map(|time| self.past_midnight(time)),
            Some(Clock::Seconds(_)) => row.time,
        }
    }

    /// Whether the air of most rows says heating and no mode was given.
    pub const fn air_says_heating(&self) -> bool {
        2 * self.heated > self.answered + self.partial + self.marked
    }

    /// How many rows have no answer.
    pub const fn unanswered(&self) -> u64 {
        self.rows - self.answered - self.partial - self.marked
    }

    /// Peaks and troughs of superheat and of subcooling.
    pub const fn swings(&self) -> &[Swing; 2] {
        &self.swings
    }

    /// How long superheat and subcooling lie within their bands, where there are any.
    pub const fn shares(&self) -> &[Option<BandShare>; 2] {
        &self.shares
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

    /// The trend of a quantity per hour, or per row without times; `None` where it swings more than
    /// it drifts, and where the rows span less than an hour.
    pub fn trend(&self, quantity: LogQuantity) -> Option<f64> {
        let seen = self.statistics(quantity);
        let (drift, duration) = (seen.drift()?, seen.duration());
        match self.has_times() {
            true if duration < HOUR => None,
            true => Some(drift * HOUR / duration),
            false => Some(drift / duration),
        }
    }

    /// Whether the rows span an hour, or have no times.
    pub fn spans_an_hour(&self) -> bool {
        !self.has_times() || self.seen.iter().any(|seen| seen.duration() >= HOUR)
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
        let (swing, share) = match self.1 {
            LogQuantity::Superheat => (Some(&self.0.swings[0]), self.0.shares[0]),
            LogQuantity::Subcooling => (Some(&self.0.swings[1]), self.0.shares[1]),
            _ => (None, None),
        };
        let mut keys = serializer.serialize_struct("statistics", 12)?;
        keys.serialize_field("count", &seen.count())?;
        keys.serialize_field("min", &seen.min())?;
        keys.serialize_field("max", &seen.max())?;
        keys.serialize_field("mean", &seen.mean())?;
        keys.serialize_field("drift", &seen.drift())?;
        let (trend, period) = match self.0.has_times() {
            true => ("trend_per_h", "swing_period_s"),
            false => ("trend_per_row", "swing_period_rows"),
        };
        keys.serialize_field(trend, &self.0.trend(self.1))?;
        if let Some(swing) = swing {
            keys.serialize_field("swing", &swing.size())?;
            keys.serialize_field(period, &swing.period())?;
        }
        if let Some(share) = share {
            let [below, within, above] = share.fractions().map_or([None; 3], |all| all.map(Some));
            keys.serialize_field("target", &share.target.value)?;
            keys.serialize_field("band", &share.target.band)?;
            keys.serialize_field("below_time_fraction", &below)?;
            keys.serialize_field("within_time_fraction", &within)?;
            keys.serialize_field("above_time_fraction", &above)?;
        }
        keys.end()
    }
}

/// The statistics of all quantities.
struct OfAll<'a>(&'a Log);

impl Serialize for OfAll<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        let all = LogQuantity::ALL.iter().copied();
        let mode = self.0.mode.unwrap_or_default();
        serializer.collect_map(all.map(|one| (one.key(mode), OfQuantity(self.0, one))))
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
            rows_partial: u64,
            rows_marked: u64,
            rows_unanswered: u64,
            mode: Mode,
            air_says_heating: bool,
            statistics: OfAll<'a>,
            atmosphere_Pa: Pressure,
            model: &'a Model,
        }
        Keys {
            identity: &self.identity,
            rows: self.rows,
            rows_answered: self.answered,
            rows_partial: self.partial,
            rows_marked: self.marked,
            rows_unanswered: self.unanswered(),
            mode: self.mode.unwrap_or_default(),
            air_says_heating: self.air_says_heating(),
            statistics: OfAll(self),
            atmosphere_Pa: self.site.pressure(),
            model: &self.model,
        }
        .serialize(serializer)
    }
}
