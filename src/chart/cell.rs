//! One cell: its number, and the only text that any format shows.

use super::{ColumnLine, Request, Within};
use crate::Error;
use crate::equilibrium::bubble_dew::Branch;
use crate::error::reasons;
use crate::phrase::Phrase;
use crate::refrigerant::{Band, Refrigerant};
use crate::units::{Pressure, Temperature, fixed};

/// What follows a figure that counts below the local atmospheric pressure.
pub const VACUUM: &str = " inHg vac";

/// Where a row stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RowAt {
    /// At a temperature.
    Temperature(Temperature),
    /// At a pressure.
    Pressure(Pressure),
}

/// A cell of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// The figure as it is printed, with a decimal point; the gap's name where there is none.
    pub text: String,
    /// The number behind it, K or Pa; none where there is a gap.
    pub value: Option<f64>,
    /// Why there is no number.
    pub gap: Option<Gap>,
}

/// Why a cell holds no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gap {
    /// Beyond the critical point.
    AboveCritical,
    /// Below where the saturation line begins.
    BelowRange,
    /// Above where it ends.
    AboveRange,
    /// No tolerance is on record.
    NotKnown,
    /// No point of the line was found.
    NoAnswer,
}

impl Gap {
    /// The name by which programs know it.
    pub const fn name(self) -> &'static str {
        match self {
            Gap::AboveCritical => "above critical",
            Gap::BelowRange => "below range",
            Gap::AboveRange => "above range",
            Gap::NotKnown => "not known",
            Gap::NoAnswer => "no answer",
        }
    }
}

/// The facts behind a gap.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// The critical point lies below.
    AboveCritical {
        /// Whose.
        refrigerant: String,
        /// Critical temperature.
        temperature: Temperature,
        /// Critical pressure.
        pressure: Pressure,
    },
    /// The saturation line begins or ends.
    Range {
        /// Whose.
        refrigerant: String,
        /// Whether it begins or ends.
        gap: Gap,
        /// Where.
        limit: RowAt,
    },
    /// No tolerance of the composition is on record.
    NoTolerance {
        /// Whose.
        refrigerant: String,
    },
    /// The bubble line lies above the pressures that are answered: a gas keeps two phases there.
    AbovePressures {
        /// Whose.
        refrigerant: String,
        /// The highest of them.
        highest: Pressure,
    },
    /// A line lies below the temperatures that are answered: a gas in it is no liquid yet there.
    BelowTemperatures {
        /// Whose.
        refrigerant: String,
        /// The lowest of them.
        lowest: Temperature,
    },
    /// No point of the saturation line was found.
    NotFound {
        /// Whose.
        refrigerant: String,
    },
    /// Another problem.
    Failed {
        /// Whose.
        refrigerant: String,
        /// What went wrong.
        problem: Error,
    },
}

impl Reason {
    /// What to ask for in place of a chart of gaps alone.
    pub(super) fn hint(&self, request: &Request) -> String {
        let degrees = |at: Temperature| {
            let unit = request.temperature_unit;
            format!("{} {}", fixed(unit.read(at), 1), unit.symbol())
        };
        let pressure = |at: Pressure| request.pressure_unit.text(at, &request.site);
        match self {
            Reason::AboveCritical {
                refrigerant,
                temperature: at,
                pressure: high,
            } => format!(
                "these rows lie beyond the critical point of {refrigerant}, {}, {}",
                degrees(*at),
                pressure(*high)
            ),
            Reason::Range {
                refrigerant,
                gap,
                limit,
            } => {
                let verb = match gap {
                    Gap::BelowRange => "begins",
                    _ => "ends",
                };
                let limit = match limit {
                    RowAt::Temperature(at) => degrees(*at),
                    RowAt::Pressure(at) => pressure(*at),
                };
                format!("the saturation line of {refrigerant} {verb} at {limit}")
            }
            _ => "choose other rows".into(),
        }
    }
}

/// Why cells have a gap, each reason once, in the order met.
#[derive(Debug, Default)]
pub(super) struct Notes(pub(super) Vec<Reason>);

impl Notes {
    fn add(&mut self, reason: Reason) {
        if !self.0.contains(&reason) {
            self.0.push(reason);
        }
    }
}

/// A place on a line before it is turned to text.
#[derive(Debug, Clone)]
pub(super) enum Solved {
    /// A pressure, with how it rises along the line, Pa/K, where that could be told.
    Pressure(Pressure, Option<f64>),
    Temperature(Temperature),
    Gap(Gap),
}

impl Solved {
    /// K or Pa.
    pub(super) fn value(&self) -> Option<f64> {
        match self {
            Solved::Pressure(pressure, _) => Some(pressure.in_pascal()),
            Solved::Temperature(temperature) => Some(temperature.in_kelvin()),
            Solved::Gap(_) => None,
        }
    }
}

/// Half the distance over which the slope of a line is taken, K.
const SLOPE_STEP: f64 = 0.02;

/// A pressure or temperature of bubble or dew line at a row; its slope where digits depend on it.
pub(super) fn solve(
    refrigerant: &Refrigerant,
    (is_dew, needs_slope): (bool, bool),
    at: RowAt,
    notes: &mut Notes,
) -> Solved {
    let pressure_at = |temperature: Temperature| {
        let found = if is_dew {
            refrigerant.dew_pressure(temperature)
        } else {
            refrigerant.bubble_pressure(temperature)
        };
        found.and_then(|pressure| {
            finite(
                pressure.in_pascal(),
                reasons::QUESTION_SATURATION_BY_TEMPERATURE,
            )?;
            Ok(pressure)
        })
    };
    let answer = match at {
        RowAt::Temperature(temperature) => pressure_at(temperature).map(|pressure| {
            let near = |step: f64| {
                pressure_at(Temperature::kelvin(temperature.in_kelvin() + step))
                    .ok()
                    .map(Pressure::in_pascal)
            };
            let here = Some(pressure.in_pascal());
            let slope = [
                (-SLOPE_STEP, SLOPE_STEP),
                (-SLOPE_STEP, 0.0),
                (0.0, SLOPE_STEP),
            ]
            .into_iter()
            .filter(|_| needs_slope)
            .find_map(|(below, above)| {
                let end = |step: f64| if step == 0.0 { here } else { near(step) };
                Some((end(above)? - end(below)?) / (above - below))
            })
            .filter(|slope| *slope > 0.0);
            Solved::Pressure(pressure, slope)
        }),
        RowAt::Pressure(pressure) => {
            let found = if is_dew {
                refrigerant.dew_temperature(pressure)
            } else {
                refrigerant.bubble_temperature(pressure)
            };
            found.and_then(|temperature| {
                finite(
                    temperature.in_kelvin(),
                    reasons::QUESTION_SATURATION_BY_PRESSURE,
                )?;
                Ok(Solved::Temperature(temperature))
            })
        }
    };
    answer.unwrap_or_else(|error| Solved::Gap(gap(refrigerant, at, &error, notes)))
}

/// An end of the band within the tolerances of a blend's contents, beside the nominal value.
pub(super) fn band_end(
    refrigerant: &Refrigerant,
    line: ColumnLine,
    within: Within,
    (at, nominal): (RowAt, &Solved),
    notes: &mut Notes,
) -> Solved {
    if !refrigerant.has_tolerance() {
        notes.add(Reason::NoTolerance {
            refrigerant: refrigerant.designation().to_owned(),
        });
        return Solved::Gap(Gap::NotKnown);
    }
    let branch = match line {
        ColumnLine::Dew => Branch::Dew,
        _ => Branch::Bubble,
    };
    let found = match at {
        RowAt::Temperature(temperature) => {
            // The ends run beside the nominal line and rise with it.
            let slope = match nominal {
                Solved::Pressure(_, slope) => *slope,
                _ => None,
            };
            refrigerant
                .pressure_band(branch, temperature)
                .and_then(|band| edge(band, within))
                .map(|pressure| Solved::Pressure(pressure, slope))
        }
        RowAt::Pressure(pressure) => refrigerant
            .temperature_band(branch, pressure)
            .and_then(|band| edge(band, within))
            .map(Solved::Temperature),
    };
    found.unwrap_or_else(|error| Solved::Gap(gap(refrigerant, at, &error, notes)))
}

/// An end of a band that is known to exist.
fn edge<Value>(band: Option<Band<Value>>, within: Within) -> crate::Result<Value> {
    let band = band.ok_or_else(|| Error::NoState {
        reason: reasons::REASON_NO_TOLERANCE_ON_RECORD.into(),
        hint: "leave the tolerance out".into(),
    })?;
    Ok(match within {
        Within::Highest => band.highest,
        Within::Lowest | Within::Nominal => band.lowest,
    })
}

/// No cell ever shows what is no number.
fn finite(value: f64, question: Phrase) -> crate::Result<()> {
    if value.is_finite() {
        Ok(())
    } else {
        Err(Error::NotConverged {
            question,
            steps: 0,
            residual: f64::NAN,
        })
    }
}

/// Halfway between bubble and dew.
pub(super) fn halfway(bubble: &Solved, dew: &Solved) -> Solved {
    match (bubble, dew) {
        (Solved::Pressure(first, slope), Solved::Pressure(second, other)) => Solved::Pressure(
            Pressure::pascal((first.in_pascal() + second.in_pascal()) / 2.0),
            slope
                .zip(*other)
                .map(|(first, second)| (first + second) / 2.0),
        ),
        (Solved::Temperature(first), Solved::Temperature(second)) => Solved::Temperature(
            Temperature::kelvin((first.in_kelvin() + second.in_kelvin()) / 2.0),
        ),
        (Solved::Gap(gap), _) | (_, Solved::Gap(gap)) => Solved::Gap(*gap),
        _ => Solved::Gap(Gap::NoAnswer),
    }
}

/// Why no number can stand there, with its reason among the notes.
fn gap(refrigerant: &Refrigerant, at: RowAt, error: &Error, notes: &mut Notes) -> Gap {
    let name = refrigerant.designation().to_owned();
    if let Some(critical) = refrigerant.critical_point() {
        let above = match at {
            RowAt::Temperature(temperature) => temperature >= critical.temperature,
            RowAt::Pressure(pressure) => pressure >= critical.pressure,
        };
        if above {
            notes.add(Reason::AboveCritical {
                refrigerant: name,
                temperature: critical.temperature,
                pressure: critical.pressure,
            });
            return Gap::AboveCritical;
        }
    }
    if let Error::OutOfRange {
        value, low, high, ..
    } = error
    {
        let (gap, limit) = if value < low {
            (Gap::BelowRange, *low)
        } else {
            (Gap::AboveRange, *high)
        };
        let limit = match at {
            RowAt::Temperature(_) => RowAt::Temperature(Temperature::kelvin(limit)),
            RowAt::Pressure(_) => RowAt::Pressure(Pressure::pascal(limit)),
        };
        notes.add(Reason::Range {
            refrigerant: name,
            gap,
            limit,
        });
        return gap;
    }
    // A solver's steps and residual differ from row to row; the reader needs the reason once.
    notes.add(match error {
        Error::NotConverged { .. } => Reason::NotFound { refrigerant: name },
        Error::BelowRange { temperature, .. } => Reason::BelowTemperatures {
            refrigerant: name,
            lowest: Temperature::kelvin(*temperature),
        },
        Error::AboveRange { pressure, .. } => Reason::AbovePressures {
            refrigerant: name,
            highest: Pressure::pascal(*pressure),
        },
        other => Reason::Failed {
            refrigerant: name,
            problem: other.clone(),
        },
    });
    Gap::NoAnswer
}
