//! States of rows of a sheet.

use super::{Dialect, Record};
use crate::error::Reason;
use crate::refrigerant::{ReferenceState, Refrigerant, State};
use crate::service::reasons;
use crate::service::state::{Properties, states};
use crate::units::{Atmosphere, ReadColumn};
use crate::{Error, Phase, Result};

/// Answers rows that give two properties.
#[derive(Debug, Clone)]
pub struct StateRows {
    /// The columns of the properties.
    pub places: Vec<ReadColumn>,
    /// How the file is written.
    pub dialect: Dialect,
    /// The air that gauge pressures are relative to.
    pub site: Atmosphere,
    /// What enthalpy and entropy are relative to.
    pub reference: ReferenceState,
    /// The phase wanted, where two states answer.
    pub phase: Option<Phase>,
}

impl StateRows {
    /// Refuses two columns of one property.
    ///
    /// # Errors
    /// [`Error::Columns`] where both are of one.
    pub fn check(places: &[ReadColumn]) -> Result<()> {
        match places {
            [first, second] if first.column.quantity() == second.column.quantity() => {
                Err(Error::Columns {
                    problem: format!("'{}' and '{}' are one property", first.head, second.head),
                    hint: "a state is given by columns of two different properties".into(),
                    choice: Vec::new(),
                })
            }
            _ => Ok(()),
        }
    }

    /// The state of a row.
    ///
    /// # Errors
    /// As [`states`] and [`Dialect::read`]; [`Error::NoAnswer`] where several states answer.
    pub fn answer(&self, refrigerant: &Refrigerant, row: &Record) -> Result<State> {
        let mut given = Properties::default();
        for place in &self.places {
            given.set(self.dialect.read(place, row, &self.site)?);
        }
        let given = given.given(refrigerant.molar_mass());
        let given = given.ok_or_else(|| Error::NoAnswer {
            reason: reasons::SHEET_TWO_PROPERTIES.into(),
            hint: "give columns of two of them".into(),
        })?;
        let mut found = states(refrigerant, given, self.reference, self.phase)?;
        match (found.pop(), found.as_slice()) {
            (Some(state), []) => Ok(state),
            (last, others) => {
                let phases = others.iter().chain(&last).map(|state| state.phase.name());
                let phases: Vec<&str> = phases.collect();
                let phases = phases.join(", ");
                Err(Error::NoAnswer {
                    reason: Reason::of(reasons::SHEET_SEVERAL_STATES, "phases", &phases),
                    hint: "the phase is the same for all rows".into(),
                })
            }
        }
    }
}
