//! By pressure and enthalpy, entropy or density.

use super::{BlendSolver, SLACK, TOLERANCE};
use crate::equilibrium::split::Fixed;
use crate::equilibrium::{EquilibriumState, Property};
use crate::error::Result;
use crate::helmholtz::Isotherm;
use crate::numeric::bracketed_root;
use crate::state::density_between;

impl BlendSolver<'_> {
    pub(super) fn on_isobar(
        &self,
        pressure: f64,
        target: f64,
        property: Property,
    ) -> Result<EquilibriumState> {
        self.check_pressure(pressure)?;
        let fixed = Fixed::Pressure(pressure);
        let at_once = self.ends_at_once(pressure);
        // a line that is hard to find costs more than the phases at some temperatures
        if at_once.is_none()
            && let Some(found) = self.bracketed(fixed, property, target)
        {
            return Ok(found);
        }
        let ends = at_once.map_or_else(|| self.ends(fixed), Ok);
        let error = |state: &EquilibriumState| property.of(state) - target;
        if let Ok((bubble, dew)) = &ends {
            let ends = self.as_ends(bubble, dew, property, target);
            let met = |end| property.is_met(&self.two(end), target);
            if self.known.is_some() && (met(&ends.first) || met(&ends.last)) {
                // so near to a line that its own error decides
                return self.without_known().on_isobar(pressure, target, property);
            }
            if let Some(found) = self.inside(&ends, Fixed::Pressure(pressure)) {
                return found;
            }
            // one phase beside the line: the density lies beyond that of the line
            let rising = property != Property::Density;
            let cold = (ends.errors.0 > 0.0) == rising;
            return if cold {
                self.one_phase_from_line(
                    error,
                    (self.limits.coldest * (1.0 - SLACK), bubble.temperature),
                    |t, iso| match bubble.liquids {
                        Some(_) => self.by_stability(t, pressure),
                        None => self
                            .compressed(iso, t, pressure)
                            .map(|density| self.single(t, density, true)),
                    },
                )
            } else {
                self.one_phase_from_line(
                    error,
                    (dew.temperature, self.limits.hottest * (1.0 + SLACK)),
                    |t, iso| {
                        let ideal = pressure / iso.rt;
                        let high = dew.vapor_density * (1.0 + SLACK);
                        density_between(iso, pressure, 0.2 * ideal, high, ideal)
                            .map(|root| self.single(t, root.density, false))
                    },
                )
            };
        }
        Err(self.nothing())
    }

    fn one_phase_from_line(
        &self,
        error: impl Fn(&EquilibriumState) -> f64,
        (low, high): (f64, f64),
        at: impl Fn(f64, &Isotherm<'_>) -> Result<EquilibriumState>,
    ) -> Result<EquilibriumState> {
        let at = |temperature: f64| at(temperature, &self.fixed.isotherm(temperature));
        let root = bracketed_root(
            |temperature| Ok(error(&at(temperature)?)),
            low,
            high,
            TOLERANCE,
        )
        .map_err(|_| self.nothing())?;
        at(root)
    }

    fn without_known(&self) -> Self {
        let (mixture, z) = (self.mixture, self.z);
        Self::new(mixture, z, self.line, self.limits, None)
    }
}
