//! Lookups for an instrument: a line as a few entries, read by whole-number arithmetic, and every
//! input that an instrument can ask held against the line.

mod check;
mod fit;
mod form;
mod line;
mod totals;

pub use check::Check;
pub use form::{Arithmetic, LookupForm};
pub use totals::Totals;

use std::sync::OnceLock;

use serde::Serialize;

use crate::Warning;
use crate::chart::reasons;
use crate::curve::NEAR_TOP;
use crate::equilibrium::bubble_dew::Branch;
use crate::error::{Blank, RangeUnit, Reason};
use crate::refrigerant::{Band, Refrigerant};
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Error, Result};
use fit::Target;
use line::Line;

/// Distance over which a pressure must rise for a temperature to be in the range, K.
const RISE: f64 = 1e-3;
/// How far below the end of a line a range is tried to end where none up to there holds the
/// resolution, K.
const BEFORE_CRITICAL: [f64; 6] = [0.01, 0.03, 0.1, 0.3, 1.0, 3.0];
/// The sparsest check: every so manieth input.
const MOST_EVERY: u32 = 4096;
/// Half of what f32 steps by from 256 to 512 K, and half a millikelvin: no answer comes nearer, K.
const FINEST_F32: f64 = 1.0 / 65_536.0;
const FINEST_INTEGER: f64 = 5e-4;
/// Intervals of the table of slopes that turn an error of pressure into one of temperature.
const SLOPES: usize = 4096;

/// What a lookup gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum LookupQuantity {
    /// Dew temperature at a pressure.
    DewTemperature,
    /// Bubble temperature at a pressure.
    BubbleTemperature,
    /// Dew pressure at a temperature.
    DewPressure,
    /// Bubble pressure at a temperature.
    BubblePressure,
}

impl LookupQuantity {
    /// Every one, temperatures first.
    pub const ALL: &'static [LookupQuantity] = &[
        LookupQuantity::DewTemperature,
        LookupQuantity::BubbleTemperature,
        LookupQuantity::DewPressure,
        LookupQuantity::BubblePressure,
    ];

    /// Its name as programs write it.
    pub const fn name(self) -> &'static str {
        match self {
            LookupQuantity::DewTemperature => "dew_temperature",
            LookupQuantity::BubbleTemperature => "bubble_temperature",
            LookupQuantity::DewPressure => "dew_pressure",
            LookupQuantity::BubblePressure => "bubble_pressure",
        }
    }

    /// Whether it is a temperature.
    pub const fn is_temperature(self) -> bool {
        matches!(
            self,
            LookupQuantity::DewTemperature | LookupQuantity::BubbleTemperature
        )
    }

    /// The line that it is read from.
    pub const fn branch(self) -> Branch {
        match self {
            LookupQuantity::DewTemperature | LookupQuantity::DewPressure => Branch::Dew,
            _ => Branch::Bubble,
        }
    }
}

/// What a lookup is made for.
#[derive(Debug, Clone, PartialEq)]
pub struct LookupQuestion {
    /// The largest error wanted.
    pub resolution: TemperatureDifference,
    /// The range of temperatures.
    pub range: (Temperature, Temperature),
    /// What is to be given; where empty dew and bubble temperature, of a pure refrigerant the one.
    pub of: Vec<LookupQuantity>,
    /// The numbers of the instrument.
    pub arithmetic: Arithmetic,
    /// Every how manieth input is checked: 1 for all.
    pub every: u32,
    /// Whether a line that rests on estimated pairs is wanted all the same.
    pub accept_estimated: bool,
}

/// One quantity's lookup.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LookupEntry {
    /// What it gives.
    pub quantity: LookupQuantity,
    /// Bytes of its entries.
    pub bytes: usize,
    /// Operations of a reading.
    pub operations: usize,
    /// Intervals.
    pub intervals: usize,
    /// Whether intervals are quadratic, else linear.
    pub quadratic: bool,
    /// What the check over its inputs found.
    pub check: Check,
    /// The entries.
    #[serde(skip)]
    pub form: LookupForm,
}

/// The lookups of one refrigerant.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Lookup {
    /// Designation, or the composition in the standard's notation.
    pub refrigerant: String,
    /// The numbers of the instrument.
    pub arithmetic: Arithmetic,
    /// The largest error wanted.
    #[serde(rename = "resolution_K")]
    pub resolution: TemperatureDifference,
    /// Lower end.
    #[serde(rename = "from_K")]
    pub from: Temperature,
    /// Upper end.
    #[serde(rename = "to_K")]
    pub to: Temperature,
    /// Whether the upper end lies below what was asked, since the line ends.
    pub ends_early: bool,
    /// The critical temperature.
    #[serde(rename = "critical_temperature_K")]
    pub critical: Option<Temperature>,
    /// Bytes of all entries.
    pub bytes: usize,
    /// A pressure within the range, and the dew temperatures that the composition's tolerance leaves
    /// open there.
    #[serde(skip)]
    pub band: Option<(Pressure, Band<Temperature>)>,
    /// The lookups.
    pub entries: Vec<LookupEntry>,
}

/// Makes the smallest lookups of a refrigerant that hold a resolution, checked over the inputs.
///
/// # Errors
/// [`Error::NoState`] where the line has no answer at the lower end, where it rests on estimated
/// pairs that were not accepted, or where no form holds the resolution; [`Error::OutOfRange`] where
/// the lower end lies beside the lines; [`Error::Value`] where the range is empty, and for a
/// resolution not above zero or finer than the arithmetic.
///
/// # Example
/// ```
/// use zeotrope::Refrigerant;
/// use zeotrope::chart::lookup::{Arithmetic, LookupQuantity, LookupQuestion, lookup};
/// use zeotrope::units::{Temperature, TemperatureDifference};
/// let r134a = Refrigerant::named("R-134a")?;
/// let found = lookup(&r134a, &LookupQuestion {
///     resolution: TemperatureDifference::kelvin(0.05),
///     range: (Temperature::celsius(-40.0), Temperature::celsius(60.0)),
///     of: vec![LookupQuantity::DewTemperature],
///     arithmetic: Arithmetic::F32,
///     every: 1009,
///     accept_estimated: false,
/// })?;
/// assert!(found.bytes < 250 && found.entries[0].check.largest <= 0.05);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn lookup(refrigerant: &Refrigerant, question: &LookupQuestion) -> Result<Lookup> {
    let mut question = question.clone();
    if question.of.is_empty() {
        let count = if refrigerant.is_pure() { 1 } else { 2 };
        question.of = LookupQuantity::ALL[..count].to_vec();
    }
    let question = &question;
    let (from, to) = question.range;
    sensible(question)?;
    let estimated = refrigerant
        .warnings()
        .into_iter()
        .find(|one| matches!(one, Warning::EstimatedPair { .. }));
    if let (Some(warning), false) = (estimated, question.accept_estimated) {
        return Err(Error::NoState {
            reason: Reason::with(
                reasons::LOOKUP_ESTIMATED,
                "warning",
                Blank::Warning(Box::new(warning)),
            ),
            hint: "a check against this line says nothing of its distance from measurement: \
                   accept estimated pairs to have it all the same"
                .into(),
        });
    }
    let critical = refrigerant
        .critical_point()
        .map(|point| point.temperature.in_kelvin());
    let wanted = critical.map_or(to.in_kelvin(), |top| top.min(to.in_kelvin()));
    let lines = Lines {
        refrigerant,
        from: from.in_kelvin(),
    };
    let highest = lines.top(wanted, &question.of)?;
    // Where a line flattens towards its end, no table of it holds a resolution: the range ends
    // before, by as little as serves.
    let mut found = lines.entries(highest, question);
    let mut top = highest;
    if highest < to.in_kelvin() {
        for before in BEFORE_CRITICAL {
            if found.is_ok() || highest - before <= lines.from {
                break;
            }
            top = highest - before;
            found = lines.entries(top, question);
        }
    }
    let entries = found?;
    Ok(Lookup {
        refrigerant: refrigerant.designation().to_owned(),
        arithmetic: question.arithmetic,
        resolution: question.resolution,
        from,
        to: Temperature::kelvin(top),
        ends_early: top < to.in_kelvin(),
        critical: critical.map(Temperature::kelvin),
        bytes: entries.iter().map(|one| one.bytes).sum(),
        band: totals::middle_band(refrigerant, (lines.from, top)),
        entries,
    })
}

struct Lines<'a> {
    refrigerant: &'a Refrigerant,
    from: f64,
}

impl Lines<'_> {
    fn pressure(&self, branch: Branch, kelvin: f64) -> Option<f64> {
        let at = Temperature::kelvin(kelvin);
        let found = match branch {
            Branch::Dew => self.refrigerant.dew_pressure(at),
            Branch::Bubble => self.refrigerant.bubble_pressure(at),
        };
        found.ok().map(Pressure::in_pascal)
    }

    fn temperature(&self, branch: Branch, pascal: f64) -> Option<f64> {
        let at = Pressure::pascal(pascal);
        let found = match branch {
            Branch::Dew => self.refrigerant.dew_temperature(at),
            Branch::Bubble => self.refrigerant.bubble_temperature(at),
        };
        found.ok().map(Temperature::in_kelvin)
    }

    /// A quantity by its curve alone, where that has an answer.
    fn curve(&self, quantity: LookupQuantity) -> impl Fn(f64) -> Option<f64> + Sync {
        let (refrigerant, branch) = (self.refrigerant, quantity.branch());
        let (curve, _) = refrigerant.curve(branch);
        move |input| {
            let line = || refrigerant.curve(branch).1;
            match quantity.is_temperature() {
                true => curve.temperature(input, line),
                false => curve.pressure(input, line),
            }
        }
    }

    /// From where on curves hold less, K: everywhere where the end of the lines is not known.
    fn near_top(&self) -> f64 {
        let critical = self.refrigerant.critical_point();
        critical.map_or(0.0, |point| {
            point.temperature.in_kelvin() * (1.0 - 1.1 * NEAR_TOP)
        })
    }

    /// The highest temperature up to the one wanted at which every line is answered and rises:
    /// where the pressure of a blend has its maximum below the critical point, the range ends there.
    fn top(&self, wanted: f64, of: &[LookupQuantity]) -> Result<f64> {
        let answered = |kelvin: f64| {
            of.iter().all(|one| {
                let below = (kelvin - RISE).max(self.from);
                let [below, at] = [below, kelvin].map(|at| self.pressure(one.branch(), at));
                below
                    .zip(at)
                    .is_some_and(|(below, at)| below < at || kelvin <= self.from)
            })
        };
        let ends = self.refrigerant.limits();
        let critical = self.refrigerant.critical_point();
        let high = critical.map_or(ends.temperature_max, |point| point.temperature);
        let (low, high) = (ends.temperature_min.in_kelvin(), high.in_kelvin());
        if !(low..high).contains(&self.from) {
            return Err(Error::OutOfRange {
                quantity: "lower end of the lookup",
                value: self.from,
                low,
                high,
                unit: RangeUnit::Kelvin,
                range: Reason::of(
                    reasons::LOOKUP_LINES,
                    "refrigerant",
                    self.refrigerant.designation(),
                ),
            });
        }
        if wanted <= self.from || !answered(self.from) {
            return Err(Error::NoState {
                reason: Reason::of(
                    reasons::LOOKUP_NO_LINE,
                    "refrigerant",
                    self.refrigerant.designation(),
                )
                .and("at", Blank::Quantity(self.from, RangeUnit::Kelvin)),
                hint: "choose another lower end".into(),
            });
        }
        if answered(wanted) {
            return Ok(wanted);
        }
        let (mut good, mut bad) = (self.from, wanted);
        while bad - good > 1e-4 {
            let middle = (good + bad) / 2.0;
            if answered(middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        Ok(good)
    }

    /// All entries of a question, in its order.
    fn entries(&self, top: f64, question: &LookupQuestion) -> Result<Vec<LookupEntry>> {
        let mut made: Vec<Option<LookupEntry>> = vec![None; question.of.len()];
        // Pressures first: temperatures are read back by them.
        for temperatures in [false, true] {
            for (at, quantity) in question.of.iter().enumerate() {
                if quantity.is_temperature() != temperatures {
                    continue;
                }
                let pressures = made.iter().flatten().find(|one| {
                    !one.quantity.is_temperature() && one.quantity.branch() == quantity.branch()
                });
                let entry = self.entry(*quantity, top, question, pressures)?;
                made[at] = Some(entry);
            }
        }
        Ok(made.into_iter().flatten().collect())
    }

    fn entry(
        &self,
        quantity: LookupQuantity,
        top: f64,
        question: &LookupQuestion,
        pressures: Option<&LookupEntry>,
    ) -> Result<LookupEntry> {
        let branch = quantity.branch();
        let temperature = |pascal: f64| self.temperature(branch, pascal);
        let pressure = |kelvin: f64| self.pressure(branch, kelvin);
        let by_pressure = quantity.is_temperature();
        let ends = if by_pressure {
            let ends = pressure(self.from).zip(pressure(top));
            ends.ok_or_else(|| self.no_form(quantity))?
        } else {
            (self.from, top)
        };
        let pressures_of = match branch {
            Branch::Dew => LookupQuantity::DewPressure,
            Branch::Bubble => LookupQuantity::BubblePressure,
        };
        let near_top = self.near_top();
        let curve_of_pressures = self.curve(pressures_of);
        let rising = Line::new(
            (&curve_of_pressures, &pressure),
            (self.from, top),
            false,
            near_top,
        );
        let slopes = Slopes::new(&rising, (self.from, top));
        let slope = |kelvin: f64| slopes.value_at(kelvin);
        let (one, per_pascal) = (|_: f64| 1.0, |kelvin: f64| 1.0 / slope(kelvin));
        let curve = self.curve(quantity);
        let solved: &(dyn Fn(f64) -> Option<f64> + Sync) =
            if by_pressure { &temperature } else { &pressure };
        let line = Line::new((&curve, solved), ends, by_pressure, near_top);
        let target = Target {
            arithmetic: question.arithmetic,
            ends: inputs(ends, question.arithmetic, by_pressure),
            line: &line,
            gives_temperature: by_pressure,
            kelvin: if by_pressure { &one } else { &per_pascal },
        };
        // Back to a pressure, in K; a temperature just outside the opposite range has none.
        let back = |pascal: f64, kelvin: f64| {
            let form = &pressures?.form;
            let raw = match question.arithmetic {
                Arithmetic::F32 => (kelvin as f32).to_bits(),
                Arithmetic::Integer => (kelvin * 1000.0).round() as u32,
            };
            let (found, _) = form.value(raw, false)?;
            Some((found - pascal).abs() / slope(kelvin))
        };
        for form in target.forms(question.resolution.in_kelvin()) {
            let opposite = pressures.map(|_| &back as &(dyn Fn(f64, f64) -> Option<f64> + Sync));
            let check = check::check(
                &form,
                &target,
                opposite,
                question.every.clamp(1, MOST_EVERY),
            );
            if check.largest <= question.resolution.in_kelvin() {
                return Ok(LookupEntry {
                    quantity,
                    bytes: form.bytes(),
                    operations: form.operations(),
                    intervals: form.nodes.len() - 1,
                    quadratic: !form.curvature.is_empty(),
                    check,
                    form,
                });
            }
        }
        Err(self.no_form(quantity))
    }

    fn no_form(&self, quantity: LookupQuantity) -> Error {
        Error::NoState {
            reason: Reason::of(
                reasons::LOOKUP_NO_FORM,
                "refrigerant",
                self.refrigerant.designation(),
            )
            .and("quantity", Blank::Name(quantity.name().to_owned())),
            hint: "ask for a coarser resolution or a narrower range".into(),
        }
    }
}

/// How steeply the pressure rises, Pa/K, by a table that is made where it is first asked for.
struct Slopes<'a> {
    line: &'a Line<'a>,
    ends: (f64, f64),
    table: OnceLock<Vec<f64>>,
}

impl<'a> Slopes<'a> {
    fn new(line: &'a Line<'a>, ends: (f64, f64)) -> Self {
        Self {
            line,
            ends,
            table: OnceLock::new(),
        }
    }

    fn value_at(&self, kelvin: f64) -> f64 {
        let (from, top) = self.ends;
        let step = (top - from) / SLOPES as f64;
        let table = self.table.get_or_init(|| {
            let at = |place: usize| (from + step * place as f64).min(top);
            let all = (0..=SLOPES).map(|place| self.line.value(at(place)).unwrap_or(f64::NAN));
            all.collect()
        });
        let place = ((kelvin - from) / step).clamp(0.0, SLOPES as f64 - 1.0) as usize;
        (table[place + 1] - table[place]) / step
    }
}

/// Refuses a range that is empty and a resolution that the numbers themselves do not have.
fn sensible(question: &LookupQuestion) -> Result<()> {
    let (from, to) = question.range;
    let resolution = question.resolution.in_kelvin();
    if from >= to {
        return Err(Error::Value {
            quantity: "range",
            text: format!("{} K to {} K", from.in_kelvin(), to.in_kelvin()),
            problem: "is empty: its upper end is not above its lower one".into(),
            hint: "exchange them, or give for example -40C to 60C".into(),
        });
    }
    let (finest, numbers) = match question.arithmetic {
        Arithmetic::F32 => (FINEST_F32, "single precision, which steps by 0.00003 K"),
        Arithmetic::Integer => (FINEST_INTEGER, "whole millikelvins"),
    };
    let problem = if resolution.is_nan() || resolution <= 0.0 {
        "is not above zero".to_owned()
    } else if resolution <= finest {
        format!("is finer than {numbers}")
    } else {
        return Ok(());
    };
    Err(Error::Value {
        quantity: "resolution",
        text: format!("{resolution} K"),
        problem,
        hint: "give for example 0.05K".into(),
    })
}

/// Checks entries, changed or not, against the line again.
///
/// # Errors
/// [`Error::NoState`] where the line has no answer in the range of the entries.
pub fn recheck(
    refrigerant: &Refrigerant,
    found: &Lookup,
    entry: &LookupEntry,
    every: u32,
) -> Result<Check> {
    let lines = Lines {
        refrigerant,
        from: found.from.in_kelvin(),
    };
    let branch = entry.quantity.branch();
    let temperature = |pascal: f64| lines.temperature(branch, pascal);
    let pressure = |kelvin: f64| lines.pressure(branch, kelvin);
    let gives_temperature = entry.quantity.is_temperature();
    let slope = |kelvin: f64| match (pressure(kelvin - 0.01), pressure(kelvin)) {
        (Some(below), Some(at)) => 0.01 / (at - below),
        _ => f64::NAN,
    };
    let one = |_: f64| 1.0;
    let curve = lines.curve(entry.quantity);
    let solved: &(dyn Fn(f64) -> Option<f64> + Sync) = if gives_temperature {
        &temperature
    } else {
        &pressure
    };
    let ends = if gives_temperature {
        [found.from, found.to].map(|end| pressure(end.in_kelvin()).unwrap_or(f64::NAN))
    } else {
        [found.from, found.to].map(Temperature::in_kelvin)
    };
    let line = Line::new(
        (&curve, solved),
        (ends[0], ends[1]),
        gives_temperature,
        lines.near_top(),
    );
    let target = Target {
        arithmetic: found.arithmetic,
        line: &line,
        ends: (entry.form.low, entry.form.high),
        gives_temperature,
        kelvin: if gives_temperature { &one } else { &slope },
    };
    Ok(check::check(
        &entry.form,
        &target,
        None,
        every.clamp(1, MOST_EVERY),
    ))
}

/// The lowest and highest input within a range.
fn inputs((low, high): (f64, f64), arithmetic: Arithmetic, by_pressure: bool) -> (u32, u32) {
    match arithmetic {
        Arithmetic::F32 => {
            let (below, above) = (low as f32, high as f32);
            let first = below.to_bits() + u32::from(f64::from(below) < low);
            let last = above.to_bits() - u32::from(f64::from(above) > high);
            (first, last)
        }
        Arithmetic::Integer => {
            let size = if by_pressure { 1.0 } else { 1000.0 };
            ((low * size).ceil() as u32, (high * size).floor() as u32)
        }
    }
}
