//! Many questions at once: slices in, slices out.
//!
//! A row without an answer becomes NaN and its reason is kept; the other rows are not lost. With
//! the feature `parallel` the rows are shared among the threads of rayon's current pool. Each row
//! is answered as if it were alone, so that the answers are the same bits whatever the number of
//! threads.

#[cfg(feature = "parallel")]
use rayon::prelude::*;

use super::{Given, ReferenceState, Refrigerant, State};
use crate::Phase;
use crate::error::{Error, Result};
use crate::units::{Pressure, Temperature};

/// Rows that one thread takes at a time: few enough to share out a hundred slow ones.
#[cfg(feature = "parallel")]
const PIECE: usize = 64;

/// A row of a batch that has no answer, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Unanswered {
    /// Place of the row in the slices, from 0.
    pub row: usize,
    /// Why it has no answer.
    pub reason: Error,
}

/// A state as a row of plain numbers, without the heap.
///
/// # Units
/// SI by mass as in [`PhaseProperties`](super::PhaseProperties). What a state does not have is
/// NaN: cp, cv and the speed of sound between qualities 0 and 1, the quality of one phase, and
/// everything of a row without an answer, whose phase is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StateRow {
    /// Which phase it is.
    pub phase: Option<Phase>,
    /// Temperature.
    pub temperature: Temperature,
    /// Pressure.
    pub pressure: Pressure,
    /// Density, kg/m3.
    pub density: f64,
    /// Enthalpy, J/kg.
    pub enthalpy: f64,
    /// Entropy, J/(kg K).
    pub entropy: f64,
    /// Internal energy, J/kg.
    pub internal_energy: f64,
    /// Isobaric heat capacity, J/(kg K).
    pub cp: f64,
    /// Isochoric heat capacity, J/(kg K).
    pub cv: f64,
    /// Speed of sound, m/s.
    pub speed_of_sound: f64,
    /// Vapour's share of the mass in two phases.
    pub quality: f64,
}

impl StateRow {
    /// A row without an answer: NaN throughout.
    pub const NONE: StateRow = StateRow {
        phase: None,
        temperature: Temperature::kelvin(f64::NAN),
        pressure: Pressure::pascal(f64::NAN),
        density: f64::NAN,
        enthalpy: f64::NAN,
        entropy: f64::NAN,
        internal_energy: f64::NAN,
        cp: f64::NAN,
        cv: f64::NAN,
        speed_of_sound: f64::NAN,
        quality: f64::NAN,
    };
}

impl From<&State> for StateRow {
    fn from(state: &State) -> Self {
        let whole = &state.properties;
        Self {
            phase: Some(state.phase),
            temperature: whole.temperature,
            pressure: whole.pressure,
            density: whole.density,
            enthalpy: whole.enthalpy,
            entropy: whole.entropy,
            internal_energy: whole.internal_energy,
            cp: whole.cp.unwrap_or(f64::NAN),
            cv: whole.cv.unwrap_or(f64::NAN),
            speed_of_sound: whole.speed_of_sound.unwrap_or(f64::NAN),
            quality: state.quality.unwrap_or(f64::NAN),
        }
    }
}

impl Refrigerant {
    /// Bubble pressures at many temperatures; see [`Refrigerant::bubble_pressure`].
    ///
    /// Returns the rows without an answer, in their order; their pressure is NaN.
    ///
    /// # Errors
    /// [`Error::Lengths`] where the slices differ in length; nothing is written then.
    ///
    /// # Example
    /// ```
    /// use zeotrope::{Refrigerant, units::{Pressure, Temperature}};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let at = [-25.0, 5.0, 200.0].map(Temperature::celsius);
    /// let mut pressures = [Pressure::pascal(0.0); 3];
    /// let unanswered = r134a.bubble_pressures(&at, &mut pressures)?;
    /// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    /// assert!((pressures[1].in_bar() - 3.4966).abs() < 1e-4);
    /// // above the critical temperature, 101 °C, there is none; the other rows stand
    /// assert_eq!(unanswered.len(), 1);
    /// assert_eq!(unanswered[0].row, 2);
    /// assert!(pressures[2].in_pascal().is_nan());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn bubble_pressures(
        &self,
        temperatures: &[Temperature],
        pressures: &mut [Pressure],
    ) -> Result<Vec<Unanswered>> {
        batch(temperatures, pressures, NO_PRESSURE, |&temperature| {
            self.bubble_pressure(temperature)
        })
    }

    /// Dew pressures at many temperatures; see [`Refrigerant::dew_pressure`].
    ///
    /// Returns the rows without an answer, in their order; their pressure is NaN.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    pub fn dew_pressures(
        &self,
        temperatures: &[Temperature],
        pressures: &mut [Pressure],
    ) -> Result<Vec<Unanswered>> {
        batch(temperatures, pressures, NO_PRESSURE, |&temperature| {
            self.dew_pressure(temperature)
        })
    }

    /// Bubble temperatures at many pressures; see [`Refrigerant::bubble_temperature`].
    ///
    /// Returns the rows without an answer, in their order; their temperature is NaN.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    pub fn bubble_temperatures(
        &self,
        pressures: &[Pressure],
        temperatures: &mut [Temperature],
    ) -> Result<Vec<Unanswered>> {
        batch(pressures, temperatures, NO_TEMPERATURE, |&pressure| {
            self.bubble_temperature(pressure)
        })
    }

    /// Dew temperatures at many pressures; see [`Refrigerant::dew_temperature`].
    ///
    /// Returns the rows without an answer, in their order; their temperature is NaN.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    pub fn dew_temperatures(
        &self,
        pressures: &[Pressure],
        temperatures: &mut [Temperature],
    ) -> Result<Vec<Unanswered>> {
        batch(pressures, temperatures, NO_TEMPERATURE, |&pressure| {
            self.dew_temperature(pressure)
        })
    }

    /// Many states, each from two of its properties; see [`Refrigerant::state`].
    ///
    /// `phase` chooses where two states answer. Returns the rows without an answer, in their
    /// order: [`Refrigerant::state`]'s errors, and [`Error::NoState`] where more than one state is
    /// left or none is of that phase.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::refrigerant::StateRow;
    /// use zeotrope::{Given, Refrigerant, ReferenceState, units::Pressure};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let given = [0.0, 0.5, 1.0].map(|quality| Given::PressureQuality(Pressure::bar(3.4966), quality));
    /// let mut states = [StateRow::NONE; 3];
    /// assert!(r134a.states(&given, ReferenceState::Iir, None, &mut states)?.is_empty());
    /// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    /// assert!((states[1].temperature.in_celsius() - 5.0).abs() < 1e-3);
    /// assert!(states[1].cp.is_nan());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn states(
        &self,
        given: &[Given],
        zero: ReferenceState,
        phase: Option<Phase>,
        states: &mut [StateRow],
    ) -> Result<Vec<Unanswered>> {
        batch(given, states, StateRow::NONE, |&given| {
            let mut found = self.state(given, zero)?;
            if let Some(phase) = phase {
                found.retain(|state| state.phase == phase);
            }
            match found.as_slice() {
                [state] => Ok(state.into()),
                [] => Err(Error::NoState {
                    reason: "none of the phase asked for has these two properties".into(),
                    hint: "ask for another phase".into(),
                }),
                _ => Err(Error::NoState {
                    reason: "more than one state has these two properties".into(),
                    hint: "name the phase, or give another pair of properties".into(),
                }),
            }
        })
    }
}

const NO_PRESSURE: Pressure = Pressure::pascal(f64::NAN);
const NO_TEMPERATURE: Temperature = Temperature::kelvin(f64::NAN);

/// Answers each row by itself; a row without an answer becomes `none`.
fn batch<Question: Sync, Reply: Send + Sync + Copy>(
    questions: &[Question],
    replies: &mut [Reply],
    none: Reply,
    one: impl Fn(&Question) -> Result<Reply> + Sync + Send,
) -> Result<Vec<Unanswered>> {
    if questions.len() != replies.len() {
        return Err(Error::Lengths {
            rows: questions.len(),
            room: replies.len(),
        });
    }
    let piece = |first: usize, questions: &[Question], replies: &mut [Reply]| {
        let mut unanswered = Vec::new();
        for (index, (question, reply)) in questions.iter().zip(replies).enumerate() {
            *reply = one(question).unwrap_or_else(|reason| {
                let row = first + index;
                unanswered.push(Unanswered { row, reason });
                none
            });
        }
        unanswered
    };
    #[cfg(feature = "parallel")]
    {
        let pieces: Vec<Vec<Unanswered>> = questions
            .par_chunks(PIECE)
            .zip(replies.par_chunks_mut(PIECE))
            .enumerate()
            .map(|(index, (questions, replies))| piece(index * PIECE, questions, replies))
            .collect();
        Ok(pieces.into_iter().flatten().collect())
    }
    #[cfg(not(feature = "parallel"))]
    Ok(piece(0, questions, replies))
}

/// Does something with each row, on all threads of the current pool where there are any.
#[cfg(feature = "cli")]
pub(crate) fn each<Row: Send>(rows: &mut [Row], one: impl Fn(&mut Row) + Sync + Send) {
    #[cfg(feature = "parallel")]
    rows.par_iter_mut().for_each(one);
    #[cfg(not(feature = "parallel"))]
    rows.iter_mut().for_each(one);
}
