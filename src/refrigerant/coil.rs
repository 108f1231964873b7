//! What the coils of a cycle are asked for in loops: both ends at a pressure, and the pressure at
//! which the mean of inlet and dew temperature is a given one.

use super::Refrigerant;
use super::quick::Quick;
use super::reference_state::ReferenceState;
use super::state::Given;
use crate::Warning;
use crate::equilibrium::Property;
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::split::{Sought, filled_along};
use crate::units::{Pressure, Temperature};

/// Half a step of the slope of the dew line, K.
const STEP: f64 = 1e-3;
/// Steps that find the outlet from starts alone, and how near, K.
const STARTING: usize = 4;
const STARTED: f64 = 1e-5;

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
        // curves end where a liquid parts
        self.warn_at(liquid.temperature, None, &mut warnings);
        self.warn_at(vapor.temperature, None, &mut warnings);
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
        // both temperatures rise nearly alike with pressure
        let (mut outlet, mut slope) = (0.5 * twice, 2.0);
        let mut before: Option<(f64, f64)> = None;
        let mut start = None;
        for _ in 0..STARTING {
            let ends = self.line_ends(dew(outlet)? + drop)?;
            if !(ends[0].enthalpy < molar && molar < ends[1].enthalpy) {
                return None;
            }
            let near = self.start_between(&ends, (Property::Enthalpy, molar));
            let miss = twice - near.pair.temperature - outlet;
            start = Some(near);
            if miss.abs() < STARTED {
                break;
            }
            if let Some((before, missed)) = before {
                slope = (missed - miss) / (outlet - before);
            }
            before = Some((outlet, miss));
            outlet += miss / slope;
        }
        let sought = |inlet: f64| {
            let outlet = twice - inlet;
            let pressure = dew(outlet)? + drop;
            let rise = (dew(outlet + STEP)? - dew(outlet - STEP)?) / (2.0 * STEP);
            let along = (pressure, -inlet * rise / pressure);
            Some(Sought::PressureAlong(along, Property::Enthalpy, molar))
        };
        let found = filled_along(&self.0.mixture, &self.0.x, sought, &start?)?;
        let outlet = dew(twice - found.split.pair.temperature)?;
        let inlet = self.quick_split(&found, outlet + drop, &shift);
        Some((Pressure::pascal(outlet), inlet))
    }
}
