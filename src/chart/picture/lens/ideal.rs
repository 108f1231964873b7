//! Raoult's law beside a lens: p = sum x_i p_i(T) along the bubble line and 1/p = sum y_i/p_i(T) along
//! the dew line, with each one's own saturation pressure.

use crate::Error;
use crate::equilibrium::bubble_dew::Branch;
use crate::numeric::bracketed_root;
use crate::process::azeotrope::AzeotropeAt;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature};

/// Two components and where each boils alone: a temperature in K at a pressure, a pressure in Pa at
/// a temperature.
pub(super) struct Ideal<'a> {
    pub(super) pure: &'a [Refrigerant; 2],
    pub(super) alone: [f64; 2],
    pub(super) at: AzeotropeAt,
}

impl Ideal<'_> {
    /// Where the ideal mixture of mole fractions `x` boils or condenses.
    pub(super) fn ideal_point(&self, branch: Branch, x: [f64; 2]) -> Option<f64> {
        let place = x.iter().position(|share| *share == 1.0);
        if let Some(place) = place {
            return Some(self.alone[place]);
        }
        let mixed = |first: f64, second: f64| match branch {
            Branch::Bubble => x[0] * first + x[1] * second,
            Branch::Dew => 1.0 / (x[0] / first + x[1] / second),
        };
        let AzeotropeAt::Pressure(pressure) = self.at else {
            return Some(mixed(self.alone[0], self.alone[1]));
        };
        let own = |one: &Refrigerant, kelvin: f64| {
            let found = one.bubble_pressure(Temperature::kelvin(kelvin))?;
            Ok::<f64, Error>(Pressure::in_pascal(found))
        };
        // ln p is nearly straight in 1/T.
        let error = |inverse: f64| {
            let kelvin = 1.0 / inverse;
            let (first, second) = (own(&self.pure[0], kelvin)?, own(&self.pure[1], kelvin)?);
            Ok((mixed(first, second) / pressure.in_pascal()).ln())
        };
        let ends = self.alone;
        if ends[0] == ends[1] {
            return Some(ends[0]);
        }
        let root = bracketed_root(error, 1.0 / ends[0], 1.0 / ends[1], 1e-12).ok()?;
        Some(1.0 / root)
    }
}
