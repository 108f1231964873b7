//! The state of a blend from two of its properties.
//!
//! The lines of the blend say where one phase ends and two begin; inside, the split is found by
//! Newton's method from a neighbour. On an isobar h and s rise with T, on an isotherm density
//! rises and s falls with p, and at constant h s falls with p: each pair has one answer.

mod brackets;
mod by_quality;
mod enthalpy_entropy;
mod isobar;
mod isotherm;
mod last_steps;
mod temperature_pressure;
mod two_phases;

use std::cell::{Cell, RefCell};
use std::collections::HashMap;

use super::bubble_dew::PhasePair;
use super::flash::Found;
use super::line::{AtTemperature, BlendLine};
use super::split::{Fixed, Split};
use super::three_phases::ThreePhases;
use super::{BlendLimits, EquilibriumState, KnownLines, MolarGiven, Phase, Phases, Property};
use crate::error::{Error, RangeUnit, Result, reasons};
use crate::helmholtz::{FixedComposition, Mixture, MoleFractions};
use crate::state::SinglePhase;

/// Relative overstepping of a limit that is rounding, not a wish.
const SLACK: f64 = 1e-9;
/// Relative width at which a bracketed search stops.
const TOLERANCE: f64 = 1e-14;

/// What is given of a bubble or dew point, and what came of it.
type Asked = (Fixed, Result<PhasePair>);

/// A blend that is asked for states.
pub struct BlendSolver<'a> {
    mixture: &'a Mixture,
    z: &'a MoleFractions,
    fixed: FixedComposition<'a>,
    line: &'a BlendLine,
    limits: BlendLimits,
    known: Option<&'a dyn KnownLines>,
    /// What stability alone has led to at a temperature and a pressure, by their bits.
    kept: RefCell<HashMap<(u64, u64), Result<EquilibriumState>>>,
    /// Of bubble and dew points what was asked for last, and what came of it.
    ends: RefCell<[Option<Asked>; 2]>,
    /// Phases that it has led to last, and others that it led to before them.
    near: Cell<[Option<Found>; 2]>,
    /// Whether phases found from these are held against rivals, or only what they lead to.
    proves: Cell<bool>,
    /// How often phases were sought by stability.
    sought: Cell<usize>,
}

impl<'a> BlendSolver<'a> {
    /// A blend of composition `z` with its lines and limits; the lines are solved for where they
    /// are not `known`.
    pub fn new(
        mixture: &'a Mixture,
        z: &'a MoleFractions,
        line: &'a BlendLine,
        limits: BlendLimits,
        known: Option<&'a dyn KnownLines>,
    ) -> Self {
        Self {
            mixture,
            z,
            fixed: mixture.at_composition(z),
            line,
            limits,
            known,
            kept: RefCell::default(),
            ends: RefCell::default(),
            near: Cell::default(),
            proves: Cell::new(true),
            sought: Cell::new(0),
        }
    }

    /// The state with the two given properties, in molar SI; quality is by mass.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] outside the limits; [`Error::NoState`] for a pair that is answered
    /// for pure refrigerants alone, or where nothing has both properties;
    /// [`Error::NotConverged`].
    pub fn state(&self, given: MolarGiven) -> Result<EquilibriumState> {
        use MolarGiven::*;
        let state = match given {
            TemperaturePressure(t, p) => self.at_temperature_pressure(t, p),
            TemperatureQuality(t, q) => {
                self.check_temperature(t)?;
                self.at_quality(Fixed::Temperature(t), q)
            }
            PressureQuality(p, q) => {
                self.check_pressure(p)?;
                self.at_quality(Fixed::Pressure(p), q)
            }
            TemperatureDensity(t, rho) => self.at_temperature_density(t, rho),
            TemperatureEntropy(t, s) => self.on_isotherm(t, s, Property::Entropy),
            PressureEnthalpy(p, h) => self.on_isobar(p, h, Property::Enthalpy),
            PressureEntropy(p, s) => self.on_isobar(p, s, Property::Entropy),
            PressureDensity(p, rho) => self.on_isobar(p, rho, Property::Density),
            EnthalpyEntropy(h, s) => self.at_enthalpy_entropy(h, s),
            _ => Err(Error::NoState {
                reason: reasons::REASON_PURE_ALONE.into(),
                hint: "for a blend give temperature or pressure with another property, or \
                       enthalpy with entropy"
                    .into(),
            }),
        };
        let state = state.and_then(|state| self.held_against_rivals(state));
        match state {
            // a liquid that parts may have the properties of a state in equilibrium elsewhere
            Ok(state) if given.is_met(&state) && state.parted => {
                Ok(self.in_equilibrium(given).unwrap_or(state))
            }
            Ok(state) if given.is_met(&state) => Ok(state),
            Err(error @ Error::OutOfRange { .. }) => Err(error),
            lost => self.by_brackets(given).ok_or_else(|| {
                if self.is_given_up() {
                    return Self::no_two_phases();
                }
                lost.err().unwrap_or_else(|| self.nothing())
            }),
        }
    }

    fn out_of_range(
        &self,
        quantity: &'static str,
        value: f64,
        (low, high): (f64, f64),
        unit: RangeUnit,
    ) -> Error {
        Error::OutOfRange {
            quantity,
            value,
            low,
            high,
            unit,
            range: reasons::RANGE_COMMON.into(),
        }
    }

    fn check_temperature(&self, t: f64) -> Result<()> {
        let (low, high) = (self.limits.coldest, self.limits.hottest);
        if t >= low * (1.0 - SLACK) && t <= high * (1.0 + SLACK) {
            return Ok(());
        }
        Err(self.out_of_range("temperature", t, (low, high), RangeUnit::Kelvin))
    }

    fn check_pressure(&self, p: f64) -> Result<()> {
        let high = self.limits.highest_pressure;
        if p > 0.0 && p <= high * (1.0 + SLACK) {
            return Ok(());
        }
        Err(self.out_of_range("pressure", p, (0.0, high), RangeUnit::Pascal))
    }

    /// The phases on the lines at a temperature; none where there are no two phases.
    fn lines(&self, temperature: f64) -> Result<AtTemperature> {
        self.line
            .all_at_temperature(self.mixture, self.z, temperature)
    }

    fn single(&self, temperature: f64, density: f64, dense: bool) -> EquilibriumState {
        let phase = SinglePhase::at_density(&self.fixed, temperature, density);
        let name = match self.line.envelope(self.mixture, self.z) {
            Ok(envelope) => {
                let hot = temperature > envelope.critical.temperature;
                let high = phase.pressure > envelope.critical.pressure;
                match (hot, high) {
                    (true, true) => Phase::Supercritical,
                    (false, true) => Phase::Liquid,
                    _ if dense && !hot => Phase::Liquid,
                    _ => Phase::Vapor,
                }
            }
            Err(_) if dense => Phase::Liquid,
            Err(_) => Phase::Vapor,
        };
        EquilibriumState::single(phase, name)
    }

    fn phase(&self, temperature: f64, (x, density): (&MoleFractions, f64)) -> SinglePhase {
        SinglePhase::at_density(&self.mixture.at_composition(x), temperature, density)
    }

    fn three(&self, three: &ThreePhases) -> EquilibriumState {
        let [vapor, a, b] = three
            .phases
            .map(|(x, density)| self.phase(three.temperature, (&x, density)));
        EquilibriumState {
            temperature: three.temperature,
            pressure: three.pressure,
            parted: false,
            phases: Phases::Three {
                liquids: [a, b],
                vapor,
                vapor_fraction: three.vapor_fraction,
                share: three.share,
            },
        }
    }

    /// Two liquids beside each other.
    fn liquids(&self, split: &Split) -> EquilibriumState {
        let pair = &split.pair;
        let phases = [
            (&pair.liquid, pair.liquid_density),
            (&pair.vapor, pair.vapor_density),
        ];
        EquilibriumState {
            temperature: pair.temperature,
            pressure: pair.pressure,
            parted: false,
            phases: Phases::Liquids {
                liquids: phases.map(|phase| self.phase(pair.temperature, phase)),
                share: split.vapor_fraction,
            },
        }
    }

    /// A liquid and a vapor; of a bubble point over two liquids both of them.
    fn two(&self, split: &Split) -> EquilibriumState {
        let pair = &split.pair;
        if let Some(three) = ThreePhases::at_bubble_point(pair) {
            return self.three(&three);
        }
        EquilibriumState {
            temperature: pair.temperature,
            pressure: pair.pressure,
            parted: false,
            phases: Phases::Two {
                liquid: self.phase(pair.temperature, (&pair.liquid, pair.liquid_density)),
                vapor: self.phase(pair.temperature, (&pair.vapor, pair.vapor_density)),
                vapor_fraction: split.vapor_fraction,
            },
        }
    }

    fn nothing(&self) -> Error {
        Error::NoState {
            reason: reasons::REASON_NOTHING_OF_BLEND.into(),
            hint: format!(
                "it is answered from {:.2} to {} K and up to {} Pa",
                self.limits.coldest, self.limits.hottest, self.limits.highest_pressure
            ),
        }
    }
}
