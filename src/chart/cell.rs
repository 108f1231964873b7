//! One cell: its number, and the only text that any format shows.

use super::digits::comma;
use super::rows::At;
use super::{Line, Request, Within};
use crate::Error;
use crate::equilibrium::bubble_dew::Branch;
use crate::refrigerant::{Band, Refrigerant};
use crate::units::{Pressure, Temperature, fixed};

/// A cell of a chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// What every format shows.
    pub text: String,
    /// The number behind it, K or Pa; none where the text is a word.
    pub value: Option<f64>,
}

/// Why cells hold a word, each reason once, in the order met.
#[derive(Debug, Default)]
pub(super) struct Notes(Vec<String>);

impl Notes {
    fn add(&mut self, line: String) {
        if !self.0.contains(&line) {
            self.0.push(line);
        }
    }

    pub(super) fn first(&self) -> Option<String> {
        self.0.first().cloned()
    }

    pub(super) fn into_lines(self) -> Vec<String> {
        self.0
    }
}

/// A place on a line before it is turned to text.
#[derive(Debug, Clone)]
pub(super) enum Solved {
    /// A pressure, with how it rises along the line, Pa/K, where that could be told.
    Pressure(Pressure, Option<f64>),
    Temperature(Temperature),
    /// A word where there is no number.
    Word(String),
}

impl Solved {
    /// K or Pa.
    pub(super) fn value(&self) -> Option<f64> {
        match self {
            Solved::Pressure(pressure, _) => Some(pressure.in_pascal()),
            Solved::Temperature(temperature) => Some(temperature.in_kelvin()),
            Solved::Word(_) => None,
        }
    }
}

/// Half the distance over which the slope of a line is taken, K.
const SLOPE_STEP: f64 = 0.02;

/// A pressure or temperature of bubble or dew line at a row; its slope where digits hang on it.
pub(super) fn solve(
    refrigerant: &Refrigerant,
    (is_dew, needs_slope): (bool, bool),
    at: At,
    request: &Request,
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
                "saturation pressure at given temperature",
            )?;
            Ok(pressure)
        })
    };
    let answer = match at {
        At::Temperature(temperature) => pressure_at(temperature).map(|pressure| {
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
        At::Pressure(pressure) => {
            let found = if is_dew {
                refrigerant.dew_temperature(pressure)
            } else {
                refrigerant.bubble_temperature(pressure)
            };
            found.and_then(|temperature| {
                finite(
                    temperature.in_kelvin(),
                    "saturation temperature at given pressure",
                )?;
                Ok(Solved::Temperature(temperature))
            })
        }
    };
    answer.unwrap_or_else(|error| Solved::Word(word(refrigerant, at, request, &error, notes)))
}

/// An end of the band within the tolerances of a blend's contents, beside the nominal value.
pub(super) fn band_end(
    refrigerant: &Refrigerant,
    line: Line,
    within: Within,
    (at, nominal): (At, &Solved),
    request: &Request,
    notes: &mut Notes,
) -> Solved {
    if !refrigerant.has_tolerance() {
        notes.add(format!(
            "not known: no tolerance of the contents of {} is on record.",
            refrigerant.designation()
        ));
        return Solved::Word("not known".into());
    }
    let branch = match line {
        Line::Dew => Branch::Dew,
        _ => Branch::Bubble,
    };
    let found = match at {
        At::Temperature(temperature) => {
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
        At::Pressure(pressure) => refrigerant
            .temperature_band(branch, pressure)
            .and_then(|band| edge(band, within))
            .map(Solved::Temperature),
    };
    found.unwrap_or_else(|error| Solved::Word(word(refrigerant, at, request, &error, notes)))
}

/// An end of a band that is known to exist.
fn edge<Value>(band: Option<Band<Value>>, within: Within) -> crate::Result<Value> {
    let band = band.ok_or_else(|| Error::NoState {
        reason: "no tolerance is on record".into(),
        hint: "leave the tolerance out".into(),
    })?;
    Ok(match within {
        Within::Highest => band.highest,
        Within::Lowest | Within::Nominal => band.lowest,
    })
}

/// No cell ever shows what is no number.
fn finite(value: f64, question: &'static str) -> crate::Result<()> {
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
        (Solved::Word(word), _) | (_, Solved::Word(word)) => Solved::Word(word.clone()),
        _ => Solved::Word("no answer".into()),
    }
}

/// The word that stands where no number can, with its reason among the notes.
fn word(
    refrigerant: &Refrigerant,
    at: At,
    request: &Request,
    error: &Error,
    notes: &mut Notes,
) -> String {
    let name = refrigerant.designation();
    let temperature_text = |temperature: Temperature| {
        let figure = fixed(request.temperature_unit.read(temperature), 1);
        format!(
            "{} {}",
            comma(figure, &request.choices),
            request.temperature_unit.symbol()
        )
    };
    let pressure_text = |pressure: Pressure| {
        let text = request.pressure_unit.text(pressure, &request.site);
        comma(text, &request.choices)
    };
    if let Some(critical) = refrigerant.critical_point() {
        let above = match at {
            At::Temperature(temperature) => temperature >= critical.temperature,
            At::Pressure(pressure) => pressure >= critical.pressure,
        };
        if above {
            notes.add(format!(
                "above critical: beyond the critical point of {name}, {}, {}.",
                temperature_text(critical.temperature),
                pressure_text(critical.pressure),
            ));
            return "above critical".into();
        }
    }
    if let Error::OutOfRange {
        value, low, high, ..
    } = error
    {
        let below = value < low;
        let limit = if below { *low } else { *high };
        let limit = match at {
            At::Temperature(_) => temperature_text(Temperature::kelvin(limit)),
            At::Pressure(_) => pressure_text(Pressure::pascal(limit)),
        };
        let (word, verb) = if below {
            ("below range", "begins")
        } else {
            ("above range", "ends")
        };
        notes.add(format!(
            "{word}: the saturation line of {name} {verb} at {limit}."
        ));
        return word.into();
    }
    // A solver's steps and residual differ from row to row; the reader needs the reason once.
    notes.add(match error {
        Error::NotConverged { .. } => format!(
            "no answer: {name}: no point of its saturation line was found there; a blend's lines end near its critical point."
        ),
        other => format!("no answer: {name}: {other}."),
    });
    "no answer".into()
}
