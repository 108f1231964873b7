//! By enthalpy and entropy.
//!
//! At constant enthalpy entropy falls with pressure, ds/dp = -v/T, in one phase and in two: there
//! is one state, and whatever is found and is in equilibrium is it. One phase is sought by
//! Newton's method in (T, rho),
//!
//! ```text
//! dh = (cv + pT / rho) dT + (p_rho - T pT / rho) / rho drho
//! ds = cv / T dT - pT / rho^2 drho
//! ```
//!
//! with pT = dp/dT at constant density and p_rho = dp/drho at constant temperature, from the ideal
//! gas and from a liquid, and held against the lines. Two phases are sought from where an isobar
//! through the bubble line, on which dh = T ds, leads to both.

use super::BlendSolver;
use super::two_phases::as_split;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::one_phase::{frost_pressure, liquid_density};
use crate::equilibrium::split::{Sought, between_lines, split};
use crate::equilibrium::{EquilibriumState, FAR_FROM_CRITICAL, Phases, Property};
use crate::error::Result;
use crate::numeric::bracketed_root;
use crate::state::SinglePhase;

/// Steps of Newton's method before a start is given up.
const MOST_STEPS: usize = 40;
/// A relative step this short is the last.
const SHORT: f64 = 1e-9;
/// Longest relative steps in temperature and density.
const LONGEST: (f64, f64) = (0.15, 0.5);
/// Relative difference in density up to which two states are one.
const SAME: f64 = 1e-6;
/// Temperatures at which the entropy of the liquid is looked at for a start.
const LIQUIDS: u32 = 8;
/// Moles of vapor a mole of blend from which two phases are sought next to a dew point.
const NEARLY_ALL: f64 = 0.95;
/// Part of the critical temperature up to which two phases are sought along the bubble line.
const NEAR_TOP: f64 = 0.9999;

impl BlendSolver<'_> {
    pub(super) fn at_enthalpy_entropy(
        &self,
        enthalpy: f64,
        entropy: f64,
    ) -> Result<EquilibriumState> {
        let starts = [self.as_gas(enthalpy, entropy), self.as_liquid(entropy)];
        let one = || {
            let found = starts.iter().flatten();
            found
                .filter_map(|&start| self.one_phase(enthalpy, entropy, start))
                .find_map(|(temperature, phase)| self.if_in_equilibrium(temperature, &phase))
        };
        one()
            .or_else(|| self.both_phases(enthalpy, entropy))
            .ok_or_else(|| self.nothing())
    }

    /// Temperature and density of the ideal gas of an enthalpy and an entropy.
    fn as_gas(&self, enthalpy: f64, entropy: f64) -> Option<(f64, f64)> {
        let (low, high) = (self.limits.coldest, self.limits.hottest);
        let mut temperature = 0.5 * (low + high);
        for _ in 0..MOST_STEPS {
            let (ideal, capacity) = self.fixed.ideal_enthalpy(temperature);
            let step = (enthalpy - ideal) / capacity;
            let next = (temperature + step).clamp(low, high);
            let short = (next - temperature).abs() < 1e-3 * temperature;
            temperature = next;
            if short {
                break;
            }
        }
        let rt = self.fixed.gas_constant * temperature;
        let thin = SinglePhase::at_density(&self.fixed, temperature, 1.0 / rt);
        let density = thin.density * ((thin.entropy - entropy) / self.fixed.gas_constant).exp();
        // denser it is no ideal gas
        let density = density.min(0.5 * self.fixed.reducing_density);
        density.is_normal().then_some((temperature, density))
    }

    /// Temperature and density of a liquid of an entropy.
    fn as_liquid(&self, entropy: f64) -> Option<(f64, f64)> {
        let low = self.limits.coldest;
        let high = self.limits.hottest.min(self.fixed.reducing_temperature);
        if high <= low {
            return None;
        }
        let at = |k: u32| {
            let temperature = low + (high - low) * f64::from(k) / f64::from(LIQUIDS);
            let density = self.as_dense(temperature)?;
            let phase = SinglePhase::at_density(&self.fixed, temperature, density);
            Some((phase.entropy, temperature))
        };
        let has_more = |k: &u32| at(k + 1).is_some_and(|(own, _)| own > entropy);
        let first = (0..LIQUIDS).find(has_more).unwrap_or(LIQUIDS - 1);
        let ((s0, t0), (s1, t1)) = (at(first)?, at(first + 1)?);
        let temperature = (t0 + (entropy - s0) / (s1 - s0) * (t1 - t0)).clamp(low, high);
        let density = self.as_dense(temperature)?;
        temperature.is_normal().then_some((temperature, density))
    }

    /// A density in mol/m3 of the blend as a liquid at a temperature in K: that of its components' volumes,
    /// or where the mixture's own is far from it, as that of water and a fluorocarbon may be, at the highest
    /// pressure.
    pub(super) fn as_dense(&self, temperature: f64) -> Option<f64> {
        let isotherm = self.fixed.isotherm(temperature);
        let density = liquid_density(self.mixture, self.z, temperature);
        if isotherm.pressure_slope(density).1 > 0.0 {
            return Some(density);
        }
        let most = self.limits.highest_pressure;
        self.compressed(&isotherm, temperature, most).ok()
    }

    /// One phase from a start, stable or not; `None` where the steps do not settle within range.
    fn one_phase(
        &self,
        enthalpy: f64,
        entropy: f64,
        (mut temperature, mut density): (f64, f64),
    ) -> Option<(f64, SinglePhase)> {
        for _ in 0..MOST_STEPS {
            let at = SinglePhase::at_density(&self.fixed, temperature, density);
            let (p_rho, p_t) = (at.pressure_by_density, at.pressure_by_temperature);
            if !(p_rho > 0.0 && at.cv > 0.0) {
                return None;
            }
            let (missing_h, missing_s) = (enthalpy - at.enthalpy, entropy - at.entropy);
            // dh - T ds = dp / rho
            let missing_p = density * (missing_h - temperature * missing_s);
            let determinant = at.cv / temperature * p_rho + (p_t / density).powi(2);
            let step_t = (missing_s * p_rho + p_t / density.powi(2) * missing_p) / determinant;
            let step_rho = (at.cv / temperature * missing_p - p_t * missing_s) / determinant;
            let (part_t, part_rho) = (step_t / temperature, step_rho / density);
            let size = part_t.abs().max(part_rho.abs());
            if !size.is_finite() {
                return None;
            }
            let share = (LONGEST.0 / part_t.abs())
                .min(LONGEST.1 / part_rho.abs())
                .min(1.0);
            temperature += share * step_t;
            density += share * step_rho;
            if size < SHORT {
                let found = SinglePhase::at_density(&self.fixed, temperature, density);
                return Some((temperature, found));
            }
        }
        None
    }

    /// The state of a phase's temperature and pressure, where it is that phase.
    fn if_in_equilibrium(&self, temperature: f64, phase: &SinglePhase) -> Option<EquilibriumState> {
        let state = self
            .at_temperature_pressure(temperature, phase.pressure)
            .ok()?;
        match &state.phases {
            Phases::Single(own, _) if (own.density / phase.density - 1.0).abs() < SAME => {
                Some(state)
            }
            _ => None,
        }
    }

    /// Two phases; `None` where they are not found.
    fn both_phases(&self, enthalpy: f64, entropy: f64) -> Option<EquilibriumState> {
        // the isobar through the bubble point, as if its temperature did not rise; a liquid of
        // more entropy is too hot
        let beyond = |temperature: f64| {
            let liquid = self.two(&as_split(&self.end_at(Branch::Bubble, temperature)?, 0.0));
            let missing = (entropy - liquid.entropy()).max(0.0);
            Ok(enthalpy - liquid.enthalpy() - temperature * missing)
        };
        let safe = FAR_FROM_CRITICAL * self.fixed.reducing_temperature;
        let critical = || self.line.envelope(self.mixture, self.z).ok();
        // what freezes has no bubble point
        let coldest = self.limits.coldest;
        let low = (0..LIQUIDS)
            .map(|k| coldest + f64::from(k) / f64::from(LIQUIDS) * (safe - coldest))
            .find(|&low| frost_pressure(self.mixture, self.z, low).is_none())?;
        let high = if beyond(safe).ok()? < 0.0 {
            safe
        } else {
            NEAR_TOP * critical()?.critical.temperature
        };
        let temperature = bracketed_root(beyond, low, high, 1e-4).ok()?;
        let sought = Sought::EnthalpyEntropy(enthalpy, entropy);
        let bubble = self.end_at(Branch::Bubble, temperature).ok()?;
        if let Some(found) = self.with_both_liquids(&bubble, sought) {
            return Some(found);
        }
        let dew = self.end_at(Branch::Dew, temperature).ok()?;
        let ends = self.as_ends(&bubble, &dew, Property::Entropy, entropy);
        let (l, v) = ends.errors;
        let start = match bubble.liquids {
            // the vapor and the last of the liquids
            Some(_) => as_split(&dew, NEARLY_ALL),
            None => between_lines(self.z, &bubble, &dew, (l / (l - v)).clamp(0.01, 0.99)),
        };
        split(self.mixture, self.z, sought, &start).map(|found| self.two(&found))
    }
}
