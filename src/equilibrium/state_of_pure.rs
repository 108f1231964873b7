//! The state of a pure refrigerant from two of temperature, pressure, density, enthalpy, entropy
//! and quality: all fifteen pairs.
//!
//! On an isobar h and s rise with T (cp > 0), on an isochore s does (cv > 0), and at constant h
//! s falls with p (ds/dp = -v/T): those pairs have one answer, found in a bracket. The others may
//! have several; all are returned.

use super::bubble_dew::{Branch, PhasePair};
use super::pure::{Coexistence, saturation_at_pressure, saturation_at_temperature};
use super::{EquilibriumState, KnownLines, MolarGiven, Phase, Phases, Property};
use crate::equilibrium::one_phase::no_density;
use crate::error::{Error, RangeUnit, Reason, Result, reasons};
use crate::helmholtz::{FixedComposition, Isotherm, PureEquation};
use crate::numeric::roots_on;
use crate::state::{Caloric, SinglePhase, by_pressure, density_between, highest_density};

/// Step in density of a walk up an isotherm, and its end in densities of its start.
const STRIDE: f64 = 1.02;
const DENSEST: f64 = 6.0;
/// Points of a scan for several answers.
const SCAN: usize = 120;
/// Relative overstepping of a limit that is rounding, not a wish.
const SLACK: f64 = 1e-9;
/// Relative width at which a bracketed search stops.
const TOLERANCE: f64 = 1e-14;

/// All states of a pure refrigerant with the two given properties, in molar SI.
///
/// # Errors
/// [`Error::OutOfRange`] where a given temperature, pressure or quality lies outside the
/// equation's range; [`Error::NoState`] where nothing within the range has both properties.
pub fn states_of_pure(
    fixed: &FixedComposition<'_>,
    given: MolarGiven,
) -> Result<Vec<EquilibriumState>> {
    states_beside_line(fixed, given, None)
}

/// As [`states_of_pure`]; the saturation line is solved for where it is not `known`.
///
/// # Errors
/// As [`states_of_pure`].
pub fn states_beside_line(
    fixed: &FixedComposition<'_>,
    given: MolarGiven,
    known: Option<&dyn KnownLines>,
) -> Result<Vec<EquilibriumState>> {
    let solver = Solver::new(fixed, known);
    use MolarGiven::*;
    let mut states = match given {
        TemperaturePressure(t, p) => vec![solver.at_temperature_pressure(t, p)?],
        TemperatureDensity(t, rho) => vec![solver.at_temperature_density(t, rho)?],
        TemperatureQuality(t, q) => vec![solver.at_temperature_quality(t, q)?],
        PressureQuality(p, q) => vec![solver.at_pressure_quality(p, q)?],
        TemperatureEnthalpy(t, h) => solver.on_isotherm(t, h, Property::Enthalpy)?,
        TemperatureEntropy(t, s) => solver.on_isotherm(t, s, Property::Entropy)?,
        PressureDensity(p, rho) => solver.on_isobar(p, rho, Property::Density)?,
        PressureEnthalpy(p, h) => solver.on_isobar(p, h, Property::Enthalpy)?,
        PressureEntropy(p, s) => solver.on_isobar(p, s, Property::Entropy)?,
        DensityEnthalpy(rho, h) => solver.on_isochore(rho, h, Property::Enthalpy)?,
        DensityEntropy(rho, s) => solver.on_isochore(rho, s, Property::Entropy)?,
        DensityQuality(rho, q) => solver.on_quality(q, rho, Property::Density)?,
        EnthalpyQuality(h, q) => solver.on_quality(q, h, Property::Enthalpy)?,
        EntropyQuality(s, q) => solver.on_quality(q, s, Property::Entropy)?,
        EnthalpyEntropy(h, s) => solver.at_enthalpy_entropy(h, s),
    };
    states.retain(|state| given.is_met(state));
    if states.is_empty() {
        return Err(Error::NoState {
            reason: Reason::of(
                reasons::REASON_NOTHING_WITHIN_RANGE,
                "refrigerant",
                &solver.equation.record.designation,
            ),
            hint: format!(
                "the equation holds from {} to {} K and up to {} Pa",
                solver.coldest, solver.hottest, solver.highest_pressure
            ),
        });
    }
    Ok(states)
}

/// The densest state up to which the pressure rises with density, from `from` mol/m3 on.
fn rising_to(isotherm: &Isotherm<'_>, from: f64) -> f64 {
    let mut density = from * STRIDE;
    while isotherm.pressure_slope(density * STRIDE).1 > 0.0 && density < DENSEST * from {
        density *= STRIDE;
    }
    density
}

fn coexistence(pair: &PhasePair) -> Coexistence {
    Coexistence {
        temperature: pair.temperature,
        pressure: pair.pressure,
        liquid_density: pair.liquid_density,
        vapor_density: pair.vapor_density,
        steps: pair.steps,
        residual: pair.residual,
    }
}

struct Solver<'a> {
    known: Option<&'a dyn KnownLines>,
    fixed: &'a FixedComposition<'a>,
    equation: &'a PureEquation,
    coldest: f64,
    hottest: f64,
    highest_pressure: f64,
    critical_temperature: f64,
    critical_pressure: f64,
}

impl<'a> Solver<'a> {
    fn new(fixed: &'a FixedComposition<'a>, known: Option<&'a dyn KnownLines>) -> Self {
        let equation = &fixed.mixture.components()[0];
        let critical = equation.critical;
        let range = &equation.record.range;
        let critical_pressure = fixed
            .isotherm(critical.temperature)
            .pressure(critical.density);
        Self {
            known,
            fixed,
            equation,
            coldest: range.temperature_min_k,
            hottest: range.temperature_max_k,
            // A stated range that ends below the equation's own critical point is met by the line.
            highest_pressure: range.pressure_max_pa.max(critical_pressure),
            critical_temperature: critical.temperature,
            critical_pressure,
        }
    }

    fn line_at_temperature(&self, temperature: f64) -> Result<Coexistence> {
        let known = self.known;
        match known.and_then(|known| known.at_temperature(Branch::Bubble, temperature)) {
            Some(pair) => Ok(coexistence(&pair)),
            None => saturation_at_temperature(self.fixed, temperature, None),
        }
    }

    fn line_at_pressure(&self, pressure: f64) -> Result<Coexistence> {
        let known = self.known;
        match known.and_then(|known| known.at_pressure(Branch::Bubble, pressure)) {
            Some(pair) => Ok(coexistence(&pair)),
            None => saturation_at_pressure(self.fixed, pressure, None),
        }
    }

    fn check(&self, quantity: &'static str, value: f64, limits: (f64, f64)) -> Result<()> {
        let (low, high) = limits;
        let positive = value > 0.0 || quantity == "quality";
        // a limit met by a conversion of units is met
        if positive && value >= low * (1.0 - SLACK) && value <= high * (1.0 + SLACK) {
            return Ok(());
        }
        let unit = match quantity {
            "temperature" => RangeUnit::Kelvin,
            "pressure" => RangeUnit::Pascal,
            "density" => RangeUnit::MolePerCubicMetre,
            _ => RangeUnit::None,
        };
        Err(Error::OutOfRange {
            quantity,
            value,
            low,
            high,
            unit,
            range: Reason::of(
                reasons::RANGE_EQUATION,
                "refrigerant",
                &self.equation.record.designation,
            ),
        })
    }

    fn check_temperature(&self, temperature: f64) -> Result<()> {
        self.check("temperature", temperature, (self.coldest, self.hottest))
    }

    fn check_pressure(&self, pressure: f64) -> Result<()> {
        self.check("pressure", pressure, (0.0, self.highest_pressure))
    }

    fn single(&self, temperature: f64, density: f64, vapor_side: bool) -> EquilibriumState {
        let phase = SinglePhase::at_density(self.fixed, temperature, density);
        let hot = temperature > self.critical_temperature;
        let dense = phase.pressure > self.critical_pressure;
        let name = match (hot, dense) {
            (true, true) => Phase::Supercritical,
            (true, false) => Phase::Vapor,
            (false, true) => Phase::Liquid,
            (false, false) if vapor_side => Phase::Vapor,
            (false, false) => Phase::Liquid,
        };
        EquilibriumState::single(phase, name)
    }

    fn mix(&self, at: &Coexistence, vapor_fraction: f64) -> EquilibriumState {
        EquilibriumState {
            parted: false,
            temperature: at.temperature,
            pressure: at.pressure,
            phases: Phases::Two {
                liquid: SinglePhase::at_density(self.fixed, at.temperature, at.liquid_density),
                vapor: SinglePhase::at_density(self.fixed, at.temperature, at.vapor_density),
                vapor_fraction,
            },
        }
    }

    fn at_temperature_pressure(&self, temperature: f64, pressure: f64) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        self.check_pressure(pressure)?;
        let isotherm = self.fixed.isotherm(temperature);
        let ideal = pressure / isotherm.rt;
        if temperature < self.critical_temperature {
            let line = self.line_at_temperature(temperature)?;
            if pressure <= line.pressure {
                let high = line.vapor_density * (1.0 + 1e-9);
                let start = ideal * line.vapor_density / (line.pressure / isotherm.rt);
                let root = density_between(&isotherm, pressure, 0.2 * ideal, high, start)?;
                return Ok(self.single(temperature, root.density, true));
            }
            let low = line.liquid_density * (1.0 - 1e-9);
            let density = self.compressed(&isotherm, pressure, low)?;
            return Ok(self.single(temperature, density, false));
        }
        // Above the critical temperature there is one root; the gas is never less dense than
        // a fifth of ideal in range.
        let low = 0.2 * ideal.min(self.equation.critical.density);
        let high = self.ceiling(&isotherm, pressure, self.equation.critical.density)?;
        let root = density_between(&isotherm, pressure, low, high, ideal)?;
        Ok(self.single(temperature, root.density, true))
    }

    fn ceiling(&self, isotherm: &Isotherm<'_>, pressure: f64, from: f64) -> Result<f64> {
        highest_density(self.fixed, isotherm, pressure, from).ok_or_else(|| no_density(pressure))
    }

    fn compressed(&self, isotherm: &Isotherm<'_>, pressure: f64, low: f64) -> Result<f64> {
        let high = self.ceiling(isotherm, pressure, low)?;
        let (value, slope) = isotherm.pressure_slope(low);
        let start = low * (1.0 + ((pressure - value) / slope).clamp(0.0, 0.03));
        Ok(density_between(isotherm, pressure, low, high, start)?.density)
    }

    fn at_temperature_density(&self, temperature: f64, density: f64) -> Result<EquilibriumState> {
        self.check_temperature(temperature)?;
        self.check("density", density, (0.0, f64::INFINITY))?;
        let state = if temperature < self.critical_temperature {
            let line = self.line_at_temperature(temperature)?;
            if density > line.vapor_density && density < line.liquid_density {
                let fraction = (1.0 / density - 1.0 / line.liquid_density)
                    / (1.0 / line.vapor_density - 1.0 / line.liquid_density);
                return Ok(self.mix(&line, fraction));
            }
            self.single(temperature, density, density <= line.vapor_density)
        } else {
            self.single(
                temperature,
                density,
                density < self.equation.critical.density,
            )
        };
        self.check_pressure(state.pressure)?;
        Ok(state)
    }

    fn check_quality(&self, quality: f64) -> Result<()> {
        self.check("quality", quality, (0.0, 1.0))
    }

    fn at_temperature_quality(&self, temperature: f64, quality: f64) -> Result<EquilibriumState> {
        self.check_quality(quality)?;
        let line = self.line_at_temperature(temperature)?;
        Ok(self.mix(&line, quality))
    }

    fn at_pressure_quality(&self, pressure: f64, quality: f64) -> Result<EquilibriumState> {
        self.check_quality(quality)?;
        let line = self.line_at_pressure(pressure)?;
        Ok(self.mix(&line, quality))
    }

    /// Several answers along an isotherm, by density.
    fn on_isotherm(
        &self,
        temperature: f64,
        target: f64,
        property: Property,
    ) -> Result<Vec<EquilibriumState>> {
        self.check_temperature(temperature)?;
        let isotherm = self.fixed.isotherm(temperature);
        let from = if temperature < self.critical_temperature {
            self.line_at_temperature(temperature)?.liquid_density
        } else {
            self.equation.critical.density
        };
        let densest = match highest_density(self.fixed, &isotherm, self.highest_pressure, from) {
            Some(high) => {
                density_between(&isotherm, self.highest_pressure, from, high, high)?.density
            }
            // The equation turns before its highest pressure (helium's solid): as far as the
            // pressure rises.
            None => rising_to(&isotherm, from),
        };
        let thinnest = 1e-3 / (self.fixed.gas_constant * temperature);
        let mut grid: Vec<f64> = (0..=SCAN)
            .map(|k| thinnest * (densest / thinnest).powf(k as f64 / SCAN as f64))
            .collect();
        if temperature < self.critical_temperature {
            let line = self.line_at_temperature(temperature)?;
            grid.extend([line.vapor_density, line.liquid_density]);
        }
        // the liquid is thin on a logarithmic scale, and h may turn there
        grid.extend((1..60).map(|k| from + (densest - from) * f64::from(k) / 60.0));
        grid.sort_by(f64::total_cmp);
        let at = |density: f64| self.at_temperature_density(temperature, density);
        let roots = roots_on(
            |density| Ok(property.of(&at(density)?) - target),
            &grid,
            TOLERANCE,
        );
        roots.into_iter().map(at).collect()
    }

    /// Along an isobar: one answer within each of liquid, two phases and vapour.
    fn on_isobar(
        &self,
        pressure: f64,
        target: f64,
        property: Property,
    ) -> Result<Vec<EquilibriumState>> {
        self.check_pressure(pressure)?;
        let at = |temperature: f64| self.at_temperature_pressure(temperature, pressure);
        let error = |state: &EquilibriumState| property.of(state) - target;
        let mut states = Vec::new();
        let (mut cold_end, mut hot_start) = (None, self.coldest);
        if pressure < self.critical_pressure {
            match self.line_at_pressure(pressure) {
                Ok(line) => {
                    let liquid = self.mix(&line, 0.0);
                    let vapor = self.mix(&line, 1.0);
                    let met = |state| property.is_met(state, target);
                    if self.known.is_some() && (met(&liquid) || met(&vapor)) {
                        // so near to the line that its own error decides
                        return Solver::new(self.fixed, None).on_isobar(pressure, target, property);
                    }
                    let (l, v) = (error(&liquid), error(&vapor));
                    if l == 0.0 || v == 0.0 || l * v < 0.0 {
                        // h and s are linear in the vapour fraction, and so is 1/rho
                        let fraction = if property == Property::Density {
                            let (l, v) = (property.of(&liquid), property.of(&vapor));
                            (1.0 / target - 1.0 / l) / (1.0 / v - 1.0 / l)
                        } else {
                            l / (l - v)
                        };
                        return Ok(vec![self.mix(&line, fraction)]);
                    }
                    if let Some(state) =
                        self.one_phase_from_line(&line, &liquid, &vapor, target, property)
                    {
                        return Ok(vec![state]);
                    }
                    cold_end = Some((line.temperature, line.liquid_density));
                    hot_start = line.temperature;
                }
                // below the pressure of the lowest temperature there is vapour alone
                Err(Error::OutOfRange { .. }) => {}
                Err(other) => return Err(other),
            }
        } else {
            cold_end = Some((self.hottest, 0.0));
            hot_start = self.hottest;
        }
        let mut search = |from: f64, to: f64| {
            if to <= from {
                return;
            }
            let grid: Vec<f64> = (0..=24)
                .map(|k| from + (to - from) * f64::from(k) / 24.0)
                .collect();
            let roots = roots_on(|temperature| Ok(error(&at(temperature)?)), &grid, TOLERANCE);
            states.extend(
                roots
                    .into_iter()
                    .filter_map(|temperature| at(temperature).ok())
                    .filter(|state| property.is_met(state, target)),
            );
        };
        if let Some((end, _)) = cold_end {
            search(self.coldest, end * (1.0 - 1e-14));
        }
        search(hot_start * (1.0 + 1e-14), self.hottest);
        Ok(states)
    }

    /// One phase beside the saturation line by Newton's method from the line; `None` where it does
    /// not settle within the range and on the line's own side.
    fn one_phase_from_line(
        &self,
        line: &Coexistence,
        liquid: &EquilibriumState,
        vapor: &EquilibriumState,
        target: f64,
        property: Property,
    ) -> Option<EquilibriumState> {
        let caloric = match property {
            Property::Enthalpy => Caloric::Enthalpy(target),
            Property::Entropy => Caloric::Entropy(target),
            Property::Density => return None,
        };
        let vapor_side = target > property.of(vapor);
        if !vapor_side && target > property.of(liquid) {
            return None;
        }
        let density = if vapor_side {
            line.vapor_density
        } else {
            line.liquid_density
        };
        let start = (line.temperature, density);
        let found = by_pressure(self.fixed, line.pressure, caloric, start)?;
        let beyond = if vapor_side {
            found.temperature >= line.temperature && found.density <= line.vapor_density
        } else {
            found.temperature <= line.temperature && found.temperature >= self.coldest
        };
        (beyond && found.temperature <= self.hottest)
            .then(|| self.single(found.temperature, found.density, vapor_side))
    }

    /// Along an isochore, by temperature.
    fn on_isochore(
        &self,
        density: f64,
        target: f64,
        property: Property,
    ) -> Result<Vec<EquilibriumState>> {
        let at = |temperature: f64| self.at_temperature_density(temperature, density);
        let grid: Vec<f64> = (0..=SCAN)
            .map(|k| self.coldest + (self.hottest - self.coldest) * k as f64 / SCAN as f64)
            .collect();
        let roots = roots_on(
            |temperature| Ok(property.of(&at(temperature)?) - target),
            &grid,
            TOLERANCE,
        );
        roots.into_iter().map(at).collect()
    }

    /// Along a line of constant quality, by temperature.
    fn on_quality(
        &self,
        quality: f64,
        target: f64,
        property: Property,
    ) -> Result<Vec<EquilibriumState>> {
        self.check_quality(quality)?;
        let top = self.critical_temperature * (1.0 - 1e-7);
        // closer together towards the critical point, where the line turns
        let grid: Vec<f64> = (0..=SCAN)
            .map(|k| {
                let left = 1.0 - k as f64 / SCAN as f64;
                top - (top - self.coldest) * left * left
            })
            .collect();
        let at = |temperature: f64| self.at_temperature_quality(temperature, quality);
        let roots = roots_on(
            |temperature| Ok(property.of(&at(temperature)?) - target),
            &grid,
            TOLERANCE,
        );
        roots.into_iter().map(at).collect()
    }

    /// At constant h the entropy falls with pressure: ds/dp = -v/T.
    fn at_enthalpy_entropy(&self, enthalpy: f64, entropy: f64) -> Vec<EquilibriumState> {
        let at = |log_pressure: f64| -> Result<EquilibriumState> {
            let states = self.on_isobar(log_pressure.exp(), enthalpy, Property::Enthalpy)?;
            states.into_iter().next().ok_or_else(|| Error::NoState {
                reason: reasons::REASON_NO_STATE_OF_ENTHALPY.into(),
                hint: String::new(),
            })
        };
        let (low, high) = (1e-3_f64.ln(), self.highest_pressure.ln() - 1e-12);
        let grid: Vec<f64> = (0..=SCAN)
            .map(|k| low + (high - low) * k as f64 / SCAN as f64)
            .collect();
        let roots = roots_on(|p| Ok(at(p)?.entropy() - entropy), &grid, TOLERANCE);
        roots.into_iter().filter_map(|root| at(root).ok()).collect()
    }
}
