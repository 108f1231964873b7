//! What the coils of a cycle are asked for in loops: both ends at a pressure, and the pressure at
//! which the mean of inlet and dew temperature is a given one.

use super::Refrigerant;
use super::quick::Quick;
use super::reference_state::ReferenceState;
use super::state::Given;
use crate::Warning;
use crate::equilibrium::KnownLines;
use crate::equilibrium::Property;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::split::{Sought, between_lines, filled_along};
use crate::equilibrium::three_phase::is_parted;
use crate::units::{Pressure, Temperature};

/// Half a step of the slope of the dew line, K.
const STEP: f64 = 1e-3;

/// Saturated liquid at the bubble point and vapor at the dew point of one pressure.
pub(crate) struct SaturationEnds {
    pub(crate) liquid: Quick,
    pub(crate) vapor: Quick,
    pub(crate) zero: ReferenceState,
    /// Those of both points; what holds for the refrigerant at any point is not repeated.
    pub(crate) warnings: Vec<Warning>,
}

impl Refrigerant {
    /// Both ends from curves; `None` where these do not cover them.
    pub(crate) fn quick_ends(
        &self,
        pressure: Pressure,
        zero: ReferenceState,
    ) -> Option<SaturationEnds> {
        let end = |quality| self.quick(Given::PressureQuality(pressure, quality), zero);
        let (liquid, vapor) = (end(0.0)?, end(1.0)?);
        let mut warnings = Vec::new();
        // over two liquids no dew point is, whose liquid is the first drop
        let parted = || {
            let density = liquid.density / self.0.molar_mass;
            is_parted(
                &self.fixed(),
                liquid.temperature,
                density,
                pressure.in_pascal(),
            )
        };
        self.warn_at(liquid.temperature, parted, &mut warnings);
        self.warn_at(vapor.temperature, || false, &mut warnings);
        warnings.dedup();
        Some(SaturationEnds {
            liquid,
            vapor,
            zero: self.shift(zero).ok()?.zero,
            warnings,
        })
    }

    /// The pressure at the outlet of an evaporator and the state at its inlet, of the enthalpy
    /// given, J/kg, for a mean of inlet and dew temperature; the inlet's pressure is higher by
    /// `drop`, Pa.
    ///
    /// With the inlet's temperature T the outlet's dew temperature is 2 T_mean - T, so that the
    /// inlet's pressure is a function of T: one run of Newton's method finds both. `None` for a pure
    /// refrigerant, and where curves do not cover it or the inlet is not in two phases.
    pub(crate) fn quick_inlet_mean(
        &self,
        mean: Temperature,
        enthalpy: f64,
        drop: f64,
        zero: ReferenceState,
    ) -> Option<(Pressure, Quick)> {
        if self.is_pure() {
            return None;
        }
        let twice = 2.0 * mean.in_kelvin();
        let shift = self.shift(zero).ok()?;
        let molar = (enthalpy - shift.enthalpy) * self.0.molar_mass;
        let curve = self.wanted(Branch::Dew)?;
        let dew = |temperature| curve.pressure(temperature, || self.line(Branch::Dew));
        let (mut outlet, mut weight) = (0.5 * twice, 0.0);
        for _ in 0..2 {
            let pressure = dew(outlet)? + drop;
            let (liquid, _) = self.sides_at_pressure(Branch::Bubble, pressure)?;
            let (_, vapor) = self.sides_at_pressure(Branch::Dew, pressure)?;
            weight = (molar - liquid.enthalpy) / (vapor.enthalpy - liquid.enthalpy);
            if !(weight > 0.0 && weight < 1.0) {
                return None;
            }
            // both temperatures rise nearly alike with pressure
            let inlet = liquid.temperature + weight * (vapor.temperature - liquid.temperature);
            outlet += 0.5 * (twice - inlet - outlet);
        }
        let pressure = dew(outlet)? + drop;
        let bubble = self.at_pressure(Branch::Bubble, pressure)?;
        let end = self.at_pressure(Branch::Dew, pressure)?;
        let start = between_lines(&self.0.x, &bubble, &end, weight);
        let sought = |inlet: f64| {
            let outlet = twice - inlet;
            let pressure = dew(outlet)? + drop;
            let rise = (dew(outlet + STEP)? - dew(outlet - STEP)?) / (2.0 * STEP);
            let along = (pressure, -inlet * rise / pressure);
            Some(Sought::PressureAlong(along, Property::Enthalpy, molar))
        };
        let found = filled_along(&self.0.mixture, &self.0.x, sought, &start)?;
        let outlet = dew(twice - found.split.pair.temperature)?;
        let inlet = self.quick_split(&found, outlet + drop, &shift);
        Some((Pressure::pascal(outlet), inlet))
    }
}
