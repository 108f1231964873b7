//! Two phases: the saturation line of a pure refrigerant, bubble and dew of a blend, flashes,
//! critical points and the phase envelope. A question a file.

mod at_pressure;
mod at_temperature;
pub mod at_volume;
pub mod bubble_dew;
pub mod bubble_over_liquids;
mod conditions;
pub mod critical;
mod end_of_line;
pub mod envelope;
pub mod flash;
pub mod line;
mod near_the_top;
pub mod one_phase;
mod patient_trial;
mod phase_pair;
pub mod pure;
mod raoult;
mod rival;
mod rivals;
mod scan;
mod search;
pub mod slope;
pub mod spinodal;
pub mod split;
pub mod stability;
pub mod state_of_blend;
pub mod state_of_pure;
mod substitution;
pub mod three_phases;
pub mod tie_lines;
mod tracer;
mod trails;
mod trial_phase;
pub mod vapor_over_liquids;

use crate::catalogue::records::ValidRange;
use crate::helmholtz::Mixture;
use crate::state::SinglePhase;
use bubble_dew::{Branch, PhasePair};

/// Where a blend is answered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlendLimits {
    /// Lowest temperature, K.
    pub coldest: f64,
    /// Highest temperature, K.
    pub hottest: f64,
    /// Highest pressure, Pa.
    pub highest_pressure: f64,
}

/// A blend is answered down to this temperature even below a component's own lower limit, K.
const LOWEST_OF_BLENDS: f64 = 213.15;

impl BlendLimits {
    /// Down to -60 °C or the components' common lowest temperature, whichever is lower, up to the
    /// lowest of the components' highest temperatures and pressures.
    pub fn of(mixture: &Mixture) -> Self {
        let ranges = || mixture.components().iter().map(|c| &c.record.range);
        let least =
            |value: fn(&ValidRange) -> f64| ranges().map(value).fold(f64::INFINITY, f64::min);
        let coldest = ranges()
            .map(|range| range.temperature_min_k)
            .fold(0.0, f64::max);
        Self {
            coldest: coldest.min(LOWEST_OF_BLENDS),
            hottest: least(|range| range.temperature_max_k),
            highest_pressure: least(|range| range.pressure_max_pa),
        }
    }
}

/// Which phase a state is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    /// Below the critical temperature, denser than the saturated liquid; or above the critical
    /// pressure alone.
    Liquid,
    /// Thinner than the saturated vapour; or above the critical temperature alone.
    Vapor,
    /// Above both the critical temperature and the critical pressure.
    Supercritical,
    /// Liquid and vapour in equilibrium.
    TwoPhase,
}

impl Phase {
    /// The phase's name as answers print it.
    pub fn name(self) -> &'static str {
        match self {
            Phase::Liquid => "liquid",
            Phase::Vapor => "vapor",
            Phase::Supercritical => "supercritical",
            Phase::TwoPhase => "two-phase",
        }
    }
}

/// Lines known beforehand, so that a solver of states need not solve for them.
pub trait KnownLines {
    /// The point of a branch at a temperature in K, where it is known.
    fn at_temperature(&self, branch: Branch, temperature: f64) -> Option<PhasePair>;
    /// The point of a branch at a pressure in Pa, where it is known.
    fn at_pressure(&self, branch: Branch, pressure: f64) -> Option<PhasePair>;
}

/// The two properties a state is asked by.
///
/// # Units
/// K, Pa, mol/m3, J/mol, J/(mol K); quality is the vapour's share of the mass.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs)] // each variant names its two numbers
pub enum MolarGiven {
    TemperaturePressure(f64, f64),
    TemperatureDensity(f64, f64),
    TemperatureEnthalpy(f64, f64),
    TemperatureEntropy(f64, f64),
    TemperatureQuality(f64, f64),
    PressureDensity(f64, f64),
    PressureEnthalpy(f64, f64),
    PressureEntropy(f64, f64),
    PressureQuality(f64, f64),
    DensityEnthalpy(f64, f64),
    DensityEntropy(f64, f64),
    DensityQuality(f64, f64),
    EnthalpyEntropy(f64, f64),
    EnthalpyQuality(f64, f64),
    EntropyQuality(f64, f64),
}

/// A state of one or two phases, molar SI, enthalpy and entropy from the engine's own zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EquilibriumState {
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// The phases.
    pub phases: Phases,
    /// Whether the model parts the liquid and the phases are not those that there are.
    pub parted: bool,
}

/// The phases of a state.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(clippy::large_enum_variant)] // both on the stack by intent
pub enum Phases {
    /// One phase and what it is called.
    Single(SinglePhase, Phase),
    /// Two liquids beside each other.
    Liquids {
        /// The liquids.
        liquids: [SinglePhase; 2],
        /// Moles of the second liquid a mole of both.
        share: f64,
    },
    /// A vapor over two liquids.
    Three {
        /// The liquids.
        liquids: [SinglePhase; 2],
        /// The vapour.
        vapor: SinglePhase,
        /// Moles of vapour a mole of refrigerant.
        vapor_fraction: f64,
        /// Moles of the second liquid a mole of both.
        share: f64,
    },
    /// Two phases.
    Two {
        /// The liquid.
        liquid: SinglePhase,
        /// The vapour.
        vapor: SinglePhase,
        /// Moles of vapour a mole of refrigerant.
        vapor_fraction: f64,
    },
}

impl EquilibriumState {
    /// A state of one phase.
    pub fn single(phase: SinglePhase, name: Phase) -> Self {
        Self {
            temperature: phase.temperature,
            pressure: phase.pressure,
            phases: Phases::Single(phase, name),
            parted: false,
        }
    }

    fn mixed(&self, property: impl Fn(&SinglePhase) -> f64) -> f64 {
        match &self.phases {
            Phases::Single(phase, _) => property(phase),
            Phases::Two {
                liquid,
                vapor,
                vapor_fraction,
            } => (1.0 - vapor_fraction) * property(liquid) + vapor_fraction * property(vapor),
            Phases::Liquids {
                liquids: [a, b],
                share,
            } => (1.0 - share) * property(a) + share * property(b),
            Phases::Three {
                liquids: [a, b],
                vapor,
                vapor_fraction,
                share,
            } => {
                let liquid = (1.0 - share) * property(a) + share * property(b);
                (1.0 - vapor_fraction) * liquid + vapor_fraction * property(vapor)
            }
        }
    }

    /// Enthalpy, J/mol.
    pub fn enthalpy(&self) -> f64 {
        self.mixed(|phase| phase.enthalpy)
    }

    /// Entropy, J/(mol K).
    pub fn entropy(&self) -> f64 {
        self.mixed(|phase| phase.entropy)
    }

    /// The vapor's share of the mass: 0 of a liquid, 1 of another phase.
    pub(crate) fn quality(&self) -> f64 {
        match &self.phases {
            Phases::Two {
                vapor,
                vapor_fraction,
                ..
            }
            | Phases::Three {
                vapor,
                vapor_fraction,
                ..
            } => vapor_fraction * vapor.molar_mass / self.mixed(|phase| phase.molar_mass),
            Phases::Single(_, Phase::Liquid) | Phases::Liquids { .. } => 0.0,
            Phases::Single(..) => 1.0,
        }
    }

    /// Density, mol/m3.
    pub fn density(&self) -> f64 {
        1.0 / self.mixed(|phase| 1.0 / phase.density)
    }

    /// The phase's name.
    pub fn phase(&self) -> Phase {
        match self.phases {
            Phases::Single(_, name) => name,
            Phases::Liquids { .. } => Phase::Liquid,
            Phases::Two { .. } | Phases::Three { .. } => Phase::TwoPhase,
        }
    }
}

/// A property that a state is sought by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Property {
    /// Enthalpy, J/mol.
    Enthalpy,
    /// Entropy, J/(mol K).
    Entropy,
    /// Density, mol/m3.
    Density,
}

impl Property {
    fn of(self, state: &EquilibriumState) -> f64 {
        match self {
            Property::Enthalpy => state.enthalpy(),
            Property::Entropy => state.entropy(),
            Property::Density => state.density(),
        }
    }

    /// Whether a state found by bracketing has the value sought, and is not the foot of a jump
    /// (the end of a line, or of the equation's range), which brackets a sign change as well.
    fn is_met(self, state: &EquilibriumState, value: f64) -> bool {
        let scale = match self {
            // of R T and R
            Property::Enthalpy => 8.3 * state.temperature,
            Property::Entropy => 8.3,
            Property::Density => value,
        };
        (self.of(state) - value).abs() <= MET * scale
    }
}

/// Part of the reducing temperature below which no line of a listed blend has ended: cold starts serve,
/// neighbors are followed, and nothing has to be asked of the envelope.
pub(crate) const FAR_FROM_CRITICAL: f64 = 0.9;

/// How far a state found may miss what was asked, in units of R T, R or the density itself:
/// far above the rounding of a search, far below any jump.
const MET: f64 = 1e-6;
/// The same of a quality.
const QUALITY_MET: f64 = 1e-9;

impl MolarGiven {
    /// Whether a state has those of the two properties that a search had to meet.
    fn is_met(&self, state: &EquilibriumState) -> bool {
        use MolarGiven::*;
        let (h, s, rho) = (Property::Enthalpy, Property::Entropy, Property::Density);
        if let TemperatureQuality(_, quality) | PressureQuality(_, quality) = *self {
            return (state.quality() - quality).abs() < QUALITY_MET;
        }
        let sought: [Option<(Property, f64)>; 2] = match *self {
            TemperaturePressure(..) | TemperatureQuality(..) | PressureQuality(..) => [None, None],
            TemperatureDensity(_, b) | PressureDensity(_, b) => [None, Some((rho, b))],
            TemperatureEnthalpy(_, b) | PressureEnthalpy(_, b) => [None, Some((h, b))],
            TemperatureEntropy(_, b) | PressureEntropy(_, b) => [None, Some((s, b))],
            DensityEnthalpy(a, b) => [Some((rho, a)), Some((h, b))],
            DensityEntropy(a, b) => [Some((rho, a)), Some((s, b))],
            EnthalpyEntropy(a, b) => [Some((h, a)), Some((s, b))],
            DensityQuality(a, _) => [Some((rho, a)), None],
            EnthalpyQuality(a, _) => [Some((h, a)), None],
            EntropyQuality(a, _) => [Some((s, a)), None],
        };
        sought
            .into_iter()
            .flatten()
            .all(|(property, value)| property.is_met(state, value))
    }
}
