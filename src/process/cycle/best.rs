//! The pressure of a gas cooler at which the COP is highest.

use super::answer::CycleAnswer;
use super::question::{Cycle, Discharge, GasCoolerPressure, refused};
use crate::process::reasons;
use crate::refrigerant::Refrigerant;
use crate::units::{Pressure, Temperature};
use crate::{Error, Result};

/// Pressures of the first look, from the critical pressure to three times it.
const LOOKS: u32 = 24;
/// Highest pressure that is looked at, in parts of the critical one.
const HIGHEST: f64 = 3.0;
/// Width of the last bracket, in parts of the pressure: the COP is flat there to 1e-10.
const LAST: f64 = 1e-7;
/// Golden section.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

impl Cycle {
    /// Looks along the pressures, then narrows the best of them by golden section.
    pub(super) fn at_best_pressure(
        &self,
        refrigerant: &Refrigerant,
        outlet: Temperature,
    ) -> Result<CycleAnswer> {
        let critical = refrigerant.critical_point().ok_or_else(|| {
            let reason = reasons::CYCLE_BEST_WITHOUT_CRITICAL;
            refused(reason, "give the pressure of the gas cooler")
        })?;
        let at = |pascal: f64| Self {
            discharge: Discharge::GasCooler {
                pressure: GasCoolerPressure::At(Pressure::pascal(pascal)),
                outlet,
            },
            ..*self
        };
        let low = critical.pressure.in_pascal() * (1.0 + 1e-6) + self.condenser_drop;
        let ends = refrigerant.limits().pressure_max.in_pascal();
        let high = (HIGHEST * critical.pressure.in_pascal()).min(ends);
        let mut first_failure: Option<Error> = None;
        let mut cop = |pascal: f64| match at(pascal).solved(refrigerant) {
            // Without effect no COP: hot gas at a low pressure.
            Ok(solved) if solved.effect() > 0.0 => solved.cop(),
            Ok(_) => f64::NEG_INFINITY,
            Err(error) => {
                first_failure.get_or_insert(error);
                f64::NEG_INFINITY
            }
        };
        let step = (high - low) / f64::from(LOOKS);
        let looks: Vec<(f64, f64)> = (0..=LOOKS)
            .map(|k| low + step * f64::from(k))
            .map(|pascal| (pascal, cop(pascal)))
            .collect();
        let (best, found) = looks
            .iter()
            .copied()
            .fold((low, f64::NEG_INFINITY), |best, one| {
                if one.1 > best.1 { one } else { best }
            });
        if found == f64::NEG_INFINITY {
            return Err(first_failure.unwrap_or_else(|| {
                refused(
                    reasons::CYCLE_BEST_NONE,
                    "lower the outlet temperature of the gas cooler",
                )
            }));
        }
        let (mut a, mut b) = ((best - step).max(low), (best + step).min(high));
        let mut left = b - GOLDEN * (b - a);
        let mut right = a + GOLDEN * (b - a);
        let (mut at_left, mut at_right) = (cop(left), cop(right));
        while b - a > LAST * best {
            if at_left >= at_right {
                (b, right, at_right) = (right, left, at_left);
                left = b - GOLDEN * (b - a);
                at_left = cop(left);
            } else {
                (a, left, at_left) = (left, right, at_right);
                right = a + GOLDEN * (b - a);
                at_right = cop(right);
            }
        }
        if b >= high {
            return Err(refused(
                reasons::CYCLE_BEST_ABOVE,
                "give the pressure of the gas cooler",
            ));
        }
        if a <= low {
            return Err(refused(
                reasons::CYCLE_BEST_BELOW,
                "give a condensing temperature, or the pressure of the gas cooler",
            ));
        }
        at(0.5 * (a + b)).solved(refrigerant)?.finish(refrigerant)
    }
}
