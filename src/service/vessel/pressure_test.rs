//! A pressure test with dry nitrogen: what the pressure becomes when the temperature changes.

use crate::error::{Blank, RangeUnit, Reason};
use crate::service::reasons;
use serde::{Serialize, Serializer};

use crate::service::measurement::significance::{Limit, Significance};
use crate::units::{Atmosphere, Pressure, Temperature, TemperatureDifference};
use crate::{Error, Given, ReferenceState, Refrigerant, Result};

/// Pressure and temperature of the gas at one end of a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestReading {
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
/// use zeotrope::Refrigerant;
/// use zeotrope::service::vessel::pressure_test::{TestReading, expected};
/// use zeotrope::units::{Atmosphere, PressureUnit, Temperature};
/// let (site, unit) = (Atmosphere::SEA_LEVEL, PressureUnit::PsiGauge);
/// let start = TestReading {
///     pressure: unit.write(500.0, &site),
///     temperature: Temperature::fahrenheit(85.0),
/// };
/// let nitrogen = Refrigerant::named("R-728")?;
/// let end = expected(&nitrogen, start, Temperature::fahrenheit(60.0))?;
/// // By hand for the ideal gas: 514.696 x 519.67/544.67 - 14.696.
/// assert!((unit.read(end.ideal, &site) - 476.38).abs() < 0.01);
/// // Computed with a general-purpose open library, a cross-check: 474.5.
/// assert!((unit.read(end.pressure, &site) - 474.5).abs() < 0.05);
/// # Ok::<(), zeotrope::Error>(())
/// ```
pub fn expected(nitrogen: &Refrigerant, start: TestReading, at: Temperature) -> Result<Expected> {
    let density = |pressure: Pressure, temperature: Temperature| -> Result<f64> {
        let given = Given::TemperaturePressure(temperature, pressure);
        let states = nitrogen.state(given, ReferenceState::IdealGas)?;
        only(states.first().map(|state| state.properties.density))
    };
    let pressure = |temperature: Temperature, density: f64| -> Result<f64> {
        let given = Given::TemperatureDensity(temperature, density);
        let states = nitrogen.state(given, ReferenceState::IdealGas)?;
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
    found.ok_or_else(|| Error::NoAnswer {
        reason: reasons::NITROGEN_NO_STATE.into(),
        hint: "check pressures and temperatures".into(),
    })
}

impl Expected {
    /// What the gauge's and the thermometer's limits of error, at the start and at the end, make
    /// of the difference between the expected and the read pressure, Pa.
    ///
    /// The four errors are taken as independent; one gauge left in place errs less.
    pub fn limit(&self, gauge: f64, thermometer: TemperatureDifference) -> Limit {
        Limit::from_effects(&[
            gauge * self.per_start_pressure,
            gauge,
            self.per_start_temperature * thermometer.in_kelvin(),
            self.slope * thermometer.in_kelvin(),
        ])
    }
}

/// A pressure test that has been or will be ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressureTestQuestion {
    /// The gas at the start.
    pub begun: TestReading,
    /// Temperature of the gas at the end.
    pub end_temperature: Temperature,
    /// Pressure at the end, absolute, once it has been read.
    pub ended: Option<Pressure>,
    /// The gauge's limit of error, Pa.
    pub gauge: Option<f64>,
    /// The thermometer's limit of error.
    pub thermometer: Option<TemperatureDifference>,
    /// The air at the start.
    pub site: Atmosphere,
    /// The air at the end.
    pub end_site: Atmosphere,
}

/// A pressure test against what a tight vessel would show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PressureTest {
    /// The question.
    pub asked: PressureTestQuestion,
    /// What a tight vessel would show.
    pub expected: Expected,
    /// Read at the end minus expected, Pa.
    pub excess: Option<f64>,
    /// What the instruments make of that difference, Pa; `None` unless both limits were given.
    pub limit: Option<Limit>,
}

/// More than the weather changes the air's pressure at one place, as a share of it (our own
/// limit).
const WEATHER: f64 = 0.05;

impl PressureTest {
    /// Holds a test against what a tight vessel would show.
    ///
    /// # Errors
    /// [`Error::NoAnswer`] where the start is not above local atmospheric pressure, and where the air at
    /// the end differs from that at the start by more than 5 %, which no weather does; else those of
    /// [`expected`].
    pub fn new(nitrogen: &Refrigerant, asked: PressureTestQuestion) -> Result<Self> {
        let (site, end_site) = (asked.site.pressure(), asked.end_site.pressure());
        if asked.begun.pressure <= site {
            return Err(Error::NoAnswer {
                reason: reasons::TEST_NOT_ABOVE.into(),
                hint: "for a pressure below it ask for an evacuation".into(),
            });
        }
        if (end_site.in_pascal() / site.in_pascal() - 1.0).abs() > WEATHER {
            return Err(Error::NoAnswer {
                reason: Reason::with(
                    reasons::TEST_OTHER_AIR,
                    "start",
                    Blank::PressureSize(site.in_pascal()),
                )
                .and("end", Blank::PressureSize(end_site.in_pascal())),
                hint: "a gauge is relative to other air there: read start and end at one place"
                    .into(),
            });
        }
        let expected = expected(nitrogen, asked.begun, asked.end_temperature)?;
        let excess = |ended: Pressure| ended.in_pascal() - expected.pressure.in_pascal();
        let limits = asked.gauge.zip(asked.thermometer);
        Ok(Self {
            asked,
            expected,
            excess: asked.ended.map(excess),
            limit: limits.map(|(gauge, thermometer)| expected.limit(gauge, thermometer)),
        })
    }

    /// Whether the difference is more than the instruments explain.
    pub fn significance(&self) -> Option<Significance> {
        let (excess, limit) = self.excess.zip(self.limit)?;
        Some(limit.judge(excess))
    }
}

impl Serialize for PressureTest {
    fn serialize<S: Serializer>(&self, serializer: S) -> std::result::Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        #[allow(non_snake_case)]
        struct Keys {
            start_pressure_Pa: Pressure,
            start_temperature_K: Temperature,
            end_temperature_K: Temperature,
            expected_pressure_Pa: Pressure,
            ideal_pressure_Pa: Pressure,
            density_kg_m3: f64,
            end_pressure_Pa: Option<Pressure>,
            excess_Pa: Option<f64>,
            root_sum_square_Pa: Option<f64>,
            worst_case_Pa: Option<f64>,
            significance: Option<&'static str>,
            atmosphere_Pa: Pressure,
        }
        let (asked, expected) = (&self.asked, &self.expected);
        Keys {
            start_pressure_Pa: asked.begun.pressure,
            start_temperature_K: asked.begun.temperature,
            end_temperature_K: asked.end_temperature,
            expected_pressure_Pa: expected.pressure,
            ideal_pressure_Pa: expected.ideal,
            density_kg_m3: expected.density,
            end_pressure_Pa: asked.ended,
            excess_Pa: self.excess,
            root_sum_square_Pa: self.limit.map(|limit| limit.usual),
            worst_case_Pa: self.limit.map(|limit| limit.worst),
            significance: self.significance().map(Significance::name),
            atmosphere_Pa: asked.site.pressure(),
        }
        .serialize(serializer)
    }
}

/// Refuses a test that was not ended where it was started, by the elevations of both, m.
///
/// # Errors
/// [`Error::NoAnswer`] where they differ by more than a metre.
pub fn one_place(start: f64, end: f64) -> Result<()> {
    if (end - start).abs() <= 1.0 {
        return Ok(());
    }
    Err(Error::NoAnswer {
        reason: Reason::with(
            reasons::TEST_OTHER_PLACE,
            "start",
            Blank::Quantity(start.round(), RangeUnit::None),
        )
        .and("end", Blank::Quantity(end.round(), RangeUnit::None)),
        hint: "a gauge is relative to other air there: read start and end at one place".into(),
    })
}
