//! One cell: its number, and the only text that any format shows.

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

pub(super) fn compute(
    refrigerant: &Refrigerant,
    line: Line,
    within: Within,
    at: At,
    request: &Request,
    notes: &mut Notes,
) -> Cell {
    if within != Within::Nominal && !refrigerant.has_tolerance() {
        notes.add(format!(
            "not known: no tolerance of the contents of {} is on record.",
            refrigerant.designation()
        ));
        return Cell {
            text: "not known".into(),
            value: None,
        };
    }
    let answer = answer(refrigerant, line, within, at);
    match answer {
        Ok(Answer::Pressure(pressure)) => Cell {
            text: pressure_text(pressure, request),
            value: Some(pressure.in_pascal()),
        },
        Ok(Answer::Temperature(temperature)) => Cell {
            text: fixed(request.temperature_unit.read(temperature), 1),
            value: Some(temperature.in_kelvin()),
        },
        Err(error) => Cell {
            text: word(refrigerant, at, request, &error, notes),
            value: None,
        },
    }
}

enum Answer {
    Pressure(Pressure),
    Temperature(Temperature),
}

fn answer(refrigerant: &Refrigerant, line: Line, within: Within, at: At) -> crate::Result<Answer> {
    let branch = match line {
        Line::Dew => Branch::Dew,
        Line::Bubble | Line::Saturation => Branch::Bubble,
    };
    let (pressure, temperature) = (Answer::Pressure, Answer::Temperature);
    match (at, within) {
        (At::Temperature(at), Within::Nominal) => match branch {
            Branch::Bubble => refrigerant.bubble_pressure(at).map(pressure),
            Branch::Dew => refrigerant.dew_pressure(at).map(pressure),
        },
        (At::Pressure(at), Within::Nominal) => match branch {
            Branch::Bubble => refrigerant.bubble_temperature(at).map(temperature),
            Branch::Dew => refrigerant.dew_temperature(at).map(temperature),
        },
        (At::Temperature(at), _) => {
            edge(refrigerant.pressure_band(branch, at), within).map(pressure)
        }
        (At::Pressure(at), _) => {
            edge(refrigerant.temperature_band(branch, at), within).map(temperature)
        }
    }
}

/// An end of a band that is known to exist.
fn edge<Value>(band: crate::Result<Option<Band<Value>>>, within: Within) -> crate::Result<Value> {
    let band = band?.ok_or_else(|| Error::NoState {
        reason: "no tolerance is on record".into(),
        hint: "leave the tolerance out".into(),
    })?;
    Ok(match within {
        Within::Highest => band.highest,
        Within::Lowest | Within::Nominal => band.lowest,
    })
}

fn pressure_text(pressure: Pressure, request: &Request) -> String {
    let (figure, vacuum) = request.pressure_unit.cell(pressure, &request.site);
    if vacuum {
        format!("{figure} inHg vac")
    } else {
        figure
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
        format!(
            "{} {}",
            fixed(request.temperature_unit.read(temperature), 1),
            request.temperature_unit.symbol()
        )
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
                request.pressure_unit.text(critical.pressure, &request.site),
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
            At::Pressure(_) => request
                .pressure_unit
                .text(Pressure::pascal(limit), &request.site),
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
        Error::NotConverged { question, .. } => format!(
            "no answer: {name}: no {question} was found; a blend's lines end near its critical point."
        ),
        other => format!("no answer: {name}: {other}."),
    });
    "no answer".into()
}
