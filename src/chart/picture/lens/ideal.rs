//! Raoult's law beside a lens: p = sum x_i p_i(T) along the bubble line and 1/p = sum y_i/p_i(T) along
//! the dew line, with each one's own saturation pressure.

use super::nothing;
use crate::Result;
use crate::chart::reasons;
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

/// An end of a line of the ideal mixture: the first component's mole fraction, and K or Pa.
pub(super) type End = (f64, f64);

impl Ideal<'_> {
    /// Between which ends a line of the ideal mixture exists: at a pressure as far as both components
    /// boil at its temperatures.
    pub(super) fn ends(&self, branch: Branch) -> Option<[End; 2]> {
        let pure = [(0.0, self.alone[1]), (1.0, self.alone[0])];
        let AzeotropeAt::Pressure(pressure) = self.at else {
            return Some(pure);
        };
        let reached = |(share, kelvin): End| {
            if self.own(kelvin).is_some() {
                return Some((share, kelvin));
            }
            let kelvin = self.nearest(kelvin, pure[usize::from(share == 0.0)].1)?;
            let [first, second] = self.own(kelvin)?;
            let whole = pressure.in_pascal();
            let share = match branch {
                Branch::Bubble => (whole - second) / (first - second),
                Branch::Dew => (1.0 / whole - 1.0 / second) / (1.0 / first - 1.0 / second),
            };
            Some((share, kelvin))
        };
        Some([reached(pure[0])?, reached(pure[1])?])
    }

    /// Both components' own saturation pressures, Pa; none where one of them has none.
    fn own(&self, kelvin: f64) -> Option<[f64; 2]> {
        let at = Temperature::kelvin(kelvin);
        let own = |one: &Refrigerant| one.bubble_pressure(at).ok().map(Pressure::in_pascal);
        Some([own(&self.pure[0])?, own(&self.pure[1])?])
    }

    /// The temperature nearest to one at which not both boil, on the way to the other.
    fn nearest(&self, mut without: f64, mut with: f64) -> Option<f64> {
        self.own(with)?;
        while (with - without).abs() > CLOSE {
            let middle = (with + without) / 2.0;
            match self.own(middle) {
                Some(_) => with = middle,
                None => without = middle,
            }
        }
        Some(with)
    }

    /// Where the ideal mixture boils or condenses between the ends of its line, by the mole fraction of
    /// the first component.
    pub(super) fn point(&self, branch: Branch, share: f64, ends: [End; 2]) -> Option<f64> {
        if let Some(end) = ends.iter().find(|end| end.0 == share) {
            return Some(end.1);
        }
        let mixed = |[first, second]: [f64; 2]| match branch {
            Branch::Bubble => share * first + (1.0 - share) * second,
            Branch::Dew => 1.0 / (share / first + (1.0 - share) / second),
        };
        let AzeotropeAt::Pressure(pressure) = self.at else {
            return Some(mixed(self.alone));
        };
        let [low, high] = ends.map(|end| end.1);
        if low == high {
            return Some(low);
        }
        // ln p is nearly straight in 1/T.
        let error = |inverse: f64| -> Result<f64> {
            let own = self
                .own(1.0 / inverse)
                .ok_or_else(|| nothing(reasons::DRAWN_NOTHING_OF_LENS))?;
            Ok((mixed(own) / pressure.in_pascal()).ln())
        };
        let root = bracketed_root(error, 1.0 / low, 1.0 / high, 1e-12).ok()?;
        Some(1.0 / root)
    }
}

/// How near a line is followed to where one of its components no longer boils, K.
const CLOSE: f64 = 1e-3;
