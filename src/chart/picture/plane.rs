//! States on the two planes on which cycles and domes are drawn.

use crate::process::cycle::Point;
use crate::refrigerant::{Given, PhaseProperties, ReferenceState, Refrigerant};

/// The plane of a dome or a cycle.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Plane {
    /// Pressure against enthalpy.
    #[default]
    PressureEnthalpy,
    /// Temperature against entropy.
    TemperatureEntropy,
}

/// A state on both planes: pressure Pa, enthalpy J/kg, temperature K, entropy J/(kg K).
#[derive(Debug, Clone, Copy)]
pub(crate) struct PlanePoint {
    pub(crate) pressure: f64,
    pub(crate) enthalpy: f64,
    pub(crate) temperature: f64,
    pub(crate) entropy: f64,
}

impl PlanePoint {
    pub(crate) const fn from_phase(phase: &PhaseProperties) -> Self {
        Self {
            pressure: phase.pressure.in_pascal(),
            enthalpy: phase.enthalpy,
            temperature: phase.temperature.in_kelvin(),
            entropy: phase.entropy,
        }
    }

    pub(crate) const fn point(point: &Point) -> Self {
        Self {
            pressure: point.pressure.in_pascal(),
            enthalpy: point.enthalpy,
            temperature: point.temperature.in_kelvin(),
            entropy: point.entropy,
        }
    }

    /// The first state of a pair of properties: from curves where they say it.
    pub(crate) fn given(refrigerant: &Refrigerant, given: Given) -> Option<Self> {
        if let Some(quick) = refrigerant.quick(given, ReferenceState::Usual) {
            return Some(Self {
                pressure: quick.pressure,
                enthalpy: quick.enthalpy,
                temperature: quick.temperature,
                entropy: quick.entropy,
            });
        }
        let states = refrigerant.state(given, ReferenceState::Usual).ok()?;
        states
            .first()
            .map(|state| Self::from_phase(&state.properties))
    }

    /// Where it lies: enthalpy and pressure, or entropy and temperature, in SI.
    pub(crate) const fn on(&self, plane: Plane) -> (f64, f64) {
        match plane {
            Plane::PressureEnthalpy => (self.enthalpy, self.pressure),
            Plane::TemperatureEntropy => (self.entropy, self.temperature),
        }
    }
}

/// The part of a plane that is drawn, in SI.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Window {
    pub(crate) plane: Plane,
    /// Ends of the horizontal axis.
    pub(crate) across: (f64, f64),
    /// Ends of the vertical axis; pressures lie on a logarithm.
    pub(crate) up: (f64, f64),
}

impl Window {
    /// Where a state lies, in parts of the window.
    pub(crate) fn axis_values(&self, at: &PlanePoint) -> (f64, f64) {
        let (x, y) = at.on(self.plane);
        let (left, right) = self.across;
        let (low, high) = self.up;
        let y = match self.plane {
            Plane::PressureEnthalpy => (y / low).ln() / (high / low).ln(),
            Plane::TemperatureEntropy => (y - low) / (high - low),
        };
        ((x - left) / (right - left), y)
    }

    /// Whether a state lies in it.
    pub(crate) fn holds(&self, at: &PlanePoint) -> bool {
        let (x, y) = self.axis_values(at);
        (-0.05..=1.05).contains(&x) && (-0.05..=1.05).contains(&y)
    }
}
