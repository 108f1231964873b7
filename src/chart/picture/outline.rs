//! The outline of two phases: bubble and dew line from a temperature up to the critical point that
//! the equation has, where they meet.
//!
//! Of a pure refrigerant the temperature is Tc - (Tc - T0) u^3, since the densities of both phases
//! part with about the third root of Tc - T. Of a blend the points above the cold part are those of
//! its envelope, which runs through the critical point, and between them points solved on it.

use super::plane::{Plane, PlanePoint, Window};
use super::smooth::{curve, steps};
use crate::equilibrium::bubble_dew::Branch;
use crate::equilibrium::envelope::{Envelope, EnvelopePoint};
use crate::refrigerant::{ReferenceState, Refrigerant};
use crate::state::SinglePhase;
use crate::units::Temperature;

/// Parts of a line, at least.
const PARTS: usize = 12;

/// Bubble and dew line, and the point where they meet.
pub(crate) struct Outline {
    /// From the coldest state to the critical one.
    pub(crate) bubble: Vec<PlanePoint>,
    /// From the coldest state to the critical one.
    pub(crate) dew: Vec<PlanePoint>,
    /// The critical point.
    pub(crate) critical: PlanePoint,
    /// The reference state of enthalpy and entropy.
    pub(crate) zero: ReferenceState,
}

impl Outline {
    /// The outline from a temperature in K; `None` where there is no critical point above it.
    pub(crate) fn new(refrigerant: &Refrigerant, plane: Plane, from: f64) -> Option<Self> {
        let top = refrigerant.critical_point()?;
        let coldest = refrigerant.limits().temperature_min.in_kelvin();
        let from = from.max(coldest);
        let kelvin = top.temperature.in_kelvin();
        if from >= kelvin {
            return None;
        }
        let raw = Raw::new(refrigerant, from, kelvin)?;
        let critical = raw.point_at(kelvin, top.density / refrigerant.molar_mass());
        let start = raw.ends;
        let window = Window {
            plane,
            across: (start[0].on(plane).0, start[1].on(plane).0),
            up: (start[1].on(plane).1, critical.on(plane).1),
        };
        let envelope = match refrigerant.is_pure() {
            true => None,
            false => refrigerant.envelope().ok().filter(|one| !one.folds()),
        };
        let line = |branch| match envelope {
            Some(envelope) => raw.of_blend(envelope, branch, (from, critical), &window),
            None => raw.by_temperature(branch, (from, kelvin), Some(critical), &window),
        };
        Some(Self {
            bubble: line(Branch::Bubble),
            dew: line(Branch::Dew),
            critical,
            zero: raw.zero,
        })
    }

    /// The lowest and highest pressure, Pa.
    pub(crate) fn pressures(&self) -> (f64, f64) {
        let all = self.bubble.iter().chain(&self.dew).map(|at| at.pressure);
        all.fold((f64::INFINITY, 0.0), |(low, high), one| {
            (low.min(one), high.max(one))
        })
    }
}

/// States of the refrigerant's composition by temperature and density.
struct Raw<'a> {
    refrigerant: &'a Refrigerant,
    /// What enthalpy and entropy of the reference state differ by from those of the model.
    shift: (f64, f64),
    zero: ReferenceState,
    /// The bubble and the dew point that the outline begins with.
    ends: [PlanePoint; 2],
}

impl<'a> Raw<'a> {
    fn new(refrigerant: &'a Refrigerant, from: f64, critical: f64) -> Option<Self> {
        // The coldest temperature that answers: a blend may have none near a component's limit.
        let tried = (0..20).map(|step| from + 0.05 * f64::from(step) * (critical - from));
        let found = tried.into_iter().find_map(|kelvin| {
            let zero = ReferenceState::Usual;
            let found = refrigerant.saturation_at_temperature(Temperature::kelvin(kelvin), zero);
            let found = found.ok()?;
            let (bubble, dew) = (found.bubble?.liquid, found.dew?.vapor);
            Some((bubble, dew, found.zero))
        });
        let (bubble, dew, zero) = found?;
        let mut raw = Self {
            refrigerant,
            shift: (0.0, 0.0),
            zero,
            ends: [
                PlanePoint::from_phase(&bubble),
                PlanePoint::from_phase(&dew),
            ],
        };
        let density = dew.density / refrigerant.molar_mass();
        let own = raw.point_at(dew.temperature.in_kelvin(), density);
        raw.shift = (dew.enthalpy - own.enthalpy, dew.entropy - own.entropy);
        Some(raw)
    }

    /// At a temperature in K and a density in mol/m3.
    fn point_at(&self, temperature: f64, density: f64) -> PlanePoint {
        let (mixture, z) = self.refrigerant.model();
        let phase = SinglePhase::at_density(&mixture.at_composition(z), temperature, density);
        PlanePoint {
            pressure: phase.pressure,
            enthalpy: phase.enthalpy / phase.molar_mass + self.shift.0,
            temperature,
            entropy: phase.entropy / phase.molar_mass + self.shift.1,
        }
    }

    /// A line from one temperature to another, K, closer towards the upper; `end` is put there.
    fn by_temperature(
        &self,
        branch: Branch,
        (from, to): (f64, f64),
        end: Option<PlanePoint>,
        window: &Window,
    ) -> Vec<PlanePoint> {
        let at = |u: f64| match (u == 0.0, end) {
            (true, Some(end)) => Some(end),
            _ => self.saturated(branch, to - (to - from) * u.powi(3)),
        };
        curve(&steps(1.0, 0.0, PARTS), at, |at| window.axis_values(at))
    }

    fn saturated(&self, branch: Branch, kelvin: f64) -> Option<PlanePoint> {
        let at = Temperature::kelvin(kelvin);
        let found = self
            .refrigerant
            .saturation_at_temperature(at, ReferenceState::Usual)
            .ok()?;
        Some(match branch {
            Branch::Bubble => PlanePoint::from_phase(&found.bubble?.liquid),
            Branch::Dew => PlanePoint::from_phase(&found.dew?.vapor),
        })
    }

    /// A line of a blend: by temperature as far as its envelope does not reach down, then along that.
    fn of_blend(
        &self,
        envelope: &Envelope,
        branch: Branch,
        (from, critical): (f64, PlanePoint),
        window: &Window,
    ) -> Vec<PlanePoint> {
        let mut own: Vec<&EnvelopePoint> = envelope
            .points
            .iter()
            .filter(|point| point.branch == branch && point.pair.temperature > from)
            .collect();
        if branch == Branch::Dew {
            own.reverse();
        }
        // The dew line may turn back above the critical point: its cold end is what counts.
        let density = |point: &EnvelopePoint| match branch {
            Branch::Bubble => point.pair.liquid_density,
            Branch::Dew => point.pair.vapor_density,
        };
        let Some(first) = own.first() else {
            return vec![critical];
        };
        let cold = (from, first.pair.temperature);
        let mut points = self.by_temperature(branch, cold, None, window);
        points.pop();
        let mut nodes: Vec<(f64, f64)> = own
            .iter()
            .map(|point| (point.pair.temperature, density(point)))
            .collect();
        nodes.push((envelope.critical.temperature, envelope.critical.density));
        let last = nodes.len() - 1;
        let at = |t: f64| {
            let place = (t.floor() as usize).min(last);
            let part = t - place as f64;
            if part == 0.0 {
                let (kelvin, density) = nodes[place];
                return Some(match place == last {
                    true => critical,
                    false => self.point_at(kelvin, density),
                });
            }
            self.between(envelope, branch, (nodes[place], nodes[place + 1]), part)
        };
        points.extend(curve(&steps(0.0, last as f64, last), at, |at| {
            window.axis_values(at)
        }));
        points
    }

    /// A point of the envelope between two of it, a part of the way by pressure or, where that
    /// hardly changes, by temperature.
    fn between(
        &self,
        envelope: &Envelope,
        branch: Branch,
        (a, b): ((f64, f64), (f64, f64)),
        part: f64,
    ) -> Option<PlanePoint> {
        let (mixture, z) = self.refrigerant.model();
        let pressures = [
            self.point_at(a.0, a.1).pressure,
            self.point_at(b.0, b.1).pressure,
        ];
        let by_pressure = (pressures[1] / pressures[0]).ln();
        let by_temperature = (b.0 / a.0).ln();
        let found = match by_pressure.abs() > 2.0 * by_temperature.abs() {
            true => {
                let pascal = pressures[0] * (part * by_pressure).exp();
                envelope.at_pressure(mixture, z, pascal)
            }
            false => envelope.at_temperature(mixture, z, a.0 * (part * by_temperature).exp()),
        };
        let (low, high) = (a.1.min(b.1), a.1.max(b.1));
        let own = found.into_iter().find_map(|point| {
            let density = match point.branch {
                Branch::Bubble => point.pair.liquid_density,
                Branch::Dew => point.pair.vapor_density,
            };
            let is_own = point.branch == branch && (low..=high).contains(&density);
            is_own.then_some((point.pair.temperature, density))
        });
        own.map(|(kelvin, density)| self.point_at(kelvin, density))
    }
}
