//! A pressure test with dry nitrogen: what the pressure becomes when the temperature changes.

use crate::service::measurement::significance::Limit;
use crate::units::{Pressure, Temperature, TemperatureDifference};
use crate::{Given, Refrigerant, Result, Zero};

/// Pressure and temperature of the gas at one end of a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Pressure, absolute.
    pub pressure: Pressure,
    /// Temperature of the gas.
    pub temperature: Temperature,
}

/// What a tight vessel of nitrogen would show at the end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// From nitrogen's equation of state, at the density of the start.
    pub pressure: Pressure,
    /// From the ideal gas: p2 = p1 T2/T1, absolute.
    pub ideal: Pressure,
    /// Density of the nitrogen, kg/m3.
    pub density: f64,
    /// Pressure over temperature at constant volume, at the end, Pa/K.
    pub slope: f64,
    /// Change of the expected pressure with the pressure of the start, Pa/Pa.
    pub per_start_pressure: f64,
    /// Change of the expected pressure with the temperature of the start, Pa/K.
    pub per_start_temperature: f64,
}

/// The pressure that a tight vessel of nitrogen would show at another temperature.
///
/// The density stays: rho(p1, T1) = rho(p2, T2), with the equation of Span, Lemmon, Jacobsen,
/// Wagner & Yokozeki (J. Phys. Chem. Ref. Data 29 (2000) 1361). The vessel's own stretch and any
/// moisture or refrigerant in it are left out.
///
/// # Errors
/// Those of [`Refrigerant::state`] outside the equation's range.
///
/// # Example
/// ```
/// use zeotrope::service::vessel::pressure_test::{Reading, expected};
/// use zeotrope::units::{Atmosphere, PressureUnit, Temperature};
/// let (site, unit) = (Atmosphere::SEA_LEVEL, PressureUnit::PsiGauge);
/// let start = Reading {
///     pressure: unit.write(500.0, &site),
///     temperature: Temperature::fahrenheit(85.0),
/// };
/// let end = expected(start, Temperature::fahrenheit(60.0))?;
/// // By hand for the ideal gas: 514.696 x 519.67/544.67 - 14.696.
/// assert!((unit.read(end.ideal, &site) - 476.38).abs() < 0.01);
/// // Computed with a general-purpose open library, a cross-check: 474.5.
/// assert!((unit.read(end.pressure, &site) - 474.5).abs() < 0.05);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn expected(start: Reading, at: Temperature) -> Result<Expected> {
    let nitrogen = Refrigerant::named("R-728")?;
    let density = |pressure: Pressure, temperature: Temperature| -> Result<f64> {
        let given = Given::TemperaturePressure(temperature, pressure);
        let states = nitrogen.state(given, Zero::IdealGas)?;
        only(states.first().map(|state| state.properties.density))
    };
    let pressure = |temperature: Temperature, density: f64| -> Result<f64> {
        let given = Given::TemperatureDensity(temperature, density);
        let states = nitrogen.state(given, Zero::IdealGas)?;
        only(
            states
                .first()
                .map(|state| state.properties.pressure.in_pascal()),
        )
    };
    let filled = density(start.pressure, start.temperature)?;
    // Slopes by differences of 0.1 K and 0.1 %: far finer than any instrument.
    let (step, part) = (TemperatureDifference::kelvin(0.1), 1e-3);
    let end = pressure(at, filled)?;
    let more = Pressure::pascal(start.pressure.in_pascal() * (1.0 + part));
    let warmer = density(start.pressure, start.temperature + step)?;
    Ok(Expected {
        pressure: Pressure::pascal(end),
        ideal: Pressure::pascal(
            start.pressure.in_pascal() * at.in_kelvin() / start.temperature.in_kelvin(),
        ),
        density: filled,
        slope: (pressure(at + step, filled)? - end) / step.in_kelvin(),
        per_start_pressure: (pressure(at, density(more, start.temperature)?)? - end)
            / (start.pressure.in_pascal() * part),
        per_start_temperature: (pressure(at, warmer)? - end) / step.in_kelvin(),
    })
}

fn only(found: Option<f64>) -> Result<f64> {
    found.ok_or_else(|| crate::Error::NoAnswer {
        reason: "nitrogen has no such state".into(),
        hint: "check pressures and temperatures".into(),
    })
}

impl Expected {
    /// What the gauge's and the thermometer's limits of error, at the start and at the end, make
    /// of the difference between the expected and the read pressure, Pa.
    ///
    /// The four errors are taken as independent; one gauge left in place errs less.
    pub fn limit(&self, gauge: f64, thermometer: TemperatureDifference) -> Limit {
        Limit::of(&[
            gauge * self.per_start_pressure,
            gauge,
            self.per_start_temperature * thermometer.in_kelvin(),
            self.slope * thermometer.in_kelvin(),
        ])
    }
}
