//! Columns of plain numbers in, columns out.

use super::batch::{PIECE, Unanswered, answered, in_pieces, line_batch, same_length};
use super::quick::Wanted;
use super::{Given, ReferenceState, Refrigerant};
use crate::equilibrium::bubble_dew::Branch;
use crate::error::Result;
use crate::units::{Pressure, Temperature};

/// The two properties that a row of two slices gives, for [`Refrigerant::numbers`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum By {
    /// K and Pa.
    TemperaturePressure,
    /// Pa and J/kg.
    PressureEnthalpy,
    /// Pa and J/(kg K).
    PressureEntropy,
    /// K and the vapor's share of the mass.
    TemperatureQuality,
    /// Pa and the vapor's share of the mass.
    PressureQuality,
}

impl By {
    /// The question of a row.
    pub fn given(self, first: f64, second: f64) -> Given {
        let (kelvin, pascal) = (Temperature::kelvin(first), Pressure::pascal(first));
        match self {
            By::TemperaturePressure => Given::TemperaturePressure(kelvin, Pressure::pascal(second)),
            By::PressureEnthalpy => Given::PressureEnthalpy(pascal, second),
            By::PressureEntropy => Given::PressureEntropy(pascal, second),
            By::TemperatureQuality => Given::TemperatureQuality(kelvin, second),
            By::PressureQuality => Given::PressureQuality(pascal, second),
        }
    }
}

impl Refrigerant {
    /// Bubble pressures at many temperatures; see [`Refrigerant::bubble_pressure`].
    ///
    /// Returns the rows without an answer, in their order; their pressure is NaN.
    ///
    /// # Units
    /// Temperatures in K, pressures in Pa.
    ///
    /// # Errors
    /// [`crate::Error::Lengths`] where the slices differ in length; nothing is written then.
    ///
    /// # Example
    /// ```
    /// use zeotrope::Refrigerant;
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let mut pressures = [0.0; 3];
    /// let unanswered = r134a.bubble_pressures(&[248.15, 278.15, 473.15], &mut pressures)?;
    /// // Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657: 0.34966 MPa at 5 °C
    /// assert!((pressures[1] - 0.34966e6).abs() < 10.0);
    /// // above the critical temperature, 101 °C, there is none; the other rows stand
    /// assert_eq!(unanswered.len(), 1);
    /// assert_eq!(unanswered[0].row, 2);
    /// assert!(pressures[2].is_nan());
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn bubble_pressures(
        &self,
        temperatures: &[f64],
        pressures: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        self.pressures(Branch::Bubble, temperatures, pressures)
    }

    /// Dew pressures, Pa, at many temperatures, K; see [`Refrigerant::dew_pressure`].
    ///
    /// Returns the rows without an answer, in their order; their pressure is NaN.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    pub fn dew_pressures(
        &self,
        temperatures: &[f64],
        pressures: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        self.pressures(Branch::Dew, temperatures, pressures)
    }

    /// Bubble temperatures, K, at many pressures, Pa; see [`Refrigerant::bubble_temperature`].
    ///
    /// Returns the rows without an answer, in their order; their temperature is NaN.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    pub fn bubble_temperatures(
        &self,
        pressures: &[f64],
        temperatures: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        self.temperatures(Branch::Bubble, pressures, temperatures)
    }

    /// Dew temperatures, K, at many pressures, Pa; see [`Refrigerant::dew_temperature`].
    ///
    /// Returns the rows without an answer, in their order; their temperature is NaN.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    pub fn dew_temperatures(
        &self,
        pressures: &[f64],
        temperatures: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        self.temperatures(Branch::Dew, pressures, temperatures)
    }

    fn pressures(
        &self,
        branch: Branch,
        temperatures: &[f64],
        pressures: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        let curve = self.wanted(branch);
        let cells = |kelvin| curve?.pressure_cells(kelvin, || self.line(branch));
        let one = |kelvin| {
            let found = self.line_pressure(branch, Temperature::kelvin(kelvin));
            found.map(Pressure::in_pascal)
        };
        line_batch(temperatures, pressures, cells, one)
    }

    fn temperatures(
        &self,
        branch: Branch,
        pressures: &[f64],
        temperatures: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        let curve = self.wanted(branch);
        let cells = |pascal| curve?.temperature_cells(pascal, || self.line(branch));
        let one = |pascal| {
            let found = self.line_temperature(branch, Pressure::pascal(pascal));
            found.map(Temperature::in_kelvin)
        };
        line_batch(pressures, temperatures, cells, one)
    }

    /// One number of many states, each with two given properties; see [`Refrigerant::number`].
    ///
    /// Returns the rows without an answer, in their order; their number is NaN.
    ///
    /// # Units
    /// Those of `by` and of `wanted`; enthalpy and entropy from `zero`.
    ///
    /// # Errors
    /// As [`Refrigerant::bubble_pressures`].
    ///
    /// # Example
    /// ```
    /// use zeotrope::refrigerant::{By, Wanted};
    /// use zeotrope::{ReferenceState, Refrigerant};
    /// let r134a = Refrigerant::named("R-134a")?;
    /// let (kelvin, pascal) = ([300.0; 2], [10e5, f64::NAN]);
    /// let mut densities = [0.0; 2];
    /// let by = By::TemperaturePressure;
    /// let zero = ReferenceState::Iir;
    /// let unanswered =
    ///     r134a.numbers(Wanted::Density, by, (&kelvin, &pascal), zero, &mut densities)?;
    /// // computed with CoolProp 8.0.0, a cross-check
    /// assert!((densities[0] - 1202.0).abs() < 1.0);
    /// assert_eq!(unanswered[0].row, 1);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn numbers(
        &self,
        wanted: Wanted,
        by: By,
        (first, second): (&[f64], &[f64]),
        zero: ReferenceState,
        numbers: &mut [f64],
    ) -> Result<Vec<Unanswered>> {
        same_length(first.len(), second.len())?;
        same_length(first.len(), numbers.len())?;
        Ok(in_pieces(numbers, PIECE, |start, numbers| {
            answered(start, numbers, f64::NAN, |row| {
                self.number(wanted, by.given(first[row], second[row]), zero)
            })
        }))
    }
}
