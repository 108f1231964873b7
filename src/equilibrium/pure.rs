//! The saturation line of a pure refrigerant.
//!
//! Two densities at which pressure and Gibbs energy agree, by Newton's method in
//! (ln rho_liquid, ln rho_vapor). With P = p/(R T) = rho (1 + d), g = ln rho + a + d and
//! w = 1 + d + dd, both dP = rho w dln(rho) and dg = w dln(rho), so that the 2x2 system is solved
//! by hand:
//!
//! ```text
//! y_l = (P_v - P_l - rho_v (g_v - g_l)) / (rho_l - rho_v)     y_v = y_l - (g_v - g_l)
//! dln(rho_l) = y_l / w_l                                      dln(rho_v) = y_v / w_v
//! ```
//!
//! At low pressure P_l cancels to rounding; the saturation pressure is read from the vapour.

use super::critical::Spinodal;
use crate::error::{Error, RangeUnit, Reason, Result, reasons};
use crate::helmholtz::{FixedComposition, Isotherm, PureEquation};

/// Liquid and vapour in equilibrium.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coexistence {
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// Density of the saturated liquid, mol/m3.
    pub liquid_density: f64,
    /// Density of the saturated vapour, mol/m3.
    pub vapor_density: f64,
    /// Steps taken.
    pub steps: usize,
    /// Largest of the last relative changes of the two densities.
    pub residual: f64,
}

/// Starting densities, mol/m3: (liquid, vapour).
pub type Start = (f64, f64);

const MOST_STEPS: usize = 60;

/// Saturation at a temperature in K.
///
/// Tries `start`, then the ancillary equations, then the pressures between the two spinodals.
///
/// # Errors
/// [`Error::OutOfRange`] below the equation's lowest temperature or above its critical
/// temperature; [`Error::NotConverged`] when no pair of distinct densities was found.
pub fn saturation_at_temperature(
    fixed: &FixedComposition<'_>,
    temperature: f64,
    start: Option<Start>,
) -> Result<Coexistence> {
    let equation = &fixed.mixture.components()[0];
    check_temperature(equation, temperature)?;
    let critical = equation.critical;
    let isotherm = fixed.isotherm(temperature);
    if temperature >= critical.temperature {
        return Ok(Coexistence {
            temperature,
            pressure: isotherm.pressure(critical.density),
            liquid_density: critical.density,
            vapor_density: critical.density,
            steps: 0,
            residual: 0.0,
        });
    }
    if let Some(start) = start
        && let Some(found) = newton(&isotherm, temperature, start)
    {
        return Ok(found);
    }
    let ancillary = (
        equation.ancillary.liquid_density(temperature),
        equation.ancillary.vapor_density(temperature),
    );
    // Within 1 % of the critical temperature the ancillaries may be too coarse to part the roots.
    if let Some(found) = newton(&isotherm, temperature, ancillary) {
        return Ok(found);
    }
    equal_areas(&isotherm, temperature, critical.density)
        .and_then(|start| newton(&isotherm, temperature, start))
        .ok_or(Error::NotConverged {
            question: reasons::QUESTION_SATURATION_BY_TEMPERATURE,
            steps: MOST_STEPS,
            residual: f64::NAN,
        })
}

/// Saturation at a pressure in Pa, by Newton's method in ln p against 1/T with the
/// Clausius-Clapeyron slope dp/dT = (s_v - s_l) / (v_v - v_l).
///
/// # Errors
/// [`Error::OutOfRange`] outside the pressures of the saturation line; [`Error::NotConverged`].
pub fn saturation_at_pressure(
    fixed: &FixedComposition<'_>,
    pressure: f64,
    start: Option<f64>,
) -> Result<Coexistence> {
    let equation = &fixed.mixture.components()[0];
    let critical = equation.critical;
    let low = equation.record.range.temperature_min_k;
    let top = fixed
        .isotherm(critical.temperature)
        .pressure(critical.density);
    let out_of_range = |bottom: f64| Error::OutOfRange {
        quantity: "pressure",
        value: pressure,
        low: bottom,
        high: top,
        unit: RangeUnit::Pascal,
        range: Reason::of(
            reasons::RANGE_SATURATION_LINE,
            "refrigerant",
            &equation.record.designation,
        ),
    };
    if !pressure.is_finite() || pressure > top || pressure <= 0.0 {
        let bottom = saturation_at_temperature(fixed, low, None)?.pressure;
        return Err(out_of_range(bottom));
    }
    if pressure == top {
        return saturation_at_temperature(fixed, critical.temperature, None);
    }
    let mut temperature = start.unwrap_or_else(|| ancillary_temperature(equation, pressure));
    temperature = temperature.clamp(low, critical.temperature * (1.0 - 1e-9));
    // The bracket tightens with each pressure seen.
    let (mut coldest, mut hottest) = (low, critical.temperature);
    let mut densities = None;
    let mut steps = 0;
    for _ in 0..MOST_STEPS {
        let found = saturation_at_temperature(fixed, temperature, densities)?;
        steps += found.steps;
        densities = Some((found.liquid_density, found.vapor_density));
        let error = (pressure / found.pressure).ln();
        if error > 0.0 {
            coldest = temperature;
        } else {
            hottest = temperature;
        }
        let slope = log_pressure_slope(fixed, &found);
        // in 1/T the line is nearly straight: d(1/T) = -dT/T^2
        let next = 1.0 / (1.0 / temperature - error / slope / (temperature * temperature));
        if temperature == low && error < 0.0 {
            if error > -1e-12 {
                return Ok(Coexistence { steps, ..found });
            }
            return Err(out_of_range(found.pressure));
        }
        let change = (next / temperature - 1.0).abs();
        if change < 1e-13 || error == 0.0 || hottest - coldest < 2e-15 * hottest {
            return Ok(Coexistence { steps, ..found });
        }
        if change < 1e-8 && next > low && next < critical.temperature {
            // quadratic: the next point is right to rounding
            let found = saturation_at_temperature(fixed, next, densities)?;
            return Ok(Coexistence {
                steps: steps + found.steps,
                ..found
            });
        }
        temperature = if next > coldest && next < hottest {
            next
        } else if next <= low {
            low
        } else {
            0.5 * (coldest + hottest)
        };
    }
    Err(Error::NotConverged {
        question: reasons::QUESTION_SATURATION_BY_PRESSURE,
        steps,
        residual: f64::NAN,
    })
}

/// d ln p / dT along the saturation line, 1/K.
pub fn log_pressure_slope(fixed: &FixedComposition<'_>, at: &Coexistence) -> f64 {
    let temperature = at.temperature;
    let liquid = fixed.residual(temperature, at.liquid_density);
    let vapor = fixed.residual(temperature, at.vapor_density);
    // s_v - s_l: the ideal parts of one substance at one temperature differ by the density alone
    let entropy = fixed.gas_constant
        * ((vapor.t - vapor.a - at.vapor_density.ln())
            - (liquid.t - liquid.a - at.liquid_density.ln()));
    let volume = 1.0 / at.vapor_density - 1.0 / at.liquid_density;
    entropy / volume / at.pressure
}

fn check_temperature(equation: &PureEquation, temperature: f64) -> Result<()> {
    let low = equation.record.range.temperature_min_k;
    let high = equation.critical.temperature;
    if temperature >= low && temperature <= high {
        return Ok(());
    }
    Err(Error::OutOfRange {
        quantity: "temperature",
        value: temperature,
        low,
        high,
        unit: RangeUnit::Kelvin,
        range: Reason::of(
            reasons::RANGE_SATURATION_LINE,
            "refrigerant",
            &equation.record.designation,
        ),
    })
}

/// The temperature at which the ancillary equation has `pressure`, K.
fn ancillary_temperature(equation: &PureEquation, pressure: f64) -> f64 {
    let mut low = equation.record.range.temperature_min_k;
    let mut high = equation.critical.temperature;
    if equation.ancillary.pressure(low) >= pressure {
        return low;
    }
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if equation.ancillary.pressure(middle) < pressure {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Newton's method; `None` unless two distinct, stable densities are found.
fn newton(isotherm: &Isotherm<'_>, temperature: f64, start: Start) -> Option<Coexistence> {
    let (mut liquid, mut vapor) = start;
    let mut previous = f64::INFINITY;
    for steps in 1..=MOST_STEPS {
        let l = isotherm.residual(liquid);
        let v = isotherm.residual(vapor);
        let (w_l, w_v) = (1.0 + l.d + l.dd, 1.0 + v.d + v.dd);
        if !(w_l > 0.0 && w_v > 0.0) {
            return None;
        }
        let gap = (vapor / liquid).ln() + (v.a + v.d) - (l.a + l.d);
        let pressures = vapor * (1.0 + v.d) - liquid * (1.0 + l.d);
        let y_l = (pressures - vapor * gap) / (liquid - vapor);
        let y_v = y_l - gap;
        let (mut step_l, mut step_v) = (y_l / w_l, y_v / w_v);
        let size = step_l.abs().max(step_v.abs());
        if !size.is_finite() {
            return None;
        }
        // Converged when steps are at rounding, or small and no longer shrinking.
        let done = size < 1e-10 || (size < 1e-6 && size >= 0.5 * previous);
        previous = size;
        let most = 0.3 * (liquid / vapor).ln().clamp(0.0, 1.0);
        if size > most && !done {
            let shrink = most / size;
            step_l *= shrink;
            step_v *= shrink;
        }
        // The liquid stays the denser: a step that would turn that round is shortened.
        let (mut next_l, mut next_v) = (liquid * step_l.exp(), vapor * step_v.exp());
        for _ in 0..8 {
            if next_l > next_v * (1.0 + 1e-12) {
                break;
            }
            step_l *= 0.5;
            step_v *= 0.5;
            (next_l, next_v) = (liquid * step_l.exp(), vapor * step_v.exp());
        }
        (liquid, vapor) = (next_l, next_v);
        if done {
            if liquid - vapor < 1e-7 * liquid {
                return None;
            }
            return Some(Coexistence {
                temperature,
                pressure: isotherm.pressure(vapor),
                liquid_density: liquid,
                vapor_density: vapor,
                steps,
                residual: size,
            });
        }
    }
    None
}

/// Starting densities from the equality of Gibbs energies between the spinodal pressures.
fn equal_areas(isotherm: &Isotherm<'_>, temperature: f64, middle: f64) -> Option<Start> {
    let _ = temperature;
    let spinodal = Spinodal::enclosing(isotherm, middle)?;
    let mut low = isotherm.pressure(spinodal.liquid).max(0.0);
    let mut high = isotherm.pressure(spinodal.vapor);
    if high <= low {
        return None;
    }
    let ceiling = spinodal.liquid * 3.0;
    let mut result = None;
    for _ in 0..60 {
        let pressure = 0.5 * (low + high);
        let tiny = pressure / isotherm.rt * 0.3;
        let vapor = crate::state::density_between(
            isotherm,
            pressure,
            tiny,
            spinodal.vapor,
            0.9 * spinodal.vapor,
        )
        .ok()?
        .density;
        let liquid = crate::state::density_between(
            isotherm,
            pressure,
            spinodal.liquid,
            ceiling,
            1.1 * spinodal.liquid,
        )
        .ok()?
        .density;
        let (l, v) = (isotherm.residual(liquid), isotherm.residual(vapor));
        let gap = (vapor / liquid).ln() + (v.a + v.d) - (l.a + l.d);
        result = Some((liquid, vapor));
        // the vapour is the more stable below the saturation pressure: g_v < g_l
        if gap < 0.0 {
            low = pressure;
        } else {
            high = pressure;
        }
        if high - low < 1e-10 * high {
            break;
        }
    }
    result
}
