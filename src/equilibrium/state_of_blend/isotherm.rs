//! By temperature and density or entropy.

use super::{BlendSolver, TOLERANCE};
use crate::equilibrium::split::Sought;
use crate::equilibrium::{EquilibriumState, Property};
use crate::error::Result;
use crate::numeric::roots_on;

impl BlendSolver<'_> {
    pub(super) fn at_temperature_density(
        &self,
        temperature: f64,
        density: f64,
    ) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        if !(density > 0.0 && density.is_finite()) {
            return Err(self.out_of_range("density", density, (0.0, f64::INFINITY), "mol/m3"));
        }
        let lines = self.lines(temperature)?;
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
        let lines = self.lines(temperature)?;
        if let (Some(bubble), Some(dew)) = (&lines.bubble, &lines.dew) {
            let ends = self.as_ends(bubble, dew, property, target);
            let sought = |quality| Sought::TemperatureQuality(temperature, quality);
            if let Some(found) = self.inside(&ends, sought) {
                return found;
            }
        }
        let isotherm = self.fixed.isotherm(temperature);
        let (low, high) = (1e-2_f64.ln(), self.limits.highest_pressure.ln());
        // a grid of the ends of one phase, that the search stays within one kind of state
        let mut grid = vec![low, high];
        for pair in [lines.bubble, lines.dew, lines.retrograde]
            .into_iter()
            .flatten()
        {
            grid.extend([pair.pressure.ln() - 1e-13, pair.pressure.ln() + 1e-13]);
        }
        grid.sort_by(f64::total_cmp);
        let at = |log: f64| self.on_lines(&lines, &isotherm, temperature, log.exp());
        let roots = roots_on(|log| Ok(property.of(&at(log)?) - target), &grid, TOLERANCE);
        roots
            .first()
            .map_or_else(|| Err(self.nothing()), |&root| at(root))
    }
}
