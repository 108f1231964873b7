//! The ends of an isobar: what an enthalpy or an entropy is compared with before anything is
//! solved for, so that a sensor out of range costs little.

use super::{Given, ReferenceState, Refrigerant};
use crate::equilibrium::one_phase::liquid_density;
use crate::error::{Error, Reason, reasons};
use crate::state::{SinglePhase, density_near};

/// Part of the reducing temperature from which an isotherm has one density at a pressure.
const ONE_DENSITY: f64 = 1.1;
/// How far below the coldest liquid an enthalpy or entropy is refused, in units of R T and R: a
/// liquid that parts in two may lie below that of one liquid.
const BELOW: f64 = 2.0;
/// How far above the hottest gas, for rounding.
const ABOVE: f64 = 1e-3;

impl Refrigerant {
    /// The error for an enthalpy or entropy that lies beyond those of the coldest and the hottest
    /// fluid at its pressure; `None` where it does not, or where that is not plain.
    pub(super) fn beyond_isobar(&self, given: Given, zero: ReferenceState) -> Option<Error> {
        let shift = self.shift(zero).ok()?;
        let mass = self.0.molar_mass;
        let (pressure, of, value) = match given {
            Given::PressureEnthalpy(pressure, enthalpy) => {
                let of: fn(&SinglePhase) -> f64 = |phase| phase.enthalpy / phase.temperature;
                (pressure, of, (enthalpy - shift.enthalpy) * mass)
            }
            Given::PressureEntropy(pressure, entropy) => {
                let of: fn(&SinglePhase) -> f64 = |phase| phase.entropy;
                (pressure, of, (entropy - shift.entropy) * mass)
            }
            _ => return None,
        };
        let by_enthalpy = matches!(given, Given::PressureEnthalpy(..));
        let limits = &self.0.limits;
        let pressure = pressure.in_pascal();
        if !(pressure > 0.0 && pressure <= limits.pressure_max.in_pascal()) {
            return None;
        }
        let fixed = self.fixed();
        // over R, of a fluid at a temperature from a density near its own
        let beyond = |temperature: f64, near: f64| {
            let density = density_near(&fixed.isotherm(temperature), pressure, near)?;
            let end = of(&SinglePhase::at_density(&fixed, temperature, density));
            let value = if by_enthalpy {
                value / temperature
            } else {
                value
            };
            Some((value - end) / fixed.gas_constant)
        };
        let cold = limits.temperature_min.in_kelvin();
        let hot = limits.temperature_max.in_kelvin();
        let too_low = || {
            let near = liquid_density(&self.0.mixture, &self.0.x, cold);
            beyond(cold, near).is_some_and(|beyond| beyond < -BELOW)
        };
        let too_high = || {
            let near = pressure / (fixed.gas_constant * hot);
            hot > ONE_DENSITY * fixed.reducing_temperature
                && beyond(hot, near).is_some_and(|beyond| beyond > ABOVE)
        };
        (too_low() || too_high()).then(|| Error::NoState {
            reason: Reason::of(
                reasons::REASON_NOTHING_WITHIN_RANGE,
                "refrigerant",
                self.designation(),
            ),
            hint: format!(
                "it is answered from {cold} to {hot} K and up to {} Pa",
                limits.pressure_max.in_pascal()
            ),
        })
    }
}
