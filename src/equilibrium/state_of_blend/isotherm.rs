//! By temperature and density or entropy.

use super::{BlendSolver, TOLERANCE};
use crate::equilibrium::bubble_dew::PhasePair;
use crate::equilibrium::line::AtTemperature;
use crate::equilibrium::split::Fixed;
use crate::equilibrium::{EquilibriumState, Property};
use crate::error::{RangeUnit, Result};
use crate::numeric::roots_on;

impl BlendSolver<'_> {
    pub(super) fn at_temperature_density(
        &self,
        temperature: f64,
        density: f64,
    ) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        if !(density > 0.0 && density.is_finite()) {
            return Err(self.out_of_range(
                "density",
                density,
                (0.0, f64::INFINITY),
                RangeUnit::MolePerCubicMetre,
            ));
        }
        let Some(lines) = self.all_lines(temperature) else {
            return self.on_isotherm(temperature, density, Property::Density);
        };
        // of two liquids the density rises with pressure as that of one
        let parts = |bubble: PhasePair| {
            bubble
                .liquids
                .is_some_and(|_| density >= bubble.liquid_density)
        };
        if lines.bubble.is_some_and(parts) {
            return self.on_isotherm(temperature, density, Property::Density);
        }
        let upper = lines
            .bubble
            .map(|bubble| bubble.liquid_density)
            .or(lines.retrograde.map(|upper| upper.vapor_density));
        if let (Some(dew), Some(edge)) = (lines.dew, upper)
            && density > dew.vapor_density
            && density < edge
        {
            return self.on_isotherm(temperature, density, Property::Density);
        }
        let dense = upper.map_or(density > self.fixed.reducing_density, |edge| {
            density >= edge
        });
        let state = self.single(temperature, density, dense);
        self.check_pressure(state.pressure)?;
        Ok(state)
    }

    pub(super) fn on_isotherm(
        &self,
        temperature: f64,
        target: f64,
        property: Property,
    ) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        let Some(lines) = self.all_lines(temperature) else {
            return self
                .bracketed(Fixed::Temperature(temperature), property, target)
                .ok_or_else(|| self.nothing());
        };
        self.on_isotherm_of(&lines, temperature, target, property)
    }

    /// As [`BlendSolver::on_isotherm`], with the lines at that temperature.
    pub(super) fn on_isotherm_of(
        &self,
        lines: &AtTemperature,
        temperature: f64,
        target: f64,
        property: Property,
    ) -> Result<EquilibriumState> {
        if let (Some(bubble), Some(dew)) = (&lines.bubble, &lines.dew) {
            let ends = self.as_ends(bubble, dew, property, target);
            if let Some(found) = self.inside(&ends, Fixed::Temperature(temperature)) {
                return found;
            }
        }
        let isotherm = self.fixed.isotherm(temperature);
        let (low, high) = (LOWEST.ln(), self.limits.highest_pressure.ln());
        // a grid of the ends of one phase, that the search stays within one kind of state
        let mut grid = vec![low, high];
        for pair in [lines.bubble, lines.dew, lines.retrograde]
            .into_iter()
            .flatten()
        {
            grid.extend([pair.pressure.ln() - 1e-13, pair.pressure.ln() + 1e-13]);
        }
        grid.sort_by(f64::total_cmp);
        let at = |log: f64| self.on_lines(lines, &isotherm, temperature, log.exp());
        let roots = roots_on(|log| Ok(property.of(&at(log)?) - target), &grid, TOLERANCE);
        roots
            .first()
            .map_or_else(|| Err(self.nothing()), |&root| at(root))
    }

    /// The lines at a temperature, where none is lost.
    pub(super) fn all_lines(&self, temperature: f64) -> Option<AtTemperature> {
        let lines = self.lines(temperature).ok()?;
        lines.lost.is_none().then_some(lines)
    }
}

/// Lowest pressure that is looked at, Pa.
const LOWEST: f64 = 1e-2;
