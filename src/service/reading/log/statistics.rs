//! What a log keeps of a quantity: statistics, swings, shares of time and points for a picture, one
//! value at a time, so that a log of any length needs no memory.
//!
//! Mean and sums of squares are updated as in Welford, Technometrics 4 (1962) 419; the trend is the
//! slope of the straight line of least squares.

use crate::service::measurement::decision::Target;

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
    /// Sum of (v - mean v)^2.
    scatter: f64,
    begun: f64,
    ended: f64,
}

impl Statistics {
    /// Takes in a value at a time.
    pub fn add(&mut self, time: f64, value: f64) {
        if self.count == 0 {
            (self.min, self.max) = (value, value);
            self.begun = time;
        }
        self.ended = time;
        self.count += 1;
        self.min = self.min.min(value);
        self.max = self.max.max(value);
        let count = self.count as f64;
        let off_time = time - self.mean_time;
        self.mean_time += off_time / count;
        let off_value = value - self.mean;
        self.mean += off_value / count;
        self.scatter += off_value * (value - self.mean);
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

impl Statistics {
    /// Time from the first to the last value.
    pub fn duration(&self) -> f64 {
        self.ended - self.begun
    }

    /// By how much the fitted line changes from the first to the last value, where that is more
    /// than the values swing around it; `None` where they swing more than they drift.
    ///
    /// The swing is that from trough to peak of a sine with the scatter of the values around the
    /// line, 2 sqrt(2) times their standard deviation.
    pub fn drift(&self) -> Option<f64> {
        let slope = self.trend()?;
        let rest = (self.scatter - slope * self.together).max(0.0) / self.count as f64;
        let drift = slope * self.duration();
        (drift.abs() > (8.0 * rest).sqrt()).then_some(drift)
    }
}

/// Peaks and troughs of a quantity that swings, told one value at a time.
///
/// A turn counts where the value has come back from it by more than the threshold.
///
/// # Example
/// ```
/// use zeotrope::service::reading::log::Swing;
/// let mut swing = Swing::new(1.0);
/// for second in 0..600 {
///     let time = f64::from(second);
///     swing.add(time, 5.0 + 3.0 * (std::f64::consts::TAU * time / 120.0).sin());
/// }
/// assert!((swing.size().unwrap() - 6.0).abs() < 0.01);
/// assert!((swing.period().unwrap() - 120.0).abs() < 0.01);
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swing {
    threshold: f64,
    /// Up or down since the last turn; neither before the first.
    rises: Option<bool>,
    highest: (f64, f64),
    lowest: (f64, f64),
    peaks: Turns,
    troughs: Turns,
}

/// Turns of one kind.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Turns {
    count: u32,
    sum: f64,
    first: f64,
    last: f64,
}

impl Turns {
    fn add(&mut self, (time, value): (f64, f64)) {
        if self.count == 0 {
            self.first = time;
        }
        self.count += 1;
        self.sum += value;
        self.last = time;
    }

    fn mean(&self) -> Option<f64> {
        (self.count >= 2).then(|| self.sum / f64::from(self.count))
    }

    /// Three turns of a kind have two periods between them; fewer could be chance.
    fn period(&self) -> Option<f64> {
        (self.count >= 3).then(|| (self.last - self.first) / f64::from(self.count - 1))
    }
}

impl Swing {
    /// Counts turns from which the value comes back by more than `threshold`.
    pub fn new(threshold: f64) -> Self {
        Self {
            threshold,
            rises: None,
            highest: (0.0, f64::NEG_INFINITY),
            lowest: (0.0, f64::INFINITY),
            peaks: Turns::default(),
            troughs: Turns::default(),
        }
    }

    /// Takes in the next value.
    pub fn add(&mut self, time: f64, value: f64) {
        let here = (time, value);
        if value > self.highest.1 {
            self.highest = here;
        }
        if value < self.lowest.1 {
            self.lowest = here;
        }
        let falls = value < self.highest.1 - self.threshold;
        let climbs = value > self.lowest.1 + self.threshold;
        match self.rises {
            // Where the run begins is no turn.
            None if falls => self.turn(false, here),
            None if climbs => self.turn(true, here),
            Some(true) if falls => {
                self.peaks.add(self.highest);
                self.turn(false, here);
            }
            Some(false) if climbs => {
                self.troughs.add(self.lowest);
                self.turn(true, here);
            }
            _ => (),
        }
    }

    fn turn(&mut self, rises: bool, here: (f64, f64)) {
        self.rises = Some(rises);
        (self.highest, self.lowest) = (here, here);
    }

    /// Mean peak minus mean trough, from two of each on.
    pub fn size(&self) -> Option<f64> {
        Some(self.peaks.mean()? - self.troughs.mean()?)
    }

    /// Mean time from peak to peak, or from trough to trough where there are more of those; from
    /// three on.
    pub fn period(&self) -> Option<f64> {
        match self.peaks.count >= self.troughs.count {
            true => self.peaks.period(),
            false => self.troughs.period(),
        }
    }

    /// How many peaks were counted.
    pub const fn peaks(&self) -> u32 {
        self.peaks.count
    }
}

/// How long a quantity lies below, within and above a band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BandShare {
    /// The band.
    pub target: Target,
    /// Weights of below, within, above.
    weights: [f64; 3],
    /// The last value's time and place among the three.
    last: Option<(f64, usize)>,
}

impl BandShare {
    /// None yet.
    pub const fn new(target: Target) -> Self {
        Self {
            target,
            weights: [0.0; 3],
            last: None,
        }
    }

    /// Takes in a value, which counts until the next one; without times each counts alike.
    pub fn add(&mut self, time: f64, value: f64, has_times: bool) {
        let Target {
            value: wanted,
            band,
        } = self.target;
        let place = match value - wanted {
            off if off < -band => 0,
            off if off > band => 2,
            _ => 1,
        };
        if !has_times {
            self.weights[place] += 1.0;
        } else if let Some((from, before)) = self.last {
            self.weights[before] += (time - from).max(0.0);
        }
        self.last = Some((time, place));
    }

    /// A row without a value: what lies between counts for nothing.
    pub fn gap(&mut self) {
        self.last = None;
    }

    /// The fractions below, within and above; none before the second value.
    pub fn fractions(&self) -> Option<[f64; 3]> {
        let sum: f64 = self.weights.iter().sum();
        (sum > 0.0).then(|| self.weights.map(|weight| weight / sum))
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
