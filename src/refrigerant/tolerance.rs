//! How far bubble and dew may lie from the nominal blend's within the tolerances of its contents.

use super::Refrigerant;
use crate::catalogue::corners;
use crate::equilibrium::FAR_FROM_CRITICAL;
use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
use crate::equilibrium::line::BlendLine;
use crate::error::Result;
use crate::helmholtz::MoleFractions;
use crate::units::{Pressure, Temperature};

/// Distance from the nominal critical temperature, K, within which each corner's own line is
/// asked for what exists: a tolerance of 2 mass % moves a critical temperature by less.
const NEAR_THE_TOP: f64 = 10.0;
/// Distance above the parting of a liquid, K, within which a corner's liquid may part.
const NEAR_PARTING: f64 = 10.0;

/// The lowest and highest value over the nominal composition and all corners of its tolerances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band<Value> {
    /// The lowest.
    pub lowest: Value,
    /// The highest.
    pub highest: Value,
    /// Corners looked at.
    pub corners: usize,
}

/// A corner of the tolerances.
#[derive(Debug)]
pub(super) struct Corner {
    /// Mole fractions in the model's order.
    x: MoleFractions,
    line: BlendLine,
}

impl Refrigerant {
    /// The band of the bubble or dew pressure at a temperature over the corners of the published
    /// tolerances; `None` where none are published, as for a pure refrigerant and a composition
    /// of the user's own.
    ///
    /// For how many digits of a chart mean something.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] or [`crate::Error::NotConverged`] where the nominal blend or a
    /// corner has no such point.
    ///
    /// # Example
    /// ```
    /// use zeotrope::equilibrium::bubble_dew::Branch;
    /// use zeotrope::{Refrigerant, units::Temperature};
    /// let at = Temperature::fahrenheit(40.0);
    /// let r455a = Refrigerant::named("R-455A")?;
    /// let band = r455a.pressure_band(Branch::Dew, at)?.unwrap();
    /// let nominal = r455a.dew_pressure(at)?;
    /// assert!(band.lowest < nominal && nominal < band.highest);
    /// let r134a = Refrigerant::named("R-134a")?;
    /// assert_eq!(r134a.pressure_band(Branch::Dew, at)?, None);
    /// # Ok::<(), zeotrope::Error>(())
    /// ```
    pub fn pressure_band(
        &self,
        branch: Branch,
        temperature: Temperature,
    ) -> Result<Option<Band<Pressure>>> {
        let Some(corners) = self.corners() else {
            return Ok(None);
        };
        let nominal = self.pair_at_temperature(branch, temperature)?;
        let (mixture, kelvin) = (&self.0.mixture, temperature.in_kelvin());
        let own_line = self.asks_own_line(&nominal);
        let mut values = vec![nominal.pressure];
        for corner in corners {
            let near = (!own_line)
                .then(|| {
                    bubble_dew::near_at_temperature(mixture, &corner.x, branch, kelvin, &nominal)
                })
                .flatten();
            let found = match near {
                Some(found) => found,
                None => corner
                    .line
                    .at_temperature(mixture, &corner.x, branch, kelvin)?,
            };
            values.push(found.pressure);
        }
        Ok(Some(band(&values, Pressure::pascal)))
    }

    /// As [`Refrigerant::pressure_band`], the band of the temperature at a pressure.
    ///
    /// # Errors
    /// As [`Refrigerant::pressure_band`].
    pub fn temperature_band(
        &self,
        branch: Branch,
        pressure: Pressure,
    ) -> Result<Option<Band<Temperature>>> {
        let Some(corners) = self.corners() else {
            return Ok(None);
        };
        let nominal = self.pair_at_pressure(branch, pressure)?;
        let (mixture, pascal) = (&self.0.mixture, pressure.in_pascal());
        let own_line = self.asks_own_line(&nominal);
        let mut values = vec![nominal.temperature];
        for corner in corners {
            let near = (!own_line)
                .then(|| bubble_dew::near_at_pressure(mixture, &corner.x, branch, pascal, &nominal))
                .flatten();
            let found = match near {
                Some(found) => found,
                None => corner
                    .line
                    .at_pressure(mixture, &corner.x, branch, pascal)?,
            };
            values.push(found.temperature);
        }
        Ok(Some(band(&values, Temperature::kelvin)))
    }

    /// Whether published tolerances are on record for every component.
    pub fn has_tolerance(&self) -> bool {
        self.corners().is_some()
    }

    fn corners(&self) -> Option<&[Corner]> {
        let found = self.0.corners.get_or_init(|| {
            let record = self.blend()?;
            let components = self.0.mixture.components();
            let corners = corners(record)?;
            let at = |masses: Vec<f64>| {
                let moles: Vec<f64> = components
                    .iter()
                    .map(|component| {
                        let mut pairs = record.components.iter().zip(&masses);
                        pairs
                            .find(|(one, _)| one.refrigerant == component.record.designation)
                            .map_or(0.0, |(_, mass)| mass / component.record.molar_mass_kg_mol)
                    })
                    .collect();
                Corner {
                    x: MoleFractions::new(&moles),
                    line: BlendLine::default(),
                }
            };
            Some(corners.into_iter().map(at).collect())
        });
        found.as_deref()
    }

    /// Whether a neighbour's solution may mislead there: near the critical point, and where the
    /// liquid parts in two.
    fn asks_own_line(&self, nominal: &PhasePair) -> bool {
        let (mixture, x) = (&self.0.mixture, &self.0.x);
        let parts = self.0.line.splits_below(mixture, x);
        if parts.is_some_and(|edge| nominal.temperature < edge + NEAR_PARTING) {
            return true;
        }
        if nominal.temperature < FAR_FROM_CRITICAL * self.fixed().reducing_temperature {
            return false;
        }
        self.envelope().map_or(true, |envelope| {
            nominal.temperature > envelope.critical.temperature - NEAR_THE_TOP
        })
    }
}

fn band<Value>(values: &[f64], of: fn(f64) -> Value) -> Band<Value> {
    Band {
        lowest: of(values.iter().copied().fold(f64::INFINITY, f64::min)),
        highest: of(values.iter().copied().fold(f64::NEG_INFINITY, f64::max)),
        corners: values.len() - 1,
    }
}
