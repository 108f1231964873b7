//! Lines along which one property of a refrigerant stays the same, over the part of a plane that is
//! drawn.

use super::outline::Outline;
use super::plane::{Plane, PlanePoint, Window};
use super::smooth::{curve, steps};
use crate::chart::plot::{Axis, Scale, Tick};
use crate::refrigerant::{Given, ReferenceState, Refrigerant};
use crate::units::{DensityUnit, Pressure, Temperature, UnitSet};
use crate::{Error, Result};

/// Parts of a line, at least.
const PARTS: usize = 10;
/// How far from the lines of saturation a part in one phase begins, in parts of the pressure.
const BESIDE: f64 = 1e-4;

/// The property that stays the same along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Isoline {
    /// Isotherms.
    Temperature,
    /// Isobars.
    Pressure,
    /// Isenthalps.
    Enthalpy,
    /// Isentropes.
    Entropy,
    /// The vapor's share of the mass.
    Quality,
    /// Isochores.
    Density,
}

impl Isoline {
    /// Every kind there is.
    pub const ALL: &'static [Isoline] = &[
        Isoline::Temperature,
        Isoline::Pressure,
        Isoline::Enthalpy,
        Isoline::Entropy,
        Isoline::Quality,
        Isoline::Density,
    ];

    /// The name by which it is asked for.
    pub const fn name(self) -> &'static str {
        match self {
            Isoline::Temperature => "temperature",
            Isoline::Pressure => "pressure",
            Isoline::Enthalpy => "enthalpy",
            Isoline::Entropy => "entropy",
            Isoline::Quality => "quality",
            Isoline::Density => "density",
        }
    }

    /// The kind of a name.
    ///
    /// # Errors
    /// [`Error::Value`](crate::Error::Value) for a name of none.
    pub fn named(text: &str) -> Result<Self> {
        let found = Self::ALL
            .iter()
            .find(|kind| kind.name().eq_ignore_ascii_case(text.trim()));
        let names = || Self::ALL.iter().map(|kind| kind.name()).collect::<Vec<_>>();
        found.copied().ok_or_else(|| Error::Value {
            quantity: "isolines",
            text: text.into(),
            problem: "is not a kind of line".into(),
            hint: format!("use {}", names().join(", ")),
        })
    }

    /// Whether it is an axis of a plane, where it would be a straight line across.
    pub const fn is_axis_of(self, plane: Plane) -> bool {
        match plane {
            Plane::PressureEnthalpy => matches!(self, Isoline::Pressure | Isoline::Enthalpy),
            Plane::TemperatureEntropy => matches!(self, Isoline::Temperature | Isoline::Entropy),
        }
    }
}

/// A line with the value it stands for, in the unit asked for.
pub(crate) type Valued = (Tick, Vec<PlanePoint>);

/// What lines are drawn of.
pub(crate) struct Isolines<'a> {
    pub(crate) refrigerant: &'a Refrigerant,
    pub(crate) outline: &'a Outline,
    pub(crate) window: Window,
    pub(crate) units: &'a UnitSet,
    /// Lowest and highest pressure of lines, Pa.
    pub(crate) pressures: (f64, f64),
    /// Lowest and highest temperature of lines, K.
    pub(crate) temperatures: (f64, f64),
}

impl Isolines<'_> {
    /// Lines of one kind at round values that cross the window.
    pub(crate) fn lines(&self, kind: Isoline) -> Vec<Valued> {
        let ticks = match kind {
            Isoline::Temperature => {
                let read = |kelvin| self.units.temperature.read(Temperature::kelvin(kelvin));
                let (low, high) = self.temperatures;
                ticks(read(low), read(high), Scale::Linear, 10)
            }
            Isoline::Pressure => {
                let unit = self.units.absolute.pascal();
                let (low, high) = self.pressures;
                ticks(low / unit, high / unit, Scale::Logarithmic, 10)
            }
            Isoline::Enthalpy => {
                let unit = self.units.enthalpy.joule_per_kg();
                let (low, high) = self.ends(|at| at.enthalpy);
                ticks(low / unit, high / unit, Scale::Linear, 10)
            }
            Isoline::Entropy => {
                let unit = self.units.entropy.joule_per_kg_k();
                let (low, high) = self.ends(|at| at.entropy);
                ticks(low / unit, high / unit, Scale::Linear, 10)
            }
            Isoline::Quality => [0.2, 0.4, 0.6, 0.8]
                .map(|at| Tick {
                    at,
                    text: format!("{at:.1}"),
                })
                .to_vec(),
            Isoline::Density => {
                let unit = self.kilogram_per_cubic_metre();
                let (low, high) = self.densities();
                ticks(low / unit, high / unit, Scale::Logarithmic, 8)
            }
        };
        let lines = ticks.into_iter().map(|tick| {
            let mut points = self.line(kind, tick.at);
            points.dedup_by(|a, b| a.enthalpy == b.enthalpy && a.pressure == b.pressure);
            (tick, points)
        });
        lines
            .filter(|(_, points)| points.iter().filter(|at| self.window.holds(at)).count() > 1)
            .collect()
    }

    /// A line at a value in the unit asked for.
    fn line(&self, kind: Isoline, value: f64) -> Vec<PlanePoint> {
        let (low, high) = self.pressures;
        let along_pressure = |given: &dyn Fn(Pressure) -> Given| {
            let at = |ln: f64| self.state(given(Pressure::pascal(ln.exp())));
            self.curve(&steps(low.ln(), high.ln(), PARTS), at)
        };
        match kind {
            Isoline::Temperature => {
                let temperature = self.units.temperature.write(value);
                self.isotherm(temperature)
            }
            Isoline::Pressure => {
                let pressure = Pressure::pascal(value * self.units.absolute.pascal());
                let (from, to) = self.window.across;
                let at = |entropy| self.state(Given::PressureEntropy(pressure, entropy));
                self.curve(&steps(from, to, 2 * PARTS), at)
            }
            Isoline::Enthalpy => {
                let enthalpy = value * self.units.enthalpy.joule_per_kg();
                along_pressure(&|at| Given::PressureEnthalpy(at, enthalpy))
            }
            Isoline::Entropy => {
                let entropy = value * self.units.entropy.joule_per_kg_k();
                along_pressure(&|at| Given::PressureEntropy(at, entropy))
            }
            Isoline::Quality => self.quality(value),
            Isoline::Density => {
                let density = value * self.kilogram_per_cubic_metre();
                let (from, to) = self.temperatures;
                let at = |kelvin| {
                    let kelvin = Temperature::kelvin(kelvin);
                    self.state(Given::TemperatureDensity(kelvin, density))
                };
                self.curve(&steps(from, to, 2 * PARTS), at)
            }
        }
    }

    /// A line of one quality up to the critical point, where all of them meet.
    fn quality(&self, quality: f64) -> Vec<PlanePoint> {
        let critical = self.outline.critical;
        let low = self.pressures.0.max(self.outline.pressures().0);
        // closer towards the top, where all lines bend to meet
        let at = |u: f64| {
            let pascal = critical.pressure * (low / critical.pressure).powf(u * u);
            match u == 0.0 {
                true => Some(critical),
                false => self.state(Given::PressureQuality(Pressure::pascal(pascal), quality)),
            }
        };
        self.curve(&steps(1.0, 0.0, PARTS), at)
    }

    /// An isotherm from high pressure to low, through the two phases where it has some.
    fn isotherm(&self, temperature: Temperature) -> Vec<PlanePoint> {
        let (low, high) = self.pressures;
        let along = |from: f64, to: f64| -> Vec<PlanePoint> {
            if from <= to {
                return Vec::new();
            }
            let at = |ln: f64| {
                let pressure = Pressure::pascal(ln.exp());
                self.state(Given::TemperaturePressure(temperature, pressure))
            };
            self.curve(&steps(from.ln(), to.ln(), PARTS), at)
        };
        let saturated = self
            .refrigerant
            .saturation_at_temperature(temperature, ReferenceState::Usual)
            .ok()
            .and_then(|found| found.bubble.zip(found.dew));
        let Some((bubble, dew)) = saturated else {
            return along(high, low);
        };
        let (liquid, vapor) = (
            PlanePoint::from_phase(&bubble.liquid),
            PlanePoint::from_phase(&dew.vapor),
        );
        let inside = |quality: f64| match quality {
            0.0 => Some(liquid),
            1.0 => Some(vapor),
            _ => self.state(Given::TemperatureQuality(temperature, quality)),
        };
        let mut points = along(high, liquid.pressure * (1.0 + BESIDE));
        match self.refrigerant.is_pure() {
            true => points.extend([liquid, vapor]),
            false => points.extend(self.curve(&steps(0.0, 1.0, PARTS), inside)),
        }
        points.extend(along(vapor.pressure * (1.0 - BESIDE), low));
        points
    }

    fn curve(&self, values: &[f64], at: impl Fn(f64) -> Option<PlanePoint>) -> Vec<PlanePoint> {
        curve(values, at, |at| self.window.axis_values(at))
    }

    fn state(&self, given: Given) -> Option<PlanePoint> {
        PlanePoint::given(self.refrigerant, given)
    }

    /// The lowest and highest value of the outline and at the far end of the hottest vapor.
    fn ends(&self, value: impl Fn(&PlanePoint) -> f64) -> (f64, f64) {
        let hottest = Given::TemperaturePressure(
            Temperature::kelvin(self.temperatures.1),
            Pressure::pascal(self.pressures.0),
        );
        let corner = self.state(hottest);
        let all = self.outline.bubble.iter().chain(&self.outline.dew);
        let all = all.chain(&corner).map(value);
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(one), high.max(one))
        })
    }

    /// From the thinnest vapor to the critical density, kg/m3.
    fn densities(&self) -> (f64, f64) {
        let thin = Given::TemperaturePressure(
            Temperature::kelvin(self.temperatures.1),
            Pressure::pascal(self.pressures.0),
        );
        let thin = self.refrigerant.state(thin, ReferenceState::Usual);
        let thin = thin.ok().and_then(|states| {
            let state = states.first()?;
            Some(state.properties.density)
        });
        let dense = self.refrigerant.critical_point().map(|at| at.density);
        (thin.unwrap_or(1.0), dense.unwrap_or(1.0))
    }

    fn kilogram_per_cubic_metre(&self) -> f64 {
        match self.units.density {
            DensityUnit::PoundPerCubicFoot => POUND_PER_CUBIC_FOOT,
            _ => 1.0,
        }
    }
}

/// kg/m3: 0.45359237 kg over (0.3048 m)^3, both exact.
const POUND_PER_CUBIC_FOOT: f64 = 0.453_592_37 / (0.3048 * 0.3048 * 0.3048);

fn ticks(from: f64, to: f64, scale: Scale, most: usize) -> Vec<Tick> {
    let axis = Axis {
        label: String::new(),
        from,
        to,
        scale,
    };
    axis.ticks(most)
}
